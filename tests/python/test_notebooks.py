"""The notebooks say what they said when they were checked in, and show nothing of the machine they ran on."""

import base64
import importlib.util
import os
import re
import subprocess
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

nbformat = pytest.importorskip("nbformat")
pytest.importorskip("nbclient")

FOLDER = Path(__file__).resolve().parents[2] / "notebooks"
if not FOLDER.is_dir():
    pytest.skip("no notebooks in this archive", allow_module_level=True)

PATHS = sorted(FOLDER.glob("*.ipynb"))
STARTING_SECONDS = 60


def _load() -> ModuleType:
    spec = importlib.util.spec_from_file_location("execute", FOLDER / "execute.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


execute = _load()


def read(path: Path) -> Any:
    return nbformat.read(path, as_version=4)


def of_cells(*cells: Any) -> Any:
    return nbformat.v4.new_notebook(cells=list(cells))


def printed(text: str, name: str = "stdout") -> Any:
    return nbformat.v4.new_code_cell("1", outputs=[nbformat.v4.new_output("stream", name=name, text=text)])


each_notebook = pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)


def test_there_are_notebooks() -> None:
    assert PATHS


@each_notebook
def test_is_a_valid_notebook(path: Path) -> None:
    nbformat.validate(read(path))


@each_notebook
def test_asks_first_and_answers_last(path: Path) -> None:
    cells = read(path).cells
    assert cells[0].cell_type == "markdown"
    assert re.match(r"# .*\?$", cells[0].source.splitlines()[0]), "the first line is a question"
    last = [cell.source for cell in cells if cell.cell_type == "markdown"][-1]
    assert re.search(r"(?m)^(\*\*Answer|#+ Answer)", last)
    if not last.startswith("**"):  # then what it says is computed
        assert cells[-1].cell_type == "code"
        assert cells[-1].outputs


@each_notebook
def test_holds_what_it_shows(path: Path) -> None:
    """Checked in as it was run: outputs, a figure, and nothing but what execute.py leaves."""
    notebook = read(path)
    kinds = {kind for cell in notebook.cells for output in cell.get("outputs", ()) for kind in output.get("data", {})}
    assert execute.PICTURE in kinds
    assert kinds & {"text/markdown", "text/html", "text/plain"}
    assert execute.normalised(notebook) == notebook


@each_notebook
def test_has_no_errors_warnings_or_paths(path: Path) -> None:
    assert execute.problems(read(path)) == []


@each_notebook
def test_cautions_stand_at_the_top_where_a_still_is_run(path: Path) -> None:
    notebook = read(path)
    sources = "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "code")
    if not re.search(r"\bstill\.(strip|rectify|charges|windows)\(|batch\.plan\(", sources):
        return
    top = "\n".join(execute.text_of(of_cells(*notebook.cells[:5])))
    assert "licence" in top
    assert "no flame" in top


@pytest.mark.slow
@each_notebook
def test_says_the_same_when_run_again(path: Path) -> None:
    """Each in a process of its own: no cell fails, warns or takes too long, and no text differs."""
    cells = len(read(path).cells)
    done = subprocess.run(
        [sys.executable, FOLDER / "execute.py", "--check", path.stem],
        capture_output=True,
        text=True,
        timeout=STARTING_SECONDS + cells * execute.CELL_SECONDS,
        env=os.environ,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_normalised_leaves_nothing_of_a_run() -> None:
    png = base64.b64decode(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACnRFWHRTb2Z0d2FyZQBhtM5zDQAAAApJREFUeJxjYAAAAAIAAUivpHEAAAAASUVORK5CYII="
    )
    assert b"tEXt" in png
    figure = nbformat.v4.new_output(
        "display_data",
        data={"image/png": base64.b64encode(png).decode(), "text/plain": "<Figure size 640x480>"},
        metadata={"needs_background": "light"},
    )
    cell = nbformat.v4.new_code_cell("1", execution_count=7, metadata={"execution": {"iopub.status.idle": "now"}})
    cell.outputs = [*printed("one\n").outputs, *printed("two\n").outputs, figure]
    notebook = of_cells(nbformat.v4.new_markdown_cell("# Why?"), cell)
    notebook.metadata = {"language_info": {"version": "3.11.2"}, "kernelspec": {"name": "mine", "display_name": "mine"}}

    made = execute.normalised(notebook)

    nbformat.validate(made)
    assert made.metadata == execute.METADATA
    assert [one.id for one in made.cells] == ["cell-01", "cell-02"]
    assert made.cells[1].execution_count == 1
    assert made.cells[1].metadata == {}
    text, picture = made.cells[1].outputs
    assert text.text == "one\ntwo\n"
    assert set(picture.data) == {"image/png"}
    assert picture.metadata == {}
    assert b"tEXt" not in base64.b64decode(picture.data["image/png"])
    assert execute.normalised(made) == made


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("read from /home/someone/table.csv", True),
        ("'/opt/venv/lib'", True),
        (r"C:\Users\someone", True),
        ("<Axes object at 0x7f04edff1610>", True),
        ("12.3 kg/m3, g/L, 20/20 and 60/60F, and/or", False),
        ("https://www.gutenberg.org/ebooks/25050", False),
        ("7.4 +- 2.4 % vol", False),
    ],
)
def test_finds_what_belongs_to_a_machine(text: str, wrong: bool) -> None:
    assert bool(execute.problems(of_cells(printed(text)))) is wrong


def test_finds_errors_warnings_and_large_pictures() -> None:
    error = nbformat.v4.new_output("error", ename="RangeError", evalue="too much", traceback=[])
    assert execute.problems(of_cells(nbformat.v4.new_code_cell("1", outputs=[error])))
    assert execute.problems(of_cells(printed("deprecated", name="stderr")))
    large = nbformat.v4.new_output("display_data", data={"image/png": "A" * (2 * execute.MOST_PICTURE_BYTES)})
    assert execute.problems(of_cells(nbformat.v4.new_code_cell("1", outputs=[large])))
    assert execute.problems(of_cells(printed("all is well"))) == []


def test_a_run_that_fails_or_says_something_else_is_found(tmp_path: Path) -> None:
    kept = tmp_path / "kept.ipynb"
    nbformat.write(execute.normalised(of_cells(printed("7.20 kg\n"))), kept)
    assert execute.difference(kept, read(kept)) == []
    changed = "\n".join(execute.difference(kept, execute.normalised(of_cells(printed("7.21 kg\n")))))
    assert "-cell 1: 7.20 kg" in changed
    assert "+cell 1: 7.21 kg" in changed


@pytest.mark.slow
def test_a_cell_that_fails_stops_the_run(tmp_path: Path) -> None:
    path = tmp_path / "failing.ipynb"
    nbformat.write(of_cells(nbformat.v4.new_code_cell("1 / 0")), path)
    script = f"import sys; sys.path.insert(0, {str(FOLDER)!r})\nimport execute, pathlib\nexecute.executed(pathlib.Path({str(path)!r}))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode != 0
    assert "ZeroDivisionError" in done.stderr

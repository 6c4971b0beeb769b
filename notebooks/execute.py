"""Runs the notebooks beside this file and keeps what they show free of anything that belongs to one machine.

    python notebooks/execute.py                       runs all of them and writes them back
    python notebooks/execute.py 02_is_my_reading_right  only this one
    python notebooks/execute.py --check               runs them without writing; fails where they say something else than what is checked in

Pictures are compared by their presence only: no two versions of matplotlib draw the same points. It needs "libferment[notebooks]".
"""

import argparse
import base64
import difflib
import html
import os
import re
import struct
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
from jupyter_client.manager import AsyncKernelManager
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError, CellTimeoutError

FOLDER = Path(__file__).resolve().parent
CELL_SECONDS = 45  # longer than any cell may take on a slow machine
MOST_PICTURE_BYTES = 150_000
PICTURE = "image/png"
METADATA = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}
_PNG_START = b"\x89PNG\r\n\x1a\n"
_PNG_REMARKS = (b"tEXt", b"zTXt", b"iTXt", b"tIME", b"eXIf")
# A path from the root of a file system, or the address of an object; what follows "<" is the end of an element of HTML, "/" or ":" that of a link.
_OF_A_MACHINE = re.compile(r"(?<![\w<:/.*%)\]])/[A-Za-z_][\w.-]*/[\w.-]+|\b[A-Za-z]:\\\w+|\b0x[0-9a-f]{6,}\b")


class NotebookError(Exception):
    """What is wrong with a notebook, in words."""


def without_remarks(png: bytes) -> bytes:
    """A PNG picture without its text and time chunks, which name versions of programs."""
    if not png.startswith(_PNG_START):
        raise NotebookError("a picture is no PNG")
    kept, place = [_PNG_START], len(_PNG_START)
    while place < len(png):
        (length,) = struct.unpack(">I", png[place : place + 4])
        end = place + 12 + length  # length, name and check sum around the data
        if png[place + 4 : place + 8] not in _PNG_REMARKS:
            kept.append(png[place:end])
        place = end
    return b"".join(kept)


def _shown(output: Any) -> Any:
    """An output without what differs from run to run."""
    if output.output_type == "stream":
        return nbformat.v4.new_output("stream", name=output.name, text=output.text)
    if output.output_type == "error":
        return nbformat.v4.new_output("error", ename=output.ename, evalue=output.evalue, traceback=[])
    data = dict(output.data)
    if PICTURE in data:
        data[PICTURE] = base64.b64encode(without_remarks(base64.b64decode(data[PICTURE]))).decode() + "\n"
    if PICTURE in data or "text/markdown" in data:
        data.pop("text/plain", None)  # "<Figure size ...>" says nothing
    made = nbformat.v4.new_output(output.output_type, data=data)
    if output.output_type == "execute_result":
        made.execution_count = output.execution_count
    return made


def normalised(notebook: Any) -> Any:
    """The notebook with cell ids and counts by place, and outputs and metadata that no machine has a hand in."""
    cells, count = [], 0
    for place, cell in enumerate(notebook.cells, 1):
        own = {"id": f"cell-{place:02}"}
        if cell.cell_type == "markdown":
            cells.append(nbformat.v4.new_markdown_cell(cell.source, **own))
            continue
        count += 1
        made = nbformat.v4.new_code_cell(cell.source, execution_count=count, **own)
        for output in cell.outputs:
            shown = _shown(output)
            last = made.outputs[-1] if made.outputs else None
            if last is not None and last.output_type == shown.output_type == "stream" and last.name == shown.name:
                last.text += shown.text  # how the text is cut up differs from run to run
                continue
            if shown.output_type == "execute_result":
                shown.execution_count = count
            made.outputs.append(shown)
        cells.append(made)
    return nbformat.v4.new_notebook(cells=cells, metadata=METADATA)


def _texts(output: Any) -> Iterator[str]:
    if output.output_type == "stream":
        yield output.text
    elif output.output_type == "error":
        yield f"{output.ename}: {output.evalue}"
    else:
        rich = {"text/html", "text/markdown"} & set(output.data)
        for kind, data in sorted(output.data.items()):  # as a file has them
            if kind == "text/plain" and rich:
                continue  # the same once more, broken into lines by the width of a terminal
            if kind == PICTURE:
                yield "[picture]"
            elif kind == "text/html":
                cells = re.sub(r"(?s)<style.*?</style>", "", data).replace("</td>", " | ").replace("</th>", " | ")
                yield html.unescape(re.sub(r"<[^>]+>", "", cells))
            else:
                yield str(data)


def text_of(notebook: Any) -> list[str]:
    """Lines of all that the notebook shows, a mark for each picture, each under the number of its cell."""
    lines = []
    for place, cell in enumerate(notebook.cells, 1):
        for output in cell.get("outputs", ()):
            for text in _texts(output):
                shown = (line.strip() for line in text.splitlines())
                lines += [f"cell {place}: {line}" for line in shown if line]
    return lines


def problems(notebook: Any) -> list[str]:
    """What must not be in a notebook that is checked in: errors, warnings, paths, large pictures, cells without a word of their own."""
    found = []
    for place, cell in enumerate(notebook.cells, 1):
        for output in cell.get("outputs", ()):
            if output.output_type == "error":
                found.append(f"cell {place} ends in {output.ename}: {output.evalue}")
            if output.output_type == "stream" and output.name == "stderr":
                found.append(f"cell {place} warns: {output.text.strip()}")
            for data in output.get("data", {}).values():
                if len(str(data)) * 3 // 4 > MOST_PICTURE_BYTES:
                    found.append(f"cell {place} shows more than {MOST_PICTURE_BYTES // 1000} kB")
    own = [_OF_A_MACHINE.search(line) for line in text_of(notebook)]
    found += [f"{match.string} (a path or an address of this machine)" for match in own if match]
    for cell in notebook.cells:
        match = _OF_A_MACHINE.search(cell.source)
        if match:
            found.append(f"source: {match.string[match.start() : match.end()]} (a path of a machine)")
    return found


def _failed(notebook: Any) -> str:
    """Source of the cell that ends in an error."""
    cells = (cell for cell in notebook.cells if any(o.output_type == "error" for o in cell.get("outputs", ())))
    return "\n".join(f"    {line}" for cell in cells for line in cell.source.splitlines())


def executed(path: Path) -> Any:
    """The notebook of a file, run from its own folder and normalised. NotebookError where a cell fails, warns or takes too long."""
    notebook = nbformat.read(path, as_version=4)
    with tempfile.TemporaryDirectory() as own:
        os.environ["IPYTHONDIR"] = own  # nobody's settings and history
        os.environ["MPLCONFIGDIR"] = own
        os.environ.pop("MPLBACKEND", None)
        kernel = AsyncKernelManager(kernel_name=METADATA["kernelspec"]["name"])
        if os.name == "posix":
            kernel.transport, kernel.ip = "ipc", f"{own}/kernel"  # no ports, and no warning about them
        client = NotebookClient(
            notebook,
            km=kernel,
            timeout=CELL_SECONDS,
            resources={"metadata": {"path": str(path.parent)}},
            record_timing=False,
        )
        try:
            client.execute(cleanup_kc=True)  # a kernel of ours would else stay
        except CellTimeoutError as error:
            raise NotebookError(f"{path.name}: a cell took more than {CELL_SECONDS} s") from error
        except CellExecutionError as error:
            raise NotebookError(
                f"{path.name}: {error.ename}: {error.evalue}, in the cell\n{_failed(notebook)}"
            ) from error
    made = normalised(notebook)
    wrong = problems(made)
    if wrong:
        raise NotebookError("\n".join(f"{path.name}: {what}" for what in wrong))
    return made


def difference(path: Path, made: Any) -> list[str]:
    """A unified diff of what is checked in and what a run has shown; empty where they say the same."""
    kept = text_of(nbformat.read(path, as_version=4))
    return [
        *difflib.unified_diff(kept, text_of(made), f"{path.name} as checked in", f"{path.name} as run", lineterm="")
    ]


def _asked(names: list[str]) -> list[Path]:
    known = sorted(FOLDER.glob("*.ipynb"))
    if not names:
        return known
    by_name = {path.stem: path for path in known}
    unknown = [name for name in names if Path(name).stem not in by_name]
    if unknown:
        sys.exit(f"no such notebook: {', '.join(unknown)}; there are {', '.join(by_name)}")
    return [by_name[Path(name).stem] for name in names]


def main() -> int:
    """Exit code 1 where a notebook fails or says something else."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("names", nargs="*", help="notebooks, with or without .ipynb; all where none is named")
    parser.add_argument("--check", action="store_true", help="compare with what is checked in, and write nothing")
    given = parser.parse_args()
    failed = 0
    for path in _asked(given.names):
        start = time.monotonic()
        try:
            made = executed(path)
        except NotebookError as error:
            failed += 1
            print(f"FAILED {error}")
            continue
        changed = difference(path, made) if given.check else []
        failed += bool(changed)
        print(*changed, sep="\n", end="\n" if changed else "")
        if not given.check:
            nbformat.write(made, path)
        print(f"{'FAILED' if changed else 'ok'} {path.name}, {time.monotonic() - start:.0f} s")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

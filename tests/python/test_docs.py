"""The pages of docs: their sections, their examples, and the tests they name as showing what they claim."""

import ast
import contextlib
import doctest
import functools
import io
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
FOLDERS = ("core", "liquid", "instrument", "strength", "mash", "fermentation", "still", "proofing", "batch")
SECTIONS = ["What it computes", "Formulas", "Sources", "Range", "Accuracy", "Example", "Limits"]
PAGES = sorted(DOCS.rglob("*.md"))
FOLDER_PAGES = [DOCS / "folders" / f"{name}.md" for name in FOLDERS]

FENCE = re.compile(r"^```(?P<language>[\w{}-]*)\n(?P<code>.*?)^```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"\[(?P<text>(?:`[^`]*`|[^\]`])+)\]\((?P<target>[^)\s:]+)\)")
# A test is named in three ways: a link whose text has the name in quotes, a link to a file of tests alone, and file::name.
NAMED = re.compile(r'^`(?P<path>[^`]+)`, "(?P<name>.+)"$')
PYTEST = re.compile(r"`(?P<path>tests/[\w/]+\.(?:py|cpp))::(?P<name>[^`]+)`")
TEST_CASE = re.compile(r'TEST_CASE\(\s*"((?:[^"\\]|\\.)*)"')


def identify(page: Path) -> str:
    return str(page.relative_to(DOCS))


def text_of(page: Path) -> str:
    return page.read_text(encoding="utf-8")


def prose(page: Path) -> str:
    return FENCE.sub("", text_of(page))


def blocks(page: Path, language: str) -> list[tuple[int, str, str | None]]:
    """Line, code and the output printed in a text block that follows at once."""
    text = text_of(page)
    fences = list(FENCE.finditer(text))
    found = []
    for i, fence in enumerate(fences):
        if fence["language"] != language:
            continue
        after = fences[i + 1] if i + 1 < len(fences) else None
        printed = after is not None and after["language"] == "text" and not text[fence.end() : after.start()].strip()
        output = after["code"] if after is not None and printed else None
        found.append((text.count("\n", 0, fence.start()) + 2, fence["code"], output))
    return found


@functools.cache
def names_in(path: Path) -> frozenset[str]:
    """Names of the tests of a file."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".cpp":
        return frozenset(name.replace('\\"', '"') for name in TEST_CASE.findall(text))
    functions = (node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.FunctionDef))
    return frozenset(f.name for f in functions if f.name.startswith("test_"))


def anchors_of(page: Path) -> set[str]:
    headings = re.findall(r"^#+ (.*)$", prose(page), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in headings}


def named_tests(page: Path) -> list[tuple[str, str]]:
    """File and name of every test that a page names."""
    found = [(m["path"], m["name"]) for m in PYTEST.finditer(prose(page))]
    for link in LINK.finditer(prose(page)):
        named = NAMED.match(link["text"])
        if named:
            found.append((named["path"], named["name"]))
    return found


def test_every_folder_has_its_page() -> None:
    headers = ROOT / "libferment" / "include" / "ferment"
    assert {p.name for p in headers.iterdir() if p.is_dir()} == set(FOLDERS)
    assert {p.stem for p in (DOCS / "folders").glob("*.md")} == set(FOLDERS)


@pytest.mark.parametrize("page", FOLDER_PAGES, ids=identify)
def test_sections(page: Path) -> None:
    assert re.findall(r"^## (.*)$", prose(page), re.MULTILINE) == SECTIONS
    sections = re.split(r"^## .*\n", text_of(page), flags=re.MULTILINE)[1:]
    assert all(section.strip() for section in sections)


@pytest.mark.parametrize("page", FOLDER_PAGES, ids=identify)
def test_accuracy_is_shown_by_tests(page: Path) -> None:
    """Every row of the section names a test, or "the same" as the row above."""
    section = re.split(r"^## ", prose(page), flags=re.MULTILINE)[1 + SECTIONS.index("Accuracy")]
    rows = re.findall(r"^\| .*$", section, re.MULTILINE)[1:]
    shown = [row for row in rows if not set(row) <= set("|- :")]
    assert len(shown) >= 3
    assert "tests/" in shown[0]
    assert not [row for row in shown if "tests/" not in row and not row.endswith("| the same |")]


def test_every_claim_of_accuracy_is_shown_by_tests() -> None:
    rows = re.findall(r"^\| .*$", prose(DOCS / "accuracy.md"), re.MULTILINE)[2:]
    assert len(rows) >= 30
    assert not [row for row in rows if "tests/" not in row]


def test_named_tests_are_found() -> None:
    """The search below does find what pages name."""
    assert len(named_tests(DOCS / "accuracy.md")) >= 30
    assert ("tests/cpp/core/test_solve.cpp", "bracketed Newton finds the root to round-off") in named_tests(
        FOLDER_PAGES[0]
    )


@pytest.mark.parametrize("page", PAGES, ids=identify)
def test_named_tests_exist(page: Path) -> None:
    missing = [
        f"{path}: {name}"
        for path, name in named_tests(page)
        if not (ROOT / path).is_file() or name not in names_in(ROOT / path)
    ]
    assert not missing


@pytest.mark.parametrize("page", PAGES, ids=identify)
def test_links_lead_somewhere(page: Path) -> None:
    """To a file and, within it, to a heading; a link that names a test leads to the file of that test."""
    for link in LINK.finditer(prose(page)):
        target, _, anchor = link["target"].partition("#")
        file = (page.parent / target).resolve() if target else page
        if file != ROOT / "notebooks":  # may be missing from a part of the sources
            assert file.is_file(), link[0]
        assert not anchor or anchor in anchors_of(file), link[0]
        named = NAMED.match(link["text"])
        if named:
            assert file == ROOT / named["path"], link[0]
        elif "tests" in file.relative_to(ROOT).parts[:1] and file.name.startswith("test_"):
            pytest.fail(f"{link[0]} names no test")


@pytest.mark.parametrize("page", PAGES, ids=identify)
def test_paths_in_backticks_exist(page: Path) -> None:
    for path in re.findall(r"`((?:tests|docs|examples|bindings|notebooks)/[\w./-]+\.\w+)`", prose(page)):
        assert (ROOT / path).is_file(), path
    for path in re.findall(r"`((?:\w+/)+\w+\.hpp)`", prose(page)):
        assert (ROOT / "libferment" / "include" / "ferment" / path.removeprefix("ferment/")).is_file(), path


@pytest.mark.parametrize("page", [p for p in PAGES if blocks(p, "python")], ids=identify)
def test_python_examples(page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All Python blocks of a page in one session."""
    monkeypatch.chdir(tmp_path)
    names: dict[str, Any] = {"__name__": "__main__"}
    for line, code, output in blocks(page, "python"):
        place = f"{identify(page)}, line {line}"
        if ">>>" in code:
            test = doctest.DocTestParser().get_doctest(code, names, place, str(page), line - 1)
            report = io.StringIO()
            runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS)
            runner.run(test, out=report.write, clear_globs=False)
            assert runner.failures == 0, report.getvalue()
            names.update(test.globs)
        else:
            printed = io.StringIO()
            with contextlib.redirect_stdout(printed):
                exec(compile(code, place, "exec"), names)
            assert output is None or printed.getvalue().splitlines() == output.splitlines(), place


@pytest.mark.parametrize("page", FOLDER_PAGES, ids=identify)
def test_every_folder_shows_both_languages(page: Path) -> None:
    assert any(">>>" in code for _, code, _ in blocks(page, "python"))
    assert any("int main()" in code for _, code, _ in blocks(page, "cpp"))


def compiler(*options: str) -> list[str]:
    found = shutil.which("g++")
    assert found is not None
    eigen = subprocess.run(["pkg-config", "--cflags", "eigen3"], check=True, capture_output=True, text=True)
    flags = ["-std=c++20", "-Wall", "-Wextra", "-Wconversion", "-Wshadow", "-Werror"]
    flags += ["-Wno-uninitialized", "-Wno-maybe-uninitialized"]  # false alarms of g++ 12 through odeint
    return [
        found,
        *flags,
        *options,
        f"-I{ROOT / 'libferment' / 'include'}",
        *eigen.stdout.replace("-I", "-isystem").split(),
    ]


@pytest.mark.parametrize("page", [p for p in PAGES if blocks(p, "cpp")], ids=identify)
def test_cpp_examples_compile(page: Path, tmp_path: Path) -> None:
    for line, code, _ in blocks(page, "cpp"):
        (tmp_path / "main.cpp").write_text(code, encoding="utf-8")
        done = subprocess.run(
            compiler("-fsyntax-only", "main.cpp"), cwd=tmp_path, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, f"{identify(page)}, line {line}\n{done.stderr}"


@pytest.mark.slow
@pytest.mark.parametrize("page", [p for p in PAGES if any(output for *_, output in blocks(p, "cpp"))], ids=identify)
def test_cpp_examples_print_what_is_shown(page: Path, tmp_path: Path) -> None:
    for line, code, output in blocks(page, "cpp"):
        if output is None:
            continue
        (tmp_path / "main.cpp").write_text(code, encoding="utf-8")
        subprocess.run(compiler("main.cpp", "-o", "main"), cwd=tmp_path, check=True)
        ran = subprocess.run([tmp_path / "main"], capture_output=True, text=True, check=True)
        assert ran.stdout.splitlines() == output.splitlines(), f"{identify(page)}, line {line}"

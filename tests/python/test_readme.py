"""What README.md shows is run as it stands: Python sessions, C++ programs and the output printed beneath them."""

import contextlib
import doctest
import io
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any, NamedTuple

import pytest

ROOT = Path(__file__).resolve().parents[2]


class Block(NamedTuple):
    language: str
    code: str
    line: int
    output: str | None  # the ```text block that follows at once


def blocks() -> list[Block]:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    fences = list(re.finditer(r"^```(\w*)\n(.*?)^```$", text, re.MULTILINE | re.DOTALL))
    found = []
    for i, fence in enumerate(fences):
        follower = fences[i + 1] if i + 1 < len(fences) else None
        printed = follower is not None and follower[1] == "text" and not text[fence.end() : follower.start()].strip()
        output = follower[2] if follower is not None and printed else None
        found.append(Block(fence[1], fence[2], text.count("\n", 0, fence.start()) + 2, output))
    return found


PYTHON = [b for b in blocks() if b.language == "python"]
CPP = [b for b in blocks() if b.language == "cpp"]


def test_readme_shows_both_languages() -> None:
    assert PYTHON
    assert CPP


def test_python_blocks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All Python blocks in one session, in a scratch folder beside which the examples stand."""
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    monkeypatch.chdir(tmp_path)
    names: dict[str, Any] = {"__name__": "__main__"}
    for block in PYTHON:
        place = f"README.md, line {block.line}"
        if ">>>" in block.code:
            test = doctest.DocTestParser().get_doctest(block.code, names, place, "README.md", block.line - 1)
            report = io.StringIO()
            runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS)
            runner.run(test, out=report.write, clear_globs=False)
            assert runner.failures == 0, report.getvalue()
            names.update(test.globs)
        else:
            printed = io.StringIO()
            with contextlib.redirect_stdout(printed):
                exec(compile(block.code, place, "exec"), names)
            if block.output is not None:
                assert printed.getvalue().splitlines() == block.output.splitlines(), place


@pytest.mark.parametrize("block", CPP, ids=lambda b: f"line {b.line}")
def test_cpp_block(block: Block, tmp_path: Path) -> None:
    """A C++ block is a whole program; the text block after it is what it prints."""
    compiler = shutil.which("g++")
    assert compiler is not None
    assert block.output is not None, f"README.md, line {block.line}: no text block with the output follows"
    (tmp_path / "main.cpp").write_text(block.code, encoding="utf-8")
    eigen = subprocess.run(["pkg-config", "--cflags", "eigen3"], check=True, capture_output=True, text=True)
    flags = ["-std=c++20", "-Wall", "-Wextra", "-Wconversion", "-Wshadow", "-Werror"]
    flags += [f"-I{ROOT / 'libferment' / 'include'}", *eigen.stdout.replace("-I", "-isystem").split()]
    build = [compiler, *flags, "main.cpp", "-o", "main"]
    compiled = subprocess.run(build, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert compiled.returncode == 0, compiled.stderr
    ran = subprocess.run([tmp_path / "main"], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert ran.stdout.splitlines() == block.output.splitlines()

"""python -m ferment: what is installed and where every number comes from."""

import importlib.metadata
import json
import os
import subprocess
import sys

import ferment
import pytest
from ferment import __main__ as command
from ferment import _core


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "ferment", *arguments],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **environment},
    )


def test_text() -> None:
    found = run()
    assert (found.returncode, found.stderr) == (0, "")
    lines = found.stdout.splitlines()
    assert lines[0].split() == ["libferment", ferment.__version__]
    assert lines[3].startswith(f"instruction set   {_core.instruction_set()}")
    assert max(map(len, lines)) <= 80
    assert not any(line != line.rstrip() for line in lines)
    folders = [line for line in lines[1:] if line in {source.folder for source in ferment.sources()}]
    assert folders == list(dict.fromkeys(source.folder for source in ferment.sources()))
    words = " ".join(found.stdout.split())
    for source in ferment.sources():
        assert f"\n  {source.name}\n" in found.stdout
        for text in (source.quantity, source.citation, source.range, source.uncertainty, source.status):
            assert " ".join(text.split()) in words
    assert run(COLUMNS="200").stdout == found.stdout


def test_json() -> None:
    found = run("--json")
    assert (found.returncode, found.stderr) == (0, "")
    known = json.loads(found.stdout)
    assert list(known) == [
        "version",
        "python",
        "numpy",
        "instruction_set",
        "instruction_sets",
        "optional_packages",
        "sources",
    ]
    assert known["version"] == ferment.__version__
    assert known["instruction_set"] in known["instruction_sets"]
    assert known["optional_packages"]["pandas"] == importlib.metadata.version("pandas")
    assert known["sources"] == [source.to_dict() for source in ferment.sources()]


def test_options() -> None:
    version = run("--version")
    assert (version.returncode, version.stdout, version.stderr) == (0, f"{ferment.__version__}\n", "")
    assert run("--help").returncode == 0
    wrong = run("--jason")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "unrecognized arguments: --jason" in wrong.stderr


def test_a_reader_that_stops_early() -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "ferment"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == ""
    assert process.returncode == 0


def test_packages_that_are_missing(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def version(package: str) -> str:
        raise importlib.metadata.PackageNotFoundError(package)

    monkeypatch.setattr(importlib.metadata, "version", version)
    assert command.main([]) == 0
    assert "pandas            not installed (frames)" in capsys.readouterr().out


def test_width_of_a_terminal(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    for columns, widest in (("120", 120), ("20", 40)):
        monkeypatch.setenv("COLUMNS", columns)
        assert command.main([]) == 0
        lines = capsys.readouterr().out.splitlines()
        assert max(map(len, lines)) <= max(widest, max(len(f"  {source.name}") for source in ferment.sources()))
        assert max(map(len, lines)) > widest // 2

"""Wrong input gives one clear line that names the quantity, the value, its unit and what is allowed: the catalogue of tests/errors, word for word."""

import contextlib
import importlib.util
import inspect
import os
import re
import subprocess
import sys
import time
from pathlib import Path
from types import ModuleType
from typing import Any

import ferment
import pytest
from ferment import liquid, strength

ROOT = Path(__file__).resolve().parents[2]
ERRORS = ROOT / "tests" / "errors"


def _load(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"errors_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


catalogue = _load(ERRORS / "catalogue.py")
nasty = _load(ERRORS / "nasty.py")

PYTHON, JSON, BATCH_FILE, C = (catalogue.entries(kind) for kind in catalogue.KINDS)
CPP = (ROOT / "tests" / "cpp" / "errors" / "test_catalogue.cpp").read_text(encoding="utf-8")

#: What no message may hold: types and functions of the languages below, words of the solver, lines of a traceback.
INTERNAL = re.compile(
    r"std::|boost|pybind|Eigen|double\b(?! quotes)|ufunc|Traceback|incompatible function|_core|object at 0x|oiml_r22|icumsa_sps4|dippr\d"
)
NUMBER = r"-?(?:\d+(?:\.\d+)?(?:e[+-]?\d+)?|inf)"
LONGEST = 900  # characters; the lists of what is known are the longest

#: Functions of numbers that take any number, or no number that has a range.
WITHOUT_RANGE = {
    "liquid": {"points_from_sg", "sg_from_points"},
    "mash": {"grain"},
    "fermentation": {"end_point"},  # of a potential, which was checked
    "still": {
        "blend_jars",  # of jars by their numbers, and by their labels
        "recycle_jars",
        "congener",
        "legal_lines",
        "practice_figures",
        "windows",
    },
    "strength": {"combine"},
}


@pytest.fixture(scope="module")
def names() -> dict[str, Any]:
    pytest.importorskip("matplotlib").use("Agg")
    found: dict[str, Any] = catalogue.given()
    return found


@pytest.fixture(scope="module")
def script() -> ModuleType:
    pytest.importorskip("matplotlib")
    found: ModuleType = catalogue.load(ROOT / "examples" / "plan_batch.py")
    return found


@pytest.mark.parametrize("entry", PYTHON, ids=[entry["call"] for entry in PYTHON])
def test_python(entry: dict[str, str], names: dict[str, Any]) -> None:
    assert catalogue.ask_python(entry, names) == (entry["error"], entry["text"])


@pytest.mark.parametrize("entry", JSON, ids=[entry.get("at", "text") for entry in JSON])
def test_json(entry: dict[str, str]) -> None:
    assert catalogue.ask_json(entry) == (entry["error"], entry["text"])


@pytest.mark.parametrize("entry", BATCH_FILE, ids=[entry.get("by", "file") or "nothing" for entry in BATCH_FILE])
def test_batch_file(entry: dict[str, str], script: ModuleType, tmp_path: Path) -> None:
    assert catalogue.ask_batch_file(entry, script, tmp_path) == ("2", entry["text"])


@pytest.mark.skipif("FERMENT_C_LIBRARY" not in os.environ, reason="FERMENT_C_LIBRARY names no library")
def test_c() -> None:
    import ctypes

    library = ctypes.CDLL(os.environ["FERMENT_C_LIBRARY"])
    library.ferment_last_error.restype = ctypes.c_char_p
    known = catalogue.Names(library, _load(ROOT / "tests" / "python" / "test_c_interface.py"))
    for entry in C:
        assert catalogue.ask_c(entry, known, library) == (entry["status"], entry["text"]), entry["call"]


# ---- the catalogue as a whole ----


def every_text() -> list[str]:
    return [entry["text"] for entries in (PYTHON, JSON, BATCH_FILE, C) for entry in entries]


def test_size_of_the_catalogue() -> None:
    assert len(every_text()) >= 300
    assert min(len(PYTHON), len(JSON), len(BATCH_FILE), len(C)) >= 60
    assert CPP.count("WRONG(") >= 60


def test_every_text_is_one_short_line_without_internals() -> None:
    for text in every_text():
        assert text
        assert text == text.strip()
        assert text.isprintable()
        assert len(text) <= LONGEST
        assert not INTERNAL.search(text), text
        assert not text.endswith(".") or text.endswith("=..."), text
        assert text.count("(") == text.count(")"), text
        assert not re.search(r"\b1 (plates|jars|kilograms|tables|numbers|values)\b", text), text


def test_every_range_has_bounds_that_exclude_the_value() -> None:
    ranges = 0
    for text in every_text():
        found = re.search(rf".* ({NUMBER})(?: [^ ]+){{0,5}} is outside ({NUMBER}) to ({NUMBER})", text)
        if found is not None:
            value, lower, upper = (float(part) for part in found.groups())
            assert lower < upper
            assert not lower <= value <= upper, text
            ranges += 1
    assert ranges >= 150


def test_every_kind_of_error_is_there() -> None:
    kinds = {entry["error"] for entry in PYTHON}
    assert kinds == {"InputError", "RangeError", "SolveError", "TypeError"}
    assert {entry["status"] for entry in C} == set(catalogue.STATUSES) - {"FERMENT_OK"}
    for kind in ("InputError", "RangeError", "SolveError"):
        assert f"WRONG({kind}" in CPP


def _called(module: str) -> dict[str, set[str]]:
    """Names of a module that the catalogue calls, with the errors it gets."""
    found: dict[str, set[str]] = {}
    for entry in PYTHON:
        for name in re.findall(rf"\b{module}\.(\w+)", entry["call"]):
            found.setdefault(name, set()).add(entry["error"])
    return found


MODULES = [module.__name__.rpartition(".")[2] for module in catalogue.MODULES]


def test_every_module_is_in_the_catalogue() -> None:
    public = {name for name in ferment.__all__ if inspect.ismodule(getattr(ferment, name))}
    assert set(MODULES) == public
    assert all(len(_called(module)) >= 5 for module in MODULES)


@pytest.mark.parametrize("module", MODULES)
def test_every_function_with_a_range_is_asked_outside_of_it(module: str) -> None:
    of = getattr(ferment, module)
    called = _called(module)
    for name in of.__all__:
        function = getattr(of, name)
        takes = inspect.isbuiltin(function) or (inspect.isfunction(function) and inspect.signature(function).parameters)
        if not takes:
            continue
        if module == "plot" or name in WITHOUT_RANGE.get(module, set()):
            assert name in called or name in WITHOUT_RANGE.get(module, set()), f"{module}.{name}"
        else:
            assert called.get(name, set()) & {"RangeError", "SolveError"}, f"{module}.{name}"


# ---- files that no loader may choke on ----

SECONDS, MOST_KIB, LONGEST_LINE = 10.0, 200 * 1024, 500
#: Address space of the process that loads: far more than it should take, far less than the machine has.
ADDRESS_SPACE = 2 * 2**30
#: What is tried on every run; the rest with the slow ones.
USUAL = {
    "batch_file": ("a deep table", "10^4 readings", "a number of a MiB in hexadecimal", "nothing but 0xff"),
    "json": ("the same key again and again", "a whole number of 10^5 digits", "open brackets", "lone surrogates"),
}


@pytest.mark.parametrize(
    ("loader", "name"),
    [
        pytest.param(loader, name, marks=() if name in USUAL[loader] else pytest.mark.slow)
        for loader, files in nasty.LOADERS.items()
        for name in files
    ],
)
def test_nasty_file(loader: str, name: str, tmp_path: Path) -> None:
    resource = pytest.importorskip("resource")
    if not Path("/proc/self/status").exists():
        pytest.skip("there is no /proc to read the memory from")
    path = tmp_path / "file"
    path.write_bytes(nasty.LOADERS[loader][name]())

    def limit() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (ADDRESS_SPACE, ADDRESS_SPACE))
        resource.setrlimit(resource.RLIMIT_CPU, (int(SECONDS), int(SECONDS)))

    started = time.monotonic()
    done = subprocess.run(
        [sys.executable, ERRORS / "nasty.py", loader, path],
        capture_output=True,
        text=True,
        errors="backslashreplace",
        env=os.environ | {"OPENBLAS_NUM_THREADS": "1"},
        preexec_fn=limit,
        timeout=6 * SECONDS,  # of a clock that other work may slow down; the limit is on its own time
        check=False,
    )
    assert done.returncode == 2, done.stderr[-LONGEST_LINE:]
    said = done.stderr.removeprefix(f"{path}: ")
    assert said.count("\n") == 1
    assert len(said) <= LONGEST_LINE
    assert not INTERNAL.search(said)
    assert int(done.stdout.removeprefix("KiB: ")) <= MOST_KIB
    assert time.monotonic() - started < 6 * SECONDS


def test_the_longest_batch_that_is_read_is_judged(script: ModuleType) -> None:
    """The limits on what a batch file may hold are those of a batch, not of a test."""
    assert script.MOST_READINGS >= 21  # every day for three weeks
    assert script.MOST_GRAINS >= 20
    assert script.LONGEST_DAYS >= 90


def test_what_cannot_be_saved_is_said(script: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for picture in (tmp_path / "no such folder" / "sheet.png", tmp_path / "sheet.xyz"):
        with contextlib.redirect_stdout(None):
            assert script.main([str(catalogue.BATCH), str(picture)]) == 2
        said = capsys.readouterr().err
        assert said.startswith(f"{picture}: the picture cannot be saved: ")
        assert said.count("\n") == 1


# ---- the same line from every door ----


def test_strength_of_a_wash_has_a_bound() -> None:
    with pytest.raises(ferment.RangeError, match=r"^abv 101 % vol is outside 0 to [0-9.]+ % vol"):
        liquid.wash_abw(101.0, 3.0)


def test_an_argument_is_named_as_the_caller_knows_it() -> None:
    with pytest.raises(TypeError, match=r"^plato_from_sg\(\) argument 'sg' must be a number or an array of numbers"):
        liquid.plato_from_sg("1.05")
    with pytest.raises(TypeError, match=r"^gravity_balance\(\) argument 'original_gravity' must be a number"):
        strength.gravity_balance("1.05", 1.01)

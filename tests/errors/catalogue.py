"""The catalogue of wrong inputs: what is called, the type of the error, and every word of its message.

    python.toml       calls of the Python package
    json.toml         texts of PlanRequest.from_json: a good one with a value changed, taken out or put in
    batch_file.toml   batch files of examples/plan_batch.py: the one of the example with lines replaced
    c.toml            calls of the C interface
    (the C++ doors have theirs in tests/cpp/errors/test_catalogue.cpp)

Every text was read as its reader will read it: does it name the quantity, the value, its unit and what is allowed? After a change of messages

    python tests/errors/catalogue.py --write

writes the texts of the first three files anew (with the path of a C library, those of the fourth too). Read the difference, each line of it.
"""

import contextlib
import ctypes
import importlib.util
import io
import json
import math
import re
import sys
import tempfile
import tomllib
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import ferment
import numpy as np
from ferment import batch, fermentation, instrument, liquid, mash, plot, proofing, still, strength

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
BATCH = ROOT / "examples" / "batches" / "shed_batch.toml"
KINDS = ("python", "json", "batch_file", "c")

Entry = dict[str, Any]


def entries(kind: str) -> list[Entry]:
    """Of one file of the catalogue, in its order."""
    found: list[Entry] = tomllib.loads((HERE / f"{kind}.toml").read_text(encoding="utf-8"))["wrong"]
    return found


def load(path: Path) -> ModuleType:
    """A Python file as a module."""
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module


def refused(call: Callable[[], object]) -> tuple[str, str]:
    """Type and text of the error of a call; two empty texts where there is none."""
    try:
        call()
    except Exception as error:  # of any type: the catalogue says which
        return type(error).__name__, str(error)
    return "", ""


# ---- Python ----


def given() -> dict[str, Any]:
    """The names that the calls of python.toml use."""
    bill = mash.Bill([("rolled oats", 5.0)])
    no_cook = mash.potential(bill, water_l=20.0, assumptions=fermentation.no_cook())
    yeast = fermentation.Inoculum(0.02)
    shed = fermentation.Conditions(20.0, fermentation.Ambient.constant(20.0))
    boiler = still.Still(30.0, heating_kw=3.0)
    low_wines = still.Liquid.by_volume(20.0, 28.0)
    request = batch.PlanRequest(bill, 20.0, boiler)
    run = still.strip(low_wines, boiler, distillate_abv=5.0)
    return {
        **{module.__name__.rpartition(".")[2]: module for module in MODULES},
        "ferment": ferment,
        "math": math,
        "np": np,
        "NAN": math.nan,
        "INF": math.inf,
        "BILL": bill,
        "POTENTIAL": mash.potential(bill, water_l=20.0),
        "NO_COOK": no_cook,
        "YEAST": yeast,
        "SHED": shed,
        "BAND": fermentation.forecast(no_cook, yeast, shed, [0.0, 24.0], members=8),
        "BOILER": boiler,
        "WASH": still.Liquid.by_volume(20.0, 8.0),
        "LOW_WINES": low_wines,
        "RUN": run,
        "CONGENERS": still.congener_run(run, {"methanol": 10.0}),
        "JAR": still.Jar(0.5, 70.0, label="hearts"),
        "HYDROMETER_ROUTE": strength.abv_from_hydrometer_and_refractometer((0.9972, 0.0005), brix=(4.9, 0.1)),
        "REQUEST": request,
        "PLAN": batch.plan(request),
        "LEDGER": batch.Ledger(4.0, 10.0, 9.0),
    }


MODULES = (batch, fermentation, instrument, liquid, mash, plot, proofing, still, strength)


def ask_python(entry: Entry, names: dict[str, Any]) -> tuple[str, str]:
    return refused(lambda: eval(entry["call"], dict(names)))


# ---- JSON ----


def good_request() -> Any:
    bill = mash.Bill([("flaked barley", 14.0), ("barley malt", 1.5)])
    return json.loads(batch.PlanRequest(bill, 70.0, still.Still(30.0, heating_kw=3.0)).to_json())


def ask_json(entry: Entry) -> tuple[str, str]:
    """`text` is the whole text; else `at` names a place of the good one, where `put` is a JSON text, and without it the place is taken out."""
    if "json" in entry:
        return refused(lambda: batch.PlanRequest.from_json(entry["json"]))
    values = good_request()
    place = values
    *way, last = (int(key) if key.isdecimal() else key for key in entry["at"].split("."))
    for key in way:
        place = place[key]
    if "put" in entry:
        place[last] = "PUT HERE"
    else:
        del place[last]
    return refused(lambda: batch.PlanRequest.from_json(json.dumps(values).replace('"PUT HERE"', entry.get("put", ""))))


# ---- batch files ----


def batch_file(entry: Entry) -> bytes:
    """`file` is all of it; else the example's with `replace` once replaced by `by`."""
    if "file" in entry:
        return str(entry["file"]).encode()
    text = BATCH.read_text(encoding="utf-8")
    assert text.count(entry["replace"]) == 1, entry["replace"]
    return text.replace(entry["replace"], entry["by"]).encode()


def ask_batch_file(entry: Entry, script: ModuleType, folder: Path) -> tuple[str, str]:
    """Exit code, and what the script says after the name of the file."""
    path = folder / "batch.toml"
    path.write_bytes(batch_file(entry))
    said = io.StringIO()
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(io.StringIO()):
        code = script.main([str(path), str(folder / "sheet.png")])
    text = said.getvalue()
    start = f"{path}: "
    assert not text or (text.startswith(start) and text.endswith("\n")), text
    return str(code), text[len(start) : -1]


# ---- the C interface ----


class Names(dict[str, Any]):
    """What the calls of c.toml use: functions of the library without their ferment_, constants, structs."""

    def __init__(self, library: ctypes.CDLL, c: ModuleType) -> None:
        bill = ctypes.c_void_p()
        c.must(library, "bill_create", bill)
        c.must(library, "bill_add", c._Handle(bill), b"rolled oats", 5.0)
        super().__init__(
            c.C,
            NAN=math.nan,
            NULL=None,
            result=ctypes.c_double(),
            bad=ctypes.c_size_t(),
            handle=ctypes.c_void_p(),
            text=ctypes.c_char_p(),
            bill=c._Handle(bill),
            array=lambda *values: np.array(values, dtype=np.float64),
            n=c.size,
            new=c.new,
            usual=lambda name, **values: c.usual(library, name, **values),
            at=ctypes.pointer,
        )
        self.call = lambda name, *arguments: c.call(library, name, *arguments)

    def __missing__(self, name: str) -> Callable[..., int]:
        return lambda *arguments: self.call(name, *arguments)


STATUSES = ("FERMENT_OK", "FERMENT_OUT_OF_RANGE", "FERMENT_BAD_INPUT", "FERMENT_NO_SOLUTION")


def ask_c(entry: Entry, names: Names, library: ctypes.CDLL) -> tuple[str, str]:
    """Name of the status, and the message of the library."""
    status = eval(entry["call"], {"__builtins__": {"range": range}}, names)
    return STATUSES[status], library.ferment_last_error().decode()


# ---- writing ----


def rewritten(kind: str, answers: list[tuple[str, str]]) -> str:
    """The file with the types and texts of these answers; comments and order stay."""
    blocks = re.split(r"(?m)^(?=\[\[wrong\]\]$)", (HERE / f"{kind}.toml").read_text(encoding="utf-8"))
    assert len(blocks) == len(answers) + 1
    key = {"c": "status", "batch_file": ""}.get(kind, "error")
    for i, (error, text) in enumerate(answers, 1):
        kept, comments = re.fullmatch(r"(.*?\n)((?:\n|#[^\n]*\n)*)", blocks[i], flags=re.DOTALL).groups()  # type: ignore[union-attr]
        lines = [line for line in kept.splitlines() if not re.match(r"(error|status|text) = ", line)]
        if key:
            lines.append(f'{key} = "{error}"')
        lines.append(f"text = {json.dumps(text, ensure_ascii=False)}")
        blocks[i] = "\n".join(lines) + "\n" + comments
    return "".join(blocks)


def write(library: str | None) -> None:
    names = given()
    script = load(ROOT / "examples" / "plan_batch.py")
    answers = {"python": [ask_python(entry, names) for entry in entries("python")]}
    answers["json"] = [ask_json(entry) for entry in entries("json")]
    with tempfile.TemporaryDirectory() as folder:
        answers["batch_file"] = [ask_batch_file(entry, script, Path(folder)) for entry in entries("batch_file")]
    if library is not None:
        c = load(ROOT / "tests" / "python" / "test_c_interface.py")
        opened = ctypes.CDLL(library)
        opened.ferment_last_error.restype = ctypes.c_char_p
        known = Names(opened, c)
        answers["c"] = [ask_c(entry, known, opened) for entry in entries("c")]
    for kind, found in answers.items():
        (HERE / f"{kind}.toml").write_text(rewritten(kind, found), encoding="utf-8")


if __name__ == "__main__":
    if sys.argv[1:2] != ["--write"]:
        sys.exit(__doc__)
    import matplotlib

    matplotlib.use("Agg")
    write(sys.argv[2] if len(sys.argv) > 2 else None)

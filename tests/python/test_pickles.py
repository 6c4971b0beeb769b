"""What was written down can be read again: in another process, by another version; what cannot be is refused in words."""

import copy
import dataclasses
import importlib.util
import io
import json
import math
import multiprocessing
import pickle
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import ModuleType
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import batch, fermentation, strength
from ferment._values import Pickled

RECORDED = Path(__file__).resolve().parents[1] / "reference" / "pickles"
#: Results that formulas or the data behind them have changed since they were recorded: they load, and are compared no more. Name: since when, and why.
CHANGED: dict[str, str] = {}
ROUND_OFF = 1e-12
#: What goes through an integrator with steps of its own, or a search that ends at a tolerance, is as good as that, relative to its size.
SEARCHED = 1e-6
BY_SEARCH = (
    "course", "forecast", "time_of_done", "fitted", "check", "stripping", "stripping_duty", "all_charges", "column_run", "congener_run", "windows",
    "filled_jars", "plan", "plan_by_congeners", "plans", "plan_result",
)  # fmt: skip


def load_records() -> ModuleType:
    spec = importlib.util.spec_from_file_location("recorded_records", RECORDED / "records.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


records = load_records()
NAMES = sorted(records.RECORDS)


def load(name: str) -> Any:
    return pickle.loads((records.FOLDER / f"{name}.pickle").read_bytes())


def differences(found: Any, expected: Any, tolerance: float, where: str = "") -> Iterator[str]:
    """Where two results differ, walking through all fields, hidden ones as well."""
    if type(found) is not type(expected):
        yield f"{where}: {type(found).__name__} for {type(expected).__name__}"
    elif isinstance(expected, batch.Ledger):
        yield from differences(found.to_dict(), expected.to_dict(), tolerance, where)
    elif dataclasses.is_dataclass(expected):
        for field in dataclasses.fields(expected):
            of = (getattr(found, field.name), getattr(expected, field.name))
            yield from differences(*of, tolerance, f"{where}.{field.name}")
    elif isinstance(expected, Mapping):
        if list(found) != list(expected):
            yield f"{where}: {list(found)} for {list(expected)}"
        else:
            for key in expected:
                yield from differences(found[key], expected[key], tolerance, f"{where}[{key!r}]")
    elif isinstance(expected, tuple | list):
        if len(found) != len(expected):
            yield f"{where}: {len(found)} entries for {len(expected)}"
        else:
            for i, of in enumerate(zip(found, expected, strict=True)):
                yield from differences(*of, tolerance, f"{where}[{i}]")
    elif isinstance(expected, np.ndarray):
        if found.dtype != expected.dtype or not np.allclose(
            found, expected, rtol=tolerance, atol=tolerance, equal_nan=True
        ):
            yield f"{where}: {found} for {expected}"
    elif isinstance(expected, float):
        both_nan = math.isnan(found) and math.isnan(expected)
        if not (both_nan or math.isclose(found, expected, rel_tol=tolerance, abs_tol=tolerance)):
            yield f"{where}: {found!r} for {expected!r}"
    elif found != expected:
        yield f"{where}: {found!r} for {expected!r}"


def members(value: Any) -> Iterator[Pickled]:
    """Every record in a result."""
    if isinstance(value, Pickled):
        yield value
    if dataclasses.is_dataclass(value):
        value = [getattr(value, field.name) for field in dataclasses.fields(value)]
    elif isinstance(value, batch.Ledger):
        value = list(value._parts().values())
    if isinstance(value, Mapping):
        value = list(value.values())
    if isinstance(value, tuple | list):
        for part in value:
            yield from members(part)


def kinds(of: type = Pickled) -> Iterator[type]:
    """Every class of records of the library, those that stand for several without being one left out."""
    for kind in of.__subclasses__():
        ours = kind.__module__.startswith("ferment.") and (dataclasses.is_dataclass(kind) or kind is batch.Ledger)
        if ours and getattr(sys.modules[kind.__module__], kind.__name__) is kind:  # not the draft of one with slots
            yield kind
        yield from kinds(kind)


# ---- of earlier versions ----


@pytest.mark.parametrize("name", NAMES)
def test_what_was_recorded_loads_and_is_what_is_found_today(name: str) -> None:
    found = load(name)
    expected = records.RECORDS[name]()
    if name in CHANGED:
        assert type(found) is type(expected)
        return
    assert list(differences(found, expected, SEARCHED if name in BY_SEARCH else ROUND_OFF)) == []


def test_every_kind_of_result_is_recorded() -> None:
    assert {file.stem for file in records.FOLDER.glob("*.pickle")} == set(NAMES)
    assert set(CHANGED) <= set(NAMES)
    recorded = {type(one) for name in NAMES for one in members(load(name))}
    assert sorted(kind.__name__ for kind in set(kinds()) - recorded) == []


def test_recorded_requests_are_read_and_planned() -> None:
    request = batch.PlanRequest.from_json((records.FOLDER / "plan_request.json").read_text(encoding="utf-8"))
    assert request == records.REQUEST
    written = json.loads((records.FOLDER / "plan_result.json").read_text(encoding="utf-8"))
    today = json.loads(records.TEXTS["plan_result"]())
    assert (written["schema"], written["version"]) == (today["schema"], today["version"])
    assert written["request"] == today["request"]
    if "plan_result" not in CHANGED:
        assert list(differences(written["result"], today["result"], SEARCHED)) == []


@pytest.mark.parametrize("version", [0, 2, "1", None])
def test_requests_of_another_version_are_refused(version: Any) -> None:
    text = json.loads((records.FOLDER / "plan_request.json").read_text(encoding="utf-8"))
    with pytest.raises(ferment.InputError, match=r"^version = .* must be 1$"):
        batch.PlanRequest.from_json(json.dumps(text | {"version": version}))


# ---- of other versions ----


def written_with(record: Pickled, schema: Any = None, **changes: Any) -> bytes:
    """A pickle as another version would write it: with another schema, with fields more (or changed), or fewer (None)."""
    restore, (kind, usual, parts) = record.__reduce__()
    parts = {
        name: value for name, value in {**parts, **changes}.items() if name not in changes or changes[name] is not None
    }

    class Written:
        def __reduce__(self) -> Any:
            return (restore, (kind, usual if schema is None else schema, parts))

    return pickle.dumps(Written())


ESTIMATE = ferment.Estimate(1.5, 0.5, (("starch", 0.4), ("conversion", -0.3)))


@pytest.mark.parametrize("schema", [0, 2, 99, "1"])
def test_another_schema_is_refused(schema: Any) -> None:
    with pytest.raises(
        ferment.InputError,
        match=rf"^pickled Estimate has schema version {schema!r}; this version of the library reads 1$",
    ):
        pickle.loads(written_with(ESTIMATE, schema))


def test_a_field_of_a_later_version_is_refused() -> None:
    with pytest.raises(
        ferment.InputError, match=r"^pickled Estimate has a field colour, which this version does not know$"
    ):
        pickle.loads(written_with(ESTIMATE, colour="red"))


def test_a_field_that_came_later_has_its_usual_value() -> None:
    assert pickle.loads(written_with(ESTIMATE, budget=None)) == ferment.Estimate(1.5, 0.5)
    belief = fermentation.Belief()
    assert pickle.loads(written_with(belief, root=None)) == belief  # made by a function
    with pytest.raises(ferment.InputError, match=r"^pickled Estimate has no field value$"):
        pickle.loads(written_with(ESTIMATE, value=None))


def test_the_order_of_fields_does_not_matter() -> None:
    restore, (kind, schema, parts) = ESTIMATE.__reduce__()
    assert restore(kind, schema, dict(reversed(parts.items()))) == ESTIMATE


def test_pickles_name_what_this_version_must_keep() -> None:
    found: set[str] = set()

    class Names(pickle.Unpickler):
        def find_class(self, module: str, name: str) -> Any:
            found.add(f"{module}.{name}")
            return super().find_class(module, name)

    for name in NAMES:
        Names(io.BytesIO((records.FOLDER / f"{name}.pickle").read_bytes())).load()
    ours = {name for name in found if name.startswith("ferment")}
    assert ours == {"ferment._values._restored", *(f"{kind.__module__}.{kind.__qualname__}" for kind in kinds())}


# ---- of this one ----


@pytest.mark.parametrize("name", NAMES)
def test_every_record_in_every_result_survives(name: str) -> None:
    for one in members(records.RECORDS[name]()):
        for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
            assert list(differences(pickle.loads(pickle.dumps(one, protocol)), one, 0.0)) == []
        for again in (copy.copy(one), copy.deepcopy(one)):
            assert again is not one
            assert again == one
            assert list(differences(again, one, 0.0)) == []


def test_what_was_shared_stays_shared() -> None:
    expected = strength.combine(records.FOUND)
    for again in (load("found_strengths"), copy.deepcopy(records.FOUND), pickle.loads(pickle.dumps(records.FOUND))):
        assert list(differences(strength.combine(again), expected, ROUND_OFF)) == []
    apart = [pickle.loads(pickle.dumps(one)) for one in records.FOUND]
    assert strength.combine(apart) != expected  # the one gravity has become two


def test_a_subclass_of_a_user_keeps_its_own_fields() -> None:
    again = pickle.loads(pickle.dumps(Sampled(1.5, 0.1, where="vat")))
    assert (type(again), again.where, again.value) == (Sampled, "vat", 1.5)
    assert pickle.loads(written_with(again, where=None)).where == "nowhere"


@dataclasses.dataclass(frozen=True, slots=True)
class Sampled(ferment.Measured):
    where: str = "nowhere"


def test_results_go_to_another_process_and_back() -> None:
    results = [load(name) for name in NAMES]
    # A process of its own, with nothing of this one in it.
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        again = pool.apply(copy.deepcopy, (results,))
        course = pool.apply(fermentation.simulate, (*records.BATCH, [0.0, 24.0]))
    assert list(differences(again, results, 0.0)) == []
    assert course == records.RECORDS["course"]()

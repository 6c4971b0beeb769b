"""The digits that tests/mutations.py changes: each is still where it says, and each change is one of a single digit."""

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]
HEADERS = ROOT / "libferment" / "include" / "ferment"
FOLDERS = {
    "core",
    "liquid",
    "instrument",
    "strength",
    "mash",
    "fermentation",
    "still",
    "batch",
}  # proofing has no coefficients of its own


def script() -> ModuleType:
    spec = importlib.util.spec_from_file_location("mutations", ROOT / "tests" / "mutations.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["mutations"] = module  # where dataclasses look
    spec.loader.exec_module(module)
    return module


MUTATIONS = script().MUTATIONS


def test_there_are_enough_in_every_folder() -> None:
    assert len(MUTATIONS) >= 30
    assert {m.header.split("/")[0] for m in MUTATIONS} == FOLDERS
    assert len({(m.header, m.before, m.after) for m in MUTATIONS}) == len(MUTATIONS)


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda m: f"{m.header}-{m.before}")
def test_changes_one_digit_at_one_place(mutation) -> None:
    text = (HEADERS / mutation.header).read_text(encoding="utf-8")
    assert text.count(mutation.before) == 1
    assert mutation.changed() == text.replace(mutation.before, mutation.after)
    [(old, new)] = [(a, b) for a, b in zip(mutation.before, mutation.after, strict=True) if a != b]
    assert old.isdigit()
    assert new.isdigit()
    fit = mutation.notices.startswith("reference/fit_")
    assert (ROOT / "tests" / ("" if fit else "cpp") / mutation.notices).is_file()

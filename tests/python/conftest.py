"""Published tables for the tests: '#' lines are the citation, the first other line names the columns."""

import csv
import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import TypeAlias

import pytest

TESTS = Path(__file__).resolve().parents[1]
REFERENCE = TESTS / "reference"

Table: TypeAlias = list[dict[str, str]]


def read(name: str) -> Table:
    """Rows of tests/reference/<name>.csv."""
    with (REFERENCE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    assert rows, f"{name} holds no row"
    return rows


@pytest.fixture(scope="session")
def reference() -> Callable[[str], Table]:
    return read


def load_script(name: str) -> ModuleType:
    """tests/calibration/<name>.py as a module."""
    spec = importlib.util.spec_from_file_location(name, TESTS / "calibration" / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def calibration() -> Callable[[str], ModuleType]:
    return load_script

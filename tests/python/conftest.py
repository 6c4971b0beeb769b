"""Published tables for the tests: '#' lines are the citation, the first other line names the columns."""

import csv
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

import pytest

REFERENCE = Path(__file__).resolve().parents[1] / "reference"

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

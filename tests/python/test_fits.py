"""The scripts that fit published tables: each says by its exit code whether a header holds the digits it finds."""

import subprocess
import sys
from pathlib import Path

import pytest

SCRIPTS = sorted((Path(__file__).resolve().parents[1] / "reference").glob("fit_*.py"))


def test_there_are_fits() -> None:
    assert len(SCRIPTS) >= 4


@pytest.mark.parametrize("script", SCRIPTS, ids=[script.stem for script in SCRIPTS])
def test_header_holds_the_digits(script: Path) -> None:
    done = subprocess.run([sys.executable, script], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr

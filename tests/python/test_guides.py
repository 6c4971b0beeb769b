"""The guides of docs: their tables are what their scripts make."""

import subprocess
import sys
from pathlib import Path

import pytest

DOCS = Path(__file__).resolve().parents[2] / "docs"

pytest.importorskip("matplotlib")


def test_which_instruments(tmp_path: Path) -> None:
    image = tmp_path / "budget.png"
    done = subprocess.run(
        [sys.executable, DOCS / "which_instruments.py", image], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() in (DOCS / "which_instruments.md").read_text(encoding="utf-8")
    assert image.read_bytes().startswith(b"\x89PNG")

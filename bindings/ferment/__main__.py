"""``python -m ferment``: what is installed, and where every number comes from."""

import argparse
import importlib.metadata
import itertools
import json
import os
import platform
import shutil
import sys
import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

import ferment
from ferment import _core

#: What the package can use where it is there, and what for.
OPTIONAL = {
    "matplotlib": "pictures",
    "pandas": "frames",
    "uncertainties": "numbers with uncertainty",
}
_PIPED_WIDTH = 80
_LEAST_WIDTH = 40
_HEAD_WIDTH = 18


def _version_of(package: str) -> str | None:
    try:
        return importlib.metadata.version(package)
    except importlib.metadata.PackageNotFoundError:
        return None


def state() -> dict[str, Any]:
    """What is installed, and all sources, as plain values."""
    return {
        "version": ferment.__version__,
        "python": platform.python_version(),
        "numpy": np.__version__,
        "instruction_set": _core.instruction_set(),
        "instruction_sets": list(_core.instruction_sets()),
        "optional_packages": {name: _version_of(name) for name in OPTIONAL},
        "sources": [source.to_dict() for source in ferment.sources()],
    }


def _lines(known: dict[str, Any], width: int) -> Iterator[str]:
    def told(head: str, text: str, indent: int = 0) -> list[str]:
        first = f"{' ' * indent}{head} ".ljust(_HEAD_WIDTH)
        return textwrap.wrap(
            text, width, initial_indent=first, subsequent_indent=" " * _HEAD_WIDTH, break_on_hyphens=False
        )

    others = [one for one in known["instruction_sets"] if one != known["instruction_set"]]
    beside = f"; compiled for {', '.join(others)} as well" if others else ""
    yield from told("libferment", known["version"])
    yield from told("Python", known["python"])
    yield from told("NumPy", known["numpy"])
    yield from told("instruction set", f"{known['instruction_set']}{beside}")
    for name, version in known["optional_packages"].items():
        yield from told(name, f"{version or 'not installed'} ({OPTIONAL[name]})")
    for folder, sources in itertools.groupby(known["sources"], key=lambda source: source["folder"]):
        yield ""
        yield folder
        for source in sources:
            yield f"  {source['name']}"
            for head, key in (
                ("gives", "quantity"),
                ("from", "citation"),
                ("range", "range"),
                ("uncertainty", "uncertainty"),
                ("status", "status"),
            ):
                yield from told(head, source[key], 4)


def main(arguments: Sequence[str] | None = None) -> int:
    """Prints it; 0 where that went well, 2 for an option there is not."""
    parser = argparse.ArgumentParser(
        prog="python -m ferment",
        description="Says what is installed, and where every number comes from: citation, range and uncertainty of each relation.",
    )
    parser.add_argument("--json", action="store_true", help="the same for machines, as JSON")
    parser.add_argument("--version", action="version", version=ferment.__version__)
    options = parser.parse_args(arguments)
    known = state()
    try:
        print(json.dumps(known, indent=2) if options.json else _text(known), flush=True)
    except BrokenPipeError:  # whoever read the first lines had enough; nothing is left for the interpreter to flush
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


def _text(known: dict[str, Any]) -> str:
    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else _PIPED_WIDTH
    return "\n".join(_lines(known, max(width, _LEAST_WIDTH)))


if __name__ == "__main__":
    sys.exit(main())

"""The package as a whole: what importing it costs, what it documents, where its formulas come from."""

import inspect
import re
import subprocess
import sys
from types import ModuleType

import ferment
import pytest

MODULES = (
    ferment.liquid,
    ferment.instrument,
    ferment.strength,
    ferment.mash,
    ferment.fermentation,
    ferment.still,
    ferment.proofing,
    ferment.batch,
    ferment.plot,
)
FUNCTIONS = [
    pytest.param(getattr(module, name), id=f"{module.__name__}.{name}")
    for module in (ferment, *MODULES)
    for name in module.__all__
    if inspect.isroutine(getattr(module, name))
]


def test_import_needs_numpy_only() -> None:
    program = (
        "import numpy, sys; before = set(sys.modules); import ferment; "
        "print(*sorted({m.partition('.')[0] for m in set(sys.modules) - before} - set(sys.stdlib_module_names)))"
    )
    found = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert set(found.stdout.split()) <= {"ferment", "pybind11_builtins", "numpy"}
    heavy = "import ferment, sys; print([m for m in ('matplotlib', 'pandas', 'scipy', 'uncertainties') if m in sys.modules])"
    found = subprocess.run([sys.executable, "-c", heavy], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"


def test_version() -> None:
    assert re.fullmatch(r"\d+\.\d+\.\d+", ferment.__version__)


@pytest.mark.parametrize("module", [ferment, *MODULES], ids=lambda m: m.__name__)
def test_public_names(module: ModuleType) -> None:
    assert module.__doc__
    assert len(set(module.__all__)) == len(module.__all__)
    for name in module.__all__:
        assert hasattr(module, name)
    public = {
        name
        for name, value in vars(module).items()
        if not name.startswith("_")
        and getattr(value, "__module__", None) == module.__name__
        and inspect.isroutine(value)
    }
    assert public - {"frame"} <= set(module.__all__)  # frame is shared with ferment.strength


@pytest.mark.parametrize("function", FUNCTIONS)
def test_every_function_is_documented(function: object) -> None:
    text = inspect.getdoc(function) or ""
    # No numbers, so no units.
    names = ("grain", "grain_names", "sources", "instruction_set", "instruction_sets", "use_instruction_set")
    complete = "Parameters\n" in text and "Returns\n" in text
    short = re.search(r"\[[^\]]+\]|[Gg]ravity|SG|\bas [a-z_]+", text.partition("\n")[0])
    assert complete or short or getattr(function, "__name__", "") in names, text
    if complete and "float" in text:  # no "[unit]" only where all are gravities
        assert re.search(r"\[[^\]]+\]", text) or "gravity" in text


def test_compiled_functions_document_each_argument() -> None:
    tried = 0
    for parameter in FUNCTIONS:
        function = parameter.values[0]
        name = getattr(function, "__name__", "")
        if type(function).__name__ != "builtin_function_or_method" or "instruction_set" in name:
            continue
        text = inspect.getdoc(function) or ""
        signature = re.match(r"\w+\((.*), \*, out_of_range=\"raise\", out=None\)\n", text)
        assert signature
        arguments = signature[1].split(", ")
        assert arguments
        for argument in arguments:
            name, _, usual = argument.partition("=")
            assert f"{name} : float or array_like{', default ' if usual else ''}{usual}\n" in text
        for section in ("Parameters", "Returns", "Raises", "References"):
            assert f"{section}\n{'-' * len(section)}\n" in text
        tried += 1
    assert tried >= 40


def test_sources() -> None:
    found = ferment.sources()
    assert len(found) >= 40
    assert len({source.name for source in found}) == len(found)
    folders = [source.folder for source in found]
    assert folders == sorted(
        folders,
        key=["core", "liquid", "instrument", "strength", "mash", "fermentation", "still", "proofing", "batch"].index,
    )
    for source in found:
        for field, text in source.to_dict().items():
            assert isinstance(text, str)
            assert text.strip() == text != "", (source.name, field)
        assert source.status in {"verified", "secondary", "from memory", "common practice, no source"}


def test_relations_stand_under_the_names_of_their_sources() -> None:
    names = {source.name for source in ferment.sources()}
    relations = {
        name
        for name in ferment.strength.__all__
        if type(getattr(ferment.strength, name)).__name__ == "builtin_function_or_method"
    }
    assert relations - names == {"dry_extract", "duty_abv"}


def test_errors_are_value_errors() -> None:
    for error in (ferment.RangeError, ferment.InputError, ferment.SolveError):
        assert issubclass(error, ferment.Error)
    assert issubclass(ferment.Error, ValueError)

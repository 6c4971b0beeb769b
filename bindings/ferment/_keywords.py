"""Wrong arguments: errors that say which name was meant.

A quantity has one name here, its unit at the end: water_l, temperature_c. Whoever writes water_kg, temperature, temp_f or gravty is told that name.
The same text on every version of Python, which has suggestions of its own from 3.13 on.
"""

import difflib
import functools
import inspect
import re
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from types import ModuleType
from typing import Any

import numpy as np

from ferment import _core
from ferment._show import is_uncertain, without_unit

#: Units that no argument is in, as the end of a name: what people write.
_OTHER_UNITS = frozenset(
    [
        "f",
        "degc",
        "degf",
        "celsius",
        "fahrenheit",
        "kelvin",
        "lb",
        "lbs",
        "oz",
        "pounds",
        "kilos",
        "kilograms",
        "grams",
        "mg",
        "t",
        "tonnes",
        "litres",
        "liters",
        "litre",
        "liter",
        "gal",
        "gallon",
        "gallons",
        "qt",
        "hl",
        "hours",
        "hour",
        "min",
        "minutes",
        "s",
        "seconds",
        "day",
        "psi",
        "bar",
        "mbar",
        "hpa",
        "pa",
        "atm",
        "mmhg",
        "percent",
        "pct",
        "j",
        "mj",
        "btu",
        "cm",
        "in",
        "ft",
    ]
)
#: Words as they are written elsewhere, and here.
_SAME_WORDS: dict[str, str] = {
    "temp": "temperature",
    "temps": "temperatures",
    "vapor": "vapour",
    "fiber": "fibre",
    "liter": "litre",
    "liters": "litres",
    "weight": "mass",
    "vol": "volume",
    "alcohol": "abv",
    "strength": "abv",
    "sugar": "extract",
    "plato": "extract",
    "sg": "gravity",
    "og": "original_gravity",
    "fg": "final_gravity",
    "press": "pressure",
    "alt": "altitude",
    "height": "altitude",
    "ri": "refractive_index",
    "nd": "refractive_index",
    "proof": "us_proof",
}
_ELEMENTWISE = ("out_of_range", "out")
_OUT_OF_RANGE = ("raise", "nan")
_ALIKE = 0.6


def _split(name: str) -> tuple[str, str]:
    """A name in small letters without its unit, and that unit, whether it is used here or not; "" where there is none."""
    words = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name).lower().strip("_")
    stem, unit = without_unit(words)
    first, _, last = stem.rpartition("_")
    if not unit and first and last in _OTHER_UNITS:
        stem, unit = first, last
    return "_".join(_SAME_WORDS.get(word, word) for word in stem.split("_")), unit


def hint(wrong: str, names: Iterable[str]) -> str:
    """What follows after "unexpected keyword argument": which of the names was meant; "" where none is like it."""
    known = list(names)
    given, given_unit = _split(wrong)
    same = [name for name in known if _split(name)[0] == given]
    if same:
        listed = " or ".join(repr(name) for name in same)
        own_units = {_split(name)[1] for name in same}
        if given_unit and given_unit not in own_units and "" not in own_units:
            return f"; this quantity is given as {listed}"
        return f"; did you mean {listed}?"
    near = difflib.get_close_matches(wrong.lower(), known, n=1, cutoff=_ALIKE)
    if not near:
        stems = {_split(name)[0]: name for name in reversed(known)}
        near = [stems[stem] for stem in difflib.get_close_matches(given, stems, n=1, cutoff=_ALIKE)]
    return f"; did you mean {near[0]!r}?" if near else ""


def unexpected(function: str, wrong: str, names: Iterable[str]) -> str:
    """The message for an argument that a function does not have."""
    return f"{function}() got an unexpected keyword argument {wrong!r}{hint(wrong, names)}"


# ---- functions and classes of Python ----


def _named(function: Callable[..., Any]) -> list[str] | None:
    """Names that can be given as keywords; None where any can."""
    parameters = list(inspect.signature(function).parameters.values())
    if any(one.kind is one.VAR_KEYWORD for one in parameters):
        return None
    return [one.name for one in parameters if one.kind in (one.POSITIONAL_OR_KEYWORD, one.KEYWORD_ONLY)]


def explained(function: Callable[..., Any], called: str) -> Callable[..., Any]:
    """The same function, whose error for an unknown argument names the one that was meant."""

    @functools.wraps(function)
    def explaining(*args: Any, **kwargs: Any) -> Any:
        try:
            return function(*args, **kwargs)
        except TypeError as error:
            # With another frame behind this one the function was entered, and the error is not about its arguments.
            inside = error.__traceback__ is None or error.__traceback__.tb_next is not None
            known = None if inside or not kwargs else _named(function)
            wrong = None if known is None else next((name for name in kwargs if name not in known), None)
            if known is None or wrong is None:
                raise
            error.args = (unexpected(called, wrong, [name for name in known if name != "self"]),)
            raise

    return explaining


def _explain_class(kind: type) -> None:
    for name, value in list(vars(kind).items()):
        if name.startswith("_") and name != "__init__":
            continue
        called = kind.__name__ if name == "__init__" else f"{kind.__name__}.{name}"
        if inspect.isfunction(value):
            if len(inspect.signature(value).parameters) > 1:
                setattr(kind, name, explained(value, called))
        elif isinstance(value, classmethod | staticmethod):
            setattr(kind, name, type(value)(explained(value.__func__, called)))


def install(package: ModuleType) -> None:
    """Makes the public functions and classes of a package and its modules explain unknown arguments. Compiled ones do so themselves."""
    modules = [value for name in package.__all__ if inspect.ismodule(value := getattr(package, name))]
    classes: set[type] = set()
    for module in [*modules, package]:
        for name in module.__all__:
            value = getattr(module, name)
            if inspect.isfunction(value) and not hasattr(value, "__wrapped__"):
                explaining = explained(value, name)
                setattr(module, name, explaining)
                setattr(sys.modules[value.__module__], value.__name__, explaining)  # where pickle looks it up
            elif isinstance(value, type) and not issubclass(value, BaseException) and value not in classes:
                classes.add(value)
                _explain_class(value)


# ---- compiled functions ----


def _usual(name: str) -> set[str]:
    """Arguments of a compiled function that may be left out, from the first line of its text."""
    lines = (getattr(getattr(_core, name, None), "__doc__", None) or "").splitlines()
    signature = re.match(r"\w+\((.*?)\)", lines[0]) if lines else None
    parts = signature[1].split(", ") if signature else []
    return {part.partition("=")[0] for part in parts if "=" in part}


def _names(values: Sequence[str]) -> str:
    return " and ".join(repr(value) for value in values)


def _wrong_type(value: object) -> str:
    """What is no number in a value; "" where all are numbers."""
    if is_uncertain(value):
        return ""
    try:
        array = np.asarray(value)
    except (TypeError, ValueError):
        return f"{type(value).__name__!r} with rows of different lengths"
    if array.dtype.kind in "biuf" or array.size == 0:
        return ""
    if array.dtype.kind == "O":
        bad = next((x for x in array.ravel().tolist() if not isinstance(x, int | float) and not is_uncertain(x)), None)
        if bad is None and None not in array.ravel().tolist():
            return ""
        kind = type(bad).__name__
    else:
        kind = array.dtype.type(0).item().__class__.__name__ if array.dtype.kind in "cmM" else "str"
    own = type(value).__name__
    return repr(kind) if own == kind or array.ndim == 0 else f"{own!r} that holds {kind!r}"


def explain(name: str, parameters: list[str], args: tuple[Any, ...], kwargs: Mapping[str, Any]) -> str:
    """The message of the TypeError for a call that a compiled function refused.

    Parameters
    ----------
    name : str
        Of the function.
    parameters : list of str
        Its arguments in their order; "name=default" for one that may be left out. out_of_range and out are known.
    args, kwargs
        What it was called with.

    Returns
    -------
    str
        The first that is wrong: too many values, an unknown name, one given twice, one missing, one of a wrong type.
    """
    usual = {one.partition("=")[0] for one in parameters if "=" in one} | _usual(name)
    known = [one.partition("=")[0] for one in parameters]
    numbers = [one for one in known if one not in _ELEMENTWISE]
    if len(args) > len(numbers):
        takes = f"{len(numbers)} positional argument{'s' if len(numbers) != 1 else ''}"
        return f"{name}() takes {takes} but {len(args)} were given: {', '.join(numbers)}"
    for one in kwargs:
        if one not in (*numbers, *_ELEMENTWISE):
            return unexpected(name, one, (*numbers, *_ELEMENTWISE))
    for one in numbers[: len(args)]:
        if one in kwargs:
            return f"{name}() got multiple values for argument {one!r}"
    given = dict(zip(numbers, args, strict=False)) | dict(kwargs)
    missing = [one for one in numbers if one not in given and one not in usual]
    if missing:
        return f"{name}() missing {len(missing)} required argument{'s' if len(missing) > 1 else ''}: {_names(missing)}"
    for one in numbers:
        if one in given and (bad := _wrong_type(given[one])):
            return f"{name}() argument {one!r} must be a number or an array of numbers, not {bad}"
    if "out_of_range" in given and given["out_of_range"] not in _OUT_OF_RANGE:
        return f"{name}() argument 'out_of_range' must be 'raise' or 'nan', not {given['out_of_range']!r}"
    out = given.get("out")
    if out is not None and not (isinstance(out, np.ndarray) and out.dtype == np.float64):
        kind = f"an array of {out.dtype}" if isinstance(out, np.ndarray) else repr(type(out).__name__)
        return f"{name}() argument 'out' must be an array of float64, not {kind}"
    kinds = ", ".join(f"{one}: {type(value).__name__}" for one, value in given.items())
    return f"{name}() cannot compute with these arguments ({kinds})"

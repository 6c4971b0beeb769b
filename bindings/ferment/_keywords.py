"""Wrong arguments: errors that say which name was meant.

A quantity has one name here, its unit at the end: water_l, temperature_c. Whoever writes water_kg, temperature, temp_f or gravty is told that name.
The same text on every version of Python, which has suggestions of its own from 3.13 on.
"""

import difflib
import functools
import inspect
import re
import sys
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from types import ModuleType, NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin

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
_TEMPERATURES = frozenset(["c", "f", "degc", "degf", "celsius", "fahrenheit", "kelvin"])
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
        own_units = {_split(name)[1] for name in same}
        # water_gal is an amount: not the temperature of the water, water_c.
        fitting = [one for one in same if (_split(one)[1].lower() in _TEMPERATURES) == (given_unit in _TEMPERATURES)]
        listed = " or ".join(repr(name) for name in fitting or same)
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


def _unfit(annotation: str, value: object) -> str:
    """What an argument should have been where it is not: only what can be told without doubt."""
    if value is None:
        return "" if "None" in annotation else "given"
    array = "Array" in annotation or "_array_like" in annotation or "Numbers" in annotation
    if isinstance(value, str) and not array and ("str" in annotation or "Literal" in annotation):
        return ""
    if annotation in ("int", "<class 'int'>"):
        return "" if isinstance(value, int | np.integer) else "a whole number"
    if annotation in ("str", "<class 'str'>"):
        return "" if isinstance(value, str) else "a text"
    if (array or "float" in annotation) and isinstance(value, str | bytes | complex | dict):
        return "a number or an array of numbers" if array else "a number"
    return ""


def _refused(
    function: Callable[..., Any], called: str, args: tuple[Any, ...], kwargs: Mapping[str, Any], said: str
) -> str:
    """The message for an argument of the wrong type, named as the caller knows it; "" where the one at hand is as good."""
    by_compiled = re.match(r"(\w+)\(\) (?:argument '|cannot compute with)", said)
    not_taken = "incompatible function arguments" in said
    if (
        not not_taken
        and not said.startswith("must be real number, not")
        and (not by_compiled or by_compiled[1] == called)
    ):
        return ""
    signature = inspect.signature(function)
    given = signature.bind(*args, **kwargs).arguments
    for name, value in given.items():
        kind = signature.parameters[name].annotation
        wanted = _unfit(kind if isinstance(kind, str) else str(kind), value)
        if wanted:
            shown = repr(value) if isinstance(value, int | float) else repr(type(value).__name__)
            return f"{called}() argument {name!r} must be {wanted}, not {shown}"
    if not not_taken:
        return ""
    kinds = ", ".join(f"{name}: {type(value).__name__}" for name, value in given.items() if name != "self")
    return f"{called}() cannot compute with these arguments ({kinds})"


_TEXTS = (str, bytes, bytearray)


def _is_number(value: object) -> bool:
    if is_uncertain(value):
        return True
    if isinstance(value, np.ndarray):
        return value.ndim == 0 and value.dtype.kind in "biuf"
    if isinstance(value, (*_TEXTS, complex)):
        return False
    try:
        float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError, OverflowError):
        return False
    return True


def _is_text(value: object) -> bool:
    return isinstance(value, str) and not any("\ud800" <= character <= "\udfff" for character in value)


def _array_like(kinds: Iterable[Any]) -> bool:
    return any("_SupportsArray" in str(kind) or get_origin(kind) is np.ndarray for kind in kinds)


def _rows_fit(kinds: tuple[Any, ...], value: object) -> bool:
    if isinstance(value, _TEXTS) or not isinstance(value, Iterable):
        return False
    if not isinstance(value, Collection):
        return True  # used up by looking at it
    if len(kinds) == 1 or kinds[1:] == (...,):
        return all(_fits(kinds[0], one) for one in value)
    return len(value) == len(kinds) and all(map(_fits, kinds, value))


def _numbers_fit(value: object) -> bool:
    return not _wrong_type(value) and not (isinstance(value, int) and not _is_number(value))


def _fits(kind: Any, value: Any) -> bool:
    """Whether a value is what an annotation says; True where that cannot be told.

    A Measured may be given as a number or a pair, a Bill as its rows."""
    origin, parts = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        if _array_like(parts):
            return _numbers_fit(value) if value is not None else NoneType in parts
        return any(_fits(part, value) for part in parts)
    if kind in (None, NoneType):
        return value is None
    if origin is Literal or kind is str:
        return _is_text(value)
    if _array_like([kind]):
        return _numbers_fit(value)
    if origin is not None and issubclass(origin, Mapping):
        return isinstance(value, Mapping) and all(
            map(_fits, parts * len(value), (x for row in value.items() for x in row))
        )
    if origin is not None and issubclass(origin, Iterable):
        return _rows_fit(parts, value)
    if kind is float or getattr(kind, "_is_protocol", False):
        return _is_number(value)
    if kind is int:
        return isinstance(value, int | np.integer)
    if isinstance(kind, str):  # an object of another package: never a number or a text
        return not isinstance(value, (*_TEXTS, int, float))
    if not isinstance(kind, type) or kind in (bool, object):
        return True
    if kind.__name__ == "Measured":
        if isinstance(value, kind):
            measured: Any = value
            return _is_number(measured.value) and _is_number(measured.standard_uncertainty)
        return _is_number(value) or (isinstance(value, tuple | list) and _rows_fit((float, float), value))
    if kind.__name__ == "Bill" and not isinstance(value, kind):
        return isinstance(value, Iterable) and not isinstance(value, _TEXTS)
    return isinstance(value, kind)


def _described(kind: Any) -> str:
    """What an annotation asks for, in words."""
    origin, parts = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        if _array_like(parts):
            return "a number or an array of numbers"
        words = [_described(part) for part in parts if part is not NoneType]
        return " or ".join(dict.fromkeys(words))
    if origin is Literal or kind is str:
        return "a text"
    if _array_like([kind]):
        return "an array of numbers"
    if kind is float or getattr(kind, "_is_protocol", False):
        return "a number"
    if kind is int:
        return "a whole number"
    if origin is not None and issubclass(origin, Mapping):
        return "a mapping"
    if origin is not None and issubclass(origin, Iterable):
        return (
            f"several, each {_described(parts[0])}"
            if len(parts) == 1 or parts[1:] == (...,)
            else f"{len(parts)} values"
        )
    return kind.partition(" ")[0] if isinstance(kind, str) else getattr(kind, "__name__", str(kind))


def _got(value: object) -> str:
    own = repr(type(value).__name__)
    if isinstance(value, int) and not _is_number(value):
        return f"{own}, too large for a number with a point"
    if isinstance(value, str) and not _is_text(value):
        return f"{own} with half of a character"
    return f"{own} of others" if isinstance(value, tuple | list | Mapping) and value else own


def _annotation(function: Callable[..., Any], parameter: inspect.Parameter) -> Any:
    annotation = parameter.annotation
    if isinstance(annotation, str):
        try:
            return eval(annotation, function.__globals__)
        except NameError:  # known to type checkers only
            return annotation
    return annotation


def _misfit(function: Callable[..., Any], called: str, args: tuple[Any, ...], kwargs: Mapping[str, Any]) -> str:
    """The message for the first argument that is not what its annotation says; "" where all are."""
    signature = inspect.signature(function)
    for name, value in signature.bind(*args, **kwargs).arguments.items():
        parameter = signature.parameters[name]
        if name == "self" or parameter.annotation is parameter.empty:
            continue
        kind = _annotation(function, parameter)
        rows: Iterable[tuple[str, Any]] = [(name, value)]
        if parameter.kind is parameter.VAR_KEYWORD:
            rows = value.items()
        elif parameter.kind is parameter.VAR_POSITIONAL:
            rows = [(name, one) for one in value]
        for own_name, one in rows:
            if not _fits(kind, one):
                return f"{called}() argument {own_name!r} must be {_described(kind)}, not {_got(one)}"
    return ""


def explained(function: Callable[..., Any], called: str) -> Callable[..., Any]:
    """The same function, whose error for an unknown argument names the one that was meant."""

    @functools.wraps(function)
    def explaining(*args: Any, **kwargs: Any) -> Any:
        try:
            return function(*args, **kwargs)
        except TypeError as error:
            # With another frame behind this one the function was entered, and the error is not about the names of its arguments.
            inside = error.__traceback__ is None or error.__traceback__.tb_next is not None
            if inside and (better := _refused(function, called, args, kwargs, str(error))):
                error.args = (better,)
                raise
            known = None if inside or not kwargs else _named(function)
            wrong = None if known is None else next((name for name in kwargs if name not in known), None)
            if known is None or wrong is None:
                raise
            error.args = (unexpected(called, wrong, [name for name in known if name != "self"]),)
            raise
        except (AttributeError, ArithmeticError, LookupError, RuntimeError, ValueError) as error:
            # What arguments of the right kinds do not bring about: a text in place of a record, a whole number too large for a float.
            if isinstance(error, _core.Error):
                raise
            misfit = _misfit(function, called, args, kwargs)
            if not misfit:
                raise
            raise TypeError(misfit) from None

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
        kind = {"c": "complex", "m": "timedelta64", "M": "datetime64"}.get(array.dtype.kind, "str")
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

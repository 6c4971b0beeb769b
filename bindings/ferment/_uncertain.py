"""Numbers with uncertainty, of the `uncertainties` package, through any function of numbers.

To first order: the value of the function, plus its slope in each input times what that input may be off. Results stay tied to the variables they
came from, so that what shares an input is correlated exactly. That package is not imported here: whatever has a nominal value and a standard
deviation is such a number.
"""

import dataclasses
from collections.abc import Callable, Iterator
from typing import Any, Protocol, TypeGuard, TypeVar

import numpy as np
import numpy.typing as npt

from ferment import _core

Record = TypeVar("Record")
_Array = npt.NDArray[np.float64]


class Uncertain(Protocol):
    """A number with standard uncertainty, as uncertainties.ufloat makes it."""

    @property
    def nominal_value(self) -> Any: ...
    @property
    def std_dev(self) -> Any: ...


#: Of the size of an input, and of one for small inputs: where truncation and round-off of a central difference are alike.
_STEP = float(np.finfo(np.float64).eps) ** (1.0 / 3.0)
#: Share by which the slopes on both sides must differ to betray a jump or a bend between them.
_BEND = 0.1
#: Results that change in steps only have no slope.
_IN_STEPS = ("duty_abv",)


def is_uncertain(x: object) -> TypeGuard[Uncertain]:
    """Whether x is one number with uncertainty."""
    return hasattr(x, "nominal_value") and hasattr(x, "std_dev")


def holds_uncertain(*arguments: object) -> bool:
    """Whether any of these is a number with uncertainty, or an array or list that holds one."""
    return any(is_uncertain(x) for argument in arguments for x in np.ravel(np.asarray(argument, dtype=object)).tolist())


def _nominal_values(x: npt.NDArray[Any]) -> _Array:
    plain = [float(y.nominal_value if is_uncertain(y) else y) for y in x.ravel().tolist()]
    return np.array(plain, dtype=np.float64).reshape(x.shape)


def _slope(at: Callable[[float], _Array], value: _Array, step: _Array | float) -> _Array:
    """Slope of a function by central differences, one-sided at an end of its range: at(k) is its value k steps away, NaN outside."""
    up, down = at(1.0), at(-1.0)
    with np.errstate(all="ignore"):
        forward, backward = (up - value) / step, (value - down) / step
        slope = (up - down) / (2.0 * step)
        # Between the two sides there is a jump or a bend: the side without it, or either.
        bend = np.abs(forward - backward) > _BEND * np.maximum(np.abs(forward), np.abs(backward))
        slope = np.where(bend, np.where(np.abs(forward) < np.abs(backward), forward, backward), slope)
        if np.isnan(up).any():
            slope = np.where(np.isnan(up), (3.0 * value - 4.0 * down + at(-2.0)) / (2.0 * step), slope)
        if np.isnan(down).any():
            slope = np.where(np.isnan(down), (4.0 * up - 3.0 * value - at(2.0)) / (2.0 * step), slope)
    return slope


def _step(x: Any) -> Any:
    return _STEP * np.maximum(np.abs(x), 1.0)


def propagate(function: Callable[..., Any], arguments: tuple[Any, ...], out_of_range: str, out: object) -> Any:
    """An elementwise function of numbers, or arrays of numbers, some of which have an uncertainty.

    The compiled part calls this where its loop cannot take an argument. Errors are those of the function for the nominal values.
    """
    if out is not None:
        raise TypeError("out= cannot hold numbers with uncertainty")
    if function.__name__ in _IN_STEPS:
        raise _core.InputError(
            f"{function.__name__} changes in steps: the uncertainty of its result is not of first order"
        )
    given = [np.asarray(x) for x in arguments]
    nominal = [_nominal_values(x) if x.dtype == object else x for x in given]
    value = np.asarray(function(*nominal, out_of_range=out_of_range))
    result: Any = value.astype(object)
    for i, (x, x0) in enumerate(zip(given, nominal, strict=True)):
        if x.dtype != object:
            continue
        step = _step(x0)

        def at(k: float, i: int = i, moved: _Array = x0, step: _Array = step) -> _Array:
            shifted: list[Any] = [*nominal[:i], moved + k * step, *nominal[i + 1 :]]
            return np.asarray(function(*shifted, out_of_range="nan"))

        slope = _slope(at, value, step)
        if out_of_range == "raise" and np.any(np.isnan(slope) & ~np.isnan(value)):
            raise _core.SolveError(f"{function.__name__} has no slope there: its range is a single point")
        result = result + slope * (x - x0)
    return result[()] if getattr(result, "shape", None) == () else result


def _leaves(x: Any) -> Iterator[Any]:
    if isinstance(x, tuple | list):
        for part in x:
            yield from _leaves(part)
    else:
        yield x


def _with_numbers(x: Any, numbers: Iterator[float]) -> Any:
    """The same arguments with plain numbers in place of the uncertain ones, in their order."""
    if isinstance(x, tuple | list):
        return tuple(_with_numbers(part, numbers) for part in x)
    return next(numbers) if is_uncertain(x) else x


def _floats(record: Any) -> Iterator[float]:
    for field in dataclasses.fields(record):
        value = getattr(record, field.name)
        if dataclasses.is_dataclass(value):
            yield from _floats(value)
        elif isinstance(value, float):
            yield value


def _with_floats(record: Any, values: Iterator[Any]) -> Any:
    changes = {}
    for field in dataclasses.fields(record):
        value = getattr(record, field.name)
        if dataclasses.is_dataclass(value):
            changes[field.name] = _with_floats(value, values)
        elif isinstance(value, float):
            changes[field.name] = next(values)
    return dataclasses.replace(record, **changes)


def through(compute: Callable[..., Record], *arguments: Any) -> Record:
    """compute(*arguments), which gives a dataclass; its numbers have uncertainties where arguments have them.

    A number that no uncertain argument moves stays a float, and so does a count. Errors are those of compute for the nominal values.
    """
    try:
        return compute(*arguments)
    except TypeError:
        uncertain = [x for x in _leaves(arguments) if is_uncertain(x)]
        if not uncertain:
            raise
    nominal = [float(x.nominal_value) for x in uncertain]

    def values(numbers: list[float]) -> tuple[Record, _Array]:
        record = compute(*_with_numbers(arguments, iter(numbers)))
        return record, np.fromiter(_floats(record), np.float64)

    record, value = values(nominal)
    moved_by: list[list[tuple[float, Any]]] = [[] for _ in value]
    for i, x in enumerate(uncertain):
        step = float(_step(nominal[i]))

        def at(k: float, i: int = i, step: float = step) -> _Array:
            try:
                return values([*nominal[:i], nominal[i] + k * step, *nominal[i + 1 :]])[1]
            except _core.Error:
                return np.full_like(value, np.nan)

        for terms, slope in zip(moved_by, _slope(at, value, step).tolist(), strict=True):
            if slope != 0.0:
                terms.append((slope, x - nominal[i]))  # type: ignore[operator]
    results = [
        sum((slope * off for slope, off in terms), start=y) for y, terms in zip(value.tolist(), moved_by, strict=True)
    ]
    rebuilt: Record = _with_floats(record, iter(results))
    return rebuilt

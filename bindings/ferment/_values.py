"""Values that several modules return."""

import dataclasses
import html
from collections.abc import Mapping
from typing import Any, Self

import numpy as np
import numpy.typing as npt

from ferment import _core


def _shown(record: Any) -> list[str]:
    """Names of the fields that are for the reader."""
    return [field.name for field in dataclasses.fields(record) if not field.name.startswith("_")]


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value):
        return {name: _plain(getattr(value, name)) for name in _shown(value)}
    if isinstance(value, tuple | list):
        return type(value)(_plain(part) for part in value)
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    return value.copy() if isinstance(value, np.ndarray) else value


class Record:
    """What all results share: a table for notebooks and a plain dictionary."""

    __slots__ = ()

    def to_dict(self) -> dict[str, Any]:
        """All fields as plain Python values, nested results as dictionaries; a number with uncertainty stays one."""
        return {name: _plain(getattr(self, name)) for name in _shown(self)}

    def _repr_html_(self) -> str:
        rows = ((name, getattr(self, name)) for name in _shown(self))
        cells = "".join(f"<tr><th>{name}</th><td>{html.escape(str(value))}</td></tr>" for name, value in rows)
        return f"<table><caption>{type(self).__name__}</caption>{cells}</table>"


def _same(a: npt.NDArray[Any], b: npt.NDArray[Any]) -> bool:
    numbers = a.dtype.kind == "f" and b.dtype.kind == "f"  # only these can hold NaN
    return np.array_equal(a, b, equal_nan=numbers)


def _key(x: npt.NDArray[Any]) -> object:
    # Of numbers with uncertainty the nominal values: equal ones need not have equal hashes.
    return tuple(getattr(y, "nominal_value", y) for y in x.ravel().tolist()) if x.dtype == object else x.tobytes()


class ArrayRecord(Record):
    """A result whose fields may be arrays: equal where every element is, NaN like NaN."""

    __slots__ = ()

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        names = [field.name for field in dataclasses.fields(self)]  # type: ignore[arg-type]
        return all(_same(np.asarray(getattr(self, name)), np.asarray(getattr(other, name))) for name in names)

    def __hash__(self) -> int:
        names = [field.name for field in dataclasses.fields(self)]  # type: ignore[arg-type]
        return hash(tuple(_key(np.asarray(getattr(self, name))) for name in names))


@dataclasses.dataclass(frozen=True, slots=True)
class Measured(Record):
    """A number with its standard uncertainty, both in the unit of the number."""

    value: float
    standard_uncertainty: float = 0.0

    def to_ufloat(self) -> Any:
        """The same as a number of the `uncertainties` package, which every function of numbers here takes.

        Each call makes a variable of its own: what two results, or two calls for one, share is not known to it. Raises ImportError where that
        package is not installed.
        """
        from uncertainties import ufloat

        return ufloat(self.value, self.standard_uncertainty)

    def __str__(self) -> str:
        return f"{self.value:.6g} +- {self.standard_uncertainty:.2g}"


@dataclasses.dataclass(frozen=True, slots=True)
class Estimate(Measured):
    """A result with its standard uncertainty (GUM, first order) and what each input contributes to it, the largest first."""

    budget: tuple[tuple[str, float], ...] = ()

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Self:
        """From the compiled part's dictionary."""
        return cls(
            values["value"], values["standard_uncertainty"], tuple((name, part) for name, part in values["budget"])
        )

    def interval(self, coverage_factor: float = 2.0) -> tuple[float, float]:
        """The value minus and plus so many standard uncertainties; 2 covers about 95 %."""
        half = coverage_factor * self.standard_uncertainty
        return (self.value - half, self.value + half)


@dataclasses.dataclass(frozen=True, slots=True)
class Source(Record):
    """A published relation or table: what it gives, who published it, where it holds and how well."""

    folder: str
    name: str
    quantity: str
    citation: str
    range: str
    uncertainty: str
    status: str


def sources() -> tuple[Source, ...]:
    """Every relation and table of the library with citation, range and uncertainty.

    Returns
    -------
    tuple of Source
        In the order of the modules; `status` is "verified", "secondary", "from memory" or "common practice, no source".
    """
    return tuple(Source(**row) for row in _core.sources())

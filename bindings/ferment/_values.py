"""Values that several modules return."""

import dataclasses
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, Self

import numpy as np
import numpy.typing as npt

from ferment import _core, _show

if TYPE_CHECKING:
    import pandas as pd


def _plain(value: Any) -> Any:
    if _show.is_record(value):
        return {name: _plain(part) for name, part in _show.members(value).items()}
    if isinstance(value, tuple | list):
        return type(value)(_plain(part) for part in value)
    if isinstance(value, Mapping):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, np.generic):
        return value.item()
    return value.tolist() if isinstance(value, np.ndarray) else value


#: Of what a pickle holds. Goes up by one where a field gets another name or meaning, and `_restored` then translates what is older. A new field that
#: has a usual value needs none of that.
_PICKLE_SCHEMA = 1


def _restored(kind: "type[Pickled]", schema: int, parts: Mapping[str, Any]) -> "Pickled":
    """What a pickle calls; pickles hold its name, so it stays where it is."""
    if schema != _PICKLE_SCHEMA:
        raise _core.InputError(
            f"pickled {kind.__name__} has schema version {schema!r}; this version of the library reads {_PICKLE_SCHEMA}"
        )
    return kind._of_parts(parts)


class Pickled:
    """A frozen dataclass that pickles and copies by the names of its fields, so that what is written today can be read when there are more of them."""

    __slots__ = ()

    def __reduce__(self) -> tuple[Any, ...]:
        return (_restored, (type(self), _PICKLE_SCHEMA, self._parts()))

    def _parts(self) -> dict[str, Any]:
        return {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}  # type: ignore[arg-type]

    @classmethod
    def _of_parts(cls, parts: Mapping[str, Any]) -> Self:
        """Fields that are not there get their usual value. Nothing is checked: what was valid when it was made is given back as it was."""
        fields = {field.name: field for field in dataclasses.fields(cls)}  # type: ignore[arg-type]
        strange = [name for name in parts if name not in fields]
        if strange:
            raise _core.InputError(f"pickled {cls.__name__} has a field {strange[0]}, which this version does not know")
        record = cls.__new__(cls)
        for name, field in fields.items():
            if name in parts:
                value = parts[name]
            elif field.default is not dataclasses.MISSING:
                value = field.default
            elif field.default_factory is not dataclasses.MISSING:
                value = field.default_factory()
            else:
                raise _core.InputError(f"pickled {cls.__name__} has no field {name}")
            object.__setattr__(record, name, value)
        return record


class Record(Pickled):
    """What all results share: a line to print, a table for notebooks, a plain dictionary and a frame."""

    __slots__ = ()

    def __init_subclass__(cls, **keywords: Any) -> None:
        super().__init_subclass__(**keywords)
        if "__repr__" not in vars(cls):
            cls.__repr__ = cls.__repr__  # type: ignore[method-assign] # as its own: a dataclass then makes no other

    def to_dict(self) -> dict[str, Any]:
        """All fields as plain Python values: nested results as dictionaries, arrays as lists; a number with uncertainty stays one."""
        return {name: _plain(part) for name, part in _show.members(self).items()}

    def to_frame(self) -> "pd.DataFrame":
        """As a frame of pandas.

        Returns
        -------
        pandas.DataFrame
            Columns are named as the fields, in their units. A series has a row for each point, what is no series is in ``attrs``; a result that is a
            list, as a bill or the jars of a run, has a row for each entry; any other is one row. Names in nested results are joined with dots; a
            measured number has a second column, ``..._standard_uncertainty``.

        Raises
        ------
        ImportError
            Where pandas is not installed.
        """
        return _show.frame(self)

    def __repr__(self) -> str:
        return _show.text(self)

    def _repr_html_(self) -> str:
        return _show.table(self)


def to_frame(results: Record | Iterable[Record]) -> "pd.DataFrame":
    """Results as a frame of pandas, a row each, as ``ferment.to_frame(ferment.sources())``.

    Parameters
    ----------
    results : result, or iterable of results
        All of one kind, or of several: a column that one does not have is empty there. Columns are in the units of the fields.

    Returns
    -------
    pandas.DataFrame
        Of one result what its to_frame gives.

    Raises
    ------
    ImportError
        Where pandas is not installed.
    TypeError
        For what is no result.
    """
    return _show.frame(results)


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
        return self._line()

    def _line(self) -> str:
        return _show.with_uncertainty(self.value, self.standard_uncertainty)


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

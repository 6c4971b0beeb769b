"""Where a no-cook wash ends, how it gets there, and what a gravity reading says on the way.

Starch is not dissolved at pitching, so there is no original gravity. A single gravity is one equation for two unknowns, how much starch has
been converted and how much sugar still stands free; read_wash gives the whole interval that agrees with it instead of a guess.
The published end points are for 28 to 35 degC and 3 to 5 days; nothing was measured in colder mashes.
Fermenting mash gives off carbon dioxide, which can kill in a closed room: ventilate, and never lean into a vessel.
"""

import dataclasses
import math
import operator
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, ClassVar, Self, TypeAlias, overload

import numpy as np
import numpy.typing as npt

from ferment import _core
from ferment._values import ArrayRecord, Estimate, Measured, Record
from ferment.mash import Assumptions, Potential

__all__ = [
    "BAND_SHARES",
    "Ambient",
    "Belief",
    "Check",
    "Conditions",
    "Course",
    "EndPoint",
    "Expected",
    "Fitted",
    "Forecast",
    "Inoculum",
    "KineticParameter",
    "Reading",
    "Residual",
    "Spread",
    "Vessel",
    "WashReading",
    "check",
    "end_point",
    "fit",
    "forecast",
    "kinetic_parameters",
    "no_cook",
    "no_cook_published",
    "read_wash",
    "simulate",
    "starch_forms",
    "ventilation_m3_per_h",
    "yeast_of_cells",
]

Numbers: TypeAlias = npt.ArrayLike
Array: TypeAlias = npt.NDArray[np.float64]

Reported: TypeAlias = float | tuple[float, float] | Measured
Priors: TypeAlias = Mapping[str, tuple[float, float]]

#: The shares at which a band or a Spread has its quantiles [%].
BAND_SHARES: tuple[float, ...] = tuple(_core.band_shares)

_HOURS_PER_DAY = 24.0
_MOST_THREADS = 1024
_MIDDLE = BAND_SHARES.index(50.0)
_RELATIVE_TOLERANCE, _ABSOLUTE_TOLERANCE, _LONGEST_STEP_H = _core.course_tolerance


def no_cook() -> Assumptions:
    """Conversion and fermentation efficiency of raw-starch washes with enough enzyme, as published, with the spread between works [%].

    References
    ----------
    See ferment.sources(), "no_cook_end_points" and "fermentation_efficiency"; no_cook_published() lists the results.
    """
    found = _core.no_cook()
    return Assumptions(Measured(*found["conversion"]), Measured(*found["fermentation_efficiency"]))


def no_cook_published() -> tuple[tuple[str, float], ...]:
    """The published results behind no_cook(): what was fermented, and the ethanol made [% of the theoretical]."""
    return tuple(_core.no_cook_published())


@dataclasses.dataclass(frozen=True, slots=True)
class EndPoint(Record):
    """The wash when no sugar is left.

    Attributes
    ----------
    conversion : share of the starch that became glucose [%]
    ethanol_kg, co2_kg, starch_left_kg, wash_kg : [kg]; the wash is the liquid without solids, on and off the grain
    pure_alcohol_l, wash_l : at 20 degC [L]
    abw, abv : strength of the liquid [% mass, % vol at 20 degC]
    real_extract : dissolved solids [% mass]
    gravity : SG 20/20, degassed
    """

    conversion: Estimate
    ethanol_kg: Estimate
    pure_alcohol_l: Estimate
    co2_kg: Estimate
    starch_left_kg: Estimate
    wash_kg: Estimate
    wash_l: Estimate
    abw: Estimate
    abv: Estimate
    real_extract: Estimate
    gravity: Estimate


def end_point(potential: Potential) -> EndPoint:
    """The finished wash of a potential: expected conversion, no sugar left standing.

    Parameters
    ----------
    potential : Potential
        From ferment.mash.potential, with the assumptions of no_cook() or the user's own.

    Returns
    -------
    EndPoint
        Every figure with standard uncertainty and budget.
    """
    found = _core.end_point(potential.bill.values(), potential.water_kg, potential.assumptions.values())
    return EndPoint(**{key: Estimate.of(value) for key, value in found.items()})


@dataclasses.dataclass(frozen=True, slots=True)
class WashReading(Record):
    """What one gravity reading says. NaN for figures that do not exist.

    Attributes
    ----------
    says : in words: "no reading", "not started, or sugar still standing", "fermenting", "near the end point", "below the lowest gravity of the plan"
        (within the doubt of it, and then no strength goes with it), or that the bill cannot give so high or so low a gravity
    gravity : the reading, SG 20/20
    conversion_without_sugar, abv_without_sugar : if no sugar stands free [%, % vol]; NaN where the reading is too high for that
    least_conversion, least_abv : the least that agrees with the reading [%, % vol]
    most_conversion, most_abv : the most, the end point's conversion with the rest of the sugar standing free [%, % vol]
    most_free_sugar : and that sugar [% mass]
    start_gravity, end_gravity : nothing converted; the expected end point
    lowest_gravity, highest_gravity : all starch converted, and all or none of it fermented
    """

    says: str
    gravity: Estimate
    conversion_without_sugar: Estimate
    abv_without_sugar: Estimate
    least_conversion: Estimate
    least_abv: Estimate
    most_conversion: Estimate
    most_abv: Estimate
    most_free_sugar: Estimate
    start_gravity: Estimate
    end_gravity: Estimate
    lowest_gravity: Estimate
    highest_gravity: Estimate


def read_wash(potential: Potential, gravity: float, gravity_uncertainty: float = 0.001) -> WashReading:
    """What a gravity reading of a no-cook wash says of its conversion and strength.

    Parameters
    ----------
    potential : Potential
        Of this wash.
    gravity : float
        SG 20/20 of degassed liquid without solids, already corrected for temperature (ferment.instrument.Hydrometer), 0.7 to 1.5.
    gravity_uncertainty : float
        Standard uncertainty of the reading; 0.001 is one point.

    Returns
    -------
    WashReading
        An impossible reading is said to be so; NaN gives "no reading".

    Raises
    ------
    RangeError, InputError
        For a gravity no hydrometer shows, or a negative uncertainty.
    """
    found = _core.read_wash(
        potential.bill.values(),
        potential.water_kg,
        potential.assumptions.values(),
        float(gravity),
        float(gravity_uncertainty),
    )
    says = found.pop("says")
    return WashReading(says=says, **{key: Estimate.of(value) for key, value in found.items()})


def _row(what: str, values: Numbers) -> tuple[float, ...]:
    """Plain numbers of one row; TypeError for words, InputError for a table."""
    array = np.atleast_1d(np.asarray(values))
    if array.dtype.kind not in "iuf":
        raise TypeError(f"{what} must be {'numbers' if np.ndim(values) else 'a number'}")
    if array.ndim > 1:
        raise _core.InputError(f"{what} must be one row of numbers; got {array.ndim} dimensions")
    return tuple(array.astype(np.float64).tolist())


def _number(what: str, value: float) -> float:
    if np.ndim(value) > 0:
        raise TypeError(f"{what} must be one number")
    return _row(what, value)[0]


def _as_floats(record: Record, *names: str) -> None:
    for name in names:
        object.__setattr__(record, name, float(getattr(record, name)))


@dataclasses.dataclass(frozen=True, slots=True)
class Inoculum(Record):
    """What goes into the mash to make it ferment. RangeError, InputError outside the ranges.

    Parameters
    ----------
    yeast_kg : float
        Dry yeast [kg], above 0; see yeast_of_cells for a slurry that was counted.
    enzyme_dose : float
        Enzyme, 0 to 20; 1 is what its maker states for uncooked grain.
    nutrients : float
        Factor on the yeast that can grow, 0.1 to 10; 1 is the grain's own nitrogen, 2 to 3 plenty added.
    """

    yeast_kg: float
    enzyme_dose: float = 1.0
    nutrients: float = 1.0

    def __post_init__(self) -> None:
        _core.validate_inoculum(self.yeast_kg, self.enzyme_dose, self.nutrients)
        _as_floats(self, "yeast_kg", "enzyme_dose", "nutrients")

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        return {"yeast_kg": self.yeast_kg, "enzyme_dose": self.enzyme_dose, "nutrients": self.nutrients}


def yeast_of_cells(million_cells_per_ml: float, mash_l: float) -> float:
    """Dry yeast that holds so many cells [kg].

    Parameters
    ----------
    million_cells_per_ml : float
        Cells in the mash [million per mL], above 0 to 1000.
    mash_l : float
        Volume of the mash [L], above 0.

    Returns
    -------
    float
        Dry yeast [kg], good to a quarter.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, and for what is no number.

    References
    ----------
    See ferment.sources(), "yeast_cells"; from memory.
    """
    return _core.yeast_of_cells(million_cells_per_ml, mash_l)


@dataclasses.dataclass(frozen=True, slots=True)
class Ambient(Record):
    """The air around the vessel. Made with constant, day_night or logged; RangeError, InputError for what cannot be.

    Attributes
    ----------
    mean_c, swing_c : mean of the day, -30 to 50, and warmest less mean [degC]; mean_c is None where the air was logged
    warmest_hour : when it is warmest for the first time [h after pitching], 0 to 24
    hours, temperatures_c : the log [h after pitching, degC]; empty where there is none
    """

    mean_c: float | None = None
    swing_c: float = 0.0
    warmest_hour: float = 15.0
    hours: tuple[float, ...] = ()
    temperatures_c: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "hours", _row("hours", self.hours))
        object.__setattr__(self, "temperatures_c", _row("temperatures_c", self.temperatures_c))
        if self.mean_c is None and not self.hours and not self.temperatures_c:
            raise _core.InputError(
                "Ambient: nothing is given; give mean_c [degC], or a log of hours and temperatures_c"
            )
        if self.mean_c is None:
            _core.validate_logged(self.hours, self.temperatures_c)
        elif self.hours or self.temperatures_c:
            raise _core.InputError("Ambient: give either mean_c [degC] or a log of hours and temperatures_c, not both")
        else:
            _core.validate_day_night(self.mean_c, self.swing_c, self.warmest_hour)
            _as_floats(self, "mean_c")
        _as_floats(self, "swing_c", "warmest_hour")

    @classmethod
    def constant(cls, mean_c: float) -> Self:
        """Always the same [degC], -30 to 50."""
        return cls(mean_c)

    @classmethod
    def day_night(cls, mean_c: float, swing_c: float, warmest_hour: float = 15.0) -> Self:
        """A daily swing.

        Parameters
        ----------
        mean_c : float
            Mean of the day [degC], -30 to 50.
        swing_c : float
            Warmest less mean [K], 0 to 30.
        warmest_hour : float
            When it is warmest for the first time [h after pitching], 0 to 24.
        """
        return cls(mean_c, swing_c, warmest_hour)

    @classmethod
    def logged(cls, hours: Numbers, temperatures_c: Numbers) -> Self:
        """A logged series, straight between its entries; the first and the last hold before and after.

        Parameters
        ----------
        hours : array_like
            Times, rising [h after pitching].
        temperatures_c : array_like
            As many temperatures [degC], -30 to 50.
        """
        return cls(hours=_row("hours", hours), temperatures_c=_row("temperatures_c", temperatures_c))

    def at(self, hour: float) -> float:
        """Temperature at a time [degC]; the hour counts from pitching. NaN for NaN."""
        return _core.ambient_at(self.values(), hour)

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        if self.mean_c is None:
            return {"hours": self.hours, "temperatures_c": self.temperatures_c}
        return {"mean_c": self.mean_c, "swing_c": self.swing_c, "warmest_hour": self.warmest_hour}


@dataclasses.dataclass(frozen=True, slots=True)
class Vessel(Record):
    """The walls. RangeError, InputError outside the ranges.

    Parameters
    ----------
    heat_transfer_w_per_m2_k : float
        Through the wall, in still air [W/(m2 K)], 0 to 100: 7 bare metal or plastic, 3 wood of 25 mm, 1.2 with 25 mm of foam
        (common practice, no source).
    sunshine_w : float
        Heat that the sun brings in at noon [W], 0 or more, and for a batch at most what can fall on a vessel of its size; half a sine over
        twelve hours.
    noon_hour : float
        The first noon [h after pitching], 0 to 24.
    """

    heat_transfer_w_per_m2_k: float = _core.bare_wall_w_per_m2_k
    sunshine_w: float = 0.0
    noon_hour: float = 12.0

    def __post_init__(self) -> None:
        _core.validate_vessel(self.heat_transfer_w_per_m2_k, self.sunshine_w, self.noon_hour)
        _as_floats(self, "heat_transfer_w_per_m2_k", "sunshine_w", "noon_hour")

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        return {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}


@dataclasses.dataclass(frozen=True, slots=True)
class Conditions(Record):
    """How the mash is kept. RangeError, InputError outside the range.

    Parameters
    ----------
    mash_c : float
        Temperature of the mash at pitching [degC], 0 to 45.
    ambient : Ambient
        The air around the vessel.
    vessel : Vessel
        Its walls; bare where none is given.
    """

    mash_c: float
    ambient: Ambient
    vessel: Vessel = Vessel()

    def __post_init__(self) -> None:
        _core.validate_mash_temperature(self.mash_c)
        _as_floats(self, "mash_c")

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        return {"mash_c": self.mash_c, "ambient": self.ambient.values(), "vessel": self.vessel.values()}


@dataclasses.dataclass(frozen=True, slots=True)
class KineticParameter(Record):
    """A parameter of the course, as it is believed before anything was measured of a batch.

    Attributes
    ----------
    name, unit : as simulate takes it; rates are at 30 degC
    median, spread : in its unit; one standard deviation on its scale
    scale : "normal" (median + z spread), "log" (median exp(z spread)) or "logit" (the same on the odds)
    evidence : "fitted" to published courses, "grain" (the batch's own, from its bill and assumptions) or "prior"
    status : as of a source, see ferment.sources()
    basis : where median and spread come from
    """

    name: str
    unit: str
    median: float
    spread: float
    scale: str
    evidence: str
    status: str
    basis: str


def kinetic_parameters() -> tuple[KineticParameter, ...]:
    """Every parameter of the course with median and spread [in its own unit], and where they come from."""
    return tuple(KineticParameter(*row) for row in _core.kinetic_parameters())


def starch_forms() -> tuple[tuple[str, float], ...]:
    """Forms of grain, and the share of their starch that enzymes dissolve at the fast rate [%]; from memory, good to a factor of two in the odds."""
    return tuple(_core.starch_forms())


class _Series(ArrayRecord):
    """A result that holds arrays."""

    __slots__ = ()


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Course(_Series):
    """One course of a batch: an array for each figure, with an entry for each time asked for.

    Attributes
    ----------
    time_h : after pitching [h]
    temperature_c : of the mash [degC]
    gravity : SG 20/20 of the liquid, degassed, without solids
    hydrometer : what a glass hydrometer for SG 20/20 shows at the mash's temperature; NaN outside 0 to 40 degC
    density : of that liquid at the mash's temperature [kg/m3]; NaN outside 0 to 40 degC
    abv, abw : strength of the liquid [% vol at 20 degC, % mass]
    real_extract, free_sugar : dissolved solids, and the sugar among them [% mass of the liquid]
    conversion : share of all starch that has dissolved [%]
    open_starch_g_per_kg : starch that enzymes have yet to dissolve [g per kg of liquid]; what the iodine test sees
    starch_kg : all starch left, with what enzymes never reach [kg]
    ethanol_kg, glycerol_kg, co2_kg : made so far [kg]
    pure_alcohol_l : the ethanol at 20 degC [L]
    co2_dissolved_kg, co2_lost_kg : of the carbon dioxide, what stays and what has left [kg]
    co2_l_per_h : gas made, at the mash's temperature and 101.325 kPa [L/h]
    heat_w : of fermentation [W]
    yeast_g_per_kg : alive, dry [g per kg of liquid]
    iodine : chance that an iodine test shows starch, 0 to 1
    done_h : when the iodine test stopped showing starch and the sugar was gone [h]; NaN where it was not within the times asked for
    steps : of the integrator
    """

    time_h: Array
    temperature_c: Array
    gravity: Array
    hydrometer: Array
    density: Array
    abv: Array
    abw: Array
    real_extract: Array
    conversion: Array
    free_sugar: Array
    open_starch_g_per_kg: Array
    starch_kg: Array
    ethanol_kg: Array
    pure_alcohol_l: Array
    glycerol_kg: Array
    co2_kg: Array
    co2_dissolved_kg: Array
    co2_lost_kg: Array
    co2_l_per_h: Array
    heat_w: Array
    yeast_g_per_kg: Array
    iodine: Array
    done_h: float
    steps: int


def _batch(potential: Potential, inoculum: Inoculum, conditions: Conditions, priors: Priors | None) -> dict[str, Any]:
    known = {
        name: (_number(f"median of {name}", median), _number(f"spread of {name}", spread))
        for name, (median, spread) in (priors or {}).items()
    }
    return {
        "bill": potential.bill.values(),
        "water_kg": potential.water_kg,
        "assumptions": potential.assumptions.values(),
        "inoculum": inoculum.values(),
        "conditions": conditions.values(),
        "priors": known,
    }


def simulate(
    potential: Potential,
    inoculum: Inoculum,
    conditions: Conditions,
    times_h: Numbers,
    parameters: Mapping[str, float] | None = None,
    *,
    priors: Priors | None = None,
    relative_tolerance: float = _RELATIVE_TOLERANCE,
    absolute_tolerance: float = _ABSOLUTE_TOLERANCE,
    longest_step_h: float = _LONGEST_STEP_H,
) -> Course:
    """One course of a no-cook batch, from pitching on.

    Parameters
    ----------
    potential : Potential
        Bill, water and assumptions, from ferment.mash.potential; for a no-cook wash with those of no_cook().
    inoculum : Inoculum
        Yeast, enzymes, nutrients.
    conditions : Conditions
        Temperature at pitching, the air around, the walls.
    times_h : array_like
        When to look [h after pitching], not going backwards, 0 to 8760.
    parameters : mapping of str to float, optional
        How many spreads a parameter of kinetic_parameters() lies from its median; 0 for those that are not named.
    priors : mapping of str to (float, float), optional
        Median and spread of parameters of which more is known than kinetic_parameters() says, in their own unit and scale.
    relative_tolerance, absolute_tolerance : float
        Of the integrator, 1e-13 to 1e-2 and 1e-15 to 1e-2 [kg per kg of mash, K, shares].
    longest_step_h : float
        Of the integrator [h], 0.001 to 168; a quarter of a day follows every daily swing.

    Returns
    -------
    Course
        An array for each figure. The medians are no forecast: rates of raw starch are known to a factor, not to a percent.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, for an unknown parameter, for times that go backwards, for a bill of unknown form or without starch and sugar.
    SolveError
        Where the integrator cannot follow the course.

    References
    ----------
    See ferment.sources(), "no_cook_kinetics"; kinetic_parameters() has every number with its origin.
    """
    found = _core.simulate(
        _batch(potential, inoculum, conditions, priors),
        {name: _number(f"spreads of {name}", z) for name, z in (parameters or {}).items()},
        _row("times_h", times_h),
        relative_tolerance,
        absolute_tolerance,
        longest_step_h,
    )
    return Course(**found)


@dataclasses.dataclass(frozen=True, slots=True)
class Spread(Record):
    """What is believed of one figure: quantiles in its unit. 90 % of the courses lie between p5 and p95, 50 % between p25 and p75."""

    p5: float
    p25: float
    p50: float
    p75: float
    p95: float

    def __str__(self) -> str:
        return f"{self.p50:.6g} ({self.p5:.6g} to {self.p95:.6g})"

    def _line(self) -> str:
        return str(self)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Belief(_Series):
    """What is believed of the parameters: a normal distribution, in spreads from their medians, in the order of kinetic_parameters().

    Parameters
    ----------
    mean : array_like, optional
        The most probable values; zero, the medians, where none are given.
    root : array_like, optional
        A root of the covariance, root @ root.T, one row for each parameter; the identity, the priors, where none is given.

    Raises
    ------
    InputError
        For what is no number or of another size.
    """

    mean: Array = dataclasses.field(default_factory=lambda: _core.prior_belief()["mean"])
    root: Array = dataclasses.field(default_factory=lambda: _core.prior_belief()["root"])

    if TYPE_CHECKING:  # whatever is like an array is taken as well; __post_init__ makes it one

        def __init__(self, mean: Numbers = ..., root: Numbers = ...) -> None: ...

    def __post_init__(self) -> None:
        count = len(_core.kinetic_parameters())
        for name, shape in (("mean", (count,)), ("root", (count, count))):
            array = np.asarray(getattr(self, name))
            if array.dtype.kind not in "iuf":
                raise TypeError(f"{name} of the belief must be numbers")
            if array.shape != shape:
                raise _core.InputError(f"{name} of the belief has shape {array.shape}; it must be {shape}")
            if not np.isfinite(array).all():
                raise _core.InputError(f"{name} of the belief holds what is not a number")
            object.__setattr__(self, name, array.astype(np.float64))

    @property
    def covariance(self) -> Array:
        """Covariance of the parameters, in spreads."""
        return self.root @ self.root.T

    @property
    def parameters(self) -> dict[str, float]:
        """The most probable values, in spreads from the medians, as simulate takes them."""
        return {row[0]: float(z) for row, z in zip(_core.kinetic_parameters(), self.mean, strict=True)}


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Forecast(_Series):
    """Bands of what can be measured. A band has a row for each time and a column for each of BAND_SHARES.

    Attributes
    ----------
    time_h : after pitching [h]
    gravity : SG 20/20 of the liquid, degassed, without solids
    abv : [% vol at 20 degC]
    temperature_c : of the mash [degC]
    conversion : share of all starch that has dissolved [%]
    co2_lost_kg : what a scale under the vessel has lost [kg]
    co2_l_per_h : gas made [L/h]
    iodine : chance that an iodine test shows starch, 0 to 1, for each time
    done_h : when each course is done [h], sorted; infinite where it is not by the last time. Of more than 4096 courses: 4001 quantiles at even
        distances, within 1/65536 of the last time
    members : number of courses
    """

    time_h: Array
    gravity: Array
    abv: Array
    temperature_c: Array
    conversion: Array
    co2_lost_kg: Array
    co2_l_per_h: Array
    iodine: Array
    done_h: Array
    members: int

    _apart: ClassVar = ("done_h",)  # sorted by itself
    _columns: ClassVar = tuple(f"p{share:g}" for share in BAND_SHARES)

    def __repr__(self) -> str:
        return f"<Forecast of {self.members} courses at {len(self.time_h)} times: {self}>"

    def __str__(self) -> str:
        last = self.time_h[-1] / _HOURS_PER_DAY
        done = self.done()
        days = [
            f"{hour / _HOURS_PER_DAY:.1f}" if math.isfinite(hour) else f"more than {last:.1f}"
            for hour in (done.p50, done.p5, done.p95)
        ]
        abv, gravity = self.abv[-1], self.gravity[-1]
        return (
            f"done {days[0]} days after pitching ({days[1]} to {days[2]}); after {last:.1f} days "
            f"{abv[_MIDDLE]:.1f} % vol ({abv[0]:.1f} to {abv[-1]:.1f}), "
            f"SG {gravity[_MIDDLE]:.4f} ({gravity[0]:.4f} to {gravity[-1]:.4f})"
        )

    def done(self) -> Spread:
        """When the batch is done [h after pitching]; infinite where that many courses are not by the last time."""
        return Spread(*_core.done_spread(_row("done_h", self.done_h)))

    @overload
    def done_by(self, hour: float) -> float: ...
    @overload
    def done_by(self, hour: Numbers) -> Array: ...
    def done_by(self, hour: Numbers) -> float | Array:
        """Chance that the batch is done by a time [h after pitching], 0 to 1; up to the last time of the forecast. NaN for NaN."""
        chances = _core.done_by(_row("done_h", self.done_h), _row("hour", hour))
        return chances if np.ndim(hour) else float(chances[0])


def _rows_of(readings: Iterable[Any]) -> list[dict[str, Any]]:
    """What the compiled part takes of readings."""
    rows = []
    for reading in readings:
        if not isinstance(reading, Reading):
            raise TypeError(f"a reading must be a Reading, not {type(reading).__name__!r}")
        rows.append(reading.values())
    return rows


def _seed(seed: Any) -> int:
    if isinstance(seed, bool) or not isinstance(seed, int | np.integer) or seed < 0:
        raise _core.InputError(f"seed {seed!r} must be a whole number, zero or more")
    return int(seed)


def _thread_count(threads: int | None) -> int:
    """0 stands for as many as the machine runs at once."""
    if threads is None:
        return 0
    count = operator.index(threads)
    if isinstance(threads, bool) or not 1 <= count <= _MOST_THREADS:
        raise _core.RangeError(f"threads {threads!r} must be 1 to {_MOST_THREADS}")
    return count


def _reported(what: str, reported: Reported) -> Measured:
    if not isinstance(reported, Measured):
        reported = Measured(*reported) if isinstance(reported, tuple) else Measured(reported)
    return Measured(_number(what, reported.value), _number(what, reported.standard_uncertainty))


@dataclasses.dataclass(frozen=True, slots=True)
class Reading(Record):
    """What was read at one time; any mix. RangeError, InputError for what no wash can give.

    Parameters
    ----------
    time_h : float
        After pitching [h].
    gravity, temperature_c, co2_lost_kg : (float, float) or Measured, optional
        Value and standard uncertainty, sampling included, above 0: SG 20/20 of degassed liquid without solids, corrected for temperature,
        0.95 to 1.2; the wash's temperature [degC], -5 to 60; what a scale under the vessel has lost since pitching [kg].
    iodine : bool, optional
        Whether the iodine test showed starch.
    """

    time_h: float
    gravity: Measured | None = None
    temperature_c: Measured | None = None
    co2_lost_kg: Measured | None = None
    iodine: bool | None = None

    if TYPE_CHECKING:  # pairs are taken as well; __post_init__ makes them Measured

        def __init__(
            self,
            time_h: float,
            gravity: Reported | None = ...,
            temperature_c: Reported | None = ...,
            co2_lost_kg: Reported | None = ...,
            iodine: bool | None = ...,
        ) -> None: ...

    def __post_init__(self) -> None:
        for name in ("gravity", "temperature_c", "co2_lost_kg"):
            if getattr(self, name) is not None:
                object.__setattr__(self, name, _reported(name, getattr(self, name)))
        if self.iodine is not None and not isinstance(self.iodine, bool | np.bool_):
            raise TypeError("iodine must be True, False or None")
        object.__setattr__(self, "time_h", _number("time_h", self.time_h))
        _core.validate_reading(self.values())

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        plain = {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}
        return {
            name: (value.value, value.standard_uncertainty) if isinstance(value, Measured) else value
            for name, value in plain.items()
        }


@dataclasses.dataclass(frozen=True, slots=True)
class Residual(Record):
    """A reading beside the fitted course.

    Attributes
    ----------
    time_h : after pitching [h]
    what : "gravity", "temperature", "co2_lost" or "iodine"
    read, fitted : in the reading's unit; for the iodine test 1 or 0, and the chance of a positive
    deviation : read less fitted, in standard uncertainties of the reading; for the iodine test its surprise
    """

    time_h: float
    what: str
    read: float
    fitted: float
    deviation: float


@dataclasses.dataclass(frozen=True, slots=True)
class Fitted(Record):
    """What a fit found.

    Attributes
    ----------
    belief : the most probable parameters and what doubt is left
    residuals : one for each thing read
    misfit : least sum of squares, of the readings and of the parameters' pull away from their medians
    chance : of a misfit as large or larger if model, priors and uncertainties are right, 0 to 1
    log_evidence : log probability of the readings
    warning : empty unless the readings contradict the model
    """

    belief: Belief
    residuals: tuple[Residual, ...]
    misfit: float
    chance: float
    log_evidence: float
    warning: str

    def _rows(self) -> tuple[Residual, ...]:
        return self.residuals


def forecast(
    potential: Potential,
    inoculum: Inoculum,
    conditions: Conditions,
    times_h: Numbers,
    belief: Belief | None = None,
    *,
    readings: Iterable[Reading] | None = None,
    priors: Priors | None = None,
    members: int = _core.usual_members,
    seed: int = _core.usual_seed,
    threads: int | None = None,
) -> Forecast:
    """What can be expected of a no-cook batch, with the spread of everything that is not known of it.

    Parameters
    ----------
    potential, inoculum, conditions
        The batch, as for simulate.
    times_h : array_like
        When to look [h after pitching], not going backwards, 0 to 8760; "done" is looked for up to the last of them.
    belief : Belief, optional
        What is believed of the parameters; the priors where none is given, or what fit found.
    readings : iterable of Reading, optional
        What was read so far: the forecast after check has weighed every cause, instead of a belief.
    priors : mapping of str to (float, float), optional
        Median and spread of parameters of which more is known than kinetic_parameters() says, in their own unit and scale.
    members : int
        Number of courses, 2 to 10000000. Up to 4096 every course is kept and the quantiles are exact. Of more, only counts are kept, in 2048 bins of
        the range of the first 1024 courses: quantiles are then within one bin of the exact ones, and memory does not grow with members.
    seed : int
        0 or more; the same seed draws the same courses on every machine.
    threads : int, optional
        1 to 1024; as many as the machine runs at once where none are given. The forecast does not depend on it.

    Returns
    -------
    Forecast
        Quantiles of the true values; the error of a reading comes on top. Between instruction sets (see ferment.instruction_set) they differ by less
        than the tolerance of the integrator, 1e-6.

    Raises
    ------
    RangeError, InputError, SolveError
        As simulate and fit do; InputError for a belief and readings together.

    References
    ----------
    See ferment.sources(), "no_cook_kinetics"; kinetic_parameters() has every spread with its origin.
    """
    if belief is not None and readings is not None:
        raise _core.InputError("forecast takes a belief or readings, not both")
    batch = _batch(potential, inoculum, conditions, priors)
    if readings is not None:
        rows = _rows_of(readings)
        found = _core.forecast_with_readings(
            batch, _row("times_h", times_h), rows, members, _seed(seed), _thread_count(threads)
        )
        return Forecast(**found)
    found = _core.forecast(
        batch,
        _row("times_h", times_h),
        (Belief() if belief is None else belief).to_dict(),
        members,
        _seed(seed),
        _thread_count(threads),
    )
    return Forecast(**found)


def fit(
    potential: Potential,
    inoculum: Inoculum,
    conditions: Conditions,
    readings: Iterable[Reading],
    *,
    priors: Priors | None = None,
) -> Fitted:
    """The parameters that agree best with readings and priors together, for readings such as gravity and temperature [degC].

    Parameters
    ----------
    potential, inoculum, conditions
        The batch, as for simulate.
    readings : iterable of Reading
        Times not going backwards; none at all gives back the priors.
    priors : mapping of str to (float, float), optional
        Median and spread of parameters of which more is known than kinetic_parameters() says, in their own unit and scale.

    Returns
    -------
    Fitted
        With a belief for forecast, and a warning where readings and model contradict each other.

    Raises
    ------
    RangeError, InputError
        For readings that go back in time, and as simulate does.
    SolveError
        Where the search does not end.

    References
    ----------
    Most probable parameters by Levenberg-Marquardt; covariance from the Jacobian there.
    """
    found = _core.fit(_batch(potential, inoculum, conditions, priors), _rows_of(readings))
    found["belief"] = Belief(**found["belief"])
    found["residuals"] = tuple(Residual(*row) for row in found["residuals"])
    return Fitted(**found)


@dataclasses.dataclass(frozen=True, slots=True)
class Expected(Record):
    """Something that was read, beside what could be expected of it.

    Attributes
    ----------
    what : "gravity", "temperature" or "co2_lost"
    read : in the reading's unit
    range : from the plan and all earlier readings, without the reading's own error
    z : read less expected, in standard deviations of forecast and reading together
    """

    what: str
    read: float
    range: Spread
    z: float


@dataclasses.dataclass(frozen=True, slots=True)
class Check(Record):
    """Where a fermentation stands.

    Attributes
    ----------
    time_h : of the last reading [h after pitching]
    expected : one for everything measured in the last reading
    conversion, abv, gravity : now, all readings considered [% of the starch, % vol, SG 20/20]
    probability : of "on course", "slow", "stopped" and "finished", 0 to 1
    cause_probability : of what may be behind it, 0 to 1
    stands, because : the most probable of each
    days_to_finish : from the last reading [days]; zero where done, infinite where not within four weeks
    end_gravity, end_abv : four weeks on [SG 20/20, % vol]
    look_again_h : when to read next [h after pitching]
    says : all of it in plain words
    warning : empty unless the readings contradict the plan and every cause
    """

    time_h: float
    expected: tuple[Expected, ...]
    conversion: Spread
    abv: Spread
    gravity: Spread
    probability: tuple[tuple[str, float], ...]
    cause_probability: tuple[tuple[str, float], ...]
    stands: str
    because: str
    days_to_finish: Spread
    end_gravity: Spread
    end_abv: Spread
    look_again_h: float
    says: str
    warning: str

    def __str__(self) -> str:
        return self.says


def check(
    potential: Potential,
    inoculum: Inoculum,
    conditions: Conditions,
    readings: Iterable[Reading],
    *,
    priors: Priors | None = None,
    members: int = _core.usual_members,
    seed: int = _core.usual_seed,
) -> Check:
    """Whether the last reading of a no-cook batch is where it should be, and what all readings say together.

    Parameters
    ----------
    potential, inoculum, conditions
        The batch as it was planned, as for simulate.
    readings : iterable of Reading
        At least one, times [h after pitching] not going backwards; the last is the one asked about.
    priors : mapping of str to (float, float), optional
        Median and spread of parameters of which more is known than kinetic_parameters() says, in their own unit and scale.
    members : int
        Number of courses behind every probability, 2 to 10000000. All are kept: memory and time grow with them.
    seed : int
        0 or more; the same seed gives the same answer on every machine.

    Returns
    -------
    Check
        print() of it says all in plain words.

    Raises
    ------
    RangeError, InputError, SolveError
        As fit does; InputError for no reading at all.

    References
    ----------
    See ferment.sources(), "no_cook_kinetics" and "cause_model".
    """
    found = _core.check(
        _batch(potential, inoculum, conditions, priors),
        _rows_of(readings),
        members,
        _seed(seed),
    )
    found["expected"] = tuple(Expected(what, read, Spread(*range_), z) for what, read, range_, z in found["expected"])
    for name in ("conversion", "abv", "gravity", "days_to_finish", "end_gravity", "end_abv"):
        found[name] = Spread(*found[name])
    return Check(**found)


@overload
def ventilation_m3_per_h(co2_l_per_h: float, limit_ppm: float = ...) -> float: ...
@overload
def ventilation_m3_per_h(co2_l_per_h: Numbers, limit_ppm: Numbers = ...) -> Array: ...
def ventilation_m3_per_h(co2_l_per_h: Numbers, limit_ppm: Numbers = _core.co2_limit_8h_ppm) -> float | Array:
    """Fresh air that keeps a well-mixed room at or below a limit of carbon dioxide [m3/h].

    The gas is heavy and gathers near the floor: this is the least, not a safe figure for a pit or cellar.

    Parameters
    ----------
    co2_l_per_h : float or array_like
        Carbon dioxide given off [L/h], 0 or more; see Course.
    limit_ppm : float or array_like
        Most allowed in the air [ppm by volume], 1000 to 40000; the limit for eight hours where none is given.

    Returns
    -------
    float or ndarray
        Outdoor air [m3/h]. NaN where an input is NaN.

    Raises
    ------
    RangeError
        Outside the ranges; in arrays for the first such element, with its index.

    References
    ----------
    29 CFR 1910.1000 Table Z-1; EH40/2005; the local law decides.
    """
    return _core.ventilation_m3_per_h(co2_l_per_h, limit_ppm)

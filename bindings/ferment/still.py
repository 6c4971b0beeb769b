"""What comes out of a still: charges, stripping runs, columns, congeners and cuts.

Distilling spirit needs a licence almost everywhere, and ethanol vapour burns: every result that plans a run carries CAUTIONS, read them first.
Strengths are % vol at 20 degC, volumes are at 20 degC, masses are added and volumes never. The figures are those of a model; thermometer,
hydrometer and an experienced nose decide.
"""

import dataclasses
import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Self, TypeAlias

import numpy as np
import numpy.typing as npt

from ferment import _core
from ferment._values import ArrayRecord, Estimate

__all__ = [
    "CAUTIONS",
    "CUT_LABELS",
    "WINDOWS_NOTE",
    "Boundary",
    "BoundaryRule",
    "ChargePlan",
    "Column",
    "ColumnCapacity",
    "ColumnCurve",
    "ColumnHoldUp",
    "ColumnRun",
    "Congener",
    "CongenerCourse",
    "CongenerRun",
    "CutBlend",
    "CutFraction",
    "Cuts",
    "FilledJar",
    "FilledJars",
    "Jar",
    "JarContent",
    "LegalLine",
    "Liquid",
    "MinimumReflux",
    "Packing",
    "PackingBed",
    "PracticeFigure",
    "RefluxSetting",
    "Still",
    "StillBill",
    "StillDuty",
    "Stripping",
    "StrippingCurve",
    "TakeOff",
    "Volatility",
    "Windows",
    "all_charges",
    "blend_jars",
    "charges",
    "column_capacity",
    "congener",
    "congener_crossing",
    "congener_run",
    "congener_run_with_ratios",
    "congener_volatility",
    "congeners",
    "fenske_stages",
    "fill_jars",
    "legal_lines",
    "minimum_reflux",
    "packings",
    "plates_of_packing",
    "practice_figures",
    "rectify",
    "recycle_jars",
    "reflux_of_divider",
    "reflux_of_partial_condenser",
    "stages_at_total_reflux",
    "strip",
    "stripping_duty",
    "usual_boundaries",
    "windows",
    "work_out_cuts",
]

Numbers: TypeAlias = npt.ArrayLike
Array: TypeAlias = npt.NDArray[np.float64]

#: What every plan of a run has to say beside its figures.
CAUTIONS: str = _core.still_cautions
#: What every set of windows has to say beside its figures.
WINDOWS_NOTE: str = _core.windows_note
#: Which part of the run a jar may hold; "none" is not decided yet.
CUT_LABELS: tuple[str, ...] = tuple(_core.cut_labels)

_SEA_LEVEL_KPA = 101.325
_GLUCOSE_G_PER_MOL = _core.glucose_molar_mass
_VOLUME_UNCERTAINTY, _STRENGTH_UNCERTAINTY = _core.jar_uncertainty
_BERL_SADDLE = _core.berl_saddle_bed


class _Result(ArrayRecord):
    """A result that may hold arrays, and NaN."""

    __slots__ = ()


class _Plan(_Result):
    """A result that plans a run: printed with its cautions."""

    __slots__ = ()

    cautions: str

    def summary(self) -> str:
        """The main figures in a line."""
        raise NotImplementedError  # pragma: no cover

    def __str__(self) -> str:
        return f"{self.summary()}\n{self.cautions}"

    def __repr__(self) -> str:
        return f"{ArrayRecord.__repr__(self)}\n{self.cautions}"


def _floats(record: Any, *names: str) -> None:
    for name in names:
        object.__setattr__(record, name, float(getattr(record, name)))


def _row(what: str, values: Numbers) -> list[float]:
    array = np.atleast_1d(np.asarray(values))
    if array.dtype.kind not in "iuf":
        raise TypeError(f"{what} must be numbers")
    if array.ndim > 1:
        raise _core.InputError(f"{what} must be one row of numbers; got {array.ndim} dimensions")
    row: list[float] = array.astype(np.float64).tolist()
    return row


# ---- what goes into the boiler ----


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Still(_Result):
    """A still and where it stands. RangeError, InputError outside the ranges; heating and losses are checked where they are used.

    Parameters
    ----------
    boiler_l : float
        Volume of the boiler, brim-full [L], above 0.
    head_space : float
        Share of the boiler that the charge leaves empty [%], 10 to 90; a quarter for a wash, which foams (common practice).
    heating_kw : float
        What the heating draws [kW]; needed for times.
    heat_loss : float
        Share of the heating that never reaches the boiler [%], 0 to below 100.
    heat_loss_w_per_k : float
        From hot boiler and head to the room [W/K], 0 or more.
    still_heat_kj_per_k : float
        Heat capacity of the metal that gets hot [kJ/K], 0 or more.
    pressure_kpa : float
        Absolute, in the pot [kPa], 20 to 110.
    """

    boiler_l: float
    head_space: float = _core.usual_head_space
    heating_kw: float = 0.0
    heat_loss: float = 0.0
    heat_loss_w_per_k: float = 0.0
    still_heat_kj_per_k: float = 0.0
    pressure_kpa: float = _SEA_LEVEL_KPA

    def __post_init__(self) -> None:
        _floats(self, *(field.name for field in dataclasses.fields(self)))
        _core.validate_still(self.values())

    def values(self) -> dict[str, float]:
        """What the compiled part takes."""
        return {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Liquid(_Result):
    """Water, ethanol and extract. Made with by_volume or by_mass.

    Attributes
    ----------
    mass_kg, volume_l : mass [kg], and volume at 20 degC [L]
    abv, abw : strength [% vol at 20 degC, % mass]
    extract : what does not boil [% mass]
    ethanol_kg, pure_alcohol_l : the ethanol [kg], and at 20 degC [L]
    """

    mass_kg: float
    volume_l: float
    abv: float
    abw: float
    extract: float
    ethanol_kg: float
    pure_alcohol_l: float

    @classmethod
    def by_volume(cls, volume_l: float, abv: float, extract: float = 0.0) -> Self:
        """A liquid as it is measured.

        Parameters
        ----------
        volume_l : float
            At 20 degC [L], above 0.
        abv : float
            Strength [% vol at 20 degC], 0 to 100; with extract to what then is possible.
        extract : float
            Dissolved solids [% mass], 0 to 30; 0 for a spirit.
        """
        return cls(**_core.still_liquid(volume_l, abv, extract))

    @classmethod
    def by_mass(cls, mass_kg: float, abw: float, extract: float = 0.0) -> Self:
        """A liquid as it is weighed.

        Parameters
        ----------
        mass_kg : float
            Mass [kg], above 0.
        abw : float
            Ethanol [% mass], 0 to 100.
        extract : float
            Dissolved solids [% mass], 0 to 30.
        """
        return cls(**_core.still_liquid_by_mass((mass_kg, abw, extract)))

    def values(self) -> tuple[float, float, float]:
        """What the compiled part takes."""
        return (self.mass_kg, self.abw, self.extract)

    def __str__(self) -> str:
        return f"{self.volume_l:.4g} L of {self.abv:.4g} % vol"

    def _line(self) -> str:
        with_extract = f", {self.extract:.3g} % extract" if self.extract else ""
        return f"{self}{with_extract}"


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class ChargePlan(_Plan):
    """How a wash goes through a still.

    Attributes
    ----------
    count : equal charges
    charge : one charge, wash and reserve together
    wash, reserve : the wash in it, and the heads and tails of the last run
    usable_l : what the boiler may take [L]
    head_space : share of the boiler really left empty [%]
    cautions : read them first
    """

    count: int
    charge: Liquid
    wash: Liquid
    reserve: Liquid
    usable_l: float
    head_space: float
    cautions: str = CAUTIONS

    def summary(self) -> str:
        """The main figures in a line."""
        plural = "" if self.count == 1 else "s"
        return f"{self.count} charge{plural} of {self.charge}, {self.head_space:.3g} % of the boiler empty"


def charges(
    wash_l: float, abv: float, extract: float, still: Still, *, reserve_l: float = 0.0, reserve_abv: float = 0.0
) -> ChargePlan:
    """The fewest equal charges that a wash fits into.

    Parameters
    ----------
    wash_l : float
        The wash, free of grain, all of it, at 20 degC [L], above 0.
    abv : float
        Its strength [% vol at 20 degC].
    extract : float
        Its dissolved solids [% mass], 0 to 30.
    still : Still
        Boiler and head space are used.
    reserve_l, reserve_abv : float
        Heads and tails of the last run that go into each charge [L at 20 degC, % vol], added by mass.

    Returns
    -------
    ChargePlan
        Wash and ethanol are kept to round-off.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, for what is no number, and where the reserve alone fills the boiler.

    References
    ----------
    See ferment.sources(), "still_head_space" and "wash".
    """
    wash = Liquid.by_volume(wash_l, abv, extract)
    found = _core.plan_charges(wash.values(), reserve_l, reserve_abv, still.values())
    for name in ("charge", "wash", "reserve"):
        found[name] = Liquid(**found[name])
    return ChargePlan(**found)


# ---- the simple still ----


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class StrippingCurve(_Result):
    """A stripping run from first to last drop: arrays with a value for each point, equally far apart in kg collected.

    Attributes
    ----------
    collected_l, collected_kg : what has come over [L at 20 degC, kg]
    distillate_abv, distillate_abw : what is coming over [% vol at 20 degC, % mass]
    low_wines_abv, low_wines_abw : all that has come over [% vol at 20 degC, % mass]
    pot_kg, pot_abv, pot_abw, pot_extract : what is left [kg, % vol at 20 degC, % mass, % mass]
    head_c : boiling point of the pot, at which the vapour leaves it [degC]
    recovered : ethanol that has come over, of that in the charge [%]; NaN where there is none
    vapour_heat_kj : enthalpy of all vapour so far [kJ]; liquid water and ethanol at 0 degC have none
    """

    collected_l: Array
    collected_kg: Array
    distillate_abv: Array
    distillate_abw: Array
    low_wines_abv: Array
    low_wines_abw: Array
    pot_kg: Array
    pot_abv: Array
    pot_abw: Array
    pot_extract: Array
    head_c: Array
    recovered: Array
    vapour_heat_kj: Array

    def __repr__(self) -> str:
        return f"<StrippingCurve of {len(self.collected_l)} points>"


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Stripping(_Plan):
    """A run of a simple still.

    Attributes
    ----------
    charge, low_wines, pot : what went in, what came over, what is left
    pressure_kpa : absolute, in the pot [kPa]
    ethanol_left_kg, ethanol_left_l, ethanol_left : in the pot [kg, L at 20 degC, % of that in the charge]
    boiling_start_c, boiling_end_c : of the pot at the first and at the last drop [degC]
    curve : from first to last drop
    cautions : read them first
    """

    charge: Liquid
    low_wines: Liquid
    pot: Liquid
    pressure_kpa: float
    ethanol_left_kg: float
    ethanol_left_l: float
    ethanol_left: float
    boiling_start_c: float
    boiling_end_c: float
    curve: StrippingCurve
    cautions: str = CAUTIONS

    def summary(self) -> str:
        """The main figures in a line."""
        return (
            f"{self.low_wines} from {self.charge}, {self.boiling_start_c:.1f} to {self.boiling_end_c:.1f} degC, "
            f"{self.ethanol_left:.2g} % of the ethanol left"
        )

    def __repr__(self) -> str:
        return f"<Stripping of {self.summary()}>\n{self.cautions}"


def _stop(given: Mapping[str, float | None]) -> tuple[str, float]:
    asked = [(name, value) for name, value in given.items() if value is not None]
    if len(asked) != 1:
        raise _core.InputError(f"a run ends at one of {', '.join(given)}; {len(asked) or 'none'} given")
    name, value = asked[0]
    return name, float(value)


def strip(
    charge: Liquid | ChargePlan,
    still: Still | None = None,
    *,
    distillate_abv: float | None = None,
    pot_abv: float | None = None,
    collected_l: float | None = None,
    head_c: float | None = None,
    recovered: float | None = None,
    pressure_kpa: float | None = None,
    points: int = 51,
    extract_molar_mass: float = _GLUCOSE_G_PER_MOL,
) -> Stripping:
    """A run of a simple still, to one of five ends.

    Parameters
    ----------
    charge : Liquid or ChargePlan
        What is in the pot; extract 0 to 30 % mass.
    still : Still, optional
        Its pressure is used, and the charge must leave its head space.
    distillate_abv, pot_abv : float, optional
        End: what comes over, or the pot, has fallen to this [% vol at 20 degC].
    collected_l : float, optional
        End: so much has come over [L at 20 degC].
    head_c : float, optional
        End: the head has risen to this [degC].
    recovered : float, optional
        End: this much of the ethanol has come over [%].
    pressure_kpa : float, optional
        Absolute, in the pot [kPa], 20 to 110; 101.325 where neither it nor a still is given.
    points : int
        Of the curve, 2 to 100000.
    extract_molar_mass : float
        Of the extract [g/mol], 60 to 2000; glucose unless it is known.

    Returns
    -------
    Stripping
        Mass and ethanol balance to round-off. Nothing is taken to condense in the neck, which makes the first runnings of a real still a
        few % vol stronger.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, for no end or several, and for one passed at the first drop.
    SolveError
        For an end that is never reached.

    References
    ----------
    See ferment.sources(), "rayleigh".
    """
    stop, value = _stop(
        {
            "distillate_abv": distillate_abv,
            "pot_abv": pot_abv,
            "collected_l": collected_l,
            "head_c": head_c,
            "recovered": recovered,
        }
    )
    if still is not None and pressure_kpa is not None:
        raise _core.InputError("strip: give either a still, which has its pressure, or pressure_kpa, not both")
    liquid = charge.charge if isinstance(charge, ChargePlan) else charge
    found = _core.strip(
        liquid.values(),
        None if still is None else still.values(),
        _SEA_LEVEL_KPA if pressure_kpa is None else pressure_kpa,
        stop,
        value,
        points,
        extract_molar_mass,
    )
    for name in ("charge", "low_wines", "pot"):
        found[name] = Liquid(**found[name])
    return Stripping(**{**found, "curve": StrippingCurve(**found["curve"])})


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class StillDuty(_Plan):
    """What one run takes.

    Attributes
    ----------
    heat_up_kwh, boil_kwh, loss_kwh, energy_kwh : to the first drop, to the last, lost, and drawn by the heating: all three [kWh]
    heat_up_h, boil_h, total_h : [h]
    condenser_kwh, condenser_mean_kw, condenser_peak_kw : taken out by the cooling water [kWh, kW, kW]
    water_l, water_l_per_h, water_peak_l_per_h : cooling water, measured cold [L, L/h, L/h]
    low_wines_l_per_h : mean, at 20 degC [L/h]
    cautions : read them first
    """

    heat_up_kwh: float
    boil_kwh: float
    loss_kwh: float
    energy_kwh: float
    heat_up_h: float
    boil_h: float
    total_h: float
    condenser_kwh: float
    condenser_mean_kw: float
    condenser_peak_kw: float
    water_l: float
    water_l_per_h: float
    water_peak_l_per_h: float
    low_wines_l_per_h: float
    cautions: str = CAUTIONS

    def summary(self) -> str:
        """The main figures in a line."""
        return (
            f"{self.energy_kwh:.3g} kWh in {self.total_h:.3g} h ({self.heat_up_h:.2g} h to the first drop), "
            f"{self.water_l:.3g} L of cooling water"
        )


def stripping_duty(
    run: Stripping,
    still: Still,
    *,
    start_c: float = 20.0,
    ambient_c: float = 20.0,
    distillate_c: float = 20.0,
    water_in_c: float = 15.0,
    water_out_c: float = 50.0,
) -> StillDuty:
    """Heat, time and cooling water of a stripping run.

    Parameters
    ----------
    run : Stripping
        From strip; many points where the still loses much heat to the room.
    still : Still
        Its heating [kW], above 0, and its losses.
    start_c, ambient_c : float
        Charge and still before heating, and the room [degC].
    distillate_c : float
        The low wines as they leave the condenser [degC].
    water_in_c, water_out_c : float
        Cooling water [degC].

    Returns
    -------
    StillDuty
        What condenses in the neck is not counted: time and energy are rather too small with a bare neck.

    Raises
    ------
    RangeError, InputError
        Outside the ranges.
    SolveError
        Where the heating cannot make up for the losses.

    References
    ----------
    See ferment.sources(), "still_duty".
    """
    curve = {field.name: getattr(run.curve, field.name) for field in dataclasses.fields(run.curve)}
    conditions = {
        "start_c": start_c,
        "ambient_c": ambient_c,
        "distillate_c": distillate_c,
        "water_in_c": water_in_c,
        "water_out_c": water_out_c,
    }
    found = _core.stripping_duty(
        run.charge.values(),
        run.boiling_start_c,
        run.boiling_end_c,
        run.low_wines.volume_l,
        curve,
        still.values(),
        conditions,
    )
    return StillDuty(**found)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class StillBill(_Plan):
    """What all charges of a wash take.

    Attributes
    ----------
    charges : how many
    energy_kwh, condenser_kwh : drawn by the heating, taken out by the cooling water [kWh]
    water_l : cooling water [L]
    running_h, turnaround_h, total_h : heated, between charges, both [h]
    mean_kw : energy over all the hours [kW]
    low_wines_l, low_wines_abv : of all charges [L at 20 degC, % vol]
    cautions : read them first
    """

    charges: int
    energy_kwh: float
    condenser_kwh: float
    water_l: float
    running_h: float
    turnaround_h: float
    total_h: float
    mean_kw: float
    low_wines_l: float
    low_wines_abv: float
    cautions: str = CAUTIONS

    def summary(self) -> str:
        """The main figures in a line."""
        plural = "" if self.charges == 1 else "s"
        return (
            f"{self.low_wines_l:.4g} L of {self.low_wines_abv:.4g} % vol from {self.charges} charge{plural}: "
            f"{self.energy_kwh:.3g} kWh in {self.total_h:.3g} h, {self.water_l:.3g} L of cooling water"
        )


def all_charges(duty: StillDuty, run: Stripping, charges: int, turnaround_h: float = 0.0) -> StillBill:
    """Time, energy and low wines of all charges, one after the other, each from its own start temperature.

    Parameters
    ----------
    duty, run : StillDuty, Stripping
        Of one charge.
    charges : int
        How many, 1 or more.
    turnaround_h : float
        Emptying, rinsing and filling between two charges [h], 0 or more.

    Returns
    -------
    StillBill

    Raises
    ------
    RangeError, InputError
        Outside the ranges.
    """
    values = {field.name: getattr(duty, field.name) for field in dataclasses.fields(duty) if field.name != "cautions"}
    return StillBill(
        **_core.all_charges(values, run.low_wines.volume_l, run.low_wines.abv, charges, float(turnaround_h))
    )


# ---- the column ----


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Column(_Result):
    """A batch column on a pot. RangeError, InputError come from rectify.

    Parameters
    ----------
    plates : int
        Theoretical plates above the pot, which counts as one more; 0 to 200.
    hold_up_kg : float
        Liquid on the plates while running [kg], shared equally among them.
    """

    plates: int
    hold_up_kg: float = 0.0

    def __post_init__(self) -> None:
        if not math.isfinite(self.plates) or int(self.plates) != self.plates:
            raise _core.InputError(f"plates {self.plates} must be a whole number; take the whole plates of a packing")
        object.__setattr__(self, "plates", int(self.plates))
        _floats(self, "hold_up_kg")

    @classmethod
    def packed(cls, height_m: float, hetp_m: float, hold_up_kg: float = 0.0) -> Self:
        """A column of the whole plates in a packed height.

        Parameters
        ----------
        height_m : float
            Packed height [m], above 0.
        hetp_m : float
            Height that one plate takes [m], above 0.
        hold_up_kg : float
            Liquid on the plates while running [kg].
        """
        return cls(_core.whole_plates_of_packing(height_m, hetp_m), hold_up_kg)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class TakeOff(_Result):
    """How the distillate is taken off. Made with at_reflux, at_strength or at_rate.

    Attributes
    ----------
    mode : "reflux", "strength" or "rate"
    reflux : returned over taken off, by moles
    abv, max_reflux : strength that is held [% vol at 20 degC], and the reflux at which that ends
    l_per_h : [L/h at 20 degC]
    """

    mode: str
    reflux: float = 0.0
    abv: float = 0.0
    max_reflux: float = 0.0
    l_per_h: float = 0.0

    def __post_init__(self) -> None:
        _floats(self, "reflux", "abv", "max_reflux", "l_per_h")

    @classmethod
    def at_reflux(cls, reflux: float) -> Self:
        """A constant reflux, returned over taken off by moles [1], 0 or more."""
        return cls("reflux", reflux=reflux)

    @classmethod
    def at_strength(cls, abv: float, max_reflux: float) -> Self:
        """A constant strength, held by raising the reflux to a maximum, where the run ends.

        Parameters
        ----------
        abv : float
            Strength of what is taken off [% vol at 20 degC].
        max_reflux : float
            Largest reflux, returned over taken off by moles [1].
        """
        return cls("strength", abv=abv, max_reflux=max_reflux)

    @classmethod
    def at_rate(cls, l_per_h: float) -> Self:
        """A constant rate [L/h at 20 degC]; the reflux is what remains."""
        return cls("rate", l_per_h=l_per_h)

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        return {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class ColumnCurve(_Result):
    """A run of a column: arrays with a value for each point, equally far apart in kg collected.

    Attributes
    ----------
    collected_l, collected_kg : what has come over [L at 20 degC, kg]
    distillate_abv, distillate_abw : what is coming over [% vol at 20 degC, % mass]
    collected_abv, collected_abw : all that has come over [% vol at 20 degC, % mass]
    pot_kg, pot_abv, pot_abw, pot_c : in the pot, without what is on the plates [kg, % vol at 20 degC, % mass, degC]
    head_c : dew point of the vapour at the head [degC]
    hold_up_abw : mean of the plates [% mass]; NaN where they hold nothing
    reflux : returned over taken off, by moles
    take_off_l_per_h, boil_up_kg_per_h : distillate, and vapour at the head [L/h at 20 degC, kg/h]
    condenser_kw : to condense all of that vapour [kW]
    time_h, energy_kwh : from the start of equilibration [h, kWh]; warming up comes before it
    """

    collected_l: Array
    collected_kg: Array
    distillate_abv: Array
    distillate_abw: Array
    collected_abv: Array
    collected_abw: Array
    pot_kg: Array
    pot_abv: Array
    pot_abw: Array
    pot_c: Array
    head_c: Array
    hold_up_abw: Array
    reflux: Array
    take_off_l_per_h: Array
    boil_up_kg_per_h: Array
    condenser_kw: Array
    time_h: Array
    energy_kwh: Array

    def __repr__(self) -> str:
        return f"<ColumnCurve of {len(self.collected_l)} points>"


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class ColumnHoldUp(_Result):
    """Liquid on the plates, and the pot under it.

    Attributes
    ----------
    mass_kg, ethanol_kg : on the plates [kg]
    abw : their mean [% mass]; NaN where they hold nothing
    share_of_ethanol : of that in the charge [%]
    pot_abw, head_abw : pot and distillate of that state [% mass]
    """

    mass_kg: float
    ethanol_kg: float
    abw: float
    share_of_ethanol: float
    pot_abw: float
    head_abw: float


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class ColumnRun(_Plan):
    """A run of a batch column, from charge to residue.

    Attributes
    ----------
    distillate_kg, distillate_ethanol_kg, distillate_l, distillate_abv : all that came over [kg, kg, L at 20 degC, % vol]
    residue_kg, residue_ethanol_kg, residue_abw : pot and what runs back from the plates [kg, kg, % mass]
    recovered : ethanol that came over, of that in the charge [%]
    time_h, energy_kwh : equilibration and take-off [h, kWh]
    reason : why it ended
    equilibrated, at_end : plates at total reflux before the first drop is taken, and when take-off stops
    curve : from first to last drop
    cautions : read them first
    """

    distillate_kg: float
    distillate_ethanol_kg: float
    distillate_l: float
    distillate_abv: float
    residue_kg: float
    residue_ethanol_kg: float
    residue_abw: float
    recovered: float
    time_h: float
    energy_kwh: float
    reason: str
    equilibrated: ColumnHoldUp
    at_end: ColumnHoldUp
    curve: ColumnCurve
    cautions: str = CAUTIONS

    def summary(self) -> str:
        """The main figures in a line."""
        return (
            f"{self.distillate_l:.4g} L of {self.distillate_abv:.4g} % vol in {self.time_h:.3g} h with {self.energy_kwh:.3g} kWh, "
            f"{self.recovered:.3g} % of the ethanol; {self.reason}"
        )

    def __repr__(self) -> str:
        return f"<ColumnRun of {self.summary()}>\n{self.cautions}"


def rectify(
    charge: Liquid,
    column: Column,
    take_off: TakeOff,
    *,
    heating_kw: float,
    loss_kw: float = 0.0,
    equilibration_h: float = 0.0,
    distillate_abv: float | None = None,
    pot_abv: float | None = None,
    collected_l: float | None = None,
    recovered: float | None = None,
    take_off_l_per_h: float | None = None,
    pressure_kpa: float = _SEA_LEVEL_KPA,
    points: int = 21,
) -> ColumnRun:
    """A run of a batch column, to the first of the ends that are given.

    Parameters
    ----------
    charge : Liquid
        Without extract, weaker than the azeotrope.
    column : Column
        Plates and hold-up.
    take_off : TakeOff
        At a reflux, a strength or a rate; a strength ends at its maximum reflux and needs no other end.
    heating_kw, loss_kw : float
        Into the pot, and lost from pot and column [kW].
    equilibration_h : float
        At total reflux before the first drop [h].
    distillate_abv, pot_abv : float, optional
        End: what comes over, or the pot, has fallen to this [% vol at 20 degC].
    collected_l : float, optional
        End: so much has come over [L at 20 degC].
    recovered : float, optional
        End: this much of the ethanol has come over [%].
    take_off_l_per_h : float, optional
        End: the take-off has fallen to this [L/h].
    pressure_kpa : float
        Absolute [kPa], 20 to 110.
    points : int
        Of the curve, 2 or more.

    Returns
    -------
    ColumnRun
        Steady states of theoretical plates at constant molal overflow.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, for no end, for a distillate at or beyond the azeotrope, for a take-off above the boil-up.
    SolveError
        Where the strength cannot be had or no end comes true.

    References
    ----------
    See ferment.sources(), "plate_to_plate".
    """
    asked = {
        "distillate_abv": distillate_abv,
        "pot_abv": pot_abv,
        "collected_l": collected_l,
        "recovered": recovered,
        "take_off_l_per_h": take_off_l_per_h,
    }
    found = _core.rectify(
        charge.values(),
        column.plates,
        column.hold_up_kg,
        {"heating_kw": heating_kw, "loss_kw": loss_kw, "equilibration_h": equilibration_h},
        take_off.values(),
        {name: value for name, value in asked.items() if value is not None},
        pressure_kpa,
        points,
    )
    for name in ("equilibrated", "at_end"):
        found[name] = ColumnHoldUp(**found[name])
    return ColumnRun(**{**found, "curve": ColumnCurve(**found["curve"])})


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class MinimumReflux(_Result):
    """A minimum reflux and what sets it.

    Attributes
    ----------
    reflux : returned over taken off, by moles; below it no number of plates gives the distillate from the pot
    pinch_abv : liquid at which the plates crowd [% vol at 20 degC]
    tangent : whether the operating line touches the equilibrium curve above the pot
    """

    reflux: float
    pinch_abv: float
    tangent: bool


def minimum_reflux(pot_abv: float, distillate_abv: float, pressure_kpa: float = _SEA_LEVEL_KPA) -> MinimumReflux:
    """The least reflux for a distillate from a pot, with any number of plates.

    Parameters
    ----------
    pot_abv, distillate_abv : float
        Strengths [% vol at 20 degC]; the pot above 0 and the weaker one, the distillate below the azeotrope.
    pressure_kpa : float
        Absolute [kPa], 20 to 110.

    Returns
    -------
    MinimumReflux

    Raises
    ------
    RangeError, InputError
        Outside the ranges.

    References
    ----------
    See ferment.sources(), "tangent_pinch".
    """
    return MinimumReflux(**_core.minimum_reflux(pot_abv, distillate_abv, pressure_kpa))


def stages_at_total_reflux(pot_abv: float, distillate_abv: float, pressure_kpa: float = _SEA_LEVEL_KPA) -> float:
    """The least number of theoretical stages, the pot included, at total reflux, counted on the equilibrium.

    Parameters
    ----------
    pot_abv, distillate_abv : float
        Strengths [% vol at 20 degC]; the pot above 0 and the weaker one, the distillate below the azeotrope.
    pressure_kpa : float
        Absolute [kPa], 20 to 110.

    Returns
    -------
    float
        A real number; one less is the plates above the pot.

    Raises
    ------
    RangeError, InputError
        Outside the ranges.
    """
    return _core.stages_at_total_reflux(pot_abv, distillate_abv, pressure_kpa)


def fenske_stages(pot_abv: float, distillate_abv: float, relative_volatility: float) -> float:
    """The same at a constant relative volatility, after Fenske.

    Parameters
    ----------
    pot_abv, distillate_abv : float
        Strengths [% vol at 20 degC], the pot above 0 and the weaker one, the distillate below 100.
    relative_volatility : float
        Constant, above 1. That of ethanol and water runs from 12 to 1: for them stages_at_total_reflux counts.

    Returns
    -------
    float
        A real number, the pot included; NaN for NaN.

    Raises
    ------
    RangeError, InputError
        Outside the ranges.

    References
    ----------
    See ferment.sources(), "fenske_1932".
    """
    return _core.fenske_stages(pot_abv, distillate_abv, relative_volatility)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class RefluxSetting(_Result):
    """What a setting of the reflux does.

    Attributes
    ----------
    reflux : returned over taken off, by moles
    take_off_per_coolant : relative change of the take-off per relative change of the coolant flow
    take_off_per_power : the same of the heating power
    condenser_kw : heat taken by the partial condenser [kW]; 0 for a divider
    """

    reflux: float
    take_off_per_coolant: float
    take_off_per_power: float
    condenser_kw: float


def reflux_of_partial_condenser(
    coolant_l_per_h: float, inlet_c: float, outlet_c: float, vapour_c: float, power_kw: float
) -> RefluxSetting:
    """The reflux that a partial condenser (dephlegmator) gives, and how nervous it is.

    Parameters
    ----------
    coolant_l_per_h : float
        Water [L/h], above 0.
    inlet_c, outlet_c, vapour_c : float
        Coolant in and out, and vapour at the head [degC], each hotter than the one before, at most 100.
    power_kw : float
        Heat that rises with the vapour [kW], more than the coolant takes.

    Returns
    -------
    RefluxSetting

    Raises
    ------
    RangeError, InputError
        Outside the ranges.

    References
    ----------
    See ferment.sources(), "partial_condenser".
    """
    return RefluxSetting(**_core.reflux_of_partial_condenser(coolant_l_per_h, inlet_c, outlet_c, vapour_c, power_kw))


def reflux_of_divider(share: float) -> RefluxSetting:
    """The reflux of a valve or timer under a total condenser.

    Parameters
    ----------
    share : float
        Of the condensate that is taken off [%], above 0 to 100.

    Returns
    -------
    RefluxSetting

    Raises
    ------
    RangeError, InputError
        Outside the range.
    """
    return RefluxSetting(**_core.reflux_of_divider(share))


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Packing(_Result):
    """A random packing as published.

    Attributes
    ----------
    name, size_mm : what and how large [mm]
    void : share of the packed volume that is empty [%]
    surface_m2_m3 : per packed volume [m2/m3]
    factor_per_ft : packing factor [1/ft]; NaN where the source has none
    """

    name: str
    size_mm: float
    void: float
    surface_m2_m3: float
    factor_per_ft: float


def packings() -> tuple[Packing, ...]:
    """Void [%], surface [m2/m3] and packing factor [1/ft] of random packings; see ferment.sources(), "packing_table"."""
    return tuple(Packing(*row) for row in _core.packings())


def plates_of_packing(height_m: float, hetp_m: float) -> float:
    """Theoretical plates of a packed height; whole plates count for a Column.

    Parameters
    ----------
    height_m : float
        Packed height [m], above 0.
    hetp_m : float
        Height that one plate takes [m], above 0.

    Returns
    -------
    float
        Plates [1].

    Raises
    ------
    RangeError
        Outside the ranges.
    """
    return _core.plates_of_packing(height_m, hetp_m)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class PackingBed(_Result):
    """A packing with the friction constants that flooding needs; ceramic Berl saddles of 25 mm where nothing is given.

    Parameters
    ----------
    void : float
        Share of the packed volume that is empty [%], above 0, below 100.
    surface_m2_m3 : float
        Per packed volume [m2/m3], above 0.
    friction : (float, float, float)
        C1, C2 and C3 of the friction factor C1/Re + C2/sqrt(Re) + C3; seen in print for those saddles only.
    """

    void: float = _BERL_SADDLE[0]
    surface_m2_m3: float = _BERL_SADDLE[1]
    friction: tuple[float, float, float] = _BERL_SADDLE[2]

    def __post_init__(self) -> None:
        c1, c2, c3 = self.friction
        object.__setattr__(self, "friction", (float(c1), float(c2), float(c3)))
        _floats(self, "void", "surface_m2_m3")


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class ColumnCapacity(_Plan):
    """What goes through a packed column when it floods, and at the load asked for.

    Attributes
    ----------
    flooding_m_per_s, flooding_kw : vapour over the empty column when it floods, and the heat in it [m/s, kW]
    boil_up_kw, boil_up_kg_per_h : at the load asked for [kW, kg/h]
    pressure_drop_pa_m : at that load [Pa/m]
    hold_up : liquid in the packed volume at that load [%]
    vapour_density : ideal gas [kg/m3]
    cautions : read them first
    """

    flooding_m_per_s: float
    flooding_kw: float
    boil_up_kw: float
    boil_up_kg_per_h: float
    pressure_drop_pa_m: float
    hold_up: float
    vapour_density: float
    cautions: str = CAUTIONS

    def summary(self) -> str:
        """The main figures in a line."""
        return (
            f"{self.boil_up_kw:.3g} kW boil up {self.boil_up_kg_per_h:.3g} kg/h, {self.pressure_drop_pa_m:.3g} Pa/m; "
            f"the column floods at {self.flooding_kw:.3g} kW"
        )


def column_capacity(
    diameter_m: float,
    vapour_abv: float,
    flood_share: float,
    bed: PackingBed | None = None,
    pressure_kpa: float = _SEA_LEVEL_KPA,
) -> ColumnCapacity:
    """The largest boil-up of a packed column at total reflux, which is the heaviest load of liquid.

    Parameters
    ----------
    diameter_m : float
        Inside [m], above 0.
    vapour_abv : float
        Strength of the vapour as a liquid [% vol at 20 degC]; the strong vapour of the head floods first.
    flood_share : float
        Of the flooding velocity [%], above 0, below 100; 70 to 80 are common practice, no source.
    bed : PackingBed, optional
        Ceramic Berl saddles of 25 mm where none is given.
    pressure_kpa : float
        Absolute [kPa], 20 to 110.

    Returns
    -------
    ColumnCapacity

    Raises
    ------
    RangeError, InputError
        Outside the ranges.

    References
    ----------
    See ferment.sources(), "stichlmair_1989".
    """
    packed = PackingBed() if bed is None else bed
    return ColumnCapacity(
        **_core.column_capacity(
            diameter_m, vapour_abv, flood_share, packed.void, packed.surface_m2_m3, packed.friction, pressure_kpa
        )
    )


# ---- congeners ----

Levels: TypeAlias = Mapping[str, float]
Run: TypeAlias = "Stripping | ColumnRun | tuple[Numbers, Numbers]"


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Congener(_Result):
    """A trace that comes over with the alcohol.

    Attributes
    ----------
    name, molar_mass : [g/mol]
    evidence : what its volatility rests on
    doubt_factor : the volatility may be wrong by this factor either way
    remark : when it comes
    source : name in ferment.sources()
    """

    name: str
    molar_mass: float
    evidence: str
    doubt_factor: float
    remark: str
    source: str


def congener(name: str) -> Congener:
    """A congener by its name, as congeners lists them.

    Parameters
    ----------
    name : str
        Such as "methanol" or "ethyl_acetate".

    Returns
    -------
    Congener

    Raises
    ------
    InputError
        For an unknown name, with the known ones.
    """
    return Congener(**_core.congener(name))


def congeners() -> tuple[Congener, ...]:
    """All congeners the library follows, with molar mass [g/mol], evidence and doubt; trends, not analyses."""
    return tuple(Congener(**row) for row in _core.congeners())


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Volatility(_Result):
    """A trace over boiling ethanol and water.

    Attributes
    ----------
    by_moles, by_mass : in the vapour over in the liquid, as mole and as mass fractions
    against_ethanol : over that of ethanol; above 1 it comes before the alcohol, below 1 after it
    vapour_abw : ethanol in the vapour [% mass]
    """

    by_moles: float
    by_mass: float
    against_ethanol: float
    vapour_abw: float


def congener_volatility(name: str, abw: float, pressure_kpa: float = _SEA_LEVEL_KPA) -> Volatility:
    """Volatility of a congener over boiling ethanol and water; trend only.

    Parameters
    ----------
    name : str
        As congeners lists them.
    abw : float
        Ethanol in the liquid [% mass], 0 to 100.
    pressure_kpa : float
        Absolute [kPa], 20 to 110.

    Returns
    -------
    Volatility
        NaN for NaN.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, for an unknown name.

    References
    ----------
    See ferment.sources(), "congener_pairs", "congener_vapour_pressure", "acetic_acid_trend".
    """
    return Volatility(**_core.congener_volatility(name, abw, pressure_kpa))


def congener_crossing(name: str, pressure_kpa: float = _SEA_LEVEL_KPA) -> float:
    """Liquid over which a congener is as volatile as ethanol: before the alcohol in weaker ones, after it in stronger ones, or the reverse.

    Parameters
    ----------
    name : str
        As congeners lists them.
    pressure_kpa : float
        Absolute [kPa], 20 to 110.

    Returns
    -------
    float
        Ethanol [% mass]; NaN where there is none, as for ethyl acetate (always before) and acetic acid (always after).

    Raises
    ------
    RangeError, InputError
        Outside the range, for an unknown name.
    """
    return _core.congener_crossing(name, pressure_kpa)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class CongenerCourse(_Result):
    """A congener along a run: arrays with a value for each point.

    Attributes
    ----------
    name : of the congener
    pot_g, collected_g : left in the pot, come over [g]
    grams_per_hl : of what comes over at that moment [g per hL of pure alcohol]
    """

    name: str
    pot_g: Array
    collected_g: Array
    grams_per_hl: Array


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class CongenerRun(_Result):
    """Congeners along a run: an order, not an analysis.

    Attributes
    ----------
    pot_kg, pot_abw : the points: what can boil in the pot, and the ethanol in it [kg, % mass]
    collected_kg, ethanol_collected_kg : what has come over [kg]
    distillate_abw : what comes over at that moment [% mass]
    courses : one for each congener
    rectified : the run had a column or a condensing head, and figures of a simple still are wrong for it
    note : what these figures are worth
    """

    pot_kg: Array
    pot_abw: Array
    collected_kg: Array
    ethanol_collected_kg: Array
    distillate_abw: Array
    courses: tuple[CongenerCourse, ...]
    rectified: bool
    note: str = WINDOWS_NOTE

    def course(self, name: str) -> CongenerCourse:
        """Of one congener; InputError where it was not followed."""
        for one in self.courses:
            if one.name == name:
                return one
        raise _core.InputError(f'congener "{name}" is not among those of the run')

    def __repr__(self) -> str:
        names = ", ".join(one.name for one in self.courses)
        return f"<CongenerRun of {names} at {len(self.pot_kg)} points>"


def _points(run: Run) -> tuple[list[float], list[float]]:
    """Mass that can boil in the pot, and the ethanol in it [% mass]."""
    if isinstance(run, Stripping):
        boils = 1.0 - run.curve.pot_extract / 100.0  # extract stays behind and takes no part
        return (run.curve.pot_kg * boils).tolist(), (run.curve.pot_abw / boils).tolist()
    if isinstance(run, ColumnRun):
        return run.curve.pot_kg.tolist(), run.curve.pot_abw.tolist()
    pot_kg, pot_abw = run
    return _row("pot_kg", pot_kg), _row("pot_abw", pot_abw)


def _pressure(run: Run, pressure_kpa: float | None) -> float:
    if pressure_kpa is not None:
        return pressure_kpa
    return run.pressure_kpa if isinstance(run, Stripping) else _SEA_LEVEL_KPA


def _levels(levels: Levels) -> list[tuple[str, float]]:
    return [(name, float(level)) for name, level in levels.items()]


def _congener_run(found: dict[str, Any]) -> CongenerRun:
    return CongenerRun(courses=tuple(CongenerCourse(**row) for row in found.pop("courses")), **found)


def congener_run(
    run: Run, levels: Levels, *, pressure_kpa: float | None = None, volatility_power: float = 0.0
) -> CongenerRun:
    """Congeners along the run of a simple still.

    Parameters
    ----------
    run : Stripping, ColumnRun or (array_like, array_like)
        The run, or mass in the pot [kg], falling, and its ethanol [% mass], above 0 and never rising, at two points or more. A ColumnRun is
        taken as if it were a simple still's, and flagged as rectified.
    levels : mapping of str to float
        Congeners and what the charge holds of them [g per hL of pure alcohol], 0 or more; 1 where it is not known, levels are then relative.
    pressure_kpa : float, optional
        Absolute, in the pot [kPa], 20 to 110; that of a Stripping, or 101.325.
    volatility_power : float
        Every volatility is multiplied by its doubt_factor to this power: 1 and -1 are the edges of the doubt.

    Returns
    -------
    CongenerRun
        NaN for NaN.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, for an unknown congener, for a pot that gains.

    References
    ----------
    See ferment.sources(), "congener_pairs".
    """
    return _congener_run(
        _core.congener_run(*_points(run), _levels(levels), _pressure(run, pressure_kpa), volatility_power)
    )


def congener_run_with_ratios(
    run: Run, distillate_abw: Numbers, levels: Levels, ratios: Mapping[str, Numbers]
) -> CongenerRun:
    """Congeners along any run whose enrichment is known from elsewhere, as of a column worked out plate by plate.

    Parameters
    ----------
    run : Stripping, ColumnRun or (array_like, array_like)
        As congener_run takes it.
    distillate_abw : array_like
        Ethanol in what comes over at each point [% mass], above 0.
    levels : mapping of str to float
        As congener_run takes them.
    ratios : mapping of str to array_like
        For each congener its mass fraction in what comes over, over that in the pot, at each point; 0 or more.

    Returns
    -------
    CongenerRun

    Raises
    ------
    RangeError, InputError
        Outside the ranges, and where the numbers of values do not match.
    """
    if set(ratios) != set(levels):
        raise _core.InputError(f"ratios are given for {', '.join(ratios)}, levels for {', '.join(levels)}")
    rows = [_row(f"ratios of {name}", ratios[name]) for name in levels]
    strengths = _row("distillate_abw", distillate_abw)
    return _congener_run(_core.congener_run_with_ratios(*_points(run), strengths, _levels(levels), rows))


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class BoundaryRule(_Result):
    """Where a window ends; change the level to your own palate.

    Parameters
    ----------
    ends : str
        The window that ends here.
    congener : str
        Its level is watched; empty for strength.
    by : str
        "of_start" or "of_charge": per alcohol, against its first level or that of the charge [%]; "grams_per_hl" [g per hL of pure
        alcohol]; "strength" of what comes over [% vol].
    when : str
        "falls_below" or "rises_above".
    level : float
        In that unit.
    level_range : (float, float)
        Where others put it.
    reason, source : str
        Why, and the name in ferment.sources().
    """

    ends: str
    congener: str
    by: str
    when: str
    level: float
    level_range: tuple[float, float]
    reason: str = ""
    source: str = "own_rule"

    def __post_init__(self) -> None:
        lower, upper = self.level_range
        object.__setattr__(self, "level_range", (float(lower), float(upper)))
        _floats(self, "level")

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        return {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}


def usual_boundaries() -> tuple[BoundaryRule, ...]:
    """Ends of fore-shots, heads, hearts and tails of a spirit run in a simple still, with levels [%, % vol] and where they come from."""
    return tuple(BoundaryRule(**row) for row in _core.usual_boundaries())


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Boundary(_Result):
    """Where a window of a run ends.

    Attributes
    ----------
    rule : what it goes by
    reached : False where the run ends before; the figures are then NaN
    collected_kg : distillate so far [kg]
    ethanol_share : ethanol collected, of that in the charge [%]
    distillate_abv : what comes over at that moment [% vol at 20 degC]
    earliest_kg, latest_kg : with level and volatility at the edges of their doubt [kg]; infinite where it is then not reached
    """

    rule: BoundaryRule
    reached: bool
    collected_kg: float
    ethanol_share: float
    distillate_abv: float
    earliest_kg: float
    latest_kg: float


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Windows(_Plan):
    """Windows of a run: where to taste and smell, not what may be drunk.

    Attributes
    ----------
    boundaries : in order
    rectified : the run had a column or a condensing head, and no boundary holds
    note, cautions : read them first
    """

    boundaries: tuple[Boundary, ...]
    rectified: bool
    note: str = WINDOWS_NOTE
    cautions: str = CAUTIONS

    def _rows(self) -> tuple[Boundary, ...]:
        return self.boundaries

    def summary(self) -> str:
        """The main figures in a line, and the note."""
        ends = [
            f"{b.rule.ends} to {b.collected_kg:.3g} kg ({b.earliest_kg:.3g} to {b.latest_kg:.3g})"
            if b.reached
            else f"{b.rule.ends} not ended"
            for b in self.boundaries
        ]
        warning = "; the run is rectified, none of these holds" if self.rectified else ""
        return "; ".join(ends) + warning + "\n" + self.note


def windows(
    run: Run, levels: Levels, *, pressure_kpa: float | None = None, rules: Iterable[BoundaryRule] | None = None
) -> Windows:
    """Windows of a simple still's run: where to taste and smell.

    Parameters
    ----------
    run : Stripping, ColumnRun or (array_like, array_like)
        As congener_run takes it.
    levels : mapping of str to float
        As congener_run takes them; every congener of a rule must be among them.
    pressure_kpa : float, optional
        Absolute, in the pot [kPa], 20 to 110; that of a Stripping, or 101.325.
    rules : iterable of BoundaryRule, optional
        In order; those of usual_boundaries where none are given.

    Returns
    -------
    Windows
        With the doubt of levels and volatilities.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, and for a rule whose congener is not followed.
    """
    asked = None if rules is None else list(rules)
    found = _core.windows(
        *_points(run),
        _levels(levels),
        _pressure(run, pressure_kpa),
        None if asked is None else [rule.values() for rule in asked],
    )
    told = usual_boundaries() if asked is None else tuple(asked)
    boundaries = tuple(Boundary(rule, **row) for rule, row in zip(told, found["boundaries"], strict=True))
    return Windows(boundaries, found["rectified"])


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class PracticeFigure(_Result):
    """A habit of the trade, for comparison: what, from low to high in a unit, and the name of its source in ferment.sources()."""

    what: str
    low: float
    high: float
    unit: str
    source: str


def practice_figures() -> tuple[PracticeFigure, ...]:
    """Habits of the trade beside the windows, each in its own unit [%, min, % vol]; they differ, and none is a rule."""
    return tuple(PracticeFigure(*row) for row in _core.practice_figures())


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class LegalLine(_Result):
    """A limit of the law, for a line beside a curve; check the law in force.

    Attributes
    ----------
    product, compound : what the limit is for, and of what
    congener : name in congeners() that is compared with it; empty where none is
    grams_per_hl : [g per hL of pure alcohol]; NaN where the law says "not detectable"
    at_most : False: at least
    citation : the law
    """

    product: str
    compound: str
    congener: str
    grams_per_hl: float
    at_most: bool
    citation: str


def legal_lines() -> tuple[LegalLine, ...]:
    """Limits of the law [g per hL of pure alcohol], to draw beside a curve; laws differ and change."""
    return tuple(LegalLine(*row) for row in _core.legal_lines())


# ---- jars and cuts ----


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Jar(_Result):
    """A jar as collected. InputError for an unknown label; the rest is checked where jars are used, with the number of the jar.

    Parameters
    ----------
    volume_l : float
        At temperature_c [L], above 0.
    abv : float
        True strength [% vol at 20 degC], 0 to 97; correct readings at other temperatures first (ferment.instrument.Alcoholometer).
    label : str
        One of CUT_LABELS: "fore_shots", "heads", "hearts", "tails", or "none" where it is not decided.
    temperature_c : float
        Of the spirit when its volume was read [degC], -20 to 40.
    note : str
        What nose and palate said.
    volume_uncertainty, abv_uncertainty : float
        Standard uncertainties [% of the volume, % vol], 0 or more.
    """

    volume_l: float
    abv: float
    label: str = "none"
    temperature_c: float = 20.0
    note: str = ""
    volume_uncertainty: float = _VOLUME_UNCERTAINTY
    abv_uncertainty: float = _STRENGTH_UNCERTAINTY

    def __post_init__(self) -> None:
        _core.validate_cut_label(self.label)
        _floats(self, "volume_l", "abv", "temperature_c", "volume_uncertainty", "abv_uncertainty")

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        return {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class JarContent(_Result):
    """What a jar holds.

    Attributes
    ----------
    jar : as collected
    mass_kg, ethanol_kg, volume_l : [kg, kg, L at 20 degC]
    pure_alcohol_l : ethanol at 20 degC, with its doubt [L]
    cumulative_mass_kg, cumulative_volume_l, cumulative_alcohol_l, cumulative_abv : of this jar and all before it [kg, L, L, % vol]
    """

    jar: Jar
    mass_kg: float
    ethanol_kg: float
    volume_l: float
    pure_alcohol_l: Estimate
    cumulative_mass_kg: float
    cumulative_volume_l: float
    cumulative_alcohol_l: float
    cumulative_abv: float


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class CutBlend(_Result):
    """Jars poured together.

    Attributes
    ----------
    mass_kg, ethanol_kg, volume_l : [kg, kg, L at 20 degC]
    abv : [% vol at 20 degC]; NaN where there is no jar
    pure_alcohol_l : ethanol at 20 degC, with its doubt [L]
    jars : indices, from 0
    """

    mass_kg: float
    ethanol_kg: float
    volume_l: float
    abv: float
    pure_alcohol_l: Estimate
    jars: tuple[int, ...]

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Self:
        """From the compiled part's dictionary."""
        return cls(**{**values, "pure_alcohol_l": Estimate.of(values["pure_alcohol_l"])})


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class CutFraction(_Result):
    """What one label holds, and its share of the pure alcohol of all jars [%]."""

    label: str
    content: CutBlend
    alcohol_share: float


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Cuts(_Result):
    """All jars of a run.

    Attributes
    ----------
    jars : each with its content
    fractions : one for each of CUT_LABELS
    total : of everything, for the balance; not a blend to make
    never_back : jars of fore-shots, indices from 0: not to be drunk, recycled or blended
    """

    jars: tuple[JarContent, ...]
    fractions: tuple[CutFraction, ...]
    total: CutBlend
    never_back: tuple[int, ...]

    def _rows(self) -> tuple[JarContent, ...]:
        return self.jars

    def fraction(self, label: str) -> CutFraction:
        """What one label holds; InputError for an unknown one."""
        _core.validate_cut_label(label)
        return self.fractions[CUT_LABELS.index(label)]


def _jars(jars: Iterable[Jar]) -> list[dict[str, Any]]:
    return [jar.values() for jar in jars]


def work_out_cuts(jars: Iterable[Jar]) -> Cuts:
    """What is in the jars: masses, curves over the run, fractions by label.

    Parameters
    ----------
    jars : iterable of Jar
        In the order collected, at least one; volumes [L], strengths [% vol].

    Returns
    -------
    Cuts
        Masses are added, volumes never. NaN in a jar is NaN in it and in every sum it belongs to.

    Raises
    ------
    RangeError, InputError
        For no jar, and outside the ranges.

    References
    ----------
    Mass balance with the densities of OIML R 22 (1975); doubt after GUM (JCGM 100:2008) section 5.
    """
    kept = list(jars)
    found = _core.work_out_cuts(_jars(kept))

    def content(jar: Jar, row: dict[str, Any]) -> JarContent:
        return JarContent(jar, pure_alcohol_l=Estimate.of(row.pop("pure_alcohol_l")), **row)

    return Cuts(
        jars=tuple(content(jar, row) for jar, row in zip(kept, found["jars"], strict=True)),
        fractions=tuple(
            CutFraction(row["label"], CutBlend.of(row["content"]), row["alcohol_share"]) for row in found["fractions"]
        ),
        total=CutBlend.of(found["total"]),
        never_back=found["never_back"],
    )


def blend_jars(jars: Iterable[Jar], which: Sequence[int]) -> CutBlend:
    """Some of the jars poured together.

    Parameters
    ----------
    jars : iterable of Jar
        All jars; volumes [L], strengths [% vol].
    which : sequence of int
        Indices, from 0, each at most once.

    Returns
    -------
    CutBlend

    Raises
    ------
    RangeError, InputError
        As work_out_cuts; for no jar, one there is not or twice, and for a jar of fore-shots, which are never blended.
    """
    return CutBlend.of(_core.blend_jars(_jars(jars), [int(k) for k in which]))


def recycle_jars(jars: Iterable[Jar], labels: str | Iterable[str] = ("heads", "tails")) -> CutBlend:
    """What goes back into the next charge: every jar with one of the labels.

    Parameters
    ----------
    jars : iterable of Jar
        All jars; volumes [L], strengths [% vol].
    labels : str or iterable of str
        Of CUT_LABELS; heads and tails where none are named.

    Returns
    -------
    CutBlend
        Its volume_l and abv are what charges takes as reserve.

    Raises
    ------
    RangeError, InputError
        As work_out_cuts; for fore-shots, which never go back, and where no jar has one of the labels.
    """
    wanted = [labels] if isinstance(labels, str) else [*labels]
    return CutBlend.of(_core.recycle_jars(_jars(jars), wanted))


# ---- jars that a run fills ----


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class FilledJar(_Result):
    """A jar as a run fills it.

    Attributes
    ----------
    size_l, filled_l, temperature_c : asked for, in it, and the temperature of both [L, L, degC]; less is in it than asked for where the run ended
    volume_l : the same at 20 degC [L]
    mass_kg, ethanol_kg : [kg]
    abv, abw : strength [% vol at 20 degC, % mass]
    alcohol_share : of all alcohol that came over in the run [%]; NaN where none did
    from_kg, to_kg : come over when it begins, and when it is full [kg]
    from_abv, to_abv : of what comes over then [% vol at 20 degC]
    """

    size_l: float
    filled_l: float
    temperature_c: float
    volume_l: float
    mass_kg: float
    ethanol_kg: float
    abv: float
    abw: float
    alcohol_share: float
    from_kg: float
    to_kg: float
    from_abv: float
    to_abv: float

    def as_jar(self, label: str = "none") -> Jar:
        """The same as a jar of work_out_cuts, with the usual uncertainties of a reading; InputError for an unknown label."""
        return Jar(self.filled_l, self.abv, label, self.temperature_c)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class FilledJars(_Plan):
    """All jars of a run. Jars and rest are the whole of what came over, mass and ethanol, to round-off.

    Attributes
    ----------
    jars : those that got something, in order
    rest : what comes over after the last jar; None where nothing does
    unused : jars that nothing was left for
    mass_kg, ethanol_kg : of the run, all that came over [kg]
    cautions : read them first
    """

    jars: tuple[FilledJar, ...]
    rest: FilledJar | None
    unused: int
    mass_kg: float
    ethanol_kg: float
    cautions: str = CAUTIONS

    def _rows(self) -> tuple[FilledJar, ...]:
        return self.jars

    def summary(self) -> str:
        """The main figures in a line."""
        plural = "" if len(self.jars) == 1 else "s"
        after = "" if self.rest is None else f", then {self.rest.volume_l:.4g} L of {self.rest.abv:.4g} % vol"
        unused = f"; {self.unused} not used" if self.unused else ""
        return f"{len(self.jars)} jar{plural} of {self.jars[0].abv:.1f} to {self.jars[-1].abv:.1f} % vol{after}{unused}"


def fill_jars(
    run: Stripping | ColumnRun, sizes_l: float | Sequence[float] | Array, *, temperature_c: float = 20.0
) -> FilledJars:
    """What jars hold that a run fills, one after the other.

    Parameters
    ----------
    run : Stripping or ColumnRun
        From strip or rectify. Its curve is followed between its points: the usual ones place 1e-8 of the alcohol wrong in a simple still, 1e-5 in a column
        at constant reflux, 1e-4 in one at constant rate; more points do better.
    sizes_l : float or sequence of float
        Of the jars, in order [L at temperature_c], each above 0. A number: as many jars of that size as the run fills.
    temperature_c : float
        Of the spirit in the jars [degC], 0 to 40.

    Returns
    -------
    FilledJars
        What is left over after the last jar is a part of its own, never an error.

    Raises
    ------
    RangeError, InputError
        Outside the ranges, for no size, and for a run in which nothing came over.

    References
    ----------
    The model of the run; volumes with the densities of OIML R 22 (1975).

    Examples
    --------
    >>> filled = still.fill_jars(run, 0.5)  # doctest: +SKIP
    >>> cuts = still.work_out_cuts([jar.as_jar(label) for jar, label in zip(filled.jars, labels)])  # doctest: +SKIP
    """
    if not isinstance(run, Stripping | ColumnRun):
        raise TypeError(f"fill_jars takes a Stripping or a ColumnRun, not {type(run).__name__}")
    curve = run.curve
    collected = curve.low_wines_abw if isinstance(curve, StrippingCurve) else curve.collected_abw
    columns = {
        "collected_kg": curve.collected_kg,
        "collected_abw": collected,
        "distillate_abw": curve.distillate_abw,
    }
    sizes = _row("sizes_l", sizes_l)
    if np.ndim(sizes_l) > 0 and not sizes:
        raise _core.InputError("jars: no size given")
    alike = np.ndim(sizes_l) == 0
    found = _core.fill_jars(columns, [] if alike else sizes, sizes[0] if alike else math.nan, float(temperature_c))
    rest = FilledJar(**found.pop("rest"))
    return FilledJars(
        jars=tuple(FilledJar(**row) for row in found.pop("jars")), rest=rest if rest.mass_kg > 0.0 else None, **found
    )

"""How much alcohol is in a wash.

From gravities before and after fermentation, where the original gravity means something: in a wort or must in which the sugar is dissolved. The
default method balances masses and densities and holds below 1.000, where the short formulas of beer do not. The published relations stand beside
it under their literature names, each within its own range. These take numbers, arrays, and numbers of the `uncertainties` package.

A wash of raw grain has no original gravity. For it there are the routes abv_from_..., each from two kinds of measurement on the finished wash, with
the standard uncertainty of the result; combine weighs several. Or ferment.fermentation.read_wash, from the grain and one gravity.
"""

import dataclasses
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar, Literal, TypeAlias, overload

import numpy.typing as npt

from ferment import _core
from ferment._core import (
    abv_by_convention,
    asbc_beer6_rdf,
    balling_alcohol_from_oe_re,
    balling_original_extract,
    balling_real_extract,
    bringhurst_attenuation,
    cutaia_a,
    cutaia_b,
    cutaia_c,
    cutaia_q,
    doemens_a,
    doemens_b,
    doemens_c,
    doemens_q,
    dry_extract,
    duty_abv,
    oiv_alcohol_free_density,
    tabarie_sg,
    tolman_2a_plus_e,
)
from ferment._uncertain import Uncertain, is_uncertain
from ferment._values import ArrayRecord, Estimate, Measured, Pickled, Record
from ferment.liquid import Array, OutOfRange, Reference, Values, frame

if TYPE_CHECKING:
    from ferment._core import Found, Input

__all__ = [
    "METHODS",
    "YIELDS",
    "Agreement",
    "CombinedStrength",
    "FermentedWash",
    "FoundStrength",
    "abv_by_convention",
    "abv_by_tabarie",
    "abv_from_boiled_down",
    "abv_from_boiling_point",
    "abv_from_co2_loss",
    "abv_from_distilled_sample",
    "abv_from_gravity",
    "abv_from_hydrometer_and_refractometer",
    "apparent_attenuation",
    "apparent_extract",
    "asbc_beer6_rdf",
    "balling_alcohol_from_oe_re",
    "balling_original_extract",
    "balling_real_extract",
    "bringhurst_attenuation",
    "combine",
    "cutaia_a",
    "cutaia_b",
    "cutaia_c",
    "cutaia_q",
    "doemens_a",
    "doemens_b",
    "doemens_c",
    "doemens_q",
    "dry_extract",
    "duty_abv",
    "gravity_balance",
    "least_final_gravity",
    "oiv_alcohol_free_density",
    "original_gravity_from_abv",
    "real_attenuation",
    "real_extract",
    "tabarie_sg",
    "tolman_2a_plus_e",
]

Numbers: TypeAlias = npt.ArrayLike | Uncertain
#: A measurement of a route: value and standard uncertainty, ferment.Measured, uncertainties.UFloat, or a number without doubt.
Reading: TypeAlias = float | tuple[float, float] | Measured | Uncertain
Method: TypeAlias = Literal["density_balance", "balling", "cutaia_a", "cutaia_q", "doemens_a", "hall", "hmrc_226"]
Yield: TypeAlias = Literal["bringhurst_1996", "balling_1865"]

#: Names that `method` takes, the default first.
METHODS: tuple[str, ...] = tuple(_core.gravity_methods())
#: What a gram of extract becomes [g]: ethanol, carbon dioxide, yeast and by-products.
YIELDS: dict[str, tuple[float, float, float]] = dict(_core.yields)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class FermentedWash(ArrayRecord):
    """Everything that original and final gravity say of a wash, by the density balance. Arrays where the gravities were arrays.

    Attributes
    ----------
    abv : strength [% vol at 20 degC]
    abw : ethanol [% mass]
    original_extract : extract of the wort [% mass]
    real_extract : extract still dissolved in the wash [% mass]
    apparent_extract : what the hydrometer shows [% mass]; negative below water
    apparent_attenuation, real_attenuation : share of the extract gone [%]
    real_degree_of_fermentation : the same by ASBC Beer-6 [%]
    extract_consumed, carbon_dioxide, yeast, liquid : kg per kg of wort
    """

    abv: Values
    abw: Values
    original_extract: Values
    real_extract: Values
    apparent_extract: Values
    apparent_attenuation: Values
    real_attenuation: Values
    real_degree_of_fermentation: Values
    extract_consumed: Values
    carbon_dioxide: Values
    yeast: Values
    liquid: Values

    _figures: ClassVar = dict.fromkeys(("extract_consumed", "carbon_dioxide", "yeast", "liquid"), "kg/kg")


def _yield(name: str) -> tuple[float, float, float]:
    try:
        return YIELDS[name]
    except KeyError:
        raise _core.InputError(f'fermentation yield "{name}" is not known; allowed are {", ".join(YIELDS)}') from None


def gravity_balance(
    original_gravity: Numbers,
    final_gravity: Numbers,
    fermentation_yield: Yield = "bringhurst_1996",
    reference: Reference = "20/20",
) -> FermentedWash:
    """Everything that two gravities say of a wash, by balancing the masses of sugar, ethanol, carbon dioxide and yeast.

    Parameters
    ----------
    original_gravity : float or array_like
        Gravity of the wort, 1.000 to 1.130.
    final_gravity : float or array_like
        Gravity of the degassed wash, 0.980 to 1.060, not above the original and not below the wort fermented out.
    fermentation_yield : {"bringhurst_1996", "balling_1865"}
        What becomes of the extract: measured on distillery wash, or Balling's balance of beer.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Reference temperatures of both gravities.

    Returns
    -------
    FermentedWash
        On 27 brews of 1911-1912 the strength is right within +0.05 +- 0.14 % vol (mean and scatter, the brewery's own included).

    Raises
    ------
    RangeError
        Outside the ranges; names the least final gravity where more would have to ferment than there is.
    InputError
        For a final gravity above the original one, or an unknown name.

    References
    ----------
    Density: see ferment.liquid.wash_density. Yield: Bringhurst et al. (1996) J. Inst. Brew. 102, 433-437; Balling (1865).
    """
    given = (original_gravity, final_gravity, *_yield(fermentation_yield), *frame(reference))
    return FermentedWash(
        _core.balance_abv(*given),
        _core.balance_abw(*given),
        _core.balance_original_extract(*given),
        _core.balance_real_extract(*given),
        _core.balance_apparent_extract(*given),
        _core.balance_apparent_attenuation(*given),
        _core.balance_real_attenuation(*given),
        _core.balance_degree_of_fermentation(*given),
        _core.balance_extract_consumed(*given),
        _core.balance_co2(*given),
        _core.balance_yeast(*given),
        _core.balance_liquid(*given),
    )


@overload
def abv_from_gravity(
    original_gravity: float,
    final_gravity: float,
    method: Method = "density_balance",
    reference: Reference = "20/20",
    *,
    out_of_range: OutOfRange = "raise",
) -> float: ...
@overload
def abv_from_gravity(
    original_gravity: npt.ArrayLike,
    final_gravity: npt.ArrayLike,
    method: Method = "density_balance",
    reference: Reference = "20/20",
    *,
    out_of_range: OutOfRange = "raise",
) -> Array: ...
@overload
def abv_from_gravity(
    original_gravity: Numbers,
    final_gravity: Numbers,
    method: Method = "density_balance",
    reference: Reference = "20/20",
    *,
    out_of_range: OutOfRange = "raise",
) -> Any: ...
def abv_from_gravity(
    original_gravity: float | Numbers,
    final_gravity: float | Numbers,
    method: Method = "density_balance",
    reference: Reference = "20/20",
    *,
    out_of_range: OutOfRange = "raise",
) -> Values:
    """Strength of a wash from original and final gravity by a method of METHODS [% vol at 20 degC].

    Parameters
    ----------
    original_gravity, final_gravity : float or array_like
        Within the range of the method: density_balance and balling 1.000 to 1.130 and 0.980 to 1.060; the rest see ferment.sources().
    method : str
        "density_balance" or a published relation by its literature name.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Reference temperatures of both gravities.
    out_of_range : {"raise", "nan"}
        What happens outside the range: an error, or NaN for that element.

    Returns
    -------
    float or ndarray
        Strength [% vol at 20 degC]. NaN where an input is NaN.

    Raises
    ------
    RangeError
        Outside the range of the method.
    InputError
        For a final gravity above the original one, or an unknown method.
    """
    given = (original_gravity, final_gravity, float(_core.gravity_method_index(method)), *frame(reference))
    if out_of_range == "raise" and isinstance(original_gravity, float) and isinstance(final_gravity, float):
        return _core.abv_by_method(*given)
    return _core.abv_by_method(*given, out_of_range=out_of_range)


def original_gravity_from_abv(
    abv: Numbers, final_gravity: Numbers, fermentation_yield: Yield = "bringhurst_1996", reference: Reference = "20/20"
) -> Values:
    """Original gravity from strength and final gravity: the exact inverse of gravity_balance.

    Parameters
    ----------
    abv : float or array_like
        Strength [% vol at 20 degC].
    final_gravity : float or array_like
        Gravity of the degassed wash, 0.980 to 1.060, not above the original and not below the wort fermented out.
    fermentation_yield : {"bringhurst_1996", "balling_1865"}
        What becomes of the extract, as for gravity_balance.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Reference temperatures of the gravities [degC; F for degF].

    Returns
    -------
    float or ndarray
        Original gravity. NaN where an input is NaN.

    Raises
    ------
    RangeError, InputError
        As gravity_balance.
    """
    return _core.original_gravity(abv, final_gravity, *_yield(fermentation_yield), *frame(reference))


def least_final_gravity(
    original_gravity: Numbers, fermentation_yield: Yield = "bringhurst_1996", reference: Reference = "20/20"
) -> Values:
    """The lowest gravity a wort can ferment to, all of its extract gone.

    Parameters
    ----------
    original_gravity : float or array_like
        Gravity of the wort, 1.000 to 1.130.
    fermentation_yield : {"bringhurst_1996", "balling_1865"}
        What becomes of the extract, as for gravity_balance.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Reference temperatures of the gravities [degC; F for degF].

    Returns
    -------
    float or ndarray
        Final gravity. NaN where an input is NaN.

    Raises
    ------
    RangeError, InputError
        As gravity_balance.
    """
    return _core.least_final_gravity(original_gravity, *_yield(fermentation_yield), *frame(reference))


def apparent_extract(gravity: Numbers, reference: Reference = "20/20") -> Values:
    """Extract that a hydrometer shows in a wash; negative below the gravity of water.

    Parameters
    ----------
    gravity : float or array_like
        Gravity of the degassed wash.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Reference temperatures of the gravities [degC; F for degF].

    Returns
    -------
    float or ndarray
        Apparent extract [% mass], -6 to 70. Below zero the sucrose polynomial itself is continued: an extension, not a published range.

    Raises
    ------
    RangeError, InputError
        Outside the range, and for an unknown reference.
    """
    return _core.apparent_extract(gravity, *frame(reference))


def real_extract(
    original_gravity: Numbers,
    final_gravity: Numbers,
    fermentation_yield: Yield = "bringhurst_1996",
    reference: Reference = "20/20",
) -> Values:
    """Extract still dissolved in a wash, by the density balance.

    Parameters
    ----------
    original_gravity : float or array_like
        Gravity of the wort, 1.000 to 1.130.
    final_gravity : float or array_like
        Gravity of the degassed wash, 0.980 to 1.060, not above the original and not below the wort fermented out.
    fermentation_yield : {"bringhurst_1996", "balling_1865"}
        What becomes of the extract, as for gravity_balance.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Reference temperatures of the gravities [degC; F for degF].

    Returns
    -------
    float or ndarray
        Real extract [% mass]. NaN where an input is NaN.

    Raises
    ------
    RangeError, InputError
        As gravity_balance.
    """
    return _core.balance_real_extract(original_gravity, final_gravity, *_yield(fermentation_yield), *frame(reference))


def apparent_attenuation(original_gravity: Numbers, final_gravity: Numbers, reference: Reference = "20/20") -> Values:
    """Share of the extract that seems gone; above 100 in a wash lighter than water.

    Parameters
    ----------
    original_gravity : float or array_like
        Gravity of the wort, 1.000 to 1.130.
    final_gravity : float or array_like
        Gravity of the degassed wash, 0.980 to 1.060, not above the original and not below the wort fermented out.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Reference temperatures of the gravities [degC; F for degF].

    Returns
    -------
    float or ndarray
        Apparent attenuation [%]. NaN where an input is NaN.

    Raises
    ------
    RangeError, InputError
        As gravity_balance, and for an original gravity of 1, where there is no extract.
    """
    return _core.balance_apparent_attenuation(
        original_gravity, final_gravity, *YIELDS["bringhurst_1996"], *frame(reference)
    )


def real_attenuation(
    original_gravity: Numbers,
    final_gravity: Numbers,
    fermentation_yield: Yield = "bringhurst_1996",
    reference: Reference = "20/20",
) -> Values:
    """Share of the extract concentration that is gone, by the density balance.

    Parameters
    ----------
    original_gravity : float or array_like
        Gravity of the wort, 1.000 to 1.130.
    final_gravity : float or array_like
        Gravity of the degassed wash, 0.980 to 1.060, not above the original and not below the wort fermented out.
    fermentation_yield : {"bringhurst_1996", "balling_1865"}
        What becomes of the extract, as for gravity_balance.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Reference temperatures of the gravities [degC; F for degF].

    Returns
    -------
    float or ndarray
        Real attenuation [%]. NaN where an input is NaN.

    Raises
    ------
    RangeError, InputError
        As gravity_balance, and for an original gravity of 1, where there is no extract.
    """
    return _core.balance_real_attenuation(
        original_gravity, final_gravity, *_yield(fermentation_yield), *frame(reference)
    )


@dataclasses.dataclass(frozen=True, slots=True)
class _Measurement(Pickled):
    """What a route was called with. combine calls it again, so that one reading in several routes is one input."""

    route: str
    readings: tuple[tuple[str, Reading], ...]
    options: tuple[Any, ...] = ()

    def found(self, known: dict[int, "Input"]) -> "Found":
        """By the compiled part; `known` holds the inputs that were met before, by the identity of their objects."""
        inputs = (_input(name, reading, known) for name, reading in self.readings)
        found: Found = getattr(_core, self.route)(*inputs, *self.options)
        return found


def _input(name: str, reading: Reading, known: dict[int, "Input"]) -> "Input":
    def once(of: object, value: float, standard_uncertainty: float, name: str) -> "Input":
        if id(of) not in known:
            known[id(of)] = _core.independent_input(value, standard_uncertainty, name)
        return known[id(of)]

    if isinstance(reading, tuple):
        value, standard_uncertainty = reading
        return _core.independent_input(value, standard_uncertainty, name)
    if isinstance(reading, Measured):
        return once(reading, reading.value, reading.standard_uncertainty, name)
    if is_uncertain(reading):
        slopes: dict[Any, float] = getattr(reading, "derivatives")  # noqa: B009 -- of uncertainties, which has no types
        terms = [
            (slope, once(x, x.nominal_value, x.std_dev, getattr(x, "tag", None) or name)) for x, slope in slopes.items()
        ]
        return _core.dependent_input(reading.nominal_value, terms)
    return _core.dependent_input(float(reading), [])  # type: ignore[arg-type]


@dataclasses.dataclass(frozen=True, slots=True)
class FoundStrength(Record):
    """A strength that was found without an original gravity.

    It keeps the readings it came from, so that combine sees which of them it shares with another. That holds for copies, and for strengths that
    are pickled together; pickled one by one they no longer share anything.

    Attributes
    ----------
    route : how it was found
    abv : strength [% vol at 20 degC]
    abw : ethanol [% mass]
    real_extract : extract dissolved in the wash [% mass]
    dominated_by : the input that contributes most to the doubt of the strength
    """

    route: str
    abv: Estimate
    abw: Estimate
    real_extract: Estimate
    dominated_by: str
    _measurement: _Measurement = dataclasses.field(repr=False, compare=False)


@dataclasses.dataclass(frozen=True, slots=True)
class Agreement(Record):
    """What one strength says beside the others.

    Attributes
    ----------
    route : how it was found
    weight : in the combined strength; all add up to 1
    deviation : from what the others combine to, in standard uncertainties of the difference
    """

    route: str
    weight: float
    deviation: float


@dataclasses.dataclass(frozen=True, slots=True)
class CombinedStrength(Record):
    """The best estimate from several strengths, and whether they agree.

    Attributes
    ----------
    abv : strength [% vol at 20 degC]
    agreements : one for each strength, in their order
    chi_square : sum of squared deviations in standard uncertainties, correlations counted
    chance : of as large a disagreement if all uncertainties are right [%]
    consistent : whether that is 5 % or more
    outlier : the route furthest from the others where they are not consistent, else ""
    """

    abv: Estimate
    agreements: tuple[Agreement, ...]
    chi_square: float
    chance: float
    consistent: bool
    outlier: str

    _figures: ClassVar = {"chance": "%"}


def _found(route: str, options: tuple[Any, ...] = (), **readings: Reading) -> FoundStrength:
    measurement = _Measurement(route, tuple((name.replace("_", " "), x) for name, x in readings.items()), options)
    found = measurement.found({}).values()
    return FoundStrength(
        found["route"],
        Estimate.of(found["abv"]),
        Estimate.of(found["abw"]),
        Estimate.of(found["real_extract"]),
        found["dominated_by"],
        measurement,
    )


def abv_from_hydrometer_and_refractometer(
    gravity: Reading, *, brix: Reading | None = None, refractive_index: Reading | None = None
) -> FoundStrength:
    """Strength of a wash from its gravity and its refractive index: ethanol lowers the one and raises the other, extract raises both.

    A reading is a pair (value, standard uncertainty), ferment.Measured, or a number of the `uncertainties` package. One Measured object, or one
    variable of that package, in several routes is one reading to combine; two pairs are two readings, even if they are equal.

    Parameters
    ----------
    gravity : pair, Measured or UFloat
        SG 20/20 of the degassed, clear wash, 0.95 to 1.2; see ferment.instrument.Hydrometer for other temperatures.
    brix : pair, Measured or UFloat, optional
        What a Brix refractometer shows at 20 degC [% mass], 0 to 70.
    refractive_index : pair, Measured or UFloat, optional
        nD at 20 degC, 1.32 to 1.42. Give exactly one of the two.

    Returns
    -------
    FoundStrength
        The index of a wash is computed, not measured: its doubt and that of the kind of extract are part of the result's.

    Raises
    ------
    RangeError
        Outside the ranges, and where no wash has both.
    InputError
        For what is no number.

    References
    ----------
    See ferment.liquid.wash_gravity and wash_refractive_index.
    """
    if brix is not None and refractive_index is None:
        return _found("found_by_hydrometer_and_brix", gravity=gravity, brix=brix)
    if refractive_index is not None and brix is None:
        return _found("found_by_hydrometer_and_refractometer", gravity=gravity, refractive_index=refractive_index)
    raise _core.InputError("give exactly one of brix [% mass] and refractive_index")


def abv_from_boiled_down(
    before: Reading, after: Reading, made_up_to: Literal["volume", "mass"] = "volume"
) -> FoundStrength:
    """Strength of a wash from the gravity of a sample before and after its alcohol was boiled off and water made it up again.

    Parameters
    ----------
    before, after : pair, Measured or UFloat
        SG 20/20, 0.95 to 1.2 and 1.0 to 1.2.
    made_up_to : {"volume", "mass"}
        What the sample was made up to again: its first volume at 20 degC, or its first mass.

    Returns
    -------
    FoundStrength
        Exact for what the densities are; readings as for abv_from_hydrometer_and_refractometer.

    Raises
    ------
    RangeError
        Outside the ranges, and where no wash has both.
    InputError
        For what is no number, or an unknown way to make it up.

    References
    ----------
    See ferment.liquid.wash_gravity.
    """
    if made_up_to not in ("volume", "mass"):
        raise _core.InputError(f'made_up_to "{made_up_to}" is not known; allowed are volume, mass')
    return _found("found_by_boiling_down", (made_up_to == "mass",), gravity_before=before, gravity_after=after)


def abv_by_tabarie(before: Reading, after: Reading) -> FoundStrength:
    """The same made up to volume, by Tabarie's rule: the gravity of water and the ethanol alone is before - after + 1. See tabarie_sg."""
    return _found("found_by_tabarie", gravity_before=before, gravity_after=after)


def abv_from_co2_loss(
    lost_kg: Reading,
    wash_l: Reading,
    gravity: Reading,
    temperature_c: Reading = 20.0,
    pressure_kpa: Reading = _core.sea_level_kpa,
    *,
    airlock: bool = True,
) -> FoundStrength:
    """Strength of a wash from the mass its fermenter has lost since pitching.

    Parameters
    ----------
    lost_kg : pair, Measured or UFloat
        Mass lost [kg], from 0.
    wash_l : pair, Measured or UFloat
        Liquid at 20 degC, that in the grain included [L].
    gravity : pair, Measured or UFloat
        SG 20/20 of the wash now, for its extract, 0.95 to 1.2.
    temperature_c : float, pair, Measured or UFloat
        Temperature of the wash while it fermented [degC], 0 to 40.
    pressure_kpa : float, pair, Measured or UFloat
        Pressure of the air [kPa], 50 to 110.
    airlock : bool
        True where the gas left wet through an airlock, False where a condenser held the vapour back.

    Returns
    -------
    FoundStrength
        Readings as for abv_from_hydrometer_and_refractometer.

    Raises
    ------
    RangeError
        Outside the ranges, and where no wash agrees.
    InputError
        For what is no number.

    References
    ----------
    carbon_dioxide_per_ethanol and co2_solubility of ferment.sources().
    """
    return _found(
        "found_by_co2_loss",
        (bool(airlock),),
        mass_lost=lost_kg,
        wash=wash_l,
        gravity=gravity,
        temperature=temperature_c,
        pressure=pressure_kpa,
    )


def abv_from_boiling_point(boiling_c: Reading, pressure_kpa: Reading, gravity: Reading) -> FoundStrength:
    """Strength of a wash from its boiling point at the day's pressure.

    Parameters
    ----------
    boiling_c : pair, Measured or UFloat
        Boiling point [degC], 50 to 105.
    pressure_kpa : pair, Measured or UFloat
        Absolute pressure at the place [kPa], 20 to 110, best from the boiling point of water; see ferment.liquid.water_vapour_pressure.
    gravity : pair, Measured or UFloat
        SG 20/20 of the same wash, degassed, for its extract, 0.95 to 1.2.

    Returns
    -------
    FoundStrength
        With the doubt of the boiling points themselves; readings as for abv_from_hydrometer_and_refractometer.

    Raises
    ------
    RangeError
        Outside the ranges, and where no wash agrees.
    InputError
        For what is no number.

    References
    ----------
    See ferment.liquid.boiling_point.
    """
    return _found("found_by_boiling_point", boiling_point=boiling_c, pressure=pressure_kpa, gravity=gravity)


def abv_from_distilled_sample(
    distillate_abv: Reading,
    distillate_ml: Reading,
    sample_ml: Reading,
    gravity: Reading,
    recovery: tuple[float, float] | Measured | None = None,
) -> FoundStrength:
    """Strength of a wash from a small measured sample, its alcohol distilled off and measured.

    Parameters
    ----------
    distillate_abv : pair, Measured or UFloat
        Strength of what came over [% vol at 20 degC], 0 to 100.
    distillate_ml, sample_ml : pair, Measured or UFloat
        Its volume, made up or not, and that of the wash distilled, both at 20 degC [mL].
    gravity : pair, Measured or UFloat
        SG 20/20 of the wash, for its extract, 0.95 to 1.2.
    recovery : (float, float) or Measured, optional
        Share of the ethanol that came over [%] with its standard uncertainty; 99.5 and 0.3 (common practice, no source) where none is given.

    Returns
    -------
    FoundStrength
        Readings as for abv_from_hydrometer_and_refractometer.

    Raises
    ------
    RangeError
        Outside the ranges, and where more alcohol came over than a wash can hold.
    InputError
        For what is no number.

    References
    ----------
    See ferment.liquid.wash_abv.
    """
    pair = (recovery.value, recovery.standard_uncertainty) if isinstance(recovery, Measured) else recovery
    return _found(
        "found_by_distilling",
        (pair,),
        strength_of_the_distillate=distillate_abv,
        volume_of_the_distillate=distillate_ml,
        volume_of_the_sample=sample_ml,
        gravity=gravity,
    )


def combine(found: Sequence[FoundStrength]) -> CombinedStrength:
    """The best estimate of a wash's strength from several routes [% vol], with a test whether they agree.

    Weights follow from all uncertainties and from what the routes share: give a reading that several of them use as one ferment.Measured object or
    one variable of the `uncertainties` package. Nothing is left out, even where the strengths do not agree.

    Parameters
    ----------
    found : sequence of FoundStrength
        At least two, each from the functions of this module [% vol].

    Returns
    -------
    CombinedStrength

    Raises
    ------
    InputError
        For fewer than two, one of them twice, or one without doubt.

    References
    ----------
    JCGM 100:2008 (GUM); generalised least squares; chi-square test.
    """
    if len({id(one._measurement) for one in found}) < len(found):
        raise _core.InputError("combine: one of the strengths is given twice")
    known: dict[int, Input] = {}
    combined = _core.combine([one._measurement.found(known) for one in found])
    return CombinedStrength(
        Estimate.of(combined["abv"]),
        tuple(Agreement(*agreement) for agreement in combined["agreements"]),
        combined["chi_square"],
        combined["chance"],
        combined["consistent"],
        combined["outlier"],
    )

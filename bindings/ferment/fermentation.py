"""Where a no-cook wash ends, and what a gravity reading says on the way.

Starch is not dissolved at pitching, so there is no original gravity. A single gravity is one equation for two unknowns, how much starch has
been converted and how much sugar still stands free; read_wash gives the whole interval that agrees with it instead of a guess.
The published end points are for 28 to 35 degC and 3 to 5 days; nothing was measured in colder mashes.
Fermenting mash gives off carbon dioxide, which can kill in a closed room: ventilate, and never lean into a vessel.
"""

import dataclasses

from ferment import _core
from ferment._values import Estimate, Measured, Record
from ferment.mash import Assumptions, Potential

__all__ = ["EndPoint", "WashReading", "end_point", "no_cook", "no_cook_published", "read_wash"]


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
    says : "fermenting", "near the end point", ...
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

"""What the water does at the end: blending spirits, reducing them, filling bottles.

Masses are added, volumes never: contraction and temperature take care of themselves. Strengths are % vol at 20 degC; a volume is at 20 degC
unless a temperature is given with it. Reduced spirit is fit for sale only where licence and labelling law say so.

Any number may be one of the `uncertainties` package (uncertainties.ufloat); then so are the results that depend on it.
"""

import dataclasses
import reprlib
from collections.abc import Iterable, Mapping
from typing import Any, Self, TypeAlias

from ferment import _core
from ferment._core import abv_of_sweetened, apparent_abv
from ferment._uncertain import Uncertain, through
from ferment._values import Record

__all__ = [
    "Blend",
    "Bottling",
    "Dilution",
    "Spirit",
    "Sweetening",
    "abv_of_sweetened",
    "add_water",
    "apparent_abv",
    "blend",
    "bottles",
    "dilute",
    "dilute_to_volume",
    "sweeten",
]

Number: TypeAlias = float | Uncertain


@dataclasses.dataclass(frozen=True, slots=True)
class Spirit(Record):
    """A quantity of spirit.

    Attributes
    ----------
    abv : strength [% vol at 20 degC]
    abw : ethanol [% mass]
    mass_kg, ethanol_kg : mass and the ethanol in it [kg]
    volume_l : volume at 20 degC [L]
    volume_at_temperature_l : volume at temperature_c [L]
    temperature_c : temperature [degC]
    pure_alcohol_l : ethanol at 20 degC [L]
    """

    abv: float
    abw: float
    mass_kg: float
    ethanol_kg: float
    volume_l: float
    volume_at_temperature_l: float
    temperature_c: float
    pure_alcohol_l: float


@dataclasses.dataclass(frozen=True, slots=True)
class Blend(Spirit):
    """Spirits poured together, with the volume they lost by mixing, all at 20 degC [L]."""

    contraction_l: float


@dataclasses.dataclass(frozen=True, slots=True)
class Dilution(Record):
    """A reduction with water.

    Attributes
    ----------
    spirit, result : what goes in and what comes out
    water_kg : water to add [kg]
    water_l : the same by volume at water_temperature_c [L]
    water_temperature_c : temperature of the water [degC]
    contraction_l : volume lost by mixing, all at 20 degC [L]
    """

    spirit: Spirit
    result: Spirit
    water_kg: float
    water_l: float
    water_temperature_c: float
    contraction_l: float

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Self:
        """From the compiled part's dictionary."""
        rest = {key: value for key, value in values.items() if key not in ("spirit", "result")}
        return cls(spirit=Spirit(**values["spirit"]), result=Spirit(**values["result"]), **rest)


@dataclasses.dataclass(frozen=True, slots=True)
class Bottling(Record):
    """Bottles that a spirit fills.

    Attributes
    ----------
    bottles : whole bottles
    fill_l : volume to fill into each at the filling temperature, so that it holds its nominal volume at 20 degC [L]
    volume_at_fill_l : all the spirit at the filling temperature [L]
    rest_l : what is left over, at 20 degC [L]
    """

    bottles: int
    fill_l: float
    volume_at_fill_l: float
    rest_l: float


def _diluted(*given: float) -> Dilution:
    return Dilution.of(_core.dilute(*given))


def _watered(*given: float) -> Dilution:
    return Dilution.of(_core.add_water(*given))


def _diluted_to_volume(*given: float) -> Dilution:
    return Dilution.of(_core.dilute_to_volume(*given))


def _blended(rows: list[tuple[float, float, float]], temperature_c: float) -> Blend:
    return Blend(**_core.blend(rows, temperature_c))


def _bottled(*given: float) -> Bottling:
    return Bottling(**_core.bottles(*given))


def dilute(
    abv: Number, volume_l: Number, target_abv: Number, temperature_c: Number = 20.0, water_temperature_c: Number = 20.0
) -> Dilution:
    """Water to bring a spirit down to a strength.

    Parameters
    ----------
    abv : float
        Strength of the spirit [% vol at 20 degC], above 0 to 100.
    volume_l : float
        Its volume at temperature_c [L], above 0.
    target_abv : float
        Wanted strength [% vol at 20 degC], above 0, at most abv.
    temperature_c : float
        Temperature of the spirit and of the result [degC], -20 to 40, not below freezing.
    water_temperature_c : float
        Temperature of the water [degC], 0 to 40; it only sets the volume of the water.

    Returns
    -------
    Dilution

    Raises
    ------
    RangeError
        Outside the ranges; water cannot strengthen a spirit.

    References
    ----------
    Mass balance with the densities of OIML R 22 (1975).
    """
    return through(_diluted, abv, volume_l, target_abv, temperature_c, water_temperature_c)


def add_water(
    abv: Number, volume_l: Number, water_kg: Number, temperature_c: Number = 20.0, water_temperature_c: Number = 20.0
) -> Dilution:
    """What a spirit becomes with a given mass of water.

    Parameters
    ----------
    abv : float
        Strength of the spirit [% vol at 20 degC], above 0 to 100.
    volume_l : float
        Its volume at temperature_c [L], above 0.
    water_kg : float
        Water added [kg], 0 or more.
    temperature_c : float
        Temperature of the spirit and of the result [degC], -20 to 40, not below freezing.
    water_temperature_c : float
        Temperature of the water [degC], 0 to 40; it only sets the volume of the water.

    Returns
    -------
    Dilution

    Raises
    ------
    RangeError
        Outside the ranges.
    """
    return through(_watered, abv, volume_l, water_kg, temperature_c, water_temperature_c)


def dilute_to_volume(
    abv: Number,
    target_abv: Number,
    target_volume_l: Number,
    temperature_c: Number = 20.0,
    water_temperature_c: Number = 20.0,
) -> Dilution:
    """Spirit and water that together make a volume of a strength.

    Parameters
    ----------
    abv : float
        Strength of the spirit [% vol at 20 degC], above 0 to 100.
    target_abv : float
        Wanted strength [% vol at 20 degC], above 0, at most abv.
    target_volume_l : float
        Wanted volume at 20 degC [L], above 0.
    temperature_c : float
        Temperature of the spirit and of the result [degC], -20 to 40, not below freezing.
    water_temperature_c : float
        Temperature of the water [degC], 0 to 40; it only sets the volume of the water.

    Returns
    -------
    Dilution

    Raises
    ------
    RangeError
        Outside the ranges; water cannot strengthen a spirit.
    """
    return through(_diluted_to_volume, abv, target_abv, target_volume_l, temperature_c, water_temperature_c)


def blend(
    parts: Iterable[tuple[Number, Number] | tuple[Number, Number, Number]], temperature_c: Number = 20.0
) -> Blend:
    """Any number of spirits and waters poured together.

    Parameters
    ----------
    parts : iterable of (abv, volume_l) or (abv, volume_l, temperature_c)
        Strength [% vol at 20 degC, 0 for water], volume [L] at the temperature [degC], 20 where none is given.
    temperature_c : float
        Temperature at which the blend is measured [degC].

    Returns
    -------
    Blend

    Raises
    ------
    RangeError, InputError
        As dilute, and for no parts at all.
    """
    rows = []
    part: Any
    for part in parts:
        if not isinstance(part, tuple | list) or len(part) not in (2, 3):
            raise TypeError(
                f"blend: a part is (abv, volume_l) or (abv, volume_l, temperature_c), not {reprlib.repr(part)}"
            )
        rows.append((part[0], part[1], part[2] if len(part) > 2 else 20.0))
    return through(_blended, rows, temperature_c)


def bottles(
    abv: Number,
    volume_l: Number,
    bottle_l: Number = 0.7,
    temperature_c: Number = 20.0,
    filling_temperature_c: Number | None = None,
) -> Bottling:
    """How many bottles a spirit fills.

    Parameters
    ----------
    abv, volume_l, temperature_c : float
        Strength [% vol at 20 degC], and volume [L] at the temperature [degC].
    bottle_l : float
        Nominal volume of a bottle at 20 degC [L], above 0.
    filling_temperature_c : float, optional
        Temperature at which the bottles are filled [degC]; temperature_c where none is given.

    Returns
    -------
    Bottling
        The number of bottles is a whole one whatever the uncertainties.

    Raises
    ------
    RangeError
        Outside the ranges.
    """
    filling = temperature_c if filling_temperature_c is None else filling_temperature_c
    return through(_bottled, abv, volume_l, bottle_l, temperature_c, filling)


@dataclasses.dataclass(frozen=True, slots=True)
class Sweetening(Record):
    """Sugar and water that make a sweetened spirit.

    Attributes
    ----------
    sugar_kg, water_kg : to add [kg]
    mass_kg, volume_l : of the result [kg, L at 20 degC]
    abv : its strength [% vol at 20 degC]
    apparent_abv : what an alcoholometer will show [% vol]; NaN where the result is heavier than water
    """

    sugar_kg: float
    water_kg: float
    mass_kg: float
    volume_l: float
    abv: float
    apparent_abv: float


def _sweetened(*values: float) -> Sweetening:
    return Sweetening(**_core.sweeten(*values))


def sweeten(
    abv: Number, volume_l: Number, target_abv: Number, sugar_g_per_l: Number, temperature_c: Number = 20.0
) -> Sweetening:
    """Sugar and water that bring a spirit to a strength and a sweetness.

    Parameters
    ----------
    abv, volume_l, temperature_c : float
        Strength [% vol at 20 degC], and volume [L] at the temperature [degC].
    target_abv : float
        Wanted strength [% vol at 20 degC], above 0.
    sugar_g_per_l : float
        Wanted sugar [g/L of the result at 20 degC], 0 to 500.

    Returns
    -------
    Sweetening
        Sugar makes an alcoholometer read too little: apparent_abv says what it will show.

    Raises
    ------
    RangeError
        Outside the ranges, or where water would have to come out.

    References
    ----------
    See ferment.sources(), "obscuration".
    """
    return through(_sweetened, abv, volume_l, target_abv, sugar_g_per_l, temperature_c)

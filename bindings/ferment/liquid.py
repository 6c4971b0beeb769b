"""What liquids weigh, and the gravities and strengths that say so.

Compositions are percent by mass of the liquid (``abw``, ``extract``), strengths by volume are at 20 degC (``abv``), densities are in kg/m3 and
in vacuum, gravities are true and 20/20 unless an argument says otherwise, pressures are absolute and in kPa, refractive indices are nD against
air, enthalpies are in kJ/kg. Every function takes numbers or arrays, and numbers of the `uncertainties` package, for which the result has its
first-order uncertainty, tied to that of its inputs.
"""

import dataclasses
from types import MappingProxyType
from typing import Any, Literal, TypeAlias, overload

import numpy as np
import numpy.typing as npt

from ferment import _core
from ferment._core import (
    abv_from_abw,
    abv_from_density,
    abv_from_us_proof,
    abw_from_abv,
    abw_from_density,
    abw_from_mole_percent,
    abw_from_refractive_index,
    abw_from_us_proof,
    abw_from_vapour_abw,
    altitude_of_pressure,
    boiling_point,
    brix_from_refractive_index,
    density_in_air,
    density_in_vacuum,
    dew_point,
    ethanol_vapour_pressure,
    evaporation_heat,
    extract_from_density,
    extract_from_per_litre,
    extract_per_litre,
    glucose_density,
    glucose_from_density,
    glucose_from_refractive_index,
    glucose_refractive_index,
    grain_heat_capacity,
    grain_heating_kwh,
    hydrolysate_from_brix,
    hydrolysate_from_refractive_index,
    hydrolysate_refractive_index,
    latent_heat,
    mole_percent_from_abw,
    pressure_at_altitude,
    relative_volatility,
    spirit_density,
    spirit_density_from_abv,
    spirit_enthalpy,
    spirit_heat_capacity,
    spirit_refractive_index,
    station_pressure,
    sucrose_density,
    sucrose_refractive_index,
    us_proof_from_abv,
    us_proof_from_abw,
    vapour_abw,
    vapour_enthalpy,
    wash_abv,
    wash_abw,
    wash_abw_from_density,
    wash_abw_from_refractive_index,
    wash_density,
    wash_extract,
    wash_extract_from_refractive_index,
    wash_gravity,
    wash_heat_capacity,
    wash_heating_kwh,
    wash_refractive_index,
    water_density,
    water_refractive_index,
    water_vapour_pressure,
)
from ferment._uncertain import Uncertain, is_uncertain
from ferment._values import ArrayRecord

__all__ = [
    "REFERENCES",
    "Azeotrope",
    "abv_from_abw",
    "abv_from_density",
    "abv_from_us_proof",
    "abw_from_abv",
    "abw_from_density",
    "abw_from_mole_percent",
    "abw_from_refractive_index",
    "abw_from_us_proof",
    "abw_from_vapour_abw",
    "altitude_of_pressure",
    "azeotrope",
    "boiling_point",
    "brix_from_refractive_index",
    "convert_sg",
    "density_from_sg",
    "density_in_air",
    "density_in_vacuum",
    "dew_point",
    "ethanol_vapour_pressure",
    "evaporation_heat",
    "extract_from_density",
    "extract_from_per_litre",
    "extract_per_litre",
    "glucose_density",
    "glucose_from_density",
    "glucose_from_refractive_index",
    "glucose_refractive_index",
    "grain_heat_capacity",
    "grain_heating_kwh",
    "hydrolysate_from_brix",
    "hydrolysate_from_refractive_index",
    "hydrolysate_refractive_index",
    "latent_heat",
    "mole_percent_from_abw",
    "plato_from_sg",
    "points_from_sg",
    "pressure_at_altitude",
    "relative_volatility",
    "sg_from_density",
    "sg_from_plato",
    "sg_from_points",
    "spirit_density",
    "spirit_density_from_abv",
    "spirit_enthalpy",
    "spirit_heat_capacity",
    "spirit_refractive_index",
    "station_pressure",
    "sucrose_density",
    "sucrose_refractive_index",
    "us_proof_from_abv",
    "us_proof_from_abw",
    "vapour_abw",
    "vapour_enthalpy",
    "wash_abv",
    "wash_abw",
    "wash_abw_from_density",
    "wash_abw_from_refractive_index",
    "wash_density",
    "wash_extract",
    "wash_extract_from_refractive_index",
    "wash_gravity",
    "wash_heat_capacity",
    "wash_heating_kwh",
    "wash_refractive_index",
    "water_density",
    "water_refractive_index",
    "water_vapour_pressure",
]

Reference: TypeAlias = Literal["20/20", "15/15", "60/60F", "20/4"]
OutOfRange: TypeAlias = Literal["raise", "nan"]
Numbers: TypeAlias = npt.ArrayLike
Array: TypeAlias = npt.NDArray[np.float64]
Values: TypeAlias = float | Array | Any  # Any: uncertainties.UFloat, or an array of them

#: Reference temperatures of a gravity, sample and water [degC].
REFERENCES = MappingProxyType(
    {
        "20/20": (20.0, 20.0),
        "15/15": (15.0, 15.0),
        "60/60F": (_core.sixty_fahrenheit_c, _core.sixty_fahrenheit_c),
        "20/4": (20.0, 4.0),
    }
)

_POINTS_PER_GRAVITY = 1000.0


def frame(reference: str) -> tuple[float, float]:
    """Sample and water temperature of a reference by its name. Raises InputError, listing the names, for any other."""
    try:
        return REFERENCES[reference]
    except KeyError:
        allowed = ", ".join(REFERENCES)
        raise _core.InputError(f'reference "{reference}" is not known; allowed are {allowed}') from None


def _air(in_air: bool) -> float:
    return _core.conventional_air_density if in_air else 0.0


@overload
def plato_from_sg(
    sg: float, reference: Reference = "20/20", *, in_air: bool = False, out_of_range: OutOfRange = "raise"
) -> float: ...
@overload
def plato_from_sg(
    sg: Numbers, reference: Reference = "20/20", *, in_air: bool = False, out_of_range: OutOfRange = "raise"
) -> Array: ...
@overload
def plato_from_sg(
    sg: Uncertain, reference: Reference = "20/20", *, in_air: bool = False, out_of_range: OutOfRange = "raise"
) -> Any: ...
def plato_from_sg(
    sg: float | Numbers | Uncertain,
    reference: Reference = "20/20",
    *,
    in_air: bool = False,
    out_of_range: OutOfRange = "raise",
) -> Values:
    """Degrees Plato (% extract by mass) from the specific gravity of a wort: the exact inverse of sg_from_plato.

    Parameters
    ----------
    sg : float or array_like
        Specific gravity, from that of water up to that of 70 % sucrose.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Temperatures of the sample and of the water that the gravity compares [degC; F for degF].
    in_air : bool
        True for a gravity weighed in air of 1.2 kg/m3.
    out_of_range : {"raise", "nan"}
        What happens outside the range: an error, or NaN for that element.

    Returns
    -------
    float or ndarray
        Extract [% mass]. NaN where an input is NaN.

    Raises
    ------
    RangeError
        Below water (a wash has no extract on this scale alone) and above 70 %.
    InputError
        For an unknown reference.

    References
    ----------
    ICUMSA SPS-4 sucrose density (Bubnik et al. 1995, p. 164); air after OIML R 111-1 (2004).
    """
    sample_c, water_c = frame(reference)
    if isinstance(sg, float) and out_of_range == "raise":
        return _core.plato_from_gravity(sg, sample_c, water_c, _air(in_air))
    return _core.plato_from_gravity(sg, sample_c, water_c, _air(in_air), out_of_range=out_of_range)


@overload
def sg_from_plato(
    plato: float, reference: Reference = "20/20", *, in_air: bool = False, out_of_range: OutOfRange = "raise"
) -> float: ...
@overload
def sg_from_plato(
    plato: Numbers, reference: Reference = "20/20", *, in_air: bool = False, out_of_range: OutOfRange = "raise"
) -> Array: ...
@overload
def sg_from_plato(
    plato: Uncertain, reference: Reference = "20/20", *, in_air: bool = False, out_of_range: OutOfRange = "raise"
) -> Any: ...
def sg_from_plato(
    plato: float | Numbers | Uncertain,
    reference: Reference = "20/20",
    *,
    in_air: bool = False,
    out_of_range: OutOfRange = "raise",
) -> Values:
    """Specific gravity of a wort from degrees Plato (% extract by mass).

    Parameters
    ----------
    plato : float or array_like
        Extract [% mass], 0 to 70.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Temperatures of the sample and of the water that the gravity compares [degC; F for degF].
    in_air : bool
        True for a gravity weighed in air of 1.2 kg/m3.
    out_of_range : {"raise", "nan"}
        What happens outside the range: an error, or NaN for that element.

    Returns
    -------
    float or ndarray
        Specific gravity. NaN where an input is NaN.

    Raises
    ------
    RangeError
        Outside 0 to 70 %.
    InputError
        For an unknown reference.

    References
    ----------
    ICUMSA SPS-4 sucrose density (Bubnik et al. 1995, p. 164); air after OIML R 111-1 (2004).
    """
    sample_c, water_c = frame(reference)
    if isinstance(plato, float) and out_of_range == "raise":
        return _core.gravity_from_plato(plato, sample_c, water_c, _air(in_air))
    return _core.gravity_from_plato(plato, sample_c, water_c, _air(in_air), out_of_range=out_of_range)


@overload
def sg_from_density(density: float, reference: Reference = "20/20", *, in_air: bool = False) -> float: ...
@overload
def sg_from_density(density: Numbers, reference: Reference = "20/20", *, in_air: bool = False) -> Array: ...
@overload
def sg_from_density(density: Uncertain, reference: Reference = "20/20", *, in_air: bool = False) -> Any: ...
def sg_from_density(density: Numbers | Uncertain, reference: Reference = "20/20", *, in_air: bool = False) -> Values:
    """Specific gravity of a liquid from its density. The water is that of the sucrose formula.

    Parameters
    ----------
    density : float or array_like
        Density at the sample temperature of the reference, in vacuum [kg/m3], 500 to 2000.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Temperatures of the sample and of the water that the gravity compares [degC; F for degF].
    in_air : bool
        True for a gravity weighed in air of 1.2 kg/m3.

    Returns
    -------
    float or ndarray
        Specific gravity. NaN where an input is NaN.

    Raises
    ------
    RangeError, InputError
        For a density that cannot be, and for an unknown reference.
    """
    water_c = frame(reference)[1]
    return _core.gravity_from_density(density, water_c, _air(in_air))


@overload
def density_from_sg(sg: float, reference: Reference = "20/20", *, in_air: bool = False) -> float: ...
@overload
def density_from_sg(sg: Numbers, reference: Reference = "20/20", *, in_air: bool = False) -> Array: ...
@overload
def density_from_sg(sg: Uncertain, reference: Reference = "20/20", *, in_air: bool = False) -> Any: ...
def density_from_sg(sg: Numbers | Uncertain, reference: Reference = "20/20", *, in_air: bool = False) -> Values:
    """Density of a liquid from its specific gravity: the exact inverse of sg_from_density.

    Parameters
    ----------
    sg : float or array_like
        Specific gravity, that of 500 to 2000 kg/m3.
    reference : {"20/20", "15/15", "60/60F", "20/4"}
        Temperatures of the sample and of the water that the gravity compares [degC; F for degF].
    in_air : bool
        True for a gravity weighed in air of 1.2 kg/m3.

    Returns
    -------
    float or ndarray
        Density at the sample temperature of the reference, in vacuum [kg/m3]. NaN where an input is NaN.

    Raises
    ------
    RangeError, InputError
        For a gravity that cannot be, and for an unknown reference.
    """
    water_c = frame(reference)[1]
    return _core.density_from_gravity(sg, water_c, _air(in_air))


@overload
def convert_sg(sg: float, from_reference: Reference, to_reference: Reference) -> float: ...
@overload
def convert_sg(sg: Numbers, from_reference: Reference, to_reference: Reference) -> Array: ...
@overload
def convert_sg(sg: Uncertain, from_reference: Reference, to_reference: Reference) -> Any: ...
def convert_sg(sg: Numbers | Uncertain, from_reference: Reference, to_reference: Reference) -> Values:
    """A wort's gravity at another pair of reference temperatures.

    Parameters
    ----------
    sg : float or array_like
        Specific gravity by from_reference, from that of water up to that of 70 % sucrose.
    from_reference, to_reference : {"20/20", "15/15", "60/60F", "20/4"}
        Temperatures of the sample and of the water that each gravity compares [degC; F for degF].

    Returns
    -------
    float or ndarray
        Specific gravity by to_reference. NaN where an input is NaN.

    Raises
    ------
    RangeError, InputError
        As plato_from_sg.
    """
    return sg_from_plato(plato_from_sg(sg, from_reference), to_reference)


def _numbers(x: float | Numbers | Uncertain) -> Any:
    if isinstance(x, float) or is_uncertain(x):
        return x
    given = np.asarray(x)
    return given if given.dtype == object else given.astype(np.float64)


@overload
def points_from_sg(sg: float) -> float: ...
@overload
def points_from_sg(sg: Numbers) -> Array: ...
@overload
def points_from_sg(sg: Uncertain) -> Any: ...
def points_from_sg(sg: Numbers | Uncertain) -> Values:
    """Gravity points, 1000 (SG - 1)."""
    return _POINTS_PER_GRAVITY * (_numbers(sg) - 1.0)


@overload
def sg_from_points(points: float) -> float: ...
@overload
def sg_from_points(points: Numbers) -> Array: ...
@overload
def sg_from_points(points: Uncertain) -> Any: ...
def sg_from_points(points: Numbers | Uncertain) -> Values:
    """Specific gravity from points: 1 + points/1000."""
    return 1.0 + _numbers(points) / _POINTS_PER_GRAVITY


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Azeotrope(ArrayRecord):
    """The mixture that no plain still can make stronger. Arrays where the pressure was an array.

    Attributes
    ----------
    pressure_kpa : absolute pressure [kPa]
    boiling_c : boiling point, the lowest of all mixtures [degC]
    abw : ethanol [% mass]
    """

    pressure_kpa: Values
    boiling_c: Values
    abw: Values

    @property
    def abv(self) -> Values:
        """Strength [% vol at 20 degC]."""
        return abv_from_abw(self.abw)


def azeotrope(pressure_kpa: Numbers | Uncertain = _core.sea_level_kpa) -> Azeotrope:
    """The mixture of ethanol and water whose vapour is no stronger than itself, at a pressure.

    Parameters
    ----------
    pressure_kpa : float or array_like
        Absolute pressure [kPa], 20 to 110.

    Returns
    -------
    Azeotrope
        95.6 % mass at 101.325 kPa, stronger at lower pressure. NaN where an input is NaN.

    Raises
    ------
    RangeError
        Outside 20 to 110 kPa.

    References
    ----------
    See boiling_point.
    """
    return Azeotrope(_numbers(pressure_kpa), _core.azeotrope_c(pressure_kpa), _core.azeotrope_abw(pressure_kpa))

"""How much alcohol is in a wash, from gravities before and after.

All of these need an original gravity that means something: a wort or must in which the sugar is dissolved. A wash of raw grain has none at
pitching; use ferment.fermentation.read_wash for it. The default method balances masses and densities and holds below 1.000, where the short
formulas of beer do not. The published relations stand beside it under their literature names, each within its own range.
"""

import dataclasses
from typing import Literal, TypeAlias, overload

import numpy as np
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
from ferment._values import ArrayRecord
from ferment.liquid import OutOfRange, Reference, frame

__all__ = [
    "METHODS",
    "YIELDS",
    "FermentedWash",
    "abv_by_convention",
    "abv_from_gravity",
    "apparent_attenuation",
    "apparent_extract",
    "asbc_beer6_rdf",
    "balling_alcohol_from_oe_re",
    "balling_original_extract",
    "balling_real_extract",
    "bringhurst_attenuation",
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

Numbers: TypeAlias = npt.ArrayLike
Array: TypeAlias = npt.NDArray[np.float64]
Values: TypeAlias = float | Array
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
    original_gravity: Numbers,
    final_gravity: Numbers,
    method: Method = "density_balance",
    reference: Reference = "20/20",
    *,
    out_of_range: OutOfRange = "raise",
) -> Array: ...
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
    """Original gravity from strength [% vol] and final gravity: the exact inverse of gravity_balance. Errors as there."""
    return _core.original_gravity(abv, final_gravity, *_yield(fermentation_yield), *frame(reference))


def least_final_gravity(
    original_gravity: Numbers, fermentation_yield: Yield = "bringhurst_1996", reference: Reference = "20/20"
) -> Values:
    """The lowest gravity a wort of 1.000 to 1.130 can ferment to, all of its extract gone. RangeError outside."""
    return _core.least_final_gravity(original_gravity, *_yield(fermentation_yield), *frame(reference))


def apparent_extract(gravity: Numbers, reference: Reference = "20/20") -> Values:
    """Extract that a hydrometer shows in a wash [% mass], -6 to 70; negative below the gravity of water.

    Below zero the sucrose polynomial itself is continued: an extension, not a published range. RangeError outside.
    """
    return _core.apparent_extract(gravity, *frame(reference))


def real_extract(
    original_gravity: Numbers,
    final_gravity: Numbers,
    fermentation_yield: Yield = "bringhurst_1996",
    reference: Reference = "20/20",
) -> Values:
    """Extract still dissolved in a wash [% mass], by the density balance. Ranges and errors as gravity_balance."""
    return _core.balance_real_extract(original_gravity, final_gravity, *_yield(fermentation_yield), *frame(reference))


def apparent_attenuation(original_gravity: Numbers, final_gravity: Numbers, reference: Reference = "20/20") -> Values:
    """Share of the extract that seems gone [%]; above 100 in a wash lighter than water. Ranges and errors as gravity_balance."""
    return _core.balance_apparent_attenuation(
        original_gravity, final_gravity, *YIELDS["bringhurst_1996"], *frame(reference)
    )


def real_attenuation(
    original_gravity: Numbers,
    final_gravity: Numbers,
    fermentation_yield: Yield = "bringhurst_1996",
    reference: Reference = "20/20",
) -> Values:
    """Share of the extract concentration that is gone [%], by the density balance. Ranges and errors as gravity_balance."""
    return _core.balance_real_attenuation(
        original_gravity, final_gravity, *_yield(fermentation_yield), *frame(reference)
    )

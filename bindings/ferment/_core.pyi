# The compiled module. Elementwise functions take floats and give a float, or take anything array-like and give an array; an int counts as
# array-like and gives a NumPy float, which is a float as well. Dictionaries hold what the classes of the package are made from.

from collections.abc import Sequence
from typing import Any, Literal, TypeAlias, overload

import numpy as np
import numpy.typing as npt

_Numbers: TypeAlias = npt.ArrayLike
_Array: TypeAlias = npt.NDArray[np.float64]
_OutOfRange: TypeAlias = Literal["raise", "nan"]
_Pair: TypeAlias = tuple[float, float]  # value, standard uncertainty
_BillItems: TypeAlias = list[tuple[dict[str, Any], float]]  # a grain and its mass [kg]

__version__: str

class Error(ValueError): ...
class RangeError(Error): ...
class InputError(Error): ...
class SolveError(Error): ...

def sources() -> list[dict[str, str]]: ...

# liquid

@overload
def water_density(temperature_c: float) -> float: ...
@overload
def water_density(
    temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def sucrose_density(extract: float, temperature_c: float) -> float: ...
@overload
def sucrose_density(
    extract: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def extract_from_density(density: float, temperature_c: float) -> float: ...
@overload
def extract_from_density(
    density: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def glucose_density(extract: float) -> float: ...
@overload
def glucose_density(extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def glucose_from_density(density: float) -> float: ...
@overload
def glucose_from_density(
    density: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def extract_per_litre(extract: float, temperature_c: float) -> float: ...
@overload
def extract_per_litre(
    extract: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def extract_from_per_litre(extract_g_l: float, temperature_c: float) -> float: ...
@overload
def extract_from_per_litre(
    extract_g_l: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def plato_from_gravity(gravity: float, sample_c: float, water_c: float, air: float) -> float: ...
@overload
def plato_from_gravity(
    gravity: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    air: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def gravity_from_plato(extract: float, sample_c: float, water_c: float, air: float) -> float: ...
@overload
def gravity_from_plato(
    extract: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    air: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def gravity_from_density(density: float, water_c: float, air: float) -> float: ...
@overload
def gravity_from_density(
    density: _Numbers,
    water_c: _Numbers,
    air: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def density_from_gravity(gravity: float, water_c: float, air: float) -> float: ...
@overload
def density_from_gravity(
    gravity: _Numbers,
    water_c: _Numbers,
    air: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def density_in_air(density: float) -> float: ...
@overload
def density_in_air(density: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def density_in_vacuum(density: float) -> float: ...
@overload
def density_in_vacuum(
    density: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def spirit_density(abw: float, temperature_c: float) -> float: ...
@overload
def spirit_density(
    abw: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abw_from_density(density: float, temperature_c: float) -> float: ...
@overload
def abw_from_density(
    density: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abv_from_density(density: float, temperature_c: float) -> float: ...
@overload
def abv_from_density(
    density: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abv_from_abw(abw: float) -> float: ...
@overload
def abv_from_abw(abw: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def abw_from_abv(abv: float) -> float: ...
@overload
def abw_from_abv(abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def us_proof_from_abv(abv: float) -> float: ...
@overload
def us_proof_from_abv(abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def abv_from_us_proof(us_proof: float) -> float: ...
@overload
def abv_from_us_proof(
    us_proof: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def us_proof_from_abw(abw: float) -> float: ...
@overload
def us_proof_from_abw(abw: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def abw_from_us_proof(us_proof: float) -> float: ...
@overload
def abw_from_us_proof(
    us_proof: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def wash_density(abw: float, extract: float, temperature_c: float) -> float: ...
@overload
def wash_density(
    abw: _Numbers,
    extract: _Numbers,
    temperature_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def wash_gravity(abw: float, extract: float) -> float: ...
@overload
def wash_gravity(
    abw: _Numbers, extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def wash_abv(abw: float, extract: float) -> float: ...
@overload
def wash_abv(
    abw: _Numbers, extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def wash_abw(abv: float, extract: float) -> float: ...
@overload
def wash_abw(
    abv: _Numbers, extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def wash_extract(density: float, abw: float, temperature_c: float) -> float: ...
@overload
def wash_extract(
    density: _Numbers,
    abw: _Numbers,
    temperature_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def wash_abw_from_density(density: float, extract: float, temperature_c: float) -> float: ...
@overload
def wash_abw_from_density(
    density: _Numbers,
    extract: _Numbers,
    temperature_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...

conventional_air_density: float
sixty_fahrenheit_c: float

# instrument

@overload
def alcoholometer_abv(reading: float, temperature_c: float, glass_expansion: float) -> float: ...
@overload
def alcoholometer_abv(
    reading: _Numbers,
    temperature_c: _Numbers,
    glass_expansion: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def alcoholometer_us_proof(reading: float, temperature_c: float, glass_expansion: float) -> float: ...
@overload
def alcoholometer_us_proof(
    reading: _Numbers,
    temperature_c: _Numbers,
    glass_expansion: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def hydrometer_abw(
    reading: float,
    temperature_c: float,
    liquid: float,
    known: float,
    scale: float,
    calibration_c: float,
    glass_expansion: float,
    meniscus: float,
) -> float: ...
@overload
def hydrometer_abw(
    reading: _Numbers,
    temperature_c: _Numbers,
    liquid: _Numbers,
    known: _Numbers,
    scale: _Numbers,
    calibration_c: _Numbers,
    glass_expansion: _Numbers,
    meniscus: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def hydrometer_density(
    reading: float,
    temperature_c: float,
    liquid: float,
    known: float,
    scale: float,
    calibration_c: float,
    glass_expansion: float,
    meniscus: float,
) -> float: ...
@overload
def hydrometer_density(
    reading: _Numbers,
    temperature_c: _Numbers,
    liquid: _Numbers,
    known: _Numbers,
    scale: _Numbers,
    calibration_c: _Numbers,
    glass_expansion: _Numbers,
    meniscus: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def hydrometer_extract(
    reading: float,
    temperature_c: float,
    liquid: float,
    known: float,
    scale: float,
    calibration_c: float,
    glass_expansion: float,
    meniscus: float,
) -> float: ...
@overload
def hydrometer_extract(
    reading: _Numbers,
    temperature_c: _Numbers,
    liquid: _Numbers,
    known: _Numbers,
    scale: _Numbers,
    calibration_c: _Numbers,
    glass_expansion: _Numbers,
    meniscus: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def hydrometer_reading(
    abw: float,
    extract: float,
    temperature_c: float,
    scale: float,
    calibration_c: float,
    glass_expansion: float,
    meniscus: float,
) -> float: ...
@overload
def hydrometer_reading(
    abw: _Numbers,
    extract: _Numbers,
    temperature_c: _Numbers,
    scale: _Numbers,
    calibration_c: _Numbers,
    glass_expansion: _Numbers,
    meniscus: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def hydrometer_gravity(
    reading: float,
    temperature_c: float,
    liquid: float,
    known: float,
    scale: float,
    calibration_c: float,
    glass_expansion: float,
    meniscus: float,
) -> float: ...
@overload
def hydrometer_gravity(
    reading: _Numbers,
    temperature_c: _Numbers,
    liquid: _Numbers,
    known: _Numbers,
    scale: _Numbers,
    calibration_c: _Numbers,
    glass_expansion: _Numbers,
    meniscus: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...

conventional_glass_expansion: float

# strength

@overload
def abv_by_convention(abw: float, gravity: float) -> float: ...
@overload
def abv_by_convention(
    abw: _Numbers, gravity: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abv_by_method(
    original_gravity: float, final_gravity: float, method: float, sample_c: float, water_c: float
) -> float: ...
@overload
def abv_by_method(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    method: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def apparent_extract(gravity: float, sample_c: float, water_c: float) -> float: ...
@overload
def apparent_extract(
    gravity: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def asbc_beer6_rdf(original_extract: float, real_extract: float) -> float: ...
@overload
def asbc_beer6_rdf(
    original_extract: _Numbers,
    real_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_abv(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_abv(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_abw(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_abw(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_apparent_attenuation(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_apparent_attenuation(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_apparent_extract(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_apparent_extract(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_co2(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_co2(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_degree_of_fermentation(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_degree_of_fermentation(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_extract_consumed(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_extract_consumed(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_liquid(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_liquid(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_original_extract(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_original_extract(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_real_attenuation(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_real_attenuation(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_real_extract(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_real_extract(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balance_yeast(
    original_gravity: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def balance_yeast(
    original_gravity: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balling_alcohol_from_oe_re(original_extract: float, real_extract: float) -> float: ...
@overload
def balling_alcohol_from_oe_re(
    original_extract: _Numbers,
    real_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def balling_original_extract(abw: float, real_extract: float) -> float: ...
@overload
def balling_original_extract(
    abw: _Numbers, real_extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def balling_real_extract(original_extract: float, apparent_extract: float) -> float: ...
@overload
def balling_real_extract(
    original_extract: _Numbers,
    apparent_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def bringhurst_attenuation(original_extract: float, apparent_extract: float) -> float: ...
@overload
def bringhurst_attenuation(
    original_extract: _Numbers,
    apparent_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def cutaia_a(original_extract: float, apparent_extract: float) -> float: ...
@overload
def cutaia_a(
    original_extract: _Numbers,
    apparent_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def cutaia_b(original_extract: float, real_extract: float) -> float: ...
@overload
def cutaia_b(
    original_extract: _Numbers,
    real_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def cutaia_c(original_extract: float, real_extract: float, apparent_extract: float) -> float: ...
@overload
def cutaia_c(
    original_extract: _Numbers,
    real_extract: _Numbers,
    apparent_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def cutaia_q(original_extract: float, apparent_extract: float) -> float: ...
@overload
def cutaia_q(
    original_extract: _Numbers,
    apparent_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def doemens_a(original_extract: float, apparent_extract: float) -> float: ...
@overload
def doemens_a(
    original_extract: _Numbers,
    apparent_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def doemens_b(original_extract: float, real_extract: float) -> float: ...
@overload
def doemens_b(
    original_extract: _Numbers,
    real_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def doemens_c(original_extract: float, real_extract: float, apparent_extract: float) -> float: ...
@overload
def doemens_c(
    original_extract: _Numbers,
    real_extract: _Numbers,
    apparent_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def doemens_q(original_extract: float, apparent_extract: float) -> float: ...
@overload
def doemens_q(
    original_extract: _Numbers,
    apparent_extract: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def dry_extract(density: float, abv: float) -> float: ...
@overload
def dry_extract(
    density: _Numbers, abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def duty_abv(abv: float) -> float: ...
@overload
def duty_abv(abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def least_final_gravity(
    original_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def least_final_gravity(
    original_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def oiv_alcohol_free_density(density: float, abv: float) -> float: ...
@overload
def oiv_alcohol_free_density(
    density: _Numbers, abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def original_gravity(
    abv: float,
    final_gravity: float,
    ethanol_yield: float,
    co2_yield: float,
    yeast_yield: float,
    sample_c: float,
    water_c: float,
) -> float: ...
@overload
def original_gravity(
    abv: _Numbers,
    final_gravity: _Numbers,
    ethanol_yield: _Numbers,
    co2_yield: _Numbers,
    yeast_yield: _Numbers,
    sample_c: _Numbers,
    water_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def tabarie_sg(alcohol_gravity: float, extract_gravity: float) -> float: ...
@overload
def tabarie_sg(
    alcohol_gravity: _Numbers,
    extract_gravity: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def tolman_2a_plus_e(abw: float, real_extract: float) -> float: ...
@overload
def tolman_2a_plus_e(
    abw: _Numbers, real_extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
def gravity_methods() -> list[str]: ...
def gravity_method_index(name: str, /) -> int: ...

yields: dict[str, tuple[float, float, float]]

# mash

@overload
def litre_degrees_of_extract(extract: float) -> float: ...
@overload
def litre_degrees_of_extract(
    extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
def grain(name: str, /) -> dict[str, Any]: ...
def grain_names() -> list[str]: ...
def validate_grain(values: dict[str, Any], /) -> None: ...
def grain_with_analysis(
    values: dict[str, Any], stated: dict[str, _Pair], dry: bool, source: str, /
) -> dict[str, Any]: ...
def bill_mass(items: _BillItems, /) -> float: ...
def default_soluble_share_of_rest() -> _Pair: ...
def default_mash_handling() -> tuple[_Pair, float]: ...
def potential(bill: _BillItems, water_kg: float, assumptions: dict[str, _Pair], /) -> dict[str, Any]: ...
def water_balance(
    bill: _BillItems, water_kg: float, assumptions: dict[str, _Pair], absorption: _Pair, head_space: float, /
) -> dict[str, Any]: ...

points_per_litre_degree: float

# fermentation

def no_cook() -> dict[str, _Pair]: ...
def no_cook_published() -> list[tuple[str, float]]: ...
def end_point(bill: _BillItems, water_kg: float, assumptions: dict[str, _Pair], /) -> dict[str, Any]: ...
def read_wash(
    bill: _BillItems, water_kg: float, assumptions: dict[str, _Pair], gravity: float, gravity_uncertainty: float, /
) -> dict[str, Any]: ...
def validate_inoculum(yeast_kg: float, enzyme_dose: float, nutrients: float, /) -> None: ...
def validate_vessel(heat_transfer: float, sunshine_w: float, noon_hour: float, /) -> None: ...
def validate_mash_temperature(mash_c: float, /) -> None: ...
def validate_day_night(mean_c: float, swing_c: float, warmest_hour: float, /) -> None: ...
def validate_logged(hours: Sequence[float], temperatures_c: Sequence[float], /) -> None: ...
def ambient_at(ambient: dict[str, Any], hour: float, /) -> float: ...
def yeast_of_cells(million_cells_per_ml: float, mash_l: float, /) -> float: ...
def kinetic_parameters() -> list[tuple[str, str, float, float, str, str, str, str]]: ...
def starch_forms() -> list[tuple[str, float]]: ...
def simulate(
    batch: dict[str, Any],
    spreads: dict[str, float],
    times_h: Sequence[float],
    relative_tolerance: float,
    absolute_tolerance: float,
    longest_step_h: float,
    /,
) -> dict[str, Any]: ...
def prior_belief() -> dict[str, _Array]: ...
def forecast(
    batch: dict[str, Any], times_h: Sequence[float], belief: dict[str, Any], members: int, seed: int, /
) -> dict[str, Any]: ...
def forecast_with_readings(
    batch: dict[str, Any], times_h: Sequence[float], readings: list[dict[str, Any]], members: int, seed: int, /
) -> dict[str, Any]: ...
def done_spread(done_h: Sequence[float], /) -> tuple[float, ...]: ...
def done_by(done_h: Sequence[float], hours: Sequence[float], /) -> _Array: ...
def validate_reading(reading: dict[str, Any], /) -> None: ...
def fit(batch: dict[str, Any], readings: list[dict[str, Any]], /) -> dict[str, Any]: ...
def check(batch: dict[str, Any], readings: list[dict[str, Any]], members: int, seed: int, /) -> dict[str, Any]: ...
@overload
def ventilation_m3_per_h(co2_l_per_h: float, limit_ppm: float) -> float: ...
@overload
def ventilation_m3_per_h(
    co2_l_per_h: _Numbers, limit_ppm: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...

band_shares: tuple[float, ...]  # [%]
usual_members: int
usual_seed: int
course_tolerance: tuple[float, float, float]  # relative, absolute, longest step [h]
bare_wall_w_per_m2_k: float
co2_limit_8h_ppm: float

# proofing

def dilute(
    abv: float, volume_l: float, target_abv: float, temperature_c: float, water_temperature_c: float, /
) -> dict[str, Any]: ...
def add_water(
    abv: float, volume_l: float, water_kg: float, temperature_c: float, water_temperature_c: float, /
) -> dict[str, Any]: ...
def dilute_to_volume(
    abv: float, target_abv: float, target_volume_l: float, temperature_c: float, water_temperature_c: float, /
) -> dict[str, Any]: ...
def blend(parts: Sequence[Sequence[float]], temperature_c: float, /) -> dict[str, float]: ...
def bottles(
    abv: float, volume_l: float, bottle_l: float, temperature_c: float, filling_temperature_c: float, /
) -> dict[str, Any]: ...

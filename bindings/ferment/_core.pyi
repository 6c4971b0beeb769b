# The compiled module. Elementwise functions take floats and give a float, or take anything array-like and give an array; an int counts as
# array-like and gives a NumPy float, which is a float as well. Numbers with uncertainty give such numbers. Dictionaries hold what the classes of the package are made from.

from collections.abc import Callable, Sequence
from typing import Any, Literal, TypeAlias, overload, type_check_only

import numpy as np
import numpy.typing as npt

from ferment._uncertain import Uncertain

_Numbers: TypeAlias = npt.ArrayLike
_Array: TypeAlias = npt.NDArray[np.float64]
_Uncertain: TypeAlias = npt.ArrayLike | Uncertain
_OutOfRange: TypeAlias = Literal["raise", "nan"]
_Pair: TypeAlias = tuple[float, float]  # value, standard uncertainty
_BillItems: TypeAlias = list[tuple[dict[str, Any], float]]  # a grain and its mass [kg]

__version__: str

class Error(ValueError): ...
class RangeError(Error): ...
class InputError(Error): ...
class SolveError(Error): ...

def instruction_set() -> str: ...
def instruction_sets() -> tuple[str, ...]: ...
def use_instruction_set(name: str) -> None: ...
def sources() -> list[dict[str, str]]: ...

# liquid

@overload
def water_density(temperature_c: float) -> float: ...
@overload
def water_density(
    temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def water_density(
    temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def sucrose_density(extract: float, temperature_c: float) -> float: ...
@overload
def sucrose_density(
    extract: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def sucrose_density(
    extract: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def extract_from_density(density: float, temperature_c: float) -> float: ...
@overload
def extract_from_density(
    density: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def extract_from_density(
    density: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def glucose_density(extract: float) -> float: ...
@overload
def glucose_density(extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def glucose_density(extract: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> Any: ...
@overload
def glucose_from_density(density: float) -> float: ...
@overload
def glucose_from_density(
    density: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def glucose_from_density(
    density: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def extract_per_litre(extract: float, temperature_c: float) -> float: ...
@overload
def extract_per_litre(
    extract: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def extract_per_litre(
    extract: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def extract_from_per_litre(extract_g_l: float, temperature_c: float) -> float: ...
@overload
def extract_from_per_litre(
    extract_g_l: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def extract_from_per_litre(
    extract_g_l: _Uncertain,
    temperature_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def plato_from_gravity(
    gravity: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    air: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def gravity_from_plato(
    extract: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    air: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def gravity_from_density(
    density: _Uncertain,
    water_c: _Uncertain,
    air: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def density_from_gravity(
    gravity: _Uncertain,
    water_c: _Uncertain,
    air: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def density_in_air(density: float) -> float: ...
@overload
def density_in_air(density: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def density_in_air(density: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> Any: ...
@overload
def density_in_vacuum(density: float) -> float: ...
@overload
def density_in_vacuum(
    density: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def density_in_vacuum(
    density: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def spirit_density(abw: float, temperature_c: float) -> float: ...
@overload
def spirit_density(
    abw: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def spirit_density(
    abw: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def spirit_density_from_abv(abv: float, temperature_c: float) -> float: ...
@overload
def spirit_density_from_abv(
    abv: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def spirit_density_from_abv(
    abv: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def abw_from_density(density: float, temperature_c: float) -> float: ...
@overload
def abw_from_density(
    density: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abw_from_density(
    density: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def abv_from_density(density: float, temperature_c: float) -> float: ...
@overload
def abv_from_density(
    density: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abv_from_density(
    density: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def abv_from_abw(abw: float) -> float: ...
@overload
def abv_from_abw(abw: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def abv_from_abw(abw: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> Any: ...
@overload
def abw_from_abv(abv: float) -> float: ...
@overload
def abw_from_abv(abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def abw_from_abv(abv: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> Any: ...
@overload
def us_proof_from_abv(abv: float) -> float: ...
@overload
def us_proof_from_abv(abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def us_proof_from_abv(abv: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> Any: ...
@overload
def abv_from_us_proof(us_proof: float) -> float: ...
@overload
def abv_from_us_proof(
    us_proof: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abv_from_us_proof(
    us_proof: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def us_proof_from_abw(abw: float) -> float: ...
@overload
def us_proof_from_abw(abw: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def us_proof_from_abw(abw: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> Any: ...
@overload
def abw_from_us_proof(us_proof: float) -> float: ...
@overload
def abw_from_us_proof(
    us_proof: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abw_from_us_proof(
    us_proof: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
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
def wash_density(
    abw: _Uncertain,
    extract: _Uncertain,
    temperature_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def wash_gravity(abw: float, extract: float) -> float: ...
@overload
def wash_gravity(
    abw: _Numbers, extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def wash_gravity(
    abw: _Uncertain, extract: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def wash_abv(abw: float, extract: float) -> float: ...
@overload
def wash_abv(
    abw: _Numbers, extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def wash_abv(
    abw: _Uncertain, extract: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def wash_abw(abv: float, extract: float) -> float: ...
@overload
def wash_abw(
    abv: _Numbers, extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def wash_abw(
    abv: _Uncertain, extract: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
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
def wash_extract(
    density: _Uncertain,
    abw: _Uncertain,
    temperature_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
@overload
def wash_abw_from_density(
    density: _Uncertain,
    extract: _Uncertain,
    temperature_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def water_refractive_index(temperature_c: float) -> float: ...
@overload
def water_refractive_index(
    temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def water_refractive_index(
    temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def sucrose_refractive_index(extract: float, temperature_c: float = 20.0) -> float: ...
@overload
def sucrose_refractive_index(
    extract: _Numbers, temperature_c: _Numbers = 20.0, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def sucrose_refractive_index(
    extract: _Uncertain,
    temperature_c: _Uncertain = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def brix_from_refractive_index(refractive_index: float, temperature_c: float = 20.0) -> float: ...
@overload
def brix_from_refractive_index(
    refractive_index: _Numbers,
    temperature_c: _Numbers = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def brix_from_refractive_index(
    refractive_index: _Uncertain,
    temperature_c: _Uncertain = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def glucose_refractive_index(extract: float) -> float: ...
@overload
def glucose_refractive_index(
    extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def glucose_refractive_index(
    extract: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def glucose_from_refractive_index(refractive_index: float) -> float: ...
@overload
def glucose_from_refractive_index(
    refractive_index: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def glucose_from_refractive_index(
    refractive_index: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def hydrolysate_refractive_index(dry_matter: float, temperature_c: float = 20.0) -> float: ...
@overload
def hydrolysate_refractive_index(
    dry_matter: _Numbers,
    temperature_c: _Numbers = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def hydrolysate_refractive_index(
    dry_matter: _Uncertain,
    temperature_c: _Uncertain = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def hydrolysate_from_refractive_index(refractive_index: float, temperature_c: float = 20.0) -> float: ...
@overload
def hydrolysate_from_refractive_index(
    refractive_index: _Numbers,
    temperature_c: _Numbers = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def hydrolysate_from_refractive_index(
    refractive_index: _Uncertain,
    temperature_c: _Uncertain = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def hydrolysate_from_brix(brix: float) -> float: ...
@overload
def hydrolysate_from_brix(
    brix: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def hydrolysate_from_brix(
    brix: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def spirit_refractive_index(abw: float, temperature_c: float = 20.0) -> float: ...
@overload
def spirit_refractive_index(
    abw: _Numbers, temperature_c: _Numbers = 20.0, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def spirit_refractive_index(
    abw: _Uncertain, temperature_c: _Uncertain = 20.0, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def abw_from_refractive_index(refractive_index: float, temperature_c: float = 20.0) -> float: ...
@overload
def abw_from_refractive_index(
    refractive_index: _Numbers,
    temperature_c: _Numbers = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def abw_from_refractive_index(
    refractive_index: _Uncertain,
    temperature_c: _Uncertain = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def wash_refractive_index(abw: float, extract: float, temperature_c: float = 20.0) -> float: ...
@overload
def wash_refractive_index(
    abw: _Numbers,
    extract: _Numbers,
    temperature_c: _Numbers = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def wash_refractive_index(
    abw: _Uncertain,
    extract: _Uncertain,
    temperature_c: _Uncertain = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def wash_extract_from_refractive_index(refractive_index: float, abw: float, temperature_c: float = 20.0) -> float: ...
@overload
def wash_extract_from_refractive_index(
    refractive_index: _Numbers,
    abw: _Numbers,
    temperature_c: _Numbers = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def wash_extract_from_refractive_index(
    refractive_index: _Uncertain,
    abw: _Uncertain,
    temperature_c: _Uncertain = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def wash_abw_from_refractive_index(refractive_index: float, extract: float, temperature_c: float = 20.0) -> float: ...
@overload
def wash_abw_from_refractive_index(
    refractive_index: _Numbers,
    extract: _Numbers,
    temperature_c: _Numbers = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def wash_abw_from_refractive_index(
    refractive_index: _Uncertain,
    extract: _Uncertain,
    temperature_c: _Uncertain = 20.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def boiling_point(abw: float, pressure_kpa: float = 101.325, extract: float = 0.0) -> float: ...
@overload
def boiling_point(
    abw: _Numbers,
    pressure_kpa: _Numbers = 101.325,
    extract: _Numbers = 0.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def boiling_point(
    abw: _Uncertain,
    pressure_kpa: _Uncertain = 101.325,
    extract: _Uncertain = 0.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def vapour_abw(abw: float, pressure_kpa: float = 101.325, extract: float = 0.0) -> float: ...
@overload
def vapour_abw(
    abw: _Numbers,
    pressure_kpa: _Numbers = 101.325,
    extract: _Numbers = 0.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def vapour_abw(
    abw: _Uncertain,
    pressure_kpa: _Uncertain = 101.325,
    extract: _Uncertain = 0.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def relative_volatility(abw: float, pressure_kpa: float = 101.325, extract: float = 0.0) -> float: ...
@overload
def relative_volatility(
    abw: _Numbers,
    pressure_kpa: _Numbers = 101.325,
    extract: _Numbers = 0.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def relative_volatility(
    abw: _Uncertain,
    pressure_kpa: _Uncertain = 101.325,
    extract: _Uncertain = 0.0,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def dew_point(vapour_abw: float, pressure_kpa: float = 101.325) -> float: ...
@overload
def dew_point(
    vapour_abw: _Numbers,
    pressure_kpa: _Numbers = 101.325,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def dew_point(
    vapour_abw: _Uncertain,
    pressure_kpa: _Uncertain = 101.325,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def abw_from_vapour_abw(vapour_abw: float, pressure_kpa: float = 101.325) -> float: ...
@overload
def abw_from_vapour_abw(
    vapour_abw: _Numbers,
    pressure_kpa: _Numbers = 101.325,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def abw_from_vapour_abw(
    vapour_abw: _Uncertain,
    pressure_kpa: _Uncertain = 101.325,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def azeotrope_c(pressure_kpa: float) -> float: ...
@overload
def azeotrope_c(
    pressure_kpa: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def azeotrope_c(pressure_kpa: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> Any: ...
@overload
def azeotrope_abw(pressure_kpa: float) -> float: ...
@overload
def azeotrope_abw(
    pressure_kpa: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def azeotrope_abw(
    pressure_kpa: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def ethanol_vapour_pressure(temperature_c: float) -> float: ...
@overload
def ethanol_vapour_pressure(
    temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def ethanol_vapour_pressure(
    temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def water_vapour_pressure(temperature_c: float) -> float: ...
@overload
def water_vapour_pressure(
    temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def water_vapour_pressure(
    temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def pressure_at_altitude(altitude_m: float) -> float: ...
@overload
def pressure_at_altitude(
    altitude_m: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def pressure_at_altitude(
    altitude_m: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def altitude_of_pressure(pressure_kpa: float) -> float: ...
@overload
def altitude_of_pressure(
    pressure_kpa: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def altitude_of_pressure(
    pressure_kpa: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def station_pressure(sea_level_kpa: float, altitude_m: float) -> float: ...
@overload
def station_pressure(
    sea_level_kpa: _Numbers, altitude_m: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def station_pressure(
    sea_level_kpa: _Uncertain, altitude_m: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def mole_percent_from_abw(abw: float) -> float: ...
@overload
def mole_percent_from_abw(
    abw: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def mole_percent_from_abw(
    abw: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def abw_from_mole_percent(mole_percent: float) -> float: ...
@overload
def abw_from_mole_percent(
    mole_percent: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abw_from_mole_percent(
    mole_percent: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def spirit_heat_capacity(abw: float, temperature_c: float) -> float: ...
@overload
def spirit_heat_capacity(
    abw: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def spirit_heat_capacity(
    abw: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def spirit_enthalpy(abw: float, temperature_c: float) -> float: ...
@overload
def spirit_enthalpy(
    abw: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def spirit_enthalpy(
    abw: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def vapour_enthalpy(abw: float, temperature_c: float) -> float: ...
@overload
def vapour_enthalpy(
    abw: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def vapour_enthalpy(
    abw: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def latent_heat(abw: float, temperature_c: float) -> float: ...
@overload
def latent_heat(
    abw: _Numbers, temperature_c: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def latent_heat(
    abw: _Uncertain, temperature_c: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def evaporation_heat(abw: float, start_c: float, boiling_c: float) -> float: ...
@overload
def evaporation_heat(
    abw: _Numbers,
    start_c: _Numbers,
    boiling_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def evaporation_heat(
    abw: _Uncertain,
    start_c: _Uncertain,
    boiling_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def wash_heat_capacity(abw: float, extract: float, temperature_c: float) -> float: ...
@overload
def wash_heat_capacity(
    abw: _Numbers,
    extract: _Numbers,
    temperature_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def wash_heat_capacity(
    abw: _Uncertain,
    extract: _Uncertain,
    temperature_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def wash_heating_kwh(wash_kg: float, abw: float, extract: float, before_c: float, after_c: float) -> float: ...
@overload
def wash_heating_kwh(
    wash_kg: _Numbers,
    abw: _Numbers,
    extract: _Numbers,
    before_c: _Numbers,
    after_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def wash_heating_kwh(
    wash_kg: _Uncertain,
    abw: _Uncertain,
    extract: _Uncertain,
    before_c: _Uncertain,
    after_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def grain_heat_capacity(
    moisture: float, protein: float, fat: float, fibre: float, ash: float, temperature_c: float
) -> float: ...
@overload
def grain_heat_capacity(
    moisture: _Numbers,
    protein: _Numbers,
    fat: _Numbers,
    fibre: _Numbers,
    ash: _Numbers,
    temperature_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def grain_heat_capacity(
    moisture: _Uncertain,
    protein: _Uncertain,
    fat: _Uncertain,
    fibre: _Uncertain,
    ash: _Uncertain,
    temperature_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def grain_heating_kwh(
    grain_kg: float,
    moisture: float,
    protein: float,
    fat: float,
    fibre: float,
    ash: float,
    before_c: float,
    after_c: float,
) -> float: ...
@overload
def grain_heating_kwh(
    grain_kg: _Numbers,
    moisture: _Numbers,
    protein: _Numbers,
    fat: _Numbers,
    fibre: _Numbers,
    ash: _Numbers,
    before_c: _Numbers,
    after_c: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def grain_heating_kwh(
    grain_kg: _Uncertain,
    moisture: _Uncertain,
    protein: _Uncertain,
    fat: _Uncertain,
    fibre: _Uncertain,
    ash: _Uncertain,
    before_c: _Uncertain,
    after_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...

conventional_air_density: float
sea_level_kpa: float
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
def alcoholometer_abv(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    glass_expansion: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def alcoholometer_us_proof(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    glass_expansion: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def alcoholometer_reads_abv(strength: float, temperature_c: float, glass_expansion: float) -> float: ...
@overload
def alcoholometer_reads_abv(
    strength: _Numbers,
    temperature_c: _Numbers,
    glass_expansion: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def alcoholometer_reads_abv(
    strength: _Uncertain,
    temperature_c: _Uncertain,
    glass_expansion: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def alcoholometer_reads_us_proof(strength: float, temperature_c: float, glass_expansion: float) -> float: ...
@overload
def alcoholometer_reads_us_proof(
    strength: _Numbers,
    temperature_c: _Numbers,
    glass_expansion: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def alcoholometer_reads_us_proof(
    strength: _Uncertain,
    temperature_c: _Uncertain,
    glass_expansion: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def hydrometer_abw(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    liquid: _Uncertain,
    known: _Uncertain,
    scale: _Uncertain,
    calibration_c: _Uncertain,
    glass_expansion: _Uncertain,
    meniscus: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def hydrometer_density(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    liquid: _Uncertain,
    known: _Uncertain,
    scale: _Uncertain,
    calibration_c: _Uncertain,
    glass_expansion: _Uncertain,
    meniscus: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def hydrometer_extract(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    liquid: _Uncertain,
    known: _Uncertain,
    scale: _Uncertain,
    calibration_c: _Uncertain,
    glass_expansion: _Uncertain,
    meniscus: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def hydrometer_reading(
    abw: _Uncertain,
    extract: _Uncertain,
    temperature_c: _Uncertain,
    scale: _Uncertain,
    calibration_c: _Uncertain,
    glass_expansion: _Uncertain,
    meniscus: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
@overload
def hydrometer_gravity(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    liquid: _Uncertain,
    known: _Uncertain,
    scale: _Uncertain,
    calibration_c: _Uncertain,
    glass_expansion: _Uncertain,
    meniscus: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def refractometer_brix(reading: float, temperature_c: float, sugar: float, scale: float, zero: float) -> float: ...
@overload
def refractometer_brix(
    reading: _Numbers,
    temperature_c: _Numbers,
    sugar: _Numbers,
    scale: _Numbers,
    zero: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def refractometer_brix(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    sugar: _Uncertain,
    scale: _Uncertain,
    zero: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def refractometer_dry_matter(
    reading: float, temperature_c: float, sugar: float, scale: float, zero: float
) -> float: ...
@overload
def refractometer_dry_matter(
    reading: _Numbers,
    temperature_c: _Numbers,
    sugar: _Numbers,
    scale: _Numbers,
    zero: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def refractometer_dry_matter(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    sugar: _Uncertain,
    scale: _Uncertain,
    zero: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def refractometer_index_20c(reading: float, temperature_c: float, sugar: float, scale: float, zero: float) -> float: ...
@overload
def refractometer_index_20c(
    reading: _Numbers,
    temperature_c: _Numbers,
    sugar: _Numbers,
    scale: _Numbers,
    zero: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def refractometer_index_20c(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    sugar: _Uncertain,
    scale: _Uncertain,
    zero: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def refractometer_index(reading: float, temperature_c: float, sugar: float, scale: float, zero: float) -> float: ...
@overload
def refractometer_index(
    reading: _Numbers,
    temperature_c: _Numbers,
    sugar: _Numbers,
    scale: _Numbers,
    zero: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def refractometer_index(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    sugar: _Uncertain,
    scale: _Uncertain,
    zero: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def refractometer_wash_abw(
    reading: float, temperature_c: float, liquid: float, known: float, scale: float, zero: float
) -> float: ...
@overload
def refractometer_wash_abw(
    reading: _Numbers,
    temperature_c: _Numbers,
    liquid: _Numbers,
    known: _Numbers,
    scale: _Numbers,
    zero: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def refractometer_wash_abw(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    liquid: _Uncertain,
    known: _Uncertain,
    scale: _Uncertain,
    zero: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def refractometer_wash_extract(
    reading: float, temperature_c: float, liquid: float, known: float, scale: float, zero: float
) -> float: ...
@overload
def refractometer_wash_extract(
    reading: _Numbers,
    temperature_c: _Numbers,
    liquid: _Numbers,
    known: _Numbers,
    scale: _Numbers,
    zero: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def refractometer_wash_extract(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    liquid: _Uncertain,
    known: _Uncertain,
    scale: _Uncertain,
    zero: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def refractometer_wash_index(
    reading: float, temperature_c: float, liquid: float, known: float, scale: float, zero: float
) -> float: ...
@overload
def refractometer_wash_index(
    reading: _Numbers,
    temperature_c: _Numbers,
    liquid: _Numbers,
    known: _Numbers,
    scale: _Numbers,
    zero: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def refractometer_wash_index(
    reading: _Uncertain,
    temperature_c: _Uncertain,
    liquid: _Uncertain,
    known: _Uncertain,
    scale: _Uncertain,
    zero: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def refractometer_reading(abw: float, extract: float, temperature_c: float, scale: float, zero: float) -> float: ...
@overload
def refractometer_reading(
    abw: _Numbers,
    extract: _Numbers,
    temperature_c: _Numbers,
    scale: _Numbers,
    zero: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def refractometer_reading(
    abw: _Uncertain,
    extract: _Uncertain,
    temperature_c: _Uncertain,
    scale: _Uncertain,
    zero: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_abw(
    boiling_c: float, pressure_kpa: float, extract: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_abw(
    boiling_c: _Numbers,
    pressure_kpa: _Numbers,
    extract: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_abw(
    boiling_c: _Uncertain,
    pressure_kpa: _Uncertain,
    extract: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_abv(
    boiling_c: float, pressure_kpa: float, extract: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_abv(
    boiling_c: _Numbers,
    pressure_kpa: _Numbers,
    extract: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_abv(
    boiling_c: _Uncertain,
    pressure_kpa: _Uncertain,
    extract: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_pressure(
    boiling_c: float, pressure_kpa: float, extract: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_pressure(
    boiling_c: _Numbers,
    pressure_kpa: _Numbers,
    extract: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_pressure(
    boiling_c: _Uncertain,
    pressure_kpa: _Uncertain,
    extract: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_slope(
    boiling_c: float, pressure_kpa: float, extract: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_slope(
    boiling_c: _Numbers,
    pressure_kpa: _Numbers,
    extract: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_slope(
    boiling_c: _Uncertain,
    pressure_kpa: _Uncertain,
    extract: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_water_abw(
    water_boiling_c: float, wash_boiling_c: float, extract: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_water_abw(
    water_boiling_c: _Numbers,
    wash_boiling_c: _Numbers,
    extract: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_water_abw(
    water_boiling_c: _Uncertain,
    wash_boiling_c: _Uncertain,
    extract: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_water_abv(
    water_boiling_c: float, wash_boiling_c: float, extract: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_water_abv(
    water_boiling_c: _Numbers,
    wash_boiling_c: _Numbers,
    extract: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_water_abv(
    water_boiling_c: _Uncertain,
    wash_boiling_c: _Uncertain,
    extract: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_water_pressure(
    water_boiling_c: float, wash_boiling_c: float, extract: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_water_pressure(
    water_boiling_c: _Numbers,
    wash_boiling_c: _Numbers,
    extract: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_water_pressure(
    water_boiling_c: _Uncertain,
    wash_boiling_c: _Uncertain,
    extract: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_water_slope(
    water_boiling_c: float, wash_boiling_c: float, extract: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_water_slope(
    water_boiling_c: _Numbers,
    wash_boiling_c: _Numbers,
    extract: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_water_slope(
    water_boiling_c: _Uncertain,
    wash_boiling_c: _Uncertain,
    extract: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def ebulliometer_reading(
    abw: float, extract: float, pressure_kpa: float, correction: float, molar_mass: float
) -> float: ...
@overload
def ebulliometer_reading(
    abw: _Numbers,
    extract: _Numbers,
    pressure_kpa: _Numbers,
    correction: _Numbers,
    molar_mass: _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> _Array: ...
@overload
def ebulliometer_reading(
    abw: _Uncertain,
    extract: _Uncertain,
    pressure_kpa: _Uncertain,
    correction: _Uncertain,
    molar_mass: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...

conventional_glass_expansion: float
usual_extract_molar_mass: float

# strength

@overload
def abv_by_convention(abw: float, gravity: float) -> float: ...
@overload
def abv_by_convention(
    abw: _Numbers, gravity: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abv_by_convention(
    abw: _Uncertain, gravity: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
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
def abv_by_method(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    method: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def apparent_extract(
    gravity: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def asbc_beer6_rdf(
    original_extract: _Uncertain,
    real_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_abv(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_abw(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_apparent_attenuation(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_apparent_extract(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_co2(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_degree_of_fermentation(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_extract_consumed(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_liquid(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_original_extract(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_real_attenuation(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_real_extract(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balance_yeast(
    original_gravity: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def balling_alcohol_from_oe_re(
    original_extract: _Uncertain,
    real_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def balling_original_extract(abw: float, real_extract: float) -> float: ...
@overload
def balling_original_extract(
    abw: _Numbers, real_extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def balling_original_extract(
    abw: _Uncertain, real_extract: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
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
def balling_real_extract(
    original_extract: _Uncertain,
    apparent_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def bringhurst_attenuation(
    original_extract: _Uncertain,
    apparent_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def cutaia_a(
    original_extract: _Uncertain,
    apparent_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def cutaia_b(
    original_extract: _Uncertain,
    real_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def cutaia_c(
    original_extract: _Uncertain,
    real_extract: _Uncertain,
    apparent_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def cutaia_q(
    original_extract: _Uncertain,
    apparent_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def doemens_a(
    original_extract: _Uncertain,
    apparent_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def doemens_b(
    original_extract: _Uncertain,
    real_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def doemens_c(
    original_extract: _Uncertain,
    real_extract: _Uncertain,
    apparent_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def doemens_q(
    original_extract: _Uncertain,
    apparent_extract: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def dry_extract(density: float, abv: float) -> float: ...
@overload
def dry_extract(
    density: _Numbers, abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def dry_extract(
    density: _Uncertain, abv: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
@overload
def duty_abv(abv: float) -> float: ...
@overload
def duty_abv(abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> _Array: ...
@overload
def duty_abv(abv: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None) -> Any: ...
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
def least_final_gravity(
    original_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def oiv_alcohol_free_density(density: float, abv: float) -> float: ...
@overload
def oiv_alcohol_free_density(
    density: _Numbers, abv: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def oiv_alcohol_free_density(
    density: _Uncertain, abv: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
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
def original_gravity(
    abv: _Uncertain,
    final_gravity: _Uncertain,
    ethanol_yield: _Uncertain,
    co2_yield: _Uncertain,
    yeast_yield: _Uncertain,
    sample_c: _Uncertain,
    water_c: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
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
def tabarie_sg(
    alcohol_gravity: _Uncertain,
    extract_gravity: _Uncertain,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def tolman_2a_plus_e(abw: float, real_extract: float) -> float: ...
@overload
def tolman_2a_plus_e(
    abw: _Numbers, real_extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def tolman_2a_plus_e(
    abw: _Uncertain, real_extract: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
def gravity_methods() -> list[str]: ...
def gravity_method_index(name: str, /) -> int: ...

yields: dict[str, tuple[float, float, float]]

# strength without original gravity: inputs and strengths that know what they share

@type_check_only
class Input: ...

@type_check_only
class Found:
    def values(self) -> dict[str, Any]: ...

def independent_input(value: float, standard_uncertainty: float, name: str, /) -> Input: ...
def dependent_input(value: float, terms: Sequence[tuple[float, Input]], /) -> Input: ...
def found_by_hydrometer_and_refractometer(gravity: Input, refractive_index: Input, /) -> Found: ...
def found_by_hydrometer_and_brix(gravity: Input, brix: Input, /) -> Found: ...
def found_by_boiling_down(before: Input, after: Input, to_mass: bool, /) -> Found: ...
def found_by_tabarie(before: Input, after: Input, /) -> Found: ...
def found_by_co2_loss(
    lost_kg: Input,
    wash_l: Input,
    gravity: Input,
    temperature_c: Input,
    pressure_kpa: Input,
    airlock: bool,
    /,
) -> Found: ...
def found_by_boiling_point(boiling_c: Input, pressure_kpa: Input, gravity: Input, /) -> Found: ...
def found_by_distilling(
    distillate_abv: Input, distillate_ml: Input, sample_ml: Input, gravity: Input, recovery: _Pair | None, /
) -> Found: ...
def combine(found: Sequence[Found], /) -> dict[str, Any]: ...

# mash

@overload
def litre_degrees_of_extract(extract: float) -> float: ...
@overload
def litre_degrees_of_extract(
    extract: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def litre_degrees_of_extract(
    extract: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...
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
    batch: dict[str, Any],
    times_h: Sequence[float],
    belief: dict[str, Any],
    members: int,
    seed: int,
    threads: int,
    /,
) -> dict[str, Any]: ...
def forecast_with_readings(
    batch: dict[str, Any],
    times_h: Sequence[float],
    readings: list[dict[str, Any]],
    members: int,
    seed: int,
    threads: int,
    /,
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
@overload
def ventilation_m3_per_h(
    co2_l_per_h: _Uncertain, limit_ppm: _Uncertain, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> Any: ...

band_shares: tuple[float, ...]  # [%]
usual_members: int
most_members: int
most_exact_members: int
usual_seed: int
course_tolerance: tuple[float, float, float]  # relative, absolute, longest step [h]
bare_wall_w_per_m2_k: float
co2_limit_8h_ppm: float

# still

_LiquidRow: TypeAlias = tuple[float, float, float]  # mass [kg], ethanol [% mass], extract [% mass]
_Levels: TypeAlias = Sequence[tuple[str, float]]  # congener, level [g per hL of pure alcohol]

still_cautions: str
windows_note: str
usual_head_space: float  # [%]
glucose_molar_mass: float  # [g/mol]
cut_labels: tuple[str, ...]
jar_uncertainty: tuple[float, float]  # [% of the volume, % vol]
berl_saddle_bed: tuple[float, float, tuple[float, float, float]]  # void [%], surface [m2/m3], friction

def validate_still(still: dict[str, float], /) -> None: ...
def still_liquid(volume_l: float, abv: float, extract: float, /) -> dict[str, float]: ...
def still_liquid_by_mass(liquid: _LiquidRow, /) -> dict[str, float]: ...
def plan_charges(
    wash: _LiquidRow, reserve_l: float, reserve_abv: float, still: dict[str, float], /
) -> dict[str, Any]: ...
def strip(
    charge: _LiquidRow,
    still: dict[str, float] | None,
    pressure_kpa: float,
    stop: str,
    value: float,
    points: int,
    extract_molar_mass: float,
    /,
) -> dict[str, Any]: ...
def stripping_duty(
    charge: _LiquidRow,
    boiling_start_c: float,
    boiling_end_c: float,
    low_wines_l: float,
    curve: dict[str, _Array],
    still: dict[str, float],
    conditions: dict[str, float],
    /,
) -> dict[str, Any]: ...
def all_charges(
    duty: dict[str, float], low_wines_l: float, low_wines_abv: float, charges: int, turnaround_h: float, /
) -> dict[str, Any]: ...
def rectify(
    charge: _LiquidRow,
    plates: int,
    hold_up_kg: float,
    heat: dict[str, float],
    take_off: dict[str, Any],
    stop: dict[str, float],
    pressure_kpa: float,
    points: int,
    /,
) -> dict[str, Any]: ...
def minimum_reflux(pot_abv: float, distillate_abv: float, pressure_kpa: float, /) -> dict[str, Any]: ...
def stages_at_total_reflux(pot_abv: float, distillate_abv: float, pressure_kpa: float, /) -> float: ...
def fenske_stages(pot_abv: float, distillate_abv: float, relative_volatility: float, /) -> float: ...
def reflux_of_partial_condenser(
    coolant_l_per_h: float, inlet_c: float, outlet_c: float, vapour_c: float, power_kw: float, /
) -> dict[str, float]: ...
def reflux_of_divider(share: float, /) -> dict[str, float]: ...
def packings() -> list[tuple[str, float, float, float, float]]: ...
def plates_of_packing(height_m: float, hetp_m: float, /) -> float: ...
def whole_plates_of_packing(height_m: float, hetp_m: float, /) -> int: ...
def column_capacity(
    diameter_m: float,
    vapour_abv: float,
    flood_share: float,
    void: float,
    surface_m2_m3: float,
    friction: tuple[float, float, float],
    pressure_kpa: float,
    /,
) -> dict[str, Any]: ...
def congener(name: str, /) -> dict[str, Any]: ...
def congeners() -> list[dict[str, Any]]: ...
def congener_volatility(name: str, abw: float, pressure_kpa: float, /) -> dict[str, float]: ...
def congener_crossing(name: str, pressure_kpa: float, /) -> float: ...
def congener_run(
    pot_kg: Sequence[float],
    pot_abw: Sequence[float],
    levels: _Levels,
    pressure_kpa: float,
    volatility_power: float,
    /,
) -> dict[str, Any]: ...
def congener_run_with_ratios(
    pot_kg: Sequence[float],
    pot_abw: Sequence[float],
    distillate_abw: Sequence[float],
    levels: _Levels,
    ratios: Sequence[Sequence[float]],
    /,
) -> dict[str, Any]: ...
def windows(
    pot_kg: Sequence[float],
    pot_abw: Sequence[float],
    levels: _Levels,
    pressure_kpa: float,
    rules: list[dict[str, Any]] | None,
    /,
) -> dict[str, Any]: ...
def usual_boundaries() -> list[dict[str, Any]]: ...
def practice_figures() -> list[tuple[str, float, float, str, str]]: ...
def legal_lines() -> list[tuple[str, str, str, float, bool, str]]: ...
def validate_cut_label(name: str, /) -> None: ...
def work_out_cuts(jars: list[dict[str, Any]], /) -> dict[str, Any]: ...
def blend_jars(jars: list[dict[str, Any]], which: Sequence[int], /) -> dict[str, Any]: ...
def recycle_jars(jars: list[dict[str, Any]], labels: Sequence[str], /) -> dict[str, Any]: ...
def fill_jars(
    run: dict[str, Any], sizes_l: Sequence[float], each_l: float, temperature_c: float, /
) -> dict[str, Any]: ...

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
@overload
def apparent_abv(abv: float, sugar_g_per_l: float) -> float: ...
@overload
def apparent_abv(
    abv: _Numbers, sugar_g_per_l: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def apparent_abv(
    abv: _Uncertain | _Numbers,
    sugar_g_per_l: _Uncertain | _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
@overload
def abv_of_sweetened(apparent_abv: float, sugar_g_per_l: float) -> float: ...
@overload
def abv_of_sweetened(
    apparent_abv: _Numbers, sugar_g_per_l: _Numbers, *, out_of_range: _OutOfRange = "raise", out: _Array | None = None
) -> _Array: ...
@overload
def abv_of_sweetened(
    apparent_abv: _Uncertain | _Numbers,
    sugar_g_per_l: _Uncertain | _Numbers,
    *,
    out_of_range: _OutOfRange = "raise",
    out: _Array | None = None,
) -> Any: ...
def sweeten(
    abv: float, volume_l: float, target_abv: float, sugar_g_per_l: float, temperature_c: float, /
) -> dict[str, float]: ...
def bottles(
    abv: float, volume_l: float, bottle_l: float, temperature_c: float, filling_temperature_c: float, /
) -> dict[str, Any]: ...

# batch

batch_places: tuple[str, ...]
usual_coverage: float
usual_plan: dict[str, Any]

def plan(request: dict[str, Any], /) -> dict[str, Any]: ...
def plans(
    request: dict[str, Any],
    inputs: list[tuple[str, _Array]],
    count: int,
    threads: int,
    ends_at_error: bool,
    progress: Callable[[int, int], object] | None,
    /,
) -> tuple[dict[str, _Array], tuple[int, str, str] | None]: ...

plan_inputs: tuple[str, ...]

def ledger(pure_alcohol_l: _Pair, grain_kg: float, dry_grain_kg: _Pair, /) -> object: ...
def ledger_of_potential(
    bill: _BillItems, water_kg: float, assumptions: dict[str, _Pair], absorption: _Pair, /
) -> object: ...
def ledger_of_plan(request: dict[str, Any], /) -> object: ...
def ledger_expect(book: object, place: str, litres: _Pair, note: str, /) -> None: ...
def ledger_measure(book: object, place: str, litres: _Pair, note: str, /) -> None: ...
def ledger_measure_liquid(
    book: object,
    place: str,
    volume_l: _Pair,
    abv: _Pair,
    temperature_c: float,
    extract: float,
    note: str,
    /,
) -> None: ...
def ledger_forget(book: object, place: str, /) -> None: ...
def ledger_bring_in(book: object, stage: str, litres: _Pair, note: str, /) -> None: ...
def ledger_take_out(book: object, place: str, litres: _Pair, note: str, /) -> None: ...
def ledger_content(book: object, place: str, /) -> dict[str, Any] | None: ...
def ledger_is_measured(book: object, place: str, /) -> bool: ...
def ledger_rows(book: object, /) -> list[dict[str, Any]]: ...
def ledger_ends(book: object, /) -> list[dict[str, Any]]: ...
def ledger_losses(book: object, /) -> list[dict[str, Any]]: ...
def ledger_balance(book: object, /) -> dict[str, Any]: ...
def ledger_findings(book: object, coverage: float, /) -> list[dict[str, Any]]: ...
def ledger_yield_at(book: object, place: str, /) -> dict[str, Any]: ...
def ledger_yields(book: object, /) -> list[dict[str, Any]]: ...
def ledger_sheet(book: object, coverage: float, /) -> str: ...
def published_alcohol_yields() -> list[tuple[str, str, float]]: ...

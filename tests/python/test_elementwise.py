"""What every function of numbers does alike: floats, integers, lists, arrays of any layout, NaN, out= and out_of_range=."""

import itertools
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import liquid, mash, strength

uncertainties = pytest.importorskip("uncertainties")

WARM = (5.0, 35.0)
# Function and, per argument, a range inside which any combination is allowed.
FUNCTIONS: dict[str, tuple[Any, tuple[tuple[float, float], ...]]] = {
    "water_density": (liquid.water_density, ((0.0, 100.0),)),
    "sucrose_density": (liquid.sucrose_density, ((0.0, 70.0), (0.0, 80.0))),
    "extract_from_density": (liquid.extract_from_density, ((1000.0, 1300.0), WARM)),
    "glucose_density": (liquid.glucose_density, ((0.0, 60.0),)),
    "glucose_from_density": (liquid.glucose_from_density, ((999.0, 1270.0),)),
    "extract_per_litre": (liquid.extract_per_litre, ((0.0, 70.0), (0.0, 80.0))),
    "extract_from_per_litre": (liquid.extract_from_per_litre, ((0.0, 900.0), WARM)),
    "spirit_density": (liquid.spirit_density, ((0.0, 100.0), (0.0, 40.0))),
    "spirit_density_from_abv": (liquid.spirit_density_from_abv, ((0.0, 100.0), (0.0, 40.0))),
    "abw_from_density": (liquid.abw_from_density, ((810.0, 993.0), WARM)),
    "abv_from_density": (liquid.abv_from_density, ((810.0, 993.0), WARM)),
    "abv_from_abw": (liquid.abv_from_abw, ((0.0, 100.0),)),
    "abw_from_abv": (liquid.abw_from_abv, ((0.0, 100.0),)),
    "us_proof_from_abv": (liquid.us_proof_from_abv, ((0.0, 100.0),)),
    "abv_from_us_proof": (liquid.abv_from_us_proof, ((0.0, 200.0),)),
    "us_proof_from_abw": (liquid.us_proof_from_abw, ((0.0, 100.0),)),
    "abw_from_us_proof": (liquid.abw_from_us_proof, ((0.0, 200.0),)),
    "density_in_air": (liquid.density_in_air, ((700.0, 1400.0),)),
    "density_in_vacuum": (liquid.density_in_vacuum, ((700.0, 1400.0),)),
    "wash_density": (liquid.wash_density, ((0.0, 50.0), (0.0, 30.0), (0.0, 40.0))),
    "wash_gravity": (liquid.wash_gravity, ((0.0, 50.0), (0.0, 30.0))),
    "wash_abv": (liquid.wash_abv, ((0.0, 50.0), (0.0, 30.0))),
    "wash_abw": (liquid.wash_abw, ((0.0, 50.0), (0.0, 30.0))),
    "wash_extract": (liquid.wash_extract, ((1000.0, 1100.0), (0.0, 20.0), WARM)),
    "wash_abw_from_density": (liquid.wash_abw_from_density, ((950.0, 993.0), (0.0, 20.0), WARM)),
    "dry_extract": (strength.dry_extract, ((999.0, 1050.0), (0.0, 15.0))),
    "duty_abv": (strength.duty_abv, ((0.0, 100.0),)),
    "cutaia_a": (strength.cutaia_a, ((9.5, 18.0), (0.0, 7.0))),
    "cutaia_b": (strength.cutaia_b, ((9.5, 18.0), (2.0, 9.0))),
    "cutaia_c": (strength.cutaia_c, ((9.5, 18.0), (4.0, 9.0), (0.0, 3.5))),
    "doemens_a": (strength.doemens_a, ((9.5, 18.0), (0.0, 7.0))),
    "doemens_b": (strength.doemens_b, ((9.5, 18.0), (2.0, 9.0))),
    "doemens_c": (strength.doemens_c, ((9.5, 18.0), (4.0, 9.0), (0.0, 3.5))),
    "balling_alcohol_from_oe_re": (strength.balling_alcohol_from_oe_re, ((10.0, 18.0), (2.0, 9.0))),
    "balling_real_extract": (strength.balling_real_extract, ((10.0, 18.0), (0.0, 7.0))),
    "balling_original_extract": (strength.balling_original_extract, ((2.0, 6.0), (2.0, 8.0))),
    "tolman_2a_plus_e": (strength.tolman_2a_plus_e, ((2.0, 6.0), (2.0, 8.0))),
    "asbc_beer6_rdf": (strength.asbc_beer6_rdf, ((10.0, 18.0), (2.0, 9.0))),
    "abv_by_convention": (strength.abv_by_convention, ((2.0, 8.0), (0.99, 1.03))),
    "tabarie_sg": (strength.tabarie_sg, ((0.98, 1.0), (1.0, 1.05))),
    "oiv_alcohol_free_density": (strength.oiv_alcohol_free_density, ((985.0, 1020.0), (5.0, 15.0))),
    "bringhurst_attenuation": (strength.bringhurst_attenuation, ((10.0, 18.0), (0.0, 3.0))),
    "water_refractive_index": (liquid.water_refractive_index, ((0.0, 60.0),)),
    "sucrose_refractive_index": (liquid.sucrose_refractive_index, ((0.0, 70.0), (10.0, 40.0))),
    "brix_from_refractive_index": (liquid.brix_from_refractive_index, ((1.335, 1.45), (10.0, 40.0))),
    "glucose_refractive_index": (liquid.glucose_refractive_index, ((0.0, 60.0),)),
    "glucose_from_refractive_index": (liquid.glucose_from_refractive_index, ((1.335, 1.43),)),
    "hydrolysate_refractive_index": (liquid.hydrolysate_refractive_index, ((0.0, 66.0), (20.0, 60.0))),
    "hydrolysate_from_refractive_index": (liquid.hydrolysate_from_refractive_index, ((1.335, 1.45), (20.0, 60.0))),
    "hydrolysate_from_brix": (liquid.hydrolysate_from_brix, ((0.0, 60.0),)),
    "spirit_refractive_index": (liquid.spirit_refractive_index, ((0.0, 100.0), (10.0, 40.0))),
    "abw_from_refractive_index": (liquid.abw_from_refractive_index, ((1.335, 1.353), (10.0, 40.0))),
    "wash_refractive_index": (liquid.wash_refractive_index, ((0.0, 50.0), (0.0, 30.0), (10.0, 40.0))),
    "wash_extract_from_refractive_index": (
        liquid.wash_extract_from_refractive_index,
        ((1.345, 1.4), (0.0, 10.0), (10.0, 40.0)),
    ),
    "wash_abw_from_refractive_index": (
        liquid.wash_abw_from_refractive_index,
        ((1.345, 1.35), (0.0, 5.0), (10.0, 40.0)),
    ),
    "boiling_point": (liquid.boiling_point, ((0.0, 50.0), (30.0, 105.0), (0.0, 20.0))),
    "vapour_abw": (liquid.vapour_abw, ((0.0, 50.0), (30.0, 105.0), (0.0, 20.0))),
    "relative_volatility": (liquid.relative_volatility, ((0.0, 50.0), (30.0, 105.0), (0.0, 20.0))),
    "dew_point": (liquid.dew_point, ((0.0, 100.0), (30.0, 105.0))),
    "abw_from_vapour_abw": (liquid.abw_from_vapour_abw, ((0.0, 100.0), (30.0, 105.0))),
    "ethanol_vapour_pressure": (liquid.ethanol_vapour_pressure, ((0.0, 110.0),)),
    "water_vapour_pressure": (liquid.water_vapour_pressure, ((0.5, 110.0),)),
    "pressure_at_altitude": (liquid.pressure_at_altitude, ((-100.0, 5000.0),)),
    "altitude_of_pressure": (liquid.altitude_of_pressure, ((50.0, 110.0),)),
    "station_pressure": (liquid.station_pressure, ((95.0, 105.0), (-100.0, 5000.0))),
    "mole_percent_from_abw": (liquid.mole_percent_from_abw, ((0.0, 100.0),)),
    "abw_from_mole_percent": (liquid.abw_from_mole_percent, ((0.0, 100.0),)),
    "spirit_heat_capacity": (liquid.spirit_heat_capacity, ((0.0, 100.0), (0.0, 110.0))),
    "spirit_enthalpy": (liquid.spirit_enthalpy, ((0.0, 100.0), (0.0, 110.0))),
    "vapour_enthalpy": (liquid.vapour_enthalpy, ((0.0, 100.0), (0.0, 110.0))),
    "latent_heat": (liquid.latent_heat, ((0.0, 100.0), (0.0, 110.0))),
    "evaporation_heat": (liquid.evaporation_heat, ((0.0, 100.0), (0.0, 60.0), (70.0, 110.0))),
    "wash_heat_capacity": (liquid.wash_heat_capacity, ((0.0, 50.0), (0.0, 30.0), (0.0, 110.0))),
    "wash_heating_kwh": (
        liquid.wash_heating_kwh,
        ((10.0, 200.0), (0.0, 50.0), (0.0, 30.0), (0.0, 50.0), (60.0, 110.0)),
    ),
    "grain_heat_capacity": (
        liquid.grain_heat_capacity,
        ((0.0, 50.0), (0.0, 20.0), (0.0, 10.0), (0.0, 10.0), (0.0, 5.0), (0.0, 110.0)),
    ),
    "grain_heating_kwh": (
        liquid.grain_heating_kwh,
        (
            (10.0, 200.0),
            (0.0, 50.0),
            (0.0, 20.0),
            (0.0, 10.0),
            (0.0, 10.0),
            (0.0, 5.0),
            (0.0, 50.0),
            (60.0, 110.0),
        ),
    ),
    "litre_degrees_of_extract": (mash.litre_degrees_of_extract, ((1.0, 70.0),)),
}
NAMES = sorted(FUNCTIONS)
Arguments = tuple[np.ndarray[Any, np.dtype[np.float64]], ...]


def grid(name: str, points: int = 7) -> Arguments:
    """Arguments along axes of their own, so that they broadcast."""
    ranges = FUNCTIONS[name][1]
    few = len(ranges) > 4  # the number of points grows with the power of it
    lines = [np.linspace(low, high, 3 if few else points + i) for i, (low, high) in enumerate(ranges)]
    return tuple(line.reshape([-1 if axis == i else 1 for axis in range(len(lines))]) for i, line in enumerate(lines))


def middle(name: str) -> list[float]:
    return [0.5 * (low + high) for low, high in FUNCTIONS[name][1]]


def test_list_is_complete() -> None:
    public = {
        n
        for module in (liquid, strength, mash)
        for n in module.__all__
        if type(getattr(module, n)).__name__ == "builtin_function_or_method"
    }
    assert public - {"cutaia_q", "doemens_q"} == set(FUNCTIONS)  # those two are tried in test_strength


@pytest.mark.parametrize("name", NAMES)
def test_float_in_float_out(name: str) -> None:
    y = FUNCTIONS[name][0](*middle(name))
    assert type(y) is float
    assert np.isfinite(y)


@pytest.mark.parametrize("name", NAMES)
def test_broadcast_equals_loop_bit_for_bit(name: str) -> None:
    f = FUNCTIONS[name][0]
    x = grid(name)
    found = f(*x)
    assert found.dtype == np.float64
    expected = [f(*map(float, at)) for at in itertools.product(*(line.ravel() for line in x))]
    assert found.ravel().tobytes() == np.array(expected).tobytes()
    assert np.isfinite(found).all()


@pytest.mark.parametrize("name", NAMES)
def test_any_layout_gives_the_same(name: str) -> None:
    f = FUNCTIONS[name][0]
    x = [np.array(part) for part in np.broadcast_arrays(*grid(name))]
    expected = f(*x)
    spread = [np.repeat(part, 2, axis=-1)[..., ::2] for part in x]
    assert not spread[0].flags.c_contiguous
    assert f(*spread).tobytes() == expected.tobytes()
    assert np.array_equal(f(*(part[::-1] for part in x)), expected[::-1])
    assert np.array_equal(f(*(np.asfortranarray(part) for part in x)), expected)
    assert np.array_equal(f(*(part.T for part in x)), expected.T)
    assert np.array_equal(f(*(part.astype(">f8") for part in x)), expected)
    assert np.array_equal(f(*(part.tolist() for part in x)), expected)
    single = [part.astype(np.float32) for part in x]
    inside = [
        np.clip(part.astype(np.float64), low, high)
        for part, (low, high) in zip(single, FUNCTIONS[name][1], strict=True)
    ]
    rounded = f(*single, out_of_range="nan")
    assert rounded.dtype == np.float64
    same = np.all([a == b for a, b in zip(single, inside, strict=True)], axis=0)
    assert np.array_equal(rounded[same], f(*inside)[same])


@pytest.mark.parametrize("name", NAMES)
def test_zero_dimensions_integers_and_nothing(name: str) -> None:
    f = FUNCTIONS[name][0]
    x = middle(name)
    zero_d = f(*map(np.array, x))
    assert isinstance(zero_d, float)
    assert zero_d == f(*x)
    assert f(*map(np.float64, x)) == f(*x)
    assert f(*(np.empty((0, 3)) for _ in x)).shape == (0, 3)
    assert f(*([] for _ in x)).shape == (0,)
    if all(part >= 2.0 for part in x):  # an integer near 1 is no gravity of interest
        whole = [round(part) for part in x]
        assert isinstance(f(*whole), float)
        assert f(*whole) == f(*map(float, whole))
        assert np.array_equal(f(*([part] for part in whole)), [f(*map(float, whole))])


@pytest.mark.parametrize("name", NAMES)
def test_out(name: str) -> None:
    f = FUNCTIONS[name][0]
    x = grid(name)
    expected = f(*x)
    out = np.full(expected.shape, -1.0)
    assert f(*x, out=out) is out
    assert np.array_equal(out, expected)
    strided = np.full((*expected.shape, 2), -1.0)
    f(*x, out=strided[..., 0])
    assert np.array_equal(strided[..., 0], expected)
    assert (strided[..., 1] == -1.0).all()
    with pytest.raises(ValueError, match="broadcast"):
        f(*x, out=np.empty((2,) * expected.ndim))


@pytest.mark.parametrize("name", NAMES)
def test_nan_in_nan_out(name: str) -> None:
    f = FUNCTIONS[name][0]
    for i in range(len(middle(name))):
        x = middle(name)
        x[i] = float("nan")
        assert np.isnan(f(*x))
        found = f(*([a, b] for a, b in zip(x, middle(name), strict=True)))
        assert np.isnan(found).tolist() == [True, False]


@pytest.mark.parametrize("name", [n for n in NAMES if n not in ("density_in_air", "density_in_vacuum")])
def test_outside_the_range(name: str) -> None:
    f = FUNCTIONS[name][0]
    good = middle(name)
    for i, beyond in itertools.product(range(len(good)), (1e6, -1e6, float("inf"), -float("inf"))):
        if name.endswith("_heating_kwh") and i == 0 and beyond == 1e6:
            continue  # any mass is allowed
        bad = list(good)
        bad[i] = beyond
        with pytest.raises(ferment.Error):
            f(*bad)
        columns = [[a, b, b] for a, b in zip(good, bad, strict=True)]
        with pytest.raises(ferment.RangeError, match=r"^element \[1\]: "):
            f(*columns)
        with pytest.raises(ferment.RangeError, match=r"^element \[1, 0\]: "):
            f(*(np.reshape(column[:2], (2, 1)) for column in columns))
        found = f(*columns, out_of_range="nan")
        assert np.isnan(found).tolist() == [False, True, True]
        assert found[0] == f(*good)


@pytest.mark.parametrize("name", NAMES)
def test_wrong_arguments(name: str) -> None:
    f = FUNCTIONS[name][0]
    x = middle(name)
    with pytest.raises(ferment.InputError, match=r'^out_of_range "skip" must be "raise" or "nan"$'):
        f(*x, out_of_range="skip")
    for wrong in ("20", None, 1j, object()):
        with pytest.raises(TypeError):
            f(*x[:-1], wrong)
    with pytest.raises(TypeError):
        f(*x, 1.0)
    with pytest.raises(TypeError):
        f()


def test_pandas_series_stays_one() -> None:
    pandas = pytest.importorskip("pandas")
    readings = pandas.Series([10.0, 20.0], index=["morning", "evening"])
    found = liquid.water_density(readings)
    assert list(found.index) == ["morning", "evening"]
    assert found["evening"] == liquid.water_density(20.0)


def test_eight_threads_give_what_one_gives() -> None:
    rng = np.random.default_rng(1)
    abw, t = rng.uniform(0.0, 100.0, 20_000), rng.uniform(0.0, 40.0, 20_000)
    rho = liquid.spirit_density(abw, t)
    expected = liquid.abv_from_density(rho, t, out_of_range="nan")
    bad = rho.copy()
    bad[7777] = 700.0

    def work(i: int) -> bool:
        if i % 2:  # errors of one thread must not reach another
            with pytest.raises(ferment.RangeError, match=r"^element \[7777\]: density 700 kg/m3 "):
                liquid.abw_from_density(bad, t)
            return True
        return bool(liquid.abv_from_density(rho, t, out_of_range="nan").tobytes() == expected.tobytes())

    with ThreadPoolExecutor(8) as pool:
        assert all(pool.map(work, range(64)))


def test_arguments_left_out_have_their_usual_values() -> None:
    assert liquid.sucrose_refractive_index(10.0) == liquid.sucrose_refractive_index(10.0, 20.0)
    assert liquid.boiling_point(8.0) == liquid.boiling_point(8.0, 101.325, 0.0)
    assert liquid.boiling_point(8.0, extract=3.0) == liquid.boiling_point(8.0, 101.325, 3.0)
    assert np.array_equal(liquid.boiling_point([8.0, 9.0]), liquid.boiling_point([8.0, 9.0], 101.325, 0.0))
    assert np.array_equal(liquid.vapour_abw(8.0, [90.0, 101.325]), liquid.vapour_abw([8.0], [90.0, 101.325], [0.0]))
    with pytest.raises(TypeError):
        liquid.boiling_point()  # type: ignore[call-overload]


# Numbers of the uncertainties package, against its own wrap() of the same function.


def share(name: str, i: int) -> float:
    low, high = FUNCTIONS[name][1][i]
    return 1e-3 * (high - low)


SMOOTH = [name for name in NAMES if name != "duty_abv"]  # which changes in steps


@pytest.mark.parametrize("name", SMOOTH)
def test_as_the_package_itself_would(name: str) -> None:
    f = FUNCTIONS[name][0]
    x = [uncertainties.ufloat(value, share(name, i)) for i, value in enumerate(middle(name))]
    found, expected = f(*x), uncertainties.wrap(f)(*x)
    assert isinstance(found, uncertainties.UFloat)
    assert found.nominal_value == f(*middle(name))
    assert found.std_dev == pytest.approx(expected.std_dev, rel=1e-5)
    for variable in x:
        part = expected.derivatives[variable]
        assert found.derivatives[variable] == pytest.approx(part, rel=1e-5, abs=1e-6 * abs(expected.nominal_value))
    assert (found - f(*x)).std_dev <= 1e-12 * found.std_dev


@pytest.mark.parametrize("name", SMOOTH)
def test_one_uncertain_argument_beside_plain_ones_and_arrays(name: str) -> None:
    f = FUNCTIONS[name][0]
    for i in range(len(middle(name))):
        x: list[Any] = list(middle(name))
        x[i] = uncertainties.ufloat(x[i], share(name, i))
        alone = f(*x)
        assert alone.derivatives.keys() <= {x[i]}
        many = f(*(np.array([y, y], dtype=object) if j == i else [y, y] for j, y in enumerate(x)))
        assert many.shape == (2,)
        assert many.dtype == object
        for one in many:
            assert one.nominal_value == alone.nominal_value
            assert one.std_dev == pytest.approx(alone.std_dev, rel=1e-9)
            assert (one - alone).std_dev <= 1e-9 * alone.std_dev


# Away from 20 degC the density of a wash jumps by 0.004 kg/m3 from pure water to the least of ethanol or extract, between two formulas for water.
@pytest.mark.parametrize("name", [name for name in SMOOTH if name not in ("wash_density", "wash_extract")])
def test_ends_of_the_range_have_a_slope(name: str) -> None:
    f, ranges = FUNCTIONS[name]
    for end in (0, 1):
        corner = [r[end] for r in ranges]
        x = [uncertainties.ufloat(value, share(name, i)) for i, value in enumerate(corner)]
        found = f(*x)
        assert found.nominal_value == f(*corner)
        inwards = [value + (1 - 2 * end) * 1e-5 * (r[1] - r[0]) for value, r in zip(corner, ranges, strict=True)]
        near = f(*(uncertainties.ufloat(value, share(name, i)) for i, value in enumerate(inwards)))
        assert found.std_dev == pytest.approx(near.std_dev, rel=0.02)

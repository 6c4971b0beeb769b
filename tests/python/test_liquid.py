"""Densities against published values and other implementations; inverses against their functions and against a plain root finder."""

import warnings
from collections.abc import Callable
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import liquid

Reference = Callable[[str], list[dict[str, str]]]
KELVIN = 273.15


def test_water_against_another_iapws_implementation() -> None:
    iapws = pytest.importorskip("iapws")
    from iapws._iapws import _Liquid

    t = np.linspace(0.0, 100.0, 41)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # above its own bounds the other side warns; it is the figures that count
        release = np.array([_Liquid(KELVIN + x, 0.1)["rho"] for x in t])
        scientific = np.array([iapws.IAPWS95(T=KELVIN + x, P=0.101325).rho for x in t[:-1]])  # at 100 degC it boils
    assert np.abs(liquid.water_density(t) - release).max() <= 0.001
    assert np.abs(liquid.water_density(t[:-1]) - scientific).max() <= 0.005


def test_water_against_another_property_library() -> None:
    pytest.importorskip("CoolProp")
    from CoolProp.CoolProp import PropsSI

    t = np.linspace(0.01, 99.0, 100)  # below lies ice
    other = PropsSI("D", "T", KELVIN + t, "P", 101325.0, "Water")
    assert np.abs(liquid.water_density(t) - other).max() <= 0.005


def test_water_table(reference: Reference) -> None:
    rows = reference("ethanol_water/water_density_0_100C")
    t = np.array([float(row["t_C"]) for row in rows])
    printed = np.array([float(row["IAPWS_SR6_0_1MPa"]) for row in rows])
    assert np.abs(liquid.water_density(t) - printed).max() <= 0.0005


def test_spirit_formula_to_its_last_digit(reference: Reference) -> None:
    rows = reference("ethanol_water/oiml_formula_computed_grid")
    p, t, rho = (np.array([float(row[key]) for row in rows]) for key in ("mass_percent", "t_C", "rho_kg_m3"))
    assert len(rows) > 100
    assert np.abs(liquid.spirit_density(p, t) - rho).max() <= 2e-6


def test_sucrose_polynomial_to_its_last_digit(reference: Reference) -> None:
    rows = reference("sugar_solutions/icumsa_sucrose_density_evaluated_grid")
    t, w, rho = (np.array([float(row[key]) for row in rows]) for key in ("t_degC", "sucrose_mass_pct", "rho_kg_m3"))
    assert np.abs(liquid.sucrose_density(w, t) - rho).max() <= 0.001


@pytest.mark.parametrize(
    ("table", "function", "tolerance", "greatest"),
    [
        # CRC Handbook 102nd ed. (2021), section 5. Rounding is 0.05; the sucrose column rests on older data.
        ("sugar_solutions/crc_20C_sucrose", lambda w: liquid.sucrose_density(w, 20.0), 0.1, 42.0),
        ("sugar_solutions/crc_20C_glucose", liquid.glucose_density, 0.06, 60.0),
    ],
)
def test_sugar_handbook(reference: Reference, table: str, function: Any, tolerance: float, greatest: float) -> None:
    rows = [row for row in reference(table) if float(row["mass_pct"]) <= greatest]
    w, rho = (np.array([float(row[key]) for row in rows]) for key in ("mass_pct", "density_g_cm3"))
    assert len(rows) >= 20
    assert np.abs(function(w) - 1000.0 * rho).max() <= tolerance


@pytest.mark.parametrize(
    ("forward", "inverse", "low", "high"),
    [
        (liquid.sg_from_plato, liquid.plato_from_sg, 0.0, 70.0),
        (lambda p: liquid.sg_from_plato(p, "15/15"), lambda g: liquid.plato_from_sg(g, "15/15"), 0.0, 70.0),
        (lambda p: liquid.sg_from_plato(p, "60/60F"), lambda g: liquid.plato_from_sg(g, "60/60F"), 0.0, 70.0),
        (
            lambda p: liquid.sg_from_plato(p, "20/4", in_air=True),
            lambda g: liquid.plato_from_sg(g, "20/4", in_air=True),
            0.0,
            70.0,
        ),
        (lambda w: liquid.sucrose_density(w, 65.0), lambda d: liquid.extract_from_density(d, 65.0), 0.0, 70.0),
        (liquid.glucose_density, liquid.glucose_from_density, 0.0, 60.0),
        (lambda w: liquid.extract_per_litre(w, 20.0), lambda c: liquid.extract_from_per_litre(c, 20.0), 0.0, 70.0),
        (lambda p: liquid.spirit_density(p, 20.0), lambda d: liquid.abw_from_density(d, 20.0), 0.0, 100.0),
        (lambda p: liquid.spirit_density(p, 35.0), lambda d: liquid.abw_from_density(d, 35.0), 0.0, 100.0),
        (lambda p: liquid.spirit_density(p, -15.0), lambda d: liquid.abw_from_density(d, -15.0), 25.0, 100.0),
        (liquid.abv_from_abw, liquid.abw_from_abv, 0.0, 100.0),
        (liquid.us_proof_from_abv, liquid.abv_from_us_proof, 0.0, 100.0),
        (liquid.us_proof_from_abw, liquid.abw_from_us_proof, 0.0, 100.0),
        (lambda e: liquid.wash_abv(e, 12.0), lambda q: liquid.wash_abw(q, 12.0), 0.0, 60.0),
        (lambda x: liquid.wash_density(8.0, x, 25.0), lambda d: liquid.wash_extract(d, 8.0, 25.0), 0.0, 60.0),
        (lambda e: liquid.wash_density(e, 3.0, 25.0), lambda d: liquid.wash_abw_from_density(d, 3.0, 25.0), 0.0, 90.0),
        (liquid.density_in_air, liquid.density_in_vacuum, 700.0, 1400.0),
        (liquid.density_from_sg, liquid.sg_from_density, 0.8, 1.3),
        (liquid.points_from_sg, liquid.sg_from_points, 0.8, 1.3),
    ],
)
def test_inverse(forward: Any, inverse: Any, low: float, high: float) -> None:
    brentq = pytest.importorskip("scipy.optimize").brentq
    x = np.linspace(low, high, 1001)
    assert np.abs(inverse(forward(x)) - x).max() <= 1e-10 * max(1.0, high)
    width = high - low
    for at in (low + 0.137 * width, low + 0.5 * width, low + 0.861 * width):
        y = forward(at)
        root = brentq(lambda z, y=y: forward(z) - y, low, high, xtol=1e-13, rtol=1e-14)
        assert abs(inverse(y) - root) <= 1e-9 * max(1.0, high)


def test_references_of_a_gravity() -> None:
    assert set(liquid.REFERENCES) == {"20/20", "15/15", "60/60F", "20/4"}
    with pytest.raises(TypeError):
        liquid.REFERENCES["25/25"] = (25.0, 25.0)  # type: ignore[index]
    for name, (sample_c, water_c) in liquid.REFERENCES.items():
        by_density = liquid.sucrose_density(12.0, sample_c) / liquid.sucrose_density(0.0, water_c)
        assert liquid.sg_from_plato(12.0, name) == pytest.approx(by_density, rel=1e-14)
        back = liquid.convert_sg(liquid.convert_sg(1.05, "20/20", name), name, "20/20")
        assert back == pytest.approx(1.05, abs=1e-12)
    assert liquid.sg_from_plato(0.0) == 1.0
    # Weighing in air draws a gravity away from 1 by (rho_air / rho_water) (SG - 1), nearly.
    in_air, true = liquid.sg_from_plato(20.0, in_air=True), liquid.sg_from_plato(20.0)
    assert in_air - true == pytest.approx(1.2 / 998.2 * (true - 1.0), rel=0.01)


def test_gravity_functions_take_arrays() -> None:
    plato = np.linspace(0.0, 70.0, 15)
    assert np.array_equal(liquid.sg_from_plato(plato), [liquid.sg_from_plato(float(p)) for p in plato])
    sg = liquid.sg_from_plato(plato)
    assert np.array_equal(liquid.plato_from_sg(sg), [liquid.plato_from_sg(float(g)) for g in sg])
    assert np.isnan(liquid.plato_from_sg([1.05, 0.99], out_of_range="nan")).tolist() == [False, True]
    assert type(liquid.plato_from_sg(1.05)) is float
    assert isinstance(liquid.plato_from_sg(1), float)
    assert liquid.plato_from_sg(1) == 0.0
    assert np.isnan(liquid.plato_from_sg(0.99, out_of_range="nan"))
    with pytest.raises(ferment.RangeError, match=r"^density -5 kg/m3 is outside 500 to 2000 kg/m3 "):
        liquid.sg_from_density(-5.0)
    with pytest.raises(ferment.RangeError, match=r"^element \[1\]: density inf kg/m3 is outside"):
        liquid.density_in_air([1000.0, np.inf])
    with pytest.raises(ferment.RangeError, match=r"^gravity 0 is outside "):
        liquid.density_from_sg(0.0)
    assert liquid.points_from_sg([1.05, 1.0]) == pytest.approx([50.0, 0.0], abs=1e-12)
    assert liquid.sg_from_points(50) == 1.05


def test_two_definitions_of_strength() -> None:
    # 27 CFR 30.11: proof is twice % vol at 60 degF; ethanol and the mixture shrink differently on the way from 20 degC.
    assert liquid.us_proof_from_abv(50.0) == pytest.approx(99.88, abs=0.005)
    assert liquid.us_proof_from_abv(100.0) == pytest.approx(200.0, abs=1e-12)
    assert liquid.us_proof_from_abv(0.0) == 0.0


def test_wash_at_its_limits() -> None:
    p = np.linspace(0.0, 100.0, 21)
    assert liquid.wash_density(p, 0.0, 20.0) == pytest.approx(liquid.spirit_density(p, 20.0), abs=1e-9)
    assert liquid.wash_abv(p, 0.0) == pytest.approx(liquid.abv_from_abw(p), abs=1e-11)
    x = np.linspace(0.0, 70.0, 15)
    # Sugar and spirit formulas have each its own water, 0.002 kg/m3 apart.
    assert liquid.wash_density(0.0, x, 20.0) == pytest.approx(liquid.sucrose_density(x, 20.0), abs=0.01)
    assert liquid.wash_gravity(0.0, 0.0) == pytest.approx(1.0, abs=1e-12)


def test_density_falls_with_alcohol_and_rises_with_sugar() -> None:
    w = np.linspace(0.0, 70.0, 141)
    for t in (0.0, 20.0, 80.0):
        assert (np.diff(liquid.sucrose_density(w, t)) > 0.0).all()
    p = np.linspace(0.0, 100.0, 201)
    for t in (5.0, 20.0, 40.0):
        assert (np.diff(liquid.spirit_density(p, t)) < 0.0).all()


# Refraction, boiling and heat: the compiled part is tested against the tables; here that the right one of them is called, in the right units.


def test_refractive_index_tables(reference: Reference) -> None:
    rows = reference("sugar_solutions/icumsa1974_refractive_index_from_memory")
    w, n = (np.array([float(r[key]) for r in rows]) for key in ("mass_pct", "nD_20C"))
    assert np.abs(liquid.sucrose_refractive_index(w) - n).max() <= 4e-5
    assert np.abs(liquid.brix_from_refractive_index(n[1:]) - w[1:]).max() <= 0.025  # 4e-5 over a slope of 0.0016 per %
    rows = reference("sugar_solutions/iso1743_glucose_syrup_refractive_index")
    rows = [r for r in rows if not r["remark"]]
    w, n = (np.array([float(r[key]) for r in rows]) for key in ("dry_matter_mass_pct", "nD_45C"))
    assert np.abs(liquid.hydrolysate_refractive_index(w, 45.0) - n).max() <= 2.15e-5
    rows = reference("sugar_solutions/crc_20C_glucose")
    w, n = (np.array([float(r[key]) for r in rows]) for key in ("mass_pct", "nD_20C"))
    assert np.abs(liquid.glucose_refractive_index(w) - n).max() <= 1e-4
    assert liquid.water_refractive_index(20.0) == liquid.wash_refractive_index(0.0, 0.0)
    assert liquid.spirit_refractive_index(40.0, 15.0) == pytest.approx(liquid.wash_refractive_index(40.0, 0.0, 15.0))


def test_refractive_indices_and_their_inverses() -> None:
    t = np.linspace(10.0, 40.0, 4)
    x = np.linspace(0.0, 60.0, 13)[:, None]
    warm = np.linspace(20.0, 60.0, 4)
    assert liquid.brix_from_refractive_index(liquid.sucrose_refractive_index(x, t), t) == pytest.approx(
        x + 0.0 * t, abs=1e-8
    )
    assert liquid.glucose_from_refractive_index(liquid.glucose_refractive_index(x)) == pytest.approx(x, abs=1e-8)
    syrup = liquid.hydrolysate_refractive_index(x, warm)
    assert liquid.hydrolysate_from_refractive_index(syrup, warm) == pytest.approx(x + 0.0 * warm, abs=1e-8)
    assert liquid.abw_from_refractive_index(liquid.spirit_refractive_index(x, t), t) == pytest.approx(
        x + 0.0 * t, abs=1e-7
    )
    n = liquid.wash_refractive_index(x / 5.0, 4.0, t)
    assert liquid.wash_abw_from_refractive_index(n, 4.0, t) == pytest.approx(x / 5.0 + 0.0 * t, abs=1e-7)
    assert liquid.wash_extract_from_refractive_index(n, x / 5.0, t) == pytest.approx(4.0 + 0.0 * n, abs=1e-7)
    assert liquid.hydrolysate_from_brix(20.0) == pytest.approx(20.0 / 1.045, abs=0.05)  # 4.4 to 4.5 % high, ISO 1743


def test_boiling_and_vapour(reference: Reference) -> None:
    # Kamihama et al. (2012), 101.3 kPa; tolerances as in the test of the compiled part.
    rows = reference("distillation/vle_kamihama_2012")
    kelvin, x, y = (np.array([float(r[key]) for r in rows]) for key in ("T_K", "x", "y"))
    abw = liquid.abw_from_mole_percent(100.0 * x)
    assert liquid.mole_percent_from_abw(abw) == pytest.approx(100.0 * x, abs=1e-10)
    assert np.abs(liquid.boiling_point(abw, 101.3) + KELVIN - kelvin).max() <= 0.5
    vapour = liquid.vapour_abw(abw, 101.3)
    assert np.abs(liquid.mole_percent_from_abw(vapour) / 100.0 - y).max() <= 0.012
    assert liquid.dew_point(vapour, 101.3) == pytest.approx(liquid.boiling_point(abw, 101.3), abs=1e-8)
    assert liquid.abw_from_vapour_abw(vapour, 101.3) == pytest.approx(abw, abs=1e-7)
    z, v = x, liquid.mole_percent_from_abw(vapour) / 100.0
    inner = (z > 0.0) & (z < 1.0)
    ratio = v[inner] / (1.0 - v[inner]) / (z[inner] / (1.0 - z[inner]))
    assert liquid.relative_volatility(abw[inner], 101.3) == pytest.approx(ratio, rel=1e-9)
    assert liquid.boiling_point(0.0) == pytest.approx(100.02, abs=0.005)  # as printed beside the constants
    assert liquid.boiling_point(100.0) == pytest.approx(78.31, abs=0.005)
    assert liquid.water_vapour_pressure(liquid.boiling_point(0.0, 80.0)) == pytest.approx(80.0, rel=1e-9)
    assert liquid.ethanol_vapour_pressure(liquid.boiling_point(100.0, 80.0)) == pytest.approx(80.0, rel=1e-9)
    assert 0.05 < liquid.boiling_point(0.97 * 8.0, extract=3.0) - liquid.boiling_point(8.0) < 0.12


def test_azeotrope() -> None:
    found = liquid.azeotrope()
    assert found.abw == pytest.approx(95.6, abs=0.1)  # Evans (1916), Perry table 13-1
    assert found.boiling_c == pytest.approx(78.15, abs=0.1)
    assert found.abv == pytest.approx(liquid.abv_from_abw(float(found.abw)))
    assert liquid.vapour_abw(float(found.abw)) == pytest.approx(found.abw, abs=1e-9)
    lower = liquid.azeotrope([101.325, 50.0])
    assert lower.abw[1] > lower.abw[0]  # type: ignore[index]
    assert lower.boiling_c[0] == found.boiling_c  # type: ignore[index]
    with pytest.raises(ferment.RangeError, match=r"^pressure 10 kPa is outside 20 to 110 kPa"):
        liquid.azeotrope(10.0)


def test_pressure_of_the_air() -> None:
    # Figures of ISO 2533:1975, from memory.
    assert liquid.pressure_at_altitude([0.0, 1000.0, 5000.0]) == pytest.approx([101.325, 89.8746, 54.0199], abs=5e-4)
    assert liquid.altitude_of_pressure(liquid.pressure_at_altitude(1234.0)) == pytest.approx(1234.0, abs=1e-6)
    assert liquid.station_pressure(101.325, 500.0) == pytest.approx(liquid.pressure_at_altitude(500.0), abs=1e-9)
    assert liquid.station_pressure(100.0, 0.0) == pytest.approx(100.0, abs=1e-9)


def test_heat() -> None:
    # Water: 4.18 kJ/(kg K) near room temperature, 2257 kJ/kg at the boiling point (CRC Handbook: 2256.5), within what perry_dippr100 and 106 state.
    assert liquid.spirit_heat_capacity(0.0, 25.0) == pytest.approx(4.18, rel=0.006)
    assert liquid.latent_heat(0.0, 100.0) == pytest.approx(2256.5, rel=0.004)
    assert liquid.latent_heat(0.0, 100.0) == liquid.vapour_enthalpy(0.0, 100.0) - liquid.spirit_enthalpy(0.0, 100.0)
    assert liquid.evaporation_heat(30.0, 20.0, 84.0) == pytest.approx(
        liquid.vapour_enthalpy(30.0, 84.0) - liquid.spirit_enthalpy(30.0, 20.0), rel=1e-12
    )
    slope = (liquid.spirit_enthalpy(30.0, 51.0) - liquid.spirit_enthalpy(30.0, 49.0)) / 2.0
    assert liquid.spirit_heat_capacity(30.0, 50.0) == pytest.approx(slope, rel=1e-4)
    # 100 kg of water by 60 K take 25.1 MJ, 6.97 kWh.
    assert liquid.wash_heating_kwh(100.0, 0.0, 0.0, 20.0, 80.0) == pytest.approx(
        100.0 * 4.18 * 60.0 / 3600.0, rel=0.006
    )
    assert liquid.wash_heating_kwh(100.0, 6.0, 3.0, 80.0, 20.0) == -liquid.wash_heating_kwh(100.0, 6.0, 3.0, 20.0, 80.0)
    t = np.linspace(20.0, 80.0, 601)
    whole = 100.0 * liquid.wash_heat_capacity(6.0, 3.0, t).mean() * 60.0 / 3600.0
    assert liquid.wash_heating_kwh(100.0, 6.0, 3.0, 20.0, 80.0) == pytest.approx(whole, rel=1e-4)
    malt = (6.0, 11.0, 2.0, 8.0, 2.0)  # moisture, protein, fat, fibre, ash
    assert 1.5 < liquid.grain_heat_capacity(*malt, 20.0) < 2.1
    heat = 50.0 * liquid.grain_heat_capacity(*malt, 45.0) * 50.0 / 3600.0
    assert liquid.grain_heating_kwh(50.0, *malt, 20.0, 70.0) == pytest.approx(heat, rel=1e-3)
    with pytest.raises(ferment.RangeError, match=r"^sum of the components 110 % mass is outside"):
        liquid.grain_heat_capacity(50.0, 30.0, 10.0, 10.0, 10.0, 20.0)
    with pytest.raises(ferment.RangeError, match=r"^start temperature 90 degC is outside 0 to 80 degC"):
        liquid.evaporation_heat(30.0, 90.0, 80.0)

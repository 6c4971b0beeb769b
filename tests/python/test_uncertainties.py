"""Numbers of the uncertainties package through the functions: against its own wrap(), correlations, errors, and the compiled part's own doubt."""

import math
import pickle
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import instrument, liquid, proofing, strength

uncertainties = pytest.importorskip("uncertainties")
ufloat = uncertainties.ufloat


def test_what_shares_an_input_is_correlated() -> None:
    gravity = ufloat(1.010, 0.0005)
    first, second = strength.abv_from_gravity(1.050, gravity), strength.abv_from_gravity(1.050, gravity)
    assert (first - second).nominal_value == 0.0
    assert (first - second).std_dev == 0.0
    assert uncertainties.correlation_matrix([first, second])[0, 1] == pytest.approx(1.0)
    other = strength.abv_from_gravity(1.050, ufloat(1.010, 0.0005))
    assert (first - other).std_dev == pytest.approx(math.sqrt(2.0) * first.std_dev)
    there_and_back = liquid.abw_from_abv(liquid.abv_from_abw(gravity * 8.0)) - gravity * 8.0
    assert abs(there_and_back.nominal_value) <= 1e-12
    assert there_and_back.std_dev <= 1e-9
    # Extract and ethanol of one reading move against each other.
    balance = strength.gravity_balance(1.050, gravity)
    assert uncertainties.correlation_matrix([balance.abv, balance.real_extract])[0, 1] == pytest.approx(-1.0)


def test_reading_to_strength_in_a_chain() -> None:
    reading, temperature = ufloat(1.0100, 0.0005), ufloat(24.0, 0.5)
    corrected = instrument.Hydrometer().correct(reading, temperature, instrument.Wash(abv=ufloat(5.0, 1.0)))
    found = strength.abv_from_gravity(1.050, corrected.sg)

    def whole(reading: float, temperature: float, abv: float) -> float:
        sg = instrument.Hydrometer().correct(reading, temperature, instrument.Wash(abv=abv)).sg
        return float(strength.abv_from_gravity(1.050, float(sg)))

    expected = uncertainties.wrap(whole)(reading, temperature, ufloat(5.0, 1.0))
    assert found.nominal_value == expected.nominal_value
    assert found.std_dev == pytest.approx(expected.std_dev, rel=1e-5)
    assert corrected.abv.nominal_value == pytest.approx(5.0, abs=1e-9)
    assert corrected.abv.std_dev == pytest.approx(1.0, rel=1e-5)  # it is what was given
    strong = instrument.Alcoholometer().correct(ufloat(62.0, 0.2), ufloat(25.0, 0.3))
    assert strong.std_dev == pytest.approx(math.hypot(0.2, 0.3 * 0.37), rel=0.05)  # 0.37 % vol per K, OIML R 22
    wort = instrument.Refractometer().correct(ufloat(12.0, 0.1), 20.0)
    assert wort.brix.std_dev == pytest.approx(0.1, rel=1e-6)
    wash = instrument.Ebulliometer().strength(ufloat(93.0, 0.1), 101.325, 2.0)
    assert wash.abv.std_dev == pytest.approx(-0.1 * wash.abv_per_k.nominal_value, rel=1e-5)


def test_gravities_in_other_frames_and_points() -> None:
    sg = ufloat(1.050, 0.001)
    assert liquid.points_from_sg(sg).std_dev == pytest.approx(1.0)
    assert (liquid.sg_from_points(liquid.points_from_sg(sg)) - sg).std_dev <= 1e-15
    assert liquid.points_from_sg([sg, sg])[1].std_dev == pytest.approx(1.0)
    assert liquid.sg_from_plato(liquid.plato_from_sg(sg)).std_dev == pytest.approx(0.001, rel=1e-9)
    assert liquid.convert_sg(sg, "20/20", "60/60F").std_dev == pytest.approx(0.001, rel=1e-2)
    assert liquid.density_from_sg(sg).std_dev == pytest.approx(0.9982, abs=1e-4)
    assert liquid.azeotrope(ufloat(101.325, 1.0)).boiling_c.std_dev == pytest.approx(
        liquid.azeotrope(101.825).boiling_c - liquid.azeotrope(100.825).boiling_c, rel=1e-3
    )


def test_through_records() -> None:
    abv, volume = ufloat(63.0, 0.2), ufloat(10.0, 0.05)
    found = proofing.dilute(abv, volume, 40.0)
    wrapped = uncertainties.wrap(lambda a, v: proofing.dilute(a, v, 40.0).water_kg)(abv, volume)
    assert found.water_kg.nominal_value == proofing.dilute(63.0, 10.0, 40.0).water_kg
    assert found.water_kg.std_dev == pytest.approx(wrapped.std_dev, rel=1e-6)
    assert type(found.water_temperature_c) is float
    assert (found.result.mass_kg - found.spirit.mass_kg - found.water_kg).std_dev <= 1e-9
    assert (found.result.pure_alcohol_l - abv * volume / 100.0).std_dev <= 1e-9
    again = proofing.add_water(abv, volume, found.water_kg)
    assert again.result.abv.std_dev <= 1e-8  # the same water into the same spirit gives the strength that was asked for
    whole = proofing.dilute_to_volume(abv, 40.0, volume)
    assert whole.result.volume_l.std_dev == pytest.approx(0.05, rel=1e-6)
    mixed = proofing.blend([(abv, 1.0), (0.0, volume), (40.0, 2.0, ufloat(25.0, 1.0))])
    warm = liquid.abw_from_abv(40.0)
    change = (liquid.spirit_density(warm, 25.1) - liquid.spirit_density(warm, 24.9)) / 0.2
    expansion = change / liquid.spirit_density(warm, 20.0)  # per K
    assert mixed.pure_alcohol_l.std_dev == pytest.approx(math.hypot(0.002, 0.8 * expansion), rel=1e-4)
    filled = proofing.bottles(abv, volume)
    assert type(filled.bottles) is int
    assert filled.rest_l.std_dev == pytest.approx(0.05, rel=1e-6)
    assert type(filled.fill_l) is float
    assert not any(isinstance(x, uncertainties.UFloat) for x in proofing.dilute(63.0, 10.0, 40.0).to_dict().values())
    assert isinstance(found.to_dict()["water_kg"], uncertainties.UFloat)
    assert (found.to_dict()["water_kg"] - found.water_kg).std_dev == 0.0


def test_records_that_hold_them() -> None:
    gravity = ufloat(1.010, 0.0005)
    one, same = strength.gravity_balance(1.05, gravity), strength.gravity_balance(1.05, gravity)
    assert one == same
    assert hash(one) == hash(same)
    assert one != strength.gravity_balance(1.05, ufloat(1.010, 0.0005))
    together = pickle.loads(pickle.dumps((one, same)))
    assert (together[0].abv - together[1].abv).std_dev == 0.0
    assert "+-" in one._repr_html_()


def test_errors_are_those_of_plain_numbers() -> None:
    with pytest.raises(ferment.RangeError, match=r"^temperature 101 degC is outside 0 to 100 degC"):
        liquid.water_density(ufloat(101.0, 1.0))
    with pytest.raises(ferment.RangeError, match=r"^element \[1\]: temperature 101 degC is outside"):
        liquid.water_density([ufloat(20.0, 1.0), 101.0])
    with pytest.raises(ferment.RangeError, match=r"^final gravity 1.06 is above|^final gravity 0.97 is outside"):
        strength.abv_from_gravity(ufloat(1.05, 0.001), 0.97)
    with pytest.raises(ferment.RangeError) as wrong:
        proofing.dilute(ufloat(40.0, 0.1), 10.0, 60.0)
    assert wrong.value.__cause__ is None
    with pytest.raises(ferment.RangeError, match=str(wrong.value)[:30]):
        proofing.dilute(40.0, 10.0, 60.0)
    with pytest.raises(ferment.InputError, match=r'^out_of_range "skip" must be'):
        liquid.water_density(ufloat(20.0, 1.0), out_of_range="skip")
    with pytest.raises(ferment.InputError, match=r"^duty_abv changes in steps"):
        strength.duty_abv(ufloat(40.0, 0.1))
    with pytest.raises(TypeError, match=r"^out= cannot hold"):
        liquid.water_density(ufloat(20.0, 1.0), out=np.empty(()))
    with pytest.raises(TypeError):
        liquid.water_density(ferment.Measured(20.0, 1.0))  # type: ignore[call-overload]
    with pytest.raises(TypeError):
        proofing.dilute("60", 10.0, 40.0)  # type: ignore[arg-type]
    kept = liquid.water_density([ufloat(20.0, 1.0), 101.0], out_of_range="nan")
    assert kept[0].std_dev > 0.0
    assert math.isnan(kept[1])


def test_nan_in_nan_out() -> None:
    nan = float("nan")
    nothing = liquid.wash_density(ufloat(nan, 0.1), 3.0, 20.0)
    assert math.isnan(nothing.nominal_value)
    assert math.isnan(nothing.std_dev)
    assert math.isnan(liquid.wash_density(ufloat(8.0, 0.1), nan, 20.0).nominal_value)
    assert math.isnan(liquid.wash_density(ufloat(8.0, nan), 3.0, 20.0).std_dev)


def test_steps_and_bends_between_two_steps_of_the_difference() -> None:
    # hmrc_226 jumps between its bands: on the very edge the slope is that of a band, 0.125 to 0.135 % vol per degree.
    for fall in np.linspace(6.5, 90.0, 300):
        found = strength.abv_from_gravity(1.10, ufloat(1.10 - fall / 1000.0, 0.001), "hmrc_226")
        assert found.std_dev <= 0.14


def test_measured_and_estimates() -> None:
    one = ferment.Measured(1.010, 0.0005).to_ufloat()
    assert (one.nominal_value, one.std_dev) == (1.010, 0.0005)
    found = strength.abv_from_boiled_down((1.010, 0.0005), (1.018, 0.0005))
    abv = found.abv.to_ufloat()
    assert (abv.nominal_value, abv.std_dev) == (found.abv.value, found.abv.standard_uncertainty)
    assert (abv - found.abv.to_ufloat()).std_dev > 0.0  # as documented


def test_routes_take_them_and_agree_with_the_doubt_of_the_compiled_part() -> None:
    before, after = ufloat(1.010, 0.0005), ufloat(1.018, 0.0004)
    found = strength.abv_from_boiled_down(before, after)
    assert found == strength.abv_from_boiled_down((1.010, 0.0005), (1.018, 0.0004))

    def plain(before: float, after: float) -> float:
        return strength.abv_from_boiled_down(before, after).abv.value

    expected = uncertainties.wrap(plain)(before, after)
    parts = dict(found.abv.budget)
    assert parts["gravity before"] == pytest.approx(expected.derivatives[before] * 0.0005, rel=1e-5)
    assert parts["gravity after"] == pytest.approx(expected.derivatives[after] * 0.0004, rel=1e-5)
    # A gravity that was itself computed: the doubt of the reading and of the temperature are told apart.
    reading, temperature = ufloat(1.009, 0.0005, "reading"), ufloat(24.0, 0.5, "temperature")
    sg = instrument.Hydrometer().correct(reading, temperature, instrument.Wash(abv=5.0)).sg
    chained = dict(strength.abv_from_boiled_down(sg, after).abv.budget)
    assert {"reading", "temperature", "gravity after"} <= chained.keys()
    assert chained["reading"] == pytest.approx(parts["gravity before"], rel=0.02)


def test_routes_of_one_variable_are_correlated() -> None:
    gravity = ufloat(1.010, 0.001)
    water = (101.3, 0.1)

    def combined(first: Any, second: Any) -> strength.CombinedStrength:
        return strength.combine(
            [
                strength.abv_from_boiled_down(first, (1.018, 0.0005)),
                strength.abv_from_boiling_point((95.0, 0.1), water, second),
            ]
        )

    shared = combined(gravity, gravity)
    measured = ferment.Measured(1.010, 0.001)
    assert shared == combined(measured, measured)
    apart = combined((1.010, 0.001), (1.010, 0.001))
    assert apart == combined(gravity, ufloat(1.010, 0.001))
    assert shared.abv.standard_uncertainty != pytest.approx(apart.abv.standard_uncertainty, rel=1e-3)
    names = [name for name, _ in shared.abv.budget]
    assert names.count("gravity") + names.count("gravity before") == 1

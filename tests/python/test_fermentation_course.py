"""Courses, forecasts, fits and checks of a no-cook wash: balances, limits, symmetries, and every message."""

import dataclasses
import inspect
import math
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import ferment
import numpy as np
import numpy.typing as npt
import pytest
from ferment import InputError, RangeError, SolveError, fermentation, instrument, liquid, mash
from ferment.fermentation import (
    BAND_SHARES,
    Ambient,
    Belief,
    Check,
    Conditions,
    Course,
    Fitted,
    Forecast,
    Inoculum,
    Reading,
    Spread,
    Vessel,
    check,
    fit,
    forecast,
    simulate,
)

BILL = mash.Bill([("flaked barley", 14.0), ("flaked rye", 4.0), ("barley malt", 1.5)])
POTENTIAL = mash.potential(BILL, water_kg=72.0, assumptions=fermentation.no_cook())
YEAST = Inoculum(0.03)
ROOM = Conditions(18.0, Ambient.constant(18.0))
DAYS = np.arange(0.0, 29.0) * 24.0
COURSE = simulate(POTENTIAL, YEAST, ROOM, DAYS)
FORECAST = forecast(POTENTIAL, YEAST, ROOM, DAYS, members=100)
PARAMETERS = fermentation.kinetic_parameters()
NAMES = tuple(parameter.name for parameter in PARAMETERS)
NAN = float("nan")
INF = float("inf")

#: Of the integrator, as asked for by default; what is integrated twice differs by no more than a few of these.
ACCURACY = 1e-6


def course(inoculum: Inoculum = YEAST, conditions: Conditions = ROOM, **parameters: float) -> Course:
    return simulate(POTENTIAL, inoculum, conditions, DAYS, parameters)


def integral(of: npt.NDArray[np.float64], over: npt.NDArray[np.float64]) -> float:
    return float(np.sum(0.5 * (of[1:] + of[:-1]) * np.diff(over)))


def arrays(of: Course) -> dict[str, npt.NDArray[np.float64]]:
    return {
        name: value
        for name, value in ((f.name, getattr(of, f.name)) for f in dataclasses.fields(of))
        if name not in ("done_h", "steps")
    }


# What a course is.


def test_nothing_has_happened_at_pitching() -> None:
    start = {name: values[0] for name, values in arrays(COURSE).items()}
    nothing = (
        "time_h",
        "abv",
        "abw",
        "conversion",
        "ethanol_kg",
        "pure_alcohol_l",
        "glycerol_kg",
        "co2_kg",
        "co2_l_per_h",
        "heat_w",
    )
    assert {start[name] for name in nothing} == {0.0}
    assert start["temperature_c"] == 18.0
    assert start["gravity"] == pytest.approx(fermentation.read_wash(POTENTIAL, 1.0).start_gravity.value, rel=1e-12)
    assert start["starch_kg"] == pytest.approx(POTENTIAL.theoretical.starch_converted_kg.value, rel=1e-12)
    assert start["iodine"] > 0.99
    alive = {p.name: p.median for p in PARAMETERS}["pitched_activity"]
    litres = 1.0 / start["yeast_g_per_kg"]
    assert litres * 1e3 * alive * YEAST.yeast_kg == pytest.approx(
        72.0 + 2.0, rel=0.05
    )  # kg of liquid: water, moisture, sugar


def test_course_ends_at_the_end_point() -> None:
    end = fermentation.end_point(POTENTIAL)
    warm = simulate(POTENTIAL, Inoculum(0.3), Conditions(28.0, Ambient.constant(28.0)), [24.0 * 120.0])
    for name in ("conversion", "ethanol_kg", "pure_alcohol_l", "co2_kg", "abw", "abv", "real_extract", "gravity"):
        assert getattr(warm, name)[0] == pytest.approx(getattr(end, name).value, rel=1e-4), name
    assert warm.starch_kg[0] == pytest.approx(end.starch_left_kg.value, rel=1e-3)
    assert warm.free_sugar[0] < 1e-3
    assert warm.iodine[0] < 1e-3
    assert warm.done_h < 24.0 * 120.0


def test_what_is_made_stays_made() -> None:
    for name in ("conversion", "ethanol_kg", "pure_alcohol_l", "glycerol_kg", "co2_kg", "co2_lost_kg", "abv", "abw"):
        assert (np.diff(arrays(COURSE)[name]) > 0.0).all(), name
    for name in ("starch_kg", "open_starch_g_per_kg", "iodine"):
        assert (np.diff(arrays(COURSE)[name]) < 0.0).all(), name
    for name in ("free_sugar", "co2_l_per_h", "heat_w", "yeast_g_per_kg", "iodine", "co2_dissolved_kg"):
        assert (arrays(COURSE)[name] >= 0.0).all(), name


def test_figures_agree_with_each_other() -> None:
    c = COURSE
    assert c.abv == pytest.approx(liquid.wash_abv(c.abw, c.real_extract), rel=1e-12)
    assert c.gravity == pytest.approx(liquid.wash_gravity(c.abw, c.real_extract), rel=1e-12)
    assert c.density == pytest.approx(liquid.wash_density(c.abw, c.real_extract, c.temperature_c), rel=1e-12)
    assert c.co2_kg == pytest.approx(c.co2_dissolved_kg + c.co2_lost_kg, rel=1e-12, abs=1e-15)
    assert c.conversion == pytest.approx(100.0 * (1.0 - c.starch_kg / c.starch_kg[0]), rel=1e-9, abs=1e-9)
    end = fermentation.end_point(POTENTIAL)
    assert c.co2_kg == pytest.approx(c.ethanol_kg * end.co2_kg.value / end.ethanol_kg.value, rel=1e-12)
    assert c.pure_alcohol_l == pytest.approx(c.ethanol_kg * end.pure_alcohol_l.value / end.ethanol_kg.value, rel=1e-12)
    stem = instrument.Hydrometer()
    for shown, t, abv, gravity in zip(c.hydrometer, c.temperature_c, c.abv, c.gravity, strict=True):
        read = stem.correct(float(shown), float(t), instrument.Wash(abv=float(abv)) if abv > 0.0 else "wort")
        assert read.sg == pytest.approx(gravity, abs=1e-5)


def test_gas_and_heat_add_up_to_what_was_made() -> None:
    hours = np.linspace(0.0, 24.0 * 20.0, 20001)
    c = simulate(POTENTIAL, YEAST, ROOM, hours)
    gas_constant, atmosphere_pa, mole_kg = 8.314462618, 101325.0, 44.009e-3  # SI 2019; IUPAC, abridged atomic weights
    litres_per_kg = 1000.0 * gas_constant * (c.temperature_c + 273.15) / atmosphere_pa / mole_kg
    gas_kg = integral(c.co2_l_per_h / litres_per_kg, hours)
    assert gas_kg == pytest.approx(c.co2_kg[-1], rel=1e-5)
    # 24 kcal/mol of hexose, of which 95.9 % becomes carbon dioxide and ethanol; Colombie et al. 2007, Food Control 18:953-960
    hexose_kg = c.co2_kg[-1] / (2.0 * 44.009 / 180.156) / (fermentation.no_cook().fermentation_efficiency.value / 100.0)
    heat_kj = integral(c.heat_w, hours) * 3.6
    assert heat_kj == pytest.approx(
        24.0 * 4.184 / 0.180156 * hexose_kg, rel=2e-3
    )  # the heat is printed with two digits


def test_heat_warms_the_mash_or_leaves_through_the_wall() -> None:
    closed = course(conditions=Conditions(15.0, Ambient.constant(15.0), Vessel(0.0)))
    bare = course(conditions=Conditions(15.0, Ambient.constant(15.0)))
    foam = course(conditions=Conditions(15.0, Ambient.constant(15.0), Vessel(1.2)))
    assert (np.diff(closed.temperature_c) >= 0.0).all()
    assert closed.temperature_c.max() > foam.temperature_c.max() > bare.temperature_c.max() > 15.0
    moisture = sum(item.moisture.value / 100.0 * kg for item, kg in BILL.items)
    water = POTENTIAL.water_kg + moisture
    capacity = 4.186 * (water + 0.38 * (BILL.mass_kg - moisture))  # kJ/K; grist as ferment.sources() has it
    hours = np.linspace(0.0, DAYS[-1], 20001)
    fine = simulate(POTENTIAL, YEAST, Conditions(15.0, Ambient.constant(15.0), Vessel(0.0)), hours)
    assert fine.temperature_c[-1] - 15.0 == pytest.approx(integral(fine.heat_w, hours) * 3.6 / capacity, rel=1e-4)


def test_mash_without_yeast_to_speak_of_goes_to_the_temperature_of_the_room() -> None:
    cold = simulate(
        POTENTIAL, Inoculum(1e-12, 0.0), Conditions(30.0, Ambient.constant(10.0)), np.arange(0.0, 70.0, 10.0)
    )
    ratio = np.diff(np.log(cold.temperature_c - 10.0))
    assert ratio == pytest.approx(ratio[0], rel=1e-5)  # one exponential
    assert ratio[0] < 0.0
    assert cold.conversion == pytest.approx(0.0, abs=1e-9)


def test_doubled_batch_is_the_same_wash() -> None:
    adiabatic = Conditions(18.0, Ambient.constant(18.0), Vessel(0.0))  # a larger vessel has less wall for its volume
    twice = mash.potential(
        mash.Bill([(item, 2.0 * kg) for item, kg in BILL.items]), water_kg=144.0, assumptions=fermentation.no_cook()
    )
    one, two = (simulate(p, y, adiabatic, DAYS) for p, y in ((POTENTIAL, YEAST), (twice, Inoculum(0.06))))
    for name, values in arrays(one).items():
        factor = (
            2.0
            if name.endswith(("_kg", "_l", "_h", "_w"))
            and name not in ("time_h", "open_starch_g_per_kg", "yeast_g_per_kg")
            else 1.0
        )
        assert arrays(two)[name] == pytest.approx(factor * values, rel=ACCURACY, abs=1e-9), name
    assert two.done_h == pytest.approx(one.done_h, rel=ACCURACY)
    large = simulate(twice, Inoculum(0.06), ROOM, DAYS)
    assert large.temperature_c.max() > COURSE.temperature_c.max()


@pytest.mark.parametrize(
    ("faster", "slower"),
    [
        (course(), course(conditions=Conditions(14.0, Ambient.constant(14.0)))),
        (course(conditions=Conditions(18.0, Ambient.constant(22.0))), course()),
        (course(Inoculum(0.03, 2.0)), course(Inoculum(0.03, 0.5))),
        (course(hydrolysis_rate=1.0), course(hydrolysis_rate=-1.0)),
        (course(fast_share=1.0), course(fast_share=-1.0)),
        (course(conditions=Conditions(18.0, Ambient.constant(18.0), Vessel(sunshine_w=100.0))), course()),
    ],
    ids=["warmer mash", "warmer room", "enzyme", "rate", "open starch", "sunshine"],
)
def test_what_speeds_it_up(faster: Course, slower: Course) -> None:
    assert faster.done_h < slower.done_h
    assert faster.ethanol_kg[2] > slower.ethanol_kg[2]


def test_yeast_helps_as_long_as_yeast_is_what_is_missing() -> None:
    short = [
        simulate(POTENTIAL, Inoculum(kg, nutrients=n), ROOM, [24.0])
        for kg, n in ((0.001, 1.0), (0.01, 1.0), (0.1, 1.0), (0.1, 3.0))
    ]
    made = [c.ethanol_kg[0] for c in short]
    assert made == sorted(made)
    sugar = [c.free_sugar[0] for c in short]
    assert sugar == sorted(sugar, reverse=True)


def test_without_enzymes_only_the_sugar_of_the_grain_ferments() -> None:
    c = course(Inoculum(0.03, 0.0))
    assert c.conversion == pytest.approx(0.0, abs=1e-12)
    assert c.starch_kg == pytest.approx(c.starch_kg[0], rel=1e-12)
    assert math.isnan(c.done_h)
    assert 0.0 < c.abv[-1] < 1.0
    assert c.iodine == pytest.approx(c.iodine[0], abs=1e-3)


def test_done_is_where_starch_and_sugar_have_gone() -> None:
    before, after = (simulate(POTENTIAL, YEAST, ROOM, [COURSE.done_h + off]) for off in (-0.01, 0.01))
    assert before.iodine[0] == pytest.approx(0.5, abs=1e-3)  # the starch goes last in this mash
    assert before.iodine[0] > 0.5 > after.iodine[0]
    assert after.open_starch_g_per_kg[0] < before.open_starch_g_per_kg[0]
    assert math.isnan(before.done_h)
    assert after.done_h == pytest.approx(COURSE.done_h, abs=1e-4)
    assert math.isnan(simulate(POTENTIAL, YEAST, ROOM, [24.0]).done_h)


def test_times_do_not_steer_the_course() -> None:
    alone = simulate(POTENTIAL, YEAST, ROOM, 240)
    assert alone.time_h.shape == (1,)
    assert alone.gravity[0] == COURSE.gravity[10]
    twice = simulate(POTENTIAL, YEAST, ROOM, [0, 240.0, 240.0])
    assert twice.gravity[1] == twice.gravity[2] == COURSE.gravity[10]
    assert twice.gravity[0] == COURSE.gravity[0]
    assert simulate(POTENTIAL, YEAST, ROOM, DAYS.astype(int)) == COURSE
    assert simulate(POTENTIAL, YEAST, ROOM, tuple(DAYS)) == COURSE


def test_integrator_is_as_close_as_it_is_asked_to_be() -> None:
    close = simulate(POTENTIAL, YEAST, ROOM, DAYS, relative_tolerance=1e-12, absolute_tolerance=1e-14)
    rough = simulate(
        POTENTIAL, YEAST, ROOM, DAYS, relative_tolerance=1e-4, absolute_tolerance=1e-6, longest_step_h=48.0
    )
    assert rough.steps < COURSE.steps < close.steps
    for name in ("gravity", "abv", "temperature_c", "conversion", "co2_kg"):
        exact = arrays(close)[name]
        off = np.abs(arrays(COURSE)[name] - exact).max()
        assert off <= ACCURACY * np.abs(exact).max(), name
        assert off < np.abs(arrays(rough)[name] - exact).max(), name
    assert COURSE.done_h == pytest.approx(close.done_h, rel=1e-4)


def test_parameters_move_in_spreads_from_their_medians() -> None:
    assert course() == COURSE
    assert simulate(POTENTIAL, YEAST, ROOM, DAYS, dict.fromkeys(NAMES, 0.0)) == COURSE
    moved = {name: simulate(POTENTIAL, YEAST, ROOM, DAYS, {name: 1.0}) for name in NAMES}
    # At the full dose its exponent means nothing; without ethanol to speak of nor a wall everything else does something.
    assert {name for name, c in moved.items() if c == COURSE} == {"dose_exponent"}
    assert course(Inoculum(0.03, 0.5), dose_exponent=1.0) != course(Inoculum(0.03, 0.5))
    by_name = {p.name: p for p in PARAMETERS}
    median = by_name["pitched_activity"].median * math.exp(by_name["pitched_activity"].spread)
    assert moved["pitched_activity"].yeast_g_per_kg[0] == pytest.approx(
        COURSE.yeast_g_per_kg[0] * median / by_name["pitched_activity"].median, rel=1e-12
    )
    offset = course(conditions=Conditions(18.0, Ambient.constant(18.0 + by_name["ambient_offset"].spread)))
    assert moved["ambient_offset"].gravity == pytest.approx(offset.gravity, abs=1e-12)


def test_priors_replace_medians_and_spreads() -> None:
    by_name = {p.name: p for p in PARAMETERS}
    rate = by_name["hydrolysis_rate"]
    faster = rate.median * math.exp(rate.spread)
    replaced = simulate(POTENTIAL, YEAST, ROOM, DAYS, priors={"hydrolysis_rate": (faster, 0.1)})
    assert replaced.gravity == pytest.approx(course(hydrolysis_rate=1.0).gravity, abs=1e-12)
    known = {p.name: (p.median, 0.0) for p in PARAMETERS}
    sure = forecast(POTENTIAL, YEAST, ROOM, DAYS, priors=known, members=3)
    assert np.ptp(sure.gravity, axis=1) == pytest.approx(0.0, abs=1e-15)
    narrow = forecast(POTENTIAL, YEAST, ROOM, DAYS, priors={"hydrolysis_rate": (rate.median, 0.05)}, members=100)
    assert narrow.done().p75 - narrow.done().p25 < FORECAST.done().p75 - FORECAST.done().p25
    readings = [Reading(48.0, gravity=(1.004, 0.001))]
    tied = fit(POTENTIAL, YEAST, ROOM, readings, priors={"hydrolysis_rate": (rate.median, 0.0)})
    assert tied.belief.parameters["hydrolysis_rate"] == pytest.approx(0.0, abs=1e-9)
    assert check(POTENTIAL, YEAST, ROOM, readings, priors=known, members=2) != check(
        POTENTIAL, YEAST, ROOM, readings, members=2
    )


# What surrounds it.


def test_ambient() -> None:
    steady = Ambient.constant(12)
    assert steady == Ambient(12.0) == Ambient.day_night(12.0, 0.0)
    assert steady.at(0.0) == steady.at(1e4) == 12.0
    swing = Ambient.day_night(16.0, 5.0, 14.0)
    assert swing.at(14.0) == swing.at(38.0) == 21.0
    assert swing.at(2.0) == pytest.approx(11.0, rel=1e-15)
    assert swing.at(8.0) == pytest.approx(16.0, rel=1e-15)
    log = Ambient.logged([0, 10, 20], np.array([10.0, 20.0, 0.0]))
    assert [log.at(hour) for hour in (-5.0, 0.0, 5.0, 10.0, 15.0, 20.0, 30.0)] == [
        10.0,
        10.0,
        15.0,
        20.0,
        10.0,
        0.0,
        0.0,
    ]
    for air in (steady, swing, log):
        assert math.isnan(air.at(NAN))
    assert log == Ambient.logged((0.0, 10.0, 20.0), (10, 20, 0))
    assert log != Ambient.logged((0.0, 10.0, 20.0), (10, 20, 1))


def test_air_of_equal_temperature_gives_equal_courses() -> None:
    logged = course(conditions=Conditions(18.0, Ambient.logged([0.0, 1000.0], [18.0, 18.0])))
    assert logged.gravity == pytest.approx(COURSE.gravity, abs=1e-9)
    hours = np.arange(0.0, 29.0 * 24.0, 0.1)
    swing = Ambient.day_night(16.0, 6.0)
    same = Ambient.logged(hours, [swing.at(hour) for hour in hours])
    one, other = (course(conditions=Conditions(16.0, air)) for air in (swing, same))
    assert one.temperature_c == pytest.approx(other.temperature_c, abs=1e-3)
    assert one.gravity == pytest.approx(other.gravity, abs=1e-6)
    # The swing reaches the mash, damped.
    hourly = simulate(POTENTIAL, YEAST, Conditions(16.0, swing), np.arange(480.0, 504.0))
    assert 0.5 < np.ptp(hourly.temperature_c) < 12.0


def test_yeast_of_cells() -> None:
    assert fermentation.yeast_of_cells(20.0, 100.0) == pytest.approx(0.1, rel=1e-12)  # 2e10 cells per gram, from memory
    assert fermentation.yeast_of_cells(10, 50) == pytest.approx(fermentation.yeast_of_cells(20.0, 25.0), rel=1e-15)


def test_ventilation() -> None:
    # 100 L/h kept 4580 ppm above the 420 ppm outdoors
    assert fermentation.ventilation_m3_per_h(100.0) == pytest.approx(0.1 / 4580e-6, rel=1e-12)
    assert fermentation.ventilation_m3_per_h(100.0, 15000.0) == pytest.approx(0.1 / 14580e-6, rel=1e-12)
    assert fermentation.ventilation_m3_per_h(0.0) == 0.0
    found = fermentation.ventilation_m3_per_h(COURSE.co2_l_per_h)
    assert found.shape == COURSE.co2_l_per_h.shape
    assert found == pytest.approx(COURSE.co2_l_per_h * fermentation.ventilation_m3_per_h(1.0), rel=1e-12)
    assert fermentation.ventilation_m3_per_h([1.0, NAN], [[5000.0], [NAN]]).shape == (2, 2)
    assert math.isnan(fermentation.ventilation_m3_per_h(NAN))
    assert math.isnan(fermentation.ventilation_m3_per_h(1.0, NAN))


def test_limits_of_carbon_dioxide_are_the_published_ones(reference: Callable[[str], list[dict[str, str]]]) -> None:
    published = {
        float(row["value"])
        for row in reference("no_cook_fermentation/co2_safety")
        if row["quantity"].endswith("limit, 8 h")
    }
    default = inspect.signature(fermentation.ventilation_m3_per_h).parameters["limit_ppm"].default
    assert published == {default}


def test_parameters_are_listed_with_their_origin() -> None:
    assert len(set(NAMES)) == len(NAMES) >= 20
    for p in PARAMETERS:
        assert p.scale in ("normal", "log", "logit")
        assert p.evidence in ("fitted", "grain", "prior")
        assert p.status in ("verified", "secondary", "from memory", "common practice, no source")
        assert p.spread > 0.0
        assert p.scale == "normal" or p.median > 0.0
        assert p.scale != "logit" or p.median < 1.0
        assert p.basis == p.basis.strip() != ""
    assumed = fermentation.no_cook()
    by_name = {p.name: p for p in PARAMETERS}
    assert 100.0 * by_name["conversion_limit"].median == pytest.approx(assumed.conversion.value, abs=0.05)
    assert 100.0 * by_name["fermentation_yield"].median == pytest.approx(
        assumed.fermentation_efficiency.value, abs=0.05
    )


def test_forms_of_the_grain_table_are_known() -> None:
    forms = dict(fermentation.starch_forms())
    assert {mash.grain(name).form for name in mash.grain_names()} <= set(forms)
    assert all(0.0 < share < 100.0 for share in forms.values())
    assert forms["grits"] < forms["flour"] < forms["flakes"] < forms["gelatinised"]
    wheat: dict[str, Any] = {"moisture": 12.0, "starch": 60.0, "sugars": 2.0}
    done = [
        simulate(
            mash.potential(mash.Bill([(mash.Grain("lot", form, **wheat), 20.0)]), water_kg=70.0), YEAST, ROOM, [2000.0]
        ).done_h
        for form in sorted(forms, key=lambda form: forms[form])
        if form not in ("starch", "sugar")
    ]
    assert done == sorted(done, reverse=True)
    assert done[-1] < done[0]


# Many courses.


BANDS = ("gravity", "abv", "temperature_c", "conversion", "co2_lost_kg", "co2_l_per_h")


def test_bands_are_quantiles() -> None:
    assert BAND_SHARES == (5.0, 25.0, 50.0, 75.0, 95.0)
    assert FORECAST.time_h.tolist() == DAYS.tolist()
    for name in BANDS:
        band = getattr(FORECAST, name)
        assert band.shape == (len(DAYS), 5)
        assert (np.diff(band, axis=1) >= 0.0).all(), name
    assert FORECAST.iodine.shape == DAYS.shape
    assert (np.diff(FORECAST.iodine) <= 0.0).all()
    assert FORECAST.members == len(FORECAST.done_h) == 100
    assert (np.diff(FORECAST.done_h[np.isfinite(FORECAST.done_h)]) >= 0.0).all()
    finite = np.sort(FORECAST.done_h)
    assert FORECAST.done().p50 == pytest.approx(np.quantile(finite, 0.5), rel=1e-12)
    assert FORECAST.done().p5 == pytest.approx(np.quantile(finite, 0.05), rel=1e-12)
    hours = np.array([0.0, 200.0, 400.0, NAN])
    assert FORECAST.done_by(hours)[:3] == pytest.approx([(finite <= h).mean() for h in hours[:3]], abs=1e-15)
    assert math.isnan(FORECAST.done_by(hours)[3])
    assert FORECAST.done_by(200.0) == FORECAST.done_by(hours)[1]
    assert isinstance(FORECAST.done_by(200.0), float)


def test_forecast_holds_the_median_course() -> None:
    for name in ("gravity", "abv", "temperature_c", "conversion"):
        band, middle = getattr(FORECAST, name), getattr(COURSE, name)
        assert (band[1:, 0] < middle[1:]).all(), name
        assert (band[1:, -1] > middle[1:]).all(), name


def test_same_seed_same_forecast() -> None:
    again = forecast(POTENTIAL, YEAST, ROOM, DAYS, members=100)
    assert again == FORECAST
    assert again is not FORECAST
    assert forecast(POTENTIAL, YEAST, ROOM, DAYS, members=100, seed=2) != FORECAST
    # A member does not depend on how many there are.
    few, many = (forecast(POTENTIAL, YEAST, ROOM, [2000.0], members=n).done_h for n in (5, 10))
    assert set(few) <= set(many)


def test_forecast_on_any_number_of_threads() -> None:
    for members in (100, 4400):
        one, two, five = (forecast(POTENTIAL, YEAST, ROOM, DAYS, members=members, threads=n) for n in (1, 2, 5))
        assert one == two == five
    assert forecast(POTENTIAL, YEAST, ROOM, DAYS, members=100, threads=2) == FORECAST
    readings = [Reading(48.0, gravity=(1.01, 0.002))]
    one, two = (forecast(POTENTIAL, YEAST, ROOM, DAYS, readings=readings, members=200, threads=n) for n in (1, 2))
    assert one == two
    for wrong in (0, -1, 1025, True):
        with pytest.raises(RangeError, match=r"threads .* must be 1 to 1024"):
            forecast(POTENTIAL, YEAST, ROOM, DAYS, threads=wrong)
    with pytest.raises(TypeError):
        forecast(POTENTIAL, YEAST, ROOM, DAYS, threads=1.5)  # type: ignore[arg-type]


def test_many_members_are_counted() -> None:
    # The first 4096 are kept, of 4097 only counts: one more member moves a quantile by no more than its neighbour, a bin and the rest by nothing.
    kept, counted = (forecast(POTENTIAL, YEAST, ROOM, DAYS, members=n) for n in (4096, 4097))
    assert len(kept.done_h) == 4096
    assert counted.members == 4097
    assert len(counted.done_h) == 4001
    assert (np.diff(counted.done_h[np.isfinite(counted.done_h)]) >= 0.0).all()
    for name in BANDS:
        # A bin is the 2048th part of the range of the first 1024; that lies within seven widths of the 90 % band, but for the gas of the last slow ones.
        few = 1e-3 if name == "co2_l_per_h" else 1e-9
        width = np.ptp(getattr(kept, name), axis=1, keepdims=True)
        assert (np.abs(getattr(counted, name) - getattr(kept, name)) <= 7.0 * width / 2048.0 + few).all(), name
    assert counted.iodine == pytest.approx(kept.iodine, abs=1e-3)
    assert counted.done().p50 == pytest.approx(kept.done().p50, abs=0.5)


_PEAK = """
import resource, sys
import numpy as np
from ferment import fermentation, mash
bill = mash.Bill([("flaked wheat", 18.0), ("rye malt", 2.0)])
can = mash.potential(bill, water_l=75.0, assumptions=fermentation.no_cook())
room = fermentation.Conditions(18.0, fermentation.Ambient.constant(17.0))
fermentation.forecast(can, fermentation.Inoculum(0.03), room, np.arange(0.0, 337.0, 12.0), members=int(sys.argv[1]), threads=2)
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


@pytest.mark.slow
def test_memory_does_not_grow_with_members() -> None:
    few, many = (
        int(subprocess.run([sys.executable, "-c", _PEAK, str(n)], check=True, capture_output=True, text=True).stdout)
        for n in (20000, 200000)
    )
    # Kilobytes; one number for each further course and each of 29 times and 6 figures would be 250 MB.
    assert many - few < 8000


def test_what_is_believed_for_certain_is_one_course() -> None:
    z = {"hydrolysis_rate": 0.7, "lag": -1.0, "heat_loss": 2.0}
    mean = [z.get(name, 0.0) for name in NAMES]
    certain = Belief(mean, np.zeros((len(NAMES), len(NAMES))))
    assert {name: value for name, value in certain.parameters.items() if value} == z
    found = forecast(POTENTIAL, YEAST, ROOM, DAYS, certain, members=2)
    one = simulate(POTENTIAL, YEAST, ROOM, DAYS, z)
    for name in ("gravity", "abv", "temperature_c", "conversion", "co2_lost_kg"):
        for column in range(5):
            assert getattr(found, name)[:, column] == pytest.approx(getattr(one, name), rel=1e-4, abs=1e-4), name
    assert found.iodine == pytest.approx(one.iodine, abs=1e-3)
    assert found.done() == Spread(*[found.done_h[0]] * 5)
    assert found.done_h[0] == pytest.approx(one.done_h, rel=1e-3)


def test_prior_belief() -> None:
    prior = Belief()
    assert prior.mean.tolist() == [0.0] * len(NAMES)
    assert prior.covariance.tolist() == np.eye(len(NAMES)).tolist()
    assert forecast(POTENTIAL, YEAST, ROOM, [48.0], prior, members=10) == forecast(
        POTENTIAL, YEAST, ROOM, [48.0], members=10
    )
    half = Belief(root=0.5 * np.eye(len(NAMES)))
    narrow = forecast(POTENTIAL, YEAST, ROOM, [48.0], half, members=100)
    assert np.ptp(narrow.gravity) < np.ptp(FORECAST.gravity[2])


# What readings say.


def readings_of(of: Course, days: tuple[int, ...], uncertainty: float = 0.0005) -> list[Reading]:
    return [Reading(24.0 * day, gravity=(float(of.gravity[day]), uncertainty)) for day in days]


SLOW = course(hydrolysis_rate=-1.5)
READINGS = readings_of(SLOW, (1, 2, 3, 4, 6, 8))
FITTED = fit(POTENTIAL, YEAST, ROOM, READINGS)


def test_no_readings_leave_the_priors() -> None:
    found = fit(POTENTIAL, YEAST, ROOM, [])
    assert found.belief == Belief()
    assert (found.residuals, found.misfit, found.chance, found.log_evidence, found.warning) == ((), 0.0, 1.0, 0.0, "")


def test_fit_finds_what_the_readings_were_made_with() -> None:
    assert FITTED.warning == ""
    assert FITTED.chance > 0.5
    assert [r.time_h for r in FITTED.residuals] == [r.time_h for r in READINGS]
    for residual, reading in zip(FITTED.residuals, READINGS, strict=True):
        assert reading.gravity is not None
        assert residual.what == "gravity"
        assert residual.read == reading.gravity.value
        assert residual.deviation == pytest.approx((residual.read - residual.fitted) / 0.0005, rel=1e-9)
        assert abs(residual.deviation) < 1.0
    spread = np.sqrt(np.diag(FITTED.belief.covariance))
    assert (spread <= 1.0 + 1e-6).all()
    i = NAMES.index("hydrolysis_rate")
    assert spread[i] < 0.9
    assert abs(FITTED.belief.mean[i] + 1.5) < 2.0 * spread[i]
    # The most probable course runs through the readings and leaves less doubt than the priors.
    again = simulate(POTENTIAL, YEAST, ROOM, [r.time_h for r in READINGS], FITTED.belief.parameters)
    assert again.gravity == pytest.approx([r.fitted for r in FITTED.residuals], abs=1e-6)
    assert FITTED.misfit == pytest.approx(
        float(FITTED.belief.mean @ FITTED.belief.mean) + sum(r.deviation**2 for r in FITTED.residuals), rel=1e-6
    )
    later = forecast(POTENTIAL, YEAST, ROOM, DAYS, FITTED.belief, members=100)
    truth = SLOW.gravity[12]
    low, *_, high = later.gravity[12]
    assert low < truth < high
    assert high - low < 0.5 * np.ptp(FORECAST.gravity[12])


def test_fit_takes_any_mix_of_readings() -> None:
    hours = (24.0, 48.0, 96.0, 480.0)
    truth = simulate(POTENTIAL, YEAST, ROOM, hours)
    mixed = [
        Reading(24.0, temperature_c=(float(truth.temperature_c[0]), 0.3)),
        Reading(48.0, co2_lost_kg=ferment.Measured(float(truth.co2_lost_kg[1]), 0.05), iodine=True),
        Reading(
            96.0,
            (float(truth.gravity[2]), 0.001),
            (float(truth.temperature_c[2]), 0.3),
            (float(truth.co2_lost_kg[2]), 0.05),
        ),
        Reading(480.0, iodine=False),
    ]
    found = fit(POTENTIAL, YEAST, ROOM, iter(mixed))
    assert [r.what for r in found.residuals] == [
        "temperature",
        "co2_lost",
        "iodine",
        "gravity",
        "temperature",
        "co2_lost",
        "iodine",
    ]
    assert [r.read for r in found.residuals if r.what == "iodine"] == [1.0, 0.0]
    assert found.warning == ""
    # The readings are those of the medians, so that little moves.
    assert np.abs(found.belief.mean).max() < 0.5


def test_readings_that_contradict_each_other_are_said_to() -> None:
    found = fit(POTENTIAL, YEAST, ROOM, [Reading(48.0, gravity=(1.0, 0.0005)), Reading(49.0, gravity=(1.01, 0.0005))])
    assert found.chance < 0.01
    assert found.warning.startswith("the readings contradict the model (chance ")
    assert "gravity at 4" in found.warning


def checked(readings: list[Reading], inoculum: Inoculum = YEAST, conditions: Conditions = ROOM) -> Check:
    return check(POTENTIAL, inoculum, conditions, readings, members=200)


ON_COURSE = checked(readings_of(COURSE, (2, 4), 0.001))


def test_batch_as_planned_is_on_course() -> None:
    c = ON_COURSE
    assert c.time_h == 96.0
    assert c.stands == "on course"
    assert c.because == "as planned"
    assert c.warning == ""
    assert [name for name, _ in c.probability] == ["on course", "slow", "stopped", "finished"]
    assert c.cause_probability[0][0] == "as planned"
    for table, most in ((c.probability, c.stands), (c.cause_probability, c.because)):
        assert sum(p for _, p in table) == pytest.approx(1.0, abs=1e-9)
        assert max(table, key=lambda row: row[1])[0] == most
        assert all(0.0 <= p <= 1.0 for _, p in table)
    (expected,) = c.expected
    assert (expected.what, expected.read) == ("gravity", COURSE.gravity[4])
    assert expected.range.p5 < expected.read < expected.range.p95
    assert abs(expected.z) < 1.0
    assert c.conversion.p5 < COURSE.conversion[4] < c.conversion.p95
    assert c.abv.p5 < COURSE.abv[4] < c.abv.p95
    assert c.gravity.p5 < COURSE.gravity[4] < c.gravity.p95
    assert c.days_to_finish.p5 < (COURSE.done_h - 96.0) / 24.0 < c.days_to_finish.p95
    assert c.end_gravity.p5 < COURSE.gravity[-1] < c.end_gravity.p95
    assert c.end_abv.p5 < COURSE.abv[-1] < c.end_abv.p95
    assert 24.0 <= c.look_again_h - 96.0 <= 96.0
    assert str(c) == c.says
    assert c.says.startswith(f"on course ({dict(c.probability)['on course'] * 100.0:.0f} %), ")
    assert "\n" not in c.says


def test_check_is_the_same_each_time() -> None:
    assert checked(readings_of(COURSE, (2, 4), 0.001)) == ON_COURSE
    assert check(POTENTIAL, YEAST, ROOM, readings_of(COURSE, (2, 4), 0.001), members=200, seed=9) != ON_COURSE


def test_finished_batch_is_finished() -> None:
    warm = Conditions(28.0, Ambient.constant(28.0))
    late = simulate(POTENTIAL, YEAST, warm, DAYS)
    found = checked(
        [
            *readings_of(late, (3, 7, 14, 20), 0.001),
            Reading(24.0 * 24.0, gravity=(float(late.gravity[24]), 0.001), iodine=False),
        ],
        conditions=warm,
    )
    assert found.stands == "finished"
    assert found.days_to_finish.p50 == 0.0
    assert found.gravity.p50 == pytest.approx(late.gravity[-1], abs=0.001)


def test_too_little_enzyme_is_noticed() -> None:
    weak = course(Inoculum(0.03, 0.1))
    found = checked(readings_of(weak, (2, 4, 6, 8), 0.0005))
    causes = dict(found.cause_probability)
    assert causes["enzyme-limited"] > 4.0 * dict(ON_COURSE.cause_probability)["enzyme-limited"]
    assert dict(found.probability)["on course"] < dict(ON_COURSE.probability)["on course"]


def test_misread_hydrometer_is_noticed() -> None:
    wrong = readings_of(COURSE, (2, 4, 6, 8), 0.0005)
    assert wrong[2].gravity is not None
    wrong[2] = Reading(wrong[2].time_h, gravity=(wrong[2].gravity.value + 0.008, 0.0005))
    found = checked(wrong)
    assert found.because == "reading error"
    assert "reading error" in found.says
    lone = checked(wrong[:3])
    assert lone.expected[0].z > 3.0


# Results as values; what all of them share is in test_values.py.


def test_dictionaries_hold_the_arrays_as_lists() -> None:
    assert COURSE.to_dict()["gravity"] == COURSE.gravity.tolist()
    assert FORECAST.to_dict()["abv"][3] == FORECAST.abv[3].tolist()
    assert FITTED.to_dict()["belief"]["mean"] == FITTED.belief.mean.tolist()
    assert Belief(**FITTED.to_dict()["belief"]) == FITTED.belief


def test_results_print_well() -> None:
    assert str(Spread(1.0, 2.0, 3.0, 4.0, INF)) == "3 (1 to inf)"
    text = str(FORECAST)
    assert text.startswith(f"done {FORECAST.done().p50 / 24.0:.1f} days after pitching (")
    assert f"; after 28.0 days {FORECAST.abv[-1, 2]:.1f} % vol (" in text
    assert "inf" not in text
    early = forecast(POTENTIAL, YEAST, ROOM, [0.0, 24.0], members=10)
    assert str(early).startswith(
        "done more than 1.0 days after pitching (more than 1.0 to more than 1.0); after 1.0 days "
    )


def test_plain_numbers_are_kept_as_floats() -> None:
    assert repr(Inoculum(1, 1, 1)) == "Inoculum(yeast_kg=1.0, enzyme_dose=1.0, nutrients=1.0)"
    assert Inoculum(np.float64(0.5)).to_dict() == {"yeast_kg": 0.5, "enzyme_dose": 1.0, "nutrients": 1.0}
    assert type(Conditions(np.float64(18), Ambient.constant(18)).mash_c) is float
    assert Reading(24, gravity=(1, 0.5)).gravity == ferment.Measured(1.0, 0.5)


def test_courses_run_side_by_side() -> None:
    seeds = range(4)
    alone = [forecast(POTENTIAL, YEAST, ROOM, [240.0], members=20, seed=seed) for seed in seeds]
    with ThreadPoolExecutor(4) as pool:
        together = list(pool.map(lambda seed: forecast(POTENTIAL, YEAST, ROOM, [240.0], members=20, seed=seed), seeds))
    assert together == alone


# What cannot be.

AIR = Ambient.constant(18.0)
WHOLE = mash.Grain("whole wheat", "kernels", moisture=12.0, starch=60.0, sugars=2.0)
BRAN = mash.Grain("bran", "flour", moisture=12.0, starch=0.0, sugars=0.0)


def of_grain(grain: mash.Grain) -> mash.Potential:
    return mash.potential(mash.Bill([(grain, 5.0)]), water_kg=20.0, assumptions=fermentation.no_cook())


def run(times_h: Any = (24.0,), parameters: Any = None, of: mash.Potential = POTENTIAL, **how: Any) -> Course:
    return simulate(of, YEAST, ROOM, times_h, parameters, **how)


def look_ahead(**how: Any) -> Forecast:
    return forecast(POTENTIAL, YEAST, ROOM, [24.0], **how)


def fitted(*readings: Reading) -> Fitted:
    return fit(POTENTIAL, YEAST, ROOM, readings)


KNOWN = ", ".join(NAMES)
WRONG: list[tuple[Callable[[], object], type[Exception], str]] = [
    (lambda: Inoculum(0.0), RangeError, "yeast 0 kg must be more than 0 kg: nothing ferments without"),
    (lambda: Inoculum(-1.0), RangeError, "yeast -1 kg must be more than 0 kg: nothing ferments without"),
    (lambda: Inoculum(NAN), InputError, "yeast is not a number"),
    (lambda: Inoculum(INF), InputError, "yeast is infinite"),
    (lambda: Inoculum(2e5), RangeError, "yeast 200000 kg is outside 0 to 100000 kg"),
    (lambda: Inoculum(1.0, -1.0), RangeError, "enzyme dose -1 of the full dose is outside 0 to 20 of the full dose"),
    (lambda: Inoculum(1.0, 21.0), RangeError, "enzyme dose 21 of the full dose is outside 0 to 20 of the full dose"),
    (lambda: Inoculum(1.0, NAN), InputError, "enzyme dose is not a number"),
    (
        lambda: Inoculum(1.0, 1.0, 0.0),
        RangeError,
        "nutrients 0 of the grain's own is outside 0.1 to 10 of the grain's own",
    ),
    (lambda: Inoculum(1.0, 1.0, -INF), InputError, "nutrients is infinite"),
    (lambda: fermentation.yeast_of_cells(NAN, 10.0), InputError, "cells is not a number"),
    (
        lambda: fermentation.yeast_of_cells(-1.0, 10.0),
        RangeError,
        "cells -1 million per mL is outside 0 to 1000 million per mL",
    ),
    (
        lambda: fermentation.yeast_of_cells(1001.0, 10.0),
        RangeError,
        "cells 1001 million per mL is outside 0 to 1000 million per mL",
    ),
    (lambda: fermentation.yeast_of_cells(0.0, 10.0), RangeError, "cells 0 million per mL must be more than 0"),
    (lambda: fermentation.yeast_of_cells(10.0, 0.0), RangeError, "volume of mash 0 L must be more than 0 L"),
    (lambda: fermentation.yeast_of_cells(10.0, INF), InputError, "volume of mash is infinite"),
    (lambda: Ambient.constant(51.0), RangeError, "ambient temperature 51 degC is outside -30 to 50 degC"),
    (lambda: Ambient.constant(-31.0), RangeError, "ambient temperature -31 degC is outside -30 to 50 degC"),
    (lambda: Ambient.constant(NAN), InputError, "ambient temperature is not a number"),
    (lambda: Ambient.day_night(20.0, -1.0), RangeError, "daily swing -1 K is outside 0 to 30 K"),
    (lambda: Ambient.day_night(20.0, 31.0), RangeError, "daily swing 31 K is outside 0 to 30 K"),
    (lambda: Ambient.day_night(20.0, NAN), InputError, "daily swing is not a number"),
    (lambda: Ambient.day_night(20.0, 5.0, 25.0), RangeError, "warmest hour 25 h is outside 0 to 24 h"),
    (lambda: Ambient.day_night(20.0, 5.0, INF), InputError, "warmest hour is infinite"),
    (
        lambda: Ambient.logged([], []),
        InputError,
        "Ambient: nothing is given; give mean_c [degC], or a log of hours and temperatures_c",
    ),
    (
        lambda: Ambient.logged([0.0], [10.0, 11.0]),
        InputError,
        "logged ambient needs as many times as temperatures, at least one; got 1 and 2",
    ),
    (
        lambda: Ambient(),
        InputError,
        "Ambient: nothing is given; give mean_c [degC], or a log of hours and temperatures_c",
    ),
    (
        lambda: Ambient.logged([1.0, 1.0], [10.0, 11.0]),
        InputError,
        "times of the logged ambient must rise; 1 h follows 1 h",
    ),
    (
        lambda: Ambient.logged([1.0, 0.5], [10.0, 11.0]),
        InputError,
        "times of the logged ambient must rise; 0.5 h follows 1 h",
    ),
    (lambda: Ambient.logged([NAN], [10.0]), InputError, "time of the logged ambient is not a number"),
    (lambda: Ambient.logged([0.0], [INF]), InputError, "ambient temperature is infinite"),
    (lambda: Ambient.logged([0.0], [60.0]), RangeError, "ambient temperature 60 degC is outside -30 to 50 degC"),
    (lambda: Ambient.logged([[0.0]], [10.0]), InputError, "hours must be one row of numbers; got 2 dimensions"),
    (
        lambda: Ambient.logged([0.0], [[10.0]]),
        InputError,
        "temperatures_c must be one row of numbers; got 2 dimensions",
    ),
    (
        lambda: Ambient(20.0, hours=(1.0,), temperatures_c=(2.0,)),
        InputError,
        "Ambient: give either mean_c [degC] or a log of hours and temperatures_c, not both",
    ),
    (lambda: Vessel(-1.0), RangeError, "heat transfer -1 W/(m2 K) is outside 0 to 100 W/(m2 K)"),
    (lambda: Vessel(NAN), InputError, "heat transfer is not a number"),
    (lambda: Vessel(7.0, -1.0), RangeError, "sunshine -1 W is below the lowest allowed, 0 W"),
    (lambda: Vessel(7.0, INF), InputError, "sunshine is infinite"),
    (lambda: Vessel(7.0, 0.0, 25.0), RangeError, "noon 25 h is outside 0 to 24 h"),
    (lambda: Conditions(-1.0, AIR), RangeError, "mash temperature -1 degC is outside 0 to 45 degC"),
    (lambda: Conditions(46.0, AIR), RangeError, "mash temperature 46 degC is outside 0 to 45 degC"),
    (lambda: Conditions(NAN, AIR), InputError, "mash temperature is not a number"),
    (lambda: run([]), InputError, "give at least one time, in hours after pitching"),
    (lambda: run([NAN]), InputError, "time is not a number"),
    (lambda: run([1.0, INF]), InputError, "time is infinite"),
    (lambda: run(-1.0), RangeError, "time -1 h is outside 0 to 8760 h"),
    (lambda: run(9000), RangeError, "time 9000 h is outside 0 to 8760 h"),
    (lambda: run([2.0, 1.0]), InputError, "times must not go backwards; 1 h follows 2 h"),
    (lambda: run([[1.0, 2.0]]), InputError, "times_h must be one row of numbers; got 2 dimensions"),
    (lambda: run(parameters={"speed": 1.0}), InputError, f'parameter "speed" is not known; known are {KNOWN}'),
    (lambda: run(parameters={"lag": NAN}), InputError, "spreads of lag is not a number"),
    (lambda: run(parameters={"lag": -INF}), InputError, "spreads of lag is infinite"),
    (lambda: run(priors={"speed": (1.0, 1.0)}), InputError, f'parameter "speed" is not known; known are {KNOWN}'),
    (lambda: run(priors={"lag": (0.0, 1.0)}), RangeError, "median of lag 0 h must be more than zero"),
    (lambda: run(priors={"lag": (NAN, 1.0)}), InputError, "median of lag is not a number"),
    (lambda: run(priors={"lag": (2.0, -1.0)}), RangeError, "spread of lag -1 must be zero or more"),
    (lambda: run(priors={"lag": (2.0, INF)}), InputError, "spread of lag is infinite"),
    (
        lambda: run(priors={"conversion_limit": (1.0, 0.1)}),
        RangeError,
        "median of conversion_limit 1 must lie between 0 and 1",
    ),
    (lambda: run(relative_tolerance=0.0), RangeError, "relative tolerance 0 is outside 1e-13 to 0.01"),
    (lambda: run(relative_tolerance=NAN), InputError, "relative tolerance is not a number"),
    (lambda: run(absolute_tolerance=1.0), RangeError, "absolute tolerance 1 is outside 1e-15 to 0.01"),
    (lambda: run(longest_step_h=0.0), RangeError, "longest step 0 h is outside 0.001 to 168 h"),
    (
        lambda: run(of=of_grain(WHOLE)),
        InputError,
        'form of whole wheat is "kernels"; known forms are '
        + ", ".join(form for form, _ in fermentation.starch_forms()),
    ),
    (
        lambda: run(of=of_grain(BRAN)),
        InputError,
        "the bill holds neither starch nor sugar: there is nothing to ferment",
    ),
    (lambda: look_ahead(members=1), RangeError, "members 1 is outside 2 to 10000000"),
    (lambda: look_ahead(members=-5), RangeError, "members -5 is outside 2 to 10000000"),
    (lambda: look_ahead(members=10000001), RangeError, "members 10000001 is outside 2 to 10000000"),
    (lambda: look_ahead(seed=-1), InputError, "seed -1 must be a whole number, zero or more"),
    (lambda: Belief([0.0, 1.0]), InputError, f"mean of the belief has shape (2,); it must be ({len(NAMES)},)"),
    (
        lambda: Belief(root=np.eye(3)),
        InputError,
        f"root of the belief has shape (3, 3); it must be ({len(NAMES)}, {len(NAMES)})",
    ),
    (lambda: Belief([NAN] * len(NAMES)), InputError, "mean of the belief holds what is not a number"),
    (
        lambda: Reading(1.0),
        InputError,
        "the reading at 1 h holds nothing; give gravity, temperature, carbon dioxide lost or iodine test",
    ),
    (lambda: Reading(NAN, iodine=True), InputError, "time of the reading is not a number"),
    (lambda: Reading(-1.0, iodine=True), RangeError, "time of the reading -1 h is outside 0 to 8760 h"),
    (lambda: Reading(1.0, gravity=(1.3, 0.001)), RangeError, "gravity 1.3 SG 20/20 is outside 0.95 to 1.2 SG 20/20"),
    (lambda: Reading(1.0, gravity=(NAN, 0.001)), InputError, "gravity is not a number"),
    (
        lambda: Reading(1.0, gravity=1.01),
        InputError,
        "standard uncertainty of gravity is 0; it must be a number above zero, for no reading is exact",
    ),
    (
        lambda: Reading(1.0, gravity=(1.01, -0.001)),
        InputError,
        "standard uncertainty of gravity is -0.001; it must be a number above zero, for no reading is exact",
    ),
    (
        lambda: Reading(1.0, temperature_c=(70.0, 0.1)),
        RangeError,
        "temperature of the wash 70 degC is outside -5 to 60 degC",
    ),
    (
        lambda: Reading(1.0, co2_lost_kg=(-3.0, 0.1)),
        RangeError,
        "carbon dioxide lost -3 kg is outside -1 to 1000000 kg",
    ),
    (
        lambda: fitted(Reading(2.0, iodine=True), Reading(1.0, iodine=True)),
        InputError,
        "readings must not go backwards in time; 1 h follows 2 h",
    ),
    (lambda: checked([]), InputError, "there is no reading to check; give at least one"),
    (
        lambda: check(POTENTIAL, YEAST, ROOM, [Reading(24.0, iodine=True)], members=0),
        RangeError,
        "members 0 is outside 2 to 10000000",
    ),
    (
        lambda: check(POTENTIAL, YEAST, ROOM, [Reading(24.0, iodine=True)], seed=-3),
        InputError,
        "seed -3 must be a whole number, zero or more",
    ),
    (
        lambda: fermentation.ventilation_m3_per_h(-1.0),
        RangeError,
        "carbon dioxide -1 L/h is outside 0 to 1000000000 L/h",
    ),
    (
        lambda: fermentation.ventilation_m3_per_h([1.0, 2.0], [5000.0, 50000.0]),
        RangeError,
        "element [1]: limit 50000 ppm is outside 1000 to 40000 ppm",
    ),
    (lambda: Inoculum("much"), TypeError, "Inoculum() argument 'yeast_kg' must be a number, not 'str'"),  # type: ignore[arg-type]
    (lambda: Ambient.constant("18"), TypeError, "Ambient.constant() argument 'mean_c' must be a number, not 'str'"),  # type: ignore[arg-type]
    (lambda: Ambient.logged(["0"], [18.0]), TypeError, "hours must be numbers"),
    (lambda: run("24"), TypeError, "times_h must be a number"),
    (lambda: run(parameters={"lag": "1"}), TypeError, "spreads of lag must be a number"),
    (lambda: run(parameters={"lag": [1.0]}), TypeError, "spreads of lag must be one number"),
    (lambda: Belief(["a"] * len(NAMES)), TypeError, "mean of the belief must be numbers"),
    (lambda: Reading("24", iodine=True), TypeError, "time_h must be a number"),  # type: ignore[arg-type]
    (lambda: Reading(24.0, gravity=("1.01", 0.001)), TypeError, "gravity must be a number"),  # type: ignore[arg-type]
    (lambda: Reading(24.0, iodine=1), TypeError, "iodine must be True, False or None"),  # type: ignore[arg-type]
    (lambda: look_ahead(members=2.5), TypeError, "forecast() argument 'members' must be a whole number, not 2.5"),
]


@pytest.mark.parametrize(("call", "error", "text"), WRONG, ids=[text for _, _, text in WRONG])
def test_message(call: Callable[[], object], error: type[Exception], text: str) -> None:
    with pytest.raises((ferment.Error, TypeError)) as caught:
        call()
    assert type(caught.value) is error
    message = str(caught.value)
    if error is TypeError:
        assert message.startswith(text)
        return
    assert "\n" not in message
    if message != text:  # what follows is the reason or the source, in brackets
        assert message.startswith(f"{text} (")
        assert message.endswith(")")


def test_course_that_cannot_be_followed() -> None:
    with pytest.raises(SolveError, match=r"^the course of the fermentation could not be followed past [0-9.e-]+ h$"):
        run([100.0], {"uptake_rate": 60.0})


def test_more_sun_than_falls_on_the_vessel() -> None:
    blazing = Conditions(18.0, AIR, Vessel(sunshine_w=2000.0))
    with pytest.raises(RangeError, match=r"^sunshine 2000 W is outside 0 to [0-9.]+ W \("):
        simulate(POTENTIAL, YEAST, blazing, [24.0])


def test_grain_of_a_form_that_ferments_is_not_refused() -> None:
    milled = dataclasses.replace(WHOLE, form="grain")
    assert run([240.0], of=of_grain(milled)).abv[0] > 3.0

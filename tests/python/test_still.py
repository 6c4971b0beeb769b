"""The still: balances, published runs, ends, cautions, columns, congeners, cuts, and what is refused."""

import dataclasses
import math
import pickle
import threading
from collections.abc import Callable
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import liquid, still

Reference = Callable[[str], list[dict[str, str]]]

ETHANOL, WATER = 46.068, 18.015  # g/mol
SETUP = still.Still(boiler_l=50.0, heating_kw=3.5, heat_loss_w_per_k=4.0, still_heat_kj_per_k=8.0)
PLAN = still.charges(200.0, 8.0, 1.5, SETUP)
RUN = still.strip(PLAN, SETUP, distillate_abv=2.0)
DUTY = still.stripping_duty(RUN, SETUP)
SPIRIT = still.Liquid.by_volume(30.0, 30.0)
LEVELS = {c.name: 1.0 for c in still.congeners()}
SPIRIT_RUN = still.strip(SPIRIT, distillate_abv=0.5, points=201)
JARS = [
    still.Jar(0.1, 82.0, "fore_shots"),
    still.Jar(0.5, 80.0, "heads"),
    still.Jar(1.0, 74.0, "hearts", temperature_c=25.0),
    still.Jar(1.0, 68.0, "hearts"),
    still.Jar(0.8, 50.0, "tails", note="wet cardboard"),
]


def mass_percent(x: float) -> float:
    """% mass of a mole fraction."""
    return 100.0 * x * ETHANOL / (x * ETHANOL + (1.0 - x) * WATER)


def mole_fraction(abw: float) -> float:
    return abw / ETHANOL / (abw / ETHANOL + (100.0 - abw) / WATER)


def moles(mass_kg: float, abw: float) -> float:
    return mass_kg * (abw / ETHANOL + (100.0 - abw) / WATER)


def rectified(**changes: Any) -> still.ColumnRun:
    wanted = {"take_off": still.TakeOff.at_reflux(3.0), "heating_kw": 2.0, "distillate_abv": 60.0} | changes
    return still.rectify(SPIRIT, still.Column(6, 0.3), **wanted)


# ---- charges ----


def test_a_liquid_by_volume_and_by_mass() -> None:
    by_volume = still.Liquid.by_volume(40.0, 30.0)
    assert by_volume.volume_l == pytest.approx(40.0, rel=1e-12)
    assert by_volume.abv == pytest.approx(30.0, abs=1e-9)
    assert by_volume.pure_alcohol_l == pytest.approx(12.0, rel=1e-9)
    assert by_volume.abw == pytest.approx(float(liquid.abw_from_abv(30.0)), rel=1e-9)
    by_mass = still.Liquid.by_mass(by_volume.mass_kg, by_volume.abw)
    assert by_mass.volume_l == pytest.approx(40.0, rel=1e-12)
    assert str(by_volume) == "40 L of 30 % vol"


def test_charges_keep_mass_and_head_space() -> None:
    assert PLAN.count == 6  # 200 L through 37.5 L
    assert PLAN.usable_l == pytest.approx(37.5)
    assert PLAN.charge.volume_l == pytest.approx(200.0 / 6.0, rel=1e-9)
    assert PLAN.head_space == pytest.approx(100.0 - 200.0 / 6.0 / 0.5, rel=1e-9)
    assert PLAN.reserve.mass_kg == 0.0
    back = still.charges(200.0, 8.0, 1.5, SETUP, reserve_l=4.0, reserve_abv=60.0)
    wash = still.Liquid.by_volume(200.0, 8.0, 1.5)
    assert back.count * back.wash.ethanol_kg == pytest.approx(wash.ethanol_kg, rel=1e-12)
    assert back.charge.mass_kg == pytest.approx(back.wash.mass_kg + back.reserve.mass_kg, rel=1e-12)
    assert back.charge.ethanol_kg == pytest.approx(back.wash.ethanol_kg + back.reserve.ethanol_kg, rel=1e-12)
    assert back.charge.volume_l < back.wash.volume_l + 4.0  # contraction
    assert back.charge.volume_l <= back.usable_l
    assert type(back.count) is int


# ---- the simple still ----


def test_perry_simple_still(reference: Reference) -> None:
    # Perry, Chemical Engineers' Handbook, 6th ed., section 13, simple batch still: 18 to 6 % mol leaves 70.0 of 100 mol, distillate 0.46. The
    # vapour of the library is up to 0.013 mol/mol richer: 70.5 mol and 0.467. Sets of two-liquid parameters give an integral of 0.349 to 0.362.
    rows = {
        row["quantity"]: row["value"] for row in reference("distillation/worked_examples_batch") if row["id"] == "R1"
    }
    before, after = float(rows["initial x"]), float(rows["final x"])
    end = float(liquid.abv_from_abw(mass_percent(after)))
    run = still.strip(still.Liquid.by_mass(100.0, mass_percent(before)), pot_abv=end)
    left = moles(run.pot.mass_kg, run.pot.abw) / moles(run.charge.mass_kg, run.charge.abw)
    assert 0.3485 <= -math.log(left) <= 0.3625
    assert 100.0 * left == pytest.approx(float(rows["residue"]), abs=0.6)
    assert mole_fraction(run.low_wines.abw) == pytest.approx(float(rows["average distillate x"]), abs=0.013)
    column = still.rectify(run.charge, still.Column(0), still.TakeOff.at_reflux(0.0), heating_kw=10.0, pot_abv=end)
    assert column.distillate_kg == pytest.approx(run.low_wines.mass_kg, rel=1e-6)
    assert column.distillate_abv == pytest.approx(run.low_wines.abv, abs=1e-5)


def test_low_wines_of_the_trade(reference: Reference) -> None:
    # Low wines of malt spirit as published: the table's row; washes of 8 to 10 % vol (from memory), run down to 1 % vol.
    rows = [r for r in reference("distillation/cuts_and_low_wines") if r["quantity"] == "malt whisky: low wines"]
    low, high = next((float(r["low"]), float(r["high"])) for r in rows if float(r["low"]) == 20.0)
    for abv in (8.0, 9.0, 10.0):
        run = still.strip(still.Liquid.by_volume(100.0, abv, 3.0), distillate_abv=1.0)
        assert low <= run.low_wines.abv <= high
        assert run.ethanol_left < 1.0


def test_a_run_balances() -> None:
    assert RUN.low_wines.mass_kg + RUN.pot.mass_kg == pytest.approx(RUN.charge.mass_kg, rel=1e-12)
    assert RUN.low_wines.ethanol_kg + RUN.ethanol_left_kg == pytest.approx(RUN.charge.ethanol_kg, rel=1e-12)
    assert RUN.pot.mass_kg * RUN.pot.extract == pytest.approx(RUN.charge.mass_kg * RUN.charge.extract, rel=1e-12)
    assert RUN.ethanol_left == pytest.approx(100.0 * RUN.ethanol_left_kg / RUN.charge.ethanol_kg, rel=1e-12)
    assert RUN.pressure_kpa == pytest.approx(101.325)
    curve = RUN.curve
    assert curve.distillate_abv[-1] == pytest.approx(2.0, abs=1e-6)
    for field in dataclasses.fields(curve):
        values = getattr(curve, field.name)
        assert isinstance(values, np.ndarray)
        assert values.dtype == np.float64
        assert values.shape == (51,)
        assert np.isfinite(values).all()
    assert (np.diff(curve.distillate_abv) < 0.0).all()
    assert (np.diff(curve.head_c) > 0.0).all()
    np.testing.assert_allclose(np.diff(curve.collected_kg), curve.collected_kg[-1] / 50.0, rtol=1e-9)
    np.testing.assert_allclose(curve.pot_kg + curve.collected_kg, RUN.charge.mass_kg, rtol=1e-12)
    # What was collected is the integral of the drops; trapezoids of 50 steps.
    integral = np.sum(0.5 * (curve.distillate_abw[1:] + curve.distillate_abw[:-1]) * np.diff(curve.collected_kg))
    assert integral == pytest.approx(100.0 * RUN.low_wines.ethanol_kg, rel=1e-3)
    assert curve.recovered[-1] == pytest.approx(100.0 - RUN.ethanol_left, abs=1e-9)


def test_every_end_gives_the_same_run() -> None:
    last = {name: float(getattr(RUN.curve, name)[-1]) for name in ("pot_abv", "collected_l", "head_c", "recovered")}
    for name, value in last.items():
        same = still.strip(PLAN.charge, SETUP, **{name: value})  # type: ignore[arg-type]
        assert same.low_wines.mass_kg == pytest.approx(RUN.low_wines.mass_kg, rel=1e-5), name
    low = still.strip(SPIRIT, recovered=90.0, pressure_kpa=40.0, points=2)
    assert low.boiling_start_c < RUN.boiling_start_c
    assert len(low.curve.head_c) == 2


def test_ends_are_asked_for_one_at_a_time() -> None:
    with pytest.raises(ferment.InputError, match=r"^a run ends at one of distillate_abv, .*; none given"):
        still.strip(SPIRIT)
    with pytest.raises(ferment.InputError, match=r"; 2 given"):
        still.strip(SPIRIT, head_c=99.0, collected_l=1.0)
    with pytest.raises(ferment.InputError, match="either a still"):
        still.strip(SPIRIT, SETUP, collected_l=1.0, pressure_kpa=90.0)


@pytest.mark.parametrize(
    ("error", "message", "call"),
    [
        (ferment.RangeError, r"^head space 5 %.*10 .*90", lambda: still.Still(50.0, 5.0)),
        (ferment.RangeError, r"^boiler volume 0 L must be more than zero", lambda: still.Still(0.0)),
        (ferment.InputError, r"^pressure is not a number", lambda: still.Still(50.0, pressure_kpa=math.nan)),
        (ferment.RangeError, r"^volume of the liquid 0 L", lambda: still.Liquid.by_volume(0.0, 5.0)),
        (ferment.InputError, r"^abv is not a number", lambda: still.Liquid.by_volume(1.0, math.nan)),
        (ferment.RangeError, r"^abw 120 %", lambda: still.Liquid.by_mass(1.0, 120.0)),
        (
            ferment.RangeError,
            r"^volume of the reserve 60 L",
            lambda: still.charges(100.0, 8.0, 1.0, SETUP, reserve_l=60.0),
        ),
        (
            ferment.RangeError,
            r"^volume of the charge 100 L",
            lambda: still.strip(still.Liquid.by_volume(100.0, 8.0), SETUP, distillate_abv=2.0),
        ),
        (
            ferment.RangeError,
            r"^strength coming over 90 % vol is already passed",
            lambda: still.strip(SPIRIT, distillate_abv=90.0),
        ),
        (ferment.SolveError, r"^volume collected 29.9 L is not reached", lambda: still.strip(SPIRIT, collected_l=29.9)),
        (ferment.RangeError, r"^points of the curve 1 must be", lambda: still.strip(SPIRIT, head_c=99.0, points=1)),
        (ferment.RangeError, r"^points of the curve -5 must be", lambda: still.strip(SPIRIT, head_c=99.0, points=-5)),
        (
            ferment.RangeError,
            r"^heating 0 kW must be more than zero",
            lambda: still.stripping_duty(RUN, still.Still(50.0)),
        ),
        (
            ferment.SolveError,
            r"the still never gets there",
            lambda: still.stripping_duty(RUN, still.Still(50.0, heating_kw=0.1, heat_loss_w_per_k=10.0)),
        ),
        (
            ferment.RangeError,
            r"^cooling water out 15 degC must be warmer than in",
            lambda: still.stripping_duty(RUN, SETUP, water_out_c=15.0),
        ),
        (ferment.RangeError, r"^number of charges 0 must be 1 or more", lambda: still.all_charges(DUTY, RUN, 0)),
        (ferment.RangeError, r"^number of charges -1 must be 1 or more", lambda: still.all_charges(DUTY, RUN, -1)),
    ],
)
def test_what_a_still_refuses(error: type[Exception], message: str, call: Callable[[], object]) -> None:
    with pytest.raises(error, match=message):
        call()


def test_duty_adds_up() -> None:
    assert DUTY.energy_kwh == pytest.approx(DUTY.heat_up_kwh + DUTY.boil_kwh + DUTY.loss_kwh, rel=1e-12)
    assert DUTY.energy_kwh == pytest.approx(3.5 * DUTY.total_h, rel=1e-12)
    assert DUTY.total_h == pytest.approx(DUTY.heat_up_h + DUTY.boil_h, rel=1e-12)
    # Water is most of it: 4.19 kJ/(kg K) and the metal's 8 kJ/K from 20 degC, within the 3 % of a wash's heat capacity.
    plain = (4.19 * RUN.charge.mass_kg + 8.0) * (RUN.boiling_start_c - 20.0) / 3600.0
    assert DUTY.heat_up_kwh == pytest.approx(plain, rel=0.03)
    assert DUTY.condenser_peak_kw >= DUTY.condenser_mean_kw > 0.0
    # Cooling water of 15 to 50 degC takes 4.18 kJ/(kg K).
    assert DUTY.water_l == pytest.approx(DUTY.condenser_kwh * 3600.0 / (4.18 * 35.0 * 0.999), rel=0.005)
    bare = still.stripping_duty(RUN, still.Still(50.0, heating_kw=3.5))
    assert bare.loss_kwh == pytest.approx(0.0, abs=1e-9)
    assert bare.total_h < DUTY.total_h
    warm = still.stripping_duty(RUN, SETUP, start_c=60.0)
    assert warm.heat_up_h < DUTY.heat_up_h
    bill = still.all_charges(DUTY, RUN, PLAN.count, 0.5)
    assert bill.charges == 6
    assert bill.energy_kwh == pytest.approx(6.0 * DUTY.energy_kwh)
    assert bill.turnaround_h == pytest.approx(2.5)
    assert bill.total_h == pytest.approx(6.0 * DUTY.total_h + 2.5)
    assert bill.low_wines_l == pytest.approx(6.0 * RUN.low_wines.volume_l)
    assert bill.low_wines_abv == pytest.approx(RUN.low_wines.abv)


# ---- cautions ----


def test_cautions_are_shown_with_every_plan() -> None:
    for word in ("licence", "flame", "Never leave", "relief", "fore-shots", "not drink"):
        assert word in still.CAUTIONS
    plans = (
        PLAN,
        RUN,
        DUTY,
        still.all_charges(DUTY, RUN, 2),
        rectified(),
        still.column_capacity(0.05, 95.0, 75.0),
        still.windows(SPIRIT_RUN, LEVELS),
    )
    for plan in plans:
        assert plan.cautions == still.CAUTIONS
        assert still.CAUTIONS in repr(plan)
        assert str(plan).endswith(still.CAUTIONS)
        assert "local law" in plan._repr_html_()
        assert plan.to_dict()["cautions"] == still.CAUTIONS
        assert any(character.isdigit() for character in str(plan).partition("\n")[0])


# ---- the column ----


def test_column_balances_and_ends() -> None:
    run = rectified()
    assert run.reason == "the distillate fell to its strength"
    assert run.distillate_kg + run.residue_kg == pytest.approx(SPIRIT.mass_kg, rel=1e-10)
    assert run.distillate_ethanol_kg + run.residue_ethanol_kg == pytest.approx(SPIRIT.ethanol_kg, rel=1e-8)
    assert run.recovered == pytest.approx(100.0 * run.distillate_ethanol_kg / SPIRIT.ethanol_kg, rel=1e-12)
    curve = run.curve
    assert curve.distillate_abv[-1] == pytest.approx(60.0, abs=1e-6)
    assert (np.diff(curve.distillate_abv) < 0.0).all()
    np.testing.assert_allclose(curve.reflux, 3.0, rtol=1e-9)
    assert curve.energy_kwh[-1] == pytest.approx(2.0 * run.time_h, rel=1e-12)
    assert curve.distillate_abv[0] > RUN.curve.distillate_abv[0]
    assert {getattr(curve, field.name).shape for field in dataclasses.fields(curve)} == {(21,)}
    assert run.equilibrated.mass_kg == 0.3
    assert run.equilibrated.head_abw > run.at_end.head_abw
    more = rectified(take_off=still.TakeOff.at_reflux(6.0))
    assert more.distillate_abv > run.distillate_abv
    assert more.time_h > run.time_h
    waited = rectified(equilibration_h=1.0)
    assert waited.time_h == pytest.approx(run.time_h + 1.0, rel=1e-6)
    assert rectified(distillate_abv=None, collected_l=5.0).distillate_l == pytest.approx(5.0, rel=1e-6)
    assert rectified(distillate_abv=None, recovered=50.0).recovered == pytest.approx(50.0, rel=1e-6)


def test_column_at_strength_and_at_rate() -> None:
    held = rectified(take_off=still.TakeOff.at_strength(88.0, 12.0), distillate_abv=None)
    assert held.reason == "the reflux reached its maximum"
    assert held.distillate_abv == pytest.approx(88.0, abs=1e-6)
    assert (np.diff(held.curve.reflux) > 0.0).all()
    assert held.curve.reflux[-1] == pytest.approx(12.0, rel=1e-6)
    rate = rectified(take_off=still.TakeOff.at_rate(1.0), distillate_abv=None, pot_abv=5.0)
    np.testing.assert_allclose(rate.curve.take_off_l_per_h, 1.0, rtol=1e-6)
    assert rate.curve.pot_abv[-1] == pytest.approx(5.0, abs=1e-6)


def test_coulson_and_richardson_column_run() -> None:
    # Coulson & Richardson, Chemical Engineering vol. 2, 5th ed. 2002, example 11.12: 55 % mol to 75 % mol on 4 plates and the still, reflux to 4:
    # 71.4 of 100 kmol of distillate; the vapour of the library is a little richer than the table of the book, so within 3 %.
    charge = still.Liquid.by_mass(100.0, mass_percent(0.55))
    strength = float(liquid.abv_from_abw(mass_percent(0.75)))
    run = still.rectify(charge, still.Column(4), still.TakeOff.at_strength(strength, 4.0), heating_kw=10.0)
    share = moles(run.distillate_kg, mass_percent(0.75)) / moles(charge.mass_kg, charge.abw)
    assert share == pytest.approx(0.714, rel=0.03)


def test_minimum_reflux_and_stages() -> None:
    # Seader, Henley & Roper, example 7.32, 12 to 85 % mol: an own tangent on Perry's table gives 2.00 with the pinch at 75 % mol, here 1.88. The
    # difference is (1 + R)^2 dy/(head - pinch) for an error dy of the vapour, of which 0.01 mol/mol is what the table is good for.
    pot, head = (float(liquid.abv_from_abw(mass_percent(x))) for x in (0.12, 0.85))
    least = still.minimum_reflux(pot, head)
    assert least.tangent is True
    pinch = mole_fraction(float(liquid.abw_from_abv(least.pinch_abv)))
    assert pinch == pytest.approx(0.75, abs=0.03)
    assert abs(least.reflux - 2.00) * (0.85 - pinch) / (1.0 + least.reflux) ** 2 <= 0.01
    assert still.minimum_reflux(8.0, 30.0).reflux == 0.0
    stages = still.stages_at_total_reflux(10.0, 92.0)
    assert stages > still.stages_at_total_reflux(10.0, 80.0) > 1.0
    # Fenske: ln of the ratio of ratios over ln alpha, by hand.
    x, y = (mole_fraction(float(liquid.abw_from_abv(abv))) for abv in (10.0, 80.0))
    by_hand = math.log(y * (1.0 - x) / (x * (1.0 - y))) / math.log(3.0)
    assert still.fenske_stages(10.0, 80.0, 3.0) == pytest.approx(by_hand, rel=1e-5)
    assert math.isnan(still.fenske_stages(math.nan, 80.0, 3.0))


def test_settings_of_the_reflux() -> None:
    valve = still.reflux_of_divider(25.0)
    assert (valve.reflux, valve.take_off_per_coolant, valve.take_off_per_power, valve.condenser_kw) == (
        3.0,
        0.0,
        1.0,
        0.0,
    )
    condenser = still.reflux_of_partial_condenser(60.0, 15.0, 35.0, 80.0, 2.0)
    heat = 60.0 * 0.998 * 4.18 * 20.0 / 3600.0  # kW, to 0.3 %
    assert condenser.condenser_kw == pytest.approx(heat, rel=0.003)
    assert condenser.reflux == pytest.approx(condenser.condenser_kw / (2.0 - condenser.condenser_kw), rel=1e-12)
    assert condenser.take_off_per_power == pytest.approx(1.0 + condenser.reflux)
    assert condenser.take_off_per_coolant < 0.0


def test_packing_and_flooding(reference: Reference) -> None:
    for row, found in zip(reference("distillation/packing_data"), still.packings(), strict=True):
        assert found.name == row["packing"]
        assert found.size_mm == float(row["size_mm"])
        assert found.void == pytest.approx(float(row["void_pct"]), abs=1e-12)
        assert found.surface_m2_m3 == float(row["a_m2_m3"])
        factor = float(row["F_per_ft"] or "nan")
        assert found.factor_per_ft == pytest.approx(factor, nan_ok=True)
    assert still.plates_of_packing(1.2, 0.15) == pytest.approx(8.0)
    assert still.Column.packed(1.0, 0.3).plates == 3
    small, wide = still.column_capacity(0.05, 95.0, 75.0), still.column_capacity(0.10, 95.0, 75.0)
    assert wide.boil_up_kw == pytest.approx(4.0 * small.boil_up_kw, rel=1e-12)
    assert small.boil_up_kw == pytest.approx(0.75 * small.flooding_kw, rel=1e-12)
    # 2 to 3 Pa^0.5 at flooding are usual for packings of 25 mm (common practice, no source); of a saddle the low end.
    assert 1.2 < small.flooding_m_per_s * math.sqrt(small.vapour_density) < 3.0
    assert still.column_capacity(0.05, 95.0, 75.0, still.PackingBed(void=80.0)).flooding_kw > small.flooding_kw


@pytest.mark.parametrize(
    ("error", "message", "call"),
    [
        (ferment.InputError, r"^the run needs a stop condition", lambda: rectified(distillate_abv=None)),
        (
            ferment.InputError,
            r"^stop distillate_abv is not a number",
            lambda: rectified(distillate_abv=math.nan),
        ),
        (
            ferment.RangeError,
            r"^distillate .* is not below the azeotrope",
            lambda: rectified(take_off=still.TakeOff.at_strength(99.0, 9.0)),
        ),
        (
            ferment.RangeError,
            r"^take-off 500 L/h is not below what boils up",
            lambda: rectified(take_off=still.TakeOff.at_rate(500.0)),
        ),
        (
            ferment.RangeError,
            r"^plates -1",
            lambda: still.rectify(SPIRIT, still.Column(-1), still.TakeOff.at_reflux(1.0), heating_kw=1.0, pot_abv=5.0),
        ),
        (ferment.InputError, r"^plates 2.5 must be a whole number", lambda: still.Column(2.5)),  # type: ignore[arg-type]
        (
            ferment.InputError,
            r"free of extract",
            lambda: still.rectify(
                PLAN.charge, still.Column(2), still.TakeOff.at_reflux(1.0), heating_kw=1.0, pot_abv=5.0
            ),
        ),
        (ferment.RangeError, r"^heat loss 3 kW must be less than the heating", lambda: rectified(loss_kw=3.0)),
        (
            ferment.InputError,
            r'^take-off mode "slow" is not known; known are reflux',
            lambda: rectified(take_off=still.TakeOff("slow")),
        ),
        (ferment.RangeError, r"^pressure 5 kPa", lambda: rectified(pressure_kpa=5.0)),
        (
            ferment.InputError,
            r"^the pot of 80 % vol must be weaker than the distillate of 40 % vol",
            lambda: still.minimum_reflux(80.0, 40.0),
        ),
        (ferment.RangeError, r"is not below the azeotrope", lambda: still.stages_at_total_reflux(10.0, 98.0)),
        (ferment.RangeError, r"^relative volatility 1 must be above 1", lambda: still.fenske_stages(10.0, 80.0, 1.0)),
        (
            ferment.InputError,
            r"^the pot of 80 % vol must be weaker than the distillate of 10 % vol",
            lambda: still.fenske_stages(80.0, 10.0, 2.0),
        ),
        (ferment.RangeError, r"^strength of the pot 0 % vol", lambda: still.fenske_stages(0.0, 10.0, 2.0)),
        (ferment.RangeError, r"^strength of the distillate 100 % vol", lambda: still.fenske_stages(1.0, 100.0, 2.0)),
        (ferment.RangeError, r"^share taken off", lambda: still.reflux_of_divider(0.0)),
        (
            ferment.RangeError,
            r"nothing would be taken off",
            lambda: still.reflux_of_partial_condenser(600.0, 15.0, 60.0, 80.0, 2.0),
        ),
        (ferment.RangeError, r"^packed height 0 m", lambda: still.plates_of_packing(0.0, 0.1)),
        (ferment.RangeError, r"^share of flooding 100 %", lambda: still.column_capacity(0.05, 95.0, 100.0)),
    ],
)
def test_what_a_column_refuses(error: type[Exception], message: str, call: Callable[[], object]) -> None:
    with pytest.raises(error, match=message):
        call()


# ---- congeners ----


def test_congeners_come_in_the_known_order() -> None:
    names = [c.name for c in still.congeners()]
    assert names == [
        "acetaldehyde",
        "ethyl_acetate",
        "methanol",
        "n_propanol",
        "isobutanol",
        "isoamyl_alcohols",
        "furfural",
        "acetic_acid",
    ]
    assert still.congener("methanol").molar_mass == pytest.approx(32.042, abs=0.002)
    for abw in (5.0, 30.0, 60.0):
        assert still.congener_volatility("ethyl_acetate", abw).against_ethanol > 1.0  # always before the alcohol
        assert still.congener_volatility("acetic_acid", abw).against_ethanol < 1.0  # always after it
    weak, strong = (still.congener_volatility("isoamyl_alcohols", abw) for abw in (2.0, 70.0))
    assert weak.against_ethanol > 1.0 > strong.against_ethanol
    crossing = still.congener_crossing("isoamyl_alcohols")
    assert still.congener_volatility("isoamyl_alcohols", crossing).against_ethanol == pytest.approx(1.0, abs=1e-6)
    assert math.isnan(still.congener_crossing("ethyl_acetate"))
    assert math.isnan(still.congener_volatility("methanol", math.nan).by_mass)
    vapour = still.congener_volatility("methanol", 30.0).vapour_abw
    assert vapour == pytest.approx(
        float(
            liquid.abw_from_abv(still.strip(still.Liquid.by_mass(1.0, 30.0), recovered=50.0).curve.distillate_abv[0])
        ),
        abs=1e-6,
    )


def test_congeners_along_a_run() -> None:
    run = still.congener_run(SPIRIT_RUN, LEVELS)
    assert run.rectified is False
    for course in run.courses:
        np.testing.assert_allclose(course.pot_g + course.collected_g, course.pot_g[0], rtol=1e-9)
        # One g per hL of pure alcohol in the charge.
        assert course.pot_g[0] == pytest.approx(SPIRIT.pure_alcohol_l / 100.0, rel=1e-9)
    acetate, acid = run.course("ethyl_acetate"), run.course("acetic_acid")
    half = len(run.pot_kg) // 2
    assert acetate.collected_g[half] > 0.5 * acetate.pot_g[0] > acid.collected_g[half]
    np.testing.assert_allclose(run.distillate_abw, SPIRIT_RUN.curve.distillate_abw, rtol=1e-9)
    # The same from plain numbers.
    plain = still.congener_run((SPIRIT_RUN.curve.pot_kg, SPIRIT_RUN.curve.pot_abw), LEVELS)
    np.testing.assert_allclose(plain.course("methanol").pot_g, run.course("methanol").pot_g, rtol=1e-9)
    # Extract stays behind and takes no part: the same wash without it gives nearly the same.
    sweet = still.strip(still.Liquid.by_volume(30.0, 8.0, 5.0), recovered=90.0, points=201)
    found = still.congener_run(sweet, {"methanol": 2.0})
    np.testing.assert_allclose(found.pot_kg + found.collected_kg, found.pot_kg[0], rtol=1e-12)
    assert found.ethanol_collected_kg[-1] == pytest.approx(sweet.low_wines.ethanol_kg, rel=1e-9)
    high, low = (still.congener_run(SPIRIT_RUN, {"methanol": 1.0}, volatility_power=p) for p in (1.0, -1.0))
    assert high.course("methanol").pot_g[half] < run.course("methanol").pot_g[half] < low.course("methanol").pot_g[half]
    with pytest.raises(ferment.InputError, match='congener "fusel" is not among'):
        run.course("fusel")
    assert repr(high) == "<CongenerRun of methanol at 201 points>"


def test_congeners_with_ratios_of_ones_own() -> None:
    pot = (SPIRIT_RUN.curve.pot_kg, SPIRIT_RUN.curve.pot_abw)
    ones = np.full(201, 0.5)
    found = still.congener_run_with_ratios(pot, SPIRIT_RUN.curve.distillate_abw, {"furfural": 1.0}, {"furfural": ones})
    # A constant ratio: what is left is (W/W0)^K exactly.
    share = (found.pot_kg / found.pot_kg[0]) ** 0.5
    np.testing.assert_allclose(found.course("furfural").pot_g, share * found.course("furfural").pot_g[0], rtol=1e-12)
    with pytest.raises(ferment.InputError, match="ratios are given for methanol"):
        still.congener_run_with_ratios(pot, [50.0], {"furfural": 1.0}, {"methanol": ones})
    with pytest.raises(ferment.InputError, match="distillate strengths: 1 given for 201 points"):
        still.congener_run_with_ratios(pot, [50.0], {"furfural": 1.0}, {"furfural": ones})


def test_windows_lie_where_the_trade_cuts() -> None:
    found = still.windows(SPIRIT_RUN, LEVELS)
    fore_shots, heads, hearts, tails = found.boundaries
    assert [b.rule.ends for b in found.boundaries] == ["fore_shots", "heads", "hearts", "tails"]
    assert all(b.reached and b.earliest_kg <= b.collected_kg <= b.latest_kg for b in found.boundaries)
    assert 0.5 < fore_shots.ethanol_share < 2.0  # % of the alcohol (common practice, no source)
    assert (
        0.05 < heads.collected_kg / tails.collected_kg < 0.20
    )  # near 10 %, Alcarde et al., a factor of two either way
    assert hearts.distillate_abv == pytest.approx(
        60.0, abs=0.01
    )  # Russell (ed.), Whisky, Elsevier 2003, p. 164: malt spirit 72 to 60
    assert found.rectified is False
    assert "palate decides" in found.note
    assert found.note in str(found)
    assert hearts.rule.level_range == (58.0, 63.0)
    sooner = [dataclasses.replace(hearts.rule, level=63.0)]
    assert still.windows(SPIRIT_RUN, LEVELS, rules=sooner).boundaries[0].collected_kg < hearts.collected_kg
    assert still.windows(rectified(), LEVELS).rectified is True
    never = still.windows(still.strip(SPIRIT, recovered=50.0), LEVELS).boundaries[3]
    assert never.reached is False
    assert math.isnan(never.collected_kg)
    assert pickle.loads(pickle.dumps(never)) == never


def test_habits_and_laws() -> None:
    habits = still.practice_figures()
    assert len(habits) == 11
    assert all(figure.low <= figure.high for figure in habits)
    lines = still.legal_lines()
    limit = [line for line in lines if line.congener == "methanol" and line.product.startswith("ethyl alcohol")]
    assert [line.grams_per_hl for line in limit] == [30.0]  # Regulation (EC) No 110/2008 Annex I point 1
    assert {line.congener for line in lines} - {""} <= set(LEVELS)


@pytest.mark.parametrize(
    ("message", "call"),
    [
        (r'^congener "fusel" is not known; known are acetaldehyde', lambda: still.congener("fusel")),
        (r'^congener "fusel" is not known', lambda: still.congener_run(SPIRIT_RUN, {"fusel": 1.0})),
        (
            r"^pot mass at point 2 .*the pot must lose mass",
            lambda: still.congener_run(([1.0, 2.0], [9.0, 8.0]), LEVELS),
        ),
        (r"^abw at point 2 .*must not gain strength", lambda: still.congener_run(([2.0, 1.0], [8.0, 9.0]), LEVELS)),
        (
            r"^points of a run: each needs a mass and a strength; the masses are 2, the strengths 1",
            lambda: still.congener_run(([2.0, 1.0], [8.0]), LEVELS),
        ),
        (r"^methanol -1 g/hL", lambda: still.congener_run(SPIRIT_RUN, {"methanol": -1.0})),
        (r"^pot_kg must be one row", lambda: still.congener_run(([[2.0, 1.0]], [8.0]), LEVELS)),
        (r"^windows: no boundary given", lambda: still.windows(SPIRIT_RUN, LEVELS, rules=[])),
        (
            r'^boundary by "smell" is not known; known are of_start',
            lambda: still.windows(
                SPIRIT_RUN, LEVELS, rules=[still.BoundaryRule("heads", "", "smell", "falls_below", 1.0, (0.5, 2.0))]
            ),
        ),
        (r'^boundary of .*"acetaldehyde" is not among', lambda: still.windows(SPIRIT_RUN, {"methanol": 1.0})),
        (r"^abw 101 % mass", lambda: still.congener_volatility("methanol", 101.0)),
        (r"^pressure 5 kPa", lambda: still.congener_crossing("methanol", 5.0)),
    ],
)
def test_what_congeners_refuse(message: str, call: Callable[[], object]) -> None:
    with pytest.raises(ferment.Error, match=message):
        call()


# ---- cuts ----


def test_cuts_balance() -> None:
    cuts = still.work_out_cuts(JARS)
    assert [content.jar for content in cuts.jars] == JARS
    mass = math.fsum(content.mass_kg for content in cuts.jars)
    alcohol = math.fsum(content.pure_alcohol_l.value for content in cuts.jars)
    assert cuts.total.mass_kg == pytest.approx(mass, rel=1e-12)
    assert cuts.total.pure_alcohol_l.value == pytest.approx(alcohol, rel=1e-12)
    assert cuts.jars[-1].cumulative_mass_kg == pytest.approx(mass, rel=1e-12)
    assert cuts.jars[-1].cumulative_abv == pytest.approx(cuts.total.abv, rel=1e-12)
    assert cuts.jars[1].pure_alcohol_l.value == pytest.approx(0.4, rel=1e-9)
    assert cuts.jars[2].volume_l < 1.0  # warm
    assert math.fsum(fraction.alcohol_share for fraction in cuts.fractions) == pytest.approx(100.0)
    assert cuts.total.volume_l < math.fsum(content.volume_l for content in cuts.jars)  # contraction
    assert cuts.never_back == (0,)
    assert cuts.fraction("hearts").content.jars == (2, 3)
    assert math.isnan(cuts.fraction("none").content.abv)
    # 1 % of the volume and 0.5 of 80 % vol, as far as it goes to first order.
    expected = 0.4 * math.hypot(0.01, 0.5 / 80.0)
    assert cuts.jars[1].pure_alcohol_l.standard_uncertainty == pytest.approx(expected, rel=1e-3)
    assert [fraction.label for fraction in cuts.fractions] == list(still.CUT_LABELS)


def test_blends_and_what_goes_back() -> None:
    hearts = still.blend_jars(JARS, [2, 3])
    assert hearts == still.work_out_cuts(JARS).fraction("hearts").content
    back = still.recycle_jars(JARS)
    assert back.jars == (1, 4)
    plan = still.charges(100.0, 8.0, 1.0, SETUP, reserve_l=back.volume_l, reserve_abv=back.abv)
    assert plan.reserve.ethanol_kg == pytest.approx(back.ethanol_kg, rel=1e-9)
    assert still.recycle_jars(JARS, ["tails"]).jars == still.recycle_jars(JARS, "tails").jars == (4,)
    nan = still.work_out_cuts([*JARS, still.Jar(math.nan, 40.0)])
    assert math.isnan(nan.total.mass_kg)
    assert math.isfinite(nan.jars[0].mass_kg)


@pytest.mark.parametrize(
    ("message", "call"),
    [
        (r"^recycling: fore_shots never go back", lambda: still.recycle_jars(JARS, ["fore_shots", "heads"])),
        (r"^blend of jars: jar 1 is labelled fore_shots", lambda: still.blend_jars(JARS, [0, 1])),
        (r"^blend of jars: jar 3 is chosen twice", lambda: still.blend_jars(JARS, [2, 2])),
        (r"^blend of jars: there is no jar 10, only 5", lambda: still.blend_jars(JARS, [9])),
        (r"^blend of jars: jar number -1", lambda: still.blend_jars(JARS, [-1])),
        (r"^blend of jars: no jar chosen", lambda: still.blend_jars(JARS, [])),
        (r"^cuts: no jar given", lambda: still.work_out_cuts([])),
        (r"^recycling: no jar is labelled none", lambda: still.recycle_jars(JARS, ["none"])),
        (r'^cut label "middle" is not known; known are fore_shots', lambda: still.Jar(1.0, 40.0, "middle")),
        (r"^volume of jar 2 0 L", lambda: still.work_out_cuts([JARS[0], still.Jar(0.0, 40.0)])),
        (r"^strength of jar 1 98 % vol", lambda: still.work_out_cuts([still.Jar(1.0, 98.0)])),
        (
            r"^uncertainty of the volume of jar 1 -1 %",
            lambda: still.work_out_cuts([still.Jar(1.0, 40.0, volume_uncertainty=-1.0)]),
        ),
    ],
)
def test_what_cuts_refuse(message: str, call: Callable[[], object]) -> None:
    with pytest.raises(ferment.Error, match=message):
        call()


# ---- as values ----


def test_nothing_is_exactly_nothing() -> None:
    run = still.strip(still.Liquid.by_volume(37.5, 8.5, 2.0), distillate_abv=5.0)
    assert run.curve.recovered[0] == run.curve.collected_kg[0] == run.curve.vapour_heat_kj[0] == 0.0
    assert math.copysign(1.0, run.curve.recovered[0]) == 1.0
    tight = still.stripping_duty(run, still.Still(boiler_l=60.0, heating_kw=4.5, still_heat_kj_per_k=18.0))
    assert tight.loss_kwh == 0.0
    assert tight.heat_up_kwh + tight.boil_kwh == pytest.approx(tight.energy_kwh, rel=1e-12)


@pytest.mark.parametrize("kind", ["strip", "rectify"])
def test_jars_that_a_run_fills(kind: str) -> None:
    charge = still.Liquid.by_volume(40.0, 28.0)
    run: still.Stripping | still.ColumnRun
    if kind == "strip":
        run = still.strip(charge, distillate_abv=10.0)
        mass_kg, ethanol_kg = run.low_wines.mass_kg, run.low_wines.ethanol_kg
    else:
        run = still.rectify(charge, still.Column(4), still.TakeOff.at_reflux(2.0), heating_kw=3.0, distillate_abv=40.0)
        mass_kg, ethanol_kg = run.distillate_kg, run.distillate_ethanol_kg
    filled = still.fill_jars(run, [0.3, 0.5, 1.0, 2.0], temperature_c=15.0)
    assert [jar.size_l for jar in filled.jars] == [0.3, 0.5, 1.0, 2.0]
    assert [jar.filled_l for jar in filled.jars] == pytest.approx([0.3, 0.5, 1.0, 2.0], rel=1e-11)
    assert filled.rest is not None
    parts = [*filled.jars, filled.rest]
    assert sum(part.mass_kg for part in parts) == pytest.approx(mass_kg, rel=1e-12)
    assert sum(part.ethanol_kg for part in parts) == pytest.approx(ethanol_kg, rel=1e-12)
    assert (filled.mass_kg, filled.ethanol_kg) == pytest.approx((mass_kg, ethanol_kg), rel=1e-12)
    assert sum(part.alcohol_share for part in parts) == pytest.approx(100.0)
    for before, part in zip([None, *parts], parts, strict=False):
        assert part.from_kg == (0.0 if before is None else before.to_kg)
        assert part.to_abv <= part.abv <= part.from_abv
        assert part.mass_kg == pytest.approx(part.filled_l * liquid.spirit_density(part.abw, 15.0) / 1000.0)
        assert part.abv == pytest.approx(liquid.abv_from_abw(part.abw))
    # Of one size there are as many as the run fills, and they are jars like any others.
    alike = still.fill_jars(run, 0.75)
    assert alike.rest is None
    assert alike.unused == 0
    assert alike.jars[-1].filled_l <= 0.75
    cuts = still.work_out_cuts([jar.as_jar("hearts") for jar in alike.jars])
    assert cuts.total.mass_kg == pytest.approx(mass_kg, rel=1e-11)
    assert cuts.fraction("hearts").content.ethanol_kg == pytest.approx(ethanol_kg, rel=1e-11)
    many = still.fill_jars(run, np.full(60, 0.75))
    assert (len(many.jars), many.unused) == (len(alike.jars), 60 - len(alike.jars))
    assert many.jars == alike.jars
    assert f"{many.unused} not used" in many.summary()
    assert still.CAUTIONS in repr(filled)
    assert len(alike.to_frame()) == len(alike.jars)


@pytest.mark.parametrize(
    ("sizes", "options", "message"),
    [
        ([], {}, "jars: no size given"),
        ([0.5, 0.0], {}, "size of jar 2 0 L must be more than zero"),
        (0.0, {}, "size of the jars 0 L must be more than zero"),
        (-1.0, {}, "size of the jars -1 L is below the lowest allowed, 0 L"),
        (math.nan, {}, "size of the jars is not a number"),
        (1e-9, {}, "size of the jars 1e-09 L is too small"),
        ([[0.5]], {}, "sizes_l must be one row of numbers"),
        (0.5, {"temperature_c": 41.0}, "temperature of collection 41 degC is outside 0 to 40 degC"),
    ],
)
def test_what_jars_refuse(sizes: Any, options: dict[str, float], message: str) -> None:
    run = still.strip(still.Liquid.by_volume(40.0, 28.0), distillate_abv=10.0)
    with pytest.raises(ferment.Error, match=f"^{message}"):
        still.fill_jars(run, sizes, **options)


def test_jars_of_what_is_no_run() -> None:
    with pytest.raises(TypeError, match=r"^fill_jars takes a Stripping or a ColumnRun, not Liquid"):
        still.fill_jars(still.Liquid.by_volume(40.0, 28.0), 0.5)  # type: ignore[arg-type]
    nothing = still.strip(still.Liquid.by_volume(40.0, 28.0), collected_l=0.0)
    with pytest.raises(ferment.InputError, match=r"^jars: nothing came over in this run"):
        still.fill_jars(nothing, 0.5)


def test_results_compare_by_content_and_travel() -> None:
    again = still.strip(PLAN, SETUP, distillate_abv=2.0)
    assert again == RUN
    assert again is not RUN
    assert hash(again) == hash(RUN)
    assert still.strip(PLAN, SETUP, distillate_abv=2.1) != RUN
    assert pickle.loads(pickle.dumps(RUN)) == RUN
    plain = RUN.to_dict()
    assert plain["curve"]["head_c"] == RUN.curve.head_c.tolist()
    assert plain["low_wines"]["abv"] == RUN.low_wines.abv
    assert repr(RUN).startswith("<Stripping of ")
    assert repr(RUN.curve) == "<StrippingCurve of 51 points>"
    water = still.strip(still.Liquid.by_volume(10.0, 0.0), collected_l=2.0)
    assert math.isnan(water.ethanol_left)
    assert pickle.loads(pickle.dumps(water)) == water


def test_other_threads_run_meanwhile() -> None:
    ticks = 0
    done = threading.Event()

    def count() -> None:
        nonlocal ticks
        while not done.is_set():
            ticks += 1
            done.wait(0.001)

    counter = threading.Thread(target=count)
    counter.start()
    still.strip(SPIRIT, distillate_abv=1.0, points=20000)
    done.set()
    counter.join()
    assert ticks > 20  # a few hundred; with the lock held two or three

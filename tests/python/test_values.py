"""What all results share: frozen, equal, printable, picklable, tables for notebooks."""

import copy
import dataclasses
import pickle
from typing import Any

import ferment
import pytest
from ferment import batch, fermentation, instrument, liquid, mash, proofing, still, strength

BILL = mash.Bill([("flaked oats", 60.0), ("barley malt", 15.0)])
POTENTIAL = mash.potential(BILL, water_l=220.0, assumptions=fermentation.no_cook())
BATCH = (
    POTENTIAL,
    fermentation.Inoculum(0.1),
    fermentation.Conditions(18.0, fermentation.Ambient.day_night(16.0, 5.0)),
)
READING = fermentation.Reading(24.0, gravity=(1.005, 0.001), iodine=True)
FORECAST = fermentation.forecast(*BATCH, [0.0, 24.0], members=2)
FITTED = fermentation.fit(*BATCH, [READING])
CHECK = fermentation.check(*BATCH, [READING], members=2)
GRAVITY = ferment.Measured(1.010, 0.0005)
FOUND = [
    strength.abv_from_boiling_point((95.0, 0.1), (101.3, 0.1), GRAVITY),
    strength.abv_from_boiled_down(GRAVITY, (1.018, 0.0005)),
]
COMBINED = strength.combine(FOUND)
STILL = still.Still(50.0, heating_kw=3.0)
CHARGES = still.charges(100.0, 8.0, 1.0, STILL)
STRIPPING = still.strip(CHARGES, STILL, distillate_abv=2.0, points=11)
DUTY = still.stripping_duty(STRIPPING, STILL)
COLUMN_RUN = still.rectify(
    STRIPPING.low_wines, still.Column(0), still.TakeOff.at_reflux(0.0), heating_kw=2.0, recovered=60.0, points=5
)
CONGENER_RUN = still.congener_run(STRIPPING, {"methanol": 1.0})
WINDOWS = still.windows(STRIPPING, {"methanol": 1.0}, rules=still.usual_boundaries()[2:])
CUTS = still.work_out_cuts([still.Jar(1.0, 60.0, "hearts", note="pears")])
PLAN = batch.plan(
    bill=BILL, water_l=220.0, stripping_still=STILL, cuts=batch.CutPlan(by_congeners=True), curve_points=21
)
LEDGER = PLAN.ledger().measure("hearts", 100.0)
RECORDS: list[Any] = [
    ferment.Measured(1.5, 0.1),
    ferment.Estimate(1.5, 0.5, (("starch", 0.4), ("conversion", -0.3))),
    ferment.sources()[0],
    instrument.Hydrometer("plato", 15.0, meniscus=0.1),
    instrument.Hydrometer().correct(1.05, 25.0),
    instrument.Wash(abv=5.0),
    instrument.Alcoholometer("us_proof"),
    instrument.Refractometer("refractive_index"),
    instrument.Refractometer().correct(12.0, 25.0),
    instrument.Refractometer().correct(6.0, 25.0, instrument.Wash(abv=5.0)),
    instrument.Ebulliometer(0.1),
    instrument.Ebulliometer().strength(95.0),
    liquid.azeotrope(),
    strength.gravity_balance(1.05, 1.01),
    FOUND[0],
    COMBINED,
    COMBINED.agreements[0],
    mash.grain("flaked oats"),
    BILL,
    mash.Assumptions(),
    POTENTIAL,
    POTENTIAL.expected,
    POTENTIAL.expected.bill,
    mash.water_balance(POTENTIAL),
    fermentation.end_point(POTENTIAL),
    fermentation.read_wash(POTENTIAL, 1.0),
    *BATCH[1:],
    fermentation.Ambient.logged([0.0, 24.0], [10.0, 12.0]),
    fermentation.Vessel(sunshine_w=200.0),
    fermentation.kinetic_parameters()[0],
    fermentation.simulate(*BATCH, [0.0, 24.0]),
    FORECAST,
    FORECAST.done(),
    FITTED.belief,
    READING,
    FITTED.residuals[0],
    FITTED,
    CHECK.expected[0],
    CHECK,
    STILL,
    CHARGES,
    CHARGES.charge,
    STRIPPING,
    STRIPPING.curve,
    DUTY,
    still.all_charges(DUTY, STRIPPING, 3),
    still.Column(4, 0.2),
    still.TakeOff.at_strength(90.0, 10.0),
    COLUMN_RUN,
    COLUMN_RUN.curve,
    COLUMN_RUN.at_end,
    still.minimum_reflux(10.0, 90.0),
    still.reflux_of_divider(20.0),
    still.packings()[-1],
    still.PackingBed(),
    still.column_capacity(0.05, 95.0, 75.0),
    still.congener("methanol"),
    still.congener_volatility("methanol", 10.0),
    CONGENER_RUN,
    CONGENER_RUN.courses[0],
    WINDOWS,
    WINDOWS.boundaries[0],
    WINDOWS.boundaries[0].rule,
    still.practice_figures()[0],
    still.legal_lines()[5],
    CUTS,
    CUTS.jars[0],
    CUTS.jars[0].jar,
    CUTS.total,
    CUTS.fractions[0],
    proofing.dilute(60.0, 10.0, 40.0),
    proofing.dilute(60.0, 10.0, 40.0).result,
    proofing.blend([(60.0, 1.0), (0.0, 1.0)]),
    proofing.bottles(40.0, 10.0),
    proofing.sweeten(60.0, 10.0, 40.0, 20.0),
    PLAN,
    PLAN.request,
    PLAN.request.stripping_end,
    PLAN.request.conditions,
    PLAN.request.spirit,
    PLAN.request.cuts,
    PLAN.request.cuts.hearts_end,
    PLAN.request.recycled,
    PLAN.request.bottling,
    PLAN.fractions[0],
    PLAN.spirit_duty,
    PLAN.totals,
    PLAN.predicted,
    PLAN.inflow[0],
    PLAN.ledger_rows[-1],
    LEDGER.findings()[0],
    LEDGER.yield_at("hearts"),
    LEDGER.balance(),
    batch.published_yields()[0],
]
IDS = [type(record).__name__ for record in RECORDS]


def shown(record: Any) -> list[str]:
    return [field.name for field in dataclasses.fields(record) if not field.name.startswith("_")]


every = pytest.mark.parametrize("record", RECORDS, ids=IDS)


def test_every_value_type_is_tried() -> None:
    modules = (ferment, liquid, instrument, strength, mash, fermentation, still, proofing, batch)
    types = {
        value.__name__
        for module in modules
        for name in module.__all__
        if isinstance(value := getattr(module, name), type) and dataclasses.is_dataclass(value)
    }
    assert types == set(IDS)


@every
def test_pickled_and_copied(record: Any) -> None:
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        assert pickle.loads(pickle.dumps(record, protocol)) == record
    assert copy.copy(record) == record
    assert copy.deepcopy(record) == record


@every
def test_equal_and_hashable(record: Any) -> None:
    same = copy.deepcopy(record)
    assert same is not record
    assert hash(same) == hash(record)
    assert record != "something else"
    assert record != object()
    first = dataclasses.fields(record)[0].name
    other = copy.copy(record)
    object.__setattr__(other, first, "another")
    assert other != record


@every
def test_frozen_and_slotted(record: Any) -> None:
    name = dataclasses.fields(record)[0].name
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(record, name, 1.0)
    with pytest.raises(dataclasses.FrozenInstanceError):
        delattr(record, name)
    with pytest.raises((AttributeError, TypeError)):
        record.something_new = 1.0
    assert not hasattr(record, "__dict__")


@every
def test_printed(record: Any) -> None:
    name = type(record).__name__
    assert repr(record).startswith((f"{name}({dataclasses.fields(record)[0].name}=", f"<{name} of "))
    table = record._repr_html_()
    assert table.startswith(f"<table><caption>{type(record).__name__}</caption><tr><th>")
    assert table.count("<tr>") == table.count("</tr>") == len(shown(record))
    assert type(record).__doc__


def is_plain(value: Any) -> bool:
    if isinstance(value, dict):
        return all(isinstance(key, str) and is_plain(item) for key, item in value.items())
    if isinstance(value, list | tuple):
        return all(is_plain(item) for item in value)
    return value is None or type(value) in (str, int, float, bool)


@every
def test_plain_dictionary(record: Any) -> None:
    found = record.to_dict()
    assert list(found) == shown(record)
    assert is_plain(found)


def test_text_is_escaped_for_html() -> None:
    grain = mash.Grain("<b>lot</b>", "flour", moisture=12.0, starch=60.0, sugars=1.0)
    assert "&lt;b&gt;lot&lt;/b&gt;" in grain._repr_html_()
    assert "<b>" not in grain._repr_html_()


def test_numbers_with_uncertainty_read_well() -> None:
    assert str(ferment.Measured(56.9, 3.0)) == "56.9 +- 3"
    assert str(ferment.Estimate(1.07365, 0.00417)) == "1.07365 +- 0.0042"
    low, high = ferment.Estimate(10.0, 0.5).interval()
    assert (low, high) == (9.0, 11.0)
    assert ferment.Estimate(10.0, 0.5).interval(1.0) == (9.5, 10.5)
    assert isinstance(ferment.Estimate(1.0), ferment.Measured)


def test_results_that_hold_arrays_compare_by_element() -> None:
    sg = [1.05, 1.06, float("nan")]
    one = strength.gravity_balance(sg, 1.01)
    same = strength.gravity_balance(sg, 1.01)
    assert one == same
    assert hash(one) == hash(same)
    assert one != strength.gravity_balance(sg, 1.011)
    assert one != strength.gravity_balance(1.05, 1.01)
    assert instrument.Hydrometer().correct([1.05], 20.0) != instrument.CorrectedReading(1.05, 1.0, 0.0, 12.0)


def test_water_has_no_attenuation() -> None:
    with pytest.raises(ferment.RangeError, match=r"^original gravity 1 must be above 1: water has no extract"):
        strength.apparent_attenuation(1.0, 1.0)

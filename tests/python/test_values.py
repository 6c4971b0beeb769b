"""What all results share: frozen, equal, printable, picklable, tables for notebooks."""

import collections
import copy
import dataclasses
import html.parser
import inspect
import pickle
import re
import sys
from typing import Any

import ferment
import numpy as np
import pandas as pd
import pytest
from ferment import _show, batch, fermentation, instrument, liquid, mash, proofing, still, strength

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
    still.fill_jars(STRIPPING, 5.0),
    still.fill_jars(STRIPPING, 5.0).jars[0],
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
    batch.plans(PLAN.request, water_l=[210.0, 220.0]),
]
LONGEST_LINE = 1000
LEAST_UNITS = 250
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
def test_printed_in_a_line(record: Any) -> None:
    name = type(record).__name__
    line, *rest = repr(record).split("\n")
    assert line.startswith((f"{name}({dataclasses.fields(record)[0].name}=", f"<{name}"))
    assert len(line) <= LONGEST_LINE
    assert rest == ([still.CAUTIONS] if isinstance(record, still._Plan) else [])
    assert "array(" not in line
    assert type(record).__doc__


class Tables(html.parser.HTMLParser):
    """Reads cells, captions and what else is text; elements must close in their order."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.texts: list[str] = []
        self.elements: collections.Counter[str] = collections.Counter()
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open.append(tag)
        self.elements[tag] += 1
        assert {name for name, _ in attrs} <= {"style", "colspan"}

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


@every
def test_table_for_notebooks(record: Any) -> None:
    found = Tables(record._repr_html_())
    assert set(found.elements) <= {
        "table",
        "caption",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
        "p",
        "strong",
        "details",
        "summary",
        "pre",
    }
    assert found.elements["table"] + found.elements["pre"] >= 1
    for text in found.texts:
        assert "array(" not in text
        assert "Estimate(" not in text
        assert "Measured(" not in text
        assert not re.search(r"\d\.\d{9}", text), text
    if hasattr(record, "cautions"):
        assert still.CAUTIONS in found.texts or still.CAUTIONS.split(":")[0] in "".join(found.texts)
    if isinstance(record, still._Plan):
        assert found.texts.count(still.CAUTIONS) == 1


#: What only a description can say: a unit that stands for some of the fields it is written behind, or no unit at all.
SAID_OTHERWISE = {
    "BoundaryRule.by",
    "Congener.name",
    "CutPlan.congener_levels",
    "Liquid.pure_alcohol_l",
    "Liquid.volume_l",
    "Packing.name",
    "PlanRequest.bill",
    "PlanRequest.stripping_still",
    "Reading.co2_lost_kg",
    "Reading.gravity",
    "TakeOff.max_reflux",
}
SAME_UNIT = {
    "% mass; degrees Plato": "% mass",
    "% mass of the liquid": "% mass",
    "% of the starch": "%",
    "% of that in the charge": "%",
    "% of the volume": "%",
    "% vol per K": "% vol/K",
    "SG 20/20": "",
    "g per kg of liquid": "g/kg",
    "g per hL of pure alcohol": "g/hL",
    "h after pitching": "h",
    "kg per kg of grist": "kg/kg",
    "kWh/L": "kWh per L of pure alcohol",
    "L of pure alcohol": "L",
    "L at its temperature": "L",
    "1": "",
}


def described(kind: type) -> dict[str, str]:
    """The unit that the description of a class states for each field; without those where it states none."""
    text = inspect.getdoc(kind) or ""
    entries: list[str] = []
    for line in text.partition("----------\n")[2].partition("\n\n")[0].splitlines():
        if re.match(r"[a-z].* : ", line):
            entries.append(line)
        elif entries:
            entries[-1] += f" {line.strip()}"
    units: dict[str, str] = {}
    for entry in entries:
        names, _, said = entry.partition(" : ")
        fields = names.split(", ")
        if stated := re.search(r"\[([^\]]+)\]", said):
            given = stated[1].replace(" at 20 degC", "").split(", ")
            each = given if len(given) == len(fields) else [given[0]] * len(fields)
            units |= dict(zip(fields, each, strict=True))
    return units


def test_units_are_those_of_the_descriptions() -> None:
    tried = 0
    for kind in {type(record) for record in RECORDS}:
        for name, unit in described(kind).items():
            if f"{kind.__name__}.{name}" not in SAID_OTHERWISE and hasattr(kind, name):
                assert _show.figure(name, kind)[1] == SAME_UNIT.get(unit, unit), (kind.__name__, name)
                tried += 1
    assert tried >= LEAST_UNITS


def test_every_suffix_of_a_field_is_known() -> None:
    # A field that ends like a unit has one; a word in which no unit ends has none by chance.
    for record in RECORDS:
        for name in shown(record):
            if name.rpartition("_")[2] in _show.SUFFIXES and "_" in name:
                assert _show.figure(name, type(record))[1], (type(record).__name__, name)


def test_quantities_in_words() -> None:
    assert _show.figure("water_temperature_c") == ("water temperature", "degC")
    assert _show.figure("co2_l_per_h") == ("CO2", "L/h")
    assert _show.figure("low_wines_abv") == ("low wines strength", "% vol")
    assert _show.figure("pure_alcohol_l_per_tonne_dry") == ("pure alcohol", "L/t of dry grain")
    assert _show.figure("energy_kwh_per_pure_alcohol_l") == ("energy", "kWh per L of pure alcohol")
    assert _show.figure("l_per_h") == ("rate", "L/h")
    assert _show.figure("take_off_per_coolant") == ("take off per coolant", "")


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


def test_elementwise_results_give_lists() -> None:
    found = instrument.Hydrometer().correct(np.array([1.05, 1.06]), 20.0)
    assert is_plain(found.to_dict())
    assert found.to_dict()["sg"] == np.asarray(found.sg).tolist()


@every
def test_frame(record: Any) -> None:
    frame = record.to_frame()
    assert isinstance(frame, pd.DataFrame)
    assert len(frame) >= 1
    assert len(set(frame.columns)) == len(frame.columns)
    assert not any(name.rpartition(".")[2].startswith("_") for name in frame.columns)
    for value in frame.to_numpy(dtype=object).ravel().tolist():
        assert value is None or isinstance(value, str | int | float | bool)
    if isinstance(record, still._Plan):
        assert frame.attrs["cautions"] == still.CAUTIONS


def test_frame_of_one_result_is_a_row() -> None:
    frame = POTENTIAL.expected.to_frame()
    assert frame.shape[0] == 1
    assert frame["pure_alcohol_l"][0] == POTENTIAL.expected.pure_alcohol_l.value
    assert frame["pure_alcohol_l_standard_uncertainty"][0] == POTENTIAL.expected.pure_alcohol_l.standard_uncertainty
    assert frame["bill.mass_kg"][0] == 75.0
    assert frame["grains.barley_malt.mass_kg"][0] == 15.0
    assert CHECK.to_frame()["probability.on_course"][0] == dict(CHECK.probability)["on course"]


def test_frame_of_a_series_has_a_row_for_each_point() -> None:
    curve = STRIPPING.curve.to_frame()
    assert list(curve.columns) == shown(STRIPPING.curve)
    assert curve["pot_kg"].tolist() == STRIPPING.curve.pot_kg.tolist()
    assert len(COLUMN_RUN.curve.to_frame()) == len(COLUMN_RUN.curve.time_h)
    bands = FORECAST.to_frame()
    assert bands["gravity_p95"].tolist() == FORECAST.gravity[:, -1].tolist()
    assert bands["iodine"].tolist() == FORECAST.iodine.tolist()
    assert bands.attrs == {"members": 2}
    course = fermentation.simulate(*BATCH, [0.0, 24.0])
    assert course.to_frame().attrs["steps"] == course.steps
    run = CONGENER_RUN.to_frame()
    assert run["methanol.collected_g"].tolist() == CONGENER_RUN.course("methanol").collected_g.tolist()
    corrected = instrument.Hydrometer().correct([1.05, 1.06], 20.0)
    assert corrected.to_frame()["sg"].tolist() == np.asarray(corrected.sg).tolist()


def test_frame_of_a_list_has_a_row_for_each_entry() -> None:
    assert BILL.to_frame()["grain"].tolist() == ["flaked oats", "barley malt"]
    assert BILL.to_frame()["mass_kg"].tolist() == [60.0, 15.0]
    assert len(WINDOWS.to_frame()) == len(WINDOWS.boundaries)
    assert len(FITTED.to_frame()) == len(FITTED.residuals)
    assert LEDGER.to_frame()["litres"].tolist() == [row.litres.value for row in LEDGER.rows()]
    jars = still.work_out_cuts([still.Jar(1.0, 70.0, "heads"), still.Jar(2.0, 65.0, "hearts")])
    assert jars.to_frame()["jar.label"].tolist() == ["heads", "hearts"]


def test_frame_of_several_results() -> None:
    frame = ferment.to_frame(ferment.sources())
    assert frame["name"].tolist() == [source.name for source in ferment.sources()]
    rows = ferment.to_frame(ferment.Estimate(value, 0.1, (("starch", 0.1),)) for value in (1.0, 2.0))
    assert rows.to_dict("list") == {"value": [1.0, 2.0], "standard_uncertainty": [0.1, 0.1]}
    assert ferment.to_frame(STILL).equals(STILL.to_frame())
    with pytest.raises(TypeError, match=r"^a frame is made of results, not of 'float'$"):
        ferment.to_frame([1.0])  # type: ignore[list-item]


def test_frame_needs_pandas(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(ImportError) as caught:
        STILL.to_frame()
    assert str(caught.value) == 'frames need pandas, which is not installed: pip install "libferment[tables]"'


def test_text_is_escaped_for_html() -> None:
    grain = mash.Grain("<b>lot</b>", "flour", moisture=12.0, starch=60.0, sugars=1.0)
    for table in (grain._repr_html_(), mash.Bill([(grain, 1.0)])._repr_html_()):
        assert "&lt;b&gt;lot&lt;/b&gt;" in table
        assert "<b>" not in table
    cuts = still.work_out_cuts([still.Jar(1.0, 60.0, "hearts", note="<script>pears</script>")])
    assert "<script>" not in cuts._repr_html_()
    assert "&lt;script&gt;pears" in cuts._repr_html_()


def test_long_series_are_shortened() -> None:
    times = np.linspace(0.0, 100.0, 1001)
    course = fermentation.simulate(*BATCH, times)
    assert "time_h=<1001 numbers, 0 to 100>" in repr(course)
    assert len(repr(course)) <= LONGEST_LINE
    rows = Tables(course._repr_html_()).elements["tr"]
    assert rows < 20
    assert "11 of 1001 rows" in course._repr_html_()


def test_a_table_says_quantity_value_and_unit() -> None:
    table = fermentation.end_point(POTENTIAL)._repr_html_()
    end = fermentation.end_point(POTENTIAL)
    assert table.startswith("<table><caption>End point</caption>")
    row = f"strength|{end.abv}|% vol"
    cells = [re.sub("<[^>]+>", "|", line).strip("|") for line in table.split("<tr>")]
    assert row in [re.sub(r"\|+", "|", line).rstrip("|") for line in cells]
    bands = FORECAST._repr_html_()
    assert "gravity, p50 (p5 to p95)" in bands


def test_numbers_with_uncertainty_read_well() -> None:
    assert str(ferment.Measured(56.9, 3.0)) == "56.9 +- 3.0"
    assert str(ferment.Measured(56.9)) == "56.9"
    assert str(ferment.Estimate(1.07366, 0.00417)) == "1.0737 +- 0.0042"
    assert str(ferment.Estimate(1.07366, 0.00996)) == "1.074 +- 0.010"
    assert str(ferment.Measured(1234.5, 123.0)) == "1230 +- 120"
    assert str(ferment.Measured(1.0e-14, 1.3e-16)) == "1e-14 +- 1.3e-16"
    assert str(ferment.Measured(float("nan"), 0.1)) == "NaN"
    assert str(ferment.Measured(1.5, float("nan"))) == "1.5 +- NaN"
    assert str(ferment.Measured(float("inf"), 0.0)) == "infinite"
    assert repr(ferment.Measured(56.9, 3.0)) == "Measured(value=56.9, standard_uncertainty=3.0)"
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

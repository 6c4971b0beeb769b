"""A whole plan and its ledger: the same figures as stage by stage, in one line what if, text that reads back, clear errors."""

import copy
import json
import pickle
from typing import Any

import ferment
import pytest
from ferment import batch, fermentation, liquid, mash, proofing, still

STILL = still.Still(50.0, heating_kw=5.0, heat_loss=5.0, heat_loss_w_per_k=5.0, still_heat_kj_per_k=20.0)
BILL = [("flaked oats", 20.0), ("wheat", 10.0)]
PLAN = batch.plan(bill=BILL, water_kg=110.0, stripping_still=STILL)
REQUEST = PLAN.request


def test_every_stage_is_what_its_own_function_gives() -> None:
    can = mash.potential(mash.Bill(BILL), water_kg=110.0, assumptions=fermentation.no_cook())
    assert PLAN.potential == can
    end = fermentation.end_point(can)
    assert (PLAN.end_point.abv, PLAN.end_point.gravity.value) == (end.abv, pytest.approx(end.gravity.value, rel=1e-12))
    assert PLAN.end_point.wash_kg.standard_uncertainty == pytest.approx(end.wash_kg.standard_uncertainty, rel=1e-12)
    water = mash.water_balance(can)
    assert PLAN.water == water
    strained = still.Liquid.by_mass(
        end.wash_kg.value * water.free_share.value / 100.0, end.abw.value, end.real_extract.value
    )
    charges = still.charges(strained.volume_l, strained.abv, strained.extract, STILL)
    assert PLAN.stripping_charges.count == charges.count == 3
    run = still.strip(charges, STILL, distillate_abv=5.0, points=101)
    assert PLAN.stripping.low_wines.volume_l == pytest.approx(run.low_wines.volume_l, rel=1e-9)
    duty = still.stripping_duty(run, STILL)
    assert PLAN.stripping_duty.energy_kwh == pytest.approx(duty.energy_kwh, rel=1e-9)
    everything = still.all_charges(duty, run, 3, 1.0)
    assert PLAN.stripping_bill.total_h == pytest.approx(everything.total_h, rel=1e-9)
    assert PLAN.low_wines.pure_alcohol_l == pytest.approx(3 * run.low_wines.pure_alcohol_l, rel=1e-9)
    hearts = PLAN.fraction("hearts").content
    reduced = proofing.dilute(hearts.abv, hearts.volume_l, 40.0)
    assert PLAN.dilution.water_kg == pytest.approx(reduced.water_kg, rel=1e-9)
    assert PLAN.dilution.result.abv == pytest.approx(40.0, abs=1e-9)
    assert PLAN.bottling.bottles == proofing.bottles(40.0, reduced.result.volume_l).bottles


def test_mass_and_alcohol_close() -> None:
    assert PLAN.balance_error <= 1e-10  # what the plan promises
    for kind in ("mass_kg", "ethanol_kg"):
        came = sum(getattr(flow, kind) for flow in PLAN.inflow)
        went = sum(getattr(flow, kind) for flow in PLAN.outflow)
        assert went == pytest.approx(came, rel=1e-10)


def test_percent_at_the_edge() -> None:
    fore_shots, heads, hearts, tails = PLAN.fractions
    assert [one.label for one in PLAN.fractions] == ["fore_shots", "heads", "hearts", "tails"]
    assert fore_shots.alcohol_share == pytest.approx(1.0, abs=1e-9)
    assert heads.alcohol_share == pytest.approx(5.0, abs=1e-9)
    assert hearts.to_abv == pytest.approx(60.0, abs=1e-6)
    assert tails.to_abv == pytest.approx(10.0, abs=1e-6)
    assert PLAN.stripping_charges.head_space >= 25.0
    assert PLAN.stripping.curve.distillate_abv[-1] == pytest.approx(5.0, abs=1e-9)
    assert len(PLAN.spirit_run.curve.collected_l) == 101


def test_the_sheet_is_the_text_of_a_plan() -> None:
    text = str(PLAN)
    assert text == PLAN.sheet()
    assert text.startswith("PLAN OF A BATCH")
    assert all(len(line) <= 100 for line in text.splitlines())
    assert " ".join(PLAN.cautions.split()) in " ".join(text.split())
    assert f"{PLAN.bottling.bottles} of 0.7000 L" in text
    assert (
        repr(PLAN)
        == "<Plan of 30 kg of grain: "
        + f"{PLAN.fraction('hearts').content} of hearts, {PLAN.bottling.bottles} bottles>"
    )


def test_what_if() -> None:
    assert PLAN.what_if() == PLAN
    column = PLAN.what_if(plates=4, take_off=still.TakeOff.at_reflux(2.0))
    assert column.plates == 4
    assert column.fraction("hearts").content.abv > PLAN.fraction("hearts").content.abv
    assert PLAN.what_if(bill=[("flaked oats", 25.0), ("wheat", 10.0)]).end_point.pure_alcohol_l.value > 11.0
    by_volume = PLAN.what_if(water_l=110.0, water_temperature_c=20.0)
    assert by_volume.request.water_kg == pytest.approx(0.110 * liquid.water_density(20.0), rel=1e-12)
    assert PLAN.what_if(boiler_l=40.0).stripping_charges.count == 4
    assert PLAN.what_if(target_abv=45.0).dilution.result.abv == pytest.approx(45.0, abs=1e-9)
    assert PLAN.what_if(conversion=(70.0, 3.0)).end_point.abv.value < PLAN.end_point.abv.value
    assert PLAN.what_if(hearts_end=batch.CutEnd.collected(5.0)).fraction("hearts").to_l == pytest.approx(5.0, rel=1e-9)
    assert PLAN.request == REQUEST  # nothing was changed in place


def test_more_or_less_of_grain_and_water() -> None:
    more = REQUEST.with_more(grain_kg=3.0, water_kg=-10.0)
    assert [mass_kg for _, mass_kg in more.bill.items] == pytest.approx([22.0, 11.0])
    assert more.water_kg == 100.0
    assert batch.plan(more).end_point.abv.value > PLAN.end_point.abv.value
    with pytest.raises(ferment.RangeError):
        REQUEST.with_more(grain_kg=-30.0)


def test_a_plan_by_keywords_and_by_request_are_the_same() -> None:
    assert batch.plan(batch.PlanRequest(BILL, 110.0, STILL)) == PLAN
    assert batch.plan(REQUEST, plates=0) == PLAN
    assert batch.plan(bill=BILL, water_kg=110.0, stripping_still=STILL, target_abv=40.0) == PLAN


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"plate": 3}, r"^plate is not known; did you mean 'plates'\?$"),
        (
            {"start_c": 12.0},
            r"^start_c is a field of conditions and of spirit; change it through its part: conditions=\.\.\.$",
        ),
        ({"plates": 2, "spirit": batch.SpiritStill()}, r"^plates and spirit, which holds it, are both given"),
        ({"water_l": 80.0, "water_kg": 80.0}, r"^give water_l \[L\] or water_kg \[kg\], not both$"),
        ({"plates": 1.5}, r"^plates 1\.5 must be a whole number$"),
        ({"plates": -1}, r"^spirit run: .*plates"),
        ({"water_kg": -5.0}, r"^mash: .*-5 kg"),
        ({"water_kg": float("nan")}, r"^mash: "),
        ({"boiler_l": 0.0}, r"^boiler volume 0 L must be more than zero"),
        ({"heating_kw": 0.0}, r"^stripping: heating 0 kW must be more than zero"),
        ({"target_abv": 90.0}, r"^bottling: "),
        ({"bottle_l": 0.0}, r"^bottling: bottle 0 L must be more than zero"),
        ({"hearts_end": batch.CutEnd.alcohol_share(120.0)}, r"^cuts: end of hearts 120 %"),
        ({"heads_end": batch.CutEnd.collected(100.0)}, r"^cuts: the run ends before heads do"),
        ({"by_congeners": True, "plates": 2}, r"^cuts: congeners are followed through a simple still only"),
        ({"recycled": batch.Recycled(-1.0, 40.0)}, r"^recycled heads and tails: volume -1 L"),
        ({"turnaround_h": -1.0}, r"^request: turnaround -1 h"),
        ({"curve_points": 1}, r"^request: points of the curves 1"),
    ],
    ids=lambda x: ",".join(x) if isinstance(x, dict) else "",
)
def test_errors_name_stage_and_quantity(changes: dict[str, Any], message: str) -> None:
    with pytest.raises(ferment.Error, match=message):
        PLAN.what_if(**changes)


def test_what_must_be_given() -> None:
    with pytest.raises(ferment.InputError, match=r"^bill is missing; a plan needs bill, water_kg"):
        batch.plan()
    with pytest.raises(ferment.InputError, match=r"^water_kg or water_l is missing"):
        batch.plan(bill=BILL, stripping_still=STILL)
    with pytest.raises(ferment.InputError, match=r"^stripping_still is missing"):
        batch.plan(bill=BILL, water_l=100.0)
    with pytest.raises(ferment.InputError, match=r"not both$"):
        batch.plan(bill=BILL, stripping_still=STILL, water_l=100.0, water_kg=100.0)
    with pytest.raises(ferment.InputError, match=r"^end of a fraction 'abv' is not known; allowed are alcohol_share"):
        batch.CutEnd("abv", 60.0)
    with pytest.raises(ferment.InputError, match=r"^end of the stripping run 'time' is not known"):
        batch.StrippingEnd("time", 3.0)
    with pytest.raises(ferment.InputError, match=r"^recycled into 'bottle' is not known; allowed are wash, low_wines$"):
        batch.Recycled(1.0, 40.0, "bottle")
    with pytest.raises(ferment.InputError, match=r"^fraction 'foreshots' is not known"):
        PLAN.fraction("foreshots")


# ---- as text ----

OATS = mash.grain("flaked oats").with_analysis(starch=(57.1 / 3.0, 1.1), moisture=11.7, source="certificate <12>")
REQUESTS = {
    "usual": REQUEST,
    "all said": batch.PlanRequest(
        [(OATS, 20.0 / 3.0), ("wheat", 10)],
        water_kg=70,
        stripping_still=STILL,
        assumptions=mash.Assumptions((88.1, 2.2), 91.3),
        dissolved_by_products=(70.0, 10.0),
        absorption=0.1 + 0.2,
        mash_head_space=15,
        stripping_end=batch.StrippingEnd("recovered", 98.0),
        conditions=batch.RunConditions(start_c=12.0, water_out_c=45.0),
        spirit=batch.SpiritStill(
            still.Still(30.0, heating_kw=3.0),
            packed_height_m=0.6,
            hetp_m=0.2,
            hold_up_kg=0.1,
            equilibration_h=0.5,
            take_off=still.TakeOff.at_reflux(2.0),
            pot_abv=1.0,
        ),
        cuts=batch.CutPlan(hearts_end=batch.CutEnd.distillate(82.0), heads_end=batch.CutEnd.alcohol_share(8.0)),
        recycled=batch.Recycled(2.0, 55.5),
        bottling=batch.BottlingPlan(43.0, 0.5, 8.0, 15.0),
        turnaround_h=0.5,
        curve_points=51,
    ),
    "by congeners": REQUEST.changed(by_congeners=True, congener_levels={"ethyl_acetate": 30.0, "methanol": 5.0}),
}
# The spirit run by congeners needs every congener of its rules.
REQUESTS["by congeners"] = REQUESTS["by congeners"].changed(
    congener_levels={**dict.fromkeys([rule.congener for rule in still.usual_boundaries() if rule.congener], 10.0)}
)


@pytest.mark.parametrize("request_", REQUESTS.values(), ids=REQUESTS)
def test_request_reads_back_exactly(request_: batch.PlanRequest) -> None:
    for indent in (None, 2):
        text = request_.to_json(indent)
        again = batch.PlanRequest.from_json(text)
        assert again == request_
        assert again.to_json(indent) == text
    assert batch.plan(again) == batch.plan(request_)


def test_schema_of_a_request() -> None:
    found = json.loads(REQUEST.to_json())
    assert list(found) == ["schema", "version", *REQUEST.to_dict()]
    assert found["schema"] == "libferment plan"
    assert found["version"] == 1
    assert found["bill"][1]["mass_kg"] == 10.0
    assert found["stripping_end"] == {"by": "distillate_abv", "value": 5.0}


def changed_text(path: list[str | int], value: Any) -> str:
    found = json.loads(REQUEST.to_json())
    place = found
    for key in path[:-1]:
        place = place[key]
    if value is KeyError:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    return json.dumps(found)


BAD: list[tuple[list[str | int], Any, str]] = [
    (["version"], 2, r"^version = 2 must be 1$"),
    (["version"], True, r"^version = true must be 1$"),
    (["version"], KeyError, r"^version is missing; it must be 1$"),
    (["schema"], "another", r"^schema = 'another' must be \"libferment plan\"$"),
    (["schema"], KeyError, r"^schema is missing"),
    (["colour"], "red", r"^colour = 'red' is not known; allowed are schema, version, bill, water_kg"),
    (["water_kg"], KeyError, r"^water_kg is missing; it must be a finite number$"),
    (["water_kg"], "110", r"^water_kg = '110' must be a finite number$"),
    (["water_kg"], True, r"^water_kg = true must be a finite number$"),
    (["water_kg"], None, r"^water_kg = null must be a finite number$"),
    (["water_kg"], float("nan"), r"^water_kg = nan must be a finite number$"),
    (["water_kg"], 10**400, r"^number 10000000... has 401 digits; at most 18 are read$"),
    (["curve_points"], 51.0, r"^curve_points = 51\.0 must be a whole number$"),
    (["bill"], {}, r"^bill = \{\} must be a list of objects with grain, mass_kg$"),
    (["bill"], [], r"bill"),
    (["bill", 0], 3, r"^bill\[0\] = 3 must be an object with grain, mass_kg$"),
    (["bill", 0, "mass_kg"], -1.0, r"-1 kg"),
    (
        ["bill", 1, "grain", "starch", "value"],
        "much",
        r"^bill\[1\]\.grain\.starch\.value = 'much' must be a finite number$",
    ),
    (["bill", 1, "grain", "starch", "value"], 99.0, r"^bill\[1\]\.grain: "),
    (
        ["bill", 1, "grain", "starch"],
        60.0,
        r"^bill\[1\]\.grain\.starch = 60\.0 must be an object with value, standard_uncertainty$",
    ),
    (
        ["bill", 1, "grain", "protien"],
        1.0,
        r"^bill\[1\]\.grain\.protien = 1\.0 is not known; did you mean 'protein'\?$",
    ),
    (["stripping_still", "boiler_l"], 0.0, r"^stripping_still: boiler volume 0 L must be more than zero"),
    (
        ["stripping_end", "by"],
        "time",
        r"^stripping_end: end of the stripping run 'time' is not known; allowed are distillate_abv",
    ),
    (["spirit", "still"], 4, r"^spirit\.still = 4 must be an object with boiler_l, .*, or null$"),
    (["spirit", "pot_abv"], "1", r"^spirit\.pot_abv = '1' must be a finite number, or null$"),
    (["spirit", "plates"], 2.5, r"^spirit\.plates = 2\.5 must be a whole number$"),
    (["cuts", "by_congeners"], 1, r"^cuts\.by_congeners = 1 must be true or false$"),
    (["cuts", "heads_end", "by"], 6, r"^cuts\.heads_end\.by = 6 must be a text$"),
    (
        ["cuts", "rules", 0, "level_range"],
        [1.0],
        r"^cuts\.rules\[0\]\.level_range = \[1\.0\] must be a list of two numbers$",
    ),
    (
        ["cuts", "congener_levels"],
        [["methanol", 1.0]],
        r"^cuts\.congener_levels\[0\] = .* must be an object with congener, level$",
    ),
    (["recycled", "into"], "sink", r"^recycled: recycled into 'sink' is not known"),
]


@pytest.mark.parametrize(
    ("path", "value", "message"), BAD, ids=[f"{'.'.join(map(str, p))}={v!r:.20}" for p, v, _ in BAD]
)
def test_text_that_is_no_request(path: list[str | int], value: Any, message: str) -> None:
    with pytest.raises(ferment.Error, match=message):
        batch.PlanRequest.from_json(changed_text(path, value))


def test_text_that_is_no_object() -> None:
    for text in ("", "{", "[" * 100000, '{"schema": "libferment plan",}'):
        with pytest.raises(ferment.InputError, match=r"^not JSON: "):
            batch.PlanRequest.from_json(text)
    with pytest.raises(ferment.InputError, match=r"^a plan must be an object"):
        batch.PlanRequest.from_json("[1]")
    with pytest.raises(ferment.InputError, match=r"^key version is there twice"):
        batch.PlanRequest.from_json('{"schema": "libferment plan", "version": 1, "version": 1}')
    with pytest.raises(
        ferment.InputError, match=r"^bottling\.water_c = nan cannot be written as JSON; it must be a finite number$"
    ):
        REQUEST.changed(bottling=batch.BottlingPlan(water_c=float("nan"))).to_json()


def test_results_as_text() -> None:
    found = json.loads(PLAN.to_json())
    assert list(found) == ["schema", "version", "request", "result", "sheet"]
    assert found["schema"] == "libferment plan result"
    assert found["version"] == 1
    assert batch.PlanRequest.from_json(json.dumps(found["request"])) == REQUEST
    assert found["result"]["bottling"]["bottles"] == PLAN.bottling.bottles
    assert found["result"]["spirit_run"]["curve"]["collected_l"] == PLAN.spirit_run.curve.collected_l.tolist()
    assert found["result"]["spirit_run"]["equilibrated"]["abw"] is None  # a simple still holds nothing on plates: NaN
    assert found["sheet"] == PLAN.sheet()


# ---- the ledger ----


def test_ledger_of_a_plan() -> None:
    book = PLAN.ledger()
    assert book.rows() == PLAN.ledger_rows
    stages = {row.place: row.litres.value for row in book.rows() if row.line in ("start", "stage")}
    assert stages["potential"] == PLAN.potential.theoretical.pure_alcohol_l.value
    assert stages["low_wines"] == pytest.approx(PLAN.low_wines.pure_alcohol_l, rel=1e-12)
    assert stages["hearts"] == pytest.approx(PLAN.fraction("hearts").content.pure_alcohol_l, rel=1e-12)
    assert abs(book.balance().difference_l.value) <= 1e-12
    # All doubts are those of grain, conversion and yeast: nothing remains of them where a figure is a share of another.
    assert book.content("hearts") == PLAN.predicted.hearts_pure_alcohol_l


def test_measurements_take_the_place_of_expectations() -> None:
    book = PLAN.ledger()
    expected = book.content("hearts")
    assert expected is not None
    book.measure("hearts", volume_l=(7.0, 0.05), abv=(68.0, 0.3), temperature_c=11.0, note="as collected")
    assert book.is_measured("hearts")
    assert not book.is_measured("bottles")
    found = book.content("hearts")
    assert found is not None
    # 68 % vol expands by about 0.09 % per kelvin (OIML R 22): 9 K colder is 0.8 % more at 20 degC.
    assert found.value == pytest.approx(7.0 * 0.68 * 1.008, rel=1e-3)
    assert found.standard_uncertainty == pytest.approx(
        found.value * ((0.05 / 7.0) ** 2 + (0.3 / 68.0) ** 2) ** 0.5, rel=1e-3
    )
    bottles = book.content("bottles")
    before = PLAN.ledger().content("bottles")
    assert bottles is not None
    assert before is not None
    assert bottles.value / before.value == pytest.approx(found.value / expected.value, rel=1e-9)
    row = next(row for row in book.rows() if row.place == "hearts" and row.line == "stage")
    assert (row.basis, row.note, row.expected) == ("measured", "as collected", expected)
    with pytest.raises(ferment.InputError, match=r"^hearts is measured already .*; forget that measurement"):
        book.measure("hearts", 5.0)
    assert book.forget("hearts").content("hearts") == expected
    assert not book.is_measured("hearts")


def test_impossible_entries_are_told() -> None:
    book = batch.Ledger((12.0, 0.5), 30.0, (26.5, 0.3)).measure("wash", (9.0, 0.2)).measure("low_wines", (10.0, 0.1))
    found = book.findings()
    assert [f.conflict for f in found] == ["impossible"]
    assert (found[0].before, found[0].after) == ("wash", "low_wines")
    assert found[0].excess_l.value == pytest.approx(1.0)
    assert found[0].standard_uncertainties == pytest.approx(1.0 / (0.2**2 + 0.1**2) ** 0.5)
    assert book.findings(5.0) == ()
    assert found[0].message in book.sheet()
    assert book.sheet() == str(book)


def test_what_comes_in_and_goes_out() -> None:
    book = batch.Ledger(12.0, 30.0, 26.5)
    assert (
        book.measure("wash", 9.0).bring_in("hearts", 1.5, "tails").measure("hearts", 6.0).take_out("hearts", 0.5)
        is book
    )
    assert book.balance().came_in_l.value == 1.5
    assert book.yield_at("hearts").litres.value == 4.5
    assert book.yield_at("hearts").litres_per_tonne.value == pytest.approx(150.0)
    assert [y.place for y in book.yields()] == ["potential", "wash", "hearts"]
    lost = sum(row.litres.value for row in book.losses())
    assert lost == pytest.approx(12.0 + 1.5 - 5.5)
    assert sum(row.litres.value for row in book.ends()) == pytest.approx(13.5)
    assert set(batch.LEDGER_PLACES) >= {row.place for row in book.rows()}
    assert book.expect("bottles", (5.0, 0.1)).content("bottles") == ferment.Estimate(
        5.0, 0.1, (("expected bottles", 0.1),)
    )


def test_ledger_of_a_potential() -> None:
    book = batch.Ledger.of_potential(PLAN.potential)
    assert book.content("off_the_grain") == PLAN.ledger().content("off_the_grain")
    dry = batch.Ledger.of_potential(PLAN.potential, absorption=0.0).content("off_the_grain")
    wash = book.content("wash")
    assert dry is not None
    assert wash is not None
    assert dry.value == pytest.approx(wash.value, rel=1e-12)


@pytest.mark.parametrize(
    "book",
    [
        batch.Ledger((12.0, 0.5), 30.0, 26.5).measure("wash", (9.0, 0.2), note="<b>").take_out("wash", 0.1),
        batch.Ledger.of_potential(PLAN.potential, (0.9, 0.1)).bring_in("low_wines", 1.0).expect("hearts", 5.0),
        PLAN.ledger().measure("low_wines", 7.5).forget("low_wines").measure("hearts", volume_l=7.0, abv=68.0),
    ],
)
def test_ledgers_are_copied_and_pickled(book: batch.Ledger) -> None:
    for again in (copy.copy(book), copy.deepcopy(book), pickle.loads(pickle.dumps(book))):
        assert again == book
        assert again.sheet() == book.sheet()
        again.take_out("bottles", 0.01)
        assert again != book  # books of their own
    assert book != "a ledger"
    with pytest.raises(TypeError):
        hash(book)
    assert repr(book).startswith("<Ledger with ")
    assert "<b>" not in book._repr_html_()
    assert json.loads(json.dumps(book.to_dict()))["rows"][0]["line"] == "start"


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        (lambda b: b.measure("cellar", 1.0), r'^place of a batch "cellar" is not known; known are potential, wash'),
        (lambda b: b.measure("potential", 1.0), r"^the potential of the grain is where the ledger starts"),
        (lambda b: b.measure("wash", -1.0), r"^measured in the wash -1 L must be zero or more"),
        (lambda b: b.measure("wash", (1.0, -0.1)), r"standard uncertainty of in the wash -0\.1 L"),
        (lambda b: b.measure("wash", float("nan")), r"is not a number; it must be zero or more L"),
        (lambda b: b.measure("wash"), r"^wash is measured in litres of pure alcohol, or by volume_l \[L\] and abv"),
        (lambda b: b.measure("wash", 1.0, volume_l=2.0, abv=3.0), r"^wash is measured in litres"),
        (lambda b: b.measure("hearts", volume_l=1.0), r"^hearts is measured in litres"),
        (lambda b: b.measure("hearts", volume_l=1.0, abv=101.0), r"^strength of hearts 101 % vol"),
        (lambda b: b.measure("hearts", volume_l=1.0, abv=60.0, temperature_c=60.0), r"^temperature of hearts 60 degC"),
        (lambda b: b.bring_in("tails", 1.0), r"^alcohol comes in on the way to wash"),
        (lambda b: b.yield_at("tails"), r"^yields are those of the stages"),
        (lambda b: b.yield_at("hearts"), r"hearts is neither measured nor expected"),
        (lambda b: b.findings(-1.0), r"^coverage -1 must be a finite number"),
    ],
)
def test_wrong_entries(entry: Any, message: str) -> None:
    book = batch.Ledger(12.0, 30.0, 26.5)
    before = book.sheet()
    with pytest.raises(ferment.Error, match=message):
        entry(book)
    assert book.sheet() == before
    assert copy.copy(book).sheet() == before  # a refused entry leaves no trace


def test_wrong_start() -> None:
    with pytest.raises(ferment.RangeError, match=r"^mass of grain -1 kg must be above 0 kg"):
        batch.Ledger(12.0, -1.0, 1.0)
    with pytest.raises(ferment.RangeError, match=r"^dry matter of the grain 31 kg is more than the grain, 30 kg"):
        batch.Ledger(12.0, 30.0, 31.0)


def test_published_yields() -> None:
    assert len(batch.published_yields()) == 7
    assert all(100.0 < row.litres_per_tonne < 720.0 for row in batch.published_yields())  # below that of pure starch

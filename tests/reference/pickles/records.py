"""A result of every kind, pickled and kept, so that later versions are tried on what earlier ones have written.

    python tests/reference/pickles/records.py        writes the files that are missing

A file is never written anew: where a result has changed on purpose, its entry goes into CHANGED of tests/python/test_pickles.py. A new kind of result
gets an entry here and a file of its own. All data is invented.
"""

import pickle
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ferment
from ferment import batch, fermentation, instrument, liquid, mash, proofing, still, strength

FOLDER = Path(__file__).parent / "1"  # by the version of the schema
PROTOCOL = 4

BILL = mash.Bill([("flaked oats", 20.0), ("barley malt", 4.0)])
POTENTIAL = mash.potential(BILL, water_kg=90.0, assumptions=fermentation.no_cook())
BATCH = (
    POTENTIAL,
    fermentation.Inoculum(0.05),
    fermentation.Conditions(18.0, fermentation.Ambient.day_night(16.0, 6.0)),
)
READINGS = [
    fermentation.Reading(24.0, gravity=(1.008, 0.001)),
    fermentation.Reading(48.0, gravity=(1.004, 0.001), iodine=True),
]
GRAVITY = ferment.Measured(1.010, 0.0005)
FOUND = (
    strength.abv_from_boiling_point((95.0, 0.1), (101.3, 0.1), GRAVITY),
    strength.abv_from_boiled_down(GRAVITY, (1.018, 0.0005)),
)
STILL = still.Still(50.0, heating_kw=5.0)
CHARGES = still.charges(100.0, 8.0, 1.0, STILL)
STRIPPING = still.strip(CHARGES, STILL, distillate_abv=2.0, points=11)
DUTY = still.stripping_duty(STRIPPING, STILL)
REQUEST = batch.PlanRequest(BILL, 90.0, STILL, curve_points=11)
CONGENERS = {"methanol": 1.0}


def _column() -> Any:
    return still.rectify(
        STRIPPING.low_wines,
        still.Column(3, 0.2),
        still.TakeOff.at_reflux(2.0),
        heating_kw=2.0,
        recovered=60.0,
        points=5,
    )


def _ledger() -> batch.Ledger:
    book = batch.Ledger.of_potential(POTENTIAL)
    return (
        book.measure("low_wines", volume_l=(20.0, 0.1), abv=25.0)
        .measure("hearts", 100.0)
        .take_out("wash", 0.1, "sample")
    )


#: What is recorded, made anew.
RECORDS: dict[str, Callable[[], Any]] = {
    "source": lambda: ferment.sources()[0],
    "azeotrope": lambda: liquid.azeotrope(),
    "hydrometer": lambda: (instrument.Hydrometer("plato", 15.0, meniscus=0.1), instrument.Wash(abv=5.0)),
    "hydrometer_readings": lambda: instrument.Hydrometer().correct([1.05, 1.01], 25.0),
    "alcoholometer": lambda: instrument.Alcoholometer("us_proof"),
    "refractometer": lambda: instrument.Refractometer("refractive_index"),
    "refractometer_wort": lambda: instrument.Refractometer().correct(12.0, 25.0),
    "refractometer_wash": lambda: instrument.Refractometer().correct(6.0, 25.0, instrument.Wash(abv=5.0)),
    "ebulliometer": lambda: instrument.Ebulliometer(0.1),
    "ebulliometer_reading": lambda: instrument.Ebulliometer().strength(95.0),
    "gravity_balance": lambda: strength.gravity_balance([1.05, 1.06], 1.01),
    "found_strengths": lambda: FOUND,
    "combined_strength": lambda: strength.combine(FOUND),
    "potential": lambda: POTENTIAL,
    "water_balance": lambda: mash.water_balance(POTENTIAL),
    "end_point": lambda: fermentation.end_point(POTENTIAL),
    "wash_reading": lambda: fermentation.read_wash(POTENTIAL, 1.0),
    "inoculum_and_conditions": lambda: (*BATCH[1:], fermentation.Ambient.logged([0.0, 24.0], [10.0, 12.0])),
    "kinetic_parameter": lambda: fermentation.kinetic_parameters()[0],
    "course": lambda: fermentation.simulate(*BATCH, [0.0, 24.0]),
    "forecast": lambda: fermentation.forecast(*BATCH, [0.0, 24.0], members=2),
    "time_of_done": lambda: fermentation.forecast(*BATCH, [400.0], members=2).done(),
    "readings": lambda: READINGS,
    "fitted": lambda: fermentation.fit(*BATCH, READINGS),
    "check": lambda: fermentation.check(*BATCH, READINGS, members=2),
    "charges": lambda: CHARGES,
    "stripping": lambda: STRIPPING,
    "stripping_duty": lambda: DUTY,
    "all_charges": lambda: still.all_charges(DUTY, STRIPPING, 3),
    "column": lambda: (still.Column(4, 0.2), still.TakeOff.at_strength(90.0, 10.0)),
    "column_run": _column,
    "minimum_reflux": lambda: still.minimum_reflux(10.0, 90.0),
    "reflux_setting": lambda: still.reflux_of_divider(20.0),
    "packing": lambda: (still.packings()[-1], still.PackingBed()),
    "column_capacity": lambda: still.column_capacity(0.05, 95.0, 75.0),
    "volatility": lambda: (still.congener("methanol"), still.congener_volatility("methanol", 10.0)),
    "congener_run": lambda: still.congener_run(STRIPPING, CONGENERS),
    "windows": lambda: still.windows(STRIPPING, CONGENERS, rules=still.usual_boundaries()[2:]),
    "practice_and_law": lambda: (still.practice_figures()[0], still.legal_lines()[0]),
    "cuts": lambda: still.work_out_cuts([still.Jar(1.0, 60.0, "hearts", note="pears"), still.Jar(1.0, 40.0, "tails")]),
    "filled_jars": lambda: still.fill_jars(STRIPPING, 5.0),
    "dilution": lambda: proofing.dilute(60.0, 10.0, 40.0),
    "blend": lambda: proofing.blend([(60.0, 1.0), (0.0, 1.0)]),
    "bottling": lambda: proofing.bottles(40.0, 10.0),
    "sweetening": lambda: proofing.sweeten(60.0, 10.0, 40.0, 20.0),
    "plan": lambda: batch.plan(REQUEST),
    "plan_by_congeners": lambda: batch.plan(REQUEST, cuts=batch.CutPlan(by_congeners=True), curve_points=21),
    "plans": lambda: batch.plans(REQUEST, water_l=[90.0, 100.0]),
    "published_yield": lambda: batch.published_yields()[0],
    "ledger": _ledger,
    "ledger_of_plan": lambda: batch.plan(REQUEST).ledger().measure("hearts", 100.0),
    "ledger_findings": lambda: _ledger().findings(),
    "ledger_yields": lambda: (_ledger().yields(), _ledger().balance()),
}

#: The same as text.
TEXTS: dict[str, Callable[[], str]] = {
    "plan_request": lambda: REQUEST.to_json(indent=1),
    "plan_result": lambda: batch.plan(REQUEST).to_json(),
}


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    for name, make in RECORDS.items():
        file = FOLDER / f"{name}.pickle"
        if not file.exists():
            file.write_bytes(pickle.dumps(make(), PROTOCOL))
            sys.stdout.write(f"{file.name}\n")
    for name, text in TEXTS.items():
        file = FOLDER / f"{name}.json"
        if not file.exists():
            file.write_text(text() + "\n", encoding="utf-8")
            sys.stdout.write(f"{file.name}\n")


if __name__ == "__main__":
    main()

"""Every public function, method and constructor with arguments of every kind: a result or one clear error, nothing else.

The functions are found by introspection; what each parameter may be is a table by name, and a parameter without an entry fails. Called with values of
the range, its ends and their neighbours, and with what is no number, no record, no text, or too much of it.

A short run belongs to the tests. A long one, whose executions are counted in tests/fuzz/record_python.md:

    FERMENT_FUZZ_EXAMPLES=20000 FERMENT_FUZZ_COUNTS=counts.json pytest -m long tests/python/test_fuzz.py
"""

import copy
import dataclasses
import faulthandler
import functools
import inspect
import json
import math
import numbers
import os
import re
import reprlib
import time
import types
import warnings
from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import Estimate, Measured, batch, fermentation, instrument, liquid, mash, plot, proofing, still, strength

hypothesis = pytest.importorskip("hypothesis")
pytest.importorskip("pandas")  # to_frame is among the methods
pytest.importorskip("matplotlib").use("Agg")
uncertainties = pytest.importorskip("uncertainties")

from hypothesis import strategies as st  # noqa: E402
from matplotlib import pyplot  # noqa: E402

Strategy = st.SearchStrategy[Any]

LONGEST_S = 5.0  # of processor time: other work on the machine does not count
LONGEST_MESSAGE = 2000

# ---- values ----


def _beyond(low: float, high: float) -> list[float]:
    return [float(np.nextafter(low, -np.inf)), float(np.nextafter(high, np.inf))]


@dataclasses.dataclass(frozen=True)
class Kind:
    """What a parameter may be: values that are right, and values at and just beyond its ends."""

    right: Strategy
    edge: Strategy
    number: bool = False  # and an array of them where the function takes arrays
    tame: bool = False  # handed on to another package as it is, which is not tried here


def number(low: float, high: float) -> Kind:
    """A number of a range; where the function takes arrays, arrays are mixed in."""
    inside = st.floats(low, high) | st.sampled_from([low, high, 0.5 * (low + high)])
    ends = st.sampled_from(
        [low, high, *_beyond(low, high), -0.0, float("nan"), low - (high - low), high + (high - low)]
    )
    return Kind(inside, ends, number=True)


def count(low: int, high: int) -> Kind:
    return Kind(st.integers(low, high), st.sampled_from([low, high, low - 1, high + 1, 0, -1]))


def one_of(*values: Any) -> Kind:
    texts = [value for value in values if isinstance(value, str)]
    edge = [f"{texts[0]} ", texts[0].upper(), texts[0][:-1]] if texts else list(values)
    return Kind(st.sampled_from(values), st.sampled_from(edge))


def made(strategy: Strategy) -> Kind:
    return Kind(strategy, strategy)


def measured(low: float, high: float) -> Kind:
    """A number, a pair or a Measured."""
    value = number(low, high)
    doubt = st.floats(0.0, 0.1 * (high - low))
    sure = st.floats(1e-6 * (high - low), 0.1 * (high - low))  # none at all makes that package warn

    def forms(of: Strategy) -> Strategy:
        return of | st.tuples(of, doubt) | st.builds(Measured, of, doubt) | st.builds(uncertainties.ufloat, of, sure)

    return Kind(
        forms(value.right),
        forms(value.edge) | st.tuples(value.right, st.sampled_from([-1.0, float("nan"), float("inf"), 0.0])),
    )


def as_arrays(kind: Kind) -> Kind:
    """The same as lists and arrays of a few shapes, and as other numbers."""

    def forms(of: Strategy) -> Strategy:
        several = st.lists(of, min_size=2, max_size=2)
        return st.one_of(
            of,
            several,
            several.map(np.array),
            several.map(lambda x: np.array([x])),
            of.map(np.array),
            of.map(np.float32),
            several.map(lambda x: np.array(x)[::-1]),
            of.map(lambda x: np.full((0, 2), x)),
        )

    return Kind(forms(kind.right), forms(kind.edge))


class Odd:
    """No number, no text, no record."""

    def __repr__(self) -> str:
        return "Odd()"


WRONG: list[Any] = [
    None,
    True,
    -1,
    2**31,
    2**63,
    10**400,
    float("inf"),
    -float("inf"),
    float("nan"),
    1e308,
    -1e308,
    5e-324,
    1e-300,
    "",
    "12.5",
    "nan",
    "text " * 1000,
    "\ud800",
    "nul\0",
    b"12",
    1j,
    Odd(),
    Odd,
    len,
    [],
    (),
    {},
    set(),
    [1.0, "a"],
    [1.0, None],
    [[1.0], [1.0, 2.0]],
    (1.0, 2.0, 3.0),
    {"a": 1.0},
    {1: 2},
    {"water_kg": float("nan")},
    range(3),
    np.array([]),
    np.array(["a"]),
    np.array([None]),
    np.array([1.0, 2.0], dtype=object),
    np.ones((3, 2, 2)),
    np.zeros((2, 0)),
    np.array([1.0, np.nan]),
    np.float32(1.5),
    np.float16(1e4),
    np.int64(3),
    np.uint8(200),
    np.bool_(True),
    np.datetime64("2020-01-01"),
    Decimal("1.5"),
    Decimal("nan"),
    Fraction(1, 3),
    Measured(1.0, 0.1),
    Measured("a", None),  # type: ignore[arg-type]
    uncertainties.ufloat(1.0, 0.1),
]


def wrong_value(i: int) -> Any:
    return WRONG[i]


WRONG_VALUES: Strategy = st.integers(0, len(WRONG) - 1).map(wrong_value) | st.floats() | st.text(max_size=5)

# ---- records, right ones ----

BILL = mash.Bill([("flaked barley", 14.0), ("barley malt", 2.0)])
HOURS = tuple(range(0, 15 * 24 + 1, 24))


@functools.cache
def records() -> dict[type, list[Any]]:
    """Every record of the library, made as a user makes it."""
    found: dict[type, list[Any]] = {}

    def keep(value: Any) -> None:
        if isinstance(value, tuple | list):
            for part in value[:8]:
                keep(part)
        elif isinstance(value, ferment._values.Record | batch.Ledger):
            known = found.setdefault(type(value), [])
            if len(known) < 4:
                known.append(value)
            names = [field.name for field in dataclasses.fields(value)] if dataclasses.is_dataclass(value) else []
            for name in names:
                keep(getattr(value, name))

    potential = mash.potential(BILL, water_l=60.0, assumptions=fermentation.no_cook())
    yeast = fermentation.Inoculum(yeast_kg=0.02)
    shed = fermentation.Conditions(mash_c=20.0, ambient=fermentation.Ambient.constant(21.0))
    readings = [
        fermentation.Reading(24.0, gravity=(1.02, 0.001), iodine=True),
        fermentation.Reading(96.0, gravity=(1.003, 0.0005), temperature_c=(22.0, 0.5), co2_lost_kg=(2.2, 0.1)),
    ]
    lot = (potential, yeast, shed)
    gravity = Measured(0.9972, 0.0005)
    routes = [
        strength.abv_from_hydrometer_and_refractometer(gravity, brix=(4.9, 0.1)),
        strength.abv_from_co2_loss(lost_kg=(4.46, 0.05), wash_l=(75.0, 1.0), gravity=gravity),
    ]
    pot = still.Still(30.0, heating_kw=3.0, heat_loss=5.0)
    run = still.strip(still.Liquid.by_volume(22.0, 8.0, 1.5), distillate_abv=2.0)
    spirit = still.Liquid.by_volume(30.0, 30.0)
    spirit_run = still.strip(spirit, distillate_abv=1.0)
    column = still.Column(6, 0.3)
    head = still.TakeOff.at_strength(88.0, 15.0)
    rectified = still.rectify(spirit, column, head, heating_kw=2.0, distillate_abv=60.0)
    duty = still.stripping_duty(run, pot)
    levels = {one.name: 1.0 for one in still.congeners()}
    jars = [
        still.Jar(0.1, 82.0, "fore_shots"),
        still.Jar(0.5, 80.0, "heads"),
        still.Jar(1.0, 74.0, "hearts"),
        still.Jar(0.8, 50.0, "tails"),
    ]
    plan = batch.plan(bill=BILL, water_l=60.0, stripping_still=pot, curve_points=11)
    ledger = plan.ledger().measure("hearts", volume_l=(3.0, 0.02), abv=(67.0, 0.2)).bring_in("low_wines", (0.5, 0.02))
    impossible = plan.ledger().measure("low_wines", 9.0)
    hydrometer, refractometer = instrument.Hydrometer(), instrument.Refractometer()
    everything: list[Any] = [
        [mash.grain(name) for name in ("wheat", "barley malt", "flaked oats")],
        potential,
        mash.potential(mash.Bill([("wheat", 10.0)]), water_kg=30.0),
        mash.water_balance(potential),
        fermentation.end_point(potential),
        fermentation.read_wash(potential, 1.01),
        lot,
        fermentation.Ambient.day_night(18.0, 6.0),
        fermentation.Ambient.logged([0.0, 24.0, 400.0], [15.0, 20.0, 18.0]),
        fermentation.simulate(*lot, HOURS),
        fermentation.forecast(*lot, HOURS, members=20),
        fermentation.fit(*lot, readings),
        fermentation.check(*lot, readings, members=20),
        readings,
        list(fermentation.kinetic_parameters()),
        routes,
        strength.combine(routes),
        strength.gravity_balance(1.06, 1.0),
        [hydrometer, instrument.Hydrometer("plato", 15.0, 0.0, 0.001), instrument.Hydrometer("density")],
        [refractometer, instrument.Refractometer("refractive_index", 0.0001)],
        [instrument.Alcoholometer(), instrument.Alcoholometer("us_proof", 0.0), instrument.Ebulliometer(0.1)],
        [instrument.Wash(abv=8.0), instrument.Wash(extract=2.0)],
        hydrometer.correct(1.01, 25.0),
        refractometer.correct(10.0, 25.0),
        refractometer.correct(5.0, 20.0, instrument.Wash(abv=8.0)),
        instrument.Ebulliometer().strength(93.0),
        liquid.azeotrope(),
        proofing.dilute(70.0, 5.0, 40.0),
        proofing.blend([(70.0, 5.0), (0.0, 2.0)]),
        proofing.bottles(40.0, 5.0),
        proofing.sweeten(60.0, 5.0, 25.0, 100.0),
        [spirit, still.Liquid.by_mass(10.0, 8.0, 2.0), pot, still.Still(60.0)],
        still.charges(60.0, 8.0, 2.0, pot),
        [run, spirit_run, rectified, duty, column, head, still.TakeOff.at_reflux(1.0), still.TakeOff.at_rate(1.0)],
        still.all_charges(duty, run, 3),
        [still.minimum_reflux(30.0, 80.0), still.reflux_of_divider(20.0), still.column_capacity(0.1, 80.0, 70.0)],
        [still.PackingBed(), list(still.packings()), list(still.practice_figures()), list(still.legal_lines())],
        [list(still.congeners()), still.congener_run(spirit_run, levels), still.congener_volatility("furfural", 20.0)],
        [still.windows(spirit_run, levels), list(still.usual_boundaries())],
        [jars, still.work_out_cuts(jars), still.blend_jars(jars, [1, 2]), still.fill_jars(spirit_run, 1.0)],
        [plan, ledger, ledger.balance(), list(ledger.rows()), list(ledger.yields()), list(impossible.findings())],
        batch.plans(plan, water_kg=[60.0, 70.0]),
        [plan.request, plan.request.changed(plates=3), batch.CutEnd.collected(1.0), list(batch.published_yields())],
        [list(ferment.sources()), Estimate(1.0, 0.1, (("a", 0.1),)), Measured(2.0)],
    ]
    for one in everything:
        keep(one)
    return found


def record(*kinds: type) -> Kind:
    """A record of one of these types."""
    right = st.deferred(lambda: st.sampled_from([one for kind in kinds for one in records().get(kind, [])]))
    return Kind(right, right)


def rows_of(kind: Kind, most: int = 3) -> Kind:
    several = st.lists(kind.right, max_size=most)
    return Kind(
        several | several.map(tuple), st.lists(kind.right | kind.edge | WRONG_VALUES, max_size=most) | several.map(iter)
    )


def mapping_of(names: Iterable[str], of: Kind) -> Kind:
    known = st.sampled_from(sorted(names))
    return Kind(
        st.dictionaries(known, of.right, max_size=3),
        st.dictionaries(known | st.text(max_size=3) | st.just(1), of.edge | of.right | WRONG_VALUES, max_size=3),
    )


def maybe(kind: Kind) -> Kind:
    return Kind(st.none() | kind.right, kind.edge)


# ---- what each parameter may be: by its name, or by function and name ----

CONGENERS = [one.name for one in still.congeners()]
GRAINS = mash.grain_names()
REFERENCE = one_of(*liquid.REFERENCES)
ROW_OF_TIMES = made(
    st.lists(st.floats(0.0, 400.0), min_size=1, max_size=4).map(sorted)
    | st.just(HOURS)
    | st.just(np.array([0.0, 48.0]))
)
PAIRS = st.tuples(st.floats(0.0, 100.0), st.floats(0.01, 100.0))
PARTS = rows_of(
    Kind(PAIRS | st.tuples(st.floats(0.0, 100.0), st.floats(0.01, 100.0), st.floats(0.0, 40.0)), WRONG_VALUES)
)
ITEMS = rows_of(
    Kind(st.tuples(st.sampled_from(GRAINS), st.floats(0.1, 100.0)), st.tuples(st.sampled_from(GRAINS), WRONG_VALUES))
)
RUN = record(still.Stripping, still.ColumnRun)
TITLE = made(st.text(max_size=10).filter(lambda text: "$" not in text))
NUMBER_OF_PARAMETERS = len(fermentation.kinetic_parameters())
PRIORS = maybe(
    mapping_of(
        [one.name for one in fermentation.kinetic_parameters()],
        Kind(st.tuples(st.floats(0.1, 0.9), st.floats(0.01, 0.5)), st.tuples(st.floats(), st.floats())),
    )
)
PLAN_CHANGES = mapping_of(
    [
        "water_kg",
        "plates",
        "target_abv",
        "boiler_l",
        "turnaround_h",
        "curve_points",
        "absorption",
        "heating_kw",
        "start_c",
    ],
    number(0.0, 60.0),
)
VARIED = mapping_of(sorted({*ferment._core.plan_inputs, "water_l"}), as_arrays(number(0.0, 100.0)))

PARAMETERS: dict[str, Kind] = {
    # liquid
    "abw": number(0.0, 100.0),
    "abv": number(0.0, 100.0),
    "extract": number(0.0, 30.0),
    "dry_matter": number(0.0, 66.0),
    "brix": number(0.0, 60.0),
    "us_proof": number(0.0, 200.0),
    "density": number(790.0, 1300.0),
    "temperature_c": number(0.0, 40.0),
    "extract_g_l": number(0.0, 900.0),
    "mole_percent": number(0.0, 100.0),
    "refractive_index": number(1.333, 1.45),
    "vapour_abw": number(0.0, 100.0),
    "pressure_kpa": number(20.0, 110.0),
    "sea_level_kpa": number(95.0, 105.0),
    "altitude_m": number(-100.0, 5000.0),
    "start_c": number(0.0, 60.0),
    "boiling_c": number(79.0, 100.0),
    "before_c": number(0.0, 60.0),
    "after_c": number(60.0, 100.0),
    "grain_kg": number(0.1, 1000.0),
    "wash_kg": number(0.1, 1000.0),
    "moisture": number(0.0, 30.0),
    "protein": number(0.0, 30.0),
    "fat": number(0.0, 10.0),
    "fibre": number(0.0, 10.0),
    "ash": number(0.0, 5.0),
    "sg": number(1.0, 1.3),
    "plato": number(0.0, 70.0),
    "points": number(0.0, 300.0),
    "reference": REFERENCE,
    "from_reference": REFERENCE,
    "to_reference": REFERENCE,
    "in_air": one_of(True, False),
    "out_of_range": one_of("raise", "nan"),
    "out": Kind(
        st.none(), st.sampled_from([None, np.zeros(2), np.zeros(2, np.float32), np.zeros((2, 2)), np.zeros(0)])
    ),
    # instrument
    "glass_expansion": number(0.0, 1e-3),
    "calibration_c": number(0.0, 40.0),
    "meniscus": number(-0.01, 0.01),
    "zero": number(-1.0, 1.0),
    "thermometer_correction_k": number(-2.0, 2.0),
    "extract_molar_mass": number(60.0, 2000.0),
    "Alcoholometer.scale": one_of("abv", "us_proof"),
    "Hydrometer.scale": one_of("sg", "plato", "density"),
    "Refractometer.scale": one_of("brix", "compensated_brix", "refractive_index"),
    "Alcoholometer.correct.reading": number(0.0, 100.0),
    "Hydrometer.correct.reading": number(0.99, 1.2),
    "Refractometer.correct.reading": number(0.0, 40.0),
    "Hydrometer.correct.liquid": Kind(
        st.sampled_from(["wort", "spirit", instrument.Wash(abv=8.0), instrument.Wash(extract=2.0)]), st.just("beer")
    ),
    "Refractometer.correct.liquid": Kind(
        st.sampled_from(["wort", "starch_hydrolysate", instrument.Wash(abv=8.0), instrument.Wash(extract=2.0)]),
        st.just("beer"),
    ),
    "strength": number(0.0, 100.0),
    "water_boiling_c": number(90.0, 101.0),
    "wash_boiling_c": number(85.0, 100.0),
    "Wash.abv": maybe(number(0.0, 100.0)),
    "Wash.extract": maybe(number(0.0, 30.0)),
    # strength
    "gravity": measured(0.98, 1.05),
    "alcohol_gravity": number(0.98, 1.0),
    "extract_gravity": number(1.0, 1.05),
    "original_gravity": number(1.0, 1.15),
    "final_gravity": number(0.98, 1.05),
    "original_extract": number(9.5, 18.0),
    "real_extract": number(2.0, 9.0),
    "apparent_extract": number(0.0, 7.0),
    "abv_by_convention.gravity": number(0.99, 1.03),
    "apparent_extract.gravity": number(1.0, 1.15),
    "read_wash.gravity": number(0.98, 1.1),
    "gravity_uncertainty": number(1e-5, 0.01),
    "method": one_of(*strength.METHODS),
    "fermentation_yield": one_of(*strength.YIELDS),
    "before": measured(0.98, 1.05),
    "after": measured(0.98, 1.05),
    "made_up_to": one_of("volume", "mass"),
    "abv_from_boiling_point.boiling_c": measured(88.0, 100.0),
    "abv_from_boiling_point.pressure_kpa": measured(85.0, 105.0),
    "abv_from_co2_loss.pressure_kpa": measured(85.0, 105.0),
    "abv_from_co2_loss.temperature_c": measured(5.0, 35.0),
    "lost_kg": measured(0.5, 8.0),
    "wash_l": number(1.0, 500.0),
    "abv_from_co2_loss.wash_l": measured(40.0, 100.0),
    "airlock": one_of(True, False),
    "distillate_abv": maybe(number(0.5, 90.0)),
    "abv_from_distilled_sample.distillate_abv": measured(5.0, 40.0),
    "distillate_ml": measured(50.0, 250.0),
    "sample_ml": measured(100.0, 500.0),
    "recovery": maybe(
        Kind(st.tuples(st.floats(90.0, 100.0), st.floats(0.0, 1.0)), st.tuples(st.floats(), st.floats()))
    ),
    "abv_from_hydrometer_and_refractometer.brix": maybe(measured(0.0, 15.0)),
    "abv_from_hydrometer_and_refractometer.refractive_index": maybe(measured(1.333, 1.36)),
    "combine.found": rows_of(record(strength.FoundStrength)),
    # mash
    "Assumptions.conversion": measured(50.0, 100.0),
    "Assumptions.fermentation_efficiency": measured(80.0, 100.0),
    "Assumptions.soluble_share_of_rest": measured(0.0, 50.0),
    "Bill.items": ITEMS,
    "Grain.name": made(st.text(max_size=8)),
    "Grain.form": one_of("flour", "grain", "malt"),
    "Grain.moisture": measured(0.0, 20.0),
    "Grain.starch": measured(30.0, 75.0),
    "Grain.sugars": measured(0.0, 5.0),
    "Grain.protein": measured(0.0, 15.0),
    "Grain.fat": measured(0.0, 5.0),
    "Grain.fibre": measured(0.0, 5.0),
    "Grain.ash": measured(0.0, 3.0),
    "disaccharide_share": number(0.0, 100.0),
    "starch_method": made(st.text(max_size=8)),
    "Grain.source": made(st.text(max_size=8)),
    "with_analysis.source": made(st.text(max_size=8)),
    "basis": one_of("as_is", "dry"),
    "with_analysis.parts": mapping_of(
        ["moisture", "starch", "sugars", "protein", "fat", "fibre", "ash"], measured(0.0, 30.0)
    ),
    "grain.name": Kind(st.sampled_from(GRAINS), st.sampled_from(["Wheat", "whaet", "weat "])),
    "potential.bill": record(mash.Bill),
    "water_l": maybe(number(1.0, 500.0)),
    "water_kg": number(0.0, 500.0),
    "potential.water_kg": maybe(number(1.0, 500.0)),
    "water_temperature_c": number(0.0, 40.0),
    "assumptions": record(mash.Assumptions),
    "potential.assumptions": maybe(record(mash.Assumptions)),
    "water_balance.of": record(mash.Potential),
    "absorption": maybe(measured(0.0, 2.0)),
    "PlanRequest.absorption": measured(0.0, 2.0),
    "head_space": number(10.0, 90.0),
    "water_balance.head_space": maybe(number(0.0, 80.0)),
    # proofing
    "target_abv": number(10.0, 60.0),
    "volume_l": number(0.01, 1000.0),
    "target_volume_l": number(0.01, 1000.0),
    "bottle_l": number(0.05, 5.0),
    "filling_temperature_c": maybe(number(0.0, 40.0)),
    "sugar_g_per_l": number(0.0, 500.0),
    "apparent_abv": number(0.0, 100.0),
    "blend.parts": PARTS,
    # fermentation
    "Ambient.mean_c": maybe(number(-20.0, 45.0)),
    "mean_c": number(-20.0, 45.0),
    "swing_c": number(0.0, 20.0),
    "warmest_hour": number(0.0, 24.0),
    "hours": made(st.sampled_from([(), [0.0, 24.0, 48.0], (0.0, 1.0)])),
    "temperatures_c": made(st.sampled_from([(), [15.0, 20.0, 18.0], (20.0, 21.0)])),
    "hour": number(0.0, 360.0),
    "Belief.mean": made(st.just(np.zeros(NUMBER_OF_PARAMETERS))),
    "Belief.root": made(st.just(np.eye(NUMBER_OF_PARAMETERS))),
    "mash_c": number(0.0, 45.0),
    "ambient": record(fermentation.Ambient),
    "vessel": record(fermentation.Vessel),
    "yeast_kg": number(1e-4, 1.0),
    "enzyme_dose": number(0.01, 3.0),
    "nutrients": number(0.1, 1.0),
    "Reading.time_h": number(0.0, 400.0),
    "Reading.gravity": maybe(
        Kind(st.tuples(st.floats(0.97, 1.1), st.floats(1e-4, 0.01)), st.tuples(st.floats(), st.floats()))
    ),
    "Reading.temperature_c": maybe(
        Kind(st.tuples(st.floats(5.0, 40.0), st.floats(0.1, 1.0)), st.tuples(st.floats(), st.floats()))
    ),
    "Reading.co2_lost_kg": maybe(
        Kind(st.tuples(st.floats(0.0, 5.0), st.floats(0.01, 1.0)), st.tuples(st.floats(), st.floats()))
    ),
    "iodine": one_of(None, True, False),
    "heat_transfer_w_per_m2_k": number(0.0, 100.0),
    "sunshine_w": number(0.0, 100.0),
    "noon_hour": number(0.0, 24.0),
    "potential": record(mash.Potential),
    "inoculum": record(fermentation.Inoculum),
    "conditions": record(fermentation.Conditions),
    "readings": rows_of(record(fermentation.Reading)),
    "forecast.readings": maybe(rows_of(record(fermentation.Reading))),
    "priors": PRIORS,
    "members": count(2, 12),
    "seed": count(0, 2**40),
    "times_h": ROW_OF_TIMES,
    "belief": maybe(record(fermentation.Belief)),
    "parameters": maybe(mapping_of([one.name for one in fermentation.kinetic_parameters()], number(-2.0, 2.0))),
    "relative_tolerance": number(1e-13, 1e-2),
    "absolute_tolerance": number(1e-15, 1e-2),
    "longest_step_h": number(1.0, 168.0),
    "co2_l_per_h": number(0.0, 1000.0),
    "limit_ppm": number(1000.0, 40000.0),
    "million_cells_per_ml": number(0.1, 100.0),
    "mash_l": number(1.0, 1000.0),
    # still
    "boiler_l": number(5.0, 500.0),
    "heating_kw": number(0.1, 20.0),
    "heat_loss": number(0.0, 50.0),
    "heat_loss_w_per_k": number(0.0, 20.0),
    "still_heat_kj_per_k": number(0.0, 100.0),
    "BoundaryRule.ends": one_of("fore_shots", "heads", "hearts", "tails"),
    "BoundaryRule.congener": one_of("", *CONGENERS),
    "BoundaryRule.by": one_of("of_start", "strength", "level"),
    "BoundaryRule.when": one_of("falls_below", "rises_above"),
    "BoundaryRule.level": number(0.0, 100.0),
    "level_range": Kind(st.tuples(st.floats(0.0, 50.0), st.floats(50.0, 100.0)), st.tuples(st.floats(), st.floats())),
    "reason": made(st.text(max_size=5)),
    "BoundaryRule.source": one_of("own_rule"),
    "plates": count(0, 8),
    "hold_up_kg": number(0.0, 0.5),
    "height_m": number(0.1, 3.0),
    "hetp_m": number(0.05, 0.5),
    "mass_kg": number(0.01, 1000.0),
    "void": number(10.0, 98.0),
    "surface_m2_m3": number(50.0, 800.0),
    "friction": Kind(st.just((32.0, 7.0, 1.0)), st.tuples(st.floats(), st.floats(), st.floats())),
    "TakeOff.mode": one_of("reflux", "strength", "rate"),
    "reflux": number(0.0, 10.0),
    "max_reflux": number(1.0, 30.0),
    "TakeOff.at_strength.abv": number(60.0, 92.0),
    "l_per_h": number(0.1, 3.0),
    "label": one_of(*still.CUT_LABELS),
    "note": made(st.text(max_size=5)),
    "volume_uncertainty": number(0.0, 5.0),
    "abv_uncertainty": number(0.0, 5.0),
    "duty": record(still.StillDuty),
    "run": record(still.Stripping),
    "congener_run.run": RUN,
    "congener_run_with_ratios.run": RUN,
    "windows.run": RUN,
    "fill_jars.run": RUN,
    "all_charges.charges": count(1, 20),
    "turnaround_h": number(0.0, 5.0),
    "jars": rows_of(record(still.Jar), 4),
    "which": Kind(
        st.sampled_from([[0], [1, 2], (3,)]),
        st.sampled_from([[], [0, 0], [99], [-1], [2**70], [0.5], ["a"], [None], "0"]),
    ),
    "labels": Kind(
        st.sampled_from(["heads", ("heads", "tails"), ["tails"]]),
        st.sampled_from(["fore_shots", [], [None], ["heads", 1], "head"]),
    ),
    "still": record(still.Still),
    "strip.still": maybe(record(still.Still)),
    "SpiritStill.still": maybe(record(still.Still)),
    "charge": record(still.Liquid),
    "reserve_l": number(0.0, 5.0),
    "reserve_abv": number(0.0, 80.0),
    "charges.extract": number(0.0, 30.0),
    "diameter_m": number(0.02, 1.0),
    "vapour_abv": number(1.0, 95.0),
    "flood_share": number(10.0, 90.0),
    "bed": maybe(record(still.PackingBed)),
    "congener": one_of(*CONGENERS),
    "congener.name": one_of(*CONGENERS),
    "congener_crossing.name": one_of(*CONGENERS),
    "congener_volatility.name": one_of(*CONGENERS),
    "CongenerRun.course.name": one_of(*CONGENERS),
    "levels": mapping_of(CONGENERS, number(0.0, 500.0)),
    "volatility_power": number(0.0, 1.0),
    "congener_run_with_ratios.distillate_abw": made(st.sampled_from([[60.0, 50.0], np.linspace(80.0, 10.0, 51), 50.0])),
    "ratios": mapping_of(CONGENERS, made(st.sampled_from([[1.0, 2.0], np.linspace(0.5, 3.0, 51), 1.0]))),
    "pot_abv": maybe(number(0.5, 40.0)),
    "collected_l": maybe(number(0.1, 10.0)),
    "recovered": maybe(number(1.0, 99.0)),
    "head_c": maybe(number(80.0, 99.9)),
    "take_off_l_per_h": maybe(number(0.05, 3.0)),
    "relative_volatility": number(1.01, 12.0),
    "sizes_l": made(st.floats(0.3, 5.0) | st.lists(st.floats(0.1, 5.0), max_size=3)),
    "strip.points": count(2, 40),
    "rectify.points": count(2, 10),
    "column": record(still.Column),
    "take_off": record(still.TakeOff),
    "loss_kw": number(0.0, 0.5),
    "equilibration_h": number(0.0, 2.0),
    "share": number(0.1, 100.0),
    "coolant_l_per_h": number(1.0, 100.0),
    "inlet_c": number(5.0, 30.0),
    "outlet_c": number(30.0, 70.0),
    "vapour_c": number(78.0, 100.0),
    "power_kw": number(1.0, 20.0),
    "ambient_c": number(0.0, 40.0),
    "distillate_c": number(5.0, 40.0),
    "water_in_c": number(2.0, 25.0),
    "water_out_c": number(30.0, 70.0),
    "rules": rows_of(record(still.BoundaryRule), 4),
    "windows.rules": maybe(rows_of(record(still.BoundaryRule), 4)),
    # batch
    "water_c": number(0.0, 40.0),
    "fill_c": number(0.0, 40.0),
    "CutEnd.by": one_of("alcohol_share", "collected_l", "distillate_abv"),
    "CutEnd.distillate.abv": number(10.0, 90.0),
    "value": number(0.0, 100.0),
    "litres": measured(0.0, 50.0),
    "CutEnd.collected.litres": number(0.0, 20.0),
    "measure.litres": maybe(measured(0.0, 50.0)),
    "measure.volume_l": maybe(measured(0.0, 50.0)),
    "measure.abv": maybe(measured(0.0, 95.0)),
    "fore_shots_end": record(batch.CutEnd),
    "heads_end": record(batch.CutEnd),
    "hearts_end": record(batch.CutEnd),
    "by_congeners": one_of(False, True),
    "congener_levels": Kind(
        st.just(()) | st.dictionaries(st.sampled_from(CONGENERS), st.floats(0.0, 100.0), max_size=2),
        st.sampled_from([(("a",),), ((1, 2),), 3]),
    ),
    "Ledger.pure_alcohol_l": measured(0.1, 50.0),
    "Ledger.dry_grain_kg": measured(0.1, 500.0),
    "stage": one_of("wash", "low_wines", "hearts"),
    "place": one_of(*batch.LEDGER_PLACES),
    "coverage": number(0.0, 5.0),
    "coverage_factor": number(0.0, 5.0),
    "plan.request": maybe(record(batch.PlanRequest)),
    "plans.request": record(batch.PlanRequest, batch.Plan),
    "plan.parts": mapping_of(
        ["bill", "water_kg", "stripping_still", "plates"],
        made(st.sampled_from([BILL, 60.0, still.Still(40.0, heating_kw=3.0), [("wheat", 9.0)]])),
    ),
    "changes": PLAN_CHANGES,
    "varied": VARIED,
    "threads": maybe(count(1, 2)),
    "progress": one_of(False),
    "indent": Kind(st.sampled_from([None, 2, 0]), st.just(4), tame=True),
    "text": made(
        st.sampled_from(
            [
                "",
                "{}",
                "null",
                "[",
                "NaN",
                '{"schema": "libferment plan"}',
                '{"schema": "libferment plan", "version": 99}',
            ]
        )
    ),
    "PlanRequest.bill": Kind(st.just(BILL) | ITEMS.right, ITEMS.edge),
    "stripping_still": record(still.Still),
    "dissolved_by_products": measured(0.0, 100.0),
    "mash_head_space": number(0.0, 80.0),
    "stripping_end": record(batch.StrippingEnd),
    "PlanRequest.conditions": record(batch.RunConditions),
    "spirit": record(batch.SpiritStill),
    "cuts": record(batch.CutPlan),
    "recycled": maybe(number(1.0, 99.0)),
    "PlanRequest.recycled": record(batch.Recycled),
    "bottling": record(batch.BottlingPlan),
    "curve_points": count(2, 15),
    "Recycled.into": one_of("wash", "low_wines"),
    "packed_height_m": number(0.0, 2.0),
    "SpiritStill.hetp_m": number(0.0, 0.5),
    "strongest_charge_abv": number(5.0, 50.0),
    "dilution_water_c": number(0.0, 40.0),
    "StrippingEnd.by": one_of("distillate_abv", "pot_abv", "collected_l", "head_c", "recovered"),
    # plot
    "ax": one_of(None),
    "title": TITLE,
    "unit": TITLE,
    "x_label": made(st.sampled_from(["water [L]", "x"])),
    "y_label": made(st.sampled_from(["grain [kg]", "y"])),
    "z_label": made(st.sampled_from(["hearts [L]", "z"])),
    "mark_label": TITLE,
    "most": count(1, 10),
    "style": count(0, 8),
    "done": one_of(True, False),
    "doubt": one_of(True, False),
    "steps": one_of(True, False),
    "mark": Kind(st.none() | st.just((1.5, 12.0)), st.tuples(st.floats(), st.floats())),
    "x": made(st.sampled_from([[1.0, 2.0, 3.0]])),
    "y": made(st.sampled_from([[10.0, 20.0]])),
    "z": made(st.sampled_from([[[1.0, 2.0, 3.0], [2.0, 3.0, 4.0]], [[1.0, 1.0, 1.0], [1.0, 1.0, 1.0]]])),
    "alcohol.result": record(batch.Plan, batch.Ledger),
    "budget.result": record(Estimate, strength.FoundStrength, strength.CombinedStrength),
    "check": record(fermentation.Check),
    "column_run.run": record(still.ColumnRun),
    "congeners.run": record(still.CongenerRun),
    "congeners.names": made(st.none() | st.lists(st.sampled_from(CONGENERS), max_size=2)),
    "congeners.pressure_kpa": maybe(number(20.0, 110.0)),
    "congener_run.pressure_kpa": maybe(number(20.0, 110.0)),
    "windows.pressure_kpa": maybe(number(20.0, 110.0)),
    "strip.pressure_kpa": maybe(number(20.0, 110.0)),
    "against": one_of("alcohol_share", "collected_l"),
    "stripping.against": one_of("collected_l", "recovered"),
    "correction.instrument": record(instrument.Hydrometer, instrument.Alcoholometer, instrument.Refractometer),
    "correction.readings": made(st.none() | st.lists(st.floats(1.0, 1.1), max_size=2)),
    "correction.temperatures_c": made(st.none() | st.just([10.0, 20.0, 30.0])),
    "course.result": record(fermentation.Course, fermentation.Forecast),
    "quantity": one_of("gravity", "abv", "temperature_c", "conversion"),
    "course.label": made(st.text(max_size=5).filter(lambda text: "$" not in text)),
    "cuts.result": record(batch.Plan, still.Cuts, still.Windows),
    "cuts.run": maybe(RUN),
    "dilution.target_abv": made(st.floats(20.0, 60.0) | st.just((45.0, 40.0))),
    "dilution.temperatures_c": made(st.none() | st.just([10.0, 20.0, 30.0])),
    "fitted": record(fermentation.Fitted),
    "strengths.found": rows_of(record(strength.FoundStrength)),
    "combined": maybe(record(strength.CombinedStrength)),
    # the package
    "name": one_of(*ferment.instruction_sets()),
    "results": record(Measured, mash.Potential, still.Still, liquid.Azeotrope),
    "Measured.standard_uncertainty": number(0.0, 1.0),
}

# ---- what is public ----


@dataclasses.dataclass(frozen=True)
class Target:
    """Something to call: where it is found, its parameters, and for a method the type of the record."""

    name: str
    function: Callable[..., Any] | None  # None: a method or property, looked up on the record
    parameters: tuple[inspect.Parameter, ...]
    owner: type | None = None
    kind: str = "function"


# Made by the library alone, from the dictionaries of its compiled part.
INTERNAL = {"of"}
MODULES = [value for name in ferment.__all__ if isinstance(value := getattr(ferment, name), types.ModuleType)]


def parameters_of(function: Callable[..., Any]) -> tuple[inspect.Parameter, ...]:
    try:
        signature = inspect.signature(function)
    except ValueError:  # a compiled one: its text begins with the signature
        first = (function.__doc__ or "").splitlines()[0]
        inside = re.fullmatch(r"\w+\((.*)\)(?: -> .*)?", first)
        assert inside, first
        namespace: dict[str, Any] = {}
        exec(f"def f({inside[1]}): pass", namespace)
        signature = inspect.signature(namespace["f"])
    return tuple(signature.parameters.values())


def members_of(kind: type) -> Iterator[Target]:
    for name in sorted(dir(kind)):
        if name.startswith("_") or name in INTERNAL:
            continue
        value = inspect.getattr_static(kind, name)
        if isinstance(value, property):
            yield Target(f"{kind.__name__}.{name}", None, (), kind, "property")
        elif isinstance(value, classmethod):
            made_by = getattr(kind, name)
            yield Target(f"{kind.__name__}.{name}", made_by, parameters_of(made_by))
        elif inspect.isfunction(value):
            yield Target(f"{kind.__name__}.{name}", None, parameters_of(value)[1:], kind, "method")


def targets() -> dict[str, Target]:
    found: dict[str, Target] = {}
    classes: set[type] = set()
    for module in [*MODULES, ferment]:
        for name in module.__all__:
            value = getattr(module, name)
            if isinstance(value, type):
                if issubclass(value, BaseException) or value in classes:
                    continue
                classes.add(value)
                by_user = hasattr(value, "__post_init__") or not dataclasses.is_dataclass(value) or value is Measured
                # A result is only ever made by the library: whatever its fields are given, it holds them.
                kind = "constructor" if by_user else "result"
                found[name] = Target(name, value, parameters_of(value), kind=kind)
                found |= {one.name: one for one in members_of(value)}
            elif callable(value):
                called = f"{module.__name__.rpartition('.')[2]}.{name}"
                found[called] = Target(called, value, parameters_of(value))
    return found


TARGETS = targets()
TAKES_ARRAYS = re.compile(r"ArrayLike|_array_like|_Array")


def kind_of(target: Target, parameter: inspect.Parameter) -> Kind | None:
    short = target.name.rpartition(".")[2]
    for name in (f"{target.name}.{parameter.name}", f"{short}.{parameter.name}", parameter.name):
        if name in PARAMETERS:
            known = PARAMETERS[name]
            annotation = parameter.annotation
            compiled = type(target.function).__name__ == "builtin_function_or_method"
            if (compiled and parameter.kind is not parameter.KEYWORD_ONLY) or TAKES_ARRAYS.search(str(annotation)):
                return as_arrays(known) if known.number else known
            return known
    return None


# ---- calls ----

ANY = Kind(WRONG_VALUES, WRONG_VALUES)


@st.composite
def calls(draw: st.DrawFn, target: Target) -> tuple[Any, tuple[Any, ...], dict[str, Any], bool]:
    """The record it is called on, the arguments, and whether all of these are right."""
    on = draw(st.sampled_from(records()[target.owner])) if target.owner is not None else None
    if isinstance(on, batch.Ledger):
        on = copy.deepcopy(on)  # the one record that is written in
    how = draw(st.sampled_from(["right", "right", "edge", "one wrong", "wrong"]))
    bad = draw(st.integers(0, max(0, len(target.parameters) - 1))) if how == "one wrong" else -1
    args: list[Any] = []
    kwargs: dict[str, Any] = {}
    for i, parameter in enumerate(target.parameters):
        kind = ANY if target.kind == "result" else kind_of(target, parameter)
        assert kind is not None
        usual = parameter.default is not parameter.empty
        varying = parameter.kind is parameter.VAR_KEYWORD
        if usual and i != bad and draw(st.booleans()):
            continue
        if i == bad or how == "wrong":
            source = kind.edge if varying or kind.tame else WRONG_VALUES | kind.edge
        else:
            source = kind.edge | kind.right if how == "edge" else kind.right
        value = draw(source)
        if varying:
            kwargs |= {str(name): one for name, one in value.items() if str(name).isidentifier()}
        elif parameter.kind is parameter.VAR_POSITIONAL:
            args.extend(value)
        elif parameter.kind is parameter.KEYWORD_ONLY or usual or kwargs:
            kwargs[parameter.name] = value
        else:
            args.append(value)
    return on, tuple(args), kwargs, how == "right"


def numbers_in(value: Any, path: str = "") -> Iterator[tuple[str, float]]:
    """Every number of a result, with where it stands."""
    if isinstance(value, bool | np.bool_ | str | bytes) or value is None:
        return
    if isinstance(value, Estimate):
        yield path, value.value
    elif hasattr(value, "nominal_value"):
        yield path, float(value.nominal_value)
    elif isinstance(value, numbers.Real):
        yield path, float(value)
    elif isinstance(value, np.ndarray):
        if value.dtype.kind == "f":
            yield path, float(np.sum(np.where(np.isfinite(value), 0.0, value)))  # NaN or infinite where one element is
        elif value.dtype == object:
            for one in value.ravel().tolist():
                yield from numbers_in(one, path)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from numbers_in(getattr(value, field.name), f"{path}/{type(value).__name__}.{field.name}")
    elif isinstance(value, Mapping):
        for name, one in value.items():
            yield from numbers_in(one, f"{path}[{name}]" if path else str(name))
    elif isinstance(value, tuple | list):
        for one in value:
            yield from numbers_in(one, path)


# Results that are not finite by their meaning, each as its documentation says.
MAY_BE_ANYTHING: dict[str, str] = {
    "Sweetening.apparent_abv": "NaN where the result is heavier than water",
    "Course.hydrometer": "NaN outside 0 to 40 degC",
    "Course.density": "NaN outside 0 to 40 degC",
    "Course.done_h": "NaN where it was not done within the times",
    "Forecast.done_h": "infinite where a course is not done",
    "Spread": "infinite where courses are not done",
    "Check.look_again_h": "infinite where there is nothing to wait for",
    "StrippingCurve.recovered": "NaN where there is no ethanol",
    "Packing.factor_per_ft": "NaN where the source has none",
    "LegalLine.grams_per_hl": "NaN where the law says not detectable",
    "ColumnCurve.hold_up_abw": "NaN where the plates hold nothing",
    "ColumnHoldUp.abw": "NaN where the plates hold nothing",
    "CutBlend.abv": "NaN where there is no jar",
    "Boundary": "NaN and infinite where it is not reached",
    "CutFraction.alcohol_share": "NaN where there is no alcohol",
    "FilledJar.alcohol_share": "NaN where no alcohol came over",
    "CongenerCourse.grams_per_hl": "NaN where no alcohol comes over",
    "WashReading": "NaN where a gravity cannot be had that way",
    "still.congener_crossing": "NaN where there is none",
}
# Answers of others that pass through as they are, each for its reason.
NOT_OURS: dict[str, str] = {
    "could not be broadcast together": "NumPy's own words for shapes, which everybody knows",
    "non-broadcastable output operand": "the same of out=",
    "Using UFloat objects with std_dev==0": "a warning of the uncertainties package for an exact number",
    "missing from font": "matplotlib draws a box for a character of no font",
    "use_instruction_set(): incompatible function arguments": "pybind11's own words: the list of what is allowed",
}


def may_be_anything(path: str) -> bool:
    parts = path.split("/")
    return any(part in MAY_BE_ANYTHING or part.partition(".")[0] in MAY_BE_ANYTHING for part in parts)


def problem_of_message(error: BaseException) -> str:
    text = str(error)
    if not text.strip():
        return "an empty message"
    if "\n\n" in text:
        return "a message of several paragraphs"
    if len(text) > LONGEST_MESSAGE:
        return f"a message of {len(text)} characters"
    return ""


def shown(target: Target, on: Any, args: tuple[Any, ...], kwargs: Mapping[str, Any]) -> str:
    short = reprlib.Repr()
    short.maxstring, short.maxother, short.maxlong = 60, 200, 20
    parts = [*(short.repr(one) for one in args), *(f"{name}={short.repr(one)}" for name, one in kwargs.items())]
    where = f" on {short.repr(on)}" if on is not None else ""
    return f"{target.name}({', '.join(parts)}){where}"


COUNTS: dict[str, int] = {}


def problem_of(target: Target, on: Any, args: tuple[Any, ...], kwargs: dict[str, Any], right: bool) -> str:
    """Empty where the call gives a result that is whole, or one clear error."""
    COUNTS[target.name] = COUNTS.get(target.name, 0) + 1
    short = target.name.rpartition(".")[2]
    started = time.process_time()
    problem = ""
    result: Any = None
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            if target.kind == "property":
                result = getattr(on, short)
            else:
                result = (target.function if on is None else getattr(on, short))(*args, **kwargs)
            if target.kind != "result" and isinstance(result, ferment._values.Record):
                assert repr(result)
    except (ferment.Error, TypeError) as error:
        problem = problem_of_message(error)
        if problem:
            problem = f"{type(error).__name__} with {problem}: {str(error)[:200]!r}"
    except Exception as error:  # whatever else it is
        problem = f"{type(error).__name__}: {str(error)[:200]}"
    finally:
        if target.name.startswith("plot."):
            pyplot.close("all")
    if any(words in problem for words in NOT_OURS):
        problem = ""
    took = time.process_time() - started
    if took > LONGEST_S:
        problem = f"{took:.1f} s"
    whole = str(kwargs.get("out_of_range")) != "nan" and short not in ("to_dict", "to_json")
    if right and whole and target.kind != "result" and result is not None and not problem:
        bad = [
            path
            for path, value in numbers_in(result, target.name)
            if not (math.isfinite(value) or may_be_anything(path))
        ]
        if bad:
            problem = f"not finite: {', '.join(dict.fromkeys(bad))}"
    return problem


def test_every_parameter_is_in_the_table() -> None:
    missing = [
        f"{target.name}.{parameter.name}"
        for target in TARGETS.values()
        if target.kind != "result"
        for parameter in target.parameters
        if kind_of(target, parameter) is None
    ]
    assert not missing
    assert len(TARGETS) > 400
    used = {name for target in TARGETS.values() for name in target_names(target)}
    assert sorted(PARAMETERS.keys() - used) == []


def target_names(target: Target) -> set[str]:
    short = target.name.rpartition(".")[2]
    return {
        name for one in target.parameters for name in (one.name, f"{short}.{one.name}", f"{target.name}.{one.name}")
    }


def test_every_method_has_a_record() -> None:
    missing = {
        target.owner.__name__
        for target in TARGETS.values()
        if target.owner is not None and not records().get(target.owner)
    }
    assert not missing


# Executions of a function that takes longer than the others; those of the short run.
FEW = {
    "fermentation.check": 3,
    "fermentation.fit": 3,
    "fermentation.forecast": 4,
    "batch.plan": 6,
    "batch.plans": 4,
    "Plan.what_if": 4,
    **{f"plot.{name}": 2 for name in plot.__all__},
}
SHORT = 12
RESULT = 2


def few(target: Target, usual: int) -> int:
    return FEW.get(target.name, usual)


def run(target: Target, examples: int, random: bool) -> None:
    settings = hypothesis.settings(
        max_examples=examples,
        derandomize=not random,
        deadline=None,
        database=None,
        suppress_health_check=list(hypothesis.HealthCheck),
        report_multiple_bugs=False,
        phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate, hypothesis.Phase.shrink],
    )

    @settings
    @hypothesis.given(calls(target))
    def tried(call: tuple[Any, tuple[Any, ...], dict[str, Any], bool]) -> None:
        on, args, kwargs, right = call
        problem = problem_of(target, on, args, kwargs, right)
        if problem:
            pytest.fail(f"{shown(target, on, args, kwargs)}: {problem}", pytrace=False)

    faulthandler.dump_traceback_later(
        600.0 if random else 120.0, exit=True
    )  # a hang in compiled code: no exception reaches it
    try:
        tried()
    finally:
        faulthandler.cancel_dump_traceback_later()


def executions(target: Target, most: int) -> int:
    if not target.parameters and target.owner is None:
        return 1
    if target.kind in ("result", "property") or not target.parameters:
        return min(most, RESULT)
    return min(most, few(target, most))


@pytest.mark.parametrize("name", TARGETS)
def test_a_result_or_one_clear_error(name: str) -> None:
    run(TARGETS[name], executions(TARGETS[name], SHORT), random=False)


@pytest.mark.long
@pytest.mark.parametrize("name", TARGETS)
def test_the_same_for_long(name: str) -> None:
    target = TARGETS[name]
    examples = int(os.environ.get("FERMENT_FUZZ_EXAMPLES", "1000"))
    share = max(1, SHORT // few(target, SHORT))
    run(target, max(2, examples // share if target.parameters else 2), random=True)
    counts = os.environ.get("FERMENT_FUZZ_COUNTS")
    if counts:
        Path(counts).write_text(json.dumps(COUNTS, indent=1, sort_keys=True), encoding="utf-8")

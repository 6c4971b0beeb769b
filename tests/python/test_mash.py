"""Grain, bills and what they can give: balances, budgets, scaling, certificates, published yields."""

import dataclasses
import math
from collections.abc import Iterator
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import fermentation, liquid, mash
from ferment.mash import Assumptions, Bill, Grain

BILL = Bill([("flaked oats", 60.0), ("barley malt", 15.0)])


def estimates(record: Any) -> Iterator[tuple[str, ferment.Estimate]]:
    """All estimates in a result, with their path."""
    for field in dataclasses.fields(record):
        value = getattr(record, field.name)
        if isinstance(value, ferment.Estimate):
            yield field.name, value
        elif isinstance(value, tuple):
            for item in value:
                if dataclasses.is_dataclass(item):
                    yield from ((f"{field.name}.{name}", x) for name, x in estimates(item))
        elif dataclasses.is_dataclass(value):
            yield from ((f"{field.name}.{name}", x) for name, x in estimates(value))


def test_every_grain_of_the_table() -> None:
    names = mash.grain_names()
    assert len(names) >= 25
    assert len(set(names)) == len(names)
    for name in names:
        item = mash.grain(name)
        assert item.name == name
        assert item.source
        assert item.form in {form for form, _ in fermentation.starch_forms()}
        assert item.starch.value + item.sugars.value > 5.0
        assert item.moisture.value + item.starch.value + item.sugars.value <= 100.0 + 1e-9
        gives = mash.potential(Bill([(item, 10.0)]), water_l=40.0)
        assert 50.0 < gives.theoretical.bill.pure_alcohol_l_per_tonne.value < 700.0


def test_names_of_the_trade() -> None:
    assert mash.grain("rolled oats") == mash.grain("flaked oats")
    with pytest.raises(
        ferment.InputError, match=r'^unknown grain "flaked oat"; the nearest known names are flaked oats'
    ):
        mash.grain("flaked oat")


@pytest.mark.parametrize(
    ("name", "starch_dry", "efficiency", "measured", "spread"),
    [
        # Thomas and Ingledew (1995) J. Ind. Microbiol. 15, 125-130: starch of the lot, litres per dry tonne; the efficiency on starch is
        # worked from them in tests/reference/grain/worked_examples.csv.
        ("hulless oats", 59.8, 82.0, 353.2, 3.7),
        ("hulled oats", 50.8, 86.8, 317.6, 1.3),
    ],
)
def test_measured_yield_of_a_lot(
    name: str, starch_dry: float, efficiency: float, measured: float, spread: float
) -> None:
    lot = mash.grain(name).with_analysis("dry", starch=starch_dry, sugars=0.0)
    gives = mash.potential(Bill([(lot, 100.0)]), water_l=300.0, assumptions=Assumptions(conversion=efficiency))
    assert gives.expected.bill.pure_alcohol_l_per_tonne_dry.value == pytest.approx(measured, abs=spread)
    table = mash.potential(Bill([(name, 100.0)]), water_l=300.0, assumptions=Assumptions(conversion=efficiency))
    by_table = table.expected.bill.pure_alcohol_l_per_tonne_dry
    assert abs(by_table.value - measured) <= 2.0 * math.hypot(by_table.standard_uncertainty, spread)


def test_alcohol_of_pure_starch_by_hand() -> None:
    starch = Grain("starch", "starch", moisture=0.0, starch=100.0, sugars=0.0)
    gives = mash.potential(Bill([(starch, 1000.0)]), water_kg=3000.0).theoretical
    # IUPAC 2021 abridged weights: C6H10O5 162.141, H2O 18.015, C2H5OH 46.069, CO2 44.009.
    assert gives.hydrolysis_water_kg.value == pytest.approx(1000.0 * 18.015 / 162.141, rel=1e-6)
    assert gives.ethanol_kg.value == pytest.approx(1000.0 * 2.0 * 46.069 / 162.141, rel=1e-6)
    assert gives.co2_kg.value == pytest.approx(1000.0 * 2.0 * 44.009 / 162.141, rel=1e-6)
    assert gives.pure_alcohol_l.value == pytest.approx(
        1000.0 * gives.ethanol_kg.value / liquid.spirit_density(100.0, 20.0)
    )
    assert gives.bill.pure_alcohol_l_per_tonne.value == pytest.approx(gives.pure_alcohol_l.value)


def test_masses_balance() -> None:
    assumptions = Assumptions(conversion=(85.0, 3.0), fermentation_efficiency=(94.0, 1.5))
    found = mash.potential(BILL, water_l=220.0, assumptions=assumptions)
    for gives in (found.expected, found.theoretical):
        made = gives.ethanol_kg.value + gives.co2_kg.value + gives.by_products_kg.value
        assert made == pytest.approx(gives.hexose_kg.value, rel=1e-12)
        share = gives.extract_kg.value / gives.bill.mass_kg
        assert gives.bill.extract_as_is.value == pytest.approx(100.0 * share, rel=1e-12)
        assert sum(line.pure_alcohol_l.value for line in gives.grains) == pytest.approx(
            gives.pure_alcohol_l.value, rel=1e-12
        )
        assert liquid.sg_from_plato(gives.extract.value) == pytest.approx(gives.original_gravity.value, abs=1e-12)
        assert gives.glucose_gravity.value < gives.original_gravity.value
    starch_only = Bill([(Grain("lot", "flour", moisture=12.0, starch=70.0, sugars=0.0), 50.0)])
    gives = mash.potential(starch_only, water_l=150.0, assumptions=assumptions).expected
    assert gives.starch_converted_kg.value == pytest.approx(0.85 * 35.0, rel=1e-12)
    assert gives.hexose_kg.value == pytest.approx(
        gives.starch_converted_kg.value + gives.hydrolysis_water_kg.value, rel=1e-12
    )


def test_water_balance() -> None:
    found = mash.potential(BILL, water_l=220.0, assumptions=Assumptions(conversion=(85.0, 3.0)))
    water = mash.water_balance(found)
    comes_in = water.added_kg.value + water.grain_moisture_kg.value
    goes = water.hydrolysis_kg.value + water.absorbed_kg.value + water.free_kg.value
    assert comes_in == pytest.approx(goes, rel=1e-12)
    assert water.added_kg.value == pytest.approx(0.220 * liquid.water_density(20.0), rel=1e-12)
    # The Oxford Companion to Beer (2011), spent grain.
    assert water.absorbed_kg.value > 0.5 * BILL.mass_kg
    assert water.mash_volume_l.value == pytest.approx(220.0 + water.displacement_l.value, abs=0.1)
    assert water.vessel_volume_l.value == pytest.approx(water.mash_volume_l.value / 0.8, rel=1e-12)
    own = mash.water_balance(found, absorption=(1.0, 0.1), head_space=10.0)
    assert own.absorbed_kg.value == pytest.approx(BILL.mass_kg, rel=1e-12)
    assert own.absorbed_kg.standard_uncertainty == pytest.approx(0.1 * BILL.mass_kg, rel=1e-12)
    assert own.vessel_volume_l.value == pytest.approx(own.mash_volume_l.value / 0.9, rel=1e-12)


def test_budget_adds_up_to_the_variance() -> None:
    found = mash.potential(BILL, water_l=220.0, assumptions=ferment.fermentation.no_cook())
    all_of_them = [
        *estimates(found.expected),
        *estimates(found.theoretical),
        *estimates(mash.water_balance(found)),
        *estimates(ferment.fermentation.end_point(found)),
        *estimates(ferment.fermentation.read_wash(found, 1.0)),
    ]
    assert len(all_of_them) > 80
    for name, x in all_of_them:
        if math.isnan(x.value):
            continue
        parts = [part for _, part in x.budget]
        assert math.sqrt(math.fsum(p * p for p in parts)) == pytest.approx(
            x.standard_uncertainty, rel=1e-12, abs=1e-300
        ), name
        assert [abs(p) for p in parts] == sorted((abs(p) for p in parts), reverse=True), name
        assert len({source for source, _ in x.budget}) == len(x.budget), name
        low, high = x.interval()
        assert (low, high) == pytest.approx(
            (x.value - 2.0 * x.standard_uncertainty, x.value + 2.0 * x.standard_uncertainty)
        )


def test_budget_against_differences() -> None:
    # First order: moving one input by its standard uncertainty moves the result by its line of the budget, nearly.
    def alcohol(starch: float) -> float:
        lot = mash.grain("flaked oats").with_analysis(starch=(starch, 3.0), moisture=10.0)
        return mash.potential(Bill([(lot, 60.0)]), water_l=200.0).theoretical.pure_alcohol_l.value

    lot = mash.grain("flaked oats").with_analysis(starch=(57.0, 3.0), moisture=10.0)
    budget = dict(mash.potential(Bill([(lot, 60.0)]), water_l=200.0).theoretical.pure_alcohol_l.budget)
    slope = (alcohol(57.1) - alcohol(56.9)) / 0.2
    assert budget["starch of flaked oats"] == pytest.approx(3.0 * slope, rel=1e-6)


EXTENSIVE = {
    "starch_converted_kg",
    "hydrolysis_water_kg",
    "hexose_kg",
    "extract_kg",
    "ethanol_kg",
    "pure_alcohol_l",
    "co2_kg",
    "by_products_kg",
}
EXTENSIVE |= {"bill.pure_alcohol_l", "grains.pure_alcohol_l"}


def test_a_bill_ten_times_as_large() -> None:
    assumptions = ferment.fermentation.no_cook()
    small = mash.potential(BILL, water_kg=220.0, assumptions=assumptions)
    large = mash.potential(
        Bill([(item, 10.0 * mass_kg) for item, mass_kg in BILL.items]), water_kg=2200.0, assumptions=assumptions
    )
    assert large.bill.mass_kg == pytest.approx(750.0)
    for (name, a), (_, b) in zip(estimates(small.expected), estimates(large.expected), strict=True):
        factor = 10.0 if name in EXTENSIVE else 1.0
        assert b.value == pytest.approx(factor * a.value, rel=1e-11), name
        assert b.standard_uncertainty == pytest.approx(factor * a.standard_uncertainty, rel=1e-9, abs=1e-15), name


def test_water_by_volume_and_by_mass() -> None:
    by_mass = mash.potential(BILL, water_kg=0.2 * liquid.water_density(60.0))
    by_volume = mash.potential(BILL, water_l=200.0, water_temperature_c=60.0)
    assert by_mass.theoretical == by_volume.theoretical
    assert mash.potential(BILL, water_l=200).water_kg == mash.potential(BILL, water_l=200.0).water_kg


def test_assumptions() -> None:
    complete = mash.potential(BILL, water_l=220.0)
    assert complete.assumptions == Assumptions()
    assert complete.expected.ethanol_kg == complete.theoretical.ethanol_kg
    half = mash.potential(BILL, water_l=220.0, assumptions=Assumptions(fermentation_efficiency=50.0))
    assert half.expected.ethanol_kg.value == pytest.approx(0.5 * complete.expected.ethanol_kg.value, rel=1e-12)
    given = Assumptions(85, (94.0, 1.5), ferment.Measured(20.0, 8.0))
    assert given.conversion == ferment.Measured(85.0)
    assert given.fermentation_efficiency == ferment.Measured(94.0, 1.5)
    wide = mash.potential(BILL, water_l=220.0, assumptions=Assumptions(conversion=(85.0, 6.0)))
    sharp = mash.potential(BILL, water_l=220.0, assumptions=Assumptions(conversion=85.0))
    assert wide.expected.ethanol_kg.value == pytest.approx(sharp.expected.ethanol_kg.value, rel=1e-14)
    assert wide.expected.ethanol_kg.standard_uncertainty > sharp.expected.ethanol_kg.standard_uncertainty


def test_certificate_beats_the_table() -> None:
    table = mash.grain("flaked oats")
    lot = table.with_analysis(moisture=14.0, starch=(55.0, 0.5), source="certificate, lot 12")
    assert lot.moisture.value == pytest.approx(14.0, abs=1e-12)
    assert lot.starch.value == pytest.approx(55.0, abs=1e-12)
    assert lot.starch.standard_uncertainty == pytest.approx(0.5, abs=1e-12)
    assert "certificate, lot 12" in lot.source
    # What is not stated keeps its share of the dry matter.
    dry = (100.0 - 14.0) / (100.0 - table.moisture.value)
    assert lot.protein.value == pytest.approx(table.protein.value * dry, rel=1e-12)
    on_dry = table.with_analysis("dry", moisture=12.0, starch=65.0)
    assert on_dry.starch.value == pytest.approx(65.0 * 0.88, rel=1e-12)
    assert table == mash.grain("flaked oats")
    sharper = mash.potential(Bill([(lot, 60.0)]), water_l=200.0).theoretical.ethanol_kg
    rough = mash.potential(Bill([(table, 60.0)]), water_l=200.0).theoretical.ethanol_kg
    assert sharper.standard_uncertainty < rough.standard_uncertainty


def test_litre_degrees() -> None:
    # By definition: litres of wort from a kg of extract, times its excess degrees.
    w = np.linspace(1.0, 70.0, 70)
    litres_per_kg = 1000.0 / liquid.extract_per_litre(w, 20.0)
    assert mash.litre_degrees_of_extract(w) == pytest.approx(
        litres_per_kg * 1000.0 * (liquid.sg_from_plato(w) - 1.0), rel=1e-9
    )

"""Where a no-cook wash ends and what a reading says."""

import math
from collections.abc import Callable

import ferment
import pytest
from ferment import fermentation, liquid, mash

BILL = mash.Bill([("flaked oats", 60.0), ("barley malt", 15.0)])
POTENTIAL = mash.potential(BILL, water_l=220.0, assumptions=fermentation.no_cook())
END = fermentation.end_point(POTENTIAL)


def test_no_cook_lies_among_its_published_results(reference: Callable[[str], list[dict[str, str]]]) -> None:
    published = [share for _, share in fermentation.no_cook_published()]
    assert len(published) >= 5
    assumed = fermentation.no_cook()
    overall = assumed.conversion.value * assumed.fermentation_efficiency.value / 100.0
    assert min(published) <= overall <= max(published)
    assert overall == pytest.approx(sum(published) / len(published), abs=0.05)
    assert assumed.conversion.standard_uncertainty > 0.0
    printed = {row["yield_percent"] for row in reference("no_cook_fermentation/end_points")}
    assert {"86.3", "85.5"} <= printed
    assert {86.3, 85.5} <= {round(share, 6) for share in published}


def test_end_point_agrees_with_the_potential() -> None:
    assert END.ethanol_kg.value == pytest.approx(POTENTIAL.expected.ethanol_kg.value, rel=1e-12)
    assert END.pure_alcohol_l.value == pytest.approx(POTENTIAL.expected.pure_alcohol_l.value, rel=1e-12)
    assert END.co2_kg.value == pytest.approx(POTENTIAL.expected.co2_kg.value, rel=1e-12)
    left = POTENTIAL.theoretical.starch_converted_kg.value - POTENTIAL.expected.starch_converted_kg.value
    assert END.starch_left_kg.value == pytest.approx(left, rel=1e-9)
    assert END.abw.value == pytest.approx(100.0 * END.ethanol_kg.value / END.wash_kg.value, rel=1e-12)
    assert END.abv.value == pytest.approx(liquid.wash_abv(END.abw.value, END.real_extract.value), rel=1e-12)
    assert END.gravity.value == pytest.approx(liquid.wash_gravity(END.abw.value, END.real_extract.value), rel=1e-12)
    litres = 1000.0 * END.wash_kg.value / liquid.wash_density(END.abw.value, END.real_extract.value, 20.0)
    assert END.wash_l.value == pytest.approx(litres, rel=1e-12)
    assert 0.98 < END.gravity.value < 1.0
    assert END.abv.standard_uncertainty > 0.1


def test_reading_at_the_end_point_is_the_end_point() -> None:
    found = fermentation.read_wash(POTENTIAL, END.gravity.value)
    assert found.says == "near the end point"
    assert found.gravity.value == END.gravity.value
    assert found.most_conversion.value == pytest.approx(END.conversion.value, rel=1e-6)
    assert found.abv_without_sugar.value == pytest.approx(END.abv.value, rel=1e-6)
    assert found.end_gravity.value == pytest.approx(END.gravity.value, rel=1e-12)
    assert found.most_free_sugar.value == pytest.approx(0.0, abs=1e-6)


def test_readings_fall_and_the_strength_rises() -> None:
    readings = [1.03, 1.02, 1.01, 1.005, 1.0]
    found = [fermentation.read_wash(POTENTIAL, g) for g in readings]
    strongest = [r.most_abv.value for r in found]
    assert strongest == sorted(strongest)
    for r in found:
        assert r.least_abv.value <= r.most_abv.value
        assert r.least_conversion.value <= r.most_conversion.value
        assert r.lowest_gravity.value < r.end_gravity.value < r.highest_gravity.value
        assert r.start_gravity.value < r.highest_gravity.value


@pytest.mark.parametrize(
    ("gravity", "says"),
    [
        (1.02, "not started, or sugar still standing"),
        (1.0, "fermenting"),
        (END.gravity.value, "near the end point"),
        (0.9935, "below the lowest gravity of the plan"),
        (0.95, "lower than any wash of this bill can go"),
        (1.1, "higher than this bill can give, even with all starch dissolved as sugar"),
        (float("nan"), "no reading"),
    ],
)
def test_verdicts(gravity: float, says: str) -> None:
    found = fermentation.read_wash(POTENTIAL, gravity)
    assert found.says == says
    assert math.isnan(found.gravity.value) == math.isnan(gravity)
    if says.startswith(("lower", "below", "higher", "no ")):
        assert math.isnan(found.most_abv.value)
        assert math.isnan(found.least_conversion.value)
    # What depends on the bill alone is there in any case.
    assert found.end_gravity.value == pytest.approx(END.gravity.value, rel=1e-12)


def test_better_reading_narrower_answer() -> None:
    rough = fermentation.read_wash(POTENTIAL, 1.0, 0.002)
    fine = fermentation.read_wash(POTENTIAL, 1.0, 0.0)
    assert rough.gravity == ferment.Estimate(1.0, 0.002, rough.gravity.budget)
    assert fine.gravity.standard_uncertainty == 0.0
    assert rough.most_abv.standard_uncertainty >= fine.most_abv.standard_uncertainty
    assert rough.abv_without_sugar.standard_uncertainty > fine.abv_without_sugar.standard_uncertainty
    assert rough.most_abv.value == pytest.approx(fine.most_abv.value, rel=1e-12)

"""Alcohol from gravities: measured brews, printed examples, exact inverses."""

import copy
import pickle
from collections.abc import Callable
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import liquid, strength

Reference = Callable[[str], list[dict[str, str]]]
SIXTY_F = 140.0 / 9.0


def brews(reference: Reference) -> tuple[Any, Any, Any]:
    """Original gravity, final gravity and grams of ethanol per 100 mL, all at 60 degF: Tolman and Riley (1917), USDA Bulletin 493."""
    rows = [
        r
        for r in reference("gravity_to_alcohol/measured_og_fg_alcohol_us_brewery_1911_1912")
        if "SUSPECT" not in r["flag"]
    ]
    columns = ("wort_sg_60F", "beer_sg_60F", "alcohol_g_per_100mL")
    og, fg, grams = (np.array([float(r[key]) for r in rows]) for key in columns)
    return og, fg, grams


def test_density_balance_on_measured_brews(reference: Reference) -> None:
    og, fg, grams = brews(reference)
    found = strength.gravity_balance(og, fg, reference="60/60F")
    ethanol = found.abw * liquid.wash_density(found.abw, found.real_extract, SIXTY_F) / 1000.0  # g per 100 mL
    off = (ethanol - grams) / 0.7931  # % vol at 60 degF, density of ethanol as in the table's header
    assert len(off) == 27
    assert abs(off.mean()) <= 0.10
    assert np.sqrt(np.mean(off**2)) <= 0.153  # the best published relation on these brews, formula_bias_on_1911_data
    assert abs(off.mean() - 0.049) <= 0.0005  # regression: the figures of the documentation
    assert abs(np.sqrt(np.mean(off**2)) - 0.149) <= 0.0005


def test_printed_examples(reference: Reference) -> None:
    functions = {
        "tolman_oe_pct": strength.tolman_2a_plus_e,
        "balling_oe_pct": strength.balling_original_extract,
        "duty_abv_pct": strength.duty_abv,
        "hmrc_abv_pct": lambda degrees: strength.abv_from_gravity(1.0 + (degrees + 5.0) / 1000.0, 1.005, "hmrc_226"),
    }
    tried = 0
    for row in reference("gravity_to_alcohol/worked_examples"):
        if row["relation"] not in functions:
            continue
        given = [float(row[key]) for key in ("first", "second") if row[key]]
        found = functions[row["relation"]](*given)
        assert found == pytest.approx(float(row["printed"]), abs=float(row["tolerance"]) + 1e-12), row
        tried += 1
    assert tried >= 8


def test_methods() -> None:
    assert strength.METHODS == ("density_balance", "balling", "cutaia_a", "cutaia_q", "doemens_a", "hall", "hmrc_226")
    og, fg = np.array([1.044, 1.050, 1.060]), np.array([1.010, 1.011, 1.012])
    balance = strength.abv_from_gravity(og, fg)
    for method in strength.METHODS:
        found = strength.abv_from_gravity(og, fg, method)
        one = strength.abv_from_gravity(1.050, 1.011, method)
        assert found[1] == one
        assert type(one) is float
        assert np.abs(found - balance).max() <= 0.4, method  # in the middle of their range they agree that far
    assert balance == pytest.approx(
        strength.gravity_balance(og, fg).abv, rel=1e-15
    )  # times 100 or over 0.01: the last digit


def test_masses_balance() -> None:
    og = np.linspace(1.005, 1.130, 26)
    least = strength.least_final_gravity(og)
    for share in (0.0, 0.3, 0.7, 1.0):
        fg = np.clip(og + share * (least - og), 0.980, 1.060)
        fg = np.maximum(fg, least)
        found = strength.gravity_balance(og, fg)
        assert found.liquid + found.carbon_dioxide + found.yeast == pytest.approx(1.0, abs=1e-12)
        ethanol, co2, yeast = strength.YIELDS["bringhurst_1996"]
        assert found.carbon_dioxide == pytest.approx(co2 * found.extract_consumed, abs=1e-12)
        assert found.yeast == pytest.approx(yeast * found.extract_consumed, abs=1e-12)
        assert found.abw / 100.0 * found.liquid == pytest.approx(ethanol * found.extract_consumed, abs=1e-12)
        rest = found.original_extract / 100.0 - found.extract_consumed
        assert found.real_extract / 100.0 * found.liquid == pytest.approx(rest, abs=1e-12)
        assert liquid.wash_gravity(found.abw, np.maximum(found.real_extract, 0.0)) == pytest.approx(fg, abs=1e-9)


@pytest.mark.parametrize("fermentation_yield", sorted(strength.YIELDS))
@pytest.mark.parametrize("reference_name", sorted(liquid.REFERENCES))
def test_original_gravity_is_the_inverse(fermentation_yield: Any, reference_name: Any) -> None:
    og, fg = np.linspace(1.03, 1.125, 20)[:, None], np.linspace(1.0, 1.028, 8)
    abv = strength.gravity_balance(og, fg, fermentation_yield, reference_name).abv
    back = strength.original_gravity_from_abv(abv, fg, fermentation_yield, reference_name)
    assert np.abs(back - og).max() <= 1e-10


def test_inverse_agrees_with_a_plain_root_finder() -> None:
    brentq = pytest.importorskip("scipy.optimize").brentq
    for abv, fg in ((2.0, 1.010), (8.0, 0.998), (14.0, 0.995)):
        root = brentq(
            lambda og, a=abv, g=fg: strength.abv_from_gravity(og, g) - a,
            fg + 0.001 if fg > 1.0 else 1.05,
            1.13,
            xtol=1e-13,
        )
        assert strength.original_gravity_from_abv(abv, fg) == pytest.approx(root, abs=1e-11)


def test_parts_of_the_balance_under_their_own_names() -> None:
    found = strength.gravity_balance(1.060, 1.012)
    assert strength.real_extract(1.060, 1.012) == found.real_extract
    assert strength.apparent_extract(1.012) == pytest.approx(found.apparent_extract, abs=1e-12)
    assert strength.apparent_attenuation(1.060, 1.012) == found.apparent_attenuation
    assert strength.real_attenuation(1.060, 1.012) == found.real_attenuation
    assert type(found.abv) is float
    assert strength.apparent_extract(0.995) < 0.0
    assert strength.gravity_balance(1.080, 0.995).apparent_attenuation > 100.0


def test_nothing_fermented_is_no_alcohol() -> None:
    og = np.linspace(1.001, 1.060, 20)
    assert strength.abv_from_gravity(og, og) == pytest.approx(0.0, abs=1e-9)
    assert strength.abv_from_gravity(1.05, float("nan")) != strength.abv_from_gravity(1.05, float("nan"))


def test_out_of_range_elements() -> None:
    found = strength.abv_from_gravity([1.05, 1.2, 1.05], [1.01, 1.01, 1.06], out_of_range="nan")
    assert np.isnan(found).tolist() == [False, True, True]
    with pytest.raises(
        ferment.RangeError, match=r"^element \[2\]: final gravity 1.06 is above the original gravity 1.05"
    ):
        strength.abv_from_gravity([1.05, 1.05, 1.05], [1.01, 1.01, 1.06])


def test_real_extract_relations() -> None:
    # Within their common range the relations for real extract agree with Balling's to a few tenths.
    oe, ae = np.linspace(10.0, 17.0, 8)[:, None], np.linspace(1.5, 4.0, 6)
    balling = strength.balling_real_extract(oe, ae)
    for relation in (strength.cutaia_q, strength.doemens_q):
        assert np.abs(relation(oe, ae) - balling).max() <= 0.4


def test_wine(reference: Reference) -> None:
    # Cortez et al. (2009): on every row the dry extract holds the residual sugar and a sugar-free rest that can be.
    rows = reference("gravity_to_alcohol/wine_density_alcohol_residual_sugar")
    columns = ("density_g_per_mL", "alcohol_pct_v_v", "residual_sugar_g_per_L")
    density, abv, sugar = (np.array([float(r[key]) for r in rows]) for key in columns)
    rest = strength.dry_extract(1000.0 * density, abv) - sugar
    assert len(rows) > 200
    assert (rest > 0.0).all()
    white = np.array([r["kind"] == "white" for r in rows]) & (abv < 14.9)
    assert rest[white].mean() == pytest.approx(19.3, abs=2.4)  # mean and scatter in the header of the table


def test_the_printed_ends_of_a_range_belong_to_it() -> None:
    # Cutaia, Reid, Speers (2009), Table III: original 9.44 to 18.03, real 1.99 to 9.28, apparent -0.42 to 7.86 % mass.
    for relation in (strength.cutaia_a, strength.cutaia_q, strength.doemens_a, strength.doemens_q):
        for original in (9.44, 18.03):
            for apparent in (-0.42, 7.86):
                assert relation(original, apparent) > 0.0
        with pytest.raises(
            ferment.RangeError, match=r"^original extract 18\.031 % mass is outside 9\.44 to 18\.03 % mass "
        ):
            relation(18.031, 3.0)
    for relation in (strength.cutaia_b, strength.doemens_b):
        for original in (9.44, 18.03):
            for real in (1.99, 9.28):
                assert relation(original, real) > 0.0


# Routes without an original gravity: a wash of known composition is measured by formulas of its own, and found again.

ABW, EXTRACT = 6.4, 2.9
GRAVITY = liquid.wash_gravity(ABW, EXTRACT)
ABV = liquid.wash_abv(ABW, EXTRACT)
READ = ferment.Measured(GRAVITY, 0.0003)


def boiled_down_to_volume() -> float:
    """Gravity of the extract of the wash in its first volume."""
    brentq = pytest.importorskip("scipy.optimize").brentq
    per_litre = EXTRACT * liquid.wash_density(ABW, EXTRACT, 20.0)
    extract = brentq(lambda x: x * liquid.wash_density(0.0, x, 20.0) - per_litre, 0.0, 20.0, xtol=1e-14)
    return liquid.wash_gravity(0.0, extract)


def routes() -> list[strength.FoundStrength]:
    index = liquid.wash_refractive_index(ABW, EXTRACT)
    boiling = liquid.boiling_point(ABW, 99.0, EXTRACT)
    return [
        strength.abv_from_hydrometer_and_refractometer(READ, refractive_index=(index, 1e-4)),
        strength.abv_from_hydrometer_and_refractometer(READ, brix=(liquid.brix_from_refractive_index(index), 0.07)),
        strength.abv_from_boiled_down(READ, (boiled_down_to_volume(), 0.0003)),
        strength.abv_from_boiled_down(READ, (liquid.wash_gravity(0.0, EXTRACT), 0.0003), made_up_to="mass"),
        strength.abv_from_boiling_point((boiling, 0.1), (99.0, 0.05), READ),
        strength.abv_from_distilled_sample((2.0 * ABV, 0.1), (50.0, 0.1), (100.0, 0.1), READ, recovery=(100.0, 0.0)),
    ]


@pytest.mark.parametrize("found", routes(), ids=lambda found: found.route)
def test_routes_find_the_wash(found: strength.FoundStrength) -> None:
    assert found.abv.value == pytest.approx(ABV, abs=1e-6)
    assert found.abw.value == pytest.approx(ABW, abs=1e-6)
    assert found.real_extract.value == pytest.approx(EXTRACT, abs=1e-6)
    assert 0.0 < found.abv.standard_uncertainty < 0.6
    assert found.dominated_by == found.abv.budget[0][0]
    parts = np.array([part for _, part in found.abv.budget])
    assert np.sqrt((parts**2).sum()) == pytest.approx(found.abv.standard_uncertainty, rel=1e-12)


def test_tabarie_is_a_first_order_of_boiling_down() -> None:
    after = (boiled_down_to_volume(), 0.0003)
    rule, exact = strength.abv_by_tabarie(READ, after), strength.abv_from_boiled_down(READ, after)
    assert abs(rule.abv.value - exact.abv.value) <= 0.05
    assert rule.abv.value != exact.abv.value


def test_carbon_dioxide_lost() -> None:
    # 10 kg of gas with 0.959 kg for each kg of ethanol in 100 L: 10.4 kg or 13.2 L, and a little more for what stayed, less for the vapour.
    found = strength.abv_from_co2_loss((10.0, 0.1), (100.0, 0.5), (0.998, 0.0005))
    assert found.abv.value == pytest.approx(10.0 / 0.959 / 0.78924, abs=0.2)
    dry = strength.abv_from_co2_loss((10.0, 0.1), (100.0, 0.5), (0.998, 0.0005), airlock=False)
    assert dry.abv.value > found.abv.value
    warm = strength.abv_from_co2_loss((10.0, 0.1), (100.0, 0.5), (0.998, 0.0005), (35.0, 1.0), (95.0, 0.5))
    assert warm.abv.value < found.abv.value
    assert "temperature" in dict(warm.abv.budget)


def test_combined_strength() -> None:
    found = [routes()[i] for i in (0, 2, 4)]
    combined = strength.combine(found)
    assert combined.abv.value == pytest.approx(ABV, abs=1e-6)
    assert combined.abv.standard_uncertainty < min(one.abv.standard_uncertainty for one in found)
    assert [one.route for one in combined.agreements] == [one.route for one in found]
    assert sum(one.weight for one in combined.agreements) == pytest.approx(1.0, abs=1e-12)
    assert combined.chi_square == pytest.approx(0.0, abs=1e-6)
    assert combined.chance == pytest.approx(100.0, abs=1e-3)
    assert combined.consistent
    assert combined.outlier == ""
    wrong = strength.abv_from_boiling_point((88.0, 0.1), (99.0, 0.05), READ)
    apart = strength.combine([*found[:2], wrong])
    assert not apart.consistent
    assert apart.chance < 5.0
    assert apart.outlier == "boiling point"


def test_equal_strengths_combine_to_their_mean() -> None:
    # Two independent readings of one kind: weights a half, and the doubt of what they share stays.
    one = strength.abv_from_distilled_sample((12.0, 0.2), (50.0, 0.0), (100.0, 0.0), 1.0, recovery=(100.0, 0.0))
    two = strength.abv_from_distilled_sample((13.0, 0.2), (50.0, 0.0), (100.0, 0.0), 1.0, recovery=(100.0, 0.0))
    combined = strength.combine([one, two])
    assert combined.abv.value == pytest.approx(6.25, abs=1e-6)
    assert combined.abv.standard_uncertainty == pytest.approx(0.1 / np.sqrt(2.0), rel=1e-3)
    assert combined.chi_square == pytest.approx(0.5**2 / (2 * 0.1**2), rel=1e-3)
    assert [one.weight for one in combined.agreements] == pytest.approx([0.5, 0.5], abs=1e-3)


def test_one_reading_in_two_routes_is_one_input() -> None:
    after, boiling = (boiled_down_to_volume(), 0.0003), (liquid.boiling_point(ABW, 99.0, EXTRACT), 0.1)

    def combined(first: strength.Reading, second: strength.Reading) -> strength.CombinedStrength:
        found = [
            strength.abv_from_boiled_down(first, after),
            strength.abv_from_boiling_point(boiling, (99.0, 0.05), second),
        ]
        return strength.combine(found)

    doubtful = ferment.Measured(GRAVITY, 0.002)
    shared, apart = combined(doubtful, doubtful), combined(doubtful, ferment.Measured(GRAVITY, 0.002))
    assert apart == combined((GRAVITY, 0.002), (GRAVITY, 0.002))
    assert shared != apart
    assert len(shared.abv.budget) == len(apart.abv.budget) - 1


def test_pickled_together_they_keep_what_they_share() -> None:
    found = [routes()[2], routes()[4]]
    expected = strength.combine(found)
    assert strength.combine(pickle.loads(pickle.dumps(found))) == expected
    assert strength.combine(copy.deepcopy(found)) == expected
    alone = [pickle.loads(pickle.dumps(one)) for one in found]
    assert strength.combine(alone) != expected
    assert alone == found


def test_wrong_input_of_the_routes() -> None:
    found = routes()
    with pytest.raises(ferment.InputError, match="at least two strengths; got 1"):
        strength.combine(found[:1])
    with pytest.raises(ferment.InputError, match="given twice"):
        strength.combine([found[0], found[0]])
    for both in ({}, {"brix": (6.0, 0.1), "refractive_index": (1.34, 1e-4)}):
        with pytest.raises(ferment.InputError, match=r"^give exactly one of brix \[% mass\] and refractive_index"):
            strength.abv_from_hydrometer_and_refractometer(READ, **both)
    with pytest.raises(ferment.RangeError, match=r"^brix 71 degBx is outside 0 to 70 degBx"):
        strength.abv_from_hydrometer_and_refractometer(READ, brix=(71.0, 0.1))
    with pytest.raises(ferment.RangeError, match=r"^gravity before 1\.3 SG 20/20 is outside 0\.95 to 1\.2"):
        strength.abv_from_boiled_down((1.3, 0.001), (1.01, 0.001))
    with pytest.raises(ferment.InputError, match=r'^made_up_to "weight" is not known; allowed are volume, mass'):
        strength.abv_from_boiled_down(READ, (1.01, 0.001), "weight")  # type: ignore[arg-type]
    with pytest.raises(ferment.InputError, match=r"^standard uncertainty -0\.1 of boiling point must be"):
        strength.abv_from_boiling_point((95.0, -0.1), (101.3, 0.1), READ)
    with pytest.raises(ferment.InputError, match=r"^gravity must be a number"):
        strength.abv_from_boiling_point((95.0, 0.1), (101.3, 0.1), (float("nan"), 0.001))
    with pytest.raises(ferment.RangeError, match="more alcohol came over than a wash can hold"):
        strength.abv_from_distilled_sample((80.0, 0.1), (100.0, 0.1), (100.0, 0.1), READ)
    with pytest.raises((TypeError, ValueError)):
        strength.abv_from_boiled_down("1.010", "1.01x")  # type: ignore[arg-type]

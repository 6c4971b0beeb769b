"""Alcohol from gravities: measured brews, printed examples, exact inverses."""

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
    assert np.array_equal(balance, strength.gravity_balance(og, fg).abv)


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

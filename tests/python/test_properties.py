"""What physics and arithmetic say of every function: order, inverses, balances, scale, and that arrays are their numbers.

Examples are drawn anew only when a test changes: the profile is deterministic. Bounds on round-off are in units of the quantity: an inverse is found to
the last digits of its argument, which the slope of the forward formula turns into the last digits of the result, thousands of times less than any
reading.
"""

import dataclasses
import importlib.util
import itertools
import math
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import batch, fermentation, instrument, liquid, mash, proofing, still, strength

hypothesis = pytest.importorskip("hypothesis")
uncertainties = pytest.importorskip("uncertainties")

from hypothesis import given  # noqa: E402
from hypothesis import strategies as st  # noqa: E402

SETTINGS: dict[str, Any] = {
    "derandomize": True,
    "deadline": None,
    "database": None,
    "suppress_health_check": list(hypothesis.HealthCheck),
}


def examples(count: int) -> Any:
    return hypothesis.settings(max_examples=count, **SETTINGS)


USUAL = examples(25)
FEW = examples(6)


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high)


SHARE = between(0.0, 1.0)
Range = tuple[float, float]
Function = Callable[..., Any]


def table_of_elementwise() -> dict[str, tuple[Function, tuple[Range, ...]]]:
    path = Path(__file__).with_name("test_elementwise.py")
    spec = importlib.util.spec_from_file_location("elementwise_table", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    found: dict[str, tuple[Function, tuple[Range, ...]]] = module.FUNCTIONS
    return found


WARM = (5.0, 35.0)
HYDROMETER, ALCOHOLOMETER = instrument.Hydrometer(), instrument.Alcoholometer()
PROOF_GLASS, EBULLIOMETER = instrument.Alcoholometer("us_proof"), instrument.Ebulliometer()
BRIX = instrument.Refractometer()
OF_EXTRACT, OF_ABV = instrument.Wash(extract=2.0), instrument.Wash(abv=8.0)


def field(function: Function, name: str, *fixed: Any) -> Function:
    """One figure of a function that gives a record."""
    return lambda *x: getattr(function(*x, *fixed), name)


# Each function of numbers that is not compiled as one, or is not in the other table, with a range of each argument inside which any combination is
# allowed.
MORE: dict[str, tuple[Function, tuple[Range, ...]]] = {
    "sg_from_plato": (liquid.sg_from_plato, ((0.0, 70.0),)),
    "sg_from_plato of 60/60F": (lambda x: liquid.sg_from_plato(x, "60/60F"), ((0.0, 70.0),)),
    "sg_from_plato in air": (lambda x: liquid.sg_from_plato(x, in_air=True), ((0.0, 70.0),)),
    "plato_from_sg": (liquid.plato_from_sg, ((1.0, 1.34),)),
    "plato_from_sg of 15/15": (lambda x: liquid.plato_from_sg(x, "15/15"), ((1.0, 1.34),)),
    "density_from_sg": (liquid.density_from_sg, ((0.8, 1.3),)),
    "sg_from_density": (liquid.sg_from_density, ((800.0, 1300.0),)),
    "convert_sg": (lambda x: liquid.convert_sg(x, "60/60F", "20/4"), ((1.0, 1.34),)),
    "points_from_sg": (liquid.points_from_sg, ((0.9, 1.3),)),
    "sg_from_points": (liquid.sg_from_points, ((-100.0, 300.0),)),
    "azeotrope": (field(liquid.azeotrope, "abw"), ((30.0, 110.0),)),
    **{
        f"abv_from_gravity {method}": (
            lambda og, fg, method=method: strength.abv_from_gravity(og, fg, method),
            ((1.045, 1.06), (1.005, 1.015)),
        )
        for method in strength.METHODS
    },
    "original_gravity_from_abv": (strength.original_gravity_from_abv, ((2.0, 8.0), (1.0, 1.01))),
    "least_final_gravity": (strength.least_final_gravity, ((1.0, 1.13),)),
    "apparent_extract": (strength.apparent_extract, ((0.98, 1.1),)),
    "apparent_attenuation": (strength.apparent_attenuation, ((1.04, 1.06), (1.0, 1.02))),
    "real_attenuation": (strength.real_attenuation, ((1.04, 1.06), (1.0, 1.02))),
    "real_extract": (strength.real_extract, ((1.04, 1.06), (1.0, 1.02))),
    **{
        f"gravity_balance {one.name}": (field(strength.gravity_balance, one.name), ((1.04, 1.06), (1.0, 1.02)))
        for one in dataclasses.fields(strength.FermentedWash)
    },
    "cutaia_q": (strength.cutaia_q, ((9.5, 18.0), (0.0, 7.0))),
    "doemens_q": (strength.doemens_q, ((9.5, 18.0), (0.0, 7.0))),
    "apparent_abv": (proofing.apparent_abv, ((15.0, 60.0), (0.0, 50.0))),
    "abv_of_sweetened": (proofing.abv_of_sweetened, ((15.0, 60.0), (0.0, 50.0))),
    "ventilation_m3_per_h": (fermentation.ventilation_m3_per_h, ((0.0, 500.0), (1000.0, 40000.0))),
    "Hydrometer.reads": (HYDROMETER.reads, ((0.0, 20.0), (0.0, 20.0), WARM)),
    "Hydrometer.correct wort sg": (field(HYDROMETER.correct, "sg"), ((1.01, 1.1), WARM)),
    "Hydrometer.correct wort density": (field(HYDROMETER.correct, "density_at_sample"), ((1.01, 1.1), WARM)),
    "Hydrometer.correct wort extract": (field(HYDROMETER.correct, "extract"), ((1.01, 1.1), WARM)),
    "Hydrometer.correct spirit abw": (field(HYDROMETER.correct, "abw", "spirit"), ((0.83, 0.98), WARM)),
    "Hydrometer.correct wash abw": (field(HYDROMETER.correct, "abw", OF_EXTRACT), ((0.97, 1.0), WARM)),
    "Hydrometer.correct wash extract": (field(HYDROMETER.correct, "extract", OF_ABV), ((1.0, 1.04), WARM)),
    "Alcoholometer.reads": (ALCOHOLOMETER.reads, ((10.0, 90.0), WARM)),
    "Alcoholometer.correct": (ALCOHOLOMETER.correct, ((15.0, 90.0), WARM)),
    "Alcoholometer.correct proof": (PROOF_GLASS.correct, ((30.0, 180.0), WARM)),
    "Refractometer.reads": (BRIX.reads, ((0.0, 20.0), (3.0, 20.0), (10.0, 30.0))),
    "Refractometer.correct wort": (field(BRIX.correct, "brix"), ((2.0, 60.0), (15.0, 30.0))),
    "Refractometer.correct hydrolysate": (
        field(BRIX.correct, "dry_matter", "starch_hydrolysate"),
        ((2.0, 60.0), (20.0, 30.0)),
    ),
    "Refractometer.correct wash": (field(BRIX.correct, "extract", OF_ABV), ((6.0, 20.0), (15.0, 30.0))),
    "Ebulliometer.reads": (EBULLIOMETER.reads, ((0.0, 20.0), (0.0, 10.0), (90.0, 105.0))),
    "Ebulliometer.strength": (field(EBULLIOMETER.strength, "abw"), ((90.0, 99.0), (101.0, 102.0), (0.0, 5.0))),
    "Ebulliometer.strength_against_water": (
        field(EBULLIOMETER.strength_against_water, "abw"),
        ((99.0, 100.5), (90.0, 98.0), (0.0, 5.0)),
    ),
}
TABLE: dict[str, tuple[Function, tuple[Range, ...]]] = {**table_of_elementwise(), **MORE}
NAMES = sorted(TABLE)
COMPILED = [name for name in NAMES if type(TABLE[name][0]).__name__ == "builtin_function_or_method"]


def test_no_function_of_numbers_is_forgotten() -> None:
    names = {name.split()[0] for name in TABLE} | {"gravity_balance"}
    records = {
        "abv_from_boiled_down",
        "abv_from_boiling_point",
        "abv_from_co2_loss",
        "abv_from_distilled_sample",
        "combine",
    }
    records |= {"abv_by_tabarie", "abv_from_hydrometer_and_refractometer"}  # one sample each, a record with its doubt
    public = {
        name
        for module in (liquid, strength)
        for name in module.__all__
        if callable(value := getattr(module, name)) and not isinstance(value, type)
    }
    assert public - records <= names
    methods = {
        f"{kind.__name__}.{name}"
        for kind in (instrument.Hydrometer, instrument.Alcoholometer, instrument.Refractometer, instrument.Ebulliometer)
        for name in ("reads", "correct", "strength", "strength_against_water")
        if hasattr(kind, name)
    }
    assert methods <= names


def at(low: float, high: float, share: float) -> float:
    return min(high, low + share * (high - low))


def arguments(name: str, shares: list[float]) -> list[float]:
    return [at(low, high, share) for (low, high), share in zip(TABLE[name][1], shares, strict=True)]


def shares_of(name: str) -> st.SearchStrategy[list[float]]:
    count = len(TABLE[name][1])
    return st.lists(SHARE, min_size=count, max_size=count)


def same(a: Any, b: Any) -> bool:
    """Bit for bit, NaN like NaN."""
    return bool(np.array_equal(np.asarray(a, np.float64), np.asarray(b, np.float64), equal_nan=True))


# ---- arrays and their numbers ----


@pytest.mark.parametrize("name", NAMES)
def test_nan_in_nan_out_for_every_argument(name: str) -> None:
    function = TABLE[name][0]

    @FEW
    @given(shares_of(name))
    def holds(shares: list[float]) -> None:
        right = arguments(name, shares)
        assert math.isfinite(function(*right))
        for i in range(len(right)):
            x: list[Any] = [*right]
            x[i] = math.nan
            assert math.isnan(function(*x))
            x[i] = [right[i], math.nan, right[i]]
            assert np.isnan(function(*x)).tolist() == [False, True, False]

    holds()


@pytest.fixture
def _set_restored() -> Iterator[None]:
    before = ferment.instruction_set()
    yield
    ferment.use_instruction_set(before)


@pytest.mark.usefixtures("_set_restored")
@pytest.mark.parametrize("name", NAMES)
def test_arrays_are_their_numbers_bit_for_bit_in_every_instruction_set(name: str) -> None:
    function, ranges = TABLE[name]
    sizes = st.lists(st.integers(1, 4), min_size=len(ranges), max_size=len(ranges))

    @FEW
    @given(sizes, st.integers(0, 2**32 - 1))
    def holds(sizes: list[int], seed: int) -> None:
        draw = np.random.default_rng(seed)
        sizes = [size if i < 4 else 1 for i, size in enumerate(sizes)]
        lines = [draw.uniform(low, high, size) for (low, high), size in zip(ranges, sizes, strict=True)]
        axes = np.ix_(*lines)
        for instruction_set in ferment.instruction_sets():
            ferment.use_instruction_set(instruction_set)
            found = function(*axes)
            assert found.shape == tuple(sizes)
            one_by_one = [function(*(float(x) for x in point)) for point in itertools.product(*lines)]
            assert same(np.ravel(found), one_by_one)

    holds()


@pytest.mark.parametrize("name", NAMES)
def test_other_forms_of_the_same_numbers(name: str) -> None:
    function, ranges = TABLE[name]

    @FEW
    @given(shares_of(name))
    def holds(shares: list[float]) -> None:
        right = arguments(name, shares)
        expected = function(*right)
        assert same(function(*map(np.float64, right)), expected)
        assert np.ndim(zero := function(*map(np.array, right))) == 0
        assert same(zero, expected)
        assert same(function(*([x, x] for x in right)), [expected, expected])
        assert same(function(*(((x,),) for x in right)), [[expected]])
        single = [np.float32(x) for x in right]
        if all(low <= float(x) <= high for x, (low, high) in zip(single, ranges, strict=True)):
            assert same(function(*single), function(*map(float, single)))
            assert same(function(*(np.array([x]) for x in single)), [function(*map(float, single))])
        whole = [round(x) for x in right]
        if all(low <= x <= high for x, (low, high) in zip(whole, ranges, strict=True)):
            assert same(function(*whole), function(*map(float, whole)))
            assert same(function(*(np.array([x]) for x in whole)), [function(*map(float, whole))])

    holds()
    for empty in (np.empty(0), np.empty((0, 3)), []):
        found = function(*(empty for _ in ranges))
        assert np.shape(found) == np.shape(empty)


@pytest.mark.parametrize("name", COMPILED)
def test_nan_for_what_is_outside_changes_nothing_elsewhere(name: str) -> None:
    function, ranges = TABLE[name]

    @FEW
    @given(st.lists(shares_of(name), min_size=1, max_size=4), st.data())
    def holds(rows: list[list[float]], data: st.DataObject) -> None:
        right = np.array([arguments(name, row) for row in rows])
        expected = function(*right.T)
        assert same(function(*right.T, out_of_range="nan"), expected)
        bad = right.copy()
        k, i = data.draw(st.integers(0, len(rows) - 1)), data.draw(st.integers(0, len(ranges) - 1))
        bad[k, i] = data.draw(st.sampled_from([-1e9, -math.inf, math.inf]))
        if name in ("density_in_air", "density_in_vacuum") and not math.isinf(bad[k, i]):
            return
        found = function(*bad.T, out_of_range="nan")
        with pytest.raises(ferment.RangeError, match=rf"^element \[{k}\]: "):
            function(*bad.T)
        assert math.isnan(found[k])
        assert same(np.delete(found, k), np.delete(expected, k))

    holds()


# A difference quotient over 1e-4 of the range: its error is of the curvature and the round-off of the function, and of the propagation's own step.
DERIVATIVE = 1e-4


@pytest.mark.parametrize("name", [name for name in MORE if name not in ("azeotrope", "ventilation_m3_per_h")])
def test_uncertainty_goes_by_the_slope(name: str) -> None:
    function, ranges = TABLE[name]
    count = len(ranges)

    @FEW
    @given(st.lists(between(0.1, 0.9), min_size=count, max_size=count))
    def holds(shares: list[float]) -> None:
        x = arguments(name, shares)
        steps = [1e-4 * (high - low) for low, high in ranges]
        given_ = [uncertainties.ufloat(value, step) for value, step in zip(x, steps, strict=True)]
        found = function(*given_)
        value = function(*x)
        if isinstance(found, float):  # what none of them moves
            found = uncertainties.ufloat(found, 1e-300)
        assert found.nominal_value == value
        for i, variable in enumerate(given_):
            up, down = ([*x[:i], x[i] + sign * steps[i], *x[i + 1 :]] for sign in (1.0, -1.0))
            slope = (function(*up) - function(*down)) / (2.0 * steps[i])
            largest = abs(slope) + abs(value) / (ranges[i][1] - ranges[i][0])
            assert abs(found.derivatives.get(variable, 0.0) - slope) <= DERIVATIVE * largest

    holds()


# ---- inverses ----

FULL_T = (0.0, 40.0)


@dataclasses.dataclass(frozen=True)
class Pair:
    """back(forward(x, *rest), *rest) is x."""

    forward: Function
    back: Function
    ranges: tuple[Range, ...]
    within: float


DIGITS = 1e-9  # of %, proof, degC, g/L
PAIRS: dict[str, Pair] = {
    "sucrose density": Pair(liquid.sucrose_density, liquid.extract_from_density, ((0.0, 70.0), (0.0, 80.0)), DIGITS),
    "glucose density": Pair(liquid.glucose_density, liquid.glucose_from_density, ((0.0, 60.0),), DIGITS),
    "extract per litre": Pair(liquid.extract_per_litre, liquid.extract_from_per_litre, ((0.0, 70.0), FULL_T), DIGITS),
    "spirit density": Pair(liquid.spirit_density, liquid.abw_from_density, ((0.0, 100.0), FULL_T), DIGITS),
    "spirit density by volume": Pair(
        liquid.spirit_density_from_abv, liquid.abv_from_density, ((0.0, 100.0), FULL_T), DIGITS
    ),
    "cold spirit": Pair(liquid.spirit_density, liquid.abw_from_density, ((30.0, 99.999), (-20.0, 0.0)), DIGITS),
    "abw": Pair(liquid.abv_from_abw, liquid.abw_from_abv, ((0.0, 100.0),), DIGITS),
    "abv": Pair(liquid.abw_from_abv, liquid.abv_from_abw, ((0.0, 100.0),), DIGITS),
    "proof by volume": Pair(liquid.us_proof_from_abv, liquid.abv_from_us_proof, ((0.0, 100.0),), DIGITS),
    "proof by mass": Pair(liquid.us_proof_from_abw, liquid.abw_from_us_proof, ((0.0, 100.0),), DIGITS),
    "density in air": Pair(liquid.density_in_air, liquid.density_in_vacuum, ((700.0, 1400.0),), DIGITS),
    "wash abv": Pair(liquid.wash_abv, liquid.wash_abw, ((0.0, 60.0), (0.0, 30.0)), DIGITS),
    "wash density, extract": Pair(
        lambda e, w, t: liquid.wash_density(w, e, t), liquid.wash_extract, ((0.01, 30.0), (0.0, 50.0), FULL_T), DIGITS
    ),
    "wash density, abw": Pair(
        liquid.wash_density, liquid.wash_abw_from_density, ((0.01, 50.0), (0.0, 30.0), FULL_T), DIGITS
    ),
    "index of sucrose": Pair(
        liquid.sucrose_refractive_index, liquid.brix_from_refractive_index, ((0.0, 70.0), (10.0, 40.0)), DIGITS
    ),
    "index of glucose": Pair(
        liquid.glucose_refractive_index, liquid.glucose_from_refractive_index, ((0.0, 60.0),), DIGITS
    ),
    "index of hydrolysate": Pair(
        liquid.hydrolysate_refractive_index,
        liquid.hydrolysate_from_refractive_index,
        ((0.0, 66.0), (20.0, 60.0)),
        DIGITS,
    ),
    "index of spirit": Pair(
        liquid.spirit_refractive_index, liquid.abw_from_refractive_index, ((0.0, 50.0), (10.0, 40.0)), DIGITS
    ),
    "index of wash, extract": Pair(
        lambda e, w, t: liquid.wash_refractive_index(w, e, t),
        liquid.wash_extract_from_refractive_index,
        ((0.0, 30.0), (0.0, 15.0), (10.0, 40.0)),
        DIGITS,
    ),
    "index of wash, abw": Pair(
        liquid.wash_refractive_index,
        liquid.wash_abw_from_refractive_index,
        ((0.0, 15.0), (0.0, 30.0), (10.0, 40.0)),
        DIGITS,
    ),
    "vapour": Pair(liquid.vapour_abw, liquid.abw_from_vapour_abw, ((0.0, 90.0), (30.0, 105.0)), 1e-8),
    "altitude": Pair(liquid.pressure_at_altitude, liquid.altitude_of_pressure, ((-100.0, 5000.0),), 1e-7),
    "mole percent": Pair(liquid.mole_percent_from_abw, liquid.abw_from_mole_percent, ((0.0, 100.0),), DIGITS),
    "plato": Pair(liquid.sg_from_plato, liquid.plato_from_sg, ((0.0, 70.0),), DIGITS),
    "gravity": Pair(liquid.density_from_sg, liquid.sg_from_density, ((0.7, 1.4),), 1e-14),
    "points": Pair(liquid.points_from_sg, liquid.sg_from_points, ((0.7, 1.4),), 1e-14),
    "alcoholometer": Pair(ALCOHOLOMETER.reads, ALCOHOLOMETER.correct, ((0.0, 100.0), FULL_T), 1e-8),
    "proof glass": Pair(PROOF_GLASS.reads, PROOF_GLASS.correct, ((0.0, 200.0), FULL_T), 1e-8),
    "ebulliometer": Pair(
        lambda w, p, e: EBULLIOMETER.reads(w, e, p),
        field(EBULLIOMETER.strength, "abw"),
        ((0.0, 30.0), (85.0, 105.0), (0.0, 10.0)),
        1e-8,
    ),
    "original gravity": Pair(
        lambda og, fg: strength.abv_from_gravity(og, fg),
        strength.original_gravity_from_abv,
        ((1.03, 1.13), (1.0, 1.03)),
        1e-11,
    ),
    "obscuration": Pair(proofing.apparent_abv, proofing.abv_of_sweetened, ((1.0, 80.0), (0.0, 500.0)), 1e-8),
    **{
        f"gravity {one} to {other}": Pair(
            lambda x, one=one, other=other: liquid.convert_sg(x, one, other),
            lambda x, one=one, other=other: liquid.convert_sg(x, other, one),
            ((1.0, 1.345),),
            1e-13,  # by way of the extract
        )
        for one, other in itertools.combinations(liquid.REFERENCES, 2)
    },
    **{
        f"plato of {reference}{' in air' if in_air else ''}": Pair(
            lambda x, r=reference, a=in_air: liquid.sg_from_plato(x, r, in_air=a),
            lambda x, r=reference, a=in_air: liquid.plato_from_sg(x, r, in_air=a),
            ((0.0, 70.0),),
            DIGITS,
        )
        for reference in liquid.REFERENCES
        for in_air in (False, True)
    },
    **{
        f"hydrometer {scale} in {what}": Pair(
            lambda x, t, glass=glass, spirit=spirit: glass.reads(x, 0.0, t) if spirit else glass.reads(0.0, x, t),
            field_of_hydrometer,
            ranges,
            1e-8,
        )
        # Without any extract the liquid is the spirit's water, 0.002 kg/m3 from that of the wort.
        for scale in ("sg", "density", "plato")
        for what, spirit, ranges in (("wort", False, ((0.1, 68.0), FULL_T)), ("spirit", True, ((0.0, 100.0), FULL_T)))
        if not (spirit and scale == "plato")  # no such scale floats in spirit
        for glass in (instrument.Hydrometer(scale, 15.0, meniscus=0.001),)
        for field_of_hydrometer in (
            (lambda r, t, glass=glass: glass.correct(r, t, "spirit").abw)
            if spirit
            else (lambda r, t, glass=glass: glass.correct(r, t, "wort").extract),
        )
    },
    **{
        f"refractometer {scale}": Pair(
            lambda x, t, light=light: light.reads(0.0, x, t),
            lambda r, t, light=light: light.correct(r, t).brix,
            ((0.0, 60.0), (10.0, 30.0)),
            1e-8,
        )
        for scale in ("brix", "compensated_brix", "refractive_index")
        for light in (instrument.Refractometer(scale),)
    },
}


@pytest.mark.parametrize("name", PAIRS)
def test_there_and_back(name: str) -> None:
    pair = PAIRS[name]
    tried = 0

    @examples(60)
    @given(st.tuples(*(between(*one) | st.sampled_from(one) for one in pair.ranges)))
    def holds(x: tuple[float, ...]) -> None:
        nonlocal tried
        try:
            y = pair.forward(*x)
        except ferment.RangeError:
            return  # a corner that the other arguments cut off
        try:
            back = pair.back(y, *x[1:])
        except ferment.RangeError:
            # An instrument's scale may end before the liquid does.
            assert "reading" in name or name.split()[0] in (
                "alcoholometer",
                "proof",
                "hydrometer",
                "refractometer",
                "obscuration",
            )
            return
        tried += 1
        assert abs(back - x[0]) <= pair.within

    holds()
    assert tried >= 20


ENDS: dict[str, tuple[Function, Function, float, Range]] = {
    "water": (liquid.sucrose_density, liquid.extract_from_density, 0.0, (0.0, 80.0)),
    "syrup": (liquid.sucrose_density, liquid.extract_from_density, 70.0, (0.0, 80.0)),
    "ethanol": (liquid.spirit_density, liquid.abw_from_density, 100.0, (-20.0, 40.0)),
    "water of spirit": (liquid.spirit_density, liquid.abw_from_density, 0.0, FULL_T),
    "sucrose in light, none": (liquid.sucrose_refractive_index, liquid.brix_from_refractive_index, 0.0, (10.0, 40.0)),
    "sucrose in light, most": (liquid.sucrose_refractive_index, liquid.brix_from_refractive_index, 70.0, (10.0, 40.0)),
}


@pytest.mark.parametrize("name", ENDS)
def test_the_end_of_a_range_comes_back_at_every_temperature(name: str) -> None:
    forward, back, end, temperatures = ENDS[name]
    t = np.random.default_rng(1).uniform(*temperatures, 5000)
    found = back(forward(end, t), t, out_of_range="nan")
    assert np.abs(found - end).max() <= DIGITS  # NaN fails as well
    assert abs(back(forward(end, float(t[0])), float(t[0])) - end) <= DIGITS


# ---- order ----


@dataclasses.dataclass(frozen=True)
class Order:
    """A function that rises (or falls) with one of its arguments."""

    function: Function
    ranges: tuple[Range, ...]
    rises: bool
    argument: int = 0


ORDER: dict[str, Order] = {
    "density of spirit falls with ethanol": Order(liquid.spirit_density, ((0.0, 100.0), FULL_T), False),
    "density of wort rises with extract": Order(liquid.sucrose_density, ((0.0, 70.0), (0.0, 80.0)), True),
    "density of wash falls with ethanol": Order(liquid.wash_density, ((0.1, 50.0), (0.0, 30.0), FULL_T), False),
    "density of wash rises with extract": Order(liquid.wash_density, ((0.0, 50.0), (0.1, 30.0), FULL_T), True, 1),
    "density of warm water falls with temperature": Order(liquid.water_density, ((4.1, 100.0),), False),
    "density of spirit falls with temperature": Order(liquid.spirit_density, ((30.0, 100.0), FULL_T), False, 1),
    "strength by volume rises with that by mass": Order(liquid.abv_from_abw, ((0.0, 100.0),), True),
    "boiling point falls with ethanol": Order(liquid.boiling_point, ((0.0, 80.0), (30.0, 105.0), (0.0, 15.0)), False),
    "boiling point rises with pressure": Order(
        liquid.boiling_point, ((0.0, 80.0), (30.0, 105.0), (0.0, 15.0)), True, 1
    ),
    # Of a wort; in a wash extract in place of water also crowds the ethanol, which brings the boiling point down.
    "boiling point of wort rises with extract": Order(
        liquid.boiling_point, ((0.0, 0.0), (30.0, 105.0), (0.0, 30.0)), True, 2
    ),
    "boiling point of wash falls with extract in place of water": Order(
        liquid.boiling_point, ((4.0, 20.0), (85.0, 105.0), (0.0, 10.0)), False, 2
    ),
    "dew point falls with ethanol": Order(liquid.dew_point, ((0.0, 90.0), (30.0, 105.0)), False),
    "vapour gains with the liquid": Order(liquid.vapour_abw, ((0.0, 80.0), (30.0, 105.0), (0.0, 15.0)), True),
    "volatility falls with ethanol": Order(liquid.relative_volatility, ((0.0, 90.0), (30.0, 105.0), (0.0, 0.0)), False),
    "pressure falls with altitude": Order(liquid.pressure_at_altitude, ((-100.0, 5000.0),), False),
    "index rises with extract": Order(liquid.wash_refractive_index, ((0.0, 30.0), (0.0, 30.0), (10.0, 40.0)), True, 1),
    "index of wash rises with ethanol": Order(
        liquid.wash_refractive_index, ((0.0, 30.0), (0.0, 30.0), (10.0, 40.0)), True
    ),
    "enthalpy rises with temperature": Order(liquid.spirit_enthalpy, ((0.0, 100.0), (0.0, 110.0)), True, 1),
    "heat of evaporation falls with ethanol": Order(liquid.latent_heat, ((0.0, 100.0), (0.0, 110.0)), False),
    "strength rises with original gravity": Order(strength.abv_from_gravity, ((1.04, 1.13), (1.0, 1.02)), True),
    "strength falls with final gravity": Order(strength.abv_from_gravity, ((1.05, 1.13), (0.998, 1.05)), False, 1),
    "attenuation falls with final gravity": Order(
        strength.apparent_attenuation, ((1.05, 1.13), (0.998, 1.05)), False, 1
    ),
    "an alcoholometer reads more in warm spirit": Order(ALCOHOLOMETER.reads, ((15.0, 90.0), WARM), True, 1),
    "sugar hides ethanol": Order(proofing.apparent_abv, ((40.0, 80.0), (0.0, 100.0)), False, 1),
    "more gas needs more air": Order(fermentation.ventilation_m3_per_h, ((0.0, 500.0), (1000.0, 40000.0)), True),
    "a stricter limit needs more air": Order(
        fermentation.ventilation_m3_per_h, ((1.0, 500.0), (1000.0, 40000.0)), False, 1
    ),
    "water rises as the target falls": Order(
        lambda abv, target: proofing.dilute(abv, 10.0, target).water_kg, ((60.0, 96.0), (5.0, 59.0)), False, 1
    ),
    "water rises with strength": Order(
        lambda abv, target: proofing.dilute(abv, 10.0, target).water_kg, ((60.0, 96.0), (5.0, 59.0)), True
    ),
    "more reflux for a stronger distillate": Order(
        lambda pot, over: still.minimum_reflux(pot, over).reflux, ((5.0, 40.0), (82.0, 95.0)), True, 1
    ),
    "more stages for a stronger distillate": Order(still.stages_at_total_reflux, ((5.0, 40.0), (60.0, 95.0)), True, 1),
    "more is left in a pot that stops early": Order(
        lambda abv, end: still.strip(still.Liquid.by_volume(20.0, abv), distillate_abv=end, points=2).ethanol_left,
        ((6.0, 20.0), (1.0, 30.0)),
        True,
        1,
    ),
    "a stronger wash gives stronger low wines": Order(
        lambda abv, end: still.strip(still.Liquid.by_volume(20.0, abv), distillate_abv=end, points=2).low_wines.abv,
        ((6.0, 20.0), (1.0, 30.0)),
        True,
    ),
}
# Of the range: what lies closer together need not differ in its last digits.
APART = 1e-4


@pytest.mark.parametrize("name", ORDER)
def test_order(name: str) -> None:
    order = ORDER[name]
    low, high = order.ranges[order.argument]

    @USUAL
    @given(st.tuples(*(between(*one) for one in order.ranges)), SHARE, SHARE)
    def holds(x: tuple[float, ...], a: float, b: float) -> None:
        hypothesis.assume(abs(a - b) > APART)
        less, more = (
            order.function(*(at(low, high, s) if i == order.argument else y for i, y in enumerate(x)))
            for s in sorted((a, b))
        )
        assert (more > less) if order.rises else (more < less)

    holds()


@USUAL
@given(between(0.01, 99.9), between(30.0, 105.0))
def test_vapour_is_richer_below_the_azeotrope_and_bubble_is_below_dew(abw: float, pressure_kpa: float) -> None:
    azeotrope = liquid.azeotrope(pressure_kpa)
    vapour = liquid.vapour_abw(abw, pressure_kpa)
    hypothesis.assume(abs(abw - azeotrope.abw) > 0.01)
    assert (vapour > abw) == (abw < azeotrope.abw)
    bubble = liquid.boiling_point(abw, pressure_kpa)
    assert bubble <= liquid.dew_point(abw, pressure_kpa)
    assert azeotrope.boiling_c <= bubble
    assert abs(liquid.dew_point(vapour, pressure_kpa) - bubble) <= 1e-6  # the same two phases


GRAINS = st.sampled_from(["wheat", "flaked oats", "barley malt", "flaked barley"])


@USUAL
@given(GRAINS, between(5.0, 30.0), between(0.1, 10.0), between(60.0, 120.0))
def test_more_grain_gives_more_and_heavier(name: str, kg: float, more: float, water: float) -> None:
    less_, more_ = (
        mash.potential(mash.Bill([(name, m)]), water_kg=water, assumptions=fermentation.no_cook())
        for m in (kg, kg + more)
    )
    for one in ("pure_alcohol_l", "extract_kg", "extract", "original_gravity", "co2_kg"):
        assert getattr(more_.expected, one).value > getattr(less_.expected, one).value
    ends = [fermentation.end_point(p) for p in (less_, more_)]
    assert ends[1].abv.value > ends[0].abv.value
    assert ends[1].pure_alcohol_l.value > ends[0].pure_alcohol_l.value


@examples(8)
@given(between(12.0, 32.0), between(0.2, 2.0), st.lists(between(1.0, 400.0), min_size=3, max_size=8))
def test_more_time_more_conversion(temperature_c: float, dose: float, hours: list[float]) -> None:
    potential = mash.potential(
        mash.Bill([("flaked barley", 14.0), ("barley malt", 2.0)]), water_l=60.0, assumptions=fermentation.no_cook()
    )
    where = fermentation.Conditions(temperature_c, fermentation.Ambient.constant(temperature_c))
    course = fermentation.simulate(potential, fermentation.Inoculum(0.02, dose), where, sorted(hours))
    within = 1e-9  # the integrator's own tolerance, in the units of each
    for one in ("conversion", "ethanol_kg", "co2_kg", "co2_lost_kg", "glycerol_kg"):
        assert (np.diff(getattr(course, one)) >= -within * max(1.0, getattr(course, one)[-1])).all(), one
    assert (np.diff(course.starch_kg) <= within * course.starch_kg[0]).all()
    gone_and_kept = course.co2_dissolved_kg + course.co2_lost_kg
    assert np.abs(gone_and_kept - course.co2_kg).max() <= 1e-12 * course.co2_kg[-1] + 1e-15


# ---- blends, dilutions ----

SPIRIT = st.tuples(between(0.0, 96.0), between(0.01, 50.0))
ROUND = 1e-12


def close(a: float, b: float, within: float = ROUND) -> bool:
    return abs(a - b) <= within * max(abs(a), abs(b))


@USUAL
@given(SPIRIT, SPIRIT, SPIRIT)
def test_blends_commute_associate_and_keep_mass_and_ethanol(a: Any, b: Any, c: Any) -> None:
    hypothesis.assume(max(a[0], b[0], c[0]) > 0.1)
    blend = proofing.blend([a, b, c])
    alone = [proofing.blend([one]) for one in (a, b, c)]
    assert close(blend.mass_kg, math.fsum(one.mass_kg for one in alone))
    assert close(blend.ethanol_kg, math.fsum(one.ethanol_kg for one in alone))
    assert abs(blend.contraction_l - (a[1] + b[1] + c[1] - blend.volume_l)) <= 1e-12 * (a[1] + b[1] + c[1])
    for order in itertools.permutations((a, b, c)):
        other = proofing.blend(order)
        assert close(other.volume_l, blend.volume_l)
        assert close(other.abv, blend.abv, 1e-11)
    first = proofing.blend([a, b])
    in_two = proofing.blend([(first.abv, first.volume_l), c])
    assert close(in_two.mass_kg, blend.mass_kg, 1e-11)
    assert close(in_two.ethanol_kg, blend.ethanol_kg, 1e-11)
    assert close(in_two.volume_l, blend.volume_l, 1e-11)


JAR = st.builds(
    still.Jar, between(0.01, 5.0), between(5.0, 95.0), st.sampled_from(["heads", "hearts", "tails", "none"])
)


@USUAL
@given(st.lists(JAR, min_size=2, max_size=6), st.randoms(use_true_random=False))
def test_jars_blend_in_any_order_and_their_fractions_are_the_run(jars: list[still.Jar], random: Any) -> None:
    which = list(range(len(jars)))
    blend = still.blend_jars(jars, which)
    cuts = still.work_out_cuts(jars)
    random.shuffle(which)
    other = still.blend_jars(jars, which)
    for one in ("mass_kg", "ethanol_kg", "volume_l", "abv"):
        assert close(getattr(other, one), getattr(blend, one), 1e-11), one
        assert close(getattr(cuts.total, one), getattr(blend, one), 1e-11), one
    assert close(math.fsum(jar.mass_kg for jar in cuts.jars), blend.mass_kg)
    assert close(math.fsum(jar.ethanol_kg for jar in cuts.jars), blend.ethanol_kg)
    assert close(math.fsum(part.content.mass_kg for part in cuts.fractions), blend.mass_kg)
    assert close(math.fsum(part.content.ethanol_kg for part in cuts.fractions), blend.ethanol_kg)
    assert abs(math.fsum(part.alcohol_share for part in cuts.fractions) - 100.0) <= 1e-10
    spirit = proofing.blend([(jar.abv, jar.volume_l) for jar in jars])
    assert close(spirit.volume_l, blend.volume_l, 1e-11)


@USUAL
@given(between(40.0, 96.0), between(0.1, 0.9), between(0.1, 0.9), between(0.1, 1000.0), between(0.0, 35.0))
def test_diluting_in_two_steps_is_diluting_once(
    abv: float, first: float, second: float, litres: float, t: float
) -> None:
    low, middle = sorted((first * abv, second * abv))
    once = proofing.dilute(abv, litres, low, t)
    one = proofing.dilute(abv, litres, middle, t)
    two = proofing.dilute(middle, one.result.volume_at_temperature_l, low, t)
    assert close(one.water_kg + two.water_kg, once.water_kg, 1e-10)
    assert close(two.result.volume_l, once.result.volume_l, 1e-11)
    assert close(once.result.ethanol_kg, once.spirit.ethanol_kg)
    assert close(once.result.mass_kg, once.spirit.mass_kg + once.water_kg)
    # The other ways to ask for it.
    by_water = proofing.add_water(abv, litres, once.water_kg, t)
    assert close(by_water.result.abv, low, 1e-11)
    by_volume = proofing.dilute_to_volume(abv, low, once.result.volume_l, t)
    assert close(by_volume.water_kg, once.water_kg, 1e-10)
    assert close(by_volume.spirit.volume_at_temperature_l, litres, 1e-11)


@USUAL
@given(between(50.0, 96.0), between(0.1, 100.0), between(15.0, 35.0), between(0.0, 300.0))
def test_sweetened_spirit_keeps_its_ethanol_and_shows_what_it_should(
    abv: float, litres: float, target: float, sugar: float
) -> None:
    made = proofing.sweeten(abv, litres, target, sugar)
    assert close(made.volume_l * target, litres * abv, 1e-11)
    assert close(made.sugar_kg, 1e-3 * sugar * made.volume_l, 1e-11) or sugar == made.sugar_kg == 0.0
    spirit = proofing.blend([(abv, litres)])
    assert close(made.mass_kg, spirit.mass_kg + made.sugar_kg + made.water_kg, 1e-11)
    if math.isfinite(made.apparent_abv):
        assert close(proofing.abv_of_sweetened(made.apparent_abv, sugar), target, 1e-9)
        assert made.apparent_abv <= target * (1.0 + ROUND)


@USUAL
@given(between(20.0, 500.0), between(1.0, 15.0), between(0.0, 6.0), between(10.0, 200.0), between(10.0, 60.0))
def test_charges_are_the_wash(wash_l: float, abv: float, extract: float, boiler_l: float, head_space: float) -> None:
    pot = still.Still(boiler_l, head_space)
    planned = still.charges(wash_l, abv, extract, pot)
    wash = still.Liquid.by_volume(wash_l, abv, extract)
    assert close(planned.count * planned.charge.mass_kg, wash.mass_kg)
    assert close(planned.count * planned.charge.ethanol_kg, wash.ethanol_kg)
    assert planned.charge.volume_l <= planned.usable_l * (1.0 + ROUND)
    if planned.count > 1:  # one fewer would not fit
        assert wash.volume_l / (planned.count - 1) > planned.usable_l * (1.0 - ROUND)
    run = still.strip(planned, pot, distillate_abv=1.0, points=3)
    assert close(run.low_wines.mass_kg + run.pot.mass_kg, planned.charge.mass_kg)
    assert close(run.low_wines.ethanol_kg + run.pot.ethanol_kg, planned.charge.ethanol_kg)


# ---- plans ----

POT = still.Still(60.0, heating_kw=6.0, heat_loss=5.0, heat_loss_w_per_k=4.0, still_heat_kj_per_k=20.0)
REQUEST = batch.PlanRequest(
    [("flaked oats", 20.0), ("wheat", 10.0)],
    110.0,
    POT,
    recycled=batch.Recycled(2.0, 50.0),
    turnaround_h=0.0,
    curve_points=21,
)
COLUMN = REQUEST.changed(
    spirit=batch.SpiritStill(POT, plates=3, hold_up_kg=0.2, take_off=still.TakeOff.at_reflux(1.5), equilibration_h=0.5)
)
HELD_RATE = COLUMN.changed(take_off=still.TakeOff.at_rate(1.0))


def scaled(request: batch.PlanRequest, k: float) -> batch.PlanRequest:
    """So many times as much of everything that has a size."""

    def larger(pot: still.Still) -> still.Still:
        sizes = ("boiler_l", "heating_kw", "heat_loss_w_per_k", "still_heat_kj_per_k")
        return dataclasses.replace(pot, **{name: k * getattr(pot, name) for name in sizes})

    spirit = dataclasses.replace(
        request.spirit,
        still=None if request.spirit.still is None else larger(request.spirit.still),
        hold_up_kg=k * request.spirit.hold_up_kg,
        take_off=dataclasses.replace(request.spirit.take_off, l_per_h=k * request.spirit.take_off.l_per_h),
    )
    return dataclasses.replace(
        request,
        bill=mash.Bill([(grain, k * kg) for grain, kg in request.bill.items]),
        water_kg=k * request.water_kg,
        stripping_still=larger(request.stripping_still),
        recycled=dataclasses.replace(request.recycled, volume_l=k * request.recycled.volume_l),
        spirit=spirit,
    )


def content(liquid_: still.Liquid) -> tuple[float, ...]:
    return (liquid_.mass_kg, liquid_.volume_l, liquid_.ethanol_kg, liquid_.pure_alcohol_l)


def extensive(plan: batch.Plan) -> list[float]:
    parts = [
        plan.strained,
        plan.kept_by_grain,
        plan.recycled,
        plan.low_wines,
        plan.left,
        *(one.content for one in plan.fractions),
    ]
    return [
        *(x for part in parts for x in content(part)),
        plan.end_point.pure_alcohol_l.value,
        plan.water.mash_volume_l.value,
        plan.spirit_water_kg,
        plan.totals.energy_kwh,
        plan.totals.condenser_kwh,
        plan.totals.water_l,
        plan.dilution.water_kg,
        plan.predicted.hearts_l.value,
        plan.predicted.bottled_l.value,
        *(flow.mass_kg for flow in (*plan.inflow, *plan.outflow[:-2])),
        plan.outflow[-2].mass_kg + plan.outflow[-1].mass_kg,  # whole bottles, and the rest
    ]


def intensive(plan: batch.Plan) -> list[float]:
    return [
        plan.strained.abv,
        plan.low_wines.abv,
        plan.end_point.abv.value,
        plan.end_point.gravity.value,
        plan.stripping_charges.count,
        plan.spirit_charges.count,
        plan.stripping.boiling_start_c,
        plan.totals.total_h,
        plan.totals.energy_kwh_per_pure_alcohol_l,
        *(one.alcohol_share for one in plan.fractions),
        *(one.content.abv for one in plan.fractions),
    ]


@pytest.mark.parametrize("request_", [REQUEST, COLUMN, HELD_RATE], ids=["simple", "column", "rate"])
def test_so_many_times_the_plan(request_: batch.PlanRequest) -> None:
    plan = batch.plan(request_)

    @examples(4)
    @given(between(0.2, 20.0))
    def holds(k: float) -> None:
        larger = batch.plan(scaled(request_, k))
        within = 1e-9  # the tolerance of the runs' own integration is 1e-10
        for a, b in zip(extensive(plan), extensive(larger), strict=True):
            assert abs(k * a - b) <= within * max(abs(b), k)
        for a, b in zip(intensive(plan), intensive(larger), strict=True):
            assert abs(a - b) <= within * max(1.0, abs(a))

    holds()


@examples(12)
@given(between(8.0, 40.0), between(2.5, 5.0), between(20.0, 100.0), between(2.0, 20.0), between(0.0, 1.2))
def test_a_plan_and_its_ledger_balance(
    grain_kg: float, water_per_grain: float, boiler_l: float, end: float, absorption: float
) -> None:
    plan = batch.plan(
        bill=[("flaked barley", grain_kg)],
        water_kg=water_per_grain * grain_kg,
        stripping_still=still.Still(boiler_l, heating_kw=4.0),
        stripping_end=batch.StrippingEnd("distillate_abv", end),
        absorption=absorption,
        curve_points=7,
    )
    assert plan.balance_error <= ROUND
    for one in ("mass_kg", "ethanol_kg"):
        into, out = (math.fsum(getattr(flow, one) for flow in flows) for flows in (plan.inflow, plan.outflow))
        assert close(into, out)
    charged = plan.stripping_charges.count * plan.stripping_charges.charge.mass_kg
    assert close(charged, plan.strained.mass_kg)
    hearts = plan.fraction("hearts").content
    assert close(plan.dilution.result.pure_alcohol_l, hearts.pure_alcohol_l, 1e-11)
    over = math.fsum(one.content.ethanol_kg for one in plan.fractions)
    assert close(over, plan.spirit_charges.count * plan.spirit_run.distillate_ethanol_kg, 1e-11)
    ledger = plan.ledger().measure("hearts", 0.9 * hearts.pure_alcohol_l)
    balance = ledger.balance()
    assert abs(balance.difference_l.value) <= ROUND * balance.start_l.value

"""The C library against the Python package: one interface, the same figures and messages.

FERMENT_C_LIBRARY names the shared library; without it, build/c_interface is built, which takes a minute.
"""

import ctypes
import inspect
import math
import os
import re
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import batch, fermentation, instrument, liquid, mash, proofing, still, strength

ROOT = Path(__file__).resolve().parents[2]
HEADER = ROOT / "libferment/include/ferment/c.h"
BUILT = ROOT / "build/c_interface"
GIVEN = os.environ.get("FERMENT_C_LIBRARY")

pytestmark = [] if GIVEN else pytest.mark.slow

OK, OUT_OF_RANGE, BAD_INPUT, NO_SOLUTION = range(4)
STATUS_OF = {ferment.RangeError: OUT_OF_RANGE, ferment.InputError: BAD_INPUT, ferment.SolveError: NO_SOLUTION}
RELATIVE = 1e-12  # percent is divided by 100 on one side and multiplied by 0.01 on the other


# ---- the header, read as text ----


def _header() -> str:
    return re.sub(r"/\*.*?\*/", "", HEADER.read_text(encoding="utf-8"), flags=re.DOTALL)


def _constants(text: str) -> dict[str, int]:
    found = {name: int(value) for name, value in re.findall(r"#define (FERMENT_[A-Z0-9_]+) (\d+)\s", text)}
    return found | {name: int(value) for name, value in re.findall(r"(FERMENT_\w+) = (\d+)", text)}


def _structs(text: str, constants: dict[str, int]) -> dict[str, type[ctypes.Structure]]:
    plain = {"double": ctypes.c_double, "size_t": ctypes.c_size_t, "int64_t": ctypes.c_int64}
    found: dict[str, type[ctypes.Structure]] = {}
    for name, body in re.findall(r"struct (\w+) \{(.*?)\};", text, flags=re.DOTALL):
        fields: list[tuple[str, Any]] = []
        for line in filter(None, (line.strip() for line in body.split(";"))):
            kind, pointer, field, length = re.fullmatch(
                r"(?:const )?(?:struct )?(\w+)(\s*\*)?\s*(\w+)(?:\[(\w+)\])?", line
            ).groups()  # type: ignore[union-attr] # a line that does not fit fails here
            of = plain.get(kind) or found[kind]
            fields.append((field, ctypes.POINTER(of) if pointer else of * constants[length] if length else of))
        found[name] = type(name, (ctypes.Structure,), {"_fields_": fields})
    return found


TEXT = _header()
C = _constants(TEXT)
STRUCTS = _structs(TEXT, C)
#: Name, inputs and options of every function whose result is one number.
NUMBERS = [
    (name, inputs.split(", ")[: int(count)], inputs.split(", ")[int(count) : -1])
    for count, name, inputs in re.findall(
        r"^FERMENT_(\d)(?:_WITH_\d)?\(ferment_(\w+), (.*)\);", TEXT, flags=re.MULTILINE
    )
]
ALL_FUNCTIONS = {f"ferment_{name}{suffix}" for name, *_ in NUMBERS for suffix in ("", "_array")} | set(
    re.findall(r"FERMENT_API [^(]*?\b(ferment_\w+)\(", TEXT)
)


@pytest.fixture(scope="session")
def library() -> ctypes.CDLL:
    if GIVEN:
        path = Path(GIVEN)
    else:
        options = ("-DLIBFERMENT_TESTS=OFF", "-DLIBFERMENT_C=ON", "-DCMAKE_BUILD_TYPE=Release")
        for command in (["cmake", "-S", ROOT, "-B", BUILT, *options], ["cmake", "--build", BUILT]):
            subprocess.run(command, check=True, capture_output=True)
        path = BUILT / "libferment/libferment.so"
    found = ctypes.CDLL(str(path))
    found.ferment_last_error.restype = ctypes.c_char_p
    found.ferment_version.restype = ctypes.c_char_p
    found.ferment_cautions.restype = ctypes.c_char_p
    for name in ("bill", "fermentation", "forecast", "check", "plan"):
        getattr(found, f"ferment_{name}_destroy").restype = None
    return found


def new(name: str) -> Any:
    made = STRUCTS[f"ferment_{name}"]()
    made.size = ctypes.sizeof(made)
    return made


def usual(library: ctypes.CDLL, name: str, **values: Any) -> Any:
    made = STRUCTS[f"ferment_{name}"]()
    init = getattr(library, f"ferment_{name}_init")
    assert init(ctypes.byref(made), ctypes.c_size_t(ctypes.sizeof(made))) == OK
    for field, value in values.items():
        setattr(made, field, value)
    return made


def _argument(x: Any) -> Any:
    if isinstance(x, float):
        return ctypes.c_double(x)
    if isinstance(x, np.ndarray):
        return x.ctypes.data_as(ctypes.POINTER(ctypes.c_double))
    return ctypes.byref(x) if isinstance(x, ctypes.Structure | ctypes._SimpleCData | ctypes._Pointer) else x


def call(library: ctypes.CDLL, name: str, *arguments: Any) -> int:
    """Calls a function: floats as double, ints as int, size_t as they are, structs and results by their address."""
    return int(getattr(library, f"ferment_{name}")(*(_argument(x) for x in arguments)))


def must(library: ctypes.CDLL, name: str, *arguments: Any) -> None:
    status = call(library, name, *arguments)
    assert status == OK, library.ferment_last_error()


def size(n: int) -> Any:
    return _Size(n)


class _Size(int):
    """An int that is passed as size_t."""

    @property
    def _as_parameter_(self) -> ctypes.c_size_t:
        return ctypes.c_size_t(self)


def error(library: ctypes.CDLL) -> str:
    return str(library.ferment_last_error().decode())


def close(a: float, b: float, relative: float = RELATIVE) -> bool:
    return (math.isnan(a) and math.isnan(b)) or a == b or abs(a - b) <= relative * max(abs(a), abs(b))


# ---- numbers in, one number out ----

#: The Python function where it is not the one of that name in liquid or proofing.
ELSEWHERE: dict[str, Callable[..., Any]] = {
    "azeotrope_c": lambda pressure_kpa: liquid.azeotrope(pressure_kpa).boiling_c,
    "azeotrope_abw": lambda pressure_kpa: liquid.azeotrope(pressure_kpa).abw,
    "alcoholometer_abv": lambda reading, temperature_c, glass_expansion: instrument.Alcoholometer(
        "abv", glass_expansion
    ).correct(reading, temperature_c),
    "alcoholometer_us_proof": lambda reading, temperature_c, glass_expansion: instrument.Alcoholometer(
        "us_proof", glass_expansion
    ).correct(reading, temperature_c),
    "alcoholometer_reads_abv": lambda abv, temperature_c, glass_expansion: instrument.Alcoholometer(
        "abv", glass_expansion
    ).reads(abv, temperature_c),
    "alcoholometer_reads_us_proof": lambda us_proof, temperature_c, glass_expansion: instrument.Alcoholometer(
        "us_proof", glass_expansion
    ).reads(us_proof, temperature_c),
}
#: Two points in the range and, where there is one, a point outside.
USUAL = {
    "temperature_c": (20.0, 27.5, 200.0),
    "abw": (6.0, 33.3, 101.0),
    "abv": (8.0, 40.0, 101.0),
    "extract": (2.0, 12.0, 99.0),
    "dry_matter": (2.0, 12.0, 99.0),
    "brix": (2.0, 12.0, 99.0),
    "plato": (2.0, 12.0, 99.0),
    "pressure_kpa": (101.325, 95.0, 300.0),
    "us_proof": (16.0, 100.0, 201.0),
    "density": (1003.0, 1004.0, 3000.0),
    "sg": (1.048, 1.1, 9.0),
    "gravity": (1.048, 0.996, 9.0),
    "points": (48.0, -4.0, 0.0),
    "refractive_index": (1.345, 1.346, 1.9),
    "vapour_abw": (50.0, 70.0, 101.0),
    "extract_g_l": (50.0, 120.0, -1.0),
    "mole_percent": (3.0, 50.0, 101.0),
    "sugar_g_per_l": (20.0, 100.0, 900.0),
    "apparent_abv": (30.0, 35.0, 101.0),
    "altitude_m": (0.0, 800.0, 20000.0),
    "sea_level_kpa": (101.0, 99.0, 10.0),
    "co2_l_per_h": (5.0, 20.0, -1.0),
    "limit_ppm": (5000.0, 10000.0, 1.0),
    "original_gravity": (1.055, 1.048, 1.2),
    "final_gravity": (1.002, 1.010, 1.1),
    "reading": (40.0, 67.2, 999.0),
    "glass_expansion": (25e-6, 0.0, 1.0),
}
POINTS: dict[str, dict[str, tuple[float, ...]]] = {
    "abw_from_density": {"density": (950.0, 980.0, 3000.0)},
    "abv_from_density": {"density": (950.0, 980.0, 3000.0)},
    "extract_from_density": {"density": (1040.0, 1080.0, 3000.0)},
    "glucose_from_density": {"density": (1040.0, 1080.0, 3000.0)},
    "wash_extract": {"abw": (6.0, 7.0, 101.0), "density": (1000.0, 1003.0, 3000.0)},
    "wash_abw_from_density": {"extract": (5.0, 8.0, 99.0), "density": (1010.0, 1015.0, 3000.0)},
    "wash_extract_from_refractive_index": {"abw": (2.0, 4.0, 101.0)},
    "wash_abw_from_refractive_index": {"extract": (2.0, 4.0, 99.0)},
    "ethanol_vapour_pressure": {"temperature_c": (20.0, 78.0, 900.0)},
    "water_vapour_pressure": {"temperature_c": (20.0, 100.0, 900.0)},
    "original_gravity_from_abv": {"abv": (8.0, 6.0, 90.0)},
}
OPTIONS: dict[str, list[dict[str, Any]]] = {
    "reference": [{"reference": name} for name in liquid.REFERENCES],
    "in_air": [{"in_air": value} for value in (False, True)],
    "method": [{"method": name} for name in strength.METHODS],
}
CODES: dict[str, Callable[[Any], int]] = {
    "reference": list(liquid.REFERENCES).index,
    "in_air": int,
    "method": list(strength.METHODS).index,
}


def python_function(name: str) -> Callable[..., Any]:
    for module in (liquid, proofing, strength, fermentation):
        if hasattr(module, name):
            return getattr(module, name)  # type: ignore[no-any-return] # one of ours
    return ELSEWHERE[name]


def argument_names(function: Callable[..., Any]) -> list[str]:
    if inspect.isbuiltin(function):  # compiled ones say it in the first line of their documentation
        assert function.__doc__ is not None
        arguments = re.match(r"\w+\((.*)\)", function.__doc__)
        assert arguments is not None
        return [argument.partition("=")[0] for argument in arguments[1].split(", ")]
    return list(inspect.signature(function).parameters)


@pytest.mark.parametrize(("name", "inputs", "options"), [pytest.param(*row, id=row[0]) for row in NUMBERS])
def test_numbers(library: ctypes.CDLL, name: str, inputs: list[str], options: list[str]) -> None:
    function = python_function(name)
    assert argument_names(function)[: len(inputs)] == inputs
    points = [POINTS.get(name, {}).get(x) or USUAL[x] for x in inputs]
    choices: list[dict[str, Any]] = [{}]
    for option in options:
        choices = [given | more for given in choices for more in OPTIONS[option]]
    result = ctypes.c_double()
    for given in choices:
        codes = [CODES[option](given[option]) for option in options]
        rows = [[p[0] for p in points], [p[1] for p in points]]
        expected = [float(function(*row, **given)) for row in rows]
        for row, value in zip(rows, expected, strict=True):
            must(library, name, *row, *codes, result)
            assert close(result.value, value), (given, row)
        columns = [np.array(column) for column in zip(*rows, strict=True)]
        results = np.full(2, -1.0)
        must(library, f"{name}_array", size(2), *columns, *codes, 0, results, None)
        assert all(close(a, b) for a, b in zip(results, expected, strict=True))
        must(library, name, math.nan, *rows[0][1:], *codes, result)
        assert math.isnan(result.value)
        if name in ("points_from_sg", "sg_from_points"):
            continue
        row = [points[0][2], *rows[0][1:]]
        with pytest.raises(ferment.Error) as raised:
            function(*row, **given)
        result.value = -1.0
        assert call(library, name, *row, *codes, result) == STATUS_OF[type(raised.value)]
        assert error(library) == str(raised.value)
        assert result.value == -1.0


def test_array_out_of_range(library: ctypes.CDLL) -> None:
    abw = np.array([10.0, 20.0, 300.0])
    temperature = np.full(3, 20.0)
    out = np.full(3, -1.0)
    first_bad = ctypes.c_size_t()
    with pytest.raises(ferment.RangeError) as raised:
        liquid.spirit_density(abw, temperature)
    assert call(library, "spirit_density_array", size(3), abw, temperature, 0, out, first_bad) == OUT_OF_RANGE
    assert error(library) == str(raised.value)
    assert first_bad.value == 2
    assert (out == -1.0).all()
    must(library, "spirit_density_array", size(3), abw, temperature, 1, out, first_bad)
    assert np.allclose(out, liquid.spirit_density(abw, temperature, out_of_range="nan"), rtol=RELATIVE, equal_nan=True)


# ---- the rest ----


def same(c: ctypes.Structure, python: Any, relative: float = RELATIVE, **names: str) -> None:
    """Every field of a C result that the Python record has, under its own name or the one given."""
    compared = 0
    for field, _ in c._fields_:
        value = getattr(c, field)
        expected = getattr(python, names.get(field, field), None)
        if field == "size" or expected is None:
            continue
        compared += 1
        if isinstance(value, ctypes.Structure) and hasattr(value, "standard_uncertainty"):
            assert close(value.value, expected.value, relative), field
            assert close(value.standard_uncertainty, expected.standard_uncertainty, max(relative, 1e-9)), field
        elif isinstance(value, ctypes.Structure):
            same(value, expected, relative)
        elif isinstance(value, ctypes.Array):
            quantiles = [getattr(expected, q) for q in ("p5", "p25", "p50", "p75", "p95")]
            assert all(close(a, b, relative) for a, b in zip(value, quantiles, strict=True)), field
        else:  # a loss of none is one of round-off
            assert close(float(value), float(expected), relative) or abs(value - expected) <= 1e-12, field
    assert compared > 0


def test_instruments(library: ctypes.CDLL) -> None:
    glass = usual(library, "hydrometer", calibration_c=15.0)
    found = new("hydrometer_reading")
    hydrometer = instrument.Hydrometer("sg", calibration_c=15.0)
    for code, sample, reading in (
        ("FERMENT_WORT", "wort", 1.048),
        ("FERMENT_SPIRIT", "spirit", 0.97),
        ("FERMENT_WASH_OF_ABV", instrument.Wash(abv=5.0), 1.012),
        ("FERMENT_WASH_OF_EXTRACT", instrument.Wash(extract=5.0), 1.012),
    ):
        must(library, "hydrometer_correct", glass, reading, 24.0, C[code], 5.0, found)
        same(found, hydrometer.correct(reading, 24.0, sample))
    with pytest.raises(ferment.RangeError) as raised:
        hydrometer.correct(0.9, 24.0)
    assert call(library, "hydrometer_correct", glass, 0.9, 24.0, C["FERMENT_WORT"], 0.0, found) == OUT_OF_RANGE
    assert error(library) == str(raised.value)
    lens = usual(library, "refractometer")
    wort = new("refracted_wort")
    must(library, "refractometer_correct_wort", lens, 14.0, 23.0, C["FERMENT_STARCH_HYDROLYSATE"], wort)
    same(wort, instrument.Refractometer().correct(14.0, 23.0, "starch_hydrolysate"))
    wash = new("refracted_wash")
    must(library, "refractometer_correct_wash", lens, 6.0, 23.0, C["FERMENT_WASH_OF_ABV"], 3.0, wash)
    same(wash, instrument.Refractometer().correct(6.0, 23.0, instrument.Wash(abv=3.0)))


def test_strength(library: ctypes.CDLL) -> None:
    wash = new("fermented_wash")
    must(library, "gravity_balance", 1.061, 0.997, 0, wash)
    same(wash, strength.gravity_balance(1.061, 0.997))
    found = new("found_strength")
    must(library, "abv_from_hydrometer_and_brix", 0.9972, 0.0005, 4.9, 0.1, found)
    same(found, strength.abv_from_hydrometer_and_refractometer((0.9972, 0.0005), brix=(4.9, 0.1)))


def test_proofing(library: ctypes.CDLL) -> None:
    reduced = new("dilution")
    must(library, "dilute", 68.0, 7.0, 40.0, 11.0, 8.0, reduced)
    expected = proofing.dilute(abv=68.0, volume_l=7.0, target_abv=40.0, temperature_c=11.0, water_temperature_c=8.0)
    same(reduced, expected)
    same(reduced.result, expected.result)
    filled = new("bottling")
    must(library, "bottles", 40.0, 12.0, 0.7, 20.0, 15.0, filled)
    same(filled, proofing.bottles(40.0, 12.0, bottle_l=0.7, filling_temperature_c=15.0))
    with pytest.raises(ferment.RangeError) as raised:
        proofing.dilute(abv=40.0, volume_l=7.0, target_abv=68.0)
    assert call(library, "dilute", 40.0, 7.0, 68.0, 20.0, 20.0, reduced) == OUT_OF_RANGE
    assert error(library) == str(raised.value)


GRIST = [("flaked barley", 14.0), ("flaked rye", 4.0), ("barley malt", 1.5)]


@pytest.fixture
def bill(library: ctypes.CDLL) -> Any:
    made = ctypes.c_void_p()
    must(library, "bill_create", made)
    for name, kg in GRIST:
        must(library, "bill_add", _Handle(made), name.encode(), kg)
    yield _Handle(made)
    library.ferment_bill_destroy(made)


class _Handle:
    """An opaque pointer, passed as it is."""

    def __init__(self, pointer: ctypes.c_void_p) -> None:
        self._as_parameter_ = ctypes.c_void_p(pointer.value)


def test_grain(library: ctypes.CDLL, bill: Any) -> None:
    assumed = usual(library, "assumptions")
    plan = mash.potential(mash.Bill(GRIST), water_kg=72.0, assumptions=fermentation.no_cook())
    found = new("yield")
    must(library, "potential", bill, 72.0, assumed, C["FERMENT_EXPECTED"], found)
    same(found, plan.expected)
    must(library, "potential", bill, 72.0, assumed, C["FERMENT_THEORETICAL"], found)
    same(found, plan.theoretical)
    end = new("finished_wash")
    must(library, "end_point", bill, 72.0, assumed, end)
    same(end, fermentation.end_point(plan))
    with pytest.raises(ferment.InputError) as raised:
        mash.grain("flaked barly")
    assert call(library, "bill_add", bill, b"flaked barly", 1.0) == BAD_INPUT
    assert error(library) == str(raised.value)
    count = ctypes.c_size_t()
    must(library, "grain_count", count)
    names = set()
    for i in range(count.value):
        name = ctypes.c_char_p()
        must(library, "grain_name", size(i), name)
        assert name.value is not None
        names.add(name.value.decode())
    assert names == set(mash.grain_names())


def test_fermentation(library: ctypes.CDLL, bill: Any) -> None:
    assumed = usual(library, "assumptions")
    shed = usual(library, "conditions", yeast_kg=0.020, mash_c=14.0, ambient_c=21.0, ambient_swing_c=3.0)
    made = ctypes.c_void_p()
    must(library, "fermentation_create", bill, 72.0, assumed, shed, made)
    lot = _Handle(made)
    plan = mash.potential(mash.Bill(GRIST), water_kg=72.0, assumptions=fermentation.no_cook())
    pitched = fermentation.Inoculum(yeast_kg=0.020)
    around = fermentation.Conditions(mash_c=14.0, ambient=fermentation.Ambient.day_night(21.0, swing_c=3.0))
    relative = 1e-6  # a step of the solver may hang on the last digit of a share

    hours = np.array([0.0, 48.0, 120.0, 336.0])
    expected = fermentation.forecast(plan, pitched, around, times_h=hours, members=40, seed=2)
    handle = ctypes.c_void_p()
    seed = ctypes.c_uint64(2)
    assert (
        library.ferment_forecast_create(
            lot,
            ctypes.c_size_t(4),
            _argument(hours),
            ctypes.c_size_t(0),
            None,
            ctypes.c_size_t(40),
            seed,
            ctypes.byref(handle),
        )
        == OK
    ), error(library)
    values = np.zeros(20)
    for i, quantity in enumerate(("gravity", "abv", "temperature_c", "conversion", "co2_lost_kg", "co2_l_per_h")):
        must(library, "forecast_quantiles", _Handle(handle), i, size(20), values)
        band = getattr(expected, quantity)
        assert np.allclose(values.reshape(4, 5), band, rtol=relative, atol=relative), quantity
    library.ferment_forecast_destroy(handle)

    day_5 = usual(library, "reading", time_h=120.0)
    day_5.gravity = (1.0129, 0.0005)
    day_5.temperature_c = (24.0, 0.5)
    check = ctypes.c_void_p()
    assert (
        library.ferment_check_create(
            lot, ctypes.c_size_t(1), ctypes.byref(day_5), ctypes.c_size_t(60), ctypes.c_uint64(1), ctypes.byref(check)
        )
        == OK
    ), error(library)
    found = new("check_summary")
    must(library, "check_get", _Handle(check), found)
    answer = fermentation.check(
        plan,
        pitched,
        around,
        [fermentation.Reading(120.0, gravity=(1.0129, 0.0005), temperature_c=(24.0, 0.5))],
        members=60,
    )
    for field in ("conversion", "abv", "gravity", "days_to_finish", "end_gravity", "end_abv"):
        spread = getattr(answer, field)
        quantiles = [getattr(spread, q) for q in ("p5", "p25", "p50", "p75", "p95")]
        assert np.allclose(list(getattr(found, field)), quantiles, rtol=1e-5, atol=1e-5), field
    text = ctypes.c_char_p()
    for code, name, kind in ((found.stands, answer.stands, "standing"), (found.because, answer.because, "cause")):
        must(library, f"{kind}_text", int(code), text)
        assert text.value == str(name).encode()
    must(library, "check_says", _Handle(check), text)
    assert text.value == answer.says.encode()
    library.ferment_check_destroy(check)
    library.ferment_fermentation_destroy(made)


def test_still_and_plan(library: ctypes.CDLL, bill: Any) -> None:
    setup = still.Still(boiler_l=30.0, heating_kw=3.0)
    c_still = usual(library, "still", boiler_l=30.0, heating_kw=3.0)
    charges = new("charge_plan")
    must(library, "charges", c_still, 70.0, 8.0, 2.0, 1.0, 30.0, charges)
    same(charges, still.charges(70.0, 8.0, 2.0, setup, reserve_l=1.0, reserve_abv=30.0))
    run = usual(library, "run", points=51)
    stripped = new("stripping")
    must(library, "strip", c_still, 20.0, 8.0, 2.0, run, stripped)
    expected = still.strip(still.Liquid.by_volume(20.0, 8.0, 2.0), setup, distillate_abv=5.0)
    same(stripped, expected, 1e-11)
    same(stripped, still.stripping_duty(expected, setup), 1e-9)

    assumed = usual(library, "assumptions")
    request = usual(library, "plan_request", water_kg=72.0, stripping_still=ctypes.pointer(c_still))
    made = ctypes.c_void_p()
    must(library, "plan_create", bill, assumed, request, made)
    plan = batch.plan(bill=mash.Bill(GRIST), water_kg=72.0, stripping_still=setup)
    sums = new("plan_summary")
    must(library, "plan_get", _Handle(made), sums)
    same(sums, plan.predicted, 1e-9, bottles="whole", bottles_predicted="bottles")
    for field in ("energy_kwh", "condenser_kwh", "water_l", "running_h", "turnaround_h", "total_h"):
        assert close(getattr(sums, field), getattr(plan.totals, field), 1e-9), field
    assert sums.bottles == plan.bottling.bottles
    fraction = new("fraction")
    for name in ("fore_shots", "heads", "hearts", "tails"):
        must(library, "plan_fraction", _Handle(made), C[f"FERMENT_{name.upper()}"], fraction)
        same(fraction, plan.fraction(name), 1e-9)
    sheet = ctypes.c_char_p()
    must(library, "plan_sheet", _Handle(made), sheet)
    assert sheet.value is not None
    assert sheet.value.decode() == plan.sheet()
    library.ferment_plan_destroy(made)
    assert library.ferment_cautions().decode() == still.CAUTIONS


def test_versions(library: ctypes.CDLL) -> None:
    assert library.ferment_version().decode() == ferment.__version__
    assert library.ferment_interface_version() == C["FERMENT_INTERFACE_VERSION"]


def test_exports(library: ctypes.CDLL) -> None:
    """The library shows what the header declares, and nothing else."""
    listed = subprocess.run(
        ["nm", "-D", "--defined-only", library._name], capture_output=True, text=True, check=True
    ).stdout.split("\n")
    symbols = [line.split() for line in listed if line]
    assert {name.partition("@")[0] for _, kind, name in symbols if kind != "A"} == ALL_FUNCTIONS
    assert {kind for _, kind, _ in symbols} <= {"A", "T"}


def test_layout() -> None:
    """What the header says of every struct is what was recorded of this version of the interface."""
    if ctypes.sizeof(ctypes.c_void_p) != 8:
        pytest.skip("recorded for machines of 64 bits")
    record = ROOT / f"tests/cpp/c/interface_{C['FERMENT_INTERFACE_VERSION']}.txt"
    recorded = {
        line for line in record.read_text(encoding="utf-8").splitlines() if not line.startswith(("#", "function"))
    }
    found = set()
    for name, kind in STRUCTS.items():
        found.add(f"struct {name} {ctypes.sizeof(kind)}")
        for field, _ in kind._fields_:
            place = getattr(kind, field)
            found.add(f"field {name}.{field} {place.offset} {place.size}")
    assert found == recorded
    functions = {line for line in record.read_text(encoding="utf-8").splitlines() if line.startswith("function")}
    assert functions == {f"function {name}" for name in ALL_FUNCTIONS}

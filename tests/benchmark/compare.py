"""How fast the library is beside what one would use without it: NumPy, SciPy and CoolProp, in one run on one core.

    python tests/benchmark/compare.py [--write]

Prints a table with times and ratios; --write puts it into docs/speed.md. Needs the package with its extra `test`, and g++ for the limit. Every pair of
values is compared before it is timed. Nothing here is asserted: times differ between machines, and with what else runs on one.
"""

import argparse
import math
import os
import platform
import subprocess
import sys
import tempfile
import timeit
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import ferment
import numpy as np
import numpy.typing as npt
from CoolProp.CoolProp import PropsSI
from ferment import batch, fermentation, instrument, liquid, mash, still, strength
from scipy.optimize import brentq

ROOT = Path(__file__).parents[2]
DOCUMENT = ROOT / "docs" / "speed.md"
BEGIN, END = "<!-- begin: table -->", "<!-- end: table -->"
ELEMENTS = 1_000_000
FEW = 200  # elements that brentq is timed on
SECOND_NS = 1e9
SCALAR_CALLS = 200_000

Array = npt.NDArray[np.float64]


class Row(NamedTuple):
    what: str
    ours_ns: float
    other: str
    other_ns: float
    asked: str = ""

    def ratio(self) -> float:
        return self.other_ns / self.ours_ns


def per_element(work: Callable[[], object], elements: int, repeats: int = 7) -> float:
    """Nanoseconds per element, the best of some repeats."""
    return min(timeit.repeat(work, number=1, repeat=repeats)) / elements * SECOND_NS


def per_call(work: Callable[[], object], calls: int = SCALAR_CALLS) -> float:
    return min(timeit.repeat(work, number=calls, repeat=5)) / calls * SECOND_NS


# The general formula as a user of NumPy would write it down: the printed coefficients, Horner's rule, whole arrays.
def _coefficients() -> tuple[list[float], list[float], list[list[float]]]:
    rows: dict[str, list[float]] = {}
    for line in (ROOT / "tests/reference/ethanol_water/coefficients.csv").read_text().splitlines():
        if line[:1] in {"A", "B", "C"} and line.count(",") >= 4:
            letter, power, _, value, *_ = line.split(",")
            rows.setdefault(letter + power, []).append(float(value))
    return rows["A"], rows["B"], [rows[f"C{k}"] for k in range(1, 6)]


A, B, C = _coefficients()


def horner(c: list[float], x: Array | float) -> Array | float:
    y: Array | float = c[-1]
    for one in reversed(c[:-1]):
        y = y * x + one
    return y


def numpy_density(abw: Array | float, temperature_c: Array | float) -> Array | float:
    p = abw / 100.0
    d = temperature_c - 20.0
    sums = [b + p * horner(c, p) for b, c in zip(B, C, strict=False)]
    y: Array | float = B[5]
    for one in reversed(sums):
        y = y * d + one
    return horner(A, p) + d * y


def limit() -> tuple[float, float]:
    """The loop alone in C++, compiled for this processor: in the cache, and on a million elements."""
    with tempfile.TemporaryDirectory() as folder:
        program = Path(folder) / "limit"
        flags = ["-std=c++20", "-O3", "-march=native", "-fno-math-errno", "-fno-trapping-math"]
        if "avx512f" in Path("/proc/cpuinfo").read_text():
            flags.append("-mprefer-vector-width=512")
        source = ROOT / "tests/benchmark/limit/spirit_loop.cpp"
        subprocess.run(["g++", *flags, f"-I{ROOT / 'libferment/include'}", str(source), "-o", str(program)], check=True)
        inside, outside = subprocess.run([str(program)], check=True, capture_output=True, text=True).stdout.split()
    return float(inside), float(outside)


def by_brentq(function: Callable[[float], float], lower: float, upper: float) -> float:
    return float(brentq(function, lower, upper, xtol=1e-13, rtol=1e-15))


def spirits() -> list[Row]:
    generator = np.random.default_rng(1)
    abw, warm = generator.uniform(0.0, 100.0, ELEMENTS), generator.uniform(0.0, 40.0, ELEMENTS)
    rho = liquid.spirit_density(abw, warm)
    np.testing.assert_allclose(rho, numpy_density(abw, warm), rtol=1e-11)
    forward = per_element(lambda: liquid.spirit_density(abw, warm, out=rho), ELEMENTS)
    in_cache, out_of_cache = limit()
    rows = [
        Row(
            "spirit density, 1e6",
            forward,
            "NumPy, Horner",
            per_element(lambda: numpy_density(abw, warm), ELEMENTS, 3),
            ">= 40",
        ),
        Row("the same", forward, "C++ loop for this processor, 1e6", out_of_cache, ">= 0.67"),
        Row("the same", forward, "C++ loop, in the cache", in_cache),
    ]
    expected = [by_brentq(lambda p, i=i: float(numpy_density(p, warm[i])) - rho[i], 0.0, 100.0) for i in range(FEW)]
    np.testing.assert_allclose(liquid.abw_from_density(rho[:FEW], warm[:FEW]), expected, atol=1e-9)
    searched = per_element(
        lambda: [by_brentq(lambda p, i=i: float(numpy_density(p, warm[i])) - rho[i], 0.0, 100.0) for i in range(FEW)],
        FEW,
        3,
    )
    inverse = per_element(lambda: liquid.abw_from_density(rho, warm), ELEMENTS)
    rows += [
        Row("% mass from density, 1e6", inverse, "brentq on the same formula", searched, ">= 1000"),
        Row("the same", inverse, "the forward formula", forward, ">= 0.125"),
        Row(
            "% vol from density, 1e6",
            per_element(lambda: liquid.abv_from_density(rho, warm), ELEMENTS),
            "brentq",
            searched,
            ">= 1000",
        ),
    ]
    return rows


def glasses() -> list[Row]:
    generator = np.random.default_rng(2)
    n = ELEMENTS // 10
    glass = instrument.Hydrometer("sg")
    gravity, warm = generator.uniform(1.000, 1.012, n), generator.uniform(10.0, 30.0, n)
    rows = []
    for name, sample, shift in (
        ("wort", "wort", 0.03),
        ("wash of 5 % vol", instrument.Wash(abv=5.0), 0.0),
        ("spirit", "spirit", -0.1),
    ):
        reading = gravity + shift
        found = glass.correct(reading, warm, sample)
        expansion = 1.0 + 25e-6 * (warm - 20.0)

        # The same balance: what floats the glass is as dense as the glass.
        def floats(i: int, reading: Array = reading, sample: object = sample, expansion: Array = expansion) -> float:
            if sample == "wort":
                rho = reading[i] * float(liquid.sucrose_density(0.0, 20.0)) / expansion[i]
                return by_brentq(lambda x: liquid.sucrose_density(x, warm[i]) - rho, 0.0, 70.0)
            if sample == "spirit":
                rho = reading[i] * float(liquid.spirit_density(0.0, 20.0)) / expansion[i]
                return by_brentq(lambda x: liquid.spirit_density(x, warm[i]) - rho, 0.0, 100.0)
            return by_brentq(lambda x: glass.reads(liquid.wash_abw(5.0, x), x, warm[i]) - reading[i], 0.0, 30.0)

        known = found.abw if sample == "spirit" else found.extract
        np.testing.assert_allclose(known[:FEW], [floats(i) for i in range(FEW)], atol=1e-6)
        other = per_element(lambda floats=floats: [floats(i) for i in range(FEW)], FEW, 3)
        ours = per_element(lambda reading=reading, sample=sample: glass.correct(reading, warm, sample), n, 5)
        rows.append(Row(f"hydrometer in {name}, all four results", ours, "brentq on this library's density", other))
    return rows


def gravities() -> list[Row]:
    generator = np.random.default_rng(3)
    n = ELEMENTS // 10
    original, final = generator.uniform(1.04, 1.08, n), generator.uniform(1.0, 1.01, n)
    ethanol, dioxide, yeast = strength.YIELDS["bringhurst_1996"]

    def balance(i: int) -> float:
        extract = float(liquid.plato_from_sg(original[i])) / 100.0

        def excess(gone: float) -> float:
            rest = 1.0 - (dioxide + yeast) * gone
            return float(liquid.wash_gravity(100.0 * ethanol * gone / rest, 100.0 * (extract - gone) / rest)) - final[i]

        gone = by_brentq(excess, 0.0, extract)
        rest = 1.0 - (dioxide + yeast) * gone
        return float(liquid.wash_abv(100.0 * ethanol * gone / rest, 100.0 * (extract - gone) / rest))

    np.testing.assert_allclose(
        strength.abv_from_gravity(original[:FEW], final[:FEW]), [balance(i) for i in range(FEW)], atol=1e-8
    )
    other = per_element(lambda: [balance(i) for i in range(FEW)], FEW, 3)
    ours = per_element(lambda: strength.abv_from_gravity(original, final), n, 5)
    return [Row("density balance, % vol from two gravities", ours, "brentq on this library's density", other)]


def single_calls() -> list[Row]:
    sine = per_call(lambda: math.sin(0.7))
    empty = per_call(lambda: None)
    rows = [
        Row(
            "water density, one call",
            per_call(lambda: liquid.water_density(20.0)) - empty,
            "math.sin",
            sine - empty,
            "<= 400 ns",
        ),
        Row(
            "spirit density, one call",
            per_call(lambda: liquid.spirit_density(40.0, 20.0)) - empty,
            "math.sin",
            sine - empty,
            "<= 400 ns",
        ),
        Row(
            "% mass from density, one call",
            per_call(lambda: liquid.abw_from_density(950.0, 20.0)) - empty,
            "math.sin",
            sine - empty,
            "<= 400 ns",
        ),
    ]
    kelvin = 293.15
    assert abs(PropsSI("D", "T", kelvin, "P", 101325.0, "Water") - liquid.water_density(20.0)) < 0.1
    coolprop = per_call(lambda: PropsSI("D", "T", kelvin, "P", 101325.0, "Water"), 2000)
    rows.append(
        Row("water density, one call", rows[0].ours_ns, "CoolProp, IAPWS-95 (a full equation of state)", coolprop)
    )
    return rows


def whole_plans() -> list[Row]:
    bill = mash.Bill([("flaked barley", 14.0), ("barley malt", 1.5)])
    planned = batch.plan(bill=bill, water_l=60.0, stripping_still=still.Still(boiler_l=30.0, heating_kw=3.0))
    grain = np.linspace(12.0, 18.0, FEW)
    one = per_element(lambda: batch.plans(planned.request, grain_kg=grain, threads=1), FEW, 3)
    two = per_element(lambda: batch.plans(planned.request, grain_kg=grain, threads=2), FEW, 3)
    pool = mash.potential(bill, water_l=60.0, assumptions=fermentation.no_cook())
    yeast, shed = (
        fermentation.Inoculum(yeast_kg=0.02),
        fermentation.Conditions(14.0, fermentation.Ambient.constant(21.0)),
    )
    course = per_call(lambda: fermentation.simulate(pool, yeast, shed, range(0, 337, 24)), 200)
    return [
        Row("a whole plan on one thread", one, "the same on two threads", two, "<= 0.56"),
        Row("a course of 14 days", course, "see fermentation_scipy.py", math.nan),
    ]


def shown(ns: float) -> str:
    for size, unit in ((1e6, "ms"), (1e3, "µs")):
        if ns >= size:
            return f"{ns / size:.3g} {unit}"
    return f"{ns:.3g} ns"


def table(rows: list[Row]) -> str:
    lines = ["| what | libferment | beside it | that takes | ratio | asked of it |", "|---|---|---|---|---|---|"]
    for row in rows:
        other, ratio = ("", "") if math.isnan(row.other_ns) else (shown(row.other_ns), f"{row.ratio():.3g}")
        lines.append(f"| {row.what} | {shown(row.ours_ns)} | {row.other} | {other} | {ratio} | {row.asked} |")
    return "\n".join(lines)


def machine() -> str:
    model = next(
        (
            line.partition(":")[2].strip()
            for line in Path("/proc/cpuinfo").read_text().splitlines()
            if line.startswith("model name")
        ),
        "?",
    )
    compiler = subprocess.run(["g++", "-dumpfullversion"], check=True, capture_output=True, text=True).stdout.strip()
    return (
        f"{model}, {os.cpu_count()} cores; {ferment.instruction_set()}; g++ {compiler}, Python {platform.python_version()}, NumPy {np.__version__}; "
        "nanoseconds per element, best of several repeats."
    )


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    arguments.add_argument("--write", action="store_true", help="put the table into docs/speed.md")
    write = arguments.parse_args().write
    rows = [*spirits(), *glasses(), *gravities(), *single_calls(), *whole_plans()]
    text = f"{machine()}\n\n{table(rows)}\n"
    print(text)
    if write:
        document = DOCUMENT.read_text(encoding="utf-8")
        before, _, rest = document.partition(BEGIN)
        after = rest.partition(END)[2]
        DOCUMENT.write_text(f"{before}{BEGIN}\n\n{text}\n{END}{after}", encoding="utf-8")


if __name__ == "__main__":
    sys.exit(main())

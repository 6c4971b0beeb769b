"""Synthetic study of the no-cook model: invented batches whose truth is known, read with realistic errors, then forecast and checked.

Cases: the truth of every case is drawn from the priors, read once a day for five days, fitted, and forecast to day 28 with what the fit
left. How often is the truth inside the band of 90 %, and how much narrower is the band than before the readings?

Causes: the truth of every case is one of the causes that check() knows. How often does check() name it, and how often does it know how
the batch stands?

With no arguments it prints everything. With --write it also renews the generated part of docs/no_cook_model.md.
Every case has its own seed, so that fewer cases are the first of many.
"""

from __future__ import annotations

import dataclasses
import math
import re
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
from ferment import fermentation, mash

Array = npt.NDArray[np.float64]

ROOT = Path(__file__).resolve().parents[2]
CAUSES_HEADER = ROOT / "libferment" / "include" / "ferment" / "fermentation" / "causes.hpp"
DOCUMENT = ROOT / "docs" / "no_cook_model.md"

# The batch is invented.
BILL = (("flaked barley", 14.0), ("flaked rye", 4.0), ("barley malt", 1.5))
WATER_L = 72.0
YEAST_KG = 0.03
MASH_C = (18.0, 25.0)

HOURS_PER_DAY = 24.0
READ_H = tuple(HOURS_PER_DAY * day for day in (1, 2, 3, 4, 5))
END_H = 28.0 * HOURS_PER_DAY
# Standard uncertainties of one reading. Common practice, no source: half a point of gravity, half a degree, 50 g on the scale.
GRAVITY_ERROR, TEMPERATURE_ERROR_K, CO2_ERROR_KG = 0.0005, 0.5, 0.05

SEED = 20
FORECASTS, CAUSES, PLANNED = 1, 2, 3  # streams of draws
CASES = 200
MEMBERS = 250
PRIOR_MEMBERS = 4000  # the forecasts without readings are made once
CASES_OF_A_CAUSE = 40
CHECK_MEMBERS = 100

FIGURES = ("gravity", "abv", "conversion", "done")
NAMES = {"gravity": "gravity", "abv": "strength", "conversion": "conversion", "done": "day of done"}
LEAST_INSIDE, MOST_INSIDE = 0.85, 0.95
NARROW = 0.5
HALF = 0.5

# What check() calls stopped: less than this share of the alcohol still to come, made within the window; and slow: among this
# share of the forecasts made at pitching, of the latest to be done or of the weakest by now.
STOPPED_WINDOW_H, STOPPED_SHARE, SLOW_SHARE = 48.0, 0.02, 0.10
# Molar masses [g/mol].
GLUCOSE, ETHANOL, WATER = 180.156, 46.069, 18.015
STANDINGS = ("on course", "slow", "stopped", "finished")


@dataclasses.dataclass(frozen=True)
class Setting:
    """How the batch is kept, and whether a scale stands under it."""

    mash_c: float
    scale: bool

    @property
    def conditions(self) -> fermentation.Conditions:
        return fermentation.Conditions(self.mash_c, fermentation.Ambient.constant(self.mash_c))

    @property
    def words(self) -> list[str]:
        return [f"{self.mash_c:g}", "yes" if self.scale else "no"]

    def __str__(self) -> str:
        return f"{self.mash_c:g} °C {'with' if self.scale else 'without'} a scale"


SETTINGS = tuple(Setting(mash_c, scale) for mash_c in MASH_C for scale in (False, True))

POTENTIAL = mash.potential(mash.Bill(BILL), water_l=WATER_L, assumptions=fermentation.no_cook())
INOCULUM = fermentation.Inoculum(yeast_kg=YEAST_KG)
PRIORS = {p.name: p for p in fermentation.kinetic_parameters()}

Priors = dict[str, tuple[float, float]]


def read_course(
    course: fermentation.Course, setting: Setting, generator: np.random.Generator, off: float = 0.0, off_at: int = 0
) -> list[fermentation.Reading]:
    """The course at READ_H with errors of reading; one gravity may be off by more. The scale draws its errors whether it is there or not."""
    n = len(READ_H)
    gravity = course.gravity[:n] + GRAVITY_ERROR * generator.standard_normal(n)
    temperature = course.temperature_c[:n] + TEMPERATURE_ERROR_K * generator.standard_normal(n)
    co2 = course.co2_lost_kg[:n] + CO2_ERROR_KG * generator.standard_normal(n)
    gravity[off_at] += off
    return [
        fermentation.Reading(
            hour,
            gravity=(float(gravity[i]), GRAVITY_ERROR),
            temperature_c=(float(temperature[i]), TEMPERATURE_ERROR_K),
            co2_lost_kg=(float(co2[i]), CO2_ERROR_KG) if setting.scale else None,
        )
        for i, hour in enumerate(READ_H)
    ]


def drawn(generator: np.random.Generator) -> dict[str, float]:
    """A truth: how many spreads every parameter lies from its median."""
    return dict(zip(PRIORS, generator.standard_normal(len(PRIORS)).tolist(), strict=True))


# ---------------------------------------------------------------------------------------------------------------- forecasts


def bands(forecast: fermentation.Forecast) -> dict[str, tuple[float, float]]:
    """The band of 90 % at the end of the forecast; the day of done may be infinite: not by then."""
    done = forecast.done()
    found = {name: (float(row[-1][0]), float(row[-1][-1])) for name, row in series(forecast).items()}
    return {**found, "done": (done.p5, done.p95)}


def series(result: fermentation.Forecast | fermentation.Course) -> dict[str, Array]:
    return {"gravity": result.gravity, "abv": result.abv, "conversion": result.conversion}


def truth_of(course: fermentation.Course) -> dict[str, float]:
    found = {name: float(values[-1]) for name, values in series(course).items()}
    return {**found, "done": or_never(course.done_h)}


def or_never(done_h: float) -> float:
    return math.inf if math.isnan(done_h) else done_h


def width(band: tuple[float, float]) -> float:
    """Infinite where the upper end is: that it is not done by the end is no knowledge of the day."""
    low, high = band
    return math.inf if math.isinf(high) else high - low


@dataclasses.dataclass(frozen=True)
class Case:
    """One truth beside the forecast that its readings gave."""

    inside: dict[str, bool]
    ratio: dict[str, float]  # width of the band after the readings over its width before
    warned: bool


@cache
def before(mash_c: float) -> dict[str, tuple[float, float]]:
    """Bands without any reading."""
    conditions = Setting(mash_c, False).conditions
    return bands(fermentation.forecast(POTENTIAL, INOCULUM, conditions, [END_H], members=PRIOR_MEMBERS, seed=SEED))


def case(setting: Setting, number: int) -> Case:
    generator = np.random.default_rng([SEED, FORECASTS, number])
    z = drawn(generator)
    course = fermentation.simulate(POTENTIAL, INOCULUM, setting.conditions, [*READ_H, END_H], z)
    readings = read_course(course, setting, generator)
    fitted = fermentation.fit(POTENTIAL, INOCULUM, setting.conditions, readings)
    forecast = fermentation.forecast(
        POTENTIAL, INOCULUM, setting.conditions, [END_H], fitted.belief, members=MEMBERS, seed=number
    )
    truth, after, prior = truth_of(course), bands(forecast), before(setting.mash_c)
    return Case(
        {name: after[name][0] <= truth[name] <= after[name][1] for name in FIGURES},
        {name: width(after[name]) / width(prior[name]) for name in FIGURES},
        bool(fitted.warning),
    )


@dataclasses.dataclass(frozen=True)
class Cases:
    """All cases of one setting."""

    setting: Setting
    cases: tuple[Case, ...]

    def coverage(self, figure: str) -> float:
        return share(c.inside[figure] for c in self.cases)

    def ratio(self, figure: str) -> float:
        return float(np.median([c.ratio[figure] for c in self.cases]))

    @property
    def warned(self) -> float:
        return share(c.warned for c in self.cases)


@cache
def cases(setting: Setting, count: int = CASES) -> Cases:
    return Cases(setting, tuple(case(setting, i) for i in range(count)))


def share(kept: Iterable[bool]) -> float:
    return float(np.mean(list(kept)))


# ------------------------------------------------------------------------------------------------------------------- causes


@dataclasses.dataclass(frozen=True)
class Cause:
    """One of check()'s causes: its name, how probable it is before any reading, its priors, and how far one gravity reading is off."""

    name: str
    before: float
    priors: Priors
    gravity_off: float


def shifted(name: str, shift: float, spread: float) -> tuple[float, float]:
    """Another prior: shift is added on the normal scale, a factor on the log scale, a factor on the odds on the logit scale."""
    prior = PRIORS[name]
    # Of the grain's own parameters this one is shifted, and it comes from the assumptions.
    median = POTENTIAL.assumptions.conversion.value / 100.0 if name == "conversion_limit" else prior.median
    if prior.scale == "normal":
        return median + shift, spread
    if prior.scale == "log":
        return median * shift, spread
    odds = shift * median / (1.0 - median)
    return odds / (1.0 + odds), spread


@cache
def causes() -> tuple[Cause, ...]:
    """As the header has them."""
    text = CAUSES_HEADER.read_text(encoding="utf-8")
    names = dict(re.findall(r'case cause::(\w+): return "([^"]+)";', text))
    off = re.search(r"gravity_error = ([0-9.]+);", text)
    rows = re.findall(r"\{cause::(\w+), +([0-9.]+), kinetic::(\w+), (-?[0-9.]+), ([0-9.]+)\}", text)
    if off is None or len(rows) != len(names):
        raise SystemExit(f"no table of causes in {CAUSES_HEADER.name}")
    found = []
    for cause, chance, parameter, shift, spread in rows:
        priors = {} if parameter == "count" else {parameter: shifted(parameter, float(shift), float(spread))}
        gravity_off = float(off.group(1)) if cause == "reading_error" else 0.0
        found.append(Cause(names[cause], float(chance), priors, gravity_off))
    return tuple(found)


def studied() -> tuple[Cause, ...]:
    """The causes that these readings can tell apart: without an iodine test check() does not weigh that the enzymes are spent."""
    return tuple(cause for cause in causes() if cause.name != "enzymes spent early")


@dataclasses.dataclass(frozen=True)
class Slow:
    """Nine of ten batches run as planned are done by latest_h and at the last reading at least as strong as weakest_abw."""

    latest_h: float
    weakest_abw: float


@cache
def slow(mash_c: float) -> Slow:
    conditions = Setting(mash_c, False).conditions
    generator = np.random.default_rng([SEED, PLANNED])
    hours = [READ_H[-1], READ_H[-1] + END_H]
    planned = [
        fermentation.simulate(POTENTIAL, INOCULUM, conditions, hours, drawn(generator)) for _ in range(PRIOR_MEMBERS)
    ]
    done = np.quantile([or_never(c.done_h) for c in planned], 1.0 - SLOW_SHARE, method="inverted_cdf")
    return Slow(float(done), float(np.quantile([c.abw[0] for c in planned], SLOW_SHARE)))


def standing(course: fermentation.Course, edge: Slow) -> str:
    """How a course stands at the last reading, as check() defines it; its entries after the readings are the window's end and the horizon."""
    now = len(READ_H) - 1
    done_h, abw = or_never(course.done_h), float(course.abw[now])
    if done_h <= READ_H[-1]:
        return "finished"
    per_starch = GLUCOSE / (GLUCOSE - WATER)
    sugar = float(course.free_sugar[now]) / 100.0 + per_starch * float(course.open_starch_g_per_kg[now]) / 1000.0
    made = (float(course.abw[now + 1]) - abw) / 100.0
    if made < STOPPED_SHARE * 2.0 * ETHANOL / GLUCOSE * sugar:
        return "stopped"
    return "slow" if abw < edge.weakest_abw or done_h > edge.latest_h or math.isinf(done_h) else "on course"


@dataclasses.dataclass(frozen=True)
class Answer:
    """What was true, and what check() said."""

    cause: str
    because: str
    stood: str
    stands: str


def answer(setting: Setting, cause: Cause, number: int) -> Answer:
    generator = np.random.default_rng([SEED, CAUSES, causes().index(cause), number])
    z = drawn(generator)
    hours = [*READ_H, READ_H[-1] + STOPPED_WINDOW_H, READ_H[-1] + END_H]
    course = fermentation.simulate(POTENTIAL, INOCULUM, setting.conditions, hours, z, priors=cause.priors)
    off_at = int(generator.integers(len(READ_H)))
    off = cause.gravity_off * float(generator.choice([-1.0, 1.0]))
    readings = read_course(course, setting, generator, off, off_at)
    said = fermentation.check(POTENTIAL, INOCULUM, setting.conditions, readings, members=CHECK_MEMBERS, seed=number)
    return Answer(cause.name, said.because, standing(course, slow(setting.mash_c)), said.stands)


@dataclasses.dataclass(frozen=True)
class Answers:
    """All answers of one setting."""

    setting: Setting
    answers: tuple[Answer, ...]

    def row(self, cause: str) -> list[int]:
        """How often each cause was named where this one was true."""
        said = Counter(a.because for a in self.answers if a.cause == cause)
        return [said[c.name] for c in studied()]

    def standing_row(self, stood: str) -> list[int]:
        said = Counter(a.stands for a in self.answers if a.stood == stood)
        return [said[s] for s in STANDINGS]

    def right_of(self, cause: str) -> float:
        return share(a.because == a.cause for a in self.answers if a.cause == cause)

    @property
    def right(self) -> float:
        return share(a.because == a.cause for a in self.answers)

    @property
    def right_if_usual(self) -> float:
        """The same if causes were as frequent as check() takes them to be."""
        return sum(c.before * self.right_of(c.name) for c in studied()) / sum(c.before for c in studied())

    @property
    def commonest_standing(self) -> float:
        """How often the most frequent standing was true: what the same answer for every batch would get."""
        return max(Counter(a.stood for a in self.answers).values()) / len(self.answers)

    @property
    def stands_right(self) -> float:
        return share(a.stands == a.stood for a in self.answers)


@cache
def answers(setting: Setting, count: int = CASES_OF_A_CAUSE) -> Answers:
    return Answers(setting, tuple(answer(setting, cause, i) for cause in studied() for i in range(count)))


# --------------------------------------------------------------------------------------------------------------- the report


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join("| " + " | ".join(row) + " |" for row in lines)


def percent(x: float) -> str:
    return f"{100.0 * x:.1f}"


WHERE = ["mash and air, °C", "scale"]
COVERAGE_HEAD = [*WHERE, *(f"{NAMES[f]}, % inside" for f in FIGURES), "warned, %"]
RATIO_HEAD = [*WHERE, *(NAMES[f] for f in FIGURES)]


def cause_head() -> list[str]:
    return [*WHERE, "truth", *(c.name for c in studied()), "right, %"]


STANDING_HEAD = [*WHERE, "truth", *STANDINGS, "right, %"]


def listed(words: Sequence[str]) -> str:
    return "; ".join(words) if words else "none"


def coverage_part(all_cases: Sequence[Cases]) -> str:
    rows = [[*c.setting.words, *(percent(c.coverage(f)) for f in FIGURES), percent(c.warned)] for c in all_cases]
    outside = [
        f"{NAMES[f]} at {c.setting} ({percent(c.coverage(f))} %)"
        for c in all_cases
        for f in FIGURES
        if not LEAST_INSIDE <= c.coverage(f) <= MOST_INSIDE
    ]
    return "\n\n".join(
        [
            table(COVERAGE_HEAD, rows),
            f"- not between {100.0 * LEAST_INSIDE:g} and {100.0 * MOST_INSIDE:g} %: {listed(outside)}",
        ]
    )


def ratio_part(all_cases: Sequence[Cases]) -> str:
    rows = [[*c.setting.words, *(f"{c.ratio(f):.2f}" for f in FIGURES)] for c in all_cases]
    wide = [f"{NAMES[f]} at {c.setting} ({c.ratio(f):.2f})" for c in all_cases for f in FIGURES if c.ratio(f) > NARROW]
    return "\n\n".join([table(RATIO_HEAD, rows), f"- more than half as wide as before: {listed(wide)}"])


def causes_part(all_answers: Sequence[Answers]) -> str:
    rows = []
    for a in all_answers:
        rows += [
            [*a.setting.words, c.name, *map(str, a.row(c.name)), f"{100.0 * a.right_of(c.name):.0f}"] for c in studied()
        ]
    chance = 1.0 / len(studied())
    poor = [
        f"{c.name} at {a.setting} ({100.0 * a.right_of(c.name):.0f} %)"
        for a in all_answers
        for c in studied()
        if a.right_of(c.name) < HALF
    ]
    overall = [f"{100.0 * a.right:.0f} % at {a.setting}" for a in all_answers]
    usual = [f"{100.0 * a.right_if_usual:.0f} % at {a.setting}" for a in all_answers]
    first = studied()[0]
    return "\n\n".join(
        [
            table(cause_head(), rows),
            f"- right overall, where guessing gives {100.0 * chance:.0f} %: {listed(overall)}\n"
            f'- right if causes were as frequent as check() takes them to be, where "{first.name}" for every batch gives {100.0 * first.before:.0f} %: {listed(usual)}\n'
            f"- named in less than half of its cases: {listed(poor)}",
        ]
    )


def standings_part(all_answers: Sequence[Answers]) -> str:
    rows = []
    for a in all_answers:
        for place, stood in enumerate(STANDINGS):
            row = a.standing_row(stood)
            if sum(row) > 0:
                right = f"{100.0 * row[place] / sum(row):.0f}"
                rows.append([*a.setting.words, stood, *map(str, row), right])
    overall = [
        f"{100.0 * a.stands_right:.0f} % at {a.setting} ({100.0 * a.commonest_standing:.0f} %)" for a in all_answers
    ]
    return "\n\n".join(
        [table(STANDING_HEAD, rows), f"- right overall (the most frequent one for every batch): {listed(overall)}"]
    )


def part() -> str:
    all_cases = [cases(s) for s in SETTINGS]
    all_answers = [answers(s) for s in SETTINGS]
    return "\n\n".join(
        [
            f"Share of {CASES} cases a row whose truth on day 28 lies inside the band of 90 % (standard error 2 %), and share that fit() warned of:",
            coverage_part(all_cases),
            "Width of that band after the readings over its width before, median of the same cases:",
            ratio_part(all_cases),
            f"How often check() named which cause, {CASES_OF_A_CAUSE} cases a row (standard error up to 8 %):",
            causes_part(all_answers),
            "How the same batches stood on day 5, and how check() said they did; rows that no case belongs to are left out:",
            standings_part(all_answers),
        ]
    )


MARKER = "<!-- synthetic study -->\n"
BEGIN, END = "<!-- generated: synthetic -->\n", "<!-- end: synthetic -->"
INTRODUCTION = """## Synthetic study

Made by `tests/calibration/synthetic_study.py --write`, seeded. The batch is invented: 14 kg of flaked barley, 4 kg of flaked rye and 1.5 kg of barley malt in 72 L of water, 30 g of
yeast, mash and air at one temperature. The truth of every case is drawn from the priors and read on each of the first five days, gravity to 0.0005 and temperature to 0.5 K, with and
without a scale that shows the carbon dioxide lost to 0.05 kg. Then comes what a user would do: fit and forecast to day 28, or check on day 5.

- **What it shows:** fitting is honest. The truth lies inside the fitted band about as often as the band says; where it does not, the first list below names the figure. fit() seldom
  warns of readings that are in order.
- **What five readings are worth:** they make the band of the gravity on day 28 far narrower. Without a scale they say little of strength and conversion, since the same end gravity fits
  more alcohol with more dissolved solids and less alcohol with fewer. A scale under the vessel halves the band of the day of done, and of the strength where it is warm; on day 5 of a
  cold mash it misses that by little. Conversion is never known twice as well, since the starch that the grain held is not known either.
- **What a check is worth:** far more than guessing. Where it errs it mostly says "as planned": check() takes that for six of ten batches, and a weak enzyme or few yeast cells within
  the usual spread look the same. Early ends and slow enzymes are mostly missed without a scale. Without one it also tells poorly on day 5 whether a batch has just finished: in the cold
  most finished ones are called "on course" or "slow", in the warm a third of those still on course are called "finished".
- **What it does not show:** anything about the model's own errors. Truth and fit share one model and the same priors, causes are shifted just as check() supposes, and reading errors are
  as large as stated. Real batches are worse by what the sections above say.

"""


def with_part(text: str, made: str) -> str:
    """The document with the section in place of its marker, and the generated part made anew."""
    text = text.replace(MARKER, f"{INTRODUCTION}{BEGIN}\n{END}\n")
    head, found, rest = text.partition(BEGIN)
    _, closed, tail = rest.partition(END)
    if not found or not closed:
        raise SystemExit(f"{DOCUMENT.name} has no part synthetic")
    return f"{head}{BEGIN}\n{made}\n\n{END}{tail}"


def main() -> int:
    if sys.argv[1:] not in ([], ["--write"]):
        raise SystemExit("usage: synthetic_study.py [--write]")
    made = part()
    print(made)
    if sys.argv[1:]:
        DOCUMENT.write_text(with_part(DOCUMENT.read_text(encoding="utf-8"), made), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())

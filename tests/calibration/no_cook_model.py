"""Fits the course of a no-cook fermentation to published points, and validates it on works that were kept out of the fit.

The points are in reference/no_cook_fermentation/series.csv, with what each work stated and what had to be assumed. The published
evidence supports four figures: one overall rate of raw-starch hydrolysis, the ratio of the fast to the slow rate, the yeast's uptake
on sugar, and the final conversion. All else is a prior.

With no arguments it prints everything; the exit code tells whether kinetic_table of the header holds the digits found.
With --write it also renews the generated parts of docs/no_cook_model.md.
"""

from __future__ import annotations

import csv
import dataclasses
import itertools
import math
import re
import sys
from collections.abc import Callable, Iterable, Sequence
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
from ferment import Measured, fermentation, liquid, mash

Array = npt.NDArray[np.float64]

ROOT = Path(__file__).resolve().parents[2]
TABLES = ROOT / "tests" / "reference" / "no_cook_fermentation"
HEADER = ROOT / "libferment" / "include" / "ferment" / "fermentation" / "kinetics.hpp"
DOCUMENT = ROOT / "docs" / "no_cook_model.md"

MEMBERS = 1000
MOST_SPREADS = 3.0  # a laboratory further off its temperature than this would have said so
SEED = 1
FITTED = ("hydrolysis_rate", "fast_rate_ratio", "uptake_rate")
STILL = 1e-4  # spread on the rates between two sides of a root, log scale
LONG_H = 4000.0  # when nothing goes on any more
BAND = (5.0, 50.0, 95.0)  # percentiles: a band of 90 %
NEAR = 10.0  # percent that the median of an end point may be off
LEAST_NEAR = 0.8
LEAST_INSIDE, MOST_INSIDE = 0.80, 0.98
GRAMS = 1000.0
LABORATORY_C = 20.0

# Laboratory vessels in a thermostat: the walls carry the heat away at once.
THERMOSTAT = 100.0  # W/(m2 K)
HELD = {"heat_loss": 0.0, "ambient_offset": 0.0}
# Yeast on sugar, Oliveira et al. 2016: published ethanol per sugar, cells from 25 to 32.1 g/L on 111.5 g/L of sugar; no lag, all alive.
SUGAR_YIELD = 0.407
SUGAR_GROWTH = (32.07 - 25.0) / 111.5
NO_LAG_H = 0.01
ALL_ALIVE = 1.0
TIGHT = 10.0  # heat loss, for the dense suspension
# Hydrolysis alone: without inhibition by glucose, since it was dilute or not stated.
NO_INHIBITION = 1e6
# One-sided 95 % points of Student's t for 1 to 5 degrees of freedom, and of the normal distribution (tables of any textbook).
STUDENT = {1: 6.314, 2: 2.920, 3: 2.353, 4: 2.132, 5: 2.015}
NORMAL = 1.645


def read_rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@dataclasses.dataclass(frozen=True)
class Point:
    """One published point with the inputs of its simulation."""

    series: str
    work: str
    role: str
    counted: str
    rows: str
    form: str
    starch: float
    sugars: float
    starch_spread: float
    solids_kg: float
    water_kg: float
    temperature_c: float
    temperature_spread_k: float
    yeast_kg: float
    yeast_log_spread: float
    dose: float
    nutrients: float
    time_h: float
    time_log_spread: float
    quantity: str
    value: float
    low: float
    high: float
    stated: str
    assumed: str


def points(*roles: str) -> list[Point]:
    """Rows of series.csv with one of the roles, or all."""
    found = []
    for row in read_rows(TABLES / "series.csv"):
        kinds = Point.__annotations__
        values = {key: float(row[key]) if kinds[key] == "float" else row[key] for key in kinds}
        point = Point(**values)  # type: ignore[arg-type]
        if not roles or point.role in roles:
            found.append(point)
    return found


@dataclasses.dataclass(frozen=True)
class Fitted:
    """Median and spread (standard deviation of the logarithm) of a fitted parameter."""

    median: float
    spread: float


PRIORS = {p.name: p for p in fermentation.kinetic_parameters()}


def spreads_away(name: str, value: float) -> float:
    """How many spreads of the library's prior a value lies from its median: what simulate takes."""
    prior = PRIORS[name]
    if prior.scale == "log":
        return math.log(value / prior.median) / prior.spread
    if prior.scale == "logit":
        return (math.log(value / (1.0 - value)) - math.log(prior.median / (1.0 - prior.median))) / prior.spread
    return (value - prior.median) / prior.spread


def simulated(
    point: Point,
    hours: npt.ArrayLike,
    assumptions: mash.Assumptions,
    z: dict[str, float],
    form: str | None = None,
) -> tuple[fermentation.Course, mash.Potential]:
    known = point.quantity in ("ethanol_percent_of_theoretical", "conversion", "co2_per_starch")
    grain = mash.Grain(
        name=point.series,
        form=form or point.form,
        moisture=Measured(0.0),
        # A share of the starch is a share of the starch that the work found, whatever that was.
        starch=Measured(point.starch, 0.0 if known else point.starch_spread),
        sugars=Measured(point.sugars),
    )
    potential = mash.potential(mash.Bill([(grain, point.solids_kg)]), water_kg=point.water_kg, assumptions=assumptions)
    course = fermentation.simulate(
        potential,
        fermentation.Inoculum(yeast_kg=point.yeast_kg, enzyme_dose=point.dose, nutrients=point.nutrients),
        fermentation.Conditions(
            point.temperature_c, fermentation.Ambient.constant(point.temperature_c), fermentation.Vessel(THERMOSTAT)
        ),
        times_h=hours,
        parameters=z,
    )
    return course, potential


def density(course: fermentation.Course) -> Array:
    """Of the liquid at 20 degC, where a laboratory measures it [kg/m3]."""
    return liquid.wash_density(course.abw, course.real_extract, LABORATORY_C)


def figure(point: Point, assumptions: mash.Assumptions, z: dict[str, float]) -> float:
    """The model's value of what was published."""
    quantity = point.quantity
    if quantity == "peak_productivity":
        course, _ = simulated(point, np.arange(0.0, point.time_h + 1.0), assumptions, z)
        return float(np.diff(course.abw / 100.0 * density(course)).max())
    if quantity == "swollen_per_native":
        swollen, _ = simulated(point, [point.time_h], assumptions, z, form="gelatinised")
        native, _ = simulated(point, [point.time_h], assumptions, z)
        return float(swollen.conversion[0] / native.conversion[0])
    if quantity == "sugar_gone_h":
        course, _ = simulated(point, [LONG_H], assumptions, z)
        return course.done_h if not math.isnan(course.done_h) else math.inf
    course, potential = simulated(point, [point.time_h], assumptions, z)
    starch_kg = point.solids_kg * point.starch / 100.0
    now = {
        "ethanol_percent_of_theoretical": 100.0 * course.ethanol_kg / potential.theoretical.ethanol_kg.value,
        "ethanol_g_per_l": course.abw / 100.0 * density(course),
        "sugar_g_per_l": course.free_sugar / 100.0 * density(course),
        "ethanol_per_dry": course.ethanol_kg / point.solids_kg,
        "abv": course.abv,
        "conversion": course.conversion,
        "co2_per_starch": course.co2_kg / starch_kg if starch_kg > 0.0 else course.co2_kg * math.nan,
    }[quantity]
    return float(now[0])


def root(f: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function of a positive number crosses zero, by bisection of the logarithm; NaN where the ends do not bracket it."""
    if not f(low) < 0.0 < f(high):
        return math.nan
    a, b = math.log(low), math.log(high)
    while b - a > STILL:
        middle = 0.5 * (a + b)
        if f(math.exp(middle)) < 0.0:
            a = middle
        else:
            b = middle
    return math.exp(0.5 * (a + b))


def two_digits(x: float) -> float:
    return float(f"{x:.2g}")


def spread_of_next(logarithms: Iterable[float]) -> float:
    """The spread that the next work has, seen from n works: s sqrt(1 + 1/n), where the root adds the doubt of the mean."""
    x = list(logarithms)
    return float(np.std(x, ddof=1) * math.sqrt(1.0 + 1.0 / len(x)))


def predictive_spread(logarithms: Iterable[float]) -> float:
    """The same with what is not known of s itself: times t(n - 1)/1.645.

    The ratio of the 95 % points of Student's t to that of the normal distribution makes a normal distribution of this spread have the
    right 90 % band.
    """
    x = list(logarithms)
    return spread_of_next(x) * STUDENT[len(x) - 1] / NORMAL


# ---------------------------------------------------------------------------------------------------------------- the fits


def of_overall(shares: Sequence[float]) -> mash.Assumptions:
    """Conversion as the library derives it: overall yield over efficiency, and the spread that the efficiency does not explain [%]."""
    efficiency = fermentation.no_cook().fermentation_efficiency
    mean, sd = float(np.mean(shares)), float(np.std(shares, ddof=1))
    conversion = 100.0 * mean / efficiency.value
    relative = math.sqrt((sd / mean) ** 2 - (efficiency.standard_uncertainty / efficiency.value) ** 2)
    return mash.Assumptions(Measured(conversion, conversion * relative), efficiency)


@cache
def blind_assumptions() -> mash.Assumptions:
    """From the works of the fit alone."""
    return of_overall([p.value for p in points("fit") if p.quantity == "ethanol_percent_of_theoretical"])


def row_of(rows: str, role: str = "fit") -> Point:
    return next(p for p in points(role) if p.rows == rows)


@dataclasses.dataclass(frozen=True)
class Granules:
    """Native and swollen granules: rate and ratio that give both published ratios."""

    rate: float
    ratio: float


def fit_granules(
    early: float, late: float, inhibition: float = NO_INHIBITION, loading_kg: float | None = None
) -> Granules:
    """Li et al. 2014. For each ratio of the rates the rate that gives the late point; then the ratio that gives the early one."""
    first, second = row_of("T30"), row_of("T31")
    if loading_kg is not None:
        first, second = (dataclasses.replace(p, solids_kg=loading_kg) for p in (first, second))

    def z(rate: float, ratio: float) -> dict[str, float]:
        values = {"hydrolysis_rate": rate, "fast_rate_ratio": ratio, "glucose_inhibition": inhibition}
        return {**HELD, **{name: spreads_away(name, value) for name, value in values.items()}}

    def rate_of(ratio: float) -> float:
        return root(lambda k: late - figure(second, blind_assumptions(), z(k, ratio)), 0.003, 1.0)

    def excess(ratio: float) -> float:
        rate = rate_of(ratio)
        return math.nan if math.isnan(rate) else figure(first, blind_assumptions(), z(rate, ratio)) - early

    ratio = root(excess, 2.0, 40.0)
    return Granules(rate_of(ratio) if not math.isnan(ratio) else math.nan, ratio)


def fit_uptake(temperature_c: float | None = None) -> tuple[float, float]:
    """Oliveira et al. 2016, yeast on sugar: uptake that fits the sugar best, and the root mean square of what is left [g/L]."""
    rows = [p for p in points("fit") if p.quantity == "sugar_g_per_l"]
    first = rows[0] if temperature_c is None else dataclasses.replace(rows[0], temperature_c=temperature_c)
    efficiency = 100.0 * SUGAR_YIELD / glucose_to_ethanol()
    assumptions = mash.Assumptions(blind_assumptions().conversion, Measured(efficiency))
    published = np.array([p.value for p in rows])
    fixed = {"lag": NO_LAG_H, "heat_loss": TIGHT, "growth_yield": SUGAR_GROWTH}
    z = {name: spreads_away(name, value) for name, value in fixed.items()}
    z["ambient_offset"] = 0.0
    z["pitched_activity"] = spreads_away("pitched_activity", ALL_ALIVE)

    def off(uptake: float) -> float:
        course, _ = simulated(
            first, [p.time_h for p in rows], assumptions, {**z, "uptake_rate": spreads_away("uptake_rate", uptake)}
        )
        return float(np.sqrt(np.mean((course.free_sugar / 100.0 * density(course) - published) ** 2)))

    low, high = math.log(0.5), math.log(8.0)
    golden = 0.5 * (math.sqrt(5.0) - 1.0)
    while high - low > STILL:
        a, b = high - golden * (high - low), low + golden * (high - low)
        if off(math.exp(a)) < off(math.exp(b)):
            high = b
        else:
            low = a
    uptake = math.exp(0.5 * (low + high))
    return uptake, off(uptake)


def glucose_to_ethanol() -> float:
    rows = {
        row["id"]: float(row["value"])
        for row in read_rows(TABLES / "stoichiometry_heat_nutrients.csv")
        if row["id"] in ("S02",)
    }
    return rows["S02"]


def other_uptakes() -> list[float]:
    """Largest sugar uptake of two other published models of yeast, g/(g h): they are not fitted, they give a spread."""
    k = {row["id"]: row["value"] for row in read_rows(TABLES / "kinetic_parameters.csv")}
    return [float(k["K26"]) / float(k["K32"]), float(k["K11"]) / float(k["K16"])]


Base = dict[str, float]


def fit_maize(
    shortfall: float, base: Base, point: Point | None = None, assumptions: mash.Assumptions | None = None
) -> float:
    """Weller et al. 1984: the rate at which 72 h falls short of the end by a share of it; the end is the cooked control's."""
    point = point or row_of("T17 T18")
    assumptions = assumptions or blind_assumptions()

    def excess(rate: float) -> float:
        z = {**base, "hydrolysis_rate": spreads_away("hydrolysis_rate", rate)}
        course, _ = simulated(point, [point.time_h, LONG_H], assumptions, z)
        return shortfall - (1.0 - float(course.co2_kg[0] / course.co2_kg[1]))

    return root(excess, 0.002, 2.0)


def fit_cassava(
    share: float, base: Base, point: Point | None = None, assumptions: mash.Assumptions | None = None
) -> tuple[float, float]:
    """Fujio et al. 1985: the rate that gives the yield after 96 h with the yeast that gives the peak; both of them."""
    end = point or row_of("E05 T19")
    peak = row_of("E05 T20")
    assumptions = assumptions or blind_assumptions()

    def z(rate: float) -> Base:
        return {**base, "hydrolysis_rate": spreads_away("hydrolysis_rate", rate)}

    def yeast_of(rate: float) -> float:
        def excess(yeast: float) -> float:
            trial = dataclasses.replace(end, yeast_kg=yeast, quantity=peak.quantity)
            return figure(trial, assumptions, z(rate)) - peak.value

        return root(excess, 1e-5, 0.1)

    def excess(rate: float) -> float:
        yeast = yeast_of(rate)
        if math.isnan(yeast):
            return math.nan
        return figure(dataclasses.replace(end, yeast_kg=yeast), assumptions, z(rate)) - share

    # The peak bounds the rate from both sides: too slow, and no yeast reaches it; too fast, and sugar inhibits the enzymes.
    trials = np.geomspace(0.004, 0.4, 13)
    values = [(rate, excess(float(rate))) for rate in trials]
    for (a, below), (b, above) in itertools.pairwise(values):
        if below < 0.0 < above:
            rate = root(excess, float(a), float(b))
            return rate, yeast_of(rate)
    return math.nan, math.nan


@dataclasses.dataclass(frozen=True)
class Fit:
    """Everything that was fitted."""

    granules: Granules
    granules_low: Granules
    granules_high: Granules
    inhibited: dict[float, float]
    uptake: float
    uptake_rms: float
    uptake_colder: float
    maize: float
    maize_least: float
    cassava: float
    cassava_yeast: float
    cassava_low: float
    cassava_high: float
    cassava_six_works: float
    rates: dict[str, float]
    mean_rate: float
    scatter: float
    strict_spread: float
    found: dict[str, Fitted]


@cache
def fit() -> Fit:
    early, late = row_of("T30"), row_of("T31")
    granules = fit_granules(early.value, late.value)
    low = fit_granules(early.low, late.value)
    high = fit_granules(early.high, late.value)
    # Half the range of the rounded ratio, as of a uniform distribution.
    ratio = Fitted(two_digits(granules.ratio), two_digits(0.5 * math.log(high.ratio / low.ratio) / math.sqrt(3.0)))
    inhibited = {
        g: fit_granules(early.value, late.value, PRIORS["glucose_inhibition"].median, g / GRAMS).ratio
        for g in (5.0, 30.0, 100.0)
    }
    uptake, rms = fit_uptake()
    spread = predictive_spread(math.log(u) for u in (uptake, *other_uptakes()))
    uptaken = Fitted(two_digits(uptake), two_digits(spread))
    base = {
        **HELD,
        "fast_rate_ratio": spreads_away("fast_rate_ratio", ratio.median),
        "uptake_rate": spreads_away("uptake_rate", uptaken.median),
    }
    co2 = row_of("T17 T18")
    resolved = (co2.high - co2.value) / co2.value
    maize = fit_maize(0.5 * resolved, base)
    end = row_of("E05 T19")
    cassava, yeast = fit_cassava(end.value, base)
    rates = {"Li et al. 2014": granules.rate, "Weller et al. 1984": maize, "Fujio et al. 1985": cassava}
    logarithms = [math.log(rate) for rate in rates.values()]
    mean = math.exp(float(np.mean(logarithms)))
    # Without the factor for few works: their scatter holds unstated temperatures, doses and pitches, which a forecast draws again.
    rate = Fitted(two_digits(mean), two_digits(spread_of_next(logarithms)))
    return Fit(
        granules=granules,
        granules_low=low,
        granules_high=high,
        inhibited=inhibited,
        uptake=uptake,
        uptake_rms=rms,
        uptake_colder=fit_uptake(30.0)[0],
        maize=maize,
        maize_least=fit_maize(resolved, base),
        cassava=cassava,
        cassava_yeast=yeast,
        cassava_low=fit_cassava(end.low, base)[0],
        cassava_high=fit_cassava(end.high, base)[0],
        cassava_six_works=fit_cassava(end.value, base, assumptions=fermentation.no_cook())[0],
        rates=rates,
        mean_rate=mean,
        scatter=float(np.std(logarithms, ddof=1)),
        strict_spread=predictive_spread(logarithms),
        found={"hydrolysis_rate": rate, "fast_rate_ratio": ratio, "uptake_rate": uptaken},
    )


def in_header() -> dict[str, Fitted]:
    """Median and spread of the fitted parameters in kinetic_table."""
    text = HEADER.read_text(encoding="utf-8")
    held = {}
    for name in FITTED:
        row = re.search(rf'\{{"{name}", "[^"]*", ([0-9.]+), ([0-9.]+), spread_scale::log, evidence::fitted', text)
        if row is None:
            raise SystemExit(f"no fitted {name} on a log scale in {HEADER.name}")
        held[name] = Fitted(float(row.group(1)), float(row.group(2)))
    return held


# ---------------------------------------------------------------------------------------------------------------- validation


@dataclasses.dataclass(frozen=True)
class Member:
    """One draw: spreads from the medians for simulate, and for what a work left unstated."""

    z: dict[str, float]
    temperature: float
    yeast: float
    time: float

    def of(self, point: Point) -> Point:
        return dataclasses.replace(
            point,
            temperature_c=point.temperature_c + point.temperature_spread_k * self.temperature,
            yeast_kg=point.yeast_kg * math.exp(point.yeast_log_spread * self.yeast),
            time_h=point.time_h * math.exp(point.time_log_spread * self.time),
        )


def members(found: dict[str, Fitted], count: int, stream: int, held: dict[str, float]) -> list[Member]:
    """Draws of everything: priors as the library has them, the fitted parameters as found here."""
    generator = np.random.default_rng([SEED, stream])
    drawn = []
    for row in generator.standard_normal((count, len(PRIORS) + 3)):
        z = dict(zip(PRIORS, row.tolist(), strict=False))
        for name, parameter in found.items():
            z[name] = spreads_away(name, parameter.median * math.exp(parameter.spread * z[name]))
        z.update(held)
        temperature, yeast, time = row[len(PRIORS) :].tolist()
        while abs(temperature) > MOST_SPREADS:
            temperature = float(generator.standard_normal())
        drawn.append(Member(z, temperature, yeast, time))
    return drawn


@dataclasses.dataclass(frozen=True)
class Check:
    """A published point beside its forecast."""

    point: Point
    low: float
    median: float
    high: float
    typical: float  # of the course with every parameter at its median, everything unstated as assumed
    end: float  # the same when nothing goes on any more: conversion and efficiency alone

    @property
    def inside(self) -> bool:
        return self.low <= self.point.value <= self.high

    def off(self, value: float) -> float:
        """Relative error, percent of the published value."""
        return 100.0 * (value / self.point.value - 1.0)

    @property
    def holds(self) -> bool:
        """Whether a bound is one: published beside the median of the forecast; the low-temperature bound lies in the band."""
        if self.point.role == "slow bound":
            return self.point.value <= self.median
        if self.point.role == "fast bound":
            return self.point.value >= self.median
        return self.inside


def quantiles(values: Sequence[float]) -> tuple[float, float, float]:
    low, median, high = np.percentile(values, BAND, method="inverted_cdf")  # no mean of two infinities
    return float(low), float(median), float(high)


def checked(rows: Sequence[Point], found: dict[str, Fitted], assumptions: mash.Assumptions, count: int) -> list[Check]:
    """Forecasts of the points; those of one series share their draws."""
    names = sorted({p.series for p in points()})
    middle = {**HELD, **{name: spreads_away(name, parameter.median) for name, parameter in found.items()}}
    checks = []
    for point in rows:
        drawn = members(found, count, names.index(point.series), HELD)
        band = quantiles([figure(m.of(point), assumptions, m.z) for m in drawn])
        at_end = dataclasses.replace(point, time_h=LONG_H)
        checks.append(Check(point, *band, figure(point, assumptions, middle), figure(at_end, assumptions, middle)))
    return checks


@dataclasses.dataclass(frozen=True)
class Validation:
    """Forecasts of what was kept out of the fit, with conversion and rates from the works of the fit alone, and the bounds."""

    checks: list[Check]
    bounds: list[Check]

    @property
    def counted(self) -> list[Check]:
        return [c for c in self.checks if c.point.counted == "yes"]

    @property
    def end_points(self) -> list[Check]:
        return [c for c in self.counted if c.point.time_h >= END_H]

    @property
    def near_end(self) -> float:
        """Share of the end points within NEAR of conversion and efficiency alone."""
        return share(abs(c.off(c.end)) <= NEAR for c in self.end_points)

    @property
    def near_typical(self) -> float:
        """The same of the course at the medians."""
        return share(abs(c.off(c.typical)) <= NEAR for c in self.end_points)

    @property
    def near_median(self) -> float:
        """The same of the median of the forecast."""
        return share(abs(c.off(c.median)) <= NEAR for c in self.end_points)

    @property
    def coverage(self) -> float:
        """Of the figures that count, one a measurement."""
        return share(c.inside for c in self.counted)

    @property
    def coverage_of_all(self) -> float:
        return share(c.inside for c in self.checks)

    @property
    def misses(self) -> list[Check]:
        return [c for c in self.checks if not c.inside]


END_H = 72.0  # from here on a work calls its figure the end


def share(kept: Iterable[bool]) -> float:
    return float(np.mean(list(kept)))


@cache
def validation(count: int = MEMBERS) -> Validation:
    found = fit().found
    bounds = points("slow bound", "fast bound", "low-temperature bound")
    return Validation(
        checked(points("validation"), found, blind_assumptions(), count),
        checked(bounds, found, blind_assumptions(), count),
    )


@dataclasses.dataclass(frozen=True)
class Cold:
    """Days until a batch is done: what the library forecasts at a steady temperature."""

    temperature_c: float
    low: float
    median: float
    high: float
    never: float  # share of the members that is not done within LONG_H


COLD_C = (15.0, 20.0, 25.0, 30.0)
COLD_GRAIN, COLD_GRAIN_KG, COLD_WATER_KG, COLD_YEAST_KG = "wheat", 20.0, 80.0, 0.1
HOURS_PER_DAY = 24.0


@cache
def cold(count: int = MEMBERS) -> list[Cold]:
    potential = mash.potential(
        mash.Bill([(COLD_GRAIN, COLD_GRAIN_KG)]), water_kg=COLD_WATER_KG, assumptions=fermentation.no_cook()
    )
    drawn = members(fit().found, count, len(points()), {})
    rows = []
    for temperature in COLD_C:
        conditions = fermentation.Conditions(temperature, fermentation.Ambient.constant(temperature))
        inoculum = fermentation.Inoculum(yeast_kg=COLD_YEAST_KG)
        done = [fermentation.simulate(potential, inoculum, conditions, [LONG_H], m.z).done_h for m in drawn]
        days = [math.inf if math.isnan(h) else h / HOURS_PER_DAY for h in done]
        rows.append(Cold(temperature, *quantiles(days), share(math.isinf(d) for d in days)))
    return rows


# ---------------------------------------------------------------------------------------------------------------- the report


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join("| " + " | ".join(row) + " |" for row in lines)


UNITS = {
    "ethanol_percent_of_theoretical": ("ethanol, % of theoretical", 1),
    "ethanol_g_per_l": ("ethanol, g/L", 1),
    "ethanol_per_dry": ("ethanol, g per g dry grain", 2),
    "abv": ("strength, % vol", 1),
    "conversion": ("starch converted, %", 1),
    "sugar_gone_h": ("sugar gone, h", 0),
    "co2_per_starch": ("CO2, g per g starch", 3),
    "peak_productivity": ("most ethanol, g/(L h)", 2),
    "swollen_per_native": ("swollen : native", 2),
    "sugar_g_per_l": ("sugar, g/L", 1),
}


def number(value: float, digits: int) -> str:
    if math.isnan(value):
        return "none"
    return "never" if math.isinf(value) else f"{value:.{digits}f}"


def parameters_part() -> str:
    def line(p: fermentation.KineticParameter) -> list[str]:
        return [p.name, p.unit, f"{p.median:g}", f"{p.spread:g} {p.scale}", p.evidence, f"{p.status}: {p.basis}"]

    return table(
        ["parameter", "unit", "median", "spread", "evidence", "source"],
        (line(p) for p in fermentation.kinetic_parameters()),
    )


def fits_part() -> str:
    f = fit()
    blind, default = blind_assumptions(), fermentation.no_cook()
    rate, ratio, uptake = (f.found[name] for name in FITTED)
    rows = [
        [
            "hydrolysis_rate",
            "Li et al. 2014, granules at 32 °C, 4 and 24 h",
            f"{f.granules.rate:.3f}",
            "moves by less than 2 % for a rounded 3 of 2.5 to 3.5",
        ],
        [
            "hydrolysis_rate",
            "Weller et al. 1984, maize, CO2 at 72 h against the cooked control",
            f"{f.maize:.3f}",
            f"{f.maize_least:.3f} at least; no upper end, since the CO2 of 72 h cannot be told from the end",
        ],
        [
            "hydrolysis_rate",
            "Fujio et al. 1985, cassava, yield at 96 h and the peak",
            f"{f.cassava:.3f}",
            f"{f.cassava_low:.3f} to {f.cassava_high:.3f} for the printed 72.3 to 83.5 %; yeast {GRAMS * f.cassava_yeast:.2f} g/kg; {f.cassava_six_works:.3f} with the conversion of all six works",
        ],
        ["hydrolysis_rate", "Fujio et al. 1984", "none", "time not stated: the end point only"],
        [
            "fast_rate_ratio",
            "Li et al. 2014",
            f"{f.granules.ratio:.1f}",
            f"{f.granules_low.ratio:.1f} to {f.granules_high.ratio:.1f} for a rounded 3 of 2.5 to 3.5",
        ],
        [
            "uptake_rate",
            "Oliveira et al. 2016, sugar, 11 points",
            f"{f.uptake:.2f}",
            f"rms {f.uptake_rms:.1f} g/L (the published model: 2.5); {f.uptake_colder:.2f} if it was at 30 °C; other works: "
            + " and ".join(f"{u:.2f}" for u in other_uptakes()),
        ],
    ]
    inhibited = "; ".join(
        f"{g:g} g/L of starch: {number(r, 1) if not math.isnan(r) else 'no ratio meets both points'}"
        for g, r in f.inhibited.items()
    )
    return "\n\n".join(
        [
            table(["parameter", "work", "value", "range"], rows),
            f"hydrolysis_rate: geometric mean {f.mean_rate:.3f} 1/h at 30 °C, scatter s = {f.scatter:.2f} of the logarithm; spread for the next work "
            f"s·sqrt(1 + 1/n) with n = {len(f.rates)}: {rate.spread:.2f} ({f.strict_spread:.2f} with Student's factor for so few works, which is left out: the "
            f"scatter holds the works' unstated temperature, dose and pitch, and a forecast draws these again). fast_rate_ratio: {ratio.median:g}, spread "
            f"{ratio.spread:.2f}, half the range over √3. uptake_rate: {uptake.median:g} g/(g h), spread {uptake.spread:.2f} = s·sqrt(1 + 1/n)·t(n - 1)/1.645 "
            "over three works.",
            f"With glucose inhibition at its prior median the ratio would be, for {inhibited}.",
            f"Conversion for the validation, from the works of the fit alone: {blind.conversion.value:.1f} ± {blind.conversion.standard_uncertainty:.1f} %; "
            f"the library's default from all six works: {default.conversion.value:.1f} ± {default.conversion.standard_uncertainty:.1f} %. "
            f"Efficiency: {blind.fermentation_efficiency.value:.1f} ± {blind.fermentation_efficiency.standard_uncertainty:.1f} %.",
        ]
    )


def check_line(c: Check) -> list[str]:
    what, digits = UNITS[c.point.quantity]
    p = c.point
    time = (
        "-" if p.quantity == "sugar_gone_h" else f"{p.time_h:g} h" + (", not stated" if p.time_log_spread > 0.0 else "")
    )
    return [
        f"{p.series} ({p.rows})",
        time,
        what,
        number(p.value, digits),
        number(c.typical, digits),
        number(c.median, digits),
        f"{number(c.low, digits)} to {number(c.high, digits)}",
    ]


HEAD = ["series", "time", "figure", "published", "at the medians", "forecast: median", "90 % band"]


def count_of(kept: Iterable[bool]) -> str:
    values = list(kept)
    return f"{sum(values)} of {len(values)}"


def summary(v: Validation) -> list[str]:
    ends = v.end_points
    known = [c for c in v.checks if c.point.counted != "memory"]
    return [
        f"end points within {NEAR:g} % of conversion and efficiency alone: {count_of(abs(c.off(c.end)) <= NEAR for c in ends)}",
        f"end points within {NEAR:g} % of the course at the medians: {count_of(abs(c.off(c.typical)) <= NEAR for c in ends)}",
        f"end points within {NEAR:g} % of the forecast's median: {count_of(abs(c.off(c.median)) <= NEAR for c in ends)}",
        f"inside the 90 % band, one figure a measurement: {count_of(c.inside for c in v.counted)} ({100.0 * v.coverage:.0f} %)",
        f"inside the 90 % band, every figure but those from memory: {count_of(c.inside for c in known)} ({100.0 * share(c.inside for c in known):.0f} %)",
    ]


def validation_part() -> str:
    v = validation()
    notes = {"yes": "", "no": "second figure", "memory": "from memory"}
    rows = [
        [*check_line(c), "yes" if c.inside else "no", f"{c.off(c.median):+.1f}", notes[c.point.counted]]
        for c in v.checks
    ]
    return "\n\n".join(
        [table([*HEAD, "inside", "error of the median, %", ""], rows), "\n".join(f"- {line}" for line in summary(v))]
    )


def bounds_part() -> str:
    rows = [[*check_line(c), c.point.role, "yes" if c.holds else "no"] for c in validation().bounds]
    return table([*HEAD, "bound", "holds"], rows)


def failures_part() -> str:
    v = validation()
    lines = []
    for c in v.misses:
        what, digits = UNITS[c.point.quantity]
        side = "above" if c.point.value > c.high else "below"
        lines.append(
            f"- {c.point.series} ({c.point.rows}), {what}: published {number(c.point.value, digits)} lies {side} the band of {number(c.low, digits)} to {number(c.high, digits)}."
        )
    for c in v.bounds:
        if not c.holds:
            what, digits = UNITS[c.point.quantity]
            lines.append(
                f"- {c.point.series} ({c.point.rows}), {what}: as a {c.point.role} of {number(c.point.value, digits)} it does not hold, the forecast's median is {number(c.median, digits)}."
            )
    below = [c for c in v.end_points if c.median < c.point.value and c.point.form != "gelatinised"]
    raw = [c for c in v.end_points if c.point.form != "gelatinised"]
    lines.append(
        f"- The forecast's median lies below the published end point in {len(below)} of {len(raw)} works on raw starch."
    )
    return "\n".join(lines)


def cold_part() -> str:
    def line(c: Cold) -> list[str]:
        factor = f"{c.high / c.low:.0f}" if math.isfinite(c.high) else "open"
        return [
            f"{c.temperature_c:.0f}",
            *(number(x, 0) for x in (c.low, c.median, c.high)),
            factor,
            f"{100.0 * c.never:.0f}",
        ]

    return table(
        [
            "mash and air, °C",
            "5 % done by day",
            "half done by day",
            "95 % done by day",
            "last over first",
            "never done, % of the members",
        ],
        map(line, cold()),
    )


PARTS: dict[str, Callable[[], str]] = {
    "parameters": parameters_part,
    "fits": fits_part,
    "validation": validation_part,
    "bounds": bounds_part,
    "failures": failures_part,
    "cold": cold_part,
}


def with_parts(text: str) -> str:
    """The document with its generated parts made anew."""
    for name, part in PARTS.items():
        begin, end = f"<!-- generated: {name} -->\n", f"<!-- end: {name} -->"
        head, found, rest = text.partition(begin)
        _, closed, tail = rest.partition(end)
        if not found or not closed:
            raise SystemExit(f"{DOCUMENT.name} has no part {name}")
        text = f"{head}{begin}\n{part()}\n\n{end}{tail}"
    return text


def holds(header: Fitted, found: Fitted) -> bool:
    """Whether the header has a figure to two digits."""

    def same(a: float, b: float) -> bool:
        return abs(a - b) <= HALF_DIGIT * 10.0 ** (math.floor(math.log10(b)) - 1)

    return same(header.median, found.median) and same(header.spread, found.spread)


HALF_DIGIT = 0.51  # half a unit of the second digit, and its rounding


def main() -> int:
    if sys.argv[1:] == ["--write"]:
        DOCUMENT.write_text(with_parts(DOCUMENT.read_text(encoding="utf-8")), encoding="utf-8")
    elif sys.argv[1:]:
        raise SystemExit("usage: no_cook_model.py [--write]")
    for name in ("fits", "validation", "bounds", "failures", "cold"):
        print(f"{name}\n\n{PARTS[name]()}\n")
    code = 0
    for name, header in in_header().items():
        found = fit().found[name]
        good = holds(header, found)
        code = code if good else 1
        print(
            f"{name}: fitted {found.median:g}, spread {found.spread:.2f}; header {header.median:g}, spread {header.spread:.2f}"
            f"{'' if good else '  <- differs'}"
        )
    return code


if __name__ == "__main__":
    sys.exit(main())

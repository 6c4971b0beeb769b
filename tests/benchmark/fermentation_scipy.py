"""How long a course and an ensemble take beside SciPy's LSODA on the same equations, written in NumPy.

    python tests/benchmark/fermentation_scipy.py [members]

The equations are written here a second time, in NumPy, and their solution is checked against the library's before anything is timed.
"""

import sys
import time
from collections.abc import Callable
from typing import Any

import ferment
import numpy as np
import numpy.typing as npt
from ferment import fermentation, mash
from scipy.integrate import solve_ivp

Array = npt.NDArray[np.float64]

HOURS = np.arange(0.0, 14.0 * 24.0 + 1.0, 6.0)
MASH_C, MEAN_C, SWING_C, WARMEST_HOUR = 18.0, 18.0, 4.0, 15.0
YEAST_KG, WATER_KG = 0.03, 72.0
DISSOLVED_SHARE = 0.765
COURSE = (1e-8, 1e-10)  # relative and absolute tolerance of simulate
ENSEMBLE = (1e-6, 1e-8)  # of the courses of a forecast

# Atomic weights and what follows from them, see ferment.sources(), "stoichiometry".
C, H, O = 12.011, 1.008, 15.999  # noqa: E741
GLUCOSE = 6 * C + 12 * H + 6 * O
STARCH_UNIT = 6 * C + 10 * H + 5 * O
DISACCHARIDE = 12 * C + 22 * H + 11 * O
GLUCOSE_PER_STARCH = GLUCOSE / STARCH_UNIT
WATER_PER_STARCH = (2 * H + O) / STARCH_UNIT
HEXOSE_PER_DISACCHARIDE = 2.0 * GLUCOSE / DISACCHARIDE
ETHANOL_PER_GLUCOSE = 2.0 * (2 * C + 6 * H + O) / GLUCOSE

BILL = mash.Bill([("flaked barley", 14.0), ("flaked rye", 4.0), ("barley malt", 1.5)])
POTENTIAL = mash.potential(BILL, water_kg=WATER_KG, assumptions=fermentation.no_cook())
INOCULUM = fermentation.Inoculum(yeast_kg=YEAST_KG)
CONDITIONS = fermentation.Conditions(MASH_C, fermentation.Ambient.day_night(MEAN_C, SWING_C, WARMEST_HOUR))
PRIORS = {"dissolved_share": (DISSOLVED_SHARE, 0.8)}


def positive(x: Any) -> Any:
    return np.maximum(x, 0.0)


class Batch:
    """The batch above at the medians: y' = self(t, y), per kg of mash."""

    def __init__(self) -> None:
        p = {row.name: row.median for row in fermentation.kinetic_parameters()}
        masses = np.array([kg for _, kg in BILL.items])
        grains = [grain for grain, _ in BILL.items]
        parts = {
            name: np.array([getattr(g, name).value for g in grains]) / 100.0
            for name in ("moisture", "starch", "sugars")
        }
        disaccharides = np.array([g.disaccharide_share for g in grains]) / 100.0
        total = masses.sum() + WATER_KG
        starch, sugars, moisture = (float(masses @ parts[name]) for name in ("starch", "sugars", "moisture"))
        hexose = float(masses @ (parts["sugars"] * (1.0 + disaccharides * (HEXOSE_PER_DISACCHARIDE - 1.0))))
        dry = masses.sum() - moisture
        self.starch, self.sugars, self.hexose = starch / total, sugars / total, hexose / total
        self.water = (WATER_KG + moisture) / total
        rest = (dry - starch - sugars) / total
        self.soluble = POTENTIAL.assumptions.soluble_share_of_rest.value / 100.0 * rest
        limit = POTENTIAL.assumptions.conversion.value / 100.0
        self.efficiency = POTENTIAL.assumptions.fermentation_efficiency.value / 100.0
        forms = dict(fermentation.starch_forms())
        fast = sum(kg * g.starch.value / 100.0 * forms[g.form] / 100.0 for g, kg in BILL.items) / starch
        self.open = self.starch * limit
        self.start = np.array(
            [
                self.open * (1.0 - fast),
                self.open * fast,
                self.hexose,
                YEAST_KG / total * p["pitched_activity"],
                0.0,
                0.0,
                1.0,
                MASH_C,
            ]
        )
        litres = WATER_KG + moisture + 0.69 * dry
        wall = 6.0 * np.pi * np.cbrt(litres / 1000.0 / (2.0 * np.pi)) ** 2
        self.heat_capacity = 4.186 * ((WATER_KG + moisture) / total + 0.38 * dry / total)
        self.heat_loss = CONDITIONS.vessel.heat_transfer_w_per_m2_k * wall * 3.6 / total
        self.p = p

    def __call__(self, t: float, y: Array) -> Array:
        p = self.p
        slow, fast, sugar, yeast, grown, adapted, enzyme, temperature = y
        converted = self.open - (slow + fast)
        taken = self.hexose + GLUCOSE_PER_STARCH * converted - sugar
        all_sugar = GLUCOSE_PER_STARCH * converted + self.hexose
        fermented = taken / all_sugar
        water = self.water - converted * WATER_PER_STARCH - fermented * (self.hexose - self.sugars)
        ethanol = taken * self.efficiency * ETHANOL_PER_GLUCOSE
        by_products = taken * (1.0 - self.efficiency)
        extract = (
            (1.0 - fermented) * (GLUCOSE_PER_STARCH * converted + self.sugars)
            + DISSOLVED_SHARE * by_products
            + self.soluble
        )
        per_liquid = 1000.0 / (water + ethanol + extract)
        free = positive(sugar * per_liquid)
        strength = ethanol * per_liquid

        inverse = (1.0 / (temperature + 273.15) - 1.0 / 303.15) / 8.314462618e-3
        working = enzyme / (1.0 + free / p["glucose_inhibition"])
        rate = p["hydrolysis_rate"] * np.exp(-p["hydrolysis_activation_energy"] * inverse) * working
        least, best, greatest = 2.8, 32.3, 45.4
        if least <= temperature <= greatest:
            above = (best - least) * (temperature - best) - (best - greatest) * (best + least - 2.0 * temperature)
            warmth = (temperature - greatest) * (temperature - least) ** 2 / ((best - least) * above)
        else:
            warmth = 0.0
        uptake = (
            p["uptake_rate"]
            * warmth
            * yeast
            * adapted
            * free
            / (free + 2.81)
            * positive(1.0 - strength / p["ethanol_tolerance"])
        )
        growth = (
            p["growth_yield"]
            * uptake
            * positive(1.0 - strength / 82.8)
            * positive(1.0 - grown * per_liquid / p["growth_limit"])
        )
        d_slow = -rate * slow
        d_fast = -rate * p["fast_rate_ratio"] * fast
        outside = MEAN_C + SWING_C * np.cos(2.0 * np.pi * (t - WARMEST_HOUR) / 24.0)
        return np.array(
            [
                d_slow,
                d_fast,
                -GLUCOSE_PER_STARCH * (d_slow + d_fast) - uptake,
                growth - p["death_rate"] * np.exp(-177.7 * inverse) * yeast,
                growth,
                warmth / p["lag"] * (1.0 - adapted),
                -p["enzyme_decay"] * np.exp(-200.0 * inverse) * enzyme,
                (557.0 * uptake - self.heat_loss * (temperature - outside)) / self.heat_capacity,
            ]
        )


def by_scipy(batch: Batch, relative: float, absolute: float) -> Any:
    """SciPy's solution with the library's longest step."""
    return solve_ivp(
        batch, (0.0, HOURS[-1]), batch.start, method="LSODA", t_eval=HOURS, rtol=relative, atol=absolute, max_step=6.0
    )


def seconds(work: Callable[[], object], repeats: int, clock: Callable[[], float] = time.process_time) -> float:
    """The best of several runs. Processor time does not count what other programs take meanwhile; for several threads only the wall clock tells."""
    best = np.inf
    for _ in range(repeats):
        start = clock()
        work()
        best = min(best, clock() - start)
    return float(best)


def course(relative: float, absolute: float) -> fermentation.Course:
    return fermentation.simulate(
        POTENTIAL,
        INOCULUM,
        CONDITIONS,
        HOURS,
        priors=PRIORS,
        relative_tolerance=relative,
        absolute_tolerance=absolute,
    )


def check_equal(batch: Batch) -> None:
    """Both integrations of the same equations, closely; and the other way round as a check of the check: a changed rate is noticed."""
    relative, absolute = 1e-10, 1e-12
    ours = course(relative, absolute)
    y = by_scipy(batch, relative, absolute).y
    converted = (batch.open - y[0] - y[1]) / batch.starch * 100.0
    off = max(np.abs(ours.conversion - converted).max() / 100.0, np.abs(ours.temperature_c - y[7]).max() / 20.0)
    print(f"library and SciPy at a tolerance of {relative:g} differ by {off:.1e} (relative)")
    if off > 100.0 * relative:
        raise SystemExit("the two sets of equations are not the same")


def main(members: int) -> None:
    batch = Batch()
    check_equal(batch)
    print(f"instruction set {ferment.instruction_set()}; {len(HOURS)} times over {HOURS[-1] / 24.0:g} days")
    single = {}
    for name, (relative, absolute) in (("course", COURSE), ("ensemble", ENSEMBLE)):
        single[name] = seconds(lambda r=relative, a=absolute: by_scipy(batch, r, a), 7)
        calls = by_scipy(batch, relative, absolute).nfev
        ours = seconds(lambda r=relative, a=absolute: course(r, a), 100)
        print(
            f"one course, tolerance {relative:g}: SciPy {1e3 * single[name]:7.2f} ms ({calls} calls), "
            f"library {1e6 * ours:6.1f} us, ratio {single[name] / ours:.0f}"
        )
    for size in (400, members):

        def ensemble(threads: int, n: int = size) -> fermentation.Forecast:
            return fermentation.forecast(
                POTENTIAL, INOCULUM, CONDITIONS, HOURS, priors=PRIORS, members=n, threads=threads
            )

        each = seconds(lambda: ensemble(1), 3) / size
        one, two = (seconds(lambda t=t: ensemble(t), 3, time.perf_counter) for t in (1, 2))
        print(
            f"forecast of {size:7d}: {1e6 * each:6.2f} us each on one core, ratio to SciPy at the ensemble's tolerance "
            f"{single['ensemble'] / each:.0f}, at the course's {single['course'] / each:.0f}; two threads {one / two:.2f} times as fast"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20000)

"""Many threads on the same objects: each gets what one alone gets and its own errors, and long calls let others run."""

import inspect
import itertools
import pickle
import sys
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import batch, fermentation, instrument, liquid, mash, proofing, still, strength

THREADS = 6
ROUNDS = 2

BILL = mash.Bill([("flaked oats", 20.0), ("barley malt", 4.0)])
POTENTIAL = mash.potential(BILL, water_kg=90.0, assumptions=fermentation.no_cook())
BATCH = (
    POTENTIAL,
    fermentation.Inoculum(0.05),
    fermentation.Conditions(18.0, fermentation.Ambient.day_night(16.0, 6.0)),
)
READINGS = [
    fermentation.Reading(24.0, gravity=(1.008, 0.001)),
    fermentation.Reading(48.0, gravity=(1.004, 0.001), iodine=True),
]
GRAVITY = ferment.Measured(1.010, 0.0005)
FOUND = [
    strength.abv_from_boiling_point((95.0, 0.1), (101.3, 0.1), GRAVITY),
    strength.abv_from_boiled_down(GRAVITY, (1.018, 0.0005)),
]
STILL = still.Still(50.0, heating_kw=5.0)
WASH = still.Liquid.by_volume(30.0, 8.0, extract=2.0)
SPIRIT = still.Liquid.by_volume(30.0, 28.0)
SPIRIT_RUN = still.strip(SPIRIT, distillate_abv=5.0, points=21)
REQUEST = batch.PlanRequest(BILL, 90.0, STILL, curve_points=11)
LEDGER = batch.Ledger(12.0, 24.0, 21.0).measure("wash", (9.0, 0.1)).measure("low_wines", 8.0)
HYDROMETER = instrument.Hydrometer("plato", 15.0)
REFRACTOMETER = instrument.Refractometer()
EBULLIOMETER = instrument.Ebulliometer(0.1)
ABW = np.linspace(1.0, 95.0, 3000)
READ = np.linspace(2.0, 20.0, 3000)

WORK: dict[str, Callable[[int], Any]] = {
    "density of a spirit": lambda i: liquid.spirit_density(ABW, 10.0 + i).tobytes(),
    "its inverse": lambda i: liquid.abv_from_density(np.linspace(800.0, 980.0, 3000), 15.0 + i).tobytes(),
    "boiling points": lambda i: liquid.boiling_point(ABW[::10], 100.0 + i).tobytes(),
    "azeotrope": lambda i: liquid.azeotrope(80.0 + i),
    "hydrometer": lambda i: HYDROMETER.correct(READ, 15.0 + i),
    "hydrometer, one reading": lambda i: HYDROMETER.correct(5.0 + i, 25.0),
    "refractometer": lambda i: REFRACTOMETER.correct(READ, 15.0 + i),
    "ebulliometer": lambda i: EBULLIOMETER.strength(94.0 + 0.1 * i),
    "gravity balance": lambda i: strength.gravity_balance(np.linspace(1.04, 1.09, 500), 1.0 + 0.001 * i),
    "combine": lambda i: strength.combine(FOUND if i % 2 else FOUND[::-1]),
    "potential": lambda i: mash.potential(BILL, water_kg=80.0 + i, assumptions=fermentation.no_cook()),
    "end point": lambda _: fermentation.end_point(POTENTIAL),
    "reading of a wash": lambda i: fermentation.read_wash(POTENTIAL, 1.0 + 0.001 * i),
    "simulate": lambda i: fermentation.simulate(*BATCH, [0.0, 24.0 + i]),
    "forecast": lambda i: fermentation.forecast(*BATCH, [24.0], members=40, seed=i),
    "fit": lambda i: fermentation.fit(*BATCH, READINGS[: 1 + i % 2]),
    "check": lambda i: fermentation.check(*BATCH, READINGS[:1], members=2, seed=i),
    "strip": lambda i: still.strip(WASH, STILL, distillate_abv=2.0 + i, points=11),
    "rectify": lambda i: still.rectify(
        SPIRIT, still.Column(3, 0.2), still.TakeOff.at_reflux(1.0 + i), heating_kw=3.0, recovered=80.0, points=7
    ),
    "congeners": lambda i: still.congener_run(SPIRIT_RUN, {"methanol": 1.0 + i, "isoamyl_alcohols": 10.0}),
    "windows": lambda i: still.windows(SPIRIT_RUN, {"methanol": 1.0 + i}, rules=still.usual_boundaries()[2:]),
    "cuts": lambda i: still.work_out_cuts([still.Jar(1.0 + i, 60.0, "hearts"), still.Jar(1.0, 40.0, "tails")]),
    "dilution": lambda i: proofing.dilute(60.0, 10.0, 40.0 + i),
    "plan": lambda i: batch.plan(REQUEST, water_kg=90.0 + i),
    "plans": lambda i: batch.plans(REQUEST, water_kg=[90.0 + i, 95.0], threads=1 + i % 3),
    "ledger": lambda _: (LEDGER.sheet(), LEDGER.rows(), LEDGER.findings()),
    "copies of a ledger": lambda i: pickle.loads(pickle.dumps(LEDGER)).measure("hearts", 5.0 + i).sheet(),
}


@pytest.fixture
def _many_switches() -> Iterator[None]:
    usual = sys.getswitchinterval()
    sys.setswitchinterval(1e-5)
    yield
    sys.setswitchinterval(usual)


def at_once(work: Callable[[int], Any], threads: int = THREADS) -> list[Any]:
    """What work(i) gives in each of the threads, which begin at the same moment; what it throws is thrown."""
    together = threading.Barrier(threads)

    def run(i: int) -> Any:
        together.wait()
        return work(i)

    with ThreadPoolExecutor(threads) as pool:
        return list(pool.map(run, range(threads)))


@pytest.mark.usefixtures("_many_switches")
@pytest.mark.parametrize("name", WORK)
def test_every_thread_gets_what_one_gets(name: str) -> None:
    work = WORK[name]
    alone = [work(i) for i in range(ROUNDS)]
    found = at_once(lambda thread: [work((thread + i) % ROUNDS) for i in range(ROUNDS)])
    for thread, results in enumerate(found):
        assert results == [alone[(thread + i) % ROUNDS] for i in range(ROUNDS)]


@pytest.mark.usefixtures("_many_switches")
def test_everything_at_once() -> None:
    work = list(WORK.values())
    alone = [one(1) for one in work]
    shift = len(work) // THREADS + 1

    def run(thread: int) -> list[tuple[int, Any]]:
        order = [(shift * thread + k) % len(work) for k in range(len(work))]
        return [(k, work[k](1)) for k in order]

    for results in at_once(run):
        for k, result in results:
            assert result == alone[k]


BAD = np.where(np.arange(3000) == 777, 101.0, ABW)
ERRORS: list[tuple[Callable[[int], Any], Callable[[int], str]]] = [
    (lambda i: liquid.spirit_density(BAD + i, 20.0), lambda i: f"element [777]: abw {101 + i} % mass"),
    (lambda i: liquid.spirit_density(50.0, 100.0 + i), lambda i: f"temperature {100 + i} degC"),
    (lambda i: HYDROMETER.correct(READ, 100.0 + i), lambda i: f"{100 + i} degC"),
    (lambda i: mash.grain(f"stone {i}"), lambda i: f"stone {i}"),
    (lambda i: still.strip(WASH, distillate_abv=150.0 + i), lambda i: f" {150 + i} % is outside"),
    (lambda i: fermentation.simulate(*BATCH, [-1.0 - i]), lambda i: f"-{1 + i} h"),
    (lambda i: batch.plan(REQUEST, water_kg=-1.0 - i), lambda i: f"-{1 + i} kg"),
    (lambda i: batch.plans(REQUEST, water_kg=[90.0, -1.0 - i], threads=2), lambda i: f"-{1 + i} kg"),
]


@pytest.mark.usefixtures("_many_switches")
@pytest.mark.parametrize("which", range(len(ERRORS)))
def test_errors_stay_in_their_thread(which: int) -> None:
    wrong, message = ERRORS[which]
    good = liquid.spirit_density(ABW, 20.0).tobytes()

    def run(thread: int) -> bool:
        for _ in range(ROUNDS):
            if thread % 2:
                with pytest.raises(ferment.Error) as told:
                    wrong(thread)
                assert message(thread) in str(told.value)
            else:  # raises no one else's error: the same loops, all elements in their range
                assert liquid.spirit_density(ABW, 20.0).tobytes() == good
                assert not np.isnan(HYDROMETER.correct(READ, 20.0).sg).any()
        return True

    assert all(at_once(run))


def test_numpy_hears_of_no_error_of_another_thread() -> None:
    def run(thread: int) -> bool:
        with np.errstate(all="raise"):
            for _ in range(ROUNDS):
                if thread % 2:
                    assert np.isnan(liquid.spirit_density(BAD, 20.0, out_of_range="nan")).sum() == 1
                else:
                    liquid.spirit_density(ABW, 20.0)
        return True

    assert all(at_once(run))


@pytest.mark.usefixtures("_many_switches")
def test_a_ledger_keeps_what_many_threads_enter() -> None:
    book = batch.Ledger(100.0, 200.0, 180.0)
    each = 25

    def enter(thread: int) -> None:
        for k in range(each):
            book.take_out("wash", 0.01, note=f"sample {thread}-{k}")

    at_once(enter)
    for one in (book, pickle.loads(pickle.dumps(book))):
        sheet = one.sheet()
        assert len(one._entries) == THREADS * each
        assert one == book
        assert sheet == book.sheet()


def test_instruction_sets_change_while_others_compute() -> None:
    usual = ferment.instruction_set()
    alone = liquid.spirit_density(ABW, 20.0)

    def run(thread: int) -> bool:
        for k in range(20):
            if thread == 0:
                ferment.use_instruction_set(ferment.instruction_sets()[k % len(ferment.instruction_sets())])
            elif not np.allclose(liquid.spirit_density(ABW, 20.0), alone, rtol=1e-14, atol=0.0):
                return False
        return True

    try:
        assert all(at_once(run))
    finally:
        ferment.use_instruction_set(usual)


# Long calls do not hold the interpreter.

# One call each: several would let others run between them.
LONG_RUN = still.strip(SPIRIT, distillate_abv=5.0, points=1000)
CONGENERS = dict.fromkeys((congener.name for congener in still.congeners()), 1.0)
LONG: dict[str, Callable[[], Any]] = {
    "array, arithmetic": lambda: liquid.spirit_density(np.full(8_000_000, 50.0), 20.0),
    "array, search": lambda: liquid.boiling_point(np.full(200_000, 8.0), 100.0),
    "hydrometer": lambda: HYDROMETER.correct(np.full(40_000, 5.0), 25.0),
    "refractometer": lambda: REFRACTOMETER.correct(np.full(20_000, 12.0), 25.0),
    "simulate": lambda: fermentation.simulate(*BATCH, [0.0, 300.0], longest_step_h=0.004),
    "forecast": lambda: fermentation.forecast(*BATCH, [24.0, 200.0], members=1000),
    "forecast with readings": lambda: fermentation.forecast(*BATCH, [24.0, 200.0], readings=READINGS, members=500),
    "fit": lambda: fermentation.fit(*BATCH, READINGS),
    "check": lambda: fermentation.check(*BATCH, READINGS, members=100),
    "strip": lambda: still.strip(WASH, distillate_abv=1.0, points=20_000),
    "rectify": lambda: still.rectify(
        SPIRIT, still.Column(10, 0.2), still.TakeOff.at_strength(92.0, 50.0), heating_kw=3.0, recovered=90.0, points=801
    ),
    "congeners": lambda: still.congener_run(LONG_RUN, CONGENERS),
    "windows": lambda: still.windows(LONG_RUN, CONGENERS, rules=still.usual_boundaries()),
    "cuts": lambda: still.work_out_cuts([still.Jar(1.0, 60.0, "hearts")] * 2000),
    "plan": lambda: batch.plan(REQUEST, water_kg=90.0, curve_points=10_000),
    "plans": lambda: batch.plans(REQUEST, water_kg=np.linspace(90.0, 140.0, 60), threads=1),
}
TRIES = 4


def longest_pause(call: Callable[[], Any]) -> tuple[float, float]:
    """How long the call took, and the longest time in which another thread, which only looks at the clock, did not run meanwhile [s]."""
    ticks: list[float] = []
    ready, done = threading.Event(), threading.Event()

    def tick() -> None:
        while not done.is_set():
            ticks.append(time.perf_counter())
            ready.set()
            time.sleep(0.0005)

    other = threading.Thread(target=tick)
    other.start()
    try:
        ready.wait()
        start = time.perf_counter()
        call()
        end = time.perf_counter()
    finally:
        done.set()
        other.join()
    inside = [start, *(x for x in ticks if start < x < end), end]
    return end - start, max(b - a for a, b in itertools.pairwise(inside))


def lets_others_run(call: Callable[[], Any]) -> bool:
    """On a busy machine another thread may be kept waiting by chance, so that one good try is enough."""
    for _ in range(TRIES):
        took, pause = longest_pause(call)
        if pause < took / 2.0:
            return True
    return False


def test_a_call_that_holds_the_interpreter_would_be_found() -> None:
    assert not lets_others_run(lambda: sum(range(4_000_000)))


@pytest.mark.parametrize("name", LONG)
def test_others_run_during_a_long_call(name: str) -> None:
    assert lets_others_run(LONG[name])


# Threads of the library's own.


def test_plans_are_the_same_on_any_number_of_threads() -> None:
    grain = np.linspace(20.0, 30.0, 5)[:, None]
    one, *others = (
        batch.plans(REQUEST, grain_kg=grain, water_kg=[90.0, 100.0, -1.0], out_of_range="nan", threads=threads)
        for threads in (1, 2, 5, 8, None)
    )
    assert np.isnan(one.hearts_l).sum() == len(grain)
    assert others == [one] * len(others)


@pytest.mark.skipif("threads" not in inspect.signature(fermentation.forecast).parameters, reason="one thread only")
@pytest.mark.parametrize("members", [3, 300, 5000])
@pytest.mark.parametrize("readings", [None, READINGS], ids=["prior", "readings"])
def test_forecasts_are_the_same_on_any_number_of_threads(members: int, readings: Any) -> None:
    one, *others = (
        fermentation.forecast(*BATCH, [12.0, 60.0], readings=readings, members=members, threads=threads)
        for threads in (1, 2, 5, 8, None)
    )
    assert others == [one] * len(others)
    assert fermentation.forecast(*BATCH, [12.0, 60.0], readings=readings, members=members, seed=2) != one

"""Pictures: what is drawn is what the results say, axes name quantity and unit, and matplotlib is needed for nothing else."""

import dataclasses
import math
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import Measured, batch, fermentation, instrument, mash, plot, proofing, still, strength

matplotlib = pytest.importorskip("matplotlib")
matplotlib.use("Agg")

from matplotlib import pyplot  # noqa: E402
from matplotlib.axes import Axes  # noqa: E402
from matplotlib.colors import to_hex  # noqa: E402
from matplotlib.container import BarContainer, ErrorbarContainer  # noqa: E402
from matplotlib.figure import Figure  # noqa: E402

HOURS = range(0, 15 * 24 + 1, 12)
BILL = mash.Bill([("flaked barley", 14.0), ("barley malt", 2.0)])
POTENTIAL = mash.potential(BILL, water_l=60.0, assumptions=fermentation.no_cook())
PITCHED = fermentation.Inoculum(yeast_kg=0.02)
SHED = fermentation.Conditions(mash_c=16.0, ambient=fermentation.Ambient.constant(21.0))
READINGS = [
    fermentation.Reading(24.0, gravity=(1.02, 0.001), iodine=True),
    fermentation.Reading(
        96.0, gravity=(1.003, 0.0005), temperature_c=(22.0, 0.5), co2_lost_kg=(2.2, 0.1), iodine=False
    ),
]
BATCH = (POTENTIAL, PITCHED, SHED)
COURSE = fermentation.simulate(*BATCH, HOURS)
FORECAST = fermentation.forecast(*BATCH, HOURS, members=50)
CHECK = fermentation.check(*BATCH, READINGS, members=50)
FITTED = fermentation.fit(*BATCH, READINGS)
END = fermentation.end_point(POTENTIAL)

GRAVITY = Measured(0.9972, 0.0005)
BY_LIGHT = strength.abv_from_hydrometer_and_refractometer(GRAVITY, brix=(4.9, 0.1))
BY_SCALE = strength.abv_from_co2_loss(lost_kg=(4.46, 0.05), wash_l=(75.0, 1.0), gravity=GRAVITY)
WRONG = strength.abv_from_boiled_down((0.9972, 0.0005), (1.0118, 0.0005))

RUN = still.strip(still.Liquid.by_volume(22.0, 8.0, 1.5), distillate_abv=2.0)
SPIRIT = still.Liquid.by_volume(30.0, 30.0)
SPIRIT_RUN = still.strip(SPIRIT, distillate_abv=1.0, points=101)
COLUMN = still.rectify(
    SPIRIT, still.Column(6, 0.3), take_off=still.TakeOff.at_strength(88.0, 15.0), heating_kw=2.0, distillate_abv=60.0
)
CONGENERS = still.congener_run(SPIRIT_RUN, {"ethyl_acetate": 30.0, "isoamyl_alcohols": 150.0, "furfural": 2.0})
WINDOWS = still.windows(SPIRIT_RUN, {one.name: 1.0 for one in still.congeners()})
CUTS = still.work_out_cuts(
    [
        still.Jar(0.1, 82.0, "fore_shots"),
        still.Jar(0.5, 80.0, "heads"),
        still.Jar(1.0, 74.0, "hearts"),
        still.Jar(1.0, 68.0, "hearts"),
        still.Jar(0.8, 50.0, "tails"),
    ]
)
PLAN = batch.plan(bill=BILL, water_l=60.0, stripping_still=still.Still(boiler_l=30.0, heating_kw=3.0))
LEDGER = PLAN.ledger().measure("hearts", volume_l=(3.0, 0.02), abv=(67.0, 0.2)).bring_in("low_wines", (0.5, 0.02))

DRAWINGS: dict[str, Callable[..., Axes]] = {
    "course": lambda **o: plot.course(COURSE, readings=READINGS, **o),
    "course of a forecast": lambda **o: plot.course(FORECAST, "abv", **o),
    "expected": lambda **o: plot.expected(CHECK, **o),
    "causes": lambda **o: plot.causes(CHECK, **o),
    "residuals": lambda **o: plot.residuals(FITTED, **o),
    "budget": lambda **o: plot.budget(END.abv, unit="% vol", **o),
    "strengths": lambda **o: plot.strengths([BY_LIGHT, BY_SCALE], **o),
    "correction of a hydrometer": lambda **o: plot.correction(instrument.Hydrometer(), **o),
    "correction of an alcoholometer": lambda **o: plot.correction(instrument.Alcoholometer(), **o),
    "correction of a refractometer": lambda **o: plot.correction(instrument.Refractometer(), **o),
    "stripping": lambda **o: plot.stripping(RUN, **o),
    "column_run": lambda **o: plot.column_run(COLUMN, **o),
    "cuts of a plan": lambda **o: plot.cuts(PLAN, **o),
    "cuts of jars": lambda **o: plot.cuts(CUTS, **o),
    "cuts of windows": lambda **o: plot.cuts(WINDOWS, run=SPIRIT_RUN, **o),
    "congeners": lambda **o: plot.congeners(CONGENERS, **o),
    "alcohol": lambda **o: plot.alcohol(PLAN, **o),
    "alcohol of a ledger": lambda **o: plot.alcohol(LEDGER, **o),
    "dilution": lambda **o: plot.dilution(68.0, (45.0, 40.0), 7.0, **o),
    "chart": lambda **o: plot.chart(
        [1.0, 2.0, 3.0],
        [10.0, 20.0],
        [[1.0, 2.0, 3.0], [2.0, 3.0, 4.0]],
        x_label="water [L]",
        y_label="grain [kg]",
        z_label="hearts [L]",
        mark=(2.0, 15.0),
        **o,
    ),
    "chart in steps": lambda **o: plot.chart(
        [1.0, 2.0, 3.0],
        [10.0, 20.0],
        [[1.0, 2.0, 2.0], [2.0, 2.0, 3.0]],
        x_label="water [L]",
        y_label="grain [kg]",
        z_label="charges [1]",
        steps=True,
        mark=(2.0, 15.0),
        **o,
    ),
}
DRAWN = pytest.mark.parametrize("draw", DRAWINGS.values(), ids=DRAWINGS)


@pytest.fixture(autouse=True)
def closed() -> Iterator[None]:
    yield
    pyplot.close("all")


@pytest.fixture
def ax() -> Axes:
    """Axes that pyplot knows nothing of."""
    return Figure(layout="constrained").add_subplot()


def labels(ax: Axes) -> list[str]:
    legend = ax.get_legend()
    return [] if legend is None else [text.get_text() for text in legend.get_texts()]


def line(ax: Axes, label: str) -> tuple[np.ndarray, np.ndarray]:
    found = [one for one in ax.get_lines() if one.get_label() == label]
    assert len(found) == 1, label
    return np.asarray(found[0].get_xdata(), dtype=float), np.asarray(found[0].get_ydata(), dtype=float)


def words(ax: Axes) -> str:
    return "\n".join(text.get_text() for text in ax.texts)


def bars(ax: Axes) -> list[Any]:
    return [bar for container in ax.containers if isinstance(container, BarContainer) for bar in container]


# ---- all of them ----


@DRAWN
def test_draws_where_it_is_told(draw: Callable[..., Axes], ax: Axes) -> None:
    before = dict(matplotlib.rcParams)
    assert draw(ax=ax, title="a title") is ax
    assert dict(matplotlib.rcParams) == before
    assert pyplot.get_fignums() == []  # nothing left behind
    assert ax.get_title(loc="left") == "a title"
    ax.figure.canvas.draw()


@DRAWN
def test_makes_a_figure_of_its_own(draw: Callable[..., Axes]) -> None:
    ax = draw()
    assert isinstance(ax, Axes)
    assert len(pyplot.get_fignums()) == 1
    ax.figure.canvas.draw()


@DRAWN
def test_axes_name_quantity_and_unit(draw: Callable[..., Axes], ax: Axes) -> None:
    draw(ax=ax)
    assert re.search(r"\w.* \[.+\]$", ax.get_xlabel())
    assert re.search(r"\w.* \[.+\]$", ax.get_ylabel()) or [tick.get_text() for tick in ax.get_yticklabels()]


@DRAWN
def test_nothing_is_clipped(draw: Callable[..., Axes]) -> None:
    figure = draw(title="a title").figure
    figure.canvas.draw()
    drawn = figure.get_tightbbox(figure.canvas.get_renderer())
    width, height = figure.get_size_inches()
    slack = 0.02  # in, of anti-aliasing
    assert drawn.x0 >= -slack
    assert drawn.y0 >= -slack
    assert drawn.x1 <= width + slack
    assert drawn.y1 <= height + slack


@DRAWN
def test_legend_is_not_over_the_data(draw: Callable[..., Axes], ax: Axes) -> None:
    draw(ax=ax)
    ax.figure.canvas.draw()
    legend = ax.get_legend()
    if legend is not None:
        assert legend.get_window_extent().y0 >= ax.bbox.y1


@DRAWN
def test_lines_differ_in_print(draw: Callable[..., Axes], ax: Axes) -> None:
    """Each line of the legend has dashes or a mark of its own, so that colour is not needed."""
    draw(ax=ax)
    seen = [
        (str(one.get_linestyle()), str(one.get_marker()), getattr(one, "_unscaled_dash_pattern", None))
        for axes in ax.figure.axes
        for one in axes.get_lines()
        if not str(one.get_label()).startswith("_") and len(np.atleast_1d(one.get_xdata())) > 2
    ]
    assert len(seen) == len({str(one) for one in seen})


@pytest.mark.parametrize(
    "name", ["stripping", "column_run", "cuts of a plan", "cuts of jars", "cuts of windows", "congeners"]
)
def test_still_runs_carry_the_caution(name: str, ax: Axes) -> None:
    DRAWINGS[name](ax=ax)
    assert plot.CAUTION in words(ax)
    assert "not drink" in plot.CAUTION
    assert "icence and local law come first" in plot.CAUTION


@pytest.mark.parametrize(
    "draw", [plot.course, plot.expected, plot.causes, plot.residuals, plot.budget, plot.correction]
)
def test_another_result_is_refused(draw: Callable[..., Axes]) -> None:
    with pytest.raises(TypeError, match=rf"{draw.__name__} takes (a [B-DF-HJ-NP-Z]|an [AEIOU])\w+.*, not Liquid"):
        draw(SPIRIT)


@pytest.mark.parametrize("draw", [plot.stripping, plot.column_run, plot.cuts, plot.congeners, plot.alcohol])
def test_another_result_of_the_still_is_refused(draw: Callable[..., Axes]) -> None:
    with pytest.raises(TypeError, match=rf"{draw.__name__} takes (a [B-DF-HJ-NP-Z]|an [AEIOU])\w+.*, not Course"):
        draw(COURSE)


def test_palette_holds_colours() -> None:
    assert len({to_hex(colour) for colour in plot.PALETTE.values()}) == 8


# ---- without matplotlib ----


def test_import_leaves_matplotlib_alone() -> None:
    program = "import ferment, ferment.plot, sys; print('matplotlib' in sys.modules)"
    found = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "False"


def test_without_matplotlib_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    for draw in DRAWINGS.values():
        with pytest.raises(ImportError) as caught:
            draw()
        assert str(caught.value) == 'ferment.plot needs matplotlib: pip install "libferment[plot]" brings it'


# ---- fermentation ----


@pytest.mark.parametrize(
    "quantity",
    [
        "gravity",
        "abv",
        "temperature_c",
        "conversion",
        "co2_lost_kg",
        "co2_l_per_h",
        "heat_w",
        "yeast_g_per_kg",
        "hydrometer",
    ],
)
def test_course_is_the_course(quantity: str, ax: Axes) -> None:
    plot.course(COURSE, quantity, label="as planned", done=False, ax=ax)
    days, values = line(ax, "as planned")
    assert np.array_equal(days * 24.0, COURSE.time_h)
    assert np.array_equal(values, getattr(COURSE, quantity), equal_nan=True)


def test_every_field_of_a_course_can_be_drawn() -> None:
    for kind, result in ((fermentation.Course, COURSE), (fermentation.Forecast, FORECAST)):
        names = [field.name for field in dataclasses.fields(kind)]
        for name in names:
            if name in ("time_h", "done_h", "steps", "members"):
                continue
            axes = plot.course(result, name, ax=Figure().add_subplot())
            assert re.search(r"\[.+\]$", axes.get_ylabel()), name


def test_course_says_when_it_is_done(ax: Axes) -> None:
    plot.course(COURSE, ax=ax)
    days, _ = line(ax, f"done on day {COURSE.done_h / 24.0:.1f}")
    assert days[0] == pytest.approx(COURSE.done_h / 24.0)
    never = fermentation.simulate(*BATCH, [0.0, 12.0])
    assert math.isnan(never.done_h)
    assert not any("done" in text for text in labels(plot.course(never, label="x", ax=Figure().add_subplot())))


def test_forecast_has_median_and_bands_in_order(ax: Axes) -> None:
    plot.course(FORECAST, "gravity", ax=ax)
    _, median = line(ax, "median")
    assert np.array_equal(median, FORECAST.gravity[:, 2])
    outer, inner = (
        next(one for one in ax.collections if one.get_label() == f"{share} % of the courses") for share in (90, 50)
    )
    days = FORECAST.time_h / 24.0
    for band, low, high in ((outer, 0, 4), (inner, 1, 3)):
        corners = band.get_paths()[0].vertices
        for i in (0, len(days) // 2, len(days) - 1):
            at = corners[np.isclose(corners[:, 0], days[i]), 1]
            assert at.min() == pytest.approx(FORECAST.gravity[i, low], abs=1e-12)
            assert at.max() == pytest.approx(FORECAST.gravity[i, high], abs=1e-12)
    assert (FORECAST.gravity[:, 0] <= FORECAST.gravity[:, 1]).all()
    assert (median <= FORECAST.gravity[:, 4]).all()


def test_forecast_says_when_it_is_done(ax: Axes) -> None:
    plot.course(FORECAST, ax=ax)
    done = FORECAST.done()
    span = next(one for one in ax.get_lines() if str(one.get_label()).startswith("done, 90 %"))
    assert span.get_xdata()[0] == pytest.approx(done.p5 / 24.0)
    assert span.get_xdata()[1] == pytest.approx(min(done.p95, FORECAST.time_h[-1]) / 24.0)
    short = fermentation.forecast(*BATCH, range(0, 145, 12), members=50)
    assert math.isfinite(short.done().p5)
    assert math.isinf(short.done().p95)
    assert any("to after 6" in text for text in labels(plot.course(short, ax=Figure().add_subplot())))


def test_iodine_is_percent(ax: Axes) -> None:
    plot.course(FORECAST, "iodine", readings=READINGS, done=False, ax=ax)
    assert np.array_equal(np.asarray(ax.get_lines()[0].get_ydata(), dtype=float), 100.0 * FORECAST.iodine)
    assert line(ax, "iodine test")[1].tolist() == [100.0, 0.0]


@pytest.mark.parametrize(("quantity", "count"), [("gravity", 2), ("temperature_c", 1), ("co2_lost_kg", 1), ("abv", 0)])
def test_readings_with_error_bars(quantity: str, count: int, ax: Axes) -> None:
    plot.course(FORECAST, quantity, readings=READINGS, ax=ax)
    found = [one for one in ax.containers if isinstance(one, ErrorbarContainer)]
    assert len(found) == min(count, 1)
    if not found:
        return
    points, _, spans = found[0].lines
    read = [(one.time_h / 24.0, getattr(one, quantity)) for one in READINGS if getattr(one, quantity) is not None]
    assert np.asarray(points.get_xdata()).tolist() == [day for day, _ in read]
    assert np.asarray(points.get_ydata()).tolist() == [value.value for _, value in read]
    for (low, high), (_, value) in zip((s[:, 1] for s in spans[0].get_segments()), read, strict=True):
        assert high - low == pytest.approx(4.0 * value.standard_uncertainty)


def test_two_results_on_the_same_axes(ax: Axes) -> None:
    plot.course(FORECAST, label="planned", ax=ax)
    plot.course(COURSE, label="medians", style=1, ax=ax)
    assert "planned: median" in labels(ax)
    assert "medians" in labels(ax)
    assert line(ax, "medians")[1].tolist() == COURSE.gravity.tolist()


@pytest.mark.parametrize(
    ("asked", "hint"), [("gravty", "gravity"), ("temperature", "temperature_c"), ("sg", "gravity"), ("wort", "")]
)
def test_unknown_quantity(asked: str, hint: str) -> None:
    with pytest.raises(ferment.InputError) as caught:
        plot.course(FORECAST, asked)
    message = str(caught.value)
    assert f'quantity of a Forecast "{asked}" is not known' in message
    assert ("did you mean" in message) == bool(hint)
    if hint:
        assert f"did you mean {hint!r}?" in message
    assert message.endswith("(allowed are gravity, abv, temperature_c, conversion, co2_lost_kg, co2_l_per_h, iodine)")
    assert pyplot.get_fignums() == []


def test_quantity_of_a_course_only() -> None:
    plot.course(COURSE, "heat_w")
    with pytest.raises(ferment.InputError, match="heat_w"):
        plot.course(FORECAST, "heat_w")


def test_expected(ax: Axes) -> None:
    plot.expected(CHECK, ax=ax)
    points = [float(one.get_xdata()[0]) for one in ax.get_lines() if one.get_marker() in ("o", "X")]
    assert points == [one.z for one in CHECK.expected]
    assert [tick.get_text() for tick in ax.get_yticklabels()] == ["gravity", "temperature", "mass lost"]
    assert "read 1.0030" in words(ax)
    assert "read 22.0 °C" in words(ax)
    assert "kg" in words(ax)
    assert CHECK.stands in ax.get_title(loc="left")
    low, high = ax.get_xlim()
    assert low < min(points)
    assert max(points) < high


def test_expected_of_iodine_alone() -> None:
    only = fermentation.check(*BATCH, [fermentation.Reading(96.0, iodine=True)], members=20)
    with pytest.raises(ferment.InputError, match="no gravity, temperature or mass lost"):
        plot.expected(only)


def test_causes_add_up(ax: Axes) -> None:
    plot.causes(CHECK, ax=ax)
    widths = [bar.get_width() for bar in bars(ax)]
    stands, causes = widths[: len(CHECK.probability)], widths[len(CHECK.probability) :]
    assert stands == sorted((100.0 * chance for _, chance in CHECK.probability), reverse=True)
    assert sum(stands) == pytest.approx(100.0)
    assert sum(causes) == pytest.approx(100.0)
    names = [tick.get_text() for tick in ax.get_yticklabels()]
    assert names[0] == CHECK.stands
    assert names[len(stands)] == CHECK.because
    assert ("contradict" in words(ax)) == bool(CHECK.warning)


def test_readings_that_contradict_everything_are_said_to(ax: Axes) -> None:
    plot.causes(dataclasses.replace(CHECK, warning="the readings contradict the plan and every cause"), ax=ax)
    assert "read again" in words(ax)


def test_residuals(ax: Axes) -> None:
    plot.residuals(FITTED, ax=ax)
    for what, label in (("gravity", "gravity"), ("co2_lost", "mass lost"), ("iodine", "iodine test, its surprise")):
        kept = [one for one in FITTED.residuals if one.what == what]
        days, values = line(ax, label)
        assert days.tolist() == [one.time_h / 24.0 for one in kept]
        assert values.tolist() == [one.deviation for one in kept]
    with pytest.raises(ferment.InputError, match="no readings"):
        plot.residuals(fermentation.fit(*BATCH, []))


# ---- uncertainty and strength ----


def test_budget_is_the_variance(ax: Axes) -> None:
    plot.budget(END.abv, most=3, unit="% vol", ax=ax)
    widths = [bar.get_width() for bar in bars(ax)]
    assert sum(widths) == pytest.approx(100.0)
    name, part = END.abv.budget[0]
    assert widths[0] == pytest.approx(100.0 * (part / END.abv.standard_uncertainty) ** 2, rel=1e-9)
    names = [tick.get_text() for tick in ax.get_yticklabels()]
    assert names[0] == name
    assert names[-1] == f"{len(END.abv.budget) - 3} others"
    assert "% vol" in words(ax)
    assert f"{END.abv.value:.2f} ± {END.abv.standard_uncertainty:.2f} % vol" == ax.get_title(loc="left")


def test_budget_of_a_strength() -> None:
    for found in (BY_LIGHT, strength.combine([BY_LIGHT, BY_SCALE])):
        ax = plot.budget(found, most=50, ax=Figure().add_subplot())
        assert [tick.get_text() for tick in ax.get_yticklabels()] == [name for name, _ in found.abv.budget]
        assert "% vol" in words(ax)


def test_budget_of_nothing() -> None:
    with pytest.raises(ferment.InputError, match="has no budget"):
        plot.budget(ferment.Estimate(1.0, 0.1))
    with pytest.raises(ferment.InputError, match="most = 0"):
        plot.budget(END.abv, most=0)


def test_strengths(ax: Axes) -> None:
    plot.strengths([BY_LIGHT, BY_SCALE], ax=ax)
    combined = strength.combine([BY_LIGHT, BY_SCALE])
    points = [one.lines for one in ax.containers if isinstance(one, ErrorbarContainer)]
    for (point, _, spans), found in zip(points, (BY_LIGHT, BY_SCALE), strict=True):
        assert point.get_xdata()[0] == found.abv.value
        (low, _), (high, _) = spans[0].get_segments()[0]
        assert (low, high) == pytest.approx(found.abv.interval(2.0))
    band = ax.patches[0]
    assert band.get_x() == pytest.approx(combined.abv.interval(2.0)[0])
    assert band.get_width() == pytest.approx(4.0 * combined.abv.standard_uncertainty)
    for one in combined.agreements:
        assert f"weight {100.0 * one.weight:.0f} %" in words(ax)
    assert ax.get_title(loc="left") == "they agree"


def test_strengths_that_do_not_agree(ax: Axes) -> None:
    found = [BY_LIGHT, BY_SCALE, WRONG]
    combined = strength.combine(found)
    assert combined.outlier == WRONG.route
    plot.strengths(found, combined=combined, ax=ax)
    assert ax.get_title(loc="left") == f"they do not agree, furthest off: {WRONG.route}"
    marks = [one.lines[0].get_marker() for one in ax.containers if isinstance(one, ErrorbarContainer)]
    assert marks == ["o", "o", "X"]


def test_strengths_of_one_and_of_none() -> None:
    ax = plot.strengths([BY_LIGHT])
    assert [tick.get_text() for tick in ax.get_yticklabels()] == [BY_LIGHT.route]
    with pytest.raises(ferment.InputError, match="at least 1"):
        plot.strengths([])
    with pytest.raises(ferment.InputError, match="other routes"):
        plot.strengths([BY_LIGHT, WRONG], combined=strength.combine([BY_LIGHT, BY_SCALE]))


# ---- instruments ----


def test_correction_of_a_hydrometer(ax: Axes) -> None:
    glass = instrument.Hydrometer("sg")
    wash = instrument.Wash(abv=5.0)
    plot.correction(glass, [(1.05, "wort"), (1.012, wash)], temperatures_c=[10.0, 20.0, 30.0], ax=ax)
    for label, reading, sample in (
        ("wort, reading 1.05", 1.05, "wort"),
        ("wash of 5 % vol, reading 1.012", 1.012, wash),
    ):
        at_c, off = line(ax, label)
        true = glass.correct(reading, at_c, liquid=sample).sg
        assert off == pytest.approx((np.asarray(true) - reading) * 1000.0, abs=1e-9)
        assert off[0] < 0.0 < off[2]  # a cold sample reads high
        assert off[1] == pytest.approx(0.0, abs=1e-6)
    assert "[0.001 SG]" in ax.get_ylabel()


@pytest.mark.parametrize(("scale", "unit"), [("plato", "% mass"), ("density", "kg/m³")])
def test_correction_on_other_scales(scale: Any, unit: str) -> None:
    ax = plot.correction(instrument.Hydrometer(scale), ax=Figure().add_subplot())
    assert unit in ax.get_ylabel()
    for one in ax.get_lines()[1:]:
        at_c, off = np.asarray(one.get_xdata()), np.asarray(one.get_ydata())
        assert np.interp(20.0, at_c, off) == pytest.approx(0.0, abs=2e-3)  # it reads true where it is calibrated


def test_correction_of_an_alcoholometer(ax: Axes) -> None:
    glass = instrument.Alcoholometer()
    plot.correction(glass, [40.0, 60.0], temperatures_c=[5.0, 20.0, 35.0], ax=ax)
    at_c, off = line(ax, "reading 60 % vol")
    assert off == pytest.approx(np.asarray(glass.correct(60.0, at_c)) - 60.0)
    assert "% vol" in ax.get_ylabel()
    proof = plot.correction(instrument.Alcoholometer("us_proof"), ax=Figure().add_subplot())
    assert "US proof" in proof.get_ylabel()


def test_correction_where_nothing_floats() -> None:
    ax = plot.correction(
        instrument.Hydrometer(), [(1.05, "wort")], temperatures_c=[20.0, 90.0], ax=Figure().add_subplot()
    )
    off = line(ax, "wort, reading 1.05")[1]
    assert math.isfinite(off[0])
    assert math.isnan(off[1])
    with pytest.raises(ferment.RangeError):
        plot.correction(instrument.Hydrometer(), [(0.99, "wort")])
    with pytest.raises(ferment.InputError, match="at least 1"):
        plot.correction(instrument.Hydrometer(), [])
    with pytest.raises(ferment.InputError, match="temperatures_c must be one row"):
        plot.correction(instrument.Hydrometer(), temperatures_c=20.0)


@pytest.mark.parametrize("scale", ["brix", "compensated_brix"])
def test_correction_of_a_refractometer(scale: Any, ax: Axes) -> None:
    eye = instrument.Refractometer(scale, zero=0.2)
    wash = instrument.Wash(abv=5.0)
    asked = [(12.0, "wort"), (6.0, wash), (12.0, "starch_hydrolysate")]
    plot.correction(eye, asked, temperatures_c=[15.0, 20.0, 28.0], ax=ax)
    at_c, off = line(ax, "wort, reading 12")
    assert off == pytest.approx(np.asarray(eye.correct(12.0, at_c).brix) - 12.0)
    assert off[1] == pytest.approx(-0.2, abs=1e-9)  # what it shows too much is taken off
    of_wash = line(ax, "wash of 5 % vol, reading 6")[1]
    found = eye.correct(6.0, 28.0, wash)
    assert of_wash[2] == pytest.approx(instrument.Refractometer(scale).reads(found.abw, found.extract, 20.0) - 6.0)
    assert of_wash[1] == pytest.approx(-0.2, abs=1e-9)
    assert math.isnan(line(ax, "starch hydrolysate, reading 12")[1][0])  # its correction begins at 20 degC
    assert "[°Bx]" in ax.get_ylabel()


def test_correction_of_an_index(ax: Axes) -> None:
    eye = instrument.Refractometer("refractive_index")
    plot.correction(eye, temperatures_c=[12.0, 20.0, 35.0], ax=ax)
    at_c, off = line(ax, "wort, reading 1.351")
    assert off == pytest.approx((np.asarray(eye.correct(1.351, at_c).refractive_index) - 1.351) * 1000.0)
    assert off[0] < 0.0 < off[2]  # a cold sample bends more
    assert line(ax, "wash of 7 % vol, reading 1.342")[1][1] == pytest.approx(0.0, abs=1e-6)
    assert "[0.001]" in ax.get_ylabel()


# ---- the still ----


@pytest.mark.parametrize("against", ["collected_l", "collected_kg", "recovered"])
def test_stripping(against: str, ax: Axes) -> None:
    plot.stripping(RUN, against=against, ax=ax)
    for label, values in (
        ("coming over", RUN.curve.distillate_abv),
        ("all that has come over", RUN.curve.low_wines_abv),
        ("in the pot", RUN.curve.pot_abv),
    ):
        over, abv = line(ax, label)
        assert np.array_equal(over, getattr(RUN.curve, against))
        assert np.array_equal(abv, values)
    end = next(text for text in labels(ax) if text.startswith("end: "))
    assert str(RUN.low_wines) in end


def test_stripping_against_what_is_not_known() -> None:
    with pytest.raises(ferment.InputError, match="did you mean 'collected_l'"):
        plot.stripping(RUN, against="collected")


def test_column_run(ax: Axes) -> None:
    plot.column_run(COLUMN, ax=ax)
    assert np.array_equal(line(ax, "coming over")[1], COLUMN.curve.distillate_abv)
    right = next(one for one in ax.figure.axes if one is not ax)
    over, reflux = line(right, "reflux (right)")
    assert np.array_equal(over, COLUMN.curve.collected_l)
    assert np.array_equal(reflux, COLUMN.curve.reflux)
    assert "[mol" in right.get_ylabel()
    assert {"reflux (right)", "in the pot"} <= set(labels(ax))


def test_cuts_of_a_plan(ax: Axes) -> None:
    plot.cuts(PLAN, ax=ax)
    over, abv = line(ax, "coming over")
    assert np.array_equal(over, PLAN.spirit_run.curve.collected_l)
    assert np.array_equal(abv, PLAN.spirit_run.curve.distillate_abv)
    for area, one in zip(ax.collections, PLAN.fractions, strict=True):
        box = area.get_paths()[0].get_extents()
        assert (box.x0, box.x1) == pytest.approx((one.from_l, one.to_l))
        assert box.y1 == pytest.approx(one.from_abv, abs=0.05)
    assert len({area.get_hatch() for area in ax.collections}) == 4
    for name in ("fore-shots", "heads", "hearts", "tails"):
        assert name in words(ax)
    hearts = PLAN.fraction("hearts").content
    assert f"hearts: {hearts.volume_l:.3g} L of {hearts.abv:.1f} % vol" in labels(ax)


def test_cuts_of_several_charges(ax: Axes) -> None:
    smaller = PLAN.what_if(boiler_l=12.0)
    assert smaller.spirit_charges.count > 1
    plot.cuts(smaller, ax=ax)
    assert f"one of {smaller.spirit_charges.count} charges" in ax.get_xlabel()


def test_cuts_of_jars(ax: Axes) -> None:
    plot.cuts(CUTS, ax=ax)
    drawn = bars(ax)
    assert [bar.get_height() for bar in drawn] == [one.jar.abv for one in CUTS.jars]
    ends = [bar.get_x() + bar.get_width() for bar in drawn]
    assert ends == pytest.approx([one.cumulative_volume_l for one in CUTS.jars])
    assert [bar.get_x() for bar in drawn] == pytest.approx([0.0, *ends[:-1]])
    assert len(labels(ax)) == 4  # no jar is undecided


def test_cuts_of_windows(ax: Axes) -> None:
    plot.cuts(WINDOWS, run=SPIRIT_RUN, ax=ax)
    curve = SPIRIT_RUN.curve
    spans = [one.lines for one in ax.containers if isinstance(one, ErrorbarContainer)]
    reached = [one for one in WINDOWS.boundaries if one.reached]
    for (point, _, doubt), one in zip(spans, reached, strict=True):
        at = float(point.get_xdata()[0])
        assert at == pytest.approx(np.interp(one.collected_kg, curve.collected_kg, curve.collected_l))
        (low, _), (high, _) = doubt[0].get_segments()[0]
        assert low <= at <= high
    assert "the palate decides" in words(ax)
    assert "rectified" not in words(ax)


def test_cuts_of_windows_need_their_run() -> None:
    with pytest.raises(ferment.InputError, match="give it as run="):
        plot.cuts(WINDOWS)
    with pytest.raises(ferment.InputError, match="run is for Windows only"):
        plot.cuts(CUTS, run=SPIRIT_RUN)
    with pytest.raises(TypeError, match="run of cuts"):
        plot.cuts(WINDOWS, run=CUTS)


def test_windows_of_a_column_are_said_not_to_hold(ax: Axes) -> None:
    rectified = still.windows(COLUMN, {one.name: 1.0 for one in still.congeners()})
    assert rectified.rectified
    plot.cuts(rectified, run=COLUMN, ax=ax)
    assert "none of these windows holds" in words(ax)


@pytest.mark.parametrize("against", ["alcohol_share", "collected_kg"])
def test_congeners(against: str, ax: Axes) -> None:
    plot.congeners(CONGENERS, against=against, ax=ax)
    assert ax.get_yscale() == "log"
    low_doubt = still.congener_run(
        SPIRIT_RUN, {"ethyl_acetate": 30.0, "isoamyl_alcohols": 150.0, "furfural": 2.0}, volatility_power=-1.0
    )
    for course, band in zip(CONGENERS.courses, ax.collections, strict=True):
        over, level = line(ax, f"{course.name.replace('_', ' ')}, trend")
        assert np.array_equal(level, np.where(course.grams_per_hl > 0.0, course.grams_per_hl, np.nan), equal_nan=True)
        if against == "collected_kg":
            assert np.array_equal(over, CONGENERS.collected_kg)
        else:
            assert over[0] == 0.0
            assert 95.0 < over[-1] <= 100.0
        corners = band.get_paths()[0].vertices
        first = corners[np.isclose(corners[:, 0], 0.0), 1]
        factor = still.congener(course.name).doubt_factor
        # At the first drop the level is in proportion to the volatility.
        assert first.max() == pytest.approx(level[0] * factor, rel=1e-6)
        assert first.min() == pytest.approx(low_doubt.course(course.name).grams_per_hl[0], rel=1e-6)
        assert first.min() <= level[0] <= first.max()
    assert "Trends only" in words(ax)


def test_some_congeners(ax: Axes) -> None:
    plot.congeners(CONGENERS, names=["furfural"], doubt=False, ax=ax)
    assert labels(ax) == ["furfural, trend"]
    assert len(ax.collections) == 0
    with pytest.raises(ferment.InputError, match="did you mean 'furfural'"):
        plot.congeners(CONGENERS, names=["furfurol"])
    with pytest.raises(ferment.InputError, match="no congener to show"):
        plot.congeners(CONGENERS, names=[])


def test_bands_of_another_pressure_are_refused() -> None:
    high = still.congener_run(SPIRIT_RUN, {"ethyl_acetate": 30.0}, pressure_kpa=80.0)
    with pytest.raises(ferment.InputError, match=r"does not give this run at 101\.325 kPa"):
        plot.congeners(high)
    assert len(plot.congeners(high, pressure_kpa=80.0).collections) == 1
    assert len(plot.congeners(high, doubt=False).collections) == 0


def test_congeners_of_a_column_are_said_to_be_wrong(ax: Axes) -> None:
    rectified = still.congener_run(COLUMN, {"ethyl_acetate": 30.0})
    assert rectified.rectified
    plot.congeners(rectified, ax=ax)
    assert "rectified" in words(ax)


# ---- the batch ----


@pytest.mark.parametrize("ledger", [PLAN.ledger(), LEDGER], ids=["planned", "measured"])
def test_alcohol_adds_up(ledger: batch.Ledger, ax: Axes) -> None:
    plot.alcohol(ledger, ax=ax)
    balance = ledger.balance()
    names = [tick.get_text() for tick in ax.get_yticklabels()]
    drawn = list(zip(names, bars(ax), strict=True))
    known = {row.name for row in ledger.rows() if row.line in ("start", "stage")}
    ended = [bar.get_width() for name, bar in drawn if name not in known and not name.startswith("came in")]
    assert sum(ended) == pytest.approx(balance.start_l.value + balance.came_in_l.value, rel=1e-8)
    assert drawn[0][1].get_width() == pytest.approx(balance.start_l.value)
    assert drawn[-1][0].startswith("in hand")
    assert drawn[-1][1].get_x() == pytest.approx(0.0, abs=1e-8)  # what left and what is in hand meet
    assert "± 2 standard uncertainties" in labels(ax)


def test_alcohol_of_a_plan_is_that_of_its_ledger() -> None:
    one, other = (plot.alcohol(what, ax=Figure().add_subplot()) for what in (PLAN, PLAN.ledger()))
    assert [bar.get_width() for bar in bars(one)] == [bar.get_width() for bar in bars(other)]


def test_alcohol_steps_down_to_each_stage(ax: Axes) -> None:
    plot.alcohol(PLAN, ax=ax)
    names = [tick.get_text() for tick in ax.get_yticklabels()]
    drawn = dict(zip(names, bars(ax), strict=True))
    assert drawn["kept by the grain"].get_x() == pytest.approx(drawn["off the grain"].get_width(), rel=1e-8)
    assert drawn["tails"].get_x() == pytest.approx(drawn["hearts"].get_width(), rel=1e-8)


def test_what_was_taken_out_is_said_to_be(ax: Axes) -> None:
    plot.alcohol(PLAN.ledger().take_out("hearts", 0.1), ax=ax)
    assert "taken out of the hearts" in [tick.get_text() for tick in ax.get_yticklabels()]


# ---- water and what if ----


def test_dilution(ax: Axes) -> None:
    plot.dilution(68.0, (45.0, 40.0), 7.0, [5.0, 20.0, 30.0], ax=ax)
    at_c, water_kg = line(ax, "7 L of 68 to 40 % vol")
    assert water_kg.tolist() == [proofing.dilute(68.0, 7.0, 40.0, at).water_kg for at in at_c]
    assert water_kg[0] > water_kg[1] > water_kg[2]
    assert "[kg]" in ax.get_ylabel()
    assert labels(plot.dilution(68.0, 40.0, 7.0, ax=Figure().add_subplot())) == ["7 L of 68 to 40 % vol"]


def test_dilution_that_cannot_be() -> None:
    with pytest.raises(ferment.RangeError):
        plot.dilution(40.0, 68.0, 7.0)
    with pytest.raises(ferment.InputError, match="at least 1"):
        plot.dilution(68.0, [], 7.0)


NAMED: dict[str, Any] = {"x_label": "water [L]", "y_label": "grain [kg]", "z_label": "hearts [L]"}


def test_chart(ax: Axes) -> None:
    x, y = np.linspace(0.0, 3.0, 4), np.linspace(0.0, 2.0, 3)
    z = x[None, :] + 10.0 * y[:, None]
    z[0, 0] = math.nan
    plot.chart(x, y, z, levels=[5.0, 15.0], mark=(1.0, 1.0), ax=ax, **NAMED)
    lines = ax.collections[-1]
    # z is linear, so every line lies where it says.
    for level, path in zip([5.0, 15.0], lines.get_paths(), strict=True):
        corners = path.vertices
        assert len(corners) >= 2
        assert corners[:, 0] + 10.0 * corners[:, 1] == pytest.approx(level)
    assert {"5", "15"} <= {text.get_text().removesuffix(".0") for text in ax.texts}
    assert (ax.get_xlabel(), ax.get_ylabel()) == ("water [L]", "grain [kg]")
    assert labels(ax) == ["hearts [L]", "as planned"]


def test_chart_below_zero(ax: Axes) -> None:
    # Dashes would swallow the minus of a value.
    x = np.linspace(-3.0, 3.0, 4)
    plot.chart(x, x, np.add.outer(x, x), levels=[-1.5, 0.0, 1.5], mark=(0.0, 0.0), mark_label="today", ax=ax, **NAMED)
    lines = ax.collections[-1]
    assert {style for _, style in lines.get_linestyle()} == {None}
    shown = {text.get_text().replace("\N{MINUS SIGN}", "-") for text in ax.texts}
    assert {"-1.5", "1.5"} <= shown
    assert all(text.get_bbox_patch() is not None for text in ax.texts)
    assert labels(ax) == ["hearts [L]", "today"]


def test_chart_in_steps(ax: Axes) -> None:
    x, y = [1.0, 2.0, 4.0, 5.0], [10.0, 20.0, 30.0]
    z = [[1.0, 1.0, 2.0, 2.0], [1.0, 1.0, 2.0, -3.0], [1.0, math.nan, 2.0, 1.0]]
    plot.chart(x, y, z, steps=True, ax=ax, **NAMED)
    cells, borders = ax.collections
    assert cells.get_array().shape == (3, 4)
    assert (ax.get_xlim(), ax.get_ylim()) == ((0.5, 5.5), (5.0, 35.0))  # as far beyond the ends as half way to the next
    edges = {tuple(map(tuple, one)) for one in borders.get_segments()}
    assert ((3.0, 5.0), (3.0, 15.0)) in edges  # half way between 2 and 4
    assert ((1.5, 5.0), (1.5, 15.0)) not in edges
    assert ((4.5, 15.0), (4.5, 25.0)) in edges
    # A value in each field, at a point of it; both fields of 1 have theirs, what is no number has none.
    at = {(text.get_position(), text.get_text()) for text in ax.texts}
    assert sorted(text for _, text in at) == ["1", "1", "2", "\N{MINUS SIGN}3"]
    for (along, up), text in at:
        assert z[y.index(up)][x.index(along)] == float(text.replace("\N{MINUS SIGN}", "-"))
    assert labels(ax) == ["border of hearts [L]"]
    with pytest.raises(ferment.InputError, match="z takes 49 different values"):
        plot.chart(range(7), range(7), np.arange(49.0).reshape(7, 7), steps=True, **NAMED)


def test_chart_that_cannot_be() -> None:
    x, y, z = [1.0, 2.0, 3.0], [1.0, 2.0], [[1.0, 2.0, 3.0], [2.0, 3.0, 4.0]]
    with pytest.raises(ferment.InputError, match=r"shape \(3, 2\); it must be \(2, 3\)"):
        plot.chart(x, y, np.transpose(z), **NAMED)
    with pytest.raises(ferment.InputError, match="x must rise"):
        plot.chart([1.0, 1.0, 3.0], y, z, **NAMED)
    with pytest.raises(ferment.InputError, match="3 everywhere"):
        plot.chart(x, y, np.full((2, 3), 3.0), **NAMED)
    with pytest.raises(ferment.InputError, match="nowhere a number"):
        plot.chart(x, y, np.full((2, 3), math.nan), **NAMED)
    with pytest.raises(ferment.InputError, match='z_label "hearts"'):
        plot.chart(x, y, z, **(NAMED | {"z_label": "hearts"}))
    with pytest.raises(ferment.InputError, match="y must be one row of 2 numbers or more"):
        plot.chart(x, [1.0], z, **NAMED)

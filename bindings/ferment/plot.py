"""Pictures of results: one function for each question, onto axes of matplotlib.

    axes = plot.course(fermentation.forecast(...), readings=readings)
    axes.figure.savefig("course.png")

Each function takes results of the library, draws onto `ax`, or onto a figure of its own where none is given, and returns the axes. Lines, marks and
hatches differ as colours do, so that a print in black and white can be read; shades and error bars are what is not known. No setting of matplotlib is
changed. Legends stand above the axes: give `title`, which goes above them, rather than call set_title.

matplotlib is not needed by ferment, and is imported when something is drawn: pip install "libferment[plot]".
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt

from ferment import _core, proofing, still, strength
from ferment._keywords import hint
from ferment._values import Estimate
from ferment.batch import Ledger, LedgerRow, Plan
from ferment.fermentation import BAND_SHARES, Check, Course, Fitted, Forecast, Reading, Spread
from ferment.instrument import Alcoholometer, Hydrometer, Refractometer, SampleLiquid, Wash
from ferment.liquid import wash_density
from ferment.still import ColumnRun, CongenerRun, Cuts, Stripping, Windows
from ferment.strength import CombinedStrength, FoundStrength

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.patches import Patch

__all__ = [
    "CAUTION",
    "PALETTE",
    "alcohol",
    "budget",
    "causes",
    "chart",
    "column_run",
    "congeners",
    "correction",
    "course",
    "cuts",
    "dilution",
    "expected",
    "residuals",
    "strengths",
    "stripping",
]

Numbers: TypeAlias = npt.ArrayLike
Array: TypeAlias = npt.NDArray[np.float64]

#: Colours that colour-blind readers can tell apart: M. Okabe, K. Ito, "Color universal design", 2002; B. Wong, Nature Methods 8, 441 (2011).
PALETTE: Mapping[str, str] = MappingProxyType(
    {
        "black": "#000000",
        "orange": "#E69F00",
        "sky blue": "#56B4E9",
        "bluish green": "#009E73",
        "yellow": "#F0E442",
        "blue": "#0072B2",
        "vermilion": "#D55E00",
        "reddish purple": "#CC79A7",
    }
)
#: What stands under every picture of a still run; ferment.still.CAUTIONS says it in full.
CAUTION = "Fore-shots are not drink. Licence and local law come first; no flame, and never leave a running still."

_MISSING = 'ferment.plot needs matplotlib: pip install "libferment[plot]" brings it'
_PER_CENT = 100.0
_HOURS_PER_DAY = 24.0
_COVERAGE = 2.0  # standard uncertainties that an error bar reaches either way: about 95 %
_WIDTH_IN, _HEIGHT_IN = 7.2, 4.6  # of a figure of our own
_WIDTH_OF_ROWS_IN = 8.4
_ROW_IN, _AROUND_ROWS_IN = 0.34, 1.6
_SMALL = 8.5  # points, of legends and figures beside bars
_LEGEND_ROW = 1.45 * _SMALL
_BAR = 0.62  # of the height of a row
_GREY = "0.45"
_ROUND_OFF = 1e-9  # of the whole


class _Style(NamedTuple):
    colour: str
    dash: Any
    marker: str
    hatch: str


_STYLES = (
    _Style(PALETTE["blue"], "-", "o", ""),
    _Style(PALETTE["vermilion"], "--", "s", "////"),
    _Style(PALETTE["bluish green"], "-.", "^", "\\\\\\\\"),
    _Style(PALETTE["reddish purple"], ":", "D", "...."),
    _Style(PALETTE["sky blue"], (0, (7, 1, 1, 1, 1, 1)), "v", "xxxx"),
    _Style(PALETTE["orange"], (0, (3, 1, 1, 1)), "P", "++++"),
    _Style(PALETTE["black"], (0, (9, 3)), "X", "----"),
    _Style("0.55", (0, (1, 3)), "*", "oo"),
)


class _Quantity(NamedTuple):
    label: str
    factor: float = 1.0


#: Of the fields of Course and Forecast; those of a Forecast are the same by name.
_QUANTITIES: Mapping[str, _Quantity] = {
    "gravity": _Quantity("gravity [SG 20/20]"),
    "abv": _Quantity("strength of the liquid [% vol at 20 °C]"),
    "temperature_c": _Quantity("temperature of the mash [°C]"),
    "conversion": _Quantity("starch that has dissolved [% of all]"),
    "co2_lost_kg": _Quantity("lost as carbon dioxide, by the scale [kg]"),
    "co2_l_per_h": _Quantity("carbon dioxide given off [L/h]"),
    "iodine": _Quantity("chance that iodine shows starch [%]", _PER_CENT),
    "hydrometer": _Quantity("what a hydrometer shows in the mash [SG 20/20]"),
    "density": _Quantity("density of the liquid [kg/m³]"),
    "abw": _Quantity("ethanol in the liquid [% mass]"),
    "real_extract": _Quantity("real extract [% mass]"),
    "free_sugar": _Quantity("free sugar [% mass of the liquid]"),
    "open_starch_g_per_kg": _Quantity("starch that enzymes have yet to dissolve [g per kg of liquid]"),
    "starch_kg": _Quantity("starch left [kg]"),
    "ethanol_kg": _Quantity("ethanol made [kg]"),
    "pure_alcohol_l": _Quantity("pure alcohol made [L at 20 °C]"),
    "glycerol_kg": _Quantity("glycerol made [kg]"),
    "co2_kg": _Quantity("carbon dioxide made [kg]"),
    "co2_dissolved_kg": _Quantity("carbon dioxide dissolved [kg]"),
    "heat_w": _Quantity("heat of fermentation [W]"),
    "yeast_g_per_kg": _Quantity("live yeast, dry [g per kg of liquid]"),
}
_READ = ("gravity", "temperature_c", "co2_lost_kg")
#: How what was read is called in checks and fits, and with which unit.
_READ_UNITS = {"gravity": ("gravity", ""), "temperature": ("temperature", " °C"), "co2_lost": ("mass lost", " kg")}


# ---- what all pictures share ----


def _axes(ax: "Axes | None", rows: int | None = None) -> "Axes":
    """Those given, or those of a new figure, high enough for so many rows of bars."""
    try:
        import matplotlib  # noqa: F401
    except ImportError as error:
        raise ImportError(_MISSING) from error
    if ax is not None:
        return ax
    from matplotlib import pyplot

    size = (_WIDTH_IN, _HEIGHT_IN) if rows is None else (_WIDTH_OF_ROWS_IN, _AROUND_ROWS_IN + _ROW_IN * rows)
    _, new = pyplot.subplots(figsize=size, layout="constrained")
    return new


def _require(what: str, given: object, *kinds: type) -> None:
    if not isinstance(given, kinds):
        names = [kind.__name__ for kind in kinds]
        wanted = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
        article = "an" if wanted[0] in "AEIOU" else "a"
        raise TypeError(f"{what} takes {article} {wanted}, not {type(given).__name__}")


def _one_of(what: str, asked: str, known: Iterable[str]) -> str:
    names = list(known)
    if asked in names:
        return asked
    raise _core.InputError(f'{what} "{asked}" is not known{hint(str(asked), names)} (allowed are {", ".join(names)})')


def _tidy(ax: "Axes", x_label: str, y_label: str, grid: Literal["both", "x"] = "both") -> None:
    ax.set_xlabel(x_label)
    ax.set_ylabel(y_label)
    ax.grid(True, axis=grid, color="0.9", linewidth=0.6)
    ax.set_axisbelow(True)
    ax.spines["top"].set_visible(False)
    ax.spines["right"].set_visible(False)


def _legend(ax: "Axes", title: str, columns: int = 2, handles: Sequence[Any] | None = None) -> None:
    """Legend above the axes, and the title above that."""
    drawn = ax.get_legend_handles_labels()[0] if handles is None else list(handles)
    rows = 0
    if drawn:
        rows = math.ceil(len(drawn) / columns)
        ax.legend(
            handles=drawn,
            loc="lower left",
            bbox_to_anchor=(0.0, 1.01),
            borderaxespad=0.0,
            ncols=columns,
            frameon=False,
            fontsize=_SMALL,
            handlelength=2.8,
            labelspacing=0.3,
        )
    ax.set_title(title or ax.get_title(loc="left"), loc="left", pad=6.0 + rows * _LEGEND_ROW)


def _under(ax: "Axes", text: str) -> None:
    """Small words under the label of the axis."""
    ax.annotate(
        text,
        xy=(0.5, 0.0),
        xycoords=ax.xaxis.label,
        xytext=(0.0, -5.0),
        textcoords="offset points",
        ha="center",
        va="top",
        fontsize=_SMALL - 0.5,
        style="italic",
        annotation_clip=False,
    )


def _beside(ax: "Axes", place: float, text: str) -> None:
    """Figures at the right of a row."""
    ax.text(1.01, place, text, transform=ax.get_yaxis_transform(), ha="left", va="center", fontsize=_SMALL)


def _rows(ax: "Axes", names: Sequence[str]) -> None:
    ax.set_yticks(range(len(names)), labels=list(names))
    ax.set_ylim(len(names) - 0.5, -0.5)
    ax.tick_params(axis="y", length=0)


def _bar(ax: "Axes", place: float, width: float, style: _Style, *, left: float = 0.0, label: str = "") -> None:
    ax.barh(
        place,
        width,
        left=left,
        height=_BAR,
        color=style.colour if not style.hatch else "white",
        edgecolor=style.colour,
        hatch=style.hatch,
        label=label or "_",
    )


def _percent(share: float) -> str:
    """For a reader: 0.3 and 0 are "<1 %", 99.7 is ">99 %"."""
    if share < 1.0:
        return "<1 %"
    return ">99 %" if _PER_CENT - 1.0 < share < _PER_CENT else f"{share:.0f} %"


def _decimals(value: float) -> int:
    """Of a number that is shown to two figures."""
    return 3 if value == 0.0 or not math.isfinite(value) else max(0, 1 - math.floor(math.log10(abs(value))))


def _with_doubt(value: float, doubt: float, unit: str = "") -> str:
    """A number with its standard uncertainty, to two figures of the latter."""
    digits = _decimals(doubt)
    doubted = f" ± {doubt:.{digits}f}" if doubt > 0.0 else ""
    return f"{value:.{digits}f}{doubted}{' ' if unit else ''}{unit}"


# ---- fermentation ----


def course(
    result: Course | Forecast,
    quantity: str = "gravity",
    *,
    readings: Iterable[Reading] = (),
    done: bool = True,
    label: str = "",
    style: int = 0,
    title: str = "",
    ax: "Axes | None" = None,
) -> "Axes":
    """How a fermentation goes, over the days: a course as a line, a forecast as median with bands of 50 and 90 % of its courses.

    Parameters
    ----------
    result : Course or Forecast
        From fermentation.simulate or fermentation.forecast.
    quantity : str
        A field of it, in its unit: gravity, abv [% vol], temperature_c [degC], conversion [%], co2_lost_kg [kg], co2_l_per_h [L/h], iodine (as
        percent); a Course has more.
    readings : iterable of Reading
        Those that hold the quantity are drawn with error bars of two standard uncertainties, an iodine test as 0 or 100 %; the rest is left out.
    done : bool
        Whether to show when it is done: of a forecast the median, and the span of 90 % at the foot.
    label : str
        In the legend, in front of what is drawn.
    style : int
        Number of colour and line, 0 or more, for several results on the same axes.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        Days after pitching [d] against the quantity.

    Raises
    ------
    InputError
        For a quantity that the result has not, with the nearest and all others.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.course(expected, "abv", readings=[day_5])  # doctest: +SKIP
    """
    _require("course", result, Course, Forecast)
    known = [name for name in _QUANTITIES if hasattr(result, name)]
    told = _QUANTITIES[_one_of(f"quantity of a {type(result).__name__}", quantity, known)]
    ax = _axes(ax)
    look = _STYLES[style % len(_STYLES)]
    start = f"{label}: " if label else ""
    days = result.time_h / _HOURS_PER_DAY
    values = getattr(result, quantity) * told.factor
    if values.ndim > 1:
        _bands(ax, days, values, look, start)
    else:
        ax.plot(days, values, color=look.colour, linestyle=look.dash, label=label or None)
    if done:
        _done(ax, result, look, start)
    _readings(ax, readings, quantity, look)
    _tidy(ax, "after pitching [days]", told.label)
    _legend(ax, title)
    return ax


_FOOT, _FOOT_STEP = 0.02, 0.025  # of the height of the axes: where spans stand, one above the other


def _bands(ax: "Axes", days: Array, values: Array, look: _Style, start: str) -> None:
    shares = list(BAND_SHARES)
    for low, high, alpha in ((5.0, 95.0, 0.18), (25.0, 75.0, 0.32)):
        ax.fill_between(
            days,
            values[:, shares.index(low)],
            values[:, shares.index(high)],
            facecolor=(look.colour, alpha),
            edgecolor=(look.colour, 0.5),
            hatch=look.hatch[:2] if low == shares[0] else "",
            linewidth=0.0,
            label=f"{start}{high - low:.0f} % of the courses",
        )
        for edge in (low, high):
            ax.plot(days, values[:, shares.index(edge)], color=look.colour, linewidth=0.4, alpha=0.7, label="_")
    ax.plot(
        days,
        values[:, shares.index(50.0)],
        color=look.colour,
        linestyle=look.dash,
        linewidth=1.8,
        label=f"{start}median",
    )


def _done(ax: "Axes", result: Course | Forecast, look: _Style, start: str) -> None:
    last = float(result.time_h[-1]) / _HOURS_PER_DAY
    when = result.done() if isinstance(result, Forecast) else Spread(*[result.done_h] * len(BAND_SHARES))
    at = when.p50 / _HOURS_PER_DAY
    if math.isfinite(at):
        ax.axvline(
            at,
            color=look.colour,
            linestyle=(0, (2, 2)),
            linewidth=1.0,
            label=f"{start}done on day {at:.1f}",
            zorder=1.5,
        )
    if isinstance(result, Forecast) and math.isfinite(when.p5):
        foot = _FOOT + _FOOT_STEP * _STYLES.index(look)
        first, end = when.p5 / _HOURS_PER_DAY, when.p95 / _HOURS_PER_DAY
        ax.plot(
            [first, min(end, last)],
            [foot, foot],
            transform=ax.get_xaxis_transform(),
            color=look.colour,
            linewidth=2.5,
            marker="|" if math.isfinite(end) else None,
            markersize=9,
            solid_capstyle="butt",
            label=f"{start}done, 90 %: day {first:.1f} to "
            + (f"{end:.1f}" if math.isfinite(end) else f"after {last:.0f}"),
        )


def _readings(ax: "Axes", readings: Iterable[Reading], quantity: str, look: _Style) -> None:
    if quantity not in (*_READ, "iodine"):
        return
    kept = [(reading.time_h / _HOURS_PER_DAY, getattr(reading, quantity)) for reading in readings]
    kept = [(day, read) for day, read in kept if read is not None]
    if not kept:
        return
    days = [day for day, _ in kept]
    if quantity == "iodine":
        shown = [_PER_CENT * bool(read) for _, read in kept]
        ax.plot(days, shown, "s", color="black", markerfacecolor="white", clip_on=False, label="iodine test", zorder=3)
        return
    read = [value for _, value in kept]
    ax.errorbar(
        days,
        [value.value for value in read],
        yerr=[_COVERAGE * value.standard_uncertainty for value in read],
        fmt=look.marker,
        color="black",
        markersize=5,
        capsize=3,
        linewidth=1.0,
        label="read, ± 2 standard uncertainties",
        zorder=3,
    )


def expected(check: Check, *, title: str = "", ax: "Axes | None" = None) -> "Axes":
    """The last reading beside what could be expected of it: how far off each thing read is, and whether that is far.

    Parameters
    ----------
    check : Check
        From fermentation.check.
    title : str
        Above the legend; where the batch stands, if none is given.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        A row for each thing read: read less expected [standard deviations of forecast and reading together], within 2 for 95 of 100 batches that go as
        planned. Beside it the reading and the expected median with the range of 90 %, in their units.

    Raises
    ------
    InputError
        Where only iodine was tested.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.expected(fermentation.check(plan, pitched, shed, [day_5]))  # doctest: +SKIP
    """
    _require("expected", check, Check)
    if not check.expected:
        raise _core.InputError("the last reading holds no gravity, temperature or mass lost to compare")
    ax = _axes(ax, len(check.expected))
    blue = _STYLES[0].colour
    ax.axvspan(-2.0, 2.0, facecolor=blue, alpha=0.15, linewidth=0.0, label="95 % of batches as planned")
    ax.axvspan(-1.0, 1.0, facecolor=blue, alpha=0.25, linewidth=0.0, label="68 %")
    ax.axvline(0.0, color=blue, linewidth=1.0)
    for row, one in enumerate(check.expected):
        far = abs(one.z) > 2.0
        ax.plot([0.0, one.z], [row, row], color="black", linewidth=1.0, label="_")
        ax.plot(
            [one.z], [row], "X" if far else "o", color=PALETTE["vermilion"] if far else "black", markersize=8, label="_"
        )
        unit = _READ_UNITS[one.what][1]
        digits = 4 if one.what == "gravity" else 1
        middle, low, high = (f"{x:.{digits}f}" for x in (one.range.p50, one.range.p5, one.range.p95))
        _beside(ax, row, f"read {one.read:.{digits}f}{unit}\nexpected {middle} ({low} to {high}){unit}")
    _rows(ax, [_READ_UNITS[one.what][0] for one in check.expected])
    widest = max(3.0, *(abs(one.z) * 1.1 for one in check.expected))
    ax.set_xlim(-widest, widest)
    _tidy(ax, "read less expected [standard deviations]", "", "x")
    _legend(ax, title or f"day {check.time_h / _HOURS_PER_DAY:.1f}: {check.stands}")
    return ax


def causes(check: Check, *, title: str = "", ax: "Axes | None" = None) -> "Axes":
    """Where a fermentation stands and what may be behind it, as bars of probability.

    Parameters
    ----------
    check : Check
        From fermentation.check.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        A bar for each stand, then one for each cause, the most probable first [%]; both kinds add up to 100 %.

    Raises
    ------
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.causes(fermentation.check(plan, pitched, shed, [day_5]))  # doctest: +SKIP
    """
    _require("causes", check, Check)
    groups = (("where it stands", check.probability, _STYLES[0]), ("why", check.cause_probability, _STYLES[1]))
    ax = _axes(ax, len(check.probability) + len(check.cause_probability))
    names: list[str] = []
    for what, chances, style in groups:
        for place, (name, chance) in enumerate(sorted(chances, key=lambda one: -one[1])):
            _bar(ax, len(names), _PER_CENT * chance, style, label="" if place else what)
            _beside(ax, len(names), _percent(_PER_CENT * chance))
            names.append(name)
    ax.axhline(len(check.probability) - 0.5, color=_GREY, linewidth=0.8)
    _rows(ax, names)
    ax.set_xlim(0.0, _PER_CENT)
    _tidy(ax, "probability [%]", "", "x")
    _legend(ax, title)
    if check.warning:
        _under(ax, "The readings contradict the plan and every cause: read again first.")
    return ax


def residuals(fitted: Fitted, *, title: str = "", ax: "Axes | None" = None) -> "Axes":
    """Every reading beside the fitted course: no pattern and nothing beyond 2 or 3, or the model does not follow the batch.

    Parameters
    ----------
    fitted : Fitted
        From fermentation.fit, with one reading at least.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        Days after pitching [d] against read less fitted [standard uncertainties of the reading].

    Raises
    ------
    InputError
        Where nothing was read.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.residuals(fermentation.fit(plan, pitched, shed, [day_5]))  # doctest: +SKIP
    """
    _require("residuals", fitted, Fitted)
    if not fitted.residuals:
        raise _core.InputError("the fit had no readings to compare")
    ax = _axes(ax)
    ax.axhspan(-2.0, 2.0, facecolor="0.5", alpha=0.15, linewidth=0.0, label="95 % if all is right")
    ax.axhline(0.0, color="black", linewidth=0.8)
    kinds = ("gravity", "temperature", "co2_lost", "iodine")
    for what, style in zip(kinds, _STYLES, strict=False):
        kept = [one for one in fitted.residuals if one.what == what]
        if kept:
            ax.plot(
                [one.time_h / _HOURS_PER_DAY for one in kept],
                [one.deviation for one in kept],
                linestyle="none",
                marker=style.marker,
                color=style.colour,
                label=_READ_UNITS[what][0] if what in _READ_UNITS else "iodine test, its surprise",
            )
    farthest = max(3.0, *(abs(one.deviation) * 1.1 for one in fitted.residuals))
    ax.set_ylim(-farthest, farthest)
    _tidy(ax, "after pitching [days]", "read less fitted [standard uncertainties]")
    _legend(ax, title)
    return ax


# ---- uncertainty and strength ----


def budget(
    result: Estimate | FoundStrength | CombinedStrength,
    *,
    unit: str = "",
    most: int = 8,
    title: str = "",
    ax: "Axes | None" = None,
) -> "Axes":
    """What the doubt of a figure comes from: the share of each input in its variance.

    Parameters
    ----------
    result : Estimate, FoundStrength or CombinedStrength
        Of the latter two the strength is shown.
    unit : str
        Of the figure, for the words beside the bars; "% vol" of a strength.
    most : int
        So many inputs, 1 or more; the others are one bar.
    title : str
        Above the bars; figure and standard uncertainty, if none is given.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        A bar for each input, the largest first [% of the variance]; beside it what one standard uncertainty of the input makes of the figure, with
        its sign [unit of the figure]. A doubt twice as large counts four times.

    Raises
    ------
    InputError
        For a figure without budget or doubt, and for fewer than one input.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.budget(fermentation.end_point(plan).abv, unit="% vol")  # doctest: +SKIP
    """
    _require("budget", result, Estimate, FoundStrength, CombinedStrength)
    if most < 1:
        raise _core.InputError(f"most = {most} inputs: at least 1 must be shown")
    figure = result if isinstance(result, Estimate) else result.abv
    unit = unit if isinstance(result, Estimate) else unit or "% vol"
    variance = math.fsum(part * part for _, part in figure.budget)
    if not variance > 0.0:
        raise _core.InputError(f"{figure} has no budget: nothing is known of where its doubt comes from")
    shown, rest = figure.budget[:most], figure.budget[most:]
    bars = [(name, _PER_CENT * part * part / variance, f"{part:+.{_decimals(part)}f}") for name, part in shown]
    if rest:
        left = math.sqrt(math.fsum(part * part for _, part in rest))
        bars.append((f"{len(rest)} others", _PER_CENT * left * left / variance, f"±{left:.{_decimals(left)}f}"))
    ax = _axes(ax, len(bars))
    for place, (_, share, part) in enumerate(bars):
        style = _STYLES[1] if place == len(shown) else _STYLES[0]
        _bar(ax, place, share, style)
        _beside(ax, place, f"{_percent(share)}  ({part}{' ' if unit else ''}{unit})")
    _rows(ax, [name for name, _, _ in bars])
    ax.set_xlim(left=0.0)
    _tidy(ax, "share of the variance [%]", "", "x")
    _legend(ax, title or _with_doubt(figure.value, figure.standard_uncertainty, unit), handles=())
    return ax


def strengths(
    found: Sequence[FoundStrength],
    *,
    combined: CombinedStrength | None = None,
    title: str = "",
    ax: "Axes | None" = None,
) -> "Axes":
    """Strengths of a wash by several routes, and what they combine to.

    Parameters
    ----------
    found : sequence of FoundStrength
        From the functions of ferment.strength.
    combined : CombinedStrength, optional
        What strength.combine made of them; it is worked out here where none is given and there are two or more.
    title : str
        Above the legend; whether they agree, if none is given.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        A row for each route [% vol at 20 degC] with an error bar of two standard uncertainties, beside it its weight [%] in the combined strength,
        which is a line with a band of two.

    Raises
    ------
    InputError
        For no strength, and for a combination of others.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.strengths([by_light, by_scale])  # doctest: +SKIP
    """
    routes = list(found)
    for one in routes:
        _require("strengths", one, FoundStrength)
    if not routes:
        raise _core.InputError("there is no strength to show; at least 1 is needed")
    if combined is None and len(routes) > 1:
        combined = strength.combine(routes)
    if combined is not None and [one.route for one in combined.agreements] != [one.route for one in routes]:
        raise _core.InputError("combined is of other routes than the strengths that are given")
    ax = _axes(ax, len(routes) + 1)
    names = [one.route for one in routes]
    if combined is not None:
        names.append("combined")
        low, high = combined.abv.interval(_COVERAGE)
        colour = _STYLES[0].colour
        ax.axvspan(low, high, facecolor=colour, alpha=0.2, linewidth=0.0, label="combined, ± 2 standard uncertainties")
        ax.axvline(combined.abv.value, color=colour, linewidth=1.2, label="_")
    for place, one in enumerate(routes):
        outlier = combined is not None and combined.outlier == one.route
        ax.errorbar(
            one.abv.value,
            place,
            xerr=_COVERAGE * one.abv.standard_uncertainty,
            fmt="X" if outlier else "o",
            color=PALETTE["vermilion"] if outlier else "black",
            markersize=8 if outlier else 6,
            capsize=4,
            label="_" if place else "found, ± 2 standard uncertainties",
        )
        weight = "" if combined is None else f"\nweight {_PER_CENT * combined.agreements[place].weight:.0f} %"
        _beside(ax, place, _with_doubt(one.abv.value, one.abv.standard_uncertainty, "% vol") + weight)
    words = ""
    if combined is not None:
        ax.plot([combined.abv.value], [len(routes)], "D", color=_STYLES[0].colour, markersize=7, label="_")
        _beside(ax, len(routes), _with_doubt(combined.abv.value, combined.abv.standard_uncertainty, "% vol"))
        words = "they agree" if combined.consistent else f"they do not agree, furthest off: {combined.outlier}"
    _rows(ax, names)
    _tidy(ax, "strength [% vol at 20 °C]", "", "x")
    _legend(ax, title or words, columns=1)
    return ax


# ---- instruments ----

#: Readings [of the scale] that are usual in each liquid.
_USUAL_READINGS: Mapping[str, tuple[tuple[float, SampleLiquid], ...]] = {
    "sg": ((1.050, "wort"), (1.002, Wash(abv=7.0)), (0.950, "spirit")),
    "plato": ((12.0, "wort"), (0.5, Wash(abv=7.0))),
    "density": ((1050.0, "wort"), (1000.0, Wash(abv=7.0)), (950.0, "spirit")),
}
_Refracting: TypeAlias = "Literal['wort', 'starch_hydrolysate'] | Wash"
_USUAL_REFRACTIONS: Mapping[str, tuple[tuple[float, _Refracting], ...]] = {
    **dict.fromkeys(("brix", "compensated_brix"), ((12.0, "wort"), (24.0, "wort"), (6.0, Wash(abv=7.0)))),
    "refractive_index": ((1.351, "wort"), (1.371, "wort"), (1.342, Wash(abv=7.0))),
}
_USUAL_STRENGTHS = {"abv": (20.0, 40.0, 60.0, 80.0), "us_proof": (40.0, 80.0, 120.0, 160.0)}
_SCALE_UNITS = {
    "sg": "true gravity 20/20 less reading [0.001 SG]",
    "plato": "true apparent extract less reading [% mass]",
    "density": "true density at 20 °C less reading [kg/m³]",
    "abv": "true strength less reading [% vol]",
    "us_proof": "true strength less reading [° US proof]",
    "brix": "what it shows at 20 °C less reading [°Bx]",
    "compensated_brix": "what it shows at 20 °C less reading [°Bx]",
    "refractive_index": "what it shows at 20 °C less reading [0.001]",
}
_POINTS_PER_SG = _PER_THOUSAND = 1000.0
_HYDROMETER_C, _SPIRIT_C, _LIGHT_C = (5.0, 35.0), (0.0, 35.0), (10.0, 35.0)  # temperatures where none are given
_TEMPERATURES = 61


def correction(
    instrument: Hydrometer | Alcoholometer | Refractometer,
    readings: Iterable[tuple[float, "SampleLiquid | _Refracting"]] | Iterable[float] | None = None,
    *,
    temperatures_c: Numbers | None = None,
    title: str = "",
    ax: "Axes | None" = None,
) -> "Axes":
    """What has to be added to a reading, over the temperature of the sample; it is not the same in wort, wash and spirit.

    Parameters
    ----------
    instrument : Hydrometer, Alcoholometer or Refractometer
        Its scale, calibration and glass or zero count.
    readings : iterable of (float, liquid) or of float, optional
        Of a hydrometer, each with its liquid, "wort", "spirit" or Wash [SG, % mass or kg/m3]; of a refractometer, each with "wort",
        "starch_hydrolysate" or Wash [°Bx or nD]; of an alcoholometer [% vol or degrees of US proof]. Usual ones where none are given.
    temperatures_c : array_like, optional
        Of the sample [degC]; 5 to 35, 0 to 35 for an alcoholometer, 10 to 35 for a refractometer, where none are given.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        Temperature [degC] against the true value at 20 degC less the reading [0.001 SG, % mass, kg/m3, % vol or degrees of US proof]; of a
        refractometer what it would show of the same liquid at 20 degC, without an error of zero, less the reading [°Bx or 0.001 nD]. A line stops where
        no such liquid floats the glass or bends the light, and where the range of the correction ends.

    Raises
    ------
    RangeError, InputError
        As correct of the instrument, where a reading is possible at none of the temperatures; for no reading.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.correction(instrument.Hydrometer("sg"), [(1.012, instrument.Wash(abv=5.0))])  # doctest: +SKIP
    """
    _require("correction", instrument, Hydrometer, Alcoholometer, Refractometer)
    usual = {Hydrometer: _HYDROMETER_C, Refractometer: _LIGHT_C}.get(type(instrument), _SPIRIT_C)
    at_c = np.linspace(*usual, _TEMPERATURES) if temperatures_c is None else _row("temperatures_c", temperatures_c)
    lines: list[tuple[str, Array]] = []
    if isinstance(instrument, Hydrometer):
        asked: Any = _USUAL_READINGS[instrument.scale] if readings is None else readings
        for reading, sample in asked:
            lines.append((f"{_liquid_name(sample)}, reading {reading:g}", _off(instrument, reading, sample, at_c)))
    elif isinstance(instrument, Refractometer):
        asked = _USUAL_REFRACTIONS[instrument.scale] if readings is None else readings
        for reading, sample in asked:
            off = _refraction_off(instrument, reading, sample, at_c)
            lines.append((f"{_liquid_name(sample)}, reading {reading:g}", off))
    else:
        unit = "% vol" if instrument.scale == "abv" else "° proof"
        asked = _USUAL_STRENGTHS[instrument.scale] if readings is None else readings
        for reading in asked:
            lines.append((f"reading {reading:g} {unit}", _strength_off(instrument, reading, at_c)))
    if not lines:
        raise _core.InputError("there is no reading to correct; at least 1 is needed")
    ax = _axes(ax)
    ax.axhline(0.0, color="black", linewidth=0.8)
    for number, (label, off) in enumerate(lines):
        style = _STYLES[number % len(_STYLES)]
        ax.plot(at_c, off, color=style.colour, linestyle=style.dash, linewidth=1.8, label=label)
    _tidy(ax, "temperature of the sample [°C]", _SCALE_UNITS[instrument.scale])
    _legend(ax, title)
    return ax


def _row(what: str, values: Numbers) -> Array:
    row = np.atleast_1d(np.asarray(values, dtype=np.float64))
    if row.ndim > 1 or row.size < 2:
        raise _core.InputError(f"{what} must be one row of 2 numbers or more; got shape {np.shape(values)}")
    return row


def _liquid_name(sample: "SampleLiquid | _Refracting") -> str:
    if not isinstance(sample, Wash):
        return sample.replace("_", " ")
    if sample.abv is not None:
        return f"wash of {sample.abv:g} % vol"
    return f"wash of {sample.extract:g} % mass extract"


def _each(function: Any, at_c: Array) -> Array:
    """function(temperature) at each; NaN where it is not possible, and its error where it is nowhere."""
    found = np.full_like(at_c, np.nan)
    refused: _core.RangeError | None = None
    for i, one in enumerate(at_c.tolist()):
        try:
            found[i] = function(one)
        except _core.RangeError as error:
            refused = error
    if refused is not None and np.isnan(found).all():
        raise refused
    return found


def _off(instrument: Hydrometer, reading: float, sample: SampleLiquid, at_c: Array) -> Array:
    def off(at: float) -> float:
        found = instrument.correct(float(reading), at, liquid=sample)
        if instrument.scale == "plato":
            return float(strength.apparent_extract(found.sg)) - reading
        if instrument.scale == "density":
            return float(wash_density(found.abw, found.extract, 20.0)) - reading
        return (float(found.sg) - reading) * _POINTS_PER_SG

    return _each(off, at_c)


def _refraction_off(instrument: Refractometer, reading: float, sample: "_Refracting", at_c: Array) -> Array:
    by_index = instrument.scale == "refractive_index"

    def off(at: float) -> float:
        if isinstance(sample, Wash):
            wash = instrument.correct(float(reading), at, sample)
            shown = float(Refractometer(instrument.scale).reads(wash.abw, wash.extract, 20.0))
        else:
            found = instrument.correct(float(reading), at, sample)
            shown = float(found.refractive_index if by_index else found.brix)
        return (shown - reading) * (_PER_THOUSAND if by_index else 1.0)

    return _each(off, at_c)


def _strength_off(instrument: Alcoholometer, reading: float, at_c: Array) -> Array:
    return _each(lambda at: float(instrument.correct(float(reading), at)) - reading, at_c)


# ---- the still ----

_AGAINST = {
    "collected_l": "collected [L at 20 °C]",
    "collected_kg": "collected [kg]",
    "recovered": "alcohol that has come over, of that in the charge [%]",
}
_STRENGTH_LABEL = "strength [% vol at 20 °C]"


def stripping(run: Stripping, *, against: str = "collected_l", title: str = "", ax: "Axes | None" = None) -> "Axes":
    """A run of a simple still: how strong is what comes over, all that has come over, and the pot.

    Parameters
    ----------
    run : Stripping
        From still.strip, or the stripping of a plan.
    against : {"collected_l", "collected_kg", "recovered"}
        What has come over [L at 20 degC, kg, or % of the alcohol].
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        What has come over against strengths [% vol at 20 degC], with the end of the run, and CAUTION beneath.

    Raises
    ------
    InputError
        For anything else to draw against.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.stripping(still.strip(charge, distillate_abv=2.0))  # doctest: +SKIP
    """
    _require("stripping", run, Stripping)
    over = getattr(run.curve, _one_of("against", against, _AGAINST))
    ax = _axes(ax)
    lines = (
        ("coming over", run.curve.distillate_abv),
        ("all that has come over", run.curve.low_wines_abv),
        ("in the pot", run.curve.pot_abv),
    )
    for (label, values), style in zip(lines, _STYLES, strict=False):
        ax.plot(over, values, color=style.colour, linestyle=style.dash, linewidth=1.8, label=label)
    ax.plot(
        [over[-1]],
        [run.curve.distillate_abv[-1]],
        "o",
        color="black",
        clip_on=False,
        label=f"end: {run.low_wines}, {run.ethanol_left:.2g} % of the alcohol left",
    )
    ax.set_xlim(left=0.0)
    ax.set_ylim(bottom=0.0)
    _tidy(ax, _AGAINST[against], _STRENGTH_LABEL)
    _legend(ax, title)
    _under(ax, CAUTION)
    return ax


def column_run(run: ColumnRun, *, title: str = "", ax: "Axes | None" = None) -> "Axes":
    """A run of a column: strength of what comes over and of the pot, and the reflux that it took.

    Parameters
    ----------
    run : ColumnRun
        From still.rectify, or the spirit run of a plan.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given. Axes for the reflux are added at the right.

    Returns
    -------
    matplotlib.axes.Axes
        Collected [L at 20 degC] against strengths [% vol at 20 degC] at the left and reflux [mol/mol] at the right, with CAUTION beneath.

    Raises
    ------
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.column_run(planned.spirit_run)  # doctest: +SKIP
    """
    _require("column_run", run, ColumnRun)
    ax = _axes(ax)
    curve = run.curve
    lines = (
        ("coming over", curve.distillate_abv),
        ("all that has come over", curve.collected_abv),
        ("in the pot", curve.pot_abv),
    )
    for (label, values), style in zip(lines, _STYLES, strict=False):
        ax.plot(curve.collected_l, values, color=style.colour, linestyle=style.dash, linewidth=1.8, label=label)
    right = ax.twinx()
    style = _STYLES[3]
    right.plot(
        curve.collected_l,
        curve.reflux,
        color=style.colour,
        linestyle=style.dash,
        linewidth=1.8,
        marker=style.marker,
        markevery=0.12,
        markersize=4,
        label="reflux (right)",
    )
    right.set_ylabel("reflux [mol returned per mol taken off]")
    finite = curve.reflux[np.isfinite(curve.reflux)]
    right.set_ylim(0.0, 1.15 * max(1.0, *finite.tolist()) if finite.size else 1.0)
    right.spines["top"].set_visible(False)
    ax.plot(
        [curve.collected_l[-1]],
        [curve.distillate_abv[-1]],
        "o",
        color="black",
        clip_on=False,
        label=f"end: {run.distillate_l:.3g} L of {run.distillate_abv:.3g} % vol, {run.time_h:.3g} h",
    )
    ax.set_xlim(left=0.0)
    ax.set_ylim(bottom=0.0, top=_PER_CENT)
    _tidy(ax, _AGAINST["collected_l"], _STRENGTH_LABEL)
    ax.spines["right"].set_visible(True)
    handles = ax.get_legend_handles_labels()[0] + right.get_legend_handles_labels()[0]
    _legend(ax, title, handles=handles)
    _under(ax, CAUTION)
    return ax


#: Colour and hatch of the parts of a run, and their names of the trade.
_PARTS: Mapping[str, tuple[str, _Style]] = {
    "fore_shots": ("fore-shots", _Style(PALETTE["vermilion"], "-", "X", "xxxxxx")),
    "heads": ("heads", _Style(PALETTE["orange"], "-", "s", "\\\\\\\\")),
    "hearts": ("hearts", _Style(PALETTE["bluish green"], "-", "o", "")),
    "tails": ("tails", _Style(PALETTE["blue"], "-", "^", "////")),
    "none": ("not decided", _Style("0.6", "-", "D", "..")),
}
_NARROW = 0.07  # of the whole run: a window too narrow for its name


class _Window(NamedTuple):
    label: str
    start: float
    end: float
    words: str


def cuts(
    result: Plan | Cuts | Windows,
    *,
    run: Stripping | ColumnRun | None = None,
    title: str = "",
    ax: "Axes | None" = None,
) -> "Axes":
    """Strength of what comes over, and where fore-shots, heads, hearts and tails lie.

    Parameters
    ----------
    result : Plan, Cuts or Windows
        From batch.plan (one charge of the spirit still), still.work_out_cuts (the jars as they were collected, each as wide as
        it adds to all before it) or still.windows.
    run : Stripping or ColumnRun, optional
        The run that the windows are of, which do not hold it; needed for Windows, and for nothing else.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        Collected [L at 20 degC] against strength [% vol at 20 degC]; a bar for each jar, with two standard uncertainties. The ends of Windows have
        error bars over the doubt of level and volatility. CAUTION stands beneath.

    Raises
    ------
    InputError
        For Windows without their run, and for a run with anything else.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.cuts(batch.plan(bill=bill, water_l=72.0, stripping_still=pot))  # doctest: +SKIP
    """
    _require("cuts", result, Plan, Cuts, Windows)
    if isinstance(result, Windows) and run is None:
        raise _core.InputError("windows do not hold the run they are of; give it as run=...")
    if not isinstance(result, Windows) and run is not None:
        raise _core.InputError(f"a {type(result).__name__} holds its run; run is for Windows only")
    if run is not None:
        _require("run of cuts", run, Stripping, ColumnRun)
    ax = _axes(ax)
    x_label, caution = _AGAINST["collected_l"], CAUTION
    handles: list[Any]
    if isinstance(result, Cuts):
        handles = [*_jars(ax, result)]
    elif isinstance(result, Windows):
        assert run is not None
        handles = _windows(ax, result, run)
        caution += "\nWindows say where to taste and smell, not what may be drunk; the palate decides."
        if result.rectified:
            caution += "\nThe run is rectified: none of these windows holds."
    else:
        curve = result.spirit_run.curve
        parts = [
            _Window(one.label, one.from_l, one.to_l, f"{one.content.volume_l:.3g} L of {one.content.abv:.1f} % vol")
            for one in result.fractions
        ]
        handles = [*_filled(ax, curve.collected_l, curve.distillate_abv, parts)]
        count = result.spirit_charges.count
        if count > 1:
            x_label = f"collected in one of {count} charges [L at 20 °C]; the legend has all of them"
    ax.set_xlim(left=0.0)
    ax.set_ylim(0.0, _PER_CENT)
    _tidy(ax, x_label, _STRENGTH_LABEL)
    _legend(ax, title, handles=handles)
    _under(ax, caution)
    return ax


def _fill(style: _Style) -> dict[str, Any]:
    return {
        "facecolor": "white" if style.hatch else (style.colour, 0.45),
        "edgecolor": style.colour,
        "hatch": style.hatch,
    }


def _patch(label: str, words: str) -> "Patch":
    from matplotlib.patches import Patch

    name, style = _PARTS[label]
    return Patch(label=f"{name}: {words}", **_fill(style))


def _filled(ax: "Axes", over: Array, abv: Array, parts: Sequence[_Window]) -> list["Patch"]:
    """The curve, and under it each window with its name, or with an arrow to it where it is narrow."""
    ax.plot(over, abv, color="black", linewidth=1.8, label="coming over")
    whole = float(over[-1])
    narrow = 0
    for label, start, end, _ in parts:
        name, style = _PARTS[label]
        inside = np.unique(np.concatenate([[start], over[(over > start) & (over < end)], [end]]))
        ax.fill_between(inside, np.interp(inside, over, abv), linewidth=0.8, **_fill(style))
        middle = 0.5 * (start + end)
        top = float(np.interp(middle, over, abv))
        box = {"boxstyle": "round,pad=0.25", "facecolor": "white", "edgecolor": "none"}
        if end - start > _NARROW * whole:
            ax.text(middle, 0.45 * top, name, ha="center", va="center", fontsize=_SMALL + 1.0, bbox=box)
            continue
        first = middle < 0.5 * whole
        at = top * (0.9 - 0.11 * narrow)
        ax.annotate(
            name,
            xy=(middle, at),
            xytext=((1.6 if first else -1.6) * _NARROW * whole + middle, at),
            fontsize=_SMALL + 1.0,
            ha="left" if first else "right",
            va="center",
            bbox=box,
            arrowprops={"arrowstyle": "-|>", "linewidth": 0.9, "color": "black"},
        )
        narrow += 1
    return [_patch(one.label, one.words) for one in parts]


def _windows(ax: "Axes", result: Windows, run: Stripping | ColumnRun) -> list[Any]:
    curve = run.curve
    last = float(curve.collected_kg[-1])

    def litres(kg: float) -> float:
        return float(np.interp(min(kg, last), curve.collected_kg, curve.collected_l))

    parts: list[_Window] = []
    start = 0.0
    for one in result.boundaries:
        end = litres(one.collected_kg) if one.reached else float(curve.collected_l[-1])
        words = f"to {end:.2g} L" if one.reached else "to the end of the run"
        parts.append(_Window(one.rule.ends, start, end, words))
        start = end
        if not one.reached:
            break
    handles: list[Any] = [*_filled(ax, curve.collected_l, curve.distillate_abv, parts)]
    bars: list[Any] = []
    for place, one in enumerate(result.boundaries):
        if one.reached:
            low, at, high = (litres(kg) for kg in (one.earliest_kg, one.collected_kg, one.latest_kg))
            bar = ax.errorbar(
                at,
                4.0 + 4.0 * place,
                xerr=[[max(0.0, at - low)], [max(0.0, high - at)]],
                fmt="|",
                color="black",
                capsize=3,
                linewidth=1.4,
                zorder=4,
                label="doubt of an end",
            )
            bars.append(bar)
    return [*handles, *bars[:1]]


def _jars(ax: "Axes", result: Cuts) -> list["Patch"]:
    start = 0.0
    for one in result.jars:
        style = _PARTS[one.jar.label][1]
        end = one.cumulative_volume_l
        ax.bar(
            0.5 * (start + end),
            one.jar.abv,
            width=end - start,
            yerr=_COVERAGE * one.jar.abv_uncertainty,
            capsize=2.5,
            linewidth=0.8,
            **_fill(style),
        )
        start = end
    return [
        _patch(one.label, f"{one.content.volume_l:.3g} L of {one.content.abv:.1f} % vol")
        for one in result.fractions
        if one.content.jars
    ]


_CONGENER_AGAINST = {"alcohol_share": _AGAINST["recovered"], "collected_kg": _AGAINST["collected_kg"]}
_DOUBTS = (-1.0, -0.5, 0.5, 1.0)  # powers of the factor of doubt; 0 is the run itself
_SAME_RUN = 1e-6  # relative
_BELOW_THE_LEAST = 100.0  # what the axis shows below the highest level of the least congener
_FIRST_LEVEL = 1.0


def congeners(
    run: CongenerRun,
    *,
    names: Iterable[str] | None = None,
    against: str = "alcohol_share",
    doubt: bool = True,
    pressure_kpa: float | None = None,
    title: str = "",
    ax: "Axes | None" = None,
) -> "Axes":
    """Which congener comes when: trends with bands of their factor of doubt. An order, not an analysis.

    Parameters
    ----------
    run : CongenerRun
        From still.congener_run.
    names : iterable of str, optional
        Some of its congeners; all where none are named, of which only few can be told apart.
    against : {"alcohol_share", "collected_kg"}
        What has come over [% of the alcohol, or kg].
    doubt : bool
        Whether to draw bands: the run is worked out again with every volatility multiplied and divided by its factor of doubt and by the root of it.
    pressure_kpa : float, optional
        Of the run [kPa]; 101.325 where none is given. Needed for the bands.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        What has come over against level at that moment [g per hL of pure alcohol, logarithmic], with CAUTION beneath.

    Raises
    ------
    InputError
        For a congener that the run does not follow, and for bands of a run that congener_run does not give at this pressure.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.congeners(still.congener_run(run, {"ethyl_acetate": 30.0, "furfural": 2.0}))  # doctest: +SKIP
    """
    _require("congeners", run, CongenerRun)
    known = [one.name for one in run.courses]
    kept = known if names is None else [_one_of("congener", name, known) for name in names]
    _one_of("against", against, _CONGENER_AGAINST)
    if not kept:
        raise _core.InputError(f"there is no congener to show; the run has {', '.join(known) or 'none'}")
    bands = _doubtful(run, pressure_kpa) if doubt else {}
    ax = _axes(ax)
    charged = float(run.pot_kg[0] * run.pot_abw[0]) / _PER_CENT
    over = run.collected_kg if against == "collected_kg" else _PER_CENT * run.ethanol_collected_kg / charged
    peaks: list[float] = []
    firsts: list[float] = []
    for number, name in enumerate(kept):
        style = _STYLES[number % len(_STYLES)]
        level = _positive(run.course(name).grams_per_hl)
        if np.isfinite(level).any():
            peaks.append(float(np.nanmax(level)))
            firsts.append(float(level[np.isfinite(level)][0]))
        ax.plot(
            over,
            level,
            color=style.colour,
            linestyle=style.dash,
            linewidth=1.8,
            marker=style.marker,
            markevery=0.13,
            markersize=4,
            label=f"{name.replace('_', ' ')}, trend",
        )
        if name in bands:
            low, high = bands[name]
            ax.fill_between(
                over, _positive(low), _positive(high), facecolor=style.colour, alpha=0.18, linewidth=0.0, label="_"
            )
    ax.set_yscale("log")
    if peaks:
        ax.set_ylim(min(min(peaks) / _BELOW_THE_LEAST, min(firsts) / 2.0), max(peaks) * 4.0)
    ax.set_xlim(left=0.0, right=None if against == "collected_kg" else _PER_CENT)
    _tidy(ax, _CONGENER_AGAINST[against], "in what comes over [g per hL of pure alcohol]")
    _legend(ax, title)
    words = "Trends only" + (", bands: the factor of doubt of each volatility" if bands else "")
    rectified = "\nThe run is rectified: figures of a simple still are wrong for it." if run.rectified else ""
    _under(ax, f"{words}. Methanol comes over throughout; no cut removes it.{rectified}\n{CAUTION}")
    return ax


def _positive(level: Array) -> Array:
    """For a logarithmic axis."""
    return np.where(level > 0.0, level, np.nan)


def _doubtful(run: CongenerRun, pressure_kpa: float | None) -> dict[str, tuple[Array, Array]]:
    """Lowest and highest level of each congener where every volatility is off by up to its factor of doubt."""
    points = (run.pot_kg, run.pot_abw)
    unit = still.congener_run(
        points, {one.name: _FIRST_LEVEL for one in run.courses}, pressure_kpa=pressure_kpa, volatility_power=0.0
    )
    levels = {one.name: float(one.pot_g[0] / unit.course(one.name).pot_g[0]) for one in run.courses}
    again = still.congener_run(points, levels, pressure_kpa=pressure_kpa)
    if not all(
        np.allclose(again.course(one.name).grams_per_hl, one.grams_per_hl, rtol=_SAME_RUN, atol=0.0, equal_nan=True)
        for one in run.courses
    ):
        at = still.Still(1.0).pressure_kpa if pressure_kpa is None else pressure_kpa
        raise _core.InputError(
            f"congener_run does not give this run at {at:g} kPa and volatility_power 0; give its pressure_kpa, or doubt=False"
        )
    others = [
        still.congener_run(points, levels, pressure_kpa=pressure_kpa, volatility_power=power) for power in _DOUBTS
    ]
    bands = {}
    for one in run.courses:
        every = np.array([one.grams_per_hl, *(other.course(one.name).grams_per_hl for other in others)])
        bands[one.name] = (every.min(axis=0), every.max(axis=0))
    return bands


# ---- the whole batch ----

_LINES: Mapping[str, tuple[str, _Style]] = {
    "start": ("there", _STYLES[0]),
    "stage": ("there", _STYLES[0]),
    "came_in": ("came in", _STYLES[4]),
    "lost": ("lost", _STYLES[1]),
    "remainder": ("difference of two stages", _STYLES[3]),
    "set_aside": ("set aside", _STYLES[2]),
    "taken_out": ("taken out", _STYLES[5]),
    "in_hand": ("in hand", _Style(PALETTE["black"], "-", "o", "")),
}


def alcohol(result: Plan | Ledger, *, title: str = "", ax: "Axes | None" = None) -> "Axes":
    """Where the alcohol of a batch went: from what the grain could give, by every loss, to what is in hand.

    Parameters
    ----------
    result : Plan or Ledger
        From batch.plan, or a ledger with its measurements.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        A row for each line of the ledger [L of pure alcohol at 20 degC]: stages from zero, and between them what left, from what was there to what
        remained. What left and what is in hand add up to the start and what came in. Error bars are two standard uncertainties; beside each row the
        figure with one, and its share of the potential [%]. Lines of less than round-off are left out.

    Raises
    ------
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.alcohol(planned.ledger().measure("hearts", volume_l=4.4, abv=67.0))  # doctest: +SKIP
    """
    _require("alcohol", result, Plan, Ledger)
    rows = _shown_rows(result.ledger_rows if isinstance(result, Plan) else result.rows())
    ax = _axes(ax, len(rows))
    told: set[str] = set()
    there, doubted = 0.0, False
    for place, row in enumerate(rows):
        what, style = _LINES[row.line]
        litres, doubt = row.litres.value, row.litres.standard_uncertainty
        if row.line in ("start", "stage"):
            left, end = 0.0, litres
            there = litres if row.line == "start" else there
        elif row.line == "came_in":
            left, end = there, there + litres
            there += litres
        else:
            there -= litres
            left, end = there, there
        _bar(ax, place, litres, style, left=left, label="" if what in told else what)
        told.add(what)
        if doubt > _ROUND_OFF * rows[0].litres.value:
            at = left + litres if row.line == "in_hand" else end
            ax.errorbar(
                at,
                place,
                xerr=_COVERAGE * doubt,
                fmt="none",
                ecolor="black",
                capsize=2.5,
                linewidth=1.0,
                label="_" if doubted else "± 2 standard uncertainties",
            )
            doubted = True
        measured = ", measured" if row.basis == "measured" else ""
        _beside(ax, place, f"{_with_doubt(litres, doubt, 'L')} ({row.share.value:.1f} %){measured}")
    out = {"taken_out": "taken out of the ", "came_in": "came in "}
    _rows(ax, [out.get(row.line, "") + row.name for row in rows])
    ax.axvline(0.0, color="black", linewidth=0.8)
    _tidy(ax, "pure alcohol [L at 20 °C]", "", "x")
    _legend(ax, title)
    return ax


def _shown_rows(rows: Sequence[LedgerRow]) -> list[LedgerRow]:
    """Without empty lines, and without the last stage, which is what is in hand."""
    least = _ROUND_OFF * rows[0].litres.value
    hand = {row.place for row in rows if row.line == "in_hand"}
    return [
        row
        for row in rows
        if row.line == "start" or (abs(row.litres.value) > least and not (row.line == "stage" and row.place in hand))
    ]


# ---- water ----


def dilution(
    abv: float,
    target_abv: float | Sequence[float],
    volume_l: float,
    temperatures_c: Numbers | None = None,
    *,
    title: str = "",
    ax: "Axes | None" = None,
) -> "Axes":
    """Water to bring a spirit down, over the temperature at which its volume was measured: a warm litre holds less alcohol.

    Parameters
    ----------
    abv : float
        Strength of the spirit [% vol at 20 degC], above 0 to 100.
    target_abv : float or sequence of float
        Wanted strengths [% vol at 20 degC], at most abv.
    volume_l : float
        Its volume at each of the temperatures [L], above 0.
    temperatures_c : array_like, optional
        Of the spirit [degC], -20 to 40; 0 to 35 where none are given.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes
        Temperature [degC] against water to add [kg].

    Raises
    ------
    RangeError, InputError
        As proofing.dilute, and for no wanted strength.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.dilution(68.0, (45.0, 40.0), 7.0)  # doctest: +SKIP
    """
    targets = [float(target) for target in np.atleast_1d(np.asarray(target_abv, dtype=np.float64))]
    if not targets:
        raise _core.InputError("there is no target_abv [% vol]; at least 1 is needed")
    at_c = np.linspace(*_SPIRIT_C, _TEMPERATURES) if temperatures_c is None else _row("temperatures_c", temperatures_c)
    lines = [[proofing.dilute(abv, volume_l, target, at).water_kg for at in at_c.tolist()] for target in targets]
    ax = _axes(ax)
    for number, (target, water_kg) in enumerate(zip(targets, lines, strict=True)):
        style = _STYLES[number % len(_STYLES)]
        ax.plot(
            at_c,
            water_kg,
            color=style.colour,
            linestyle=style.dash,
            linewidth=1.8,
            label=f"{volume_l:.4g} L of {abv:.3g} to {target:.3g} % vol",
        )
    _tidy(ax, "temperature of the spirit when it was measured [°C]", "water to add [kg]")
    _legend(ax, title)
    return ax


# ---- what if ----

_LEVELS = 8
_AROUND_LABEL = 9.0  # pixels that a line keeps away from its value
_MOST_STEPS = 40
_SMALL_FIELD = 0.015  # of all cells: one that gets no value of its own where a larger one has the same


def chart(
    x: Numbers,
    y: Numbers,
    z: Numbers,
    *,
    x_label: str,
    y_label: str,
    z_label: str,
    levels: int | Sequence[float] = _LEVELS,
    steps: bool = False,
    mark: tuple[float, float] | None = None,
    mark_label: str = "as planned",
    title: str = "",
    ax: "Axes | None" = None,
) -> "Axes":
    """A figure over two inputs, as lines of equal height with their values, or, where it goes in steps, as fields with theirs.

    Parameters
    ----------
    x, y : array_like
        The inputs, rising, two values or more each, in the units of their labels.
    z : array_like
        The figure, a row for each y and a column for each x; NaN where there is none.
    x_label, y_label, z_label : str
        What they are, each with its unit, as "water [L]".
    levels : int or sequence of float
        About so many lines at round values, or the values themselves, rising, in the unit of z. Not used with steps.
    steps : bool
        Whether z goes in steps, as a number of charges, of bottles or of days does: then each point is a cell that reaches half way to its neighbours,
        and neighbours of one value are one field. Lines of equal height between such values would mean nothing.
    mark : (float, float), optional
        A point to mark.
    mark_label : str
        What that point is, for the legend.
    title : str
        Above the legend.
    ax : matplotlib.axes.Axes, optional
        Where to draw; those of a new figure where none are given.

    Returns
    -------
    matplotlib.axes.Axes

    Raises
    ------
    InputError
        For shapes that do not go together, inputs that do not rise, a figure that is the same everywhere, a label without a unit in brackets, and steps
        of more than 40 values.
    ImportError
        Where matplotlib is not installed.

    Examples
    --------
    >>> plot.chart(water, grain, litres, x_label="water [L]", y_label="grain [kg]", z_label="hearts [L]")  # doctest: +SKIP
    """
    along, up = (_rising(name, values) for name, values in (("x", x), ("y", y)))
    height = np.asarray(z, dtype=np.float64)
    if height.shape != (up.size, along.size):
        raise _core.InputError(
            f"z has shape {height.shape}; it must be {(up.size, along.size)}, a row for each y and a column for each x"
        )
    for name, label in (("x_label", x_label), ("y_label", y_label), ("z_label", z_label)):
        if "[" not in label or "]" not in label:
            raise _core.InputError(f'{name} "{label}" must end in a unit in brackets, as in "water [L]"')
    known = height[np.isfinite(height)]
    if known.size == 0 or known.min() == known.max():
        raise _core.InputError(
            f"z is {'nowhere a number' if known.size == 0 else f'{known[0]:g} everywhere'}: there are no lines to draw"
        )
    if steps and np.unique(known).size > _MOST_STEPS:
        raise _core.InputError(
            f"z takes {np.unique(known).size} different values; a figure in steps has {_MOST_STEPS} at most: leave steps out, or round it"
        )
    ax = _axes(ax)
    shown = np.ma.masked_invalid(height)
    if steps:
        _fields(ax, along, up, height, shown)
        handles: list[Any] = [_line(f"border of {z_label}")]
    else:
        ax.contourf(along, up, shown, levels=levels, cmap="cividis_r", alpha=0.45)
        # Never dashed, where a minus sign would be one dash of many.
        lines = ax.contour(along, up, shown, levels=levels, colors="black", linewidths=0.9, negative_linestyles="solid")
        for text in ax.clabel(lines, fontsize=_SMALL, inline_spacing=_AROUND_LABEL):
            text.set_bbox({"boxstyle": "round,pad=0.1", "facecolor": "white", "edgecolor": "none", "alpha": 0.75})
        handles = [_line(z_label)]
    if mark is not None:
        handles += ax.plot(
            [mark[0]],
            [mark[1]],
            "X",
            color=PALETTE["vermilion"],
            markeredgecolor="black",
            markersize=10,
            linestyle="none",
            label=mark_label,
        )
    ax.set_xlabel(x_label)
    ax.set_ylabel(y_label)
    _legend(ax, title, handles=handles)
    return ax


def _fields(ax: "Axes", along: Array, up: Array, height: Array, shown: Any) -> None:
    """Cells around the points, borders where the value changes, and a value in each field."""
    across, rise = _half_way(along), _half_way(up)
    ax.pcolormesh(across, rise, shown, cmap="cividis_r", alpha=0.45, linewidth=0.0)
    borders: list[tuple[tuple[float, float], tuple[float, float]]] = []
    rows, columns = height.shape
    for i in range(rows):
        for j in range(columns):
            if j + 1 < columns and not _alike(height[i, j], height[i, j + 1]):
                borders.append(((across[j + 1], rise[i]), (across[j + 1], rise[i + 1])))
            if i + 1 < rows and not _alike(height[i, j], height[i + 1, j]):
                borders.append(((across[j], rise[i + 1]), (across[j + 1], rise[i + 1])))
    from matplotlib.collections import LineCollection

    ax.add_collection(LineCollection(borders, colors="black", linewidths=0.9), autolim=False)
    fields = sorted(_connected(height), key=len, reverse=True)
    named: set[float] = set()
    for field in fields:
        value = float(height[field[0]])
        if math.isnan(value) or (value in named and len(field) < _SMALL_FIELD * height.size):
            continue
        named.add(value)
        i, j = _innermost(field)
        ax.text(along[j], up[i], f"{value:g}".replace("-", "\N{MINUS SIGN}"), fontsize=_SMALL, ha="center", va="center")
    ax.set_xlim(across[0], across[-1])
    ax.set_ylim(rise[0], rise[-1])


def _alike(a: float, b: float) -> bool:
    return a == b or (math.isnan(a) and math.isnan(b))


def _half_way(values: Array) -> Array:
    """The edges of cells around values: half way between them, and as far beyond the ends."""
    half = np.diff(values) / 2.0
    return np.concatenate(([values[0] - half[0]], values[:-1] + half, [values[-1] + half[-1]]))


def _connected(height: Array) -> list[list[tuple[int, int]]]:
    """Cells of one value that touch along an edge, field by field."""
    fields: list[list[tuple[int, int]]] = []
    seen = np.zeros(height.shape, dtype=bool)
    for start in np.ndindex(height.shape):
        if seen[start]:
            continue
        seen[start] = True
        first = (int(start[0]), int(start[1]))
        field = [first]
        for i, j in field:  # grows while it is gone through
            for near in ((i - 1, j), (i + 1, j), (i, j - 1), (i, j + 1)):
                inside = 0 <= near[0] < height.shape[0] and 0 <= near[1] < height.shape[1]
                if inside and not seen[near] and _alike(height[near], height[first]):
                    seen[near] = True
                    field.append(near)
        fields.append(field)
    return fields


def _innermost(field: Sequence[tuple[int, int]]) -> tuple[int, int]:
    """The cell of a field that is farthest from what is not in it; of several the nearest to their middle."""
    left = set(field)
    while True:
        inner = {(i, j) for i, j in left if {(i - 1, j), (i + 1, j), (i, j - 1), (i, j + 1)} <= left}
        if not inner:
            break
        left = inner
    cells = np.array(sorted(left), dtype=np.float64)
    away = ((cells - cells.mean(axis=0)) ** 2).sum(axis=1)
    i, j = cells[int(away.argmin())]
    return int(i), int(j)


def _rising(name: str, values: Numbers) -> Array:
    row = _row(name, values)
    if not (np.diff(row) > 0.0).all():
        raise _core.InputError(f"{name} must rise from value to value")
    return row


def _line(label: str) -> Any:
    from matplotlib.lines import Line2D

    return Line2D([], [], color="black", linewidth=0.9, label=label)

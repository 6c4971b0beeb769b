"""The calibration of the no-cook model: what the header holds was fitted, and the document shows what the model does."""

import dataclasses
import math
import re
from collections.abc import Callable
from types import ModuleType

import pytest
from ferment import fermentation

Table = list[dict[str, str]]


@pytest.fixture(scope="module")
def model(calibration: Callable[[str], ModuleType]) -> ModuleType:
    """The script as a module; its fits and forecasts are made once."""
    return calibration("no_cook_model")


def printed_numbers(row: dict[str, str]) -> set[float]:
    """Every number of a published row, the middle of every range, and g per 100 mL as g/L."""
    found: set[float] = set()
    for text in row.values():
        numbers = [float(n) for n in re.findall(r"\d+\.?\d*", text)]
        ranges = [0.5 * (float(a) + float(b)) for a, b in re.findall(r"(\d+\.?\d*)-(\d+\.?\d*)", text)]
        found.update(numbers, ranges)
        if row.get("ethanol_unit") == "g/100 mL":
            found.update(10.0 * n for n in numbers)
    return {round(n, 6) for n in found}


def test_every_point_was_published(model: ModuleType, reference: Callable[[str], Table]) -> None:
    tables = ("end_points", "progress_points", "yeast_on_sugar_timecourse_digitised")
    published = {row["id"]: row for name in tables for row in reference(f"no_cook_fermentation/{name}")}
    points = model.points()
    assert len(points) >= 45
    for point in points:
        ids = point.rows.split()
        numbers = set().union(*(printed_numbers(published[i]) for i in ids))
        if (point.series, point.quantity) == ("maize flour", "ethanol_percent_of_theoretical"):
            assert point.counted == "memory"  # the one figure that no table has
            continue
        assert round(point.value, 6) in numbers, point
        assert point.low <= point.value <= point.high, point


def test_no_work_is_both_fitted_and_validated(model: ModuleType) -> None:
    fitted = {p.work for p in model.points("fit")}
    kept_out = {p.work for p in model.points("validation")}
    assert len(fitted) >= 5
    assert len(kept_out) >= 9
    assert not fitted & kept_out


def test_header_holds_the_fitted_digits(model: ModuleType) -> None:
    found = model.fit().found
    assert set(found) == set(model.FITTED)
    for name, header in model.in_header().items():
        assert model.holds(header, found[name]), (name, header, found[name])


def test_installed_package_is_the_header(model: ModuleType) -> None:
    installed = {p.name: (p.median, p.spread) for p in fermentation.kinetic_parameters()}
    for name, header in model.in_header().items():
        assert installed[name] == (header.median, header.spread)


def test_fits_meet_their_points(model: ModuleType) -> None:
    f = model.fit()
    assumptions = model.blind_assumptions()
    base = dict(model.HELD)
    granules = {
        **base,
        "hydrolysis_rate": model.spreads_away("hydrolysis_rate", f.granules.rate),
        "fast_rate_ratio": model.spreads_away("fast_rate_ratio", f.granules.ratio),
        "glucose_inhibition": model.spreads_away("glucose_inhibition", model.NO_INHIBITION),
    }
    for rows in ("T30", "T31"):
        point = model.row_of(rows)
        assert model.figure(point, assumptions, granules) == pytest.approx(point.value, rel=1e-3)
    for name in ("fast_rate_ratio", "uptake_rate"):
        base[name] = model.spreads_away(name, f.found[name].median)
    cassava = {**base, "hydrolysis_rate": model.spreads_away("hydrolysis_rate", f.cassava)}
    for rows in ("E05 T19", "E05 T20"):
        point = model.row_of(rows)
        simulated = model.figure(dataclasses.replace(point, yeast_kg=f.cassava_yeast), assumptions, cassava)
        assert point.low <= simulated <= point.high
        assert simulated == pytest.approx(point.value, rel=1e-3)
    assert f.cassava_low < f.cassava < f.cassava_high
    assert f.maize_least < f.maize
    for end in (f.granules_low, f.granules_high):
        assert end.rate == pytest.approx(f.granules.rate, rel=0.02)  # as the table of fits says
    maize = {**base, "hydrolysis_rate": model.spreads_away("hydrolysis_rate", f.maize)}
    co2 = model.row_of("T17 T18")
    # The rate came from how near the end it was. The CO2 itself is lower with the mean conversion of the works: 0.465 against 0.48 +- 0.01 g/g.
    assert model.figure(co2, assumptions, maize) == pytest.approx(0.465, abs=0.001)
    assert model.figure(co2, assumptions, maize) < co2.low
    # Oliveira et al. 2016 state 2.5 g/L for a model with three more parameters.
    assert f.uptake_rms < 6.5


def test_root_says_so_where_there_is_none(model: ModuleType) -> None:
    assert model.root(lambda x: x - 2.0, 1.0, 10.0) == pytest.approx(2.0, rel=1e-4)
    assert math.isnan(model.root(lambda x: x + 2.0, 1.0, 10.0))
    assert math.isnan(model.root(lambda x: math.nan * x, 1.0, 10.0))


def test_predictive_spread(model: ModuleType) -> None:
    # Three values one apart: s = 1, and sqrt(4/3) times 2.920/1.645.
    assert model.spread_of_next([0.0, 1.0, 2.0]) == pytest.approx(math.sqrt(4.0 / 3.0), rel=1e-12)
    assert model.predictive_spread([0.0, 1.0, 2.0]) == pytest.approx(math.sqrt(4.0 / 3.0) * 2.920 / 1.645, rel=1e-12)


def test_end_points_and_bands(model: ModuleType) -> None:
    v = model.validation()
    assert len(v.end_points) >= 10
    assert v.near_end >= model.LEAST_NEAR
    assert v.near_typical >= model.LEAST_NEAR
    # The median of the forecast is weaker than asked: six to eight of eleven, by the draws. The document says so.
    assert 0.4 <= v.near_median < model.LEAST_NEAR
    assert model.LEAST_INSIDE <= v.coverage <= model.MOST_INSIDE
    known = [c for c in v.checks if c.point.counted != "memory"]
    assert model.LEAST_INSIDE <= model.share(c.inside for c in known) <= model.MOST_INSIDE


def test_bounds(model: ModuleType) -> None:
    bounds = model.validation().bounds
    broken = {c.point.rows for c in bounds if not c.holds}
    assert len(bounds) >= 10
    assert broken == {"E23"}  # 86.5 % after 72 h, above the median of full enzyme; the document says so


def test_colder_takes_longer(model: ModuleType) -> None:
    rows = model.cold()
    assert [c.temperature_c for c in rows] == [15.0, 20.0, 25.0, 30.0]
    medians = [c.median for c in rows]
    assert medians == sorted(medians, reverse=True)
    # In days the band is the wider the colder; at 30 degC a slow enzyme decays before it is through, which stretches the far end again.
    cool = rows[:3]
    widths = [c.high - c.low for c in cool]
    assert widths == sorted(widths, reverse=True)
    assert all(c.high / c.low > 3.0 for c in rows)


def test_document_is_up_to_date(model: ModuleType) -> None:
    text = model.DOCUMENT.read_text(encoding="utf-8")
    made = model.with_parts(text)
    number = re.compile(r"\d+(?:\.\d+)?")
    assert number.sub("#", made) == number.sub("#", text)
    for now, written in zip(number.findall(made), number.findall(text), strict=True):
        # Another compiler may round the last digit the other way.
        digits = len(written.partition(".")[2])
        assert float(now) == pytest.approx(float(written), abs=1.01 * 10.0**-digits), (now, written)
    assert "<!-- synthetic study -->" in text or "## Synthetic study" in text

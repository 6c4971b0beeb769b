"""The synthetic study of the no-cook model, reduced: bands that hold the truth, causes that are named, and the document that says so.

Every case has its own seed: what is made here is the first part of the study in the document.
"""

import dataclasses
import re
from collections.abc import Callable
from types import ModuleType

import pytest
from ferment import fermentation

CASES_OF_A_CAUSE = 12
FLIPPED = 1  # cases that another compiler may push over an edge
Row = list[str]


@pytest.fixture(scope="module")
def study(calibration: Callable[[str], ModuleType]) -> ModuleType:
    """The script as a module; what it makes is made once."""
    return calibration("synthetic_study")


def documented(study: ModuleType, head: Row) -> list[Row]:
    """The rows of a table in the generated part."""
    text = study.DOCUMENT.read_text(encoding="utf-8")
    _, found, rest = text.partition(study.BEGIN)
    assert found, "the document has no synthetic study; run tests/calibration/synthetic_study.py --write"
    lines = iter(rest.partition(study.END)[0].splitlines())
    first = study.table(head, []).splitlines()[0]
    assert first in lines  # and the iterator stands behind it
    next(lines)
    rows = []
    for line in lines:
        if not line.startswith("|"):
            break
        rows.append(line.strip("| ").split(" | "))
    return rows


def documented_row(study: ModuleType, head: Row, start: Row) -> Row:
    """What follows a row's first cells."""
    (row,) = (row for row in documented(study, head) if row[: len(start)] == start)
    return row[len(start) :]


# With a scale in the warm, and without one in the cold: the narrowest and the widest bands.
@pytest.mark.parametrize(("mash_c", "scale"), [(25.0, True), (18.0, False)])
def test_bands_hold_the_truth_and_get_narrower(study: ModuleType, mash_c: float, scale: bool) -> None:
    cases = study.cases(study.Setting(mash_c, scale))
    assert len(cases.cases) == 200
    for figure in study.FIGURES:
        assert study.LEAST_INSIDE <= cases.coverage(figure) <= study.MOST_INSIDE, figure
        assert cases.ratio(figure) < 1.0, figure
    assert cases.warned <= 0.03  # readings without a fault; 1 % of them look as if there were one
    narrow = {figure for figure in study.FIGURES if cases.ratio(figure) <= study.NARROW}
    # Half the width was wanted for everything. It is not so without a scale, and never for the conversion; the document says so.
    assert narrow == ({"gravity", "abv", "done"} if scale else {"gravity"})

    one = 100.0 * FLIPPED / len(cases.cases)
    written = documented_row(study, study.COVERAGE_HEAD, cases.setting.words)
    shares = [*(cases.coverage(f) for f in study.FIGURES), cases.warned]
    assert [float(w) for w in written] == pytest.approx([100.0 * s for s in shares], abs=1.01 * one)
    written = documented_row(study, study.RATIO_HEAD, cases.setting.words)
    assert [float(w) for w in written] == pytest.approx([cases.ratio(f) for f in study.FIGURES], abs=0.011)


def test_check_names_the_cause(study: ModuleType) -> None:
    answers = study.answers(study.Setting(18.0, True), CASES_OF_A_CAUSE)
    names = [c.name for c in study.studied()]
    chance = 1.0 / len(names)
    assert len(answers.answers) == CASES_OF_A_CAUSE * len(names)
    assert answers.right > 4.0 * chance
    for place, name in enumerate(names):
        row = answers.row(name)
        assert sum(row) == CASES_OF_A_CAUSE
        assert answers.right_of(name) > 1.5 * chance, name
        # Where it errs it says "as planned"; no other wrong cause is named as often as the right one.
        assert max(row[1:]) == row[place] or place == 0, name
        *written, _ = documented_row(study, study.cause_head(), [*answers.setting.words, name])
        assert sum(map(int, written)) == study.CASES_OF_A_CAUSE
        assert all(few <= int(many) + FLIPPED for few, many in zip(row, written, strict=True)), (name, row, written)
    # How it stands: better than the same answer for every batch.
    assert answers.stands_right > answers.commonest_standing


def test_document_has_every_setting_and_what_must_hold(study: ModuleType) -> None:
    settings = [s.words for s in study.SETTINGS]
    coverage = documented(study, study.COVERAGE_HEAD)
    assert [row[:2] for row in coverage] == settings
    outside = {
        (*row[:2], name): float(inside)
        for row in coverage
        for name, inside in zip(study.FIGURES, row[2:-1], strict=True)
        if not 85.0 <= float(inside) <= 95.0
    }
    # One band of sixteen is wider than it should be, at a standard error of 2 %; none is too narrow. The document says so.
    assert outside == {("25", "no", "abv"): 96.0}
    ratios = documented(study, study.RATIO_HEAD)
    assert [row[:2] for row in ratios] == settings
    gravity, abv, conversion, done = ([float(x) for x in column] for column in list(zip(*ratios, strict=True))[2:])
    scale = [row[1] == "yes" for row in ratios]
    assert max(gravity) <= 0.5
    assert [x <= 0.5 for x in done] == scale
    assert [x <= 0.5 for x in abv] == [False, False, False, True]  # with a scale and warm only
    assert min(conversion) > 0.5  # for no setting
    causes = documented(study, study.cause_head())
    assert [row[:3] for row in causes] == [[*words, c.name] for words in settings for c in study.studied()]
    for words in settings:
        rows = [row for row in causes if row[:2] == words]
        right = [int(row[3 + place]) / study.CASES_OF_A_CAUSE for place, row in enumerate(rows)]
        assert [round(100.0 * r) for r in right] == pytest.approx([float(row[-1]) for row in rows], abs=1.0)
        better = {row[2] for row, share in zip(rows, right, strict=True) if share > 1.5 / len(right)}
        assert {"colder than was said", "under-pitched", "enzyme-limited"} <= better
        # On day 5 nothing but a scale tells that the starch gives out early; the document says so.
        if words[1] == "yes":
            assert len(better) == len(rows)
        assert sum(right) / len(right) > 0.55
    standings = documented(study, study.STANDING_HEAD)
    for words in settings:
        numbers = [[int(n) for n in row[3:-1]] for row in standings if row[:2] == words]
        assert sum(map(sum, numbers)) == len(study.studied()) * study.CASES_OF_A_CAUSE


def test_causes_are_those_of_check(study: ModuleType) -> None:
    setting = study.Setting(18.0, False)
    reading = fermentation.Reading(24.0, temperature_c=(18.0, 0.5))
    said = fermentation.check(study.POTENTIAL, study.INOCULUM, setting.conditions, [reading], members=2)
    assert [name for name, _ in said.cause_probability] == [c.name for c in study.causes()]
    assert tuple(name for name, _ in said.probability) == study.STANDINGS
    assert sum(c.before for c in study.causes()) == pytest.approx(1.0)
    with_priors = [c for c in study.causes() if c.priors]
    assert len(with_priors) == 6
    assert len(study.studied()) == len(study.causes()) - 1
    for cause in with_priors:  # every shift is a change for the worse
        ((name, (median, _)),) = cause.priors.items()
        assert (median < study.PRIORS[name].median) == (name != "enzyme_decay")
    assert [c.name for c in study.causes() if c.gravity_off > 0.0] == ["reading error"]


def test_standing_of_simple_courses(study: ModuleType) -> None:
    setting = study.Setting(25.0, False)
    usual = study.slow(setting.mash_c)

    def stands(z: dict[str, float], edge: object = usual) -> str:
        end = study.READ_H[-1]
        hours = [*study.READ_H, end + study.STOPPED_WINDOW_H, end + study.END_H]
        course = fermentation.simulate(study.POTENTIAL, study.INOCULUM, setting.conditions, hours, z)
        return str(study.standing(course, edge))

    assert stands({"hydrolysis_rate": 3.0}) == "finished"
    assert stands({"hydrolysis_rate": -1.0}) == "on course"
    assert stands({"hydrolysis_rate": -1.0}, dataclasses.replace(usual, latest_h=0.0)) == "slow"
    assert stands({"hydrolysis_rate": -1.0}, dataclasses.replace(usual, weakest_abw=100.0)) == "slow"
    assert stands({"death_rate": 6.0}) == "stopped"


def test_writing_keeps_the_other_text(study: ModuleType) -> None:
    written = study.with_part(f"before\n\n{study.MARKER}\nafter\n", "made")
    assert written.startswith("before\n\n## Synthetic study\n")
    assert written.endswith(f"{study.BEGIN}\nmade\n\n{study.END}\n\nafter\n")
    assert study.with_part(written, "anew") == written.replace("made\n", "anew\n") != written
    with pytest.raises(SystemExit, match="no part synthetic"):
        study.with_part("nothing\n", "made")


@pytest.mark.long
def test_document_is_up_to_date(study: ModuleType) -> None:
    """The whole study; five minutes and more."""
    text = study.DOCUMENT.read_text(encoding="utf-8")
    made = study.with_part(text, study.part())
    number = re.compile(r"\d+(?:\.\d+)?")
    first_line = study.BEGIN + "\n"
    assert made.partition(first_line)[0] == text.partition(first_line)[0]
    for head in (study.COVERAGE_HEAD, study.RATIO_HEAD, study.cause_head(), study.STANDING_HEAD):
        top = study.table(head, []).splitlines()[0]
        now, written = (t.partition(top)[2].partition("\n\n")[0] for t in (made, text))
        assert number.sub("#", now) == number.sub("#", written)
        for a, b in zip(number.findall(now), number.findall(written), strict=True):
            # Another compiler may push a case over an edge: one of the count, or its share of a row.
            assert float(a) == pytest.approx(float(b), abs=2.6 if head[-1] == "right, %" else 0.51), (head, a, b)

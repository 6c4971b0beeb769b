"""Plans a batch of uncooked grain from sacks to bottles, judges its readings, reduces its spirit and keeps its ledger: the sheet for the shed wall.

    python plan_batch.py batches/shed_batch.toml [picture.png]

Prints the sheet and saves it as a picture. Exit code 0; 2 with one line for a batch file that cannot be used.
"""

import dataclasses
import datetime
import difflib
import math
import reprlib
import sys
import textwrap
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import ferment
from ferment.batch import CutEnd, CutPlan, Ledger, Plan, RunConditions, SpiritStill, StrippingEnd
from ferment.batch import plan as plan_stills
from ferment.fermentation import (
    Ambient,
    Check,
    Conditions,
    EndPoint,
    Forecast,
    Inoculum,
    Reading,
    Vessel,
    check,
    end_point,
    forecast,
    no_cook,
    ventilation_m3_per_h,
)
from ferment.instrument import Hydrometer, Wash
from ferment.mash import Assumptions, Bill, Potential, grain, potential, water_balance
from ferment.proofing import bottles, dilute
from ferment.still import CAUTIONS, Jar, Still, TakeOff, work_out_cuts

BAD_INPUT = 2
HOURS = 24
FORECAST_DAYS = 28
STEP_H = 6
TEMPERATURE_UNCERTAINTY_C = 0.5
SCALE_UNCERTAINTY_KG = 0.05
WALLS = {"bare": 7.0, "wood": 3.0, "insulated": 1.2}  # W/(m2 K), common practice, no source
LOW, MIDDLE, HIGH = 0, 2, 4  # of a band: 5, 50 and 95 %
SPREAD_OF_90 = 3.29  # standard deviations from the 5 to the 95 % quantile of a normal distribution
TEXT_WIDTH = 110
LARGEST_FILE = 2**20  # bytes
LONGEST_LINE, LONGEST_NAME, LONGEST_SHOWN = 500, 100, 60  # characters
MOST_SHOWN, LARGE_NUMBER = 10**20, "more than 10^20"
MOST_GRAINS, MOST_READINGS, MOST_JARS = 50, 30, 200
LONGEST_DAYS = 300
YEARS = (1900, 2200)
JARS = ("low_wines", "fore_shots", "heads", "tails")  # hearts are in [spirit]
GAS_CAUTION = "Carbon dioxide from the fermenter can kill in a closed room. Ventilate; never lean into a vessel."
LEDGER = "LEDGER"
SHEET_POINTS, LEDGER_POINTS, POINTS_PER_INCH, LINE_SPACING = 8.5, 7.5, 72, 1.2
MARGIN_IN, CURVES_IN = 0.7, 5.5


class BatchError(Exception):
    """A batch file that cannot be used; the message names the key, the value and what is allowed."""


_SHOWN = reprlib.Repr()
_SHOWN.maxstring = _SHOWN.maxother = LONGEST_SHOWN
_SHOWN.maxlevel = 2


def shown(value: object) -> str:
    """A value for a message: short, and on one line, whatever it is."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int) and abs(value) > MOST_SHOWN:
        return f"{'-' if value < 0 else ''}{LARGE_NUMBER}"
    text = value.isoformat() if isinstance(value, datetime.date | datetime.time) else _SHOWN.repr(value)
    return text if len(text) <= 2 * LONGEST_SHOWN else text[: 2 * LONGEST_SHOWN] + "..."


class Table:
    """A table of the batch file that knows its own name and refuses what it does not know."""

    def __init__(self, name: str, values: object, allowed: tuple[str, ...]) -> None:
        if not isinstance(values, Mapping):
            raise BatchError(f"{name}: expected a table with {', '.join(allowed)}; found {shown(values)}")
        self.name = name
        self.values: dict[str, Any] = dict(values)
        for key in self.values:
            if key not in allowed:
                raise BatchError(f"{self.key(key)} = {shown(self.values[key])} is not known{meant(key, allowed)}")

    def key(self, key: str) -> str:
        short = key if key.isidentifier() and len(key) <= LONGEST_SHOWN else shown(key)
        return f"{self.name}.{short}" if self.name else short

    def get(self, key: str, expected: str) -> Any:
        if key not in self.values:
            raise BatchError(f"{self.key(key)} is missing; it must be {expected}")
        return self.values[key]

    def number(self, key: str, unit: str, lowest: float, highest: float, default: float | None = None) -> float:
        allowed = f"a number of {lowest:.10g} to {highest:.10g} {unit}".strip()
        if default is not None and key not in self.values:
            return default
        value = self.get(key, allowed)
        if isinstance(value, bool) or not isinstance(value, int | float) or not lowest <= value <= highest:
            hint = ""
            if unit == "degC" and isinstance(value, int | float) and 1.8 * lowest + 32 <= value <= 1.8 * highest + 32:
                hint = f"; if this is degF, write {(value - 32) / 1.8:.1f}"
            if unit.startswith("%") and isinstance(value, float) and 0 < value < 1 and lowest <= 100 * value <= highest:
                hint = f"; if this is a share of one, write {100 * value:g}"
            raise BatchError(f"{self.key(key)} = {shown(value)} must be {allowed}{hint}")
        return float(value)

    def whole(self, key: str, lowest: int, highest: int, default: int) -> int:
        value = self.values.get(key, default)
        if isinstance(value, bool) or not isinstance(value, int) or not lowest <= value <= highest:
            raise BatchError(f"{self.key(key)} = {shown(value)} must be a whole number of {lowest} to {highest}")
        return value

    def text(self, key: str) -> str:
        value = self.get(key, "a text")
        if not isinstance(value, str):
            raise BatchError(f"{self.key(key)} = {shown(value)} must be a text in quotes")
        return value

    def date(self, key: str) -> datetime.date:
        value = self.get(key, "a date like 2026-04-09")
        if not isinstance(value, datetime.date) or isinstance(value, datetime.datetime):
            raise BatchError(f"{self.key(key)} = {shown(value)} must be a date like 2026-04-09, without quotes")
        first, last = YEARS
        if not first <= value.year <= last:
            raise BatchError(f"{self.key(key)} = {value} must be a date of the years {first} to {last}")
        return value


def meant(key: str, allowed: tuple[str, ...]) -> str:
    """What follows after "is not known": the key that was meant, or all that are known."""
    near = [known for known in allowed if known.rsplit("_", 1)[0] == key.rsplit("_", 1)[0]]
    if near:
        return f"; this quantity is written {near[0]}"
    alike = difflib.get_close_matches(key[:LONGEST_SHOWN], allowed, n=1)
    return f"; did you mean {alike[0]}?" if alike else f"; allowed are {', '.join(allowed)}"


def tables(batch: Table, key: str, allowed: tuple[str, ...], least: int, most: int) -> list[Table]:
    wanted = f"{least} to {most} tables [[{key}]]"
    found = batch.get(key, wanted) if least or key in batch.values else []
    if not isinstance(found, list):
        raise BatchError(f"{key} = {shown(found)} must be {wanted}")
    if not least <= len(found) <= most:
        raise BatchError(f"{key}: {len(found)} tables are given; {wanted} are allowed")
    return [Table(f"{key}[{i + 1}]", values, allowed) for i, values in enumerate(found)]


class Batch:
    """The batch file, checked."""

    MOST_KG, MOST_L = 1e5, 1e6

    def __init__(self, values: Mapping[str, Any]) -> None:
        top = Table(
            "",
            values,
            (
                "name",
                "grain",
                "water",
                "equipment",
                "reading",
                "fermentation",
                "stripping",
                "spirit_still",
                "cuts",
                "jar",
                "spirit",
            ),
        )
        self.name = top.text("name")
        if len(self.name) > LONGEST_NAME or not self.name.isprintable():
            raise BatchError(
                f"name = {shown(self.name)} must be one line of at most {LONGEST_NAME} characters, all of them printable"
            )
        self.bill = Bill(self._grain(line) for line in tables(top, "grain", ("name", "mass_kg"), 1, MOST_GRAINS))
        water = Table("water", top.get("water", "a table [water]"), ("volume_l", "temperature_c"))
        self.water_l = water.number("volume_l", "L", 0.1, self.MOST_L)
        self.water_c = water.number("temperature_c", "degC", 0, 60)
        equipment = Table(
            "equipment",
            top.get("equipment", "a table [equipment]"),
            ("fermenter_l", "boiler_l", "hydrometer_scale", "hydrometer_calibration_c", "hydrometer_uncertainty"),
        )
        self.fermenter_l = equipment.number("fermenter_l", "L", 0.1, self.MOST_L)
        self.boiler_l = equipment.number("boiler_l", "L", 0.1, self.MOST_L)
        scale = equipment.text("hydrometer_scale")
        if scale != "sg":
            raise BatchError(
                f'equipment.hydrometer_scale = {shown(scale)} must be "sg": the readings of a batch file are specific gravities'
            )
        self.hydrometer = Hydrometer("sg", equipment.number("hydrometer_calibration_c", "degC", 0, 40))
        self.hydrometer_uncertainty = equipment.number("hydrometer_uncertainty", "", 1e-5, 0.01, 0.001)
        self._fermentation(
            Table(
                "fermentation",
                top.get("fermentation", "a table [fermentation]"),
                (
                    "pitched",
                    "yeast_g",
                    "enzyme_dose",
                    "nutrients",
                    "mash_temperature_c",
                    "air_temperature_c",
                    "air_swing_c",
                    "walls",
                ),
            )
        )
        keys = ("date", "gravity", "temperature_c", "co2_lost_kg", "iodine")
        self.readings = [self._reading(line) for line in tables(top, "reading", keys, 0, MOST_READINGS)]
        for i in range(1, len(self.readings)):
            before, date = (self.pitched + datetime.timedelta(self.readings[k].day) for k in (i - 1, i))
            if date < before:
                raise BatchError(f"reading[{i + 1}].date = {date} must not be before reading[{i}].date = {before}")
        spirit = Table(
            "spirit",
            top.get("spirit", "a table [spirit]"),
            (
                "collected_l",
                "collected_abv",
                "collected_temperature_c",
                "target_abv",
                "water_temperature_c",
                "bottle_l",
            ),
        )
        self.collected_l = spirit.number("collected_l", "L", 1e-3, self.MOST_L)
        self.collected_abv = spirit.number("collected_abv", "% vol", 1, 97)
        self.collected_c = spirit.number("collected_temperature_c", "degC", 0, 40)
        self.target_abv = spirit.number("target_abv", "% vol", 1, self.collected_abv)
        self.dilution_water_c = spirit.number("water_temperature_c", "degC", 0, 40)
        self.bottle_l = spirit.number("bottle_l", "L", 0.01, 100)
        self.stills = self._stills(top) if "stripping" in top.values else None
        for key in ("spirit_still", "cuts"):
            if key in top.values and self.stills is None:
                raise BatchError(f"{key} needs a table [stripping] with the heating of the boiler")
        jar_keys = ("holds", "volume_l", "abv", "temperature_c")
        self.jars = [self._jar(line) for line in tables(top, "jar", jar_keys, 0, MOST_JARS)]

    def _stills(self, top: Table) -> dict[str, Any]:
        """What the plan of the stills takes beside bill and water."""
        strip = Table(
            "stripping",
            top.values["stripping"],
            ("heating_kw", "heat_loss", "end_abv", "wash_c", "cooling_water_c", "kept_by_grain_kg_per_kg"),
        )
        heating = strip.number("heating_kw", "kW", 0.1, 1e4)
        loss = strip.number("heat_loss", "% of the heating", 0, 90, 10.0)
        spirit = Table(
            "spirit_still",
            top.values.get("spirit_still", {}),
            ("boiler_l", "heating_kw", "heat_loss", "plates", "reflux", "end_abv"),
        )
        own = Still(
            spirit.number("boiler_l", "L", 0.1, self.MOST_L, self.boiler_l),
            heating_kw=spirit.number("heating_kw", "kW", 0.1, 1e4, heating),
            heat_loss=spirit.number("heat_loss", "% of the heating", 0, 90, loss),
        )
        cuts = Table("cuts", top.values.get("cuts", {}), ("fore_shots_share", "heads_share", "hearts_end_abv"))
        usual = CutPlan()
        fore_shots = cuts.number("fore_shots_share", "% of the alcohol", 0, 50, usual.fore_shots_end.value)
        heads = cuts.number("heads_share", "% of the alcohol", fore_shots, 90, usual.heads_end.value)
        asked: dict[str, Any] = {
            "stripping_still": Still(self.boiler_l, heating_kw=heating, heat_loss=loss),
            "stripping_end": StrippingEnd("distillate_abv", strip.number("end_abv", "% vol", 0.1, 50, 5.0)),
            "conditions": RunConditions(
                start_c=strip.number("wash_c", "degC", 0, 40, 20.0),
                water_in_c=strip.number("cooling_water_c", "degC", 0, 40, 15.0),
            ),
            "spirit": SpiritStill(
                own,
                plates=spirit.whole("plates", 0, 50, 0),
                take_off=TakeOff.at_reflux(spirit.number("reflux", "", 0, 100, 0.0)),
                distillate_abv=spirit.number("end_abv", "% vol", 0.1, 90, 10.0),
            ),
            "cuts": CutPlan(
                CutEnd.alcohol_share(fore_shots),
                CutEnd.alcohol_share(heads),
                CutEnd.distillate(cuts.number("hearts_end_abv", "% vol", 1, 96, usual.hearts_end.value)),
            ),
            "target_abv": self.target_abv,
            "bottle_l": self.bottle_l,
            "water_c": self.dilution_water_c,
            "fill_c": self.collected_c,
        }
        if "kept_by_grain_kg_per_kg" in strip.values:
            asked["absorption"] = strip.number("kept_by_grain_kg_per_kg", "kg of water per kg of grain", 0, 10)
        return asked

    def _jar(self, line: Table) -> tuple[str, Jar]:
        holds = line.text("holds")
        if holds not in JARS:
            raise BatchError(
                f"{line.key('holds')} = {shown(holds)} must be one of {', '.join(JARS)}; hearts are in [spirit]"
            )
        volume_l = line.number("volume_l", "L", 1e-3, self.MOST_L)
        abv = line.number("abv", "% vol", 0, 97)
        return holds, Jar(volume_l, abv, temperature_c=line.number("temperature_c", "degC", 0, 40, 20.0))

    def _grain(self, line: Table) -> tuple[ferment.mash.Grain, float]:
        name = line.text("name")
        mass_kg = line.number("mass_kg", "kg", 1e-3, self.MOST_KG)
        try:
            return (grain(name), mass_kg)
        except ferment.InputError as e:
            raise BatchError(f"{line.key('name')} = {shown(name)}: {e}") from None

    def _fermentation(self, line: Table) -> None:
        self.pitched = line.date("pitched")
        yeast_kg = line.number("yeast_g", "g", 1e-3, 1e8) / 1000
        dose = line.number("enzyme_dose", "of the full dose", 0, 20, 1.0)
        self.inoculum = Inoculum(yeast_kg, dose, line.number("nutrients", "of the grain's own", 0.1, 10, 1.0))
        air = line.number("air_temperature_c", "degC", -30, 50)
        swing = line.number("air_swing_c", "K", 0, 30, 0.0)
        walls = line.text("walls") if "walls" in line.values else "bare"
        if walls not in WALLS:
            raise BatchError(f"{line.key('walls')} = {shown(walls)} must be one of {', '.join(WALLS)}")
        mash = line.number("mash_temperature_c", "degC", 0, 45)
        self.conditions = Conditions(mash, Ambient.day_night(air, swing), Vessel(WALLS[walls]))

    def _reading(self, line: Table) -> "AsRead":
        date = line.date("date")
        if date < self.pitched:
            raise BatchError(f"{line.key('date')} = {date} must not be before fermentation.pitched = {self.pitched}")
        if (date - self.pitched).days > LONGEST_DAYS:
            raise BatchError(
                f"{line.key('date')} = {date} must be at most {LONGEST_DAYS} days after fermentation.pitched = {self.pitched}"
            )
        iodine: str | None = line.text("iodine") if "iodine" in line.values else None
        if iodine not in (None, "positive", "negative"):
            raise BatchError(f'{line.key("iodine")} = {shown(iodine)} must be "positive" or "negative"')
        return AsRead(
            (date - self.pitched).days,
            line.number("gravity", "SG", 0.97, 1.2),
            line.number("temperature_c", "degC", 0, 40),
            line.number("co2_lost_kg", "kg", 0, self.MOST_KG) if "co2_lost_kg" in line.values else None,
            None if iodine is None else iodine == "positive",
        )


@dataclasses.dataclass(frozen=True)
class AsRead:
    """A reading as it stands in the batch file."""

    day: int
    gravity: float
    temperature_c: float
    co2_lost_kg: float | None
    iodine: bool | None


def read_batch(path: Path) -> Batch:
    """The batch of a file. BatchError, one line, for anything that is not one."""
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    except OSError as e:
        raise BatchError(f"{e.strerror}") from None
    if len(raw) > LARGEST_FILE:
        raise BatchError(f"this is no batch file: it has more than {LARGEST_FILE} bytes")
    try:
        text = raw.decode()
    except UnicodeDecodeError as e:
        raise BatchError(f"not TOML: byte {e.start + 1} is not UTF-8; save the file as UTF-8") from None
    if text.startswith("\ufeff"):
        raise BatchError("not TOML: the file begins with a byte order mark; save it as UTF-8 without one")
    for number, line in enumerate(text.splitlines(), 1):
        if len(line) > LONGEST_LINE:
            raise BatchError(f"line {number} has {len(line)} characters; at most {LONGEST_LINE} are read")
    try:
        return Batch(tomllib.loads(text))
    except RecursionError:
        raise BatchError("not TOML: lists or tables are nested too deeply") from None
    except ValueError as e:  # of tomllib, and of whole numbers with thousands of digits
        if not isinstance(e, tomllib.TOMLDecodeError):
            raise BatchError("not TOML: a whole number has thousands of digits") from None
        said, at, where = str(e).rpartition(" (at ")
        if said.startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate", "Duplicate")):
            said = "a key or a table is there twice"
        short = said if len(said) <= 2 * LONGEST_SHOWN else said[: 2 * LONGEST_SHOWN] + "..."
        raise BatchError(f"not TOML: {short}{at}{where}") from None


@dataclasses.dataclass(frozen=True)
class Judged:
    """A reading, what it is at 20/20, and what it and all before it say."""

    read: AsRead
    true_gravity: float
    says: Check


@dataclasses.dataclass(frozen=True)
class Course:
    """The batch in time: as forecast at pitching, its readings, and as forecast after them."""

    planned: Forecast
    readings: list[Judged]
    now: Forecast


def follow(batch: Batch, plan: Potential, end: EndPoint) -> Course:
    """Forecasts and judges the batch."""
    # The strength only steers the thermal expansion, by about 0.0001 in gravity from none to 8 % vol, so that of the finished wash will do.
    wash = Wash(abv=end.abv.value)
    last = max((read.day for read in batch.readings), default=0)
    hours = [float(hour) for hour in range(0, HOURS * (last + FORECAST_DAYS) + 1, STEP_H)]
    planned = forecast(plan, batch.inoculum, batch.conditions, hours)
    judged: list[Judged] = []
    known: list[Reading] = []
    for read in batch.readings:
        true = float(batch.hydrometer.correct(read.gravity, read.temperature_c, wash).sg)
        scale = None if read.co2_lost_kg is None else (read.co2_lost_kg, SCALE_UNCERTAINTY_KG)
        known.append(
            Reading(
                float(HOURS * read.day),
                gravity=(true, batch.hydrometer_uncertainty),
                temperature_c=(read.temperature_c, TEMPERATURE_UNCERTAINTY_C),
                co2_lost_kg=scale,
                iodine=read.iodine,
            )
        )
        judged.append(Judged(read, true, check(plan, batch.inoculum, batch.conditions, known)))
    now = forecast(plan, batch.inoculum, batch.conditions, hours, readings=known) if known else planned
    return Course(planned, judged, now)


@dataclasses.dataclass(frozen=True)
class Distilled:
    """The stills as planned, what the plan goes by, and where the alcohol went."""

    plan: Plan | None
    goes_by: str
    ledger: Ledger


def distil(batch: Batch, plan: Potential, course: Course) -> Distilled:
    """Plans the stills and books what was measured."""
    assumed, goes_by = plan.assumptions, "conversion as published"
    last = course.readings[-1].says if course.readings else None
    if last is not None and last.stands == "finished":
        found = last.conversion
        conversion = (found.p50, (found.p95 - found.p5) / SPREAD_OF_90)
        assumed = Assumptions(conversion, plan.assumptions.fermentation_efficiency)
        goes_by = f"conversion of {found.p50:.0f} %, as the readings say"
    stills = None
    if batch.stills is not None:
        stills = plan_stills(bill=batch.bill, water_kg=plan.water_kg, assumptions=assumed, **batch.stills)
        book = stills.ledger()
    else:
        book = Ledger.of_potential(potential(batch.bill, water_kg=plan.water_kg, assumptions=assumed))
    hearts = Jar(batch.collected_l, batch.collected_abv, temperature_c=batch.collected_c)
    for place in (*JARS, "hearts"):
        jars = [hearts] if place == "hearts" else [jar for holds, jar in batch.jars if holds == place]
        if jars:
            note = "collected" if place == "hearts" else f"{len(jars)} jar{'s' if len(jars) > 1 else ''}"
            book.measure(place, work_out_cuts(jars).total.pure_alcohol_l, note=note)
    return Distilled(stills, goes_by, book)


def still_plan(stills: Plan, goes_by: str) -> list[str]:
    """Charges, cuts, heat and water, as planned."""
    strip, spirit, hearts = stills.stripping_charges, stills.spirit_charges, stills.fraction("hearts")
    lines = [
        f"  planned       {goes_by}; {stills.strained.volume_l:.1f} L of {stills.strained.abv:.1f} % vol off the grain, {stills.kept_by_grain.volume_l:.1f} L stay in it",
        f"  stripping     {strip.count} charge{'s' if strip.count > 1 else ''} of {strip.charge.volume_l:.1f} L, {strip.head_space:.0f} % of the boiler empty;"
        f" {stills.stripping_duty.total_h:.1f} h each, until {stills.stripping.boiling_end_c:.1f} degC",
        f"                -> {plus_minus(stills.predicted.low_wines_l, 1)} L of low wines of {stills.low_wines.abv:.1f} % vol",
        f"  spirit run    {spirit.count} charge{'s' if spirit.count > 1 else ''} of {spirit.charge.volume_l:.1f} L of {spirit.charge.abv:.1f} % vol"
        f" ({stills.spirit_water_kg:.1f} kg of water added), {stills.spirit_duty.total_h:.1f} h each",
    ]
    for one in stills.fractions:
        name = one.label.replace("_", "-")
        what = ": not drink, throw them away" if one.label == "fore_shots" else ""
        lines.append(
            f"    {name:<12}{one.content.volume_l:6.2f} L of {one.content.abv:.1f} % vol, from {one.from_l:.2f} to {one.to_l:.2f} L of a charge,"
            f" {one.from_abv:.0f} to {one.to_abv:.0f} % vol coming over{what}"
        )
    total = stills.totals
    lines += [
        f"  expected      {plus_minus(stills.predicted.hearts_pure_alcohol_l, 1)} L pure alcohol in {hearts.content.volume_l:.2f} L of hearts,"
        f" {plus_minus(stills.predicted.bottles, 0)} bottles",
        f"  takes         {total.energy_kwh:.0f} kWh, {total.running_h:.1f} h of heating and {total.turnaround_h:.1f} h between,"
        f" {total.water_l:.0f} L of cooling water",
    ]
    return lines


def plus_minus(estimate: ferment.Estimate, digits: int) -> str:
    return f"{estimate.value:.{digits}f} +- {estimate.standard_uncertainty:.{digits}f}"


def day_of(batch: Batch, hours: float) -> str:
    """ "day 9, 13 April"; beyond the forecast only that it is."""
    if math.isinf(hours):
        return f"later than day {FORECAST_DAYS}"
    day = round(hours / HOURS)
    date = batch.pitched + datetime.timedelta(days=day)
    return f"day {day}, {date.day} {date:%B}"


def days(hours: float) -> str:
    return f"{hours / HOURS:.0f}" if math.isfinite(hours) else f"more than {FORECAST_DAYS}"


def expectation(batch: Batch, planned: Forecast) -> list[str]:
    """What to expect, at pitching."""
    done = planned.done()
    busiest = int(planned.co2_l_per_h[:, MIDDLE].argmax())
    gas = float(planned.co2_l_per_h[busiest, HIGH])
    gravity, abv = planned.gravity[-1], planned.abv[-1]
    return [
        f"  forecast  done on {day_of(batch, done.p50)} (day {days(done.p5)} to {days(done.p95)}),"
        f" {abv[MIDDLE]:.1f} % vol ({abv[LOW]:.1f} to {abv[HIGH]:.1f}), gravity {gravity[MIDDLE]:.3f} ({gravity[LOW]:.3f} to {gravity[HIGH]:.3f})",
        "            nine of ten batches like this one lie within these ranges; nothing was published below 28 degC",
        f"            busiest about day {days(planned.time_h[busiest])}, up to {gas:.0f} L/h of carbon dioxide:"
        f" {ventilation_m3_per_h(gas):.0f} m3/h of fresh air at least",
    ]


def verdict(batch: Batch, judged: Judged) -> list[str]:
    """What a reading says."""
    read, says = judged.read, judged.says
    gravity = next(e for e in says.expected if e.what == "gravity")
    lines = [
        f"  day {read.day:2d}: read {read.gravity:.4f} at {read.temperature_c:.1f} degC -> {judged.true_gravity:.4f} at 20 degC;"
        f" expected {gravity.range.p5:.4f} to {gravity.range.p95:.4f} ({gravity.z:+.1f} standard deviations)",
        f"          {says.says}",
        f"          alcohol now {says.abv.p50:.1f} % vol ({says.abv.p5:.1f} to {says.abv.p95:.1f})",
    ]
    if says.warning:
        lines.append(f"          ! {says.warning}")
    if says.stands == "finished":
        lines.append("          check with iodine on clear liquid and on solids before you call it done")
    else:
        lines.append(f"          look again on {day_of(batch, says.look_again_h)}")
    return lines


def sheet(batch: Batch, plan: Potential, end: EndPoint, course: Course, distilled: Distilled) -> list[str]:
    """The lines for the shed wall."""
    water = water_balance(plan)
    full = plan.theoretical
    lines = [
        batch.name,
        "",
        "BEFORE",
        *(f"  {mass_kg:6.2f} kg  {item.name}, {item.starch.value:.0f} % starch" for item, mass_kg in batch.bill.items),
        f"  {batch.water_l:6.1f} L   water at {batch.water_c:.0f} degC",
        "",
        f"  potential, all converted    {plus_minus(full.pure_alcohol_l, 1)} L pure alcohol",
        f"  equivalent original gravity {full.original_gravity.value:.3f} ({full.extract.value:.1f} degP), all dissolved at once",
        f"  expected conversion         {plus_minus(end.conversion, 0)} % of the starch (published washes, 28-35 degC)",
        f"  expected alcohol            {plus_minus(end.pure_alcohol_l, 1)} L pure alcohol",
        f"  expected wash               {plus_minus(end.abv, 1)} % vol, gravity {plus_minus(end.gravity, 3)}",
        f"  off the grain               about {water.free_share.value:.0f} % of the liquid without pressing",
        f"  room needed                 {water.mash_volume_l.value:.0f} L of mash, vessel of {water.vessel_volume_l.value:.0f} L or more",
    ]
    if water.vessel_volume_l.value > batch.fermenter_l:
        lines.append(
            f"  ! the fermenter of {batch.fermenter_l:.0f} L is too small: foam needs about a fifth of it empty"
        )
    lines += ["", "DURING", *expectation(batch, course.planned)]
    if not course.readings:
        lines.append("  no readings yet")
    for judged in course.readings:
        lines += verdict(batch, judged)
    reduction = dilute(
        batch.collected_abv, batch.collected_l, batch.target_abv, batch.collected_c, batch.dilution_water_c
    )
    filled = bottles(batch.target_abv, reduction.result.volume_at_temperature_l, batch.bottle_l, batch.collected_c)
    recovered = reduction.spirit.pure_alcohol_l / end.pure_alcohol_l.value
    lines += [
        "",
        "AFTER",
        *(still_plan(distilled.plan, distilled.goes_by) if distilled.plan else []),
        f"  spirit        {batch.collected_l:.2f} L of {batch.collected_abv:.1f} % vol at {batch.collected_c:.0f} degC,"
        f" {reduction.spirit.pure_alcohol_l:.2f} L pure alcohol ({100 * recovered:.0f} % of that expected in the wash)",
        f"  add water     {reduction.water_kg:.2f} kg = {reduction.water_l:.2f} L at {batch.dilution_water_c:.0f} degC",
        f"  gives         {reduction.result.volume_at_temperature_l:.2f} L at {batch.collected_c:.0f} degC = {reduction.result.volume_l:.2f} L"
        f" at 20 degC of {reduction.result.abv:.1f} % vol ({reduction.contraction_l:.2f} L lost by mixing)",
        f"  bottles       {filled.bottles} of {batch.bottle_l:g} L, {1000 * filled.fill_l:.1f} mL into each at {batch.collected_c:.0f} degC,"
        f" {filled.rest_l:.2f} L left",
        "",
        LEDGER,
        *(f"  {line}".rstrip() for line in distilled.ledger.sheet().splitlines()),
        "",
        "CAUTIONS",
        *(f"  {line}" for text in (GAS_CAUTION, CAUTIONS) for line in textwrap.wrap(text, TEXT_WIDTH)),
    ]
    return lines


def picture(batch: Batch, end: EndPoint, course: Course, lines: list[str], path: Path) -> None:
    """The sheet beside the course of gravity and strength, as an image."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    # The ledger stands beside the rest, under the curves; the page is as high as the longer column.
    start, end_of_ledger = lines.index(LEDGER), lines.index("CAUTIONS")
    sheet_lines, ledger_lines = lines[:start] + lines[end_of_ledger:], lines[start : end_of_ledger - 1]
    sheet_high, ledger_high = (
        len(text) * size * LINE_SPACING / POINTS_PER_INCH + MARGIN_IN
        for text, size in ((sheet_lines, SHEET_POINTS), (ledger_lines, LEDGER_POINTS))
    )
    curves_high = max(CURVES_IN, sheet_high - ledger_high)
    figure = pyplot.figure(figsize=(19, curves_high + ledger_high), layout="constrained")
    heights = (curves_high / 2, curves_high / 2, ledger_high)
    columns = figure.add_gridspec(3, 2, width_ratios=(1.3, 1), height_ratios=heights)
    upper = figure.add_subplot(columns[0, 1])
    lower = figure.add_subplot(columns[1, 1], sharex=upper)
    for place, size, text in (
        (columns[:, 0], SHEET_POINTS, sheet_lines),
        (columns[2, 1], LEDGER_POINTS, ledger_lines),
    ):
        axes = figure.add_subplot(place)
        axes.axis("off")
        axes.text(0, 1, "\n".join(text), family="monospace", fontsize=size, va="top", transform=axes.transAxes)

    days_on = course.planned.time_h / HOURS
    for axes, quantity in ((upper, "gravity"), (lower, "abv")):
        planned = getattr(course.planned, quantity)
        axes.fill_between(
            days_on, planned[:, LOW], planned[:, HIGH], color="0.75", alpha=0.5, label="at pitching, 90 %"
        )
        axes.plot(days_on, planned[:, MIDDLE], color="0.45", linestyle="--", linewidth=1)
        if course.readings:
            now = getattr(course.now, quantity)
            axes.fill_between(
                days_on, now[:, LOW], now[:, HIGH], color="#0072B2", alpha=0.3, label="after the readings, 90 %"
            )
            axes.plot(days_on, now[:, MIDDLE], color="#0072B2")
        axes.spines[["top", "right"]].set_visible(False)
    for judged in course.readings:
        label = "corrected to 20 degC" if judged is course.readings[0] else None
        uncertainty = 2 * batch.hydrometer_uncertainty
        upper.errorbar(
            judged.read.day,
            judged.true_gravity,
            uncertainty,
            fmt="o",
            color="#D55E00",
            capsize=3,
            label=label,
            zorder=3,
        )
    if course.readings and course.readings[-1].says.stands != "finished":
        again = course.readings[-1].says.look_again_h / HOURS
        upper.axvline(again, color="#CC79A7", linestyle="-.", label="look again")
    upper.axhline(1.0, color="0.4", linestyle=":", linewidth=1)
    upper.annotate("water", (0.98, 1.0), xycoords=("axes fraction", "data"), ha="right", va="bottom", color="0.4")
    upper.set_ylabel("specific gravity 20/20")
    upper.set_title("Gravity of the wash")
    upper.legend(loc="upper right", frameon=False)
    low, high = end.abv.interval(2.0)
    lower.axhspan(low, high, color="#009E73", alpha=0.15, label="expected end (about 95 %)")
    lower.set_ylabel("alcohol, % vol at 20 degC")
    lower.set_ylim(bottom=0)
    lower.set_title("Strength of the wash")
    lower.legend(loc="lower right", frameon=False)
    done = course.now.done()
    last = max([*(judged.read.day for judged in course.readings), 14])
    shown = done.p95 / HOURS if math.isfinite(done.p95) else days_on[-1]
    lower.set_xlim(-0.3, min(max(last, shown) + 2, days_on[-1]))
    lower.set_xlabel("days since pitching")
    figure.savefig(path, dpi=120)


def main(arguments: list[str]) -> int:
    if len(arguments) not in (1, 2):
        print(__doc__, file=sys.stderr)
        return BAD_INPUT
    path = Path(arguments[0])
    image = Path(arguments[1]) if len(arguments) > 1 else Path(path.stem + ".png")
    try:
        batch = read_batch(path)
        plan = potential(batch.bill, water_l=batch.water_l, water_temperature_c=batch.water_c, assumptions=no_cook())
        end = end_point(plan)
        course = follow(batch, plan, end)
        distilled = distil(batch, plan, course)
        lines = sheet(batch, plan, end, course, distilled)
    except (BatchError, ferment.Error) as e:
        print(f"{path}: {e}", file=sys.stderr)
        return BAD_INPUT
    print("\n".join(lines))
    try:
        picture(batch, end, course, lines, image)
    except (OSError, ValueError) as e:  # a folder that is not there, a kind of picture that nobody knows
        print(f"{image}: the picture cannot be saved: {getattr(e, 'strerror', None) or e}", file=sys.stderr)
        return BAD_INPUT
    print(f"\npicture saved as {image}")
    print(
        f"{batch.bill.mass_kg:g} kg of grain, {end.pure_alcohol_l.value:.1f} L of pure alcohol expected, {len(course.readings)} readings judged"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

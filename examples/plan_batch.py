"""Plans a batch of uncooked grain, judges its readings and reduces its spirit: the sheet for the shed wall.

    python plan_batch.py batches/shed_batch.toml [picture.png]

Prints the sheet and saves it as a picture. Exit code 0; 2 with one line for a batch file that cannot be used.
"""

import dataclasses
import datetime
import math
import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import ferment
from ferment.fermentation import EndPoint, WashReading, end_point, no_cook, read_wash
from ferment.instrument import Hydrometer, Wash
from ferment.mash import Bill, Potential, grain, potential, water_balance
from ferment.proofing import bottles, dilute

BAD_INPUT = 2
CAUTIONS = (
    "Distilling needs a licence in most countries: ask the authority before you light anything.",
    "Carbon dioxide from the fermenter can kill in a closed room. Ventilate; never lean into a vessel.",
    "Alcohol vapour burns and explodes: no flame, no sparks, keep every outlet open, never leave a hot still.",
    "Fore-shots are not drink; throw them away. Local codes and a licensed distiller's practice come before this sheet.",
)


class BatchError(Exception):
    """A batch file that cannot be used; the message names the key, the value and what is allowed."""


class Table:
    """A table of the batch file that knows its own name and refuses what it does not know."""

    def __init__(self, name: str, values: object, allowed: tuple[str, ...]) -> None:
        if not isinstance(values, Mapping):
            raise BatchError(f"{name}: expected a table with {', '.join(allowed)}; found {values!r}")
        self.name = name
        self.values: dict[str, Any] = dict(values)
        for key in self.values:
            if key not in allowed:
                near = [known for known in allowed if known.rsplit("_", 1)[0] == key.rsplit("_", 1)[0]]
                hint = f"; this quantity is written {near[0]}" if near else ""
                raise BatchError(
                    f"{self.key(key)} = {self.values[key]!r} is not known{hint}; allowed are {', '.join(allowed)}"
                )

    def key(self, key: str) -> str:
        return f"{self.name}.{key}" if self.name else key

    def get(self, key: str, expected: str) -> Any:
        if key not in self.values:
            raise BatchError(f"{self.key(key)} is missing; it must be {expected}")
        return self.values[key]

    def number(self, key: str, unit: str, lowest: float, highest: float, default: float | None = None) -> float:
        allowed = f"a number of {lowest:g} to {highest:g} {unit}".strip()
        if default is not None and key not in self.values:
            return default
        value = self.get(key, allowed)
        if isinstance(value, bool) or not isinstance(value, int | float) or not lowest <= value <= highest:
            hint = ""
            if unit == "degC" and isinstance(value, int | float) and lowest <= (value - 32) / 1.8 <= highest:
                hint = f"; if this is degF, write {(value - 32) / 1.8:.1f}"
            raise BatchError(f"{self.key(key)} = {value!r} must be {allowed}{hint}")
        return float(value)

    def text(self, key: str) -> str:
        value = self.get(key, "a text")
        if not isinstance(value, str):
            raise BatchError(f"{self.key(key)} = {value!r} must be a text in quotes")
        return value

    def date(self, key: str) -> datetime.date:
        value = self.get(key, "a date like 2026-04-09")
        if not isinstance(value, datetime.date) or isinstance(value, datetime.datetime):
            raise BatchError(f"{self.key(key)} = {value!r} must be a date like 2026-04-09, without quotes")
        return value


def tables(batch: Table, key: str, allowed: tuple[str, ...], least: int) -> list[Table]:
    found = batch.get(key, f"a list of [[{key}]] tables") if least or key in batch.values else []
    if not isinstance(found, list) or len(found) < least:
        raise BatchError(f"{key} must be a list of [[{key}]] tables, at least {least}")
    return [Table(f"{key}[{i + 1}]", values, allowed) for i, values in enumerate(found)]


class Batch:
    """The batch file, checked."""

    MOST_KG, MOST_L = 1e5, 1e6

    def __init__(self, values: Mapping[str, Any]) -> None:
        top = Table("", values, ("name", "grain", "water", "equipment", "reading", "fermentation", "spirit"))
        self.name = top.text("name")
        self.bill = Bill(self._grain(line) for line in tables(top, "grain", ("name", "mass_kg"), 1))
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
                f'equipment.hydrometer_scale = {scale!r} must be "sg": the readings of a batch file are specific gravities'
            )
        self.hydrometer = Hydrometer("sg", equipment.number("hydrometer_calibration_c", "degC", 0, 40))
        self.hydrometer_uncertainty = equipment.number("hydrometer_uncertainty", "", 1e-5, 0.01, 0.001)
        self.pitched = Table("fermentation", top.get("fermentation", "a table [fermentation]"), ("pitched",)).date(
            "pitched"
        )
        self.readings = [
            self._reading(line) for line in tables(top, "reading", ("date", "gravity", "temperature_c"), 0)
        ]
        if any(later[0] < earlier[0] for earlier, later in zip(self.readings, self.readings[1:], strict=False)):
            raise BatchError("reading: the dates must not go backwards")
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

    def _grain(self, line: Table) -> tuple[ferment.mash.Grain, float]:
        name = line.text("name")
        mass_kg = line.number("mass_kg", "kg", 1e-3, self.MOST_KG)
        try:
            return (grain(name), mass_kg)
        except ferment.InputError as e:
            raise BatchError(f"{line.key('name')} = {name!r}: {e}") from None

    def _reading(self, line: Table) -> tuple[int, float, float]:
        date = line.date("date")
        if date < self.pitched:
            raise BatchError(f"{line.key('date')} = {date} must not be before fermentation.pitched = {self.pitched}")
        return (
            (date - self.pitched).days,
            line.number("gravity", "SG", 0.97, 1.2),
            line.number("temperature_c", "degC", 0, 40),
        )


def read_batch(path: Path) -> Batch:
    """The batch of a file. BatchError, one line, for anything that is not one."""
    try:
        with path.open("rb") as file:
            return Batch(tomllib.load(file))
    except OSError as e:
        raise BatchError(f"{e.strerror}") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as e:
        raise BatchError(f"not TOML: {e}") from None


@dataclasses.dataclass(frozen=True)
class Judged:
    """A reading, what it is at 20/20, and what it says."""

    day: int
    gravity: float
    temperature_c: float
    true_gravity: float
    says: WashReading


def judge(batch: Batch, plan: Potential, end: EndPoint) -> list[Judged]:
    """Every reading of the batch."""
    # The strength only steers the thermal expansion, by about 0.0001 in gravity from none to 8 % vol, so that of the finished wash will do.
    wash = Wash(abv=end.abv.value)
    judged = []
    for day, gravity, temperature_c in batch.readings:
        true = float(batch.hydrometer.correct(gravity, temperature_c, wash).sg)
        says = read_wash(plan, true, batch.hydrometer_uncertainty)
        judged.append(Judged(day, gravity, temperature_c, true, says))
    return judged


def plus_minus(estimate: ferment.Estimate, digits: int) -> str:
    return f"{estimate.value:.{digits}f} +- {estimate.standard_uncertainty:.{digits}f}"


def span(least: ferment.Estimate, most: ferment.Estimate, digits: int) -> str:
    """From the least to the most, each widened by its standard uncertainty; shares end at 0 and 100."""
    low, high = least.interval(1.0)[0], max(most.interval(1.0)[1], least.interval(1.0)[1])
    return f"{max(low, 0.0):.{digits}f} to {min(high, 100.0):.{digits}f}"


def sheet(batch: Batch, plan: Potential, end: EndPoint, readings: list[Judged]) -> list[str]:
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
    lines += ["", "DURING"]
    if not readings:
        lines.append("  no readings yet")
    for reading in readings:
        says = reading.says
        lines.append(
            f"  day {reading.day:2d}: read {reading.gravity:.4f} at {reading.temperature_c:.1f} degC -> {reading.true_gravity:.4f} at 20 degC: {says.says}"
        )
        if not math.isnan(says.least_abv.value):
            lines += [
                f"          starch converted {span(says.least_conversion, says.most_conversion, 0)} %,"
                f" alcohol {span(says.least_abv, says.most_abv, 1)} % vol",
                f"          (the more, the more sugar stands free, up to {says.most_free_sugar.value:.1f} %: a gravity alone cannot tell)",
            ]
        if says.says == "near the end point":
            lines.append("          check with iodine on clear liquid and on solids before you call it done")
    reduction = dilute(
        batch.collected_abv, batch.collected_l, batch.target_abv, batch.collected_c, batch.dilution_water_c
    )
    filled = bottles(batch.target_abv, reduction.result.volume_at_temperature_l, batch.bottle_l, batch.collected_c)
    recovered = reduction.spirit.pure_alcohol_l / end.pure_alcohol_l.value
    lines += [
        "",
        "AFTER",
        f"  spirit        {batch.collected_l:.2f} L of {batch.collected_abv:.1f} % vol at {batch.collected_c:.0f} degC,"
        f" {reduction.spirit.pure_alcohol_l:.2f} L pure alcohol ({100 * recovered:.0f} % of what was expected)",
        f"  add water     {reduction.water_kg:.2f} kg = {reduction.water_l:.2f} L at {batch.dilution_water_c:.0f} degC",
        f"  gives         {reduction.result.volume_at_temperature_l:.2f} L at {batch.collected_c:.0f} degC = {reduction.result.volume_l:.2f} L"
        f" at 20 degC of {reduction.result.abv:.1f} % vol ({reduction.contraction_l:.2f} L lost by mixing)",
        f"  bottles       {filled.bottles} of {batch.bottle_l:g} L, {1000 * filled.fill_l:.1f} mL into each at {batch.collected_c:.0f} degC,"
        f" {filled.rest_l:.2f} L left",
        "",
        "CAUTIONS",
        *(f"  {line}" for line in CAUTIONS),
    ]
    return lines


def picture(batch: Batch, plan: Potential, end: EndPoint, readings: list[Judged], lines: list[str], path: Path) -> None:
    """The sheet beside the readings, as an image."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    figure, (left, right) = pyplot.subplots(1, 2, figsize=(15, 8), width_ratios=(1.55, 1), layout="constrained")
    left.axis("off")
    left.text(0, 1, "\n".join(lines), family="monospace", fontsize=9, va="top", transform=left.transAxes)

    low, high = end.gravity.interval(2.0)
    right.axhspan(low, high, color="#009E73", alpha=0.25, label="expected end (about 95 %)")
    right.axhline(end.gravity.value, color="#009E73")
    right.axhline(1.0, color="0.4", linestyle=":", linewidth=1)
    right.annotate("water", (0.98, 1.0), xycoords=("axes fraction", "data"), ha="right", va="bottom", color="0.4")
    start = read_wash(plan, 1.0).start_gravity.value
    right.plot([0], [start], marker="s", color="#D55E00", linestyle="", label="start, nothing converted")
    days = [reading.day for reading in readings]
    if readings:
        right.plot(days, [reading.gravity for reading in readings], "o", mfc="none", color="#0072B2", label="as read")
        true = [reading.true_gravity for reading in readings]
        right.errorbar(
            days,
            true,
            2 * batch.hydrometer_uncertainty,
            fmt="o",
            color="#0072B2",
            capsize=3,
            label="corrected to 20 degC",
        )
    right.set_xlabel("days since pitching")
    right.set_ylabel("specific gravity 20/20")
    right.set_xlim(-0.5, max(days, default=14) + 2)
    right.set_title("Gravity of the wash")
    right.legend(loc="upper right", frameon=False)
    right.spines[["top", "right"]].set_visible(False)
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
        readings = judge(batch, plan, end)
        lines = sheet(batch, plan, end, readings)
    except (BatchError, ferment.Error) as e:
        print(f"{path}: {e}", file=sys.stderr)
        return BAD_INPUT
    print("\n".join(lines))
    picture(batch, plan, end, readings, lines, image)
    print(f"\npicture saved as {image}")
    print(
        f"{batch.bill.mass_kg:g} kg of grain, {end.pure_alcohol_l.value:.1f} L of pure alcohol expected, {len(readings)} readings judged"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

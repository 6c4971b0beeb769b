"""The budget behind docs/which_instruments.md: what each pair of instruments says of one dry wash, and which reading its doubt comes from.

    python which_instruments.py [picture.png]

Prints the table of the guide and saves its picture. The doubts of the instruments are common practice, no source.
"""

import sys
from pathlib import Path

from ferment import Measured, liquid, strength
from ferment.strength import FoundStrength

ABW, EXTRACT = 6.4, 2.0  # % mass: a dry wash of 8 % vol
PRESSURE_KPA = 100.0
WASH_L, SAMPLE_ML, DISTILLATE_ML = 75.0, 250.0, 100.0
SHOWN = 4  # contributions of a budget


def routes() -> list[tuple[str, FoundStrength]]:
    """Each route with the readings that such a wash would give."""
    gravity = float(liquid.wash_density(ABW, EXTRACT, 20.0)) / float(liquid.wash_density(0.0, 0.0, 20.0))
    sg = Measured(gravity, 0.0005)  # half a point
    index = float(liquid.wash_refractive_index(ABW, EXTRACT, 20.0))
    brix = float(liquid.brix_from_refractive_index(index, 20.0))
    abv = float(liquid.wash_abv(ABW, EXTRACT))
    dry = 1.0 + EXTRACT * 0.00386  # gravity of the extract alone, near enough
    boils = float(liquid.boiling_point(ABW, PRESSURE_KPA, extract=EXTRACT))
    lost_kg = WASH_L * abv / 100.0 * 0.789 * 0.959
    distilled = abv * SAMPLE_ML / DISTILLATE_ML * 0.995
    return [
        (
            "hydrometer + hand refractometer (0.2 %)",
            strength.abv_from_hydrometer_and_refractometer(sg, brix=(brix, 0.2)),
        ),
        (
            "hydrometer + digital refractometer (0.05 %)",
            strength.abv_from_hydrometer_and_refractometer(sg, brix=(brix, 0.05)),
        ),
        ("hydrometer, before and after boiling down", strength.abv_from_boiled_down(sg, (dry, 0.0005))),
        ("thermometer (0.1 K) + barometer", strength.abv_from_boiling_point((boils, 0.1), (PRESSURE_KPA, 0.1), sg)),
        ("scale under the fermenter (50 g)", strength.abv_from_co2_loss((lost_kg, 0.05), (WASH_L, 1.0), sg)),
        (
            "small still + alcoholometer (0.2 % vol)",
            strength.abv_from_distilled_sample((distilled, 0.2), (DISTILLATE_ML, 0.3), (SAMPLE_ML, 0.5), sg),
        ),
    ]


def table(found: list[tuple[str, FoundStrength]]) -> str:
    lines = [
        "| instruments | standard uncertainty, % vol | of real extract, % | dominated by |",
        "| --- | --- | --- | --- |",
    ]
    for name, f in found:
        u, x = f.abv.standard_uncertainty, f.real_extract.standard_uncertainty
        lines.append(f"| {name} | {u:.2f} | {x:.2f} | {f.dominated_by} |")
    return "\n".join(lines)


def picture(found: list[tuple[str, FoundStrength]], path: Path) -> None:
    """Bars of variance: a doubt twice as large counts four times."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    figure, axes = pyplot.subplots(figsize=(11, 5), layout="constrained")
    shades = ("#0072B2", "#E69F00", "#009E73", "#CC79A7", "0.75")
    for place, (_, f) in enumerate(reversed(found)):
        total = f.abv.standard_uncertainty
        start = 0.0
        parts = [(name, part * part / total) for name, part in f.abv.budget]
        rest = sum(width for _, width in parts[SHOWN:])
        for (name, width), shade in zip([*parts[:SHOWN], ("", rest)], shades, strict=False):
            ink = "white" if shade == shades[0] else "black"
            axes.barh(place, width, left=start, color=shade, edgecolor="white", height=0.62)
            if width > 0.06 * max(g.abv.standard_uncertainty for _, g in found):
                axes.text(
                    start + width / 2,
                    place,
                    name.replace(" ", "\n", 1),
                    ha="center",
                    va="center",
                    fontsize=7.5,
                    color=ink,
                )
            start += width
        axes.text(start + 0.008, place, f"{total:.2f}", va="center")
    axes.set_yticks(range(len(found)), [name for name, _ in reversed(found)])
    axes.set_xlabel("standard uncertainty of the strength, % vol; each part by its share of the variance")
    axes.set_title("How well a dry wash of 8 % vol is known, and what its doubt comes from")
    axes.spines[["top", "right"]].set_visible(False)
    figure.savefig(path, dpi=110)


def main(arguments: list[str]) -> int:
    found = routes()
    print(table(found))
    path = Path(arguments[0]) if arguments else Path(__file__).parent / "pictures" / "which_instruments.png"
    picture(found, path)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

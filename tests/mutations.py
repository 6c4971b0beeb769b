"""Flips digits of the coefficients in the headers, one at a time, and shows for each the test that fails.

A header with one changed digit is put before the real ones on the include path, the test file that should notice is compiled against it and run.
Where the digits come from a fit, the script of the fit is run on a copy instead. The unchanged headers must pass first. A change that no test
notices is a survivor: the script names it and ends with 1.

    tests/mutations.py [--jobs N] [--only TEXT] [--build FOLDER] [--write]

    --only    the changes whose header or test holds the text
    --write   renews the table of docs/test_quality.md; takes all changes
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
INCLUDE = ROOT / "libferment" / "include"
CPP = ROOT / "tests" / "cpp"
REFERENCE = ROOT / "tests" / "reference"
DOCUMENT = ROOT / "docs" / "test_quality.md"

COMPILER = ["g++", "-std=c++20", "-O0", "-w", "-fno-diagnostics-color"]
# Headers of others that most tests include, compiled once.
OTHERS = """\
#include "catch.hpp"
#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <boost/math/tools/roots.hpp>
#include <boost/numeric/odeint.hpp>
#include <boost/units/absolute.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si.hpp>
#include <boost/units/systems/temperature/celsius.hpp>
#include <cmath>
#include <fstream>
#include <functional>
#include <map>
#include <random>
#include <sstream>
#include <string>
#include <vector>
"""
LONGEST_S = 900.0


@dataclass(frozen=True)
class Mutation:
    """One changed digit.

    header: below libferment/include/ferment
    before: text of that header that occurs there once, with the digit
    after: the same with the digit changed
    notices: the test file (below tests/cpp) or script of a fit (below tests/reference) that must fail
    """

    header: str
    before: str
    after: str
    notices: str

    def changed(self) -> str:
        """The header's text with the digit changed."""
        text = (INCLUDE / "ferment" / self.header).read_text(encoding="utf-8")
        if text.count(self.before) != 1:
            raise SystemExit(f"{self.header}: {self.before!r} occurs {text.count(self.before)} times, not once")
        return text.replace(self.before, self.after)


# The last digits of a printed coefficient are often worth less than any published value: the digit changed here is the last, or one of the last,
# that a table or an identity can see. Where a test compares the coefficients themselves with a published list, it is the last one.
MUTATIONS = (
    Mutation("core/stoichiometry.hpp", "c = 12.011,", "c = 12.012,", "core/test_stoichiometry.cpp"),
    Mutation("core/stoichiometry.hpp", "o = 15.999;", "o = 15.997;", "core/test_stoichiometry.cpp"),
    Mutation("core/quantity.hpp", "(60.0 - 32.0) / 1.8;", "(60.0 - 32.0) / 1.9;", "core/test_quantity.cpp"),
    Mutation("liquid/water.hpp", "1.93763157e-2", "1.93763158e-2", "liquid/test_water.cpp"),
    Mutation("liquid/water.hpp", "8.32299658e9", "8.32399658e9", "liquid/test_water.cpp"),
    Mutation("liquid/water.hpp", "-1.19946761e-2", "-1.19846761e-2", "liquid/test_water.cpp"),
    Mutation("liquid/sucrose.hpp", "-46.241757e-6", "-46.241758e-6", "liquid/test_sucrose.cpp"),
    Mutation("liquid/sucrose.hpp", "40.9299,", "40.9298,", "liquid/test_sucrose.cpp"),
    Mutation("liquid/sucrose.hpp", "{18.3184, 12.3081}", "{18.3184, 12.3082}", "liquid/test_sucrose.cpp"),
    Mutation("liquid/sucrose.hpp", "132.23699242", "132.23799242", "reference/fit_glucose.py"),
    Mutation("liquid/spirit.hpp", "3.891238958e2", "3.891238959e2", "liquid/test_spirit.cpp"),
    Mutation("liquid/spirit.hpp", "1.693443461530087e-1", "1.693443461530088e-1", "liquid/test_spirit.cpp"),
    Mutation("liquid/spirit.hpp", "-1.515784836987210e-6", "-1.515784836987211e-6", "liquid/test_spirit.cpp"),
    Mutation("liquid/spirit.hpp", "-8.64162050e-4", "-8.64262050e-4", "reference/fit_freezing.py"),
    Mutation(
        "liquid/spirit.hpp",
        "us_proof_of_pure_ethanol = 200.0",
        "us_proof_of_pure_ethanol = 200.1",
        "liquid/test_spirit.cpp",
    ),
    Mutation("liquid/refraction.hpp", "9.74634476e-3", "9.74644476e-3", "liquid/test_refraction.cpp"),
    Mutation("liquid/refraction.hpp", "-1.66626219e-2", "-1.66636219e-2", "liquid/test_refraction.cpp"),
    Mutation("liquid/refraction.hpp", "0.00293672232", "0.00293682232", "reference/fit_refraction.py"),
    Mutation("liquid/refraction.hpp", "-0.0926818114", "-0.0926918114", "reference/fit_refraction.py"),
    Mutation("liquid/refraction.hpp", "0.00124540629", "0.00124640629", "reference/fit_refraction.py"),
    Mutation("liquid/refraction.hpp", "-0.103326251", "-0.103327251", "reference/fit_refraction.py"),
    Mutation("liquid/vapour.hpp", "-7122.3", "-7122.4", "liquid/test_vapour.cpp"),
    Mutation("liquid/vapour.hpp", "4.1653e-6", "4.1654e-6", "liquid/test_vapour.cpp"),
    Mutation("liquid/vapour.hpp", "b12 = 246.2;", "b12 = 246.3;", "liquid/test_vapour.cpp"),
    Mutation("liquid/vapour.hpp", "a21 = 3.458,", "a21 = 3.459,", "liquid/test_vapour.cpp"),
    Mutation("liquid/vapour.hpp", "287.05287;", "287.15287;", "liquid/test_vapour.cpp"),
    Mutation("liquid/enthalpy.hpp", "-0.014116", "-0.014117", "liquid/test_enthalpy.cpp"),
    Mutation("liquid/enthalpy.hpp", "0.0020386", "0.0020387", "liquid/test_enthalpy.cpp"),
    Mutation("liquid/enthalpy.hpp", "0.25795}", "0.25796}", "liquid/test_enthalpy.cpp"),
    Mutation("liquid/enthalpy.hpp", "{55789.0,", "{55788.0,", "liquid/test_enthalpy.cpp"),
    Mutation("liquid/enthalpy.hpp", "-3952.2605", "-3952.2705", "reference/fit_enthalpy.py"),
    Mutation("liquid/enthalpy.hpp", "844.7562", "844.7662", "reference/fit_enthalpy.py"),
    Mutation("liquid/enthalpy.hpp", "{1.5488, 0.0019625,", "{1.5498, 0.0019625,", "liquid/test_enthalpy.cpp"),
    Mutation("liquid/carbon_dioxide.hpp", "3.3e-4;", "3.4e-4;", "liquid/test_carbon_dioxide.cpp"),
    Mutation("liquid/carbon_dioxide.hpp", "henry_k = 2400.0", "henry_k = 2500.0", "liquid/test_carbon_dioxide.cpp"),
    Mutation(
        "liquid/carbon_dioxide.hpp", "outdoor_ppm = 420.0", "outdoor_ppm = 430.0", "liquid/test_carbon_dioxide.cpp"
    ),
    Mutation(
        "liquid/gravity.hpp",
        "conventional_air_density = 1.2;",
        "conventional_air_density = 1.3;",
        "liquid/test_gravity.cpp",
    ),
    Mutation(
        "instrument/hydrometer.hpp",
        "conventional_glass_expansion = 25e-6",
        "conventional_glass_expansion = 26e-6",
        "instrument/test_hydrometer.cpp",
    ),
    Mutation("strength/gravity.hpp", "0.005161;", "0.005162;", "strength/test_gravity.cpp"),
    Mutation(
        "strength/gravity.hpp",
        "extract_per_ethanol = 2.0665;",
        "extract_per_ethanol = 2.0666;",
        "strength/test_gravity.cpp",
    ),
    Mutation(
        "strength/gravity.hpp",
        "share_of_original = 0.1808;",
        "share_of_original = 0.1809;",
        "strength/test_gravity.cpp",
    ),
    Mutation("strength/gravity.hpp", "ratio{0.372, 0.00357}", "ratio{0.372, 0.00358}", "strength/test_gravity.cpp"),
    Mutation("strength/gravity.hpp", "slope = 76.08;", "slope = 76.98;", "strength/test_gravity.cpp"),
    Mutation(
        "strength/gravity.hpp", "per_difference = 1.0018;", "per_difference = 1.0019;", "strength/test_gravity.cpp"
    ),
    Mutation(
        "strength/gravity.hpp",
        "real_per_apparent = 0.8146;",
        "real_per_apparent = 0.8147;",
        "strength/test_gravity.cpp",
    ),
    Mutation("strength/gravity.hpp", "standard = 6.06;", "standard = 6.07;", "strength/test_gravity.cpp"),
    Mutation("strength/gravity.hpp", "first_factor = 0.125;", "first_factor = 0.126;", "strength/test_gravity.cpp"),
    Mutation(
        "mash/grain_table.hpp",
        "wheat_s{as_is(69.0, 13.2), 2.5}",
        "wheat_s{as_is(69.1, 13.2), 2.5}",
        "mash/test_grain.cpp",
    ),
    Mutation("mash/grain_table.hpp", "{56.07, 4.12}", "{56.08, 4.12}", "mash/test_grain.cpp"),
    Mutation("mash/grain_table.hpp", "{52.8, lot_s}, {6.68,", "{52.9, lot_s}, {6.68,", "mash/test_grain.cpp"),
    Mutation("mash/grain_table.hpp", "{13.18, lot_p}", "{13.19, lot_p}", "mash/test_grain.cpp"),
    Mutation("mash/potential.hpp", "0.45359237;", "0.45359238;", "mash/test_potential.cpp"),
    Mutation("mash/potential.hpp", "3.785411784;", "3.785411785;", "mash/test_potential.cpp"),
    Mutation("mash/water.hpp", "carbohydrate{1599.1,", "carbohydrate{1599.5,", "mash/test_mash_water.cpp"),
    Mutation(
        "mash/water.hpp", "spent_grain_water{0.75, 1.04}", "spent_grain_water{0.75, 1.05}", "mash/test_mash_water.cpp"
    ),
    Mutation(
        "fermentation/end_point.hpp",
        'Shigechi et al. 2004", 0.865}',
        'Shigechi et al. 2004", 0.866}',
        "fermentation/test_end_point.cpp",
    ),
    Mutation("fermentation/end_point.hpp", "1.0 - 0.0442}", "1.0 - 0.0443}", "fermentation/test_end_point.cpp"),
    Mutation("fermentation/end_point.hpp", "glycerol = 3.3,", "glycerol = 3.4,", "fermentation/test_end_point.cpp"),
    Mutation(
        "fermentation/kinetics.hpp",
        "half_saturation = 2.81;",
        "half_saturation = 2.82;",
        "fermentation/test_kinetics.cpp",
    ),
    Mutation("fermentation/kinetics.hpp", "best_c = 32.3,", "best_c = 32.4,", "fermentation/test_kinetics.cpp"),
    Mutation("fermentation/kinetics.hpp", "177.7;", "177.8;", "fermentation/test_kinetics.cpp"),
    Mutation(
        "fermentation/kinetics.hpp", '"1/h", 0.058, 0.45,', '"1/h", 0.059, 0.45,', "fermentation/test_kinetics.cpp"
    ),
    Mutation("fermentation/kinetics.hpp", '{"flour", 0.12}', '{"flour", 0.13}', "fermentation/test_kinetics.cpp"),
    Mutation(
        "fermentation/inoculum.hpp",
        "cells_per_gram = 2e10;",
        "cells_per_gram = 3e10;",
        "fermentation/test_kinetics.cpp",
    ),
    Mutation(
        "fermentation/vessel.hpp",
        "fermentation_kj_per_kg = 557.0;",
        "fermentation_kj_per_kg = 558.0;",
        "fermentation/test_vessel.cpp",
    ),
    Mutation(
        "fermentation/vessel.hpp",
        "dry_grain_relative = 0.38;",
        "dry_grain_relative = 0.39;",
        "fermentation/test_vessel.cpp",
    ),
    Mutation("fermentation/vessel.hpp", "insulated = 1.2;", "insulated = 1.3;", "fermentation/test_vessel.cpp"),
    Mutation(
        "still/duty.hpp",
        "kilojoules_per_kilowatt_hour = 3600.0;",
        "kilojoules_per_kilowatt_hour = 3601.0;",
        "still/test_duty.cpp",
    ),
    Mutation("still/packing.hpp", "25.4, 0.85, 187.0, 137.0}", "25.4, 0.85, 188.0, 137.0}", "still/test_packing.cpp"),
    Mutation("still/packing.hpp", "25.4, 0.69, 249.0, 110.0}", "25.4, 0.69, 249.0, 120.0}", "still/test_packing.cpp"),
    Mutation("still/packing.hpp", "hold_up_factor = 0.555;", "hold_up_factor = 0.556;", "still/test_packing.cpp"),
    Mutation("still/packing.hpp", "c4 = 2.7e-5;", "c4 = 2.8e-5;", "still/test_packing.cpp"),
    Mutation(
        "still/congeners.hpp", "{-227.0345, 1915.1080, 0.0}", "{-227.0345, 1915.1090, 0.0}", "still/test_congeners.cpp"
    ),
    Mutation("still/congeners.hpp", "-8.72963,", "-8.72964,", "still/test_congeners.cpp"),
    Mutation(
        "still/congeners.hpp",
        "{-494.8389, 3633.5330, 0.2816}",
        "{-494.8389, 3633.5331, 0.2816}",
        "still/test_congeners.cpp",
    ),
    Mutation(
        "still/congeners.hpp",
        "{-57.9601, 1241.7396, 0.2937}",
        "{-57.9601, 1241.7397, 0.2937}",
        "still/test_congeners.cpp",
    ),
    Mutation("still/congeners.hpp", "{0.58, 0.63}", "{0.58, 0.64}", "still/test_congeners.cpp"),
    Mutation("batch/plan.hpp", "hearts_end_abv = 0.60;", "hearts_end_abv = 0.61;", "batch/test_plan.cpp"),
)


def flags() -> list[str]:
    """Where the compiler finds Eigen, and the place of the published tables."""
    eigen = subprocess.run(
        ["pkg-config", "--cflags", "eigen3"], capture_output=True, text=True, check=True
    ).stdout.split()
    return [*eigen, f"-I{CPP}", f'-DFERMENT_REFERENCE_DIR="{REFERENCE}"']


def run(command: list[str], log: Path) -> int:
    """Runs a command with its output in a file."""
    with log.open("w", encoding="utf-8") as output:
        return subprocess.run(
            command, stdout=output, stderr=subprocess.STDOUT, timeout=LONGEST_S, check=False
        ).returncode


def must(command: list[str], log: Path) -> None:
    """The same for what may not fail."""
    if run(command, log) != 0:
        raise SystemExit(f"{' '.join(command)}\n{log.read_text(encoding='utf-8')[-4000:]}")


def prepare(build: Path) -> None:
    """Compiles what no change touches: the headers of others and the main of the tests."""
    build.mkdir(parents=True, exist_ok=True)
    others = build / "others.hpp"
    if not others.exists() or others.read_text(encoding="utf-8") != OTHERS:
        others.write_text(OTHERS, encoding="utf-8")
        must([*COMPILER, *flags(), "-x", "c++-header", str(others), "-o", f"{others}.gch"], build / "others.txt")
    must([*COMPILER, *flags(), "-c", str(CPP / "main.cpp"), "-o", str(build / "main.o")], build / "main.txt")


def failed_case(report: Path) -> str | None:
    """The test case that failed by Catch2's XML report, which a crash leaves unfinished."""
    try:
        cases = ET.parse(report).getroot().iter("TestCase")
    except ET.ParseError:
        return "the test program ends too soon"
    for case in cases:
        result = case.find("OverallResult")
        if result is None or result.get("success") != "true":
            return f'"{case.get("name")}"'
    return None


def outcome_cpp(notices: str, overlay: Path | None, folder: Path, build: Path) -> str | None:
    """What fails in a C++ test file; None where all pass."""
    folder.mkdir(parents=True, exist_ok=True)
    program, report = folder / "test", folder / "report.xml"
    search = [f"-I{overlay}"] if overlay else []
    command = [
        *COMPILER,
        "-include",
        str(build / "others.hpp"),
        *search,
        f"-I{INCLUDE}",
        *flags(),
        str(CPP / notices),
        str(build / "main.o"),
    ]
    libraries = subprocess.run(
        ["pkg-config", "--libs", "catch2-with-main"], capture_output=True, text=True, check=False
    ).stdout.split()
    if run([*command, *libraries, "-pthread", "-o", str(program)], folder / "compiler.txt") != 0:
        if "static assertion failed" in (folder / "compiler.txt").read_text(encoding="utf-8"):
            return "a static_assert"
        raise SystemExit(f"{folder}/compiler.txt:\n{(folder / 'compiler.txt').read_text(encoding='utf-8')[:3000]}")
    report.unlink(missing_ok=True)
    code = run([str(program), "--reporter", "xml", "--out", str(report), "--abort"], folder / "test.txt")
    program.unlink()
    return None if code == 0 else (failed_case(report) or "the test program ends too soon")


def outcome_fit(notices: str, overlay: Path | None, folder: Path) -> str | None:
    """What fails in a script that fits published tables; None where the header holds its digits."""
    if folder.exists():
        shutil.rmtree(folder)
    scripts = folder / "tests" / "reference"
    scripts.mkdir(parents=True)
    for part in REFERENCE.iterdir():
        if part.is_dir():
            (scripts / part.name).symlink_to(part)
        elif part.suffix == ".py":
            shutil.copy(part, scripts)
    headers = folder / "libferment" / "include"
    shutil.copytree(INCLUDE, headers)
    if overlay:
        shutil.copytree(overlay, headers, dirs_exist_ok=True)
    code = run([sys.executable, str(scripts / Path(notices).name)], folder / "fit.txt")
    return None if code == 0 else "the fitted digits are not those of the header"


def outcome(notices: str, overlay: Path | None, folder: Path, build: Path) -> str | None:
    """The test that fails; None where none does."""
    if notices.startswith("reference/"):
        return outcome_fit(notices, overlay, folder)
    return outcome_cpp(notices, overlay, folder, build)


def noticed(number: int, mutation: Mutation, build: Path) -> str | None:
    """The test that notices one change."""
    overlay = build / f"headers_{number}"
    header = overlay / "ferment" / mutation.header
    header.parent.mkdir(parents=True, exist_ok=True)
    header.write_text(mutation.changed(), encoding="utf-8")
    found = outcome(mutation.notices, overlay, build / f"run_{number}", build)
    print(
        f"{mutation.header}: {mutation.before} -> {mutation.after}: {found or 'SURVIVES ' + mutation.notices}",
        flush=True,
    )
    return found


def link(notices: str, found: str) -> str:
    """The test that fails, as the documentation names tests."""
    path = f"tests/{notices}" if notices.startswith("reference/") else f"tests/cpp/{notices}"
    name = found if found.startswith('"') else ""
    return f"[`{path}`{', ' if name else ''}{name}](../{path}){'' if name else ': ' + found}"


def table(results: list[tuple[Mutation, str | None]]) -> str:
    """The changes and what notices them, in Markdown."""
    survivors = sum(found is None for _, found in results)
    lines = [
        f"{len(results)} digits changed, one at a time; {len(results) - survivors} noticed, {survivors} not.",
        "",
        "| header | coefficient | changed to | test that fails |",
        "|---|---|---|---|",
    ]
    for mutation, found in results:
        what = "none" if found is None else link(mutation.notices, found).replace("|", "\\|")
        lines.append(f"| `{mutation.header}` | `{mutation.before}` | `{mutation.after}` | {what} |")
    return "\n".join(lines)


def write(name: str, part: str) -> None:
    """Renews a generated part of the document."""
    text = DOCUMENT.read_text(encoding="utf-8")
    begin, end = f"<!-- generated: {name} -->\n", f"<!-- end: {name} -->"
    head, found, rest = text.partition(begin)
    _, closed, tail = rest.partition(end)
    if not found or not closed:
        raise SystemExit(f"{DOCUMENT.name} has no place for {name!r}")
    DOCUMENT.write_text(f"{head}{begin}\n{part}\n\n{end}{tail}", encoding="utf-8")


def main() -> int:
    parser = argparse.ArgumentParser(description="Changes digits of coefficients and shows the tests that notice.")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--only", default="")
    parser.add_argument("--build", type=Path, default=ROOT / "build" / "mutations")
    parser.add_argument("--write", action="store_true")
    given = parser.parse_args()
    if given.write and given.only:
        parser.error("--write takes all changes")
    chosen = [(n, m) for n, m in enumerate(MUTATIONS) if given.only in m.header or given.only in m.notices]
    for _, mutation in chosen:
        mutation.changed()
    build = given.build.resolve()
    start = time.monotonic()
    prepare(build)
    with ThreadPoolExecutor(given.jobs) as pool:
        files = sorted({m.notices for _, m in chosen})
        unchanged = pool.map(lambda x: outcome(x, None, build / ("unchanged_" + x.replace("/", "_")), build), files)
        for name, failed in zip(files, unchanged, strict=True):
            if failed is not None:
                raise SystemExit(f"{name} fails with the headers as they are: {failed}")
        found = list(pool.map(lambda x: noticed(*x, build), chosen))
    results = [(mutation, what) for (_, mutation), what in zip(chosen, found, strict=True)]
    survivors = [mutation for mutation, what in results if what is None]
    print(f"{len(results)} changes, {len(survivors)} survive, {time.monotonic() - start:.0f} s")
    if given.write:
        write("digits", table(results))
    return 1 if survivors or not results else 0


if __name__ == "__main__":
    sys.exit(main())

"""Fits the density of glucose solutions at 20 degC and compares the coefficients with those of the library.

rho = rho_water + w * (c0 + c1 w + c2 w^2 + c3 w^3 + c4 w^4), least squares over the rows of
sugar_solutions/crc_20C_glucose.csv (CRC Handbook of Chemistry and Physics, 102nd ed. 2021, section 5), where rho_water is the
water of the sucrose polynomial. Run it with no arguments; the exit code tells whether the library holds the digits printed.
"""

from __future__ import annotations

import csv
import re
import sys
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
HEADER = HERE.parents[1] / "libferment" / "include" / "ferment" / "liquid" / "sucrose.hpp"
TABLE = HERE / "sugar_solutions" / "crc_20C_glucose.csv"
WATER_TABLE = HERE / "ethanol_water" / "water_density_coefficients.csv"
DEGREE = 4
REFERENCE_C = 20.0
DECIMALS = 8  # of the coefficients in the header


def read_rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def array_in_header(path: Path, name: str) -> list[float]:
    """The numbers of `std::array<double, N> name{...};`."""
    found = re.search(rf"std::array<double, \d+> {name}\{{([^}}]*)\}}", path.read_text(encoding="utf-8"))
    if found is None:
        raise SystemExit(f"no array {name} in {path.name}")
    return [float(number) for number in found.group(1).split(",")]


def water_density(t: float) -> float:
    """Bettin and Spieweck 1990, kg/m3: the water of the sucrose polynomial."""
    c = {row["name"]: float(row["value"]) for row in read_rows(WATER_TABLE) if row["equation"] == "bettin1990"}
    return sum(c[f"a{k}"] * t**k for k in range(6)) / (1.0 + c["b"] * t)


def main() -> int:
    rows = read_rows(TABLE)
    w = np.array([float(row["mass_pct"]) / 100.0 for row in rows])
    rise = np.array([1000.0 * float(row["density_g_cm3"]) for row in rows]) - water_density(REFERENCE_C)
    terms = np.vander(w, DEGREE + 1, increasing=True) * w[:, None]
    fitted, *_ = np.linalg.lstsq(terms, rise, rcond=None)
    residual = float(np.abs(terms @ fitted - rise).max())

    in_header = array_in_header(HEADER, "per_extract")
    print(f"rows {len(rows)}, largest residual {residual:.4f} kg/m3")
    for power, (new, old) in enumerate(zip(fitted, in_header, strict=True)):
        print(f"  w^{power}: fitted {new:.{DECIMALS}f}, library {old:.{DECIMALS}f}")
    # A change in the last digits of the linear algebra must not matter: compare the density, not the coefficients.
    grid = np.linspace(0.0, 0.60, 601)
    difference = float(np.abs(grid * np.polyval((fitted - in_header)[::-1], grid)).max())
    print(f"largest difference in density {difference:.1e} kg/m3")
    return 0 if difference < 1e-7 else 1


if __name__ == "__main__":
    sys.exit(main())

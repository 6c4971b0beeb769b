"""Fits the freezing limit of ethanol-water mixtures and compares the coefficients with those of the library.

p = c1 t + c2 t^2 + c3 t^3, p the mass fraction of ethanol that freezes at t degC, least squares over the freezing points down
to -24 degC and the freezing point of water in ethanol_water/crc_ethanol_20C.csv (CRC Handbook of Chemistry and Physics, 102nd ed.
2021, section 5). Run it with no arguments; the exit code tells whether the library holds the digits printed.
"""

from __future__ import annotations

import sys

import numpy as np
from fit_glucose import HEADER, HERE, array_in_header, read_rows

TABLE = HERE / "ethanol_water" / "crc_ethanol_20C.csv"
SPIRIT = HEADER.with_name("spirit.hpp")
LOWEST_C = -24.0
DEGREE = 3


def main() -> int:
    points = [(0.0, 0.0)]
    for row in read_rows(TABLE):
        if row["freezing_depression_C"]:
            points.append((-float(row["freezing_depression_C"]), float(row["mass_percent"]) / 100.0))
    t, p = np.array([point for point in points if point[0] > LOWEST_C]).T
    terms = np.vander(t, DEGREE + 1, increasing=True)[:, 1:]
    fitted, *_ = np.linalg.lstsq(terms, p, rcond=None)
    residual = float(np.abs(terms @ fitted - p).max())

    in_header = array_in_header(SPIRIT, "freezing")
    print(f"rows {len(p)}, down to {t.min():.2f} degC, largest residual {100.0 * residual:.3f} % mass")
    for power, (new, old) in enumerate(zip(fitted, in_header, strict=True), start=1):
        print(f"  t^{power}: fitted {new:.8e}, library {old:.8e}")
    grid = np.linspace(-20.0, 0.0, 201)
    difference = float(np.abs(grid * np.polyval((fitted - in_header)[::-1], grid)).max())
    print(f"largest difference {100.0 * difference:.1e} % mass")
    return 0 if difference < 1e-8 else 1


if __name__ == "__main__":
    sys.exit(main())

"""Fits the excess heat capacity and the heat of mixing of ethanol and water and compares the coefficients with those of the library.

Excess heat capacity: w (1 - w) (c0 + c1 (1 - 2w) + c2 (1 - 2w)^2) in J/(kg K), w the mass fraction of ethanol, least squares of the
relative deviation over both columns of distillation/heat_capacity_mixture.csv (Laliberte 2009, Melinder 2010) but for the pure
liquids, which are those of distillation/liquid_heat_capacity_dippr100.csv (Perry 8th ed., table 2-153).

Heat of mixing at 25 degC: x (1 - x) (a0 + a1 (1 - 2x) + a2 (1 - 2x)^2) in J/mol, x the mole fraction, least squares over
distillation/excess_enthalpy_298K.csv (NIST ThermoML archive), each point weighed by its stated uncertainty.

Run it with no arguments; the exit code tells whether the library holds the digits printed.
"""

from __future__ import annotations

import sys

import numpy as np
import numpy.typing as npt
from fit_glucose import HEADER, HERE, array_in_header, read_rows

Numbers = npt.NDArray[np.float64]

TABLES = HERE / "distillation"
ENTHALPY = HEADER.with_name("enthalpy.hpp")
TERMS = 3
DECIMALS = 4  # of the coefficients in the header
ZERO_CELSIUS_K = 273.15
MOLAR_MASS = {"water": 2 * 1.008 + 15.999, "ethanol": 2 * 12.011 + 6 * 1.008 + 15.999}  # g/mol, IUPAC abridged


def redlich_kister(y: Numbers) -> Numbers:
    terms: Numbers = np.vander(1.0 - 2.0 * y, TERMS, increasing=True) * (y * (1.0 - y))[:, None]
    return terms


def pure_heat_capacity(compound: str, t: Numbers) -> Numbers:
    """J/(kg K)."""
    row = next(row for row in read_rows(TABLES / "liquid_heat_capacity_dippr100.csv") if row["compound"] == compound)
    powers = np.array([float(row[power]) for power in "EDCBA"])
    heat: Numbers = np.polyval(powers, t + ZERO_CELSIUS_K) / MOLAR_MASS[compound]
    return heat


def fit_heat_capacity() -> Numbers:
    points = []
    for row in read_rows(TABLES / "heat_capacity_mixture.csv"):
        w = float(row["ethanol_wt_pct"]) / 100.0
        columns = [row["cp_Laliberte"], row["cp_Melinder"]] if 0.0 < w < 1.0 else []
        points += [(w, float(row["t_C"]), 1000.0 * float(cell)) for cell in columns if cell]
    w, t, cp = np.array(points).T
    pure = (1.0 - w) * pure_heat_capacity("water", t) + w * pure_heat_capacity("ethanol", t)
    fitted: Numbers = np.linalg.lstsq(redlich_kister(w) / cp[:, None], (cp - pure) / cp, rcond=None)[0]
    deviation = np.abs((redlich_kister(w) @ fitted + pure) / cp - 1.0)
    print(f"heat capacity: {len(cp)} values, largest deviation {100.0 * deviation.max():.2f} %")
    return fitted


def fit_mixing() -> Numbers:
    rows = read_rows(TABLES / "excess_enthalpy_298K.csv")
    x, heat, u = np.array([[float(row[name]) for name in ("x_ethanol", "HE_J_mol", "u_J_mol")] for row in rows]).T
    fitted: Numbers = np.linalg.lstsq(redlich_kister(x) / u[:, None], heat / u, rcond=None)[0]
    deviation = np.abs(redlich_kister(x) @ fitted - heat) / u
    print(f"heat of mixing: {len(x)} points, largest deviation {deviation.max():.2f} of the stated uncertainty")
    return fitted


def main() -> int:
    worst = 0.0
    grid = np.linspace(0.0, 1.0, 1001)
    for name, fitted in (("excess_heat_capacity_terms", fit_heat_capacity()), ("mixing_terms", fit_mixing())):
        in_header = array_in_header(ENTHALPY, name)
        for power, (new, old) in enumerate(zip(fitted, in_header, strict=True)):
            print(f"  {name}[{power}]: fitted {new:.{DECIMALS}f}, library {old:.{DECIMALS}f}")
        worst = max(worst, float(np.abs(redlich_kister(grid) @ (fitted - in_header)).max()))
    print(f"largest difference {worst:.1e} J/(kg K) or J/mol")
    return 0 if worst < 10.0**-DECIMALS else 1


if __name__ == "__main__":
    sys.exit(main())

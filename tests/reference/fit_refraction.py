"""Fits the refraction of sucrose, glucose, starch hydrolysate and ethanol and compares the coefficients with those of the library.

Solutes that follow Gladstone and Dale's rule (sucrose, ethanol): s(w) in n - 1 = rho ((1 - w)(n_water - 1)/rho_water + w s(w)) at
20 degC. Glucose and hydrolysate: n - n_water(t) = w times a polynomial. Least squares, each row weighted by its rounding. The tables
are named below; each holds its citation. Run it with no arguments; the exit code tells whether the library holds the digits printed.
"""

from __future__ import annotations

import sys

import numpy as np
from fit_glucose import HEADER, HERE, array_in_header, read_rows, water_density

REFRACTION = HEADER.with_name("refraction.hpp")
SUGAR = HERE / "sugar_solutions"
SPIRIT = HERE / "ethanol_water"
REFERENCE_C = 20.0
FIVE_DECIMALS, FOUR_DECIMALS = 1e-5, 1e-4
HYDROLYSATE_TERMS = (5, 3, 2)  # powers of w for each power of (t - 20)/100
AGREEMENT = 1e-8  # of the index between the fit and the library; the digits of the header allow for it
DIGITS = 9


def water_index(t: float) -> float:
    """IAPWS R9-97 with the density of IAPWS SR6 and the coefficients of the header, against air of the same temperature."""
    rho = (
        next(
            float(row["IAPWS_SR6_0_1MPa"])
            for row in read_rows(SPIRIT / "water_density_0_100C.csv")
            if float(row["t_C"]) == t
        )
        / 1000.0
    )
    a = array_in_header(REFRACTION, "a")
    l2 = (0.5893 / 0.589) ** 2
    sum_ = a[0] + a[1] * rho + (a[2] + a[3] * l2) * (t + 273.15) / 273.15 + a[4] / l2
    sum_ += a[5] / (l2 - 0.2292020**2) + a[6] / (l2 - 5.432937**2) + a[7] * rho**2
    air = 1.0 + 2.72e-4 * 293.15 / (t + 273.15)
    return float(np.sqrt((1.0 + 2.0 * rho * sum_) / (1.0 - rho * sum_)) / air)


def sucrose_density(w: np.ndarray) -> np.ndarray:
    terms = [row for row in read_rows(SUGAR / "icumsa_sucrose_density_coefficients.csv") if int(row["power_T"]) == 0]
    rise = np.sum([float(row["coefficient_kg_m3"]) * w ** int(row["power_w"]) for row in terms], axis=0)
    return np.asarray(water_density(REFERENCE_C) + rise)


def spirit_density(p: np.ndarray) -> np.ndarray:
    terms = [row for row in read_rows(SPIRIT / "coefficients.csv") if row["set"] == "A"]
    return np.asarray(np.sum([float(row["value"]) * p ** (int(row["k"]) - 1) for row in terms], axis=0))


def table(path: str, mass: str, index: str, most: float = 100.0) -> tuple[np.ndarray, np.ndarray]:
    rows = [row for row in read_rows(HERE / path) if float(row[mass]) <= most]
    return np.array([float(row[mass]) / 100.0 for row in rows]), np.array([float(row[index]) for row in rows])


def least_squares(terms: np.ndarray, wanted: np.ndarray, weight: np.ndarray) -> np.ndarray:
    fitted, *_ = np.linalg.lstsq(terms * weight[:, None], wanted * weight, rcond=None)
    return np.asarray(fitted)


def report(names: list[str], fitted: np.ndarray, terms: np.ndarray, wanted: np.ndarray) -> bool:
    in_header = np.array([c for name in names for c in array_in_header(REFRACTION, name)])
    print(f"{', '.join(names)}: rows {len(wanted)}, largest residual {np.abs(terms @ fitted - wanted).max():.2e}")
    for new, old in zip(fitted, in_header, strict=True):
        print(f"  fitted {new:.{DIGITS}g}, library {old:.{DIGITS}g}")
    difference = float(np.abs(terms @ (fitted - in_header)).max())
    print(f"  largest difference of the index {difference:.1e}")
    return difference < AGREEMENT


def solute_terms(
    w: np.ndarray, rho: np.ndarray, index: np.ndarray, rho_water: float, count: int
) -> tuple[np.ndarray, np.ndarray]:
    """n - 1 less what the water adds, and what each coefficient (L/kg) of s(w) adds to it."""
    from_water = rho * (1.0 - w) * (water_index(REFERENCE_C) - 1.0) / rho_water
    return 1e-3 * np.vander(w, count, increasing=True) * (rho * w)[:, None], index - 1.0 - from_water


def sucrose() -> bool:
    w_oiv, n_oiv = table("sugar_solutions/oiv_must_refractometry_10_30pct.csv", "sucrose_mass_pct", "nD_20C")
    w_crc, n_crc = table("sugar_solutions/crc_20C_sucrose.csv", "mass_pct", "nD_20C", most=70.0)
    w, n = np.concatenate([w_oiv, w_crc]), np.concatenate([n_oiv, n_crc])
    terms, wanted = solute_terms(w, sucrose_density(w), n, water_density(REFERENCE_C), 3)
    weight = 1.0 / np.concatenate([np.full_like(w_oiv, FIVE_DECIMALS), np.full_like(w_crc, FOUR_DECIMALS)])
    return report(["sucrose_refractivity"], least_squares(terms, wanted, weight), terms, wanted)


def ethanol() -> bool:
    p, n = table("ethanol_water/crc_ethanol_20C.csv", "mass_percent", "nD20")
    terms, wanted = solute_terms(p, spirit_density(p), n, float(spirit_density(np.zeros(1))[0]), 6)
    return report(["ethanol_refractivity"], least_squares(terms, wanted, np.ones_like(p)), terms, wanted)


def glucose() -> bool:
    w, n = table("sugar_solutions/crc_20C_glucose.csv", "mass_pct", "nD_20C")
    terms = np.vander(w, 5, increasing=True) * w[:, None]
    wanted = n - water_index(REFERENCE_C)
    return report(["glucose_rise"], least_squares(terms, wanted, np.ones_like(w)), terms, wanted)


def hydrolysate() -> bool:
    columns = []
    wanted = []
    for t in (20.0, 30.0, 45.0, 60.0):
        w, n = table(
            "sugar_solutions/iso1743_glucose_syrup_refractive_index.csv", "dry_matter_mass_pct", f"nD_{t:.0f}C"
        )
        x = (t - REFERENCE_C) / 100.0
        columns.append(
            np.hstack(
                [np.vander(w, count, increasing=True) * w[:, None] * x**k for k, count in enumerate(HYDROLYSATE_TERMS)]
            )
        )
        wanted.append(n - water_index(t))
    terms, rise = np.vstack(columns), np.concatenate(wanted)
    return report(
        [f"hydrolysate_{k}" for k in range(len(HYDROLYSATE_TERMS))],
        least_squares(terms, rise, np.ones_like(rise)),
        terms,
        rise,
    )


def main() -> int:
    held = [fit() for fit in (sucrose, glucose, hydrolysate, ethanol)]
    return 0 if all(held) else 1


if __name__ == "__main__":
    sys.exit(main())

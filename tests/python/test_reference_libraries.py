"""Pure water and ethanol against CoolProp: IAPWS-95 for water, Schroeder, Penoncello and Schroeder 2014 (J. Phys. Chem. Ref. Data 43:043102) for ethanol."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from ferment import liquid

ZERO_C = 273.15
ATMOSPHERE = 101325.0


def reference(what: str, t: np.ndarray, fluid: str, quality: float | None = None) -> np.ndarray:
    other = ("Q", quality) if quality is not None else ("P", ATMOSPHERE)
    return np.array([PropsSI(what, "T", float(x) + ZERO_C, *other, fluid) for x in t])


def test_water_density() -> None:
    t = np.linspace(1.0, 99.0, 50)
    # IAPWS SR6-08(2011) states 1 ppm; IAPWS-95 itself is within 1 ppm to 40 degC, 10 ppm above.
    assert liquid.water_density(t) == pytest.approx(reference("D", t, "Water"), rel=2e-6)


def test_pure_ethanol() -> None:
    t = np.linspace(-10.0, 40.0, 26)
    # 0.05 % is what the equation of state states for liquid densities.
    assert liquid.spirit_density(100.0, t) == pytest.approx(reference("D", t, "Ethanol"), rel=5e-4)


@pytest.mark.parametrize(
    ("fluid", "ours", "worst_k"),
    [("Water", liquid.water_vapour_pressure, 0.06), ("Ethanol", liquid.ethanol_vapour_pressure, 0.15)],
)
def test_vapour_pressure(fluid: str, ours: object, worst_k: float) -> None:
    # DIPPR 101: within 0.05 K of VDI's Wagner equations; 0.05 K (water) and 0.14 K (ethanol) from the equations of state.
    t = np.linspace(35.0, 100.0, 27)
    pressure = np.asarray(ours(t))  # type: ignore[operator]
    boils = np.array([PropsSI("T", "P", 1e3 * float(p), "Q", 0, fluid) - ZERO_C for p in pressure])
    assert np.max(np.abs(boils - t)) <= worst_k


# DIPPR 106 of the handbook: 1 % of CRC's latent heats; against the equations of state 0.7 % (water) and under 2 % (ethanol, at 100 degC).
@pytest.mark.parametrize(("fluid", "abw", "within"), [("Water", 0.0, 0.008), ("Ethanol", 100.0, 0.02)])
def test_latent_heat(fluid: str, abw: float, within: float) -> None:
    t = np.linspace(20.0, 100.0, 17)
    theirs = (reference("H", t, fluid, 1.0) - reference("H", t, fluid, 0.0)) / 1e3
    assert liquid.latent_heat(abw, t) == pytest.approx(theirs, rel=within)

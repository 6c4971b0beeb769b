"""What a reading really says: hydrometers and alcoholometers of glass, read at any temperature.

The glass expands as it warms and the liquid expands too; both are taken into account, each with the liquid's own density. A correction built
on water alone is right for water only.
"""

import dataclasses
import math
from typing import Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from ferment import _core, liquid
from ferment._values import ArrayRecord, Record

__all__ = ["Alcoholometer", "CorrectedReading", "Hydrometer", "Wash"]

Numbers: TypeAlias = npt.ArrayLike
Values: TypeAlias = float | npt.NDArray[np.float64]
Scale: TypeAlias = Literal["sg", "plato", "density"]
SampleLiquid: TypeAlias = "Literal['wort', 'spirit'] | Wash"

_SCALES = {"sg": 0.0, "plato": 1.0, "density": 2.0}
_WORT, _SPIRIT, _WASH_OF_STRENGTH, _WASH_OF_EXTRACT = 0.0, 1.0, 2.0, 3.0


@dataclasses.dataclass(frozen=True, slots=True)
class Wash(Record):
    """A fermenting or finished wash of which one thing is known. A rough figure will do: it only steers the thermal expansion.

    Parameters
    ----------
    abv : float, optional
        Strength [% vol at 20 degC], 0 to 100.
    extract : float, optional
        Real extract [% mass], 0 to 70. Give exactly one of the two.
    """

    abv: float | None = None
    extract: float | None = None

    def __post_init__(self) -> None:
        if (self.abv is None) == (self.extract is None):
            raise _core.InputError("Wash: give exactly one of abv [% vol] and extract [% mass]")


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class CorrectedReading(ArrayRecord):
    """What the sample is. Arrays where the readings were arrays.

    Attributes
    ----------
    sg : true specific gravity 20/20
    density_at_sample : density at the temperature of the sample [kg/m3]
    abw : ethanol [% mass]; zero in a wort
    extract : real extract [% mass]; zero in a spirit
    """

    sg: Values
    density_at_sample: Values
    abw: Values
    extract: Values

    @property
    def abv(self) -> Values:
        """Strength [% vol at 20 degC]."""
        return liquid.wash_abv(self.abw, self.extract)


@dataclasses.dataclass(frozen=True, slots=True)
class Hydrometer(Record):
    """A glass hydrometer.

    Parameters
    ----------
    scale : {"sg", "plato", "density"}
        Specific gravity against water at the calibration temperature, % extract (Plato, Brix, Balling), or kg/m3.
    calibration_c : float
        Temperature the scale is made for [degC], 0 to 40.
    glass_expansion : float
        Cubic expansion of the glass [1/K], 0 to 1e-3; 25e-6 is the convention of ISO 1768:1975.
    meniscus : float
        Added to every reading taken at the top of the meniscus, in units of the scale.
    """

    scale: Scale = "sg"
    calibration_c: float = 20.0
    glass_expansion: float = _core.conventional_glass_expansion
    meniscus: float = 0.0

    def __post_init__(self) -> None:
        if self.scale not in _SCALES:
            raise _core.InputError(f'hydrometer scale "{self.scale}" is not known; allowed are {", ".join(_SCALES)}')
        if not all(math.isfinite(x) for x in (self.calibration_c, self.glass_expansion, self.meniscus)):
            raise _core.InputError("hydrometer: calibration_c, glass_expansion and meniscus must be numbers")
        # The compiled part checks the instrument with every reading; one in a thin wort at the calibration temperature checks it now.
        thin_wort = {"sg": 1.04, "plato": 10.0, "density": 1040.0}[self.scale]
        _core.hydrometer_density(
            thin_wort - float(self.meniscus), float(self.calibration_c), _WORT, 0.0, *self._settings()
        )

    def _settings(self) -> tuple[float, float, float, float]:
        return (_SCALES[self.scale], float(self.calibration_c), float(self.glass_expansion), float(self.meniscus))

    def correct(self, reading: Numbers, temperature_c: Numbers, liquid: SampleLiquid = "wort") -> CorrectedReading:
        """What a reading at a temperature means.

        Parameters
        ----------
        reading : float or array_like
            As read, in units of the scale.
        temperature_c : float or array_like
            Temperature of the sample [degC]: 0 to 80 for wort, 0 to 40 for a wash, -20 to 40 for a spirit.
        liquid : "wort", "spirit" or Wash
            What floats the glass. Once fermentation has begun the sample is a Wash.

        Returns
        -------
        CorrectedReading
            NaN where an input is NaN.

        Raises
        ------
        RangeError
            Where no such liquid floats the glass there, e.g. a wort below water.
        InputError
            For an unknown liquid.

        References
        ----------
        ISO 1768:1975 (glass); the density formula of the liquid, see ferment.sources().
        """
        kind, known = _liquid(liquid)
        arguments = (reading, temperature_c, kind, known, *self._settings())
        return CorrectedReading(
            _core.hydrometer_gravity(*arguments),
            _core.hydrometer_density(*arguments),
            _core.hydrometer_abw(*arguments),
            _core.hydrometer_extract(*arguments),
        )

    def reads(self, abw: Numbers, extract: Numbers, temperature_c: Numbers) -> Values:
        """What the stem shows in a wash of known composition: the exact inverse of correct.

        Parameters
        ----------
        abw, extract : float or array_like
            Ethanol and real extract of the wash [% mass], 0 to 100 and 0 to 70, together at most 100.
        temperature_c : float or array_like
            Of the wash [degC], 0 to 40.

        Returns
        -------
        float or ndarray
            In units of the scale; NaN where an input is NaN.

        Raises
        ------
        RangeError
            For a composition or temperature outside.

        References
        ----------
        ISO 1768:1975 (glass); the density of a wash, see ferment.sources().
        """
        return _core.hydrometer_reading(abw, extract, temperature_c, *self._settings())


def _liquid(sample: SampleLiquid) -> tuple[float, float]:
    if isinstance(sample, Wash):
        if sample.abv is not None:
            return (_WASH_OF_STRENGTH, float(sample.abv))
        return (_WASH_OF_EXTRACT, float(sample.extract if sample.extract is not None else math.nan))
    kinds = {"wort": _WORT, "spirit": _SPIRIT}
    if sample not in kinds:
        raise _core.InputError(
            f'liquid "{sample}" is not known; allowed are wort, spirit, or Wash(abv=...) or Wash(extract=...)'
        )
    return (kinds[sample], 0.0)


@dataclasses.dataclass(frozen=True, slots=True)
class Alcoholometer(Record):
    """A glass alcoholometer, for mixtures of ethanol and water only: sugar or extract in the spirit makes it read low.

    Parameters
    ----------
    scale : {"abv", "us_proof"}
        % vol at 20 degC, or US proof at 60 degF.
    glass_expansion : float
        Cubic expansion of the glass [1/K], 0 to 1e-3; 25e-6 is the convention of ISO 1768:1975.
    """

    scale: Literal["abv", "us_proof"] = "abv"
    glass_expansion: float = _core.conventional_glass_expansion

    def __post_init__(self) -> None:
        if self.scale not in ("abv", "us_proof"):
            raise _core.InputError(f'alcoholometer scale "{self.scale}" is not known; allowed are abv, us_proof')
        if not math.isfinite(self.glass_expansion):
            raise _core.InputError("alcoholometer: glass_expansion must be a number")
        # The compiled part checks the glass with every reading; one in the middle of the scale checks it now.
        self.correct(*((50.0, 20.0) if self.scale == "abv" else (100.0, _core.sixty_fahrenheit_c)))

    def correct(self, reading: Numbers, temperature_c: Numbers) -> Values:
        """True strength from a reading at a temperature.

        Parameters
        ----------
        reading : float or array_like
            As read [% vol, or degrees of US proof].
        temperature_c : float or array_like
            Temperature of the spirit [degC], -20 to 40.

        Returns
        -------
        float or ndarray
            Strength on the same scale. NaN where an input is NaN.

        Raises
        ------
        RangeError
            Outside the scale, and where no mixture of ethanol and water floats the glass there.

        References
        ----------
        ISO 1768:1975 (glass); OIML R 22 (1975); 27 CFR 30.61.
        """
        correct = _core.alcoholometer_abv if self.scale == "abv" else _core.alcoholometer_us_proof
        return correct(reading, temperature_c, float(self.glass_expansion))

"""What a reading really says: hydrometers and alcoholometers of glass, refractometers, ebulliometers.

The glass expands as it warms and the liquid expands too; both are taken into account, each with the liquid's own density. A correction built
on water alone is right for water only. Readings may be numbers, arrays, or numbers of the `uncertainties` package.
"""

import dataclasses
import math
from typing import Literal, TypeAlias, overload

import numpy.typing as npt

from ferment import _core, liquid
from ferment._uncertain import Uncertain
from ferment._values import ArrayRecord, Record
from ferment.liquid import Values

__all__ = [
    "Alcoholometer",
    "CorrectedReading",
    "CorrectedRefraction",
    "Ebulliometer",
    "EbulliometerReading",
    "Hydrometer",
    "RefractedWash",
    "Refractometer",
    "Wash",
]

Numbers: TypeAlias = npt.ArrayLike | Uncertain
Scale: TypeAlias = Literal["sg", "plato", "density"]
SampleLiquid: TypeAlias = "Literal['wort', 'spirit'] | Wash"

_SCALES = {"sg": 0.0, "plato": 1.0, "density": 2.0}
_REFRACTOMETER_SCALES = {"brix": 0.0, "compensated_brix": 1.0, "refractive_index": 2.0}
_SUGARS = {"wort": 0.0, "starch_hydrolysate": 1.0}
_WORT, _SPIRIT, _WASH_OF_STRENGTH, _WASH_OF_EXTRACT = 0.0, 1.0, 2.0, 3.0


def _require_finite(instrument: str, record: object, *names: str) -> None:
    for name in names:
        value = getattr(record, name)
        if not math.isfinite(value):
            raise _core.InputError(f"{instrument}: {name} {value} must be a finite number")


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

    abv: float | Uncertain | None = None
    extract: float | Uncertain | None = None

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
        _require_finite("hydrometer", self, "calibration_c", "glass_expansion", "meniscus")
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
            What floats the glass. Once fermentation has begun the sample is a Wash; where nobody knows its strength yet, Wash(abv=5) will do: between
            3 and 6 % vol the gravity moves by 0.0001 at most from 15 to 24 degC, by 0.00017 at 10 and 30 degC, 0.0003 at 40, and nobody reads a
            hydrometer to better than 0.0005. Correct once more with the strength that comes of it.

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


def _known(wash: Wash) -> tuple[float, float | Uncertain]:
    kind, known = (_WASH_OF_EXTRACT, wash.extract) if wash.abv is None else (_WASH_OF_STRENGTH, wash.abv)
    assert known is not None  # by __post_init__
    return (kind, float(known) if isinstance(known, int | float) else known)


def _liquid(sample: SampleLiquid) -> tuple[float, float | Uncertain]:
    if isinstance(sample, Wash):
        return _known(sample)
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
            raise _core.InputError(f"alcoholometer: glass_expansion {self.glass_expansion} must be a finite number")
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

    def reads(self, strength: Numbers, temperature_c: Numbers) -> Values:
        """What the glass shows in a spirit of known strength: the exact inverse of correct.

        Parameters
        ----------
        strength : float or array_like
            True strength on the scale of the instrument [% vol, or degrees of US proof].
        temperature_c : float or array_like
            Temperature of the spirit [degC], -20 to 40, not below freezing.

        Returns
        -------
        float or ndarray
            As the scale is read. NaN where an input is NaN.

        Raises
        ------
        RangeError
            Outside, and where the spirit floats the glass beyond an end of its scale, as warm ethanol or cold water do.

        References
        ----------
        ISO 1768:1975 (glass); OIML R 22 (1975); 27 CFR 30.61.
        """
        reads = _core.alcoholometer_reads_abv if self.scale == "abv" else _core.alcoholometer_reads_us_proof
        return reads(strength, temperature_c, float(self.glass_expansion))


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class CorrectedRefraction(ArrayRecord):
    """What a refractometer says of a wort. Arrays where the readings were arrays.

    Attributes
    ----------
    brix : degrees Brix at 20 degC, the sucrose solution of equal index [% mass]
    dry_matter : extract [% mass]; differs from brix for starch hydrolysate only
    refractive_index : nD at 20 degC
    refractive_index_at_sample : nD at the temperature of the sample
    """

    brix: Values
    dry_matter: Values
    refractive_index: Values
    refractive_index_at_sample: Values


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class RefractedWash(ArrayRecord):
    """What a refractometer says of a wash of which one thing is known. Arrays where the readings were arrays.

    Attributes
    ----------
    abw : ethanol [% mass]
    extract : real extract on the sucrose scale [% mass]
    refractive_index_at_sample : nD at the temperature of the sample
    """

    abw: Values
    extract: Values
    refractive_index_at_sample: Values

    @property
    def abv(self) -> Values:
        """Strength [% vol at 20 degC]."""
        return liquid.wash_abv(self.abw, self.extract)


@dataclasses.dataclass(frozen=True, slots=True)
class Refractometer(Record):
    """A refractometer. In anything fermented it sees ethanol and extract together, so one of the two has to be known.

    Parameters
    ----------
    scale : {"brix", "compensated_brix", "refractive_index"}
        Degrees Brix as at 20 degC, degrees Brix with automatic temperature compensation, or nD.
    zero : float
        What it shows too much in pure water at 20 degC, in units of the scale; taken off every reading.
    """

    scale: Literal["brix", "compensated_brix", "refractive_index"] = "brix"
    zero: float = 0.0

    def __post_init__(self) -> None:
        if self.scale not in _REFRACTOMETER_SCALES:
            allowed = ", ".join(_REFRACTOMETER_SCALES)
            raise _core.InputError(f'refractometer scale "{self.scale}" is not known; allowed are {allowed}')
        if not math.isfinite(self.zero):
            raise _core.InputError(f"refractometer: the zero error {self.zero} must be a finite number")
        # The compiled part checks the instrument with every reading; one in a thin wort checks it now.
        _core.refractometer_index(
            (1.34 if self.scale == "refractive_index" else 10.0) + float(self.zero), 20.0, 0.0, *self._settings()
        )

    def _settings(self) -> tuple[float, float]:
        return (_REFRACTOMETER_SCALES[self.scale], float(self.zero))

    @overload
    def correct(
        self, reading: Numbers, temperature_c: Numbers = 20.0, liquid: Literal["wort", "starch_hydrolysate"] = "wort"
    ) -> CorrectedRefraction: ...
    @overload
    def correct(self, reading: Numbers, temperature_c: Numbers, liquid: Wash) -> RefractedWash: ...
    def correct(
        self,
        reading: Numbers,
        temperature_c: Numbers = 20.0,
        liquid: Literal["wort", "starch_hydrolysate"] | Wash = "wort",
    ) -> CorrectedRefraction | RefractedWash:
        """What a reading at a temperature means.

        Parameters
        ----------
        reading : float or array_like
            As read, in units of the scale: 0 to 70 degrees Brix, or nD.
        temperature_c : float or array_like
            Temperature of the sample [degC], 10 to 40; 10 to 30 with automatic compensation, 20 to 40 for starch hydrolysate.
        liquid : "wort", "starch_hydrolysate" or Wash
            What bends the light: sucrose, which stands for the sugars of a wort; starch hydrolysate, which reads about 4.5 % of itself
            high; or a wash of known strength (0 to 80 % vol) or real extract (0 to 40 % mass).

        Returns
        -------
        CorrectedRefraction, or RefractedWash for a Wash
            NaN where an input is NaN.

        Raises
        ------
        RangeError
            Where no such liquid has that index.
        InputError
            For an unknown liquid.

        References
        ----------
        Equal refractive index; see ferment.liquid.sucrose_refractive_index and wash_refractive_index.
        """
        if isinstance(liquid, Wash):
            wash = (reading, temperature_c, *_known(liquid), *self._settings())
            return RefractedWash(
                _core.refractometer_wash_abw(*wash),
                _core.refractometer_wash_extract(*wash),
                _core.refractometer_wash_index(*wash),
            )
        if liquid not in _SUGARS:
            raise _core.InputError(
                f'liquid "{liquid}" is not known; allowed are {", ".join(_SUGARS)}, or Wash(abv=...) or Wash(extract=...)'
            )
        wort = (reading, temperature_c, _SUGARS[liquid], *self._settings())
        return CorrectedRefraction(
            _core.refractometer_brix(*wort),
            _core.refractometer_dry_matter(*wort),
            _core.refractometer_index_20c(*wort),
            _core.refractometer_index(*wort),
        )

    def reads(self, abw: Numbers, extract: Numbers, temperature_c: Numbers = 20.0) -> Values:
        """What the refractometer shows in a wash of known composition: the exact inverse of correct.

        Parameters
        ----------
        abw, extract : float or array_like
            Ethanol and real extract of the wash [% mass], 0 to 100 and 0 to 70, together at most 100.
        temperature_c : float or array_like
            Of the wash [degC], 10 to 40; 10 to 30 with automatic compensation.

        Returns
        -------
        float or ndarray
            In units of the scale; NaN where an input is NaN.

        Raises
        ------
        RangeError
            For a composition or temperature outside, and where the wash is off the Brix scale.

        References
        ----------
        See ferment.liquid.wash_refractive_index.
        """
        return _core.refractometer_reading(abw, extract, temperature_c, *self._settings())


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class EbulliometerReading(ArrayRecord):
    """What the boiling point says of a wash. Arrays where the readings were arrays.

    Attributes
    ----------
    abw : ethanol [% mass]
    abv : strength [% vol at 20 degC]
    pressure_kpa : absolute pressure it boiled under [kPa]
    abv_per_k : how far the strength moves with the boiling point [% vol per K]; negative
    """

    abw: Values
    abv: Values
    pressure_kpa: Values
    abv_per_k: Values


@dataclasses.dataclass(frozen=True, slots=True)
class Ebulliometer(Record):
    """A thermometer in the steam of a boiling sample, with a condenser that returns what boils off.

    Parameters
    ----------
    thermometer_correction_k : float
        Added to every temperature [K], -5 to 5.
    extract_molar_mass : float
        Mean molar mass of the extract [g/mol], 60 to 2000; that of glucose unless it is known.
    """

    thermometer_correction_k: float = 0.0
    extract_molar_mass: float = _core.usual_extract_molar_mass

    def __post_init__(self) -> None:
        _require_finite("ebulliometer", self, "thermometer_correction_k", "extract_molar_mass")
        # The compiled part checks the instrument with every reading; what it shows in water checks it now.
        self.reads(0.0, 0.0)

    def _settings(self) -> tuple[float, float]:
        return (float(self.thermometer_correction_k), float(self.extract_molar_mass))

    def strength(
        self, boiling_c: Numbers, pressure_kpa: Numbers = _core.sea_level_kpa, extract: Numbers = 0.0
    ) -> EbulliometerReading:
        """Strength of a wash that boils at a temperature under a known pressure.

        Parameters
        ----------
        boiling_c : float or array_like
            Boiling point as read [degC].
        pressure_kpa : float or array_like
            Absolute pressure at the place [kPa], 20 to 110, not reduced to sea level; see ferment.liquid.station_pressure.
        extract : float or array_like
            Real extract [% mass], 0 to 30; 1 % too much reads 0.03 % mass too strong.

        Returns
        -------
        EbulliometerReading
            NaN where an input is NaN.

        Raises
        ------
        RangeError
            Where no wash weaker than the azeotrope boils there.

        References
        ----------
        The exact inverse of ferment.liquid.boiling_point.
        """
        given = (boiling_c, pressure_kpa, extract, *self._settings())
        return EbulliometerReading(
            _core.ebulliometer_abw(*given),
            _core.ebulliometer_abv(*given),
            _core.ebulliometer_pressure(*given),
            _core.ebulliometer_slope(*given),
        )

    def strength_against_water(
        self, water_boiling_c: Numbers, wash_boiling_c: Numbers, extract: Numbers = 0.0
    ) -> EbulliometerReading:
        """The same from the boiling point of water on the same thermometer just before.

        Parameters
        ----------
        water_boiling_c : float or array_like
            What the thermometer shows in boiling water [degC], 60.06 to 102.34.
        wash_boiling_c : float or array_like
            What it shows in the boiling wash [degC].
        extract : float or array_like
            Real extract of the wash [% mass].

        Returns
        -------
        EbulliometerReading
            The pressure drops out, and with it most of an error of the thermometer's zero.

        Raises
        ------
        RangeError
            As strength.
        """
        given = (water_boiling_c, wash_boiling_c, extract, *self._settings())
        return EbulliometerReading(
            _core.ebulliometer_water_abw(*given),
            _core.ebulliometer_water_abv(*given),
            _core.ebulliometer_water_pressure(*given),
            _core.ebulliometer_water_slope(*given),
        )

    def reads(self, abw: Numbers, extract: Numbers, pressure_kpa: Numbers = _core.sea_level_kpa) -> Values:
        """What the thermometer shows in a wash of known composition: the exact inverse of strength.

        Parameters
        ----------
        abw, extract : float or array_like
            Ethanol and real extract of the wash [% mass].
        pressure_kpa : float or array_like
            Absolute pressure [kPa], 20 to 110.

        Returns
        -------
        float or ndarray
            Boiling point that is read [degC]. NaN where an input is NaN.

        Raises
        ------
        RangeError
            As ferment.liquid.boiling_point.
        """
        return _core.ebulliometer_reading(abw, extract, pressure_kpa, *self._settings())

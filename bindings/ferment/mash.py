"""What the grain can give: composition, extract, equivalent original gravity, pure alcohol, and where the water goes.

Shares are percent by mass. A grain of the table is a mean with a spread; a lot's certificate beats it: ``grain("rolled oats").with_analysis(...)``.
"""

import dataclasses
import reprlib
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, Literal, Self, TypeAlias

from ferment import _core, liquid
from ferment._core import litre_degrees_of_extract
from ferment._values import Estimate, Measured, Record

__all__ = [
    "Assumptions",
    "Bill",
    "Grain",
    "GrainPotential",
    "Potential",
    "WaterBalance",
    "Yield",
    "grain",
    "grain_names",
    "litre_degrees_of_extract",
    "potential",
    "water_balance",
]

Share: TypeAlias = float | tuple[float, float] | Measured

_NONE = Measured(0.0)
_ALL = Measured(100.0)
_USUAL_SOLUBLE_SHARE = Measured(*_core.default_soluble_share_of_rest())
_PARTS = ("moisture", "starch", "sugars", "protein", "fat", "fibre", "ash")


def _measured(share: Share) -> Measured:
    if isinstance(share, Measured):
        return share
    return Measured(*share) if isinstance(share, tuple) else Measured(float(share))


def _pair(share: Measured) -> tuple[float, float]:
    return (float(share.value), float(share.standard_uncertainty))


@dataclasses.dataclass(frozen=True, slots=True)
class Grain(Record):
    """A grain, flour, flake, malt, root or sugar. Every part is % by mass as weighed, with its standard uncertainty.

    Attributes
    ----------
    form : "grain", "grits", "flour", "rolled", "flakes", "gelatinised" (cooked, baked or puffed), "malt", "root", "starch" or "sugar"
    disaccharide_share : how much of the sugars are disaccharides [%]; they take up water when split
    starch_method : how the starch was measured; methods differ by up to five points
    """

    name: str
    form: str
    moisture: Measured
    starch: Measured
    sugars: Measured
    protein: Measured = _NONE
    fat: Measured = _NONE
    fibre: Measured = _NONE
    ash: Measured = _NONE
    disaccharide_share: float = 0.0
    starch_method: str = "not stated"
    source: str = "the user's own analysis"

    if TYPE_CHECKING:  # plain numbers and pairs are taken as well; __post_init__ makes them Measured

        def __init__(
            self,
            name: str,
            form: str,
            moisture: Share,
            starch: Share,
            sugars: Share,
            protein: Share = ...,
            fat: Share = ...,
            fibre: Share = ...,
            ash: Share = ...,
            disaccharide_share: float = ...,
            starch_method: str = ...,
            source: str = ...,
        ) -> None: ...

    def __post_init__(self) -> None:
        for part in _PARTS:
            object.__setattr__(self, part, _measured(getattr(self, part)))
        _core.validate_grain(self.values())

    def _line(self) -> str:
        return self.name

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        plain = {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}
        return {key: _pair(value) if isinstance(value, Measured) else value for key, value in plain.items()}

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Self:
        """From the compiled part's dictionary."""
        known: dict[str, Any] = {key: Measured(*value) if key in _PARTS else value for key, value in values.items()}
        return cls(**known)

    def with_analysis(self, basis: Literal["as_is", "dry"] = "as_is", source: str = "", **parts: Share) -> "Grain":
        """The grain of one lot: what its certificate states replaces the table.

        Parameters
        ----------
        basis : {"as_is", "dry"}
            What the figures refer to; moisture is always as weighed.
        source : str
            For example "certificate, lot 12".
        **parts : float, (float, float) or Measured
            moisture, starch, sugars, protein, fat, fibre, ash: percent, alone or with a standard uncertainty.

        Returns
        -------
        Grain
            Parts that are not stated keep their share of the dry matter.

        Raises
        ------
        RangeError, InputError
            For figures that cannot be, and for unknown parts.
        """
        unknown = [key for key in parts if key not in _PARTS]
        if unknown:
            raise _core.InputError(f'part "{unknown[0]}" of {self.name} is not known; allowed are {", ".join(_PARTS)}')
        if basis not in ("as_is", "dry"):
            raise _core.InputError(f'basis "{basis}" is not known; allowed are as_is, dry')
        stated = {key: _pair(_measured(value)) for key, value in parts.items()}
        return Grain.of(_core.grain_with_analysis(self.values(), stated, basis == "dry", source))


def grain(name: str) -> Grain:
    """A grain of the table by its name, or another name of the trade. InputError, with the nearest names, for an unknown one."""
    return Grain.of(_core.grain(name))


def grain_names() -> tuple[str, ...]:
    """The names that grain() knows."""
    return tuple(_core.grain_names())


@dataclasses.dataclass(frozen=True, slots=True)
class Bill(Record):
    """The grains of one mash: pairs of a Grain (or the name of one) and its mass [kg], above 0."""

    items: tuple[tuple[Grain, float], ...]

    def __init__(self, items: Iterable[tuple[Grain | str, float]]) -> None:
        known = tuple(self._item(item) for item in items)
        object.__setattr__(self, "items", known)
        _core.bill_mass(self.values())

    @staticmethod
    def _item(item: Any) -> tuple[Grain, float]:
        if not isinstance(item, tuple | list) or len(item) != len(("grain", "mass_kg")):
            raise TypeError(f"a bill is made of pairs of grain and mass_kg, not of {reprlib.repr(item)}")
        of, mass_kg = item
        if not isinstance(of, Grain | str):
            raise TypeError(f"a grain must be a Grain or the name of one, not {reprlib.repr(of)}")
        known = grain(of) if isinstance(of, str) else of
        if isinstance(mass_kg, str | bytes) or not hasattr(mass_kg, "__float__"):
            raise TypeError(f"mass_kg of {known.name} must be a number, not {reprlib.repr(mass_kg)}")
        return known, float(mass_kg)

    def values(self) -> list[tuple[dict[str, Any], float]]:
        """What the compiled part takes."""
        return [(item.values(), mass_kg) for item, mass_kg in self.items]

    def _rows(self) -> tuple[dict[str, Any], ...]:
        return tuple(
            {
                "grain": item.name,
                "form": item.form,
                "mass_kg": mass_kg,
                "moisture": item.moisture,
                "starch": item.starch,
                "sugars": item.sugars,
            }
            for item, mass_kg in self.items
        )

    def _line(self) -> str:
        return ", ".join(f"{mass_kg:g} kg {item.name}" for item, mass_kg in self.items)

    @property
    def mass_kg(self) -> float:
        """All grain together [kg]."""
        return _core.bill_mass(self.values())


@dataclasses.dataclass(frozen=True, slots=True)
class Assumptions(Record):
    """What is assumed about enzymes and yeast [%]. ferment.fermentation.no_cook() has the published figures for a no-cook wash.

    Attributes
    ----------
    conversion : share of the starch that becomes glucose
    fermentation_efficiency : share of the sugar that becomes ethanol and carbon dioxide
    soluble_share_of_rest : share of the dry matter other than starch and sugar that dissolves (common practice, no source)
    """

    conversion: Measured = _ALL
    fermentation_efficiency: Measured = _ALL
    soluble_share_of_rest: Measured = _USUAL_SOLUBLE_SHARE

    if TYPE_CHECKING:  # plain numbers and pairs are taken as well; __post_init__ makes them Measured

        def __init__(
            self, conversion: Share = ..., fermentation_efficiency: Share = ..., soluble_share_of_rest: Share = ...
        ) -> None: ...

    def __post_init__(self) -> None:
        for field in dataclasses.fields(self):
            object.__setattr__(self, field.name, _measured(getattr(self, field.name)))

    def values(self) -> dict[str, tuple[float, float]]:
        """What the compiled part takes."""
        return {field.name: _pair(getattr(self, field.name)) for field in dataclasses.fields(self)}


def _estimates(values: Mapping[str, Any]) -> dict[str, Any]:
    return {
        key: Estimate.of(value) if isinstance(value, Mapping) and "budget" in value else value
        for key, value in values.items()
    }


@dataclasses.dataclass(frozen=True, slots=True)
class GrainPotential(Record):
    """What one grain, or the whole bill, gives for its weight."""

    name: str
    mass_kg: float
    extract_as_is: Estimate
    extract_dry: Estimate
    litre_degrees_per_kg: Estimate
    points_per_pound_per_gallon: Estimate
    pure_alcohol_l: Estimate
    pure_alcohol_l_per_tonne: Estimate
    pure_alcohol_l_per_tonne_dry: Estimate


@dataclasses.dataclass(frozen=True, slots=True)
class Yield(Record):
    """What a bill gives at one conversion and one efficiency.

    Attributes
    ----------
    conversion, fermentation_efficiency : [%]
    starch_converted_kg, hydrolysis_water_kg, hexose_kg, extract_kg, ethanol_kg, co2_kg, by_products_kg : [kg]
    extract : of the equivalent wort, all extract dissolved in all the water [% mass; degrees Plato]
    original_gravity : of the equivalent wort, SG 20/20 on the sucrose scale that hydrometers have
    glucose_gravity : the same if all extract weighed as glucose does
    pure_alcohol_l : ethanol at 20 degC [L]
    bill, grains : what the bill and each of its lines give for their weight
    """

    conversion: Estimate
    fermentation_efficiency: Estimate
    starch_converted_kg: Estimate
    hydrolysis_water_kg: Estimate
    hexose_kg: Estimate
    extract_kg: Estimate
    extract: Estimate
    original_gravity: Estimate
    glucose_gravity: Estimate
    ethanol_kg: Estimate
    pure_alcohol_l: Estimate
    co2_kg: Estimate
    by_products_kg: Estimate
    bill: GrainPotential
    grains: tuple[GrainPotential, ...]

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Self:
        """From the compiled part's dictionary."""
        known = _estimates(values)
        known["bill"] = GrainPotential(**_estimates(values["bill"]))
        known["grains"] = tuple(GrainPotential(**_estimates(line)) for line in values["grains"])
        return cls(**known)


@dataclasses.dataclass(frozen=True, slots=True)
class Potential(Record):
    """The potential of a bill in its water.

    Attributes
    ----------
    theoretical : all starch converted, all sugar to ethanol and carbon dioxide
    expected : as assumed
    """

    bill: Bill
    water_kg: float
    assumptions: Assumptions
    theoretical: Yield
    expected: Yield


def potential(
    bill: Bill,
    *,
    water_l: float | None = None,
    water_kg: float | None = None,
    water_temperature_c: float = 20.0,
    assumptions: Assumptions | None = None,
) -> Potential:
    """What a bill can give in its water.

    Parameters
    ----------
    bill : Bill
        At least one grain.
    water_l, water_kg : float
        Water added, by volume at water_temperature_c [L] or by mass [kg]; exactly one of them.
    water_temperature_c : float
        Temperature of the water measured by volume [degC], 0 to 100.
    assumptions : Assumptions, optional
        Conversion and efficiency; complete where none are given. For a no-cook wash pass ferment.fermentation.no_cook().

    Returns
    -------
    Potential
        Every figure with standard uncertainty and budget.

    Raises
    ------
    RangeError, InputError
        For an empty bill, impossible shares, and where the extract would not dissolve.

    References
    ----------
    IUPAC atomic weights (stoichiometry); ICUMSA SPS-4 (gravity); OIML R 22 (density of ethanol).
    """
    if (water_l is None) == (water_kg is None):
        raise _core.InputError("potential: give exactly one of water_l [L] and water_kg [kg]")
    kg = (
        water_kg
        if water_kg is not None
        else (water_l or 0.0) / _LITRES_PER_CUBIC_METRE * liquid.water_density(float(water_temperature_c))
    )
    given = assumptions if assumptions is not None else Assumptions()
    found = _core.potential(bill.values(), float(kg), given.values())
    return Potential(bill, found["water_kg"], given, Yield.of(found["theoretical"]), Yield.of(found["expected"]))


_LITRES_PER_CUBIC_METRE = 1000.0


@dataclasses.dataclass(frozen=True, slots=True)
class WaterBalance(Record):
    """Where the water of a mash goes.

    Attributes
    ----------
    added_kg, grain_moisture_kg : what comes in [kg]
    hydrolysis_kg : bound in splitting starch [kg]
    absorbed_kg : kept by the spent grain [kg]
    free_kg : what is left [kg]
    free_share : share of the liquid that comes off the grain [%]
    displacement_l, mash_volume_l, vessel_volume_l : room of the grain, of the mash, of the least vessel with head space [L]
    """

    added_kg: Estimate
    grain_moisture_kg: Estimate
    hydrolysis_kg: Estimate
    absorbed_kg: Estimate
    free_kg: Estimate
    free_share: Estimate
    displacement_l: Estimate
    mash_volume_l: Estimate
    vessel_volume_l: Estimate


def water_balance(of: Potential, absorption: Share | None = None, head_space: float | None = None) -> WaterBalance:
    """Where the water of a mash goes.

    Parameters
    ----------
    of : Potential
        From potential().
    absorption : float, (float, float) or Measured, optional
        Water kept by the spent grain [kg per kg of grist], 0 to 10; 0.90 +- 0.08 where none is given.
    head_space : float, optional
        Share of the vessel left empty [%], 0 to below 100; 20 where none is given.

    Returns
    -------
    WaterBalance

    Raises
    ------
    RangeError
        Outside the ranges, and where the spent grain would keep all the liquid.

    References
    ----------
    The Oxford Companion to Beer (2011), spent grain; Choi and Okos (1986), volume of the grain.
    """
    default_absorption, default_head_space = _core.default_mash_handling()
    kept = Measured(*default_absorption) if absorption is None else _measured(absorption)
    empty = default_head_space if head_space is None else float(head_space)
    found = _core.water_balance(of.bill.values(), of.water_kg, of.assumptions.values(), _pair(kept), empty)
    return WaterBalance(**_estimates(found))

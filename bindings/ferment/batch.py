"""A whole batch: planned from grain to bottles in one call, and a ledger of where every litre of alcohol went.

    planned = batch.plan(bill=[("flaked oats", 20.0)], water_l=80.0, stripping_still=still.Still(50.0, heating_kw=5.0))
    print(planned)
    planned.what_if(water_l=90.0, plates=4)

Distilling spirit needs a licence almost everywhere, and ethanol vapour burns: every plan carries the cautions of ferment.still, read them first.
Strengths are % vol at 20 degC, shares are percent, volumes are at 20 degC, masses are added and volumes never.
"""

import dataclasses
import html
import json
import math
import reprlib
import threading
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any, ClassVar, Self, TypeAlias

import numpy as np

from ferment import _core, liquid
from ferment._keywords import hint
from ferment._plans import Plans, plans
from ferment._values import Estimate, Measured, Record
from ferment.fermentation import EndPoint, no_cook
from ferment.mash import Assumptions, Bill, Grain, Potential, WaterBalance, Yield
from ferment.proofing import Bottling, Dilution
from ferment.still import (
    CAUTIONS,
    Boundary,
    BoundaryRule,
    ChargePlan,
    ColumnCurve,
    ColumnHoldUp,
    ColumnRun,
    Liquid,
    Still,
    StillBill,
    StillDuty,
    Stripping,
    StrippingCurve,
    TakeOff,
    Windows,
    _Result,
    usual_boundaries,
)

__all__ = [
    "LEDGER_PLACES",
    "BottlingPlan",
    "CutEnd",
    "CutPlan",
    "Ledger",
    "LedgerBalance",
    "LedgerFinding",
    "LedgerRow",
    "LedgerYield",
    "Plan",
    "PlanFlow",
    "PlanFraction",
    "PlanRequest",
    "PlanTotals",
    "Plans",
    "Predicted",
    "PublishedYield",
    "Recycled",
    "RunConditions",
    "SpiritDuty",
    "SpiritStill",
    "StrippingEnd",
    "plan",
    "plans",
    "published_yields",
]

Share: TypeAlias = float | tuple[float, float] | Measured
BillItems: TypeAlias = Bill | Iterable[tuple[Grain | str, float]]

#: Where alcohol of a batch can be: the six stages in their order, then what is filled on the way to one of them.
LEDGER_PLACES: tuple[str, ...] = tuple(_core.batch_places)

_SCHEMA = "libferment plan"
_RESULT_SCHEMA = "libferment plan result"
_VERSION = 1
_USUAL = _core.usual_plan
_COVERAGE = _core.usual_coverage
_LITRES_PER_CUBIC_METRE = 1000.0
_STRIPPING_ENDS = ("distillate_abv", "pot_abv", "collected_l", "head_c", "recovered")
_CUT_ENDS = ("alcohol_share", "collected_l", "distillate_abv")
_INTO = ("wash", "low_wines")


def _measured(share: Share) -> Measured:
    value, doubt = (
        (share.value, share.standard_uncertainty)
        if isinstance(share, Measured)
        else share
        if isinstance(share, tuple)
        else (share, 0.0)
    )
    return Measured(float(value), float(doubt))


def _pair(share: Share) -> tuple[float, float]:
    known = _measured(share)
    return (known.value, known.standard_uncertainty)


def _set(record: Any, **values: Any) -> None:
    for name, value in values.items():
        object.__setattr__(record, name, value)


def _set_floats(record: Any, *names: str) -> None:
    _set(record, **{name: float(getattr(record, name)) for name in names})


def _set_whole(record: Any, name: str, what: str) -> None:
    value = getattr(record, name)
    if isinstance(value, bool) or not math.isfinite(value) or int(value) != value:
        raise _core.InputError(f"{what} {value!r} must be a whole number")
    _set(record, **{name: int(value)})


def _require_one_of(what: str, value: object, known: tuple[str, ...]) -> None:
    if value not in known:
        raise _core.InputError(f"{what} {_shown(value)} is not known; allowed are {', '.join(known)}")


def _members(record: Any) -> dict[str, Any]:
    return {field.name: getattr(record, field.name) for field in dataclasses.fields(record)}


# ---- what is asked ----


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class StrippingEnd(_Result):
    """When a stripping run ends: `by` is "distillate_abv" or "pot_abv", fallen to [% vol at 20 degC], "collected_l" [L at 20 degC],
    "head_c", risen to [degC], or "recovered", of the ethanol [%]; `value` in that unit."""

    by: str
    value: float

    def __post_init__(self) -> None:
        _require_one_of("end of the stripping run", self.by, _STRIPPING_ENDS)
        _set_floats(self, "value")


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class RunConditions(_Result):
    """Of both runs, but for start_c, which is the wash's [degC]. Checked by plan.

    Parameters
    ----------
    start_c, ambient_c : float
        Wash and still before heating, and the room [degC].
    distillate_c : float
        What leaves the condenser [degC].
    water_in_c, water_out_c : float
        Cooling water [degC].
    """

    start_c: float = 20.0
    ambient_c: float = 20.0
    distillate_c: float = 20.0
    water_in_c: float = 15.0
    water_out_c: float = 50.0

    def __post_init__(self) -> None:
        _set_floats(self, *_members(self))


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class SpiritStill(_Result):
    """The second run and its still. Checked by plan.

    Parameters
    ----------
    still : Still, optional
        The boiler of the stripping run where none is given.
    plates : int
        Theoretical, above the pot; 0 without packing is a simple still.
    packed_height_m, hetp_m : float
        In place of plates: packed height and that of one plate [m]; the whole plates in it count.
    hold_up_kg : float
        Liquid on the plates while running [kg].
    equilibration_h : float
        At total reflux before the first drop [h].
    take_off : TakeOff
        No reflux where none is given.
    distillate_abv, pot_abv, collected_l, recovered, take_off_l_per_h : float, optional
        Ends of the run, the first that comes true, as rectify takes them [% vol, % vol, L, %, L/h]; 10 % vol of the distillate where none is given.
    strongest_charge_abv : float
        Low wines above it are watered down to it [% vol].
    dilution_water_c, start_c : float
        That water, and the charge before heating [degC].
    """

    still: Still | None = None
    plates: int = 0
    packed_height_m: float = 0.0
    hetp_m: float = 0.0
    hold_up_kg: float = 0.0
    equilibration_h: float = 0.0
    take_off: TakeOff = TakeOff.at_reflux(0.0)  # noqa: RUF009 - frozen
    distillate_abv: float | None = None
    pot_abv: float | None = None
    collected_l: float | None = None
    recovered: float | None = None
    take_off_l_per_h: float | None = None
    strongest_charge_abv: float = _USUAL["strongest_spirit_charge_abv"]
    dilution_water_c: float = 20.0
    start_c: float = 20.0

    _ENDS = ("distillate_abv", "pot_abv", "collected_l", "recovered", "take_off_l_per_h")

    def __post_init__(self) -> None:
        _set_whole(self, "plates", "plates")
        _set_floats(
            self,
            "packed_height_m",
            "hetp_m",
            "hold_up_kg",
            "equilibration_h",
            "strongest_charge_abv",
            "dilution_water_c",
            "start_c",
        )
        given = [name for name in self._ENDS if getattr(self, name) is not None]
        _set_floats(self, *given)
        if not given:
            _set(self, distillate_abv=float(_USUAL["spirit_end_abv"]))

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        known = _members(self)
        known["stop"] = {name: end for name in self._ENDS if (end := known.pop(name)) is not None}
        known["still"] = None if self.still is None else self.still.values()
        known["take_off"] = self.take_off.values()
        return known


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class CutEnd(_Result):
    """Where a fraction ends: `by` is "alcohol_share", of the pure alcohol of the charge come over since the first drop [%], "collected_l", of one
    charge since then [L at 20 degC], or "distillate_abv", what comes over has fallen to [% vol]; `value` in that unit. Checked by plan."""

    by: str
    value: float

    def __post_init__(self) -> None:
        _require_one_of("end of a fraction", self.by, _CUT_ENDS)
        _set_floats(self, "value")

    @classmethod
    def alcohol_share(cls, share: float) -> Self:
        """At a share of the pure alcohol of the charge [%]."""
        return cls("alcohol_share", share)

    @classmethod
    def collected(cls, litres: float) -> Self:
        """At a volume collected of one charge [L at 20 degC]."""
        return cls("collected_l", litres)

    @classmethod
    def distillate(cls, abv: float) -> Self:
        """When what comes over has fallen to a strength [% vol]."""
        return cls("distillate_abv", abv)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class CutPlan(_Result):
    """The cuts of the spirit run. A fraction never ends before the one in front of it. Checked by plan.

    Parameters
    ----------
    fore_shots_end, heads_end, hearts_end : CutEnd
        1 and 6 % of the alcohol and 60 % vol where nothing is given (common practice, no source).
    by_congeners : bool
        Cut by `rules` in place of the three; only for a still without plates, reflux and hold-up.
    rules : tuple of BoundaryRule
        Those of usual_boundaries where none are given.
    congener_levels : mapping or tuple of (str, float)
        In the spirit charge [g per hL of pure alcohol]; one unit of each where nothing is given, for rules by relative levels.
    """

    fore_shots_end: CutEnd = CutEnd("alcohol_share", _USUAL["fore_shots_share"])
    heads_end: CutEnd = CutEnd("alcohol_share", _USUAL["heads_share"])
    hearts_end: CutEnd = CutEnd("distillate_abv", _USUAL["hearts_end_abv"])
    by_congeners: bool = False
    rules: tuple[BoundaryRule, ...] = usual_boundaries()
    congener_levels: tuple[tuple[str, float], ...] = ()

    if TYPE_CHECKING:  # mappings and lists are taken as well; __post_init__ makes them tuples

        def __init__(
            self,
            fore_shots_end: CutEnd = ...,
            heads_end: CutEnd = ...,
            hearts_end: CutEnd = ...,
            by_congeners: bool = ...,
            rules: Iterable[BoundaryRule] = ...,
            congener_levels: Mapping[str, float] | Iterable[tuple[str, float]] = ...,
        ) -> None: ...

    def __post_init__(self) -> None:
        levels: Any = self.congener_levels
        pairs = levels.items() if isinstance(levels, Mapping) else levels
        _set(self, rules=tuple(self.rules), congener_levels=tuple((str(name), float(level)) for name, level in pairs))

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        known = _members(self)
        for name in ("fore_shots_end", "heads_end", "hearts_end"):
            known[name] = (known[name].by, known[name].value)
        known["rules"] = [rule.values() for rule in self.rules]
        known["congener_levels"] = list(self.congener_levels)
        return known


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Recycled(_Result):
    """Heads and tails of an earlier run, never fore-shots. Checked by plan.

    Parameters
    ----------
    volume_l, abv : float
        All of it [L at 20 degC, % vol]; no litres: none.
    into : str
        "wash" or "low_wines".
    """

    volume_l: float = 0.0
    abv: float = 0.0
    into: str = "low_wines"

    def __post_init__(self) -> None:
        _require_one_of("recycled into", self.into, _INTO)
        _set_floats(self, "volume_l", "abv")


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class BottlingPlan(_Result):
    """What is done with the hearts: strength [% vol], bottle [L], and the temperatures of the water and at filling [degC]. Checked by plan."""

    target_abv: float = _USUAL["bottling_abv"]
    bottle_l: float = _USUAL["bottle_l"]
    water_c: float = 20.0
    fill_c: float = 20.0

    def __post_init__(self) -> None:
        _set_floats(self, *_members(self))


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class PlanRequest(_Result):
    """Everything a plan needs. Bill, water and the stripping still must be given; the rest has the defaults of common practice (ferment.sources(),
    "usual_plan"). InputError, RangeError come from plan, with the stage in front of the message.

    Parameters
    ----------
    bill : Bill or iterable of (Grain or str, float)
        Grain [kg].
    water_kg : float
        Added to the mash [kg]; plan and changed take water_l as well.
    stripping_still : Still
        With its heating [kW].
    assumptions : Assumptions
        no_cook() where none are given.
    dissolved_by_products : float, (float, float) or Measured
        Share of the by-products of fermentation that stays dissolved [%].
    absorption : float, (float, float) or Measured
        Water kept by the spent grain [kg per kg of grist]; 0 is a wash distilled on its grain, as far as alcohol goes.
    mash_head_space : float
        Share of the fermenter left empty [%].
    stripping_end : StrippingEnd
        5 % vol of what comes over where nothing is given.
    conditions, spirit, cuts, recycled, bottling : RunConditions, SpiritStill, CutPlan, Recycled, BottlingPlan
        The rest of the way.
    turnaround_h : float
        Between two charges [h].
    curve_points : int
        Of both curves, 2 to 10000.
    """

    bill: Bill
    water_kg: float
    stripping_still: Still
    assumptions: Assumptions = no_cook()  # noqa: RUF009 - frozen
    dissolved_by_products: Measured = Measured(*_USUAL["dissolved_by_products"])  # noqa: RUF009 - frozen
    absorption: Measured = Measured(*_USUAL["absorption"])  # noqa: RUF009 - frozen
    mash_head_space: float = _USUAL["mash_head_space"]
    stripping_end: StrippingEnd = StrippingEnd("distillate_abv", _USUAL["stripping_end_abv"])
    conditions: RunConditions = RunConditions()
    spirit: SpiritStill = SpiritStill()
    cuts: CutPlan = CutPlan()
    recycled: Recycled = Recycled()
    bottling: BottlingPlan = BottlingPlan()
    turnaround_h: float = _USUAL["turnaround_h"]
    curve_points: int = _USUAL["curve_points"]

    if TYPE_CHECKING:  # plain numbers, pairs and lists are taken as well; __post_init__ makes them what they are

        def __init__(
            self,
            bill: BillItems,
            water_kg: float,
            stripping_still: Still,
            assumptions: Assumptions = ...,
            dissolved_by_products: Share = ...,
            absorption: Share = ...,
            mash_head_space: float = ...,
            stripping_end: StrippingEnd = ...,
            conditions: RunConditions = ...,
            spirit: SpiritStill = ...,
            cuts: CutPlan = ...,
            recycled: Recycled = ...,
            bottling: BottlingPlan = ...,
            turnaround_h: float = ...,
            curve_points: int = ...,
        ) -> None: ...

    def __post_init__(self) -> None:
        bill: Any = self.bill
        _set(
            self,
            bill=bill if isinstance(bill, Bill) else Bill(bill),
            dissolved_by_products=_measured(self.dissolved_by_products),
            absorption=_measured(self.absorption),
        )
        _set_floats(self, "water_kg", "mash_head_space", "turnaround_h")
        _set_whole(self, "curve_points", "points of the curves")

    def values(self) -> dict[str, Any]:
        """What the compiled part takes."""
        known = _members(self)
        known["dissolved_by_products"] = _pair(self.dissolved_by_products)
        known["absorption"] = _pair(self.absorption)
        known["stripping_end"] = (self.stripping_end.by, self.stripping_end.value)
        for name in ("conditions", "recycled", "bottling"):
            known[name] = _members(known[name])
        for name in ("bill", "stripping_still", "assumptions", "spirit", "cuts"):
            known[name] = known[name].values()
        return known

    def changed(
        self, *, water_l: float | None = None, water_temperature_c: float = 20.0, **changes: Any
    ) -> "PlanRequest":
        """The same with something changed.

        Parameters
        ----------
        water_l, water_temperature_c : float
            Water by volume in place of water_kg [L at degC].
        **changes
            Fields of the request, and of its parts where only one part has a field of that name: plates for spirit.plates, boiler_l for
            stripping_still.boiler_l, target_abv for bottling.target_abv. A field that several parts have is changed through its part.

        Returns
        -------
        PlanRequest

        Raises
        ------
        InputError
            For an unknown field, one that several parts have, and both kinds of water.
        """
        own = {field.name for field in dataclasses.fields(self)}
        top = {name: value for name, value in changes.items() if name in own}
        parts: dict[str, dict[str, Any]] = {}
        for name, value in changes.items():
            if name in own:
                continue
            part = self._part_of(name)
            if part in top:
                raise _core.InputError(f"{name} and {part}, which holds it, are both given; give one of them")
            parts.setdefault(part, {})[name] = value
        for part, fields in parts.items():
            top[part] = dataclasses.replace(getattr(self, part), **fields)
        if water_l is not None:
            if "water_kg" in top:
                raise _core.InputError("give water_l [L] or water_kg [kg], not both")
            top["water_kg"] = _weight(water_l, water_temperature_c)
        return dataclasses.replace(self, **top)

    @classmethod
    def _part_of(cls, name: str) -> str:
        types: dict[str, Any] = {
            "stripping_still": Still,
            "assumptions": Assumptions,
            "conditions": RunConditions,
            "spirit": SpiritStill,
            "cuts": CutPlan,
            "recycled": Recycled,
            "bottling": BottlingPlan,
        }
        held = {part: [field.name for field in dataclasses.fields(kind)] for part, kind in types.items()}
        found = [part for part, names in held.items() if name in names]
        if len(found) > 1:
            raise _core.InputError(
                f"{name} is a field of {' and of '.join(found)}; change it through its part: {found[0]}=..."
            )
        if not found:
            fields = [field.name for field in dataclasses.fields(cls)]
            inner = [one for part in held for one in held[part] if one not in fields]
            known = [*fields, "water_l", *(one for one in inner if inner.count(one) == 1)]
            raise _core.InputError(f"{name} is not known{hint(name, known) or '; a request has ' + ', '.join(known)}")
        return found[0]

    def with_more(self, *, grain_kg: float = 0.0, water_kg: float = 0.0) -> "PlanRequest":
        """The same with more, or with less where negative.

        Parameters
        ----------
        grain_kg : float
            Grain to add, every line of the bill in proportion [kg].
        water_kg : float
            Water to add [kg].

        Returns
        -------
        PlanRequest

        Raises
        ------
        RangeError, InputError
            Where no grain is left.
        """
        share = 1.0 + grain_kg / self.bill.mass_kg
        bill = Bill((item, mass_kg * share) for item, mass_kg in self.bill.items)
        return dataclasses.replace(self, bill=bill, water_kg=self.water_kg + water_kg)

    def to_json(self, indent: int | None = 2) -> str:
        """The request as JSON text, which from_json reads back exactly.

        {"schema": "libferment plan", "version": 1, and every field of the request}. Records are objects with all their fields; the bill is a list of
        {"grain": {...}, "mass_kg": ...}, a measured number {"value": ..., "standard_uncertainty": ...}, congener_levels a list of
        {"congener": ..., "level": ...}; numbers are in the units of the fields [percent, degC, kg, L, h]. InputError for a number that is not finite.
        """
        return json.dumps({"schema": _SCHEMA, "version": _VERSION, **_to_plain(self, "")}, indent=indent)

    @classmethod
    def from_json(cls, text: str) -> Self:
        """The request of a JSON text. InputError, naming key, value and what is allowed, for any key too many or missing, or of another type."""
        found: Self = _read_request(cls, _parsed(text))
        return found


def _weight(water_l: float, water_temperature_c: float) -> float:
    return float(water_l) / _LITRES_PER_CUBIC_METRE * liquid.water_density(float(water_temperature_c))


# ---- as text and back ----


def _to_plain(value: Any, path: str) -> Any:
    """Lists, dictionaries, texts and numbers."""
    if isinstance(value, Bill):
        return [
            {"grain": _to_plain(item, f"{path}[{i}].grain"), "mass_kg": mass_kg}
            for i, (item, mass_kg) in enumerate(value.items)
        ]
    if isinstance(value, CutPlan):
        levels = [{"congener": name, "level": level} for name, level in value.congener_levels]
        return {
            **{name: _to_plain(part, f"{path}.{name}") for name, part in _members(value).items()},
            "congener_levels": levels,
        }
    if dataclasses.is_dataclass(value):
        return {name: _to_plain(part, f"{path}.{name}".lstrip(".")) for name, part in _members(value).items()}
    if isinstance(value, tuple):
        return [_to_plain(part, f"{path}[{i}]") for i, part in enumerate(value)]
    if isinstance(value, float) and not math.isfinite(value):
        raise _core.InputError(f"{path} = {value} cannot be written as JSON; it must be a finite number")
    return value


_MOST_DIGITS = 18  # of a whole number in a text: what a count holds
_SHOWN = reprlib.Repr()
_SHOWN.maxstring = _SHOWN.maxother = _SHOWN.maxlong = 60
_SHOWN.maxlevel = 2


def _shown(value: object) -> str:
    """A value for a message: short, and on one line, whatever it is."""
    longest = 80
    if value is None or isinstance(value, bool):
        return json.dumps(value)
    text = _SHOWN.repr(value)
    return text if len(text) <= longest else text[:longest] + "..."


def _key(name: str) -> str:
    """A key for a message, as it stands in the text; in quotes and shortened where it is not like a name."""
    return name if name.isidentifier() and len(name) <= _SHOWN.maxstring else _shown(name)


def _parsed(text: str) -> Any:
    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for key, value in pairs:
            if key in found:
                raise _core.InputError(f"key {_key(key)} is there twice; it is allowed once")
            found[key] = value
        return found

    def whole(digits: str) -> int:
        if len(digits) > _MOST_DIGITS:
            raise _core.InputError(f"number {digits[:8]}... has {len(digits)} digits; at most {_MOST_DIGITS} are read")
        return int(digits)

    if not isinstance(text, str):
        raise TypeError(f"from_json() takes a text, not {type(text).__name__!r}")
    if text.startswith("\ufeff"):
        raise _core.InputError("not JSON: the text begins with a byte order mark; leave it out")
    try:
        return json.loads(text, object_pairs_hook=once, parse_int=whole)
    except json.JSONDecodeError as e:
        raise _core.InputError(f"not JSON: {e.msg} at line {e.lineno}, column {e.colno}") from None
    except RecursionError:
        raise _core.InputError("not JSON: lists or objects are nested too deeply") from None


@dataclasses.dataclass(frozen=True)
class _Reader:
    """How the value of a key is read, and what is allowed for it."""

    allowed: str
    read: Callable[[Any, str], Any]

    def refuse(self, value: object, path: str) -> _core.InputError:
        return _core.InputError(f"{path} = {_shown(value)} must be {self.allowed}")


def _plain_reader(allowed: str, fits: Callable[[Any], bool], make: Callable[[Any], Any]) -> _Reader:
    def read(value: Any, path: str) -> Any:
        if not fits(value):
            raise reader.refuse(value, path)
        return make(value)

    reader = _Reader(allowed, read)
    return reader


def _is_number(value: Any) -> bool:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    try:
        return math.isfinite(float(value))
    except OverflowError:
        return False


def _encodes(text: str) -> bool:
    """Whether a text is one that can be written down: half of a surrogate pair is not."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


_NUMBER = _plain_reader("a finite number", _is_number, float)
_WHOLE = _plain_reader("a whole number", lambda x: isinstance(x, int) and not isinstance(x, bool), int)


def _whole_text(value: Any, path: str) -> str:
    if isinstance(value, str) and not _encodes(value):
        raise _core.InputError(f"{path} = {_shown(value)} must be a text of whole characters; it holds half of one")
    if not isinstance(value, str):
        raise _TEXT.refuse(value, path)
    return value


_TEXT = _Reader("a text", _whole_text)
_FLAG = _plain_reader("true or false", lambda x: isinstance(x, bool), bool)


def _maybe(of: _Reader) -> _Reader:
    allowed = f"{of.allowed}, or null"

    def read(value: Any, path: str) -> Any:
        if value is None:
            return None
        try:
            return of.read(value, path)
        except _core.InputError as e:
            raise _core.InputError(str(e).replace(f"must be {of.allowed}", f"must be {allowed}")) from None

    return _Reader(allowed, read)


def _list_of(of: _Reader, what: str) -> _Reader:
    def read(value: Any, path: str) -> Any:
        if not isinstance(value, list):
            raise reader.refuse(value, path)
        return tuple(of.read(part, f"{path}[{i}]") for i, part in enumerate(value))

    reader = _Reader(f"a list of {what}", read)
    return reader


def _object_of(make: Callable[..., Any], fields: Mapping[str, _Reader]) -> _Reader:
    def read(value: Any, path: str) -> Any:
        if not isinstance(value, dict):
            raise reader.refuse(value, path)
        start = f"{path}." if path else ""
        for key, part in value.items():
            if key not in fields:
                meant = hint(key[: _SHOWN.maxstring], fields) or f"; allowed are {', '.join(fields)}"
                raise _core.InputError(f"{start}{_key(key)} = {_shown(part)} is not known{meant}")
        for key, field in fields.items():
            if key not in value:
                raise _core.InputError(f"{start}{key} is missing; it must be {field.allowed}")
        parts = {key: field.read(value[key], start + key) for key, field in fields.items()}
        try:
            return make(**parts)
        except (_core.InputError, _core.RangeError) as e:
            raise type(e)(f"{path}: {e}" if path else str(e)) from None

    reader = _Reader(f"an object with {', '.join(fields)}", read)
    return reader


_MEASURED = _object_of(Measured, {"value": _NUMBER, "standard_uncertainty": _NUMBER})
_SHARES = ("moisture", "starch", "sugars", "protein", "fat", "fibre", "ash")
_GRAIN = _object_of(
    Grain,
    {
        "name": _TEXT,
        "form": _TEXT,
        **dict.fromkeys(_SHARES, _MEASURED),
        "disaccharide_share": _NUMBER,
        "starch_method": _TEXT,
        "source": _TEXT,
    },
)
_STILL = _object_of(Still, {field.name: _NUMBER for field in dataclasses.fields(Still)})
_ENDS_AT = {"by": _TEXT, "value": _NUMBER}
_CUT_END = _object_of(CutEnd, _ENDS_AT)


def _two(value: Any, path: str) -> tuple[float, float]:
    if not isinstance(value, list) or len(value) != 2:
        raise _TWO.refuse(value, path)
    return (_NUMBER.read(value[0], f"{path}[0]"), _NUMBER.read(value[1], f"{path}[1]"))


_TWO = _Reader("a list of two numbers", _two)
_RULE = _object_of(
    BoundaryRule,
    {
        **dict.fromkeys(("ends", "congener", "by", "when"), _TEXT),
        "level": _NUMBER,
        "level_range": _TWO,
        "reason": _TEXT,
        "source": _TEXT,
    },
)
_LEVEL = _object_of(lambda congener, level: (congener, level), {"congener": _TEXT, "level": _NUMBER})
_BILL_ITEM = _object_of(lambda grain, mass_kg: (grain, mass_kg), {"grain": _GRAIN, "mass_kg": _NUMBER})
_TAKE_OFF = _object_of(
    TakeOff, {"mode": _TEXT, "reflux": _NUMBER, "abv": _NUMBER, "max_reflux": _NUMBER, "l_per_h": _NUMBER}
)
_ANY = _Reader("", lambda value, _path: value)
_REQUEST_READERS: dict[str, _Reader] = {
    "bill": _list_of(_BILL_ITEM, "objects with grain, mass_kg"),
    "water_kg": _NUMBER,
    "stripping_still": _STILL,
    "assumptions": _object_of(Assumptions, {field.name: _MEASURED for field in dataclasses.fields(Assumptions)}),
    "dissolved_by_products": _MEASURED,
    "absorption": _MEASURED,
    "mash_head_space": _NUMBER,
    "stripping_end": _object_of(StrippingEnd, _ENDS_AT),
    "conditions": _object_of(RunConditions, {field.name: _NUMBER for field in dataclasses.fields(RunConditions)}),
    "spirit": _object_of(
        SpiritStill,
        {
            "still": _maybe(_STILL),
            "plates": _WHOLE,
            **dict.fromkeys(("packed_height_m", "hetp_m", "hold_up_kg", "equilibration_h"), _NUMBER),
            "take_off": _TAKE_OFF,
            **dict.fromkeys(SpiritStill._ENDS, _maybe(_NUMBER)),
            **dict.fromkeys(("strongest_charge_abv", "dilution_water_c", "start_c"), _NUMBER),
        },
    ),
    "cuts": _object_of(
        CutPlan,
        {
            **dict.fromkeys(("fore_shots_end", "heads_end", "hearts_end"), _CUT_END),
            "by_congeners": _FLAG,
            "rules": _list_of(_RULE, "boundary rules"),
            "congener_levels": _list_of(_LEVEL, "objects with congener, level"),
        },
    ),
    "recycled": _object_of(Recycled, {"volume_l": _NUMBER, "abv": _NUMBER, "into": _TEXT}),
    "bottling": _object_of(BottlingPlan, {field.name: _NUMBER for field in dataclasses.fields(BottlingPlan)}),
    "turnaround_h": _NUMBER,
    "curve_points": _WHOLE,
}


def _read_request(kind: Callable[..., Any], values: Any) -> Any:
    if not isinstance(values, dict):
        raise _core.InputError(
            f"a plan must be an object with schema, version and the fields of a request, not {_shown(values)}"
        )
    for key, wanted in (("schema", _SCHEMA), ("version", _VERSION)):
        allowed = json.dumps(wanted)
        if key not in values:
            raise _core.InputError(f"{key} is missing; it must be {allowed}")
        if type(values[key]) is not type(wanted) or values[key] != wanted:
            raise _core.InputError(f"{key} = {_shown(values[key])} must be {allowed}")
    readers = {"schema": _ANY, "version": _ANY, **_REQUEST_READERS}

    def make(schema: str, version: int, **parts: Any) -> Any:  # noqa: ARG001 - checked above
        return kind(**parts)

    return _object_of(make, readers).read(values, "")


# ---- what comes of it ----


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class PlanFraction(_Result):
    """What the spirit runs give under one label.

    Attributes
    ----------
    label : "fore_shots", "heads", "hearts" or "tails"
    content : of all charges
    from_l, to_l : collected in one charge when it begins and ends [L at 20 degC]
    from_abv, to_abv : of what comes over then [% vol]
    alcohol_share : of the pure alcohol of the spirit charges [%]
    """

    label: str
    content: Liquid
    from_l: float
    to_l: float
    from_abv: float
    to_abv: float
    alcohol_share: float


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class SpiritDuty(_Result):
    """Heat, time and cooling water of one charge of the spirit still.

    Attributes
    ----------
    heat_up_kwh, heat_up_h : until the charge boils [kWh, h]
    run_kwh, run_h : from then on, total reflux included [kWh, h]
    energy_kwh, total_h : both [kWh, h]
    condenser_kwh, condenser_peak_kw : taken out by the cooling water [kWh, kW]
    water_l, water_peak_l_per_h : cooling water, measured cold [L, L/h]
    """

    heat_up_kwh: float
    heat_up_h: float
    run_kwh: float
    run_h: float
    energy_kwh: float
    total_h: float
    condenser_kwh: float
    condenser_peak_kw: float
    water_l: float
    water_peak_l_per_h: float


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class PlanTotals(_Result):
    """Both runs, all charges.

    Attributes
    ----------
    charges : of both stills
    energy_kwh, condenser_kwh : drawn by the heating, taken out by the cooling water [kWh]
    water_l : cooling water [L]
    running_h, turnaround_h, total_h : heated, between charges, both [h]
    energy_kwh_per_pure_alcohol_l : in the hearts [kWh/L]
    """

    charges: int
    energy_kwh: float
    condenser_kwh: float
    water_l: float
    running_h: float
    turnaround_h: float
    total_h: float
    energy_kwh_per_pure_alcohol_l: float


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Predicted(_Result):
    """Predictions with their doubt: that of the alcohol in the wash, carried on in proportion; stills, cuts and model add nothing. The doubt of the
    hearts should be about half as large again, because more alcohol makes stronger liquids, too.

    Attributes
    ----------
    wash_pure_alcohol_l : in the strained wash [L at 20 degC]
    low_wines_l, low_wines_pure_alcohol_l : all charges [L at 20 degC]
    hearts_l, hearts_pure_alcohol_l : as cut, before dilution [L at 20 degC]
    bottled_l : at bottling strength [L at 20 degC]
    bottles : the rest as a part of one
    """

    wash_pure_alcohol_l: Estimate
    low_wines_l: Estimate
    low_wines_pure_alcohol_l: Estimate
    hearts_l: Estimate
    hearts_pure_alcohol_l: Estimate
    bottled_l: Estimate
    bottles: Estimate


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class PlanFlow(_Result):
    """One line of the balance of mass and ethanol [kg]."""

    what: str
    mass_kg: float
    ethanol_kg: float


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class LedgerRow(_Result):
    """One line of a ledger.

    Attributes
    ----------
    line : "start", "came_in", "stage", "lost", "set_aside", "taken_out", "remainder" or "in_hand"
    place : one of LEDGER_PLACES; of a remainder the stage after it, of what came in the stage it joined
    name : on the sheet
    litres : of pure alcohol at 20 degC
    share : of the theoretical potential [%]
    basis : "theoretical", "expected", "measured" or "difference"
    expected : what had been expected where the figure is a measurement, or the difference of two [L]
    note : as entered
    """

    line: str
    place: str
    name: str
    litres: Estimate
    share: Estimate
    basis: str
    expected: Estimate | None
    note: str

    _figures: ClassVar = {"expected": "L"}


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class LedgerFinding(_Result):
    """Two entries that do not go together.

    Attributes
    ----------
    conflict : "impossible", or "against_expectation" where an expected figure takes part, which may be the wrong one
    before, after : places; the same where more was taken out of a place than it held
    excess_l : more than there can be [L of pure alcohol]
    standard_uncertainties : the excess over its combined standard uncertainty; infinite where there is no doubt
    message : all that in a line
    """

    conflict: str
    before: str
    after: str
    excess_l: Estimate
    standard_uncertainties: float
    message: str


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class LedgerYield(_Result):
    """Alcohol that this batch's grain gave, up to a stage.

    Attributes
    ----------
    place, basis : the stage, and what its figure rests on
    litres : in the stage, less what had come in, with what had been taken out before it [L of pure alcohol]
    litres_per_tonne, litres_per_tonne_dry : of grain as weighed, of dry matter [L/t]
    share_of_theoretical : [%]
    of_expected : [%]; None where nothing had been expected or it is not measured
    """

    place: str
    basis: str
    litres: Estimate
    litres_per_tonne: Estimate
    litres_per_tonne_dry: Estimate
    share_of_theoretical: Estimate
    of_expected: Estimate | None


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class LedgerBalance(_Result):
    """Sources and ends [L of pure alcohol]: they agree by construction, the difference shows the round-off."""

    start_l: Estimate
    came_in_l: Estimate
    ended_l: Estimate
    difference_l: Estimate


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class PublishedYield(_Result):
    """An alcohol yield as it was printed, for comparison: L of pure alcohol per tonne of dry grain, in the fermented mash."""

    material: str
    process: str
    litres_per_tonne: float


def published_yields() -> tuple[PublishedYield, ...]:
    """Published yields of cooked and laboratory mashes [L/t of dry grain]; ferment.sources(), "published_alcohol_yields"."""
    return tuple(PublishedYield(*row) for row in _core.published_alcohol_yields())


def _estimates(values: Mapping[str, Any]) -> dict[str, Any]:
    return {
        key: Estimate.of(value) if isinstance(value, Mapping) and "budget" in value else value
        for key, value in values.items()
    }


def _rows(rows: Iterable[Mapping[str, Any]]) -> tuple[LedgerRow, ...]:
    return tuple(LedgerRow(**_estimates(row)) for row in rows)


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Plan(_Result):
    """A plan, stage by stage; printed as its sheet.

    Attributes
    ----------
    request : what was asked
    potential, end_point, water : what the grain can give, the finished wash, where the water goes
    strained, kept_by_grain, recycled : wash off the grain, wash that the spent grain keeps, heads and tails of an earlier run
    stripping_charges, stripping, stripping_duty, stripping_bill : the stripping runs; the run and its duty are those of one charge
    low_wines : of all charges
    spirit_water_kg, spirit_water_l : water to add to all spirit charges [kg, L at its temperature]
    spirit_charges, plates, spirit_run, spirit_duty : the spirit runs; the run and its duty are those of one charge
    windows : where cuts go by congeners
    fractions, left : fore-shots, heads, hearts, tails, and what stays in the still, of all charges
    dilution, bottling : of the hearts
    totals, predicted : both runs together, and the main figures with their doubt
    inflow, outflow, balance_error : the balance of mass and ethanol, and the larger relative error of the two
    ledger_rows : the plan as a ledger of pure alcohol
    cautions : read them first
    """

    request: PlanRequest
    potential: Potential
    end_point: EndPoint
    water: WaterBalance
    strained: Liquid
    kept_by_grain: Liquid
    recycled: Liquid
    stripping_charges: ChargePlan
    stripping: Stripping
    stripping_duty: StillDuty
    stripping_bill: StillBill
    low_wines: Liquid
    spirit_water_kg: float
    spirit_water_l: float
    spirit_charges: ChargePlan
    plates: int
    spirit_run: ColumnRun
    spirit_duty: SpiritDuty
    windows: Windows | None
    fractions: tuple[PlanFraction, ...]
    left: Liquid
    dilution: Dilution
    bottling: Bottling
    totals: PlanTotals
    predicted: Predicted
    inflow: tuple[PlanFlow, ...]
    outflow: tuple[PlanFlow, ...]
    balance_error: float
    ledger_rows: tuple[LedgerRow, ...]
    cautions: str
    _sheet: str

    @classmethod
    def of(cls, request: PlanRequest, values: Mapping[str, Any]) -> Self:
        """From the compiled part's dictionary."""
        found = dict(values)
        can = found["potential"]
        found["potential"] = Potential(
            request.bill,
            can["water_kg"],
            request.assumptions,
            Yield.of(can["theoretical"]),
            Yield.of(can["expected"]),
        )
        found["end_point"] = EndPoint(**_estimates(found["end_point"]))
        found["water"] = WaterBalance(**_estimates(found["water"]))
        for name in ("strained", "kept_by_grain", "recycled", "low_wines", "left"):
            found[name] = Liquid(**found[name])
        for name in ("stripping_charges", "spirit_charges"):
            found[name] = ChargePlan(**_liquids(found[name], "charge", "wash", "reserve"))
        run = _liquids(found["stripping"], "charge", "low_wines", "pot")
        found["stripping"] = Stripping(**{**run, "curve": StrippingCurve(**run["curve"])})
        found["stripping_duty"] = StillDuty(**found["stripping_duty"])
        found["stripping_bill"] = StillBill(**found["stripping_bill"])
        column = dict(found["spirit_run"])
        for name in ("equilibrated", "at_end"):
            column[name] = ColumnHoldUp(**column[name])
        found["spirit_run"] = ColumnRun(**{**column, "curve": ColumnCurve(**column["curve"])})
        found["spirit_duty"] = SpiritDuty(**found["spirit_duty"])
        if found["windows"] is not None:
            ends = zip(request.cuts.rules, found["windows"]["boundaries"], strict=True)
            boundaries = tuple(Boundary(rule, **row) for rule, row in ends)
            found["windows"] = Windows(boundaries, found["windows"]["rectified"])
        found["fractions"] = tuple(PlanFraction(**_liquids(row, "content")) for row in found["fractions"])
        found["dilution"] = Dilution.of(found["dilution"])
        found["bottling"] = Bottling(**found["bottling"])
        found["totals"] = PlanTotals(**found["totals"])
        found["predicted"] = Predicted(**_estimates(found["predicted"]))
        for name in ("inflow", "outflow"):
            found[name] = tuple(PlanFlow(**row) for row in found[name])
        found["ledger_rows"] = _rows(found["ledger_rows"])
        return cls(request=request, cautions=CAUTIONS, _sheet=found.pop("sheet"), **found)

    def fraction(self, label: str) -> PlanFraction:
        """What the spirit runs give under a label; InputError for an unknown one."""
        _require_one_of("fraction", label, tuple(one.label for one in self.fractions))
        return next(one for one in self.fractions if one.label == label)

    def sheet(self) -> str:
        """The plan as text to print, in lines of at most 100 characters, cautions at the end."""
        return self._sheet

    def __str__(self) -> str:
        return self._sheet

    def _repr_html_(self) -> str:
        return f"<pre>{html.escape(self._sheet)}</pre>{_Result._repr_html_(self)}"

    def __repr__(self) -> str:
        hearts = self.fraction("hearts").content
        return (
            f"<Plan of {self.request.bill.mass_kg:g} kg of grain: {hearts} of hearts, {self.bottling.bottles} bottles>"
        )

    def what_if(self, **changes: Any) -> "Plan":
        """The plan with something changed: plan.what_if(plates=4), plan.what_if(water_l=90.0). Takes what PlanRequest.changed takes."""
        return plan(self.request.changed(**changes))

    def ledger(self) -> "Ledger":
        """The plan as the expectations of a ledger, in which measurements then take their place."""
        return Ledger._started("plan", self.request)

    def to_json(self, indent: int | None = 2) -> str:
        """The results as JSON text: {"schema": "libferment plan result", "version": 1, "request": as PlanRequest.to_json, "result": to_dict without
        the request, "sheet": the text}. A figure that is no finite number is null."""
        request = json.loads(self.request.to_json())
        result = self.to_dict()
        del result["request"]
        told = {
            "schema": _RESULT_SCHEMA,
            "version": _VERSION,
            "request": request,
            "result": _finite(result),
            "sheet": self._sheet,
        }
        return json.dumps(told, indent=indent, allow_nan=False)


def _liquids(values: Mapping[str, Any], *names: str) -> dict[str, Any]:
    return {**values, **{name: Liquid(**values[name]) for name in names}}


def _finite(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _finite(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(part) for part in value]
    return None if isinstance(value, float) and not np.isfinite(value) else value


def plan(
    request: PlanRequest | None = None,
    *,
    water_l: float | None = None,
    water_temperature_c: float = 20.0,
    **parts: Any,
) -> Plan:
    """From grain to bottles.

    Parameters
    ----------
    request : PlanRequest, optional
        Everything a plan needs; or its fields by name, bill, water_kg or water_l, and stripping_still at least.
    water_l, water_temperature_c : float
        Water by volume in place of water_kg [L at degC].
    **parts
        Fields of the request; with a request, changes to it as PlanRequest.changed takes them.

    Returns
    -------
    Plan
        Every stage, totals, predictions with their doubt, and the balance; mass and ethanol close to round-off. The fermentation ends with no sugar
        left; nothing is lost in pumping, pressing or with the gas; all charges of a still are alike.

    Raises
    ------
    RangeError, InputError
        As the parts do, with the stage in front: mash, end point, water balance, recycled heads and tails, stripping, spirit charge, spirit run,
        cuts, bottling.
    SolveError
        Where fore-shots or heads do not end within the run, and where no hearts are left.

    References
    ----------
    See ferment.sources(), "usual_plan", and the sources of the stages.
    """
    if request is None:
        needed = ("bill", "water_kg", "stripping_still")
        first = {name: parts.pop(name) for name in needed if name in parts}
        if water_l is not None and "water_kg" in first:
            raise _core.InputError("give water_l [L] or water_kg [kg], not both")
        if water_l is not None:
            first["water_kg"] = _weight(water_l, water_temperature_c)
            water_l = None
        for name in parts:
            if name not in {field.name for field in dataclasses.fields(PlanRequest)}:
                PlanRequest._part_of(name)
        missing = [name for name in needed if name not in first]
        if missing:
            asked = "water_kg or water_l" if missing[0] == "water_kg" else missing[0]
            raise _core.InputError(
                f"{asked} is missing; a plan needs bill, water_kg [kg] or water_l [L], and stripping_still"
            )
        request = PlanRequest(**first)
    if parts or water_l is not None:
        request = request.changed(water_l=water_l, water_temperature_c=water_temperature_c, **parts)
    return Plan.of(request, _core.plan(request.values()))


# ---- where it went ----


class Ledger(Record):
    """Where each litre of pure alcohol of a batch went: from what the grain could give to what is in the bottles.

    Stages that were not recorded are skipped: their losses go to the next stage that was, in one remainder that names the places it may lie in. An
    expected figure stands until a measurement takes its place; after a measured stage, later expectations keep their share of it, not their litres.
    Nothing is shared out or hidden, and the order of the entries does not matter. A number that is entered may be one, a pair with its standard
    uncertainty, or a Measured; each entry is independent of the others.

    Parameters
    ----------
    pure_alcohol_l : float, (float, float) or Measured
        What the grain can give, theoretical [L at 20 degC], above 0.
    grain_kg : float
        Grain as weighed [kg], above 0.
    dry_grain_kg : float, (float, float) or Measured
        Dry matter in it [kg], above 0, at most grain_kg.
    """

    __slots__ = ("_book", "_entering", "_entries", "_start")

    _start: tuple[Any, ...]
    _entries: tuple[tuple[Any, ...], ...]
    _book: object
    _entering: threading.Lock

    def __init__(self, pure_alcohol_l: Share, grain_kg: float, dry_grain_kg: Share) -> None:
        self._begin(("litres", _pair(pure_alcohol_l), float(grain_kg), _pair(dry_grain_kg)))

    @classmethod
    def _started(cls, *start: Any) -> Self:
        return cls._of_parts({"start": start, "entries": ()})

    @classmethod
    def of_potential(cls, potential: Potential, absorption: Share | None = None) -> Self:
        """A ledger that expects the wash of a potential, and what comes off the grain.

        Parameters
        ----------
        potential : Potential
            From ferment.mash.potential.
        absorption : float, (float, float) or Measured, optional
            Water that the spent grain keeps [kg per kg of grist]; that of common practice where none is given.

        Returns
        -------
        Ledger

        Raises
        ------
        RangeError, InputError
            Outside the ranges.
        """
        if not isinstance(potential, Potential):
            raise TypeError(f"of_potential() takes a Potential, not {type(potential).__name__!r}")
        kept = Measured(*_USUAL["absorption"]) if absorption is None else _measured(absorption)
        return cls._started("potential", potential.bill, potential.water_kg, potential.assumptions, _pair(kept))

    def _begin(self, start: tuple[Any, ...]) -> None:
        kind, *given = start
        if kind == "plan":
            book = _core.ledger_of_plan(given[0].values())
        elif kind == "potential":
            bill, water_kg, assumptions, absorption = given
            book = _core.ledger_of_potential(bill.values(), water_kg, assumptions.values(), absorption)
        else:
            book = _core.ledger(*given)
        self._start, self._entries, self._book, self._entering = start, (), book, threading.Lock()

    def _parts(self) -> dict[str, Any]:
        return {"start": self._start, "entries": self._entries}

    @classmethod
    def _of_parts(cls, parts: Mapping[str, Any]) -> Self:
        book = cls.__new__(cls)
        book._begin(parts["start"])
        for name, *values in parts["entries"]:
            book._enter(name, *values)
        return book

    def __copy__(self) -> Self:
        return self._of_parts(self._parts())

    def __deepcopy__(self, memo: Any) -> Self:
        return self._of_parts(self._parts())

    def _enter(self, name: str, *values: Any) -> Self:
        with self._entering:  # else an entry of another thread could come in between and be missing in copies
            getattr(_core, name)(self._book, *values)
            self._entries = (*self._entries, (name, *values))
        return self

    def expect(self, place: str, litres: Share, note: str = "") -> Self:
        """An expected content; a later one replaces it.

        Parameters
        ----------
        place : str
            One of LEDGER_PLACES but "potential".
        litres : float, (float, float) or Measured
            Pure alcohol [L at 20 degC], zero or more.
        note : str
            For the sheet.

        Returns
        -------
        Ledger
            The same.

        Raises
        ------
        RangeError, InputError
            Outside the range, and for an unknown place.
        """
        return self._enter("ledger_expect", place, _pair(litres), note)

    def measure(
        self,
        place: str,
        litres: Share | None = None,
        *,
        volume_l: Share | None = None,
        abv: Share | None = None,
        temperature_c: float = 20.0,
        extract: float = 0.0,
        note: str = "",
    ) -> Self:
        """A measured content: all of it, several vessels or runs added up.

        Parameters
        ----------
        place : str
            One of LEDGER_PLACES but "potential".
        litres : float, (float, float) or Measured
            Pure alcohol [L at 20 degC], zero or more; or else:
        volume_l, abv : float, (float, float) or Measured
            Volume at temperature_c [L], above 0, and true strength [% vol at 20 degC].
        temperature_c : float
            When the volume was read [degC], 0 to 40.
        extract : float
            Real extract of a wash [% mass]; 0 for spirit.
        note : str
            For the sheet.

        Returns
        -------
        Ledger
            The same.

        Raises
        ------
        RangeError, InputError
            Outside the ranges, for both or neither kind of figure, and for a place measured already: forget it first.
        """
        if litres is not None and volume_l is None and abv is None:
            return self._enter("ledger_measure", place, _pair(litres), note)
        if litres is None and volume_l is not None and abv is not None:
            return self._enter(
                "ledger_measure_liquid", place, _pair(volume_l), _pair(abv), float(temperature_c), float(extract), note
            )
        raise _core.InputError(
            f"{place} is measured in litres of pure alcohol, or by volume_l [L] and abv [% vol]; give one or the other"
        )

    def forget(self, place: str) -> Self:
        """Takes the measurement of a place back; an expectation stands again. Gives the ledger back."""
        return self._enter("ledger_forget", place)

    def bring_in(self, stage: str, litres: Share, note: str = "") -> Self:
        """Alcohol from outside that joins the batch on the way to a stage; entries add up.

        Parameters
        ----------
        stage : str
            "wash", "off_the_grain", "low_wines", "hearts" or "bottles".
        litres : float, (float, float) or Measured
            Pure alcohol [L at 20 degC], zero or more.
        note : str
            For the sheet.

        Returns
        -------
        Ledger
            The same.

        Raises
        ------
        RangeError, InputError
            Outside the range, and for an unknown stage.
        """
        return self._enter("ledger_bring_in", stage, _pair(litres), note)

    def take_out(self, place: str, litres: Share, note: str = "") -> Self:
        """Alcohol taken out of a place and out of this batch; entries add up.

        Parameters
        ----------
        place : str
            One of LEDGER_PLACES but "potential".
        litres : float, (float, float) or Measured
            Pure alcohol [L at 20 degC], zero or more.
        note : str
            For the sheet.

        Returns
        -------
        Ledger
            The same.

        Raises
        ------
        RangeError, InputError
            Outside the range, and for an unknown place.
        """
        return self._enter("ledger_take_out", place, _pair(litres), note)

    def content(self, place: str) -> Estimate | None:
        """What a place held before anything was taken out of it [L of pure alcohol]; None where it was neither measured nor expected."""
        found = _core.ledger_content(self._book, place)
        return None if found is None else Estimate.of(found)

    def is_measured(self, place: str) -> bool:
        """Whether a place was measured."""
        return _core.ledger_is_measured(self._book, place)

    def rows(self) -> tuple[LedgerRow, ...]:
        """Every line, from the grain to the bottles; ahead of each stage what came in and what it lost."""
        return _rows(_core.ledger_rows(self._book))

    def _rows(self) -> tuple[LedgerRow, ...]:
        return self.rows()

    def ends(self) -> tuple[LedgerRow, ...]:
        """The rows where alcohol ended: lost, set aside, taken out, not explained, in hand."""
        return _rows(_core.ledger_ends(self._book))

    def losses(self) -> tuple[LedgerRow, ...]:
        """The ends but for what is in hand or set aside."""
        return _rows(_core.ledger_losses(self._book))

    def balance(self) -> LedgerBalance:
        """Sources and ends [L of pure alcohol]."""
        return LedgerBalance(**_estimates(_core.ledger_balance(self._book)))

    def findings(self, coverage: float = _COVERAGE) -> tuple[LedgerFinding, ...]:
        """Entries with more alcohol after than before by more than so many combined standard uncertainties."""
        return tuple(LedgerFinding(**_estimates(row)) for row in _core.ledger_findings(self._book, coverage))

    def yield_at(self, place: str) -> LedgerYield:
        """What the grain gave up to a stage that is known; InputError for any other place."""
        return LedgerYield(**_estimates(_core.ledger_yield_at(self._book, place)))

    def yields(self) -> tuple[LedgerYield, ...]:
        """The yields of all known stages."""
        return tuple(LedgerYield(**_estimates(row)) for row in _core.ledger_yields(self._book))

    def sheet(self, coverage: float = _COVERAGE) -> str:
        """Everything as a table to print, with the findings beyond so many standard uncertainties."""
        return _core.ledger_sheet(self._book, coverage)

    def to_dict(self) -> dict[str, Any]:
        """Rows, balance, yields and findings as plain Python values."""
        return {
            "rows": [row.to_dict() for row in self.rows()],
            "balance": self.balance().to_dict(),
            "yields": [row.to_dict() for row in self.yields()],
            "findings": [row.to_dict() for row in self.findings()],
        }

    def _repr_html_(self) -> str:
        return f"<pre>{html.escape(self.sheet())}</pre>"

    def __eq__(self, other: object) -> bool:
        return self.to_dict() == other.to_dict() if isinstance(other, Ledger) else NotImplemented

    __hash__ = None  # type: ignore[assignment] # entries are added

    def __str__(self) -> str:
        return self.sheet()

    def __repr__(self) -> str:
        measured = [place for place in LEDGER_PLACES if self.is_measured(place)]
        return f"<Ledger with {', '.join(measured) or 'nothing'} measured>"

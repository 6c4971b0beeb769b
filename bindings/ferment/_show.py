"""How results are shown: quantities in words, units, digits that are meant, tables for notebooks, frames for pandas.

All of it goes by the names and values of dataclass fields. A class says more only where a name cannot: `_line` is a result in one line, `_rows` the
rows of a result that is a list, `_apart` its arrays that are no columns of the series, `_columns` the names of the columns of a two-dimensional
array, `_figures` how its units differ from what the names say.
"""

import dataclasses
import html
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    import pandas as pd

#: Units by the end of a name, which words leave away.
SUFFIXES: dict[str, str] = {
    "c": "degC",
    "k": "K",
    "kg": "kg",
    "g": "g",
    "l": "L",
    "ml": "mL",
    "m": "m",
    "mm": "mm",
    "h": "h",
    "days": "days",
    "kpa": "kPa",
    "kw": "kW",
    "w": "W",
    "kwh": "kWh",
    "kj": "kJ",
    "pa_m": "Pa/m",
    "m2_m3": "m2/m3",
    "m_per_s": "m/s",
    "l_per_h": "L/h",
    "kg_per_h": "kg/h",
    "g_per_l": "g/L",
    "g_per_kg": "g/kg",
    "kj_per_k": "kJ/K",
    "w_per_k": "W/K",
    "w_per_m2_k": "W/(m2 K)",
    "per_ft": "1/ft",
    "l_per_tonne": "L/t",
    "l_per_tonne_dry": "L/t of dry grain",
    "kwh_per_pure_alcohol_l": "kWh per L of pure alcohol",
}

#: Quantities by the end of a name: what they are called, and their unit.
QUANTITIES: dict[str, tuple[str, str]] = {
    "abv": ("strength", "% vol"),
    "abw": ("ethanol", "% mass"),
    "extract": ("extract", "% mass"),
    "dry_matter": ("dry matter", "% mass"),
    "brix": ("degrees Brix", "% mass"),
    "free_sugar": ("free sugar", "% mass"),
    "extract_as_is": ("extract as it is", "% mass"),
    "extract_dry": ("extract of the dry matter", "% mass"),
    **{part: (part, "% mass") for part in ("moisture", "starch", "sugars", "protein", "fat", "fibre", "ash")},
    "density": ("density", "kg/m3"),
    "density_at_sample": ("density at the sample's temperature", "kg/m3"),
    "molar_mass": ("molar mass", "g/mol"),
    "litres": ("pure alcohol", "L"),
    "litres_per_tonne": ("pure alcohol per tonne", "L/t"),
    "litres_per_tonne_dry": ("pure alcohol per tonne of dry grain", "L/t"),
    "litre_degrees_per_kg": ("litre degrees", "L degrees/kg"),
    "points_per_pound_per_gallon": ("points per pound per gallon", "gal/lb"),
    "grams_per_hl": ("in pure alcohol", "g/hL"),
    "hour": ("hour", "h"),
    "hours": ("hours", "h"),
    "conversion": ("conversion", "%"),
    "conversion_without_sugar": ("conversion without free sugar", "%"),
    "abv_without_sugar": ("strength without free sugar", "% vol"),
    "fermentation_efficiency": ("fermentation efficiency", "%"),
    "soluble_share_of_rest": ("soluble share of the rest", "%"),
    "dissolved_by_products": ("dissolved by-products", "%"),
    "attenuation": ("attenuation", "%"),
    "degree_of_fermentation": ("degree of fermentation", "%"),
    "share": ("share", "%"),
    "share_of_ethanol": ("share of the ethanol", "%"),
    "share_of_theoretical": ("share of the theoretical", "%"),
    "of_expected": ("of the expected", "%"),
    "recovered": ("ethanol recovered", "%"),
    "ethanol_left": ("ethanol left", "%"),
    "head_space": ("head space", "%"),
    "heat_loss": ("heat loss", "%"),
    "hold_up": ("hold-up", "%"),
    "void": ("void", "%"),
    "volume_uncertainty": ("uncertainty of the volume", "%"),
    "abv_uncertainty": ("uncertainty of the strength", "% vol"),
    "absorption": ("absorption", "kg/kg"),
    "abv_per_k": ("strength per K", "% vol/K"),
    "glass_expansion": ("glass expansion", "1/K"),
    "days_to_finish": ("time to the finish", "days"),
}

#: Words of names that read otherwise.
_WORDS = {"co2": "CO2", "hetp": "height of a theoretical plate", "sg": "specific gravity"}
#: Decimals of quantities that need more than the usual digits.
_DECIMALS = {
    "gravity": 4,
    "sg": 4,
    "hydrometer": 4,
    "refractive_index": 5,
    "refractive_index_at_sample": 5,
    "density": 2,
    "density_at_sample": 2,
}
_DIGITS = 4
_REPR_DIGITS = 6
#: What stays readable: rows of a series, rows that are not folded, items and characters of a repr.
_MOST_ROWS, _MOST_UNFOLDED, _MOST_ITEMS, _MOST_CHARACTERS = 11, 30, 3, 80
#: Below it numbers are written with an exponent.
_LEAST_FIXED = 1e-6
#: What belongs to a result as a whole, not into a column.
_REMARKS = ("cautions", "note")

Row = Mapping[str, Any]


# ---- names, units, digits ----


def without_unit(name: str) -> tuple[str, str]:
    """A name without the unit at its end, and that unit; "" where it has none."""
    words = name.split("_")
    for i in range(1, len(words)):  # the longest first
        end = "_".join(words[i:])
        if end in SUFFIXES:
            return "_".join(words[:i]), SUFFIXES[end]
    return name, ""


def figure(name: str, kind: type | None = None) -> tuple[str, str]:
    """The words and the unit of a field by its name, and by its class where that knows better."""
    known: Mapping[str, str] = getattr(kind, "_figures", {})
    words = name.split("_")
    for i in range(len(words)):
        end = "_".join(words[i:])
        if end in QUANTITIES and not (i > 0 and words[i - 1] == "per"):
            said, unit = QUANTITIES[end]
            return " ".join([*_spoken(words[:i]), said]), known.get(name, unit)
        if end in SUFFIXES and (i > 0 or len(words) > 1):
            return " ".join(_spoken(words[:i])) or "rate", known.get(name, SUFFIXES[end])
    return " ".join(_spoken(words)), known.get(name, "")


def _spoken(words: list[str]) -> list[str]:
    return [_WORDS.get(word, word) for word in words]


def spaced(name: str) -> str:
    """The name of a class in words."""
    text = "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name).strip()
    return text[:1].upper() + text[1:]


def _decimals(name: str) -> int | None:
    return next((places for end, places in _DECIMALS.items() if name == end or name.endswith(f"_{end}")), None)


def number(x: float, digits: int = _DIGITS, decimals: int | None = None) -> str:
    """A number with so many significant digits, or decimals."""
    if math.isnan(x):
        return "NaN"
    if math.isinf(x):
        return "infinite" if x > 0 else "-infinite"
    if decimals is not None:
        return f"{x:.{decimals}f}"
    return f"{x:.0f}" if 10**digits <= abs(x) < 1e15 else f"{x:.{digits}g}"


def with_uncertainty(value: float, standard_uncertainty: float, decimals: int | None = None) -> str:
    """A value and its standard uncertainty, both to two digits of the latter."""
    known = math.isfinite(value) and math.isfinite(standard_uncertainty)
    if not known or standard_uncertainty <= 0.0:
        text = number(value, _REPR_DIGITS, decimals)
        return text if standard_uncertainty == 0.0 or math.isnan(value) else f"{text} +- {number(standard_uncertainty)}"
    if min(standard_uncertainty, abs(value) or math.inf) < _LEAST_FIXED:
        return f"{value:.2g} +- {standard_uncertainty:.2g}"
    places = 1 - math.floor(math.log10(float(f"{standard_uncertainty:.1e}")))
    rounded = (f"{round(x, places):.{max(places, 0)}f}" for x in (value, standard_uncertainty))
    return " +- ".join(rounded)


# ---- what is in a result ----


def is_record(value: object) -> bool:
    """Whether this is a result."""
    return dataclasses.is_dataclass(value) and not isinstance(value, type)


def is_uncertain(value: object) -> bool:
    """Whether this is a number of the `uncertainties` package."""
    return hasattr(value, "nominal_value") and hasattr(value, "std_dev")


def is_measured(value: object) -> bool:
    """Whether this is a value with its standard uncertainty, as Measured is."""
    return is_record(value) and hasattr(value, "standard_uncertainty") and hasattr(value, "value")


def shown(record: Any) -> list[str]:
    """Names of the fields that are for the reader."""
    return [field.name for field in dataclasses.fields(record) if not field.name.startswith("_")]


def members(record: Any) -> dict[str, Any]:
    """The fields that are for the reader, and their values."""
    return {name: getattr(record, name) for name in shown(record)}


def _own(record: object, what: str) -> Any:
    method = getattr(record, what, None)
    return None if method is None else method()


def series(record: Any) -> dict[str, Any]:
    """Fields of a series: arrays with as many rows each; empty where a result is none."""
    apart = getattr(type(record), "_apart", ())
    arrays = {
        name: value
        for name, value in members(record).items()
        if isinstance(value, np.ndarray) and value.ndim > 0 and name not in apart
    }
    lengths = {len(value) for value in arrays.values()}
    fits = len(lengths) == 1 and all(value.ndim <= 2 for value in arrays.values())
    return arrays if fits else {}


def _column_names(record: Any, name: str, count: int) -> list[str]:
    labels: Sequence[str] = getattr(type(record), "_columns", ())
    if len(labels) != count:
        labels = [str(i) for i in range(count)]
    return [f"{name}_{label}" for label in labels]


def columns(record: Any) -> dict[str, Any]:
    """The series of a result as columns; a two-dimensional array gives several, and so do the series of its parts."""
    found: dict[str, Any] = {}
    parts = series(record)
    for name, value in parts.items():
        if value.ndim == 1:
            found[name] = value
        else:
            found |= dict(zip(_column_names(record, name, value.shape[1]), value.T, strict=True))
    rows = len(next(iter(parts.values()))) if parts else 0
    for part in members(record).values():
        if not isinstance(part, tuple) or not part or not all(is_record(one) for one in part):
            continue
        for key, one in zip(_keys(part), part, strict=True):
            inner = columns(one)
            if inner and all(len(column) == rows for column in inner.values()):
                found |= {f"{key}.{name}": column for name, column in inner.items()}
    return found


def _keys(parts: Sequence[Any]) -> list[str]:
    """Names of the parts of a tuple: what each begins with, where that tells them apart; else their places."""

    def first(part: Any) -> Any:
        return next(iter(_row(part).values())) if is_record(part) or isinstance(part, Mapping) else part[0]

    names = [first(part) for part in parts]
    told = all(isinstance(name, str) for name in names) and len(set(names)) == len(names)
    return [name.replace(" ", "_") for name in names] if told else [str(i) for i in range(len(parts))]


def _list_rows(record: Any) -> Any:
    """The rows of a result that is nothing but a list; None for others."""
    return _own(record, "_rows") if is_record(record) and len(shown(record)) == 1 else None


def _row(value: Any) -> Row:
    return value if isinstance(value, Mapping) else members(value)


def _is_row(value: object) -> bool:
    return isinstance(value, Mapping) or is_record(value)


def flat(values: Row, prefix: str = "") -> Iterator[tuple[str, Any]]:
    """A row with nested results flattened, names joined by dots. Arrays and the budgets of estimates are left out."""
    for name, value in values.items():
        key = prefix + name
        if is_measured(value):
            yield key, value.value
            yield f"{key}_standard_uncertainty", value.standard_uncertainty
        elif is_record(value):
            rows = _list_rows(value)
            yield from flat(members(value), f"{key}.") if rows is None else _flat_parts(key, rows)
        elif isinstance(value, tuple | list):
            yield from _flat_parts(key, value)
        elif not isinstance(value, np.ndarray) or value.ndim == 0:
            yield key, value


def _flat_parts(key: str, parts: Sequence[Any]) -> Iterator[tuple[str, Any]]:
    if not parts:
        return
    if all(map(_is_row, parts)):
        for name, part in zip(_keys(parts), parts, strict=True):
            yield from flat(_row(part), f"{key}.{name}.")
    elif all(isinstance(part, tuple) for part in parts):  # of a name and what belongs to it
        for name, part in zip(_keys(parts), parts, strict=True):
            yield from flat({name: part[-1]}, f"{key}.")
    else:
        yield from flat({str(i): part for i, part in enumerate(parts)}, f"{key}.")


# ---- pandas ----


def frame(results: Any) -> "pd.DataFrame":
    """A frame of pandas: a row for each result, or each point of a series. ImportError where pandas is not installed."""
    try:
        import pandas as pd
    except ImportError:
        raise ImportError('frames need pandas, which is not installed: pip install "libferment[tables]"') from None
    if is_record(results) and (points := columns(results)):
        made = pd.DataFrame(points)
        apart = {name: value for name, value in members(results).items() if name not in series(results)}
        made.attrs.update((key, value) for key, value in flat(apart) if "." not in key)
        return made
    rows: Any = _own(results, "_rows")
    if rows is None:
        rows = [results] if _is_row(results) else results
    found = []
    for row in rows:
        if not _is_row(row):
            raise TypeError(f"a frame is made of results, not of {type(row).__name__!r}")
        found.append(dict(flat(_columns_of(row))))
    made = pd.DataFrame(found)
    made.attrs.update(
        (name, getattr(results, name)) for name in _REMARKS if hasattr(results, name) and hasattr(results, "cautions")
    )
    return made


def _columns_of(row: Any) -> Row:
    """What a row has for columns: no remarks, and of an estimate not what its inputs contribute."""
    apart = ("budget",) if is_measured(row) else _REMARKS if hasattr(row, "cautions") else ()
    return {name: value for name, value in _row(row).items() if name not in apart}


# ---- in one line ----


def text(record: Any) -> str:
    """A result in one line; long arrays, texts and lists are shortened."""
    fields = {field.name: field.repr for field in dataclasses.fields(record)}
    told = (f"{name}={_said(value)}" for name, value in members(record).items() if fields[name] and name != "cautions")
    return f"{type(record).__qualname__}({', '.join(told)})"


def _said(value: object) -> str:
    if is_record(value):
        line = _own(value, "_line")
        whole = text(value) if line is None else str(line)
        return whole if line is not None or len(whole) <= _MOST_CHARACTERS else f"{type(value).__qualname__}(...)"
    if isinstance(value, np.ndarray):
        return f"<{_summary(value)}>" if value.size > _MOST_ITEMS or value.ndim > 1 else f"[{_listed(value.tolist())}]"
    if isinstance(value, tuple | list):
        comma = "," if len(value) == 1 and isinstance(value, tuple) else ""
        said = _listed(value) + comma
        return f"({said})" if isinstance(value, tuple) else f"[{said}]"
    if isinstance(value, bool | np.bool_):
        return str(bool(value))
    if isinstance(value, float | np.floating):
        return _short(float(value))
    if isinstance(value, str) and len(value) > _MOST_CHARACTERS:
        return repr(value[: _MOST_CHARACTERS - 3] + "...")
    return _uncertain_text(value) if is_uncertain(value) else repr(value)


def _short(x: float) -> str:
    exact = repr(x)
    return exact if len(exact) <= _REPR_DIGITS + 2 else f"{x:.{_REPR_DIGITS}g}"


def _listed(values: Sequence[Any]) -> str:
    said = [_said(value) for value in values[:_MOST_ITEMS]]
    return ", ".join(said if len(values) <= _MOST_ITEMS else [*said, f"... {len(values)} in all"])


def _uncertain_text(value: Any, decimals: int | None = None) -> str:
    return with_uncertainty(float(value.nominal_value), float(value.std_dev), decimals)


def _summary(array: Any) -> str:
    """An array in words: how many numbers, and between which they lie."""
    size = " x ".join(str(length) for length in array.shape)
    numbers = [
        float(getattr(x, "nominal_value", x))
        for x in array.ravel().tolist()
        if isinstance(x, int | float) or is_uncertain(x)
    ]
    known = [x for x in numbers if not math.isnan(x)]
    within = f", {number(min(known))} to {number(max(known))}" if known else ""
    return f"{size} numbers{within}"


# ---- tables for notebooks ----

_LEFT = ' style="text-align:left"'


def table(record: Any) -> str:
    """A result as a table of HTML: quantity, value, unit; parts follow their heads, lists have a row for each entry, cautions come last."""
    said = dict.fromkeys(_cautions(record))
    after = "".join(f"<p><strong>{html.escape(one)}</strong></p>" for one in said)
    rows = _list_rows(record)
    title = html.escape(spaced(type(record).__name__))
    if rows is not None:
        return _rows_table(rows, title) + after
    return _fields_table(record, title, _count(record) > _MOST_UNFOLDED) + after


def _cautions(value: Any) -> Iterator[str]:
    if is_record(value):
        for name, part in members(value).items():
            if name == "cautions":
                yield part
            else:
                yield from _cautions(part)


def _is_part(value: object) -> bool:
    return is_record(value) and not is_measured(value) and _own(value, "_line") is None


def _count(record: Any) -> int:
    """How many rows a result has with its parts."""
    return sum(1 + _count(value) if _is_part(value) else 1 for value in members(record).values())


def _fields_table(record: Any, title: str, fold: bool) -> str:
    head = f"<tr><th{_LEFT}>quantity</th><th{_LEFT}>value</th><th{_LEFT}>unit</th></tr>"
    caption = f"<caption>{title}</caption>" if title else ""
    return f"<table>{caption}<thead>{head}</thead><tbody>{''.join(_field_rows(record, fold))}</tbody></table>"


def _field_rows(record: Any, fold: bool, level: int = 0) -> Iterator[str]:
    in_series = series(record)
    for name, value in members(record).items():
        if name == "cautions" or name in in_series:
            continue
        words, unit = figure(name, type(record))
        said = html.escape(words)
        if (rows := _list_rows(value)) is not None:
            yield _wide(said, _rows_table(rows), fold)
        elif _is_part(value) and fold:
            yield _wide(said, _fields_table(value, "", False), fold)
        elif _is_part(value):
            yield f'<tr><th colspan="3"{_indent(level)}>{said}</th></tr>'
            yield from _field_rows(value, fold, level + 1)
        elif isinstance(value, tuple) and value and all(map(is_record, value)):
            yield _wide(said, _rows_table(value), fold)
        else:
            cell = html.escape(_cell(name, value))
            yield f"<tr><th{_indent(level)}>{said}</th><td{_LEFT}>{cell}</td><td{_LEFT}>{html.escape(unit)}</td></tr>"
    if in_series:
        yield _wide("", _series_table(record), False)


def _indent(level: int) -> str:
    return f' style="text-align:left;padding-left:{level + 1}em"' if level else _LEFT


def _wide(said: str, inner: str, fold: bool) -> str:
    if fold:
        inner = f"<details><summary>{said}</summary>{inner}</details>"
    elif said:
        inner = f"<strong>{said}</strong>{inner}"
    return f'<tr><td colspan="3"{_LEFT}>{inner}</td></tr>'


def _cell(name: str, value: Any) -> str:
    """A value as the cell of a table."""
    if value is None:
        return ""
    if is_measured(value):
        return with_uncertainty(float(value.value), float(value.standard_uncertainty), _decimals(name))
    if is_record(value):
        return str(_own(value, "_line"))
    if isinstance(value, np.ndarray):
        return _cell(name, value.item()) if value.ndim == 0 else _summary(value)
    if isinstance(value, tuple | list):
        return ", ".join(
            " ".join(_cell(name, x) for x in part) if isinstance(part, tuple) else _cell(name, part) for part in value
        )
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    if isinstance(value, float | np.floating):
        return number(float(value), _DIGITS, _decimals(name))
    return _uncertain_text(value, _decimals(name)) if is_uncertain(value) else str(value)


def _row_cells(row: Any, before: str = "") -> Iterator[tuple[str, str]]:
    """Heads and cells of one row, those of its parts among them."""
    kind = None if isinstance(row, Mapping) else type(row)
    for name, value in _row(row).items():
        words, unit = figure(name, kind)
        said = f"{before}, {words}" if before else words
        if name != "cautions" and _is_part(value):
            yield from _row_cells(value, said)
        elif name != "cautions":
            yield f"{said} [{unit}]" if unit else said, _cell(name, value)


def _grid(heads: Iterable[str], rows: Iterable[Sequence[str]], title: str = "") -> str:
    caption = f"<caption>{title}</caption>" if title else ""
    head = "".join(f"<th{_LEFT}>{html.escape(one)}</th>" for one in heads)
    body = "".join(f"<tr>{''.join(f'<td{_LEFT}>{html.escape(x)}</td>' for x in row)}</tr>" for row in rows)
    return f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _rows_table(rows: Iterable[Any], title: str = "") -> str:
    """Results as a table with a row each; a column that is empty everywhere is left out."""
    cells = [dict(_row_cells(row)) for row in rows]
    heads = [
        head for head in dict.fromkeys(head for row in cells for head in row) if any(row.get(head) for row in cells)
    ]
    return _grid(heads, ([row.get(head, "") for head in heads] for row in cells), title)


def _series_table(record: Any) -> str:
    """A series as a table: its first and last point and some between, equally far apart. Of bands the middle and the outermost are shown."""
    labels: Sequence[str] = getattr(type(record), "_columns", ())
    heads: list[str] = []
    cells: list[list[str]] = []
    left: list[str] = []
    found = series(record)
    count = len(next(iter(found.values())))
    picked = np.unique(np.linspace(0, count - 1, min(count, _MOST_ROWS)).round().astype(int)).tolist()
    for name, value in found.items():
        words, unit = figure(name, type(record))
        of_unit = f" [{unit}]" if unit else ""
        if value.ndim == 1:
            heads.append(words + of_unit)
            cells.append([_cell(name, value[i]) for i in picked])
        elif labels and value.shape[1] == len(labels):
            middle = len(labels) // 2
            heads.append(f"{words}, {labels[middle]} ({labels[0]} to {labels[-1]}){of_unit}")
            bands = ([_cell(name, value[i, k]) for k in (middle, 0, -1)] for i in picked)
            cells.append([f"{mid} ({low} to {high})" for mid, low, high in bands])
        else:
            left.append(f"{words}: {_summary(value)}")
    if len(picked) < count:
        left.insert(0, f"{len(picked)} of {count} rows")
    note = html.escape("; ".join(left))
    return _grid(heads, list(zip(*cells, strict=True))) + (f"<p>{note}</p>" if note else "")

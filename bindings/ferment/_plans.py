"""Ensembles of whole plans: any inputs of a plan as arrays, the figures that matter of each scenario as arrays."""

import contextlib
import dataclasses
import html
import importlib
import operator
import os
import sys
from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, Literal, TypeAlias, TypedDict, Unpack

import numpy as np
import numpy.typing as npt

from ferment import _core, _show, liquid
from ferment._values import ArrayRecord
from ferment.still import CAUTIONS

if TYPE_CHECKING:
    import pandas as pd
    import xarray as xr

    from ferment.batch import Plan, PlanRequest

Floats: TypeAlias = npt.NDArray[np.float64]
Values: TypeAlias = "npt.ArrayLike | xr.DataArray"
Progress: TypeAlias = bool | Callable[[int, int], object]

_LITRES_PER_CUBIC_METRE = 1000.0
_CUT_INPUTS = tuple(
    tuple(f"{part}_end_{by}" for by in ("share", "l", "abv")) for part in ("fore_shots", "heads", "hearts")
)
#: Of each of these one can be varied at most.
_ONE_OF: tuple[tuple[str, ...], ...] = (
    ("water_l", "water_kg"),
    tuple(f"stripping_end_{by}" for by in ("abv", "pot_abv", "l", "head_c", "recovered")),
    ("reflux", "take_off_abv", "take_off_l_per_h"),
    ("reflux", "max_reflux"),
    ("take_off_l_per_h", "max_reflux"),
    *_CUT_INPUTS,
)


class Varied(TypedDict, total=False):
    """What plans can vary."""

    grain_kg: Values
    water_l: Values
    water_kg: Values
    conversion: Values
    fermentation_efficiency: Values
    soluble_share_of_rest: Values
    dissolved_by_products: Values
    absorption: Values
    boiler_l: Values
    head_space: Values
    heating_kw: Values
    heat_loss: Values
    heat_loss_w_per_k: Values
    still_heat_kj_per_k: Values
    pressure_kpa: Values
    spirit_boiler_l: Values
    spirit_heating_kw: Values
    spirit_pressure_kpa: Values
    stripping_end_abv: Values
    stripping_end_pot_abv: Values
    stripping_end_l: Values
    stripping_end_head_c: Values
    stripping_end_recovered: Values
    ambient_c: Values
    distillate_c: Values
    water_in_c: Values
    water_out_c: Values
    plates: Values
    packed_height_m: Values
    hetp_m: Values
    hold_up_kg: Values
    equilibration_h: Values
    reflux: Values
    take_off_abv: Values
    max_reflux: Values
    take_off_l_per_h: Values
    spirit_end_abv: Values
    spirit_end_pot_abv: Values
    spirit_end_l: Values
    spirit_end_recovered: Values
    strongest_charge_abv: Values
    fore_shots_end_share: Values
    fore_shots_end_l: Values
    fore_shots_end_abv: Values
    heads_end_share: Values
    heads_end_l: Values
    heads_end_abv: Values
    hearts_end_share: Values
    hearts_end_l: Values
    hearts_end_abv: Values
    recycled_l: Values
    recycled_abv: Values
    target_abv: Values
    bottle_l: Values
    turnaround_h: Values


@dataclasses.dataclass(frozen=True, slots=True, eq=False, repr=False)
class Plans(ArrayRecord):
    """The outcomes of many plans: arrays of one shape, that of the varied inputs broadcast against each other. NaN where there is no plan.

    Attributes
    ----------
    request : what all scenarios share
    inputs : the varied inputs by name, each of that shape
    dims : a name for each dimension: that of the only input that varies along it, else "scenario"; of DataArrays their own
    wash_l, wash_abv : strained off the grain [L at 20 degC, % vol]
    stripping_charges, spirit_charges, charges : of each still and of both
    low_wines_l, low_wines_abv : all charges [L at 20 degC, % vol]
    fore_shots_l, heads_l, hearts_l, tails_l : all charges, before dilution [L at 20 degC]
    hearts_abv, hearts_pure_alcohol_l : [% vol, L at 20 degC]
    bottled_l : at bottling strength [L at 20 degC]
    bottles : full ones
    energy_kwh, cooling_water_l, total_h : of both runs, the hours with those between charges [kWh, L, h]
    recovered : pure alcohol in the hearts, of what the yeast made and what was recycled [%]
    balance_error : the larger relative error of mass and ethanol
    cautions : read them first
    """

    request: "PlanRequest"
    inputs: Mapping[str, Floats]
    dims: tuple[str, ...]
    wash_l: Floats
    wash_abv: Floats
    stripping_charges: Floats
    low_wines_l: Floats
    low_wines_abv: Floats
    spirit_charges: Floats
    fore_shots_l: Floats
    heads_l: Floats
    hearts_l: Floats
    hearts_abv: Floats
    hearts_pure_alcohol_l: Floats
    tails_l: Floats
    bottled_l: Floats
    bottles: Floats
    charges: Floats
    energy_kwh: Floats
    cooling_water_l: Floats
    total_h: Floats
    recovered: Floats
    balance_error: Floats
    cautions: str
    _along: Mapping[str, tuple[str, ...]]
    _coordinates: Mapping[str, tuple[tuple[str, ...], npt.NDArray[Any]]]

    @property
    def shape(self) -> tuple[int, ...]:
        """Of every outcome."""
        return self.bottles.shape

    @property
    def size(self) -> int:
        """Number of scenarios."""
        return self.bottles.size

    def outcomes(self) -> dict[str, Floats]:
        """The outcomes by name."""
        return {name: value for name, value in _show.members(self).items() if isinstance(value, np.ndarray)}

    def to_frame(self) -> "pd.DataFrame":
        """As a frame of pandas: a row for each scenario, last dimension fastest, with the varied inputs and the outcomes as columns, in the units of
        their names; the cautions in ``attrs``. `to_frame().to_parquet(...)` stores it. ImportError where pandas is not installed."""
        try:
            import pandas as pd
        except ImportError:
            raise ImportError('frames need pandas, which is not installed: pip install "libferment[tables]"') from None
        others = {
            name: np.broadcast_to(_stretched(values, along, self.dims), self.shape)
            for name, (along, values) in self._coordinates.items()
            if name not in self.inputs
        }
        columns = {**others, **self.inputs, **self.outcomes()}
        frame = pd.DataFrame({name: np.ravel(values) for name, values in columns.items()})
        frame.attrs["cautions"] = self.cautions
        return frame

    def to_xarray(self) -> "xr.Dataset":
        """As a Dataset of xarray: outcomes over `dims`, varied inputs as coordinates, which name a dimension where they are the only one along it, units
        and words in the attributes of each. ImportError where xarray is not installed."""
        try:
            import xarray as xr
        except ImportError:
            raise ImportError("datasets need xarray, which is not installed: pip install xarray") from None

        def told(name: str) -> dict[str, str]:
            words, unit = _show.figure(name)
            return {"long_name": words, "units": unit}

        def own(name: str) -> Floats:
            along = self._along[name]
            return self.inputs[name][tuple(slice(None) if dim in along else 0 for dim in self.dims)]

        coordinates: dict[str, Any] = dict(self._coordinates)
        coordinates |= {name: (self._along[name], own(name), told(name)) for name in self.inputs}
        outcomes = {name: (self.dims, values, told(name)) for name, values in self.outcomes().items()}
        return xr.Dataset(outcomes, coordinates, {"cautions": self.cautions})

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        mine, theirs = ({**one.inputs, **one.outcomes()} for one in (self, other))
        return (
            (self.request, self.dims, list(mine)) == (other.request, other.dims, list(theirs))
            and self.shape == other.shape
            and all(np.array_equal(mine[name], theirs[name], equal_nan=True) for name in mine)
        )

    def __hash__(self) -> int:
        return hash((self.request, self.dims, *(values.tobytes() for values in self.outcomes().values())))

    def __repr__(self) -> str:
        varied = ", ".join(self.inputs) or "nothing"
        planned = int(np.count_nonzero(~np.isnan(self.bottles)))
        bottles = ""
        if planned:
            low, middle, high = (float(x) for x in np.nanquantile(self.bottles, (0.05, 0.5, 0.95)))
            bottles = f", {middle:g} bottles ({low:g} to {high:g})"
        none = f", {self.size - planned} without a plan" if planned < self.size else ""
        return f"<Plans: {self.size} scenarios {self.shape} of {varied}{bottles}{none}>"

    def __str__(self) -> str:
        return f"{self!r}\n{self.cautions}"

    def _repr_html_(self) -> str:
        return f"<pre>{html.escape(str(self))}</pre>"


def _stretched(values: npt.NDArray[Any], along: tuple[str, ...], dims: tuple[str, ...]) -> npt.NDArray[Any]:
    """Values over some of the dimensions, with the order and number of all of them."""
    ordered = np.transpose(values, [along.index(dim) for dim in dims if dim in along])
    return np.expand_dims(ordered, tuple(k for k, dim in enumerate(dims) if dim not in along))


# ---- what is varied ----


def _numbers(name: str, values: object) -> Floats:
    array = np.asarray(values)
    if array.dtype.kind not in "iuf":
        raise TypeError(f"{name} must be numbers")
    return array.astype(np.float64)


def _require_known(names: Mapping[str, object]) -> None:
    known = sorted({*_core.plan_inputs, "water_l"})
    for name in names:
        if name not in known:
            raise _core.InputError(f"{name} is not known; plans can vary {', '.join(known)}")
    for group in _ONE_OF:
        given = [name for name in group if name in names]
        if len(given) > 1:
            raise _core.InputError(f"{' and '.join(given)} are both given; give one of them")


def _require_fitting(request: "PlanRequest", names: Mapping[str, object]) -> None:
    cuts = [name for group in _CUT_INPUTS for name in group if name in names]
    if cuts and request.cuts.by_congeners:
        raise _core.InputError(f"{cuts[0]} cannot be varied where cuts go by congeners")
    of_strength = {"take_off_abv", "max_reflux"} & set(names)
    if len(of_strength) == 1 and request.spirit.take_off.mode != "strength":
        missing = "max_reflux" if "take_off_abv" in names else "take_off_abv"
        raise _core.InputError(f"{missing} is missing: a strength is held up to a greatest reflux; give both")


@dataclasses.dataclass(frozen=True)
class _Grid:
    """Inputs as they were given, as plain arrays that broadcast; and what their dimensions are called."""

    arrays: dict[str, Floats]
    shape: tuple[int, ...]
    dims: tuple[str, ...]
    along: dict[str, tuple[str, ...]]
    coordinates: dict[str, tuple[tuple[str, ...], npt.NDArray[Any]]]


def _grid(varied: Mapping[str, object]) -> _Grid:
    arrays = {name: _numbers(name, values) for name, values in varied.items()}
    try:
        shape = np.broadcast_shapes(*(array.shape for array in arrays.values()))
    except ValueError:
        shapes = ", ".join(f"{name} {array.shape}" for name, array in arrays.items())
        raise _core.InputError(f"shapes do not broadcast against each other: {shapes}") from None
    axes = {
        name: [k + len(shape) - array.ndim for k, size in enumerate(array.shape) if size != 1]
        for name, array in arrays.items()
    }
    dims: list[str] = []
    for k in range(len(shape)):
        alone = [name for name in axes if axes[name] == [k]]
        usual = "scenario" if len(shape) == 1 else f"scenario_{k}"
        dims.append(alone[0] if len(alone) == 1 else usual)
    along = {name: tuple(dims[k] for k in axes[name]) for name in arrays}
    return _Grid(arrays, shape, tuple(dims), along, {})


def _labelled_grid(varied: Mapping[str, Any]) -> _Grid:
    """The same for DataArrays, which go by the names of their dimensions."""
    import xarray as xr

    for name, values in varied.items():
        if not isinstance(values, xr.DataArray) and np.ndim(values) > 0:
            raise _core.InputError(
                f"{name} is an array without names of its dimensions beside DataArrays that have them"
            )
    labelled = {name: values for name, values in varied.items() if isinstance(values, xr.DataArray)}
    plain = {name: _numbers(name, values) for name, values in varied.items() if name not in labelled}
    for name, values in labelled.items():
        _numbers(name, np.empty(0, values.dtype))
    full = xr.broadcast(*xr.align(*labelled.values(), join="exact"))
    dims = tuple(str(dim) for dim in full[0].dims)
    arrays = {name: one.to_numpy().astype(np.float64) for name, one in zip(labelled, full, strict=True)} | plain
    along = {
        name: tuple(dim for dim in dims if dim in labelled[name].dims) if name in labelled else () for name in varied
    }
    coordinates = {
        str(name): (tuple(str(dim) for dim in values.dims), values.to_numpy())
        for one in full
        for name, values in one.coords.items()
    }
    return _Grid({name: arrays[name] for name in varied}, full[0].shape, dims, along, coordinates)


def _labels(varied: Mapping[str, object]) -> bool:
    xarray = sys.modules.get("xarray")  # where nobody imported it there is no DataArray
    return xarray is not None and any(isinstance(values, xarray.DataArray) for values in varied.values())


# ---- plans ----


def _thread_count(threads: int | None) -> int:
    if threads is None:
        return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    count = operator.index(threads)
    most = 1024
    if isinstance(threads, bool) or not 1 <= count <= most:
        raise _core.RangeError(f"threads {threads!r} must be 1 to {most}")
    return count


@contextlib.contextmanager
def _teller(progress: Progress, total: int) -> Iterator[Callable[[int, int], object] | None]:
    """What is told how many are done; None where nobody listens."""
    if callable(progress):
        yield progress
        return
    bars: Any = None
    if progress:
        with contextlib.suppress(ImportError):
            bars = importlib.import_module("tqdm")
    if bars is None:
        yield None
        return
    with bars.tqdm(total=total, unit=" plans") as bar:
        yield lambda done, _total: bar.update(done - bar.n)


def plans(
    request: "PlanRequest | Plan",
    *,
    water_temperature_c: float = 20.0,
    out_of_range: Literal["raise", "nan"] = "raise",
    threads: int | None = None,
    progress: Progress = False,
    **varied: Unpack[Varied],
) -> Plans:
    """Many plans at once: one for each combination of the varied inputs, which broadcast against each other as NumPy arrays do.

    Parameters
    ----------
    request : PlanRequest or Plan
        What all scenarios share.
    water_temperature_c : float
        Of water_l [degC].
    out_of_range : {"raise", "nan"}
        What happens where there is no plan: the error of the first such scenario with its index, or NaN there.
    threads : int, optional
        All cores where not given. The result does not depend on it.
    progress : bool or callable
        A bar, where tqdm is installed; or a function that is told (done, total) about ten times a second.
    **varied : float, array_like or xarray.DataArray
        In the units of their names, shares in percent.

        - mash: grain_kg, the whole bill in proportion; water_l or water_kg; conversion, fermentation_efficiency, soluble_share_of_rest,
          dissolved_by_products [%]; absorption [kg/kg]
        - still of the stripping run, and of the spirit run where that has none of its own: boiler_l, heating_kw, pressure_kpa, head_space [%],
          heat_loss [%], heat_loss_w_per_k, still_heat_kj_per_k; of one of its own: spirit_boiler_l, spirit_heating_kw, spirit_pressure_kpa
        - end of the stripping run: one of stripping_end_abv, stripping_end_pot_abv [% vol], stripping_end_l, stripping_end_head_c,
          stripping_end_recovered [%]
        - both runs: ambient_c, distillate_c, water_in_c, water_out_c
        - spirit run: plates, or packed_height_m and hetp_m; hold_up_kg, equilibration_h, strongest_charge_abv [% vol]; reflux, or take_off_abv [% vol]
          and max_reflux, or take_off_l_per_h
        - its end, the first that comes true: spirit_end_abv, spirit_end_pot_abv [% vol], spirit_end_l, spirit_end_recovered [%]
        - ends of fore_shots, heads and hearts, one of each: fore_shots_end_share [% of the alcohol of the charge], fore_shots_end_l,
          fore_shots_end_abv [% vol]; heads_end_..., hearts_end_...
        - recycled_l, recycled_abv [% vol]; target_abv [% vol], bottle_l; turnaround_h

    Returns
    -------
    Plans
        Arrays of the common shape; each figure is, bit for bit, that of `plan` of the scenario.

    Raises
    ------
    RangeError, InputError, SolveError
        As plan, with the index of the scenario in front; for inputs that are not known, contradict each other or do not broadcast.

    Examples
    --------
    Grain against water:

    >>> import numpy as np
    >>> from ferment import batch, still
    >>> usual = batch.plan(bill=[("flaked oats", 20.0)], water_l=80.0, stripping_still=still.Still(50.0, heating_kw=5.0))
    >>> grid = batch.plans(usual, grain_kg=np.array([[18.0], [20.0], [22.0]]), water_l=[70.0, 80.0])
    >>> grid.shape, grid.dims
    ((3, 2), ('grain_kg', 'water_l'))

    Inputs that are not known for sure are drawn:

    >>> rng = np.random.default_rng(1)
    >>> drawn = batch.plans(usual, conversion=rng.normal(85.0, 3.0, 200), hearts_end_abv=rng.uniform(55.0, 65.0, 200))
    >>> low, high = np.quantile(drawn.hearts_pure_alcohol_l, (0.05, 0.95))
    """
    shared: PlanRequest = getattr(request, "request", request)  # type: ignore[arg-type]
    given: dict[str, Any] = dict(varied)
    _require_known(given)
    _require_fitting(shared, given)
    if out_of_range not in ("raise", "nan"):
        raise _core.InputError(f'out_of_range "{out_of_range}" must be "raise" or "nan"')
    count = _thread_count(threads)
    grid = _labelled_grid(given) if _labels(given) else _grid(given)
    total = int(np.prod(grid.shape, dtype=np.int64))

    rows: list[tuple[str, Floats]] = []
    for name, array in grid.arrays.items():
        own = array.ravel() if array.size == 1 else np.ascontiguousarray(np.broadcast_to(array, grid.shape)).ravel()
        if name == "water_l":
            name, own = "water_kg", own / _LITRES_PER_CUBIC_METRE * liquid.water_density(float(water_temperature_c))
        rows.append((name, own))
    with _teller(progress, total) as tell:
        outcomes, failure = _core.plans(shared.values(), rows, total, count, out_of_range == "raise", tell)
    if failure is not None and out_of_range == "raise":
        index, kind, message = failure
        place = ", ".join(str(i) for i in np.unravel_index(index, grid.shape)) if grid.shape else ""
        raise getattr(_core, kind)(f"element [{place}]: {message}" if place else message)
    inputs = {name: np.broadcast_to(array, grid.shape) for name, array in grid.arrays.items()}
    return Plans(
        request=shared,
        inputs=inputs,
        dims=grid.dims,
        cautions=CAUTIONS,
        _along=grid.along,
        _coordinates=grid.coordinates,
        **{name: row.reshape(grid.shape) for name, row in outcomes.items()},
    )

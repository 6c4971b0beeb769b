"""Ensembles of plans: each figure is that of its own plan, shapes broadcast, frames and datasets say what is what, errors name the scenario."""

import dataclasses
import pickle
import sys
import threading
from collections.abc import Callable
from typing import Any

import ferment
import numpy as np
import numpy.typing as npt
import pytest
from ferment import _core, _plans, batch, liquid, still

STILL = still.Still(50.0, heating_kw=5.0, heat_loss=5.0, heat_loss_w_per_k=5.0, still_heat_kj_per_k=20.0)
BILL = [("flaked oats", 20.0), ("wheat", 10.0)]
REQUEST = batch.PlanRequest(BILL, 110.0, STILL, curve_points=21)
COLUMN = REQUEST.changed(
    spirit=batch.SpiritStill(
        still.Still(60.0, heating_kw=4.0), plates=2, hold_up_kg=0.2, take_off=still.TakeOff.at_reflux(1.0)
    )
)
HELD = COLUMN.changed(plates=8, take_off=still.TakeOff.at_strength(85.0, 10.0))

Change = Callable[[batch.PlanRequest, float], dict[str, Any]]


def spirit_still(name: str) -> Change:
    def change(request: batch.PlanRequest, x: float) -> dict[str, Any]:
        assert request.spirit.still is not None
        return {"still": dataclasses.replace(request.spirit.still, **{name: x})}

    return change


def end(part: str, by: str) -> Change:
    return lambda _, x: {part: batch.CutEnd(by, x)}


def stripping_end(by: str) -> Change:
    return lambda _, x: {"stripping_end": batch.StrippingEnd(by, x)}


def same(name: str) -> Change:
    return lambda _, x: {name: x}


def more_grain(request: batch.PlanRequest, x: float) -> dict[str, Any]:
    share = x / request.bill.mass_kg
    return {"bill": [(grain, mass_kg * share) for grain, mass_kg in request.bill.items]}


# What a varied input changes, and two values of it.
CHANGES: dict[str, tuple[batch.PlanRequest, Change, tuple[float, float]]] = {
    "grain_kg": (REQUEST, more_grain, (25.0, 33.0)),
    "conversion": (REQUEST, same("conversion"), (70.0, 88.8)),
    "fermentation_efficiency": (REQUEST, same("fermentation_efficiency"), (88.0, 93.3)),
    "soluble_share_of_rest": (REQUEST, same("soluble_share_of_rest"), (10.0, 20.0)),
    "dissolved_by_products": (REQUEST, same("dissolved_by_products"), (40.0, 66.0)),
    "absorption": (REQUEST, same("absorption"), (0.0, 1.1)),
    "boiler_l": (REQUEST, same("boiler_l"), (35.0, 80.0)),
    "head_space": (REQUEST, same("head_space"), (20.0, 60.0)),
    "heating_kw": (REQUEST, same("heating_kw"), (3.0, 7.0)),
    "heat_loss": (REQUEST, same("heat_loss"), (0.0, 9.0)),
    "heat_loss_w_per_k": (REQUEST, same("heat_loss_w_per_k"), (0.0, 8.0)),
    "still_heat_kj_per_k": (REQUEST, same("still_heat_kj_per_k"), (5.0, 30.0)),
    "pressure_kpa": (REQUEST, same("pressure_kpa"), (85.0, 102.0)),
    "stripping_end_abv": (REQUEST, stripping_end("distillate_abv"), (3.0, 9.0)),
    "stripping_end_pot_abv": (REQUEST, stripping_end("pot_abv"), (0.5, 1.0)),
    "stripping_end_l": (REQUEST, stripping_end("collected_l"), (8.0, 10.0)),
    "stripping_end_head_c": (REQUEST, stripping_end("head_c"), (97.0, 99.0)),
    "stripping_end_recovered": (REQUEST, stripping_end("recovered"), (90.0, 97.0)),
    "ambient_c": (REQUEST, same("ambient_c"), (5.0, 30.0)),
    "distillate_c": (REQUEST, same("distillate_c"), (18.0, 25.0)),
    "water_in_c": (REQUEST, same("water_in_c"), (8.0, 18.0)),
    "water_out_c": (REQUEST, same("water_out_c"), (40.0, 60.0)),
    "spirit_boiler_l": (COLUMN, spirit_still("boiler_l"), (20.0, 70.0)),
    "spirit_heating_kw": (COLUMN, spirit_still("heating_kw"), (2.0, 5.0)),
    "spirit_pressure_kpa": (COLUMN, spirit_still("pressure_kpa"), (90.0, 100.0)),
    "plates": (REQUEST, same("plates"), (0.0, 3.0)),
    "hold_up_kg": (COLUMN, same("hold_up_kg"), (0.0, 0.5)),
    "equilibration_h": (COLUMN, same("equilibration_h"), (0.0, 0.7)),
    "reflux": (COLUMN, lambda _, x: {"take_off": still.TakeOff.at_reflux(x)}, (0.5, 2.5)),
    "take_off_abv": (HELD, lambda _, x: {"take_off": still.TakeOff.at_strength(x, 10.0)}, (84.0, 87.0)),
    "max_reflux": (HELD, lambda _, x: {"take_off": still.TakeOff.at_strength(85.0, x)}, (8.0, 12.0)),
    "take_off_l_per_h": (COLUMN, lambda _, x: {"take_off": still.TakeOff.at_rate(x)}, (0.8, 1.2)),
    "spirit_end_abv": (REQUEST, same("distillate_abv"), (5.0, 30.0)),
    "spirit_end_pot_abv": (REQUEST, same("pot_abv"), (2.0, 5.0)),
    "spirit_end_l": (REQUEST, same("collected_l"), (6.0, 8.0)),
    "spirit_end_recovered": (REQUEST, same("recovered"), (80.0, 90.0)),
    "strongest_charge_abv": (REQUEST, same("strongest_charge_abv"), (25.0, 28.0)),
    "fore_shots_end_share": (REQUEST, end("fore_shots_end", "alcohol_share"), (0.5, 2.0)),
    "fore_shots_end_l": (REQUEST, end("fore_shots_end", "collected_l"), (0.05, 0.1)),
    "fore_shots_end_abv": (REQUEST, end("fore_shots_end", "distillate_abv"), (74.0, 74.5)),
    "heads_end_share": (REQUEST, end("heads_end", "alcohol_share"), (4.0, 9.0)),
    "heads_end_l": (REQUEST, end("heads_end", "collected_l"), (0.3, 0.6)),
    "heads_end_abv": (REQUEST, end("heads_end", "distillate_abv"), (71.0, 72.0)),
    "hearts_end_share": (REQUEST, end("hearts_end", "alcohol_share"), (60.0, 75.0)),
    "hearts_end_l": (REQUEST, end("hearts_end", "collected_l"), (3.0, 4.0)),
    "hearts_end_abv": (REQUEST, end("hearts_end", "distillate_abv"), (55.0, 65.0)),
    "recycled_l": (
        REQUEST.changed(recycled=batch.Recycled(1.0, 50.0)),
        lambda _, x: {"recycled": batch.Recycled(x, 50.0)},
        (0.0, 3.0),
    ),
    "recycled_abv": (
        REQUEST.changed(recycled=batch.Recycled(1.0, 50.0)),
        lambda _, x: {"recycled": batch.Recycled(1.0, x)},
        (30.0, 60.0),
    ),
    "target_abv": (REQUEST, same("target_abv"), (37.5, 46.0)),
    "bottle_l": (REQUEST, same("bottle_l"), (0.35, 0.5)),
    "turnaround_h": (REQUEST, same("turnaround_h"), (0.0, 2.0)),
    "water_kg": (REQUEST, same("water_kg"), (100.0, 123.0)),
    "water_l": (REQUEST, same("water_l"), (100.0, 123.0)),
}
PACKED = ("packed_height_m", "hetp_m")


def outcomes(plan: batch.Plan) -> dict[str, float]:
    part = {one.label: one.content for one in plan.fractions}
    made = plan.end_point.pure_alcohol_l.value + plan.recycled.pure_alcohol_l
    return {
        "wash_l": plan.strained.volume_l,
        "wash_abv": plan.strained.abv,
        "stripping_charges": plan.stripping_charges.count,
        "low_wines_l": plan.low_wines.volume_l,
        "low_wines_abv": plan.low_wines.abv,
        "spirit_charges": plan.spirit_charges.count,
        "fore_shots_l": part["fore_shots"].volume_l,
        "heads_l": part["heads"].volume_l,
        "hearts_l": part["hearts"].volume_l,
        "hearts_abv": part["hearts"].abv,
        "hearts_pure_alcohol_l": part["hearts"].pure_alcohol_l,
        "tails_l": part["tails"].volume_l,
        "bottled_l": plan.dilution.result.volume_l,
        "bottles": plan.bottling.bottles,
        "charges": plan.totals.charges,
        "energy_kwh": plan.totals.energy_kwh,
        "cooling_water_l": plan.totals.water_l,
        "total_h": plan.totals.total_h,
        "recovered": 100.0 * (part["hearts"].pure_alcohol_l / made),
        "balance_error": plan.balance_error,
    }


def check_same(found: batch.Plans, at: int | tuple[int, ...], plan: batch.Plan) -> None:
    for name, value in outcomes(plan).items():
        got = float(found.outcomes()[name][at])
        if name == "bottled_l":  # of a Dilution by way of mass
            assert got == pytest.approx(value, rel=1e-14)
        else:
            assert got == value, name  # bit for bit


def test_every_input_is_in_the_table() -> None:
    assert {*CHANGES, *PACKED} == {*_core.plan_inputs, "water_l"}
    assert set(_plans.Varied.__annotations__) == {*_core.plan_inputs, "water_l"}


@pytest.mark.parametrize("name", list(CHANGES))
def test_each_figure_is_that_of_its_own_plan(name: str) -> None:
    request, change, values = CHANGES[name]
    varied: Any = {name: np.array(values)}
    found = batch.plans(request, **varied)
    assert found.shape == (2,)
    assert found.inputs[name].tolist() == list(values)
    for i, value in enumerate(values):
        check_same(found, i, batch.plan(request.changed(**change(request, value))))
    # Each is worth varying: something else comes of it.
    assert any(row[0] != row[1] for row in found.outcomes().values())


def test_a_packing_is_varied_by_height() -> None:
    found = batch.plans(REQUEST, packed_height_m=[0.5, 0.9], hetp_m=0.25)
    for i, height in enumerate((0.5, 0.9)):
        check_same(found, i, batch.plan(REQUEST.changed(packed_height_m=height, hetp_m=0.25)))


@pytest.mark.parametrize("threads", [1, 2, 7, None])
def test_any_number_of_threads_gives_the_same(threads: int | None) -> None:
    rng = np.random.default_rng(5)
    inputs: Any = {
        "water_kg": rng.uniform(90.0, 140.0, 40),
        "pressure_kpa": rng.uniform(85.0, 103.0, 40),
        "plates": rng.integers(0, 3, 40),
        "hearts_end_abv": rng.uniform(50.0, 68.0, 40),
    }
    found = batch.plans(REQUEST, **inputs, threads=threads)
    for i in (0, 17, 39):
        one = {name: value[i] for name, value in inputs.items() if name != "hearts_end_abv"}
        ends = batch.CutEnd.distillate(inputs["hearts_end_abv"][i])
        check_same(found, i, batch.plan(REQUEST.changed(**one, hearts_end=ends)))
    assert found == batch.plans(REQUEST, **inputs, threads=3)
    assert found.balance_error.max() <= 1e-10  # what a plan promises


def test_inputs_broadcast_as_arrays_do() -> None:
    found = batch.plans(REQUEST, grain_kg=np.array([[25.0], [30.0], [35.0]]), water_l=[100.0, 120.0], bottle_l=0.5)
    assert found.shape == (3, 2)
    assert found.size == 6
    assert found.dims == ("grain_kg", "water_l")
    assert all(row.shape == (3, 2) for row in (*found.outcomes().values(), *found.inputs.values()))
    change = {**more_grain(REQUEST, 35.0), "water_l": 100.0, "bottle_l": 0.5}
    check_same(found, (2, 0), batch.plan(REQUEST.changed(**change)))
    none = batch.plans(REQUEST, water_l=np.empty((0, 4)))
    assert none.shape == (0, 4)
    one = batch.plans(batch.plan(REQUEST), water_l=110.0)
    assert one.shape == ()
    assert one.dims == ()
    check_same(one, (), batch.plan(REQUEST.changed(water_l=110.0)))
    warm = batch.plans(REQUEST, water_l=110.0, water_temperature_c=35.0)
    check_same(warm, (), batch.plan(REQUEST, water_l=110.0, water_temperature_c=35.0))
    with pytest.raises(ferment.InputError, match=r"shapes do not broadcast.*water_l \(2,\), grain_kg \(3,\)"):
        batch.plans(REQUEST, water_l=[1.0, 2.0], grain_kg=[1.0, 2.0, 3.0])


def test_the_first_scenario_without_a_plan_is_named() -> None:
    grid: Any = {"water_l": np.array([[100.0], [110.0]]), "target_abv": [40.0, 95.0, 40.0, 99.0]}
    for threads in (1, 3):
        with pytest.raises(ferment.Error, match=r"^element \[0, 1\]: bottling: ") as raised:
            batch.plans(REQUEST, **grid, threads=threads)
        with pytest.raises(type(raised.value)) as alone:
            batch.plan(REQUEST.changed(water_l=100.0, target_abv=95.0))
        assert str(raised.value) == f"element [0, 1]: {alone.value}"
    holes = batch.plans(REQUEST, **grid, out_of_range="nan")
    for row in holes.outcomes().values():
        assert np.isnan(row).tolist() == [[False, True, False, True]] * 2
    assert "4 without a plan" in repr(holes)
    with pytest.raises(ferment.InputError, match=r"^element \[1\]: water_kg is not a number"):
        batch.plans(REQUEST, water_kg=[100.0, np.nan])
    assert np.isnan(batch.plans(REQUEST, water_kg=[100.0, np.nan], out_of_range="nan").bottles).tolist() == [
        False,
        True,
    ]
    with pytest.raises(ferment.InputError, match=r"^element \[1\]: plates 2.5 must be a whole number"):
        batch.plans(REQUEST, plates=[2.0, 2.5])
    with pytest.raises(ferment.Error, match=r"^[a-z]"):
        batch.plans(REQUEST, water_kg=-1.0)


@pytest.mark.parametrize(
    ("request_", "inputs", "message"),
    [
        (REQUEST, {"water": 1.0}, r"water is not known; plans can vary absorption, .*water_l"),
        (REQUEST, {"water_l": 1.0, "water_kg": 1.0}, "water_l and water_kg are both given"),
        (REQUEST, {"hearts_end_l": 1.0, "hearts_end_abv": 60.0}, "hearts_end_l and hearts_end_abv are both given"),
        (REQUEST, {"stripping_end_l": 1.0, "stripping_end_abv": 5.0}, "stripping_end_abv and stripping_end_l are both"),
        (REQUEST, {"reflux": 1.0, "take_off_l_per_h": 1.0}, "reflux and take_off_l_per_h are both given"),
        (REQUEST, {"take_off_abv": 80.0}, "max_reflux is missing"),
        (REQUEST, {"max_reflux": 8.0}, "take_off_abv is missing"),
        (REQUEST, {"spirit_boiler_l": 8.0}, "the spirit run has no still of its own"),
        (
            REQUEST.changed(by_congeners=True),
            {"hearts_end_abv": 60.0},
            "hearts_end_abv cannot be varied where cuts go by",
        ),
        (REQUEST, {"out_of_range": "clip"}, 'out_of_range "clip" must be "raise" or "nan"'),
    ],
)
def test_what_contradicts_itself_is_refused(request_: batch.PlanRequest, inputs: dict[str, Any], message: str) -> None:
    with pytest.raises(ferment.InputError, match=message):
        batch.plans(request_, **inputs)


def test_wrong_types_and_threads_are_refused() -> None:
    for wrong in ("many", [True, False], [1j]):
        with pytest.raises(TypeError, match="water_l must be numbers"):
            batch.plans(REQUEST, water_l=wrong)
    for threads in (0, -1, 5000, True):
        with pytest.raises(ferment.RangeError, match="threads"):
            batch.plans(REQUEST, water_l=100.0, threads=threads)
    with pytest.raises(TypeError):
        batch.plans(REQUEST, water_l=100.0, threads=1.5)  # type: ignore[arg-type]


def test_progress_is_told_in_the_calling_thread() -> None:
    told: list[tuple[int, int]] = []
    callers = set()

    def progress(done: int, total: int) -> None:
        told.append((done, total))
        callers.add(threading.get_ident())

    batch.plans(REQUEST, water_kg=np.linspace(90.0, 140.0, 60), progress=progress, threads=2)
    assert told[-1] == (60, 60)
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert callers == {threading.get_ident()}

    class EnoughError(Exception):
        pass

    def stop(_done: int, _total: int) -> None:
        raise EnoughError

    with pytest.raises(EnoughError):
        batch.plans(REQUEST, water_kg=np.linspace(90.0, 140.0, 60), progress=stop)


def test_progress_is_a_bar_where_there_is_one(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("tqdm")
    batch.plans(REQUEST, water_kg=[100.0, 110.0, 120.0], progress=True)
    assert "3/3" in capsys.readouterr().err
    monkeypatch.setitem(sys.modules, "tqdm", None)  # as if it were not installed
    batch.plans(REQUEST, water_kg=[100.0, 110.0], progress=True)
    told = capsys.readouterr()
    assert (told.out, told.err) == ("", "")


def test_other_threads_run_while_plans_are_made() -> None:
    count = 0
    done = threading.Event()

    def tick() -> None:
        nonlocal count
        while not done.wait(0.001):
            count += 1

    other = threading.Thread(target=tick)
    other.start()
    batch.plans(REQUEST, water_kg=np.linspace(90.0, 140.0, 200), threads=1)
    done.set()
    other.join()
    assert count >= 5  # held back by a lock it would be none or one


def test_a_frame_has_a_row_for_each_scenario(tmp_path: Any) -> None:
    pd = pytest.importorskip("pandas")
    found = batch.plans(REQUEST, grain_kg=np.array([[25.0], [30.0]]), water_l=[100.0, 110.0, 120.0])
    frame = found.to_frame()
    assert list(frame.columns) == ["grain_kg", "water_l", *found.outcomes()]
    assert frame["water_l"].tolist() == [100.0, 110.0, 120.0] * 2
    assert frame["grain_kg"].tolist() == [25.0] * 3 + [30.0] * 3
    assert frame["hearts_l"].tolist() == found.hearts_l.ravel().tolist()
    assert frame.attrs["cautions"] == still.CAUTIONS
    pytest.importorskip("pyarrow")
    frame.to_parquet(tmp_path / "plans.parquet")
    pd.testing.assert_frame_equal(pd.read_parquet(tmp_path / "plans.parquet"), frame, check_exact=True)
    assert len(batch.plans(REQUEST, water_l=110.0).to_frame()) == 1


def test_a_dataset_has_named_dimensions() -> None:
    pytest.importorskip("xarray")
    grid = batch.plans(
        REQUEST, grain_kg=np.array([[25.0], [30.0]]), water_l=[100.0, 110.0, 120.0], target_abv=42.0
    ).to_xarray()
    assert dict(grid.sizes) == {"grain_kg": 2, "water_l": 3}
    assert float(grid["bottles"].sel(grain_kg=30.0, water_l=110.0)) > 0.0
    assert grid["hearts_l"].dims == ("grain_kg", "water_l")
    assert float(grid.coords["target_abv"]) == 42.0
    assert grid["energy_kwh"].attrs["units"] == "kWh"
    assert grid.coords["water_l"].attrs["units"] == "L"
    assert grid["hearts_abv"].attrs["units"] == "% vol"
    assert grid.attrs["cautions"] == still.CAUTIONS
    drawn = batch.plans(REQUEST, conversion=[80.0, 85.0], target_abv=[40.0, 45.0]).to_xarray()
    assert dict(drawn.sizes) == {"scenario": 2}
    assert drawn.coords["conversion"].dims == ("scenario",)
    both = batch.plans(
        REQUEST, water_l=[[100.0], [110.0]], conversion=[[80.0, 81.0, 82.0]], target_abv=[[40.0, 41.0, 42.0]] * 2
    )
    assert both.dims == ("water_l", "conversion")
    assert both.to_xarray().coords["target_abv"].dims == ("water_l", "conversion")


def test_data_arrays_keep_their_dimensions() -> None:
    xr = pytest.importorskip("xarray")
    pd = pytest.importorskip("pandas")
    water = xr.DataArray(
        [100.0, 110.0, 120.0], dims="water", coords={"water": [1, 2, 3], "cask": ("water", ["a", "b", "c"])}
    )
    grain = xr.DataArray([25.0, 30.0], dims="grain")
    found = batch.plans(REQUEST, grain_kg=grain, water_l=water, target_abv=42.0)
    assert found.dims == ("grain", "water")
    assert found == batch.plans(REQUEST, grain_kg=grain, water_l=water, target_abv=42.0)
    data = found.to_xarray()
    assert data["bottles"].dims == ("grain", "water")
    assert data.coords["cask"].to_numpy().tolist() == ["a", "b", "c"]
    assert data.coords["water_l"].dims == ("water",)
    plain = batch.plans(REQUEST, grain_kg=np.array([[25.0], [30.0]]), water_l=[100.0, 110.0, 120.0], target_abv=42.0)
    assert np.array_equal(found.hearts_l, plain.hearts_l)
    assert isinstance(found.to_frame(), pd.DataFrame)
    assert found.to_frame()["cask"].tolist() == ["a", "b", "c"] * 2
    with pytest.raises(ferment.InputError, match="target_abv is an array without names"):
        batch.plans(REQUEST, water_l=water, target_abv=[40.0, 41.0, 42.0])


def test_results_compare_print_and_pickle() -> None:
    found = batch.plans(REQUEST, water_l=[100.0, 110.0])
    again = pickle.loads(pickle.dumps(found))
    assert again == found
    assert hash(again) == hash(found)
    assert found != batch.plans(REQUEST, water_l=[100.0, 111.0])
    assert found != batch.plans(REQUEST, water_l=[[100.0, 110.0]])
    assert repr(found).startswith("<Plans: 2 scenarios (2,) of water_l, ")
    assert str(found).endswith(still.CAUTIONS)
    assert "Plans" in found._repr_html_()
    assert "hearts_l" in found.to_dict()


# ---- arrays of other packages in elementwise functions ----

ELEMENTWISE: list[tuple[Callable[..., Any], tuple[float, ...]]] = [
    (liquid.spirit_density, (20.0,)),
    (liquid.water_density, ()),
]


@pytest.mark.parametrize(("function", "rest"), ELEMENTWISE)
def test_elementwise_functions_work_through_apply_ufunc(function: Callable[..., Any], rest: tuple[float, ...]) -> None:
    xr = pytest.importorskip("xarray")
    x = xr.DataArray([10.0, 20.0, 30.0], dims="cask", coords={"cask": ["a", "b", "c"]})
    y = xr.apply_ufunc(function, x, *rest)
    assert y.dims == ("cask",)
    assert y.coords["cask"].to_numpy().tolist() == ["a", "b", "c"]
    expected: npt.NDArray[np.float64] = np.asarray(function(x.to_numpy(), *rest))
    assert np.array_equal(y.to_numpy(), expected)
    pytest.importorskip("dask")
    lazy = xr.apply_ufunc(function, x.chunk({"cask": 2}), *rest, dask="parallelized", output_dtypes=[float])
    assert lazy.chunks is not None
    assert np.array_equal(lazy.compute().to_numpy(), expected)


@pytest.mark.parametrize(("function", "rest"), ELEMENTWISE)
def test_elementwise_functions_take_labelled_and_lazy_arrays(
    function: Callable[..., Any], rest: tuple[float, ...]
) -> None:
    xr = pytest.importorskip("xarray")
    x = xr.DataArray([10.0, 20.0, 30.0], dims="cask", coords={"cask": ["a", "b", "c"]})
    y = function(x, *rest)
    assert isinstance(y, xr.DataArray)
    assert y.dims == ("cask",)
    assert y.coords["cask"].to_numpy().tolist() == ["a", "b", "c"]
    expected = np.asarray(function(x.to_numpy(), *rest))
    assert np.array_equal(y.to_numpy(), expected)
    da = pytest.importorskip("dask.array")
    lazy = function(x.chunk({"cask": 2}), *rest)
    assert isinstance(lazy.data, da.Array)
    assert np.array_equal(lazy.compute().to_numpy(), expected)
    bare = function(da.from_array(x.to_numpy(), chunks=2), *rest)
    assert isinstance(bare, da.Array)
    assert np.array_equal(bare.compute(), expected)
    with pytest.raises(ferment.RangeError, match=r"element \[1\]"):
        function(xr.DataArray([10.0, 500.0], dims="cask"), *rest)


def test_two_labelled_arrays_broadcast_by_name() -> None:
    xr = pytest.importorskip("xarray")
    strength = xr.DataArray([10.0, 20.0, 30.0], dims="cask")
    temperature = xr.DataArray([10.0, 15.0], dims="day")
    y = liquid.spirit_density(strength, temperature)  # type: ignore[call-overload,unused-ignore]
    assert y.dims == ("cask", "day")
    assert y.to_numpy().tolist() == liquid.spirit_density([[10.0], [20.0], [30.0]], [10.0, 15.0]).tolist()

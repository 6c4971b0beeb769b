"""The sweep of the examples: the same parts for any number of workers, and clear refusals."""

import importlib.util
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest
from ferment import batch
from ferment.still import CAUTIONS

SCRIPT = Path(__file__).resolve().parents[2] / "examples" / "what_if_cluster.py"


@pytest.fixture(scope="module")
def sweep() -> ModuleType:
    spec = importlib.util.spec_from_file_location("what_if_cluster", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-W", "error", str(SCRIPT), *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)


@pytest.mark.slow
def test_parts_do_not_depend_on_the_workers(tmp_path: Path) -> None:
    pd = pytest.importorskip("pandas")
    for package in ("dask", "distributed", "pyarrow"):
        pytest.importorskip(package)
    frames = {}
    for workers in (1, 2):
        folder = tmp_path / str(workers)
        done = run("--scenarios", "4100", "--workers", str(workers), "--out", str(folder))
        assert done.returncode == 0, done.stderr
        assert "Warning" not in done.stderr
        assert CAUTIONS in done.stdout
        assert "nvented" in done.stdout
        assert str(folder / "summary.csv") in done.stdout
        parts = sorted(folder.glob("part-*.parquet"))
        assert len(parts) == 3  # 2000, 2000 and 100
        frames[workers] = pd.concat([pd.read_parquet(part) for part in parts], ignore_index=True)
    pd.testing.assert_frame_equal(frames[1], frames[2], check_exact=True)
    assert sorted(frames[2]["scenario"]) == list(range(4100))
    table = pd.read_csv(tmp_path / "2" / "summary.csv")
    assert table["scenarios"].sum() == 4100
    assert len(table) == 27  # three bills, three of water, three cuts
    one = table.iloc[0]
    own = frames[2]
    for name in ("grain", "water_l", "hearts_end_abv"):
        own = own[own[name] == one[name]]
    assert one["bottles_p50"] == pytest.approx(own["bottles"].median(), rel=1e-5)
    assert (table["bottles_p5"] <= table["bottles_p95"]).all()


def test_a_scenario_is_a_plan(sweep: ModuleType) -> None:
    pytest.importorskip("pandas")
    rows = sweep.scenarios(12, 7, 3)
    assert sorted(rows["scenario"]) == list(range(3 * sweep.CHUNK, 3 * sweep.CHUNK + 12))
    row = rows.iloc[5]
    request = sweep.usual(row["grain"])
    changed = request.changed(
        water_l=row["water_l"],
        conversion=row["conversion"],
        fermentation_efficiency=row["fermentation_efficiency"],
        absorption=row["absorption"],
        pressure_kpa=row["pressure_kpa"],
        hearts_end=batch.CutEnd.distillate(row["hearts_end_abv"]),
    )
    plan = batch.plan(changed)
    assert row["bottles"] == plan.bottling.bottles
    assert row["hearts_l"] == plan.fraction("hearts").content.volume_l


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--scenarios", "0"], "--scenarios 0 must be a whole number of 1 to 1000000000"),
        (["--scenarios", "many"], "--scenarios many must be a whole number"),
        (["--scenarios", "1.5"], "--scenarios 1.5 must be a whole number"),
        (["--workers", "0"], "--workers 0 must be a whole number of 1 to 1024"),
        (["--seed", "-1"], "--seed -1 must be a whole number"),
        (["--cores", "2"], "unrecognized arguments: --cores 2"),
    ],
)
def test_nonsense_is_refused(
    sweep: ModuleType, arguments: list[str], message: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert sweep.main([*arguments, "--out", str(tmp_path / "new")]) == 2
    told = capsys.readouterr().err
    assert told.startswith(message)
    assert told.count("\n") == 1
    assert not (tmp_path / "new").exists()


def test_a_folder_that_holds_something_is_refused(
    sweep: ModuleType, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    (tmp_path / "part-000000.parquet").write_text("mine")
    assert sweep.main(["--out", str(tmp_path)]) == 2
    assert "must be a new or an empty folder" in capsys.readouterr().err
    assert sweep.main(["--out", str(tmp_path / "part-000000.parquet")]) == 2


def test_without_dask_one_line_says_so(
    sweep: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.setattr(sweep, "PACKAGES", ("no_such_package",))
    assert sweep.main(["--out", str(tmp_path)]) == 2
    assert capsys.readouterr().err == "no_such_package not installed: pip install no_such_package\n"

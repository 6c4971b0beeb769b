"""A million what-ifs on all cores: which grain, how much water and which cut give how many bottles, when conversion, yeast and weather are not known.

    python what_if_cluster.py [--scenarios N] [--workers N] [--out DIR] [--seed N] [--scheduler ADDRESS]

Shares the scenarios out over dask.distributed, on this machine or on a cluster that is running, and writes Parquet parts and a summary table. The same
seed gives the same parts, whatever the number of workers. Stills, bills and spreads are invented; put your own in their place. Exit code 0; 2 with one
line for arguments that cannot be used or a package that is missing.
"""

import argparse
import importlib.util
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from ferment import batch, still

if TYPE_CHECKING:
    import pandas as pd

BAD_INPUT = 2
MOST_SCENARIOS = 1_000_000_000
MOST_WORKERS = 1024
CHUNK = 2_000  # scenarios of one task and one part; fixed, so that parts do not depend on the workers
PACKAGES = ("dask", "distributed", "pandas", "pyarrow")

# Invented: a small shed with one boiler.
STILL = still.Still(60.0, heating_kw=5.5, heat_loss=4.0, heat_loss_w_per_k=4.0, still_heat_kj_per_k=15.0)
BILLS = {
    "oats and rye": [("flaked oats", 16.0), ("flaked rye", 6.0)],
    "barley": [("flaked barley", 20.0), ("barley malt", 2.0)],
    "wheat": [("wheat", 22.0)],
}
WATER_L = (70.0, 80.0, 90.0)
HEARTS_END_ABV = (58.0, 62.0, 66.0)
CURVE_POINTS = 41
CHOICES = ["grain", "water_l", "hearts_end_abv"]
QUANTILES = {"p5": 0.05, "p50": 0.50, "p95": 0.95}


def usual(bill: str) -> batch.PlanRequest:
    """What the scenarios of a bill share."""
    return batch.PlanRequest(BILLS[bill], water_kg=80.0, stripping_still=STILL, curve_points=CURVE_POINTS)


def scenarios(count: int, seed: int, chunk: int) -> "pd.DataFrame":
    """The scenarios of one chunk and what comes of them."""
    import pandas as pd

    rng = np.random.default_rng([seed, chunk])
    grain = rng.integers(len(BILLS), size=count)
    drawn = {
        "water_l": rng.choice(WATER_L, count),
        "hearts_end_abv": rng.choice(HEARTS_END_ABV, count),
        # Not known beforehand; the spreads are invented.
        "conversion": 100.0 * rng.beta(40.0, 6.0, count),
        "fermentation_efficiency": 100.0 * rng.beta(60.0, 4.0, count),
        "absorption": rng.uniform(0.7, 1.3, count),
        "pressure_kpa": rng.normal(99.5, 0.8, count),
    }
    parts = []
    for k, bill in enumerate(BILLS):
        own = np.flatnonzero(grain == k)
        varied: Any = {name: values[own] for name, values in drawn.items()}
        found = batch.plans(usual(bill), **varied, out_of_range="nan", threads=1)
        frame = found.to_frame()
        frame.insert(0, "grain", bill)
        frame.insert(0, "scenario", chunk * CHUNK + own)
        parts.append(frame)
    return pd.concat(parts, ignore_index=True)


def write_part(count: int, seed: int, chunk: int, folder: str) -> int:
    """Writes the part of a chunk; how many scenarios have no plan."""
    frame = scenarios(count, seed, chunk)
    frame.to_parquet(Path(folder) / f"part-{chunk:06d}.parquet", index=False)
    return int(frame["bottles"].isna().sum())


def summary(folder: Path) -> "pd.DataFrame":
    """Bottles by grain, water and cut: quantiles, and the best first."""
    import pandas as pd

    columns = [*CHOICES, "bottles", "energy_kwh"]
    parts = [pd.read_parquet(part, columns=columns) for part in sorted(folder.glob("part-*.parquet"))]
    groups = pd.concat(parts, ignore_index=True).groupby(CHOICES, sort=True)
    table = pd.DataFrame({"scenarios": groups.size()})
    for name, share in QUANTILES.items():
        table[f"bottles_{name}"] = groups["bottles"].quantile(share)
    table["energy_kwh_p50"] = groups["energy_kwh"].median()
    return table.sort_values(["bottles_p50", "bottles_p5"], ascending=False, kind="stable").reset_index()


def run(client: Any, count: int, seed: int, folder: Path) -> int:
    """Shares the chunks out; how many scenarios have no plan."""
    from distributed import as_completed

    sizes = [min(CHUNK, count - first) for first in range(0, count, CHUNK)]
    tasks = client.map(
        write_part, sizes, [seed] * len(sizes), range(len(sizes)), [str(folder)] * len(sizes), pure=False
    )
    none = 0
    finished: Any = as_completed(tasks)  # type: ignore[no-untyped-call]
    for done, task in enumerate(finished, 1):
        none += task.result()
        print(f"\r{done} of {len(sizes)} parts", end="", file=sys.stderr, flush=True)
        task.release()
    print(file=sys.stderr)
    return none


class UnusableError(Exception):
    """Arguments that cannot be used; the message names one, its value and what is allowed."""


class Arguments(argparse.ArgumentParser):
    def error(self, message: str) -> Any:
        raise UnusableError(message)


def whole(text: str, name: str, least: int, most: int) -> int:
    try:
        number = int(text.replace("_", ""))
    except ValueError:
        number = least - 1
    if not least <= number <= most:
        raise UnusableError(f"{name} {text} must be a whole number of {least} to {most}")
    return number


def arguments(given: Sequence[str] | None) -> argparse.Namespace:
    parser = Arguments(description=(__doc__ or "").split("\n", 1)[0])
    parser.add_argument("--scenarios", default="1000000", help="how many (a million)")
    parser.add_argument(
        "--workers", default=str(os.cpu_count() or 1), help="processes on this machine (one for each core)"
    )
    parser.add_argument("--out", default="what_if_parts", type=Path, help="folder for the parts, new or empty")
    parser.add_argument("--seed", default="1", help="of the drawn inputs")
    parser.add_argument(
        "--scheduler", help="of a dask cluster that is running, in place of --workers; it must see the folder"
    )
    asked = parser.parse_args(given)
    asked.scenarios = whole(asked.scenarios, "--scenarios", 1, MOST_SCENARIOS)
    asked.workers = whole(asked.workers, "--workers", 1, MOST_WORKERS)
    asked.seed = whole(asked.seed, "--seed", 0, 2**63 - 1)
    if asked.out.exists() and (not asked.out.is_dir() or any(asked.out.iterdir())):
        raise UnusableError(f"--out {asked.out} must be a new or an empty folder; it holds something")
    missing = [name for name in PACKAGES if importlib.util.find_spec(name) is None]
    if missing:
        raise UnusableError(f"{', '.join(missing)} not installed: pip install {' '.join(missing)}")
    return asked


def main(given: Sequence[str] | None = None) -> int:
    try:
        asked = arguments(given)
        folder = asked.out.resolve()
        folder.mkdir(parents=True, exist_ok=True)
    except (UnusableError, OSError) as e:
        print(e, file=sys.stderr)
        return BAD_INPUT
    import distributed

    connect: Any = distributed.Client
    start: Any = distributed.LocalCluster
    if asked.scheduler:
        with connect(asked.scheduler) as client:
            none = run(client, asked.scenarios, asked.seed, folder)
    else:
        with (
            start(n_workers=asked.workers, threads_per_worker=1, dashboard_address=None) as cluster,
            connect(cluster) as client,
        ):
            none = run(client, asked.scenarios, asked.seed, folder)
    table = summary(folder)
    table.to_csv(folder / "summary.csv", index=False, float_format="%.6g")
    print("Invented stills, bills and spreads; bottles in 5, 50 and 95 of 100 scenarios, most first:")
    print(table.to_string(index=False, float_format=lambda x: f"{x:.4g}"))
    print(f"{asked.scenarios} scenarios, {none} without a plan (NaN)")
    print(f"parts: {folder}/part-*.parquet\nsummary: {folder}/summary.csv")
    print(still.CAUTIONS)
    return 0


if __name__ == "__main__":
    sys.exit(main())

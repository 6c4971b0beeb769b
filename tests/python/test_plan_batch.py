"""The main job: the sheet of the example batch, and one clear line for a batch file that cannot be used."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SCRIPT = EXAMPLES / "plan_batch.py"
BATCH = EXAMPLES / "batches" / "shed_batch.toml"

pytest.importorskip("matplotlib")


def run(batch: Path, folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, SCRIPT, batch, folder / "sheet.png"], capture_output=True, text=True, cwd=folder, check=False
    )


def test_sheet(tmp_path: Path) -> None:
    done = run(BATCH, tmp_path)
    assert done.returncode == 0, done.stderr
    text = done.stdout
    for heading in ("BEFORE", "DURING", "AFTER", "CAUTIONS"):
        assert f"\n{heading}\n" in text
    assert (tmp_path / "sheet.png").read_bytes().startswith(b"\x89PNG")
    # 16.5 kg of cereal at about 0.53 starch and 720 L per tonne of starch (stoichiometry) is 7 to 8 litres.
    potential = re.search(r"potential, all converted +([0-9.]+) ", text)
    assert potential is not None
    assert 7.0 < float(potential[1]) < 8.2
    assert len(re.findall(r"^  day ", text, flags=re.MULTILINE)) == 2
    # Common practice, no source: done within about two weeks at 18 to 25 degC, and below 1.000.
    forecast = re.search(r"forecast  done on day (\d+), \d+ April \(day \d+ to [\w ]+\), .* gravity ([0-9.]+) ", text)
    assert forecast is not None
    assert 5 <= int(forecast[1]) <= 14
    assert float(forecast[2]) < 1.0
    assert "m3/h of fresh air at least" in text
    # Day 5 at 1.012 is late for this batch, and something is said of why; by day 12 it has caught up.
    late, done = re.findall(r"^  day .*\n +(.*)$", text, flags=re.MULTILINE)
    assert late.startswith("slow (")
    assert "most likely under-pitched" in late
    assert done.startswith("finished (")
    assert re.search(r"^ +look again on day (6|7|8|9), \d+ April$", text, flags=re.MULTILINE)
    assert "10 of 0.7 L" in text


def test_from_sacks_to_bottles(tmp_path: Path) -> None:
    text = run(BATCH, tmp_path).stdout
    after, ledger = text.split("\nAFTER\n")[1].split("\nLEDGER\n")
    assert re.search(r"^  planned +conversion of \d\d %, as the readings say; ", after)
    # Four charges in a boiler of 30 L: at least a quarter of it stays empty.
    stripping = re.search(r"stripping +(\d+) charges of ([0-9.]+) L, (\d+) % of the boiler empty", after)
    assert stripping is not None
    assert float(stripping[2]) <= 30.0 * 0.75
    assert int(stripping[3]) >= 25
    assert re.findall(r"^    (fore-shots|heads|hearts|tails) ", after, flags=re.MULTILINE) == [
        "fore-shots",
        "heads",
        "hearts",
        "tails",
    ]
    assert "not drink" in after
    assert re.search(r"takes +\d+ kWh, [0-9.]+ h of heating and [0-9.]+ h between, \d+ L of cooling water", after)
    # Evaporating a litre of water takes 0.63 kWh; 30 L come over in both runs, and the pots are heated: 20 to 40 kWh.
    energy = re.search(r"takes +(\d+) kWh", after)
    assert energy is not None
    assert 20 <= int(energy[1]) <= 40
    # 4.4 L of 68 % vol at 11 degC is 2.99 L, and about 0.8 % more at 20 degC.
    hearts = re.search(
        r"^ +([0-9.]+) .* hearts \[measured\], expected ([0-9.]+) L, collected$", ledger, flags=re.MULTILINE
    )
    assert hearts is not None
    assert 3.0 <= float(hearts[1]) <= 3.03
    for place in ("low wines", "heads", "tails"):
        assert f"{place} [measured], expected" in ledger
    assert "in the wash [expected]" in ledger
    assert "\n  Findings\n    none\n" in ledger
    assert text.index("\nCAUTIONS\n") > text.index("\nLEDGER\n")


def changed(tmp_path: Path, *pairs: tuple[str, str]) -> Path:
    text = BATCH.read_text()
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    batch = tmp_path / "batch.toml"
    batch.write_text(text)
    return batch


def test_more_hearts_than_there_can_be(tmp_path: Path) -> None:
    done = run(changed(tmp_path, ("collected_l = 4.4", "collected_l = 7.2")), tmp_path)
    assert done.returncode == 0, done.stderr
    assert re.search(r"impossible: from low wines to hearts: [0-9.]+ L after, [0-9.]+ L before; ", done.stdout)


def test_without_stills_and_jars(tmp_path: Path) -> None:
    """A batch file of before: the sheet without the plan of the stills, and the ledger all the same."""
    text = BATCH.read_text()
    start, end = text.index("[stripping]"), text.index("[spirit]\n")
    batch = tmp_path / "batch.toml"
    batch.write_text(text[:start] + text[end:])
    done = run(batch, tmp_path)
    assert done.returncode == 0, done.stderr
    assert "stripping  " not in done.stdout
    assert "10 of 0.7 L" in done.stdout
    assert re.search(r"hearts \[measured\], collected$", done.stdout, flags=re.MULTILINE)


def test_a_column(tmp_path: Path) -> None:
    pairs = (
        ("plates = 0 ", "plates = 3\nreflux = 2.0\nboiler_l = 25.0\nheating_kw = 2.0 "),
        ("hearts_end_abv = 60.0", "hearts_end_abv = 80.0"),
    )
    done = run(changed(tmp_path, *pairs), tmp_path)
    assert done.returncode == 0, done.stderr
    hearts = re.search(r"^    hearts +([0-9.]+) L of ([0-9.]+) % vol", done.stdout, flags=re.MULTILINE)
    assert hearts is not None
    assert float(hearts[2]) > 85.0


BAD = [
    ('"flaked rye"', '"flaked ryee"', r"grain\[2\]\.name = 'flaked ryee': unknown grain .* flaked rye,"),
    ("mass_kg = 4.0", "mass_kg = -4.0", r"grain\[2\]\.mass_kg = -4\.0 must be a number of 0\.001 to 100000 kg"),
    ("mass_kg = 4.0", "mass_kg = true", r"grain\[2\]\.mass_kg = true must be a number"),
    ("mass_kg = 4.0", 'mass_kg = "4"', r"grain\[2\]\.mass_kg = '4' must be a number"),
    ("mass_kg = 4.0", "mass_lb = 9", r"grain\[2\]\.mass_lb = 9 is not known; this quantity is written mass_kg"),
    (
        "temperature_c = 14.0",
        "temperature_f = 57",
        r"water\.temperature_f = 57 is not known; this quantity is written temperature_c",
    ),
    (
        "temperature_c = 14.0",
        "temperature_c = 75",
        r"water\.temperature_c = 75 must be a number of 0 to 60 degC; if this is degF, write 23\.9",
    ),
    ("temperature_c = 14.0", "temperature_c = nan", r"water\.temperature_c = nan must be a number"),
    ("pitched = 2026-04-04", "", r"fermentation\.pitched is missing; it must be a date"),
    (
        "pitched = 2026-04-04",
        "pitched = 2026-05-04",
        r"reading\[1\]\.date = 2026-04-09 must not be before fermentation\.pitched = 2026-05-04",
    ),
    (
        "date = 2026-04-09",
        'date = "9 April"',
        r"reading\[1\]\.date = '9 April' must be a date like 2026-04-09, without quotes",
    ),
    (
        "date = 2026-04-16",
        "date = 2026-04-08",
        r"reading\[2\]\.date = 2026-04-08 must not be before reading\[1\]\.date = 2026-04-09",
    ),
    ("gravity = 1.012", "gravity = 0.5", r"reading\[1\]\.gravity = 0\.5 must be a number of 0\.97 to 1\.2 SG"),
    ('hydrometer_scale = "sg"', 'hydrometer_scale = "brix"', r"equipment\.hydrometer_scale = 'brix' must be \"sg\""),
    ("target_abv = 40.0", "target_abv = 70.0", r"spirit\.target_abv = 70\.0 must be a number of 1 to 68 % vol"),
    ("yeast_g = 20.0", "yeast_g = 0", r"fermentation\.yeast_g = 0 must be a number of 0\.001 to 100000000 g"),
    ("yeast_g = 20.0", "yeast_kg = 1", r"fermentation\.yeast_kg = 1 is not known; this quantity is written yeast_g"),
    ("yeast_g = 20.0", "", r"fermentation\.yeast_g is missing; it must be a number"),
    ("enzyme_dose = 1.0", "enzyme_dose = -1", r"fermentation\.enzyme_dose = -1 must be a number of 0 to 20"),
    ('walls = "bare"', 'walls = "oak"', r"fermentation\.walls = 'oak' must be one of bare, wood, insulated"),
    (
        "air_temperature_c = 21.0",
        "air_temperature_c = 90",
        r"fermentation\.air_temperature_c = 90 must be .* write 32\.2",
    ),
    ('iodine = "negative"', 'iodine = "blue"', r"reading\[2\]\.iodine = 'blue' must be \"positive\" or \"negative\""),
    ('iodine = "negative"', "co2_lost_kg = -2", r"reading\[2\]\.co2_lost_kg = -2 must be a number of 0 to 100000 kg"),
    ("[water]", "[watter]", r"watter = .* is not known"),
    ("[water]", "[water", r"not TOML: "),
    ("volume_l = 72.0", "volume_l = 1.0", r"extract of the equivalent wort"),
    ("heating_kw = 3.0", "", r"stripping\.heating_kw is missing; it must be a number of 0\.1 to 10000 kW"),
    (
        "heating_kw = 3.0",
        "heating_w = 3000",
        r"stripping\.heating_w = 3000 is not known; this quantity is written heating_kw",
    ),
    ("heat_loss = 10.0", "heat_loss = 95", r"stripping\.heat_loss = 95 must be a number of 0 to 90 % of the heating"),
    ("[stripping]\nheating_kw = 3.0", "[fermenting]", r"fermenting = .* is not known; did you mean fermentation\?"),
    ("plates = 0 ", "plates = 2.5 ", r"spirit_still\.plates = 2\.5 must be a whole number of 0 to 50"),
    (
        "heads_share = 6.0",
        "heads_share = 0.5",
        r"cuts\.heads_share = 0\.5 must be a number of 1 to 90 % of the alcohol",
    ),
    ("hearts_end_abv = 60.0", "hearts_end_abv = 90.0", r"cuts: no hearts: they end with the heads"),
    (
        'holds = "heads"',
        'holds = "hearts"',
        r"jar\[2\]\.holds = 'hearts' must be one of low_wines, .*; hearts are in \[spirit\]",
    ),
    ("abv = 74.0", "abv = 99.0", r"jar\[2\]\.abv = 99\.0 must be a number of 0 to 97 % vol"),
]


@pytest.mark.parametrize(("good", "bad", "message"), BAD, ids=[f"{good} -> {bad}" for good, bad, _ in BAD])
def test_bad_batch(tmp_path: Path, good: str, bad: str, message: str) -> None:
    text = BATCH.read_text()
    assert good in text
    batch = tmp_path / "batch.toml"
    batch.write_text(text.replace(good, bad, 1))
    done = run(batch, tmp_path)
    assert done.returncode == 2
    assert done.stdout == ""
    lines = done.stderr.splitlines()
    assert len(lines) == 1
    assert re.search(message, lines[0]), lines[0]


def test_without_readings(tmp_path: Path) -> None:
    text = BATCH.read_text()
    start, end = text.index("[[reading]]"), text.index("[fermentation]")
    batch = tmp_path / "batch.toml"
    batch.write_text(text[:start] + text[end:])
    done = run(batch, tmp_path)
    assert done.returncode == 0, done.stderr
    assert "no readings yet" in done.stdout
    assert "forecast  done on day" in done.stdout


def test_missing_file(tmp_path: Path) -> None:
    done = run(tmp_path / "nothing.toml", tmp_path)
    assert done.returncode == 2
    assert done.stderr == f"{tmp_path / 'nothing.toml'}: No such file or directory\n"

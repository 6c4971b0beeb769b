"""What the C++ projects of the examples print, which headers they pull in, and what they cost. tests/embedding.sh builds them and calls this."""

import json
import os
import subprocess
import time
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
BUILD = Path(os.environ["EMBEDDING_BUILD"])
PROGRAMS = {
    "with_find_package": "build/bottling",
    "with_add_subdirectory": "build/sacks",
    "with_pkg_config": "wash",
    "only_liquid": "build/glass",
}
if (ROOT / "examples" / "embed_c").is_dir():
    PROGRAMS["embed_c"] = "build/embed_c"

SENSOR = BUILD / "sensor" / "build" / "sensor"
BATCH = BUILD / "sensor" / "batch.txt"
# Of the last digits of courses, fits and draws nothing is promised between compilers; half a digit more than is printed of a wide interval is.
TOLERANCES = {
    "conversion_percent": 0.5,
    "abv_percent": 0.05,
    "end_abv_percent": 0.05,
    "end_gravity": 0.0004,
    "end_day": 0.3,
    "stands_probability": 0.02,
    "because_probability": 0.02,
}


@pytest.mark.parametrize("project", PROGRAMS)
def test_output(project: str) -> None:
    ran = subprocess.run([BUILD / project / PROGRAMS[project]], capture_output=True, text=True, check=True)
    expected = (BUILD / project / "expected.txt").read_text(encoding="utf-8")
    assert ran.stdout.splitlines() == expected.splitlines()
    assert ran.stderr == ""


def test_every_project_is_tested() -> None:
    folders = {p.name for p in (ROOT / "examples" / "embed").iterdir() if p.is_dir()}
    assert folders == set(PROGRAMS) - {"embed_c"} | {"sensor"}


# --- cost


def flags() -> list[str]:
    path = {"PKG_CONFIG_PATH": str(BUILD / "headers" / "share" / "pkgconfig")}
    found = subprocess.run(
        ["pkg-config", "--cflags", "libferment"], env=os.environ | path, capture_output=True, text=True, check=True
    )
    return ["g++", "-std=c++20", "-O2", *found.stdout.split()]


def included(source: Path) -> list[str]:
    listed = subprocess.run([*flags(), "-M", source], capture_output=True, text=True, check=True)
    return listed.stdout.replace("\\\n", " ").split()[1:]


def heavy(headers: list[str]) -> list[str]:
    return [h for h in headers if "/Eigen/" in h or "/odeint" in h]


def test_liquid_and_instrument_need_no_eigen(tmp_path: Path) -> None:
    everything = tmp_path / "all.cpp"
    everything.write_text("#include <ferment/liquid.hpp>\n#include <ferment/instrument.hpp>\n", encoding="utf-8")
    for source in (BUILD / "only_liquid" / "main.cpp", everything):
        headers = included(source)
        assert any("ferment/liquid/wash.hpp" in h for h in headers)
        assert heavy(headers) == []
    assert heavy(included(BUILD / "sensor" / "main.cpp"))  # the search finds them where they are


def seconds(source: Path, program: Path) -> float:
    """The shortest of three compilations; more tells only of the machine's other work."""

    def once() -> float:
        start = time.perf_counter()
        subprocess.run([*flags(), source, "-o", program], check=True)
        return time.perf_counter() - start

    return min(once() for _ in range(3))


def test_cost_of_a_small_program(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Meant is one second and a half on an ordinary machine. The test is generous, for machines differ; a heavy header would still show."""
    empty = tmp_path / "empty.cpp"
    empty.write_text("int main() {}\n", encoding="utf-8")
    program = tmp_path / "program"
    beyond = -seconds(empty, program) + seconds(BUILD / "only_liquid" / "main.cpp", program)
    subprocess.run(["strip", program], check=True)
    size = program.stat().st_size
    with capsys.disabled():
        print(f"\nonly_liquid: {beyond:.2f} s to compile beyond an empty program, {size / 1024:.0f} KiB stripped")
    assert beyond < 6.0
    assert size < 200 * 1024


# --- sensor


def refuse(constant: str) -> None:
    raise ValueError(f"{constant} is no JSON")


def json_lines(output: bytes) -> list[dict[str, Any]]:
    """Strict: ASCII, an object a line, no NaN, no key twice."""

    def unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        assert len({key for key, _ in pairs}) == len(pairs)
        return dict(pairs)

    lines = output.decode("ascii").split("\n")
    assert lines.pop() == ""
    return [json.loads(line, parse_constant=refuse, object_pairs_hook=unique) for line in lines]


def sensor(*arguments: str | Path, readings: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([SENSOR, *arguments], input=readings, capture_output=True, timeout=120, check=False)


def few(readings: bytes, *arguments: str) -> tuple[list[dict[str, Any]], int]:
    ran = sensor(BATCH, "members=20", *arguments, readings=readings)
    assert ran.stderr == b""
    return json_lines(ran.stdout), ran.returncode


def assert_close(found: object, expected: object, tolerance: float, place: str) -> None:
    if isinstance(expected, dict):
        assert isinstance(found, dict)
        assert list(found) == list(expected), place
        for key, value in expected.items():
            assert_close(found[key], value, tolerance, f"{place}, {key}")
    elif isinstance(expected, float):
        assert isinstance(found, float), place
        assert abs(found - expected) <= tolerance, f"{place}: {found} instead of {expected}"
    else:
        assert found == expected, place


def test_sensor_says_what_is_expected() -> None:
    ran = sensor(BATCH, readings=(BUILD / "sensor" / "readings.txt").read_bytes())
    assert ran.returncode == 1  # some lines are no readings
    found = json_lines(ran.stdout)
    expected = json_lines((BUILD / "sensor" / "expected.jsonl").read_bytes())
    assert len(found) == len(expected)
    for got, wanted in zip(found, expected, strict=True):
        got.pop("says", None)  # the same figures once more, rounded
        assert got.keys() == wanted.keys() - {"says"}
        for key, value in got.items():
            assert_close(value, wanted[key], TOLERANCES.get(key, 0.0), f"{wanted.get('hours')} h, {key}")


def test_sensor_answers_at_once() -> None:
    """The answer comes while the sender still holds the line open."""
    with subprocess.Popen([SENSOR, BATCH, "members=20"], stdin=subprocess.PIPE, stdout=subprocess.PIPE) as running:
        assert running.stdin is not None
        assert running.stdout is not None
        for sent, key in ((b"24 1.018 18.5\n", "stands"), (b"garbage\n", "error"), (b"30 1.0175 19\n", "stands")):
            running.stdin.write(sent)
            running.stdin.flush()
            assert key in json.loads(running.stdout.readline())
        running.stdin.close()
        assert running.wait(timeout=60) == 1


def test_sensor_reads_any_line_end() -> None:
    plain, code = few(b"24 1.018 18.5\n48 1.017 21\n")
    assert code == 0
    assert len(plain) == 2
    assert few(b"24 1.018 18.5\r\n\r\n  48\t1.017   21 \r\n\n# pump off\n") == (plain, 0)
    assert few(b"24 1.018 18.5\n48 1.017 21") == (plain, 0)  # the last line without an end
    assert few(b"") == ([], 0)


BAD = {
    b"hello": "hours",
    b"30": "gravity is missing",
    b"30 1.017": "temperature is missing",
    b"30 1.017 20 9": "more on the line",
    b"30 1,017 20": "gravity",
    b"30 1.017x 20": "gravity",
    b"nan 1.017 20": "hours",
    b"30 NaN 20": "gravity",
    b"30 1.017 inf": "temperature",
    b"30 1e999 20": "gravity",
    b"23.9 1.017 20": "last reading",
    b"-1 1.017 20": "last reading",
    b"9000 1.017 20": "8760",
    b"30 17 20": "17",
    b"30 1.3 20": "gravity",
    b"30 1.017 85": "40 degC",
    b'30 "1.0\\17" 20': "gravity",
    b"30 \xff\xfe\x80 20": "gravity",
    b"30 \xc2\xb0 20": "gravity",
    b"30 \x00\x01\x7f 20": "gravity",
    b"30 " + b"9" * 100_000 + b"x 20": "gravity",
}


@pytest.fixture(scope="module")
def refused() -> tuple[list[dict[str, Any]], int]:
    return few(b"\n".join([b"24 1.018 18.5", *BAD, b"48 1.017 21"]))


def test_sensor_goes_on_after_errors(refused: tuple[list[dict[str, Any]], int]) -> None:
    """A refused line leaves no trace: the next reading is answered as if it had not been there."""
    lines, code = refused
    assert code == 1
    assert len(lines) == len(BAD) + 2
    good, _ = few(b"24 1.018 18.5\n48 1.017 21\n")
    assert [lines[0], lines[-1]] == good


@pytest.mark.parametrize("number", range(len(BAD)), ids=lambda i: repr(list(BAD)[i][:20]))
def test_sensor_names_what_is_wrong(refused: tuple[list[dict[str, Any]], int], number: int) -> None:
    line = refused[0][number + 1]
    assert line.keys() == {"error", "line"}
    assert line["line"] == number + 2
    assert list(BAD.values())[number] in line["error"]
    assert len(line["error"]) < 300


def test_sensor_answers_every_so_many() -> None:
    readings = b"".join(b"%d 1.018 20\n" % hour for hour in range(24, 31))
    found, code = few(readings, "every=3")
    assert code == 0
    assert [line["hours"] for line in found] == [24.0, 27.0, 30.0]
    # One that cannot be answered is made good by the next.
    found, code = few(b"24 1.018 20\n25 1.018 20\n26 1.4 20\n27 1.018 20\n28 1.018 20\n", "every=2")
    assert code == 1
    assert [line.get("hours") for line in found] == [24.0, None, 27.0]


def test_sensor_corrects_the_reading() -> None:
    by_glass, _ = few(b"24 1.018 30\n")
    by_float, _ = few(b"24 1.018 30\n", "corrected_by_float=1")
    assert 1.0195 < by_glass[0]["gravity_at_20c"] < 1.0215  # water alone is 2.6 points lighter at 30 than at 20 degC
    assert by_float[0]["gravity_at_20c"] == 1.018


def test_sensor_takes_arguments_after_the_file() -> None:
    cold = sensor(BATCH, "ambient_c=8", "members=20", readings=b"96 1.017 10\n")
    warm = sensor(BATCH, "members=20", readings=b"96 1.017 10\n")
    assert cold.returncode == warm.returncode == 0
    assert json_lines(warm.stdout)[0]["because"] == "colder than was said"
    assert json_lines(cold.stdout)[0]["because"] != "colder than was said"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ([], "no grain"),
        (["no_such_file"], "cannot read no_such_file"),
        (["grain_kg=14 flaked barly"], "flaked barley"),
        (["grain_kg=much flaked barley"], "grain_kg"),
        (["colour=red"], "unknown key"),
        (["water_kg=-3", "grain_kg=1 rye", "yeast_kg=0.01"], "-3 kg"),
        ([BATCH, "yeast_kg=0"], "more than 0 kg"),
        ([BATCH, "mash_c=nan"], "mash_c"),
        ([BATCH, "every=0"], "every"),
        ([BATCH, "gravity_uncertainty=0"], "gravity_uncertainty"),
        ([BATCH, "hydrometer_c=60"], "calibration temperature"),
    ],
)
def test_sensor_refuses_a_wrong_batch(arguments: list[str | Path], says: str) -> None:
    ran = sensor(*arguments, readings=b"24 1.018 18.5\n")
    assert ran.returncode == 2
    assert ran.stdout == b""
    assert says in ran.stderr.decode()


def test_sensor_names_the_line_of_the_file(tmp_path: Path) -> None:
    batch = tmp_path / "batch.txt"
    batch.write_bytes(b"# a batch\r\nwater_kg = 72  # cold\r\nyeast_kg\r\n")
    ran = sensor(batch)
    assert ran.returncode == 2
    assert b"batch.txt, line 3: " in ran.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_sensor_says_that_it_cannot_write() -> None:
    with Path("/dev/full").open("wb") as full:
        ran = subprocess.run(
            [SENSOR, BATCH, "members=20"],
            input=b"24 1.018 18.5\n",
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert ran.returncode == 3
    assert ran.stderr

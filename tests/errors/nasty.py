"""Files of up to 1 MiB that no loader may choke on: each is refused in one short line, soon, and without eating the memory.

    python nasty.py batch_file FILE     plans the batch of a file, as examples/plan_batch.py does
    python nasty.py json FILE           reads the text of a file with PlanRequest.from_json

ends as the script does, 0 or 2 with a line on stderr, and says on stdout how many KiB it had in memory at the most.
"""

import json
import runpy
import sys
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MIB = 2**20


def _filled(start: str, again: str, end: str = "") -> bytes:
    """A text of 1 MiB that repeats a piece of itself."""
    times = (MIB - len(start.encode()) - len(end.encode())) // len(again.encode())
    return (start + times * again + end).encode()


def _numbered(line: str, start: str = "") -> bytes:
    """As many lines as 1 MiB holds, each with its number."""
    lines, size = [start], len(start)
    while size + len(line) + 8 < MIB:
        lines.append(line.replace("#", str(len(lines))))
        size += len(lines[-1])
    return "".join(lines).encode()


def _shed(replace: str, by: str) -> bytes:
    text = (ROOT / "examples" / "batches" / "shed_batch.toml").read_text(encoding="utf-8")
    assert text.count(replace) == 1, replace
    return text.replace(replace, by)[:MIB].encode()


READING = "[[reading]]\ndate = 2026-04-09\ngravity = 1.012\ntemperature_c = 24.0\n"
GRAIN = '[[grain]]\nname = "rye"\nmass_kg = 1.0\n'

#: Makers of batch files, by name.
BATCH_FILES: dict[str, Callable[[], bytes]] = {
    "nothing but zeros": lambda: bytes(MIB),
    "nothing but 0xff": lambda: b"\xff" * MIB,
    "half a character of UTF-8": lambda: _filled('name = "', "é", '"')[:-2],
    "a byte order mark": lambda: b"\xef\xbb\xbf" + _shed("= 72.0", "= 73.0"),
    "another encoding": lambda: _shed("= 72.0", "= 73.0").decode().encode("utf-16"),
    "NUL in a text": lambda: _filled('name = "', "\0", '"'),
    "spaces": lambda: _filled("", " "),
    "empty lines": lambda: _filled("", "\n"),
    "a comment": lambda: _filled("#", "x"),
    "comments": lambda: _filled("", "#\n"),
    "no end of a text": lambda: _filled('name = "', "x"),
    "no end of a text of lines": lambda: _filled('name = """', "x\n"),
    "open brackets": lambda: _filled("a = ", "["),
    "open braces": lambda: _filled("a = ", "{a="),
    "open and closed brackets": lambda: b"a = " + b"[" * (MIB // 2 - 8) + b"]" * (MIB // 2 - 8),
    "a nested list in place of a mass": lambda: _shed("mass_kg = 4.0", f"mass_kg = {'[' * 80}{']' * 80}"),
    "a deep table": lambda: _filled("[a", ".a", "]"),
    "a deep key": lambda: _filled("a", ".a", " = 1"),
    "deep keys of a table": lambda: _numbered("a" + ".a" * 240 + "# = 1\n"),
    "many keys": lambda: _numbered("k# = 1\n"),
    "many keys of the water": lambda: _numbered("k# = 1\n", "[water]\n"),
    "many tables": lambda: _numbered("[t#]\n"),
    "many tables in a table": lambda: _numbered("[t.t#]\n"),
    "the same key again and again": lambda: _filled("", "a = 1\n"),
    "the same table again and again": lambda: _filled("", "[a]\n"),
    "a key of a MiB": lambda: _filled("", "k", " = 1"),
    "a quoted key of a MiB, twice": lambda: 2 * (_filled('"', "k", '" = 1\n')[: MIB // 2 - 7] + b'" = 1\n'),
    "a value of a MiB": lambda: _filled('colour = "', "x", '"'),
    "a list of a MiB": lambda: _filled("colour = [", "1,", "]"),
    "a name of a MiB": lambda: _shed("Barley and rye, spring", "x" * (MIB - 4000)),
    "a name of a page": lambda: _shed("Barley and rye, spring", "word " * 500),
    "a grain with a name of a MiB": lambda: _shed("flaked rye", "x" * (MIB - 4000)),
    "a scale of a MiB": lambda: _shed('"sg"', '"' + "x" * (MIB - 4000) + '"'),
    "1e999": lambda: _shed("= 72.0", "= 1e999"),
    "-1e999": lambda: _shed("= 72.0", "= -1e999"),
    "inf": lambda: _shed("= 72.0", "= inf"),
    "nan": lambda: _shed("= 72.0", "= nan"),
    "a whole number of 10^5 digits": lambda: _shed("= 72.0", "= " + "9" * 10**5),
    "a whole number of a MiB": lambda: _shed("= 72.0", "= " + "9" * (MIB - 4000)),
    "a number of a MiB in hexadecimal": lambda: _shed("= 72.0", "= 0x" + "f" * (MIB - 4000)),
    "a number of a MiB before the point": lambda: _shed("= 72.0", "= " + "9" * (MIB - 4000) + ".0"),
    "a number of a MiB after the point": lambda: _shed("gravity = 1.012", "gravity = 9." + "9" * (MIB - 4000)),
    "a table in place of a number": lambda: _shed("volume_l = 72.0", "[water.volume_l]"),
    "a list in place of a table": lambda: b"water = [1, 2]\n" + _shed("[water]\nvolume_l", "[fermenting]\nvolume_l"),
    "a time in place of a date": lambda: _shed("pitched = 2026-04-04", "pitched = 07:32:00.999999"),
    "the last day of all": lambda: _shed("pitched = 2026-04-04", "pitched = 9999-12-31"),
    "a reading a thousand years on": lambda: _shed("date = 2026-04-16", "date = 3026-04-16"),
    "10^4 readings": lambda: _shed("[fermentation]", READING * 10**4 + "[fermentation]"),
    "10^4 grains": lambda: _shed('[[grain]]\nname = "flaked rye"', GRAIN * 10**4 + '[[grain]]\nname = "flaked rye"'),
    "lone surrogates": lambda: _filled('name = "', "\\ud800", '"'),
    "two MiB": lambda: 2 * _filled("#", "x"),
}


def _request(change: Callable[[dict[str, object]], object]) -> bytes:
    import ferment

    bill = ferment.mash.Bill([("rye", 10.0)])
    values = json.loads(ferment.batch.PlanRequest(bill, 30.0, ferment.still.Still(30.0, heating_kw=3.0)).to_json(None))
    change(values)
    return json.dumps(values).encode()


def _put(key: str, text: str) -> bytes:
    """A good request with a JSON text in place of the value of a key."""
    return _request(lambda values: values.update({key: "PUT HERE"})).replace(b'"PUT HERE"', text.encode())


def _grains(values: dict[str, object], times: int) -> None:
    bill = values["bill"]
    assert isinstance(bill, list)
    bill *= times
    bill[-1] = {**bill[-1], "mass_kg": -1.0}


def _named(values: dict[str, object], name: str) -> None:
    bill = values["bill"]
    assert isinstance(bill, list)
    bill[0]["grain"].update(name=name, form="x" * 1000, moisture={"value": 110.0, "standard_uncertainty": 0.0})


#: Makers of JSON texts, by name.
JSON_TEXTS: dict[str, Callable[[], bytes]] = {
    "nothing but zeros": lambda: bytes(MIB),
    "a byte order mark": lambda: b"\xef\xbb\xbf{}",
    "half a character of UTF-8": lambda: b'{"a": "\xc3"}',
    "spaces": lambda: _filled("", " "),
    "open brackets": lambda: _filled("", "["),
    "open objects": lambda: _filled("", '{"a":'),
    "open and closed brackets": lambda: b"[" * (MIB // 2) + b"]" * (MIB // 2),
    "a nested list in place of a mass": lambda: _put("water_kg", "[" * 500 + "]" * 500),
    "no end of a text": lambda: _filled('{"a": "', "x"),
    "the same key again and again": lambda: _filled("{", '"a": 1,', '"b": 1}'),
    "many keys": lambda: b"{" + _numbered('"k#": 1,')[: MIB - 20].rpartition(b",")[0] + b"}",
    "a key of a MiB": lambda: _request(lambda values: values.update({"k" * MIB: 1})),
    "a key of a MiB, twice": lambda: b'{"%s": 1, "%s": 1}' % (b"k" * (MIB // 2), b"k" * (MIB // 2)),
    "a value of a MiB": lambda: _put("colour", '"' + "x" * MIB + '"'),
    "a text of a MiB in place of a number": lambda: _put("water_kg", '"' + "x" * MIB + '"'),
    "a text of a MiB alone": lambda: _filled('"', "x", '"'),
    "a schema of a MiB": lambda: _put("schema", '"' + "x" * MIB + '"'),
    "a list of a MiB": lambda: _put("water_kg", "[" + "1," * (MIB // 2) + "1]"),
    "1e999": lambda: _put("water_kg", "1e999"),
    "NaN": lambda: _put("water_kg", "NaN"),
    "a whole number of 10^5 digits": lambda: _put("curve_points", "9" * 10**5),
    "a whole number of a MiB": lambda: _put("curve_points", "9" * MIB),
    "a whole number of 50 digits": lambda: _put("curve_points", "9" * 50),
    "a number of a MiB before the point": lambda: _put("water_kg", "9" * MIB + ".0"),
    "a number of a MiB after the point": lambda: _put("curve_points", "9." + "9" * MIB),
    "a list in place of a table": lambda: _put("stripping_still", "[]"),
    "lone surrogates": lambda: _put("stripping_end", '{"by": "' + "\\ud800" * 1000 + '", "value": 5.0}'),
    "a lone surrogate as a key": lambda: _put("\ud800".encode("utf-8", "replace").decode(), "1"),
    "NUL": lambda: _put("recycled", '{"volume_l": 1.0, "abv": 40.0, "into": "\\u0000"}'),
    "10^3 grains, the last less than nothing": lambda: _request(lambda values: _grains(values, 1000)),
    "a grain with a name of a MiB": lambda: _request(lambda values: _named(values, "x" * MIB)),
    "a grain with a name of many lines": lambda: _request(lambda values: _named(values, "x\n" * 1000)),
}

LOADERS: dict[str, dict[str, Callable[[], bytes]]] = {"batch_file": BATCH_FILES, "json": JSON_TEXTS}


def _most_kib() -> int:
    """What this process had in memory at the most. Not getrusage: there a child starts with the figure of its parent."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(status.partition("VmHWM:")[2].split()[0])


def _load(loader: str, path: str) -> int:
    if loader == "batch_file":
        main = runpy.run_path(str(ROOT / "examples" / "plan_batch.py"))["main"]
        return int(main([path, str(Path(path).with_suffix(".png"))]))
    import ferment

    try:
        ferment.batch.PlanRequest.from_json(Path(path).read_bytes().decode("utf-8", "surrogateescape"))
    except ferment.Error as e:
        print(f"{path}: {e}", file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    code = _load(sys.argv[1], sys.argv[2])
    print(f"KiB: {_most_kib()}")
    sys.exit(code)

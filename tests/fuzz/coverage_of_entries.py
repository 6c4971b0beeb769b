#!/usr/bin/env python3
"""Fails when a public function of the C++ headers or of the C interface stands in no table of the fuzzers, or fewer times than it has overloads.

The headers are read as text: functions of namespace ferment and public member functions, those of `detail` left out. Names are as in the tables: without
"ferment::" and without template arguments.
"""

import re
import sys
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
INCLUDE = ROOT / "libferment" / "include" / "ferment"
FOLDERS = ("liquid", "instrument", "strength", "mash", "fermentation", "still", "proofing", "batch")

# What is in no table, and why.
EXCEPTIONS = {
    "mole_fraction_unit::name": "a text for Boost.Units",
    "mole_fraction_unit::symbol": "a text for Boost.Units",
    "EnsembleOptions::void": "no function: the type of one that is called back",
    "PlansOptions::void": "no function: the type of one that is called back",
    "icumsa_sps4::by_density::set_up": "a part of loops over arrays",
    "icumsa_sps4::by_density::result": "a part of loops over arrays",
    "oiml_r22::by_density::set_up": "a part of loops over arrays",
    "oiml_r22::by_density::result": "a part of loops over arrays",
    "strength_by_volume::by_volume::set_up": "a part of loops over arrays",
    "strength_by_volume::by_volume::result": "a part of loops over arrays",
}
# Loops over arrays, which call what is in the tables for each element; tests/cpp and tests/python compare them with single numbers.
ARRAY_ARGUMENT = re.compile(r"(const|double)\*|std::ptrdiff_t|double\* ")


def without_comments(text: str) -> str:
    text = re.sub(r"//[^\n]*", "", text)
    text = re.sub(r'"(?:\\.|[^"\\])*"', '""', text)
    text = re.sub(r"'(?:\\.|[^'\\])'", "' '", text)
    return re.sub(r"^\s*#[^\n]*(?:\\\n[^\n]*)*", "", text, flags=re.M)


def declarations(path: Path) -> list[tuple[str, str]]:
    """Qualified names of the functions that a header defines for others, each with its head."""
    found: list[tuple[str, str]] = []
    stack: list[list[str]] = []  # kind, name, access
    head = ""
    for character in without_comments(path.read_text()):
        if character == "{":
            words = re.sub(r"^(?:(?:public|private|protected): ?)+", "", " ".join(head.split()))
            head = ""
            namespace = re.match(r"(?:inline )?namespace([ \w:]*)$", words)
            kind = re.match(
                r"(?:template <.*?> )?(?:requires .*? )?(struct|class) (\w+)(?:<.*>)?(?: final)?(?: : .*)?$", words
            )
            if namespace:
                stack.append(["namespace", namespace[1].strip(), "public"])
            elif kind and "(" not in words:
                stack.append(["type", kind[2], "public" if kind[1] == "struct" else "private"])
            else:
                inside_body = any(s[0] == "body" for s in stack)
                public = all(s[2] == "public" for s in stack)
                names = [part for s in stack for part in s[1].split("::") if part and part != "ferment"]
                function = re.search(
                    r"(operator\s*\(\)|[\w~:]+)\s*\(", re.sub(r"template <[^()]*?> |requires [^()]*\(.*?\) ", "", words)
                )
                if (
                    not inside_body
                    and public
                    and function
                    and not words.startswith(("enum", "friend"))
                    and "detail" not in names
                ):
                    name = function[1].replace(" ", "")
                    if "=" not in words.split("(")[0] and "~" not in name:
                        found.append(("::".join([*names, *name.split("::")]), words))
                stack.append(["body", "", "public"])
        elif character == "}":
            if stack:
                stack.pop()
            head = ""
        elif character == ";":
            head = ""
        elif character == ":" and (access := re.search(r"\b(public|private|protected)$", head)):
            for scope in reversed(stack):
                if scope[0] == "type":
                    scope[2] = access[1]
                    break
            head = ""
        else:
            head += character
    return found


def c_functions() -> list[str]:
    text = re.sub(r"/\*.*?\*/", "", (INCLUDE / "c.h").read_text(), flags=re.S)
    declared = re.findall(r"FERMENT_API [^;(]*?\b(ferment_\w+)\(", re.sub(r"#define.*?(?<!\\)\n", "", text, flags=re.S))
    lists = re.findall(r"^FERMENT_\d(?:_WITH_\d)?\((\w+),", text, flags=re.M)
    return declared + lists + [f"{name}_array" for name in lists]


def tables() -> Counter[str]:
    names: Counter[str] = Counter()
    for path in sorted(Path(__file__).parent.glob("fuzz_*.cpp")):
        text = path.read_text()
        for quoted in re.findall(r'"((?:\\.|[^"\\\n])*)"', re.sub(r'"\n\s*"', "", text)):
            names.update(quoted.split())
        for macro in re.findall(r"ENTRY_\w+\((ferment_\w+),", text):
            names.update([macro, f"{macro}_array"])
    return names


def main() -> int:
    listed = tables()
    wanted: Counter[str] = Counter()
    for folder in FOLDERS:
        for path in sorted((INCLUDE / folder).glob("*.hpp")):
            for name, words in declarations(path):
                if not ARRAY_ARGUMENT.search(words) or name.split("::")[-1] == "advance":
                    wanted[name] += 1
    wanted.update(c_functions())
    missing = [
        f"{name} ({listed[name]} of {count})"
        for name, count in sorted(wanted.items())
        if listed[name] < count and name not in EXCEPTIONS
    ]
    stale = [name for name in EXCEPTIONS if name not in wanted]
    print(f"{len(wanted)} public functions, {sum(wanted.values())} with overloads; {len(EXCEPTIONS)} excepted")
    for name in missing:
        print(f"in no table of the fuzzers: {name}")
    for name in stale:
        print(f"excepted, but not there any more: {name}")
    return 1 if missing or stale else 0


if __name__ == "__main__":
    sys.exit(main())

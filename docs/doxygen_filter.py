"""Doxygen's input filter: the contracts of the headers become its commands, line for line.

    python doxygen_filter.py header.hpp

The headers write a contract as a table: "name   what, unit   range" a line, "->   result" last. A name becomes a parameter where the function below has
it, and wherever the table has a result, so that Doxygen reports a name that the function does not have; other rows become a list.
"""

import re
import sys
from itertools import takewhile
from pathlib import Path

COMMENT = re.compile(r"^(?P<indent>\s*)///(?!<)(?P<text>.*)$")
ROW = re.compile(r"^ {3}(?P<name>\S+(?: \S+)*?)(?: {2,}| +-> )(?P<what>\S.*)$")
RESULT = re.compile(r"^ {3}-> *(?P<what>.*)$")
NAMES = re.compile(r"\w+(?:, ?\w+)*")
SPECIAL = re.compile(r"[<#%](?=\w)|(?<![\w>])::(?=\w)")  # plain text in the headers, markup to Doxygen
BRACKETS = re.compile(r"<[^<>]*>")
LONGEST_DECLARATION = 12  # lines


def without(pattern: re.Pattern[str], text: str) -> str:
    while pattern.search(text):
        text = pattern.sub("", text)
    return text


def parameters(declaration: str) -> set[str]:
    """Names of the parameters of the function that is declared first; none for anything else."""
    text = re.sub(r"\brequires\b[^\n]*\n", "", declaration.replace("->", ""))
    text = without(BRACKETS, text)
    head = re.split(r"[{;]", text, maxsplit=1)[0]
    if "(" not in head or re.search(r"\b(?:struct|class|enum|namespace)\b", head.split("(")[0]):
        return set()
    inside = head.split("(", 1)[1].rsplit(")", 1)[0]
    names = [re.findall(r"\w+", part.split("=")[0]) for part in inside.split(",")]
    return {found[-1] for found in names if len(found) > 1}


def rewritten(block: list[str], known: set[str]) -> list[str]:
    """The lines of one comment as Doxygen reads them."""
    complete = any(RESULT.match(text) for text in block) and bool(known)
    in_table = False
    lines = []
    for text in block:
        row, result = ROW.match(text), RESULT.match(text)
        if result:
            lines.append(f" \\return {result['what']}")
            in_table = True
        elif row:
            name, what = row["name"], row["what"]
            names = name.replace(" ", "").split(",")
            is_parameter = NAMES.fullmatch(name) and (complete or known.issuperset(names))
            lines.append(f" \\param {','.join(names)} {what}" if is_parameter else f" - `{name}` {what}")
            in_table = True
        elif in_table and re.match(r" \S", text):  # the text after the table
            thrown = re.match(r" Throws (?:an? )?(\w+)(.*)", text)
            lines.append(f" \\throws {thrown[1]}{thrown[2]}" if thrown else f" \\remark{text}")
            in_table = False
        else:
            lines.append(text)
    return lines


def filtered(source: list[str]) -> list[str]:
    """A header with its comments rewritten."""
    out: list[str] = []
    i = 0
    while i < len(source):
        block = list(takewhile(bool, map(COMMENT.match, source[i:])))
        if not block:
            out.append(source[i])
            i += 1
            continue
        i += len(block)
        declaration = "\n".join(source[i : i + LONGEST_DECLARATION])
        texts = [SPECIAL.sub(r"\\\g<0>", m["text"]) for m in block if m]
        lines = rewritten(texts, parameters(declaration))
        out += [f"{m['indent']}///{text}" for m, text in zip(block, lines, strict=True) if m]
    return out


if __name__ == "__main__":
    print("\n".join(filtered(Path(sys.argv[1]).read_text(encoding="utf-8").splitlines())))

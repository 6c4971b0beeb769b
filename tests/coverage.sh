#!/usr/bin/env bash
# Which lines of the library the C++ tests run: a table of every header and source. Fails below 95 % of all lines.
#   tests/coverage.sh [BUILD] [--write]     BUILD: where to build; build/coverage. --write: renews the table of docs/test_quality.md
# Without optimisation, so that every line keeps its code. gcov sees no function that no source holds: one more source holds every inline function
# of every header, so that those which no test calls, and those which run only while the tests are compiled, count as not run. Templates that no test
# instantiates cannot be seen.
set -euo pipefail
# shellcheck source-path=SCRIPTDIR source=setup.sh
source "$(dirname "${BASH_SOURCE[0]}")/setup.sh"

build=$root/build/coverage
write=false
for argument in "$@"; do
    case $argument in
        --write) write=true ;;
        -*) die "usage: tests/coverage.sh [BUILD] [--write]" ;;
        *) build=$(realpath -m "$argument") ;;
    esac
done
python=$venv/bin/python
"$python" -m gcovr --version >/dev/null 2>&1 || die "no gcovr in $venv: it comes with the package's extra 'dev', which tests/run --full installs"

count=(--coverage -O0 -fprofile-update=atomic) # some tests run threads
cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS_DEBUG="${count[*]}" -DLIBFERMENT_INSTALL=OFF >"$build.log" ||
    die "cmake fails, see $build.log"
cmake --build "$build" --target libferment_tests
find "$build" -name '*.gcda' -delete # of earlier runs
"$build/tests/libferment_tests"

mkdir -p "$build/inline"
(cd "$root/libferment/include" && find ferment -name '*.hpp' | sort) | sed 's/.*/#include <&>/' >"$build/inline/all_headers.cpp"
read -ra eigen < <(pkg-config --cflags eigen3)
(cd "$build/inline" && g++ -std=c++20 "${count[@]}" -fkeep-inline-functions "-I$root/libferment/include" "${eigen[@]}" -c all_headers.cpp)

summary=$build/summary.json
"$python" -m gcovr --root "$root" --filter "$root/libferment/" --merge-lines --json-summary "$summary" --html-details "$build/lines.html" "$build"
"$python" - "$summary" "$root/tests" "$write" <<'PYTHON'
import json
import sys
from pathlib import Path

summary = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
sys.path.insert(0, sys.argv[2])
from mutations import write

least_percent = 95.0
percent = 100.0 * summary["line_covered"] / summary["line_total"]
rows = [(f["filename"].removeprefix("libferment/").removeprefix("include/ferment/"), f["line_total"], f["line_covered"]) for f in summary["files"]]
assert len(rows) > 40, f"only {len(rows)} files"
lines = [
    f"{summary['line_covered']} of {summary['line_total']} lines run: {percent:.1f} %.",
    "",
    "| file | lines | run | % |",
    "|---|---:|---:|---:|",
    *(f"| `{name}` | {total} | {run} | {100.0 * run / total:.1f} |" for name, total, run in sorted(rows) if total),
]
print("\n".join(lines))
if sys.argv[3] == "true":
    write("lines", "\n".join(lines))
sys.exit(0 if percent >= least_percent else 1)
PYTHON

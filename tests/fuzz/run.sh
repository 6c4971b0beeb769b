#!/bin/sh
# Builds the fuzzers and runs each, all at the same time on two cores.
#
#   tests/fuzz/run.sh SECONDS|RUNS [DIR]
#
#   SECONDS   "20s": so long in all, for a short look; stops at the first failure of a fuzzer
#   RUNS      "1e7": until every entry has had so many calls (entries that take longer: calls for the same time); goes on after failures and lists
#             each kind once
#   DIR       where corpus, logs and reports are kept; build/fuzz/runs
#
# Without a kept corpus every run starts anew: the driver goes through its table by itself (see fuzz.cpp), so that no seeds are needed.
set -eu
cd "$(dirname "$0")/../.."
amount=${1:?SECONDS (20s) or RUNS (1e7)}
directory=${2:-build/fuzz/runs}
python3 tests/fuzz/coverage_of_entries.py
cmake --preset fuzz >/dev/null
cmake --build --preset fuzz
mkdir -p "$directory"
tables="liquid instrument_strength mash_proofing fermentation still_batch c"

run() { # table, seconds
    mkdir -p "$directory/corpus_$1"
    FERMENT_FUZZ_REPORT=$directory/$1.txt "build/fuzz/tests/fuzz/fuzz_$1" -max_len=512 -timeout=60 -rss_limit_mb=3000 \
        -artifact_prefix="$directory/" -max_total_time="$2" "$directory/corpus_$1" >"$directory/$1.out" 2>"$directory/$1.log" || echo "$1" >>"$directory/failed"
}

rm -f "$directory/failed"
case $amount in
*s)
    all=${amount%s}
    each=$((all / 3 > 0 ? all / 3 : 1)) # six tables on two cores
    ;;
*)
    each=0
    export FERMENT_FUZZ_EXECUTIONS="$amount" FERMENT_FUZZ_GO_ON=1
    ;;
esac
(for table in liquid fermentation mash_proofing; do run $table $each; done) &
(for table in still_batch instrument_strength c; do run $table $each; done) &
wait
for table in $tables; do
    echo "== $table"
    cat "$directory/$table.txt" 2>/dev/null || echo "no report"
    grep -A1 FAILURE "$directory/$table.out" || true
    grep -E "ERROR: |runtime error" "$directory/$table.log" || true
done
if [ -e "$directory/failed" ]; then
    echo "failed: $(tr '\n' ' ' <"$directory/failed")" >&2
    exit 1
fi

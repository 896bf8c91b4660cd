#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# sh tests/fuzz/run.sh [SECONDS [TARGET...]]: runs each fuzz target for so long, two at a time, from
# the seeds in tests/fuzz/corpus. What it finds is left in .build-fuzz/found.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
build=$top/.build-fuzz
seconds=${1:-60}
# A long memory of freed blocks costs more runs than it finds uses after free.
export ASAN_OPTIONS="quarantine_size_mb=4${ASAN_OPTIONS:+:$ASAN_OPTIONS}"
[ $# -eq 0 ] || shift

sh "$top/tests/fuzz/build.sh" >"$top/.build-fuzz.log" 2>&1 || { cat "$top/.build-fuzz.log"; exit 1; }
# shellcheck disable=SC2046 # a list of words
[ $# -gt 0 ] || set -- $(find "$build" -maxdepth 1 -name 'fuzz_*' -type f | sed 's/.*fuzz_//' | sort)

fuzz() {
    work=$build/corpus/$1
    mkdir -p "$work" "$build/found"
    seeds=$top/tests/fuzz/corpus/$1
    case $1 in
    barn | season) cp "$top"/samples/*.barn "$work" ;;
    esac
    if (cd "$build" && "./fuzz_$1" -max_total_time="$seconds" \
        -timeout=10 -max_len=65536 -artifact_prefix="$build/found/$1-" -print_final_stats=1 \
        "$work" "$seeds" >"$build/$1.log" 2>&1); then
        echo "fuzz_$1: $(sed -n 's/^stat::number_of_executed_units: *//p' "$build/$1.log") runs, none bad"
    else
        echo "fuzz_$1: FOUND"
        tail -n 40 "$build/$1.log"
        return 1
    fi
}

status=0
while [ $# -gt 0 ]; do
    fuzz "$1" &
    first=$!
    [ $# -lt 2 ] || fuzz "$2" || status=1
    wait "$first" || status=1
    [ $# -lt 2 ] || shift
    shift
done
exit "$status"

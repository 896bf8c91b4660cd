#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# sh tests/count.sh BUILD STATUS: names the skipped cases of the last `meson test`, prints
# `N passed, N failed, N skipped` and fails unless all is well. STATUS is what meson test returned.
set -eu
logs=$1/meson-logs

# The JUnit file lists the cases; a program that crashed, hung or broke its plan after cases that
# passed shows only in the JSON log, and counts as one more failure.
awk -v status="$2" -v junit="$logs/testlog.junit.xml" -v json="$logs/testlog.json" '
function attribute(name,    text) {
    text = $0
    if (!sub(".* " name "=\"", "", text)) return ""
    sub(/".*/, "", text)
    return text
}
function close_case() {
    if (open_case == "") return
    if (verdict == "skipped") print "SKIP " suite ": " open_case
    count[verdict]++
    if (verdict == "failed") known_bad[suite] = known_bad[suite "." open_case] = 1
    open_case = ""
}
BEGIN {
    RS = "<"
    while ((getline < junit) > 0) {
        if (/^testsuite /) suite = attribute("name")
        if (/^testcase /) { close_case(); open_case = attribute("name"); verdict = "passed" }
        if (/^skipped/) verdict = "skipped"
        if (/^(failure|error)[ \/>]/) verdict = "failed"
        if (/^\/testsuite>/) close_case()
    }
    RS = "\n"
    while ((getline < json) > 0) {
        name = $0; sub(/^\{"name": "/, "", name); sub(/".*/, "", name)
        if (/"result": "(FAIL|ERROR|TIMEOUT|INTERRUPT|UNEXPECTEDPASS)"/ &&
            !("turnheat." name in known_bad)) {
            print "FAIL " name ": the program itself"
            count["failed"]++
        }
    }
    if (status != 0 && count["failed"] == 0) count["failed"] = 1
    printf "%d passed, %d failed, %d skipped\n", count["passed"], count["failed"], count["skipped"]
    exit !(count["failed"] == 0 && count["passed"] > 0)
}'

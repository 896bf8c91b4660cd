#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# run.sh ANSWERS: compares the library with other people's software, in TAP. npm packages are
# fetched into a temporary folder; whatever is missing is skipped with its reason.
set -u
here=$(cd "$(dirname "$0")" && pwd)
answers=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
number=0

# comment: turns what it reads into TAP remarks
comment() {
    sed 's/^/# /'
}

# check NAME COMMAND...: one test, passed when the command succeeds
check() {
    name=$1
    shift
    number=$((number + 1))
    if "$@" >"$work/said" 2>&1; then
        echo "ok $number - $name"
    else
        echo "not ok $number - $name"
    fi
    comment <"$work/said"
}

skip() {
    number=$((number + 1))
    echo "ok $number - $1 # SKIP $2"
}

# package SPEC: fetches an npm package; the reason it cannot be had is left in $missing
package() {
    missing=
    if ! command -v npm >/dev/null || ! command -v node >/dev/null; then
        missing="npm or node is not installed"
    elif ! (cd "$work" && timeout 120 npm install --silent --no-audit --no-fund \
        --ignore-scripts "$1") >"$work/npm.log" 2>&1; then
        missing="npm could not fetch $1"
        comment <"$work/npm.log"
    fi
    [ -z "$missing" ]
}

remade() {
    NODE_PATH=$work/node_modules node "$here/../data/psychro_values.js" >"$work/values.csv" &&
        node "$here/psychro_check.js" "$here/../data/psychro_values.csv" "$work/values.csv"
}

repaid() {
    "$answers" paybacks >"$work/paybacks" &&
        NODE_PATH=$work/node_modules node "$here/payback_check.js" "$work/paybacks"
}

# A year of hourly normals, °C: compared with the sums a few lines make of it, and with the figures
# we wrote down when we first made them (4,931 and 4,764 degree-days, 37.6 °F).
weather_counted() {
    sed '1s/.*/time,pressure,temp_c,wind/' \
        "$work/node_modules/vega-datasets/data/seattle-weather-hourly-normals.csv" |
        cut -d , -f 1,3 >"$work/normals.csv"
    "$answers" weather "$work/normals.csv" >"$work/counted" &&
        node "$here/weather_check.js" "$work/normals.csv" "$work/counted"
}

# with_scipy: the Python that has it, if any
with_scipy() {
    for python in python3 /usr/bin/python3; do
        if "$python" -c 'import scipy' 2>/dev/null; then
            echo "$python"
            return
        fi
    done
}

if package psychrolib@1.1.1; then
    check "the frozen moist-air values are those of psychrolib" remade
else
    skip "the frozen moist-air values are those of psychrolib" "$missing"
fi

if package financial@0.2.4; then
    check "net savings and rates of return are those of financial" repaid
else
    skip "net savings and rates of return are those of financial" "$missing"
fi

if package vega-datasets@3.2.1; then
    check "degree-days are those of the hourly normals in vega-datasets" weather_counted
else
    skip "degree-days are those of the hourly normals in vega-datasets" "$missing"
fi

python=$(with_scipy)
for set in cycles dew-points dry-air; do
    if [ -n "$python" ]; then
        check "$set agree with scipy" "$python" "$here/scipy_check.py" "$answers" "$set"
    else
        skip "$set agree with scipy" "no python3 with scipy"
    fi
done

echo "1..$number"

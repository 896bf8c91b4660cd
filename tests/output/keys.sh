#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh keys.sh TURNHEAT`: the keys every report prints on the samples, and the columns of `hours`,
# against docs/output.md, as TAP.
# `sh keys.sh TURNHEAT COMMAND` prints the keys of one command. From the top of the tree.
set -u
turnheat=$1
doc=docs/output.md
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
farm=samples/thistle-hollow.farm
barns='samples/curtain.barn samples/solid.barn samples/nursery.barn'
reports='keys check weather budget compare compare+--against size plan quote calibrate'
count=0
failed=0

say() {
    count=$((count + 1))
    [ "$1" = ok ] || failed=1
    echo "$1 $count - $2"
}
# run COMMAND: its reports as JSON, one object a run.
run() {
    case $1 in
    keys) "$turnheat" keys --json && "$turnheat" keys --asked --json ;;
    weather)
        "$turnheat" weather weather/demo-omaha.csv --json &&
            "$turnheat" weather --places 41.3,-95.9 --json
        ;;
    quote)
        for barn in $barns; do
            "$turnheat" quote "$barn" --farm "$farm" --builder --json || return
        done
        ;;
    compare+--against)
        "$turnheat" compare samples/curtain.barn --against samples/solid.barn --farm "$farm" --json
        ;;
    calibrate)
        "$turnheat" calibrate samples/curtain.barn samples/solid.barn samples/nursery.barn \
            --farm "$farm" --fills samples/fills.csv --json
        ;;
    plan)
        "$turnheat" plan samples/curtain.barn --farm "$farm" --from 2026-01-15 \
            --gauge 'barns=62 %' --taken 'prepaid=4,000 gal' --json &&
            for barn in $barns; do
                "$turnheat" plan "$barn" --farm "$farm" --json || return
            done
        ;;
    *)
        for barn in $barns; do
            "$turnheat" "$1" "$barn" --farm "$farm" --json || return
        done
        ;;
    esac
}
# The paths of all values in the objects read. Lists are [].
keys() {
    jq -r 'paths(type != "object" and (type != "array" or length == 0)) | map(if type == "number"
        then "[]" else "." + . end) | join("") | ltrimstr(".")' |
        LC_ALL=C sort -u
}
# The numbers whose key does not end in a unit. Balances and fitted parameters carry their unit
# beside them.
without_unit() {
    jq -r 'paths(type == "number") | map(strings) | select(.[0] != "balances" and .[-2] != "parameters") | last' |
        grep -vE '(^|_)(gal|therm|usd|h|f|pct|btu_h|cfm|ft|in|ft2|in2|mi|ft3|count|ratio|factor|share|mmbtu|kwh|kw|ppm|lb|year|years|day|days|us|deg|d|usd_gal|usd_therm|btu_h_f|gal_h|btu_h_ft3|w|units)$' |
        grep -vx schema | sort -u
}
# The keys docs/output.md lists under the heading of a command: first cells of its tables.
listed() {
    sed -n "/^## \`$(echo "$1" | tr + ' ')\`/,/^## /s/^| \`\([^\`]*\)\`.*/\1/p" "$doc" | LC_ALL=C sort -u
}

if ! command -v jq >/dev/null; then
    echo '1..0 # SKIP no jq: the keys of reports are not compared with docs/output.md'
    exit 0
fi
if [ $# -gt 1 ]; then
    run "$2" | keys
    exit
fi
common='schema turnheat command title warnings warnings[] cautions cautions[]'
for report in $reports; do
    if ! run "$report" >"$scratch/$report.json" 2>"$scratch/message"; then
        say 'not ok' "$report runs on the samples"
        sed 's/^/# /' "$scratch/message"
        continue
    fi
    keys <"$scratch/$report.json" >"$scratch/all"
    # shellcheck disable=SC2086 # a list of words
    printf '%s\n' $common >"$scratch/common"
    grep -vxFf "$scratch/common" "$scratch/all" >"$scratch/printed"
    listed "$report" >"$scratch/listed"
    if LC_ALL=C diff "$scratch/listed" "$scratch/printed" >"$scratch/different"; then
        say ok "$report prints the keys that $doc lists"
    else
        say 'not ok' "$report prints the keys that $doc lists (< only listed, > only printed)"
        sed 's/^/# /' "$scratch/different"
    fi
    without_unit <"$scratch/$report.json" >"$scratch/bare"
    if [ -s "$scratch/bare" ]; then
        say 'not ok' "every number of $report has a key that ends in a unit"
        sed 's/^/# /' "$scratch/bare"
    else
        say ok "every number of $report has a key that ends in a unit"
    fi
done
# Hours have columns instead of keys.
"$turnheat" hours samples/curtain.barn 2>"$scratch/message" | head -n 1 | tr -d '"' | tr ',' '\n' |
    LC_ALL=C sort -u >"$scratch/printed"
listed hours >"$scratch/listed"
if LC_ALL=C diff "$scratch/listed" "$scratch/printed" >"$scratch/different"; then
    say ok "hours prints the columns that $doc lists"
else
    say 'not ok' "hours prints the columns that $doc lists (< only listed, > only printed)"
    sed 's/^/# /' "$scratch/different"
fi
# No key counts: a list does.
jq -r 'paths | last | strings' "$scratch"/*.json | grep -E '_[0-9]+(_|$)' |
    grep -vE '_p(10|90)_|_(99|996)_|_20_pa_' | LC_ALL=C sort -u >"$scratch/different"
if [ -s "$scratch/different" ]; then
    say 'not ok' 'no key holds a number that counts'
    sed 's/^/# /' "$scratch/different"
else
    say ok 'no key holds a number that counts'
fi
# The same keys whatever the weather: one season, a few, and enough for percentiles.
for seasons in 3 12; do
    "$turnheat" weather --normals weather/omaha.csv --seasons "$seasons" --seed 1 \
        --out "$scratch/made.csv" --json >"$scratch/weather" 2>"$scratch/message"
    for report in budget quote; do
        for weather in "$scratch/made.csv" weather/demo-omaha.csv; do
            "$turnheat" "$report" samples/curtain.barn --farm "$farm" --weather "$weather" --json \
                2>"$scratch/message" | keys | grep -v '^warnings'
            echo end
        done | awk '/^end$/ { part++; next } part { if (!($0 in had)) print "> " $0; delete had[$0] }
            !part { had[$0] } { n++ }
            END { for (key in had) print "< " key; if (!n) print "no keys at all" }' >"$scratch/different"
        if [ -s "$scratch/different" ]; then
            say 'not ok' "$report has the same keys with $seasons seasons (<) and one (>)"
            sed 's/^/# /' "$scratch/different"
        else
            say ok "$report has the same keys with $seasons seasons and one"
        fi
    done
done
# Natural gas is sold by the therm: keys of propane are null, others beside them end in _therm.
# shellcheck disable=SC2016 # a dollar sign
sed -e 's/^gas = propane/gas = natural/' -e 's/^price = .*gal/price_per_therm = $0.90\/therm/' \
    -e '/^\[tank/,$d' "$farm" >"$scratch/natural.farm"
for report in budget compare quote; do
    "$turnheat" "$report" samples/curtain.barn --farm "$scratch/natural.farm" --json \
        2>"$scratch/message" >"$scratch/natural.json"
    keys <"$scratch/natural.json" | grep -v '_therm$' >"$scratch/natural"
    "$turnheat" "$report" samples/curtain.barn --farm "$farm" --json 2>"$scratch/message" | keys \
        >"$scratch/propane"
    LC_ALL=C diff "$scratch/natural" "$scratch/propane" >"$scratch/different"
    jq -r 'paths(type == "number") | last | strings | select(endswith("_gal"))' \
        "$scratch/natural.json" | sed 's/$/ holds a number/' >>"$scratch/different"
    jq -e '[paths(type == "number") | last | strings | select(endswith("_therm"))] | length > 0' \
        "$scratch/natural.json" >/dev/null || echo 'no therms' >>"$scratch/different"
    if [ ! -s "$scratch/different" ]; then
        say ok "$report of natural gas has the same keys, null in gallons, and therms beside them"
    else
        say 'not ok' "$report of natural gas (< natural gas, > propane)"
        sed 's/^/# /' "$scratch/different"
    fi
done
echo "1..$count"
exit "$failed"

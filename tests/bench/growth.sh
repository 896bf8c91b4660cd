#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# How the instructions of a command grow with winters, rooms and choices, counted by valgrind, so
# that a busy machine changes nothing. From runs at n, 2n and 4n the exponent p of a + b·n^p is
# log2((y4n - y2n)/(y2n - yn)): the fixed part drops out. Fails above 1.1.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
sh "$top/tests/build.sh" >&2
cd "$top"
turnheat=.build/src/cli/turnheat
farm=samples/thistle-hollow.farm
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
failed=0

# instructions WORD...: of one run, output thrown away
instructions() {
    valgrind --tool=cachegrind --cache-sim=no --cachegrind-out-file=/dev/null "$turnheat" "$@" \
        2>&1 >/dev/null | awk '/I +refs:/ {gsub(",", "", $NF); print $NF}'
}

# report WHAT N Y1 Y2 Y4: a line of the table
report() {
    awk -v what="$1" -v n="$2" -v y1="$3" -v y2="$4" -v y4="$5" 'BEGIN {
        p = log((y4 - y2) / (y2 - y1)) / log(2)
        printf "%-34s %6d %9.1f %9.1f %9.1f %9.1f %8.3f\n", what, n, y1 / 1e6, y2 / 1e6, y4 / 1e6,
            (y4 - y2) / (2 * n) / 1e6, p
        exit !(p <= 1.1)
    }' || failed=1
}

printf '%-34s %6s %9s %9s %9s %9s %8s\n' 'million instructions' n 'at n' 'at 2n' 'at 4n' 'each more' \
    exponent

for seasons in 5 10 20; do
    "$turnheat" weather --normals weather/omaha.csv --seasons "$seasons" --seed 1 \
        --out "$scratch/$seasons.csv" >/dev/null
done
for command in budget plan; do
    for seasons in 5 10 20; do
        instructions "$command" samples/curtain.barn --farm "$farm" --clock standard \
            --weather "$scratch/$seasons.csv" >"$scratch/count-$seasons"
    done
    report "winters, $command" 5 "$(cat "$scratch/count-5")" "$(cat "$scratch/count-10")" \
        "$(cat "$scratch/count-20")"
done

mkdir "$scratch/weather"
cp weather/*.csv "$scratch/weather"
mkdir "$scratch/barns"
for room in 1 2 3 4; do
    sed "s/^name = .*/name = Room $room (invented)/" samples/curtain.barn >"$scratch/barns/$room.barn"
done
report 'rooms, budget' 1 \
    "$(instructions budget "$scratch/barns/1.barn" --farm "$farm")" \
    "$(instructions budget "$scratch/barns/1.barn" "$scratch/barns/2.barn" --farm "$farm")" \
    "$(instructions budget "$scratch/barns/1.barn" "$scratch/barns/2.barn" "$scratch/barns/3.barn" \
        "$scratch/barns/4.barn" --farm "$farm")"

for choices in 1 2 4; do
    awk -v choices="$choices" '/^\[/ {skip = /^\[choice/} !skip
        END {for (i = 1; i <= choices; i++)
            printf "\n[choice way-%d]\ncost = $150\nlife = 10\nheater main.input = %d Btu/h\n", i,
                140000 - 1000 * i}' \
        samples/curtain.barn >"$scratch/barns/choices-$choices.barn"
done
report 'choices, compare' 1 \
    "$(instructions compare "$scratch/barns/choices-1.barn" --farm "$farm")" \
    "$(instructions compare "$scratch/barns/choices-2.barn" --farm "$farm")" \
    "$(instructions compare "$scratch/barns/choices-4.barn" --farm "$farm")"
exit "$failed"

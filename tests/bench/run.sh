#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Prints what the program costs as multiples of a bare CSV loop; fails at twice a figure.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)

sh "$top/tests/build.sh" >&2
cd "$top/.build"
folder=$(mktemp -d "$PWD/bench-XXXXXX")
trap 'rm -rf "$folder"' EXIT

# Eight rooms, none like another, and one with six options.
for room in 1 2 3 4 5 6 7 8; do
    case $room in
    [1357]) sample=curtain ;;
    *) sample=solid ;;
    esac
    sed -e "s|^spaces = .*|spaces = $((900 + 17 * room))|" -e "s|^weather = ../weather|weather = $top/weather|" \
        "$top/samples/$sample.barn" >"$folder/$room.barn"
done
sed "s|^weather = ../weather|weather = $top/weather|" "$top/samples/curtain.barn" >"$folder/options.barn"
cat >>"$folder/options.barn" <<'END'

[option fifth]
cost = $1,500
life = 25
surface ceiling.R = 36

[option sixth]
cost = $800
life = 8
air.leakage_per_floor = 5 cm2/m2
END
tests/bench/bench src/cli/turnheat "$top/samples/thistle-hollow.farm" "$folder"

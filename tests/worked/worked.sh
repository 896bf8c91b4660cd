#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# One winter hour of the curtain sample worked by hand, and its turn summed from the hourly trace.
#   worked.sh PROGRAM [--print]   --print shows the table that docs/theory.md holds.
set -eu
program=$1
here=$(cd "$(dirname "$0")" && pwd)
top=$(cd "$here/../.." && pwd)
when=2102-01-24T06:00
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

"$program" hours "$top/samples/curtain.barn" --out "$scratch/hours.csv"
table=0
awk -v when="$when" -f "$here/hour.awk" "$scratch/hours.csv" > "$scratch/table" || table=1
if [ "${2:-}" = --print ]; then
    cat "$scratch/table"
    exit "$table"
fi

echo 1..3
fail=0
check() { # check NUMBER NAME STATUS
    if [ "$3" -eq 0 ]; then echo "ok $1 - $2"; else echo "not ok $1 - $2"; fail=1; fi
}
check 1 "one winter hour worked by hand, from outdoor reading to gallons" "$table"

missing=0
while IFS= read -r row; do
    grep -qxF -- "$row" "$top/docs/theory.md" || missing=1
done < "$scratch/table"
check 2 "docs/theory.md holds that table" "$missing"

summed=$(awk -v copies=2 -f "$here/turn.awk" "$scratch/hours.csv")
told=$("$program" budget "$top/samples/curtain.barn" --json | awk -F'[:,]' '/"gas_middle_gal"/ && !n++ { print $2 }')
echo "# hours summed $summed gal, budget $told gal"
differs=$(awk -v a="$summed" -v b="$told" 'BEGIN { d = a / b - 1; print (d < 1e-8 && d > -1e-8) ? 0 : 1 }')
check 3 "the turn summed from the hours equals the budget" "$differs"
exit "$fail"

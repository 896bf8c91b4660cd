#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh cookbook.sh TURNHEAT`, from the top of the tree: every output line docs/cookbook.md quotes is
# printed by the reports it quotes, as TAP. Spaces do not count.
set -u
turnheat=$1
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
farm=samples/thistle-hollow.farm

closer() { tr -s ' ' | sed -e 's/^ //' -e 's/ $//'; }
for run in 'budget samples/curtain.barn' 'compare samples/curtain.barn' 'size samples/solid.barn' \
    'quote samples/solid.barn --builder' 'compare samples/curtain.barn --against samples/solid.barn' 'plan samples/curtain.barn samples/solid.barn samples/nursery.barn' \
    'plan samples/curtain.barn samples/solid.barn samples/nursery.barn --from 2027-01-15 --gauge barns=62% --taken prepaid=9000gal' \
    'calibrate samples/curtain.barn samples/solid.barn samples/nursery.barn --fills samples/fills.csv'; do
    # shellcheck disable=SC2086 # a command and its files
    "$turnheat" $run --farm "$farm" || {
        echo "Bail out! $run failed"
        exit 1
    }
done | closer >"$scratch/printed"

# Quoted output: indented lines that are no command, and not of the part on many barns.
sed -e '/^## For a consultant/,$d' docs/cookbook.md | grep '^    ' |
    grep -vE '^ +(turnheat|--farm) ' | closer >"$scratch/quoted"
count=0
failed=0
while IFS= read -r line; do
    count=$((count + 1))
    if grep -qF -- "$line" "$scratch/printed"; then
        echo "ok $count - $line"
    else
        echo "not ok $count - $line"
        failed=1
    fi
done <"$scratch/quoted"
echo "1..$count"
[ "$count" -gt 20 ] || failed=1
exit "$failed"

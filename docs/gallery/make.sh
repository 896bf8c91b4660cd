#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh docs/gallery/make.sh [TURNHEAT]` from the top of the tree: draws the pictures of docs/gallery.md
# anew, from the samples and the invented weather. They are the figures of the --html pages.
set -eu
turnheat=${1:-.build/src/cli/turnheat}
gallery=docs/gallery
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

barn="samples/curtain.barn --farm samples/thistle-hollow.farm"

# draw "COMMAND WORD..." NAME... : the figures of the command's page in order, "-" leaves one out.
draw() {
    command=$1
    shift
    # shellcheck disable=SC2086 # its words
    "$turnheat" $command --html "$scratch/page.html" >/dev/null
    sed -n '/<style>/,/<\/style>/p' "$scratch/page.html" |
        sed -n '1,/<\/style>/p' >"$scratch/style"
    number=0
    for name; do
        number=$((number + 1))
        [ "$name" != - ] || continue
        awk -v wanted="$number" '/<svg class="wide"/{n++} n == wanted {print}
            n == wanted && /<\/svg>/{exit}' "$scratch/page.html" |
            sed -e 's/^<svg /&xmlns="http:\/\/www.w3.org\/2000\/svg" style="background:var(--paper)" /' \
                -e "1r $scratch/style" >"$gallery/$name.svg"
        xmllint --noout "$gallery/$name.svg"
    done
}

draw "budget $barn" months heat-flows coldest-week coldest-week-outdoors coldest-week-gas heater-hours \
    starts heat-parts
draw "compare $barn" comfort hours-by-choice starts-by-choice net-savings price
draw "compare $barn --against samples/solid.barn" burned two-barns
draw "plan $barn" ways - booking cash weeks tanks
draw "size $barn" load-by-age
draw 'weather --place Omaha,Nebraska --seasons 30' - winters coldest-hours
du -ch "$gallery"/*.svg | tail -n 1

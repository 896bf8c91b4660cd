#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh docs/gallery/make.sh [TURNHEAT]` from the top of the tree: draws the pictures of docs/gallery.md
# anew, from the samples and the invented weather. They are the figures of the --html pages.
set -eu
turnheat=${1:-.build/src/cli/turnheat}
gallery=docs/gallery
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

# draw COMMAND NAME... : the figures of the command's page in order, "-" leaves one out.
draw() {
    command=$1
    shift
    "$turnheat" "$command" samples/curtain.barn --farm samples/thistle-hollow.farm \
        --html "$scratch/page.html" >/dev/null
    number=0
    for name; do
        number=$((number + 1))
        [ "$name" != - ] || continue
        awk -v wanted="$number" '/<svg /{n++} n == wanted {print} n == wanted && /<\/svg>/{exit}' \
            "$scratch/page.html" | sed -e 's/^.*<svg /<svg /' -e 's/<\/svg>.*/<\/svg>/' \
            -e 's/^<svg /&xmlns="http:\/\/www.w3.org\/2000\/svg" /' \
            -e '1,/<rect/s/\(<rect .*\)fill="none"/\1fill="white"/' \
            >"$gallery/$name.svg"
        xmllint --noout "$gallery/$name.svg"
    done
}

draw budget months heat-flows coldest-week coldest-week-gas heaters-at-work
draw compare hours-and-starts price
draw plan booking-prepaid - tanks
draw size load-by-age
du -ch "$gallery"/*.svg | tail -n 1

#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh page.sh SAMPLE_PAGE`: checks the page that program prints, as TAP. What a missing tool would
# check is skipped by name.
set -u
sample=$1
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
page=$scratch/page.html
count=0

say() {
    count=$((count + 1))
    echo "$1 $count - $2"
}
# check NAME COMMAND...
check() {
    name=$1
    shift
    if "$@"; then say ok "$name"; else say 'not ok' "$name"; fi
}
skip() { say ok "$1 # SKIP no $2"; }
have() { command -v "$1" >/dev/null; }
# on_lines NUMBER TEXT FILE: the text stands on so many lines.
on_lines() { [ "$(grep -cF -- "$2" "$3")" -eq "$1" ]; }
absent() { on_lines 0 "$1" "$page"; }
names_differ() { [ -z "$(grep -o ' id="[^"]*"' "$page" | sort | uniq -d)" ]; }

check 'the page is written' sh -c "'$sample' >'$page'"
check 'hostile texts are escaped' absent '<script'
check 'the page fetches nothing' absent '://'
check 'no source of anything is named' absent 'src='
check 'every name on the page is used once' names_differ
check 'five figures are drawn for a desk' on_lines 5 '<svg class="wide"' "$page"
check 'and five for a phone' on_lines 5 '<svg class="narrow"' "$page"
check 'the empty one says so' on_lines 1 '(nothing to draw)' "$page"
if have xmllint; then
    check 'the page is well formed' xmllint --noout "$page"
else
    skip 'the page is well formed' xmllint
fi

browser() {
    chromium --headless --no-sandbox --disable-gpu --user-data-dir="$scratch/profile" \
        --virtual-time-budget=4000 "$@" 2>/dev/null
}
# The page, made to tell how wide it is, in a frame of a phone's width and one of a desk's.
measure() {
    cat >"$scratch/tell" <<SCRIPT
<script>
const e = document.documentElement;
const drawn = [...document.querySelectorAll("svg")].filter(s => s.clientWidth > 0).length;
const cut = [...document.querySelectorAll("svg text")].filter(t => {
    const text = t.getBoundingClientRect(), svg = t.ownerSVGElement.getBoundingClientRect();
    return text.width > 0 && (text.left < svg.left - 2 || text.right > svg.right + 2);
}).length;
const fits = e.scrollWidth <= e.clientWidth ? "fits" : "overflows";
parent.postMessage(fits + " " + innerWidth + " with " + drawn + ", " + cut + " cut", "*");
</script>
SCRIPT
    sed -e 's/<meta http-equiv[^>]*>//' -e '\|</body>|r '"$scratch/tell" "$page" \
        >"$scratch/telling.html"
    cat >"$scratch/frames.html" <<PAGE
<script>onmessage = e => document.body.append("[" + e.data + "]")</script>
<iframe src="telling.html" style="width:340px;border:0"></iframe>
<iframe src="telling.html" style="width:1200px;border:0"></iframe>
PAGE
    browser --dump-dom "file://$scratch/frames.html" >"$scratch/measured"
}
if have chromium; then
    measure
    check 'the page fits a phone, figures and all' \
        grep -q '\[fits 340 with 5, 0 cut\]' "$scratch/measured"
    check 'the page fits a desk, figures and all' \
        grep -q '\[fits 1200 with 5, 0 cut\]' "$scratch/measured"
    browser --print-to-pdf="$scratch/page.pdf" "file://$page" >/dev/null
    check 'the page prints' grep -q '^%PDF' "$scratch/page.pdf"
else
    for name in 'the page fits a phone, figures and all' 'the page fits a desk, figures and all' \
        'the page prints'; do
        skip "$name" chromium
    done
fi
echo "1..$count"

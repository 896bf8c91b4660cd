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
no_files_left() { [ -z "$(ls "$scratch/files")" ]; }

mkdir "$scratch/files"
check 'the page is written' env TMPDIR="$scratch/files" sh -c "'$sample' >'$page'"
check 'no temporary file is left' no_files_left
check 'hostile texts are escaped' absent '<script'
check 'the page fetches nothing' absent '://'
check 'no source of anything is named' absent 'src='
check 'every name on the page is used once' names_differ
if have gnuplot; then
    check 'all five figures are drawn' on_lines 5 '<svg ' "$page"
    check 'no figure is replaced by its numbers' on_lines 0 'could not be drawn' "$page"
else
    skip 'all five figures are drawn' gnuplot
    skip 'no figure is replaced by its numbers' gnuplot
fi
check 'the page is written without gnuplot' \
    sh -c "PATH='$scratch/files'; export PATH; '$sample' >'$scratch/plain.html'"
check 'then each figure says so' on_lines 5 'could not be drawn' "$scratch/plain.html"
check 'and none is drawn' on_lines 0 '<svg ' "$scratch/plain.html"
for file in page plain; do
    if have xmllint; then
        check "$file.html is well formed" xmllint --noout "$scratch/$file.html"
    else
        skip "$file.html is well formed" xmllint
    fi
done

browser() {
    chromium --headless --no-sandbox --disable-gpu --user-data-dir="$scratch/profile" \
        --virtual-time-budget=4000 "$@" 2>/dev/null
}
# The page, made to tell how wide it is, in a frame of a phone's width and one of a desk's.
measure() {
    cat >"$scratch/tell" <<SCRIPT
<script>
const e = document.documentElement, drawn = document.querySelectorAll("svg").length;
const fits = e.scrollWidth <= e.clientWidth ? "fits" : "overflows";
parent.postMessage(fits + " " + innerWidth + " with " + drawn, "*");
</script>
SCRIPT
    sed -e 's/<meta http-equiv[^>]*>//' -e '\|</body>|r '"$scratch/tell" "$page" \
        >"$scratch/telling.html"
    cat >"$scratch/frames.html" <<PAGE
<script>onmessage = e => document.body.append("[" + e.data + "]")</script>
<iframe src="telling.html" style="width:360px;border:0"></iframe>
<iframe src="telling.html" style="width:1200px;border:0"></iframe>
PAGE
    browser --dump-dom "file://$scratch/frames.html" >"$scratch/measured"
}
if have chromium && have gnuplot; then
    measure
    check 'the page fits a phone, figures and all' grep -q '\[fits 360 with 5\]' "$scratch/measured"
    check 'the page fits a desk, figures and all' grep -q '\[fits 1200 with 5\]' "$scratch/measured"
    browser --print-to-pdf="$scratch/page.pdf" "file://$page" >/dev/null
    check 'the page prints' grep -q '^%PDF' "$scratch/page.pdf"
else
    for name in 'the page fits a phone, figures and all' 'the page fits a desk, figures and all' \
        'the page prints'; do
        skip "$name" 'chromium or gnuplot'
    done
fi
echo "1..$count"

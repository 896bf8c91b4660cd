#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh reports.sh TURNHEAT`, from the top of the tree: the pages of all reports on the samples with the
# invented weather, as TAP: figures, widths, scripts, print, and numbers equal to those of --json.
# What a missing tool would check is skipped by name.
# shellcheck disable=SC2317 # functions are called through check
set -u
turnheat=$1
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
count=0
failed=0

say() {
    count=$((count + 1))
    [ "$1" = ok ] || failed=1
    echo "$1 $count - $2"
}
check() {
    what=$1
    shift
    if "$@"; then say ok "$what"; else say 'not ok' "$what"; fi
}
skip() { say ok "$1 # SKIP no $2"; }
have() { command -v "$1" >/dev/null; }

browser() {
    chromium --headless --no-sandbox --disable-gpu --user-data-dir="$scratch/profile" \
        --virtual-time-budget=8000 "$@" 2>>"$scratch/console"
}
# Each page tells what it is, how wide, whether it fits, how many figures are seen, how many of their
# texts are cut and how many tables scroll without saying so, in frames of a phone's and a desk's width; all of them in one browser.
tell() {
    cat >"$scratch/tell" <<SCRIPT
<script>
const e = document.documentElement;
const over = e.scrollWidth - e.clientWidth, fits = over <= 0 ? "fits" : "overflows by " + over;
const seen = [...document.querySelectorAll("svg")].filter(s => s.clientWidth > 0);
const cut = [...document.querySelectorAll("svg text")].filter(t => {
    const text = t.getBoundingClientRect(), svg = t.ownerSVGElement.getBoundingClientRect();
    return text.width > 0 && (text.left < svg.left - 2 || text.right > svg.right + 2);
});
const tell = () => { // when what hangs on scrolling has been laid out
const unsaid = [...document.querySelectorAll(".scroll")].filter(s =>
    (s.scrollWidth > s.clientWidth) !== (s.querySelector(".more")?.clientHeight > 0));
parent.postMessage("$2 " + innerWidth + " " + fits + " with " + seen.length + " figures, " +
    cut.length + " texts cut, " + unsaid.length + " tables scroll unsaid or say so in vain", "*");
};
setTimeout(tell, 500);
</script>
SCRIPT
    sed -e 's/<meta http-equiv[^>]*>//' -e '\|</body>|r '"$scratch/tell" "$1" >"$scratch/$2.html"
}
measure() {
    {
        echo '<script>onmessage = e => document.body.append("[" + e.data + "]")</script>'
        for command; do
            for width in 340 390 1280; do
                echo "<iframe src=\"$command.html\" style=\"width:${width}px;border:0\"></iframe>"
            done
        done
    } >"$scratch/frames.html"
    browser --dump-dom "file://$scratch/frames.html" >"$scratch/measured"
}
# The page's width and height in points, as its first sheet says.
paper() {
    sed "s/<\/style>/@page{size:$2}<\/style>/" "$1" >"$scratch/paper.html"
    browser --no-pdf-header-footer --print-to-pdf="$scratch/paper.pdf" "file://$scratch/paper.html" \
        >/dev/null
    LC_ALL=C grep -a -o '/MediaBox \[[^]]*\]' "$scratch/paper.pdf" | head -n 1
}
# significant VALUE: to three significant digits, with commas.
significant() {
    awk -v v="$1" 'BEGIN {
        if (v + 0 == 0) exit 1
        e = 0; while (v >= 1000) { v /= 10; e++ }
        s = sprintf("%.0f", v); if (s == 1000) { s = 100; e++ }
        while (e-- > 0) s = s "0"
        while (s ~ /[0-9][0-9][0-9][0-9]($|,)/) s = with_comma(s)
        print s }
        function with_comma(s,  at) {
            at = index(s ",", ",") - 4
            return substr(s, 1, at) "," substr(s, at + 1) }'
}
# stands VALUE: the number stands on the page.
stands() {
    shown=$(significant "$1") || return 1
    grep -qF -- "$shown" "$scratch/words"
}
words_of() { sed -e '/<svg /,/<\/svg>/d' -e 's/<[^>]*>/ /g' "$1" >"$scratch/words"; }

# page COMMAND BARN FIGURES [JSON_PATH...]
page() {
    command=$1
    input=$2
    figures=$3
    shift 3
    name="$command of $(basename "$input" | sed 's/\..*//')"
    page=$scratch/page.html
    if [ "$command" = weather ]; then
        "$turnheat" weather "$input" --json --html "$page" >"$scratch/json"
    else
        "$turnheat" "$command" "$input" --farm samples/thistle-hollow.farm --json --html "$page" \
            >"$scratch/json"
    fi || {
        say 'not ok' "$name is written"
        return
    }
    check "$name has no script and fetches nothing" \
        sh -c "! grep -qE '<script|src=|@import|url\(' '$page'"
    if have xmllint; then
        check "$name is well formed" xmllint --noout "$page"
    else
        skip "$name is well formed" xmllint
    fi
    for size in wide narrow; do
        check "$name has its $figures $size figures" \
            [ "$(grep -c "<svg class=\"$size\"" "$page")" -eq "$figures" ]
    done
    words_of "$page"
    for path; do
        if have jq; then
            check "$name shows $path" stands "$(jq -r "$path" "$scratch/json")"
        else
            skip "$name shows $path" jq
        fi
    done
    tell "$page" "$command"
    cp "$page" "$scratch/$command.page"
}

# on_figures COMMAND TEXT: a mark of a figure tells so when it is pointed at.
on_figures() { grep -qF -- "$2</title>" "$scratch/$1.page"; }

weather=weather/demo-omaha.csv
page budget samples/curtain.barn 8 '.rooms[0].season.gas_middle_gal' \
    '.rooms[0].season.cost_middle_usd' '.rooms[0].pigs.peak_gas_btu_h' \
    '.answer.used_high_gal'
if have jq; then
    "$turnheat" budget samples/curtain.barn --farm samples/thistle-hollow.farm --json 2>/dev/null |
        jq -r '.rooms[0].months.months[] | "\(.month) \(.gas_gal)"' >"$scratch/months"
    while read -r month gallons; do
        check "the figure of months shows $month" \
            on_figures budget "$month: $(significant "$gallons") gal"
    done <"$scratch/months"
else
    skip 'the figure of months shows its gallons' jq
fi
page compare samples/curtain.barn 5 '.rooms[0].choices.same_settings[1].gas_gal' \
    '.rooms[0].choices.same_settings[0].gas_gal' '.rooms[0].costs.costs[1].gas_gal'
page plan samples/curtain.barn 6 '.gallons.used_middle_gal' '.buying.offers[0].mean_usd'
if have jq; then
    jq -r '(.buying.split_cost[] | "\(.way)#\(.mean_usd)"),
        (.months.months[] | select(.cash_usd >= 1) | "\(.month)#\(.cash_usd)")' "$scratch/json" \
        >"$scratch/payments"
    while IFS='#' read -r what usd; do
        check "the figures of cost and cash show $what" \
            on_figures plan "$what: \$$(significant "$usd")"
    done <"$scratch/payments"
    jq -r '.weeks.weeks[] | select(.middle_gal >= 100) | "\(.from)#\(.middle_gal)"' "$scratch/json" \
        >"$scratch/weeks"
    while IFS='#' read -r from gallons; do
        check "the figure of weeks shows that of $from" \
            sh -c "grep -A2 -F '<title>$from' '$scratch/plan.page' |
                grep -qF '$(significant "$gallons") gal'"
    done <"$scratch/weeks"
else
    skip 'the figures of plan show their numbers' jq
fi
page size samples/solid.barn 1 '.rooms[0].need.need[0].load_btu_h' \
    '.rooms[0].need.need[1].needed_btu_h'
page quote samples/solid.barn 0 '.design.needed_btu_h' '.energy.quoted_middle_gal'
page weather "$weather" 2
if have jq; then
    for path in .cold.low_f .cold.high_f .cold.design_99_f; do
        check "weather shows $path" grep -qF -- "$(jq -r "$path * 10 | round / 10" "$scratch/json")" \
            "$scratch/words"
    done
else
    skip 'weather shows its cold' jq
fi
if have chromium; then
    measure budget compare plan size quote weather
    for width in 340 390 1280; do
        for page in budget:8 compare:5 plan:6 size:1 quote:0 weather:2; do
            told="${page%:*} $width fits with ${page#*:} figures, 0 texts cut, 0 tables scroll unsaid or say so in vain"
            check "$told" grep -qF "[$told]" "$scratch/measured"
        done
    done
    check 'the budget prints on Letter' \
        [ "$(paper "$scratch/budget.page" letter)" = '/MediaBox [0 0 612 792]' ]
    paper "$scratch/quote.page" A4 >"$scratch/a4"
    check 'the quotation prints on A4' grep -Eq '\[0 0 59[45][.0-9]* 84[12][.0-9]*\]' "$scratch/a4"
    "$turnheat" plan samples/curtain.barn samples/solid.barn samples/nursery.barn \
        --farm samples/thistle-hollow.farm --short \
        --html "$scratch/short.page" >/dev/null
    paper "$scratch/short.page" letter >/dev/null
    check 'the short plan is one sheet' \
        [ "$(LC_ALL=C grep -a -c '/MediaBox' "$scratch/paper.pdf")" -eq 1 ]
    check 'no page has an error' sh -c "! grep -i 'CONSOLE.*error' '$scratch/console'"
else
    skip 'the pages fit a phone and a desk, and print on Letter and A4' chromium
fi
echo "1..$count"
exit "$failed"

#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# sh fleet.sh TURNHEAT SAMPLES [BARNS [JOBS [DAYS]]]: many invented barns (200), three of them broken
# on purpose, through one process and through GNU parallel: the same lines but for their order; the
# lines collected by sqlite3 as docs/fleet.md says. Prints barns per second. Turns are cut to DAYS (8)
# so that it is soon done; a whole one has 165.
set -eu
turnheat=$(realpath "$1")
samples=$(realpath "$2")
n=${3:-200}
jobs=${4:-2}
days=${5:-8}
for tool in parallel sqlite3 jq; do
    command -v "$tool" >/dev/null || { echo "skipped: there is no $tool" >&2 && exit 77; }
done
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"

fail() {
    echo "not ok: $*" >&2
    exit 1
}

# Rooms that differ in size, ceiling and air, on the weather of the samples.
mkdir clients
i=0
while [ "$i" -lt "$n" ]; do
    i=$((i + 1))
    name=$(printf 'clients/barn %04d.barn' "$i")
    sed -e "s|^weather = ../weather|weather = $samples/../weather|" -e "s|^spaces = .*|spaces = $((800 + i))|" \
        -e "s|^days = .*|days = $days|" \
        "$samples/solid.barn" >"$name"
    printf '\n[surface gable]\nkind = wall\narea = %d ft2\nR = 12\n' $((100 + i % 60)) >>"$name"
    echo "$name" >>list.txt
done
printf 'colour = red\n' >>'clients/barn 0003.barn'
sed -i 's|^length = .*|length = -20 ft|' 'clients/barn 0005.barn'
sed -i 's|^weather = .*|weather = nowhere.csv|' 'clients/barn 0007.barn'

now() {
    date +%s.%N
}

# Prints barns a second since `$2`.
say_speed() {
    echo "$(now) $2" | awk -v n="$n" -v what="$1" '{printf "%s: %.1f barns a second\n", what, n / ($1 - $2)}'
}

began=$(now)
status=0
"$turnheat" budget --years 2101 --json-lines --barns list.txt --jobs "$jobs" >one.jsonl 2>one.err || status=$?
[ "$status" -eq 3 ] || fail "the status is $status, not 3"
say_speed "turns of $days days, one process, $jobs threads" "$began"
grep -q "3 of $n had errors" one.err || fail "what standard error says of the broken ones: $(cat one.err)"
[ "$(wc -l <one.jsonl)" -eq "$n" ] || fail "not a line a barn"

began=$(now)
status=0
parallel --will-cite -j "$jobs" --pipe -N 25 "$turnheat" budget --years 2101 --json-lines --barns - --jobs 1 \
    <list.txt >many.jsonl 2>/dev/null || status=$?
[ "$status" -ne 0 ] || fail "the broken barns left no status"
say_speed "turns of $days days, GNU parallel, $jobs processes" "$began"
sort one.jsonl >one.sorted
sort many.jsonl >many.sorted
cmp one.sorted many.sorted || fail "the lines differ"

# Each alone is what it is among others.
"$turnheat" budget --years 2101 --json-lines 'clients/barn 0001.barn' >alone.jsonl 2>/dev/null
head -n 1 one.jsonl | cmp - alone.jsonl || fail "the first barn alone differs"

[ "$(jq -r 'select(.errors) | .file' one.jsonl | tr '\n' ,)" = \
    'clients/barn 0003.barn,clients/barn 0005.barn,clients/barn 0007.barn,' ] || fail "the wrong ones are broken"
jq -r 'select(.errors) | .errors[0]' one.jsonl

sqlite3 fleet.db <<'SQL'
create table line (report text);
.mode ascii
.separator "\037" "\n"
.import one.jsonl line
create table room as
  select json_extract(report, '$.file') as file,
         json_extract(value, '$.name') as name,
         json_extract(value, '$.season.gas_middle_gal') as gallons
  from line, json_each(report, '$.rooms');
SQL
collected=$(sqlite3 fleet.db 'select count(*), round(sum(gallons)) from room')
counted=$(jq -s '[.[] | .rooms[]?.season.gas_middle_gal] | "\(length)|\(add | round).0"' -r one.jsonl)
[ "$collected" = "$counted" ] || fail "sqlite3 collected $collected, jq $counted"

# A farm and its barns a line for plan; one barn a line for compare.
cp "$samples"/*.barn "$samples"/*.farm .
sed -i "s|^weather = ../weather|weather = $samples/../weather|" ./*.barn
printf '%s\n' 'thistle-hollow.farm curtain.barn solid.barn' '' '"thistle-hollow.farm" "clients/barn 0001.barn"' \
    'thistle-hollow.farm gone.barn' 'solid.barn' >farms.txt
status=0
"$turnheat" plan --json-lines --barns - <farms.txt >plans.jsonl 2>/dev/null || status=$?
[ "$status" -eq 3 ] || fail "plan: the status is $status, not 3"
jq -c '[.file, .status, .errors[0]]' plans.jsonl
"$turnheat" plan curtain.barn solid.barn --farm thistle-hollow.farm --json 2>/dev/null | jq -cS . >plan.json
head -n 1 plans.jsonl | jq -cS 'del(.file)' | cmp - plan.json || fail "plan of the list differs from plan"
"$turnheat" compare --json-lines solid.barn --years 2101 >compared.jsonl 2>/dev/null
"$turnheat" compare --json solid.barn --years 2101 2>/dev/null | jq -cS . >compare.json
jq -cS 'del(.file)' compared.jsonl | cmp - compare.json || fail "compare of the list differs from compare"
echo "ok: $n barns, $collected"

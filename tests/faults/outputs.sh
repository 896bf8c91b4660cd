#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh outputs.sh PROGRAM`: every command, in every form, writing where it cannot: a full device, a pipe
# nobody reads, a closed output, a disk that fills up half way, no folder, a folder, no permission.
# Each must end with status 4 and one line, and leave neither a partial nor a temporary file (TAP).
set -u
turnheat=$(realpath "$1")
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
chmod 755 "$scratch"
cd "$scratch" || exit 1
mkdir out locked
chmod 777 out
count=0

# Forty days of invented weather, a room with everything in it, fills.
awk 'BEGIN { print "time,temp_c,rh"
    for (h = 0; h < 960; h++) printf "2018-%02d-%02d %02d:00,%.1f,75\n", 1 + int(h / 744),
        1 + int(h / 24) % 31, h % 24, -10 + 6 * sin(0.26 * h) }' >w.csv
cat >room.barn <<'END'
[room]
name = Invented
spaces = 1,000
length = 200 ft
width = 40 ft
height = 8 ft
[site]
elevation = 1,000 ft
utc_offset = -6
weather = w.csv
[surface ceiling]
kind = ceiling
area = 8,000 ft2
R = 30
[surface walls]
area = 3,840 ft2
R = 12
[air]
installed_max = 100,000 cfm
[fuel]
price = $2.00/gal
[heater room]
units = 3
input = 225,000 Btu/h
[turn winter]
place = 01-04
head = 1000
weight = 13 lb
days = 30
[tank yard]
[contract booked]
kind = booked
volume = 500 gal
price = $1.80/gal
[choice modulating]
cost = $100
heater room.control = modulating
[option thick]
cost = $100
surface ceiling.R = 60
END
{
    echo date,gallons,level_before_pct
    for day in 05 10 15 20 25 30; do echo "2018-01-$day,100,50"; done
} >fills.csv
awk 'BEGIN { print "month,mean_f,sd_f,lag1,range_f"; for (m = 1; m <= 12; m++) print m ",40,8,0.7,20" }' \
    >normals.csv

# refuses WHAT COMMAND: the command must end with status 4 and one line, and leave nothing in out/.
refuses() {
    what=$1
    shift
    status=0
    "$@" 2>said || status=$?
    left=$(ls -A out)
    if [ "$status" -ne 4 ] || [ "$(grep -c 'could not be written' said)" -ne 1 ] || [ -n "$left" ]; then
        echo "$what: status $status, left '$left', said: $(cat said)" >&2
        bad=$((bad + 1))
    fi
}
verdict() {
    count=$((count + 1))
    if [ "$bad" -eq 0 ]; then echo "ok $count - $1"; else echo "not ok $count - $1"; fi
}

# How to run as one who may not write in locked/ nor to keep.
echo old >keep
chmod 444 keep
chmod 555 locked
plain=
if [ "$(id -u)" -eq 0 ]; then
    plain='setpriv --reuid=65534 --regid=65534 --clear-groups'
    $plain "$turnheat" --version >/dev/null 2>&1 || plain=none
fi

# A pipe whose reader has gone is descriptor 8.
mkfifo pipe
# shellcheck disable=SC2094
exec 9<>pipe 8>pipe 9>&-

# A disk that fills up: no file may grow over 1,024 bytes.
fills_up() { (trap '' XFSZ && ulimit -f 2 && "$turnheat" "$@"); }
full_output() {
    what=$1
    shift
    refuses "$what" fills_up "$@" >./half
    rm half
}
# full_file OPTION FILE COMMAND...: standard output goes to a device, which has no limit.
full_file() {
    of=$1 to=$2
    shift 2
    fills_up "$@" "$of" "$to" >/dev/null
}

# on_output COMMAND...: standard output
on_output() {
    bad=0
    refuses 'a full device' "$turnheat" "$@" >/dev/full
    refuses 'a pipe nobody reads' "$turnheat" "$@" >&8
    refuses 'no output' "$turnheat" "$@" >&-
    full_output 'a disk that fills up' "$@"
    verdict "$* on standard output"
}

# into_file OPTION COMMAND...: a file named by the option
into_file() {
    option=$1
    shift
    bad=0
    refuses 'a full device' "$turnheat" "$@" "$option" /dev/full >said_out
    refuses 'no folder' "$turnheat" "$@" "$option" none/file >said_out
    refuses 'a folder' "$turnheat" "$@" "$option" locked >said_out
    for target in out/file keep; do
        refuses "a disk that fills up, $target" full_file "$option" "$target" "$@"
    done
    for target in locked/file keep; do
        # shellcheck disable=SC2086 # words
        [ "$plain" = none ] || refuses "no permission, $target" $plain "$turnheat" "$@" "$option" \
            "$target" >/dev/null
    done
    [ "$(cat keep)" = old ] || { echo 'the old file is gone' >&2; bad=$((bad + 1)); }
    verdict "$* $option"
}

for command in check budget compare plan size quote 'calibrate --fills fills.csv' weather; do
    input=room.barn
    [ "$command" != weather ] || input=w.csv
    for form in '' --json --csv; do
        # shellcheck disable=SC2086 # words
        on_output $command $input $form
    done
    # shellcheck disable=SC2086
    into_file --html $command $input
done
on_output hours room.barn
into_file --out hours room.barn
into_file --out weather --normals normals.csv --seasons 1
on_output new
count=$((count + 1))
case $plain in
none) echo "ok $count - files without permission # SKIP root can write anywhere, and setpriv fails here" ;;
*) echo "ok $count - files without permission are among them" ;;
esac
echo "1..$count"

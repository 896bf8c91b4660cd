#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Replays dialogues with the command line, as TAP: `sh replay.sh PROGRAM FILE...`. A dialogue
# holds, for each command, exactly what it says and its exit status:
#
#     # Any line of this kind is a remark.
#     $ turnheat budgte          the command, run by sh in a scratch folder kept for the file
#     ! turnheat: there is no    a line of standard error
#     > Propane                  a line of standard output
#     = 2                        the exit status
#
# The program is called turnheat, whatever its file is; $SAMPLES is the folder of samples. A file
# whose first line is "# needs VARIABLE" or "# needs program NAME" is skipped by name without it.
# `sh replay.sh --print PROGRAM FILE` prints what is said now, to be read and kept if right.
set -u
tests=$(cd "$(dirname "$0")" && pwd)
SAMPLES=$(cd "$tests/../../samples" 2>/dev/null && pwd)
export SAMPLES LC_ALL=C
print_only=false
if [ "$1" = --print ]; then
    print_only=true
    shift
fi
program=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
shift
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
mkdir "$scratch/bin"
ln -s "$program" "$scratch/bin/turnheat"
PATH=$scratch/bin:$PATH
export PATH

marked() { sed -e "s/^/$1 /" -e 's/ $//' "$2"; }

run_command() {
    status=0
    (cd "$scratch/folder" && sh -c "$1") >"$scratch/out" 2>"$scratch/err" </dev/null || status=$?
    marked '>' "$scratch/out"
    marked '!' "$scratch/err"
    echo "= $status"
}

# Prints the file with what its commands say now.
replay() {
    rm -rf "$scratch/folder"
    mkdir "$scratch/folder"
    while IFS= read -r line; do
        case $line in
        '$ '*)
            printf '%s\n' "$line"
            run_command "${line#??}"
            ;;
        '> '* | '! '* | '= '* | '>' | '!') ;;
        *) printf '%s\n' "$line" ;;
        esac
    done <"$1"
}

# What the file needs and there is not.
lacking() {
    head -n 1 "$1" | sed -n 's/^# needs //p' | while read -r kind name; do
        if [ "$kind" = program ]; then
            command -v "$name" >/dev/null || echo "$name"
        else
            [ -n "$(printenv "$kind")" ] || echo "$kind"
        fi
    done
}

count=0
for file; do
    if $print_only; then
        replay "$file"
        continue
    fi
    count=$((count + 1))
    name=$(basename "$file" .txt)
    lack=$(lacking "$file")
    if [ -n "$lack" ]; then
        echo "ok $count - $name # SKIP no $lack"
        continue
    fi
    replay "$file" >"$scratch/now"
    if diff -u "$file" "$scratch/now" >"$scratch/differs"; then
        echo "ok $count - $name"
    else
        sed 's/^/# /' "$scratch/differs"
        echo "not ok $count - $name"
    fi
done
$print_only || echo "1..$count"

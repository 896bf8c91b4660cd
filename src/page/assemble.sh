#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh assemble.sh TURNHEAT ENGINE FOLDER OUT SCRIPT...`: puts page.html, the style of the program's
# reports and of the page, the scripts, the worker and the packed engine of this folder into OUT.
set -eu
turnheat=$1
engine=$2
folder=$3
out=$4
shift 4
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

# Modules as one text: each names what it has from others only for the reader.
join() {
    for name; do
        sed -e '/^import .*;$/d' -e 's/^export //' "$folder/$name"
    done
}
join "$@" | grep -v '^// SPDX' >"$scratch/script"
join wasi.js worker.js >"$scratch/worker"
"$turnheat" keys room --html "$scratch/report.html" >/dev/null
sed -n '/<style>/,/<\/style>/p' "$scratch/report.html" | sed 's/<[^>]*>//g' >"$scratch/report.css"
# What the program's tables say, as a browser may find it in a page.
known() { "$turnheat" "$@" --json | sed 's/</\\u003c/g'; }
known keys >"$scratch/keys"
known keys --asked >"$scratch/asked"
known weather --places >"$scratch/places"
cp "$folder/../../docs/terms.md" "$scratch/terms.md"
gzip -9 -n -c "$engine" | base64 -w 0 >"$scratch/engine"
"$turnheat" --version | cut -d' ' -f2 | tr -d '\n' >"$scratch/version"

# The policy lets no script run but this one. Its text begins after the tag, with a line end.
{ echo && cat "$scratch/script"; } | sha256sum | cut -c 1-64 | sed 's/../\\x&/g' >"$scratch/hex"
# shellcheck disable=SC2059 # the digits are the format
env printf "$(cat "$scratch/hex")" | base64 >"$scratch/hash"

# @NAME@ is replaced by a file of that name; alone on a line by all its lines.
awk -v from="$scratch" -v folder="$folder" '
    function insert(name,   file, line, n) {
        file = (name == "views.css" ? folder "/views" : name == "page.css" ? folder : from) "/" name
        while ((getline line < file) > 0) {
            if (n++) print ""
            ORS = ""; print line; ORS = "\n"
        }
        close(file)
    }
    {
        while (match($0, /@[a-z.]+@/)) {
            printf "%s", substr($0, 1, RSTART - 1)
            insert(substr($0, RSTART + 1, RLENGTH - 2))
            $0 = substr($0, RSTART + RLENGTH)
        }
        print
    }' "$folder/page.html" >"$out"

#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The tree's own rules, as TAP. `sh tests/structure/structure.sh [LIBRARY IO_LIBRARY]`;
# without libraries the checks of compiled code are skipped by name.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
core_lib=${1:+$(cd "$(dirname "$1")" && pwd)/$(basename "$1")}
io_lib=${2:+$(cd "$(dirname "$2")" && pwd)/$(basename "$2")}
cd "$here/../.."
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
: >"$scratch/verdicts"

# The end of a pipe runs in a shell of its own, so the count of cases is kept in a file.
say() {
    echo "$1" >>"$scratch/verdicts"
    echo "$1 $(grep -c . "$scratch/verdicts") - $2"
}

# verdict NAME: fails when standard input holds a line, and prints the lines.
verdict() {
    cat >"$scratch/found"
    sed 's/^/# /' "$scratch/found"
    if [ -s "$scratch/found" ]; then say 'not ok' "$1"; else say ok "$1"; fi
}

# Tracked files that are there; in an unpacked archive all files but those of builds.
list_files() {
    if git -c safe.directory='*' rev-parse --is-inside-work-tree >/dev/null 2>&1; then
        git -c safe.directory='*' ls-files
    else
        find . -name '.build*' -prune -o -type f -print | sed 's,^\./,,'
    fi | while read -r file; do [ ! -f "$file" ] || echo "$file"; done
}
list_files >"$scratch/files"
pick() { grep -E "$1" "$scratch/files" || :; }
pick '\.[ch]$' >"$scratch/c"
pick '\.([ch]|sh|awk|py|js|mjs)$|(^|/)meson\.build$|^\.ci/' >"$scratch/code"
each() { xargs -d '\n' -r "$@"; }

# --- the tree ---

cut -d/ -f1 "$scratch/files" | sort -u | grep -vE '^\.' |
    grep -vxE 'README\.md|DEVELOPERS\.md|LICENSE|meson\.build|src|include|tests|weather|samples|docs' |
    verdict 'the top level holds nothing but its allowed entries'

each awk 'FNR == 1 { if (NR > 1 && !said) print last; said = 0; last = FILENAME }
    FNR <= 2 && /SPDX-License-Identifier: GPL-3.0-or-later/ { said = 1 }
    END { if (!said) print last }' <"$scratch/code" |
    verdict 'every source file names its licence in its first lines'

each wc -l <"$scratch/code" | awk '$2 != "total" && $1 > 500 { print $2 " has " $1 " lines" }' |
    verdict 'no source file is over 500 lines'

pick '(^|/)(util|utils|types|common|helpers?|misc)\.[ch]$' |
    verdict 'no file is a catch-all by its name'

# Each pattern holds a bracket, so that this file does not contain what it looks for.
grep -v '^LICENSE$' "$scratch/files" |
    each grep -nIiE '[t]ranscript|[s]eed document|[r]ecording 0|[v]ideo-0' |
    verdict 'no file cites what the tree never mentions'
grep -v '^LICENSE$' "$scratch/files" |
    each grep -nIE '(^|[^A-Za-z0-9_./-])/([w]ork|[t]mp|[r]oot|[h]ome)(/|[^A-Za-z0-9_]|$)' |
    verdict 'no file holds a path of one machine'
each grep -nIiE '[n]pmjs|[d]eb\.debian|[p]ypi\.|[p]roxy\.golang|[c]rates\.io' <"$scratch/files" |
    verdict 'no file names the host of a package registry'

# --- functions ---

each awk -f "$here/functions.awk" <"$scratch/c" | sort -n >"$scratch/lengths"
awk '$1 > 60 { print $2 " is " $1 " lines long" }' "$scratch/lengths" |
    verdict 'no function is over 60 lines'
grep -E ' src/' "$scratch/lengths" | awk -v figures="$scratch/figures" '
    { length_of[NR] = $1 }
    END {
        median = length_of[int((NR + 1) / 2)]
        printf "# %d functions in src, median %d lines, longest %d\n", NR, median, $1 > figures
        if (NR == 0 || median > 15) print "median " median
    }' | verdict 'the median function of src has at most 15 lines'
cat "$scratch/figures"
pick '^include/.*\.h$' | each awk -f "$here/prototypes.awk" |
    verdict 'every public function is explained in its header'

# --- layers ---

# `FILE HEADER` for each quoted include of a file below the given folders.
includes_of() {
    pick "^($1)/.*\.[ch]\$" | each grep -HoE '^ *# *include "[^"]+"' |
        sed -E 's/^([^:]*):.*"([^"]+)"/\1 \2/'
}
library='src/(base|room|core|climate|money|runs|decide|farm)'

pick "^(include|$library)/.*\.[ch]\$" | each grep -HoE '^ *# *include <[^>]+>' |
    grep -vE '<(gsl/.*|(float|limits|math|stdarg|stdatomic|stdbool|stddef|stdint|stdio|stdlib|string)\.h)>' |
    grep -v '^src/runs/workers_pthread\.c:.*<pthread\.h>$' |
    verdict 'the library includes no system header but GSL and plain C; one file starts threads'

# A public header belongs to the folder that holds the file of its name.
sed '/^#/d' "$here/layers.txt" | awk '{ for (i = 1; i <= NF; i++) print $i, NR }' \
    >"$scratch/layers"
includes_of 'include|src' | awk '
    function name(file) { sub(/.*\//, "", file); sub(/\.[ch]$/, "", file); return file }
    NR == FNR {
        split($1, path, "/")
        if (path[1] == "src" && $1 ~ /h$/) private[name($1)] = path[2]
        if (path[1] == "src" && $1 ~ /c$/) owner[name($1)] = path[2]
        next
    }
    {
        split($1, path, "/"); from = name($1); to = name($2)
        if (from != to)
            print $1, $2, from, to, path[1] == "src" ? path[2] : owner[from],
                  $2 ~ /^turnheat\// ? owner[to] : private[to]
    }' "$scratch/c" - >"$scratch/edges"
awk '
    function place(folder, module) {
        if (folder != "core" && folder != "") return (folder "/") in layer ? layer[folder "/"] : 99
        while (!(module in layer) && sub(/_[^_]*$/, "", module)) continue
        return module in layer ? layer[module] : layer["core/"]
    }
    NR == FNR { layer[$1] = $2; next }
    place($6, $4) > place($5, $3) { print $1 " includes " $2 " from a higher layer (layers.txt)" }' \
    "$scratch/layers" "$scratch/edges" | verdict 'the arrows between folders, and inside core, go one way'
pick '^(include|src)/.*\.h$' | each grep -HoE '^#include "[^"]+"' |
    sed -nE 's,^[^:]*/([a-z0-9_]+)\.h:[^"]*"([^ ]*/)?([a-z0-9_]+)\.h"$,\1 \3,p' |
    tsort 2>&1 >/dev/null | verdict 'no headers include each other in a circle'
pick '^src/[^/]+/' | sed 's,/[^/]*$,,' | sort | uniq -c | awk '$1 > 32 { print $2 " has " $1 " files" }' |
    verdict 'no folder is a crowd'

# --- compiled code ---

# `USER USED` for object files of the libraries, named FOLDER_FILE, whose symbols one needs of the
# other.
object_edges() {
    nm -A "$core_lib" "$io_lib" 2>/dev/null | awk '
        { split($1, at, ":"); object = at[2]; sub(/.*\//, "", object); sub(/\.c\.o$/, "", object) }
        $2 == "U" { user[++n] = object; needs[n] = $3 }
        $2 ~ /^[TDRBV]$/ { has[$3] = object }
        END { for (i = 1; i <= n; i++)
                  if (needs[i] in has && has[needs[i]] != user[i]) print user[i], has[needs[i]] }' |
        sort -u
}
circles='no two object files need each other, nor do several in a ring'
climbs='no object file needs one of a later folder'
if [ -z "$core_lib" ]; then
    say ok "$circles # SKIP no library was given"
    say ok "$climbs # SKIP no library was given"
else
    object_edges >"$scratch/objects"
    [ -s "$scratch/objects" ] || echo 'no edges were found' >"$scratch/none"
    { cat "$scratch/none" 2>/dev/null; tsort "$scratch/objects" 2>&1 >/dev/null; } |
        verdict "$circles"
    awk 'NR == FNR { layer[$1] = $2; next }
        { from = $1; to = $2; sub(/_.*/, "/", from); sub(/_.*/, "/", to) }
        layer[to] > layer[from] { print $1 " needs " $2 }' "$scratch/layers" "$scratch/objects" |
        verdict "$climbs"
fi

symbols='the library calls nothing that prints, reads, exits or asks the environment'
globals='the library has no variable that outlives a call'
if [ -z "$core_lib" ]; then
    say ok "$symbols # SKIP no library was given"
    say ok "$globals # SKIP no library was given"
else
    nm -u "$core_lib" | awk '{ print $2 }' | sort -u | grep -xE \
        '(__)?(v?f?printf|puts|putchar|fputs|fputc|putc|fwrite|perror|stdout|stderr|stdin|f?open(64)?|fclose|fread|f?gets|getline|read|write|scanf|_?exit|quick_exit|abort|(secure_)?getenv|setenv|setlocale|system|s?rand|time|localtime|clock_gettime|csv_.*|ini_.*|json_.*)(_chk)?' |
        verdict "$symbols"
    size -A "$core_lib" | awk '
        / *:$|ex / { object = $1 }
        /^\.(data|bss|tdata|tbss) / && $2 > 0 { print object " has " $2 " bytes of " $1 }' |
        verdict "$globals"
fi

echo "1..$(grep -c . "$scratch/verdicts")"
! grep -q not "$scratch/verdicts"

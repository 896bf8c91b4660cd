#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh library.sh BUILD`: installs into a scratch folder and uses the library from there, as TAP.
set -u
top=$(cd "$(dirname "$0")/../.." && pwd)
build=$1
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
count=0

check() {
    name=$1
    shift
    count=$((count + 1))
    if "$@"; then echo "ok $count - $name"; else echo "not ok $count - $name"; fi
}

DESTDIR=$scratch meson install -C "$build" --no-rebuild >"$scratch/log"
pc=$(find "$scratch" -name turnheat.pc)
library=$(find "$scratch" -name libturnheat.so)
prefix=$(dirname "$(dirname "$(find "$scratch" -path '*/bin/turnheat')")")

# Symbols shown that no public header names.
shown_by_accident() {
    nm -D --defined-only "$library" | awk '{ print $3 }' | sort -u >"$scratch/shown"
    grep -rhoE '\bth_[a-z0-9_]+\(' "$prefix/include/turnheat" | tr -d '(' | sort -u \
        >"$scratch/named"
    comm -23 "$scratch/shown" "$scratch/named"
}
shows_named_only() { [ -s "$library" ] && [ -z "$(shown_by_accident)" ] && [ -s "$scratch/shown" ]; }

# Each header stands on its own, in C and in whatever order.
headers_stand_alone() {
    for header in "$prefix"/include/turnheat/*.h; do
        echo "#include <turnheat/$(basename "$header")>" >"$scratch/one.c"
        cc -std=c17 -Wall -Werror -I"$prefix/include" -c "$scratch/one.c" -o "$scratch/one.o" ||
            return 1
    done
}

# Headers, library, description, program, manual and completion: what a package would hold.
installs_headers() {
    (cd "$top/include/turnheat" && ls) >"$scratch/have"
    (cd "$prefix/include/turnheat" && ls) | cmp -s - "$scratch/have"
}
man_page() {
    [ -s "$prefix/share/man/man1/turnheat.1" ] &&
        cmp -s "$prefix/share/man/man1/turnheat.1" "$build/docs/turnheat.1"
}
# shellcheck disable=SC1091,SC2016 # a file of the scratch folder; the other bash expands it
completes() {
    bash -c '. "$1" && COMP_WORDS=(turnheat bud) COMP_CWORD=1 && "$(complete -p turnheat |
        sed "s/.*-F \([^ ]*\).*/\1/")" && [ "${COMPREPLY[*]}" = budget ]' bash \
        "$prefix/share/bash-completion/completions/turnheat"
}

flags() {
    PKG_CONFIG_SYSROOT_DIR=$scratch PKG_CONFIG_PATH=$(dirname "$pc") pkg-config "$@" turnheat
}
# compile NAME OPTION...
compile() {
    program=$1
    shift
    # shellcheck disable=SC2046 # a list of words
    cc -std=c17 -Wall -Wextra -Wpedantic -Werror "$top/docs/example.c" -o "$scratch/$program" \
        $(flags --cflags) "$@"
}
shared() {
    # shellcheck disable=SC2046
    compile shared $(flags --libs) &&
        LD_LIBRARY_PATH=$(dirname "$library") "$scratch/shared" >"$scratch/said"
}
static() {
    # shellcheck disable=SC2046
    compile static "${library%.so}.a" $(flags --libs --static | sed 's/-lturnheat//') &&
        "$scratch/static" >"$scratch/said_too" && cmp -s "$scratch/said" "$scratch/said_too"
}

# The example's room and weather as files for the installed program. Text of the barn file and the
# code of the example name each number on their own, so the same gallons mean that both agree.
example_as_files() {
    cat >"$scratch/room.barn" <<'END'
[room]
spaces = 1,000
floor = 8,000 ft2
volume = 64,000 ft3
perimeter = 480 ft
[site]
elevation = 300 m
utc_offset = -6
[surface ceiling]
kind = ceiling
area = 8,000 ft2
R = 30
[surface walls]
area = 3,840 ft2
R = 15
[air]
installed_max = 100,000 cfm
leakage = 1,000 cm2
[heater room]
units = 3
input = 225,000 Btu/h
blower = 0 W
[turn winter]
place = 11-05
head = 1,000
weight = 13 lb
days = 165
END
    month=1
    echo month,mean_f,sd_f,lag1,range_f >"$scratch/normals.csv"
    for mean in 16 21 34 48 60 69 73 71 62 49 35 21; do
        echo "$month,$mean,10,0.7,18" >>"$scratch/normals.csv"
        month=$((month + 1))
    done
    "$prefix/bin/turnheat" weather --normals "$scratch/normals.csv" --seasons 10 --seed 1 \
        --out "$scratch/w.csv" >/dev/null
}
# seasons R...: "2101-02 3116.7" by the installed program, one season a line
seasons() {
    for r in "$@"; do
        "$prefix/bin/turnheat" budget "$scratch/room.barn" --weather "$scratch/w.csv" --csv \
            --set "surface ceiling.R=$r" 2>/dev/null | tr -d '"' |
            awk -F, '$1 == "table" { seasons = $3 == "season" && $4 == "gas_gal"; next }
                seasons && $1 ~ /seasons$/ && $4 != "" { printf "%s %.1f\n", $3, $4 }'
    done
}
same_as_the_program() {
    sed -n 's/^  \(2[0-9]*-[0-9]*\) *\([0-9.]*\) gal$/\1 \2/p' "$scratch/said" >"$scratch/example"
    example_as_files && seasons 30 50 >"$scratch/budget" &&
        [ "$(wc -l <"$scratch/example")" -eq 20 ] && cmp "$scratch/example" "$scratch/budget" >&2
}
compares_and_plans() {
    grep -qE '^burners that turn down to 30 %: [a-z_]+$' "$scratch/said" &&
        grep -qE '^  as warm as today -?[0-9]+ gal less a season$' "$scratch/said" &&
        grep -qE '^  a winter takes [0-9]+ gal \([0-9]+ to [0-9]+\)$' "$scratch/said" &&
        grep -qE '^  prepaid: [0-9]+ gal costs least on average' "$scratch/said"
}

check 'the library shows only what its headers name' shows_named_only
check 'every public header stands alone' headers_stand_alone
check 'every public header is installed' installs_headers
check 'docs/example.c links the shared library' shared
check 'docs/example.c links the static library and says the same' static
check 'docs/example.c and turnheat budget find the same gallons' same_as_the_program
check 'docs/example.c compares and plans' compares_and_plans
check 'the man page is installed' man_page
check 'the completion is installed and completes' completes
echo "1..$count"

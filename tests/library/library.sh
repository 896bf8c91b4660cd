#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh library.sh BUILD`: installs into a scratch folder and uses the library from there, as TAP.
set -u
here=$(cd "$(dirname "$0")" && pwd)
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

flags() {
    PKG_CONFIG_SYSROOT_DIR=$scratch PKG_CONFIG_PATH=$(dirname "$pc") pkg-config "$@" turnheat
}
# compile NAME OPTION...
compile() {
    program=$1
    shift
    # shellcheck disable=SC2046 # a list of words
    cc -std=c17 "$here/air.c" -o "$scratch/$program" $(flags --cflags) "$@"
}
shared() {
    # shellcheck disable=SC2046
    compile shared $(flags --libs) &&
        LD_LIBRARY_PATH=$(dirname "$library") "$scratch/shared" >"$scratch/said"
}
static() {
    # shellcheck disable=SC2046
    compile static "${library%.so}.a" $(flags --libs --static | sed 's/-lturnheat//') &&
        "$scratch/static" >"$scratch/said"
}
# By hand, with 2,339 Pa from steam tables and 97,773 Pa of the standard atmosphere at 300 m:
# 0.622 * 0.6 * 2339 / (97773 - 0.6 * 2339) = 0.00906.
said() { grep -q 'holds 9\.1 g/kg' "$scratch/said"; }

check 'the library shows only what its headers name' shows_named_only
check 'every public header stands alone' headers_stand_alone
check 'a program links the shared library' shared
check 'and computes' said
check 'a program links the static library' static
check 'and computes as well' said
check 'the man page is installed' test -s "$prefix/share/man/man1/turnheat.1"
check 'the completion is installed' test -s "$prefix/share/bash-completion/completions/turnheat"
echo "1..$count"

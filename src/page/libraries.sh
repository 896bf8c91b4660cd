#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh libraries.sh FOLDER` builds what the program needs of GSL, libcsv, jansson and zlib for
# wasm32-wasi into FOLDER (include, lib), from Debian's own source packages. What is there already,
# from the same versions of this script, is kept.
set -eu
mkdir -p "$1"
folder=$(cd "$1" && pwd)
script=$(cd "$(dirname "$0")" && pwd)/$(basename "$0")
flags='--target=wasm32-wasi -O2 -g0 -ffp-contract=off'
jobs=$(nproc)
# The folders of GSL that the program's functions come from, and what those need: where the program
# calls a function of another, the linker says that it is undefined, and the folder goes here.
gsl_parts='blas block cblas cdf complex eigen err interpolation linalg matrix multifit_nlinear permutation poly qrng
    randist rng roots sort specfunc statistics sys vector'

# Several builds may want it at once.
exec 9>"$folder/lock"
flock 9
if [ -f "$folder/made" ] && cmp -s "$script" "$folder/made"; then
    exit 0
fi

# The machine's own package sources, read as sources of code, in a folder of our own.
fetch() {
    mkdir -p "$folder/apt/sources" "$folder/apt/lists/partial" "$folder/archives"
    for list in /etc/apt/sources.list.d/*.sources; do
        [ -f "$list" ] || continue
        sed 's/^Types:.*/Types: deb-src/' "$list" >"$folder/apt/sources/$(basename "$list")"
    done
    for list in /etc/apt/sources.list /etc/apt/sources.list.d/*.list; do
        [ -f "$list" ] || continue
        sed -n 's/^deb /deb-src /p' "$list" >"$folder/apt/sources/$(basename "$list")"
    done
    set -- -q -o Dir::Etc::sourcelist=/dev/null -o "Dir::Etc::sourceparts=$folder/apt/sources" \
        -o "Dir::State::lists=$folder/apt/lists" -o APT::Sandbox::User=
    apt-get "$@" update
    (cd "$folder/archives" && apt-get "$@" source --download-only gsl libcsv jansson zlib)
}

# unpack NAME: an archive's code in a folder of that name.
unpack() {
    rm -rf "${folder:?}/$1"
    mkdir "$folder/$1"
    tar -xf "$(ls "$folder/archives/$1"_*.orig.tar.*)" --strip-components=1 -C "$folder/$1"
    cd "$folder/$1"
}

# archive NAME OPTION...: lib/libNAME.a of the files named on standard input.
archive() {
    name=$1
    shift
    # shellcheck disable=SC2086,SC2016 # a list of options; expanded by the inner shell
    xargs -P "$jobs" -n 8 sh -c 'for file; do
            clang '"$flags $*"' -w -c "$file" -o "$(echo "$file" | tr / _).o" || exit 1
        done' sh
    rm -f "$folder/lib/lib$name.a"
    llvm-ar rcs "$folder/lib/lib$name.a" ./*.o
}

# The C files that a folder's Makefile makes its library of.
sources_of() {
    awk -v folder="$1" '
        /_la_SOURCES *=/ { on = 1 }
        on { for (i = 1; i <= NF; i++) if ($i ~ /\.c$/) print folder "/" $i; on = /\\$/ }' "$1/Makefile"
}

build_gsl() {
    unpack gsl
    # Its config.sub knows no wasi; any foreign 32-bit machine will do.
    ./configure --host=i686-unknown-none --disable-shared --disable-dependency-tracking \
        CC="clang $flags" AR=llvm-ar RANLIB=llvm-ranlib >configure.txt 2>&1 ||
        { tail -n 20 configure.txt >&2 && return 1; }
    make -C gsl all >make.txt 2>&1
    mkdir -p "$folder/include/gsl"
    cp -L gsl/*.h "$folder/include/gsl/"
    for part in $gsl_parts; do
        sources_of "$part"
    done | archive gsl -DHAVE_CONFIG_H -I.
}

build_csv() {
    unpack libcsv
    echo libcsv.c | archive csv -I.
    cp csv.h "$folder/include/"
}

build_jansson() {
    unpack jansson
    # The one configuration it brings along is for a plain C99 machine.
    cp src/jansson.h android/jansson_config.h "$folder/include/"
    : >src/jansson_private_config.h
    find src -name '*.c' | archive jansson -DHAVE_STDINT_H -I"$folder/include" -Isrc
}

build_zlib() {
    unpack zlib
    printf '%s.c\n' adler32 crc32 deflate inffast inflate inftrees trees zutil |
        archive z -I. -DHAVE_UNISTD_H
    cp zlib.h zconf.h "$folder/include/"
}

rm -f "$folder/made"
rm -rf "${folder:?}/include" "${folder:?}/lib"
mkdir -p "$folder/include" "$folder/lib"
fetch
(build_gsl)
(build_csv)
(build_jansson)
(build_zlib)
cp "$script" "$folder/made"

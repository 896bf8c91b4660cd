#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds every tests/fuzz/fuzz_*.c with libFuzzer and the sanitizers into .build-fuzz.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
build=$top/.build-fuzz

[ -f "$build/build.ninja" ] || CC=clang meson setup "$build" "$top" -Dbuildtype=debugoptimized \
    -Db_sanitize=address,undefined -Db_lundef=false \
    -Dc_args='-fsanitize=fuzzer-no-link -fno-sanitize-recover=all'
ninja -C "$build" src/libturnheat.a src/libturnheat-io.a
includes=$(printf -- '-I%s ' "$top/include" "$top"/src/*/)
for source in "$top"/tests/fuzz/fuzz_*.c; do
    name=$(basename "$source" .c)
    [ "$name" != fuzz_file ] || continue
    # shellcheck disable=SC2046,SC2086 # lists of words
    clang -std=c17 -D_POSIX_C_SOURCE=200809L -O1 -g -Wall -Wextra -Werror \
        -fsanitize=fuzzer,address,undefined -fno-sanitize-recover=all \
        $includes -Wl,--wrap=fopen,--wrap=fopen64 -o "$build/$name" "$source" "$top/tests/fuzz/fuzz_file.c" \
        "$build/src/libturnheat-io.a" "$build/src/libturnheat.a" \
        $(pkg-config --libs gsl jansson) -lcsv -lz -lm
done

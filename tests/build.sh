#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Configures .build where needed and compiles; a tree that was moved is configured anew.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
build=$top/.build

if [ -d "$build" ] && [ ! -w "$build" ]; then
    echo "build.sh: .build belongs to another user: run with sudo or remove it" >&2
    exit 1
fi
if ! grep -qsF "\"source\": \"$top\"" "$build/meson-info/meson-info.json"; then
    rm -rf "$build"
    meson setup "$build" "$top"
fi
meson compile -C "$build"

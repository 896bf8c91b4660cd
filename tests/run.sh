#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds in .build and runs every test. The last line counts the cases.
# Tests on real weather read the folder that TURNHEAT_WEATHER names and are skipped without it.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)

sh "$top/tests/install.sh" build test
if ! sh "$top/tests/build.sh"; then
    echo "the build failed"
    echo "0 passed, 1 failed, 0 skipped"
    exit 1
fi
status=0
meson test -C "$top/.build" --no-rebuild --print-errorlogs || status=$?
sh "$top/tests/count.sh" "$top/.build" "$status"

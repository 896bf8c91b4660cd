#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds, and prints the fuel budget of the sample barn.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)

sh "$top/tests/install.sh" build
sh "$top/tests/build.sh" >&2
cd "$top"
for needed in .build/src/cli/turnheat samples/curtain.barn; do
    if [ ! -e "$needed" ]; then
        echo "try.sh: this tree has no $needed yet, so there is nothing to run" >&2
        exit 1
    fi
done
echo "turnheat budget samples/curtain.barn"
exec .build/src/cli/turnheat budget samples/curtain.barn

#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds, and prints the fuel budget of the sample barn.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)

sh "$top/tests/install.sh" build
sh "$top/tests/build.sh" >&2
cd "$top"
echo "turnheat budget samples/curtain.barn --farm samples/thistle-hollow.farm"
exec .build/src/cli/turnheat budget samples/curtain.barn --farm samples/thistle-hollow.farm

#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Prints what the program costs as multiples of a bare CSV loop; fails at twice a figure.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)

sh "$top/tests/build.sh" >&2
cd "$top/.build"
tests/bench/bench src/cli/turnheat "$top/samples/curtain.barn" "$top/samples/thistle-hollow.farm"

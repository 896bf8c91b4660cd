#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Makes the browser page: installs what is missing, compiles the program for WebAssembly and puts
# everything into .build/src/page/turnheat.html, from which turnheat page writes pages to hand on.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)

sh "$top/tests/install.sh" build page
if [ -d "$top/.build" ]; then
    meson setup --reconfigure "$top/.build" "$top" >/dev/null # tools may have come
fi
sh "$top/tests/build.sh"
meson compile -C "$top/.build" page
echo "$top/.build/src/page/turnheat.html: $(wc -c <"$top/.build/src/page/turnheat.html") bytes"

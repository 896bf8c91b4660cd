#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# sh tests/fuzz/page_files.sh [CASES]: page_files.js on the scripts of the page, as TAP; skipped where node is not.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
command -v node >/dev/null || { echo '1..0 # SKIP no node'; exit 0; }
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
echo '{"type": "module"}' >"$scratch/package.json" # of which kind the scripts are; the page itself is one text
cp "$top/tests/fuzz/page_files.js" "$scratch"
cp -R "$top/src/page" "$scratch/page"
node "$scratch/page_files.js" "$top/samples" "${1:-100000}"

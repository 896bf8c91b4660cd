#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh browser.sh SCRIPT TURNHEAT PAGE SHOTS`, from the top of the tree: the browser page in a real
# browser, as SCRIPT of this folder drives it, as TAP; screenshots go to the folder SHOTS. Where the page
# was not made or tools are missing the test is skipped by name; with TURNHEAT_BROWSER=must that is a
# failure.
set -u
script=$1
shift
missing=
[ -f "$2" ] || missing='the browser page was not made (sh src/page/make.sh makes it)'
command -v chromedriver >/dev/null || missing='no chromedriver (sh tests/install.sh browser)'
/usr/bin/python3 -c 'import selenium' 2>/dev/null || missing='no python3-selenium (sh tests/install.sh browser)'
if [ -n "$missing" ]; then
    echo 1..1
    if [ "${TURNHEAT_BROWSER:-}" = must ]; then
        echo "not ok 1 - the page in a browser: $missing"
        exit 1
    fi
    echo "ok 1 - the page in a browser # SKIP $missing"
    exit 0
fi
exec /usr/bin/python3 "$(dirname "$0")/$script" "$@"

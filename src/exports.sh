#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `sh exports.sh HEADER...` prints the linker's list of what the library shows: the functions its
# public headers name.
set -eu
echo '{ global:'
grep -hoE '\bth_[a-z0-9_]+\(' "$@" | tr -d '(' | sort -u | sed 's/$/;/'
echo 'local: *; };'

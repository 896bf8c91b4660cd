# SPDX-License-Identifier: GPL-3.0-or-later
# Prints `LENGTH FILE:LINE` for every function. The tree's format puts a function's braces, and
# no others, alone in the first column, so data tables are not functions here.
function reset() { start = 0 }
FNR == 1 { reset(); body = 0 }
/^\{$/ { body = 1; if (!start) start = FNR }
/^\}$/ { if (body) print FNR - start + 1, FILENAME ":" start; body = 0; reset(); next }
body { next }
/^[A-Za-z]/ && !start { start = FNR }
/^$|^#|;$|^\}|\*\/$/ { reset() }

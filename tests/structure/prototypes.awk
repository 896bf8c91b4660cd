# SPDX-License-Identifier: GPL-3.0-or-later
# Prints FILE:LINE of every function in a header that no comment explains: one that ends on the line
# before, or before a group of prototypes without a blank line between them.
FNR == 1 { explained = depth = continued = 0 }
/^[A-Za-z][^{]*\(/ && !/^typedef/ && !depth && !continued && !explained { print FILENAME ":" FNR }
{
    continued = /^[A-Za-z ]/ && !/[;{}]$/ && !/\*\/$/
    explained = /\*\/$/ || (explained && !depth && (continued || /^[A-Za-z ][^{}]*\(?.*\);$/))
    depth += gsub(/\{/, "") - gsub(/\}/, "")
}

# SPDX-License-Identifier: GPL-3.0-or-later
# Sums the gas of a season from the CSV of `turnheat hours`, for -v copies=N rooms.
BEGIN { FS = "," }
{ gsub(/"/, "") }
NR == 1 { for (i = 1; i <= NF; i++) col[$i] = i; next }
{ sum += $(col["gas_units"]) }
END { printf "%.6f\n", copies * sum }

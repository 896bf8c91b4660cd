# SPDX-License-Identifier: GPL-3.0-or-later
# Makes places_table.c from weather/places.csv: twelve rows a place, January first.
BEGIN {
    FS = ","
    print "#include \"places_table.h\"\n\nconst struct th_places_row th_places_table[] = {"
}
NR > 1 {
    month = (NR - 2) % 12 + 1
    if ($8 != month || NF != 15 || (month > 1 && $7 != station)) {
        print FILENAME ":" NR ": month " month " of one place was expected" > "/dev/stderr"
        exit 1
    }
    station = $7
    if (month == 1)
        printf "    {\"%s\", \"%s\", %s, %s, %s, %s, \"%s\", %s, {\n", $1, $2, $3, $4, $5, $6, $7, $15
    printf "        {%s, %s, %s, %s, %s, %s}%s\n", $9, $10, $11, $12, $13, $14, month < 12 ? "," : "}},"
}
END {
    print "};\nconst size_t th_n_places_table = sizeof th_places_table / sizeof *th_places_table;"
}

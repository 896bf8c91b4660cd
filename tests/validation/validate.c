/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "validation/validate.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DIGITS 5
#define TOLERANCE_DIGITS 3
#define CELL 96

/* The rows of one test program; tests run in one process (CK_FORK=no), so it is opened once. */
static FILE *rows;

static void open_rows(const char *source_file)
{
    const char *dir = getenv("VALIDATION_ROWS");
    if (rows || !dir)
        return;
    const char *slash = strrchr(source_file, '/');
    char path[512];
    snprintf(path, sizeof path, "%s/%s.rows", dir, slash ? slash + 1 : source_file);
    rows = fopen(path, "w");
    ck_assert_msg(rows != NULL, "cannot write %s", path);
}

static void trim_zeros(char *text)
{
    char *end = text + strlen(text);
    if (!strchr(text, '.'))
        return;
    while (end[-1] == '0')
        *--end = '\0';
    if (end[-1] == '.')
        *--end = '\0';
}

static void print_number(char cell[CELL], const char *sign, int digits, double value)
{
    const double size = fabs(value);
    const int whole_digits = size > 0.0 ? (int)floor(log10(size)) + 1 : 1;
    const int decimals = whole_digits < digits ? digits - whole_digits : 0;
    char format[16];
    if (isnan(value)) {
        snprintf(cell, CELL, "–");
    } else if (size > 0.0 && size < 1e-5) {
        snprintf(format, sizeof format, "%%%s.%de", sign, digits - 1);
        snprintf(cell, CELL, format, value);
    } else {
        snprintf(format, sizeof format, "%%%s.%df", sign, decimals);
        snprintf(cell, CELL, format, value);
        trim_zeros(cell);
    }
}

/* A relative deviation says nothing on a scale whose zero is arbitrary. */
static int is_absolute(const char *unit, double published)
{
    return published == 0.0 || strcmp(unit, "°F") == 0 || strcmp(unit, "°C") == 0 ||
           strcmp(unit, "%") == 0;
}

static void print_deviation(char cell[CELL], const char *unit, double published, double computed)
{
    const double gap = computed - published;
    if (isnan(gap)) {
        snprintf(cell, CELL, "–");
    } else if (is_absolute(unit, published)) {
        char number[CELL];
        print_number(number, "+", DIGITS, fabs(gap) < 1e-9 ? 0.0 : round(gap * 1e4) / 1e4);
        snprintf(cell, CELL, "%.40s %.20s", number, unit);
    } else {
        const double percent = 100.0 * gap / fabs(published);
        const double shown = fabs(percent) < 0.005 ? 0.0 : percent;
        snprintf(cell, CELL, shown == 0.0 ? "%.0f %%" : "%+.2f %%", shown);
    }
}

static void print_tolerance(char cell[CELL], double tolerance)
{
    if (tolerance < 1e-8)
        snprintf(cell, CELL, "exact");
    else
        print_number(cell, "", TOLERANCE_DIGITS, tolerance);
}

/* What is left of a difference that should be 0 is rounding far below what is allowed, and differs
 * between machines: the page gives a bound that holds on all of them. */
static void print_computed(char cell[CELL], int is_check, double published, double computed,
                           double tolerance)
{
    const double bound = tolerance / 1000.0;
    if (is_check && published == 0.0 && computed != 0.0 && fabs(computed) < bound)
        snprintf(cell, CELL, "below %.0e", bound);
    else
        print_number(cell, "", DIGITS, computed);
}

void validate_row(struct validate_place place, const char *id, enum validate_kind kind,
                  const char *source, const char *what, double published, double computed,
                  double tolerance, const char *unit)
{
    const int is_check = kind == VALIDATE_CHECK;
    char left[CELL], right[CELL], deviation[CELL], within[CELL] = "–";
    print_number(left, "", DIGITS, published);
    print_computed(right, is_check, published, computed, tolerance);
    print_deviation(deviation, unit, published, computed);
    if (is_check)
        print_tolerance(within, tolerance);
    printf("# %s %s: %s: published %s, computed %s %s (%s)\n", is_check ? "check" : "report", id,
           what, left, right, unit, deviation);
    open_rows(place.file);
    if (rows) {
        fprintf(rows, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", id, is_check ? "check" : "report",
                what, source, left, right, unit, deviation, within);
        fflush(rows);
    }
    ck_assert_msg(!is_check || fabs(computed - published) <= tolerance,
                  "%s:%d: %s: %s: published %s, computed %s %s, allowed %s", place.file, place.line,
                  id, what, left, right, unit, within);
}

void validate_skip_row(struct validate_place place, const char *id, const char *reason)
{
    printf("# SKIP %s: %s\n", id, reason);
    open_rows(place.file);
    if (rows) {
        fprintf(rows, "%s\tskip\t%s\n", id, reason);
        fflush(rows);
    }
}

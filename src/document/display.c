/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "display.h"

#include "nine_digits.h"
#include "turnheat/calendar.h"
#include "turnheat/thousands.h"
#include <stdlib.h>
#include <string.h>

enum rounding { ROUND_SHORTEST, ROUND_SIGNIFICANT, ROUND_BULK, ROUND_DECIMALS, ROUND_DATE };

/* The one table of formats: what is rounded and to how many digits. */
static const struct {
    enum rounding rounding;
    int digits;
} formats[TH_FORMAT_COUNT] = {
    [TH_PLAIN] = {ROUND_SHORTEST, 6},      [TH_SIG3] = {ROUND_SIGNIFICANT, 3},
    [TH_BULK] = {ROUND_BULK, 3},           [TH_SIG2] = {ROUND_SIGNIFICANT, 2},
    [TH_WHOLE] = {ROUND_DECIMALS, 0},      [TH_TENTHS] = {ROUND_DECIMALS, 1},
    [TH_HUNDREDTHS] = {ROUND_DECIMALS, 2}, [TH_DAY] = {ROUND_DATE, 0},
    [TH_HOUR] = {ROUND_DATE, 1},
};

/* Above this, commas and digits would no longer fit or help. */
#define LARGEST_SHOWN_IN_FULL 1e15

/* Smaller numbers count as nothing to a reader, and no number needs more decimals. */
#define SMALLEST_SHOWN 1e-6
#define MOST_DECIMALS 8

bool th_format_is_date(enum th_format format)
{
    return formats[format].rounding == ROUND_DATE;
}

static int decimals_for(double number, int significant)
{
    if (number == 0)
        return 0;
    char rounded[32];
    snprintf(rounded, sizeof rounded, "%.*e", significant - 1, number);
    const char *e = strchr(rounded, 'e');
    const int exponent = e ? (int)strtol(e + 1, NULL, 10) : 0;
    const int decimals = significant - 1 - exponent;
    return decimals < 0 ? 0 : decimals > MOST_DECIMALS ? MOST_DECIMALS : decimals;
}

/* 12345 to three digits is 12300: printf alone rounds decimals only. */
static double round_significant(double number, int significant)
{
    char rounded[32];
    snprintf(rounded, sizeof rounded, "%.*e", significant - 1, number);
    return strtod(rounded, NULL);
}

/* The day of a date that is shown, and its hour (-1 for a day); false for a number that is none. */
static bool read_date(double number, enum th_format format, struct th_date *date, int *hour)
{
    if (fabs(number) > 1e8)
        return false;
    const long n = (long)floor(number);
    *date = th_date_of(format == TH_HOUR ? th_day_of_hour(n) : n);
    *hour = format == TH_HOUR ? th_hour_of_day(n) : -1;
    return true;
}

/* "2018-01-31T06:00" for machines, "Jan 31, 2018, 06:00" for people. */
static void show_date(char buffer[TH_SHOWN_MAX], double number, enum th_format format, bool exact)
{
    struct th_date date;
    int hour;
    char clock[16] = "";
    if (!read_date(number, format, &date, &hour)) {
        snprintf(buffer, TH_SHOWN_MAX, "%.6g", number);
        return;
    }
    if (hour >= 0)
        snprintf(clock, sizeof clock, "%s%02d:00", exact ? "T" : ", ", hour);
    if (exact)
        snprintf(buffer, TH_SHOWN_MAX, "%04d-%02d-%02d%s", date.year, date.month, date.day, clock);
    else
        snprintf(buffer, TH_SHOWN_MAX, "%s %d, %d%s", th_month_name(date.month - 1), date.day,
                 date.year, clock);
}

static void show_number(char buffer[TH_SHOWN_MAX], double number, enum th_format format)
{
    const enum rounding rounding = formats[format].rounding;
    int digits = formats[format].digits;
    if (rounding == ROUND_DATE) {
        show_date(buffer, number, format, false);
        return;
    }
    if (rounding == ROUND_SHORTEST || fabs(number) >= LARGEST_SHOWN_IN_FULL) {
        snprintf(buffer, TH_SHOWN_MAX, "%.6g", number);
        return;
    }
    if (rounding == ROUND_BULK) {
        number = round_significant(number, digits);
        digits = 0;
        if (fabs(number) < 0.5)
            number = 0.0; /* no "-0" */
    } else if (rounding == ROUND_SIGNIFICANT) {
        number = round_significant(number, digits);
        digits = fabs(number) < SMALLEST_SHOWN ? 0 : decimals_for(number, digits);
    }
    char plain[TH_SHOWN_MAX / 2];
    snprintf(plain, sizeof plain, "%.*f", digits, number);
    th_thousands(buffer, plain);
}

const char *th_show(char buffer[TH_SHOWN_MAX], struct th_value value, enum th_format format)
{
    switch (value.kind) {
    case TH_VALUE_NUMBER:
        show_number(buffer, value.number, format);
        return buffer;
    case TH_VALUE_TEXT:
    case TH_VALUE_NO_NUMBER:
        return value.text;
    case TH_VALUE_BOOL:
        return value.flag ? "yes" : "no";
    default:
        return TH_SHOWN_MISSING;
    }
}

const char *th_show_with_unit(char buffer[TH_SHOWN_MAX], struct th_value value,
                              enum th_format format, const char *unit)
{
    char number[TH_SHOWN_MAX];
    const char *shown = th_show(number, value, format);
    if (value.kind == TH_VALUE_TEXT || value.kind == TH_VALUE_NO_NUMBER)
        return shown;
    if (value.kind != TH_VALUE_NUMBER || !*unit)
        snprintf(buffer, TH_SHOWN_MAX, "%s", shown);
    else if (*unit == '$')
        snprintf(buffer, TH_SHOWN_MAX, "%s$%s%s", *shown == '-' ? "-" : "", shown + (*shown == '-'),
                 unit + 1);
    else
        snprintf(buffer, TH_SHOWN_MAX, "%s %s", shown, unit);
    return buffer;
}

const char *th_show_exact(char buffer[TH_SHOWN_MAX], struct th_value value, enum th_format format)
{
    switch (value.kind) {
    case TH_VALUE_NUMBER:
        if (th_format_is_date(format))
            show_date(buffer, value.number, format, true);
        else
            th_nine_digits(buffer, value.number);
        return buffer;
    case TH_VALUE_TEXT:
        return value.text;
    case TH_VALUE_BOOL:
        return value.flag ? "true" : "false";
    default:
        return "";
    }
}

const char *th_month_in_prose(int month)
{
    static const char *const names[12] = {"January",   "February", "March",    "April",
                                          "May",       "June",     "July",     "August",
                                          "September", "October",  "November", "December"};
    return names[month];
}

int th_display_width(const char *text)
{
    int width = 0;
    for (; *text; text++)
        width += ((unsigned char)*text & 0xC0) != 0x80;
    return width;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calendar.h"
#include "weather_forms.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define YEAR_MIN 1850
#define YEAR_MAX 2250
#define MINUTES_DAY 1440

/* As isdigit() of the C locale, without looking up which locale it is. */
static inline bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Short plain decimals, which is nearly all that weather files hold: a whole number below 2^53
   over a power of ten below 10^23, so the one division rounds as strtod() does. */
static bool short_decimal(const char *text, double *value)
{
    static const double power[] = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};
    const bool negative = *text == '-';
    const char *const first = text + negative, *c = first, *point = NULL;
    long whole = 0;
    for (; is_digit(*c) && c - first < 10; c++)
        whole = whole * 10 + (*c - '0');
    if (*c == '.')
        for (point = c++; is_digit(*c) && c - first < 10; c++)
            whole = whole * 10 + (*c - '0');
    if (*c != '\0' || c - first < 1 + (point != NULL))
        return false;
    *value = point ? (double)whole / power[c - point - 1] : (double)whole;
    if (negative)
        *value = -*value;
    return true;
}

bool th_field_number(const char *text, double *value)
{
    char *end;
    if (short_decimal(text, value))
        return true;
    if (!is_digit(text[0]) && !strchr("+-.", text[0]))
        return false;
    *value = strtod(text, &end);
    return end != text && *end == '\0' && isfinite(*value);
}

bool th_field_whole(const char *text, long *value)
{
    const bool negative = *text == '-';
    const char *const first = text + negative, *c = first;
    for (*value = 0; c - first < 9 && is_digit(*c); c++)
        *value = *value * 10 + (*c - '0');
    *value = negative ? -*value : *value;
    return c > first && *c == '\0';
}

bool th_minute_of(long year, long month, long day, long minute_of_day, long *minute)
{
    if (year < YEAR_MIN || year > YEAR_MAX || month < 1 || month > 12 || day < 1 || day > 31 ||
        minute_of_day < 0 || minute_of_day > MINUTES_DAY)
        return false;
    if (day > 28 && !th_date_valid((int)year, (int)month, (int)day))
        return false;
    *minute = th_day_number((int)year, (int)month, (int)day) * MINUTES_DAY + minute_of_day;
    return true;
}

/* Reads up to `width` digits. */
static bool digits(const char **text, int width, long *value)
{
    int n = 0;
    for (*value = 0; n < width && is_digit(**text); n++, (*text)++)
        *value = *value * 10 + (**text - '0');
    return n > 0;
}

static bool skip(const char **text, char c)
{
    if (**text != c)
        return false;
    (*text)++;
    return true;
}

/* 2018-01-31, 2018/01/31, 20180131 or 1/31/2018. */
static bool read_date(const char **text, long *year, long *month, long *day)
{
    const char *start = *text;
    long first;
    if (!digits(text, 8, &first))
        return false;
    const long width = *text - start;
    const char separator = **text;
    if (width == 8) {
        *year = first / 10000;
        *month = first / 100 % 100;
        *day = first % 100;
        return true;
    }
    if (separator != '-' && separator != '/')
        return false;
    (*text)++;
    if (width == 4) {
        *year = first;
        return digits(text, 2, month) && skip(text, separator) && digits(text, 2, day);
    }
    *month = first;
    return width <= 2 && digits(text, 2, day) && skip(text, separator) && digits(text, 4, year);
}

/* " AM" or " PM" after an hour of 1–12. */
static bool read_half_day(const char **text, long *hour)
{
    const char *at = *text;
    while (*at == ' ')
        at++;
    const int half = tolower((unsigned char)at[0]);
    if ((half != 'a' && half != 'p') || tolower((unsigned char)at[1]) != 'm')
        return true;
    if (*hour < 1 || *hour > 12)
        return false;
    *hour = *hour % 12 + (half == 'p' ? 12 : 0);
    *text = at + 2;
    return true;
}

/* 23, 23:54, 23:54:00, 23:54:00.000, 2354, each perhaps with AM or PM. */
static bool read_time(const char **text, long *minute_of_day)
{
    long hour, minute = 0, second = 0;
    const char *start = *text;
    if (!digits(text, 4, &hour))
        return false;
    if (*text - start > 2) {
        minute = hour % 100;
        hour /= 100;
    } else if (skip(text, ':')) {
        if (!digits(text, 2, &minute))
            return false;
        if (skip(text, ':') && !digits(text, 2, &second))
            return false;
        long fraction;
        if (skip(text, '.') && !digits(text, 9, &fraction))
            return false;
    }
    if (!read_half_day(text, &hour) || minute > 59 || second > 60)
        return false;
    *minute_of_day = hour * 60 + minute;
    return *minute_of_day <= MINUTES_DAY;
}

static bool read_zone(const char **text, struct th_stamp *stamp)
{
    while (skip(text, ' '))
        continue;
    if (skip(text, 'Z') || skip(text, 'z') || strcmp(*text, "UTC") == 0) {
        *text += strcmp(*text, "UTC") == 0 ? 3 : 0;
        stamp->has_zone = true;
        return true;
    }
    if (**text != '+' && **text != '-')
        return true;
    const long sign = *(*text)++ == '-' ? -1 : 1;
    const char *start = *text;
    long hours, minutes = 0;
    if (!digits(text, 4, &hours))
        return false;
    if (*text - start > 2) {
        minutes = hours % 100;
        hours /= 100;
    } else if (skip(text, ':') && !digits(text, 2, &minutes)) {
        return false;
    }
    stamp->has_zone = true;
    stamp->zone_minutes = sign * (hours * 60 + minutes);
    return hours <= 14 && minutes <= 59;
}

/* "2018-01-31 23:54", perhaps with a T between, which is how most files write it. */
static bool full_stamp(const char *text, long *minute)
{
    static const int places[] = {0, 2, 5, 8, 11, 14};
    enum { CENTURY, YEAR, MONTH, DAY, HOUR, MINUTE, PARTS };
    long part[PARTS];
    if (strnlen(text, 17) != 16 || text[4] != '-' || text[7] != '-' ||
        (text[10] != ' ' && text[10] != 'T') || text[13] != ':')
        return false;
    for (int i = 0; i < PARTS; i++) {
        const char *const pair = text + places[i];
        if (!is_digit(pair[0]) || !is_digit(pair[1]))
            return false;
        part[i] = 10 * (pair[0] - '0') + (pair[1] - '0');
    }
    return part[MINUTE] < 60 && th_minute_of(100 * part[CENTURY] + part[YEAR], part[MONTH],
                                             part[DAY], 60 * part[HOUR] + part[MINUTE], minute);
}

bool th_field_stamp(const char *text, struct th_stamp *stamp)
{
    long year, month, day, minute_of_day = 0;
    *stamp = (struct th_stamp){0};
    if (full_stamp(text, &stamp->minute))
        return true;
    if (!read_date(&text, &year, &month, &day))
        return false;
    if (*text == 'T' || *text == 't' || *text == ' ') {
        text++;
        while (*text == ' ')
            text++;
        if (!read_time(&text, &minute_of_day) || !read_zone(&text, stamp))
            return false;
    }
    return *text == '\0' && th_minute_of(year, month, day, minute_of_day, &stamp->minute);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "month_day.h"

#include "turnheat/calendar.h"
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#define ANY_LEAP_YEAR 2000
#define PARTS_MAX 3
#define WORD_MAX 16

static const char *const months[12] = {"January",   "February", "March",    "April",
                                       "May",       "June",     "July",     "August",
                                       "September", "October",  "November", "December"};

/* One part of a date: digits, or the name of a month. */
struct part {
    int number; /* the month's, for a name */
    int digits; /* 0 for a name */
};

struct parts {
    int n;
    char mark; /* the first sign between two parts */
    struct part part[PARTS_MAX];
};

/* A month by at least three letters of its name ("sept" too); 0 otherwise. */
static int month_named(const char *word, size_t length)
{
    for (int m = 0; m < 12 && length >= 3; m++)
        if (length <= strlen(months[m]) && strncasecmp(word, months[m], length) == 0)
            return m + 1;
    return 0;
}

/* "5th", "1st", "2nd", "3rd": the length of the ending. */
static size_t ordinal(const char *at)
{
    static const char *const endings[] = {"st", "nd", "rd", "th"};
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (strncasecmp(at, endings[i], 2) == 0 && !isalpha((unsigned char)at[2]))
            return 2;
    return 0;
}

static const char *take_part(const char *at, struct part *part)
{
    if (isdigit((unsigned char)*at)) {
        const size_t digits = strspn(at, "0123456789");
        if (digits > 4)
            return NULL;
        *part = (struct part){(int)strtol(at, NULL, 10), (int)digits};
        return at + digits + ordinal(at + digits);
    }
    size_t length = 0;
    while (isalpha((unsigned char)at[length]))
        length++;
    *part = (struct part){month_named(at, length), 0};
    return part->number ? at + length : NULL;
}

static bool split(const char *text, struct parts *parts)
{
    *parts = (struct parts){0};
    const char *at = text;
    while (*at) {
        if (parts->n == PARTS_MAX)
            return false;
        at = take_part(at, &parts->part[parts->n]);
        if (!at)
            return false;
        parts->n++;
        const size_t between = strspn(at, " -/.,");
        if (parts->n == 1)
            parts->mark = *at;
        if (*at && between == 0 && !(isalpha((unsigned char)*at) || isdigit((unsigned char)*at)))
            return false;
        at += between;
    }
    return parts->n >= 2;
}

static bool is_year(const struct part *part)
{
    return part->digits == 4;
}

/* The year at one end, 0 without. */
static int year_of(const struct parts *p)
{
    if (p->n < PARTS_MAX)
        return 0;
    if (is_year(&p->part[0]))
        return p->part[0].number;
    return is_year(&p->part[2]) ? p->part[2].number : 2000 + p->part[2].number;
}

/* Takes the year off one end; what is left must be two parts. */
static bool drop_year(struct parts *p)
{
    if (p->n == PARTS_MAX && is_year(&p->part[0])) {
        p->part[0] = p->part[1];
        p->part[1] = p->part[2];
        p->n = 2;
    } else if (p->n == PARTS_MAX &&
               (is_year(&p->part[2]) || (p->mark == '/' && p->part[2].digits == 2))) {
        p->n = 2;
    }
    return p->n == 2 && p->part[0].digits <= 2 && p->part[1].digits <= 2 &&
           (p->part[0].digits > 0 || p->part[1].digits > 0);
}

static bool settle(int month, int day, int *month_day)
{
    *month_day = 100 * month + day;
    return th_date_valid(ANY_LEAP_YEAR, month, day);
}

bool th_month_day_year_read(const char *text, int *month_day, int *year)
{
    struct parts p;
    if (!split(text, &p))
        return false;
    *year = year_of(&p);
    if (!drop_year(&p))
        return false;
    const struct part a = p.part[0], b = p.part[1];
    const bool day_first = b.digits == 0 || (a.digits > 0 && a.number > 12 && p.mark != '-');
    return settle(day_first ? b.number : a.number, day_first ? a.number : b.number, month_day);
}

bool th_month_day_read(const char *text, int *month_day)
{
    int year;
    return th_month_day_year_read(text, month_day, &year);
}

bool th_date_read(const char *text, long *day)
{
    int month_day, year;
    if (!th_month_day_year_read(text, &month_day, &year) || year == 0 ||
        !th_date_valid(year, month_day / 100, month_day % 100))
        return false;
    *day = th_day_number(year, month_day / 100, month_day % 100);
    return true;
}

bool th_month_day_two_readings(const char *text, int *month_first, int *day_first)
{
    struct parts p;
    if (!split(text, &p) || is_year(&p.part[0]) || !drop_year(&p))
        return false;
    const struct part a = p.part[0], b = p.part[1];
    return (p.mark == '/' || p.mark == '.') && a.digits && b.digits && a.number != b.number &&
           settle(a.number, b.number, month_first) && settle(b.number, a.number, day_first);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calendar.h"

/* Days are counted in years that start on 1 March, so that the leap day comes last. */

static long floor_div(long a, long b)
{
    return a / b - (a % b < 0);
}

long th_day_number(int year, int month, int day)
{
    const long y = year - (month <= 2);
    const long era = floor_div(y, 400);
    const long year_of_era = y - era * 400;
    const long day_of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year -
           719468;
}

struct th_date th_date_of(long day_number)
{
    const long z = day_number + 719468;
    const long era = floor_div(z, 146097);
    const long doe = z - era * 146097;
    const long yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
    const long doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    const int mp = (int)((5 * doy + 2) / 153);
    const int month = mp < 10 ? mp + 3 : mp - 9;
    return (struct th_date){.year = (int)(yoe + era * 400 + (month <= 2)),
                            .month = month,
                            .day = (int)(doy - (153 * mp + 2) / 5 + 1)};
}

bool th_date_valid(int year, int month, int day)
{
    if (month < 1 || month > 12 || day < 1 || day > 31)
        return false;
    const struct th_date back = th_date_of(th_day_number(year, month, day));
    return back.month == month && back.day == day;
}

const char *th_month_name(int month)
{
    static const char *const names[12] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                          "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    return names[month];
}

long th_season_first_day(int year)
{
    return th_day_number(year, TH_SEASON_MONTH, 1);
}

int th_season_of_month(int year, int month)
{
    return year - (month < TH_SEASON_MONTH);
}

long th_day_of_hour(long hour_number)
{
    return floor_div(hour_number, 24);
}

int th_hour_of_day(long hour_number)
{
    return (int)(hour_number - 24 * floor_div(hour_number, 24));
}

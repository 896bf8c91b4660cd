/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "yardstick.h"

#include "turnheat/calendar.h"

#include <csv.h>
#include <gsl/gsl_math.h>
#include <math.h>
#include <stdio.h>

#define WIDE_COLUMNS 71

static double temp_c(long hour)
{
    return 9.0 - 16.0 * cos(2.0 * M_PI * (double)hour / 8766.0) +
           4.0 * sin(2.0 * M_PI * (double)(hour % 24 - 9) / 24.0);
}

/* The columns that the reader looks for stand where the public files have them. */
static const char *wide_name(int column)
{
    switch (column) {
    case 0:
        return "Date (MM/DD/YYYY)";
    case 1:
        return "Time (HH:MM)";
    case 31:
        return "Dry-bulb (C)";
    case 34:
        return "Dew-point (C)";
    case 37:
        return "RHum (%)";
    case 40:
        return "Pressure (mbar)";
    case 46:
        return "Wspd (m/s)";
    default:
        return NULL;
    }
}

static void write_wide_row(FILE *stream, long hour)
{
    const struct th_date date = th_date_of(th_day_number(2001, 1, 1) + hour / 24);
    fprintf(stream, "%02d/%02d/%d,%02ld:00", date.month, date.day, date.year, hour % 24 + 1);
    for (int column = 2; column < WIDE_COLUMNS; column++) {
        if (column == 31)
            fprintf(stream, ",%.1f", temp_c(hour));
        else if (column == 34)
            fprintf(stream, ",%.1f", temp_c(hour) - 4.0);
        else if (column == 37)
            fputs(",75", stream);
        else if (column == 40)
            fputs(",990", stream);
        else if (column == 46)
            fputs(",4.1", stream);
        else
            fputs(column % 3 == 0 ? ",?0" : ",A", stream);
    }
    fputc('\n', stream);
}

bool yardstick_write_wide(const char *path)
{
    FILE *stream = fopen(path, "w");
    if (!stream)
        return false;
    fputs("999999,\"INVENTED PLACE\",IA,-6.0,42.000,-93.000,300\n", stream);
    for (int column = 0; column < WIDE_COLUMNS; column++) {
        if (wide_name(column))
            fprintf(stream, "%s%s", column ? "," : "", wide_name(column));
        else
            fprintf(stream, ",Column %d (unit)", column);
    }
    fputc('\n', stream);
    for (long hour = 0; hour < 8760; hour++)
        write_wide_row(stream, hour);
    return fclose(stream) == 0;
}

bool yardstick_write_narrow(const char *path, int years)
{
    FILE *stream = fopen(path, "w");
    if (!stream)
        return false;
    fputs("time,temp_c,rh,pressure_hpa,wind_m_s\n", stream);
    const long first = th_day_number(1990, 1, 1);
    const long days = th_day_number(1990 + years, 1, 1) - first;
    for (long hour = 0; hour < 24 * days; hour++) {
        const struct th_date date = th_date_of(first + hour / 24);
        fprintf(stream, "%d-%02d-%02d %02ld:00,%.1f,75,990.0,4.1\n", date.year, date.month,
                date.day, hour % 24, temp_c(hour));
    }
    return fclose(stream) == 0;
}

static void count_field(void *text, size_t length, void *fields)
{
    (void)text;
    (void)length;
    ++*(long *)fields;
}

static void end_record(int delimiter, void *fields)
{
    (void)delimiter;
    (void)fields;
}

long yardstick_loop(const char *path, int times)
{
    static char buffer[65536];
    long fields = 0;
    for (int i = 0; i < times; i++) {
        FILE *stream = fopen(path, "rb");
        struct csv_parser parser;
        if (!stream || csv_init(&parser, 0) != 0)
            return -1;
        size_t n;
        while ((n = fread(buffer, 1, sizeof buffer, stream)) > 0)
            csv_parse(&parser, buffer, n, count_field, end_record, &fields);
        csv_fini(&parser, count_field, end_record, &fields);
        csv_free(&parser);
        fclose(stream);
    }
    return fields;
}

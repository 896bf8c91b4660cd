/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_report.h"

#include "figure.h"
#include "season_text.h"
#include "turnheat/calendar.h"
#include "turnheat/normals.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"
#include "weather_read.h"
#include "weather_sums.h"
#include "weather_winters.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Below this number of whole seasons no percentile is given anywhere (model rule). */
#define SEASONS_FOR_PERCENTILES 10

/* Made by turnheat itself, now or before: told by its years. */
static bool is_invented(const struct th_weather *weather)
{
    return weather->n > 0 && !weather->typical &&
           th_date_of(weather->reports[0].minute / (24 * 60)).year >= TH_NORMAL_FIRST_YEAR;
}

static struct th_value fahrenheit(bool known, double temp_c)
{
    return th_number_if(known, th_f_from_c(temp_c));
}

static const char *kind_of(const struct th_weather *weather)
{
    if (is_invented(weather))
        return "invented weather";
    return weather->typical ? "one typical year" : "actual weather";
}

static void add_station(struct th_report *report, const struct th_weather *weather)
{
    const struct th_station *station = &weather->station;
    th_report_section(report, "station", "Station and files");
    th_report_fact(report, "id", "Station", "", TH_PLAIN,
                   th_text(station->id[0] ? station->id : NULL));
    th_report_fact(report, "name", "Name", "", TH_PLAIN,
                   th_text(station->name[0] ? station->name : NULL));
    th_report_fact(report, "latitude_deg", "Latitude", "°", TH_HUNDREDTHS,
                   th_number_if(station->has_place, station->lat_deg));
    th_report_fact(report, "longitude_deg", "Longitude", "°", TH_HUNDREDTHS,
                   th_number_if(station->has_place, station->lon_deg));
    th_report_fact(report, "elevation_ft", "Elevation", "ft", TH_WHOLE,
                   th_number_if(station->has_elevation, station->elevation_m / TH_M_PER_FT));
    th_report_fact(report, "form", "Form", "", TH_PLAIN, th_text(weather->form));
    th_report_fact(report, "kind", "Kind", "", TH_PLAIN, th_text(kind_of(weather)));
    th_report_fact(report, "units", "Units", "", TH_PLAIN, th_text(weather->units_note));
    th_report_fact(report, "clock", "Clock", "", TH_PLAIN, th_text(weather->clock_note));
    th_report_fact(report, "utc_offset_h", "UTC offset", "h", TH_PLAIN,
                   th_number_if(station->has_utc_offset, station->utc_offset_h));
}

static const char *base_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static void add_files(struct th_report *report, const struct th_weather *weather,
                      const struct th_climate *climate)
{
    th_report_table(report, "files", "Files, in local standard time where it is known");
    for (size_t i = 0; i < weather->n_files; i++) {
        const struct th_weather_file *file = &weather->files[i];
        const bool dated = file->has_span && !weather->typical;
        const double first = (double)(file->first_minute + climate->shift_min) / 60.0;
        const double last = (double)(file->last_minute + climate->shift_min) / 60.0;
        th_report_row(report);
        th_report_cell(report, "file", "File", "", TH_PLAIN, th_text(base_name(file->name)));
        th_report_cell(report, "rows_count", "Rows", "", TH_WHOLE, th_number((double)file->rows));
        th_report_cell(report, "refused_count", "Refused", "", TH_WHOLE,
                       th_number((double)file->refused));
        th_report_cell(report, "first", "First hour", "", TH_HOUR,
                       th_number_if(dated, round(first)));
        th_report_cell(report, "last", "Last hour", "", TH_HOUR, th_number_if(dated, round(last)));
    }
}

static void add_fact(struct th_report *report, const char *key, const char *label, size_t count)
{
    th_report_fact(report, key, label, "", TH_WHOLE, th_number((double)count));
}

static void add_counts(struct th_report *report, const struct th_weather *weather,
                       const struct th_climate *climate, const struct th_weather_summary *summary)
{
    const struct th_weather_counts *counts = &weather->counts;
    th_report_section(report, "rows", "Rows");
    add_fact(report, "read_count", "Rows read", counts->rows);
    add_fact(report, "refused_count", "Not understood", counts->refused);
    add_fact(report, "other_type_count", "Left out: other report types and stations",
             counts->other_type);
    add_fact(report, "duplicates_count", "Repeated minutes", counts->duplicates);
    add_fact(report, "out_of_order_count", "Out of order", counts->out_of_order);
    add_fact(report, "no_temperature_count", "Without a temperature", counts->no_temp);
    add_fact(report, "suspect_count", "Marked suspect by the form, not used", counts->suspect);
    add_fact(report, "impossible_count", "Below -70 or above 125 °F, not used",
             climate->impossible);
    add_fact(report, "leap_count", "29 February left out of the typical year", counts->leap_rows);
    th_report_fact(report, "reports_per_hour_ratio", "Reports per hour", "", TH_HUNDREDTHS,
                   th_number(summary->mean_reports));
}

static void add_fill(struct th_report *report, const struct th_climate *climate)
{
    static const char *const names[TH_PARTS][2] = {
        [TH_PART_TEMP] = {"temperature", "nothing: the hour is missing"},
        [TH_PART_HUMIDITY] = {"humidity", "75 % relative humidity (our judgement)"},
        [TH_PART_PRESSURE] = {"station pressure", "standard atmosphere at the site"},
        [TH_PART_WIND] = {"wind", "mean of the series, calm if there is none"}};
    th_report_section(report, "coverage", "Coverage and gaps");
    th_report_table(report, "gaps", "Where the hours come from");
    for (int part = 0; part < TH_PARTS; part++) {
        const struct th_fill *fill = &climate->fill[part];
        th_report_row(report);
        th_report_cell(report, "quantity", "Quantity", "", TH_PLAIN, th_text(names[part][0]));
        th_report_cell(report, "observed_h", "Observed", "h", TH_WHOLE,
                       th_number((double)fill->observed));
        th_report_cell(report, "interpolated_h", "Gaps of 1–3 h, interpolated", "h", TH_WHOLE,
                       th_number((double)fill->interpolated));
        th_report_cell(report, "neighbour_h", "Gaps of 4–24 h, from the days around", "h", TH_WHOLE,
                       th_number((double)fill->neighbour));
        th_report_cell(report, "left_h", "Left", "h", TH_WHOLE, th_number((double)fill->missing));
        th_report_cell(report, "instead", "Taken for what is left", "", TH_PLAIN,
                       th_text(names[part][1]));
    }
}

static void add_calendar_months(struct th_report *report, const struct th_weather_summary *summary)
{
    th_report_table(report, "months", "By calendar month, all years together");
    for (int month = 1; month <= 12; month++) {
        const struct th_weather_sum sum = th_months_sum(summary, month);
        const bool known = sum.known > 0.0;
        th_report_row(report);
        th_report_cell(report, "month", "Month", "", TH_PLAIN, th_text(th_month_name(month - 1)));
        th_report_cell(report, "hours_h", "Hours", "h", TH_WHOLE, th_number(sum.hours));
        th_report_cell(report, "observed_h", "Observed", "h", TH_WHOLE, th_number(sum.observed));
        th_report_cell(report, "filled_h", "Filled", "h", TH_WHOLE, th_number(sum.filled));
        th_report_cell(report, "missing_h", "Missing", "h", TH_WHOLE, th_number(sum.missing));
        th_report_cell(report, "mean_f", "Mean", "°F", TH_TENTHS,
                       fahrenheit(known, sum.temp_c_h / sum.known));
        th_report_cell(report, "low_f", "Lowest", "°F", TH_TENTHS, fahrenheit(known, sum.low_c));
        th_report_cell(report, "high_f", "Highest", "°F", TH_TENTHS, fahrenheit(known, sum.high_c));
    }
}

/* A month with fewer of its hours than this has no mean worth drawing. */
#define DRAWN_FROM_SHARE 0.9

static bool is_drawn(const struct th_month_cover *month)
{
    const double there = (double)(month->observed + month->filled);
    return month->has_temp && there >= DRAWN_FROM_SHARE * (double)month->hours;
}

static void month_figure(struct th_report *report, const struct th_weather_summary *summary)
{
    size_t n = 0;
    for (size_t i = 0; i < summary->n_months; i++)
        n += is_drawn(&summary->months[i]);
    if (n < 2)
        return;
    th_figure(report,
              &(struct th_figure){.caption = "Temperature month by month",
                                  .reading = "Line: mean. Band: from the lowest to the highest "
                                             "hour. Gaps: months with more than a tenth of their "
                                             "hours missing.",
                                  .along = {.kind = TH_AXIS_DAY},
                                  .value = {.unit = "°F", .format = TH_TENTHS}});
    for (int band = 1; band >= 0; band--) {
        th_figure_mark(report, band ? TH_MARK_BAND : TH_MARK_LINE, TH_INK_COLD,
                       band ? "lowest to highest" : "mean");
        for (size_t i = 0; i < summary->n_months; i++) {
            const struct th_month_cover *m = &summary->months[i];
            const double low_c = !is_drawn(m) ? NAN : band ? m->low_c : m->mean_c;
            const double high_c = !is_drawn(m) ? NAN : band ? m->high_c : m->mean_c;
            th_figure_span(report, (double)th_day_number(m->year, m->month, 15), th_f_from_c(low_c),
                           th_f_from_c(high_c));
        }
    }
}

static bool is_open(const struct th_month_cover *m)
{
    return m->missing > 0 || (double)m->filled > TH_FILLED_SHARE_MAX * (double)m->hours;
}

/* Where there are none only machines are given the empty table. */
static void add_open_months(struct th_report *report, const struct th_weather_summary *summary,
                            bool typical)
{
    bool any = false;
    for (size_t i = 0; i < summary->n_months; i++)
        any = any || is_open(&summary->months[i]);
    th_report_table(report, "open_months",
                    any ? "Months with missing hours or more than 2 % of them filled" : NULL);
    for (size_t i = 0; i < summary->n_months; i++) {
        const struct th_month_cover *m = &summary->months[i];
        char name[24];
        if (!is_open(m))
            continue;
        if (typical)
            snprintf(name, sizeof name, "%s", th_month_name(m->month - 1));
        else
            snprintf(name, sizeof name, "%d-%02d", m->year, m->month);
        th_report_row(report);
        th_report_cell(report, "month", "Month", "", TH_PLAIN, th_text(name));
        th_report_cell(report, "hours_h", "Hours", "h", TH_WHOLE, th_number((double)m->hours));
        th_report_cell(report, "filled_h", "Filled", "h", TH_WHOLE, th_number((double)m->filled));
        th_report_cell(report, "missing_h", "Missing", "h", TH_WHOLE,
                       th_number((double)m->missing));
    }
}

static void add_cold(struct th_report *report, const struct th_weather_summary *summary,
                     bool typical)
{
    th_report_section(report, "cold", "Cold");
    th_report_fact(report, "low_f", "Lowest hour", "°F", TH_TENTHS,
                   fahrenheit(true, summary->low_c));
    th_report_fact(report, "low_at", "at", "", TH_HOUR,
                   th_number_if(!typical, (double)summary->low_hour));
    th_report_fact(report, "design_99_f", "99 % heating dry bulb", "°F", TH_TENTHS,
                   fahrenheit(true, summary->dry_bulbs.out_99_c));
    th_report_fact(report, "design_996_f", "99.6 % heating dry bulb", "°F", TH_TENTHS,
                   fahrenheit(true, summary->dry_bulbs.out_996_c));
    th_report_fact(report, "design_seasons_count", "resting on whole seasons", "", TH_WHOLE,
                   th_number((double)summary->dry_bulbs.years));
    th_report_fact(report, "high_f", "Highest hour", "°F", TH_TENTHS,
                   fahrenheit(true, summary->high_c));
}

static void add_odd(struct th_report *report, const struct th_weather_summary *summary)
{
    th_report_section(report, "odd", "Odd readings, used as they are");
    add_fact(report, "stuck_count", "The same for 24 h or longer", summary->stuck);
    add_fact(report, "spikes_count", "Changes of more than 15 °F in an hour", summary->spikes);
    if (summary->n_odd == 0)
        return;
    th_report_table(report, "readings", "Look at these");
    for (size_t i = 0; i < summary->n_odd; i++) {
        const struct th_odd *odd = &summary->odd[i];
        const bool spike = odd->kind == TH_ODD_SPIKE;
        th_report_row(report);
        th_report_cell(report, "kind", "Reading", "", TH_PLAIN, th_text(spike ? "jump" : "stuck"));
        th_report_cell(report, "first", "From", "", TH_HOUR, th_number((double)odd->first_hour));
        th_report_cell(report, "hours_h", "Hours", "h", TH_WHOLE, th_number((double)odd->hours));
        th_report_cell(report, "temp_f", "Temperature", "°F", TH_TENTHS,
                       fahrenheit(true, odd->temp_c));
        th_report_cell(report, "change_f", "Change", "°F", TH_TENTHS,
                       th_number_if(spike, odd->change_k / TH_K_PER_F));
    }
}

static void warn_of_files(struct th_report *report, const struct th_weather *weather)
{
    for (size_t i = 0; i < weather->n_files; i++) {
        char text[TH_WEATHER_WARNING_MAX];
        if (th_weather_file_warning(&weather->files[i], text))
            th_report_warning(report, "%s", text);
    }
}

static void warn(struct th_report *report, const struct th_weather *weather,
                 const struct th_climate *climate, const struct th_weather_summary *summary)
{
    if (is_invented(weather))
        th_report_warning(
            report, "Invented weather, made from monthly statistics: its winters spread as real "
                    "ones do, but it holds too few very cold hours. Use station files where "
                    "there are any.");
    warn_of_files(report, weather);
    if (climate->fill[TH_PART_TEMP].missing)
        th_report_warning(report,
                          "%s hours are missing. A turn is run only where no hour of it is missing "
                          "and at most 2 %% were filled.",
                          th_whole((double)climate->fill[TH_PART_TEMP].missing).text);
    if (!summary->dry_bulbs.whole_years)
        th_report_warning(report, "No whole season: the heating dry bulbs rest on part of a year.");
    if (summary->n_odd)
        th_report_warning(report,
                          "Odd readings: %zu, listed below. Check that they are weather and not "
                          "the instrument.",
                          summary->n_odd);
    if (weather->typical)
        th_report_warning(report,
                          "One typical year is thin evidence: it can miss the 99.6 %% design "
                          "temperature by 9 °F and the degree-days by 10 %%. Use actual years to "
                          "size heaters and to see the spread between winters.");
    else if (summary->dry_bulbs.whole_years && summary->dry_bulbs.years < SEASONS_FOR_PERCENTILES)
        th_report_warning(report,
                          "Whole seasons: %zu. Fewer than %d show little of the spread "
                          "between winters.",
                          summary->dry_bulbs.years, SEASONS_FOR_PERCENTILES);
}

/* What to do with it, and what would tell more. */
static void say_use(struct th_report *report, const struct th_weather *weather,
                    const struct th_weather_summary *summary)
{
    char most[TH_SHOWN_MAX];
    if (is_invented(weather))
        th_report_line(report, "It is made up: good to try things out. Measured winters of the "
                               "place would change it most; decide nothing without them.");
    else if (!summary->dry_bulbs.whole_years)
        th_report_line(report,
                       "Size no heater by it: no winter is whole. Take the design temperature "
                       "published for the place; whole winters would change this most.");
    else
        th_report_line(
            report,
            "%s is the design temperature to size heaters by, unless one is published for the "
            "place. More winters would change it most.",
            th_show_with_unit(most, th_number(th_f_from_c(summary->dry_bulbs.out_99_c)), TH_TENTHS,
                              "°F"));
}

static void answer(struct th_report *report, const struct th_weather *weather,
                   const struct th_weather_summary *summary)
{
    char at[TH_SHOWN_MAX], when[TH_SHOWN_MAX + 8] = "", coldest[TH_SHOWN_MAX], most[TH_SHOWN_MAX];
    if (!weather->typical)
        snprintf(when, sizeof when, " on %s",
                 th_show(at, th_number((double)summary->low_hour), TH_HOUR));
    th_report_section(report, "answer", NULL);
    th_report_line(
        report, "Coldest hour: %s%s. 99 %% of the hours are warmer than %s.",
        th_show_with_unit(coldest, th_number(th_f_from_c(summary->low_c)), TH_TENTHS, "°F"), when,
        th_show_with_unit(most, th_number(th_f_from_c(summary->dry_bulbs.out_99_c)), TH_TENTHS,
                          "°F"));
    if (weather->typical)
        th_report_line(report, "One typical winter, put together from several.");
    else
        th_weather_say_winters(report, summary);
    say_use(report, weather, summary);
}

void th_weather_report(struct th_report *report, const struct th_weather *weather,
                       const struct th_climate *climate, const struct th_weather_summary *summary)
{
    const char *name = weather->station.name[0] ? weather->station.name
                       : weather->station.id[0] ? weather->station.id
                                                : base_name(weather->files[0].name);
    th_report_title(report, "Hourly weather: %s", name);
    warn(report, weather, climate, summary);
    answer(report, weather, summary);
    add_station(report, weather);
    add_files(report, weather, climate);
    add_counts(report, weather, climate, summary);
    add_fill(report, climate);
    add_calendar_months(report, summary);
    month_figure(report, summary);
    add_open_months(report, summary, weather->typical);
    th_weather_degree_days(report, summary, weather->typical);
    add_cold(report, summary, weather->typical);
    if (!weather->typical)
        th_weather_cold_figure(report, summary);
    add_odd(report, summary);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_report.h"

#include "turnheat/places.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define NEAREST 10
#define M_PER_MILE 1609.344

static double winter_mean_f(const struct th_places_row *row)
{
    static const int months[] = {10, 11, 0, 1, 2, 3};
    double sum = 0.0;
    for (int i = 0; i < 6; i++)
        sum += row->month[months[i]].mean_f / 6.0;
    return sum;
}

static void place_row(struct th_report *report, const struct th_places_row *row, double distance_m)
{
    char name[96];
    snprintf(name, sizeof name, "%s, %s", row->name, row->state);
    th_report_row(report);
    th_report_cell(report, "place", "Place", "", TH_PLAIN, th_text(name));
    th_report_cell(report, "distance_mi", "Distance", "miles", TH_WHOLE,
                   th_number_if(isfinite(distance_m), distance_m / M_PER_MILE));
    th_report_cell(report, "latitude_deg", "Latitude", "°", TH_HUNDREDTHS,
                   th_number(row->latitude_deg));
    th_report_cell(report, "longitude_deg", "Longitude", "°", TH_HUNDREDTHS,
                   th_number(row->longitude_deg));
    th_report_cell(report, "elevation_ft", "Elevation", "ft", TH_WHOLE,
                   th_number(row->elevation_m / TH_M_PER_FT));
    th_report_cell(report, "january_f", "Mean of January", "°F", TH_TENTHS,
                   th_number(row->month[0].mean_f));
    th_report_cell(report, "winter_f", "Mean, Nov–Apr", "°F", TH_TENTHS,
                   th_number(winter_mean_f(row)));
    th_report_cell(report, "season_offset_f", "Winters differ by, one SD", "°F", TH_TENTHS,
                   th_number(row->season_offset_f));
}

static void about(struct th_report *report)
{
    th_report_paragraph(
        report, NULL,
        "In a barn file: [site] place = Mason City, Iowa. Elsewhere give latitude, "
        "longitude and elevation: the three nearest places are moved there. A "
        "place is good to 5 to 7 %% of a season's gallons; beyond 100 miles, at lake "
        "shores and in mountains to less. Neighbours can differ by 2 °F in January, a tenth "
        "to a fifth of the gas of a room of heavy pigs: try the colder one too. Station files "
        "of your place are better.");
}

static bool holds(const char *text, const char *word)
{
    const size_t length = strlen(word);
    for (; *text; text++)
        if (strncasecmp(text, word, length) == 0)
            return true;
    return false;
}

void th_places_report_named(struct th_report *report, const char *word)
{
    size_t n, shown = 0;
    const struct th_places_row *const rows = th_places(&n);
    th_report_title(report, "Places with known weather");
    th_report_section(report, "places", "Places");
    th_report_table(report, "places", "Monthly statistics, 1991-2019 level");
    for (size_t i = 0; i < n; i++) {
        const bool whole_state = word && strlen(word) == 2 && strcasecmp(rows[i].state, word) == 0;
        const bool state = word && strcasecmp(th_places_state_name(rows[i].state), word) == 0;
        if (word && !whole_state && !state && (strlen(word) == 2 || !holds(rows[i].name, word)))
            continue;
        place_row(report, &rows[i], NAN);
        shown++;
    }
    if (shown == 0)
        th_report_paragraph(
            report, NULL,
            "No place or state is called that. Try a larger town near by, or latitude "
            "and longitude, such as 43.08,-96.18: the nearest places are then listed.");
    about(report);
}

void th_places_report_near(struct th_report *report, double latitude_deg, double longitude_deg)
{
    struct th_places_near near[NEAREST];
    char caption[96];
    th_places_nearest(latitude_deg, longitude_deg, NEAREST, near);
    snprintf(caption, sizeof caption, "The nearest to %.2f, %.2f", latitude_deg, longitude_deg);
    th_report_title(report, "Places with known weather");
    th_report_section(report, "places", "Places");
    th_report_table(report, "places", caption);
    for (int i = 0; i < NEAREST; i++)
        place_row(report, near[i].row, near[i].distance_m);
    about(report);
}

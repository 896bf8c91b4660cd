/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air_text.h"

#include "display.h"
#include "fuel_unit.h"
#include "turnheat/thousands.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Of a season's hours; our judgement. */
#define BAD_AIR_SHARE 0.05

const char *th_ceilings_words(char text[TH_CEILINGS_MAX], const struct th_air *air)
{
    snprintf(text, TH_CEILINGS_MAX, "%.30s ppm CO2 and %.0f %% humidity",
             th_whole(air->co2_design_ppm).text, fmin(100.0 * air->rh_limit, 100.0));
    return text;
}

bool th_air_is_bad(const struct th_tally *season)
{
    const double *sum = season->sum;
    return fmax(sum[TH_OVER_CO2_DESIGN], sum[TH_OVER_RH]) > BAD_AIR_SHARE * sum[TH_HOURS];
}

void th_report_bad_air(struct th_report *report, const struct th_room *room,
                       const struct th_tally *season, double hold_j)
{
    const double *sum = season->sum;
    const double gas_j = th_tally_gas_j(season);
    if (!th_air_is_bad(season))
        return;
    char hold[160], gas[TH_SHOWN_MAX];
    th_show_with_unit(gas, th_number(room->copies * hold_j / room->fuel.hhv_j), TH_SIG2,
                      th_fuel_unit(&room->fuel)->unit);
    if (hold_j < 0.0)
        snprintf(hold, sizeof hold,
                 "fans that hold both burn more than is planned here; the budget says how much");
    else
        snprintf(hold, sizeof hold,
                 "fans that hold both (hold_co2, hold_humidity) would burn about %.30s (%.0f %%) "
                 "more",
                 gas, gas_j > 0.0 ? 100.0 * hold_j / gas_j : 0.0);
    th_report_warning(
        report,
        "%s: of the %s hours of a mean season CO2 lies above %s ppm in %s and humidity above %.0f "
        "%% in %s; %s. Measure CO2 on a cold night.",
        room->name, th_whole(sum[TH_HOURS]).text, th_whole(room->air.co2_design_ppm).text,
        th_whole(sum[TH_OVER_CO2_DESIGN]).text, 100.0 * room->air.rh_limit,
        th_whole(sum[TH_OVER_RH]).text,
        room->air.control_co2 && room->air.control_rh
            ? "the fans hold both as far as their first stage reaches"
            : hold);
}

const char *th_more_hours(char text[TH_MORE_HOURS_MAX], double hours)
{
    const struct th_whole shown = th_whole(hours);
    snprintf(text, TH_MORE_HOURS_MAX, "%.20s more hour%s", shown.text,
             strcmp(shown.text, "1") == 0 ? "" : "s");
    return text;
}

const char *th_air_added_words(char text[TH_AIR_ADDED_MAX], const char *than,
                               const struct th_air *air, const struct th_hardship *added)
{
    char ppm[40], people[64], damp[40];
    snprintf(ppm, sizeof ppm, "CO2 over %.10s ppm", th_whole(air->co2_design_ppm).text);
    snprintf(people, sizeof people, "CO2 over %.10s ppm (the limit for people)",
             th_whole(air->co2_worker_ppm).text);
    snprintf(damp, sizeof damp, "humidity over %.0f %%", fmin(100.0 * air->rh_limit, 100.0));
    const char *const what[] = {ppm, people, damp};
    const double more_h[] = {added->co2_h, added->worker_h, added->rh_h};
    char hours[TH_MORE_HOURS_MAX];
    size_t used = 0;
    text[0] = '\0';
    for (int i = 0; i < 3 && used < TH_AIR_ADDED_MAX; i++)
        if (more_h[i] >= 0.5)
            used += (size_t)snprintf(
                text + used, TH_AIR_ADDED_MAX - used, "%s%.30s%s%.20s with %s", used ? ", " : "",
                used ? th_whole(more_h[i]).text : th_more_hours(hours, more_h[i]),
                used ? "" : " than ", used ? "" : than, what[i]);
    return text;
}

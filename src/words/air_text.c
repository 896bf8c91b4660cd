/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air_text.h"

#include "display.h"
#include "fuel_unit.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *th_ceilings_words(char text[TH_CEILINGS_MAX], const struct th_air *air)
{
    snprintf(text, TH_CEILINGS_MAX, "%.30s ppm CO2 and %.0f %% humidity",
             th_whole(air->co2_design_ppm).text, fmin(100.0 * air->rh_limit, 100.0));
    return text;
}

#define DEMAND_MAX 200

/* "ask the heaters for 1,080,000 Btu/h with pigs in the room at -1.5 °F outdoors, of the 500,000
 * installed". */
static void demand_words(char text[DEMAND_MAX], const struct th_held_air *held)
{
    char needed[TH_SHOWN_MAX], installed[TH_SHOWN_MAX], out[TH_SHOWN_MAX];
    snprintf(text, DEMAND_MAX,
             "%s of heater input with pigs in the room at %s outdoors, the 99 %% design day, where "
             "%s are installed",
             th_show_with_unit(needed, th_number(held->needed_w / TH_W_PER_BTUH), TH_SIG3, "Btu/h"),
             th_show_with_unit(out, th_number(th_f_from_c(held->out_c)), TH_TENTHS, "°F"),
             th_show(installed, th_number(held->installed_w / TH_W_PER_BTUH), TH_SIG3));
}

const char *th_held_air_words(char text[TH_HELD_AIR_MAX], const struct th_room *room,
                              const struct th_held_air *held)
{
    char demand[DEMAND_MAX], gas[TH_SHOWN_MAX], vented[TH_SHOWN_MAX], vent[200] = "";
    demand_words(demand, held);
    th_show_with_unit(gas, th_number(room->copies * held->more_j / room->fuel.hhv_j), TH_SIG2,
                      th_fuel_unit(&room->fuel)->unit);
    if (!held->sized) {
        snprintf(text, TH_HELD_AIR_MAX,
                 "Fans that hold both (hold_co2, hold_humidity) would burn about %s more.", gas);
        return text;
    }
    if (th_held_air_heated(held)) {
        snprintf(text, TH_HELD_AIR_MAX,
                 "Fans that hold both (hold_co2, hold_humidity) would burn about %s more and take "
                 "%s.",
                 gas, demand);
        return text;
    }
    if (held->vented_w > 0.0 && held->vented_w < held->needed_w)
        snprintf(
            vent, sizeof vent, " %sented heaters would take %s.",
            th_held_air_burners(held) ? "Most of that is the burners' own CO2: v" : "V",
            th_show_with_unit(vented, th_number(held->vented_w / TH_W_PER_BTUH), TH_SIG3, "Btu/h"));
    snprintf(text, TH_HELD_AIR_MAX,
             "Do not let the fans hold both with these heaters: it would take %s. The room would "
             "fall to %.0f °F and be short of heat in %s hours of its worst winter.%s "
             "Heaters that can warm the air come first.",
             demand, th_f_from_c(held->lowest_c), th_whole(held->unmet_h).text, vent);
    return text;
}

void th_report_bad_air(struct th_report *report, const struct th_room *room,
                       const struct th_tally *season, const struct th_held_air *held)
{
    const double *sum = season->sum;
    char take[TH_HELD_AIR_MAX] = "Fans that hold both take more heat and burn more than is planned "
                                 "here; the budget says how much.";
    if (!th_air_is_bad(season))
        return;
    if (room->air.control_co2 && room->air.control_rh)
        snprintf(take, sizeof take, "The fans hold both as far as their first stage reaches.");
    else if (held && held->sized)
        th_held_air_words(take, room, held);
    th_report_warning(
        report,
        "%s: of the %s hours of a mean season CO2 lies above %s ppm in %s and humidity above %.0f "
        "%% in %s. Measure CO2 on a cold night. %s",
        room->name, th_whole(sum[TH_HOURS]).text, th_whole(room->air.co2_design_ppm).text,
        th_whole(sum[TH_OVER_CO2_DESIGN]).text, 100.0 * room->air.rh_limit,
        th_whole(sum[TH_OVER_RH]).text, take);
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

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The budget's figures: months over winters, heat through the turn, a cold week, heaters at work.
 */
#include "budget.h"

#include "fuel_unit.h"
#include "season_text.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <stdlib.h>

#define SEASONS_SHOWN 8
#define WEEK_HOURS 168
#define DAYS_MAX 400

/* One hour of the worst season, as the figures need it. */
struct seen_hour {
    long hour_number;
    double out_c, room_low_c, room_high_c, gas_w, pigs_w, heaters_w, lost_w;
};

struct seen {
    struct seen_hour *hours;
    size_t n, most;
};

static void see_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct seen *seen = context;
    const double *t = out->terms;
    (void)turn;
    if (seen->n == seen->most)
        return;
    double lost_w = 0.0;
    for (int i = TH_TERM_SURFACE; i < TH_TERM_MASS; i++)
        lost_w += t[i];
    seen->hours[seen->n++] = (struct seen_hour){.hour_number = hour_number,
                                                .out_c = in->balance.out->out_c,
                                                .room_low_c = out->low_c,
                                                .room_high_c = out->high_c,
                                                .gas_w = out->gas_w,
                                                .pigs_w = t[TH_TERM_PIGS],
                                                .heaters_w = out->heating.heat_w + t[TH_TERM_ZONE],
                                                .lost_w = lost_w};
}

static const struct th_season *worst_season(const struct th_winters *winters)
{
    const struct th_season *worst = NULL;
    for (int i = 0; i < winters->n; i++) {
        const struct th_season *s = &winters->seasons[i];
        if (s->counted && (!worst || th_tally_gas_j(&s->total) > th_tally_gas_j(&worst->total)))
            worst = s;
    }
    return worst;
}

static void month_figure(struct th_report *report, const struct th_case *one,
                         const struct th_winters *winters)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&one->room->fuel);
    const struct th_season *shown[SEASONS_SHOWN];
    int n = 0;
    for (int i = winters->n - 1; i >= 0 && n < SEASONS_SHOWN; i--)
        if (winters->seasons[i].counted)
            shown[n++] = &winters->seasons[i];
    th_report_figure(report,
                     &(struct th_figure){.key = "months_figure",
                                         .caption = "Gas by month, winter by winter",
                                         .alternative = "Bars of gas by month for each season; the "
                                                        "table of months has the numbers.",
                                         .chart = TH_BARS,
                                         .y_label = unit->units});
    for (int place = 0; place < 12; place++) {
        const int month = th_season_month(place);
        th_report_row(report);
        th_report_cell(report, "month", "Month", "", TH_PLAIN, th_text(th_month_name(month)));
        for (int i = n - 1; i >= 0; i--) {
            const double gas_j = one->room->copies * th_tally_gas_j(&shown[i]->month[month]);
            char name[TH_SEASON_NAME_MAX];
            th_season_name(shown[i], name);
            th_report_cell(report, name, name, unit->unit, TH_SIG3,
                           th_number(gas_j / one->room->fuel.hhv_j));
        }
    }
}

/* Daily means over the worst season. */
static void turn_figure(struct th_report *report, const struct seen *seen)
{
    th_report_figure(report,
                     &(struct th_figure){
                         .key = "turn_figure",
                         .caption = "Heat gained and lost through the season that took most gas, "
                                    "daily means, one room",
                         .alternative = "Lines of daily mean heat: what is lost, what the pigs "
                                        "give, rising as they grow, and what the heaters add, "
                                        "falling until the pigs keep the room warm.",
                         .chart = TH_LINES,
                         .y_label = "1,000 Btu/h"});
    for (size_t i = 0; i + 24 <= seen->n; i += 24) {
        double lost = 0.0, pigs = 0.0, heaters = 0.0;
        for (size_t k = i; k < i + 24; k++) {
            lost += seen->hours[k].lost_w / 24.0;
            pigs += seen->hours[k].pigs_w / 24.0;
            heaters += seen->hours[k].heaters_w / 24.0;
        }
        const double per = 1000.0 * TH_W_PER_BTUH;
        th_report_row(report);
        th_report_cell(report, "day", "Day", "", TH_DAY,
                       th_number((double)th_day_of_hour(seen->hours[i].hour_number)));
        th_report_cell(report, "lost_btu_h", "lost through shell and minimum air", "Btu/h", TH_SIG3,
                       th_number(lost / per));
        th_report_cell(report, "pigs_btu_h", "pigs", "Btu/h", TH_SIG3, th_number(pigs / per));
        th_report_cell(report, "heaters_btu_h", "heaters", "Btu/h", TH_SIG3,
                       th_number(heaters / per));
    }
}

static size_t coldest_week(const struct seen *seen)
{
    size_t best = 0;
    double best_sum = 0.0, sum = 0.0;
    for (size_t i = 0; i < seen->n; i++) {
        sum += seen->hours[i].out_c;
        if (i >= WEEK_HOURS)
            sum -= seen->hours[i - WEEK_HOURS].out_c;
        if (i == WEEK_HOURS - 1 || (i >= WEEK_HOURS && sum < best_sum)) {
            best_sum = sum;
            best = i + 1 - WEEK_HOURS;
        }
    }
    return best;
}

static void week_figures(struct th_report *report, const struct seen *seen)
{
    const size_t first = coldest_week(seen);
    th_report_figure(
        report, &(struct th_figure){.key = "week_figure",
                                    .caption = "The coldest week of that season, hour by hour",
                                    .alternative = "Lines of outdoor temperature and of the low "
                                                   "and high of the room's swing by hour.",
                                    .chart = TH_LINES,
                                    .y_label = "°F"});
    for (size_t i = first; i < first + WEEK_HOURS && i < seen->n; i++) {
        const struct seen_hour *h = &seen->hours[i];
        th_report_row(report);
        th_report_cell(report, "hour", "Hour", "", TH_HOUR, th_number((double)h->hour_number));
        th_report_cell(report, "outdoor_f", "outdoors", "°F", TH_TENTHS,
                       th_number(th_f_from_c(h->out_c)));
        th_report_cell(report, "room_low_f", "room, low", "°F", TH_TENTHS,
                       th_number(th_f_from_c(h->room_low_c)));
        th_report_cell(report, "room_high_f", "room, high", "°F", TH_TENTHS,
                       th_number(th_f_from_c(h->room_high_c)));
    }
    th_report_figure(report, &(struct th_figure){.key = "week_gas_figure",
                                                 .caption = "Gas in that week, one room",
                                                 .alternative =
                                                     "A line of gas demand by hour, highest in the "
                                                     "coldest nights.",
                                                 .chart = TH_LINES,
                                                 .y_label = "1,000 Btu/h"});
    for (size_t i = first; i < first + WEEK_HOURS && i < seen->n; i++) {
        th_report_row(report);
        th_report_cell(report, "hour", "Hour", "", TH_HOUR,
                       th_number((double)seen->hours[i].hour_number));
        th_report_cell(report, "gas_btu_h", "gas", "Btu/h", TH_SIG3,
                       th_number(seen->hours[i].gas_w / (1000.0 * TH_W_PER_BTUH)));
    }
}

static void heater_figure(struct th_report *report, const struct th_season *season)
{
    th_report_figure(
        report, &(struct th_figure){.key = "heaters_figure",
                                    .caption = "Heaters at work in that season, one room",
                                    .alternative = "Bars of heater-hours and of hundreds of burner "
                                                   "starts by month.",
                                    .chart = TH_BARS,
                                    .y_label = "hours; hundreds of starts"});
    for (int place = 0; place < 12; place++) {
        const int month = th_season_month(place);
        const double *sum = season->month[month].sum;
        th_report_row(report);
        th_report_cell(report, "month", "Month", "", TH_PLAIN, th_text(th_month_name(month)));
        th_report_cell(report, "heater_hours_h", "heater-hours", "h", TH_WHOLE,
                       th_number(sum[TH_HEATER_HOURS]));
        th_report_cell(report, "starts_100_count", "starts, hundreds", "", TH_WHOLE,
                       th_number(sum[TH_STARTS] / 100.0));
    }
}

enum th_code th_budget_figures(struct th_report *report, const struct th_case *one,
                               const struct th_winters *winters, struct th_error *err)
{
    const struct th_season *worst = worst_season(winters);
    if (!worst)
        return th_fail(err, TH_ERR_COVERAGE, "no season is counted");
    struct seen seen = {.most = (size_t)DAYS_MAX * 24 * TH_TURNS_MAX};
    struct th_winters again;
    const struct th_watch watch = {.hour = see_hour, .context = &seen};
    seen.hours = malloc(seen.most * sizeof *seen.hours);
    if (!seen.hours)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code =
        th_winters_run(&again, one->room, one->climate, worst->year, worst->year, &watch, err);
    if (code == TH_OK && seen.n >= WEEK_HOURS) {
        month_figure(report, one, winters);
        turn_figure(report, &seen);
        week_figures(report, &seen);
        heater_figure(report, worst);
    }
    th_winters_finish(&again);
    free(seen.hours);
    return code;
}

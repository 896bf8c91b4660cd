/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The turns, and the pigs of each week. */
#include "air_classes.h"
#include "check_report.h"
#include "turnheat/schedule.h"
#include "turnheat/units.h"

#include <stdio.h>

#define DAYS_A_WEEK 7

static void turn_rows(struct th_report *report, const struct th_room *room)
{
    for (int i = 0; i < room->n_turns; i++) {
        const struct th_turn_plan *t = &room->turns[i];
        char placed[16];
        snprintf(placed, sizeof placed, "%02d-%02d", t->month, t->day);
        th_report_row(report);
        th_report_cell(report, "turn", "Turn", "", TH_PLAIN, th_text(t->name));
        th_report_cell(report, "placed", "Placed", "", TH_PLAIN, th_text(placed));
        th_report_cell(report, "head_count", "Head", "", TH_WHOLE, th_number(t->head));
        th_report_cell(report, "weight_lb", "Start weight", "lb", TH_TENTHS,
                       th_number(t->weight_kg / TH_KG_PER_LB));
        th_report_cell(report, "days", "Days", "", TH_WHOLE, th_number(t->days));
        th_report_cell(report, "preheat_h", "Preheat", "h", TH_WHOLE, th_number(t->preheat_h));
    }
}

static void turn_table(struct th_report *report, const struct th_room *room)
{
    th_report_section(report, "pigs", "Pigs");
    th_report_fact(report, "deaths_pct", "Deaths over a turn", "%", TH_TENTHS,
                   th_number(100.0 * room->pigs.death_share));
    th_report_fact(report, "sensible_factor", "Share of pig heat felt as warmth", "", TH_HUNDREDTHS,
                   th_number(room->pigs.k_s));
    th_report_table(report, "turns", "Turns, one room");
    turn_rows(report, room);
}

/* Turns that differ only in name and date have the same weeks. */
static bool same_weeks(const struct th_turn_plan *a, const struct th_turn_plan *b)
{
    bool same = a->head == b->head && a->weight_kg == b->weight_kg && a->days == b->days &&
                a->n_leaves == b->n_leaves;
    for (int i = 0; same && i < a->n_leaves; i++)
        same = a->leaves[i].day == b->leaves[i].day && a->leaves[i].share == b->leaves[i].share;
    return same;
}

static bool shown_before(const struct th_room *room, int turn)
{
    for (int i = 0; i < turn; i++)
        if (same_weeks(&room->turns[i], &room->turns[turn]))
            return true;
    return false;
}

static void week_row(struct th_report *report, const char *turn, int day, const struct th_day *d)
{
    th_report_row(report);
    th_report_cell(report, "turn", "Turn", "", TH_PLAIN, th_text(turn));
    th_report_cell(report, "day", "Day", "", TH_WHOLE, th_number(day));
    th_report_cell(report, "head_count", "Head", "", TH_WHOLE, th_number(d->head));
    th_report_cell(report, "weight_lb", "Weight", "lb", TH_TENTHS,
                   th_number(d->mass_kg / TH_KG_PER_LB));
    th_report_cell(report, "set_f", "Set point", "°F", TH_TENTHS, th_number(th_f_from_c(d->set_c)));
    th_report_cell(report, "comfort_f", "Comfort limit", "°F", TH_TENTHS,
                   th_number(th_f_from_c(d->comfort_c)));
    th_report_cell(report, "minimum_cfm", "Minimum air", "cfm", TH_SIG3,
                   th_number(d->fan_m3_s / TH_M3S_PER_CFM));
    th_report_cell(report, "minimum_pig_cfm", "per pig", "cfm", TH_HUNDREDTHS,
                   th_number_if(d->head > 0.0, d->fan_m3_s / TH_M3S_PER_CFM / d->head));
}

static enum th_code week_rows(struct th_report *report, const struct th_room *room,
                              const struct th_turn_plan *turn, struct th_error *err)
{
    struct th_schedule schedule;
    const enum th_code code = th_schedule_init(&schedule, room, turn, err);
    if (code != TH_OK)
        return code;
    for (int day = 0; day < schedule.n; day += DAYS_A_WEEK)
        week_row(report, turn->name, day, &schedule.days[day]);
    th_schedule_finish(&schedule);
    return TH_OK;
}

enum th_code th_checked_pigs(struct th_report *report, const struct th_room *room,
                             struct th_error *err)
{
    enum th_code code = TH_OK;
    turn_table(report, room);
    th_report_table(report, "weeks", "Week by week; turns alike but for the date are shown once");
    for (int i = 0; i < room->n_turns && code == TH_OK; i++)
        if (!shown_before(room, i))
            code = week_rows(report, room, &room->turns[i], err);
    return code == TH_OK ? th_report_air_classes(report, room, err) : code;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air_classes.h"

#include "turnheat/air.h"
#include "turnheat/schedule.h"
#include "turnheat/units.h"

/* Rounding of the tables is no shortfall. */
#define SHORT_BELOW 0.995

/* The day of a turn on which a pig's air is the smallest share of its class. */
struct shortfall {
    const struct th_turn_plan *turn;
    double share; /* of the class */
    double mass_kg, pig_m3_s, class_m3_s;
    int day, days_short;
};

static void look_at(struct shortfall *worst, int day, const struct th_day *today)
{
    const double class_m3_s = th_table_at(th_air_minimum_steps(), today->mass_kg);
    const double pig_m3_s = today->head > 0.0 ? today->fan_m3_s / today->head : class_m3_s;
    const double share = pig_m3_s / class_m3_s;
    worst->days_short += share < SHORT_BELOW;
    if (share >= worst->share)
        return;
    worst->share = share;
    worst->day = day;
    worst->mass_kg = today->mass_kg;
    worst->pig_m3_s = pig_m3_s;
    worst->class_m3_s = class_m3_s;
}

static enum th_code shortest_of(const struct th_room *room, const struct th_turn_plan *turn,
                                struct shortfall *worst, struct th_error *err)
{
    struct th_schedule schedule;
    const enum th_code code = th_schedule_init(&schedule, room, turn, err);
    *worst = (struct shortfall){.turn = turn, .share = 1.0};
    for (int day = 0; code == TH_OK && day < schedule.n; day++)
        look_at(worst, day, &schedule.days[day]);
    if (code == TH_OK)
        th_schedule_finish(&schedule);
    return code;
}

static bool is_smooth(const struct th_table *table)
{
    const struct th_table *smooth = th_air_minimum_smooth();
    bool same = table->n == smooth->n && table->step == smooth->step;
    for (int i = 0; same && i < table->n; i++)
        same = table->x[i] == smooth->x[i] && table->y[i] == smooth->y[i];
    return same;
}

enum th_code th_report_air_classes(struct th_report *report, const struct th_room *room,
                                   struct th_error *err)
{
    struct shortfall worst = {.share = SHORT_BELOW};
    enum th_code code = TH_OK;
    for (int i = 0; i < room->n_turns && code == TH_OK; i++) {
        struct shortfall one;
        code = shortest_of(room, &room->turns[i], &one, err);
        if (code == TH_OK && one.share < worst.share)
            worst = one;
    }
    if (code == TH_OK && worst.turn)
        th_report_paragraph(
            report, "below_classes",
            "Minimum air: on %d of %d days of turn %s it is less than the extension class for the "
            "pigs' weight (MWPS-32), most on day %d at %.0f lb: %.1f against %.0f cfm a pig. %s",
            worst.days_short, worst.turn->days, worst.turn->name, worst.day,
            worst.mass_kg / TH_KG_PER_LB, worst.pig_m3_s / TH_M3S_PER_CFM,
            worst.class_m3_s / TH_M3S_PER_CFM,
            is_smooth(&room->air.minimum_m3_s)
                ? "The default curve is smooth: low where a class begins, high where it ends."
                  " `minimum_curve = classes` in [air] follows the classes; watch humidity "
                  "and ammonia either way."
                : "It is set so in your file; watch humidity and ammonia.");
    return code;
}

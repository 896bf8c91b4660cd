/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/schedule.h"

#include "turnheat/herd.h"
#include "turnheat/units.h"
#include <math.h>
#include <stdlib.h>

#define SECONDS_PER_DAY 86400.0
#define DAYS_PER_WEEK 7.0
/* Newly weaned pigs bear no cold: our judgement. */
#define TENDER_DAYS 14
#define TENDER_KG (25.0 * TH_KG_PER_LB)

/* Until then set points by curve day follow the pigs' age, afterwards their weight. */
#define GROWN_KG (40.0 * TH_KG_PER_LB)

static double set_point_day(double curve_day, double mass_kg)
{
    return mass_kg < GROWN_KG ? fmin(curve_day, th_herd_gompertz_day(GROWN_KG))
                              : th_herd_gompertz_day(mass_kg);
}

static double set_point_c(const struct th_room *room, double curve_day, int day, double mass_kg)
{
    const struct th_setpoints *sp = &room->setpoints;
    const double x = sp->by == TH_BY_CURVE_DAY  ? set_point_day(curve_day, mass_kg)
                     : sp->by == TH_BY_TURN_DAY ? (double)day
                                                : mass_kg;
    return th_table_at(&sp->set_c, x) + room->calibration.set_shift_k;
}

/* Full drop on zone-heat days, then back in a straight line. */
static double zone_drop_k(const struct th_zone *zone, double curve_day)
{
    if (!zone->on)
        return 0.0;
    const double after = curve_day - zone->days;
    if (after <= 0.0)
        return zone->drop_k;
    return after < zone->return_days ? zone->drop_k * (1.0 - after / zone->return_days) : 0.0;
}

static double head_on_day(const struct th_room *room, const struct th_turn_plan *turn, int day,
                          double *left)
{
    double remaining = 1.0, gone = 0.0;
    const double placed = turn->head;
    for (int i = 0; i < turn->n_leaves; i++) {
        const struct th_leave *leave = &turn->leaves[i];
        if (day < leave->day)
            continue;
        const double alive =
            placed * (1.0 - room->pigs.death_share * leave->day / turn->days) * remaining;
        gone += leave->share * alive;
        remaining *= 1.0 - leave->share;
    }
    *left = gone;
    return placed * (1.0 - room->pigs.death_share * day / turn->days) * remaining;
}

static void fill_air(struct th_day *day, const struct th_room *room)
{
    const struct th_air *air = &room->air;
    const double need = day->head * th_table_at(&air->minimum_m3_s, day->mass_kg);
    const double present = fmax(need * air->minimum_share, air->floor_m3_s);
    day->fan_m3_s = present * room->calibration.air_factor;
    const double by_rule = fmax(2.0 * day->fan_m3_s, air->stage_place_m3_s * room->spaces);
    const double full = air->stage_full_m3_s > 0.0 ? air->stage_full_m3_s : by_rule;
    day->stage_m3_s = fmax(full * air->stage_factor, day->fan_m3_s);
}

static void fill_day(struct th_day *out, const struct th_room *room,
                     const struct th_turn_plan *turn, int day)
{
    const struct th_setpoints *sp = &room->setpoints;
    const struct th_zone *zone = &room->zone;
    double left;
    out->curve_day = th_herd_gompertz_day(turn->weight_kg) + day;
    out->mass_kg = room->pigs.growth == TH_GROWTH_BY_DAY ? th_table_at(&room->pigs.weight_kg, day)
                                                         : th_herd_gompertz_kg(out->curve_day);
    out->head = head_on_day(room, turn, day, &left);
    out->heat20_w = out->head * th_herd_heat20_w(out->mass_kg) * room->pigs.heat_factor;
    out->spill_kg_s = out->head * room->pigs.spill_kg_day / SECONDS_PER_DAY;
    out->comfort_c = th_table_at(&sp->comfort_c, out->mass_kg);
    out->tender = day < TENDER_DAYS || out->mass_kg <= TENDER_KG;
    out->setback_k = day >= sp->setback_from_day ? sp->setback_k : 0.0;
    out->set_c =
        set_point_c(room, out->curve_day, day, out->mass_kg) - zone_drop_k(zone, out->curve_day);
    out->zone_on = zone->on && out->curve_day < zone->days;
    out->zone_target_c = zone->target_c - zone->target_k_week * out->curve_day / DAYS_PER_WEEK;
    fill_air(out, room);
}

enum th_code th_schedule_init(struct th_schedule *schedule, const struct th_room *room,
                              const struct th_turn_plan *turn, struct th_error *err)
{
    *schedule = (struct th_schedule){.n = turn->days, .head_placed = turn->head};
    if (!isfinite(th_herd_gompertz_day(turn->weight_kg)))
        return th_fail(err, TH_ERR_RANGE,
                       "turn %s: a start weight of %g kg lies off the growth curve", turn->name,
                       turn->weight_kg);
    schedule->days = calloc((size_t)turn->days, sizeof *schedule->days);
    if (!schedule->days)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int day = 0; day < turn->days; day++)
        fill_day(&schedule->days[day], room, turn, day);
    double left;
    schedule->head_sold = head_on_day(room, turn, turn->days, &left);
    schedule->head_sold += left;
    schedule->zone_units = !room->zone.on           ? 0.0
                           : room->zone.units > 0.0 ? room->zone.units
                                                    : ceil(turn->head / room->zone.pigs_per_unit);
    schedule->zone_rise_k = room->zone.rise_k;
    return TH_OK;
}

void th_schedule_finish(struct th_schedule *schedule)
{
    if (!schedule)
        return;
    free(schedule->days);
    *schedule = (struct th_schedule){0};
}

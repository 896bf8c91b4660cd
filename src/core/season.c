/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/season.h"

#include "accounts.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"
#include <math.h>

#define SEASON_START_MONTH 7
#define DRYING_HOURS 24.0

void th_season_range(const struct th_climate *climate, int *first, int *last)
{
    if (climate->typical) {
        *first = *last = TH_TYPICAL_YEAR;
        return;
    }
    const struct th_date a = th_date_of(th_day_of_hour(climate->first_hour));
    const struct th_date b = th_date_of(th_day_of_hour(climate->first_hour + (long)climate->n - 1));
    *first = a.year - (a.month < SEASON_START_MONTH);
    *last = b.year - (b.month < SEASON_START_MONTH);
}

/* When a turn's hours begin and end, and what comes between. */
struct span {
    long empty_hour; /* start of the empty time before the turn, if it is kept from freezing */
    long preheat_hour;
    long placement_hour;
    long end_hour;
};

static long placement_day(const struct th_turn_plan *turn, int year)
{
    const int own_year = year + (turn->month < SEASON_START_MONTH);
    const bool leap_day = turn->month == 2 && turn->day == 29;
    return leap_day && !th_date_valid(own_year, 2, 29)
               ? th_day_number(own_year, 3, 1)
               : th_day_number(own_year, turn->month, turn->day);
}

/* The barn stands empty since the turn that ended last before `preheat_hour`. */
static long last_end_hour(const struct th_room *room, long preheat_hour, int year)
{
    long latest = preheat_hour - 366 * 24;
    for (int i = 0; i < room->n_turns; i++)
        for (int y = year - 1; y <= year; y++) {
            const long end = (placement_day(&room->turns[i], y) + room->turns[i].days) * 24;
            if (end <= preheat_hour && end > latest)
                latest = end;
        }
    return latest;
}

static struct span span_of(const struct th_room *room, int index, int year)
{
    const struct th_turn_plan *turn = &room->turns[index];
    struct span span = {.placement_hour = placement_day(turn, year) * 24};
    span.preheat_hour = span.placement_hour - lround(turn->preheat_h);
    span.end_hour = span.placement_hour + 24L * turn->days;
    span.empty_hour =
        room->fuel.freeze ? last_end_hour(room, span.preheat_hour, year) : span.preheat_hour;
    return span;
}

static struct th_span_cover cover_of(const struct th_climate *climate, const struct span *span)
{
    return th_climate_coverage(climate, span->empty_hour, span->end_hour - span->empty_hour);
}

bool th_season_counted(const struct th_room *room, const struct th_climate *climate, int year)
{
    for (int turn = 0; turn < room->n_turns; turn++) {
        const struct span span = span_of(room, turn, year);
        if (!cover_of(climate, &span).usable)
            return false;
    }
    return true;
}

static bool night(const struct th_setpoints *sp, int hour)
{
    if (sp->setback_start_h <= sp->setback_end_h)
        return hour >= sp->setback_start_h && hour < sp->setback_end_h;
    return hour >= sp->setback_start_h || hour < sp->setback_end_h;
}

static void set_phase(struct th_hour_in *in, const struct th_engine *engine, int turn,
                      const struct span *span, long hour)
{
    const struct th_room *room = engine->room;
    const struct th_schedule *schedule = &engine->schedules[turn];
    struct th_balance *b = &in->balance;
    b->day = NULL;
    b->zone_units = b->drying_kg_s = b->fan_m3_s = 0.0;
    in->heat = true;
    if (hour < span->preheat_hour) {
        in->phase = TH_EMPTY;
        in->set_c = room->fuel.freeze_c + engine->heating.stages[0].on_k;
        in->stage_m3_s = 0.0;
        return;
    }
    const long day = hour < span->placement_hour ? 0 : (hour - span->placement_hour) / 24;
    const struct th_day *today = &schedule->days[day];
    in->set_c = today->set_c;
    in->stage_m3_s = today->stage_m3_s;
    if (hour < span->placement_hour) {
        in->phase = TH_PREHEAT;
        b->fan_m3_s = room->air.floor_m3_s * room->calibration.air_factor;
        if ((double)(hour - span->preheat_hour) < DRYING_HOURS)
            b->drying_kg_s =
                room->turns[turn].wash_kg_m2 * room->shell.floor_m2 / (DRYING_HOURS * TH_S_PER_H);
        return;
    }
    in->phase = TH_GROWING;
    b->day = today;
    b->activity = engine->activity[th_hour_of_day(hour)];
    b->fan_m3_s = today->fan_m3_s;
    b->zone_units = today->zone_on ? schedule->zone_units : 0.0;
    if (night(&room->setpoints, th_hour_of_day(hour)))
        in->set_c -= today->setback_k;
}

/* The month of every hour, without asking the calendar each time. */
struct month_clock {
    long next_month_hour;
    int month; /* 0…11 */
};

static int month_of(struct month_clock *clock, long hour)
{
    if (hour >= clock->next_month_hour) {
        const struct th_date date = th_date_of(th_day_of_hour(hour));
        const int next = date.month % 12 + 1;
        clock->month = date.month - 1;
        clock->next_month_hour = 24 * th_day_number(date.year + (next == 1), next, 1);
    }
    return clock->month;
}

/* Hours of one phase and month are booked once, then added to both. */
struct part {
    struct th_tally tally;
    enum th_phase phase;
    int month;
};

static void close_part(struct part *part, struct th_turn_result *result)
{
    th_tally_add(&result->phase[part->phase], &part->tally, 1.0);
    th_tally_add(&result->month[part->month], &part->tally, 1.0);
    th_tally_clear(&part->tally);
}

static void book(struct part *part, struct th_turn_result *result, int month, long hour,
                 const struct th_hour_in *in, const struct th_hour_out *out)
{
    if (in->phase != part->phase || month != part->month)
        close_part(part, result);
    part->phase = in->phase;
    part->month = month;
    th_accounts_book(&part->tally, hour, in, out);
}

static enum th_code run_hours(struct th_engine *engine, const struct th_climate *climate, int turn,
                              const struct span *span, const struct th_watch *watch,
                              struct th_turn_result *result, struct th_error *err)
{
    struct th_hour_in in = {.balance = {.room = engine->room,
                                        .fabric = &engine->fabric,
                                        .activity = 1.0,
                                        .internal_w = engine->room->shell.internal_w,
                                        .zone_share = engine->zone_share},
                            .heating = &engine->heating};
    struct month_clock clock = {.next_month_hour = span->empty_hour};
    struct part part = {.phase = TH_EMPTY};
    th_tally_clear(&part.tally);
    /* The empty barn has taken the temperature of the outdoor air. */
    in.balance.mass_c = th_climate_at(climate, span->empty_hour)->mean24_c;
    for (long hour = span->empty_hour; hour < span->end_hour; hour++) {
        struct th_hour_out out;
        in.balance.out = th_climate_at(climate, hour);
        set_phase(&in, engine, turn, span, hour);
        const enum th_code code = th_hour_solve(&in, &engine->solvers, &out, err);
        if (code != TH_OK)
            return code;
        book(&part, result, month_of(&clock, hour), hour, &in, &out);
        if (watch)
            watch->hour(watch->context, turn, hour, &in, &out);
        in.balance.mass_c =
            out.room_c + (in.balance.mass_c - out.room_c) * engine->fabric.mass_keep;
    }
    close_part(&part, result);
    return TH_OK;
}

/* Where the room stays above about 40 degC the formula of pig heat leaves no warmth to book. */
static enum th_code check_heat_known(const struct th_room *room, int turn, int year,
                                     const struct th_turn_result *result, struct th_error *err)
{
    const struct th_tally *growing = &result->phase[TH_GROWING];
    if (growing->sum[TH_FROM_PIGS] > 0.0)
        return TH_OK;
    return th_fail(err, TH_ERR_MODEL,
                   "room %s, turn %s, season %d: too hot for the model: the room never falls below "
                   "%.0f degF (%.0f degC), and so hot pigs give off no warmth; is the weather's "
                   "temperature in the unit it is read in?",
                   room->name, room->turns[turn].name, year, th_f_from_c(growing->lowest_c),
                   growing->lowest_c);
}

static enum th_code run_turn(struct th_engine *engine, const struct th_climate *climate, int turn,
                             int year, const struct th_watch *watch, struct th_turn_result *result,
                             struct th_error *err)
{
    const struct span span = span_of(engine->room, turn, year);
    const struct th_schedule *schedule = &engine->schedules[turn];
    result->placement_hour = span.placement_hour;
    result->head_placed = schedule->head_placed;
    result->head_sold = schedule->head_sold;
    th_tally_clear(&result->total);
    for (int i = 0; i < TH_PHASES; i++)
        th_tally_clear(&result->phase[i]);
    for (int i = 0; i < 12; i++)
        th_tally_clear(&result->month[i]);
    result->first_hour = span.empty_hour;
    result->cover = cover_of(climate, &span);
    result->counted = result->cover.usable;
    if (!result->counted)
        return TH_OK;
    const enum th_code code = run_hours(engine, climate, turn, &span, watch, result, err);
    for (int i = 0; i < TH_PHASES; i++)
        th_tally_add(&result->total, &result->phase[i], 1.0);
    return code == TH_OK ? check_heat_known(engine->room, turn, year, result, err) : code;
}

/* The turns of a season in the order of their placement. */
static void order_turns(const struct th_room *room, int year, int order[TH_TURNS_MAX])
{
    for (int turn = 0; turn < room->n_turns; turn++) {
        const long day = placement_day(&room->turns[turn], year);
        int k = turn;
        for (; k > 0 && placement_day(&room->turns[order[k - 1]], year) > day; k--)
            order[k] = order[k - 1];
        order[k] = turn;
    }
}

enum th_code th_season_run(struct th_engine *engine, const struct th_climate *climate, int year,
                           const struct th_watch *watch, struct th_season *season,
                           struct th_error *err)
{
    int order[TH_TURNS_MAX];
    season->year = year;
    season->typical = climate->typical;
    season->counted = true;
    season->n_turns = engine->room->n_turns;
    th_tally_clear(&season->total);
    for (int i = 0; i < 12; i++)
        th_tally_clear(&season->month[i]);
    order_turns(engine->room, year, order);
    for (int k = 0; k < season->n_turns; k++) {
        struct th_turn_result *result = &season->turns[order[k]];
        const enum th_code code = run_turn(engine, climate, order[k], year, watch, result, err);
        if (code != TH_OK)
            return code;
        season->counted &= result->counted;
        th_tally_add(&season->total, &result->total, 1.0);
        for (int i = 0; i < 12; i++)
            th_tally_add(&season->month[i], &result->month[i], 1.0);
    }
    return TH_OK;
}

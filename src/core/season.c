/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/season.h"

#include "accounts.h"
#include "bounds.h"
#include "season_quiet.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"
#include <math.h>

#define DRYING_HOURS 24.0
/* A week: the floor forgets by e in about nine hours. */
#define RUN_IN_HOURS (7L * 24L)

void th_season_range(const struct th_climate *climate, int *first, int *last)
{
    if (climate->typical) {
        *first = *last = TH_TYPICAL_YEAR;
        return;
    }
    const struct th_date a = th_date_of(th_day_of_hour(climate->first_hour));
    const struct th_date b = th_date_of(th_day_of_hour(climate->first_hour + (long)climate->n - 1));
    *first = th_season_of_month(a.year, a.month);
    *last = th_season_of_month(b.year, b.month);
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
    const int own_year = year + (turn->month < TH_SEASON_MONTH);
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

/* The hours from 1 July to 30 June. */
struct window {
    long begin_hour, end_hour;
};

static struct window window_of(int year)
{
    return (struct window){24 * th_season_first_day(year), 24 * th_season_first_day(year + 1)};
}

/* What lies of a turn in the window; a turn placed the year before or after may reach into it. */
static bool cut_to(const struct window *window, const struct span *span, long *first, long *end)
{
    *first = span->empty_hour > window->begin_hour ? span->empty_hour : window->begin_hour;
    *end = span->end_hour < window->end_hour ? span->end_hour : window->end_hour;
    return *first < *end;
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

void th_season_parts(const struct th_room *room, const struct th_climate *climate, int year,
                     struct th_season *season)
{
    const struct window window = window_of(year);
    int order[TH_TURNS_MAX];
    season->n_parts = 0;
    season->counted = season->whole = true;
    for (int placed = year - 1; placed <= year + 1; placed++) {
        order_turns(room, placed, order);
        for (int k = 0; k < room->n_turns; k++) {
            const struct span span = span_of(room, order[k], placed);
            struct th_season_part *part = &season->parts[season->n_parts];
            long first, end;
            if (!cut_to(&window, &span, &first, &end) || season->n_parts == TH_SEASON_PARTS_MAX)
                continue;
            part->turn = order[k];
            part->placed = placed;
            part->cover = th_climate_coverage(climate, first, end - first);
            season->counted &= part->cover.usable;
            season->whole &= part->cover.borrowed == 0;
            season->n_parts++;
        }
    }
}

bool th_season_counted(const struct th_room *room, const struct th_climate *climate, int year)
{
    struct th_season season;
    th_season_parts(room, climate, year, &season);
    return season.counted;
}

static bool night(const struct th_setpoints *sp, int hour)
{
    if (sp->setback_start_h <= sp->setback_end_h)
        return hour >= sp->setback_start_h && hour < sp->setback_end_h;
    return hour >= sp->setback_start_h || hour < sp->setback_end_h;
}

static enum th_phase phase_of(const struct span *span, long hour)
{
    if (hour < span->preheat_hour)
        return TH_EMPTY;
    return hour < span->placement_hour ? TH_PREHEAT : TH_GROWING;
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
    in->phase = phase_of(span, hour);
    if (in->phase == TH_EMPTY) {
        in->set_c = room->fuel.freeze_c + engine->heating.stages[0].on_k;
        in->stage_m3_s = 0.0;
        return;
    }
    const long day = hour < span->placement_hour ? 0 : (hour - span->placement_hour) / 24;
    const struct th_day *today = &schedule->days[day];
    in->set_c = today->set_c;
    in->stage_m3_s = today->stage_m3_s;
    if (in->phase == TH_PREHEAT) {
        b->fan_m3_s = room->air.floor_m3_s * room->calibration.air_factor;
        if ((double)(hour - span->preheat_hour) < DRYING_HOURS)
            b->drying_kg_s =
                room->turns[turn].wash_kg_m2 * room->shell.floor_m2 / (DRYING_HOURS * TH_S_PER_H);
        return;
    }
    const int hour_of_day = th_hour_of_day(hour);
    b->day = today;
    b->activity = engine->activity[hour_of_day];
    b->fan_m3_s = today->fan_m3_s;
    b->zone_units = today->zone_on ? schedule->zone_units : 0.0;
    if (night(&room->setpoints, hour_of_day))
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

/* Where hours are booked; `turn` is NULL for a turn of another season. */
struct books {
    struct th_season *season;
    struct th_turn_result *turn;
    struct window window;
    const struct th_watch *watch;
    const struct th_quiet *known; /* NULL: none */
    size_t next_known;
    struct th_quiet *keep; /* NULL: nobody wants them */
};

/* Of the hours that one solved hour stands for: what the mass keeps of its distance from the room,
 * and what share it takes of the way that the room goes on meanwhile, step by step. */
struct mass_step {
    double keep, take;
};

static struct mass_step mass_step_of(const struct th_engine *engine, int hours)
{
    const double keep_h = engine->fabric.mass_keep;
    struct mass_step step = {.keep = 1.0};
    for (int i = 0; i < hours; i++) {
        const double way = (double)i / hours;
        step.take = way + (step.take - way) * keep_h;
        step.keep *= keep_h;
    }
    return step;
}

/* The mass after a step in which the room went from one temperature towards another. */
static double mass_after_c(const struct mass_step *step, double mass_c, double from_c, double to_c)
{
    return from_c + (mass_c - from_c) * step->keep + (to_c - from_c) * step->take;
}

/* The hours of a turn as they pass. */
struct walk {
    struct th_engine *engine;
    const struct th_climate *climate;
    int turn, every_h;
    struct mass_step step, passed; /* nothing has passed before the first hour */
    const struct span *span;
    struct th_hour_in in;
    struct th_season_state state;
    long first_hour, end_hour;
};

static void lower(long *end, long bound, long hour)
{
    if (bound > hour && bound < *end)
        *end = bound;
}

/* The hours from `hour` on that are booked together: of one phase and month, inside the season or
 * outside, where months begin too. */
static struct th_stretch part_from(const struct walk *walk, const struct window *window, long hour,
                                   long month_end)
{
    const long so_far = hour - walk->first_hour;
    long end = hour + TH_STRETCH_H - so_far % TH_STRETCH_H;
    const long bounds[] = {walk->end_hour,           month_end,
                           walk->span->preheat_hour, walk->span->placement_hour,
                           window->begin_hour,       window->end_hour};
    for (size_t i = 0; i < sizeof bounds / sizeof bounds[0]; i++)
        lower(&end, bounds[i], hour);
    const long times = (end - hour + walk->every_h - 1) / walk->every_h;
    struct th_stretch part = {.turn = walk->turn,
                              .first_hour = hour,
                              .end_hour = hour + times * walk->every_h,
                              .before = walk->state,
                              .over_set_k = INFINITY};
    th_tally_clear(&part.tally);
    return part;
}

static void note_hour(struct th_stretch *part, const struct th_hour_in *in,
                      const struct th_hour_out *out)
{
    const bool heated = out->heat_wanted || in->phase == TH_EMPTY;
    part->over_set_k = th_lesser(part->over_set_k, heated ? -INFINITY : out->room_c - in->set_c);
}

static enum th_code run_part(struct walk *walk, struct th_stretch *part,
                             const struct th_watch *watch, struct th_error *err)
{
    struct th_engine *const engine = walk->engine;
    struct th_season_state *const state = &walk->state;
    struct th_hour_in *const in = &walk->in;
    engine->solvers.surplus = state->surplus;
    for (long hour = part->first_hour; hour < part->end_hour; hour += walk->every_h) {
        struct th_hour_out out;
        in->balance.out = th_climate_at(walk->climate, hour);
        in->balance.mass_c =
            mass_after_c(&walk->passed, state->mass_c, state->room_c, state->room_c);
        set_phase(in, engine, walk->turn, walk->span, hour);
        const enum th_code code = th_hour_solve(in, &engine->solvers, &out, err);
        if (code != TH_OK)
            return code;
        th_accounts_book(&part->tally, hour, in, &out);
        note_hour(part, in, &out);
        if (watch)
            watch->hour(watch->context, walk->turn, hour, in, &out);
        state->mass_c = mass_after_c(&walk->passed, state->mass_c, state->room_c, out.room_c);
        state->room_c = out.room_c;
        walk->passed = walk->step;
    }
    state->surplus = engine->solvers.surplus;
    part->after = *state;
    return TH_OK;
}

static void book_part(const struct books *books, const struct th_stretch *part,
                      const struct walk *walk, int month, bool inside)
{
    const double times = walk->every_h; /* each hour stands for so many */
    if (books->turn) {
        th_tally_add(&books->turn->phase[phase_of(walk->span, part->first_hour)], &part->tally,
                     times);
        th_tally_add(&books->turn->total, &part->tally, times);
    }
    if (inside) {
        th_tally_add(&books->season->month[month], &part->tally, times);
        th_tally_add(&books->season->total, &part->tally, times);
    }
}

/* The hours of a turn from `first` to before `end`. The floor begins at the temperature of the
 * outdoor air, which an empty barn has taken. */
static enum th_code run_hours(struct th_engine *engine, const struct th_climate *climate, int turn,
                              const struct span *span, long first, long end, struct books *books,
                              struct th_error *err)
{
    const double outdoors_c = th_climate_at(climate, first)->mean24_c;
    struct walk walk = {.engine = engine,
                        .climate = climate,
                        .turn = turn,
                        .every_h =
                            engine->room->solve_every_h > 1 ? engine->room->solve_every_h : 1,
                        .passed = {.keep = 1.0},
                        .span = span,
                        .in = {.balance = {.room = engine->room,
                                           .fabric = &engine->fabric,
                                           .activity = 1.0,
                                           .internal_w = engine->room->shell.internal_w,
                                           .zone_share = engine->zone_share},
                               .heating = &engine->heating},
                        .state = {.mass_c = outdoors_c, .room_c = outdoors_c},
                        .first_hour = first,
                        .end_hour = end};
    walk.step = mass_step_of(engine, walk.every_h);
    struct month_clock clock = {.next_month_hour = first};
    enum th_code code = TH_OK;
    for (long hour = first; hour < end && code == TH_OK;) {
        const int month = month_of(&clock, hour);
        const bool inside = hour >= books->window.begin_hour && hour < books->window.end_hour;
        struct th_stretch part = part_from(&walk, &books->window, hour, clock.next_month_hour);
        const struct th_stretch *const known =
            th_quiet_find(books->known, &books->next_known, &part, &engine->heating);
        if (known) {
            walk.state = known->after;
            walk.passed = walk.step;
        } else {
            code = run_part(&walk, &part, inside ? books->watch : NULL, err);
            if (code == TH_OK && books->keep && part.over_set_k > -INFINITY)
                code = th_quiet_add(books->keep, &part, err);
        }
        book_part(books, known ? known : &part, &walk, month, inside);
        hour = part.end_hour;
    }
    return code;
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

/* A turn of the season whole, where the weather covers it, else what lies in the season. */
static enum th_code run_own(struct th_engine *engine, const struct th_climate *climate,
                            const struct th_season_part *part, struct books *books,
                            struct th_error *err)
{
    const struct span span = span_of(engine->room, part->turn, part->placed);
    const bool whole = books->turn->counted;
    const long first = whole ? span.empty_hour : part->cover.first_hour;
    const long end = whole ? span.end_hour : part->cover.first_hour + part->cover.hours;
    const enum th_code code = run_hours(engine, climate, part->turn, &span, first, end, books, err);
    return code == TH_OK && whole
               ? check_heat_known(engine->room, part->turn, part->placed, books->turn, err)
               : code;
}

/* What another season's turn burns in this one. The floor is run in, where the hours are there. */
static enum th_code run_reach(struct th_engine *engine, const struct th_climate *climate,
                              const struct th_season_part *part, struct books *books,
                              struct th_error *err)
{
    const struct span span = span_of(engine->room, part->turn, part->placed);
    const long begin = part->cover.first_hour, end = begin + part->cover.hours;
    long first = begin - RUN_IN_HOURS;
    first = first < span.empty_hour ? span.empty_hour : first;
    if (th_climate_coverage(climate, first, begin - first).missing > 0)
        first = begin;
    return run_hours(engine, climate, part->turn, &span, first, end, books, err);
}

static void begin_turns(const struct th_engine *engine, const struct th_climate *climate,
                        struct th_season *season)
{
    for (int turn = 0; turn < season->n_turns; turn++) {
        const struct span span = span_of(engine->room, turn, season->year);
        struct th_turn_result *result = &season->turns[turn];
        result->placement_hour = span.placement_hour;
        result->head_placed = engine->schedules[turn].head_placed;
        result->head_sold = engine->schedules[turn].head_sold;
        result->first_hour = span.empty_hour;
        result->cover =
            th_climate_coverage(climate, span.empty_hour, span.end_hour - span.empty_hour);
        result->counted = result->cover.usable;
        th_tally_clear(&result->total);
        for (int i = 0; i < TH_PHASES; i++)
            th_tally_clear(&result->phase[i]);
    }
}

enum th_code th_season_run_beside(struct th_engine *engine, const struct th_climate *climate,
                                  int year, const struct th_watch *watch,
                                  const struct th_quiet *known, struct th_quiet *keep,
                                  struct th_season *season, struct th_error *err)
{
    enum th_code code = TH_OK;
    struct books books = {.season = season,
                          .window = window_of(year),
                          .watch = watch,
                          .known = th_quiet_of(known, &engine->heating),
                          .keep = keep};
    if (keep)
        th_quiet_begin(keep, &engine->heating);
    season->year = year;
    season->typical = climate->typical;
    season->n_turns = engine->room->n_turns;
    th_tally_clear(&season->total);
    for (int i = 0; i < 12; i++)
        th_tally_clear(&season->month[i]);
    begin_turns(engine, climate, season);
    th_season_parts(engine->room, climate, year, season);
    for (int i = 0; i < season->n_parts && code == TH_OK; i++) {
        const struct th_season_part *part = &season->parts[i];
        if (!part->cover.usable)
            continue;
        books.turn = part->placed == year ? &season->turns[part->turn] : NULL;
        code = books.turn ? run_own(engine, climate, part, &books, err)
                          : run_reach(engine, climate, part, &books, err);
    }
    if (!season->whole)
        th_tally_forget_extremes(&season->total);
    return code;
}

enum th_code th_season_run(struct th_engine *engine, const struct th_climate *climate, int year,
                           const struct th_watch *watch, struct th_season *season,
                           struct th_error *err)
{
    return th_season_run_beside(engine, climate, year, watch, NULL, NULL, season, err);
}

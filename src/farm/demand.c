/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/demand.h"

#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdlib.h>

/* Outdoors where the weather has ended: no vapour trouble is looked for there. */
#define MILD_C 20.0

/* Gas of the barns by hour of the climate. */
struct hourly {
    const struct th_climate *climate;
    double *gas_w;
};

static long slot_of(const struct th_climate *climate, long hour_number)
{
    const long n = (long)climate->n;
    const long i = hour_number - climate->first_hour;
    if (climate->typical)
        return (i % n + n) % n;
    return i >= 0 && i < n ? i : -1;
}

/* Gas of one room by hour of one season. */
struct season_gas {
    long first_hour;
    double gas_w[TH_FUEL_YEAR_DAYS * 24];
};

static void add_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct season_gas *season = context;
    const long i = hour_number - season->first_hour;
    (void)turn;
    (void)in;
    if (i >= 0 && i < TH_FUEL_YEAR_DAYS * 24)
        season->gas_w[i] += out->gas_w;
}

static enum th_code check_same(const struct th_case *cases, int n, struct th_error *err)
{
    for (int i = 0; i < n; i++) {
        if (cases[i].room->fuel.gas != TH_PROPANE)
            return th_fail(err, TH_ERR_INPUT, "room %s burns natural gas; a plan is for propane",
                           cases[i].room->name);
        if (cases[i].climate != cases[0].climate)
            return th_fail(
                err, TH_ERR_INPUT,
                "rooms %s and %s have other weather or elevations; a plan needs the same",
                cases[0].room->name, cases[i].room->name);
    }
    return TH_OK;
}

static const struct th_season *season_of(const struct th_winters *winters, int year)
{
    for (int i = 0; i < winters->n; i++)
        if (winters->seasons[i].year == year)
            return &winters->seasons[i];
    return NULL;
}

static void add_season(struct hourly *h, const struct season_gas *season, double copies)
{
    for (long i = 0; i < TH_FUEL_YEAR_DAYS * 24; i++) {
        const long slot = slot_of(h->climate, season->first_hour + i);
        if (slot >= 0)
            h->gas_w[slot] += copies * season->gas_w[i];
    }
}

/* Keeps what each season burned. */
static enum th_code note_room(struct th_demand *demand, struct th_demand_room *room,
                              const struct th_winters *winters, struct th_error *err)
{
    room->first_year = winters->seasons[0].year;
    room->season_j = malloc((size_t)winters->n * sizeof *room->season_j);
    if (!room->season_j)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    room->n = winters->n;
    th_tally_clear(&room->mean);
    for (int i = 0; i < winters->n; i++) {
        const struct th_season *season = &winters->seasons[i];
        room->season_j[i] = season->counted ? th_tally_gas_j(&season->total) : NAN;
        th_tally_add(&demand->books, &season->total, 1.0);
        if (season->counted)
            th_tally_add(&room->mean, &season->total, 1.0 / winters->n_counted);
    }
    return TH_OK;
}

double th_demand_season_j(const struct th_demand_room *room, int year)
{
    const int i = year - room->first_year;
    return i >= 0 && i < room->n ? room->season_j[i] : NAN;
}

static void note_years(struct th_demand *demand, const struct th_winters *winters)
{
    for (int y = 0; y < demand->n; y++) {
        struct th_fuel_year *year = &demand->years[y];
        const struct th_season *season = season_of(winters, year->year);
        year->usable = year->usable && season && season->counted;
    }
}

/* Every season the climate touches: all of them are asked for by year later. */
static enum th_code run_room(struct th_runs *runs, struct th_demand *demand,
                             const struct th_case *one, struct hourly *h, struct th_error *err)
{
    struct th_winters winters = {0};
    int first, last;
    th_season_range(one->climate, &first, &last);
    const int n = last - first + 1;
    struct season_gas *seasons = calloc((size_t)n, sizeof *seasons);
    if (!seasons)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < n; i++)
        seasons[i].first_hour = 24 * th_season_first_day(first + i);
    const struct th_watch_seasons watch = {.watch = {add_hour, seasons},
                                           .stride = sizeof *seasons,
                                           .seen_at = offsetof(struct season_gas, gas_w),
                                           .seen = sizeof seasons->gas_w};
    const int request = th_runs_add_watched(runs, one->room, one->climate, first, last, &watch);
    enum th_code code = th_runs_do(runs, one->room->name, err);
    if (code == TH_OK)
        code = th_runs_winters(runs, request, &winters, err);
    for (int i = 0; i < n && code == TH_OK; i++)
        add_season(h, &seasons[i], one->room->copies);
    if (code == TH_OK)
        code = note_room(demand, &demand->rooms[demand->n_rooms++], &winters, err);
    if (code == TH_OK)
        note_years(demand, &winters);
    th_winters_finish(&winters);
    free(seasons);
    return code;
}

static enum th_code make_years(struct th_demand *demand, const struct th_case *first,
                               struct th_error *err)
{
    int from, to;
    th_season_range(first->climate, &from, &to);
    if (!first->climate->typical) {
        from = first->first_year > from ? first->first_year : from;
        to = first->last_year < to ? first->last_year : to;
    }
    if (to < from)
        return th_fail(err, TH_ERR_COVERAGE, "the weather touches none of the seasons asked for");
    demand->years = calloc((size_t)(to - from + 1), sizeof *demand->years);
    if (!demand->years)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int year = from; year <= to; year++) {
        struct th_fuel_year *y = &demand->years[demand->n++];
        y->year = year;
        y->usable = true;
        y->first_day = th_season_first_day(year);
        y->n_days = (size_t)(th_season_first_day(year + 1) - y->first_day);
        y->day_gal = calloc(TH_FUEL_YEAR_DAYS, sizeof(double));
        y->hour_w = calloc(24 * TH_FUEL_YEAR_DAYS, sizeof(double));
        y->hour_out_c = calloc(24 * TH_FUEL_YEAR_DAYS, sizeof(double));
        if (!y->day_gal || !y->hour_w || !y->hour_out_c)
            return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    return TH_OK;
}

static void fill_day(struct th_fuel_year *year, size_t day, const struct hourly *h,
                     const struct th_use *uses, int n_uses, double hhv_j)
{
    const long number = year->first_day + (long)day;
    double use_gal = 0.0, use_w = 0.0, barn_j = 0.0;
    for (int i = 0; i < n_uses; i++) {
        use_gal += th_use_day_gal(&uses[i], number);
        use_w += th_use_day_w(&uses[i], number, hhv_j);
    }
    for (int hour = 0; hour < 24; hour++) {
        const long slot = slot_of(h->climate, 24 * number + hour);
        const struct th_climate_hour *out = th_climate_at(h->climate, 24 * number + hour);
        const double barn_w = slot >= 0 ? h->gas_w[slot] : 0.0;
        barn_j += barn_w * TH_S_PER_H;
        year->hour_w[24 * day + (size_t)hour] = barn_w + use_w;
        year->hour_out_c[24 * day + (size_t)hour] = out ? out->out_c : MILD_C;
    }
    year->day_gal[day] = barn_j / hhv_j + use_gal;
    year->barns_gal += barn_j / hhv_j;
    year->uses_gal += use_gal;
    year->month_gal[th_date_of(number).month - 1] += year->day_gal[day];
}

static enum th_code fill_years(struct th_demand *demand, const struct hourly *h,
                               const struct th_use *uses, int n_uses, double hhv_j,
                               struct th_error *err)
{
    for (int y = 0; y < demand->n; y++) {
        struct th_fuel_year *year = &demand->years[y];
        for (size_t day = 0; year->usable && day < year->n_days; day++)
            fill_day(year, day, h, uses, n_uses, hhv_j);
        demand->n_usable += year->usable;
    }
    if (demand->n_usable == 0)
        return th_fail(err, TH_ERR_COVERAGE,
                       "no fuel year has all turns of all rooms covered by the weather; turnheat "
                       "budget says what is missing");
    return TH_OK;
}

enum th_code th_demand_run(struct th_runs *runs, const struct th_case *cases, int n,
                           const struct th_use *uses, int n_uses, struct th_demand *demand,
                           struct th_error *err)
{
    struct hourly h = {.climate = cases[0].climate};
    *demand = (struct th_demand){.typical = h.climate->typical};
    th_tally_clear(&demand->books);
    enum th_code code = check_same(cases, n, err);
    if (code == TH_OK)
        code = make_years(demand, &cases[0], err);
    if (code == TH_OK) {
        h.gas_w = calloc(h.climate->n, sizeof *h.gas_w);
        demand->rooms = calloc((size_t)n, sizeof *demand->rooms);
        if (!h.gas_w || !demand->rooms)
            code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    for (int i = 0; i < n && code == TH_OK; i++)
        code = run_room(runs, demand, &cases[i], &h, err);
    if (code == TH_OK)
        code = fill_years(demand, &h, uses, n_uses, cases[0].room->fuel.hhv_j, err);
    free(h.gas_w);
    if (code != TH_OK)
        th_demand_finish(demand);
    return code;
}

long th_fuel_year_place(const struct th_fuel_year *year, long day)
{
    const struct th_date d = th_date_of(day);
    const int own = year->year + (d.month < TH_SEASON_MONTH);
    const int last = th_date_valid(own, d.month, d.day) ? d.day : 28;
    return th_day_number(own, d.month, last) - year->first_day;
}

void th_demand_finish(struct th_demand *demand)
{
    if (!demand)
        return;
    for (int y = 0; y < demand->n; y++) {
        free(demand->years[y].day_gal);
        free(demand->years[y].hour_w);
        free(demand->years[y].hour_out_c);
    }
    for (int i = 0; i < demand->n_rooms; i++)
        free(demand->rooms[i].season_j);
    free(demand->rooms);
    free(demand->years);
    *demand = (struct th_demand){0};
}

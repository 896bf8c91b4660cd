/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farm_demand.h"

#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <stdlib.h>

#define JULY 7
/* Outdoors where the weather has ended: no vapour trouble is looked for there. */
#define MILD_C 20.0

/* Gas of the barns by hour of the climate. */
struct hourly {
    const struct th_climate *climate;
    double *gas_w;
    double copies;
};

static long slot_of(const struct th_climate *climate, long hour_number)
{
    const long n = (long)climate->n;
    const long i = hour_number - climate->first_hour;
    if (climate->typical)
        return (i % n + n) % n;
    return i >= 0 && i < n ? i : -1;
}

static void add_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct hourly *h = context;
    const long slot = slot_of(h->climate, hour_number);
    (void)turn;
    (void)in;
    if (slot >= 0)
        h->gas_w[slot] += h->copies * out->gas_w;
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

/* Turns placed before 1 July that reach into the year must be covered too. */
static bool tails_covered(const struct th_winters *winters, const struct th_room *room, int year)
{
    const struct th_season *before = season_of(winters, year - 1);
    const long july_hour = 24 * th_day_number(year, JULY, 1);
    for (int i = 0; i < room->n_turns; i++) {
        const int own = year - 1 + (room->turns[i].month < JULY);
        const long end_hour = 24 * (th_day_number(own, room->turns[i].month, room->turns[i].day) +
                                    room->turns[i].days);
        if (end_hour > july_hour && (!before || !before->turns[i].counted))
            return false;
    }
    return true;
}

static enum th_code run_rooms(struct th_farm_demand *demand, const struct th_case *cases, int n,
                              struct hourly h, struct th_error *err)
{
    for (int i = 0; i < n; i++) {
        h.copies = cases[i].room->copies;
        const struct th_watch watch = {.hour = add_hour, .context = &h};
        struct th_winters winters;
        /* Every season is run, since a turn may reach into the year that was asked for. */
        const enum th_code code =
            th_winters_run(&winters, cases[i].room, cases[i].climate, -99999, 99999, &watch, err);
        if (code != TH_OK)
            return code;
        for (int y = 0; y < demand->n; y++) {
            struct th_fuel_year *year = &demand->years[y];
            const struct th_season *season = season_of(&winters, year->year);
            const bool typical = cases[i].climate->typical;
            year->usable = year->usable && season && season->counted &&
                           (typical || tails_covered(&winters, cases[i].room, year->year));
        }
        th_winters_finish(&winters);
    }
    return TH_OK;
}

static enum th_code make_years(struct th_farm_demand *demand, const struct th_case *first,
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
        y->first_day = th_day_number(year, JULY, 1);
        y->n_days = (size_t)(th_day_number(year + 1, JULY, 1) - y->first_day);
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

enum th_code th_farm_demand_run(struct th_farm_demand *demand, const struct th_case *cases, int n,
                                const struct th_use *uses, int n_uses, struct th_error *err)
{
    *demand = (struct th_farm_demand){0};
    enum th_code code = check_same(cases, n, err);
    if (code == TH_OK)
        code = make_years(demand, &cases[0], err);
    double *gas_w = calloc(cases[0].climate->n, sizeof *gas_w);
    if (code == TH_OK && !gas_w)
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    const struct hourly h = {cases[0].climate, gas_w, 1.0};
    if (code == TH_OK)
        code = run_rooms(demand, cases, n, h, err);
    for (int y = 0; y < demand->n && code == TH_OK; y++) {
        struct th_fuel_year *year = &demand->years[y];
        for (size_t day = 0; year->usable && day < year->n_days; day++)
            fill_day(year, day, &h, uses, n_uses, cases[0].room->fuel.hhv_j);
        demand->n_usable += year->usable;
    }
    if (code == TH_OK && demand->n_usable == 0)
        code = th_fail(err, TH_ERR_COVERAGE,
                       "no fuel year has all turns of all rooms covered by the weather; turnheat "
                       "budget says what is missing");
    free(gas_w);
    if (code != TH_OK)
        th_farm_demand_finish(demand);
    return code;
}

void th_farm_demand_finish(struct th_farm_demand *demand)
{
    if (!demand)
        return;
    for (int y = 0; y < demand->n; y++) {
        free(demand->years[y].day_gal);
        free(demand->years[y].hour_w);
        free(demand->years[y].hour_out_c);
    }
    free(demand->years);
    *demand = (struct th_farm_demand){0};
}

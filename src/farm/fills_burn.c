/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rooms run over the days between fills. */
#include "fills_parts.h"

#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <stdlib.h>

struct th_fill_days th_fill_days_of(const struct th_fills_in *in)
{
    const long first_day = in->fills[0].day;
    return (struct th_fill_days){.first_day = first_day,
                                 .n = (size_t)(in->fills[in->n_fills - 1].day - first_day)};
}

/* Of one room in one season. */
struct season_days {
    const struct th_fill_days *days;
    double *gal;  /* by day, or by turn and day */
    double gal_j; /* all copies */
};

static void add_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct season_days *d = context;
    const long day = th_day_of_hour(hour_number) - d->days->first_day;
    (void)in;
    if (day >= 0 && (size_t)day < d->days->n)
        d->gal[(d->days->by_turn ? (size_t)turn * d->days->n : 0) + (size_t)day] +=
            out->gas_w * TH_S_PER_H * d->gal_j;
}

static int season_of_day(long day)
{
    const struct th_date date = th_date_of(day);
    return th_season_of_month(date.year, date.month);
}

/* All of the turns that lies in the days must have been simulated. */
static enum th_code days_covered(const struct th_case *one, const struct th_climate *climate,
                                 const struct th_fill_days *d, struct th_error *err)
{
    const int last_year = season_of_day(d->first_day + (long)d->n - 1);
    for (int year = season_of_day(d->first_day); year <= last_year; year++) {
        struct th_season season;
        th_season_parts(one->room, climate, year, &season);
        for (int p = 0; p < season.n_parts; p++) {
            const struct th_span_cover *cover = &season.parts[p].cover;
            const long first = th_day_of_hour(cover->first_hour);
            const long last = th_day_of_hour(cover->first_hour + cover->hours - 1);
            if (!cover->usable && last >= d->first_day && first < d->first_day + (long)d->n)
                return th_climate_require(climate, one->weather, cover->first_hour, cover->hours,
                                          err);
        }
    }
    return TH_OK;
}

/* Variants of one room over the seasons that the days touch. */
struct burning {
    struct th_runs runs;
    int first_year, last_year;
    size_t n_seasons;            /* of one room, at most */
    size_t n_values;             /* of one season */
    int *requests;               /* by variant */
    struct season_days *seasons; /* by variant, then by season */
    double *gal;                 /* of all of them */
};

static enum th_code burning_init(struct burning *b, const struct th_fills_in *in,
                                 const struct th_room *room, int n_rooms,
                                 const struct th_fill_days *d, struct th_error *err)
{
    *b = (struct burning){.first_year = season_of_day(d->first_day),
                          .last_year = season_of_day(d->first_day + (long)d->n - 1),
                          .n_values = d->n * (d->by_turn ? (size_t)room->n_turns : 1)};
    th_runs_init(&b->runs, in->runs->jobs, &in->runs->onlooker);
    b->n_seasons = (size_t)(b->last_year - b->first_year + 1);
    b->requests = calloc((size_t)n_rooms, sizeof *b->requests);
    b->seasons = calloc((size_t)n_rooms * b->n_seasons, sizeof *b->seasons);
    b->gal = calloc((size_t)n_rooms * b->n_seasons * b->n_values + 1, sizeof *b->gal);
    if (!b->requests || !b->seasons || !b->gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    return TH_OK;
}

static void burning_finish(struct burning *b)
{
    th_runs_finish(&b->runs);
    free(b->requests);
    free(b->seasons);
    free(b->gal);
}

static void ask_room(struct burning *b, const struct th_room *room,
                     const struct th_climate *climate, const struct th_fill_days *days, int i)
{
    struct season_days *const seasons = b->seasons + (size_t)i * b->n_seasons;
    const struct th_watch_seasons watch = {.watch = {.hour = add_hour, .context = seasons},
                                           .stride = sizeof *seasons};
    for (size_t s = 0; s < b->n_seasons; s++)
        seasons[s] = (struct season_days){
            .days = days,
            .gal = b->gal + ((size_t)i * b->n_seasons + s) * b->n_values,
            .gal_j = room->copies / room->fuel.hhv_j,
        };
    b->requests[i] =
        th_runs_add_watched(&b->runs, room, climate, b->first_year, b->last_year, &watch);
}

/* What variant `i` burned, added to `gal`; its seasons to `books`. */
static enum th_code read_room(const struct burning *b, int i, double *gal, struct th_tally *books,
                              struct th_error *err)
{
    struct th_winters winters;
    const enum th_code code = th_runs_winters(&b->runs, b->requests[i], &winters, err);
    if (code != TH_OK)
        return code;
    for (int s = 0; s < winters.n; s++) {
        const double *const season = b->seasons[(size_t)i * b->n_seasons + (size_t)s].gal;
        if (books)
            th_tally_add(books, &winters.seasons[s].total, 1.0);
        for (size_t v = 0; v < b->n_values; v++)
            gal[v] += season[v];
    }
    th_winters_finish(&winters);
    return TH_OK;
}

enum th_code th_fill_burn(const struct th_fills_in *in, const struct th_case *one,
                          const struct th_climate *climate, const struct th_room *rooms,
                          int n_rooms, const struct th_fill_days *days, double *gal,
                          struct th_tally *books, struct th_error *err)
{
    struct burning b;
    enum th_code code = burning_init(&b, in, rooms, n_rooms, days, err);
    for (int i = 0; i < n_rooms && code == TH_OK; i++)
        ask_room(&b, &rooms[i], climate, days, i);
    if (code == TH_OK)
        code = th_runs_do(&b.runs, "the rooms between fills", err);
    for (int i = 0; i < n_rooms && code == TH_OK; i++)
        code = read_room(&b, i, gal + (size_t)i * b.n_values, books, err);
    if (code == TH_OK)
        code = days_covered(one, climate, days, err);
    burning_finish(&b);
    return code;
}

void th_fill_stretches(const struct th_fills_in *in, const double *day_gal, double *gal)
{
    for (size_t k = 0; k + 1 < in->n_fills; k++) {
        gal[k] = 0.0;
        for (long day = in->fills[k].day; day < in->fills[k + 1].day; day++)
            gal[k] += day_gal[day - in->fills[0].day];
    }
}

double th_fill_uses_gal(const struct th_fills_in *in, long day)
{
    double gal = 0.0;
    for (int i = 0; i < in->n_uses; i++)
        gal += th_use_day_gal(&in->uses[i], day);
    return gal;
}

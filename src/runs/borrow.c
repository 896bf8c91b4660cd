/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/borrow.h"

#include "turnheat/calendar.h"
#include "turnheat/season.h"
#include "turnheat/units.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

/* A season that misses hours. */
struct holes {
    const struct th_climate *climate;
    const struct th_room *const *rooms;
    int n_rooms;
    int year;
    long hours, first_hour, last_hour;
};

/* False when the rooms find it covered already, or more was filled than counts. */
static bool find_holes(struct holes *holes, struct th_season *season)
{
    holes->first_hour = LONG_MAX;
    holes->last_hour = LONG_MIN;
    for (int r = 0; r < holes->n_rooms; r++) {
        th_season_parts(holes->rooms[r], holes->climate, holes->year, season);
        for (int i = 0; i < season->n_parts; i++) {
            const struct th_span_cover *cover = &season->parts[i].cover;
            if (cover->missing == 0 && !cover->usable)
                return false;
            if (cover->missing == 0)
                continue;
            holes->first_hour =
                cover->first_missing < holes->first_hour ? cover->first_missing : holes->first_hour;
            holes->last_hour =
                cover->last_missing > holes->last_hour ? cover->last_missing : holes->last_hour;
        }
    }
    if (holes->first_hour > holes->last_hour)
        return false;
    const long span_hours = holes->last_hour - holes->first_hour + 1;
    holes->hours = th_climate_coverage(holes->climate, holes->first_hour, span_hours).missing;
    return true;
}

/* The weather around the season with the holes filled from another year, and whether that leaves
 * none. */
static enum th_code fill_from(const struct holes *holes, int donor, struct th_climate *filled,
                              bool *covered, struct th_error *err)
{
    enum th_code code =
        th_climate_slice(filled, holes->climate, 24 * th_season_first_day(holes->year - 1),
                         24 * th_season_first_day(holes->year + 2), err);
    if (code == TH_OK)
        code = th_climate_borrow(filled, holes->climate, holes->first_hour, holes->last_hour + 1,
                                 holes->year - donor, err);
    *covered = code == TH_OK;
    for (int r = 0; r < holes->n_rooms && *covered; r++)
        *covered = th_season_counted(holes->rooms[r], filled, holes->year);
    if (code != TH_OK)
        th_climate_finish(filled);
    return code;
}

/* Gas of a season, and of the hours that are borrowed. */
struct burn {
    double all_j, borrowed_j;
};

static void add_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct burn *burn = context;
    const double gas_j = out->gas_w * TH_S_PER_H;
    (void)turn;
    (void)hour_number;
    burn->all_j += gas_j;
    if (in->balance.out->state == TH_HOUR_BORROWED)
        burn->borrowed_j += gas_j;
}

static enum th_code burn_season(const struct th_room *room, const struct th_climate *climate,
                                int year, struct burn *burn, struct th_error *err)
{
    const struct th_watch watch = {.hour = add_hour, .context = burn};
    struct th_engine engine;
    struct th_season *season = malloc(sizeof *season);
    *burn = (struct burn){0};
    if (!season)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_engine_init(&engine, room, err);
    if (code == TH_OK) {
        code = th_season_run(&engine, climate, year, &watch, season, err);
        th_engine_finish(&engine);
    }
    free(season);
    return code;
}

/* What is known so far of the share of one room, over the years that can lend. */
struct share {
    double sum_j; /* of what was borrowed */
    double own_j; /* of the season without it */
};

/* The mean of what was borrowed over all lenders is no less than its sum so far over their number.
 */
static double least_share(const struct share *share, int n_lenders)
{
    const double mean_j = share->sum_j / n_lenders;
    return mean_j > 0.0 ? mean_j / (share->own_j + mean_j) : 0.0;
}

/* Runs the rooms with the hours of one lender; `worst` gets the largest share so far. */
static enum th_code try_lender(const struct holes *holes, int lender, int n_lenders,
                               struct share *shares, double *worst, struct th_error *err)
{
    struct th_climate filled;
    bool covered;
    enum th_code code = fill_from(holes, lender, &filled, &covered, err);
    if (code != TH_OK)
        return code;
    for (int r = 0; r < holes->n_rooms && code == TH_OK; r++) {
        struct burn burn;
        code = burn_season(holes->rooms[r], &filled, holes->year, &burn, err);
        shares[r].sum_j += burn.borrowed_j;
        shares[r].own_j = burn.all_j - burn.borrowed_j;
        *worst = fmax(*worst, least_share(&shares[r], n_lenders));
    }
    th_climate_finish(&filled);
    return code;
}

/* The years that can lend, the nearest first. */
static enum th_code find_lenders(const struct holes *holes, int first, int last, int *lenders,
                                 int *n, struct th_error *err)
{
    *n = 0;
    for (int distance = 1; distance <= last - first; distance++)
        for (int sign = -1; sign <= 1; sign += 2) {
            const int year = holes->year + sign * distance;
            struct th_climate filled;
            bool covered;
            if (year < first || year > last || *n == TH_BORROWED_MAX)
                continue;
            const enum th_code code = fill_from(holes, year, &filled, &covered, err);
            if (code != TH_OK)
                return code;
            th_climate_finish(&filled);
            if (covered)
                lenders[(*n)++] = year;
        }
    return TH_OK;
}

/* Borrows for one season if that may be; `entry->hours` stays 0 otherwise. */
static enum th_code mend_season(struct th_climate *climate, const struct holes *holes, int first,
                                int last, struct share *shares, struct th_borrowed *entry,
                                struct th_error *err)
{
    int lenders[TH_BORROWED_MAX], n;
    double worst = 0.0;
    enum th_code code = find_lenders(holes, first, last, lenders, &n, err);
    for (int i = 0; i < n && worst <= TH_BORROW_SHARE_MAX && code == TH_OK; i++)
        code = try_lender(holes, lenders[i], n, shares, &worst, err);
    if (code != TH_OK || n == 0 || worst > TH_BORROW_SHARE_MAX)
        return code;
    *entry = (struct th_borrowed){.year = holes->year,
                                  .from_year = lenders[0],
                                  .hours = holes->hours,
                                  .first_hour = holes->first_hour,
                                  .last_hour = holes->last_hour,
                                  .share = worst};
    return th_climate_borrow(climate, climate, holes->first_hour, holes->last_hour + 1,
                             holes->year - lenders[0], err);
}

enum th_code th_borrow_run(struct th_climate *climate, const struct th_room *const *rooms,
                           int n_rooms, struct th_borrowed list[TH_BORROWED_MAX], int *n,
                           struct th_error *err)
{
    enum th_code code = TH_OK;
    int first, last;
    *n = 0;
    if (climate->typical || n_rooms == 0)
        return TH_OK;
    th_season_range(climate, &first, &last);
    struct th_season *season = malloc(sizeof *season);
    if (!season)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int year = first; year <= last && *n < TH_BORROWED_MAX && code == TH_OK; year++) {
        struct holes holes = {climate, rooms, n_rooms, year, 0, 0, 0};
        struct share *shares = calloc((size_t)n_rooms, sizeof *shares);
        list[*n].hours = 0;
        if (!shares)
            code = th_fail(err, TH_ERR_MEMORY, "out of memory");
        else if (find_holes(&holes, season))
            code = mend_season(climate, &holes, first, last, shares, &list[*n], err);
        *n += code == TH_OK && list[*n].hours > 0;
        free(shares);
    }
    free(season);
    return code;
}

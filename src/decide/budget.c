/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/budget.h"

#include "turnheat/few.h"
#include "turnheat/variant.h"
#include <math.h>
#include <stdlib.h>

/* Hours of a season. */
#define HOURS_MAX (366 * 24)

static void see_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct th_budget *budget = context;
    const double *t = out->terms;
    const struct th_day *day = in->balance.day;
    (void)turn;
    if (budget->n_hours == HOURS_MAX)
        return;
    double lost_w = 0.0;
    for (int i = TH_TERM_SURFACE; i < TH_TERM_MASS; i++)
        lost_w += t[i];
    budget->hours[budget->n_hours++] =
        (struct th_budget_hour){.hour_number = hour_number,
                                .out_c = in->balance.out->out_c,
                                .room_low_c = out->low_c,
                                .room_high_c = out->high_c,
                                .feel_c = out->feel_c,
                                .set_c = in->set_c,
                                .comfort_c = day ? day->comfort_c : NAN,
                                .gas_w = out->gas_w,
                                .pigs_w = t[TH_TERM_PIGS],
                                .heaters_w = out->heating.heat_w + t[TH_TERM_ZONE],
                                .zone_w = t[TH_TERM_ZONE],
                                .lost_w = lost_w};
}

static int ask_all(struct th_runs *runs, const struct th_case *one, const struct th_room *room)
{
    return th_runs_add(runs, room, one->climate, one->first_year, one->last_year);
}

/* Whether so many winters are asked for that what every fifth hour misses evens out. */
static bool many_winters(const struct th_case *one)
{
    int first, last;
    th_season_range(one->climate, &first, &last);
    first = one->first_year > first ? one->first_year : first;
    last = one->last_year < last ? one->last_year : last;
    return last - first >= TH_FEW_WINTERS;
}

/* Every season as the room is, and roughly so and with the air held: that costs in no winter what
 * it does in another. */
static enum th_code run_winters(struct th_budget *budget, struct th_runs *runs,
                                struct th_error *err)
{
    const struct th_case *one = budget->one;
    struct th_room held = *one->room;
    double now_j = 0.0, held_j = 0.0;
    const int as_it_is = ask_all(runs, one, &held);
    if (many_winters(one))
        th_room_roughly(&held);
    const int roughly = ask_all(runs, one, &held);
    const double sign = th_cost_apply(&held, TH_COST_CEILINGS);
    const int with_air = ask_all(runs, one, &held);
    enum th_code code = th_runs_do(runs, "the winters", err);
    if (code == TH_OK)
        code = th_runs_winters(runs, as_it_is, &budget->winters, err);
    if (code == TH_OK && budget->winters.n_counted == 0)
        return th_case_uncovered(one, &budget->winters, err);
    if (code == TH_OK)
        code = th_runs_gas(runs, roughly, &now_j, err);
    if (code == TH_OK)
        code = th_runs_gas(runs, with_air, &held_j, err);
    const double scale = now_j > 0.0 ? th_winters_mean_gas_j(&budget->winters) / now_j : 1.0;
    budget->hold_air_j = sign * scale * (held_j - now_j);
    return code;
}

/* The room with fans that could turn down, in a few winters. */
static enum th_code ask_fan_floor(const struct th_budget *budget, struct th_runs *runs,
                                  struct th_few *few, struct th_few_asked *asked,
                                  struct th_error *err)
{
    struct th_room other = *budget->one->room;
    const enum th_code code = th_few_of_winters(few, &budget->winters, err);
    th_cost_apply(&other, TH_COST_FAN_FLOOR);
    if (code == TH_OK)
        th_few_ask(few, runs, &other, budget->one->climate, asked);
    return code;
}

/* The worst season's hours are seen, and what the fans cost, while the ranges are run. */
static enum th_code run_ranges(struct th_budget *budget, struct th_runs *runs, struct th_error *err)
{
    const struct th_case *one = budget->one;
    const struct th_watch_seasons watch = {{see_hour, budget}, 0, 0, 0};
    struct th_few few;
    struct th_few_asked asked;
    double other_j = 0.0;
    budget->middle = th_winters_middle(&budget->winters);
    budget->worst = th_winters_worst(&budget->winters);
    budget->hours = malloc(HOURS_MAX * sizeof *budget->hours);
    if (!budget->hours)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = ask_fan_floor(budget, runs, &few, &asked, err);
    th_runs_add_watched(runs, one->room, one->climate, budget->worst->year, budget->worst->year,
                        &watch);
    if (code == TH_OK)
        code = th_risk_one_by_one(runs, one->room, one->climate, budget->middle->year,
                                  budget->ranges, err);
    if (code == TH_OK)
        code = th_few_mean_j(&few, runs, &asked, &other_j, err);
    budget->fan_floor_j = few.mean_j - other_j;
    return code;
}

enum th_code th_budget_run(struct th_budget *budget, struct th_runs *runs,
                           const struct th_case *one, struct th_error *err)
{
    *budget = (struct th_budget){.one = one};
    const enum th_code code = run_winters(budget, runs, err);
    return code == TH_OK ? run_ranges(budget, runs, err) : code;
}

void th_budget_finish(struct th_budget *budget)
{
    if (!budget)
        return;
    th_winters_finish(&budget->winters);
    free(budget->hours);
    *budget = (struct th_budget){0};
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/budget.h"

#include "turnheat/costs.h"
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
                                .feel_low_c = out->feel_low_c,
                                .set_c = in->set_c,
                                .comfort_c = day ? day->comfort_c : NAN,
                                .gas_w = out->gas_w,
                                .pigs_w = t[TH_TERM_PIGS],
                                .heaters_w = out->heating.heat_w + t[TH_TERM_ZONE],
                                .zone_w = t[TH_TERM_ZONE],
                                .lost_w = lost_w};
}

static void see_cold(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct th_budget_cold *cold = context;
    const struct th_day *day = in->balance.day;
    (void)turn;
    if (!day || day->comfort_c - out->feel_c <= cold->below_k)
        return;
    cold->hour_number = hour_number;
    cold->below_k = day->comfort_c - out->feel_c;
    cold->mass_kg = day->mass_kg;
    cold->out_c = in->balance.out->out_c;
}

static void ask_cost(struct th_runs *runs, const struct th_case *one, enum th_cost_kind kind,
                     struct th_cost_asked *asked)
{
    th_cost_ask(runs, one->room, one->climate, one->first_year, one->last_year, kind, asked);
}

/* That gas was burnt tells little of the air: it is judged in the barn that moves less of it. */
static const struct th_case *air_case(const struct th_case *one, const struct th_case *given)
{
    return given && given->room->air.minimum_share < one->room->air.minimum_share ? given : one;
}

static enum th_code read_air(struct th_budget *budget, const struct th_runs *runs,
                             const struct th_case *air, int request,
                             const struct th_cost_asked *held, struct th_error *err)
{
    struct th_winters winters = {0};
    struct th_tally total;
    enum th_code code = th_runs_winters(runs, request, &winters, err);
    if (code == TH_OK)
        code = th_held_air_read(runs, held, air, air->room, th_winters_mean_gas_j(&winters),
                                &budget->hold_air, err);
    if (code == TH_OK) {
        th_winters_total(&winters, &total);
        th_tally_clear(&budget->air);
        th_tally_add(&budget->air, &total, 1.0 / winters.n_counted);
    }
    th_winters_finish(&winters);
    return code;
}

/* Every season as the room is, with fans that could turn down, and with the air held. */
static enum th_code run_winters(struct th_budget *budget, struct th_runs *runs,
                                const struct th_case *given, struct th_error *err)
{
    const struct th_case *one = budget->one, *air = air_case(one, given);
    struct th_cost_asked fan_floor, held;
    const int for_air =
        air == one ? -1
                   : th_runs_add(runs, air->room, air->climate, air->first_year, air->last_year);
    const int as_it_is =
        th_runs_add(runs, one->room, one->climate, one->first_year, one->last_year);
    ask_cost(runs, one, TH_COST_FAN_FLOOR, &fan_floor);
    ask_cost(runs, air, TH_COST_CEILINGS, &held);
    enum th_code code = th_runs_do(runs, "the winters", err);
    if (code == TH_OK)
        code = th_runs_winters(runs, as_it_is, &budget->winters, err);
    if (code == TH_OK && budget->winters.n_counted == 0)
        return th_case_uncovered(one, &budget->winters, err);
    const double mean_j = th_winters_mean_gas_j(&budget->winters);
    if (code == TH_OK)
        code = th_cost_read(runs, &fan_floor, mean_j, &budget->fan_floor_j, err);
    return code == TH_OK ? read_air(budget, runs, air, for_air < 0 ? as_it_is : for_air, &held, err)
                         : code;
}

/* The season with the coldest pigs is looked at once more where some lay far below comfort. */
static void ask_coldest(struct th_budget *budget, struct th_runs *runs)
{
    const struct th_season *coldest = NULL;
    for (int i = 0; i < budget->winters.n; i++) {
        const struct th_season *s = &budget->winters.seasons[i];
        if (s->counted && s->total.sum[TH_COLD_DEEP] > 0.0 &&
            (!coldest || s->total.deepest_below_k > coldest->total.deepest_below_k))
            coldest = s;
    }
    const struct th_watch_seasons watch = {.watch = {see_cold, &budget->coldest}};
    budget->coldest.year = coldest ? coldest->year : 0;
    if (coldest)
        th_runs_add_watched(runs, budget->one->room, budget->one->climate, coldest->year,
                            coldest->year, &watch);
}

/* The worst season's hours are seen while the ranges are run. */
static enum th_code run_ranges(struct th_budget *budget, struct th_runs *runs, struct th_error *err)
{
    const struct th_case *one = budget->one;
    const struct th_watch_seasons watch = {.watch = {see_hour, budget}};
    budget->middle = th_winters_middle(&budget->winters);
    budget->worst = th_winters_worst(&budget->winters);
    budget->hours = malloc(HOURS_MAX * sizeof *budget->hours);
    if (!budget->hours)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_runs_add_watched(runs, one->room, one->climate, budget->worst->year, budget->worst->year,
                        &watch);
    ask_coldest(budget, runs);
    return th_risk_one_by_one(runs, one->room, one->climate, budget->middle->year, budget->ranges,
                              err);
}

enum th_code th_budget_run(struct th_budget *budget, struct th_runs *runs,
                           const struct th_case *one, const struct th_case *given,
                           struct th_error *err)
{
    *budget = (struct th_budget){.one = one, .learnt = given != NULL};
    const enum th_code code = run_winters(budget, runs, given, err);
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

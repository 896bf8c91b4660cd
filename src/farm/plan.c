/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan_parts.h"

#include "turnheat/ahead.h"
#include "turnheat/calendar.h"
#include "workers.h"

#include <stdlib.h>

/* Neither it nor the next has a leap day. */
#define ANY_YEAR 2001

int th_plan_worst_year(const struct th_plan *plan)
{
    int worst = -1;
    for (int y = 0; y < plan->demand.n; y++)
        if (plan->demand.years[y].usable &&
            (worst < 0 || th_plan_used_gal(plan, y, 0) > th_plan_used_gal(plan, worst, 0)))
            worst = y;
    return worst;
}

int th_plan_middle_year(const struct th_plan *plan)
{
    const int n = plan->demand.n;
    int least = n, best = th_plan_worst_year(plan);
    for (int y = 0; y < n; y++) {
        int off = 0;
        if (!plan->demand.years[y].usable)
            continue;
        for (int other = 0; other < n; other++)
            if (plan->demand.years[other].usable) {
                const double more_gal =
                    th_plan_used_gal(plan, other, 0) - th_plan_used_gal(plan, y, 0);
                off += (more_gal > 0.0) - (more_gal < 0.0);
            }
        if (abs(off) < least) {
            least = abs(off);
            best = y;
        }
    }
    return best;
}

/* Winters and barns in one distribution; barns that burn nothing have none. */
static enum th_code look_out(struct th_runs *runs, struct th_plan *plan,
                             const struct th_plan_in *in, struct th_error *err)
{
    enum th_code code = th_outlook_init(&plan->outlook, runs, in->cases, in->n_cases, err);
    if (code == TH_OK)
        return th_answer_make(&plan->answer, &plan->outlook, in->n_records, in->records, err);
    th_outlook_finish(&plan->outlook);
    return code == TH_ERR_MODEL || code == TH_ERR_COVERAGE ? TH_OK : code;
}

/* Whether records or fills tell of the barns. */
static bool is_taught(const struct th_plan_in *in)
{
    bool taught = in->n_records > 0;
    for (int i = 0; i < in->n_cases; i++)
        taught |= in->cases[i].room->fitted.given;
    return taught;
}

/* The outlook tells which barns these most likely are; where nothing was learnt it comes second,
 * and takes the winters that the demand has run. */
enum th_code th_plan_winters(struct th_runs *runs, const struct th_plan_in *in,
                             struct th_plan *plan, struct th_error *err)
{
    *plan = (struct th_plan){.in = in};
    const bool taught = is_taught(in);
    enum th_code code = taught ? look_out(runs, plan, in, err) : TH_OK;
    const struct th_answer *const answer = plan->outlook.n_draws > 0 ? &plan->answer : NULL;
    plan->learnt = th_answer_learnt(answer);
    if (code == TH_OK)
        code = th_likely_init(&plan->likely, answer, in->cases, in->n_cases, err);
    if (code == TH_OK)
        code = th_demand_run(runs, plan->likely.cases, in->n_cases, in->uses, in->n_uses,
                             &plan->demand, err);
    if (code == TH_OK && !taught)
        code = look_out(runs, plan, in, err);
    if (code == TH_OK)
        code = th_plan_reorder(runs, plan, err);
    return code == TH_OK ? th_plan_tanks(plan, in, err) : code;
}

/* The season to come, day by day. Without dated placements any year serves. */
static enum th_code look_through(struct th_plan *plan, const struct th_plan_market *market,
                                 struct th_error *err)
{
    const struct th_plan_in *const in = plan->in;
    (void)market;
    for (int i = 0; i < in->n_cases; i++) {
        const int year = th_room_season_year(in->cases[i].room);
        plan->season_year = year > plan->season_year ? year : plan->season_year;
    }
    const int year = plan->season_year > 0 ? plan->season_year : ANY_YEAR;
    const struct th_ahead_in all = {.day = th_season_first_day(year), .season = true};
    plan->season = calloc(1, sizeof *plan->season);
    if (!plan->season)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    return th_ahead_run(plan, &all, plan->season, err);
}

/* What follows from demand, tanks and outlook, and not from each other. */
struct conclusion {
    enum th_code (*draw)(struct th_plan *plan, const struct th_plan_market *market,
                         struct th_error *err);
    enum th_code code;
    struct th_error err;
};

#define CONCLUSIONS 3

struct conclusions {
    struct th_plan *plan;
    struct th_plan_market market;
    struct conclusion all[CONCLUSIONS];
};

static void draw_one(void *context, size_t i)
{
    struct conclusions *const c = context;
    c->all[i].code = c->all[i].draw(c->plan, &c->market, &c->all[i].err);
}

/* The longest first, by as many threads as there are jobs. */
static enum th_code conclude(struct th_plan *plan, int jobs, struct th_error *err)
{
    struct conclusions c = {
        .plan = plan,
        .all = {{.draw = th_plan_split}, {.draw = th_plan_offers}, {.draw = look_through}}};
    enum th_code code = th_plan_market_open(&c.market, plan, err);
    if (code == TH_OK)
        th_workers_each(jobs, CONCLUSIONS, draw_one, &c);
    for (int i = 0; i < CONCLUSIONS && code == TH_OK; i++) {
        code = c.all[i].code;
        if (code != TH_OK && err)
            *err = c.all[i].err;
    }
    th_plan_market_close(&c.market);
    return code;
}

enum th_code th_plan_run(struct th_runs *runs, const struct th_plan_in *in, struct th_plan *plan,
                         struct th_error *err)
{
    enum th_code code = th_plan_winters(runs, in, plan, err);
    if (code == TH_OK)
        code = th_plan_unknowns(runs, plan, in, err);
    if (code == TH_OK)
        code = th_plan_slip(runs, plan, in, err);
    return code == TH_OK ? conclude(plan, runs->jobs, err) : code;
}

void th_plan_finish(struct th_plan *plan)
{
    for (int y = 0; plan->tank_years && y < plan->demand.n; y++)
        free(plan->tank_years[y].deliveries);
    for (int i = 0; i < plan->buying.n_offers; i++)
        free(plan->buying.offers[i].winter_usd);
    free(plan->tank_years);
    free(plan->season);
    free(plan->buying.volumes);
    th_outlook_finish(&plan->outlook);
    th_likely_finish(&plan->likely);
    th_demand_finish(&plan->demand);
    *plan = (struct th_plan){0};
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each way of buying costs over winters and prices. */
#include "plan_buying.h"

#include "display.h"
#include "season_text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void th_plan_cost_cells(struct th_report *report, const struct th_volume_cost *cost)
{
    const bool many = cost->winters.kind == TH_SPREAD_PERCENTILES;
    const bool few = !many && cost->winters.n > 1;
    th_report_cell(report, "mean_usd", "Mean", "$", TH_SIG3, th_number(cost->mean_usd));
    th_report_cell(report, "lowest_usd", "Cheapest season", "$", TH_SIG3,
                   th_number_if(few, cost->winters.lowest));
    th_report_cell(report, "middle_usd", "Middle season", "$", TH_SIG3,
                   th_number_if(few, cost->winters.middle));
    th_report_cell(report, "highest_usd", "Dearest season", "$", TH_SIG3,
                   th_number_if(few, cost->winters.highest));
    th_report_cell(report, "p50_usd", "P50", "$", TH_SIG3, th_number_if(many, cost->p50_usd));
    th_report_cell(report, "p90_usd", "P90", "$", TH_SIG3, th_number_if(many, cost->p90_usd));
    th_report_cell(report, "cvar95_usd", "Worst twentieth", "$", TH_SIG3,
                   th_number_if(many, cost->cvar95_usd));
}

static bool nothing_to_weigh(const struct th_plan *plan)
{
    return !(plan->in->price->posted_usd_gal > 0.0) || plan->in->n_contracts == 0;
}

static enum th_code draw_prices(struct th_plan_market *m, const struct th_plan *plan,
                                struct th_error *err)
{
    const size_t n = (size_t)plan->demand.n_usable;
    double *season_gal = malloc(n * sizeof *season_gal);
    m->winters = malloc(n * sizeof *m->winters);
    if (!season_gal || !m->winters) {
        free(season_gal);
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    for (int y = 0, k = 0; y < plan->demand.n; y++) {
        const struct th_tank_year *t = &plan->tank_years[y];
        if (!plan->demand.years[y].usable)
            continue;
        m->winters[k] =
            (struct th_winter){plan->demand.years[y].year, t->n_deliveries, t->deliveries};
        season_gal[k++] = t->delivered_gal;
    }
    const enum th_code code = th_price_paths_init(&m->paths, plan->in->price, plan->in->n_paths,
                                                  plan->in->seed, n, season_gal, err);
    free(season_gal);
    m->calm = (struct th_market){&m->paths, m->winters, 0.0};
    m->tight = (struct th_market){&m->paths, m->winters, 1.0};
    return code;
}

enum th_code th_plan_market_open(struct th_plan_market *m, const struct th_plan *plan,
                                 struct th_error *err)
{
    *m = (struct th_plan_market){0};
    if (nothing_to_weigh(plan))
        return TH_OK;
    const enum th_code code = draw_prices(m, plan, err);
    return code == TH_OK ? th_plan_weigh(m, plan, err) : code;
}

void th_plan_market_close(struct th_plan_market *m)
{
    th_price_paths_finish(&m->paths);
    free(m->winters);
    free(m->weighed);
    *m = (struct th_plan_market){0};
}

static const char *kind_text(enum th_contract_kind kind)
{
    static const char *const texts[] = {[TH_CONTRACT_SPOT] = "posted price",
                                        [TH_CONTRACT_PREPAID] = "prepaid",
                                        [TH_CONTRACT_BOOKED] = "booked",
                                        [TH_CONTRACT_CAPPED] = "capped"};
    return texts[kind];
}

static void offer_row(struct th_report *report, const struct th_contract *c,
                      const struct th_volume_cost *cost, const struct th_volume_cost *tight)
{
    th_report_row(report);
    th_report_cell(report, "contract", "Offer", "", TH_PLAIN, th_text(c->name));
    th_report_cell(report, "kind", "Kind", "", TH_PLAIN, th_text(kind_text(c->kind)));
    th_report_cell(report, "volume_gal", "Volume", "gal", TH_WHOLE,
                   th_number_if(c->volume_gal > 0.0, c->volume_gal));
    th_report_cell(report, "price_usd_gal", "Price or cap", "$/gal", TH_HUNDREDTHS,
                   th_number_if(c->price_usd_gal > 0.0, c->price_usd_gal));
    th_plan_cost_cells(report, cost);
    th_report_cell(report, "tight_mean_usd", "Mean if supply is tight", "$", TH_SIG3,
                   th_number(tight->mean_usd));
}

/* `winter_usd` gets a row of winters for each offer. */
static enum th_code offers_table(struct th_report *report, const struct th_plan *plan,
                                 const struct th_plan_market *m, double *winter_usd,
                                 struct th_error *err)
{
    th_report_table(report, "offers", "What a season costs, as offered");
    enum th_code code = TH_OK;
    for (int i = 0; i < plan->in->n_contracts && code == TH_OK; i++) {
        const struct th_contract *c = &plan->in->contracts[i];
        struct th_volume_cost cost, tight;
        th_progress_step(plan->in->progress, "offer %d of %d", i + 1, plan->in->n_contracts);
        code = th_contract_costs(c, &m->calm, 1, NULL, &cost,
                                 winter_usd + i * plan->demand.n_usable, err);
        if (code == TH_OK)
            code = th_contract_costs(c, &m->tight, 1, NULL, &tight, NULL, err);
        if (code == TH_OK)
            offer_row(report, c, &cost, &tight);
    }
    return code;
}

/* With few seasons each is shown by itself. */
static void seasons_table(struct th_report *report, const struct th_plan *plan,
                          const double *winter_usd)
{
    const int n = plan->in->n_contracts;
    th_report_table(report, "offer_seasons", "The same offers, season by season");
    for (int y = 0, k = 0; y < plan->demand.n; y++) {
        if (!plan->demand.years[y].usable)
            continue;
        char name[TH_SEASON_NAME_MAX];
        th_plan_season_name(plan, y, name);
        th_report_row(report);
        th_report_cell(report, "season", "Season", "", TH_PLAIN, th_text(name));
        th_report_cell(report, "delivered_gal", "Delivered", "gal", TH_SIG3,
                       th_number(plan->tank_years[y].delivered_gal));
        for (int i = 0; i < n; i++) {
            char key[24];
            snprintf(key, sizeof key, "offer_%d_usd", i + 1);
            th_report_cell(report, key, plan->in->contracts[i].name, "$", TH_SIG3,
                           th_number(winter_usd[i * plan->demand.n_usable + k]));
        }
        k++;
    }
}

static void explain(struct th_report *report, const struct th_plan *plan)
{
    const int n = plan->demand.n_usable;
    char paths[TH_SHOWN_MAX];
    th_show(paths, th_number((double)plan->in->n_paths), TH_WHOLE);
    th_report_paragraph(report, NULL,
                        "Each line buys the whole season by that offer alone, and what it does not "
                        "cover at the posted price of the day. The offers are alternatives: two of "
                        "them together are not weighed.");
    if (n >= TH_SPREAD_PERCENTILES_FROM)
        th_report_paragraph(report, NULL,
                            "P50 and P90 are not exceeded in five and in nine cases of ten; the "
                            "worst twentieth is the mean of the dearest 5 %% of the cases. The "
                            "cases are %d winters times %s price paths.",
                            n, paths);
    else
        th_report_paragraph(report, NULL,
                            "A season's cost is its mean over %s price paths. %d season%s too few "
                            "to say what happens in one winter of ten, so no such figure is given.",
                            paths, n, n == 1 ? " is" : "s are");
    th_report_paragraph(
        report, NULL,
        "Price paths start from $%.2f/gal today, seed %lu: their spread is that of "
        "past Gulf-coast wholesale, their link to cold winters our judgement. Tight "
        "supply (retail doubled for six weeks from 15 January) is a case of its own "
        "and in no other column.",
        plan->in->price->posted_usd_gal, plan->in->seed);
}

static enum th_code buy(struct th_report *report, const struct th_plan *plan,
                        const struct th_plan_market *m, struct th_error *err)
{
    const int n = plan->demand.n_usable;
    double *winter_usd = calloc((size_t)(plan->in->n_contracts * n), sizeof *winter_usd);
    if (!winter_usd)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code = offers_table(report, plan, m, winter_usd, err);
    if (code == TH_OK && n > 1 && n < TH_SPREAD_PERCENTILES_FROM)
        seasons_table(report, plan, winter_usd);
    free(winter_usd);
    if (code != TH_OK)
        return code;
    explain(report, plan);
    th_plan_volumes(report, plan, m);
    return TH_OK;
}

enum th_code th_plan_buying(struct th_report *report, const struct th_plan *plan,
                            const struct th_plan_market *m, struct th_error *err)
{
    th_report_section(report, "buying", "How to buy");
    if (!(plan->in->price->posted_usd_gal > 0.0)) {
        th_report_paragraph(report, NULL,
                            "No fuel price is given, so no dollars are printed: add `price` to "
                            "[fuel].");
        return TH_OK;
    }
    if (plan->in->n_contracts == 0) {
        th_report_paragraph(report, NULL, "No [contract] is given.");
        return TH_OK;
    }
    return buy(report, plan, m, err);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each way of buying costs over winters and prices, and how much to book. */
#include "display.h"
#include "plan_report.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define VOLUMES 11

/* Winters as the contracts see them, and the price paths over them. */
struct market {
    struct th_winter *winters;
    struct th_price_paths paths;
    double most_gal; /**< delivered in the worst winter */
};

static enum th_code open_market(struct market *m, const struct th_plan *plan, struct th_error *err)
{
    const size_t n = (size_t)plan->demand.n_usable;
    double *season_gal = malloc(n * sizeof *season_gal);
    size_t k = 0;
    *m = (struct market){.winters = malloc(n * sizeof *m->winters)};
    if (!season_gal || !m->winters) {
        free(season_gal);
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    for (int y = 0; y < plan->demand.n; y++) {
        const struct th_tank_year *t = &plan->tank_years[y];
        if (!plan->demand.years[y].usable)
            continue;
        m->winters[k] =
            (struct th_winter){plan->demand.years[y].year, t->n_deliveries, t->deliveries};
        season_gal[k++] = t->delivered_gal;
        m->most_gal = fmax(m->most_gal, t->delivered_gal);
    }
    const enum th_code code = th_price_paths_init(&m->paths, plan->in->price, plan->in->n_paths,
                                                  plan->in->seed, n, season_gal, err);
    free(season_gal);
    return code;
}

static void close_market(struct market *m)
{
    th_price_paths_finish(&m->paths);
    free(m->winters);
}

static const char *kind_text(enum th_contract_kind kind)
{
    static const char *const texts[] = {[TH_CONTRACT_SPOT] = "posted price",
                                        [TH_CONTRACT_PREPAID] = "prepaid",
                                        [TH_CONTRACT_BOOKED] = "booked",
                                        [TH_CONTRACT_CAPPED] = "capped"};
    return texts[kind];
}

static enum th_code offer_rows(struct th_report *report, const struct th_plan *plan,
                               const struct market *m, struct th_error *err)
{
    for (int i = 0; i < plan->in->n_contracts; i++) {
        const struct th_contract *c = &plan->in->contracts[i];
        struct th_volume_cost cost, tight;
        enum th_code code = th_contract_costs(c, &m->paths, m->winters, 0.0, 1, NULL, &cost, err);
        if (code == TH_OK)
            code = th_contract_costs(c, &m->paths, m->winters, 1.0, 1, NULL, &tight, err);
        if (code != TH_OK)
            return code;
        th_report_row(report,
                      (struct th_value[]){th_text(c->name), th_text(kind_text(c->kind)),
                                          th_number_if(c->volume_gal > 0.0, c->volume_gal),
                                          th_number_if(c->price_usd_gal > 0.0, c->price_usd_gal),
                                          th_number(cost.mean_usd), th_number(cost.p50_usd),
                                          th_number(cost.p90_usd), th_number(cost.cvar95_usd),
                                          th_number(tight.mean_usd)});
    }
    return TH_OK;
}

static enum th_code offers_table(struct th_report *report, const struct th_plan *plan,
                                 const struct market *m, struct th_error *err)
{
    static const struct th_column columns[] = {
        {"contract", "Offer", "", TH_PLAIN},
        {"kind", "Kind", "", TH_PLAIN},
        {"volume_gal", "Volume", "gal", TH_WHOLE},
        {"price_usd_gal", "Price or cap", "$/gal", TH_HUNDREDTHS},
        {"mean_usd", "Mean", "$", TH_SIG3},
        {"p50_usd", "P50", "$", TH_SIG3},
        {"p90_usd", "P90", "$", TH_SIG3},
        {"cvar95_usd", "Worst twentieth", "$", TH_SIG3},
        {"tight_mean_usd", "Mean if supply is tight", "$", TH_SIG3}};
    th_report_table(report, "offers", "What a season costs, as offered", columns, 9);
    return offer_rows(report, plan, m, err);
}

static double round_up(double gal)
{
    return 500.0 * ceil(gal / 500.0);
}

static void volume_rows(struct th_report *report, const struct th_volume_cost *costs)
{
    for (size_t k = 0; k < VOLUMES; k++)
        th_report_row(report, (struct th_value[]){
                                  th_number(costs[k].volume_gal), th_number(costs[k].mean_usd),
                                  th_number(costs[k].p50_usd), th_number(costs[k].p90_usd),
                                  th_number(costs[k].cvar95_usd)});
}

static void volume_figure(struct th_report *report, const char *key, const char *name,
                          const struct th_volume_cost *costs)
{
    static const struct th_column columns[] = {{"volume_gal", "Booked, gal", "gal", TH_WHOLE},
                                               {"mean_usd", "mean", "$", TH_SIG3},
                                               {"p90_usd", "nine winters of ten", "$", TH_SIG3},
                                               {"cvar95_usd", "worst twentieth", "$", TH_SIG3}};
    char full_key[96], caption[128];
    snprintf(full_key, sizeof full_key, "%s_figure", key);
    snprintf(caption, sizeof caption, "Season cost against gallons booked, \"%s\"", name);
    th_report_figure(report,
                     &(struct th_figure){.key = full_key,
                                         .caption = caption,
                                         .alternative =
                                             "Lines of mean, P90 and worst-twentieth cost "
                                             "over the booked volume: the mean is flat near "
                                             "its lowest, the tail is not.",
                                         .chart = TH_LINES,
                                         .y_label = "$"},
                     columns, 4);
    for (size_t k = 0; k < VOLUMES; k++)
        th_report_row(report, (struct th_value[]){
                                  th_number(costs[k].volume_gal), th_number(costs[k].mean_usd),
                                  th_number(costs[k].p90_usd), th_number(costs[k].cvar95_usd)});
}

static enum th_code volumes_of(struct th_report *report, const struct th_contract *c,
                               const struct market *m, struct th_error *err)
{
    static const struct th_column columns[] = {{"volume_gal", "Booked", "gal", TH_WHOLE},
                                               {"mean_usd", "Mean", "$", TH_SIG3},
                                               {"p50_usd", "P50", "$", TH_SIG3},
                                               {"p90_usd", "P90", "$", TH_SIG3},
                                               {"cvar95_usd", "Worst twentieth", "$", TH_SIG3}};
    double volumes[VOLUMES];
    struct th_volume_cost costs[VOLUMES];
    char key[64], text[128];
    for (size_t k = 0; k < VOLUMES; k++)
        volumes[k] = round_up(1.2 * m->most_gal) * (double)k / (VOLUMES - 1);
    const enum th_code code =
        th_contract_costs(c, &m->paths, m->winters, 0.0, VOLUMES, volumes, costs, err);
    if (code != TH_OK)
        return code;
    const struct th_volume_choice choice = th_contract_choose(VOLUMES, costs);
    snprintf(key, sizeof key, "volumes_%s", c->name);
    for (char *at = key; *at; at++)
        if (*at == ' ' || *at == '-')
            *at = '_';
    snprintf(text, sizeof text, "How much of \"%s\" at $%.2f/gal", c->name, c->price_usd_gal);
    th_report_table(report, key, text, columns, 5);
    volume_rows(report, costs);
    volume_figure(report, key, c->name, costs);
    char shown[4][TH_SHOWN_MAX];
    const double gal[4] = {costs[choice.cheapest].volume_gal, choice.flat_low_gal,
                           choice.flat_high_gal, costs[choice.cautious].volume_gal};
    for (int i = 0; i < 4; i++)
        th_show_with_unit(shown[i], th_number(gal[i]), TH_WHOLE, "gal");
    th_report_paragraph(report, NULL,
                        "On average cheapest: %s; the mean stays within half a percent from %s to "
                        "%s. A cautious buyer, who minds the worst twentieth, takes %s.",
                        shown[0], shown[1], shown[2], shown[3]);
    return TH_OK;
}

static enum th_code buy(struct th_report *report, const struct th_plan *plan,
                        const struct market *m, struct th_error *err)
{
    enum th_code code = offers_table(report, plan, m, err);
    for (int i = 0; i < plan->in->n_contracts && code == TH_OK; i++) {
        const struct th_contract *c = &plan->in->contracts[i];
        if (c->kind == TH_CONTRACT_PREPAID || c->kind == TH_CONTRACT_BOOKED)
            code = volumes_of(report, c, m, err);
    }
    th_report_paragraph(report, NULL,
                        "%d winter%s times %zu price paths from $%.2f/gal today, seed %lu: the "
                        "spread of prices is that of past Gulf-coast wholesale, its link to cold "
                        "winters our judgement. Tight supply (retail doubled for six weeks from 15 "
                        "January) is a case of its own and in no other column.",
                        plan->demand.n_usable, plan->demand.n_usable == 1 ? "" : "s",
                        plan->in->n_paths, plan->in->price->posted_usd_gal, plan->in->seed);
    return code;
}

enum th_code th_plan_buying(struct th_report *report, const struct th_plan *plan,
                            struct th_error *err)
{
    struct market m;
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
    enum th_code code = open_market(&m, plan, err);
    if (code == TH_OK)
        code = buy(report, plan, &m, err);
    close_market(&m);
    return code;
}

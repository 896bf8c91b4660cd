/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each way of buying costs over winters and prices. */
#include "plan_buying.h"

#include "display.h"
#include "outlook_text.h"
#include "plan_split.h"
#include "plan_volumes.h"
#include "season_text.h"

#include <stdio.h>

static const char *kind_text(enum th_contract_kind kind)
{
    static const char *const texts[] = {[TH_CONTRACT_SPOT] = "posted price",
                                        [TH_CONTRACT_PREPAID] = "prepaid",
                                        [TH_CONTRACT_BOOKED] = "booked",
                                        [TH_CONTRACT_CAPPED] = "capped"};
    return texts[kind];
}

static void offer_row(struct th_report *report, const struct th_plan_offer *offer)
{
    const struct th_contract *c = offer->contract;
    th_report_row(report);
    th_report_cell(report, "contract", "Offer", "", TH_PLAIN, th_text(c->name));
    th_report_cell(report, "kind", "Kind", "", TH_PLAIN, th_text(kind_text(c->kind)));
    th_report_cell(report, "volume_gal", "Volume", "gal", TH_WHOLE,
                   th_number_if(c->volume_gal > 0.0, c->volume_gal));
    th_report_cell(report, "price_usd_gal", "Price or cap", "$/gal", TH_HUNDREDTHS,
                   th_number_if(c->price_usd_gal > 0.0, c->price_usd_gal));
    th_plan_cost_cells(report, &offer->calm);
    th_report_cell(report, "tight_mean_usd", "Mean if supply is tight", "$", TH_SIG3,
                   th_number(offer->tight.mean_usd));
}

/* A line a season, a column an offer, as people read it. */
static void season_row(struct th_report *report, const struct th_plan *plan, int y, int k)
{
    const struct th_plan_buying *buying = &plan->buying;
    char name[TH_SEASON_NAME_MAX];
    th_year_name(plan->demand.years[y].year, plan->demand.typical, name);
    th_report_row(report);
    th_report_cell(report, "season", "Season", "", TH_PLAIN, th_text(name));
    th_report_cell(report, "delivered_gal", "Delivered", "gal", TH_SIG3,
                   th_number(plan->tank_years[y].delivered_gal));
    for (int i = 0; i < buying->n_offers; i++) {
        const struct th_plan_offer *const offer = &buying->offers[i];
        th_report_cell(report, offer->contract->name, offer->contract->name, "$", TH_SIG3,
                       th_number(offer->winter_usd[k]));
    }
}

/* The same for machines: a row a season and offer. */
static void season_offer_row(struct th_report *report, const struct th_plan *plan, int y, int k,
                             const struct th_plan_offer *offer)
{
    char name[TH_SEASON_NAME_MAX];
    th_year_name(plan->demand.years[y].year, plan->demand.typical, name);
    th_report_row(report);
    th_report_cell(report, "season", "", "", TH_PLAIN, th_text(name));
    th_report_cell(report, "delivered_gal", "", "gal", TH_SIG3,
                   th_number(plan->tank_years[y].delivered_gal));
    th_report_cell(report, "contract", "", "", TH_PLAIN, th_text(offer->contract->name));
    th_report_cell(report, "mean_usd", "", "$", TH_SIG3, th_number(offer->winter_usd[k]));
}

static void season_tables(struct th_report *report, const struct th_plan *plan)
{
    const struct th_plan_buying *buying = &plan->buying;
    th_report_table(report, NULL,
                    buying->n_offers > 0 ? "The same offers, season by season" : NULL);
    for (int y = 0, k = 0; y < plan->demand.n && buying->n_offers > 0; y++)
        if (plan->demand.years[y].usable)
            season_row(report, plan, y, k++);
    th_report_table(report, "offer_seasons", NULL);
    for (int y = 0, k = 0; y < plan->demand.n && buying->n_offers > 0; y++) {
        if (!plan->demand.years[y].usable)
            continue;
        for (int i = 0; i < buying->n_offers; i++)
            season_offer_row(report, plan, y, k, &buying->offers[i]);
        k++;
    }
}

static void offer_tables(struct th_report *report, const struct th_plan *plan)
{
    const struct th_plan_buying *buying = &plan->buying;
    const bool any = buying->n_offers > 0;
    th_report_table(report, "offers", any ? "What a season costs, as offered" : NULL);
    for (int i = 0; i < buying->n_offers; i++)
        offer_row(report, &buying->offers[i]);
    season_tables(report, plan);
}

static void explain(struct th_report *report, const struct th_plan *plan)
{
    const int n = plan->demand.n_usable;
    char paths[TH_SHOWN_MAX];
    th_show(paths, th_number((double)plan->in->n_paths), TH_WHOLE);
    th_report_paragraph(report, NULL,
                        "Each column buys the whole season by that offer alone, and what it does "
                        "not cover at the posted price of the day. The barns are %s; "
                        "the next tables weigh all farms that fit what is known, so their dollars "
                        "are others.",
                        th_barns_text(plan->learnt));
    if (n >= TH_SPREAD_PERCENTILES_FROM)
        th_report_paragraph(report, NULL,
                            "Half of the cases cost no more than the middle case, nine in ten no "
                            "more than the next column says; the worst twentieth is the mean of "
                            "the dearest 5 %% of the cases. The cases are %d %swinters times %s "
                            "price paths.",
                            n, th_climate_generated(plan->in->cases[0].climate) ? "generated " : "",
                            paths);
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

void th_plan_buying(struct th_report *report, const struct th_plan *plan)
{
    const bool priced = plan->in->price->posted_usd_gal > 0.0;
    th_report_section(report, "buying", "How to buy");
    if (!priced)
        th_report_paragraph(report, NULL,
                            "No fuel price is given, so no dollars are printed: add `price` to "
                            "[fuel].");
    else if (plan->in->n_contracts == 0)
        th_report_paragraph(
            report, NULL,
            "No [contract] is given. What a supplier offers stands in the farm file as it is in "
            "the letter, such as: [contract co-op], kind = prepaid, volume = 8,000 gal, price = "
            "$1.70, settle = refund, each on a line of its own; [contract posted], kind = spot is "
            "set beside it.");
    offer_tables(report, plan);
    if (plan->buying.n_offers > 0)
        explain(report, plan);
    th_plan_split_tables(report, plan);
    th_plan_volumes(report, plan);
}

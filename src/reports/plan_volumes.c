/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much to book of a contract: a sweep over volumes, and the formula beside it. */
#include "plan_buying.h"

#include "display.h"
#include "figure.h"
#include "turnheat/booking.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void key_of(const struct th_contract *contract, char key[TH_PLAN_KEY_MAX])
{
    snprintf(key, TH_PLAN_KEY_MAX, "volumes_%s", contract->name);
    for (char *at = key; *at; at++)
        if (*at == ' ' || *at == '-')
            *at = '_';
}

/* Two contracts must not share a key of the output. */
static enum th_code check_key(const struct th_plan_weighed *all, int n, struct th_error *err)
{
    for (int i = 0; i < n; i++)
        if (strcmp(all[i].key, all[n].key) == 0)
            return th_fail(err, TH_ERR_INPUT,
                           "[contract %s] and [contract %s] would have one name in the output; "
                           "rename one",
                           all[i].contract->name, all[n].contract->name);
    return TH_OK;
}

/* The best volume by formula, where its conditions hold: booked, settled at market. */
static enum th_code add_formula(struct th_plan_weighed *w, const struct th_plan *plan,
                                const struct th_plan_market *m, struct th_error *err)
{
    const size_t n = (size_t)plan->demand.n_usable;
    struct th_booking_terms terms;
    struct th_error why;
    if (n < 2)
        return TH_OK;
    double *taken_gal = calloc(n, sizeof *taken_gal);
    if (!taken_gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_booking_terms(w->contract, &m->calm, &terms, taken_gal, &why);
    if (code == TH_OK) {
        code = th_booking_best(n, taken_gal, &terms, &w->formula_gal, &why);
        w->has_formula = code == TH_OK;
    }
    free(taken_gal);
    return code == TH_ERR_MEMORY ? th_fail(err, code, "out of memory") : TH_OK;
}

/* Up to a fifth more than the winter that takes the most, the whole rounded up to 500 gal. */
static double step_of(const struct th_plan_market *m)
{
    double most_gal = 0.0;
    for (size_t w = 0; w < m->paths.n_winters; w++) {
        double gal = 0.0;
        for (size_t i = 0; i < m->winters[w].n; i++)
            gal += m->winters[w].deliveries[i].gal;
        most_gal = fmax(most_gal, gal);
    }
    return 500.0 * ceil(1.2 * most_gal / 500.0) / (TH_PLAN_VOLUMES - 1);
}

static enum th_code weigh(struct th_plan_weighed *w, const struct th_plan *plan,
                          const struct th_plan_market *m, struct th_error *err)
{
    double volumes[TH_PLAN_VOLUMES];
    for (size_t k = 0; k < TH_PLAN_VOLUMES; k++)
        volumes[k] = m->step_gal * (double)k;
    enum th_code code =
        th_contract_costs(w->contract, &m->calm, TH_PLAN_VOLUMES, volumes, w->costs, NULL, err);
    if (code != TH_OK)
        return code;
    w->choice = th_contract_choose(TH_PLAN_VOLUMES, w->costs);
    return add_formula(w, plan, m, err);
}

static void volume_table(struct th_report *report, const struct th_plan_weighed *w)
{
    char caption[128];
    snprintf(caption, sizeof caption, "What a season costs with so much of \"%s\" at $%.2f/gal",
             w->contract->name, w->contract->price_usd_gal);
    th_report_table(report, w->key, caption);
    for (size_t k = 0; k < TH_PLAN_VOLUMES; k++) {
        th_report_row(report);
        th_report_cell(report, "volume_gal", "On contract", "gal", TH_WHOLE,
                       th_number(w->costs[k].volume_gal));
        th_plan_cost_cells(report, &w->costs[k]);
    }
}

/* One column of the costs over the volume. */
static void cost_line(struct th_report *report, const struct th_plan_weighed *w, enum th_ink ink,
                      const char *label, size_t member)
{
    th_figure_mark(report, TH_MARK_LINE, ink, label);
    for (size_t k = 0; k < TH_PLAN_VOLUMES; k++)
        th_figure_point(report, w->costs[k].volume_gal,
                        *(const double *)((const char *)&w->costs[k] + member));
}

static void volume_figure(struct th_report *report, const struct th_plan_weighed *w)
{
    char caption[160];
    snprintf(caption, sizeof caption, "What a season costs by the gallons taken from \"%s\"",
             w->contract->name);
    th_figure(report,
              &(struct th_figure){
                  .caption = caption,
                  .reading = "Where a line is flat, more or less makes no odds; "
                             "its lowest point is the cheapest volume.",
                  .along = {.unit = "gal", .label = "gallons on contract", .format = TH_WHOLE},
                  .value = {.unit = "$", .format = TH_SIG3}});
    cost_line(report, w, TH_INK_HEAT, "mean", offsetof(struct th_volume_cost, mean_usd));
    if (w->costs[0].winters.kind == TH_SPREAD_PERCENTILES) {
        cost_line(report, w, TH_INK_PLAIN, "nine cases in ten",
                  offsetof(struct th_volume_cost, p90_usd));
        cost_line(report, w, TH_INK_WARNING, "worst twentieth",
                  offsetof(struct th_volume_cost, cvar95_usd));
    } else if (w->costs[0].winters.n > 1) {
        cost_line(report, w, TH_INK_COLD, "cheapest season",
                  offsetof(struct th_volume_cost, winters.lowest));
        cost_line(report, w, TH_INK_WARNING, "dearest season",
                  offsetof(struct th_volume_cost, winters.highest));
    }
    th_figure_rule(report, TH_MARK_RULE_AT, "cheapest on average",
                   w->costs[w->choice.cheapest].volume_gal);
}

static void choice_table(struct th_report *report, const struct th_plan_weighed *all, int n)
{
    th_report_table(report, "choices", "How much to take");
    for (int i = 0; i < n; i++) {
        const struct th_plan_weighed *w = &all[i];
        const struct th_volume_choice *c = &w->choice;
        th_report_row(report);
        th_report_cell(report, "contract", "Offer", "", TH_PLAIN, th_text(w->contract->name));
        th_report_cell(report, "price_usd_gal", "Price", "$/gal", TH_HUNDREDTHS,
                       th_number(w->contract->price_usd_gal));
        th_report_cell(report, "cheapest_gal", "Cheapest on average", "gal", TH_WHOLE,
                       th_number(w->costs[c->cheapest].volume_gal));
        th_report_cell(report, "flat_low_gal", "As good from", "gal", TH_WHOLE,
                       th_number(c->flat_low_gal));
        th_report_cell(report, "flat_high_gal", "to", "gal", TH_WHOLE, th_number(c->flat_high_gal));
        th_report_cell(report, "cautious_gal", "Cautious", "gal", TH_WHOLE,
                       th_number_if(w->costs[0].winters.n > 1, w->costs[c->cautious].volume_gal));
        th_report_cell(report, "formula_gal", "By formula", "gal", TH_SIG3,
                       th_number_if(w->has_formula, w->formula_gal));
    }
}

static void explain_choices(struct th_report *report, const struct th_plan_market *m, size_t n)
{
    char step[TH_SHOWN_MAX];
    th_show_with_unit(step, th_number(m->step_gal), TH_WHOLE, "gal");
    th_report_paragraph(report, NULL,
                        "Volumes go in steps of %s. As good: the mean is within half a percent of "
                        "the lowest, so take what suits the tanks and the purse.",
                        step);
    if (n >= TH_SPREAD_PERCENTILES_FROM)
        th_report_paragraph(report, NULL,
                            "A cautious buyer minds the dearest twentieth of all cases and takes "
                            "the volume that costs least there.");
    else if (n > 1)
        th_report_paragraph(report, NULL,
                            "A cautious buyer minds a hard winter and takes the volume that costs "
                            "least in the dearest of the %zu seasons; a harder one can come.",
                            n);
}

static void explain_formula(struct th_report *report, size_t n)
{
    if (n >= TH_BOOKING_FIT_FROM)
        th_report_paragraph(
            report, NULL,
            "By formula is a cross-check of \"cheapest on average\": it differs because it takes "
            "gallons and price as smooth (lognormal) curves and every gallon too few or too many "
            "at the price of the window's last day, while the table buys each in its own month and "
            "goes in steps.");
    else
        th_report_paragraph(
            report, NULL,
            "By formula is a cross-check of \"cheapest on average\": with fewer than %d seasons it "
            "is the need of one of them, chosen by what a gallon too few and a gallon too many "
            "cost; it differs because it takes prices as no dearer in cold winters and the table "
            "goes in steps.",
            TH_BOOKING_FIT_FROM);
}

void th_plan_volumes(struct th_report *report, const struct th_plan *plan,
                     const struct th_plan_market *m)
{
    bool formula = false;
    if (m->n_weighed == 0)
        return;
    choice_table(report, m->weighed, m->n_weighed);
    explain_choices(report, m, (size_t)plan->demand.n_usable);
    for (int i = 0; i < m->n_weighed; i++)
        formula = formula || m->weighed[i].has_formula;
    if (formula)
        explain_formula(report, (size_t)plan->demand.n_usable);
    for (int i = 0; i < m->n_weighed; i++) {
        volume_table(report, &m->weighed[i]);
        volume_figure(report, &m->weighed[i]);
    }
}

enum th_code th_plan_weigh(struct th_plan_market *m, const struct th_plan *plan,
                           struct th_error *err)
{
    m->weighed = calloc(TH_CONTRACTS_MAX, sizeof *m->weighed);
    if (!m->weighed)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    m->step_gal = step_of(m);
    enum th_code code = TH_OK;
    for (int i = 0; i < plan->in->n_contracts && code == TH_OK; i++) {
        const struct th_contract *c = &plan->in->contracts[i];
        struct th_plan_weighed *w = &m->weighed[m->n_weighed];
        if (c->kind != TH_CONTRACT_PREPAID && c->kind != TH_CONTRACT_BOOKED)
            continue;
        w->contract = c;
        key_of(c, w->key);
        th_progress_step(plan->in->progress, "how much of %s", c->name);
        code = check_key(m->weighed, m->n_weighed, err);
        if (code == TH_OK)
            code = weigh(w, plan, m, err);
        m->n_weighed += code == TH_OK;
    }
    return code;
}

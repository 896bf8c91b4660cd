/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much to book of a contract: a sweep over volumes, and the formula beside it. */
#include "plan_volumes.h"

#include "display.h"
#include "outlook_text.h"
#include "figure.h"
#include "turnheat/booking.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

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
    th_report_cell(report, "p50_usd", "Middle case", "$", TH_SIG3,
                   th_number_if(many, cost->p50_usd));
    th_report_cell(report, "p90_usd", "Nine cases in ten", "$", TH_SIG3,
                   th_number_if(many, cost->p90_usd));
    th_report_cell(report, "cvar95_usd", "Worst twentieth", "$", TH_SIG3,
                   th_number_if(many, cost->cvar95_usd));
}

static void volume_rows(struct th_report *report, const struct th_plan_volume *v)
{
    for (size_t k = 0; k < TH_PLAN_VOLUMES; k++) {
        th_report_row(report);
        th_report_cell(report, "contract", "Offer", "", TH_PLAIN, th_text(v->contract->name));
        th_report_cell(report, "price_usd_gal", "Price", "$/gal", TH_HUNDREDTHS,
                       th_number(v->contract->price_usd_gal));
        th_report_cell(report, "volume_gal", "On contract", "gal", TH_WHOLE,
                       th_number(v->costs[k].volume_gal));
        th_plan_cost_cells(report, &v->costs[k]);
    }
}

/* One column of the costs over the volume. */
static void cost_line(struct th_report *report, const struct th_plan_volume *v, enum th_ink ink,
                      const char *label, size_t member)
{
    th_figure_mark(report, TH_MARK_LINE, ink, label);
    for (size_t k = 0; k < TH_PLAN_VOLUMES; k++)
        th_figure_point(report, v->costs[k].volume_gal,
                        *(const double *)(const void *)((const char *)&v->costs[k] + member));
}

static void volume_figure(struct th_report *report, const struct th_plan_volume *v)
{
    char caption[160];
    snprintf(caption, sizeof caption, "What a season costs by the gallons taken from \"%s\"",
             v->contract->name);
    th_figure(report,
              &(struct th_figure){
                  .caption = caption,
                  .reading = "Where a line is flat, a few gallons more or less hardly matter; "
                             "its lowest point is the cheapest volume.",
                  .along = {.unit = "gal", .label = "gallons on contract", .format = TH_WHOLE},
                  .value = {.unit = "$", .format = TH_SIG3}});
    cost_line(report, v, TH_INK_HEAT, "mean", offsetof(struct th_volume_cost, mean_usd));
    if (v->costs[0].winters.kind == TH_SPREAD_PERCENTILES) {
        cost_line(report, v, TH_INK_PLAIN, "nine cases in ten",
                  offsetof(struct th_volume_cost, p90_usd));
        cost_line(report, v, TH_INK_WARNING, "worst twentieth",
                  offsetof(struct th_volume_cost, cvar95_usd));
    } else if (v->costs[0].winters.n > 1) {
        cost_line(report, v, TH_INK_COLD, "cheapest season",
                  offsetof(struct th_volume_cost, winters.lowest));
        cost_line(report, v, TH_INK_WARNING, "dearest season",
                  offsetof(struct th_volume_cost, winters.highest));
    }
    th_figure_rule(report, TH_MARK_RULE_AT, "cheapest on average",
                   v->costs[v->choice.cheapest].volume_gal);
    if (v->contract->volume_gal > 0.0)
        th_figure_rule(report, TH_MARK_RULE_AT, "as offered", v->contract->volume_gal);
}

static void choice_table(struct th_report *report, const struct th_plan_buying *buying)
{
    th_report_table(report, "choices", buying->n_volumes > 0 ? "Each as the only offer" : NULL);
    for (int i = 0; i < buying->n_volumes; i++) {
        const struct th_plan_volume *v = &buying->volumes[i];
        const struct th_volume_choice *c = &v->choice;
        th_report_row(report);
        th_report_cell(report, "contract", "Offer", "", TH_PLAIN, th_text(v->contract->name));
        th_report_cell(report, "price_usd_gal", "Price", "$/gal", TH_HUNDREDTHS,
                       th_number(v->contract->price_usd_gal));
        th_report_cell(report, "cheapest_gal", "Cheapest on average", "gal", TH_WHOLE,
                       th_number(v->costs[c->cheapest].volume_gal));
        th_report_cell(report, "flat_low_gal", "As good from", "gal", TH_WHOLE,
                       th_number(c->flat_low_gal));
        th_report_cell(report, "flat_high_gal", "to", "gal", TH_WHOLE, th_number(c->flat_high_gal));
        th_report_cell(report, "cautious_gal", "Cautious", "gal", TH_WHOLE,
                       th_number_if(v->costs[0].winters.n > 1, v->costs[c->cautious].volume_gal));
        th_report_cell(report, "formula_gal", "By formula", "gal", TH_SIG3,
                       th_number_if(v->has_formula, v->formula_gal));
    }
}

/* Whether some offer is sold in other steps. */
static bool any_bound(const struct th_plan_buying *buying)
{
    for (int i = 0; i < buying->n_volumes; i++)
        if (buying->volumes[i].contract->least_gal > 0.0 ||
            buying->volumes[i].contract->most_gal > 0.0)
            return true;
    return false;
}

static void explain_choices(struct th_report *report, const struct th_plan *plan)
{
    const struct th_plan_buying *const buying = &plan->buying;
    const size_t n = (size_t)plan->demand.n_usable;
    char shown[TH_SHOWN_MAX], step[TH_SHOWN_MAX + 64];
    th_show_with_unit(shown, th_number(buying->step_gal), TH_WHOLE, "gal");
    snprintf(step, sizeof step, "%s%s", shown,
             any_bound(buying) ? ", or ten within what an offer is sold in" : "");
    th_report_paragraph(
        report, NULL,
        "Each offer as if it were the only one, and the barns %s: a check "
        "of the table above, which weighs all together. Volumes go in steps of %s. As good: the "
        "mean is within half a percent of "
        "the lowest, so take what suits the tanks and the purse.",
        th_barns_text(plan->learnt), step);
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

void th_plan_volumes(struct th_report *report, const struct th_plan *plan)
{
    const struct th_plan_buying *buying = &plan->buying;
    bool formula = false;
    choice_table(report, buying);
    if (buying->n_volumes > 0)
        explain_choices(report, plan);
    for (int i = 0; i < buying->n_volumes; i++)
        formula = formula || buying->volumes[i].has_formula;
    if (formula)
        explain_formula(report, (size_t)plan->demand.n_usable);
    th_report_table(report, "volumes",
                    buying->n_volumes > 0 ? "What a season costs with so much on contract" : NULL);
    for (int i = 0; i < buying->n_volumes; i++)
        volume_rows(report, &buying->volumes[i]);
    for (int i = 0; i < buying->n_volumes; i++)
        volume_figure(report, &buying->volumes[i]);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much to take of each offer, weighed together. */
#include "plan_split.h"

#include "display.h"
#include "figure.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Of what an offer is written for: no more than this above it needs no asking. */
#define ASK_SHARE 0.01
#define TIED_MAX (2 * TH_SHOWN_MAX + 80)

const char *th_plan_unused_text(const struct th_contract *c, char text[TH_UNUSED_TEXT_MAX])
{
    const bool prepaid = c->kind == TH_CONTRACT_PREPAID;
    if (c->kind == TH_CONTRACT_SPOT || c->kind == TH_CONTRACT_CAPPED)
        return "nothing is owed";
    switch (c->settle) {
    case TH_SETTLE_NONE:
        return prepaid ? "the money is lost" : "nothing is owed";
    case TH_SETTLE_MARKET:
        return prepaid ? "paid back at the lower of contract and market price"
                       : "the price above the market's is owed";
    case TH_SETTLE_TAKE:
        snprintf(text, TH_UNUSED_TEXT_MAX,
                 prepaid ? "money for %.0f %% is kept, the rest comes back"
                         : "%.0f %% must be taken or paid",
                 100.0 * c->take_share);
        return text;
    case TH_SETTLE_ROLL_DOLLARS:
        return "the dollars count next time";
    case TH_SETTLE_ROLL_GALLONS:
        return "the gallons count next time";
    case TH_SETTLE_REFUND:
        snprintf(text, TH_UNUSED_TEXT_MAX, "refunded less %.0f %%", 100.0 * c->refund_fee_share);
        return text;
    }
    return "";
}

/* A cap on every gallon has no number: null to machines. */
static struct th_value volume(double gal)
{
    return isfinite(gal) ? th_number(gal) : th_no_number("all");
}

static void offer_rows(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    th_report_table(report, "split", "How much of each, weighed together");
    for (size_t k = 0; k < a->n_offers; k++) {
        const struct th_contract *c = &plan->in->contracts[k];
        const bool spot = c->kind == TH_CONTRACT_SPOT;
        char text[TH_UNUSED_TEXT_MAX];
        th_report_row(report);
        th_report_cell(report, "contract", "Offer", "", TH_PLAIN, th_text(c->name));
        th_report_cell(report, "offered_gal", "Offered", "gal", TH_SIG3,
                       c->volume_gal > 0.0 ? th_number(c->volume_gal) : th_missing());
        th_report_cell(report, "cheapest_gal", "Cheapest", "gal", TH_SIG3,
                       volume(a->cheapest.volume_gal[k]));
        th_report_cell(report, "between_gal", "Between", "gal", TH_SIG3,
                       volume(a->between.volume_gal[k]));
        th_report_cell(report, "cautious_gal", "Cautious", "gal", TH_SIG3,
                       volume(a->cautious.volume_gal[k]));
        th_report_cell(report, "fails_usd", "Lost if it fails", "$", TH_SIG3,
                       th_number_if(!spot, a->fails_usd[k]));
        th_report_cell(report, "unused", "Gallons not taken", "", TH_PLAIN,
                       th_text(spot ? "buys what the others leave" : th_plan_unused_text(c, text)));
    }
}

static void way_row(struct th_report *report, const char *way, const struct th_split *split)
{
    th_report_row(report);
    th_report_cell(report, "way", "Way", "", TH_PLAIN, th_text(way));
    th_report_cell(report, "mean_usd", "Mean", "$", TH_SIG3, th_number(split->mean_usd));
    th_report_cell(report, "bad_usd", "Bad case", "$", TH_SIG3, th_number(split->bad_usd));
    th_report_cell(report, "early_usd", "Paid early", "$", TH_SIG3, th_number(split->early_usd));
    th_report_cell(report, "covered_pct", "Under contract", "%", TH_WHOLE,
                   th_number(100.0 * split->covered));
    th_report_cell(report, "left_gal", "Left over, mean", "gal", TH_SIG3,
                   th_number(split->left_gal));
}

/* What is given up when one supplier brings it all, and the price at which contracts stop paying.
 */
static void alone_table(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    const bool breaks = isfinite(a->break_even_usd_gal);
    char mean[TH_SHOWN_MAX], even[TH_SHOWN_MAX];
    th_report_table(report, "alone", "All from one");
    for (size_t k = 0; k < a->n_offers; k++) {
        const struct th_split *one = &a->alone[k];
        const bool spot = plan->in->contracts[k].kind == TH_CONTRACT_SPOT;
        th_report_row(report);
        th_report_cell(report, "contract", "Offer", "", TH_PLAIN,
                       th_text(plan->in->contracts[k].name));
        th_report_cell(report, "volume_gal", "Of it", "gal", TH_SIG3,
                       spot ? th_no_number("all") : volume(one->volume_gal[k]));
        th_report_cell(report, "mean_usd", "Mean", "$", TH_SIG3, th_number(one->mean_usd));
        th_report_cell(report, "bad_usd", "Bad case", "$", TH_SIG3, th_number(one->bad_usd));
        th_report_cell(report, "regret_usd", "Dearer than the cheapest way by", "$", TH_SIG3,
                       th_number(fmax(th_split_regret_usd(a, k), 0.0)));
    }
    th_report_fact(report, "posted_usd_gal", NULL, "$/gal", TH_HUNDREDTHS,
                   th_number(a->posted_usd_gal));
    th_report_fact(report, "break_even_usd_gal", NULL, "$/gal", TH_HUNDREDTHS,
                   th_number_if(breaks, a->break_even_usd_gal));
    if (breaks)
        th_report_paragraph(
            report, NULL,
            "The cheapest way no longer pays on average where posted prices come to "
            "%s a gallon over the season; in these cases they come to %s.",
            th_show_with_unit(even, th_number(a->break_even_usd_gal), TH_HUNDREDTHS, "$"),
            th_show_with_unit(mean, th_number(a->posted_usd_gal), TH_HUNDREDTHS, "$"));
}

static const char *bad_name(const struct th_plan *plan)
{
    return plan->answer.now.kind == TH_RANGE_P10_P90 ? "the dearest tenth of all cases"
                                                     : "the dearest of these winters";
}

static bool same(const struct th_split_advice *a)
{
    return a->none.mean_usd - a->cheapest.mean_usd <=
           fmax(TH_SPLIT_SAME_SHARE * a->cheapest.mean_usd, 2.0 * a->mean_error_usd);
}

static bool any_at_end(const struct th_split_advice *a)
{
    bool any = false;
    for (size_t k = 0; k < a->n_offers; k++)
        any |= a->cheapest.at_end[k] || a->between.at_end[k];
    return any;
}

static void explain(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    char shown[TH_SHOWN_MAX];
    th_report_paragraph(
        report, NULL,
        "Every offer is weighed with the others over %s cases: winters, farms "
        "that fit what is known, and prices. Bad case: the mean in %s. Between: the "
        "least bad case among those whose mean is within 2 %% of the cheapest.",
        th_show(shown, th_number((double)a->n_cases), TH_WHOLE), bad_name(plan));
    if (same(a))
        th_report_paragraph(report, NULL,
                            "On average there is no difference between buying as you go and the "
                            "cheapest way: choose by the bad case and by cash.");
    th_report_paragraph(
        report, NULL,
        "No more is bought ahead in all than %s, what is delivered in %s. What rolls into the next "
        "season counts as the lower of what it cost and the posted price, less the interest until "
        "it is used. Volumes are rounded to 100 gal where a farm takes 4,000 or more.",
        th_show_with_unit(shown, th_number(a->search_gal), TH_SIG3, "gal"), bad_name(plan));
    if (any_at_end(a))
        th_report_warning(report,
                          "What is bought ahead ends at %s, what %s takes: on paper the terms make "
                          "unused gallons "
                          "cheap. Read what becomes of them before you sign for more than you use.",
                          th_show_with_unit(shown, th_number(a->search_gal), TH_SIG3, "gal"),
                          bad_name(plan));
    th_report_paragraph(
        report, NULL,
        "Prepaid money is normally an unsecured claim on the supplier: ask whether it is held in "
        "trust, bonded or backed by gas. A contract fixes a price, not supply. Lost if it fails: "
        "what the cheapest way pays more on average when that supplier brings and pays nothing "
        "from 1 January on, and the gallons are bought at the posted price, if they can be had.");
}

/* "14,000 gal of prepaid and 6,000 gal of booked". */
static void volumes_text(const struct th_plan *plan, const struct th_split *split, char *text,
                         size_t room)
{
    size_t n = 0;
    int parts = 0;
    text[0] = '\0';
    for (size_t k = 0; k < plan->buying.split.n_offers && n < room; k++) {
        char shown[TH_SHOWN_MAX];
        if (!(split->volume_gal[k] > 0.0))
            continue;
        if (isfinite(split->volume_gal[k]))
            th_show_with_unit(shown, th_number(split->volume_gal[k]), TH_SIG3, "gal");
        else
            snprintf(shown, sizeof shown, "all gallons");
        snprintf(text + n, room - n, "%s%s of %s", parts++ > 0 ? " and " : "", shown,
                 plan->in->contracts[k].name);
        n = strlen(text);
    }
    if (parts == 0)
        snprintf(text, room, "nothing under contract");
}

/* More of an offer than is written down has to be asked for. */
static void ask_lines(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    for (size_t k = 0; k < a->n_offers; k++) {
        const struct th_contract *c = &plan->in->contracts[k];
        const double more_gal = a->cheapest.volume_gal[k] - c->volume_gal;
        char offered[TH_SHOWN_MAX];
        if (!(c->volume_gal > 0.0) || !(more_gal > ASK_SHARE * c->volume_gal))
            continue;
        th_report_line(report, "That is more of %s than the %s offered%s", c->name,
                       th_show_with_unit(offered, th_number(c->volume_gal), TH_SIG3, "gal"),
                       c->most_gal > 0.0
                           ? ", within the most that is sold: ask for that."
                           : ": ask for more. If no more is to be had, give that as the most "
                             "that is sold (most, in its [contract]) and plan again.");
    }
}

/* "7,720 gal are left over on average, $31,700 is paid at signing". */
static void tied_text(char text[TIED_MAX], const struct th_split *split)
{
    char left[TH_SHOWN_MAX], early[TH_SHOWN_MAX];
    th_show_with_unit(left, th_number(split->left_gal), TH_SIG3, "gal");
    th_show_with_unit(early, th_number(split->early_usd), TH_SIG3, "$");
    snprintf(text, TIED_MAX, "%s%s left over on average, %s is paid at signing",
             split->left_gal < 0.5 ? "nothing" : left, split->left_gal < 0.5 ? " is" : " are",
             split->early_usd < 0.5 ? "nothing" : early);
}

/* What is tied up in the way advised, and what becomes of it, offer by offer. */
static void tied_lines(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    char tied[TIED_MAX], unused[TH_UNUSED_TEXT_MAX], fails[TH_SHOWN_MAX];
    if (a->cheapest.left_gal < 0.5 && a->cheapest.early_usd < 0.5)
        return;
    tied_text(tied, &a->cheapest);
    th_report_line(report, "So taken, %s.", tied);
    for (size_t k = 0; k < a->n_offers; k++) {
        const struct th_contract *c = &plan->in->contracts[k];
        if (c->kind == TH_CONTRACT_SPOT || !(a->cheapest.volume_gal[k] > 0.0) ||
            !isfinite(a->cheapest.volume_gal[k]))
            continue;
        th_show_with_unit(fails, th_number(a->fails_usd[k]), TH_SIG3, "$");
        th_report_line(
            report, "It hangs on what becomes of %s that is not taken: %s%s%s%s.", c->name,
            th_plan_unused_text(c, unused), a->fails_usd[k] < 0.5 ? "" : "; ",
            a->fails_usd[k] < 0.5 ? "" : fails,
            a->fails_usd[k] < 0.5 ? "" : " is lost on average if its supplier fails on 1 January");
    }
}

static bool same_volumes(const struct th_split_advice *a)
{
    for (size_t k = 0; k < a->n_offers; k++) {
        const double one = a->cheapest.volume_gal[k], other = a->between.volume_gal[k];
        if (one != other && !(fabs(one - other) <= ASK_SHARE * fmax(one, other)))
            return false;
    }
    return true;
}

/* The other way to choose, where it is another. */
static void guard_line(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    char text[400], mean[TH_SHOWN_MAX], bad[TH_SHOWN_MAX], tied[TIED_MAX];
    if (same_volumes(a) || plan->demand.n_usable == 1)
        return;
    volumes_text(plan, &a->between, text, sizeof text);
    th_show_with_unit(mean, th_number(a->between.mean_usd), TH_SIG3, "$");
    th_show_with_unit(bad, th_number(a->between.bad_usd), TH_SIG3, "$");
    tied_text(tied, &a->between);
    th_report_line(report, "To guard against %s one takes %s: %s a season on average, %s then; %s.",
                   bad_name(plan), text, mean, bad, tied);
}

void th_plan_split_line(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    char text[400], mean[TH_SHOWN_MAX], bad[TH_SHOWN_MAX], none[TH_SHOWN_MAX],
        none_bad[TH_SHOWN_MAX];
    if (!plan->buying.has_split)
        return;
    volumes_text(plan, &a->cheapest, text, sizeof text);
    th_show_with_unit(mean, th_number(a->cheapest.mean_usd), TH_SIG3, "$");
    th_show_with_unit(bad, th_number(a->cheapest.bad_usd), TH_SIG3, "$");
    if (plan->demand.n_usable == 1)
        th_report_line(report, "Take %s: %s a season on average; bought as you go %s.", text, mean,
                       th_show_with_unit(none, th_number(a->none.mean_usd), TH_SIG3, "$"));
    else
        th_report_line(
            report, "Take %s: %s a season on average, %s in %s; bought as you go it is %s and %s.",
            text, mean, bad, bad_name(plan),
            th_show_with_unit(none, th_number(a->none.mean_usd), TH_SIG3, "$"),
            th_show_with_unit(none_bad, th_number(a->none.bad_usd), TH_SIG3, "$"));
    ask_lines(report, plan);
    tied_lines(report, plan);
    guard_line(report, plan);
}

/* What the ways cost, on average and in the bad case. */
static void ways_figure(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    const struct {
        const char *name;
        const struct th_split *split;
    } ways[] = {{"bought as you go", &a->none},
                {"all as written", &a->as_written},
                {"cheapest", &a->cheapest},
                {"between", &a->between},
                {"cautious", &a->cautious}};
    const bool has_bad = plan->demand.n_usable > 1;
    char reading[200];
    snprintf(reading, sizeof reading, "Dollars a season. Dot: the mean of all cases.%s%s%s",
             has_bad ? " Line: up to the mean in " : "", has_bad ? bad_name(plan) : "",
             has_bad ? "." : "");
    th_figure(report, &(struct th_figure){.caption = "What a season costs by the way it is bought",
                                          .reading = reading,
                                          .along = {.kind = TH_AXIS_NAMES_DOWN},
                                          .value = {.unit = "$", .format = TH_SIG3}});
    for (int i = 0; i < (int)(sizeof ways / sizeof *ways); i++) {
        th_figure_name(report, ways[i].name);
        if (has_bad) {
            th_figure_mark(report, TH_MARK_BAND, TH_INK_HEAT, NULL);
            th_figure_span(report, i, ways[i].split->mean_usd, ways[i].split->bad_usd);
        }
        th_figure_mark(report, TH_MARK_DOT, TH_INK_HEAT, NULL);
        th_figure_point(report, i, ways[i].split->mean_usd);
    }
}

void th_plan_split_tables(struct th_report *report, const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    if (!plan->buying.has_split)
        return;
    offer_rows(report, plan);
    th_report_table(report, "split_cost", "What a season then costs");
    way_row(report, "bought as you go", &a->none);
    way_row(report, "all as written", &a->as_written);
    way_row(report, "cheapest", &a->cheapest);
    way_row(report, "between", &a->between);
    way_row(report, "cautious", &a->cautious);
    alone_table(report, plan);
    ways_figure(report, plan);
    explain(report, plan);
}

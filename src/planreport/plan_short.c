/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a plan comes to, in a few lines to take to the supplier. */
#include "plan_short.h"

#include "display.h"
#include "outlook_text.h"
#include "season_text.h"
#include "turnheat/ahead.h"
#include "turnheat/calendar.h"

#include <math.h>
#include <stdio.h>

/* A lower level is next to empty. */
#define NEARLY_DRY_SHARE 0.05

static void gal_text(char text[TH_SHOWN_MAX], double gal, enum th_format format)
{
    th_show_with_unit(text, th_number(gal), format, "gal");
}

static void trucks(struct th_report *report, const struct th_plan *plan, const struct th_spread *s)
{
    const bool many = s->kind == TH_SPREAD_PERCENTILES;
    const char *const barns = th_barns_text(plan->learnt);
    char low[TH_SHOWN_MAX], middle[TH_SHOWN_MAX], high[TH_SHOWN_MAX];
    gal_text(low, many ? s->p10 : s->lowest, TH_SIG3);
    gal_text(middle, many ? s->p50 : s->middle, TH_SIG3);
    gal_text(high, many ? s->p90 : s->highest, TH_SIG3);
    if (many)
        th_report_item(report,
                       "To be delivered from July to June, the barns %s: %s in a middle winter, %s "
                       "or less in one of ten, %s or more in one of ten.",
                       barns, middle, low, high);
    else if (s->n > 1)
        th_report_item(report,
                       "To be delivered from July to June, the barns %s: %s in the middle "
                       "one of %zu winters, %s in the one that took least, %s in the one that took "
                       "most.",
                       barns, middle, s->n, low, high);
    else
        th_report_item(report,
                       "To be delivered from July to June, the barns %s: %s, by one %s "
                       "weather.",
                       barns, middle, plan->demand.typical ? "typical year's" : "winter's");
}

/* The month that takes most on average. */
static void month(struct th_report *report, const struct th_ahead *season)
{
    const struct th_ahead_month *most = &season->months[0];
    char text[TH_SHOWN_MAX];
    for (int m = 1; m < season->n_months; m++)
        if (season->months[m].used_gal.mean > most->used_gal.mean)
            most = &season->months[m];
    gal_text(text, most->used_gal.mean, TH_SIG3);
    th_report_item(report, "Most is used in %s: %s on average.", th_month_in_prose(most->month),
                   text);
}

static void take(struct th_report *report, const struct th_plan_volume *v)
{
    const struct th_volume_choice *c = &v->choice;
    const double cautious_gal = v->costs[c->cautious].volume_gal;
    char low[TH_SHOWN_MAX], high[TH_SHOWN_MAX], text[160] = "";
    gal_text(low, c->flat_low_gal, TH_WHOLE);
    gal_text(high, c->flat_high_gal, TH_WHOLE);
    if (v->costs[0].winters.n > 1 && c->cautious != c->cheapest) {
        char shown[TH_SHOWN_MAX];
        gal_text(shown, cautious_gal, TH_WHOLE);
        snprintf(text, sizeof text, "; a cautious buyer takes %s", shown);
    }
    if (c->cheapest == 0)
        th_report_item(report, "\"%s\" at $%.2f/gal: cheapest on average is to take none%s.",
                       v->contract->name, v->contract->price_usd_gal, text);
    else if (c->flat_high_gal > c->flat_low_gal)
        th_report_item(report, "\"%s\" at $%.2f/gal: cheapest on average anywhere from %s to %s%s.",
                       v->contract->name, v->contract->price_usd_gal, low, high, text);
    else
        th_report_item(report, "\"%s\" at $%.2f/gal: cheapest on average near %s%s.",
                       v->contract->name, v->contract->price_usd_gal, low, text);
}

static double least_reserve(const struct th_plan *plan)
{
    double share = 1.0;
    for (int i = 0; i < plan->in->n_tanks; i++)
        share = fmin(share, plan->in->tanks[i].reserve_share);
    return share;
}

/* How far the tanks fall when trucks are ordered so. */
static void lowest(struct th_report *report, const struct th_plan *plan)
{
    const double reserve = least_reserve(plan);
    double low = 1.0;
    int dry = 0, touched = 0;
    for (int y = 0; y < plan->demand.n; y++) {
        const struct th_tank_year *t = &plan->tank_years[y];
        if (!plan->demand.years[y].usable)
            continue;
        dry += t->run_out_days > 0;
        touched += t->lowest_share < reserve;
        low = fmin(low, t->lowest_share);
    }
    if (plan->in->n_tanks == 0 || dry > 0)
        return;
    if (touched == 0)
        th_report_item(report,
                       "Ordered so, no winter looked at touches the reserve of %.0f %%; the lowest "
                       "level is %.0f %%.",
                       100.0 * reserve, 100.0 * low);
    else
        th_report_item(report,
                       "Ordered so, the tanks fall below the reserve of %.0f %% in %d of %d "
                       "winter%s, to %.0f %% at the lowest: %s.",
                       100.0 * reserve, touched, plan->demand.n_usable,
                       plan->demand.n_usable == 1 ? "" : "s", 100.0 * low,
                       low < NEARLY_DRY_SHARE
                           ? "nearly empty, so order earlier before and in the cold"
                           : "order earlier before a cold spell");
}

static void order(struct th_report *report, const struct th_plan *plan)
{
    for (int i = 0; i < plan->in->n_tanks; i++) {
        const struct th_tank *t = &plan->in->tanks[i];
        char text[TH_SHOWN_MAX];
        gal_text(text, plan->reorder_gal[i], TH_SIG3);
        th_report_item(report, "Order when the gauge of \"%s\" is down to %.0f %% (%s).", t->name,
                       100.0 * plan->reorder_gal[i] / (t->count * t->capacity_gal), text);
    }
    lowest(report, plan);
}

enum th_code th_plan_short(struct th_report *report, const struct th_plan *plan,
                           struct th_error *err)
{
    struct th_spread delivered;
    const enum th_code code = th_plan_spread(plan, th_plan_delivered_gal, 0, &delivered, err);
    if (code != TH_OK)
        return code;
    th_report_section(report, "short", "In short");
    trucks(report, plan, &delivered);
    month(report, plan->season);
    for (int i = 0; i < plan->buying.n_volumes && !plan->buying.has_split; i++)
        take(report, &plan->buying.volumes[i]);
    order(report, plan);
    return TH_OK;
}

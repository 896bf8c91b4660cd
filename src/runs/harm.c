/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/harm.h"

#include "turnheat/sizing.h"
#include "turnheat/units.h"

#include <math.h>
#include <stddef.h>

/* Limits of what a change may add besides TH_HARM_UNMET_H; all our judgement. */
#define AIR_H_A_TURN 24.0
#define YOUNG_KH (1.0 * TH_K_PER_F)
#define LATER_KH (24.0 * TH_K_PER_F)
/* Of what the barn as it is bears in its worst winter: less than can be told in it. */
#define TRIFLE_SHARE 0.05
/* Rounding, where equal numbers are meant. */
#define SAME 1e-9

struct th_hardship th_hardship_of(const struct th_season *season)
{
    struct th_hardship worst = {.unmet_h = season->total.sum[TH_UNMET]};
    for (int i = 0; i < season->n_turns; i++) {
        const double *sum = season->turns[i].total.sum;
        worst.co2_h = fmax(worst.co2_h, sum[TH_OVER_CO2_DESIGN]);
        worst.worker_h = fmax(worst.worker_h, sum[TH_OVER_CO2_WORKER]);
        worst.rh_h = fmax(worst.rh_h, sum[TH_OVER_RH]);
        worst.young_kh = fmax(worst.young_kh, sum[TH_COLD_YOUNG_KH]);
        worst.later_kh = fmax(worst.later_kh, sum[TH_COLD_KH]);
        worst.deep_h = fmax(worst.deep_h, sum[TH_COLD_DEEP]);
    }
    return worst;
}

/* Item by item the larger of `most` and what `b` has more than `a`. */
static void keep_more(struct th_hardship *most, const struct th_hardship *a,
                      const struct th_hardship *b)
{
    most->unmet_h = fmax(most->unmet_h, b->unmet_h - a->unmet_h);
    most->co2_h = fmax(most->co2_h, b->co2_h - a->co2_h);
    most->worker_h = fmax(most->worker_h, b->worker_h - a->worker_h);
    most->rh_h = fmax(most->rh_h, b->rh_h - a->rh_h);
    most->young_kh = fmax(most->young_kh, b->young_kh - a->young_kh);
    most->later_kh = fmax(most->later_kh, b->later_kh - a->later_kh);
    most->deep_h = fmax(most->deep_h, b->deep_h - a->deep_h);
}

struct th_hardship th_hardship_added(const struct th_hardship *base,
                                     const struct th_hardship *changed, int n)
{
    struct th_hardship added = {0};
    for (int i = 0; i < n; i++)
        keep_more(&added, &base[i], &changed[i]);
    return added;
}

struct th_hardship th_hardship_worst(const struct th_hardship *winters, int n)
{
    const struct th_hardship nothing = {0};
    struct th_hardship worst = {0};
    for (int i = 0; i < n; i++)
        keep_more(&worst, &nothing, &winters[i]);
    return worst;
}

static bool beyond(double added, double limit, double worst)
{
    return added > fmax(limit, TRIFLE_SHARE * worst);
}

enum th_harm th_harm_of(const struct th_hardship *added, const struct th_hardship *worst)
{
    if (beyond(added->unmet_h, TH_HARM_UNMET_H, worst->unmet_h))
        return TH_HARM_HEAT;
    if (beyond(added->co2_h, AIR_H_A_TURN, worst->co2_h) ||
        beyond(added->rh_h, AIR_H_A_TURN, worst->rh_h) ||
        beyond(added->worker_h, 0.0, worst->worker_h))
        return TH_HARM_AIR;
    if (beyond(added->young_kh, YOUNG_KH, worst->young_kh) ||
        beyond(added->later_kh, LATER_KH, worst->later_kh) ||
        beyond(added->deep_h, 0.0, worst->deep_h))
        return TH_HARM_COLD;
    return TH_HARM_NONE;
}

enum th_harm th_harm_between(const struct th_hardship *base, const struct th_hardship *changed,
                             int n, struct th_hardship *added)
{
    const struct th_hardship worst = th_hardship_worst(base, n);
    *added = th_hardship_added(base, changed, n);
    return th_harm_of(added, &worst);
}

bool th_heaters_fall_short(const struct th_room *base, double base_most_w,
                           const struct th_room *changed, double most_w)
{
    const double now_w = th_sizing_installed_w(base, NULL);
    const double then_w = th_sizing_installed_w(changed, NULL);
    const double spare_now = base_most_w > 0.0 ? now_w / base_most_w : INFINITY;
    const double spare_then = most_w > 0.0 ? then_w / most_w : INFINITY;
    return spare_then < 1.0 && spare_then < fmin(spare_now, 1.0) - SAME;
}

static bool less(double changed, double base)
{
    return changed < base * (1.0 - SAME);
}

static bool differs(double a, double b)
{
    return fabs(a - b) > SAME * fmax(fabs(a), fabs(b));
}

/* Straight between its points, a table lies below another only if it does at some point of either.
 */
static bool table_below(const struct th_table *changed, const struct th_table *base)
{
    for (int i = 0; i < base->n; i++)
        if (less(th_table_at(changed, base->x[i]), base->y[i]))
            return true;
    for (int i = 0; i < changed->n; i++)
        if (less(changed->y[i], th_table_at(base, changed->x[i])))
            return true;
    return false;
}

static bool tables_differ(const struct th_table *a, const struct th_table *b)
{
    bool differ = a->n != b->n || a->step != b->step;
    for (int i = 0; !differ && i < a->n; i++)
        differ = differs(a->x[i], b->x[i]) || differs(a->y[i], b->y[i]);
    return differ;
}

static bool ceilings_differ(const struct th_air *a, const struct th_air *b)
{
    return differs(a->rh_limit, b->rh_limit) || differs(a->co2_design_ppm, b->co2_design_ppm) ||
           differs(a->co2_worker_ppm, b->co2_worker_ppm) || (b->control_rh && !a->control_rh) ||
           (b->control_co2 && !a->control_co2);
}

static bool money_differs(const struct th_money *a, const struct th_money *b)
{
    return differs(a->electricity_j, b->electricity_j) || differs(a->discount, b->discount) ||
           differs(a->fuel_growth, b->fuel_growth) || a->years != b->years ||
           differs(a->payer_share, b->payer_share) || differs(a->loan_share, b->loan_share) ||
           differs(a->loan_rate, b->loan_rate) || a->loan_years != b->loan_years ||
           differs(a->inflation, b->inflation) || differs(a->tax_rate, b->tax_rate);
}

static bool turns_differ(const struct th_turn_plan *a, const struct th_turn_plan *b)
{
    bool differ = a->year != b->year || a->month != b->month || a->day != b->day ||
                  a->every_days != b->every_days || a->days != b->days ||
                  differs(a->head, b->head) || differs(a->weight_kg, b->weight_kg) ||
                  differs(a->wash_kg_m2, b->wash_kg_m2) || a->n_leaves != b->n_leaves;
    for (int i = 0; !differ && i < a->n_leaves; i++)
        differ = differs(a->leaves[i].day, b->leaves[i].day) ||
                 differs(a->leaves[i].share, b->leaves[i].share);
    return differ;
}

/* Spilled water apart: other drinkers change it. */
static bool pigs_differ(const struct th_room *a, const struct th_room *b)
{
    const struct th_pigs *p = &a->pigs, *q = &b->pigs;
    bool differ =
        p->growth != q->growth || tables_differ(&p->weight_kg, &q->weight_kg) ||
        differs(p->k_s, q->k_s) || differs(p->heat_factor, q->heat_factor) ||
        differs(p->humidity_factor, q->humidity_factor) || differs(p->activity, q->activity) ||
        differs(p->activity_hour, q->activity_hour) || differs(p->death_share, q->death_share) ||
        differs(p->co2_m3_h_kw, q->co2_m3_h_kw) || differs(a->spaces, b->spaces) ||
        a->n_turns != b->n_turns;
    for (int i = 0; !differ && i < a->n_turns; i++)
        differ = turns_differ(&a->turns[i], &b->turns[i]);
    return differ;
}

static bool place_differs(const struct th_site *a, const struct th_site *b)
{
    return differs(a->elevation_m, b->elevation_m) || a->has_latitude != b->has_latitude ||
           differs(a->latitude_deg, b->latitude_deg) ||
           differs(a->longitude_deg, b->longitude_deg) || differs(a->utc_offset_h, b->utc_offset_h);
}

static bool calibration_differs(const struct th_calibration *a, const struct th_calibration *b)
{
    return differs(a->ua_factor, b->ua_factor) || differs(a->air_factor, b->air_factor) ||
           differs(a->set_shift_k, b->set_shift_k);
}

static bool heaters_differ(const struct th_heater *a, const struct th_heater *b)
{
    return a->control != b->control || a->units != b->units || a->vented != b->vented ||
           a->pilot != b->pilot || differs(a->input_w, b->input_w) || differs(a->share, b->share) ||
           differs(a->on_k, b->on_k) || differs(a->off_k, b->off_k) ||
           differs(a->stagger_k, b->stagger_k) || differs(a->turndown, b->turndown) ||
           differs(a->band_k, b->band_k) || differs(a->pilot_w, b->pilot_w) ||
           differs(a->blower_w, b->blower_w);
}

static bool zones_differ(const struct th_zone *a, const struct th_zone *b)
{
    return a->on != b->on ||
           (a->on && (differs(a->units, b->units) || differs(a->pigs_per_unit, b->pigs_per_unit) ||
                      differs(a->input_w, b->input_w) || differs(a->share, b->share) ||
                      differs(a->pilot_w, b->pilot_w) || differs(a->target_c, b->target_c) ||
                      differs(a->target_k_week, b->target_k_week) || differs(a->days, b->days) ||
                      differs(a->rise_k, b->rise_k) || differs(a->drop_k, b->drop_k) ||
                      differs(a->return_days, b->return_days)));
}

static bool set_points_differ(const struct th_setpoints *a, const struct th_setpoints *b)
{
    return a->by != b->by || tables_differ(&a->set_c, &b->set_c) ||
           differs(a->setback_k, b->setback_k) ||
           differs(a->setback_from_day, b->setback_from_day) ||
           a->setback_start_h != b->setback_start_h || a->setback_end_h != b->setback_end_h;
}

/* How fast the room answers, and the fan stage that throws out what its heaters overshoot. */
static bool answers_differ(const struct th_room *a, const struct th_room *b)
{
    const struct th_response *p = &a->response, *q = &b->response;
    const struct th_air *c = &a->air, *d = &b->air;
    return p->has_overshoot != q->has_overshoot || differs(p->air_capacity, q->air_capacity) ||
           differs(p->dead_time_s, q->dead_time_s) || differs(p->overshoot_k, q->overshoot_k) ||
           differs(p->overshoot_out_c, q->overshoot_out_c) || differs(p->factor, q->factor) ||
           differs(c->stage_full_m3_s, d->stage_full_m3_s) ||
           differs(c->stage_place_m3_s, d->stage_place_m3_s) ||
           differs(c->stage_factor, d->stage_factor) || differs(c->ramp_start_k, d->ramp_start_k) ||
           differs(c->ramp_band_k, d->ramp_band_k) || c->control_rh != d->control_rh ||
           c->control_co2 != d->control_co2;
}

bool th_change_of_heating(const struct th_room *base, const struct th_room *changed)
{
    bool differ =
        base->n_heaters != changed->n_heaters || zones_differ(&base->zone, &changed->zone) ||
        set_points_differ(&base->setpoints, &changed->setpoints) || answers_differ(base, changed);
    for (int i = 0; !differ && i < base->n_heaters; i++)
        differ = heaters_differ(&base->heaters[i], &changed->heaters[i]);
    return differ;
}

const char *th_change_refused(const struct th_room *base, const struct th_room *changed)
{
    const struct th_air *now = &base->air, *then = &changed->air;
    if (less(then->minimum_share, now->minimum_share) ||
        table_below(&then->minimum_m3_s, &now->minimum_m3_s))
        return "it lowers the minimum air that pigs and people breathe";
    if (less(changed->calibration.air_factor, base->calibration.air_factor))
        return "it lowers the air by a calibration, which is no change to the barn";
    if (less(then->burner_air_m3_s_w, now->burner_air_m3_s_w))
        return "it lowers the air that unvented burners need";
    if (ceilings_differ(then, now))
        return "it moves a ceiling of humidity or CO2 by which both are judged";
    if (tables_differ(&changed->setpoints.comfort_c, &base->setpoints.comfort_c))
        return "it moves the comfort limit by which both are judged";
    if (pigs_differ(base, changed))
        return "it changes the pigs or their turns, which are the same for every choice";
    if (place_differs(&base->site, &changed->site))
        return "it changes [site], which is the same for every choice";
    if (calibration_differs(&base->calibration, &changed->calibration))
        return "it changes [calibration], which is no change to the barn";
    if (changed->copies != base->copies)
        return "it changes the number of rooms; give the barn another file";
    if (money_differs(&changed->money, &base->money))
        return "it changes [money], which is the same for every choice";
    if (base->fuel.has_price && !changed->fuel.has_price)
        return "its fuel has no price";
    return NULL;
}

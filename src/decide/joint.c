/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/joint.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static enum th_code fill(struct th_joint *joint, const struct th_beside *beside,
                         const struct th_room *base, const struct th_beside_room *rooms,
                         struct th_error *err)
{
    double gas_j[TH_BESIDE_MAX];
    enum th_code code = TH_OK;
    for (size_t d = 0; d < joint->n && code == TH_OK; d++) {
        code = th_beside_gas_j(beside, d, gas_j, err);
        for (int k = 0; k < beside->n && code == TH_OK; k++)
            if (joint->units[k])
                joint->units[k][d] =
                    base->copies * th_units_as_dear(&base->fuel, &rooms[k].room->fuel, gas_j[k]);
    }
    return code;
}

static enum th_code make_room(struct th_joint *joint, const struct th_beside *beside,
                              struct th_error *err)
{
    joint->n = beside->outlook->n_draws;
    for (int k = 0; k < beside->n; k++) {
        if (!beside->surfaces[k].found)
            continue;
        joint->error = fmax(joint->error, beside->surfaces[k].surface.error);
        joint->units[k] = calloc(joint->n + 1, sizeof *joint->units[k]);
        if (!joint->units[k])
            return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    return TH_OK;
}

enum th_code th_joint_run(struct th_joint *joint, struct th_runs *runs,
                          const struct th_farms *farms, const struct th_room *base,
                          const struct th_beside_room *rooms, int n, struct th_error *err)
{
    *joint = (struct th_joint){0};
    if (!farms || !farms->drawn)
        return TH_OK;
    struct th_beside *const beside = calloc(1, sizeof *beside);
    if (!beside)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code =
        th_beside_init(beside, runs, &farms->outlook, farms->barn, farms->one, rooms, n, err);
    if (code == TH_OK)
        code = make_room(joint, beside, err);
    if (code == TH_OK)
        code = fill(joint, beside, base, rooms, err);
    th_beside_finish(beside);
    free(beside);
    return code;
}

void th_joint_finish(struct th_joint *joint)
{
    for (int i = 0; i < TH_BESIDE_MAX; i++)
        free(joint->units[i]);
    *joint = (struct th_joint){0};
}

double th_price_factor(int k)
{
    static const double factors[TH_FLIP_PRICES] = {0.6, 0.8, 1.0, 1.3, 1.7};
    return factors[k];
}

struct th_net th_net_of_one(double usd)
{
    return (struct th_net){.usd = usd,
                           .low_usd = usd,
                           .middle_usd = usd,
                           .high_usd = usd,
                           .case_low_usd = usd,
                           .case_high_usd = usd};
}

enum th_code th_joint_net_usd(const struct th_joint_pair *pair, double saved_units, double *usd,
                              struct th_error *err)
{
    struct th_outlay against = *pair->against, choice = *pair->choice;
    struct th_return result = {0};
    against.fuel_units_year = fmax(saved_units, 0.0);
    choice.fuel_units_year = fmax(-saved_units, 0.0);
    const enum th_code code = th_payback_compare(&against, &choice, pair->study, &result, err);
    *usd = result.net_usd;
    return code;
}

static enum th_code find_range(const struct th_joint *joint, const struct th_joint_pair *pair,
                               struct th_net *net, struct th_error *err)
{
    static const double shares[] = {0.1, 0.5, 0.9};
    double *const usd[] = {&net->low_usd, &net->middle_usd, &net->high_usd};
    double *const saved = malloc(joint->n * sizeof *saved);
    enum th_code code = TH_OK;
    if (!saved)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t d = 0; d < joint->n; d++)
        saved[d] = joint->units[pair->against_at][d] - joint->units[pair->choice_at][d];
    gsl_sort(saved, 1, joint->n);
    for (int k = 0; k < 3 && code == TH_OK; k++)
        code = th_joint_net_usd(
            pair, gsl_stats_quantile_from_sorted_data(saved, 1, joint->n, shares[k]), usd[k], err);
    free(saved);
    return code;
}

enum th_code th_joint_weigh(const struct th_joint *joint, const struct th_joint_pair *pair,
                            struct th_net *net, double *chance, struct th_error *err)
{
    const double *const against = joint->units[pair->against_at];
    const double *const choice = joint->units[pair->choice_at];
    double prices[TH_FLIP_PRICES];
    if (joint->n == 0 || !against || !choice)
        return TH_OK;
    net->drawn = true;
    for (int k = 0; k < TH_FLIP_PRICES; k++)
        prices[k] = th_price_factor(k) * pair->study->price_usd_unit;
    const enum th_code code = find_range(joint, pair, net, err);
    return code == TH_OK ? th_payback_chance(pair->against, pair->choice, pair->study, joint->n,
                                             against, choice, TH_FLIP_PRICES, prices, chance, err)
                         : code;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cases and what one set of volumes costs over them. */
#include "split_cases.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_taken(const struct th_contract *offer, double volume_gal)
{
    return offer->kind != TH_CONTRACT_SPOT && volume_gal > 0.0;
}

void th_split_set_of(const struct th_split_search *s, const double *volume_gal,
                     struct th_split_set *set)
{
    set->n = 0;
    for (size_t i = 0; i < s->n; i++) {
        const size_t k = s->order[i];
        if (!is_taken(&s->offers[k], volume_gal[k]))
            continue;
        set->offer[set->n] = k;
        set->volume_gal[set->n] = volume_gal[k];
        set->taken[set->n] = s->offers[k];
        /* A cap on every gallon is written as one without a volume. */
        set->taken[set->n++].volume_gal = isfinite(volume_gal[k]) ? volume_gal[k] : 0.0;
    }
}

/* Draws one offer's gallons from what the offers before it left of the deliveries. */
static void draw_offer(const struct th_split_days *days, size_t offer, double volume_gal,
                       double *left_gal, struct th_draw *draw)
{
    double room_gal = volume_gal;
    *draw = (struct th_draw){.end_period = days->end_period[offer]};
    for (size_t k = 0; k < days->n_inside[offer] && room_gal > 0.0; k++) {
        const size_t i = days->inside[offer][k];
        const double gal = left_gal[i] < room_gal ? left_gal[i] : room_gal;
        draw->contract_gal[days->period[i]] += gal;
        draw->taken_gal += gal;
        left_gal[i] -= gal;
        room_gal -= gal;
    }
}

double th_split_case_usd(const struct th_split_search *s, const struct th_split_set *set,
                         const struct th_split_case *one, struct th_split_sums *sums)
{
    const struct th_split_days *const days = &s->winters[one->winter];
    double left_gal[TH_SPLIT_DELIVERIES_MAX], usd = 0.0;
    for (size_t i = 0; i < days->n; i++)
        left_gal[i] = one->scale * days->gal[i];
    for (size_t i = 0; i < set->n; i++) {
        const size_t k = set->offer[i];
        const struct th_contract *const offer = &set->taken[i];
        struct th_draw draw;
        struct th_bill bill;
        draw_offer(days, k, set->volume_gal[i], left_gal, &draw);
        th_contract_bill(offer, &draw, one->posted_usd_gal, &bill);
        usd += bill.total_usd;
        if (sums->cash)
            th_split_pay(offer, &draw, one->posted_usd_gal, &bill, sums->cash);
        if (sums->fails_usd)
            sums->fails_usd[k] += th_contract_fails_usd(offer, &draw, one->posted_usd_gal, &bill);
        sums->covered_gal += draw.taken_gal;
        sums->left_gal += isfinite(set->volume_gal[i]) ? set->volume_gal[i] - draw.taken_gal : 0.0;
    }
    for (size_t i = 0; i < days->n; i++) {
        const double posted_usd = left_gal[i] * one->posted_usd_gal[days->period[i]];
        usd += posted_usd;
        if (sums->cash)
            sums->cash->month_usd[days->period[i] % TH_PRICE_MONTHS] += posted_usd;
    }
    return usd;
}

/* Mean of the highest tenth of the first `n` of `usd`, or of the highest winter. */
static double bad_case(const struct th_split_search *s, size_t n)
{
    const size_t winters = s->market->market.paths->n_winters;
    double dearest = -HUGE_VAL;
    if (s->market->enough_winters)
        return th_spread_worst(n, s->usd, TH_SPLIT_BAD_SHARE);
    for (size_t w = 0; w < winters; w++) {
        double sum = 0.0, count = 0.0;
        for (size_t i = 0; i < n; i++)
            if (s->cases[i].winter == w) {
                sum += s->usd[i];
                count += 1.0;
            }
        if (count > 0.0)
            dearest = fmax(dearest, sum / count);
    }
    return dearest;
}

static double early_usd(const struct th_split_search *s, const double *volume_gal)
{
    double usd = 0.0;
    for (size_t k = 0; k < s->n; k++)
        if (is_taken(&s->offers[k], volume_gal[k]))
            usd += th_split_early_usd(&s->offers[k], volume_gal[k]);
    return usd;
}

static void weigh(const struct th_split_search *s, size_t n, const double *volume_gal,
                  struct th_split *split)
{
    struct th_split_sums sums = {0};
    struct th_split_set set;
    th_split_set_of(s, volume_gal, &set);
    *split = (struct th_split){0};
    memcpy(split->volume_gal, volume_gal, s->n * sizeof *volume_gal);
    for (size_t i = 0; i < n; i++) {
        s->usd[i] = th_split_case_usd(s, &set, &s->cases[i], &sums);
        sums.usd += s->usd[i];
    }
    const double all_gal = th_split_all_gal(s, n);
    split->mean_usd = sums.usd / (double)n;
    split->left_gal = sums.left_gal / (double)n;
    split->covered = all_gal > 0.0 ? sums.covered_gal / all_gal : 0.0;
    split->early_usd = early_usd(s, volume_gal);
    split->bad_usd = bad_case(s, n);
}

static const struct th_split *known(const struct th_split_search *s, const double *volume_gal)
{
    for (size_t i = 0; i < s->known->n; i++)
        if (memcmp(s->known->splits[i].volume_gal, volume_gal, s->n * sizeof *volume_gal) == 0)
            return &s->known->splits[i];
    return NULL;
}

/* Where memory is short it is weighed again. */
static void keep(struct th_split_known *known, const struct th_split *split)
{
    if (known->n == known->room) {
        const size_t room = known->room ? 2 * known->room : 64;
        struct th_split *const splits = realloc(known->splits, room * sizeof *splits);
        if (!splits)
            return;
        known->splits = splits;
        known->room = room;
    }
    known->splits[known->n++] = *split;
}

void th_split_weigh(const struct th_split_search *s, size_t n, const double *volume_gal,
                    struct th_split *split)
{
    const bool keeps = s->known && n == s->n_cases;
    const struct th_split *const found = keeps ? known(s, volume_gal) : NULL;
    if (found) {
        *split = *found;
        return;
    }
    weigh(s, n, volume_gal, split);
    if (keeps)
        keep(s->known, split);
}

static enum th_code check_market(const struct th_split_market *market, size_t n,
                                 struct th_error *err)
{
    const struct th_market *m = &market->market;
    if (n > TH_SPLIT_OFFERS_MAX)
        return th_fail(err, TH_ERR_INPUT, "%zu offers; at most %d are weighed together", n,
                       TH_SPLIT_OFFERS_MAX);
    if (m->paths->n_winters == 0 || m->paths->n_paths == 0 || market->n_farms == 0)
        return th_fail(err, TH_ERR_INPUT, "offers need winters, farms and prices to be weighed");
    for (size_t w = 0; w < m->paths->n_winters; w++)
        if (m->winters[w].n > TH_SPLIT_DELIVERIES_MAX)
            return th_fail(err, TH_ERR_INPUT, "a winter has more than %d deliveries",
                           TH_SPLIT_DELIVERIES_MAX);
    return TH_OK;
}

static double case_gal(const struct th_split_search *s, size_t i)
{
    const struct th_split_days *const days = &s->winters[s->cases[i].winter];
    double gal = 0.0;
    for (size_t k = 0; k < days->n; k++)
        gal += s->cases[i].scale * days->gal[k];
    return gal;
}

double th_split_all_gal(const struct th_split_search *s, size_t n)
{
    return n == s->n_cases ? s->all_gal : s->grid_gal;
}

/* How many gallons the cases take, and how many the hardest of them: no more is bought ahead. */
static void sum_cases(struct th_split_search *s)
{
    for (size_t i = 0; i < s->n_cases; i++) {
        s->usd[i] = case_gal(s, i);
        s->all_gal += s->usd[i];
        s->grid_gal += i < TH_SPLIT_GRID_CASES ? s->usd[i] : 0.0;
    }
    s->search_gal = bad_case(s, s->n_cases);
}

static void see_days(const struct th_split_search *s, const struct th_winter *winter,
                     struct th_split_days *days)
{
    const struct th_price_model *model = &s->market->market.paths->model;
    days->n = winter->n;
    for (size_t i = 0; i < winter->n; i++) {
        days->gal[i] = winter->deliveries[i].gal;
        days->period[i] = th_price_period(model, winter->deliveries[i].day);
    }
    for (size_t k = 0; k < s->n; k++) {
        long first, last;
        th_contract_window(&s->offers[k], winter->season_year, &first, &last);
        days->end_period[k] = th_price_period(model, last);
        for (size_t i = 0; i < winter->n; i++)
            if (winter->deliveries[i].day >= first && winter->deliveries[i].day <= last)
                days->inside[k][days->n_inside[k]++] = (unsigned short)i;
    }
}

enum th_code th_split_open(struct th_split_search *s, const struct th_split_market *market,
                           size_t n, const struct th_contract *offers, struct th_error *err)
{
    const struct th_market *m = &market->market;
    const size_t winters = m->paths->n_winters;
    *s = (struct th_split_search){
        .market = market, .n = n, .offers = offers, .n_cases = TH_SPLIT_CASES};
    const enum th_code code = check_market(market, n, err);
    if (code != TH_OK)
        return code;
    s->cases = calloc(TH_SPLIT_CASES, sizeof *s->cases);
    s->usd = calloc(TH_SPLIT_CASES, sizeof *s->usd);
    s->winters = calloc(winters, sizeof *s->winters);
    s->known = calloc(1, sizeof *s->known);
    if (!s->cases || !s->usd || !s->winters || !s->known)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t w = 0; w < winters; w++)
        see_days(s, &m->winters[w], &s->winters[w]);
    for (size_t i = 0; i < TH_SPLIT_CASES; i++) {
        /* Strides without common factors, so that farms, winters and prices meet evenly. */
        const size_t farm = i * 1597 % market->n_farms;
        s->cases[i].winter = i % winters;
        s->cases[i].scale = market->scale[farm * winters + s->cases[i].winter];
        th_price_posted(m->paths, i * 389 % m->paths->n_paths, s->cases[i].winter, m->tight_chance,
                        s->cases[i].posted_usd_gal);
    }
    th_split_order(n, offers, m->paths->model.posted_usd_gal, s->order);
    sum_cases(s);
    return TH_OK;
}

void th_split_close(struct th_split_search *s)
{
    free(s->cases);
    free(s->usd);
    free(s->winters);
    free(s->grid);
    if (s->known)
        free(s->known->splits);
    free(s->known);
}

enum th_code th_split_costs(const struct th_split_market *market, size_t n,
                            const struct th_contract *offers, size_t n_sets,
                            const double *volumes_gal, struct th_split *splits,
                            struct th_error *err)
{
    struct th_split_search s;
    const enum th_code code = th_split_open(&s, market, n, offers, err);
    for (size_t i = 0; i < n_sets && code == TH_OK; i++)
        th_split_weigh(&s, TH_SPLIT_CASES, volumes_gal + i * n, &splits[i]);
    th_split_close(&s);
    return code;
}

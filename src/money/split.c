/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/split.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Cases of a final cost; the grid takes the first of them. */
#define CASES 1024
#define GRID_CASES 256
/* Volumes of an offer on the grid: with three offers 9³. */
#define GRID 9
#define GRID_OFFERS 3
/* The search goes this far beyond the most a case takes. */
#define BEYOND 1.25
/* Refining halves the step this often. */
#define HALVINGS 7
#define TRIES 3

/* Deliveries of a season that a case can have. */
#define DELIVERIES_MAX 732

/* A winter's deliveries as offers see them. */
struct days {
    size_t n;
    const struct th_delivery *deliveries;
    int period[DELIVERIES_MAX];
    unsigned inside[DELIVERIES_MAX];     /* bit k: in the window of offer k */
    int end_period[TH_SPLIT_OFFERS_MAX]; /* of the last day of each window */
};

/* One case: its winter's deliveries times a factor, and its prices. */
struct one_case {
    size_t winter;
    double scale;
    double posted_usd_gal[TH_PRICE_PERIODS];
};

struct search {
    const struct th_split_market *market;
    size_t n;
    const struct th_contract *offers;
    size_t order[TH_SPLIT_OFFERS_MAX];
    struct days *winters;
    size_t n_cases;
    struct one_case *cases;
    struct th_split *grid; /* every set of volumes that was tried */
    size_t n_grid;
    double *usd; /* of the cases, for sorting */
    double search_gal;
    bool by_bad;           /* what is refined: the bad case, or the mean */
    double mean_limit_usd; /* means above it are not taken, when refining the bad case */
};

/* --- the order --- */

static double loss_usd_gal(const struct th_contract *c, double posted_usd_gal)
{
    const bool prepaid = c->kind == TH_CONTRACT_PREPAID;
    if (c->kind == TH_CONTRACT_SPOT || c->kind == TH_CONTRACT_CAPPED)
        return 0.0;
    switch (c->settle) {
    case TH_SETTLE_NONE:
        return prepaid ? c->price_usd_gal : 0.0;
    case TH_SETTLE_MARKET:
    case TH_SETTLE_ROLL_GALLONS:
        return fmax(c->price_usd_gal - posted_usd_gal, 0.0);
    case TH_SETTLE_TAKE:
        return c->take_share * c->price_usd_gal;
    case TH_SETTLE_ROLL_DOLLARS:
        return c->price_usd_gal * (1.0 - pow(1.0 + c->carry_rate, -c->roll_years));
    case TH_SETTLE_REFUND:
        return c->price_usd_gal * c->refund_fee_share;
    }
    return 0.0;
}

static bool drawn_before(const struct th_contract *a, const struct th_contract *b,
                         double posted_usd_gal)
{
    long first, last_a, last_b;
    const bool spot_a = a->kind == TH_CONTRACT_SPOT, spot_b = b->kind == TH_CONTRACT_SPOT;
    if (spot_a != spot_b)
        return spot_b;
    th_contract_window(a, 2001, &first, &last_a);
    th_contract_window(b, 2001, &first, &last_b);
    if (last_a != last_b)
        return last_a < last_b;
    return loss_usd_gal(a, posted_usd_gal) > loss_usd_gal(b, posted_usd_gal);
}

void th_split_order(size_t n, const struct th_contract *offers, double posted_usd_gal,
                    size_t *order)
{
    for (size_t i = 0; i < n; i++) {
        size_t at = i;
        for (; at > 0 && drawn_before(&offers[i], &offers[order[at - 1]], posted_usd_gal); at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

/* --- the cost of one set of volumes --- */

/* Sums over the cases of one set of volumes. */
struct sums {
    double usd, left_gal, covered_gal, all_gal;
};

static bool is_taken(const struct th_contract *offer, double volume_gal)
{
    return offer->kind != TH_CONTRACT_SPOT && volume_gal > 0.0;
}

/* Draws one offer's gallons from what the offers before it left of the deliveries. */
static void draw_offer(const struct days *days, size_t offer, double volume_gal, double *left_gal,
                       struct th_draw *draw)
{
    double room_gal = volume_gal;
    *draw = (struct th_draw){.end_period = days->end_period[offer]};
    for (size_t i = 0; i < days->n && room_gal > 0.0; i++) {
        if (!(days->inside[i] >> offer & 1u))
            continue;
        const double gal = fmin(left_gal[i], room_gal);
        draw->contract_gal[days->period[i]] += gal;
        draw->taken_gal += gal;
        left_gal[i] -= gal;
        room_gal -= gal;
    }
}

static double case_usd(const struct search *s, const double *volume_gal, const struct one_case *one,
                       struct sums *sums)
{
    const struct days *days = &s->winters[one->winter];
    double left_gal[DELIVERIES_MAX], usd = 0.0;
    for (size_t i = 0; i < days->n; i++) {
        left_gal[i] = one->scale * days->deliveries[i].gal;
        sums->all_gal += left_gal[i];
    }
    for (size_t i = 0; i < s->n; i++) {
        const size_t k = s->order[i];
        struct th_contract offer = s->offers[k];
        struct th_draw draw;
        struct th_bill bill;
        if (!is_taken(&offer, volume_gal[k]))
            continue;
        draw_offer(days, k, volume_gal[k], left_gal, &draw);
        /* A cap on every gallon is written as one without a volume. */
        offer.volume_gal = isfinite(volume_gal[k]) ? volume_gal[k] : 0.0;
        th_contract_bill(&offer, &draw, one->posted_usd_gal, &bill);
        usd += bill.total_usd;
        sums->covered_gal += draw.taken_gal;
        sums->left_gal += isfinite(volume_gal[k]) ? volume_gal[k] - draw.taken_gal : 0.0;
    }
    for (size_t i = 0; i < days->n; i++)
        usd += left_gal[i] * one->posted_usd_gal[days->period[i]];
    return usd;
}

/* Mean of the dearest tenth of `n` costs, or of the dearest winter. */
static double bad_usd(const struct search *s, size_t n)
{
    const size_t winters = s->market->market.paths->n_winters;
    double dearest = -HUGE_VAL;
    if (s->market->enough_winters) {
        gsl_sort(s->usd, 1, n);
        return th_spread_cvar(n, s->usd, TH_SPLIT_BAD_SHARE);
    }
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

static double early_usd(const struct search *s, const double *volume_gal)
{
    double usd = 0.0;
    for (size_t k = 0; k < s->n; k++) {
        const struct th_contract *offer = &s->offers[k];
        const double gal = isfinite(volume_gal[k]) ? volume_gal[k] : 0.0;
        if (!is_taken(offer, volume_gal[k]))
            continue;
        usd += offer->fee_usd + offer->fee_usd_gal * gal;
        if (offer->kind == TH_CONTRACT_PREPAID)
            usd += offer->price_usd_gal * gal;
        if (offer->kind == TH_CONTRACT_BOOKED)
            usd += offer->deposit_usd_gal * gal;
    }
    return usd;
}

static void cost(const struct search *s, size_t n, const double *volume_gal, struct th_split *split)
{
    struct sums sums = {0};
    *split = (struct th_split){0};
    memcpy(split->volume_gal, volume_gal, s->n * sizeof *volume_gal);
    for (size_t i = 0; i < n; i++) {
        s->usd[i] = case_usd(s, volume_gal, &s->cases[i], &sums);
        sums.usd += s->usd[i];
    }
    split->mean_usd = sums.usd / (double)n;
    split->left_gal = sums.left_gal / (double)n;
    split->covered = sums.all_gal > 0.0 ? sums.covered_gal / sums.all_gal : 0.0;
    split->early_usd = early_usd(s, volume_gal);
    split->bad_usd = bad_usd(s, n);
}

/* --- the search --- */

static double aim(const struct search *s, const struct th_split *split)
{
    if (!s->by_bad)
        return split->mean_usd;
    return split->mean_usd > s->mean_limit_usd ? HUGE_VAL : split->bad_usd;
}

static double grid_volume(const struct search *s, size_t k, int step)
{
    const struct th_contract *offer = &s->offers[k];
    if (offer->kind == TH_CONTRACT_CAPPED && offer->volume_gal == 0.0)
        return step == 0 ? 0.0 : HUGE_VAL;
    return s->search_gal * step / (GRID - 1);
}

static int grid_steps(const struct search *s, size_t k)
{
    const struct th_contract *offer = &s->offers[k];
    if (offer->kind == TH_CONTRACT_SPOT)
        return 1;
    return offer->kind == TH_CONTRACT_CAPPED && offer->volume_gal == 0.0 ? 2 : GRID;
}

/* Adds the grid over the offers of `members`, the others not taken. */
static void run_grid(struct search *s, const size_t *members, size_t n)
{
    int step[GRID_OFFERS] = {0};
    for (;;) {
        double volume_gal[TH_SPLIT_OFFERS_MAX] = {0};
        for (size_t i = 0; i < n; i++)
            volume_gal[members[i]] = grid_volume(s, members[i], step[i]);
        cost(s, GRID_CASES, volume_gal, &s->grid[s->n_grid++]);
        size_t i = 0;
        while (i < n && ++step[i] == grid_steps(s, members[i]))
            step[i++] = 0;
        if (i == n)
            return;
    }
}

/* Up to three offers all together; of more every two, refining lets the others in. */
static enum th_code run_grids(struct search *s, struct th_error *err)
{
    size_t members[TH_SPLIT_OFFERS_MAX], n = 0;
    for (size_t k = 0; k < s->n; k++)
        if (s->offers[k].kind != TH_CONTRACT_SPOT)
            members[n++] = k;
    const size_t most = GRID * GRID * (n <= GRID_OFFERS ? GRID : n * (n - 1) / 2);
    s->grid = calloc(most, sizeof *s->grid);
    if (!s->grid)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (n <= GRID_OFFERS)
        run_grid(s, members, n);
    else
        for (size_t a = 0; a < n; a++)
            for (size_t b = 0; b < a; b++)
                run_grid(s, (const size_t[]){members[a], members[b]}, 2);
    return TH_OK;
}

static bool try_volumes(const struct search *s, const double *volume_gal, struct th_split *now)
{
    struct th_split other;
    cost(s, CASES, volume_gal, &other);
    if (!(aim(s, &other) < aim(s, now)))
        return false;
    *now = other;
    return true;
}

/* Moves one offer up or down, or gallons from one to another. */
static bool move_once(const struct search *s, double step_gal, struct th_split *now)
{
    bool moved = false;
    for (size_t k = 0; k < s->n; k++) {
        const double was = now->volume_gal[k];
        if (grid_steps(s, k) < GRID)
            continue;
        for (size_t from = 0; from < s->n; from++)
            for (int sign = -1; sign <= 1; sign += 2) {
                double volume_gal[TH_SPLIT_OFFERS_MAX];
                memcpy(volume_gal, now->volume_gal, sizeof volume_gal);
                volume_gal[k] = fmin(fmax(was + sign * step_gal, 0.0), s->search_gal);
                if (from != k && (grid_steps(s, from) < GRID || sign < 0))
                    continue;
                if (from != k)
                    volume_gal[from] = fmax(volume_gal[from] - step_gal, 0.0);
                moved |= try_volumes(s, volume_gal, now);
            }
    }
    return moved;
}

static void refine(const struct search *s, struct th_split *now)
{
    double step_gal = s->search_gal / (GRID - 1) / 2.0;
    for (int halving = 0; halving < HALVINGS; halving++, step_gal /= 2.0)
        for (int tries = 0; tries < TRIES && move_once(s, step_gal, now); tries++)
            continue;
}

/* The grid's best but for one. */
static const struct th_split *best_of_grid(const struct search *s, const struct th_split *not_this)
{
    const struct th_split *best = NULL;
    for (size_t i = 0; i < s->n_grid; i++)
        if (&s->grid[i] != not_this && (!best || aim(s, &s->grid[i]) < aim(s, best)))
            best = &s->grid[i];
    return best;
}

/* Refines the best two of the grid, which lie far apart where a minimum share binds, and another
   start (NULL: none). */
static struct th_split find(const struct search *s, const struct th_split *also)
{
    const struct th_split *first = best_of_grid(s, NULL);
    const struct th_split *second = best_of_grid(s, first);
    struct th_split winner, other;
    cost(s, CASES, first->volume_gal, &winner);
    refine(s, &winner);
    for (int i = 0; i < 2; i++) {
        const struct th_split *start = i == 0 ? second : also;
        if (!start)
            continue;
        cost(s, CASES, start->volume_gal, &other);
        refine(s, &other);
        if (aim(s, &other) < aim(s, &winner))
            winner = other;
    }
    for (size_t k = 0; k < s->n; k++)
        winner.at_end[k] = isfinite(winner.volume_gal[k]) && winner.volume_gal[k] > 0.0 &&
                           winner.volume_gal[k] >= s->search_gal * (1.0 - 1e-9);
    return winner;
}

/* --- cases --- */

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
        if (m->winters[w].n > DELIVERIES_MAX)
            return th_fail(err, TH_ERR_INPUT, "a winter has more than %d deliveries",
                           DELIVERIES_MAX);
    return TH_OK;
}

static double most_gal(const struct search *s)
{
    double most = 0.0;
    for (size_t i = 0; i < s->n_cases; i++) {
        const struct days *days = &s->winters[s->cases[i].winter];
        double gal = 0.0;
        for (size_t k = 0; k < days->n; k++)
            gal += s->cases[i].scale * days->deliveries[k].gal;
        most = fmax(most, gal);
    }
    return most;
}

static void see_days(const struct search *s, const struct th_winter *winter, struct days *days)
{
    const struct th_price_model *model = &s->market->market.paths->model;
    days->n = winter->n;
    days->deliveries = winter->deliveries;
    for (size_t i = 0; i < winter->n; i++)
        days->period[i] = th_price_period(model, winter->deliveries[i].day);
    for (size_t k = 0; k < s->n; k++) {
        long first, last;
        th_contract_window(&s->offers[k], winter->season_year, &first, &last);
        days->end_period[k] = th_price_period(model, last);
        for (size_t i = 0; i < winter->n; i++)
            if (winter->deliveries[i].day >= first && winter->deliveries[i].day <= last)
                days->inside[i] |= 1u << k;
    }
}

static enum th_code open_search(struct search *s, const struct th_split_market *market, size_t n,
                                const struct th_contract *offers, struct th_error *err)
{
    const struct th_market *m = &market->market;
    const size_t winters = m->paths->n_winters;
    *s = (struct search){.market = market, .n = n, .offers = offers, .n_cases = CASES};
    const enum th_code code = check_market(market, n, err);
    if (code != TH_OK)
        return code;
    s->cases = calloc(CASES, sizeof *s->cases);
    s->usd = calloc(CASES, sizeof *s->usd);
    s->winters = calloc(winters, sizeof *s->winters);
    if (!s->cases || !s->usd || !s->winters)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t w = 0; w < winters; w++)
        see_days(s, &m->winters[w], &s->winters[w]);
    for (size_t i = 0; i < CASES; i++) {
        /* Strides without common factors, so that farms, winters and prices meet evenly. */
        const size_t farm = i * 1597 % market->n_farms;
        s->cases[i].winter = i % winters;
        s->cases[i].scale = market->scale[farm * winters + s->cases[i].winter];
        th_price_posted(m->paths, i * 389 % m->paths->n_paths, s->cases[i].winter, m->tight_chance,
                        s->cases[i].posted_usd_gal);
    }
    th_split_order(n, offers, m->paths->model.posted_usd_gal, s->order);
    s->search_gal = BEYOND * most_gal(s);
    return TH_OK;
}

static void close_search(struct search *s)
{
    free(s->cases);
    free(s->usd);
    free(s->winters);
    free(s->grid);
}

enum th_code th_split_costs(const struct th_split_market *market, size_t n,
                            const struct th_contract *offers, size_t n_sets,
                            const double *volumes_gal, struct th_split *splits,
                            struct th_error *err)
{
    struct search s;
    const enum th_code code = open_search(&s, market, n, offers, err);
    for (size_t i = 0; i < n_sets && code == TH_OK; i++)
        cost(&s, CASES, volumes_gal + i * n, &splits[i]);
    close_search(&s);
    return code;
}

/* Standard error of what a split saves on average. */
static double error_of(const struct search *s, const double *volume_gal)
{
    const double none[TH_SPLIT_OFFERS_MAX] = {0};
    struct sums sums = {0};
    for (size_t i = 0; i < s->n_cases; i++)
        s->usd[i] =
            case_usd(s, volume_gal, &s->cases[i], &sums) - case_usd(s, none, &s->cases[i], &sums);
    return gsl_stats_sd(s->usd, 1, s->n_cases) / sqrt((double)s->n_cases);
}

static void written(const struct search *s, struct th_split *split)
{
    double volume_gal[TH_SPLIT_OFFERS_MAX] = {0};
    for (size_t k = 0; k < s->n; k++)
        volume_gal[k] = s->offers[k].kind == TH_CONTRACT_CAPPED && s->offers[k].volume_gal == 0.0
                            ? HUGE_VAL
                            : s->offers[k].volume_gal;
    cost(s, CASES, volume_gal, split);
}

/* The three answers, from the grid. */
static void advise(struct search *s, struct th_split_advice *advice)
{
    const double nothing[TH_SPLIT_OFFERS_MAX] = {0};
    cost(s, CASES, nothing, &advice->none);
    written(s, &advice->as_written);
    advice->cheapest = find(s, NULL);
    advice->mean_error_usd = error_of(s, advice->cheapest.volume_gal);
    s->by_bad = true;
    s->mean_limit_usd = HUGE_VAL;
    advice->cautious = find(s, &advice->cheapest);
    s->mean_limit_usd = advice->cheapest.mean_usd * (1.0 + TH_SPLIT_SAME_SHARE);
    advice->between = find(s, &advice->cheapest);
}

enum th_code th_split_run(const struct th_split_market *market, size_t n,
                          const struct th_contract *offers, struct th_split_advice *advice,
                          struct th_error *err)
{
    struct search s;
    enum th_code code = open_search(&s, market, n, offers, err);
    if (code == TH_OK)
        code = run_grids(&s, err);
    if (code == TH_OK) {
        *advice = (struct th_split_advice){
            .n_cases = s.n_cases, .n_offers = n, .search_gal = s.search_gal};
        advise(&s, advice);
    }
    close_search(&s);
    return code;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/tank.h"

#include "turnheat/calendar.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

/* Orders under way at once; a farm with more is not ordering by level any more. */
#define ORDERS_MAX 64
#define WINDOWS_MIN 10
/* 1970-01-01, day number 0, was a Thursday. */
#define FIRST_WEEKDAY 3
/* A level this low is empty; differences below it are rounding. */
#define EMPTY_GAL 1e-9

struct order {
    long due;
    double gal;
};

/* Orders in the order they went out. */
struct queue {
    int n;
    struct order orders[ORDERS_MAX];
};

static bool truck_comes(const struct th_tank *tank, long day)
{
    const int weekday = (int)(((day + FIRST_WEEKDAY) % 7 + 7) % 7);
    return (tank->weekdays >> weekday) & 1u;
}

static double ordered_gal(const struct queue *queue)
{
    double sum = 0.0;
    for (int i = 0; i < queue->n; i++)
        sum += queue->orders[i].gal;
    return sum;
}

static void order_if_low(const struct th_tank *tank, double reorder_gal, double full_gal, long day,
                         double level_gal, struct queue *queue)
{
    const double covered_gal = level_gal + ordered_gal(queue);
    if (covered_gal > reorder_gal || queue->n == ORDERS_MAX)
        return;
    const double gal = fmin(full_gal - covered_gal, tank->truck_gal);
    if (gal > 0.0)
        queue->orders[queue->n++] = (struct order){day + tank->lead_days, gal};
}

static void drop_first(struct queue *queue)
{
    queue->n--;
    for (int i = 0; i < queue->n; i++)
        queue->orders[i] = queue->orders[i + 1];
}

/* Empties the day's trucks into the tanks; returns what they left. */
static double deliver(const struct th_tank *tank, double full_gal, long day, double level_gal,
                      struct queue *queue)
{
    double total_gal = 0.0;
    while (queue->n > 0 && queue->orders[0].due <= day && truck_comes(tank, day)) {
        const double drop_gal = fmin(full_gal - level_gal - total_gal, tank->truck_gal);
        if (drop_gal <= 0.0 || drop_gal < tank->min_drop_gal)
            break;
        total_gal += drop_gal;
        drop_first(queue);
    }
    return total_gal;
}

static enum th_code check_run(const struct th_tank *tank, double reorder_gal, double start_gal,
                              size_t n_days, const double *day_gal, struct th_error *err)
{
    const enum th_code code = th_tank_check(tank, err);
    if (code)
        return code;
    const double capacity_gal = tank->count * tank->capacity_gal;
    if (!(start_gal >= 0.0 && start_gal <= capacity_gal))
        return th_fail(err, TH_ERR_RANGE, "the tanks cannot start with %g gal", start_gal);
    if (!(reorder_gal >= 0.0 && reorder_gal <= capacity_gal))
        return th_fail(err, TH_ERR_RANGE, "the tanks cannot be reordered at %g gal", reorder_gal);
    for (size_t i = 0; i < n_days; i++)
        if (!isfinite(day_gal[i]) || day_gal[i] < 0.0)
            return th_fail(err, TH_ERR_INPUT, "the use of day %zu must be 0 or more", i + 1);
    return TH_OK;
}

enum th_code th_tank_run(const struct th_tank *tank, double reorder_gal, double start_gal,
                         long first_day, size_t n_days, const double *day_gal,
                         struct th_delivery *deliveries, double *level_gal, struct th_tank_run *run,
                         struct th_error *err)
{
    const enum th_code code = check_run(tank, reorder_gal, start_gal, n_days, day_gal, err);
    if (code)
        return code;
    const double full_gal = tank->count * tank->capacity_gal * tank->fill_share;
    struct queue queue = {.n = 0};
    double level = start_gal;
    *run = (struct th_tank_run){.start_gal = start_gal, .lowest_gal = start_gal};
    for (size_t i = 0; i < n_days; i++) {
        const long day = first_day + (long)i;
        const double met_gal = fmin(day_gal[i], level);
        level -= met_gal;
        run->used_gal += day_gal[i];
        run->short_gal += day_gal[i] - met_gal;
        run->run_out_days += day_gal[i] - met_gal > EMPTY_GAL;
        run->lowest_gal = fmin(run->lowest_gal, level);
        if (level_gal)
            level_gal[i] = level;
        order_if_low(tank, reorder_gal, full_gal, day, level, &queue);
        const double drop_gal = deliver(tank, full_gal, day, level, &queue);
        if (drop_gal > 0.0 && deliveries)
            deliveries[run->n_deliveries] = (struct th_delivery){day, drop_gal};
        run->n_deliveries += drop_gal > 0.0;
        run->delivered_gal += drop_gal;
        level += drop_gal;
    }
    run->end_gal = level;
    return TH_OK;
}

long th_tank_truck_day(const struct th_tank *tank, long day)
{
    long wait = 0;
    while (wait < 7 && !truck_comes(tank, day + wait))
        wait++;
    return day + wait;
}

int th_tank_longest_lead(const struct th_tank *tank)
{
    int longest_wait = 0;
    for (int day = 0; day < 7; day++) {
        const int wait = (int)(th_tank_truck_day(tank, day) - day);
        longest_wait = wait > longest_wait ? wait : longest_wait;
    }
    return tank->lead_days + longest_wait;
}

enum th_code th_tank_reorder_gal(const struct th_tank *tank, size_t n_days, const double *day_gal,
                                 double *reorder_gal, struct th_error *err)
{
    const double capacity_gal = tank->count * tank->capacity_gal;
    if (tank->reorder_share > 0.0) {
        *reorder_gal = tank->reorder_share * capacity_gal;
        return TH_OK;
    }
    /* The day on which the order goes out has already been used up. */
    const size_t lead = (size_t)th_tank_longest_lead(tank);
    if (n_days < lead + WINDOWS_MIN)
        return th_fail(err, TH_ERR_INPUT, "a reorder level needs at least %zu days of use",
                       lead + WINDOWS_MIN);
    const size_t windows = n_days - lead + 1;
    double *use_gal = calloc(windows, sizeof *use_gal);
    if (!use_gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t i = 0; i < windows; i++)
        for (size_t k = 0; k < lead; k++)
            use_gal[i] += day_gal[i + k];
    gsl_sort(use_gal, 1, windows);
    const double lead_gal = gsl_stats_quantile_from_sorted_data(use_gal, 1, windows, 0.95);
    free(use_gal);
    *reorder_gal =
        fmin(tank->reserve_share * capacity_gal + lead_gal, tank->fill_share * capacity_gal);
    return TH_OK;
}

void th_tank_days_of_supply(size_t n_days, const double *day_gal, double level_gal, size_t *days,
                            size_t *start, bool *emptied)
{
    *days = n_days;
    *start = 0;
    *emptied = false;
    for (size_t first = 0; first < n_days; first++) {
        double used_gal = 0.0;
        size_t i = first;
        while (i < n_days && i - first < *days && used_gal + day_gal[i] <= level_gal)
            used_gal += day_gal[i++];
        if (i == n_days || i - first >= *days)
            continue;
        *days = i - first;
        *start = first;
        *emptied = true;
    }
}

double th_use_day_gal(const struct th_use *use, long day)
{
    const struct th_date date = th_date_of(day);
    long first = th_day_number(date.year, use->from_month, use->from_day);
    if (first > day)
        first = th_day_number(date.year - 1, use->from_month, use->from_day);
    const long week = (day - first) / 7;
    return week < use->n_weeks ? use->week_gal[week] / 7.0 : 0.0;
}

double th_use_day_w(const struct th_use *use, long day, double hhv_j_gal)
{
    const double gal = th_use_day_gal(use, day);
    if (gal <= 0.0)
        return 0.0;
    return use->rate_w > 0.0 ? use->rate_w : gal * hhv_j_gal / 86400.0;
}

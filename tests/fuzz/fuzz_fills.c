/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Deliveries. The first byte is the capacity in hundreds of gallons. Fills that are read must come
   one a day in order, fit into the tanks, and give spans that can be fitted or are refused. */
#include "fuzz_file.h"

#include "fills_read.h"

#include <math.h>
#include <stdlib.h>

static void check_fill(const struct th_tank_fill *fill, const struct th_tank_fill *before,
                       double capacity_gal)
{
    if ((before && fill->day <= before->day) || !isfinite(fill->delivered_gal) ||
        fill->delivered_gal < 0.0 || !(fill->level_share >= 0.0 && fill->level_share <= 1.0) ||
        fill->delivered_gal > (1.0 - fill->level_share) * capacity_gal)
        abort();
}

/* A room that burns the same every day: only the fit itself is tried. */
static enum th_code predict(void *context, const struct th_calibration *trial, double *gal,
                            struct th_error *err)
{
    const struct th_fit_problem *const problem = context;
    (void)err;
    for (size_t i = 0; i + 1 < problem->n_fills; i++)
        gal[i] = (double)(problem->fills[i + 1].day - problem->fills[i].day) *
                 (20.0 * trial->ua_factor + 30.0 * trial->air_factor + 3.0 * trial->set_shift_k);
    return TH_OK;
}

static void fit(const struct th_tank_fill *fills, size_t n, double capacity_gal)
{
    struct th_fit_problem problem;
    struct th_fit found;
    struct th_error err;
    th_fit_defaults(&problem);
    problem.n_fills = n;
    problem.fills = fills;
    problem.capacity_gal = capacity_gal;
    problem.n_params = n < TH_FIT_FILLS_TWO ? 1 : 2;
    problem.params[1] = TH_FIT_SET;
    problem.predict = predict;
    problem.context = &problem;
    if (th_fit_run(&problem, &found, &err) != TH_OK)
        return;
    for (int i = 0; i < found.n_params; i++)
        if (!isfinite(found.values[i].value) || !isfinite(found.values[i].sd))
            abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct th_tank_fill fills[TH_FILLS_MAX];
    struct th_error err;
    size_t n = 0;
    if (size == 0)
        return 0;
    const double capacity_gal = 100.0 * data[0];
    th_init();
    fuzz_file_set(data + 1, size - 1);
    const enum th_code code = th_fills_read(NULL, "fills.csv", capacity_gal, 0.0, fills, &n, &err);
    if (n > TH_FILLS_MAX || (code != TH_OK && err.text[0] == '\0'))
        abort();
    for (size_t i = 0; code == TH_OK && i < n; i++)
        check_fill(&fills[i], i > 0 ? &fills[i - 1] : NULL, capacity_gal);
    if (code == TH_OK && n > 0)
        fit(fills, n, capacity_gal);
    return 0;
}

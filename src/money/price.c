/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/price.h"

#include "parameters_farm.h"

#include "turnheat/calendar.h"

#include <gsl/gsl_interp.h>
#include <math.h>
#include <stdbool.h>

void th_price_defaults(struct th_price_model *model)
{
    *model = (struct th_price_model){
        .tight_month = 1, .tight_day = 15, .tight_days = 42, .tight_factor = 2.0};
    th_parameters_start(&th_parameters_price, model);
    th_price_month_index(model->month_index);
}

static enum th_code check_tight(const struct th_price_model *model, struct th_error *err)
{
    if (!th_date_valid(2001, model->tight_month, model->tight_day))
        return th_fail(err, TH_ERR_RANGE, "the first day of tight supply does not exist");
    if (model->tight_days < 0 || model->tight_days > 300)
        return th_fail(err, TH_ERR_RANGE, "tight supply must last 0 to 300 days");
    if (!th_in_range(model->tight_factor, 1.0, 20.0))
        return th_fail(err, TH_ERR_RANGE, "tight supply must raise the price 1 to 20 times");
    return TH_OK;
}

enum th_code th_price_check(const struct th_price_model *model, struct th_error *err)
{
    const enum th_code code = th_parameters_check(&th_parameters_price, model, err);
    if (code != TH_OK)
        return code;
    if (!th_in_range(model->posted_usd_gal, 0.0, 1e4) ||
        model->posted_usd_gal <= model->margin_usd_gal)
        return th_fail(
            err, TH_ERR_RANGE,
            "price = $%.2f/gal must be above the dealer's margin of $%.2f/gal (key margin)",
            model->posted_usd_gal, model->margin_usd_gal);
    for (int i = 0; i < TH_PRICE_MONTHS; i++)
        if (!th_in_range(model->month_index[i], 1e-3, 1e3))
            return th_fail(err, TH_ERR_RANGE, "the price index of month %d must be above 0", i + 1);
    return check_tight(model, err);
}

/* The year repeats, so the known months stand again on either side of it. */
void th_price_month_index(double index[TH_PRICE_MONTHS])
{
    static const double month[] = {-6, -2, 1, 6, 10, 13, 18, 22};
    static const double known[] = {0.950, 1.051, 1.011, 0.950, 1.051, 1.011, 0.950, 1.051};
    enum { KNOWN = sizeof month / sizeof *month };
    gsl_interp *curve = gsl_interp_alloc(gsl_interp_steffen, KNOWN);
    for (int m = 1; m <= TH_PRICE_MONTHS; m++)
        index[m - 1] = 1.0;
    if (!curve)
        return;
    gsl_interp_init(curve, month, known, KNOWN);
    for (int m = 1; m <= TH_PRICE_MONTHS; m++)
        index[m - 1] = gsl_interp_eval(curve, month, known, m, NULL);
    gsl_interp_free(curve);
}

int th_price_period(const struct th_price_model *model, long day)
{
    const struct th_date date = th_date_of(day);
    long first = th_day_number(date.year, model->tight_month, model->tight_day);
    if (first > day)
        first = th_day_number(date.year - 1, model->tight_month, model->tight_day);
    const bool tight = day < first + model->tight_days;
    return date.month - 1 + (tight ? TH_PRICE_MONTHS : 0);
}

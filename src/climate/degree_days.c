/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/degree_days.h"

#include "turnheat/units.h"
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <math.h>

#define DAY_H 24

struct day {
    int hours;
    double sum_c, low_c, high_c, below_k_h;
};

static struct day read_day(const struct th_climate *climate, long first_hour, long hours,
                           double base_c)
{
    struct day day = {.low_c = INFINITY, .high_c = -INFINITY};
    for (long h = first_hour; h < first_hour + hours; h++) {
        const struct th_climate_hour *hour = th_climate_at(climate, h);
        if (!hour)
            continue;
        day.hours++;
        day.sum_c += hour->out_c;
        day.low_c = fmin(day.low_c, hour->out_c);
        day.high_c = fmax(day.high_c, hour->out_c);
        day.below_k_h += fmax(0.0, base_c - hour->out_c);
    }
    return day;
}

static double round_half_up(double value)
{
    return floor(value + 0.5);
}

static double nws_degree_days(const struct day *day, double base_c)
{
    const double high_f = round_half_up(th_f_from_c(day->high_c));
    const double low_f = round_half_up(th_f_from_c(day->low_c));
    return fmax(0.0, th_f_from_c(base_c) - round_half_up(0.5 * (high_f + low_f)));
}

static void add_day(struct th_degree_days *sum, const struct day *day, double base_c)
{
    sum->hours += day->hours;
    sum->hourly_k_d += day->below_k_h / DAY_H;
    if (day->hours < TH_DAY_HOURS_MIN)
        return;
    sum->days++;
    sum->mean_k_d += fmax(0.0, base_c - day->sum_c / day->hours);
    sum->midrange_k_d += fmax(0.0, base_c - 0.5 * (day->low_c + day->high_c));
    sum->nws_f_d += nws_degree_days(day, base_c);
}

struct th_degree_days th_degree_days_count(const struct th_climate *climate, long first_hour,
                                           long hours, double base_c)
{
    struct th_degree_days sum = {0};
    const long label_shift = climate->typical ? 1 : 0;
    for (long h = 0; h < hours; h += DAY_H) {
        const long length = hours - h < DAY_H ? hours - h : DAY_H;
        const struct day day = read_day(climate, first_hour + label_shift + h, length, base_c);
        add_day(&sum, &day, base_c);
    }
    return sum;
}

static enum th_code schoenau_kehrig(double gap, double sd, double days, double *degree_days,
                                    struct th_error *err)
{
    if (!(sd > 0.0) || !(days > 0.0) || !isfinite(gap))
        return th_fail(err, TH_ERR_RANGE,
                       "degree-days need a positive spread and number of days; got %g and %g", sd,
                       days);
    const double z = gap / sd;
    *degree_days = days * sd * (z * gsl_cdf_ugaussian_P(z) + gsl_ran_ugaussian_pdf(z));
    return TH_OK;
}

enum th_code th_hdd_schoenau_kehrig(double base, double mean, double sd, double days,
                                    double *degree_days, struct th_error *err)
{
    return schoenau_kehrig(base - mean, sd, days, degree_days, err);
}

enum th_code th_cdd_schoenau_kehrig(double base, double mean, double sd, double days,
                                    double *degree_days, struct th_error *err)
{
    return schoenau_kehrig(mean - base, sd, days, degree_days, err);
}

enum th_code th_hdd_erbs(double base_f, double mean_f, double sd_year_f, double days,
                         double *degree_days_f, struct th_error *err)
{
    const double sd_f = 3.54 - 0.029 * mean_f + 0.0664 * sd_year_f;
    if (!(days > 0.0) || !(sd_f > 0.0))
        return th_fail(err, TH_ERR_RANGE, "%g days with a spread of %g °F give no degree-days",
                       days, sd_f);
    const double h = (base_f - mean_f) / (sd_f * sqrt(days));
    const double a = 1.698;
    *degree_days_f = sd_f * pow(days, 1.5) * (h / 2.0 + log(cosh(a * h)) / (2.0 * a) + 0.2041);
    return TH_OK;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/normals.h"

#include "turnheat/calendar.h"
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sf_gamma.h>
#include <gsl/gsl_spline.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define DAY_H 24
#define YEAR_D 365
#define TAIL_DAYS 184  /* 1 July – 31 December after the last season */
#define RUN_IN_DAYS 60 /* lets the anomaly forget where it began */
#define LAG1_MAX 0.98

/* Share of the daily range below the highest hour, 00:00–23:00. Computed from Omaha,
   December–February, 2017–2020, and used all year: heating is what it is for. */
static const double shape[DAY_H] = {.76, .79, .85, .87, .91, .95, .97, 1.00, 1.00, .87, .66, .48,
                                    .29, .14, .04, .00, .02, .14, .32, .45,  .54,  .61, .66, .72};

/* Share of the mean daily range that the mean cycle swings through, a straight line in the spread
   of daily means ÷ range: the more the weather passes, the less of the range is the sun's. Fitted
   to 93 places, R² 0.83 (weather/README.md). */
#define SHARE_AT_NONE 1.02
#define SHARE_PER_RATIO 0.52
#define SHARE_LOW 0.35
#define SHARE_HIGH 0.95

/* Clear days swing widely, cloudy ones hardly: a day's cycle is the mean one times
   max(0, 1 + SWING_SD·z), with z of correlation SWING_LAG1 from day to day (the same fit). */
#define SWING_SD 0.55
#define SWING_LAG1 0.3

/* The passing weather within a day: hourly deviates of correlation RIPPLE_LAG1_H and mean zero over
   the day, as large as brings the mean daily highest minus lowest to that given (fitted to the
   Milwaukee normals; our judgement). */
#define RIPPLE_LAG1_H 0.9
#define RIPPLE_SHARE 0.60

/* Wind speeds follow a Weibull distribution of shape 2 (common practice) and keep their mood from
   hour to hour (our judgement). */
#define WIND_SHAPE 2.0
#define WIND_LAG1_H 0.85

/* What generation needs for every day of the year. */
struct climatology {
    double mean_c[YEAR_D];
    double sd_k[YEAR_D]; /* of the anomaly alone */
    double lag1[YEAR_D]; /* of the anomaly alone */
    double swing_k[YEAR_D];
    double ripple_k[YEAR_D];
    double shape_mean;
};

static bool within(double value, double low, double high)
{
    return value >= low && value <= high;
}

enum th_code th_normals_check(const struct th_normals *normals, struct th_error *err)
{
    if (normals->has_season_offset && !within(normals->season_offset_k, 0.0, 5.0))
        return th_fail(err, TH_ERR_RANGE, "a season offset of 0 to 5 K was expected");
    for (int i = 0; i < 12; i++) {
        const struct th_month_normal *m = &normals->month[i];
        const char *what = NULL;
        if (!within(m->mean_c, -60.0, 45.0))
            what = "a mean of -60 to 45 °C";
        else if (!within(m->sd_k, 0.1, 20.0))
            what = "a standard deviation of 0.1 to 20 K";
        else if (!within(m->lag1, 0.0, 0.95))
            what = "a day-to-day correlation of 0 to 0.95";
        else if (!within(m->range_k, 0.0, 30.0))
            what = "a daily range of 0 to 30 K";
        else if (m->has_dew && !within(m->dew_c, -80.0, m->mean_c))
            what = "a dew point not above the mean";
        else if (m->has_wind && !within(m->wind_m_s, 0.0, 20.0))
            what = "a wind of 0 to 20 m/s";
        if (what)
            return th_fail(err, TH_ERR_RANGE, "month %d: %s was expected", i + 1, what);
    }
    return TH_OK;
}

static int month_of_day(int day_of_year)
{
    return th_date_of(th_day_number(TH_TYPICAL_YEAR, 1, 1) + day_of_year).month - 1;
}

/* A smooth yearly curve through `knot` at the middles of the months. */
static bool smooth(const double knot[12], double curve[YEAR_D])
{
    double x[13], y[13];
    for (int m = 0; m <= 12; m++) {
        const long first = th_day_number(TH_TYPICAL_YEAR + m / 12, m % 12 + 1, 1);
        const long next = th_day_number(TH_TYPICAL_YEAR + (m + 1) / 12, (m + 1) % 12 + 1, 1);
        x[m] = 0.5 * (double)(first + next - 1);
        y[m] = knot[m % 12];
    }
    gsl_interp_accel *accel = gsl_interp_accel_alloc();
    gsl_spline *spline = gsl_spline_alloc(gsl_interp_cspline_periodic, 13);
    bool good = accel && spline && gsl_spline_init(spline, x, y, 13) == 0;
    const double start = (double)th_day_number(TH_TYPICAL_YEAR, 1, 1);
    for (int d = 0; d < YEAR_D && good; d++) {
        const double at = start + d < x[0] ? start + d + YEAR_D : start + d;
        curve[d] = gsl_spline_eval(spline, at, accel);
    }
    if (spline)
        gsl_spline_free(spline);
    if (accel)
        gsl_interp_accel_free(accel);
    return good;
}

static void month_means(const double curve[YEAR_D], double mean[12], int days[12])
{
    for (int m = 0; m < 12; m++)
        mean[m] = days[m] = 0;
    for (int d = 0; d < YEAR_D; d++) {
        mean[month_of_day(d)] += curve[d];
        days[month_of_day(d)]++;
    }
    for (int m = 0; m < 12; m++)
        mean[m] /= days[m];
}

/* The curve's monthly means must be the normals: the knots are moved until they are. */
static bool smooth_means(const struct th_normals *normals, double curve[YEAR_D])
{
    double knot[12], mean[12];
    int days[12];
    for (int m = 0; m < 12; m++)
        knot[m] = normals->month[m].mean_c;
    for (int pass = 0; pass < 8; pass++) {
        if (!smooth(knot, curve))
            return false;
        month_means(curve, mean, days);
        for (int m = 0; m < 12; m++)
            knot[m] += normals->month[m].mean_c - mean[m];
    }
    return true;
}

static double season_offset_k(const struct th_normals *normals)
{
    return normals->has_season_offset ? normals->season_offset_k : TH_SEASON_OFFSET_SD_K;
}

static double swing_share(const struct th_month_normal *normal)
{
    if (normal->range_k <= 0.0)
        return SHARE_LOW;
    const double share = SHARE_AT_NONE - SHARE_PER_RATIO * normal->sd_k / normal->range_k;
    return fmin(fmax(share, SHARE_LOW), SHARE_HIGH);
}

/* A month's spread and correlation include its own warming or cooling trend and the spread between
   seasons; the anomaly takes what is left, so that the generated months have the given figures. */
static void anomaly_of(const struct th_normals *normals, struct climatology *c, int month)
{
    const struct th_month_normal *normal = &normals->month[month];
    double trend = 0.0;
    int days = 0;
    for (int d = 0; d < YEAR_D; d++) {
        if (month_of_day(d) != month)
            continue;
        trend += pow(c->mean_c[d] - normal->mean_c, 2);
        days++;
    }
    const double other = trend / days + pow(season_offset_k(normals), 2);
    const double total = pow(normal->sd_k, 2);
    const double left = fmax(total - other, 0.25 * total);
    const double lag1 = (normal->lag1 * total - (total - left)) / left;
    const double share = swing_share(normal);
    for (int d = 0; d < YEAR_D; d++) {
        if (month_of_day(d) != month)
            continue;
        c->sd_k[d] = sqrt(left);
        c->lag1[d] = fmin(fmax(lag1, 0.0), LAG1_MAX);
        c->swing_k[d] = share * normal->range_k;
        c->ripple_k[d] = RIPPLE_SHARE * (1.0 - share) * normal->range_k;
    }
}

static bool prepare(const struct th_normals *normals, struct climatology *c)
{
    if (!smooth_means(normals, c->mean_c))
        return false;
    c->shape_mean = 0.0;
    for (int h = 0; h < DAY_H; h++)
        c->shape_mean += shape[h] / DAY_H;
    for (int m = 0; m < 12; m++)
        anomaly_of(normals, c, m);
    return true;
}

/* 0…364; 29 February counts as 28 February. */
static int day_of_year(long day)
{
    const struct th_date d = th_date_of(day);
    const int last = d.month == 2 && d.day == 29 ? 28 : d.day;
    return (int)(th_day_number(TH_TYPICAL_YEAR, d.month, last) -
                 th_day_number(TH_TYPICAL_YEAR, 1, 1));
}

/* A step of a series of unit spread. */
static double step(double last, double lag1, gsl_rng *rng)
{
    return lag1 * last + sqrt(1.0 - lag1 * lag1) * gsl_ran_ugaussian(rng);
}

/* How far each season as a whole lies from the normal: the normal quantiles (i + ½)/n, shuffled, so
   that few seasons have the spread of many. What follows the last season lies at the normal. */
static void draw_offsets(double sd_k, int seasons, gsl_rng *rng,
                         double offset_k[TH_NORMAL_SEASONS_MAX + 1])
{
    for (int i = 0; i < seasons; i++)
        offset_k[i] = gsl_cdf_gaussian_Pinv((i + 0.5) / seasons, sd_k);
    gsl_ran_shuffle(rng, offset_k, (size_t)seasons, sizeof *offset_k);
    offset_k[seasons] = 0.0;
}

/* Daily means of `n` days from `first_day`, which begins the first season. */
static void draw_days(const struct climatology *c, const double *offset_k, long first_day, long n,
                      gsl_rng *rng, double *mean_c)
{
    double z = 0.0;
    int season = -1;
    for (long i = -RUN_IN_DAYS; i < n; i++) {
        const long day = first_day + i;
        const int d = day_of_year(day);
        const struct th_date date = th_date_of(day);
        if (date.month == 7 && date.day == 1)
            season++;
        z = step(z, c->lag1[d], rng);
        if (i >= 0)
            mean_c[i] = c->mean_c[d] + offset_k[season] + c->sd_k[d] * z;
    }
}

/* Sums of the daily means at day's ends, as a spline: its rise over an hour is that hour's level,
   so levels run smoothly and every day keeps its mean. */
static gsl_spline *sum_spline(const double *mean_c, long n)
{
    double *x = malloc((size_t)(n + 1) * sizeof *x);
    double *y = malloc((size_t)(n + 1) * sizeof *y);
    gsl_spline *spline =
        x && y && mean_c ? gsl_spline_alloc(gsl_interp_cspline, (size_t)(n + 1)) : NULL;
    double sum = 0.0;
    for (long i = 0; spline && i <= n; i++) {
        x[i] = (double)(i * DAY_H);
        y[i] = sum * DAY_H;
        sum += i < n ? mean_c[i] : 0.0;
    }
    if (spline)
        gsl_spline_init(spline, x, y, (size_t)(n + 1));
    free(x);
    free(y);
    return spline;
}

static double to_tenth(double value)
{
    return round(value * 10.0) / 10.0;
}

/* Mean of a Weibull distribution is scale × Γ(1 + 1/shape). */
static double draw_wind(double mean_m_s, double *mood, gsl_rng *rng)
{
    *mood = step(*mood, WIND_LAG1_H, rng);
    const double scale = mean_m_s / gsl_sf_gamma(1.0 + 1.0 / WIND_SHAPE);
    return scale > 0.0 ? gsl_cdf_weibull_Qinv(gsl_cdf_ugaussian_Q(*mood), scale, WIND_SHAPE) : 0.0;
}

struct hours {
    const struct th_normals *normals;
    const struct climatology *climatology;
    gsl_spline *sums;
    gsl_interp_accel *accel;
    gsl_rng *rng;
    double mood;          /* of the wind */
    double clearness;     /* of the day, unit spread */
    double swing;         /* the day's cycle ÷ the mean one */
    double ripple[DAY_H]; /* of the day, unit spread, mean zero */
    double last_ripple;   /* before the mean was taken out */
};

static void draw_day(struct hours *h)
{
    double mean = 0.0;
    h->clearness = step(h->clearness, SWING_LAG1, h->rng);
    h->swing = fmax(0.0, 1.0 + SWING_SD * h->clearness);
    for (int i = 0; i < DAY_H; i++) {
        h->last_ripple = step(h->last_ripple, RIPPLE_LAG1_H, h->rng);
        h->ripple[i] = h->last_ripple;
        mean += h->ripple[i] / DAY_H;
    }
    for (int i = 0; i < DAY_H; i++)
        h->ripple[i] -= mean;
}

static void make_hour(struct hours *h, long day, double day_mean_c, long hour,
                      struct th_observation *o)
{
    const int d = day_of_year(day);
    const struct th_month_normal *normal = &h->normals->month[month_of_day(d)];
    const double level_c = gsl_spline_eval(h->sums, (double)(hour + 1), h->accel) -
                           gsl_spline_eval(h->sums, (double)hour, h->accel);
    const double cycle_k =
        h->swing * h->climatology->swing_k[d] * (h->climatology->shape_mean - shape[hour % DAY_H]) +
        h->climatology->ripple_k[d] * h->ripple[hour % DAY_H];
    const double temp_c = to_tenth(level_c + cycle_k);
    th_observation_set(o, TH_TEMP_C, temp_c);
    if (normal->has_dew)
        th_observation_set(o, TH_DEW_C,
                           fmin(temp_c, to_tenth(day_mean_c - (normal->mean_c - normal->dew_c))));
    const double wind = normal->has_wind ? normal->wind_m_s : TH_NORMAL_WIND_M_S;
    th_observation_set(o, TH_WIND_M_S, to_tenth(draw_wind(wind, &h->mood, h->rng)));
}

static enum th_code add_hours(struct hours *h, const double *mean_c, long first_day, long days,
                              struct th_weather *weather, struct th_error *err)
{
    enum th_code code = mean_c ? TH_OK : th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (long hour = 0; hour < days * DAY_H && !code; hour++) {
        struct th_observation o = {.minute = (first_day * DAY_H + hour) * 60};
        if (hour % DAY_H == 0)
            draw_day(h);
        make_hour(h, first_day + hour / DAY_H, mean_c[hour / DAY_H], hour, &o);
        code = th_weather_add(weather, &o, err);
    }
    return code;
}

static enum th_code describe(const struct th_normals *normals, int seasons, unsigned long seed,
                             struct th_weather *weather, struct th_error *err)
{
    char name[160];
    weather->form = "plain";
    weather->clock = TH_CLOCK_STANDARD;
    snprintf(weather->station.name, sizeof weather->station.name, "%s", normals->place);
    snprintf(weather->clock_note, sizeof weather->clock_note, "local standard time, generated");
    snprintf(weather->units_note, sizeof weather->units_note,
             "generated from monthly statistics, %d seasons, seed %lu", seasons, seed);
    snprintf(name, sizeof name, "generated: %s, %d seasons, seed %lu", normals->place, seasons,
             seed);
    return th_weather_add_file(weather, name, err);
}

static enum th_code generate(const struct th_normals *normals, int seasons, long first_day,
                             long days, unsigned long seed, double *mean_c,
                             struct th_weather *weather, struct th_error *err)
{
    struct climatology climatology;
    double offset_k[TH_NORMAL_SEASONS_MAX + 1];
    struct hours h = {.normals = normals,
                      .climatology = &climatology,
                      .accel = gsl_interp_accel_alloc(),
                      .rng = gsl_rng_alloc(gsl_rng_mt19937)};
    enum th_code code = TH_OK;
    if (h.accel && h.rng && prepare(normals, &climatology)) {
        gsl_rng_set(h.rng, seed);
        draw_offsets(season_offset_k(normals), seasons, h.rng, offset_k);
        draw_days(&climatology, offset_k, first_day, days, h.rng, mean_c);
        h.sums = sum_spline(mean_c, days);
    }
    code = h.sums ? add_hours(&h, mean_c, first_day, days, weather, err)
                  : th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (h.sums)
        gsl_spline_free(h.sums);
    if (h.rng)
        gsl_rng_free(h.rng);
    if (h.accel)
        gsl_interp_accel_free(h.accel);
    return code;
}

enum th_code th_normals_generate(const struct th_normals *normals, int seasons, unsigned long seed,
                                 struct th_weather *weather, struct th_error *err)
{
    th_weather_init(weather);
    enum th_code code = th_normals_check(normals, err);
    if (code)
        return code;
    if (seasons < 1 || seasons > TH_NORMAL_SEASONS_MAX)
        return th_fail(err, TH_ERR_RANGE, "%d seasons; 1 to %d are allowed", seasons,
                       TH_NORMAL_SEASONS_MAX);
    const long first_day = th_season_first_day(TH_NORMAL_FIRST_YEAR);
    const long days = th_season_first_day(TH_NORMAL_FIRST_YEAR + seasons) + TAIL_DAYS - first_day;
    double *mean_c = calloc((size_t)days, sizeof *mean_c);
    code = mean_c ? describe(normals, seasons, seed, weather, err)
                  : th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (!code)
        code = generate(normals, seasons, first_day, days, seed, mean_c, weather, err);
    weather->counts.rows = weather->n;
    if (weather->n_files)
        th_weather_last_file(weather)->rows = weather->n;
    free(mean_c);
    if (code)
        th_weather_finish(weather);
    return code;
}

bool th_climate_generated(const struct th_climate *climate)
{
    return !climate->typical &&
           climate->first_hour >= DAY_H * th_day_number(TH_NORMAL_FIRST_YEAR, 1, 1);
}

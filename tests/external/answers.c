/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Prints what the library answers to a fixed set of cases, one a line, inputs before outputs, for
 * scripts that work the same cases out with other people's software.
 */
#include "turnheat/air.h"
#include "turnheat/cycle.h"
#include "turnheat/degree_days.h"
#include "turnheat/error.h"
#include "turnheat/payback.h"
#include "turnheat/psychro.h"
#include "turnheat/units.h"
#include "turnheat/weather.h"
#include "weather_read.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* flow m³/s, temp °C, w_out, water kg/s, Pa, then dry air kg/s */
static int dry_air(void)
{
    for (int i = 0; i < 60; i++) {
        const double flow = 0.2 + 0.1 * i, temp_c = 10.0 + i % 25, w_out = 0.0005 * (i % 17);
        const double water = 0.0004 * (i % 13) * flow, pressure = 80000.0 + 2000.0 * (i % 11);
        printf("%.17g %.17g %.17g %.17g %.17g %.17g\n", flow, temp_c, w_out, water, pressure,
               th_air_dry_kg_s(flow, temp_c, w_out, water, pressure));
    }
    return EXIT_SUCCESS;
}

/* dew point, °C, and Pa, then humidity ratio and the dew point found again */
static int dew_points(void)
{
    for (int i = 0; i <= 60; i++) {
        const double temp_c = -40.0 + i * 1.25, pressure = 85000.0 + 300.0 * i;
        const double w = th_psy_saturation_ratio(temp_c, pressure);
        double dew_c;
        struct th_error err;
        if (th_psy_dew_point(w, pressure, &dew_c, &err) != TH_OK) {
            fprintf(stderr, "%s\n", err.text);
            return EXIT_FAILURE;
        }
        printf("%.17g %.17g %.17g %.17g\n", temp_c, pressure, w, dew_c);
    }
    return EXIT_SUCCESS;
}

static int print_cycle(const struct th_cycle_in *in)
{
    struct th_cycle out;
    struct th_error err;
    if (th_cycle_solve(in, &out, &err) != TH_OK) {
        fprintf(stderr, "%s\n", err.text);
        return EXIT_FAILURE;
    }
    printf("%.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g ", in->on_c, in->off_c,
           in->free_c, in->ua_w_k, in->heat_w, in->capacity_j_k, in->dead_time_s, in->ramp_c,
           in->ramp_band_k, in->ramp_w_k);
    printf("%.17g %.17g %.17g %.17g %.17g %.17g\n", out.lit, out.waste_w, out.starts_h, out.mean_c,
           out.low_c, out.high_c);
    return EXIT_SUCCESS;
}

/* the fields of struct th_cycle_in in order, then lit, waste, starts, mean, low, high */
static int cycles(void)
{
    const double heat_w[] = {75e3, 100e3, 130e3, 200e3, 300e3};
    const double dead_time_s[] = {0.0, 45.0, 90.0, 150.0};
    const double off_below_set_k[] = {0.0, 0.5, 1.0, 2.0};
    int status = EXIT_SUCCESS;
    for (int i = 0; i < 80; i++) {
        const double off_c = 27.0 - off_below_set_k[i % 4];
        const struct th_cycle_in in = {.on_c = off_c - 0.55,
                                       .off_c = off_c,
                                       .free_c = -5.0 - i % 9,
                                       .ua_w_k = 1600.0,
                                       .heat_w = heat_w[i / 16],
                                       .capacity_j_k = 5.0e6,
                                       .dead_time_s = dead_time_s[i / 4 % 4],
                                       .ramp_c = 27.3,
                                       .ramp_band_k = 1.1,
                                       .ramp_w_k = 9.0e3 + 4.0e3 * (i % 5)};
        status |= print_cycle(&in);
    }
    return status;
}

#define STUDY_YEARS 15

/* An investment of its own kind for every i; its flows as the definitions give them. */
static void investment(int i, struct th_study *study, struct th_outlay *better, double flow[])
{
    *study = (struct th_study){.years = STUDY_YEARS,
                               .discount = 0.01 + 0.015 * (i % 6),
                               .price_usd_unit = 1.2 + 0.1 * (i % 11),
                               .fuel_growth = -0.01 + 0.01 * (i % 4),
                               .payer_share = 1.0};
    *better = (struct th_outlay){.first_usd = 3000.0 + 700.0 * (i % 9),
                                 .residual_usd = 100.0 * (i % 5),
                                 .upkeep_usd_year = 15.0 * (i % 3),
                                 .n_replacements = 1,
                                 .replacements = {{.year = 3 + i % 10, .usd = 90.0 * (i % 7)}}};
    const double saved_units = 500.0 + 37.0 * (i % 13);
    better->fuel_units_year = 5000.0 - saved_units;
    flow[0] = -better->first_usd;
    double price = study->price_usd_unit;
    for (int year = 1; year <= STUDY_YEARS; year++) {
        price *= 1.0 + study->fuel_growth;
        flow[year] = saved_units * price - better->upkeep_usd_year;
    }
    flow[better->replacements[0].year] -= better->replacements[0].usd;
    flow[STUDY_YEARS] += better->residual_usd;
}

/* discount rate, the flows of years 0…15, then net savings and internal rate of return */
static int paybacks(void)
{
    const struct th_outlay base = {.fuel_units_year = 5000.0};
    for (int i = 0; i < 60; i++) {
        struct th_study study;
        struct th_outlay better;
        struct th_return result;
        struct th_error err;
        double flow[STUDY_YEARS + 1];
        investment(i, &study, &better, flow);
        if (th_payback_compare(&base, &better, &study, &result, &err) != TH_OK ||
            result.irr.state != TH_MEASURE_DEFINED) {
            fprintf(stderr, "case %d has no rate of return\n", i);
            return EXIT_FAILURE;
        }
        printf("%.17g ", study.discount);
        for (int year = 0; year <= STUDY_YEARS; year++)
            printf("%.17g ", flow[year]);
        printf("%.17g %.17g\n", result.net_usd, result.irr.value);
    }
    return EXIT_SUCCESS;
}

/* of a file: degree-days below 65 °F by hours and by daily means, and the lowest °F */
static enum th_code degree_days(const char *path, struct th_weather *weather,
                                struct th_climate *climate, struct th_error *err)
{
    const struct th_weather_options options = {.clock = TH_CLOCK_STANDARD};
    enum th_code code = th_weather_read(NULL, &path, 1, &options, weather, err);
    if (code == TH_OK)
        code = th_climate_init(climate, weather, 0.0, 0.0, err);
    if (code != TH_OK)
        return code;
    /* The file's first hour is 01:00; its day begins an hour earlier. */
    const struct th_degree_days sum = th_degree_days_count(climate, climate->first_hour - 1,
                                                           (long)climate->n + 1, th_c_from_f(65.0));
    double low_c = climate->hours[0].out_c;
    for (size_t i = 1; i < climate->n; i++)
        low_c = climate->hours[i].out_c < low_c ? climate->hours[i].out_c : low_c;
    printf("%.9g %.9g %.9g\n", sum.hourly_k_d / TH_K_PER_F, sum.mean_k_d / TH_K_PER_F,
           th_f_from_c(low_c));
    return TH_OK;
}

static int weather_of(const char *path)
{
    struct th_weather weather;
    struct th_climate climate = {0};
    struct th_error err;
    th_weather_init(&weather);
    const enum th_code code = degree_days(path, &weather, &climate, &err);
    if (code != TH_OK)
        fprintf(stderr, "%s:%ld: %s\n", err.file, err.line, err.text);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
    return code == TH_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}

int main(int argc, char **argv)
{
    const struct {
        const char *name;
        int (*print)(void);
    } sets[] = {{"cycles", cycles},
                {"dew-points", dew_points},
                {"dry-air", dry_air},
                {"paybacks", paybacks}};
    th_init();
    for (size_t i = 0; argc == 2 && i < sizeof sets / sizeof sets[0]; i++)
        if (strcmp(argv[1], sets[i].name) == 0)
            return sets[i].print();
    if (argc == 3 && strcmp(argv[1], "weather") == 0)
        return weather_of(argv[2]);
    fprintf(stderr, "usage: answers cycles|dew-points|dry-air|paybacks|weather FILE\n");
    return EXIT_FAILURE;
}

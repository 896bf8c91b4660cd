/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for every barn and weather file, tried on random ones: how a thing is written or
   ordered does not matter, and two rooms burn twice what one does. Bookkeeping, no source. */
#include "barn.h"
#include "budget_report.h"
#include "turnheat/calendar.h"
#include "weather_read.h"

#include "render.h"
#include "run_suite.h"
#include "scratch.h"
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <jansson.h>
#include <math.h>
#include <string.h>

#define YEAR 2015
#define HOURS (24 * 100) /* of weather, from 1 November */
#define REPORTED 2e-8    /* reports give nine digits */

static gsl_rng *rng;
static struct th_climate climate;
static struct th_weather weather;

static double between(double low, double high)
{
    return low + (high - low) * gsl_rng_uniform(rng);
}

/* --- weather files --- */

enum column { TIME, TEMPERATURE, DEW_POINT, WIND, PRESSURE, REMARK, COLUMNS };

static const char *const names[COLUMNS] = {"time",     "temp_f",       "dew_point_f",
                                           "wind_mph", "pressure_hpa", "remark"};

/* The same readings every time, some of them missing, the columns in the order given. */
static struct scratch write_weather(const int order[COLUMNS])
{
    char *text = NULL;
    size_t size;
    FILE *const out = open_memstream(&text, &size);
    for (int c = 0; c < COLUMNS; c++)
        fprintf(out, "%s%s", c ? "," : "", names[order[c]]);
    fputc('\n', out);
    for (int i = 0; i < HOURS; i++) {
        const struct th_date date = th_date_of(th_day_number(YEAR, 11, 1) + i / 24);
        const double temp_f = 18.0 + 12.0 * sin(0.26 * i) + 15.0 * sin(0.013 * i);
        char cells[COLUMNS][32];
        snprintf(cells[TIME], 32, "%d-%02d-%02d %02d:00", date.year, date.month, date.day, i % 24);
        snprintf(cells[TEMPERATURE], 32, "%.1f", temp_f);
        snprintf(cells[DEW_POINT], 32, "%.1f", temp_f - 6.0 - 4.0 * sin(0.7 * i));
        snprintf(cells[WIND], 32, "%.1f", 9.0 + 8.0 * sin(0.05 * i));
        snprintf(cells[PRESSURE], 32, "%.1f", 980.0 + 9.0 * sin(0.02 * i));
        if (i % 50 == 7)
            cells[WIND][0] = '\0';
        if (i % 90 == 8)
            cells[PRESSURE][0] = '\0';
        snprintf(cells[REMARK], 32, "\"no. %d, of %d\"", i, HOURS);
        for (int c = 0; c < COLUMNS; c++)
            fprintf(out, "%s%s", c ? "," : "", cells[order[c]]);
        fputc('\n', out);
    }
    fclose(out);
    const struct scratch file = scratch_bytes("weather.csv", text, size);
    free(text);
    return file;
}

static void read_weather(const int order[COLUMNS], struct th_weather *of, struct th_climate *hours)
{
    const struct th_weather_options options = {.clock = TH_CLOCK_STANDARD};
    struct scratch file = write_weather(order);
    const char *const paths[] = {file.path};
    struct th_error err = {0};
    ck_assert_msg(th_weather_read(NULL, paths, 1, &options, of, &err) == TH_OK, "%s", err.text);
    ck_assert_msg(th_climate_init(hours, of, 300.0, -6.0, &err) == TH_OK, "%s", err.text);
    scratch_remove(&file);
}

static const int as_named[COLUMNS] = {TIME, TEMPERATURE, DEW_POINT, WIND, PRESSURE, REMARK};

static void begin(void)
{
    rng = gsl_rng_alloc(gsl_rng_mt19937);
    read_weather(as_named, &weather, &climate);
}

static void end(void)
{
    th_climate_finish(&climate);
    th_weather_finish(&weather);
    gsl_rng_free(rng);
}

START_TEST(order_of_columns_does_not_matter)
{
    int order[COLUMNS];
    struct th_weather other;
    struct th_climate hours;
    gsl_rng_set(rng, 5000 + (unsigned long)_i);
    memcpy(order, as_named, sizeof order);
    gsl_ran_shuffle(rng, order, COLUMNS, sizeof order[0]);
    read_weather(order, &other, &hours);
    ck_assert_uint_eq(hours.n, climate.n);
    ck_assert_uint_ge(hours.n, HOURS);
    for (size_t i = 0; i < hours.n; i++) {
        const struct th_climate_hour *const a = &climate.hours[i], *const b = &hours.hours[i];
        ck_assert_msg(a->out_c == b->out_c && a->w_kg_kg == b->w_kg_kg &&
                          a->pressure_pa == b->pressure_pa && a->wind_m_s == b->wind_m_s &&
                          a->mean24_c == b->mean24_c && a->state == b->state,
                      "hour %zu", i);
    }
    th_climate_finish(&hours);
    th_weather_finish(&other);
}
END_TEST

/* --- barn files --- */

/* A line of a barn file with a random value in US units; the same in SI is value × factor + offset.
   Factors are the definitions: the foot, the pound, the Btu of the international steam table. */
#define FT 0.3048
#define BTU 1055.05585262
#define K_F (5.0 / 9.0)
static const struct line {
    const char *text;
    double low, high;
    const char *us;
    double factor, offset;
    const char *si;
} lines[] = {
    {"[room]\nspaces = 1000\nlength", 150, 250, "ft", FT, 0, "m"},
    {"width", 35, 60, "ft", FT, 0, "m"},
    {"height", 90, 110, "in", 2.54, 0, "cm"},
    {"slab_edge_F", 0.3, 1.0, "Btu/h ft F", BTU / 3600 / FT / K_F, 0, "W/m K"},
    {"stratification", 0, 5, "F", K_F, 0, "C"},
    {"mass", 1, 15, "Btu/ft2 F", BTU / 1000 / (FT * FT * K_F), 0, "kJ/m2K"},
    {"internal", 0, 5000, "Btu/h", BTU / 3600, 0, "W"},
    {"[site]\nelevation", 0, 3000, "ft", FT, 0, "m"},
    {"[surface top]\nkind = ceiling\narea", 7000, 9000, "ft2", FT *FT, 0, "m2"},
    {"R", 10, 50, "", FT *FT *K_F * 3600 / BTU, 0, "m2K/W"},
    {"[surface side]\nkind = curtain\narea", 1000, 3000, "ft2", FT *FT, 0, "m2"},
    {"R", 1, 4, "", FT *FT *K_F * 3600 / BTU, 0, "m2K/W"},
    {"[air]\nfan_floor", 500, 3000, "cfm", FT *FT *FT * 60, 0, "m3/h"},
    {"installed_max", 80e3, 120e3, "cfm", FT *FT *FT / 60, 0, "m3/s"},
    {"first_stage", 5000, 9000, "cfm", FT *FT *FT / 60 * 1000, 0, "L/s"},
    {"leakage", 100, 800, "in2", 2.54 * 2.54, 0, "cm2"},
    {"ramp_band", 1, 3, "F", K_F, 0, "C"},
    {"[setpoints]\nshift", -2, 2, "F", K_F, 0, "K"},
    {"[zone]\non = yes\ntarget", 80, 95, "F", K_F, -32 * K_F, "C"},
    {"rise", 10, 20, "F", K_F, 0, "C"},
    {"target_fall", 1, 3, "F/week", K_F, 0, "C/week"},
    {"[heater a]\nunits = 2\ninput", 150e3, 300e3, "Btu/h", BTU / 3600 / 1000, 0, "kW"},
    {"on_below", 2, 4, "F", K_F, 0, "C"},
    {"off_below", 0.5, 1.5, "F", K_F, 0, "C"},
    {"[turn t]\nhead = 1000\nplace = 11-20\ndays = 30\nweight", 12, 30, "lb", 0.45359237, 0, "kg"},
    {"wash", 0.5, 2, "gal/100 ft2", 0.003785411784 * 1e3 / (100 * FT * FT), 0, "L/m2"},
    {"[fuel]\nheat_content", 90e3, 93e3, "Btu/gal", BTU / 3.785411784 / 1e6, 0, "MJ/L"},
    {"price", 1, 3, "$/gal", 1 / 3.785411784, 0, "$/L"},
};
#define N_LINES (sizeof lines / sizeof lines[0])

static void random_values(double values[N_LINES])
{
    for (size_t i = 0; i < N_LINES; i++)
        values[i] = between(lines[i].low, lines[i].high);
}

static void read_barn(const double values[N_LINES], bool si, const char *set, struct th_barn *barn)
{
    char text[4096];
    int n = 0;
    for (size_t i = 0; i < N_LINES; i++) {
        const struct line *const l = &lines[i];
        n += snprintf(text + n, sizeof text - (size_t)n, "%s = %.14g %s\n", l->text,
                      si ? values[i] * l->factor + l->offset : values[i], si ? l->si : l->us);
    }
    ck_assert_int_lt(n, (int)sizeof text - 1);
    struct scratch file = scratch_text("room.barn", text);
    struct th_issues issues = {0};
    const enum th_code code = th_barn_read(NULL, file.path, NULL, &set, set ? 1 : 0, barn, &issues);
    ck_assert_msg(code == TH_OK, "%s", issues.n_errors ? issues.errors[0].text : "no text");
    th_issues_finish(&issues);
    scratch_remove(&file);
}

static double gallons(const struct th_room *room)
{
    struct th_winters winters;
    struct th_error err = {0};
    ck_assert_msg(th_winters_run(&winters, room, &climate, YEAR, YEAR, NULL, &err) == TH_OK, "%s",
                  err.text);
    ck_assert_int_eq(winters.n_counted, 1);
    const double gas_j = th_winters_mean_gas_j(&winters);
    th_winters_finish(&winters);
    return gas_j / room->fuel.hhv_j;
}

START_TEST(units_do_not_matter)
{
    struct th_barn us, si;
    double values[N_LINES];
    gsl_rng_set(rng, 6000 + (unsigned long)_i);
    random_values(values);
    read_barn(values, false, NULL, &us);
    read_barn(values, true, NULL, &si);
    const double gal = gallons(&us.room);
    ck_assert_double_gt(gal, 10.0);
    ck_assert_double_eq_tol(gallons(&si.room), gal, 1e-9 * gal);
    ck_assert_double_eq_tol(si.room.fuel.price, us.room.fuel.price, 1e-9);
    th_barn_finish(&us);
    th_barn_finish(&si);
}
END_TEST

/* --- reports of several rooms --- */

static json_t *budget(const struct th_barn *const *barns, int n)
{
    struct th_case cases[2];
    struct th_error err = {0};
    char *text = NULL;
    size_t size;
    ck_assert_int_le(n, 2);
    struct th_budget budgets[2];
    struct th_runs runs;
    enum th_code code = TH_OK;
    th_runs_init(&runs, 2, NULL);
    for (int i = 0; i < n && code == TH_OK; i++) {
        cases[i] = (struct th_case){.room = &barns[i]->room,
                                    .weather = &weather,
                                    .climate = &climate,
                                    .first_year = YEAR,
                                    .last_year = YEAR};
        code = th_budget_run(&budgets[i], &runs, &cases[i], NULL, &err);
    }
    ck_assert_msg(code == TH_OK, "%s", err.text);
    struct th_report *const report = th_report_new("budget");
    FILE *const out = open_memstream(&text, &size);
    code = th_budget_report(report, budgets, n, NULL, &err);
    if (code == TH_OK)
        code = th_report_write(report, TH_AS_JSON, out, &err);
    fclose(out);
    ck_assert_msg(code == TH_OK, "%s", err.text);
    json_t *const read = json_loads(text, 0, NULL);
    ck_assert_ptr_nonnull(read);
    th_report_free(report);
    for (int i = 0; i < n; i++)
        th_budget_finish(&budgets[i]);
    th_runs_finish(&runs);
    free(text);
    return read;
}

/* The season's gallons of one room, or of all. */
static double season_gal(const json_t *report, bool all)
{
    json_t *of =
        all ? json_object_get(report, "farm")
            : json_object_get(json_array_get(json_object_get(report, "rooms"), 0), "season");
    const json_t *const gal = json_object_get(of, "gas_middle_gal");
    ck_assert(json_is_number(gal) && json_number_value(gal) > 10.0);
    return json_number_value(gal);
}

static double budget_gal(const struct th_barn *first, const struct th_barn *second)
{
    const struct th_barn *const barns[] = {first, second};
    json_t *const report = budget(barns, second ? 2 : 1);
    const double gal = season_gal(report, second != NULL);
    json_decref(report);
    return gal;
}

START_TEST(rooms_add_up)
{
    struct th_barn one, pair, other;
    double values[N_LINES];
    gsl_rng_set(rng, 7000 + (unsigned long)_i);
    random_values(values);
    read_barn(values, false, NULL, &one);
    read_barn(values, false, "room.copies=2", &pair);
    random_values(values);
    read_barn(values, false, NULL, &other);
    const double gal = budget_gal(&one, NULL);
    ck_assert_double_eq_tol(budget_gal(&pair, NULL), 2.0 * gal, REPORTED * gal);
    ck_assert_double_eq_tol(budget_gal(&one, &one), 2.0 * gal, REPORTED * gal);
    const double both = gal + budget_gal(&other, NULL);
    ck_assert_double_eq_tol(budget_gal(&one, &other), both, REPORTED * both);
    ck_assert_double_eq_tol(budget_gal(&other, &one), both, REPORTED * both);
    th_barn_finish(&one);
    th_barn_finish(&pair);
    th_barn_finish(&other);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("properties_files");
    TCase *tc = tcase_create("properties_files");
    tcase_set_timeout(tc, 120);
    tcase_add_unchecked_fixture(tc, begin, end);
    tcase_add_loop_test(tc, order_of_columns_does_not_matter, 0, 30);
    tcase_add_loop_test(tc, units_do_not_matter, 0, 60);
    tcase_add_loop_test(tc, rooms_add_up, 0, 4);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

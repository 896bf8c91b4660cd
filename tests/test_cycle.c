/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The closed-form heater cycle against published arithmetic of its limits, and against itself
 * stepped in time. */
#include "turnheat/cycle.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <math.h>
#include <stdio.h>

#define BTU_F (TH_J_PER_BTU / TH_K_PER_F)

/* E1: exponential response without dead time; derived. */
START_TEST(without_dead_time)
{
    struct th_cycle_in in = {.on_c = th_c_from_f(79.0),
                             .off_c = th_c_from_f(81.0),
                             .ua_w_k = 3000.0 * TH_UA_SI_PER_US,
                             .heat_w = 400e3 * TH_W_PER_BTUH,
                             .capacity_j_k = 2650.0 * BTU_F,
                             .ramp_c = th_c_from_f(200.0),
                             .ramp_band_k = 1.0};
    struct th_cycle out;
    struct th_error err;
    in.free_c = th_c_from_f(80.0) - 200e3 * TH_W_PER_BTUH / in.ua_w_k;
    ck_assert_int_eq(th_cycle_solve(&in, &out, &err), TH_OK);
    validate("E1", VALIDATE_CHECK, "closed form, exponential", "on time", 1.590, out.burn_s / 60.0,
             0.0005, "min");
    validate("E1", VALIDATE_CHECK, "closed form, exponential", "off time", 1.590, out.fall_s / 60.0,
             0.0005, "min");
    validate("E1", VALIDATE_CHECK, "closed form, exponential", "starts", 18.87, out.starts_h, 0.005,
             "1/h");
}
END_TEST

struct e2_row {
    double heat_kbtuh, offset_f, band_f, waste_pct, starts_h;
};

/* E2: large-load limit; a stepped simulation agrees within 0.2 percentage points; derived. */
static const struct e2_row e2[] = {
    {675, 0, 1e3, 23.1, 8.88}, {675, 2, 1e3, 7.8, 7.77}, {675, 4, 1e3, 0.4, 7.24},
    {450, 0, 1e3, 9.7, 8.77},  {340, 0, 1e3, 4.0, 7.68}, {340, 1, 1e3, 0.3, 7.41},
    {250, 0, 1e3, 0.7, 4.53},  {675, 0, 2, 19.7, 8.63},  {675, 2, 2, 7.8, 7.77}};

static struct th_cycle_in e2_case(const struct e2_row *row)
{
    /* A slope so small that the loss is as good as constant at 200,000 Btu/h. */
    const double ua = TH_UA_SI_PER_US;
    struct th_cycle_in in = {.on_c = 20.0,
                             .off_c = 20.0 + TH_K_PER_F,
                             .ua_w_k = ua,
                             .heat_w = row->heat_kbtuh * 1e3 * TH_W_PER_BTUH,
                             .capacity_j_k = 2650.0 * BTU_F,
                             .dead_time_s = 90.0,
                             .ramp_band_k = row->band_f * TH_K_PER_F,
                             .ramp_w_k = 1.08 * 600.0 * 80.0 * TH_UA_SI_PER_US};
    in.ramp_c = in.off_c + row->offset_f * TH_K_PER_F;
    in.free_c = in.off_c - 200e3 * TH_W_PER_BTUH / ua;
    return in;
}

START_TEST(ramp_waste)
{
    const struct e2_row *row = &e2[_i];
    const struct th_cycle_in in = e2_case(row);
    struct th_cycle out;
    struct th_error err;
    char what[96];
    ck_assert_int_eq(th_cycle_solve(&in, &out, &err), TH_OK);
    snprintf(what, sizeof what, "ramp waste of the load, %g kBtu/h, ramp %g °F above OFF%s",
             row->heat_kbtuh, row->offset_f, row->band_f < 10 ? ", topped at 2 °F" : "");
    validate("E2", VALIDATE_CHECK, "derived; stepped simulation agrees within 0.2 pp", what,
             row->waste_pct, 100.0 * out.waste_w / (200e3 * TH_W_PER_BTUH), 0.2, "%");
    snprintf(what, sizeof what, "starts, %g kBtu/h, ramp %g °F above OFF%s", row->heat_kbtuh,
             row->offset_f, row->band_f < 10 ? ", topped at 2 °F" : "");
    validate("E2", VALIDATE_CHECK, "derived; stepped simulation agrees within 0.2 pp", what,
             row->starts_h, out.starts_h, 0.01, "1/h");
    if (row->band_f < 10 && row->offset_f == 0.0) {
        validate("E2", VALIDATE_CHECK, "derived; stepped simulation agrees within 0.2 pp",
                 "peak above the ramp start, 675 kBtu/h, topped at 2 °F", 3.74,
                 (out.high_c - in.ramp_c) / TH_K_PER_F, 0.01, "°F");
        ck_assert(out.beyond_stage);
    }
}
END_TEST

START_TEST(off_when_warm_and_on_when_too_small)
{
    struct th_cycle_in in = e2_case(&e2[0]);
    struct th_cycle out;
    in.free_c = in.on_c + 1.0;
    ck_assert_int_eq(th_cycle_solve(&in, &out, NULL), TH_OK);
    ck_assert_double_eq(out.lit, 0.0);
    ck_assert_double_eq(out.mean_c, in.free_c);
    in = e2_case(&e2[0]);
    in.heat_w = 100e3 * TH_W_PER_BTUH;
    ck_assert_int_eq(th_cycle_solve(&in, &out, NULL), TH_OK);
    ck_assert_double_eq(out.lit, 1.0);
    ck_assert_double_lt(out.mean_c, in.off_c);
}
END_TEST

START_TEST(refuses_what_cannot_be)
{
    struct th_cycle_in in = e2_case(&e2[0]);
    struct th_cycle out;
    struct th_error err;
    in.ua_w_k = 0.0;
    ck_assert_int_eq(th_cycle_solve(&in, &out, &err), TH_ERR_MODEL);
    in = e2_case(&e2[0]);
    in.off_c = in.on_c;
    ck_assert_int_eq(th_cycle_solve(&in, &out, &err), TH_ERR_MODEL);
    in = e2_case(&e2[0]);
    in.ramp_c = in.off_c - 0.1;
    ck_assert_int_eq(th_cycle_solve(&in, &out, &err), TH_ERR_MODEL);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("cycle");
    TCase *tc = tcase_create("cycle");
    tcase_add_test(tc, without_dead_time);
    tcase_add_loop_test(tc, ramp_waste, 0, (int)(sizeof e2 / sizeof *e2));
    tcase_add_test(tc, off_when_warm_and_on_when_too_small);
    tcase_add_test(tc, refuses_what_cannot_be);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/envelope.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <math.h>

static double assembly_r_us(const char *name)
{
    const struct th_assembly *assembly = th_assembly_find(name);
    ck_assert_msg(assembly != NULL, "no assembly \"%s\"", name);
    double r_m2k_w = NAN;
    ck_assert_int_eq(th_envelope_r(assembly->layers, assembly->n_layers, assembly->framing_share,
                                   &r_m2k_w, NULL),
                     TH_OK);
    return r_m2k_w / TH_R_SI_PER_US;
}

START_TEST(assemblies_have_their_published_r)
{
    validate("C11", VALIDATE_CHECK, "Univ. of Georgia 2005, 17(11)", "curtain", 1.5,
             assembly_r_us("curtain"), 1e-9, "ft2 °F h/Btu");
    validate("C11", VALIDATE_CHECK, "common handbook value, from memory", "bare 8 in concrete wall",
             1.49, assembly_r_us("bare concrete wall 8 in"), 0.01, "ft2 °F h/Btu");
    /* By hand: 20.475 between the studs, 8.35 at them, 12 % framing; 1/(0.04298 + 0.01437). */
    validate("C11", VALIDATE_CHECK, "parallel paths, worked by hand",
             "2x6 wall, R-19 batts, plywood lining", 17.44, assembly_r_us("stud wall 2x6 r-19"),
             0.01, "ft2 °F h/Btu");
}
END_TEST

/* ASHRAE Fundamentals, parallel-path example (from memory): wood-frame wall, outside film 0.17,
 * foam sheathing 4.0, mineral fiber 13 or stud 4.38, gypsum 0.45, inside film 0.68, 25 % framing:
 * average U 0.067 Btu/h ft² °F, as printed to three digits. */
START_TEST(framed_wall_example)
{
    const double us = TH_R_SI_PER_US;
    const struct th_layer layers[] = {{0.17 * us, 0.17 * us},
                                      {4.0 * us, 4.0 * us},
                                      {13.0 * us, 4.38 * us},
                                      {0.45 * us, 0.45 * us},
                                      {0.68 * us, 0.68 * us}};
    double r_m2k_w = NAN;
    ck_assert_int_eq(th_envelope_r(layers, 5, 0.25, &r_m2k_w, NULL), TH_OK);
    validate("C12", VALIDATE_CHECK, "ASHRAE Fundamentals, parallel-path example, from memory",
             "average U of a wood-frame wall", 0.067, us / r_m2k_w, 0.0005, "Btu/h ft2 °F");
}
END_TEST

static double edge_f_us(const char *name)
{
    const struct th_slab_edge *edge = th_slab_edge_find(name);
    ck_assert_msg(edge != NULL, "no slab edge \"%s\"", name);
    return edge->f_w_mk * TH_M_PER_FT * TH_K_PER_F / TH_W_PER_BTUH;
}

START_TEST(slab_edges_are_as_tabulated)
{
    const char *source = "ASHRAE 90.1 family via Wash. Admin. Code 51-11C A106.1";
    validate("C7", VALIDATE_CHECK, source, "slab edge, uninsulated", 0.73, edge_f_us("uninsulated"),
             1e-9, "Btu/h ft °F");
    validate("C7", VALIDATE_CHECK, source, "slab edge, R-10 vertical 2 ft", 0.54,
             edge_f_us("r-10 vertical 2 ft"), 1e-9, "Btu/h ft °F");
    const char *memory = "ASHRAE 90.1 table A6.3, from memory";
    validate("C7", VALIDATE_CHECK, memory, "slab edge, R-5 vertical 2 ft", 0.58,
             edge_f_us("r-5 vertical 2 ft"), 1e-9, "Btu/h ft °F");
    validate("C7", VALIDATE_CHECK, memory, "slab edge, R-15 vertical 2 ft", 0.52,
             edge_f_us("r-15 vertical 2 ft"), 1e-9, "Btu/h ft °F");
    validate("C7", VALIDATE_CHECK, memory, "slab edge, R-10 vertical 4 ft", 0.48,
             edge_f_us("r-10 vertical 4 ft"), 1e-9, "Btu/h ft °F");
    /* The SI edition of the table prints F-1.26 and F-0.93 W/m K (from memory). */
    ck_assert_double_eq_tol(th_slab_edge_find("uninsulated")->f_w_mk, 1.26, 0.005);
    ck_assert_double_eq_tol(th_slab_edge_find("r-10 vertical 2 ft")->f_w_mk, 0.93, 0.006);
}
END_TEST

START_TEST(lists_are_sound)
{
    int n;
    const struct th_material *materials = th_material_list(&n);
    ck_assert_int_gt(n, 0);
    for (int i = 0; i < n; i++) {
        ck_assert_ptr_eq(th_material_find(materials[i].name), &materials[i]);
        ck_assert(materials[i].r >= 0.0 && materials[i].source[0] != '\0');
    }
    const struct th_assembly *assemblies = th_assembly_list(&n);
    for (int i = 0; i < n; i++) {
        ck_assert_ptr_eq(th_assembly_find(assemblies[i].name), &assemblies[i]);
        ck_assert_double_gt(assembly_r_us(assemblies[i].name), 0.0);
    }
    const struct th_slab_edge *edges = th_slab_edge_list(&n);
    for (int i = 0; i < n; i++)
        ck_assert_ptr_eq(th_slab_edge_find(edges[i].name), &edges[i]);
    ck_assert_ptr_null(th_material_find("no such thing"));
    ck_assert_ptr_null(th_assembly_find(""));
    ck_assert_ptr_null(th_slab_edge_find("R-10"));
}
END_TEST

/* By thickness: 1 in of expanded polystyrene is R-4, and 5.5 in of batt about R-17 (label R-19 in
 * 6.25 in; common practice, no source). */
START_TEST(r_by_thickness)
{
    const struct th_material *foam = th_material_find("expanded polystyrene");
    ck_assert(!foam->piece);
    ck_assert_double_eq_tol(foam->r * TH_M_PER_IN / TH_R_SI_PER_US, 4.0, 1e-12);
    const struct th_material *batt = th_material_find("fiberglass batt");
    ck_assert_double_eq_tol(batt->r * 5.5 * TH_M_PER_IN / TH_R_SI_PER_US, 17.3, 0.1);
}
END_TEST

/* Framing that insulates worse lowers R; the whole lies between its two paths. */
START_TEST(parallel_paths_lie_between)
{
    const struct th_layer layer = {5.0, 1.0};
    double last = 5.0;
    for (double share = 0.0; share <= 1.0; share += 0.125) {
        double r = NAN;
        ck_assert_int_eq(th_envelope_r(&layer, 1, share, &r, NULL), TH_OK);
        ck_assert(r <= last && r >= 1.0);
        last = r;
    }
    ck_assert_double_eq(last, 1.0);
}
END_TEST

START_TEST(refuses_wrong_layers)
{
    const struct th_layer good = {1.0, 1.0};
    const struct th_layer wrong[] = {{-1.0, 1.0}, {1.0, NAN}, {0.0, 0.0}, {INFINITY, 1.0}};
    struct th_error err;
    double r = 7.0;
    for (int i = 0; i < 4; i++)
        ck_assert_int_eq(th_envelope_r(&wrong[i], 1, 0.1, &r, &err), TH_ERR_RANGE);
    ck_assert_int_eq(th_envelope_r(&good, 0, 0.1, &r, &err), TH_ERR_RANGE);
    ck_assert_int_eq(th_envelope_r(&good, TH_LAYERS_MAX + 1, 0.1, &r, &err), TH_ERR_RANGE);
    ck_assert_int_eq(th_envelope_r(&good, 1, 1.1, &r, &err), TH_ERR_RANGE);
    ck_assert_int_eq(th_envelope_r(&good, 1, NAN, &r, NULL), TH_ERR_RANGE);
    ck_assert_double_eq(r, 7.0);
}
END_TEST

/* Wilkes & Childs (Oak Ridge, 1992): 35–50 % of R lost at large attic differences. */
START_TEST(loose_fill_loses_r_in_deep_cold)
{
    validate("C13", VALIDATE_CHECK, "Oak Ridge, Wilkes & Childs 1992: 35-50 % of R lost",
             "R that loose-fill fiberglass keeps, attic 78 °F colder", 0.575,
             th_envelope_loose_fill_factor(78.0 * TH_K_PER_F), 0.075, "share");
    ck_assert_double_eq(th_envelope_loose_fill_factor(-30.0), 1.0);
    ck_assert_double_eq(th_envelope_loose_fill_factor(15.0), 1.0);
    /* Our judgement's shape: half way from 20 to 43 K, and its two ends. */
    ck_assert_double_eq_tol(th_envelope_loose_fill_factor(31.5), 0.7875, 1e-12);
    ck_assert_double_eq_tol(th_envelope_loose_fill_factor(24.6), 0.915, 1e-12);
    ck_assert_double_eq_tol(th_envelope_loose_fill_factor(43.0), 0.575, 1e-12);
    for (double k = 0.0; k < 80.0; k += 1.0)
        ck_assert(th_envelope_loose_fill_factor(k + 1.0) <= th_envelope_loose_fill_factor(k));
}
END_TEST

START_TEST(inside_surface_temperature)
{
    /* By hand: R 1.5, film 0.68, 80 °F inside, 0 °F outside: 80 − 80 × 0.68/1.5 = 43.73 °F. */
    const double surface_c = th_envelope_inside_surface_c(th_c_from_f(80.0), th_c_from_f(0.0),
                                                          1.5 * TH_R_SI_PER_US, TH_FILM_WALL_M2K_W);
    ck_assert_double_eq_tol(th_f_from_c(surface_c), 43.73, 0.005);
    ck_assert_double_eq(th_envelope_inside_surface_c(21.0, 21.0, 2.0, 0.1), 21.0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("envelope");
    TCase *tc = tcase_create("envelope");
    tcase_add_test(tc, assemblies_have_their_published_r);
    tcase_add_test(tc, framed_wall_example);
    tcase_add_test(tc, slab_edges_are_as_tabulated);
    tcase_add_test(tc, lists_are_sound);
    tcase_add_test(tc, r_by_thickness);
    tcase_add_test(tc, parallel_paths_lie_between);
    tcase_add_test(tc, refuses_wrong_layers);
    tcase_add_test(tc, loose_fill_loses_r_in_deep_cold);
    tcase_add_test(tc, inside_surface_temperature);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

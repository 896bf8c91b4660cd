/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report, in every rendering, when memory runs out at each place in turn: it is written whole or
 * it says so. */
#include "allocations.h"
#include "figure.h"
#include "render.h"
#include "run_suite.h"
#include <string.h>

#define SIZE_MAX_BYTES 65536

static void cells(struct th_report *r, const char *month)
{
    th_report_cell(r, "month", "Month", "", TH_PLAIN, th_text(month));
    th_report_cell(r, "gas_gal", "Propane", "gal", TH_SIG3, th_number(712));
}

static struct th_report *build(void)
{
    const struct th_figure figure = {.caption = "November takes all",
                                     .reading = "Gallons by month.",
                                     .along = {.kind = TH_AXIS_NAMES},
                                     .value = {.unit = "gal", .format = TH_SIG3}};
    struct th_report *r = th_report_new("budget");
    th_report_title(r, "Budget of %s", "a room");
    th_report_warning(r, "Air is low.");
    th_report_part(r, "rooms", "west");
    th_report_section(r, "season", "The season");
    th_report_fact(r, "gas_gal", "Propane", "gal", TH_SIG3, th_number(2290));
    th_report_paragraph(r, "verdict", "Not in a tight barn.");
    th_report_table(r, "months", "By month");
    th_report_row(r);
    cells(r, "Nov");
    th_report_row(r);
    cells(r, "Dec");
    th_report_total(r);
    cells(r, "All");
    th_figure(r, &figure);
    th_figure_name(r, "Nov");
    th_figure_mark(r, TH_MARK_DOT, TH_INK_HEAT, NULL);
    th_figure_named_point(r, 0, 712, "2013-14");
    th_report_balance(r, "heat", "Heat", "kWh", 1, 1);
    th_report_caution(r, "Thin evidence.");
    return r;
}

static enum th_code build_and_write(enum th_rendering rendering, FILE *out)
{
    struct th_error err = {0};
    struct th_report *report = build();
    const enum th_code code = th_report_write(report, rendering, out, &err);
    th_report_free(report);
    return code;
}

static void read_back(FILE *out, char text[SIZE_MAX_BYTES])
{
    rewind(out);
    text[fread(text, 1, SIZE_MAX_BYTES - 1, out)] = '\0';
}

START_TEST(report_is_whole_or_refused)
{
    const enum th_rendering rendering = (enum th_rendering)_i;
    static char whole[SIZE_MAX_BYTES], found[SIZE_MAX_BYTES];
    FILE *out = tmpfile();
    setvbuf(out, NULL, _IONBF, 0);
    const unsigned long before = allocations_made();
    ck_assert_int_eq(build_and_write(rendering, out), TH_OK);
    const unsigned long needed = allocations_made() - before;
    ck_assert_uint_gt(needed, 20);
    read_back(out, whole);
    fclose(out);
    unsigned long refused = 0;
    for (unsigned long nth = 1; nth <= needed; nth++) {
        out = tmpfile();
        setvbuf(out, NULL, _IONBF, 0);
        allocations_fail_from(nth);
        const enum th_code code = build_and_write(rendering, out);
        allocations_fail_from(0);
        ck_assert(code == TH_OK || code == TH_ERR_MEMORY);
        refused += code == TH_ERR_MEMORY;
        read_back(out, found);
        if (code == TH_OK)
            ck_assert_str_eq(found, whole);
        fclose(out);
    }
    ck_assert_uint_gt(refused, 20);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("report_memory");
    TCase *c = tcase_create("report_memory");
    tcase_set_timeout(c, 0);
    tcase_add_loop_test(c, report_is_whole_or_refused, TH_AS_TEXT, TH_AS_HTML + 1);
    suite_add_tcase(suite, c);
    return run_suite(suite);
}

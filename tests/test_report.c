/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report document and its renderers. Expected figures are rounded by hand by the rules of the
 * output page (three significant digits, whole hours, tenths of a degree); there is no outside
 * source for them. */
#include "csv_tables.h"
#include "display.h"
#include "rendered.h"
#include "utf8.h"
#include "run_suite.h"
#include "text_wrap.h"
#include <jansson.h>
#include <math.h>
#include <string.h>

static const struct shown_case {
    double number;
    enum th_format format;
    const char *unit, *shown;
} shown_cases[] = {
    {12345.6, TH_SIG3, "gal", "12,300 gal"},
    {1234567, TH_SIG3, "Btu/h", "1,230,000 Btu/h"},
    {999.6, TH_SIG3, "gal", "1,000 gal"},
    {99.95, TH_SIG3, "", "100"},
    {1.8, TH_SIG3, "gal", "1.80 gal"},
    {0.04567, TH_SIG3, "", "0.0457"},
    {0.0000001234, TH_SIG3, "", "0"},
    {0, TH_SIG3, "gal", "0 gal"},
    {-12345.6, TH_SIG3, "$", "-$12,300"},
    {1.849, TH_HUNDREDTHS, "$/gal", "$1.85/gal"},
    {1234.5678, TH_WHOLE, "h", "1,235 h"},
    {999999.5, TH_WHOLE, "", "1,000,000"},
    {-0.04, TH_TENTHS, "°F", "0.0 °F"},
    {-12.34, TH_TENTHS, "°F", "-12.3 °F"},
    {31.4, TH_WHOLE, "%", "31 %"},
    {2018, TH_PLAIN, "", "2018"},
    {56, TH_SIG2, "", "56"},
    {0.0567, TH_SIG2, "", "0.057"},
    {17562, TH_DAY, "", "Jan 31, 2018"},
    {17562 * 24.0 + 6, TH_HOUR, "", "Jan 31, 2018, 06:00"},
    {-1, TH_DAY, "", "Dec 31, 1969"},
    {1e300, TH_WHOLE, "", "1e+300"},
    {1e300, TH_DAY, "", "1e+300"},
    {INFINITY, TH_SIG3, "gal", "–"},
    {NAN, TH_SIG3, "gal", "–"},
};

START_TEST(numbers_are_shown_rounded)
{
    const struct shown_case *c = &shown_cases[_i];
    char buffer[TH_SHOWN_MAX];
    ck_assert_str_eq(th_show_with_unit(buffer, th_number(c->number), c->format, c->unit), c->shown);
}
END_TEST

START_TEST(machines_read_nine_digits)
{
    char buffer[TH_SHOWN_MAX];
    ck_assert_str_eq(th_show_exact(buffer, th_number(1.0 / 3), TH_SIG3), "0.333333333");
    ck_assert_str_eq(th_show_exact(buffer, th_number(-0.0), TH_SIG3), "0");
    ck_assert_str_eq(th_show_exact(buffer, th_number(17562 * 24.0), TH_HOUR), "2018-01-31T00:00");
    ck_assert_str_eq(th_show_exact(buffer, th_number(NAN), TH_SIG3), "");
    ck_assert_str_eq(th_show_exact(buffer, th_bool(true), TH_PLAIN), "true");
}
END_TEST

/* Malformed sequences are those of RFC 3629: overlong, surrogate, cut short, too large. */
static const struct harmless_case {
    const char *text, *harmless;
} harmless_cases[] = {
    {"plain – °F 猪", "plain – °F 猪"},
    {"two\nlines\tand\r", "two lines and "},
    {"\x1b[31mred", "\uFFFD[31mred"},
    {"\x7f\xc2\x9b", "\uFFFD\uFFFD\uFFFD"},
    {"\xc0\xaf", "\uFFFD\uFFFD"},
    {"\xed\xa0\x80", "\uFFFD\uFFFD\uFFFD"},
    {"\xe2\x82", "\uFFFD\uFFFD"},
    {"\xf4\x90\x80\x80", "\uFFFD\uFFFD\uFFFD\uFFFD"},
    {"\xff", "\uFFFD"},
    {"a\u202Egpj.exe", "a\uFFFDgpj.exe"},
    {"", ""},
};

START_TEST(hostile_texts_become_harmless)
{
    const struct harmless_case *c = &harmless_cases[_i];
    char out[256];
    th_make_harmless(out, c->text);
    ck_assert_str_eq(out, c->harmless);
}
END_TEST

static void month_cells(struct th_report *r, const char *month, double gas_gal, double lowest_f)
{
    th_report_cell(r, "month", "Month", "", TH_PLAIN, th_text(month));
    th_report_cell(r, "gas_gal", "Propane", "gal", TH_SIG3, th_number(gas_gal));
    th_report_cell(r, "lowest_f", "Lowest outdoors", "°F", TH_TENTHS, th_number(lowest_f));
}

static struct th_report *sample(void)
{
    struct th_report *r = th_report_new("budget");
    th_report_title(r, "Propane budget – %s", "west room");
    th_report_caution(r, "Three winters are thin evidence.");
    th_report_warning(r, "Minimum air is at %.2f of the table.", 0.85);
    th_report_fact(r, "barns_n", "Barns", "", TH_WHOLE, th_number(2));
    th_report_part(r, "rooms", "west room");
    th_report_section(r, "season", "The season");
    th_report_fact(r, "gas_gal", "Propane burnt", "gal", TH_SIG3, th_number(12345.678912345));
    th_report_fact(r, "gas_usd", "Its price", "$", TH_SIG3, th_missing());
    th_report_fact(r, "station", "Weather from", "", TH_PLAIN, th_text("a place"));
    th_report_fact(r, "covered", "Covered", "", TH_PLAIN, th_bool(true));
    th_report_table(r, "months", "By month");
    th_report_row(r);
    month_cells(r, "Nov", 712.4, NAN);
    th_report_row(r);
    month_cells(r, "Dec", 1578.2, -4.04);
    th_report_total(r);
    month_cells(r, "Both", 2290.6, NAN);
    th_report_part(r, "rooms", "east room");
    th_report_section(r, "season", "The season");
    th_report_fact(r, "gas_gal", "Propane burnt", "gal", TH_SIG3, th_number(1));
    th_report_part_end(r);
    th_report_section(r, "verdict", "Verdict");
    th_report_paragraph(r, "verdict", "Not in a tight barn.");
    th_report_item(r, "Read the overshoot off your room.");
    th_report_signature(r, "Builder");
    th_report_balance(r, "heat", "Heat", "kWh", 1000, 1000);
    th_report_balance(r, "water", "Water", "kg", 1000, 990);
    return r;
}

static const char sample_text[] = "Propane budget – west room\n"
                                  "══════════════════════════\n"
                                  "\n"
                                  "WARNINGS\n"
                                  "  ! Minimum air is at 0.85 of the table.\n"
                                  "\n"
                                  "  Barns   2\n"
                                  "\n"
                                  "west room\n"
                                  "═════════\n"
                                  "\n"
                                  "The season\n"
                                  "──────────\n"
                                  "\n"
                                  "  Propane burnt   12,300 gal\n"
                                  "  Its price            –\n"
                                  "  Weather from    a place\n"
                                  "  Covered         yes\n"
                                  "\n"
                                  "By month\n"
                                  "\n"
                                  "                    Lowest\n"
                                  "  Month  Propane  outdoors\n"
                                  "             gal        °F\n"
                                  "  ────────────────────────\n"
                                  "  Nov        712         –\n"
                                  "  Dec      1,580      -4.0\n"
                                  "  ────────────────────────\n"
                                  "  Both     2,290         –\n"
                                  "\n"
                                  "east room\n"
                                  "═════════\n"
                                  "\n"
                                  "The season\n"
                                  "──────────\n"
                                  "\n"
                                  "  Propane burnt   1.00 gal\n"
                                  "\n"
                                  "Verdict\n"
                                  "───────\n"
                                  "\n"
                                  "Not in a tight barn.\n"
                                  "\n"
                                  "  • Read the overshoot off your room.\n"
                                  "\n"
                                  "\n"
                                  "\n"
                                  "  ________________________________________\n"
                                  "  Builder\n"
                                  "\n"
                                  "Balances\n"
                                  "────────\n"
                                  "  • Heat: 1,000 in, 1,000 kWh out, closes.\n"
                                  "  • Water: 1,000 in, 990 kg out, OPEN by 1 %.\n"
                                  "\n"
                                  "Cautions\n"
                                  "────────\n"
                                  "  • Three winters are thin evidence.\n"
                                  "\n";

START_TEST(text_is_laid_out)
{
    struct th_report *report = sample();
    char *text = rendered(report, TH_AS_TEXT);
    char *note = strstr(text, "Totals are added up");
    ck_assert_ptr_nonnull(note);
    *note = '\0';
    ck_assert_str_eq(text, sample_text);
    free(text);
    th_report_free(report);
}
END_TEST

START_TEST(json_has_the_keys_and_nine_digits)
{
    struct th_report *report = sample();
    char *text = rendered(report, TH_AS_JSON);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    ck_assert_ptr_nonnull(root);
    int schema;
    const char *command, *title, *warning, *caution, *name, *month, *verdict, *open_name;
    double barns, gas, lowest, total, east;
    json_t *price, *november_low, *balances;
    int covered;
    ck_assert_int_eq(
        0, json_unpack(root,
                       "{s:i s:s s:s s:[s] s:[s] s:F s:[{s:s s:{s:F s:o s:b s:[{s:o} {s:s s:F}] "
                       "s:{s:F}}} {s:{s:F}}] s:{s:s} s:[o {s:s}]}",
                       "schema", &schema, "command", &command, "title", &title, "warnings",
                       &warning, "cautions", &caution, "barns_n", &barns, "rooms", "name", &name,
                       "season", "gas_gal", &gas, "gas_usd", &price, "covered", &covered, "months",
                       "lowest_f", &november_low, "month", &month, "lowest_f", &lowest,
                       "months_total", "gas_gal", &total, "season", "gas_gal", &east, "verdict",
                       "verdict", &verdict, "balances", &balances, "balance", &open_name));
    ck_assert_int_eq(schema, 2);
    ck_assert_str_eq(command, "budget");
    ck_assert_str_eq(month, "Dec");
    ck_assert_str_eq(open_name, "water");
    ck_assert_ptr_nonnull(strstr(text, "\"gas_gal\": 1\n"));
    ck_assert(gas == 12345.6789); /* nine significant digits of 12345.678912345 */
    ck_assert(lowest == -4.04 && total == 2290.6 && east == 1 && barns == 2 && covered);
    ck_assert(json_is_null(price) && json_is_null(november_low));
    json_decref(root);
    free(text);
    th_report_free(report);
}
END_TEST

START_TEST(csv_is_tidy_tables)
{
    struct th_report *report = sample();
    char *text = rendered(report, TH_AS_CSV);
    static const char *const lines[] = {
        "\"table\",\"schema\",\"turnheat\",\"command\",\"title\",\"barns_n\"\n\"report\",",
        ",\"budget\",\"Propane budget – west room\",2\n\n\"table\",\"text\"\n",
        "\n\"warnings\",\"Minimum air is at 0.85 of the table.\"\n",
        "\n\"table\",\"room\",\"gas_gal\",\"gas_usd\",\"station\",\"covered\"\n"
        "\"rooms.season\",\"west room\",12345.6789,,\"a place\",true\n"
        "\"rooms.season\",\"east room\",1,,,\n\n",
        "\n\"table\",\"room\",\"month\",\"gas_gal\",\"lowest_f\"\n"
        "\"rooms.season.months\",\"west room\",\"Nov\",712.4,\n"
        "\"rooms.season.months\",\"west room\",\"Dec\",1578.2,-4.04\n\n",
        "\n\"rooms.season.months_total\",\"west room\",\"Both\",2290.6,\n\n",
        "\n\"table\",\"verdict\"\n\"verdict\",\"Not in a tight barn.\"\n",
        "\n\"balances\",\"water\",\"kg\",1000,990,0.01\n",
        "\n\"cautions\",\"Three winters are thin evidence.\"\n",
    };
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++)
        ck_assert_msg(strstr(text, lines[i]) != NULL, "missing: %s in\n%s", lines[i], text);
    free(text);
    th_report_free(report);
}
END_TEST

START_TEST(no_text_in_csv_is_a_formula)
{
    static const char *const texts[] = {"=1+1", "+1", "-1", "@a", "=\"a\""};
    static const char *const cells[] = {"'=1+1", "'+1", "'-1", "'@a", "'=\"\"a\"\""};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        struct th_report *report = th_report_new("budget");
        char line[64];
        th_report_section(report, "a", "A");
        th_report_fact(report, "who", "Who", "", TH_PLAIN, th_text(texts[i]));
        th_report_fact(report, "loss_gal", "Loss", "gal", TH_SIG3, th_number(-1));
        char *text = rendered(report, TH_AS_CSV);
        snprintf(line, sizeof line, "\n\"a\",\"%s\",-1\n", cells[i]);
        ck_assert_msg(strstr(text, line) != NULL, "%s in %s", line, text);
        free(text);
        th_report_free(report);
    }
}
END_TEST

START_TEST(tables_are_counted_and_named)
{
    struct th_report *report = sample();
    static const char *const names[] = {
        "report",  "warnings", "rooms.season", "rooms.season.months", "rooms.season.months_total",
        "verdict", "balances", "cautions"};
    const int n = (int)(sizeof names / sizeof *names);
    char name[TH_TABLE_NAME_MAX];
    struct th_error err = {0};
    ck_assert_int_eq(th_report_tables(report), n);
    for (int i = 0; i < n; i++)
        ck_assert_str_eq(th_report_table_name(report, i, name), names[i]);
    ck_assert_int_eq(th_report_tables(NULL), 0);
    ck_assert_int_eq(th_report_write_table(report, n, false, stdout, &err), TH_ERR_INTERNAL);
    th_report_free(report);
}
END_TEST

START_TEST(key_used_twice_is_an_internal_error)
{
    struct th_report *report = th_report_new("budget");
    th_report_fact(report, "gas_gal", "One", "gal", TH_SIG3, th_number(1));
    th_report_fact(report, "gas_gal", "Two", "gal", TH_SIG3, th_number(2));
    struct th_error err;
    FILE *sink = tmpfile();
    ck_assert_int_eq(th_report_write(report, TH_AS_JSON, sink, &err), TH_ERR_INTERNAL);
    ck_assert_ptr_nonnull(strstr(err.text, "gas_gal"));
    fclose(sink);
    th_report_free(report);
}
END_TEST

START_TEST(no_report_is_out_of_memory)
{
    th_report_title(NULL, "x");
    th_report_fact(NULL, "a", "b", "", TH_PLAIN, th_missing());
    th_report_row(NULL);
    th_report_cell(NULL, "a", "b", "", TH_PLAIN, th_missing());
    th_report_free(NULL);
    ck_assert_int_eq(th_report_write(NULL, TH_AS_TEXT, stderr, NULL), TH_ERR_MEMORY);
}
END_TEST

START_TEST(columns_without_any_value_are_not_shown)
{
    struct th_report *report = th_report_new("budget");
    th_report_table(report, "t", "Seasons");
    for (int total = 0; total <= 1; total++) {
        if (total)
            th_report_total(report);
        else
            th_report_row(report);
        th_report_cell(report, "a", "Season", "", TH_PLAIN, th_text(total ? NULL : "2017-18"));
        th_report_cell(report, "cost_usd", "Cost", "$", TH_SIG3, th_missing());
        th_report_cell(report, "gas_gal", "Propane", "gal", TH_SIG3, th_number(9330));
    }
    for (int as = TH_AS_TEXT; as <= TH_AS_HTML; as++) {
        const bool for_people = as == TH_AS_TEXT || as == TH_AS_HTML;
        char *text = rendered(report, (enum th_rendering)as);
        ck_assert_int_eq(strstr(text, for_people ? "Cost" : "cost_usd") != NULL, !for_people);
        ck_assert_ptr_nonnull(strstr(text, for_people ? "9,330" : "9330"));
        free(text);
    }
    th_report_free(report);
}
END_TEST

static int widest_line(const char *text)
{
    int widest = 0;
    while (*text) {
        char line[512];
        const size_t bytes = strcspn(text, "\n");
        snprintf(line, sizeof line, "%.*s", (int)bytes, text);
        const int width = th_display_width(line);
        widest = width > widest ? width : widest;
        text += bytes + (text[bytes] == '\n');
    }
    return widest;
}

#define WIDE 30

static struct th_report *wide_table(int rows)
{
    struct th_report *report = th_report_new("budget");
    th_report_table(report, "wide", "A wide table");
    for (int row = 0; row < rows; row++) {
        th_report_row(report);
        for (int i = 0; i < WIDE; i++) {
            char key[16];
            snprintf(key, sizeof key, "k%d_gal", i);
            th_report_cell(report, key, key, "gal", TH_SIG3, th_number(1000.0 * i));
        }
    }
    return report;
}

START_TEST(wide_tables_keep_to_the_page)
{
    struct th_report *report = wide_table(_i ? 3 : 40);
    char *text = rendered(report, TH_AS_TEXT);
    ck_assert_int_le(widest_line(text), TH_TEXT_WIDTH);
    for (int i = 0; i < WIDE; i++) {
        char key[16];
        snprintf(key, sizeof key, "k%d_gal", i);
        ck_assert_ptr_nonnull(strstr(text, key));
    }
    ck_assert_ptr_nonnull(strstr(text, "29,000"));
    free(text);
    th_report_free(report);
}
END_TEST

START_TEST(long_words_and_sentences_are_wrapped)
{
    char word[300], sentence[900] = "";
    memset(word, 'x', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    for (int i = 0; i < 80; i++)
        strcat(sentence, "°F words ");
    struct th_report *report = th_report_new("budget");
    th_report_title(report, "%s", sentence);
    th_report_warning(report, "%s", word);
    th_report_paragraph(report, NULL, "%s", sentence);
    th_report_fact(report, "a", sentence, "", TH_PLAIN, th_text(sentence));
    th_report_table(report, "t", word);
    th_report_row(report);
    th_report_cell(report, "a", sentence, "", TH_PLAIN, th_text(word));
    th_report_cell(report, "b", "B", "", TH_PLAIN, th_text(sentence));
    char *text = rendered(report, TH_AS_TEXT);
    ck_assert_int_le(widest_line(text), TH_TEXT_WIDTH);
    free(text);
    th_report_free(report);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("report");
    TCase *c = tcase_create("report");
    tcase_add_loop_test(c, numbers_are_shown_rounded, 0,
                        sizeof shown_cases / sizeof shown_cases[0]);
    tcase_add_test(c, machines_read_nine_digits);
    tcase_add_loop_test(c, hostile_texts_become_harmless, 0,
                        sizeof harmless_cases / sizeof harmless_cases[0]);
    tcase_add_test(c, text_is_laid_out);
    tcase_add_test(c, json_has_the_keys_and_nine_digits);
    tcase_add_test(c, csv_is_tidy_tables);
    tcase_add_test(c, no_text_in_csv_is_a_formula);
    tcase_add_test(c, tables_are_counted_and_named);
    tcase_add_test(c, key_used_twice_is_an_internal_error);
    tcase_add_test(c, no_report_is_out_of_memory);
    tcase_add_test(c, columns_without_any_value_are_not_shown);
    tcase_add_loop_test(c, wide_tables_keep_to_the_page, 0, 2);
    tcase_add_test(c, long_words_and_sentences_are_wrapped);
    suite_add_tcase(suite, c);
    return run_suite(suite);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures: every mark is read off the finished drawing with its own axis, as a reader would do it,
 * and must give back the number it stands for. */
#include "figure.h"
#include "figure_scale.h"
#include "render.h"
#include "run_suite.h"
#include "turnheat/calendar.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* How far off its value a mark may be read, as a share of the axis: half a tenth of a pixel of 210,
 * and the same for the tick. */
#define READING_ERROR 0.0006

#define MONTHS 3

static const struct th_axis gallons = {.unit = "gal", .format = TH_SIG3, .from_zero = true};

static char *page_of(struct th_report *report)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    struct th_error err = {0};
    const enum th_code code = th_report_write(report, TH_AS_HTML, out, &err);
    fclose(out);
    th_report_free(report);
    ck_assert_msg(code == TH_OK, "%s", err.text);
    ck_assert_ptr_null(strstr(text, "nan"));
    ck_assert_ptr_null(strstr(text, "inf\""));
    return text;
}

/* The drawing for a desk or a phone, cut out of the page. */
static char *drawing_of(struct th_report *report, const char *class)
{
    char opening[32];
    char *page = page_of(report);
    snprintf(opening, sizeof opening, "<svg class=\"%s\"", class);
    const char *from = strstr(page, opening);
    ck_assert_ptr_nonnull(from);
    char *drawing = strndup(from, (size_t)(strstr(from, "</svg>") - from));
    free(page);
    return drawing;
}

/* A number as it is written on an axis or in a title. */
static double number_of(const char *text)
{
    char digits[64];
    size_t n = 0;
    for (; *text && *text != '<' && n + 1 < sizeof digits; text++)
        if (*text != ',' && *text != '$')
            digits[n++] = *text;
    digits[n] = '\0';
    return strtod(digits, NULL);
}

/* Two ticks of the axis of values; `down` when it runs from left to right. */
struct ruler {
    double place[2], value[2];
};

static struct ruler ruler_of(const char *drawing, bool down)
{
    struct ruler ruler;
    int n = 0;
    const char *at = strstr(drawing, "<g class=\"axis\">"), *end = strstr(at, "</g>");
    for (at = strstr(at, "<line"); at && at < end; at = strstr(at + 1, "<line")) {
        double x, y;
        ck_assert_int_eq(sscanf(strstr(at, "x1="), "x1=\"%lf\" y1=\"%lf\"", &x, &y), 2);
        const int k = n++ > 0;
        ruler.place[k] = down ? x : y;
        ruler.value[k] = number_of(strchr(strstr(at, "<text"), '>') + 1);
    }
    ck_assert_int_ge(n, 2);
    return ruler;
}

static double read_off(const struct ruler *r, double place)
{
    return r->value[0] +
           (place - r->place[0]) / (r->place[1] - r->place[0]) * (r->value[1] - r->value[0]);
}

static void check_read(const struct ruler *r, double place, double value)
{
    const double span = fabs(r->value[1] - r->value[0]);
    ck_assert_double_eq_tol(read_off(r, place), value, READING_ERROR * span);
}

static double gallons_of(int winter, int month)
{
    return 300.0 + 900.0 * month + 40.0 * fabs(sin(7.0 * winter + month)) * (month + 1);
}

static struct th_report *winters_figure(int n, enum th_axis_kind kind)
{
    struct th_report *report = th_report_new("budget");
    th_figure(report,
              &(struct th_figure){
                  .caption = "c", .reading = "r", .along = {.kind = kind}, .value = gallons});
    th_figure_name(report, "Nov");
    th_figure_name(report, "Dec");
    th_figure_name(report, "Jan");
    th_figure_mark(report, TH_MARK_SPECK, TH_INK_HEAT, NULL);
    for (int winter = 0; winter < n; winter++)
        for (int month = 0; month < MONTHS; month++)
            th_figure_named_point(report, month, gallons_of(winter, month), "a winter");
    return report;
}

/* Where the name of the month stands on the first axis. */
static double place_of_name(const char *drawing, const char *name)
{
    char text[32];
    snprintf(text, sizeof text, ">%s</text>", name);
    const char *at = strstr(strstr(drawing, "<g class=\"names\">"), text);
    while (strncmp(at, "<text", 5) != 0)
        at--;
    return strtod(strstr(at, "x=\"") + 3, NULL);
}

static const int winter_counts[] = {1, 3, 30, 88};

START_TEST(every_winter_stands_at_its_gallons)
{
    static const char *const names[] = {"Nov", "Dec", "Jan"}, *const classes[] = {"wide", "narrow"};
    const int n = winter_counts[_i];
    for (int class = 0; class < 2; class ++) {
        char *drawing = drawing_of(winters_figure(n, TH_AXIS_NAMES), classes[class]);
        const struct ruler ruler = ruler_of(drawing, false);
        const char *at = drawing;
        for (int i = 0; i < MONTHS * n; i++) {
            double x, y;
            at = strstr(at + 1, "<circle ");
            ck_assert_ptr_nonnull(at);
            ck_assert_int_eq(sscanf(at, "<circle cx=\"%lf\" cy=\"%lf\"", &x, &y), 2);
            check_read(&ruler, y, gallons_of(i / MONTHS, i % MONTHS));
            ck_assert_double_eq_tol(x, place_of_name(drawing, names[i % MONTHS]), 0.11);
        }
        ck_assert_ptr_null(strstr(at + 1, "<circle "));
        free(drawing);
    }
}
END_TEST

START_TEST(every_winter_stands_at_its_gallons_down_the_page)
{
    const int n = winter_counts[_i];
    char *drawing = drawing_of(winters_figure(n, TH_AXIS_NAMES_DOWN), "narrow");
    const struct ruler ruler = ruler_of(drawing, true);
    const char *at = drawing;
    for (int i = 0; i < MONTHS * n; i++) {
        at = strstr(at + 1, "<circle ");
        check_read(&ruler, strtod(strstr(at, "cx=\"") + 4, NULL),
                   gallons_of(i / MONTHS, i % MONTHS));
    }
    free(drawing);
}
END_TEST

START_TEST(bars_are_as_long_as_their_numbers)
{
    struct th_report *report = th_report_new("size");
    th_figure(report, &(struct th_figure){.caption = "c",
                                          .reading = "r",
                                          .along = {.kind = TH_AXIS_NAMES_DOWN},
                                          .value = gallons});
    static const double values[] = {1234.0, 617.0};
    for (int i = 0; i < 2; i++) {
        th_figure_name(report, "one");
        th_figure_mark(report, TH_MARK_BAR, TH_INK_HEAT, NULL);
        th_figure_point(report, i, values[i]);
    }
    char *drawing = drawing_of(report, "wide");
    const struct ruler ruler = ruler_of(drawing, true);
    const char *at = drawing;
    for (int i = 0; i < 2; i++) {
        double x, width;
        at = strstr(at + 1, "<g class=\"bar");
        sscanf(strstr(at, "<rect x="), "<rect x=\"%lf\" y=\"%*f\" width=\"%lf\"", &x, &width);
        check_read(&ruler, x, 0);
        check_read(&ruler, x + width, values[i]);
    }
    ck_assert_ptr_nonnull(strstr(drawing, "one: 1,230 gal</title>"));
    free(drawing);
}
END_TEST

#define LINE_DAYS 40
#define LINE_GAP 17

static struct th_report *line_figure(int n, bool gap)
{
    struct th_report *report = th_report_new("budget");
    const double first = (double)th_day_number(2013, 12, 20);
    th_figure(report, &(struct th_figure){.caption = "c",
                                          .reading = "r",
                                          .along = {.kind = TH_AXIS_DAY},
                                          .value = gallons});
    th_figure_mark(report, TH_MARK_LINE, TH_INK_COLD, "outdoors");
    for (int i = 0; i < n; i++)
        th_figure_point(report, first + i, gap && i == LINE_GAP ? NAN : 100.0 + i);
    return report;
}

START_TEST(lines_pass_through_their_points_and_break_at_gaps)
{
    char *drawing = drawing_of(line_figure(LINE_DAYS, true), "wide");
    const struct ruler ruler = ruler_of(drawing, false);
    const char *at = strstr(drawing, "<path d=\"") + 9;
    int points = 0, runs = 0;
    for (int i = 0; i < LINE_DAYS; i++) {
        if (i == LINE_GAP) {
            at = strstr(at, "<path d=\"") + 9;
            continue;
        }
        char step;
        double x, y;
        int length;
        ck_assert_int_eq(sscanf(at, "%c%lf %lf%n", &step, &x, &y, &length), 3);
        check_read(&ruler, y, 100.0 + i);
        runs += step == 'M';
        points++;
        at += length;
    }
    ck_assert_int_eq(points, LINE_DAYS - 1);
    ck_assert_int_eq(runs, 2);
    ck_assert_ptr_nonnull(strstr(drawing, "<title>Dec 20, 2013\noutdoors: 100 gal</title>"));
    free(drawing);
}
END_TEST

static const enum th_axis_kind axis_kinds[] = {TH_AXIS_NUMBER, TH_AXIS_DAY, TH_AXIS_HOUR,
                                               TH_AXIS_NAMES, TH_AXIS_NAMES_DOWN};

#define ONE_AT 17
#define ONE_LOW 60.0
#define ONE_HIGH 100.0

/* A figure with one mark of the kind: of one point or range, or of none that is known. */
static struct th_report *one_mark_figure(enum th_mark_kind kind, enum th_axis_kind along,
                                         bool known)
{
    const bool names = along == TH_AXIS_NAMES || along == TH_AXIS_NAMES_DOWN;
    const double at = names ? 0 : ONE_AT;
    struct th_report *report = th_report_new("budget");
    th_figure(report,
              &(struct th_figure){
                  .caption = "c", .reading = "r", .along = {.kind = along}, .value = gallons});
    if (names)
        th_figure_name(report, "Nov");
    th_figure_mark(report, kind, TH_INK_HEAT, "it");
    if (kind == TH_MARK_BAND)
        th_figure_span(report, at, known ? ONE_LOW : NAN, ONE_HIGH);
    else
        th_figure_point(report, at, known ? ONE_HIGH : NAN);
    return report;
}

/* Where the mark's first shape has its value: a circle's middle, a box's far end, a path's start.
 */
static double place_of_shape(const char *drawing, enum th_mark_kind kind, bool down)
{
    static const char *const kinds[] = {"line", "band", "bar", "dot", "speck"};
    char opening[32];
    double x, y, width, height;
    snprintf(opening, sizeof opening, "<g class=\"%s heat", kinds[kind]);
    /* The key has the same class and stands behind the second axis. */
    const char *mark = strstr(drawing, opening);
    ck_assert(mark && mark < strstr(drawing, "<g class=\"names\">"));
    const char *shape = strchr(mark + 1, '<');
    if (sscanf(shape, "<circle cx=\"%lf\" cy=\"%lf\"", &x, &y) == 2)
        return down ? x : y;
    ck_assert_int_eq(sscanf(shape, "<rect x=\"%lf\" y=\"%lf\" width=\"%lf\" height=\"%lf\"", &x, &y,
                            &width, &height),
                     4);
    return down ? x + width : y;
}

/* Every kind of mark over every kind of axis. */
START_TEST(one_point_stands_at_its_value)
{
    static const char *const classes[] = {"wide", "narrow"};
    const enum th_mark_kind kind = (enum th_mark_kind)(_i / 5);
    const enum th_axis_kind along = axis_kinds[_i % 5];
    const bool down = along == TH_AXIS_NAMES_DOWN;
    for (int class = 0; class < 2; class ++) {
        char *drawing = drawing_of(one_mark_figure(kind, along, true), classes[class]);
        const struct ruler ruler = ruler_of(drawing, down);
        check_read(&ruler, place_of_shape(drawing, kind, down), ONE_HIGH);
        free(drawing);
    }
}
END_TEST

START_TEST(nothing_known_is_said_in_words)
{
    const enum th_mark_kind kind = (enum th_mark_kind)(_i / 5);
    struct th_report *report = one_mark_figure(kind, axis_kinds[_i % 5], false);
    th_figure_rule(report, TH_MARK_RULE_VALUE, "today", 3);
    char *page = page_of(report);
    ck_assert_ptr_nonnull(strstr(page, "(nothing to draw)"));
    ck_assert_ptr_null(strstr(page, "<svg"));
    free(page);
}
END_TEST

START_TEST(marks_outside_a_figure_are_refused)
{
    struct th_report *report = th_report_new("budget");
    struct th_error err = {0};
    th_figure_point(report, 0, 1);
    ck_assert_int_eq(th_report_write(report, TH_AS_HTML, stdout, &err), TH_ERR_INTERNAL);
    th_report_free(report);
}
END_TEST

static int count_of(const char *drawing, const char *what)
{
    int n = 0;
    for (const char *at = strstr(drawing, what); at; at = strstr(at + 1, what))
        n++;
    return n;
}

START_TEST(a_phone_gets_fewer_ticks_and_nothing_outside)
{
    char *wide = drawing_of(line_figure(365, false), "wide");
    char *narrow = drawing_of(line_figure(365, false), "narrow");
    ck_assert_int_lt(count_of(narrow, "class=\"tick\""), count_of(wide, "class=\"tick\""));
    ck_assert_ptr_nonnull(strstr(narrow, "viewBox=\"0 0 320 "));
    for (const char *at = strstr(narrow, " x=\""); at; at = strstr(at + 1, " x=\"")) {
        ck_assert_double_ge(strtod(at + 4, NULL), -2);
        ck_assert_double_le(strtod(at + 4, NULL), 320);
    }
    free(wide);
    free(narrow);
}
END_TEST

/* Round numbers by hand. */
static const struct number_ticks_case {
    double from, to;
    int most, n;
    double first, last;
} number_ticks_cases[] = {
    {0, 10, 6, 6, 0, 10},           {0, 4312, 6, 5, 0, 4000}, {-8.2, 31, 6, 4, 0, 30},
    {-3000, 0, 4, 4, -3000, 0},     {0.9, 3.6, 5, 3, 1, 3},   {0, 0.004, 5, 5, 0, 0.004},
    {1e6, 1.2e6, 5, 5, 1e6, 1.2e6},
};

START_TEST(ticks_are_round)
{
    const struct number_ticks_case *c = &number_ticks_cases[_i];
    struct figure_ticks ticks;
    figure_number_ticks(c->from, c->to, c->most, &ticks);
    ck_assert_int_eq(ticks.n, c->n);
    ck_assert_double_eq_tol(ticks.at[0], c->first, 1e-9);
    ck_assert_double_eq_tol(ticks.at[ticks.n - 1], c->last, 1e-9);
}
END_TEST

static const struct time_ticks_case {
    int from[3], to[3];
    bool hours;
    int most;
    const char *first, *last;
    int n;
} time_ticks_cases[] = {
    {{2014, 1, 5}, {2014, 1, 12}, true, 8, "Jan 5", "Jan 12", 8},
    {{2014, 1, 5}, {2014, 1, 12}, true, 4, "Jan 5", "Jan 11", 4},
    {{2013, 11, 5}, {2014, 4, 19}, false, 8, "Dec", "Apr", 5},
    {{2013, 11, 1}, {2014, 4, 19}, false, 4, "Nov", "Mar", 3},
    {{2012, 7, 1}, {2014, 6, 30}, false, 8, "Jul 2012", "Apr 2014", 8},
    {{1936, 1, 1}, {2024, 1, 1}, false, 8, "1940", "2020", 5},
    {{2014, 2, 28}, {2014, 2, 28}, false, 8, "Feb 28", "Feb 28", 1},
};

START_TEST(ticks_of_time_begin_days_months_or_years)
{
    const struct time_ticks_case *c = &time_ticks_cases[_i];
    const double per = c->hours ? 24 : 1;
    const struct th_axis axis = {.kind = c->hours ? TH_AXIS_HOUR : TH_AXIS_DAY, .unit = ""};
    struct figure_ticks ticks;
    char text[TH_SHOWN_MAX];
    figure_time_ticks(per * (double)th_day_number(c->from[0], c->from[1], c->from[2]),
                      per * (double)th_day_number(c->to[0], c->to[1], c->to[2]), c->hours, c->most,
                      &ticks);
    ck_assert_int_eq(ticks.n, c->n);
    ck_assert_str_eq(figure_tick_text(text, &axis, &ticks, ticks.at[0]), c->first);
    ck_assert_str_eq(figure_tick_text(text, &axis, &ticks, ticks.at[ticks.n - 1]), c->last);
}
END_TEST

START_TEST(money_and_thousands_are_written_as_people_do)
{
    const struct th_axis axis = {.unit = "$/gal"};
    struct figure_ticks ticks;
    char text[TH_SHOWN_MAX];
    figure_number_ticks(0, 12000, 6, &ticks);
    ck_assert_str_eq(figure_tick_text(text, &axis, &ticks, 12000), "$12,000");
    figure_number_ticks(-1, 1, 6, &ticks);
    ck_assert_str_eq(figure_tick_text(text, &axis, &ticks, -0.5), "-$0.50");
}
END_TEST

static const struct widen_case {
    double from, to, wide_from, wide_to;
} widen_cases[] = {{0, 4312, 0, 5000}, {5, 5, 2, 8}, {0, 0, 0, 1}, {-12, 31, -20, 40}};

START_TEST(an_axis_ends_at_ticks)
{
    double from = widen_cases[_i].from, to = widen_cases[_i].to;
    figure_widen(&from, &to, 6);
    ck_assert_double_eq_tol(from, widen_cases[_i].wide_from, 1e-9);
    ck_assert_double_eq_tol(to, widen_cases[_i].wide_to, 1e-9);
}
END_TEST

#define N(cases) (int)(sizeof(cases) / sizeof *(cases))

int main(void)
{
    Suite *suite = suite_create("figure");
    TCase *c = tcase_create("figure");
    tcase_add_loop_test(c, every_winter_stands_at_its_gallons, 0, N(winter_counts));
    tcase_add_loop_test(c, every_winter_stands_at_its_gallons_down_the_page, 0, N(winter_counts));
    tcase_add_test(c, bars_are_as_long_as_their_numbers);
    tcase_add_test(c, lines_pass_through_their_points_and_break_at_gaps);
    tcase_add_loop_test(c, one_point_stands_at_its_value, 0, 5 * TH_MARK_RULE_AT);
    tcase_add_loop_test(c, nothing_known_is_said_in_words, 0, 5 * TH_MARK_RULE_AT);
    tcase_add_test(c, marks_outside_a_figure_are_refused);
    tcase_add_test(c, a_phone_gets_fewer_ticks_and_nothing_outside);
    tcase_add_loop_test(c, ticks_are_round, 0, N(number_ticks_cases));
    tcase_add_loop_test(c, ticks_of_time_begin_days_months_or_years, 0, N(time_ticks_cases));
    tcase_add_test(c, money_and_thousands_are_written_as_people_do);
    tcase_add_loop_test(c, an_axis_ends_at_ticks, 0, N(widen_cases));
    suite_add_tcase(suite, c);
    return run_suite(suite);
}

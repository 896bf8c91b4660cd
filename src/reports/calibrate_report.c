/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate_report.h"

#include "balance_text.h"
#include "cautions.h"
#include "figure.h"
#include "season_text.h"
#include "spread_text.h"
#include "turnheat/outlook.h"
#include "turnheat/record.h"
#include "turnheat/thousands.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Stretches that are looked at for the middle one. */
#define FILLS_SEEN_MAX 400
#define FIT_CV_MAX 0.15
#define FIT_NMBE_MAX 0.05
/* A number this far off, in standard deviations, is told in words. */
/* A fit that misses all fills together by more is not gone by (our judgement: twice the 5 %). */
#define OFF_IN_ALL_MOST 0.10
#define TOLD_SD 0.5
#define FAR_SD 1.0
/* Fewer do not tell what a spring may be. */
#define FEW_YEARS 10

/* What is told of. */
struct telling {
    const struct th_fills_in *in;
    const struct th_fills_fit *found;
    const struct th_calibrate_file *files;
};

/* "leakage, curtain"; of what all barns share no barn is named. */
static void number_name(const struct telling *t, int barn, enum th_unknown unknown, char *text,
                        size_t room)
{
    const char *const path = t->files[barn].path, *const slash = strrchr(path, '/');
    const char *const stem = slash ? slash + 1 : path;
    const bool own = th_unknown_scope(unknown) == TH_SCOPE_BARN && t->in->n_cases > 1;
    snprintf(text, room, "%s%s%.*s", th_unknown_text(unknown), own ? ", " : "",
             own ? (int)strcspn(stem, ".") : 0, stem);
}

static void number_row(struct th_report *report, const struct telling *t, int barn,
                       enum th_unknown unknown)
{
    const struct th_belief *belief = &t->found->learnt.belief;
    const int at = th_outlook_place(barn, unknown);
    char name[120];
    number_name(t, barn, unknown, name, sizeof name);
    th_report_row(report);
    th_report_cell(report, "number", "Not known", "", TH_PLAIN, th_text(name));
    th_report_cell(report, "z_ratio", "Moved", "", TH_TENTHS, th_number(belief->z[at]));
    th_report_cell(report, "left_pct", "Doubt left", "%", TH_WHOLE,
                   th_number(100.0 * th_belief_sd(belief, at)));
}

static void say_plainly(struct th_report *report, const struct telling *t, int barn,
                        enum th_unknown unknown)
{
    const double z = t->found->learnt.belief.z[th_outlook_place(barn, unknown)];
    char name[120];
    number_name(t, barn, unknown, name, sizeof name);
    if (fabs(z) >= TOLD_SD)
        th_report_item(report, "Read plainly: %s: probably %s than given.", name,
                       z < 0.0 ? "lower" : "higher");
}

/* Every number once, shared ones first. */
static void each_number(struct th_report *report, const struct telling *t,
                        void (*tell)(struct th_report *, const struct telling *, int,
                                     enum th_unknown))
{
    for (int b = 0; b < t->in->n_cases; b++)
        for (int u = 0; u < TH_UNKNOWNS; u++)
            if (b == 0 || th_unknown_scope((enum th_unknown)u) == TH_SCOPE_BARN)
                tell(report, t, b, (enum th_unknown)u);
}

/* Gallons of all stretches. */
static double total_gal(const struct th_fills_fit *found, const double *gal)
{
    double sum = 0.0;
    for (size_t k = 0; k < found->n_stretches; k++)
        sum += gal[k];
    return sum;
}

static void fit_section(struct th_report *report, const struct telling *t)
{
    const struct th_fills_in *const in = t->in;
    const struct th_fills_fit *const found = t->found;
    const double used_gal = total_gal(found, found->used_gal);
    th_report_section(report, "fit", "What the fills say");
    th_report_fact(report, "fills_count", "Fills", "", TH_WHOLE, th_number((double)in->n_fills));
    th_report_fact(report, "used_gal", "Used between the first and the last", "gal", TH_SIG3,
                   th_number(used_gal));
    th_report_fact(report, "draws_effective_count", "Cases that fit what is known", "", TH_WHOLE,
                   th_number(found->learnt.effective_draws));
    th_report_table(report, "numbers", "The barns as their fills show them");
    each_number(report, t, number_row);
    each_number(report, t, say_plainly);
    th_report_paragraph(report, NULL,
                        "Moved: from the value given, in standard deviations of what was "
                        "thought before. No number stands by itself: one doubt can make up for "
                        "another, and only together do they tell what the barns burn.");
    th_report_fact(report, "cv_rmse_before_pct", "Off from fill to fill, CV(RMSE), before", "%",
                   TH_WHOLE, th_number(100.0 * found->cv_rmse_before));
    th_report_fact(report, "cv_rmse_after_pct", "After (15 % asked of monthly bills)", "%",
                   TH_WHOLE, th_number(100.0 * found->cv_rmse_after));
    th_report_fact(report, "nmbe_before_pct", "Off in all, NMBE, before", "%", TH_WHOLE,
                   th_number(100.0 * found->nmbe_before));
    th_report_fact(report, "nmbe_after_pct", "After (5 % asked of monthly bills)", "%", TH_WHOLE,
                   th_number(100.0 * found->nmbe_after));
    th_report_paragraph(report, NULL,
                        "CV(RMSE) and NMBE divide by one stretch less than there are (ASHRAE "
                        "Guideline 14), so they read a little higher than plain shares do.");
}

static void interval_table(struct th_report *report, const struct th_fills_in *in,
                           const struct th_fills_fit *found)
{
    th_report_table(report, "intervals", "Fill by fill");
    for (size_t k = 0; k + 1 < in->n_fills; k++) {
        th_report_row(report);
        th_report_cell(report, "from", "From", "", TH_DAY, th_number((double)in->fills[k].day));
        th_report_cell(report, "to", "To", "", TH_DAY, th_number((double)in->fills[k + 1].day));
        th_report_cell(report, "used_gal", "Used", "gal", TH_SIG3, th_number(found->used_gal[k]));
        th_report_cell(report, "before_gal", "Model before", "gal", TH_SIG3,
                       th_number(found->before_gal[k]));
        th_report_cell(report, "after_gal", "Model after", "gal", TH_SIG3,
                       th_number(found->after_gal[k]));
    }
}

/* Gallons a day of every stretch between two fills, as dots or bars. */
static void interval_mark(struct th_report *report, const struct th_fills_in *in,
                          enum th_mark_kind kind, enum th_ink ink, const char *label,
                          const double *gal)
{
    th_figure_mark(report, kind, ink, label);
    for (size_t k = 0; k + 1 < in->n_fills; k++)
        th_figure_point(report, (double)k,
                        gal[k] / (double)(in->fills[k + 1].day - in->fills[k].day));
}

static void interval_figure(struct th_report *report, const struct th_fills_in *in,
                            const struct th_fills_fit *found)
{
    th_figure(
        report,
        &(struct th_figure){
            .caption = "How near the model comes to the tanks",
            .reading = "Gallons a day up to each fill: by the tanks, and "
                       "by the model before and after the fit.",
            .along = {.kind = TH_AXIS_NAMES},
            .value = {.unit = "gal", .label = "gal a day", .format = TH_SIG3, .from_zero = true}});
    for (size_t k = 0; k + 1 < in->n_fills; k++) {
        const struct th_date to = th_date_of(in->fills[k + 1].day);
        char label[16];
        snprintf(label, sizeof label, "%s %d", th_month_name(to.month - 1), to.day);
        th_figure_name(report, label);
    }
    interval_mark(report, in, TH_MARK_BAR, TH_INK_PLAIN, "used, by the tanks", found->used_gal);
    interval_mark(report, in, TH_MARK_DOT, TH_INK_COLD, "model before", found->before_gal);
    interval_mark(report, in, TH_MARK_DOT, TH_INK_HEAT, "model after", found->after_gal);
}

#define FILLED_MOST 0.8 /* 29 CFR 1910.110 */
/* A stretch so far from what the others lead to expect, and from the gauges' error, is no matter of
   the barns. */
#define SLIP_SHARE 0.4
#define SLIP_SD 3.0

/* Used over what the files say, of the stretch in the middle. */
static double middle_ratio(const struct th_fills_in *in, const struct th_fills_fit *found)
{
    struct th_spread spread;
    double ratio[FILLS_SEEN_MAX];
    size_t n = 0;
    for (size_t k = 0; k + 1 < in->n_fills && n < FILLS_SEEN_MAX; k++)
        if (found->before_gal[k] > 0.0)
            ratio[n++] = found->used_gal[k] / found->before_gal[k];
    return th_spread_of(n, ratio, &spread, NULL) == TH_OK ? spread.middle : 1.0;
}

/* Slips that are missing or wrong: one stretch far off what all the others say. */
static void question_slips(struct th_report *report, const struct th_fills_in *in,
                           const struct th_fills_fit *found)
{
    const double sd_gal = M_SQRT2 * TH_GAUGE_SD * in->capacity_gal;
    const double ratio = middle_ratio(in, found);
    for (size_t k = 0; k + 1 < in->n_fills; k++) {
        const double expected_gal = ratio * found->before_gal[k];
        const double off_gal = found->used_gal[k] - expected_gal;
        char from[TH_DAY_TEXT_MAX], to[TH_DAY_TEXT_MAX];
        if (fabs(off_gal) < fmax(SLIP_SD * sd_gal, SLIP_SHARE * expected_gal))
            continue;
        th_day_text(in->fills[k].day, from);
        th_day_text(in->fills[k + 1].day, to);
        th_report_warning(report,
                          "From %s to %s the fills tell of %s gal, where the others lead to expect "
                          "%s: %s. Look at the slips of these days before you believe the fit.",
                          from, to, th_whole(found->used_gal[k]).text, th_whole(expected_gal).text,
                          off_gal < 0.0 ? "a slip may be missing, or its gallons too low"
                                        : "gallons may be of other tanks, or a reading is wrong");
    }
}

/* Above what tanks may be filled to, and by more than a gauge is misread. */
static void question_gauges(struct th_report *report, const struct th_fills_in *in)
{
    for (size_t k = 0; k < in->n_fills; k++) {
        const struct th_tank_fill *fill = &in->fills[k];
        const double after = fill->level_share + fill->delivered_gal / in->capacity_gal;
        char day[TH_DAY_TEXT_MAX];
        if (after <= FILLED_MOST + TH_GAUGE_SD)
            continue;
        th_day_text(fill->day, day);
        th_report_warning(report,
                          "After the fill of %s the tanks would stand at %.0f %%; they are filled "
                          "to 80 %% at most. Look at the slip and the gauge of that day.",
                          day, 100.0 * after);
    }
}

/* Whether a barn was found that burns what the tanks gave, so that it may be gone by. */
static bool fits(const struct th_fills_fit *found)
{
    const double off = total_gal(found, found->after_gal) / total_gal(found, found->used_gal) - 1.0;
    return found->learnt.strain_sd <= TH_LEARN_MISFIT_SD && fabs(off) <= OFF_IN_ALL_MOST;
}

static void quality(struct th_report *report, const struct th_fills_fit *found)
{
    if (found->learnt.strain_sd > TH_LEARN_MISFIT_SD)
        th_report_warning(report,
                          "What the tanks took lies far from anything expected of these barns. "
                          "Check the slips, other users of the tanks and, of the barns, dates, "
                          "pigs, set points and weather.");
    if (found->learnt.effective_draws < TH_LEARN_DRAWS_ENOUGH)
        th_report_warning(report,
                          "Few of the cases tried fit the fills (%s of %d count): the fit is "
                          "rough.",
                          th_whole(found->learnt.effective_draws).text, TH_OUTLOOK_DRAWS);
    if (found->cv_rmse_after > FIT_CV_MAX || fabs(found->nmbe_after) > FIT_NMBE_MAX)
        th_report_warning(
            report,
            "After the fit the misfit is %.0f %% from fill to fill and %.0f %% in all, "
            "counted over one stretch less than there are; ASHRAE Guideline 14 asks "
            "15 %% and 5 %% of monthly models.",
            100.0 * found->cv_rmse_after, 100.0 * fabs(found->nmbe_after));
    if (found->learnt.belief.z[TH_UNKNOWN_AIR] < -FAR_SD)
        th_report_warning(report, "The fills look as if less air were moved than the minimum: "
                                  "measure CO2 first. It is no saving, and never lower it.");
}

static void paste_numbers(struct th_report *report, const char *key,
                          const double numbers[TH_FITTED_NUMBERS])
{
    char text[16 * TH_FITTED_NUMBERS] = "";
    size_t n = 0;
    for (int u = 0; u < TH_FITTED_NUMBERS; u++)
        n += (size_t)snprintf(text + n, sizeof text - n, " %.4f", numbers[u]);
    th_report_paste(report, "%s =%s", key, text);
}

static bool is_used(const double way[TH_FITTED_NUMBERS])
{
    for (int u = 0; u < TH_FITTED_NUMBERS; u++)
        if (way[u] != 0.0)
            return true;
    return false;
}

static void paste_date(struct th_report *report, const char *key, const int date[3])
{
    th_report_paste(report, "%s = %04d-%02d-%02d", key, date[2], date[0], date[1]);
}

static void paste_section(struct th_report *report, const struct th_fills_in *in,
                          const struct th_fills_fit *found, const struct th_calibrate_file *files)
{
    th_report_section(report, "paste", "To paste into the barn files");
    if (!fits(found)) {
        th_report_paragraph(report, NULL,
                            "Nothing: no barn within what is not known of these burns what the "
                            "slips say, so budget and plan should not go by them. Put right what "
                            "the warnings ask about and calibrate again.");
        return;
    }
    th_report_paragraph(report, NULL,
                        "A section for each file. Budget and plan then go by it in place of what "
                        "was thought before, and size never asks for less heat by it. Dates, pigs "
                        "placed, weather and prices may change; the barn itself may not.");
    for (int b = 0; b < in->n_cases; b++) {
        const struct th_fitted *f = &found->fitted[b];
        th_report_paragraph(report, NULL, "For %s:", files[b].path);
        th_report_paste(report, "[calibration]");
        th_report_paste(report, "fit = %s", f->fit);
        th_report_paste(report, "inputs = %s", files[b].digest);
        paste_date(report, "first_fill", f->first_fill);
        paste_date(report, "last_fill", f->last_fill);
        paste_numbers(report, "z", f->z);
        for (int w = 0; w < TH_FITTED_WAYS; w++) {
            char key[8];
            snprintf(key, sizeof key, "way_%d", w + 1);
            if (is_used(f->way[w]))
                paste_numbers(report, key, f->way[w]);
        }
    }
}

static void season_section(struct th_report *report, const struct th_fills_fit *found)
{
    const size_t n = found->left_gal.n;
    char day[TH_DAY_TEXT_MAX];
    th_report_section(report, "season", "From the last fill to 30 June");
    if (!fits(found) && n > 0)
        th_report_paragraph(report, NULL,
                            "By the nearest barn, which does not burn what the slips "
                            "say: not to buy by.");
    if (n > 0) {
        th_report_fact(report, "left_low_gal", "Still to burn, low", "gal", TH_SIG2,
                       th_number(found->left_low_gal));
        th_report_spread(report, "left", "gal", NULL, "gal", TH_SIG3, &found->left_gal, false);
        th_report_fact(report, NULL, "Still to burn, middle", "gal", TH_SIG2,
                       th_number(found->left_gal.middle));
        th_report_fact(report, "left_high_gal", "Still to burn, high", "gal", TH_SIG2,
                       th_number(found->left_high_gal));
    }
    th_report_fact(report, "in_tanks_gal", "In the tanks after the last fill", "gal", TH_SIG3,
                   th_number(found->in_tanks_gal));
    th_day_text(found->known_end_day, day);
    if (n == 0)
        th_report_paragraph(
            report, NULL,
            "What is still to burn is not known: the weather given holds no earlier "
            "year to go on with. Add files of earlier years with --weather.");
    else if (found->known)
        th_report_paragraph(report, NULL,
                            "The calibrated barns on the weather of these days itself, which is "
                            "given. Eight cases of ten, over what is not known of the barns.");
    else
        th_report_paragraph(
            report, NULL,
            "The calibrated barns on the weather of %zu earlier year%s from %s on. Eight cases of "
            "ten, over those years and what is not known of the barns.%s",
            n, n == 1 ? "" : "s", day,
            n < FEW_YEARS ? " So few springs do not hold the cold one there will be." : "");
    if (n > 0)
        th_report_paragraph(report, NULL,
                            "What is left to buy is what is still to burn less what is in the "
                            "tanks, plus what you want in them at the end.");
}

/* What the tanks say against the barns as given, and what to do with it. */
static void answer(struct th_report *report, const struct th_fills_in *in,
                   const struct th_fills_fit *found)
{
    char from[TH_DAY_TEXT_MAX], to[TH_DAY_TEXT_MAX], used[TH_SHOWN_MAX], before[TH_SHOWN_MAX],
        after[TH_SHOWN_MAX];
    const double used_gal = total_gal(found, found->used_gal);
    const double before_gal = total_gal(found, found->before_gal);
    const double after_gal = total_gal(found, found->after_gal);
    th_day_text(in->fills[0].day, from);
    th_day_text(in->fills[in->n_fills - 1].day, to);
    th_report_section(report, "answer", NULL);
    th_report_line(report,
                   "From %s to %s the tanks gave %s gallons; the barns just as given would have "
                   "burnt %s, %.0f %% %s.",
                   from, to, th_show(used, th_number(used_gal), TH_SIG3),
                   th_show(before, th_number(before_gal), TH_SIG3),
                   100.0 * fabs(before_gal / used_gal - 1.0),
                   before_gal < used_gal ? "less" : "more");
    const double off_pct = round(100.0 * fabs(after_gal / used_gal - 1.0));
    const bool worse = !fits(found) || off_pct > round(100.0 * fabs(before_gal / used_gal - 1.0));
    th_report_line(
        report, "%s %s: %s %.0f %% in all%s, %.0f %% from fill to fill.",
        fits(found) ? "Fitted, they come to"
                    : "No barn within what is not known of these burns so; the nearest comes to",
        th_show(after, th_number(after_gal), TH_SIG3), worse ? "off by" : "within", off_pct,
        worse && fits(found) ? ", which is worse than as given" : "", 100.0 * found->cv_rmse_after);
    if (fits(found))
        th_report_line(report, "Paste the lines below into the barn files: budget and plan then go "
                               "by what the tanks say.");
    else
        th_report_line(report, "First find out why the fills lie so far off: see the warnings.");
}

enum th_code th_calibrate_report(struct th_report *report, const struct th_fills_in *in,
                                 const struct th_fills_fit *found,
                                 const struct th_calibrate_file *files, struct th_error *err)
{
    th_report_thin_weather(report, &in->cases[0]);
    quality(report, found);
    question_slips(report, in, found);
    question_gauges(report, in);
    answer(report, in, found);
    fit_section(report, &(struct telling){in, found, files});
    interval_table(report, in, found);
    interval_figure(report, in, found);
    paste_section(report, in, found, files);
    season_section(report, found);
    th_report_cautions(report);
    return th_report_books(report, NULL, "one of each room, over the fills as fitted",
                           &found->books, err);
}

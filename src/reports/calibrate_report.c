/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate_report.h"

#include "balance_text.h"
#include "cautions.h"
#include "figure.h"
#include "season_text.h"
#include "spread_text.h"
#include "turnheat/record.h"
#include "turnheat/thousands.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

/* Stretches that are looked at for the middle one. */
#define FILLS_SEEN_MAX 400
#define FIT_CV_MAX 0.15
#define FIT_NMBE_MAX 0.05
/* From this correlation on neither of two numbers stands by itself (our judgement). */
#define TRADE_OFF 0.9

static const char *param_text(enum th_fit_param param)
{
    static const char *const texts[] = {[TH_FIT_UA] = "heat loss of the shell, times",
                                        [TH_FIT_AIR] = "minimum air, times",
                                        [TH_FIT_SET] = "set point, °F"};
    return texts[param];
}

static double shown(enum th_fit_param param, double value)
{
    return param == TH_FIT_SET ? value / TH_K_PER_F : value;
}

static void say_plainly(struct th_report *report, const struct th_fit_value *v)
{
    const bool set = v->param == TH_FIT_SET;
    const double off = set ? v->value / TH_K_PER_F : 100.0 * (v->value - 1.0);
    char text[160];
    const char *const direction =
        set ? (off > 0.0 ? "warmer" : "cooler") : (off > 0.0 ? "more" : "less");
    if (v->param == TH_FIT_UA)
        snprintf(text, sizeof text,
                 "loses about %.0f %% %s heat through its shell than its "
                 "materials say",
                 fabs(off), direction);
    else if (v->param == TH_FIT_AIR)
        snprintf(text, sizeof text, "moves about %.0f %% %s air than its settings say", fabs(off),
                 direction);
    else
        snprintf(text, sizeof text, "is kept about %.1f °F %s than its settings say", fabs(off),
                 direction);
    th_report_item(report, "Read plainly: the barn %s%s.", text,
                   v->identified ? ""
                                 : ", but the fills say less about it than was believed before");
}

static void fit_section(struct th_report *report, const struct th_fills_in *in,
                        const struct th_fit *fit)
{
    th_report_section(report, "fit", "What the fills say");
    th_report_fact(report, "fills_count", "Fills", "", TH_WHOLE, th_number((double)in->n_fills));
    th_report_fact(report, "used_gal", "Used between the first and the last", "gal", TH_SIG3,
                   th_number(fit->total_used_gal));
    th_report_table(report, "parameters", "The barn as its fills show it");
    for (int i = 0; i < fit->n_params; i++) {
        const struct th_fit_value *v = &fit->values[i];
        th_report_row(report);
        th_report_cell(report, "parameter", "Found", "", TH_PLAIN, th_text(param_text(v->param)));
        th_report_cell(report, "value", "Value", "", TH_HUNDREDTHS,
                       th_number(shown(v->param, v->value)));
        th_report_cell(report, "low", "90 % from", "", TH_HUNDREDTHS,
                       th_number(shown(v->param, v->low)));
        th_report_cell(report, "high", "to", "", TH_HUNDREDTHS,
                       th_number(shown(v->param, v->high)));
        th_report_cell(report, "identified", "Fills decide it", "", TH_PLAIN,
                       th_bool(v->identified));
    }
    for (int i = 0; i < fit->n_params; i++)
        say_plainly(report, &fit->values[i]);
    th_report_fact(report, "correlation_ratio", "Correlation of the two", "", TH_HUNDREDTHS,
                   th_number_if(fit->n_params > 1, fit->correlation));
    if (fit->n_params > 1 && fabs(fit->correlation) > TRADE_OFF)
        th_report_paragraph(report, NULL,
                            "The two trade off: more of one and less of the other would fit nearly "
                            "as well. Believe them together, not one by one.");
    th_report_fact(report, "cv_rmse_before_pct", "Off from fill to fill, CV(RMSE), before", "%",
                   TH_WHOLE, th_number(100.0 * fit->cv_rmse_before));
    th_report_fact(report, "cv_rmse_after_pct", "After (15 % asked of monthly bills)", "%",
                   TH_WHOLE, th_number(100.0 * fit->cv_rmse_after));
    th_report_fact(report, "nmbe_before_pct", "Off in all, NMBE, before", "%", TH_WHOLE,
                   th_number(100.0 * fit->nmbe_before));
    th_report_fact(report, "nmbe_after_pct", "After (5 % asked of monthly bills)", "%", TH_WHOLE,
                   th_number(100.0 * fit->nmbe_after));
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

static void quality(struct th_report *report, const struct th_fit *fit)
{
    if (fit->widened)
        th_report_warning(report,
                          "Gauge error alone does not explain the misfit (chance %.1g): something "
                          "else differs, and the intervals were widened.",
                          fit->chance);
    if (fit->cv_rmse_after > FIT_CV_MAX || fabs(fit->nmbe_after) > FIT_NMBE_MAX)
        th_report_warning(
            report, "After the fit the misfit is above what ASHRAE Guideline 14 asks of monthly "
                    "models (15 %% and 5 %%).");
    if (fit->calibration.air_factor < 1.0)
        th_report_warning(report,
                          "The fills look as if less air were moved than the minimum: measure it "
                          "before you believe it, and never lower it.");
}

static void paste_section(struct th_report *report, const char *source,
                          const struct th_fills_fit *found)
{
    const struct th_fit *fit = &found->fit;
    const struct th_record *record = &found->record;
    const struct th_calibration *c = &fit->calibration;
    th_report_section(report, "paste", "To paste into the barn files");
    th_report_paragraph(report, NULL, "[calibration]");
    th_report_paragraph(report, NULL, "ua_factor = %.3f", c->ua_factor);
    th_report_paragraph(report, NULL, "air_factor = %.3f", c->air_factor);
    th_report_paragraph(report, NULL, "set_shift = %.2f F", c->set_shift_k / TH_K_PER_F);
    th_report_paragraph(report, NULL, "from = %s", source);
    if (!found->has_record)
        return;
    th_report_paragraph(report, NULL,
                        "And into the farm file, so that budget and plan narrow their ranges by "
                        "what the fills say of the whole season:");
    th_report_paragraph(report, NULL, "[record fills]");
    th_report_paragraph(report, NULL, "season = %d-%02d", record->year, (record->year + 1) % 100);
    th_report_paragraph(report, NULL, "gallons = %.0f gal", record->gal);
    th_report_paragraph(report, NULL, "error = %.1f %%", 100.0 * fmax(record->error, 0.001));
}

static void season_section(struct th_report *report, const struct th_fills_fit *found)
{
    const size_t n = found->left_gal.n;
    th_report_section(report, "season", "From the last fill to 30 June");
    if (n > 0)
        th_report_spread(report, "left", "gal", "Still to burn", "gal", TH_SIG3, &found->left_gal);
    th_report_fact(report, "in_tanks_gal", "In the tanks after the last fill", "gal", TH_SIG3,
                   th_number(found->in_tanks_gal));
    if (n == 0)
        th_report_paragraph(
            report, NULL,
            "What is still to burn is not known: the weather given holds no earlier "
            "year to go on with. Add files of earlier years with --weather.");
    else
        th_report_paragraph(
            report, NULL,
            "The calibrated barns on the weather of %zu earlier year%s from that date on. What is "
            "left to buy is what is still to burn less what is in the tanks, plus what you want in "
            "them at the end.",
            n, n == 1 ? "" : "s");
}

enum th_code th_calibrate_report(struct th_report *report, const struct th_fills_in *in,
                                 const struct th_fills_fit *found, const char *source,
                                 struct th_error *err)
{
    th_report_thin_weather(report, &in->cases[0]);
    quality(report, &found->fit);
    question_slips(report, in, found);
    fit_section(report, in, &found->fit);
    interval_table(report, in, found);
    interval_figure(report, in, found);
    paste_section(report, source, found);
    season_section(report, found);
    th_report_cautions(report);
    return th_report_books(report, NULL, "one of each room, over the fills as fitted",
                           &found->books, err);
}

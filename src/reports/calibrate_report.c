/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate_report.h"

#include "cautions.h"
#include "figure.h"
#include "season_text.h"
#include "spread_text.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define JULY 7
#define DONORS_MAX 40
#define FIT_CV_MAX 0.15
#define FIT_NMBE_MAX 0.05
/* From this correlation on neither of two numbers stands by itself (our judgement). */
#define TRADE_OFF 0.9

/* Gas by day between two days, all rooms. */
struct days {
    long first_day;
    size_t n;
    double *gal;
    double per_j;
};

static void add_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct days *d = context;
    const long day = th_day_of_hour(hour_number) - d->first_day;
    (void)turn;
    (void)in;
    if (day >= 0 && (size_t)day < d->n)
        d->gal[day] += out->gas_w * TH_S_PER_H * d->per_j;
}

/* Every turn that touches the days must have been simulated. */
static enum th_code days_covered(const struct th_case *one, const struct th_climate *climate,
                                 const struct th_winters *winters, const struct days *d,
                                 struct th_error *err)
{
    for (int i = 0; i < winters->n; i++)
        for (int t = 0; t < winters->seasons[i].n_turns; t++) {
            const struct th_turn_result *turn = &winters->seasons[i].turns[t];
            const long first = th_day_of_hour(turn->first_hour);
            const long last = th_day_of_hour(turn->first_hour + turn->cover.hours - 1);
            if (!turn->counted && last >= d->first_day && first < d->first_day + (long)d->n)
                return th_climate_require(climate, one->weather, turn->first_hour,
                                          turn->cover.hours, err);
        }
    return TH_OK;
}

static enum th_code burn_days(const struct th_calibrate_in *in, const struct th_climate *climate,
                              const struct th_calibration *trial, struct days *d,
                              struct th_error *err)
{
    enum th_code code = TH_OK;
    for (size_t day = 0; day < d->n; day++) {
        d->gal[day] = 0.0;
        for (int i = 0; i < in->n_uses; i++)
            d->gal[day] += th_use_day_gal(&in->uses[i], d->first_day + (long)day);
    }
    for (int i = 0; i < in->n_cases && code == TH_OK; i++) {
        struct th_room room = *in->cases[i].room;
        const struct th_watch watch = {.hour = add_hour, .context = d};
        struct th_winters winters;
        const int year = th_date_of(d->first_day).year;
        room.calibration = *trial;
        d->per_j = room.copies / room.fuel.hhv_j;
        code = th_winters_run(&winters, &room, climate, year - 1, year + 1 + (int)(d->n / 365),
                              &watch, err);
        if (code != TH_OK)
            return code;
        code = days_covered(&in->cases[i], climate, &winters, d, err);
        th_winters_finish(&winters);
    }
    return code;
}

/* What the fit asks the rooms for. */
struct prediction {
    const struct th_calibrate_in *in;
    const struct th_climate *climate;
    struct days days;
};

static enum th_code predict(void *context, const struct th_calibration *trial, double *gal,
                            struct th_error *err)
{
    struct prediction *p = context;
    const struct th_tank_fill *fills = p->in->fills;
    const enum th_code code = burn_days(p->in, p->climate, trial, &p->days, err);
    for (size_t k = 0; k + 1 < p->in->n_fills && code == TH_OK; k++) {
        gal[k] = 0.0;
        for (long day = fills[k].day; day < fills[k + 1].day; day++)
            gal[k] += p->days.gal[day - p->days.first_day];
    }
    return code;
}

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

static void fit_section(struct th_report *report, const struct th_calibrate_in *in,
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

/* Gallons between fills: by the tanks, as the files say, and with the fit. */
struct intervals {
    const double *used_gal, *before_gal, *after_gal;
};

static void interval_table(struct th_report *report, const struct th_calibrate_in *in,
                           const struct intervals *gallons)
{
    th_report_table(report, "intervals", "Fill by fill");
    for (size_t k = 0; k + 1 < in->n_fills; k++) {
        th_report_row(report);
        th_report_cell(report, "from", "From", "", TH_DAY, th_number((double)in->fills[k].day));
        th_report_cell(report, "to", "To", "", TH_DAY, th_number((double)in->fills[k + 1].day));
        th_report_cell(report, "used_gal", "Used", "gal", TH_SIG3, th_number(gallons->used_gal[k]));
        th_report_cell(report, "before_gal", "Model before", "gal", TH_SIG3,
                       th_number(gallons->before_gal[k]));
        th_report_cell(report, "after_gal", "Model after", "gal", TH_SIG3,
                       th_number(gallons->after_gal[k]));
    }
}

/* Gallons a day of every stretch between two fills, as dots or bars. */
static void interval_mark(struct th_report *report, const struct th_calibrate_in *in,
                          enum th_mark_kind kind, enum th_ink ink, const char *label,
                          const double *gal)
{
    th_figure_mark(report, kind, ink, label);
    for (size_t k = 0; k + 1 < in->n_fills; k++)
        th_figure_point(report, (double)k,
                        gal[k] / (double)(in->fills[k + 1].day - in->fills[k].day));
}

static void interval_figure(struct th_report *report, const struct th_calibrate_in *in,
                            const struct intervals *gallons)
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
    interval_mark(report, in, TH_MARK_BAR, TH_INK_PLAIN, "used, by the tanks", gallons->used_gal);
    interval_mark(report, in, TH_MARK_DOT, TH_INK_COLD, "model before", gallons->before_gal);
    interval_mark(report, in, TH_MARK_DOT, TH_INK_HEAT, "model after", gallons->after_gal);
}

static enum th_code interval_section(struct th_report *report, const struct th_fit_problem *problem,
                                     const struct th_fit *fit, struct prediction *p,
                                     struct th_error *err)
{
    const size_t n = problem->n_fills - 1;
    const struct th_calibration before = {.ua_factor = problem->priors[TH_FIT_UA].mean,
                                          .air_factor = problem->priors[TH_FIT_AIR].mean,
                                          .set_shift_k = problem->priors[TH_FIT_SET].mean};
    double *const gal = calloc(3 * n, sizeof *gal);
    if (!gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const struct intervals gallons = {gal, gal + n, gal + 2 * n};
    th_fit_used_gal(problem, gal);
    enum th_code code = predict(p, &before, gal + n, err);
    if (code == TH_OK)
        code = predict(p, &fit->calibration, gal + 2 * n, err);
    if (code == TH_OK) {
        interval_table(report, p->in, &gallons);
        interval_figure(report, p->in, &gallons);
    }
    free(gal);
    return code;
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

static void paste_section(struct th_report *report, const struct th_calibrate_in *in,
                          const struct th_fit *fit)
{
    const struct th_calibration *c = &fit->calibration;
    th_report_section(report, "paste", "To paste into the barn files");
    th_report_paragraph(report, NULL, "[calibration]");
    th_report_paragraph(report, NULL, "ua_factor = %.3f", c->ua_factor);
    th_report_paragraph(report, NULL, "air_factor = %.3f", c->air_factor);
    th_report_paragraph(report, NULL, "set_shift = %.2f F", c->set_shift_k / TH_K_PER_F);
    th_report_paragraph(report, NULL, "from = %s", in->source);
}

/* Gallons from `from_day` to the next 30 June, for each earlier year that can go on from there. */
static enum th_code left_to_burn(const struct th_calibrate_in *in, const struct th_fit *fit,
                                 long from_day, double *gal, size_t *n, struct th_error *err)
{
    const struct th_climate *actual = in->cases[0].climate;
    const struct th_date d = th_date_of(from_day);
    const long end_day = th_day_number(d.year + (d.month >= JULY), JULY, 1);
    struct days days = {.first_day = from_day, .n = (size_t)(end_day - from_day)};
    days.gal = calloc(days.n + 1, sizeof *days.gal);
    if (!days.gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    *n = 0;
    enum th_code code = TH_OK;
    for (int back = 1; back <= DONORS_MAX && code == TH_OK; back++) {
        struct th_climate longer;
        struct th_error why;
        code = th_climate_continue(&longer, actual, 24 * from_day, 24 * (end_day + 200), back, err);
        if (code == TH_OK && burn_days(in, &longer, &fit->calibration, &days, &why) == TH_OK) {
            gal[*n] = 0.0;
            for (size_t day = 0; day < days.n; day++)
                gal[*n] += days.gal[day];
            (*n)++;
        }
        th_climate_finish(&longer);
    }
    free(days.gal);
    return code;
}

static enum th_code season_section(struct th_report *report, const struct th_calibrate_in *in,
                                   const struct th_fit *fit, struct th_error *err)
{
    double gal[DONORS_MAX];
    size_t n = 0;
    struct th_spread spread;
    const struct th_tank_fill *last = &in->fills[in->n_fills - 1];
    enum th_code code = left_to_burn(in, fit, last->day, gal, &n, err);
    if (code == TH_OK && n > 0)
        code = th_spread_of(n, gal, &spread, err);
    if (code != TH_OK)
        return code;
    th_report_section(report, "season", "From the last fill to 30 June");
    if (n > 0)
        th_report_spread(report, "left", "gal", "Still to burn", "gal", TH_SIG3, &spread);
    th_report_fact(report, "in_tanks_gal", "In the tanks after the last fill", "gal", TH_SIG3,
                   th_number(last->level_share * in->capacity_gal + last->delivered_gal));
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
    return TH_OK;
}

static void choose_params(struct th_fit_problem *problem, const struct th_calibrate_in *in)
{
    problem->n_params = in->n_params;
    for (int i = 0; i < in->n_params; i++)
        problem->params[i] = in->params[i];
    if (in->n_params > 0)
        return;
    problem->n_params = in->n_fills >= TH_FIT_FILLS_TWO ? 2 : 1;
    problem->params[0] = TH_FIT_AIR;
    problem->params[1] = TH_FIT_UA;
}

enum th_code th_calibrate_report(struct th_report *report, const struct th_calibrate_in *in,
                                 struct th_error *err)
{
    struct th_fit_problem problem;
    struct th_fit fit;
    struct prediction p = {.in = in, .climate = in->cases[0].climate};
    if (in->n_fills < TH_FIT_FILLS_ONE)
        return th_fail(err, TH_ERR_INPUT,
                       "fills found: %zu; at least %d are needed to fit one number", in->n_fills,
                       TH_FIT_FILLS_ONE);
    p.days.first_day = in->fills[0].day;
    p.days.n = (size_t)(in->fills[in->n_fills - 1].day - in->fills[0].day);
    p.days.gal = calloc(p.days.n + 1, sizeof *p.days.gal);
    if (!p.days.gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_fit_defaults(&problem);
    choose_params(&problem, in);
    problem.n_fills = in->n_fills;
    problem.fills = in->fills;
    problem.capacity_gal = in->capacity_gal;
    problem.predict = predict;
    problem.context = &p;
    enum th_code code = th_fit_run(&problem, &fit, err);
    if (code == TH_OK) {
        th_report_thin_weather(report, &in->cases[0]);
        quality(report, &fit);
        fit_section(report, in, &fit);
        code = interval_section(report, &problem, &fit, &p, err);
    }
    free(p.days.gal);
    if (code != TH_OK)
        return code;
    paste_section(report, in, &fit);
    code = season_section(report, in, &fit, err);
    th_report_cautions(report);
    return code;
}

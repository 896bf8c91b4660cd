/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "outlook_text.h"

#include "display.h"
#include "figure.h"
#include "fuel_unit.h"
#include "season_text.h"
#include "turnheat/calendar.h"
#include "turnheat/thousands.h"
#include "turnheat/unknowns.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A number this far off, in standard deviations, is named where a record does not fit. */
#define FAR_SD 1.0

const char *th_range_key(enum th_range_kind kind)
{
    static const char *const keys[] = {[TH_RANGE_P10_P90] = "p10_p90",
                                       [TH_RANGE_GENERATED_10_90] = "generated_10_90",
                                       [TH_RANGE_FEW_WINTERS_10_90] = "few_winters_10_90"};
    return keys[kind];
}

const char *th_barns_text(bool learnt)
{
    return learnt ? "as they most likely are" : "just as given";
}

/* Text of an amount, three significant digits. */
struct amount {
    char text[TH_SHOWN_MAX];
};

static struct amount amount(double value)
{
    struct amount a = {""};
    th_show(a.text, th_number(value), TH_SIG3);
    return a;
}

static const struct th_room *room_of(const struct th_answer *a, int barn)
{
    return a->outlook->barns[barn].room;
}

/* One price for all rooms, or NaN. */
static double price_of(const struct th_answer *a)
{
    const struct th_fuel *first = &room_of(a, 0)->fuel;
    for (int b = 0; b < a->outlook->n_barns; b++) {
        const struct th_fuel *fuel = &room_of(a, b)->fuel;
        if (!fuel->has_price || fuel->price != first->price)
            return NAN;
    }
    return first->price;
}

static void headline(struct th_report *report, const struct th_answer *a)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&room_of(a, 0)->fuel);
    const double price = price_of(a);
    char who[TH_NAME_MAX + 32], dollars[TH_SHOWN_MAX + 8] = "";
    if (a->outlook->n_barns == 2)
        snprintf(who, sizeof who, "Both barns together");
    else if (a->outlook->n_barns > 1)
        snprintf(who, sizeof who, "All barns together");
    else if (room_of(a, 0)->copies > 1)
        snprintf(who, sizeof who, "The %d rooms of %s", room_of(a, 0)->copies, room_of(a, 0)->name);
    else
        snprintf(who, sizeof who, "%s", room_of(a, 0)->name);
    if (isfinite(price))
        snprintf(dollars, sizeof dollars, ", $%s", amount(price * a->now.middle).text);
    th_report_line(report, "%s: about %s %s a winter%s.", who, amount(a->now.middle).text,
                   unit->units, dollars);
}

static void range_line(struct th_report *report, const struct th_answer *a)
{
    const struct th_range *now = &a->now;
    const size_t n = a->outlook->n_winters;
    const char *unit = th_fuel_unit(&room_of(a, 0)->fuel)->unit;
    const char *const barns = th_answer_learnt(a) ? "as is most likely" : "just as given";
    const struct amount low = amount(now->low), high = amount(now->high);
    if (now->kind == TH_RANGE_P10_P90) {
        th_report_line(report,
                       "One winter in ten takes more than %s %s, one in ten less than %s: winters "
                       "and what is not known of the barns taken together.",
                       high.text, unit, low.text);
        return;
    }
    if (now->kind == TH_RANGE_GENERATED_10_90)
        th_report_line(report,
                       "%s to %s %s in eight cases of ten, over generated winters and what is not "
                       "known of the barns; measured weather of the place would say more.",
                       low.text, high.text, unit);
    else
        th_report_line(report,
                       "%s to %s %s in eight cases of ten, over %s winter%s and what is not known "
                       "of the barns; harder winters than these will come.",
                       low.text, high.text, unit, n == 1 ? "this one" : "these few",
                       n == 1 ? "" : "s");
    if (n == 1)
        th_report_line(report, "If every number of the barns is %s, the winter takes %s %s.", barns,
                       amount(now->alone_lowest).text, unit);
    else
        th_report_line(report,
                       "If every number of the barns is %s, the winters take %s to %s "
                       "%s.",
                       barns, amount(now->alone_lowest).text, amount(now->alone_highest).text,
                       unit);
}

/* "leakage of curtain is probably lower than given". */
static void name_moved(const struct th_answer *a, char *text, size_t room)
{
    const struct th_learnt *l = &a->learnt;
    const double z = l->z[th_outlook_place(l->moved_barn, l->moved)];
    const bool own = th_unknown_scope(l->moved) == TH_SCOPE_BARN && a->outlook->n_barns > 1;
    snprintf(text, room, "%s%s%s is probably %s than given", th_unknown_text(l->moved),
             own ? " of " : "", own ? room_of(a, l->moved_barn)->name : "",
             z < 0.0 ? "lower" : "higher");
}

/* Records, fills, or both. */
static const char *source_text(const struct th_answer *a)
{
    if (a->n_records == 0)
        return "What the tanks' fills taught is weighed in";
    if (a->fitted)
        return "Fills and records are weighed in";
    return a->n_records == 1 ? "One record is weighed in" : "Records are weighed in";
}

static void record_line(struct th_report *report, const struct th_answer *a)
{
    char moved[160];
    if (!th_answer_learnt(a)) {
        th_report_line(
            report, "The gallons of one past season, entered as a record, would narrow this "
                    "most: [record last], season = 2025-26, gallons = what the slips add up to.");
        return;
    }
    const double before = log(a->before.high / a->before.low);
    const double now = log(a->now.high / a->now.low);
    name_moved(a, moved, sizeof moved);
    th_report_line(report, "%s: without %s the range was %s to %s, %.0f %% wider; %s.",
                   source_text(a),
                   a->fitted == (a->n_records > 0) || a->n_records > 1 ? "them" : "it",
                   amount(a->before.low).text, amount(a->before.high).text,
                   100.0 * (before / now - 1.0), moved);
    th_report_line(report, "Every table below is of the barns as they so most likely are, not as "
                           "their files have them.");
}

static void facts(struct th_report *report, const struct th_answer *a)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&room_of(a, 0)->fuel);
    const double price = price_of(a);
    static const char *const parts[] = {"low", "middle", "high"};
    static const char *const labels[] = {"Low", "Middle", "High"};
    const double gal[] = {a->now.low, a->now.middle, a->now.high};
    th_report_fact(report, "range", NULL, "", TH_PLAIN, th_text(th_range_key(a->now.kind)));
    for (int i = 0; i < 3; i++) {
        char key[32], label[32];
        snprintf(key, sizeof key, "used_%s_gal", parts[i]);
        snprintf(label, sizeof label, "%s, a winter", labels[i]);
        th_report_fact(report, key, label, unit->unit, TH_SIG3, th_number(gal[i]));
    }
    for (int i = 0; i < 3; i++) {
        char key[32], label[32];
        snprintf(key, sizeof key, "%s_usd", parts[i]);
        snprintf(label, sizeof label, "%s at today's price", labels[i]);
        if (isfinite(price))
            th_report_fact(report, key, label, "$", TH_SIG3, th_number(price * gal[i]));
        else
            th_report_fact(report, key, NULL, "$", TH_SIG3, th_missing());
    }
    th_report_fact(report, "winters_count", "Winters", "", TH_WHOLE,
                   th_number((double)a->outlook->n_winters));
    th_report_fact(report, "draws_effective_count", "Cases that fit what is known", "", TH_WHOLE,
                   th_number(th_answer_learnt(a) ? a->learnt.effective_draws : TH_OUTLOOK_DRAWS));
}

/* "2025-26", or "2025-11-03 to 2026-01-12": machines read it too. */
static void record_days(const struct th_record *record, char text[48])
{
    char from[TH_SHOWN_MAX], to[TH_SHOWN_MAX];
    th_show_exact(from, th_number((double)record->first_day), TH_DAY);
    th_show_exact(to, th_number((double)record->last_day), TH_DAY);
    if (record->last_day == 0)
        snprintf(text, 48, "%d-%02d", record->year, (record->year + 1) % 100);
    else
        snprintf(text, 48, "%.20s to %.20s", from, to);
}

static void record_table(struct th_report *report, const struct th_answer *a)
{
    if (a->n_records == 0)
        return;
    th_report_table(report, "records", "What was recorded, and what the barns would have burnt");
    for (int r = 0; r < a->n_records; r++) {
        const struct th_record_fit *fit = &a->learnt.records[r];
        char season[48];
        record_days(&a->records[r], season);
        th_report_row(report);
        th_report_cell(report, "record", "Record", "", TH_PLAIN, th_text(a->records[r].name));
        th_report_cell(report, "season", "Season", "", TH_PLAIN, th_text(season));
        th_report_cell(report, "recorded_gal", "Recorded", "gal", TH_SIG3,
                       th_number(a->records[r].gal));
        th_report_cell(report, "before_gal", "As given", "gal", TH_SIG3,
                       th_number(fit->before_gal));
        th_report_cell(report, "after_gal", "Most likely", "gal", TH_SIG3,
                       th_number(fit->after_gal));
        th_report_cell(report, "weather_known", "Its weather is known", "", TH_PLAIN,
                       th_bool(fit->known_winter));
        th_report_cell(report, "misfit_ratio", "Off, in standard errors", "", TH_TENTHS,
                       th_number(fit->misfit_sd));
    }
}

/* A mark a record: its gallons by one of the three ways. */
static void record_mark(struct th_report *report, const struct th_answer *a, enum th_mark_kind kind,
                        enum th_ink ink, const char *label)
{
    th_figure_mark(report, kind, ink, label);
    for (int r = 0; r < a->n_records; r++) {
        const struct th_record_fit *fit = &a->learnt.records[r];
        th_figure_point(report, r,
                        kind == TH_MARK_BAR  ? a->records[r].gal
                        : ink == TH_INK_COLD ? fit->before_gal
                                             : fit->after_gal);
    }
}

static void record_figure(struct th_report *report, const struct th_answer *a)
{
    if (a->n_records == 0)
        return;
    th_figure(report, &(struct th_figure){
                          .caption = "How near the model comes to what was recorded",
                          .reading = "Gallons of each record: as recorded, and as the barns would "
                                     "have burnt as given and as they most likely are.",
                          .along = {.kind = TH_AXIS_NAMES},
                          .value = {.unit = "gal", .format = TH_SIG3, .from_zero = true}});
    for (int r = 0; r < a->n_records; r++)
        th_figure_name(report, a->records[r].name);
    record_mark(report, a, TH_MARK_BAR, TH_INK_PLAIN, "recorded");
    record_mark(report, a, TH_MARK_DOT, TH_INK_COLD, "as given");
    record_mark(report, a, TH_MARK_DOT, TH_INK_HEAT, "most likely");
}

/* Numbers that would have to be far off for the record to fit. */
static void name_far(const struct th_answer *a, char *text, size_t room)
{
    size_t n = 0;
    text[0] = '\0';
    for (int u = 0; u < TH_UNKNOWNS; u++) {
        double furthest = 0.0;
        for (int b = 0; b < a->outlook->n_barns; b++)
            furthest = fmax(furthest, fabs(a->learnt.z[th_outlook_place(b, (enum th_unknown)u)]));
        if (furthest < FAR_SD || n + 1 >= room)
            continue;
        snprintf(text + n, room - n, "%s%s", n > 0 ? ", " : "",
                 th_unknown_text((enum th_unknown)u));
        n = strlen(text);
    }
}

/* A slip of the pen would set the order. */
static void doubt_records(struct th_report *report, const struct th_answer *a)
{
    for (int r = 0; r < a->n_records; r++) {
        const struct th_record_fit *fit = &a->learnt.records[r];
        if (fabs(fit->surprise_sd) < TH_RECORD_SURPRISE_SD)
            continue;
        th_report_warning(report,
                          "Record \"%s\" of %s gal lies far %s the %s to %s gal that were expected "
                          "of these barns in eight cases of ten, and the answer rests on it. Is it "
                          "typed right, of this season, and of these barns alone?",
                          a->records[r].name, amount(a->records[r].gal).text,
                          fit->surprise_sd > 0.0 ? "above" : "below",
                          amount(fit->expected_low).text, amount(fit->expected_high).text);
    }
}

static void warnings(struct th_report *report, const struct th_answer *a)
{
    char far[400];
    name_far(a, far, sizeof far);
    doubt_records(report, a);
    if (a->n_records > 0 && a->learnt.strain_sd > TH_LEARN_MISFIT_SD)
        th_report_warning(report,
                          "What was recorded lies far from anything expected of these barns. Check "
                          "the records and, of the barns: %s.",
                          far[0] ? far : "dates, pigs, set points and weather");
    if (a->n_records > 0 && a->learnt.effective_draws < TH_LEARN_DRAWS_ENOUGH)
        th_report_warning(report,
                          "Few of the cases tried fit the records (%s of %d count): the range is "
                          "rough.",
                          th_whole(a->learnt.effective_draws).text, TH_OUTLOOK_DRAWS);
    if (th_answer_learnt(a) && a->learnt.z[TH_UNKNOWN_AIR] < -FAR_SD)
        th_report_warning(report, "The gallons look as if less air were moved than the minimum: "
                                  "measure CO2 first. It is no saving.");
}

void th_report_answer(struct th_report *report, const struct th_answer *answer)
{
    th_report_section(report, "answer", NULL);
    headline(report, answer);
    range_line(report, answer);
    record_line(report, answer);
    warnings(report, answer);
}

void th_report_answer_facts(struct th_report *report, const struct th_answer *answer)
{
    facts(report, answer);
    record_table(report, answer);
    record_figure(report, answer);
}

void th_report_learnt(struct th_report *report, const struct th_answer *a)
{
    char moved[160];
    if (!th_answer_learnt(a))
        return;
    name_moved(a, moved, sizeof moved);
    th_report_paragraph(report, "learnt",
                        "%s: %s of the %s barns drawn count; %s. Net savings, what follows from "
                        "them and in how many cases it pays are of those barns; gallons and hours "
                        "in the tables, and net savings by price and tightness, are of the barn "
                        "as its file has it.",
                        source_text(a), th_whole(a->learnt.effective_draws).text,
                        th_whole(TH_OUTLOOK_DRAWS).text, moved);
    warnings(report, a);
}

void th_report_fitted(struct th_report *report, const struct th_room *room)
{
    const struct th_fitted *f = &room->fitted;
    char first[TH_DAY_TEXT_MAX], last[TH_DAY_TEXT_MAX];
    int most = 0;
    if (!f->given)
        return;
    th_day_text(th_day_number(f->first_fill[2], f->first_fill[0], f->first_fill[1]), first);
    th_day_text(th_day_number(f->last_fill[2], f->last_fill[0], f->last_fill[1]), last);
    for (int u = 1; u < TH_FITTED_NUMBERS; u++)
        if (fabs(f->z[u]) > fabs(f->z[most]))
            most = u;
    th_report_paragraph(report, "calibration",
                        "Fills of %s to %s were fitted: %s is probably %s than given. budget and "
                        "plan are of the barn as it so most likely is; what check and compare "
                        "tell in tables is of the barn as its file has it.",
                        first, last, th_unknown_text((enum th_unknown)most),
                        f->z[most] < 0.0 ? "lower" : "higher");
}

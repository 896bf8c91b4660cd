/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is concluded of each choice: what it does to the pigs first, then dollars. */
#include "compare_report.h"

#include "air_text.h"
#include "display.h"
#include "figure.h"
#include "fuel_unit.h"
#include "net_text.h"
#include "outlook_text.h"
#include "season_text.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

#define WORDS_MAX 512

const char *th_verdict_phrase(enum th_verdict verdict)
{
    static const char *const phrases[] = {[TH_VERDICT_NOT_COMPARABLE] = "not comparable",
                                          [TH_VERDICT_SHORT_OF_HEAT] = "too little heat",
                                          [TH_VERDICT_SHORT_OF_AIR] = "too little air",
                                          [TH_VERDICT_COLDER] = "colder pigs",
                                          [TH_VERDICT_NO_DIFFERENCE] = "no difference",
                                          [TH_VERDICT_SETTINGS_FIRST] = "settings first",
                                          [TH_VERDICT_DEPENDS] = "it depends",
                                          [TH_VERDICT_YES] = "yes",
                                          [TH_VERDICT_NO] = "no"};
    return phrases[verdict];
}

static bool harmful(const struct th_comparison *c, int i)
{
    return c->results[i + 1].refused[0] || c->results[i + 1].harm != TH_HARM_NONE;
}

bool th_compared_is_judged(const struct th_comparison *c, int i)
{
    return c->has_money || harmful(c, i);
}

/* Degree-hours below comfort that a choice adds, °F h. */
static double colder_f_h(const struct th_choice_result *r)
{
    return (r->added.young_kh + r->added.later_kh) / TH_K_PER_F;
}

/* The winter in which a choice adds most. */
static const char *one_winter(const struct th_comparison *c)
{
    return c->results[0].trial.n > 1 ? "of one winter" : "of the one winter";
}

#define SHORT_MAX (2 * TH_SHOWN_MAX + 80)

/* "they give 240,000 Btu/h of the 291,000 that the 99 % design day needs, one room". */
static const char *short_words(char words[SHORT_MAX], const struct th_choice_result *r)
{
    char installed[TH_SHOWN_MAX], most[TH_SHOWN_MAX];
    th_show_with_unit(installed, th_number(r->installed_w / TH_W_PER_BTUH), TH_SIG3, "Btu/h");
    th_show(most, th_number(r->most_w / TH_W_PER_BTUH), TH_SIG3);
    snprintf(words, SHORT_MAX, "they give %s of the %s that the 99 %% design day needs, one room",
             installed, most);
    return words;
}

/* The answer with the air held on both sides. */
static void say_held(char text[WORDS_MAX], const struct th_comparison *held, int i)
{
    const struct th_choice_result *r = &held->results[i + 1];
    const struct th_choice_money *m = &held->money[i];
    const int years = held->base->room->money.years;
    char net[TH_NET_MAX] = "", settings[TH_NET_MAX] = "", hours[TH_MORE_HOURS_MAX], less[SHORT_MAX];
    if (held->has_money) {
        th_net_words(net, &m->today.net);
        th_net_words(settings, &m->settings.net);
    }
    if (r->refused[0])
        snprintf(text, WORDS_MAX, "not comparable, since %.200s", r->refused);
    else if (r->harm == TH_HARM_HEAT)
        snprintf(text, WORDS_MAX, "too little heat, short in %s %s%s%s",
                 th_more_hours(hours, r->added.unmet_h), one_winter(held),
                 r->falls_short ? "; " : "", r->falls_short ? short_words(less, r) : "");
    else if (r->harm == TH_HARM_AIR)
        snprintf(
            text, WORDS_MAX,
            "still too little, over for %s than with today's heaters, since the first fan stage is "
            "then at its full flow%s%.120s",
            th_more_hours(hours, fmax(r->added.co2_h, r->added.rh_h)),
            net[0] ? "; the dollars alone come to " : "", net);
    else if (r->harm == TH_HARM_COLD)
        snprintf(text, WORDS_MAX, "colder pigs, %s more °F hours below their comfort limit",
                 th_whole(colder_f_h(r)).text);
    else if (!held->has_money)
        snprintf(text, WORDS_MAX,
                 "the pigs are no worse off; without a fuel price no more is said");
    else if (m->verdict == TH_VERDICT_NO_DIFFERENCE)
        snprintf(text, WORDS_MAX, "no difference in gas worth naming, %.120s net over %d years",
                 net, years);
    else if (m->verdict == TH_VERDICT_SETTINGS_FIRST)
        snprintf(text, WORDS_MAX,
                 "settings first, since against better settings of the present heaters it comes to "
                 "%.120s over %d years",
                 settings, years);
    else
        snprintf(text, WORDS_MAX, "%s, %.120s net over %d years", th_verdict_phrase(m->verdict),
                 net, years);
}

/* What a choice does to the pigs, before any dollar. */
static void say_harm(struct th_report *report, const struct th_comparison *c,
                     const struct th_comparison *held, int i)
{
    const struct th_choice_result *r = &c->results[i + 1];
    const struct th_tally *now = &c->results[0].trial.mean, *then = &th_felt(r)->mean;
    const char *name = c->choices[i].buy.name;
    char air[TH_AIR_ADDED_MAX], answer[WORDS_MAX], ceilings[TH_CEILINGS_MAX],
        hours[TH_MORE_HOURS_MAX], less[SHORT_MAX];
    if (r->refused[0]) {
        th_report_line(report, "Not comparable: %s, since %s.", name, r->refused);
    } else if (r->harm == TH_HARM_HEAT && r->falls_short && r->added.unmet_h < 0.5) {
        th_report_line(report,
                       "Too little heat: with %s the heaters are too small: %s. In the winters "
                       "looked at they keep up as today's do; in a harder one the pigs stand cold.",
                       name, short_words(less, r));
    } else if (r->harm == TH_HARM_HEAT) {
        th_report_line(
            report,
            "Too little heat: with %s the heaters cannot keep up in %s %s (today in %s of its "
            "worst), "
            "and the room falls to %.1f °F (today %.1f °F)%s%s.",
            name, th_more_hours(hours, r->added.unmet_h), one_winter(c),
            th_whole(th_hardship_worst(c->results[0].trial.hardship, c->results[0].trial.n).unmet_h)
                .text,
            th_f_from_c(then->lowest_c), th_f_from_c(now->lowest_c), r->falls_short ? ": " : "",
            r->falls_short ? short_words(less, r) : "");
    } else if (r->harm == TH_HARM_COLD) {
        th_report_line(
            report,
            "Colder pigs: with %s they spend %s more °F hours below their comfort limit in the "
            "worst turn, at most %.1f °F below it (today %.1f °F).",
            name, th_whole(colder_f_h(r)).text, then->deepest_below_k / TH_K_PER_F,
            now->deepest_below_k / TH_K_PER_F);
    } else {
        th_air_added_words(air, "today", &c->base->room->air, &r->added);
        if (held)
            say_held(answer, held, i);
        th_report_line(report,
                       "Too little air as it is set: %s has, in the worst turn, %s.%s%s%s%s%s",
                       name, air, held ? " With the fans holding " : "",
                       held ? th_ceilings_words(ceilings, &c->base->room->air) : "",
                       held ? " on both sides: " : "", held ? answer : "", held ? "." : "");
    }
}

/* What the purchase is worth beside the free choice; nothing without one. */
static void say_settings(char text[WORDS_MAX], const struct th_comparison *c, int i)
{
    char net[TH_NET_MAX];
    text[0] = '\0';
    if (c->free.found)
        snprintf(text, WORDS_MAX,
                 " Better settings of the present heaters cost nothing; against them, as warm, it "
                 "comes to %.120s.",
                 th_net_words(net, &c->money[i].settings.net));
}

static void say_no_difference(struct th_report *report, const struct th_comparison *c, int i)
{
    char cost[TH_SHOWN_MAX];
    th_report_line(report,
                   "No difference: what %s saves is too little to tell, under 1 %% of the fuel "
                   "bill or $50 over %d years. It costs %s%s.",
                   c->choices[i].buy.name, c->base->room->money.years,
                   th_dollars(cost, c->base->room->copies * c->choices[i].buy.cost_usd),
                   c->choices[i].buy.cost_usd > 0.0 ? ", so there is nothing to buy" : "");
}

/* Gallons alone do not tell what such a choice saves. */
static bool other_fuel(const struct th_comparison *c, int i)
{
    const struct th_fuel *now = &c->base->room->fuel, *then = &c->choices[i].room.fuel;
    return now->gas != then->gas || now->price != then->price;
}

/* What decides where the answer depends. */
static void say_depends(char text[WORDS_MAX], const struct th_comparison *c, int i)
{
    const struct th_choice_return *today = &c->money[i].today;
    char usd[TH_SHOWN_MAX];
    text[0] = '\0';
    if (c->money[i].verdict != TH_VERDICT_DEPENDS)
        return;
    if ((today->net.usd > 0.0) != (today->scrapped_usd > 0.0))
        snprintf(text, WORDS_MAX,
                 " It rests on what it is still worth after %d years: if that is nothing, it comes "
                 "to %s.",
                 c->base->room->money.years, th_dollars(usd, today->scrapped_usd));
    else if ((today->net.low_usd > 0.0) != (today->net.high_usd > 0.0))
        snprintf(text, WORDS_MAX, " The sign changes within that range.");
    else if ((today->net.case_low_usd > 0.0) != (today->net.case_high_usd > 0.0))
        snprintf(text, WORDS_MAX, " The sign changes with the overshoot or the fan stage.");
    else
        snprintf(text, WORDS_MAX, " Against better settings its sign changes.");
}

static void say_money(struct th_report *report, const struct th_comparison *c, int i)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&c->base->room->fuel);
    const struct th_choice_result *result = &c->results[i + 1];
    const struct th_net *today = &c->money[i].today.net;
    const double saved = th_comparison_units(c, &c->results[0].trial) -
                         th_comparison_choice_units(c, i, th_judged(result));
    char word[TH_SHOWN_MAX], gas[TH_SHOWN_MAX], net[TH_NET_MAX], more[WORDS_MAX], why[WORDS_MAX],
        chance[TH_CHANCE_MAX];
    say_settings(more, c, i);
    say_depends(why, c, i);
    snprintf(word, sizeof word, "%s", th_verdict_phrase(c->money[i].verdict));
    word[0] = (char)(word[0] - 'a' + 'A');
    th_report_line(
        report,
        "%s: %s comes to %.120s net over %d years at $%.2f/%s%s. It %s %s in a mean season at the "
        "same %s.%s%s",
        word, c->choices[i].buy.name, th_net_words(net, today), c->base->room->money.years,
        c->base->room->fuel.price, unit->unit,
        th_chance_words(chance, today, c->money[i].today.chance),
        other_fuel(c, i) ? saved >= 0.0 ? "saves the price of" : "costs the price of"
        : saved >= 0.0   ? "saves about"
                         : "burns more by about",
        th_show_with_unit(gas, th_number(fabs(saved)), TH_SIG2, unit->unit),
        th_warmth_words(result->judged_by), why, more);
}

static void say_verdict(struct th_report *report, const struct th_comparison *c,
                        const struct th_comparison *held, int i)
{
    if (harmful(c, i))
        say_harm(report, c, held, i);
    else if (c->money[i].verdict == TH_VERDICT_NO_DIFFERENCE)
        say_no_difference(report, c, i);
    else
        say_money(report, c, i);
}

#define NET_CELLS 5

/* Net savings of one comparison; `label` NULL: for machines only. */
static void net_cells(struct th_report *report, const struct th_comparison *c, int i,
                      const char *const keys[NET_CELLS], const char *const labels[NET_CELLS])
{
    const bool priced = c && c->has_money && !c->results[i + 1].refused[0];
    const struct th_net none = {0}, *net = c ? &c->money[i].today.net : &none;
    const double usd[NET_CELLS] = {net->usd, net->low_usd, net->high_usd, net->case_low_usd,
                                   net->case_high_usd};
    for (int k = 0; k < NET_CELLS && keys[k]; k++)
        th_report_cell(report, keys[k], labels[k], "$", TH_SIG3, th_number_if(priced, usd[k]));
}

static void verdict_row(struct th_report *report, const struct th_comparison *c,
                        const struct th_comparison *held, int i)
{
    static const char *const keys[NET_CELLS] = {"net_usd", "net_low_usd", "net_high_usd",
                                                "net_case_low_usd", "net_case_high_usd"};
    static const char *const labels[NET_CELLS] = {"Net savings", "low", "high"};
    static const char *const held_keys[NET_CELLS] = {"held_net_usd", "held_net_low_usd",
                                                     "held_net_high_usd"};
    static const char *const held_labels[NET_CELLS] = {"Net, air held"};
    const struct th_choice_result *r = &c->results[i + 1];
    const bool said = th_compared_is_judged(c, i);
    const struct th_comparison *const other = r->harm == TH_HARM_AIR ? held : NULL;
    const bool other_said = other && th_compared_is_judged(other, i);
    const enum th_verdict verdict = c->money[i].verdict;
    const enum th_verdict other_verdict = other ? other->money[i].verdict : verdict;
    th_report_row(report);
    th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(c->choices[i].buy.name));
    th_report_cell(report, "word", NULL, "", TH_PLAIN,
                   th_text(said ? th_verdict_word(verdict) : NULL));
    th_report_cell(report, "verdict", "Verdict", "", TH_PLAIN,
                   th_text(said ? th_verdict_phrase(verdict) : NULL));
    net_cells(report, c, i, keys, labels);
    th_report_cell(report, "chance_pct", NULL, "%", TH_WHOLE,
                   th_number_if(c->money[i].today.net.drawn, 100.0 * c->money[i].today.chance));
    th_report_cell(report, "held_word", NULL, "", TH_PLAIN,
                   th_text(other_said ? th_verdict_word(other_verdict) : NULL));
    th_report_cell(report, "held_verdict", "Verdict, air held", "", TH_PLAIN,
                   th_text(other_said ? th_verdict_phrase(other_verdict) : NULL));
    net_cells(report, other, i, held_keys, held_labels);
    th_report_cell(report, "unmet_added_h", "More hours short of heat, one winter", "h", TH_WHOLE,
                   th_number_if(!r->refused[0], r->added.unmet_h));
    th_report_cell(report, "below_comfort_added_f_h", "More below comfort, one turn", "°F h",
                   TH_WHOLE, th_number_if(!r->refused[0], colder_f_h(r)));
}

/* Air comes before heaters, once for all choices. */
static void say_air_first(struct th_report *report, const struct th_comparison *c,
                          const struct th_comparison *held)
{
    char words[TH_HELD_AIR_MAX];
    if (!held)
        return;
    th_report_paragraph(
        report, "air_first",
        "Mend the air first, then the heaters. Where less heat is blown out, less air goes with "
        "it and the burners' CO2 stays; that is never a saving. %s The answers with the air held "
        "are those of the winter nearest the mean, their ranges what is not known of the overshoot "
        "and the first fan stage; with hold_co2 and hold_humidity set to yes everything is shown "
        "so, over all winters.%s",
        th_held_air_words(words, c->base->room, &c->held_air),
        th_held_air_heated(&c->held_air) ? ""
                                         : " While the heaters cannot warm that air they are "
                                           "answers of rooms too cold for pigs, "
                                           "to judge heaters that can.");
}

/* Ranges that a measurement would narrow. */
static void say_measure(struct th_report *report, const struct th_comparison *c)
{
    bool any = false;
    for (int i = 0; i < c->n; i++)
        any |= !c->results[i + 1].refused[0];
    if (any && c->has_money && !c->base->room->response.has_overshoot)
        th_report_paragraph(
            report, "measure_first",
            "Measure first: how far the room overshoots is assumed here, so each "
            "answer is a range. A sheet for a cold day says what to note and how to "
            "enter it (turnheat compare --sheet); the range then narrows.");
}

/* The choice with the highest net savings first. */
static void say_each(struct th_report *report, const struct th_comparison *c,
                     const struct th_comparison *held)
{
    if (c->has_money)
        say_verdict(report, c, held, c->best);
    for (int i = 0; i < c->n; i++)
        if (c->has_money ? i != c->best : th_compared_is_judged(c, i))
            say_verdict(report, c, held, i);
}

/* The answer in one line, which people have read on top. */
static void say_answer(struct th_report *report, const struct th_comparison *c)
{
    char names[WORDS_MAX] = "";
    size_t used = 0;
    for (int i = 0; i < c->n && used < sizeof names; i++)
        if (c->money[i].verdict == TH_VERDICT_YES)
            used += (size_t)snprintf(names + used, sizeof names - used, "%s%s",
                                     used ? ", " : "Yes to ", c->choices[i].buy.name);
    snprintf(names + used, used < sizeof names ? sizeof names - used : 0, "%s",
             used ? "." : "None of these is a yes as the barn stands.");
    th_report_fact(report, "answer", NULL, "", TH_PLAIN, th_text(names));
}

/* What low and high are, and what they rest on. */
static void say_range(struct th_report *report, const struct th_comparison *c)
{
    const struct th_farms *const farms = c->farms;
    if (!c->has_money || !(c->joint_error > 0.0))
        return;
    th_report_paragraph(
        report, NULL,
        "Low and high: eight of ten barns that fit what is known come to between "
        "them, every choice over the same barns and winters. Found from %d runs of "
        "each choice; one left out is missed by %.1f %% of its gas. Cases that pay: those barns at "
        "0.6, 0.8, 1, 1.3 and 1.7 times today's fuel price.",
        TH_OUTLOOK_FEW_RUNS, 100.0 * c->joint_error);
    th_report_fact(report, "joint_error_pct", NULL, "%", TH_TENTHS,
                   th_number(100.0 * c->joint_error));
    th_report_fact(
        report, "draws_effective_count", NULL, "", TH_WHOLE,
        th_number(farms->learnt ? farms->answer.learnt.effective_draws : TH_OUTLOOK_DRAWS));
    if (farms->learnt)
        th_report_learnt(report, &farms->answer);
}

void th_compare_verdict(struct th_report *report, const struct th_comparison *c,
                        const struct th_comparison *held)
{
    th_report_table(report, "verdicts", "What each choice comes to");
    for (int i = 0; i < c->n; i++)
        verdict_row(report, c, held, i);
    say_range(report, c);
    th_report_section(report, "verdict", "Verdict");
    if (!c->has_money)
        th_report_paragraph(report, "best",
                            c->n == 0 ? "No choices are given. A choice is a section of the barn "
                                        "file, such as [choice modulating] with a line "
                                        "heater NAME.control = modulating and a line cost = $6,000 "
                                        "(docs/barn-file.md)."
                                      : "Without a fuel price there is no verdict on money; see "
                                        "what each choice saves.");
    else
        say_answer(report, c);
    say_each(report, c, held);
    say_air_first(report, c, held);
    say_measure(report, c);
}

/* Degree-hours below the comfort limit in the worst turn of a winter, °F h. */
static double cold_f_h(const struct th_hardship *winter)
{
    return (winter->young_kh + winter->later_kh) / TH_K_PER_F;
}

static void comfort_row(struct th_report *report, const struct th_comparison *c, int i)
{
    const struct th_choice_result *r = &c->results[i];
    const struct th_trial *felt = th_felt(r);
    const bool run = !r->refused[0];
    double cold = 0.0, unmet = 0.0;
    for (int k = 0; run && k < felt->n; k++) {
        cold = fmax(cold, cold_f_h(&felt->hardship[k]));
        unmet = fmax(unmet, felt->hardship[k].unmet_h);
    }
    th_report_row(report);
    th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(th_compared_name(c, i)));
    th_report_cell(report, "cold_f_h", "Too cold, worst turn", "°F h", TH_WHOLE,
                   th_number_if(run, cold));
    th_report_cell(report, "deepest_f", "at most by", "°F", TH_TENTHS,
                   th_number_if(run, felt->mean.deepest_below_k / TH_K_PER_F));
    th_report_cell(report, "unmet_h", "Heaters cannot keep up, worst winter", "h", TH_WHOLE,
                   th_number_if(run, unmet));
}

/* The worst turn of every winter: the worst of them as a bar, of several each as a dot. */
static void comfort_marks(struct th_report *report, const struct th_trial *felt, int at,
                          enum th_ink ink)
{
    char winter[TH_SEASON_NAME_MAX];
    double worst = 0.0;
    for (int k = 0; k < felt->n; k++)
        worst = fmax(worst, cold_f_h(&felt->hardship[k]));
    th_figure_mark(report, TH_MARK_BAR, ink, NULL);
    th_figure_point(report, at, worst);
    th_figure_mark(report, TH_MARK_SPECK, TH_INK_PLAIN, NULL);
    for (int k = 0; felt->n > 1 && k < felt->n; k++) {
        th_year_name(felt->years[k], false, winter);
        th_figure_named_point(report, at, cold_f_h(&felt->hardship[k]), winter);
    }
}

static void comfort_figure(struct th_report *report, const struct th_comparison *c)
{
    const bool several = c->results[0].trial.n > 1;
    th_figure(report,
              &(struct th_figure){
                  .caption = "How cold the pigs get with each choice",
                  .reading = several ? "Degrees below their comfort limit times hours, in the "
                                       "worst turn of a winter. Bar: the worst winter. Small "
                                       "dots: each winter."
                                     : "Degrees below their comfort limit times hours, in the "
                                       "worst turn of the one winter there is.",
                  .along = {.kind = TH_AXIS_NAMES_DOWN},
                  .value = {.unit = "°F h", .format = TH_WHOLE, .from_zero = true}});
    for (int i = 0, at = 0; i < th_compared_count(c); i++) {
        if (c->results[i].refused[0])
            continue;
        th_figure_name(report, th_compared_name(c, i));
        comfort_marks(report, th_felt(&c->results[i]), at++, i == 0 ? TH_INK_PLAIN : TH_INK_COLD);
    }
}

void th_compare_comfort(struct th_report *report, const struct th_comparison *c)
{
    th_report_table(report, "comfort", "What the pigs feel");
    for (int i = 0; i < th_compared_count(c); i++)
        comfort_row(report, c, i);
    comfort_figure(report, c);
}

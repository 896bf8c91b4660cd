/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a comparison says first: what to buy and what that comes to, a verdict word for each choice,
 * what costs nothing, then what it rests on and what would change it. */
#include "compare_report.h"

#include "air_text.h"
#include "fuel_unit.h"
#include "net_text.h"
#include "winters_text.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define WORDS_MAX 512
#define LIST_MAX 2048

static void join(char list[LIST_MAX], const char *between, const char *words)
{
    const size_t used = strlen(list);
    snprintf(list + used, LIST_MAX - used, "%s%s", used ? between : "", words);
}

/* Net savings of a choice, "$7,620 (-$426 to $19,500) net over 10 years at $1.85/gal". */
static const char *net_of(char words[WORDS_MAX], const struct th_comparison *c, int i)
{
    const struct th_room *room = c->base->room;
    char net[TH_NET_MAX];
    snprintf(words, WORDS_MAX, "%s net over %d years at $%.2f/%s",
             th_net_words(net, &c->money[i].today.net), room->money.years, room->fuel.price,
             th_fuel_unit(&room->fuel)->unit);
    return words;
}

/* Why the choice with the highest net savings is no yes. */
static const char *but(enum th_verdict verdict)
{
    static const char *const words[] = {
        [TH_VERDICT_NOT_COMPARABLE] = "but it cannot be compared",
        [TH_VERDICT_SHORT_OF_HEAT] = "but the heaters are then too small",
        [TH_VERDICT_SHORT_OF_AIR] = "but as it is set it leaves the pigs too little air",
        [TH_VERDICT_COLDER] = "but the pigs then lie colder",
        [TH_VERDICT_NO_DIFFERENCE] = "too little to tell",
        [TH_VERDICT_SETTINGS_FIRST] = "but better settings of the present heaters come first",
        [TH_VERDICT_DEPENDS] = "but whether it pays changes within what is not known",
        [TH_VERDICT_YES] = "a yes",
        [TH_VERDICT_NO] = "so it does not pay"};
    return words[verdict];
}

/* The yes with the highest net savings, or -1; the names of all. */
static int best_yes(const struct th_comparison *c, char names[LIST_MAX])
{
    int best = -1;
    names[0] = '\0';
    for (int i = 0; i < c->n; i++) {
        if (c->money[i].verdict != TH_VERDICT_YES)
            continue;
        join(names, ", ", c->choices[i].buy.name);
        if (best < 0 || c->money[i].today.net.usd > c->money[best].today.net.usd)
            best = i;
    }
    return best;
}

static void say_buy(struct th_report *report, const struct th_comparison *c)
{
    const char *barn = c->base->room->name;
    char names[LIST_MAX], net[WORDS_MAX];
    const int yes = best_yes(c, names);
    if (yes >= 0)
        th_report_top_line(report, "%s: yes to %s. %s comes to %s.", barn, names,
                           c->choices[yes].buy.name, net_of(net, c, yes));
    else if (c->results[c->best + 1].refused[0])
        th_report_top_line(report, "%s: none of these is a yes as the barn stands.", barn);
    else
        th_report_top_line(
            report,
            "%s: none of these is a yes as the barn stands. Of %s %s comes to most, %s, %s.", barn,
            th_verdict_harmless(c->money[c->best].verdict) ? "those that leave the pigs as well off"
                                                           : "them",
            c->choices[c->best].buy.name, net_of(net, c, c->best), but(c->money[c->best].verdict));
}

/* The harmless choice that saves most fuel, or -1. */
static int most_saved(const struct th_comparison *c)
{
    int most = -1;
    for (int i = 0; i < c->n; i++) {
        const struct th_choice_result *r = &c->results[i + 1];
        if (r->refused[0] || r->harm != TH_HARM_NONE)
            continue;
        if (most < 0 || th_comparison_choice_units(c, i, th_judged(r)) <
                            th_comparison_choice_units(c, most, th_judged(&c->results[most + 1])))
            most = i;
    }
    return most;
}

/* In fuel alone, without a price. */
static void say_fuel(struct th_report *report, const struct th_comparison *c)
{
    const struct th_room *room = c->base->room;
    const char *unit = th_fuel_unit(&room->fuel)->unit;
    const double to_units = room->copies / room->fuel.hhv_j;
    const int most = most_saved(c);
    char saved[TH_SHOWN_MAX], low[TH_SHOWN_MAX], high[TH_SHOWN_MAX];
    double low_j, high_j;
    if (c->n == 0) {
        th_report_top_line(report, "%s: no choices are given to compare.", room->name);
    } else if (most < 0) {
        th_report_top_line(report,
                           "%s: the pigs would be worse off with each of these, whatever it saves.",
                           room->name);
    } else {
        th_compared_range(&c->results[most + 1], &low_j, &high_j);
        th_report_top_line(
            report,
            "%s: %s saves most, about %s %s in a mean season (%s to %s). Whether it pays "
            "takes a fuel price.",
            room->name, c->choices[most].buy.name,
            th_show(
                saved,
                th_number(th_comparison_units(c, &c->results[0].trial) -
                          th_comparison_choice_units(c, most, th_judged(&c->results[most + 1]))),
                TH_SIG2),
            unit, th_show(low, th_number(to_units * low_j), TH_SIG2),
            th_show(high, th_number(to_units * high_j), TH_SIG2));
    }
}

/* A word for each choice; with the air held its own where that was looked at. */
static void say_words(struct th_report *report, const struct th_comparison *c,
                      const struct th_comparison *held)
{
    char list[LIST_MAX] = "", one[WORDS_MAX];
    for (int i = 0; i < c->n; i++) {
        const bool other = held && c->results[i + 1].harm == TH_HARM_AIR;
        if (!th_compared_is_judged(c, i))
            continue;
        snprintf(one, sizeof one, "%s: %s%s%s%s", c->choices[i].buy.name,
                 th_verdict_phrase(c->money[i].verdict), other ? " (with the air held " : "",
                 other ? th_verdict_phrase(held->money[i].verdict) : "", other ? ")" : "");
        join(list, "; ", one);
    }
    if (list[0])
        th_report_top_line(report, "One by one: %s.", list);
}

/* Air that the heaters there cannot warm: advice to move it would chill the pigs. */
static void say_air_unheated(struct th_report *report, const struct th_comparison *c)
{
    const struct th_held_air *h = &c->held_air;
    char needed[TH_SHOWN_MAX], installed[TH_SHOWN_MAX], vented[TH_SHOWN_MAX] = "",
                                                        ceilings[TH_CEILINGS_MAX];
    if (h->vented_w > 0.0 && h->vented_w < h->needed_w)
        th_show_with_unit(vented, th_number(h->vented_w / TH_W_PER_BTUH), TH_SIG3, "Btu/h");
    th_report_top_line(
        report,
        "Mend the air first, but not with these heaters: fans that hold %s take %s of heater input "
        "on the design day, %s are installed, and the room would fall to %.0f °F. Measure CO2 on a "
        "cold night%s%s.",
        th_ceilings_words(ceilings, &c->base->room->air),
        th_show_with_unit(needed, th_number(h->needed_w / TH_W_PER_BTUH), TH_SIG3, "Btu/h"),
        th_show(installed, th_number(h->installed_w / TH_W_PER_BTUH), TH_SIG3),
        th_f_from_c(h->lowest_c), vented[0] ? "; vented heaters would take " : "", vented);
}

/* What to do before buying: mend the air, or set the present heaters better. */
static void say_first(struct th_report *report, const struct th_comparison *c,
                      const struct th_comparison *held)
{
    const struct th_room *room = c->base->room;
    const char *unit = th_fuel_unit(&room->fuel)->unit;
    const double more = room->copies * c->cost_j[TH_COST_CEILINGS] / room->fuel.hhv_j;
    const double saved = th_comparison_units(c, &c->results[0].trial) -
                         th_comparison_units(c, th_judged(c->free_result));
    char gas[TH_SHOWN_MAX], ceilings[TH_CEILINGS_MAX];
    if (held && !th_held_air_heated(&c->held_air))
        say_air_unheated(report, c);
    else if (held)
        th_report_top_line(report,
                           "Mend the air first: fans that hold %s burn about %s more a season in "
                           "the barn as it is, and only then is less heat blown out a saving.",
                           th_ceilings_words(ceilings, &room->air),
                           th_show_with_unit(gas, th_number(more), TH_SIG2, unit));
    else if (c->free.found && saved > 0.0 &&
             !th_no_difference(th_comparison_units(c, &c->results[0].trial), saved, INFINITY))
        th_report_top_line(
            report,
            "For nothing: OFF %.1f and ON %.1f °F below set point, %d heaters lit%s, saves about "
            "%s in a mean season with the room as warm as today.",
            c->free.off_k / TH_K_PER_F, c->free.on_k / TH_K_PER_F, c->free.units,
            c->free.lead_lag ? " one after the other" : "",
            th_show_with_unit(gas, th_number(saved), TH_SIG2, unit));
}

void th_compare_answer(struct th_report *report, const struct th_comparison *c,
                       const struct th_comparison *held)
{
    if (c->has_money)
        say_buy(report, c);
    else
        say_fuel(report, c);
    say_words(report, c, held);
    say_first(report, c, held);
}

void th_compare_rests(struct th_report *report, const struct th_case *cases, int n)
{
    const struct th_room *room = cases[0].room;
    char names[TH_WINTER_NAMES_MAX], price[64] = "no fuel price";
    const int winters = th_winter_names(&cases[0], names);
    bool measured = true;
    for (int i = 0; i < n; i++)
        measured &= cases[i].room->response.has_overshoot;
    if (room->fuel.has_price)
        snprintf(price, sizeof price, "$%.2f/%s", room->fuel.price,
                 th_fuel_unit(&room->fuel)->unit);
    th_report_top_line(
        report,
        "It rests on %d %swinter%s, %s and how far the room coasts past the OFF point "
        "(overshoot), which %s.",
        winters, th_climate_generated(cases[0].climate) ? "generated " : "",
        winters == 1 ? "" : "s", price, measured ? "was measured" : "is assumed here");
    if (measured)
        th_report_top_line(report, "Another price would change it most: the tables say from which "
                                   "price on each choice pays.");
    else
        th_report_top_line(report, "Measuring the overshoot on a cold day would change it most: "
                                   "turnheat compare --sheet says how.");
}

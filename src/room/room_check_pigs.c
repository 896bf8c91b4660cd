/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pigs, their set points and their turns. */
#include "room_check.h"

#include "turnheat/calendar.h"
#include "turnheat/herd.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

/* Floor of a pig, m² per kg^(2/3). With less than LYING not all can lie down at once, even on their
   bellies (Petherick and Baxter 1981); STANDING is not much more than they stand on (our
   judgement). Below GROWING they grow less (Gonyou and others 2006, fully slatted floors). Both
   from memory. Common stocking lies between TIGHT and that (common practice, no source; the least
   floor of EU directive 2008/120 is 0.028) and is not remarked on. */
static const double STANDING_M2_KG23 = 0.015;
static const double LYING_M2_KG23 = 0.019;
static const double TIGHT_M2_KG23 = 0.030;
static const double GROWING_M2_KG23 = 0.0336;
/* Pig heat equations are meant for 5…140 kg (CIGR 2002, with our continuation). */
static const double HEAVIEST_KG = 140.0;

/* A turn may be placed on 29 February; in other years that is the 28th. */
static const int LEAP_YEAR = 2000;
static const double DAYS_A_YEAR = 365.0;
/* A wash and some days to dry take one or two weeks; into more than six another turn, of a nursery,
 * would fit. */
#define EMPTY_WINTER_DAYS 42.0

static double mass_on(const struct th_pigs *pigs, const struct th_turn_plan *turn, int day)
{
    if (pigs->growth == TH_GROWTH_BY_DAY)
        return th_table_at(&pigs->weight_kg, day);
    return th_herd_gompertz_kg(th_herd_gompertz_day(turn->weight_kg) + day);
}

static double head_on(const struct th_room *room, const struct th_turn_plan *turn, int day)
{
    double head = turn->head * (1.0 - room->pigs.death_share * day / turn->days);
    for (int i = 0; i < turn->n_leaves; i++)
        if (day >= turn->leaves[i].day)
            head *= 1.0 - turn->leaves[i].share;
    return head;
}

static void check_floor(const struct th_room *room, const struct th_turn_plan *turn,
                        const char *section, struct th_findings *f)
{
    double tightest = INFINITY, mass_kg = 0.0, each_m2 = 0.0;
    int tightest_day = 0;
    for (int day = 0; day < turn->days; day++) {
        const double mass = mass_on(&room->pigs, turn, day);
        const double each = room->shell.floor_m2 / head_on(room, turn, day);
        if (each / cbrt(mass * mass) < tightest) {
            tightest = each / cbrt(mass * mass);
            tightest_day = day;
            mass_kg = mass;
            each_m2 = each;
        }
    }
    const double each_ft2 = each_m2 / TH_M2_PER_FT2, mass_lb = mass_kg / TH_KG_PER_LB;
    const double of_k_ft2 = cbrt(mass_kg * mass_kg) / TH_M2_PER_FT2;
    if (tightest < STANDING_M2_KG23)
        th_find_error(
            f, section, "head",
            "on day %d pigs of %.0f lb would have %.1f ft² each: they do not fit, and need "
            "%.1f ft² to lie down; expected fewer pigs (head) or a larger room (length, "
            "width)",
            tightest_day, mass_lb, each_ft2, LYING_M2_KG23 * of_k_ft2);
    else if (tightest < LYING_M2_KG23)
        th_find_warning(f, section, "head",
                        "on day %d pigs of %.0f lb have %.1f ft² each: below %.1f ft² not all can "
                        "lie down at once, and no barn should be run so; are head, length, width, "
                        "days and split-out right?",
                        tightest_day, mass_lb, each_ft2, LYING_M2_KG23 * of_k_ft2);
    else if (tightest < TIGHT_M2_KG23)
        th_find_warning(f, section, "head",
                        "on day %d pigs of %.0f lb have %.1f ft² each, which is tight: below %.1f "
                        "ft² they grow less; are head, days and split-out right?",
                        tightest_day, mass_lb, each_ft2, GROWING_M2_KG23 * of_k_ft2);
}

/* Pigs come from weaning or from a nursery; weights between are often pounds taken for kilograms
 * (common practice, no source). */
static const double WEANED_LB = 20.0;
static const double FEEDER_LB = 38.0;

static void check_weights(const struct th_room *room, const struct th_turn_plan *turn,
                          const char *section, struct th_findings *f)
{
    const double start_lb = turn->weight_kg / TH_KG_PER_LB;
    if (start_lb > WEANED_LB && start_lb < FEEDER_LB)
        th_find_warning(f, section, "weight",
                        "pigs of %.3g lb lie between weaned ones (10 to 16 lb) and feeder pigs (40 "
                        "to 70 lb): is %.3g lb meant?",
                        start_lb, turn->weight_kg);
    const double last = mass_on(&room->pigs, turn, turn->days - 1);
    if (last > HEAVIEST_KG)
        th_find_warning(f, section, "days",
                        "pigs reach %.0f lb on the last day: the pig-heat equations are meant for "
                        "up to %.0f lb",
                        last / TH_KG_PER_LB, HEAVIEST_KG / TH_KG_PER_LB);
    const double first = mass_on(&room->pigs, turn, 0);
    if (room->pigs.growth == TH_GROWTH_BY_DAY && fabs(first / turn->weight_kg - 1.0) > 0.2)
        th_find_warning(f, section, "weight",
                        "the growth table starts at %.1f lb, but pigs are placed at %.1f lb",
                        first / TH_KG_PER_LB, turn->weight_kg / TH_KG_PER_LB);
}

static bool leaves_fit(const struct th_turn_plan *turn)
{
    if (turn->n_leaves < 0 || turn->n_leaves > TH_LEAVES_MAX)
        return false;
    for (int i = 0; i < turn->n_leaves; i++) {
        const struct th_leave *leave = &turn->leaves[i];
        if (!(leave->day >= 0.0 && leave->day <= turn->days && leave->share >= 0.0 &&
              leave->share <= 1.0))
            return false;
    }
    return true;
}

/* Whether the turn is sound enough to be walked through day by day. */
static bool check_turn(const struct th_room *room, const struct th_turn_plan *turn,
                       const char *section, struct th_findings *f)
{
    bool sound = th_find_ranges(f, section, &th_parameters_turn, turn);
    if (!th_date_valid(LEAP_YEAR, turn->month, turn->day)) {
        th_find_error(f, section, "place", "there is no such day");
        sound = false;
    }
    if (!leaves_fit(turn)) {
        th_find_error(f, section, "leave",
                      "pigs leave on a day outside the turn, or more than all");
        sound = false;
    }
    return sound && (room->pigs.growth != TH_GROWTH_BY_DAY ||
                     th_table_check(&room->pigs.weight_kg, NULL) == TH_OK);
}

static double first_day(const struct th_turn_plan *turn)
{
    const int common_year = 2001;
    const int day = turn->month == 2 && turn->day == 29 ? 28 : turn->day;
    return (double)(th_day_number(common_year, turn->month, day) -
                    th_day_number(common_year, 1, 1));
}

/* Overlap of a's span with b's span `years` later, preheat included. */
static bool overlap(const struct th_turn_plan *a, const struct th_turn_plan *b, int years)
{
    const double shift = DAYS_A_YEAR * years;
    const double a_start = first_day(a) - a->preheat_h / 24.0;
    const double b_start = first_day(b) - b->preheat_h / 24.0 + shift;
    return a_start < first_day(b) + shift + b->days && b_start < first_day(a) + a->days;
}

static void check_overlaps(const struct th_room *room, struct th_findings *f)
{
    for (int i = 0; i < room->n_turns; i++) {
        char section[TH_NAME_MAX + 12];
        snprintf(section, sizeof section, "turn %s", room->turns[i].name);
        if (overlap(&room->turns[i], &room->turns[i], 1))
            th_find_error(f, section, "days", "the turn and its preheat last longer than a year");
        for (int j = 0; j < i; j++)
            for (int years = -1; years <= 1; years++)
                if (overlap(&room->turns[i], &room->turns[j], years)) {
                    th_find_error(f, section, "place",
                                  "the turn overlaps with turn %s (preheat included)",
                                  room->turns[j].name);
                    break;
                }
    }
}

/* Most days of one winter, November to March, in the span `from` up to `to`, both counted from a
 * Jan 1. */
static double winter_days(double from, double to)
{
    const double first = 304.0, days = 151.0; /* Nov 1, to Mar 31 */
    double most = 0.0;
    for (int years = -1; years <= 2; years++) {
        const double start = first + DAYS_A_YEAR * years;
        most = fmax(most, fmin(to, start + days) - fmax(from, start));
    }
    return most;
}

static struct th_date date_of(double day)
{
    return th_date_of(th_day_number(2001, 1, 1) + lround(fmod(day, DAYS_A_YEAR)));
}

/* The day on which the first turn is placed that begins on `day` or later. */
static double next_placed(const struct th_room *room, double day)
{
    double next = INFINITY;
    for (int i = 0; i < room->n_turns; i++) {
        const double on = first_day(&room->turns[i]);
        next = fmin(next, on + DAYS_A_YEAR * fmax(0.0, ceil((day - on) / DAYS_A_YEAR)));
    }
    return next;
}

/* A room that stands empty for long in winter is mostly a turn forgotten. */
static void check_empty(const struct th_room *room, struct th_findings *f)
{
    for (int i = 0; i < room->n_turns; i++) {
        const struct th_turn_plan *const turn = &room->turns[i];
        const double leaves = first_day(turn) + turn->days, next = next_placed(room, leaves);
        const double empty = winter_days(leaves, next);
        if (empty <= EMPTY_WINTER_DAYS)
            continue;
        char section[TH_NAME_MAX + 12];
        const struct th_date from = date_of(leaves), to = date_of(next);
        snprintf(section, sizeof section, "turn %s", turn->name);
        th_find_warning(f, section, "days",
                        "the room stands empty from %s %d to %s %d, %.0f weeks of it in winter: is "
                        "that so? If pigs are in it then, add their turn, or its gas is missing",
                        th_month_name(from.month - 1), from.day, th_month_name(to.month - 1),
                        to.day, floor(empty / 7.0));
    }
}

void th_check_turns(const struct th_room *room, struct th_findings *f)
{
    if (room->n_turns < 1)
        th_find_error(f, "room", "", "the room has no turn: add [turn winter]");
    bool sound = true;
    for (int i = 0; i < room->n_turns; i++) {
        const struct th_turn_plan *turn = &room->turns[i];
        char section[TH_NAME_MAX + 12];
        snprintf(section, sizeof section, "turn %s", turn->name);
        if (!check_turn(room, turn, section, f)) {
            sound = false;
            continue;
        }
        check_floor(room, turn, section, f);
        check_weights(room, turn, section, f);
    }
    if (!sound)
        return;
    check_overlaps(room, f);
    check_empty(room, f);
}

static void check_temperatures(const struct th_table *table, const char *key, const char *what,
                               struct th_findings *f)
{
    struct th_error err;
    if (th_table_check(table, &err) != TH_OK)
        th_find_error(f, "setpoints", key, "%s", err.text);
    for (int i = 0; i < table->n && i < TH_TABLE_MAX; i++)
        if (!(table->y[i] >= 0.0 && table->y[i] <= 45.0)) {
            th_find_error(f, "setpoints", key,
                          "a %s of %.0f °F cannot be meant; expected 32 °F to 113 °F", what,
                          th_f_from_c(table->y[i]));
            return;
        }
}

void th_check_pigs(const struct th_room *room, struct th_findings *f)
{
    const struct th_pigs *pigs = &room->pigs;
    struct th_error err;
    if (pigs->growth == TH_GROWTH_BY_DAY && th_table_check(&pigs->weight_kg, &err) != TH_OK)
        th_find_error(f, "pigs", "growth_table", "%s", err.text);
    check_temperatures(&room->setpoints.set_c, "table", "set point", f);
    check_temperatures(&room->setpoints.comfort_c, "comfort_table", "comfort limit", f);
}

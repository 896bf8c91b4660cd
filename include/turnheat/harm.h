/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What may be said of a change to a barn. Pigs come first: a change that leaves them colder, short
 * of heat or short of air is never called a saving, whatever it is worth. The limits are our
 * judgement.
 */
#ifndef TURNHEAT_HARM_H
#define TURNHEAT_HARM_H

#include "turnheat/season.h"

/** So many hours more in which heaters cannot keep up are no harm in themselves. */
#define TH_HARM_UNMET_H 2.0

/** What a change does to the pigs; of several the first in this order. */
enum th_harm { TH_HARM_NONE, TH_HARM_HEAT, TH_HARM_AIR, TH_HARM_COLD };

/** What pigs bear in a season: the worst turn, item by item; heaters' want over the season. */
struct th_hardship {
    double unmet_h;  /**< heaters could not keep up, whole season */
    double co2_h;    /**< above the CO₂ design ceiling */
    double worker_h; /**< above the CO₂ limit for people */
    double rh_h;     /**< above the humidity ceiling */
    double young_kh; /**< K h below the comfort limit, to day 14 or 25 lb */
    double later_kh; /**< afterwards */
    double deep_h;   /**< hours more than 5 °F below it */
};

/** That of one season. */
struct th_hardship th_hardship_of(const struct th_season *season);

/**
 * What `changed` has more than `base`, item by item, in the winter in which it is most; never less
 * than 0. Both hold the same `n` winters. No mean over winters adds more than the worst of them.
 */
struct th_hardship th_hardship_added(const struct th_hardship *base,
                                     const struct th_hardship *changed, int n);

/**
 * Short of heat, short of air or colder by more than the limits allow: 2 h short of heat, 24 h in a
 * turn over each ceiling, none over the CO₂ limit for people, 1 °F h below comfort with new pigs
 * and 24 afterwards, no hour more than 5 °F below it. Where the barn as it is bears more, nobody in
 * it and no gauge could tell a twentieth of that: each limit is no less than 5 % of `worst`, what
 * the pigs bear today in their worst winter, item by item. A barn that bears none of it keeps the
 * limits above.
 */
enum th_harm th_harm_of(const struct th_hardship *added, const struct th_hardship *worst);

/** The most of each item in any of `n` winters. */
struct th_hardship th_hardship_worst(const struct th_hardship *winters, int n);

/** What `changed` does beside `base`, as th_harm_of(); `added` gets th_hardship_added(). */
enum th_harm th_harm_between(const struct th_hardship *base, const struct th_hardship *changed,
                             int n, struct th_hardship *added);

/** Whether the heaters of `changed` fall below its design need `most_w` while today's (`base`,
 * `base_most_w`) meet theirs or fall less short: the larger of the needs with pigs and before they
 * come, as th_sizing_run() finds it. */
bool th_heaters_fall_short(const struct th_room *base, double base_most_w,
                           const struct th_room *changed, double most_w);

/**
 * Why `changed` cannot stand beside `base`: it lowers minimum or burner air, moves a ceiling or the
 * comfort limit by which both are judged, or changes the pigs, their turns, the place, the
 * calibration, money or the number of rooms, which no heater can. NULL when nothing forbids it.
 */
const char *th_change_refused(const struct th_room *base, const struct th_room *changed);

/**
 * Whether `changed` differs from `base` in what heats it and switches the heat: heaters, zone heat,
 * set points, how fast the room answers, the first fan stage, ceilings held. Only such a change
 * shifts how warm a room is at its settings; insulation, leakage or another fuel leave the
 * thermostat's work as it was, and both are compared as they are set.
 */
bool th_change_of_heating(const struct th_room *base, const struct th_room *changed);

#endif

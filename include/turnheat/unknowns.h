/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What is not known of a barn: one table says which numbers are uncertain, how far, and whose they
 * are. A deviate z is standard normal, cut at ± TH_UNKNOWN_CUT_SD; 0 is the barn file's own value,
 * ± TH_UNKNOWN_EDGE_SD the ends of the band, so that a band is the middle 90 % of a split normal
 * whose median is the default. Leakage and response move in logarithms. The bands are judgement
 * where no source stands beside them; deviates are taken as independent (judgement).
 */
#ifndef TURNHEAT_UNKNOWNS_H
#define TURNHEAT_UNKNOWNS_H

#include "turnheat/room.h"

enum th_unknown {
    TH_UNKNOWN_SENSIBLE,  /**< share of pig heat felt as warmth: ± 0.10 (CIGR 2002) */
    TH_UNKNOWN_PIG_HEAT,  /**< total heat of the pigs: ± 10 % (CIGR 2002, from memory) */
    TH_UNKNOWN_ACTIVITY,  /**< day-night activity: 0 … 0.43 (CIGR 2002, from memory) */
    TH_UNKNOWN_AIR,       /**< minimum air: ± 25 %, given ± 10 %; the fan floor where not given */
    TH_UNKNOWN_SET_POINT, /**< ± 2 °F to 30 lb, −8 … +5 °F from 75 lb; given ± 1 °F */
    TH_UNKNOWN_UA,        /**< heat through the shell: ± 10 % */
    TH_UNKNOWN_LEAKAGE,   /**< half … twice, measured ± 25 % */
    TH_UNKNOWN_RESPONSE,  /**< dead time over capacity: half … twice, measured ± 25 % */
    TH_UNKNOWNS
};

/** Whose a number is: barns of one scope are off together. */
enum th_scope {
    TH_SCOPE_ALL,  /**< of pigs as such */
    TH_SCOPE_FARM, /**< of how one farm runs its barns */
    TH_SCOPE_BARN  /**< of one barn; its copies share it */
};

/** Beyond this a deviate is cut. */
#define TH_UNKNOWN_CUT_SD 2.5
/** Ends of a band: the 5th and 95th percentile of a standard normal. */
#define TH_UNKNOWN_EDGE_SD 1.6448536269514722

/** Plain name of a number. */
const char *th_unknown_text(enum th_unknown unknown);

/** Whose the number is. */
enum th_scope th_unknown_scope(enum th_unknown unknown);

/** Whether the number was given for `room`, so that the narrower band holds. */
bool th_unknown_is_given(const struct th_room *room, enum th_unknown unknown);

/** The band in words: "half to twice", "-10 % to +10 %". */
const char *th_unknown_band(const struct th_room *room, enum th_unknown unknown);

/**
 * Moves one number of `room` to deviate `z` (cut at ± TH_UNKNOWN_CUT_SD). Comfort limits stay; the
 * zone's drop and the setback hang on the set point and move with it.
 */
void th_unknown_move(struct th_room *room, enum th_unknown unknown, double z);

/** Moves all numbers. */
void th_unknowns_move(struct th_room *room, const double z[TH_UNKNOWNS]);

/**
 * How far each number is moved, in units of what z = 1 moves it: z itself, but for z < 0 of a band
 * that reaches further on one side. What a number does to the gallons is smooth in this.
 */
void th_unknowns_reach(const struct th_room *room, const double z[TH_UNKNOWNS],
                       double reach[TH_UNKNOWNS]);

/** Deviate of a probability 0…1: the inverse of the standard normal cut at ± TH_UNKNOWN_CUT_SD. */
double th_unknown_deviate(double probability);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Heater choices for one room over the same winters: at the same settings, at the same mean
 * temperature, over the range of what is not known about the room's response, and the choice that
 * costs nothing: other settings of the heaters already there.
 */
#ifndef TURNHEAT_COMPARE_H
#define TURNHEAT_COMPARE_H

#include "turnheat/case.h"
#include "turnheat/farms.h"
#include "turnheat/held_air.h"
#include "turnheat/payback.h"
#include "turnheat/runs.h"
#include "turnheat/study.h"
#include "turnheat/variant.h"

#define TH_REFUSED_MAX 240

/** What is made equal before gas is compared, over the hours in which the base fires. */
enum th_warmth {
    TH_BY_MEAN,   /**< the mean of the room temperature */
    TH_BY_TROUGH, /**< the mean of the low of its swing, hours short of heat left out */
    TH_WARMTHS,
    TH_AS_SET = TH_WARMTHS /**< nothing: the same settings */
};

/** A choice whose ON and OFF are moved until it is as warm as the base; only where it is
 * th_change_of_heating(). */
struct th_as_warm {
    const char *why_not; /**< no shift does it, and why; NULL: found */
    double shift_k;      /**< added to ON and OFF */
    struct th_trial trial;
};

/** One choice against the base. */
struct th_choice_result {
    char refused[TH_REFUSED_MAX]; /**< why it cannot be compared; "" when it can */
    struct th_trial trial;        /**< same settings */
    struct th_as_warm as_warm[TH_WARMTHS];
    /** The same mean, or TH_AS_SET where it cannot be had; the same trough where that burns more.
     */
    enum th_warmth judged_by;
    /** Base less choice, mean season, J, judged alike in every response case. */
    double saved_j[TH_RESPONSE_CASES];
    double shift_k[TH_RESPONSE_CASES]; /**< of ON and OFF in each */
    double installed_w, most_w; /**< gas input of its heaters, and what the design day asks of it */
    bool falls_short;           /**< its heaters fall below the design need */
    enum th_harm harm;          /**< what it does to the pigs, as felt */
    struct th_hardship added;   /**< by how much, in the worst winter */
};

/** The trial whose gas and dollars count. */
const struct th_trial *th_judged(const struct th_choice_result *result);

/** The shift of ON and OFF in it. */
double th_judged_shift_k(const struct th_choice_result *result);

/** The trial that says what the pigs feel: at the same mean, or as it is set where that cannot be
 * had. */
const struct th_trial *th_felt(const struct th_choice_result *result);

/**
 * Compares `rooms[1] … rooms[n-1]` with `rooms[0]`, the barn as it is, whose trial stands in
 * results[0] already; the other results go to the same places. One that is `refused` already is not
 * run, and one that cannot be run is refused with its error; the others stand. The range of
 * responses and the shifts are found on th_trial_block() of the base. Errors as th_runs_trial() for
 * the base, TH_ERR_BALANCE, TH_ERR_MEMORY and TH_ERR_CANCELLED.
 */
enum th_code th_compare_run(struct th_runs *runs, const struct th_room *rooms, int n,
                            const struct th_climate *climate, int first_year, int last_year,
                            struct th_choice_result *results, struct th_error *err);

/** Settings alone: what the present heaters could do for nothing. */
struct th_free_choice {
    bool found;         /**< false: the present settings are the best of those tried, or what was
                             found harms */
    enum th_harm harm;  /**< in a comparison: what the best of those tried would do; it is then no
                             yardstick and no advice */
    double off_k;       /**< OFF offset */
    double on_k;        /**< ON offset, the differential kept */
    bool lead_lag;      /**< units one after the other */
    int units;          /**< lit, of the first heater group */
    bool one_out_holds; /**< what is lit holds the design day with one unit out, as in sizing.h */
    struct th_room room;
};

/**
 * Looks for settings of the present on/off heaters (OFF offset 0 to 4 °F, lead-lag, fewer units
 * lit) that burn least in the season of `year` without more hours below the comfort limit than
 * today and without missing the 99 % day with one unit out. `design_out_c` is that day's
 * temperature. Errors as th_runs_trial().
 */
enum th_code th_free_choice_find(struct th_runs *runs, const struct th_room *room,
                                 const struct th_climate *climate, int year, double design_out_c,
                                 struct th_free_choice *choice, struct th_error *err);

/**
 * Gas of a mean season, J, that each costs (fan floor and pilots) or would cost (the others), over
 * the winters of `one`, in `room`, which burns `mean_j` in a mean one (costs.h); `held` gets what
 * holding both ceilings asks of its heaters. Errors as th_held_air_read().
 */
enum th_code th_costs_run(struct th_runs *runs, const struct th_case *one,
                          const struct th_room *room, double mean_j, double cost_j[TH_COST_COUNT],
                          struct th_held_air *held, struct th_error *err);

#define TH_CHOICES_MAX 12

/** A choice to compare with the barn as it is. */
struct th_choice {
    struct th_purchase buy;
    struct th_room room; /**< the barn with the choice made */
};

/** Net savings, $, over the study. */
struct th_net {
    double
        usd; /**< as the file has the barn; where something was learnt of it, of the middle farm */
    bool drawn; /**< over farms; else low and high are those of the response cases */
    double low_usd, middle_usd, high_usd; /**< the 10th, 50th and 90th percent of the farms */
    double case_low_usd, case_high_usd;   /**< the least and most over the response cases */
};

/** A choice in dollars against something else. */
struct th_choice_return {
    struct th_return payback; /**< as the file has the barn */
    double scrapped_usd; /**< net savings if nothing bought is worth anything after the study */
    double chance;       /**< share of farms and prices in which it pays; 0 unless net.drawn */
    struct th_net net;
};

/** What is concluded: the first that holds. The first four are never a saving, whatever they pay.
 */
enum th_verdict {
    TH_VERDICT_NOT_COMPARABLE,
    TH_VERDICT_SHORT_OF_HEAT,
    TH_VERDICT_SHORT_OF_AIR,
    TH_VERDICT_COLDER,
    TH_VERDICT_NO_DIFFERENCE,  /**< under 1 % of the fuel bill, or $50 net */
    TH_VERDICT_SETTINGS_FIRST, /**< pays against today, not against the free choice */
    TH_VERDICT_DEPENDS,        /**< the sign of the net savings changes among the farms, with the
                                  response, or with what is left of its worth */
    TH_VERDICT_YES,
    TH_VERDICT_NO
};

/** Whether a change is too small to name: under 1 % of the fuel bill, or under $50 net over the
 * years looked at. Units of fuel (common practice, no source). */
bool th_no_difference(double now_units, double saved_units, double net_usd);

/** Word for machines: "not_comparable", "short_of_heat" … "yes", "no". */
const char *th_verdict_word(enum th_verdict verdict);

/** Whether pigs are no worse off, so that dollars may speak. */
bool th_verdict_harmless(enum th_verdict verdict);

/** A choice in dollars. */
struct th_choice_money {
    struct th_choice_return today;    /**< against the barn as it is */
    struct th_choice_return settings; /**< against the free choice, both at the same mean; against
                                           today where there is none */
    enum th_verdict verdict;
};

#define TH_FLIP_PRICES 5
#define TH_FLIP_LEAKS 4

/** Net savings of one choice by fuel price and tightness of the barn. */
struct th_flips {
    double price_usd[TH_FLIP_PRICES]; /**< per unit sold, 0.6 to 1.7 times today's */
    double leak[TH_FLIP_LEAKS];       /**< times the leakage: a quarter to twice */
    double net_usd[TH_FLIP_LEAKS][TH_FLIP_PRICES];
};

#define TH_CURVE_PRICES 9

/** Net savings against the barn as it is, over the price of fuel. */
struct th_price_curve {
    double price_usd[TH_CURVE_PRICES]; /**< half to twice today's */
    double net_usd[TH_CURVE_PRICES][TH_CHOICES_MAX];
};

#define TH_ZONE_STEPS 8

/** What a choice with zone heat saves by the number of its units. */
struct th_zone_curve {
    bool run;                          /**< false: the choice adds no zone heat */
    double units[TH_ZONE_STEPS];       /**< in a room, an eighth of all to all */
    double saved_units[TH_ZONE_STEPS]; /**< of fuel, all copies, mean season */
    double best_units;                 /**< that saves most; 0: none saves */
    double lost_at_units;              /**< first that saves nothing; 0: all save */
};

/** The base, the choices, the free choice. */
#define TH_COMPARED_MAX (TH_CHOICES_MAX + 2)

/** Everything computed for one comparison. Borrows the barn and the choices. */
struct th_comparison {
    const struct th_case *base;
    struct th_case middle; /**< with the air held: `base` in the winter nearest the mean */
    const struct th_choice *choices;
    int n;
    const struct th_farms *farms;          /**< NULL: none were drawn */
    struct th_room rooms[TH_COMPARED_MAX]; /**< as they are run */
    struct th_choice_result results[TH_COMPARED_MAX];
    struct th_block block; /**< on which ranges, leaks and zone units are run */
    double design_out_c;   /**< 99 % design temperature used for the free choice */
    struct th_free_choice free;
    const struct th_choice_result *free_result; /**< the base's own without a free choice */
    double cost_j[TH_COST_COUNT];
    struct th_held_air held_air; /**< what holding both ceilings asks of the heaters there */
    struct th_zone_curve zone[TH_CHOICES_MAX];
    /* With choices and a fuel price only: */
    bool has_money;
    struct th_choice_money money[TH_CHOICES_MAX];
    double joint_error;    /**< of the surfaces, of gas, cross-validated; 0 without farms */
    int best;              /**< the choice with the highest net savings */
    struct th_flips flips; /**< of it */
    struct th_price_curve curve;
};

/**
 * Compares `n` ≤ TH_CHOICES_MAX choices with the barn as it is. `design_out_c` is the 99 % design
 * temperature, `farms` the farms the barn may be (NULL: ranges are those of the response cases
 * alone). A choice that cannot be run is refused with its error. TH_ERR_INPUT with more
 * choices; otherwise as th_runs_trial(), th_sizing_run(), th_beside_init(), th_payback_compare().
 */
enum th_code th_comparison_run(struct th_comparison *comparison, struct th_runs *runs,
                               const struct th_case *base, const struct th_choice *choices, int n,
                               double design_out_c, const struct th_farms *farms,
                               struct th_error *err);

/** The choices and their verdicts alone: no costs, zone curves, flips or price curve. Likewise. */
enum th_code th_comparison_weigh(struct th_comparison *comparison, struct th_runs *runs,
                                 const struct th_case *base, const struct th_choice *choices, int n,
                                 double design_out_c, const struct th_farms *farms,
                                 struct th_error *err);

/** Whether a choice, or the free choice, leaves too little air in a barn whose fans do not hold
 * both ceilings already. */
bool th_comparison_air_decides(const struct th_comparison *comparison);

/**
 * The heater question apart from the air: the choices that leave too little of it (the others are
 * refused) with humidity and CO₂ held under their ceilings by the fans on both sides, as
 * `hold_humidity` and `hold_co2` do, in the winter nearest the mean, since such hours take long;
 * without farms, costs, zone curves, flips and price curve. `held` may not be moved afterwards.
 * Errors as th_comparison_run().
 */
enum th_code th_comparison_hold_air(struct th_comparison *held,
                                    const struct th_comparison *comparison, struct th_runs *runs,
                                    struct th_error *err);

/** Gas of choice `i` in `trial`, all copies, mean season, in units of today's fuel that cost as
 * much: a choice may burn another fuel or at another price. */
double th_comparison_choice_units(const struct th_comparison *comparison, int i,
                                  const struct th_trial *trial);

/** Gas of `trial` in units sold, all copies of the room, mean season. */
double th_comparison_units(const struct th_comparison *comparison, const struct th_trial *trial);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What a room needs, whole: heat by design day and age, heaters, gas, air, power, dry surfaces. */
#ifndef TURNHEAT_SIZE_H
#define TURNHEAT_SIZE_H

#include "turnheat/design.h"
#include "turnheat/drip.h"
#include "turnheat/sizing.h"

/** Recommended ratio of installed to needed: common practice, no source. */
#define TH_SIZE_RATIO_LOW 1.15
#define TH_SIZE_RATIO_HIGH 1.25
/** Largest unvented input per volume, Btu/h per ft³: Ontario clause 7.36.1. */
#define TH_SIZE_UNVENTED_BTUH_FT3 20.0
/** Air of small fans per watt, cfm: our judgement. */
#define TH_SIZE_FAN_CFM_W 12.0

#define TH_SIZE_NEEDS_MAX 5
#define TH_SIZE_DAYS_MAX 366
#define TH_SIZE_TANKS 3

/** What the room needs at one design temperature. */
struct th_size_need {
    enum th_design_from from;
    bool at_996;             /**< the 99.6 % day, else the 99 % day or dates */
    struct th_sizing sizing; /**< its worst day */
};

/** One day of the first turn on the first design day. */
struct th_size_day {
    double mass_kg, set_c;
    double fan_m3_s; /**< minimum air */
    double inlet_m2; /**< opening for it at 800 ft/min */
    double load_99_w;
    double load_996_w; /**< 0 where no 99.6 % temperature is known */
};

/** Tanks of one size, 30 % full on the first design day. */
struct th_size_tank {
    double capacity_gal;
    double vapour_w; /**< of one */
    int count;       /**< for all burners; 0: it makes no vapour */
};

#define TH_SIZE_CHOICES_MAX 7

/** Heaters of so many units of one size. */
struct th_size_choice {
    int units;
    double unit_w;     /**< gas input rating of one */
    double ratio;      /**< what all give here over what heaters must hold */
    double one_out;    /**< the same with one unit out */
    double load_share; /**< mean fire over the turns of the mean season, of full fire */
    double autumn_all; /**< fire of all together with new pigs and 45 °F outdoors, of full fire */
    double autumn_one; /**< of one unit, the others off; above 1: one is not enough */
};

/** What `th_size_run()` finds. One room, unless copies are named. */
struct th_size {
    struct th_design design;
    int n_needs;
    struct th_size_need needs[TH_SIZE_NEEDS_MAX];
    double installed_w; /**< gas input of the room heaters */
    double heat_w;      /**< heat of it */
    double one_out_w;   /**< gas input with the largest unit out */

    struct th_sizing worst; /**< at the first 99 % temperature: what the verdicts rest on */
    struct th_sizing smooth, classes; /**< the same with either curve of minimum air */
    int units; /**< of the first heater, for 1.15 × what heaters must hold; 0 without heaters */
    double altitude_share; /**< of its rating a burner keeps here */
    double autumn_w;       /**< gas input with new pigs and 45 °F outdoors */
    double season_w;       /**< mean gas input of the room heaters over the turns */
    int n_choices;
    /** As drawn, where there are heaters, then 1 to 6 units of the least size, rounded up to 5,000
     * Btu/h, that gives 1.15 × what heaters must hold; none below 20,000 Btu/h. */
    struct th_size_choice choices[TH_SIZE_CHOICES_MAX];

    double peak_gas_w;                        /**< all burners lit, all copies */
    double line_gas_w;                        /**< of one room */
    double steady_gas_w;                      /**< on the first design day, all copies; no more
                                                 than is installed */
    double enough_gas_w;                      /**< the same of heaters that hold that day */
    struct th_size_tank tanks[TH_SIZE_TANKS]; /**< 500, 1,000 and 1,990 gal; for propane */

    double unvented_w;      /**< input of unvented burners, zone heat with it */
    double unvented_w_m3;   /**< the same per volume */
    bool too_much_unvented; /**< above TH_SIZE_UNVENTED_BTUH_FT3 */
    double burner_air_m3_s; /**< while all of them fire */
    double standby_w;       /**< all fans and blowers, all copies */

    struct th_drip drip; /**< over all seasons asked for */

    int n_days;
    struct th_size_day days[TH_SIZE_DAYS_MAX];

    struct th_tally books; /**< of all steady hours behind it, one room */
};

/**
 * Sizes the room of `one` for its design temperatures, and runs its seasons with the jobs of
 * `runs` to see what drips. Errors as th_design_of(), th_sizing_run() and th_drip_run().
 */
enum th_code th_size_run(const struct th_runs *runs, const struct th_case *one,
                         struct th_size *size, struct th_error *err);

/** Power of all fans and blowers of a room and its copies, W. */
double th_size_standby_w(const struct th_room *room);

/** Gas input of all zone heaters of a room in its first turn, W. */
double th_size_zone_input_w(const struct th_room *room);

#endif

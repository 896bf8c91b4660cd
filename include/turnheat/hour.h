/* SPDX-License-Identifier: GPL-3.0-or-later */
/** One room in one hour: temperature, heaters, gas, moisture and CO₂. */
#ifndef TURNHEAT_HOUR_H
#define TURNHEAT_HOUR_H

#include "turnheat/balance.h"
#include "turnheat/heating.h"

#include <gsl/gsl_roots.h>

/** Brent solvers used as workspace, so that the hours allocate nothing, and where to look first. */
struct th_solvers {
    gsl_root_fsolver *temperature;
    gsl_root_fsolver *flow;
    bool surplus; /**< the hour solved last threw heat out */
};

/** TH_ERR_MEMORY when they cannot be had. th_solvers_finish() allows NULL and a second call. */
enum th_code th_solvers_init(struct th_solvers *solvers, struct th_error *err);
void th_solvers_finish(struct th_solvers *solvers);

/** Molar mass of dry air, kg/mol (ASHRAE Fundamentals 2017, ch. 1). */
#define TH_DRY_AIR_KG_MOL 0.028966

enum th_phase { TH_PREHEAT, TH_GROWING, TH_EMPTY, TH_PHASES };

/** What the hour is asked. */
struct th_hour_in {
    struct th_balance balance; /**< fan_m3_s is the minimum flow; pilots_w is filled in here */
    const struct th_heating *heating;
    enum th_phase phase;
    double set_c;      /**< for this hour */
    double stage_m3_s; /**< first fan stage at full */
    bool heat;         /**< heaters may fire */
};

/** What the hour gives. Means over the hour, W, unless named otherwise. */
struct th_hour_out {
    double
        terms[TH_TERMS]; /**< at the mean temperature; their net is what heaters gave less waste */
    struct th_heating_out heating;
    double room_c, low_c, high_c;
    double feel_c;       /**< mean at pig level, under zone heat */
    double feel_low_c;   /**< the same at the low of the swing */
    double fan_m3_s;     /**< base fan flow after burner air and ceilings */
    double thrown_w;     /**< surplus heat thrown out by the fans, heaters off */
    double dry_air_kg_s; /**< all air leaving, surplus and ramp included */
    double hallway_gas_w;
    double gas_w; /**< everything: heaters, zone, pilots, hallway */
    double water_burners_kg_s, water_pigs_kg_s, water_drying_kg_s;
    double condensed_kg_s;
    double room_w_kg_kg, rh;
    double co2_pigs_mol_s, co2_burners_mol_s, co2_ppm;
    bool heat_wanted, short_of_heat, warm, unreached;
};

/**
 * Solves one hour. Raises the fans above the minimum for unvented burners and, where asked, for the
 * ceilings; never below it. Errors: TH_ERR_MODEL as th_cycle_solve(), TH_ERR_NUMERIC when a root is
 * not found.
 */
enum th_code th_hour_solve(const struct th_hour_in *in, struct th_solvers *solvers,
                           struct th_hour_out *out, struct th_error *err);

#endif

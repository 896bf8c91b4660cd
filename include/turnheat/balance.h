/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The heat, water and CO₂ of one room in one hour as functions of its temperature, everything else
 * held. Every term is W into or out of the room air; their sum, net(T), is the heat the room lacks.
 */
#ifndef TURNHEAT_BALANCE_H
#define TURNHEAT_BALANCE_H

#include "turnheat/air.h"
#include "turnheat/climate.h"
#include "turnheat/heating.h"
#include "turnheat/room.h"
#include "turnheat/schedule.h"

/** Terms of the balance. First what leaves, then what comes in, then what goes with the air. */
enum th_term {
    TH_TERM_SURFACE, /**< four of them, by th_surface_kind */
    TH_TERM_EDGE = TH_TERM_SURFACE + TH_SURFACE_KINDS,
    TH_TERM_AIR,
    TH_TERM_LEAKAGE,
    TH_TERM_MASS,
    TH_TERM_DRYING,
    TH_TERM_PIGS, /**< from here on heat that comes in */
    TH_TERM_ZONE,
    TH_TERM_ZONE_PILOTS,
    TH_TERM_PILOTS,
    TH_TERM_INTERNAL,
    TH_TERM_ZONE_GAS,       /**< W of gas, burners lit */
    TH_TERM_ZONE_PILOT_GAS, /**< W of gas */
    TH_TERM_LATENT,         /**< W of the pigs' latent heat */
    TH_TERM_DRY_AIR,        /**< kg/s dry air leaving, fans and leakage */
    TH_TERM_DRY_FAN,        /**< kg/s of it through the fans */
    TH_TERM_DRY_HALLWAY,    /**< kg/s of that through a heated hallway */
    TH_TERM_INLET_C,        /**< °C of the air entering for the fans */
    TH_TERMS
};

/** What does not change from hour to hour. */
struct th_fabric {
    double ua_w_k[3][TH_SURFACE_KINDS]; /**< by what the surface faces, and kind */
    double loose_w_k[TH_SURFACE_KINDS]; /**< more, facing the attic: loose fill at its rated R */
    bool faces[3];                      /**< whether any surface faces that way */
    double layered_w[TH_SURFACE_KINDS]; /**< more, as air below a ceiling is warmer than the room */
    double attic_plain_w_k;             /**< sums of both towards the attic */
    double attic_loose_w_k;
    double attic_roof_w_k;
    struct th_air_leak leak;
    double edge_w_k;
    double mass_w_k;  /**< effective for an hourly mean, exact for a constant room */
    double mass_keep; /**< share of the mass's distance from the room left after an hour */
    double mass_j_k;
};

/** Everything about one hour except the room's temperature. */
struct th_balance {
    const struct th_room *room;
    const struct th_fabric *fabric;
    const struct th_climate_hour *out;
    const struct th_day *day; /**< NULL without pigs */
    double activity;
    double fan_m3_s;
    double minimum_m3_s; /**< of it the minimum: what is more may come another way; 0 = all */
    double mass_c;       /**< temperature of the mass at the start of the hour */
    double drying_kg_s;  /**< wash water */
    double pilots_w;     /**< heat of lit room-heater pilots */
    double zone_units;   /**< lit this hour, 0 without */
    double internal_w;
    double zone_share;
};

/** Adds up surfaces and mass. The room must have passed th_room_check(). */
void th_fabric_init(struct th_fabric *fabric, const struct th_room *room);

/** Fills all terms at `temp_c`. */
void th_balance_terms(const struct th_balance *balance, double temp_c, double terms[TH_TERMS]);

/** How much more dry air leaves at `temp_c`, kg/s, with the fans at `fan_m3_s` than with the
 * balance's own flow; the water given off is the same. */
double th_balance_more_air(const struct th_balance *balance, double temp_c, double fan_m3_s);

/** Whether more air than the minimum comes straight from outside, past the hallway. */
static inline bool th_balance_surplus_outside(const struct th_balance *balance)
{
    const struct th_air *air = &balance->room->air;
    return air->inlet == TH_INLET_HALLWAY && air->surplus == TH_SURPLUS_OUTSIDE;
}

/** Heat the room lacks, W: what leaves less what comes in, without room heaters. */
static inline double th_balance_net(const double terms[TH_TERMS])
{
    double leaves_w = 0.0, comes_w = 0.0;
    for (int i = TH_TERM_SURFACE; i < TH_TERM_PIGS; i++)
        leaves_w += terms[i];
    for (int i = TH_TERM_PIGS; i <= TH_TERM_INTERNAL; i++)
        comes_w += terms[i];
    return leaves_w - comes_w;
}

/** The same as a function of temperature alone. */
double th_balance_net_at(const struct th_balance *balance, double temp_c);

#endif

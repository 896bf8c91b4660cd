/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What is added up hour by hour. One list names every sum, its machine key, its SI unit and its
 * plain text, so that adding months, turns, rooms and copies is one loop.
 */
#ifndef TURNHEAT_TALLY_H
#define TURNHEAT_TALLY_H

#define TH_TALLY_ITEMS(X)                                                                          \
    X(TH_HOURS, "h", "hours simulated")                                                            \
    /* Heat that leaves the room air, J. */                                                        \
    X(TH_TO_WALLS, "J", "walls")                                                                   \
    X(TH_TO_CEILING, "J", "ceiling")                                                               \
    X(TH_TO_CURTAIN, "J", "curtains")                                                              \
    X(TH_TO_DOORS, "J", "doors and windows")                                                       \
    X(TH_TO_EDGE, "J", "slab edge")                                                                \
    X(TH_TO_AIR, "J", "minimum air")                                                               \
    X(TH_TO_LEAKAGE, "J", "leakage")                                                               \
    X(TH_TO_THROWN, "J", "surplus thrown out by the fans")                                         \
    X(TH_TO_RAMP, "J", "ramp waste: heater heat thrown out by the fans")                           \
    X(TH_TO_MASS, "J", "taken up by floor and building (net)")                                     \
    X(TH_TO_DRYING, "J", "drying spilled and wash water")                                          \
    /* Heat that comes in, J. */                                                                   \
    X(TH_FROM_PIGS, "J", "pigs")                                                                   \
    X(TH_FROM_HEATERS, "J", "room heaters")                                                        \
    X(TH_FROM_ZONE, "J", "zone heat")                                                              \
    X(TH_FROM_PILOTS, "J", "pilots")                                                               \
    X(TH_FROM_BLOWERS, "J", "heater blowers")                                                      \
    X(TH_FROM_INTERNAL, "J", "lights and motors")                                                  \
    /* Gas by higher heating value, J. The first three and the hallway are the total. */           \
    X(TH_GAS_HEATERS, "J", "gas in room heaters, burners lit")                                     \
    X(TH_GAS_ZONE, "J", "gas in zone heat")                                                        \
    X(TH_GAS_PILOTS, "J", "gas in pilots, burners off")                                            \
    X(TH_GAS_HALLWAY, "J", "gas for the hallway")                                                  \
    X(TH_GAS_HALLWAY_SURPLUS, "J", "of the hallway's gas: while the room throws heat out")         \
    X(TH_GAS_RAMP, "J", "of the room heaters' gas: ramp waste")                                    \
    X(TH_ZONE_SURPLUS, "J", "zone heat the room did not need")                                     \
    X(TH_ELECTRICITY, "J", "electricity of heater blowers")                                        \
    /* Running of the heaters. */                                                                  \
    X(TH_HEATER_HOURS, "h", "heater-hours, summed over units")                                     \
    X(TH_ROOM_HOURS, "h", "hours with any heater lit")                                             \
    X(TH_FULL_HOURS, "h", "full-load hours of all heaters together")                               \
    X(TH_STARTS, "1", "burner starts, summed over units")                                          \
    X(TH_HEAT_WANTED, "h", "hours in which heat was wanted")                                       \
    X(TH_HEATED_KH, "K h", "room temperature in degC times those hours")                           \
    X(TH_INTERACT, "h", "hours in which heater stages interact")                                   \
    /* Pigs and people. */                                                                         \
    X(TH_BELOW_SET, "h", "hours below set point")                                                  \
    X(TH_BELOW_COMFORT, "h", "hours with the low of the swing below the comfort limit")            \
    X(TH_COLD_YOUNG_KH, "K h", "degree-hours below comfort until day 14 and 25 lb")                \
    X(TH_COLD_KH, "K h", "degree-hours below comfort afterwards")                                  \
    X(TH_COLD_DEEP, "h", "hours more than 5 degF below the comfort limit")                         \
    X(TH_UNMET, "h", "hours short of heat")                                                        \
    X(TH_UNMET_KH, "K h", "degree-hours short of heat")                                            \
    X(TH_OVER_RH, "h", "hours over the humidity ceiling")                                          \
    X(TH_OVER_CO2_DESIGN, "h", "hours over the CO2 design ceiling")                                \
    X(TH_OVER_CO2_WORKER, "h", "hours over the CO2 worker limit")                                  \
    X(TH_UNREACHED, "h", "hours in which a controlled ceiling could not be held")                  \
    X(TH_WARM, "h", "hours too warm for the fans (not modelled)")                                  \
    X(TH_BEYOND_STAGE, "h", "hours in which a heater peak went beyond the first stage")            \
    /* Water, kg, and CO2, mol, for the balances. */                                               \
    X(TH_WATER_PIGS, "kg", "water from pigs and manure")                                           \
    X(TH_WATER_DRYING, "kg", "water dried from spills and washing")                                \
    X(TH_WATER_BURNERS, "kg", "water from burners")                                                \
    X(TH_WATER_AIR, "kg", "water carried out by air")                                              \
    X(TH_WATER_CONDENSED, "kg", "water condensed in the room")                                     \
    X(TH_CO2_PIGS, "mol", "CO2 from pigs and manure")                                              \
    X(TH_CO2_BURNERS, "mol", "CO2 from burners")                                                   \
    X(TH_CO2_AIR, "mol", "CO2 carried out by air")

#define TH_TALLY_ENUM(name, unit, text) name,
enum th_tally_item { TH_TALLY_ITEMS(TH_TALLY_ENUM) TH_TALLY_COUNT };
#undef TH_TALLY_ENUM

/** Sums, and the extremes that do not add. Extremes hold only where `sum[TH_HOURS] > 0`. */
struct th_tally {
    double sum[TH_TALLY_COUNT];
    double coldest_out_c;    /**< lowest outdoor temperature of a growing hour */
    long coldest_hour;       /**< its hour number */
    double lowest_c;         /**< lowest room temperature of a growing hour, swing included */
    double deepest_below_k;  /**< most that an hour's mean lay below the comfort limit, 0 = never */
    double highest_heated_c; /**< highest while heat was wanted, swing included */
    double peak_gas_w;       /**< highest hourly gas demand, with zone heat, pilots and hallway */
    long peak_hour;
    double highest_rh;
    double highest_co2_ppm;
};

/** An empty tally. */
void th_tally_clear(struct th_tally *tally);

/** Adds `other` × `times` to `tally`. Peaks of different tallies take the higher, not the sum. */
void th_tally_add(struct th_tally *tally, const struct th_tally *other, double times);

/** Makes the extremes those of an empty tally; the sums stay. */
void th_tally_forget_extremes(struct th_tally *tally);

/** Degree-hours (K h) that the hourly mean, under zone heat the temperature reached there, lay
 * below the comfort limit, at all ages. */
double th_tally_cold_kh(const struct th_tally *tally);

/** All gas, J by higher heating value: room heaters, zone heat, pilots and hallway. */
double th_tally_gas_j(const struct th_tally *tally);

/** Heat in minus heat out over heat in: the energy balance, which must be 0 but for rounding. */
double th_tally_heat_gap(const struct th_tally *tally);

/** The same for water, and for CO₂. */
double th_tally_water_gap(const struct th_tally *tally);
double th_tally_co2_gap(const struct th_tally *tally);

/** Plain text of an item. */
const char *th_tally_text(enum th_tally_item item);

#endif

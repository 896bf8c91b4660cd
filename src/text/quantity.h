/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Numbers with units as people write them ("13 lb", "1,000 cfm", "$2.10/gal", "80 %", "11-05"),
 * turned into SI. Independent of the locale: the decimal mark is a point, thousands are parted by a
 * comma or nothing. Neither exponents nor hexadecimal, NaN or infinity are numbers here.
 */
#ifndef TURNHEAT_QUANTITY_H
#define TURNHEAT_QUANTITY_H

#include "turnheat/error.h"
#include <stdbool.h>

/** One list gives the dimensions and what a value of each is called. */
#define TH_DIMENSIONS(X)                                                                           \
    X(TH_DIM_COUNT, "a number without unit")                                                       \
    X(TH_DIM_SHARE, "a share")                                                                     \
    X(TH_DIM_DAYS, "a number of days")                                                             \
    X(TH_DIM_LENGTH, "a length")                                                                   \
    X(TH_DIM_AREA, "an area")                                                                      \
    X(TH_DIM_VOLUME, "a volume")                                                                   \
    X(TH_DIM_TEMPERATURE, "a temperature")                                                         \
    X(TH_DIM_DIFFERENCE, "a temperature difference")                                               \
    X(TH_DIM_DIFFERENCE_WEEK, "a temperature difference a week")                                   \
    X(TH_DIM_MASS, "a weight")                                                                     \
    X(TH_DIM_MASS_AREA, "water on an area")                                                        \
    X(TH_DIM_MASS_DAY, "water a day")                                                              \
    X(TH_DIM_TIME, "a time")                                                                       \
    X(TH_DIM_HOURS, "hours")                                                                       \
    X(TH_DIM_FLOW, "an air flow")                                                                  \
    X(TH_DIM_POWER, "a heat flow or power")                                                        \
    X(TH_DIM_R, "an R-value")                                                                      \
    X(TH_DIM_EDGE, "a loss per length of slab edge")                                               \
    X(TH_DIM_AREA_CAPACITY, "a heat capacity per floor area")                                      \
    X(TH_DIM_AREA_CONDUCTANCE, "a heat flow per floor area and degree")                            \
    X(TH_DIM_LEAK, "a leakage area")                                                               \
    X(TH_DIM_LEAK_AREA, "a leakage area per floor area")                                           \
    X(TH_DIM_AIR_CHANGES, "air changes an hour")                                                   \
    X(TH_DIM_BURNER_AIR, "air per heat input")                                                     \
    X(TH_DIM_PPM, "a concentration")                                                               \
    X(TH_DIM_CO2_RATE, "carbon dioxide per heat")                                                  \
    X(TH_DIM_GAS_VOLUME, "gallons or litres of propane")                                           \
    X(TH_DIM_HEAT_CONTENT, "a heat content")                                                       \
    X(TH_DIM_MONEY, "an amount of money")                                                          \
    X(TH_DIM_MONEY_YEAR, "an amount of money a year")                                              \
    X(TH_DIM_MONEY_AREA, "an amount of money per area")                                            \
    X(TH_DIM_PRICE_GALLON, "a price per gallon")                                                   \
    X(TH_DIM_PRICE_THERM, "a price per therm")                                                     \
    X(TH_DIM_PRICE_KWH, "a price of electricity")                                                  \
    X(TH_DIM_MONTH_DAY, "a month and day")

#define TH_DIMENSION_ENUM(dimension, text) dimension,
enum th_dimension { TH_DIMENSIONS(TH_DIMENSION_ENUM) TH_DIMENSION_COUNT };
#undef TH_DIMENSION_ENUM

/**
 * Reads `text` as a value of `dimension` into SI: m, m², m³, °C, K, K/week, kg, kg/m², kg/day, s, h
 * (long times), m³/s, W, m²K/W, W/(m K), J/(m² K), W/(m² K), cm² (leakage, as in room.h), cm²/m²,
 * 1/h, m³/s per W, ppm, m³/h per kW, US gallons of propane, J a gallon, $, $/year, $/m², $/gallon,
 * $/therm, $/J; shares as 0…1 parts, days as days, month-days as 100 × month + day. A unit is
 * needed except for counts, shares, days, R (US), ppm and month-days. TH_ERR_INPUT says what was
 * expected, with the column in `text` (1 = first byte).
 */
enum th_code th_quantity_read(const char *text, enum th_dimension dimension, double *value,
                              struct th_error *err);

/** What to write for `dimension`: its units with an example, as in "a length, such as 40 ft or
 * 12.2 m". */
const char *th_quantity_expected(enum th_dimension dimension);

#endif

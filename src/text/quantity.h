/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Numbers with units as people write them ("13 lb", "1,000 cfm", "$2.10/gal", "80 %", "11-05"),
 * turned into SI. Independent of the locale: the decimal mark is a point, thousands are parted by a
 * comma or nothing. Neither exponents nor hexadecimal, NaN or infinity are numbers here.
 */
#ifndef TURNHEAT_QUANTITY_H
#define TURNHEAT_QUANTITY_H

#include "turnheat/error.h"
#include "turnheat/parameters.h"
#include <stdbool.h>

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

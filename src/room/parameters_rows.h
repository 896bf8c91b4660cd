/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * How rows of the table of parameters are written, and the lists of the core's sections. Private to
 * the library and the reader of barn files.
 */
#ifndef TURNHEAT_PARAMETERS_ROWS_H
#define TURNHEAT_PARAMETERS_ROWS_H

#include "turnheat/parameters.h"
#include "turnheat/units.h"

/** The place of a row's value; rows without one stand only in files. */
#define TH_AT(type, member) .has_place = true, .offset = offsetof(type, member)

/** The list of a section out of its rows. */
#define TH_LIST(word, array)                                                                       \
    {                                                                                              \
        .section = (word), .rows = (array), .n = (int)(sizeof(array) / sizeof((array)[0]))         \
    }

/* Amounts in the units they are written in. */
#define AMOUNT(n, si_per_unit, written)                                                            \
    {                                                                                              \
        true, (n) * (si_per_unit), (n), (written)                                                  \
    }
#define NUMBER(n) AMOUNT(n, 1.0, "")
#define PERCENT(n) AMOUNT(n, 0.01, "%")
#define FT(n) AMOUNT(n, TH_M_PER_FT, "ft")
#define INCH(n) AMOUNT(n, TH_M_PER_IN, "in")
#define FT2(n) AMOUNT(n, TH_M2_PER_FT2, "ft2")
#define FT3(n) AMOUNT(n, TH_M3_PER_FT3, "ft3")
#define FAHRENHEIT(n)                                                                              \
    {                                                                                              \
        true, ((n)-32.0) * TH_K_PER_F, (n), "F"                                                    \
    }
#define DEGREES(n) AMOUNT(n, TH_K_PER_F, "F")
#define DEGREES_WEEK(n) AMOUNT(n, TH_K_PER_F, "F/week")
#define LB(n) AMOUNT(n, TH_KG_PER_LB, "lb")
#define LITRES_M2(n) AMOUNT(n, 1.0, "L/m2")
#define LITRES_DAY(n) AMOUNT(n, 1.0, "L/day")
#define SECONDS(n) AMOUNT(n, 1.0, "s")
#define MINUTES(n) AMOUNT(n, 60.0, "min")
#define HOURS(n) AMOUNT(n, 1.0, "h")
#define CFM(n) AMOUNT(n, TH_M3S_PER_CFM, "cfm")
#define BTUH(n) AMOUNT(n, TH_W_PER_BTUH, "Btu/h")
#define WATT(n) AMOUNT(n, 1.0, "W")
#define R_US(n) AMOUNT(n, TH_R_SI_PER_US, "")
#define BTUH_FT_F(n) AMOUNT(n, TH_W_PER_BTUH / (TH_M_PER_FT * TH_K_PER_F), "Btu/h ft F")
#define KJ_M2K(n) AMOUNT(n, 1000.0, "kJ/m2K")
#define W_M2K(n) AMOUNT(n, 1.0, "W/m2K")
#define IN2(n) AMOUNT(n, TH_M_PER_IN *TH_M_PER_IN * 1e4, "in2")
#define CM2_M2(n) AMOUNT(n, 1.0, "cm2/m2")
#define ACH(n) AMOUNT(n, 1.0, "ach")
#define CFM_100K(n) AMOUNT(n, TH_M3S_PER_CFM / (1e5 * TH_W_PER_BTUH), "cfm per 100,000 Btu/h")
#define PPM(n) AMOUNT(n, 1.0, "ppm")
#define M3_H_KW(n) AMOUNT(n, 1.0, "m3/h per kW")
#define GALLONS(n) AMOUNT(n, 1.0, "gal")
#define BTU_GAL(n) AMOUNT(n, TH_J_PER_BTU, "Btu/gal")
#define DOLLARS(n) AMOUNT(n, 1.0, "$")
#define DOLLARS_YEAR(n) AMOUNT(n, 1.0, "$/year")
#define DOLLARS_FT2(n) AMOUNT(n, 1.0 / TH_M2_PER_FT2, "$/ft2")
#define DOLLARS_GAL(n) AMOUNT(n, 1.0, "$/gal")
#define DOLLARS_THERM(n) AMOUNT(n, 1.0, "$/therm")
#define DOLLARS_KWH(n) AMOUNT(n, 1.0 / (1000.0 * TH_S_PER_H), "$/kWh")
#define MONTH_DAY(month, day) AMOUNT(100.0 * (month) + (day), 1.0, "")
#define WORD(value) AMOUNT(value, 1.0, "")
#define YES WORD(1)
#define NO WORD(0)
#define AS_WRITTEN(value, text) AMOUNT(value, 1.0, text)

/* Sections of struct th_room as a whole. */
extern const struct th_parameters th_parameters_room, th_parameters_site, th_parameters_air,
    th_parameters_pigs, th_parameters_setpoints, th_parameters_zone, th_parameters_fuel,
    th_parameters_money, th_parameters_calibration;
/* Sections of one of its surfaces, heaters or turns. */
extern const struct th_parameters th_parameters_surface, th_parameters_heater, th_parameters_turn;

#endif

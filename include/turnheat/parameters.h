/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The one table of what a barn is described by: a row a parameter, with its section, key, unit,
 * range, usual values, default, source and meaning. Defaults and range checks of the structs in
 * room.h, tank.h, contract.h and price.h, the keys of barn files, `--set`, `turnheat new`,
 * `turnheat keys` and the lists of docs/barn-file.md are all read from it.
 *
 * Rows stand by section in src/room/parameters_*.c, src/money/parameters_*.c and, for what only a
 * file can hold, src/keys/parameters_pick.c.
 */
#ifndef TURNHEAT_PARAMETERS_H
#define TURNHEAT_PARAMETERS_H

#include "turnheat/error.h"
#include <stdbool.h>
#include <stddef.h>

/** One list gives the dimensions and what a value of each is called. */
#define TH_DIMENSIONS(X)                                                                           \
    X(TH_DIM_COUNT, "a number without unit")                                                       \
    X(TH_DIM_HEAD, "a number of pigs")                                                             \
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

/** How a value is kept. Only the first six may be changed by --set, choices and options. */
enum th_store {
    TH_STORE_NUMBER,    /**< double */
    TH_STORE_WHOLE,     /**< int */
    TH_STORE_YES_NO,    /**< bool */
    TH_STORE_WORD,      /**< int or enum, one of `words` */
    TH_STORE_MONTH_DAY, /**< two ints, month and day */
    TH_STORE_DATE,      /**< three ints, month, day and year (0: not told) */
    TH_STORE_NAME,      /**< char[TH_NAME_MAX] */
    TH_STORE_NOTE,      /**< a longer text */
    TH_STORE_PATH,      /**< a file, relative to the one it is named in */
    TH_STORE_WEATHER,   /**< a list of weather files */
    TH_STORE_WEEKDAYS,  /**< unsigned, as in tank.h */
    TH_STORE_WEEKS,     /**< the gallons of struct th_use */
    TH_STORE_SEASON,    /**< int, the year in which a season such as 2025-26 starts */
    TH_STORE_LEAVES,    /**< the leaves of struct th_turn_plan */
    TH_STORE_DEVIATES   /**< TH_FITTED_NUMBERS doubles, see room.h */
};

/** A word a value may be. Lists end with a NULL word. */
struct th_word {
    const char *word;
    int value;
};

/** A value of a parameter: in SI (as th_quantity_read() gives it) and as one would write it. */
struct th_amount {
    bool given;
    double si;
    double number;    /**< in the unit it is written in */
    const char *unit; /**< behind the number; of what is no number, the whole writing */
};

struct th_parameter {
    const char *name; /**< the key */
    enum th_store store;
    enum th_dimension dimension;
    bool has_place; /**< false: only in files, which work other values out of it */
    size_t offset;  /**< of its place in the section's struct */
    size_t given;   /**< offset of a bool that says whether it is given; 0 for none */
    size_t when;    /**< offset of an enum without whose value `when_is` the number there
                         is another parameter's; 0: always */
    int when_is;
    struct th_amount low, high;             /**< its range; both or none */
    struct th_amount usual_low, usual_high; /**< outside of them a warning asks what was meant */
    const char *meant;                      /**< what was probably meant, for that warning */
    const struct th_word *words;
    char group;  /**< parameters of a section with the same letter exclude each other */
    bool needed; /**< the section makes no sense without it */
    bool count;  /**< files give a whole number, though a number is kept */
    struct th_amount initial; /**< its default */
    const char *otherwise;    /**< what holds without it when that is no single value; 0 then stands
                                 for not given */
    const char *source;       /**< of the default */
    const char *help;         /**< one line */
};

/** The parameters of one section. */
struct th_parameters {
    const char *section;
    const struct th_parameter *rows;
    int n;
};

/** Writes the defaults of all parameters that have one to their places in `values`. */
void th_parameters_start(const struct th_parameters *list, void *values);

/** Whether the number at the row's place is this parameter's, and not another's that shares it. */
bool th_parameter_counts(const struct th_parameter *row, const void *values);

/** Whether the row has a place, a range and a number that has to lie in it. */
bool th_parameter_is_ranged(const struct th_parameter *row, const void *values);

/** The number at the row's place in `values`; of rows for which th_parameter_is_ranged(). */
double th_parameter_number(const struct th_parameter *row, const void *values);

/** Whether `si` lies in the row's range, with room for the rounding of units. Not NaN. */
bool th_parameter_fits(const struct th_parameter *row, double si);

/** Whether `si` lies within what is usual; true where nothing is said about that. */
bool th_parameter_is_usual(const struct th_parameter *row, double si);

/** The first ranged row whose number in `values` does not fit, or NULL. */
const struct th_parameter *th_parameters_outside(const struct th_parameters *list,
                                                 const void *values);

/** A text for `%s`. */
struct th_amount_text {
    char text[64];
};

/** The amount as one would write it: "1,000 ft", "$0.12/kWh", "80 %", "10-01", "yes". */
struct th_amount_text th_amount_text(const struct th_parameter *row, struct th_amount amount);

/** `si` as one would write it, in the unit of the row's range or default. */
struct th_amount_text th_parameter_text(const struct th_parameter *row, double si);

/** A longer text. */
struct th_parameter_doubt {
    char text[280];
};

/** Words of doubt about a value that is not usual, and what was probably meant. */
struct th_parameter_doubt th_parameter_doubt(const struct th_parameter *row, double si);

/** TH_ERR_RANGE with the text "KEY = VALUE lies outside its range; expected LOW to HIGH" for the
 * first row that does not fit, or TH_OK. */
enum th_code th_parameters_check(const struct th_parameters *list, const void *values,
                                 struct th_error *err);

#endif

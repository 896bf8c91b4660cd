/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quantity.h"

#include "mistyped.h"
#include "month_day.h"
#include "turnheat/units.h"

#include <stdio.h>
#include <string.h>

/* More digits than a double holds exactly are refused, so that reading is always exact; so is a
   power of ten beyond the last exact one. */
#define DIGITS_MAX 15
#define DECIMALS_MAX 22
#define UNIT_MAX 40
#define LITRE 1e-3

/* SI = value × factor + offset. A spelling of "" means that no unit is needed. Spellings are
 * compared without blanks and without regard to case. */
struct unit {
    const char *spelling;
    double factor;
    double offset;
};

#define PER_FT2 (1.0 / TH_M2_PER_FT2)
#define CM2_PER_IN2 (TH_M_PER_IN * TH_M_PER_IN * 1e4)
#define KWH (1000.0 * TH_S_PER_H)
#define KG_WATER_GAL (TH_M3_PER_GAL * 1000.0)
#define GAL_PER_LITRE (LITRE / TH_M3_PER_GAL)
#define J_PER_THERM (1e5 * TH_J_PER_BTU)
#define EDGE_US (TH_W_PER_BTUH / (TH_M_PER_FT * TH_K_PER_F))
#define AREA_US (1.0 / (TH_M2_PER_FT2 * TH_K_PER_F))

static const struct unit counts[] = {{"", 1, 0}, {0}};
static const struct unit heads[] = {{"", 1, 0}, {"head", 1, 0}, {"pigs", 1, 0}, {0}};
static const struct unit shares[] = {{"", 1, 0}, {"%", 0.01, 0}, {"percent", 0.01, 0}, {0}};
static const struct unit days[] = {{"", 1, 0},     {"d", 1, 0},    {"day", 1, 0},
                                   {"days", 1, 0}, {"week", 7, 0}, {"weeks", 7, 0},
                                   {"wk", 7, 0},   {"wks", 7, 0},  {0}};
static const struct unit lengths[] = {{"ft", TH_M_PER_FT, 0},
                                      {"feet", TH_M_PER_FT, 0},
                                      {"foot", TH_M_PER_FT, 0},
                                      {"in", TH_M_PER_IN, 0},
                                      {"inch", TH_M_PER_IN, 0},
                                      {"inches", TH_M_PER_IN, 0},
                                      {"m", 1, 0},
                                      {"cm", 0.01, 0},
                                      {"mm", 0.001, 0},
                                      {0}};
static const struct unit areas[] = {{"ft2", TH_M2_PER_FT2, 0},
                                    {"sqft", TH_M2_PER_FT2, 0},
                                    {"squarefeet", TH_M2_PER_FT2, 0},
                                    {"m2", 1, 0},
                                    {0}};
static const struct unit volumes[] = {
    {"ft3", TH_M3_PER_FT3, 0}, {"cuft", TH_M3_PER_FT3, 0}, {"m3", 1, 0}, {0}};
static const struct unit temperatures[] = {{"f", TH_K_PER_F, -32.0 * TH_K_PER_F},
                                           {"degf", TH_K_PER_F, -32.0 * TH_K_PER_F},
                                           {"c", 1, 0},
                                           {"degc", 1, 0},
                                           {0}};
static const struct unit differences[] = {
    {"f", TH_K_PER_F, 0}, {"degf", TH_K_PER_F, 0}, {"c", 1, 0}, {"degc", 1, 0}, {"k", 1, 0}, {0}};
static const struct unit weekly[] = {{"f/week", TH_K_PER_F, 0}, {"c/week", 1, 0}, {0}};
static const struct unit masses[] = {{"lb", TH_KG_PER_LB, 0},
                                     {"lbs", TH_KG_PER_LB, 0},
                                     {"pound", TH_KG_PER_LB, 0},
                                     {"pounds", TH_KG_PER_LB, 0},
                                     {"#", TH_KG_PER_LB, 0},
                                     {"kg", 1, 0},
                                     {0}};
static const struct unit wet_areas[] = {{"l/m2", 1, 0},
                                        {"kg/m2", 1, 0},
                                        {"gal/ft2", KG_WATER_GAL *PER_FT2, 0},
                                        {"gal/100ft2", KG_WATER_GAL *PER_FT2 / 100.0, 0},
                                        {0}};
static const struct unit daily_water[] = {
    {"l/day", 1, 0}, {"kg/day", 1, 0}, {"gal/day", KG_WATER_GAL, 0}, {0}};
static const struct unit times[] = {{"h", TH_S_PER_H, 0},
                                    {"hours", TH_S_PER_H, 0},
                                    {"hour", TH_S_PER_H, 0},
                                    {"hr", TH_S_PER_H, 0},
                                    {"hrs", TH_S_PER_H, 0},
                                    {"min", 60, 0},
                                    {"minutes", 60, 0},
                                    {"s", 1, 0},
                                    {"sec", 1, 0},
                                    {"seconds", 1, 0},
                                    {"days", 86400, 0},
                                    {"day", 86400, 0},
                                    {0}};
static const struct unit hours[] = {{"h", 1, 0},     {"hours", 1, 0}, {"hour", 1, 0},
                                    {"hr", 1, 0},    {"hrs", 1, 0},   {"min", 1.0 / 60.0, 0},
                                    {"days", 24, 0}, {"day", 24, 0},  {0}};
static const struct unit flows[] = {{"cfm", TH_M3S_PER_CFM, 0},
                                    {"m3/h", 1 / TH_S_PER_H, 0},
                                    {"m3/s", 1, 0},
                                    {"l/s", LITRE, 0},
                                    {0}};
static const struct unit powers[] = {{"btu/h", TH_W_PER_BTUH, 0},
                                     {"btuh", TH_W_PER_BTUH, 0},
                                     {"btu/hr", TH_W_PER_BTUH, 0},
                                     {"btu", TH_W_PER_BTUH, 0},
                                     {"btus", TH_W_PER_BTUH, 0},
                                     {"kbtu/h", 1000 * TH_W_PER_BTUH, 0},
                                     {"kbtuh", 1000 * TH_W_PER_BTUH, 0},
                                     {"kbtu/hr", 1000 * TH_W_PER_BTUH, 0},
                                     {"kbtu", 1000 * TH_W_PER_BTUH, 0},
                                     {"mbh", 1000 * TH_W_PER_BTUH, 0},
                                     {"mmbtu/h", 1e6 * TH_W_PER_BTUH, 0},
                                     {"mmbtu/hr", 1e6 * TH_W_PER_BTUH, 0},
                                     {"w", 1, 0},
                                     {"kw", 1000, 0},
                                     {0}};
static const struct unit r_values[] = {
    {"", TH_R_SI_PER_US, 0}, {"m2k/w", 1, 0}, {"ft2fh/btu", TH_R_SI_PER_US, 0}, {0}};
static const struct unit edges[] = {{"btu/hftf", EDGE_US, 0}, {"w/mk", 1, 0}, {0}};
static const struct unit capacities[] = {
    {"btu/ft2f", TH_J_PER_BTU *AREA_US, 0}, {"kj/m2k", 1000, 0}, {0}};
static const struct unit conductances[] = {
    {"btu/hft2f", TH_W_PER_BTUH *AREA_US, 0}, {"w/m2k", 1, 0}, {0}};
static const struct unit leaks[] = {
    {"in2", CM2_PER_IN2, 0}, {"sqin", CM2_PER_IN2, 0}, {"cm2", 1, 0}, {0}};
static const struct unit area_leaks[] = {
    {"in2/100ft2", CM2_PER_IN2 *PER_FT2 / 100.0, 0}, {"cm2/m2", 1, 0}, {0}};
static const struct unit air_changes[] = {{"ach", 1, 0}, {"1/h", 1, 0}, {"/h", 1, 0}, {0}};
static const struct unit burner_air[] = {
    {"cfmper100,000btu/h", TH_M3S_PER_CFM / (1e5 * TH_W_PER_BTUH), 0},
    {"cfm/100kbtu/h", TH_M3S_PER_CFM / (1e5 * TH_W_PER_BTUH), 0},
    {"m3/hperkw", 1e-3 / TH_S_PER_H, 0},
    {"m3/h/kw", 1e-3 / TH_S_PER_H, 0},
    {0}};
static const struct unit ppms[] = {{"", 1, 0}, {"ppm", 1, 0}, {0}};
static const struct unit co2_rates[] = {{"m3/hperkw", 1, 0}, {"m3/h/kw", 1, 0}, {0}};
static const struct unit gas_volumes[] = {
    {"gal", 1, 0}, {"gallons", 1, 0}, {"gallon", 1, 0}, {"l", GAL_PER_LITRE, 0}, {0}};
static const struct unit heat_contents[] = {
    {"btu/gal", TH_J_PER_BTU, 0}, {"mj/l", 1e6 / GAL_PER_LITRE, 0}, {0}};
static const struct unit monies[] = {{"$", 1, 0}, {"dollars", 1, 0}, {0}};
static const struct unit yearly_monies[] = {
    {"$/year", 1, 0}, {"$/yr", 1, 0}, {"$ayear", 1, 0}, {"$", 1, 0}, {0}};
static const struct unit area_monies[] = {
    {"$/ft2", PER_FT2, 0}, {"$/sqft", PER_FT2, 0}, {"$/m2", 1, 0}, {0}};
static const struct unit gallon_prices[] = {{"$/gal", 1, 0},
                                            {"$", 1, 0},
                                            {"$/gallon", 1, 0},
                                            {"$pergallon", 1, 0},
                                            {"$pergal", 1, 0},
                                            {"$agallon", 1, 0},
                                            {"$/l", 1 / GAL_PER_LITRE, 0},
                                            {0}};
static const struct unit therm_prices[] = {{"$/therm", 1, 0},
                                           {"$", 1, 0},
                                           {"$pertherm", 1, 0},
                                           {"$/mmbtu", 0.1, 0},
                                           {"$/kwh", J_PER_THERM / KWH, 0},
                                           {0}};
static const struct unit kwh_prices[] = {{"$/kwh", 1 / KWH, 0},
                                         {"$", 1 / KWH, 0},
                                         {"$perkwh", 1 / KWH, 0},
                                         {"c/kwh", 0.01 / KWH, 0},
                                         {"cents/kwh", 0.01 / KWH, 0},
                                         {"¢/kwh", 0.01 / KWH, 0},
                                         {0}};
static const struct unit none[] = {{0}};

/* What people write and mean two things by: refused, with both. */
static const struct {
    enum th_dimension dimension;
    const char *spelling;
    const char *readings;
} unclear[] = {
#define THOUSANDS_OR_MILLIONS                                                                      \
    "M may mean thousands (write 250 MBH or 250,000 Btu/h) or millions (write 0.25 MMBtu/h)"
    {TH_DIM_POWER, "m", THOUSANDS_OR_MILLIONS},
    {TH_DIM_POWER, "mbtu", THOUSANDS_OR_MILLIONS},
    {TH_DIM_POWER, "mbtu/h", THOUSANDS_OR_MILLIONS},
    {TH_DIM_POWER, "mbtuh", THOUSANDS_OR_MILLIONS},
    {TH_DIM_POWER, "mbtu/hr", THOUSANDS_OR_MILLIONS},
    {TH_DIM_POWER, "k", "k may mean 1,000 Btu/h (write 250k Btu/h) or 1,000 W (write 73 kW)"},
    {TH_DIM_TIME, "m", "m may mean minutes (write 90 min) or months"},
    {TH_DIM_HOURS, "m", "m may mean minutes (write 90 min) or months"},
};

#define CALLED(dimension, text) [dimension] = (text),
static const char *const called[] = {TH_DIMENSIONS(CALLED)};
#undef CALLED

static const struct {
    const struct unit *units;
    const char *expected;
} dimensions[TH_DIMENSION_COUNT] = {
    [TH_DIM_COUNT] = {counts, "a number without unit, such as 3 or 1,000"},
    [TH_DIM_HEAD] = {heads, "a number of pigs, such as 1,000 or 2,400 head"},
    [TH_DIM_SHARE] = {shares, "a share, such as 0.8 or 80 %"},
    [TH_DIM_DAYS] = {days, "a number of days, such as 165"},
    [TH_DIM_LENGTH] = {lengths, "a length, such as 40 ft, 18 in or 12.2 m"},
    [TH_DIM_AREA] = {areas, "an area, such as 8,000 ft2 or 743 m2"},
    [TH_DIM_VOLUME] = {volumes, "a volume, such as 64,000 ft3 or 1812 m3"},
    [TH_DIM_TEMPERATURE] = {temperatures, "a temperature, such as 72 F or 22 C"},
    [TH_DIM_DIFFERENCE] = {differences, "a temperature difference, such as 2 F or 1.1 C"},
    [TH_DIM_DIFFERENCE_WEEK] = {weekly, "a difference a week, such as 2 F/week or 1.1 C/week"},
    [TH_DIM_MASS] = {masses, "a weight, such as 13 lb or 5.9 kg"},
    [TH_DIM_MASS_AREA] = {wet_areas, "water on an area, such as 0.5 L/m2 or 1.2 gal/100 ft2"},
    [TH_DIM_MASS_DAY] = {daily_water, "water a day, such as 0.5 L/day or 0.13 gal/day"},
    [TH_DIM_TIME] = {times, "a time, such as 48 h, 90 s, 1.5 min or 2 days"},
    [TH_DIM_HOURS] = {hours, "a time, such as 48 h or 2 days"},
    [TH_DIM_FLOW] = {flows, "an air flow, such as 2,000 cfm, 3,400 m3/h, 0.94 m3/s or 944 L/s"},
    [TH_DIM_POWER] = {powers, "a heat flow or power, such as 250,000 Btu/h, 500 W or 73 kW"},
    [TH_DIM_R] = {r_values, "an R-value, such as 12 or R-12 (US) or 2.1 m2K/W"},
    [TH_DIM_EDGE] = {edges, "a loss per length, such as 0.73 Btu/h ft F or 1.26 W/m K"},
    [TH_DIM_AREA_CAPACITY] = {capacities,
                              "a capacity per floor area, such as 200 kJ/m2K or 9.8 Btu/ft2 F"},
    [TH_DIM_AREA_CONDUCTANCE] = {conductances,
                                 "a heat flow per floor area, such as 6 W/m2K or 1.06 Btu/h ft2 F"},
    [TH_DIM_LEAK] = {leaks, "a leakage area at 4 Pa, such as 127 in2 or 820 cm2"},
    [TH_DIM_LEAK_AREA] = {area_leaks,
                          "leakage per floor area at 4 Pa, such as 1.1 cm2/m2 or 1.6 in2/100 ft2"},
    [TH_DIM_AIR_CHANGES] = {air_changes, "air changes an hour, such as 1.2 ach or 1.2 1/h"},
    [TH_DIM_BURNER_AIR] = {burner_air,
                           "air per input, such as 300 cfm per 100,000 Btu/h or 17.4 m3/h per kW"},
    [TH_DIM_PPM] = {ppms, "a concentration, such as 3,000 ppm"},
    [TH_DIM_CO2_RATE] = {co2_rates, "carbon dioxide per heat, such as 0.185 m3/h per kW"},
    [TH_DIM_GAS_VOLUME] = {gas_volumes, "propane, such as 1,000 gal or 3,785 L"},
    [TH_DIM_HEAT_CONTENT] = {heat_contents, "a heat content, such as 91,500 Btu/gal or 25.5 MJ/L"},
    [TH_DIM_MONEY] = {monies, "an amount of money, such as $6,400"},
    [TH_DIM_MONEY_YEAR] = {yearly_monies, "money a year, such as $150/year"},
    [TH_DIM_MONEY_AREA] = {area_monies, "money per area, such as $1.20/ft2 or $13/m2"},
    [TH_DIM_PRICE_GALLON] = {gallon_prices, "a price per gallon, such as $2.10/gal or $0.55/L"},
    [TH_DIM_PRICE_THERM] = {therm_prices, "a price per therm, such as $0.90/therm or $9/MMBtu"},
    [TH_DIM_PRICE_KWH] = {kwh_prices, "a price of electricity, such as $0.12/kWh"},
    [TH_DIM_MONTH_DAY] = {none, "a month and day, such as 11-05, 11/5 or Nov 5"},
};

const char *th_quantity_expected(enum th_dimension dimension)
{
    return dimensions[dimension].expected;
}

static enum th_code refuse(struct th_error *err, enum th_dimension dimension, int column,
                           const char *found)
{
    th_fail(err, TH_ERR_INPUT, "%s; expected %s", found, th_quantity_expected(dimension));
    th_error_place(err, NULL, 0, column);
    return TH_ERR_INPUT;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

/* A number on its way: digits so far, those from the first that is not 0, and those after the
   point. */
struct digits {
    double whole;
    int count;
    int significant;
    int decimals;
};

static const char *take_digits(const char *at, struct digits *digits)
{
    while (is_digit(*at)) {
        digits->whole = 10.0 * digits->whole + (*at++ - '0');
        digits->count++;
        digits->significant += digits->whole > 0.0;
    }
    return at;
}

/* Thousands: each comma is followed by exactly three digits. NULL when it is not. */
static const char *take_groups(const char *at, struct digits *digits)
{
    const bool first_group_fits = digits->count >= 1 && digits->count <= 3;
    while (*at == ',') {
        const int before = digits->count;
        at = take_digits(at + 1, digits);
        if (!first_group_fits || digits->count != before + 3)
            return NULL;
    }
    return at;
}

/* The number at the start of `text`, and what follows it; NULL when there is none, with what is
 * wrong. Exact: at most 15 digits, divided once by a power of ten (both exact in a double). */
static const char *read_number(const char *text, double *value, const char **wrong)
{
    *wrong = "this is not a number";
    const bool negative = *text == '-';
    const char *at = *text == '-' || *text == '+' ? text + 1 : text;
    struct digits digits = {0};
    at = take_groups(take_digits(at, &digits), &digits);
    if (!at)
        return NULL;
    if (*at == '.') {
        const int before = digits.count;
        at = take_digits(at + 1, &digits);
        digits.decimals = digits.count - before;
        if (*at == '.' && is_digit(at[1])) /* 1.9.5 */
            return NULL;
    }
    if (digits.count == 0)
        return NULL;
    if (digits.significant > DIGITS_MAX || digits.decimals > DECIMALS_MAX) {
        *wrong = "this has too many digits; write at most 15";
        return NULL;
    }
    double scale = 1.0;
    for (int i = 0; i < digits.decimals; i++)
        scale *= 10.0;
    *value = (negative ? -digits.whole : digits.whole) / scale;
    return at;
}

/* Spellings people use for the same sign: all are dropped or made plain before comparing. */
static const struct {
    const char *seen;
    const char *plain;
} plain_signs[] = {{"²", "2"},  {"³", "3"},  {"°", ""},    {"·", ""},   {"^", ""},  {" ", ""},
                   {"\t", ""},  {"*", ""},   {"(", ""},    {")", ""},   {".", ""},  {"'", "ft"},
                   {"′", "ft"}, {"’", "ft"}, {"\"", "in"}, {"″", "in"}, {"”", "in"}};

static const char *fold_sign(const char *at, const char **plain)
{
    for (size_t i = 0; i < sizeof plain_signs / sizeof *plain_signs; i++) {
        const size_t length = strlen(plain_signs[i].seen);
        if (strncmp(at, plain_signs[i].seen, length) == 0) {
            *plain = plain_signs[i].plain;
            return at + length;
        }
    }
    return NULL;
}

/* Writes the first `length` bytes of the unit in plain lower case without blanks behind what
 * `folded` holds; false when it is too long. */
static bool fold_unit(const char *unit, size_t length, char folded[UNIT_MAX])
{
    const char *const end = unit + length;
    size_t n = strlen(folded);
    while (unit < end) {
        const char one[] = {*unit >= 'A' && *unit <= 'Z' ? (char)(*unit - 'A' + 'a') : *unit, '\0'};
        const char *plain = one;
        const char *after = fold_sign(unit, &plain);
        unit = after ? after : unit + 1;
        const size_t added = strlen(plain);
        if (n + added >= UNIT_MAX)
            return false;
        memcpy(folded + n, plain, added + 1);
        n += added;
    }
    return true;
}

static const struct unit *find_unit(enum th_dimension dimension, const char *folded)
{
    for (const struct unit *unit = dimensions[dimension].units; unit->spelling; unit++)
        if (strcmp(unit->spelling, folded) == 0)
            return unit;
    return NULL;
}

static enum th_code read_month_day(const char *text, double *value, struct th_error *err)
{
    int month_day = 0;
    if (!th_month_day_read(text, &month_day))
        return refuse(err, TH_DIM_MONTH_DAY, 1, "this is not a month and day that a year has");
    *value = month_day;
    return TH_OK;
}

/* Moves a leading money sign behind the number: "$2.10/gal" is 2.10 in $/gal, "-$5" is -5 $. */
static const char *skip_money_sign(const char *text, bool *negative, char folded[UNIT_MAX])
{
    *negative = text[0] == '-' && text[1] == '$';
    const char *start = *negative ? text + 1 : text;
    if (*start != '$')
        return start;
    folded[0] = '$';
    folded[1] = '\0';
    start++;
    while (is_blank(*start))
        start++;
    return start;
}

/* Feet and inches, "8 ft 6 in" or "51' 6\"": false for anything else. */
static bool read_feet_and_inches(const char *text, double *value)
{
    double feet = 0.0, inches = 0.0;
    const char *wrong;
    char unit[UNIT_MAX] = "", second_unit[UNIT_MAX] = "";
    const char *const after = is_digit(*text) ? read_number(text, &feet, &wrong) : NULL;
    const char *const second = after ? after + strcspn(after, "0123456789") : NULL;
    if (!second || !is_digit(*second) || !fold_unit(after, (size_t)(second - after), unit))
        return false;
    const char *const rest = read_number(second, &inches, &wrong);
    if (!rest || !fold_unit(rest, strlen(rest), second_unit))
        return false;
    const struct unit *const a = find_unit(TH_DIM_LENGTH, unit);
    const struct unit *const b = find_unit(TH_DIM_LENGTH, second_unit);
    if (!a || a->factor != TH_M_PER_FT || !b || b->factor != TH_M_PER_IN || inches >= 12.0)
        return false;
    *value = feet * a->factor + inches * b->factor;
    return true;
}

static const char *unclear_unit(enum th_dimension dimension, const char *folded)
{
    for (size_t i = 0; i < sizeof unclear / sizeof *unclear; i++)
        if (unclear[i].dimension == dimension && strcmp(unclear[i].spelling, folded) == 0)
            return unclear[i].readings;
    return NULL;
}

static enum th_code no_unit(const char *text, const char *after, enum th_dimension dimension,
                            const char *folded, struct th_error *err)
{
    while (is_blank(*after))
        after++;
    const char *const readings = unclear_unit(dimension, folded);
    const int column = (int)(after - text);
    if (readings)
        return refuse(err, dimension, column + 1, readings);
    if (*after == '\0' && folded[0] == '\0')
        return refuse(err, dimension, column, "the unit is missing");
    char found[120];
    snprintf(found, sizeof found, "the unit '%.60s' does not fit %s", *after ? after : "$",
             called[dimension]);
    return refuse(err, dimension, column + (*after ? 1 : 0), found);
}

/* "R-40" and "R40" are 40, "RSI 7" is 7 m²K/W. */
static const char *skip_r(const char *text, bool *metric)
{
    *metric = (text[0] == 'R' || text[0] == 'r') && (text[1] == 'S' || text[1] == 's') &&
              (text[2] == 'I' || text[2] == 'i');
    if (text[0] != 'R' && text[0] != 'r')
        return text;
    text += *metric ? 3 : 1;
    return text + (*text == '-' || *text == ' ');
}

static enum th_code read_with_unit(const char *text, enum th_dimension dimension, double *value,
                                   struct th_error *err)
{
    char folded[UNIT_MAX] = "", mistyped[TH_MISTYPED_CHARS];
    bool negative = false;
    const char *const start = skip_money_sign(text, &negative, folded);
    double number = 0.0;
    const char *wrong = "this is not a number";
    const bool two_signs = negative && (*start == '-' || *start == '+');
    const char *after = two_signs ? NULL : read_number(start, &number, &wrong);
    const bool fits = after && fold_unit(after, strlen(after), folded);
    const struct unit *unit = fits ? find_unit(dimension, folded) : NULL;
    const char *const letter = unit ? NULL : th_mistyped_digit(start, mistyped);
    if (letter)
        return refuse(err, dimension, (int)(letter - text) + 1, mistyped);
    if (!after)
        return refuse(err, dimension, 1, wrong);
    if (!unit)
        return no_unit(text, after, dimension, folded, err);
    *value = (negative ? -number : number) * unit->factor + unit->offset;
    return TH_OK;
}

static enum th_code read_r(const char *text, double *value, struct th_error *err)
{
    bool metric;
    const char *const number = skip_r(text, &metric);
    const enum th_code code = read_with_unit(number, TH_DIM_R, value, err);
    if (code == TH_OK && metric)
        *value /= TH_R_SI_PER_US;
    return code;
}

enum th_code th_quantity_read(const char *text, enum th_dimension dimension, double *value,
                              struct th_error *err)
{
    if (dimension == TH_DIM_MONTH_DAY)
        return read_month_day(text, value, err);
    if (dimension == TH_DIM_R)
        return read_r(text, value, err);
    if (dimension == TH_DIM_LENGTH && read_feet_and_inches(text, value))
        return TH_OK;
    return read_with_unit(text, dimension, value, err);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "month_day.h"
#include "quantity.h"

#include "run_suite.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Expected values by the definitions of the units (NIST SP 811, appendix B). */
static const struct {
    const char *text;
    enum th_dimension dimension;
    double si;
} good[] = {
    {"3", TH_DIM_COUNT, 3.0},
    {"2,400 head", TH_DIM_HEAD, 2400.0},
    {"1,000", TH_DIM_COUNT, 1000.0},
    {"1,234,567.25", TH_DIM_COUNT, 1234567.25},
    {"-0.5", TH_DIM_COUNT, -0.5},
    {"+2", TH_DIM_COUNT, 2.0},
    {".5", TH_DIM_COUNT, 0.5},
    {"5.", TH_DIM_COUNT, 5.0},
    {"0.1", TH_DIM_COUNT, 0.1},
    {"0.012541032396257 F", TH_DIM_DIFFERENCE, 0.012541032396257 / 1.8},
    {"80 %", TH_DIM_SHARE, 0.8},
    {"80%", TH_DIM_SHARE, 0.8},
    {"0.8", TH_DIM_SHARE, 0.8},
    {"165", TH_DIM_DAYS, 165.0},
    {"165 days", TH_DIM_DAYS, 165.0},
    {"40 ft", TH_DIM_LENGTH, 12.192},
    {"18 in", TH_DIM_LENGTH, 0.4572},
    {"8,000 ft2", TH_DIM_AREA, 743.224320},
    {"8,000 sq ft", TH_DIM_AREA, 743.224320},
    {"8,000 ft²", TH_DIM_AREA, 743.224320},
    {"8,000 ft^2", TH_DIM_AREA, 743.224320},
    {"1,000 ft3", TH_DIM_VOLUME, 28.316846592},
    {"40 F", TH_DIM_TEMPERATURE, 40.0 / 9.0},
    {"-40 °F", TH_DIM_TEMPERATURE, -40.0},
    {"-40 C", TH_DIM_TEMPERATURE, -40.0},
    {"32F", TH_DIM_TEMPERATURE, 0.0},
    {"30 F", TH_DIM_DIFFERENCE, 30.0 / 1.8},
    {"2 C", TH_DIM_DIFFERENCE, 2.0},
    {"2 F/week", TH_DIM_DIFFERENCE_WEEK, 2.0 / 1.8},
    {"13 lb", TH_DIM_MASS, 5.89670081},
    {"0.5 L/m2", TH_DIM_MASS_AREA, 0.5},
    {"1 gal/100 ft2", TH_DIM_MASS_AREA, 3.785411784 / 9.290304},
    {"1 gal/day", TH_DIM_MASS_DAY, 3.785411784},
    {"48 h", TH_DIM_TIME, 172800.0},
    {"48 h", TH_DIM_HOURS, 48.0},
    {"2 days", TH_DIM_HOURS, 48.0},
    {"90 min", TH_DIM_HOURS, 1.5},
    {"2 days", TH_DIM_TIME, 172800.0},
    {"1.5 min", TH_DIM_TIME, 90.0},
    {"1,000 cfm", TH_DIM_FLOW, 0.4719474432},
    {"3600 m3/h", TH_DIM_FLOW, 1.0},
    {"250,000 Btu/h", TH_DIM_POWER, 73267.7675},
    {"250 kBtu/h", TH_DIM_POWER, 73267.7675},
    {"12", TH_DIM_R, 12.0 * 0.176110184},
    {"5.3 m2K/W", TH_DIM_R, 5.3},
    {"5.3 m² K / W", TH_DIM_R, 5.3},
    {"5.3 m2·K/W", TH_DIM_R, 5.3},
    {"0.73 Btu/h·ft·F", TH_DIM_EDGE, 0.73 * 1.730734666},
    {"0.73 Btu/(h ft F)", TH_DIM_EDGE, 0.73 * 1.730734666},
    {"200 kJ/m2K", TH_DIM_AREA_CAPACITY, 200000.0},
    {"1 Btu/ft2 F", TH_DIM_AREA_CAPACITY, 20441.748028},
    {"1 Btu/h ft2 F", TH_DIM_AREA_CONDUCTANCE, 5.678263341},
    {"1 in2", TH_DIM_LEAK, 6.4516},
    {"1 in2/100 ft2", TH_DIM_LEAK_AREA, 6.4516 / 9.290304},
    {"1.2 ach", TH_DIM_AIR_CHANGES, 1.2},
    {"300 cfm per 100,000 Btu/h", TH_DIM_BURNER_AIR, 300 * 4.719474432e-4 / 29307.107},
    {"3,000 ppm", TH_DIM_PPM, 3000.0},
    {"0.185 m3/h per kW", TH_DIM_CO2_RATE, 0.185},
    {"1,000 gal", TH_DIM_GAS_VOLUME, 1000.0},
    {"3.785411784 L", TH_DIM_GAS_VOLUME, 1.0},
    {"91,500 Btu/gal", TH_DIM_HEAT_CONTENT, 91500 * 1055.05585262},
    {"$6,400", TH_DIM_MONEY, 6400.0},
    {"6400 $", TH_DIM_MONEY, 6400.0},
    {"$ 6400", TH_DIM_MONEY, 6400.0},
    {"-$500", TH_DIM_MONEY, -500.0},
    {"$-500", TH_DIM_MONEY, -500.0},
    {"$150/year", TH_DIM_MONEY_YEAR, 150.0},
    {"$1.20/ft2", TH_DIM_MONEY_AREA, 1.20 / 0.09290304},
    {"$2.10/gal", TH_DIM_PRICE_GALLON, 2.10},
    {"2.10 $/gal", TH_DIM_PRICE_GALLON, 2.10},
    {"$1/L", TH_DIM_PRICE_GALLON, 3.785411784},
    {"$9/MMBtu", TH_DIM_PRICE_THERM, 0.9},
    {"$0.12/kWh", TH_DIM_PRICE_KWH, 0.12 / 3.6e6},
    {"51'", TH_DIM_LENGTH, 51 * 0.3048},
    {"51' 6\"", TH_DIM_LENGTH, 51.5 * 0.3048},
    {"51’ 6”", TH_DIM_LENGTH, 51.5 * 0.3048},
    {"8 ft 6 in", TH_DIM_LENGTH, 8.5 * 0.3048},
    {"8 ft 6.5 in.", TH_DIM_LENGTH, 102.5 * 0.0254},
    {"12 feet", TH_DIM_LENGTH, 12 * 0.3048},
    {"R-40", TH_DIM_R, 40.0 * 0.1761101838},
    {"r 12.5", TH_DIM_R, 12.5 * 0.1761101838},
    {"R40", TH_DIM_R, 40.0 * 0.1761101838},
    {"RSI 7", TH_DIM_R, 7.0},
    {"13 pounds", TH_DIM_MASS, 5.89670081},
    {"13 lbs.", TH_DIM_MASS, 5.89670081},
    {"250k Btu/h", TH_DIM_POWER, 73267.7675},
    {"250 MBH", TH_DIM_POWER, 73267.7675},
    {"250000 BTU", TH_DIM_POWER, 73267.7675},
    {"250,000 Btu/hr", TH_DIM_POWER, 73267.7675},
    {"0.25 MMBtu/h", TH_DIM_POWER, 73267.7675},
    {"24 weeks", TH_DIM_DAYS, 168.0},
    {"$1.85", TH_DIM_PRICE_GALLON, 1.85},
    {"$1.85 per gallon", TH_DIM_PRICE_GALLON, 1.85},
    {"12 cents/kWh", TH_DIM_PRICE_KWH, 0.12 / 3.6e6},
    {"0.10", TH_DIM_SHARE, 0.1},
    {"10 %", TH_DIM_SHARE, 0.1},
    {"11-05", TH_DIM_MONTH_DAY, 1105.0},
    {"2-29", TH_DIM_MONTH_DAY, 229.0},
    {"11/5", TH_DIM_MONTH_DAY, 1105.0},
    {"11/05", TH_DIM_MONTH_DAY, 1105.0},
    {"11/5/2026", TH_DIM_MONTH_DAY, 1105.0},
    {"11/5/26", TH_DIM_MONTH_DAY, 1105.0},
    {"15/11", TH_DIM_MONTH_DAY, 1115.0},
    {"2026-11-05", TH_DIM_MONTH_DAY, 1105.0},
    {"Nov 5", TH_DIM_MONTH_DAY, 1105.0},
    {"nov. 5th, 2026", TH_DIM_MONTH_DAY, 1105.0},
    {"5 Nov 2026", TH_DIM_MONTH_DAY, 1105.0},
    {"5-Nov", TH_DIM_MONTH_DAY, 1105.0},
    {"November 5", TH_DIM_MONTH_DAY, 1105.0},
};

START_TEST(reads_what_people_write)
{
    double value = NAN;
    struct th_error err = {0};
    ck_assert_msg(th_quantity_read(good[_i].text, good[_i].dimension, &value, &err) == TH_OK,
                  "%s: %s", good[_i].text, err.text);
    ck_assert_msg(fabs(value - good[_i].si) <= 1e-8 * fmax(fabs(good[_i].si), 1e-9) + 1e-14,
                  "%s gave %.12g", good[_i].text, value);
}
END_TEST

static const struct {
    const char *text;
    enum th_dimension dimension;
    const char *says;
} bad[] = {
    {"", TH_DIM_LENGTH, "not a number"},
    {"ft", TH_DIM_LENGTH, "not a number"},
    {"40", TH_DIM_LENGTH, "unit is missing"},
    {"40 ", TH_DIM_LENGTH, "unit is missing"},
    {"40 lb", TH_DIM_LENGTH, "'lb' does not fit a length"},
    {"40 F", TH_DIM_LENGTH, "does not fit"},
    {"40", TH_DIM_TEMPERATURE, "unit is missing"},
    {"40 K", TH_DIM_TEMPERATURE, "does not fit"},
    {"1,00 ft", TH_DIM_LENGTH, "not a number"},
    {"1,0000 ft", TH_DIM_LENGTH, "not a number"},
    {"1000,000 ft", TH_DIM_LENGTH, "not a number"},
    {",5 ft", TH_DIM_LENGTH, "not a number"},
    {"1.2.3 ft", TH_DIM_LENGTH, "this is not a number"},
    {"40,5 ft", TH_DIM_LENGTH, "not a number"},
    {"nan", TH_DIM_COUNT, "not a number"},
    {"inf", TH_DIM_COUNT, "not a number"},
    {"0x10", TH_DIM_COUNT, "does not fit"},
    {"1e3", TH_DIM_COUNT, "does not fit"},
    {"--3", TH_DIM_COUNT, "not a number"},
    {"1234567890123456", TH_DIM_COUNT, "too many digits; write at most 15"},
    {"0.00000000000000000000001", TH_DIM_COUNT, "too many digits"},
    {"3 lb", TH_DIM_COUNT, "does not fit"},
    {"2OO ft", TH_DIM_LENGTH, "the letter O where the digit 0"},
    {"$1,2O0", TH_DIM_MONEY, "the letter O where the digit 0"},
    {"O", TH_DIM_COUNT, "the letter O where the digit 0"},
    {"l2 lb", TH_DIM_MASS, "the letter l where the digit 1"},
    {"lb", TH_DIM_MASS, "not a number"},
    {"5 l", TH_DIM_LENGTH, "'l' does not fit"},
    {"$--5", TH_DIM_MONEY, "not a number"},
    {"-$-5", TH_DIM_MONEY, "not a number"},
    {"51' 6", TH_DIM_LENGTH, "does not fit"},
    {"51' 13\"", TH_DIM_LENGTH, "does not fit"},
    {"6\" 51'", TH_DIM_LENGTH, "does not fit"},
    {"250 M", TH_DIM_POWER, "thousands (write 250 MBH or 250,000 Btu/h) or millions"},
    {"250 MBtu/h", TH_DIM_POWER, "thousands"},
    {"250k", TH_DIM_POWER, "1,000 W"},
    {"90 m", TH_DIM_TIME, "minutes"},
    {"R", TH_DIM_R, "not a number"},
    {"6400", TH_DIM_MONEY, "unit is missing"},
    {"2.10 /gal", TH_DIM_PRICE_GALLON, "does not fit"},
    {"13-05", TH_DIM_MONTH_DAY, "not a month and day"},
    {"02-30", TH_DIM_MONTH_DAY, "not a month and day"},
    {"02/30", TH_DIM_MONTH_DAY, "not a month and day"},
    {"31/31", TH_DIM_MONTH_DAY, "not a month and day"},
    {"Nov", TH_DIM_MONTH_DAY, "not a month and day"},
    {"Nov Dec", TH_DIM_MONTH_DAY, "not a month and day"},
    {"Nub 5", TH_DIM_MONTH_DAY, "not a month and day"},
    {"1105", TH_DIM_MONTH_DAY, "not a month and day"},
    {"11/5/2026/1", TH_DIM_MONTH_DAY, "not a month and day"},
    {"No 5", TH_DIM_MONTH_DAY, "not a month and day"},
    {"11-", TH_DIM_MONTH_DAY, "not a month and day"},
    {"-05", TH_DIM_MONTH_DAY, "not a month and day"},
    {"5 qqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqq", TH_DIM_R, "does not fit"},
};

START_TEST(refuses_the_rest_and_says_what_it_expected)
{
    double value = 77.0;
    struct th_error err = {0};
    ck_assert_msg(th_quantity_read(bad[_i].text, bad[_i].dimension, &value, &err) == TH_ERR_INPUT,
                  "%s", bad[_i].text);
    ck_assert_msg(strstr(err.text, bad[_i].says) != NULL, "%s: %s", bad[_i].text, err.text);
    ck_assert_msg(strstr(err.text, th_quantity_expected(bad[_i].dimension)) != NULL, "%s",
                  err.text);
    ck_assert_double_eq(value, 77.0);
}
END_TEST

/* Every example a message gives must itself be readable: "such as A, B or C". */
START_TEST(expected_texts_are_true)
{
    const char *examples = strstr(th_quantity_expected((enum th_dimension)_i), "such as ");
    ck_assert_ptr_nonnull(examples);
    char text[160];
    snprintf(text, sizeof text, "%s", examples + strlen("such as "));
    char *const note = strstr(text, " for ");
    if (note)
        *note = '\0';
    char *const us_only = strstr(text, " (US)");
    if (us_only)
        memmove(us_only, us_only + strlen(" (US)"), strlen(us_only + strlen(" (US)")) + 1);
    for (char *at = text; at && *at;) {
        char *end = strstr(at, " or ");
        char *const comma = strstr(at, ", ");
        const size_t gap = comma && (!end || comma < end) ? 2 : 4;
        end = gap == 2 ? comma : end;
        if (end)
            *end = '\0';
        double value = 0.0;
        struct th_error err = {0};
        ck_assert_msg(th_quantity_read(at, (enum th_dimension)_i, &value, &err) == TH_OK, "%s: %s",
                      at, err.text);
        at = end ? end + gap : NULL;
    }
}
END_TEST

START_TEST(a_date_of_numbers_may_have_two_readings)
{
    int a = 0, b = 0;
    ck_assert(th_month_day_two_readings("03/04", &a, &b));
    ck_assert_int_eq(a, 304);
    ck_assert_int_eq(b, 403);
    ck_assert(th_month_day_two_readings("3.4.2026", &a, &b));
    ck_assert(!th_month_day_two_readings("03-04", &a, &b));
    ck_assert(!th_month_day_two_readings("2026/03/04", &a, &b));
    ck_assert(!th_month_day_two_readings("5/5", &a, &b));
    ck_assert(!th_month_day_two_readings("15/3", &a, &b));
    ck_assert(!th_month_day_two_readings("Mar 4", &a, &b));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("quantity");
    TCase *tc = tcase_create("quantity");
    tcase_add_loop_test(tc, reads_what_people_write, 0, sizeof good / sizeof *good);
    tcase_add_loop_test(tc, refuses_the_rest_and_says_what_it_expected, 0,
                        sizeof bad / sizeof *bad);
    tcase_add_loop_test(tc, expected_texts_are_true, 0, TH_DIMENSION_COUNT);
    tcase_add_test(tc, a_date_of_numbers_may_have_two_readings);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

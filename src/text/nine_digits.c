/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "nine_digits.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#define DIGITS 9
#define TOO_LARGE 1e9
/* From here on "%.9g" has no exponent. */
#define SMALLEST 1e-4
#define DECIMALS_MAX 12
/* A number scaled to nine digits is known to a ten-millionth; so near to a half it is for printf
 * to round. */
#define DOUBT 1e-6

static const double power[DECIMALS_MAX + 1] = {1e0, 1e1, 1e2, 1e3,  1e4,  1e5, 1e6,
                                               1e7, 1e8, 1e9, 1e10, 1e11, 1e12};

/* `size` as `digits` of nine digits over 10^`decimals`; false where that is not sure. */
static bool scale(double size, uint32_t *digits, int *decimals)
{
    int k = 0;
    while (k < DECIMALS_MAX && size * power[k] < power[DIGITS - 1])
        k++;
    const double scaled = size * power[k];
    *digits = (uint32_t)scaled;
    *decimals = k;
    const double rest = scaled - *digits;
    *digits += rest > 0.5;
    return fabs(rest - 0.5) > DOUBT && *digits < 1000000000;
}

/* Writes `whole`, at least `width` digits of it. */
static char *write_whole(char *to, uint32_t whole, int width)
{
    char back[DECIMALS_MAX];
    int n = 0;
    for (; whole > 0 || n < width; whole /= 10)
        back[n++] = (char)('0' + whole % 10);
    while (n > 0)
        *to++ = back[--n];
    return to;
}

size_t th_nine_digits(char text[TH_NINE_DIGITS_MAX], double number)
{
    static const uint32_t whole_power[DIGITS + 1] = {
        1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000, 1000000000};
    uint32_t digits;
    int decimals;
    char *to = text;
    const double size = fabs(number);
    if (size == 0.0) {
        memcpy(text, "0", 2);
        return 1;
    }
    if (!(size >= SMALLEST && size < TOO_LARGE) || !scale(size, &digits, &decimals))
        return (size_t)snprintf(text, TH_NINE_DIGITS_MAX, "%.9g", number);
    for (; decimals > 0 && digits % 10 == 0; decimals--)
        digits /= 10;
    if (number < 0.0)
        *to++ = '-';
    const bool small = decimals > DIGITS;
    const uint32_t whole = small ? 0 : digits / whole_power[decimals];
    to = write_whole(to, whole, 1);
    if (decimals > 0) {
        *to++ = '.';
        to = write_whole(to, small ? digits : digits % whole_power[decimals], decimals);
    }
    *to = '\0';
    return (size_t)(to - text);
}

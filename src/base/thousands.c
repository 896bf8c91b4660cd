/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/thousands.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* Above this, commas and digits no longer fit or help. */
#define LARGEST_WITH_COMMAS 1e15

static bool all_zero(const char *digits)
{
    return strspn(digits, "-0.") == strlen(digits);
}

void th_thousands(char *to, const char *digits)
{
    if (*digits == '-' && all_zero(digits))
        digits++;
    if (*digits == '-')
        *to++ = *digits++;
    const size_t whole = strcspn(digits, ".");
    for (size_t i = 0; digits[i]; i++) {
        if (i > 0 && i < whole && (whole - i) % 3 == 0)
            *to++ = ',';
        *to++ = digits[i];
    }
    *to = '\0';
}

struct th_whole th_whole(double number)
{
    struct th_whole whole = {.text = ""};
    char digits[24];
    if (!(fabs(number) < LARGEST_WITH_COMMAS)) {
        snprintf(whole.text, sizeof whole.text, "%.6g", number);
        return whole;
    }
    snprintf(digits, sizeof digits, "%.0f", number);
    th_thousands(whole.text, digits);
    return whole;
}

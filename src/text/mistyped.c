/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "mistyped.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#define DIGITS "0123456789.,"
#define LIKE_ZERO "Oo"
#define LIKE_ONE "lI"

const char *th_mistyped_digit(const char *text, char told[TH_MISTYPED_CHARS])
{
    const size_t number = strspn(text, DIGITS LIKE_ZERO LIKE_ONE);
    const size_t letter = strcspn(text, LIKE_ZERO LIKE_ONE);
    /* Words and units begin with such letters too: "or", "lb", "5 l". */
    const bool has_digit = strcspn(text, "0123456789") < number;
    const bool ends = text[number] == '\0' || strchr(" \t%$", text[number]);
    if (letter >= number || (!has_digit && !ends))
        return NULL;
    const bool is_one = strchr(LIKE_ONE, text[letter]) != NULL;
    const size_t next = letter + strspn(text + letter, LIKE_ZERO LIKE_ONE);
    const bool is_unit = is_one && (next == number || !has_digit);
    snprintf(told, TH_MISTYPED_CHARS, "this has the letter %c where the digit %c belongs",
             text[letter], is_one ? '1' : '0');
    return is_unit ? NULL : text + letter;
}

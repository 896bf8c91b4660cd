/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "utf8.h"

#include <stdbool.h>
#include <string.h>

static bool between(unsigned char c, unsigned char low, unsigned char high)
{
    return c >= low && c <= high;
}

/* Well-formed sequences (RFC 3629, section 4): lead bytes, length, range of the second byte. */
static const struct {
    unsigned char first, last;
    unsigned char length;
    unsigned char low, high;
} forms[] = {{0x20, 0x7E, 1, 0, 0},       {0x09, 0x09, 1, 0, 0},       {0xC2, 0xDF, 2, 0x80, 0xBF},
             {0xE0, 0xE0, 3, 0xA0, 0xBF}, {0xE1, 0xEC, 3, 0x80, 0xBF}, {0xED, 0xED, 3, 0x80, 0x9F},
             {0xEE, 0xEF, 3, 0x80, 0xBF}, {0xF0, 0xF0, 4, 0x90, 0xBF}, {0xF1, 0xF3, 4, 0x80, 0xBF},
             {0xF4, 0xF4, 4, 0x80, 0x8F}};

/* Length of the character at `c`, 0 when it is none. */
static size_t character(const unsigned char *c, size_t n)
{
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        if (!between(c[0], forms[i].first, forms[i].last))
            continue;
        const size_t length = forms[i].length;
        if (length > n || (length > 1 && !between(c[1], forms[i].low, forms[i].high)))
            return 0;
        for (size_t k = 2; k < length; k++)
            if (!between(c[k], 0x80, 0xBF))
                return 0;
        /* C2 80 … C2 9F are control characters too. */
        return c[0] == 0xC2 && c[1] < 0xA0 ? 0 : length;
    }
    return 0;
}

size_t th_utf8_good_text(const char *bytes, size_t n)
{
    size_t at = 0;
    while (at < n) {
        const size_t length = character((const unsigned char *)bytes + at, n - at);
        if (length == 0)
            return at;
        at += length;
    }
    return n;
}

/* The marks that change the direction of writing (U+202A-202E, U+2066-2069) could disguise a
 * text. */
static bool turns_direction(const char *character)
{
    const unsigned char last = (unsigned char)character[2];
    if (strncmp(character, "\xE2\x80", 2) == 0)
        return last >= 0xAA && last <= 0xAE;
    return strncmp(character, "\xE2\x81", 2) == 0 && last >= 0xA6 && last <= 0xA9;
}

static char *put_replacement(char *out)
{
    *out++ = '\xEF';
    *out++ = '\xBF';
    *out++ = '\xBD';
    return out;
}

void th_make_harmless(char *out, const char *text)
{
    const char *end = text + strlen(text);
    while (text < end) {
        const char *good_end = text + th_utf8_good_text(text, (size_t)(end - text));
        while (text < good_end) {
            const bool turns = *text == '\xE2' && turns_direction(text);
            if (turns)
                out = put_replacement(out);
            else
                *out++ = *text == '\t' ? ' ' : *text;
            text += turns ? 3 : 1;
        }
        if (text == end)
            break;
        if (*text == '\n' || *text == '\r')
            *out++ = ' ';
        else
            out = put_replacement(out);
        text++;
    }
    *out = '\0';
}

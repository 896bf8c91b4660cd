/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text_wrap.h"

#include "display.h"
#include <string.h>

static size_t character_bytes(const char *text)
{
    size_t n = 1;
    while (((unsigned char)text[n] & 0xC0) == 0x80)
        n++;
    return n;
}

/* A line may end here; a per cent sign stays with its number. */
static bool is_break(const char *text)
{
    return *text == ' ' && text[1] != '%';
}

size_t th_line_bytes(const char *text, int width)
{
    size_t at = 0, last_space = 0;
    for (int columns = 0; text[at] && columns < width; columns++) {
        if (is_break(text + at))
            last_space = at;
        at += character_bytes(text + at);
    }
    return text[at] == '\0' || is_break(text + at) || last_space == 0 ? at : last_space;
}

const char *th_after_line(const char *text, size_t bytes)
{
    text += bytes;
    return text + strspn(text, " ");
}

int th_longest_word(const char *text)
{
    int longest = 0, word = 0;
    for (; *text; text += character_bytes(text)) {
        word = is_break(text) ? 0 : word + 1;
        longest = word > longest ? word : longest;
    }
    return longest;
}

int th_wrapped_lines(const char *text, int width)
{
    int lines = 0;
    do {
        text = th_after_line(text, th_line_bytes(text, width));
        lines++;
    } while (*text);
    return lines;
}

void th_repeat(FILE *out, const char *text, int n)
{
    for (int i = 0; i < n; i++)
        fputs(text, out);
}

void th_wrap(FILE *out, const char *text, int indent, int width)
{
    for (int line = 0; line == 0 || *text; line++) {
        if (line)
            th_repeat(out, " ", indent);
        const size_t bytes = th_line_bytes(text, width);
        fprintf(out, "%.*s\n", (int)bytes, text);
        text = th_after_line(text, bytes);
    }
}

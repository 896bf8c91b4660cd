/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "svg.h"

#include "display.h"

#include <string.h>

/* A mean letter of sans-serif fonts over its height; from memory, on the wide side. */
#define LETTER_WIDTH 0.56

/* Between a number and its per cent or degrees. */
static bool parts_a_number(const char *start, const char *blank)
{
    const bool behind_digit = blank > start && blank[-1] >= '0' && blank[-1] <= '9';
    return behind_digit && (blank[1] == '%' || strncmp(blank + 1, "°", strlen("°")) == 0);
}

void xml_write(FILE *out, const char *text)
{
    for (const char *const start = text; *text; text++) {
        switch (*text) {
        case ' ':
            fputs(parts_a_number(start, text) ? "\u00a0" : " ", out);
            break;
        case '&':
            fputs("&amp;", out);
            break;
        case '<':
            fputs("&lt;", out);
            break;
        case '>':
            fputs("&gt;", out);
            break;
        case '"':
            fputs("&quot;", out);
            break;
        case '\'':
            fputs("&#39;", out);
            break;
        default:
            fputc(*text, out);
        }
    }
}

void xml_element(FILE *out, const char *tag, const char *attributes, const char *text)
{
    fprintf(out, "<%s%s>", tag, attributes);
    xml_write(out, text ? text : "");
    fprintf(out, "</%s>\n", tag);
}

double svg_text_width(const char *text)
{
    return LETTER_WIDTH * SVG_TEXT * th_display_width(text);
}

/* The bytes of the first `letters` letters of the text. */
static int bytes_of(const char *text, int letters)
{
    int n = 0;
    while (text[n] && (letters > 0 || ((unsigned char)text[n] & 0xC0) == 0x80)) {
        letters -= ((unsigned char)text[n + 1] & 0xC0) != 0x80;
        n++;
    }
    return n;
}

void svg_text(FILE *out, double x, double y, const char *anchor, const char *text, double most)
{
    char cut[4 * TH_SHOWN_MAX];
    const int letters = (int)(most / (LETTER_WIDTH * SVG_TEXT)) - 1;
    const bool whole = svg_text_width(text) <= most;
    fprintf(out, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">", x, y, anchor);
    if (!whole)
        snprintf(cut, sizeof cut, "%.*s…", bytes_of(text, letters > 0 ? letters : 0), text);
    xml_write(out, whole ? text : cut);
    if (!whole)
        xml_element(out, "title", "", text);
    fputs("</text>\n", out);
}

void svg_line(FILE *out, const char *class, double x1, double y1, double x2, double y2)
{
    fprintf(out, "<line class=\"%s\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>\n", class,
            x1, y1, x2, y2);
}

void svg_group(FILE *out, const char *class)
{
    fprintf(out, "<g class=\"%s\">\n", class);
}

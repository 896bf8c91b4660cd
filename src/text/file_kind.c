/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_kind.h"

#include <string.h>

#define AS_TEXT "; save it as plain text or CSV"

/* The signatures are those of the formats' own descriptions. */
static const struct {
    const char *begin;
    size_t size;
    const char *says;
} kinds[] = {
    {"PK\x03\x04", 4, "this is a workbook of a spreadsheet, or a zip archive" AS_TEXT},
    {"\xD0\xCF\x11\xE0", 4, "this is a workbook or document of an older office program" AS_TEXT},
    {"%PDF", 4, "this is a PDF document" AS_TEXT},
    {"{\\rtf", 5, "this is text with fonts and colours (RTF); save it as plain text"},
    {"\xFF\xFE", 2, "this is UTF-16 text; save it as UTF-8"},
    {"\xFE\xFF", 2, "this is UTF-16 text; save it as UTF-8"},
    {"\x89PNG", 4, "this is a picture; a text file is expected"},
    {"\xFF\xD8\xFF", 3, "this is a picture; a text file is expected"},
    {"BZh", 3, "this is packed with bzip2; unpack it first"},
    {"\xFD"
     "7zXZ",
     5, "this is packed with xz; unpack it first"},
    {"\x1F\x9D", 2, "this is packed with compress; unpack it first"},
};

const char *th_not_plain_text(const char *head, size_t n)
{
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (n >= kinds[i].size && memcmp(head, kinds[i].begin, kinds[i].size) == 0)
            return kinds[i].says;
    return NULL;
}

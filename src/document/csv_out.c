/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv_out.h"

#include "display.h"
#include <csv.h>
#include <string.h>

/* Text that a spreadsheet would take for a formula gets an apostrophe in front. */
static void quoted_text(FILE *out, const char *text)
{
    if (*text == '\0' || !strchr("=+-@", *text)) {
        csv_fwrite(out, text, strlen(text));
        return;
    }
    fputs("\"'", out);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', out);
        fputc(*text, out);
    }
    fputc('"', out);
}

static void field(FILE *out, const char *text, bool quoted)
{
    if (text && quoted)
        quoted_text(out, text);
    else if (text)
        fputs(text, out);
}

void th_csv_cells(FILE *out, const char *const *texts, int n)
{
    for (int i = 0; i < n; i++) {
        if (i)
            fputc(',', out);
        field(out, texts[i], true);
    }
}

void th_csv_head(FILE *out, const struct th_column *columns, int n)
{
    for (int i = 0; i < n; i++) {
        if (i)
            fputc(',', out);
        field(out, columns[i].key, true);
    }
    fputc('\n', out);
}

void th_csv_row(FILE *out, const struct th_column *columns, const struct th_value *values, int n)
{
    char buffer[TH_SHOWN_MAX];
    for (int i = 0; i < n; i++) {
        if (i)
            fputc(',', out);
        field(out, th_show_exact(buffer, values[i], columns[i].format),
              values[i].kind == TH_VALUE_TEXT);
    }
    fputc('\n', out);
}

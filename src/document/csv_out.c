/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv_out.h"

#include "display.h"
#include <csv.h>
#include <string.h>

static void field(FILE *out, const char *text, bool quoted)
{
    if (!text)
        return;
    if (quoted)
        csv_fwrite(out, text, strlen(text));
    else
        fputs(text, out);
}

void th_csv_texts(FILE *out, const char *const *texts, int n)
{
    for (int i = 0; i < n; i++) {
        if (i)
            fputc(',', out);
        field(out, texts[i], true);
    }
    fputc('\n', out);
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

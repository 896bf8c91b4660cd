/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/error.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>

void th_init(void)
{
    gsl_set_error_handler_off();
}

const char *th_code_text(enum th_code code)
{
#define TH_CODE_TEXT(code, text) text,
    static const char *const texts[] = {TH_CODES(TH_CODE_TEXT)};
#undef TH_CODE_TEXT
    return code >= 0 && code < TH_CODE_COUNT ? texts[code] : "unknown error code";
}

enum th_code th_fail(struct th_error *err, enum th_code code, const char *format, ...)
{
    if (err) {
        *err = (struct th_error){.code = code};
        va_list args;
        va_start(args, format);
        vsnprintf(err->text, sizeof err->text, format, args);
        va_end(args);
    }
    return code;
}

void th_error_place(struct th_error *err, const char *file, long line, int column)
{
    if (!err)
        return;
    if (file)
        snprintf(err->file, sizeof err->file, "%s", file);
    err->line = line;
    err->column = column;
}

bool th_in_range(double value, double low, double high)
{
    return isfinite(value) && value >= low && value <= high;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report as the text it is rendered to. */
#ifndef TESTS_RENDERED_H
#define TESTS_RENDERED_H

#include "render.h"
#include <check.h>

/** Caller frees. */
static inline char *rendered(const struct th_report *report, enum th_rendering rendering)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    struct th_error err = {0};
    const enum th_code code = th_report_write(report, rendering, out, &err);
    fclose(out);
    ck_assert_msg(code == TH_OK, "%s", err.text);
    return text;
}

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** One function a form, for render.c; each writes the whole report. */
#ifndef TURNHEAT_RENDERERS_H
#define TURNHEAT_RENDERERS_H

#include "report_doc.h"
#include <stdio.h>

typedef enum th_code report_renderer(const struct th_report *report, FILE *out,
                                     struct th_error *err);

report_renderer report_write_text, report_write_json, report_write_json_line, report_write_csv,
    report_write_html;

#endif

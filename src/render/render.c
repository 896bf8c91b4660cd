/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "render.h"

#include "renderers.h"

enum th_code th_report_write(const struct th_report *report, enum th_rendering rendering, FILE *out,
                             struct th_error *err)
{
    static report_renderer *const renderers[] = {[TH_AS_TEXT] = report_write_text,
                                                 [TH_AS_JSON] = report_write_json,
                                                 [TH_AS_JSON_LINE] = report_write_json_line,
                                                 [TH_AS_CSV] = report_write_csv,
                                                 [TH_AS_HTML] = report_write_html};
    const enum th_code code = report_check(report, err);
    return code ? code : renderers[rendering](report, out, err);
}

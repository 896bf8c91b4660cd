/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/design.h"

#include "turnheat/units.h"
#include "turnheat/weather_summary.h"

#define BASE_C ((65.0 - 32.0) * TH_K_PER_F)

enum th_code th_design_of(const struct th_case *one, struct th_design *design, struct th_error *err)
{
    const struct th_site *site = &one->room->site;
    struct th_weather_summary summary;
    const enum th_code code = th_weather_summarise(one->climate, BASE_C, &summary, err);
    if (code != TH_OK)
        return code;
    design->n = 0;
    if (site->has_design_99 || site->has_design_996)
        design->days[design->n++] = (struct th_design_day){
            .from = TH_DESIGN_GIVEN,
            .out_99_c = site->has_design_99 ? site->design_99_c : site->design_996_c,
            .out_996_c = site->design_996_c,
            .has_99 = site->has_design_99,
            .has_996 = site->has_design_996};
    design->days[design->n++] = (struct th_design_day){
        .from = th_climate_generated(one->climate) ? TH_DESIGN_GENERATED : TH_DESIGN_WEATHER,
        .out_99_c = summary.design_99_c,
        .out_996_c = summary.design_996_c,
        .has_99 = true,
        .has_996 = true};
    th_weather_summary_finish(&summary);
    return TH_OK;
}

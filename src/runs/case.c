/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/case.h"

#include <string.h>

const char *th_case_weather_name(const struct th_case *one)
{
    const struct th_weather *weather = one->weather;
    if (weather->station.name[0])
        return weather->station.name;
    if (weather->station.id[0])
        return weather->station.id;
    if (weather->n_files == 0)
        return "weather";
    const char *const path = weather->files[0].name;
    const char *const slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

enum th_code th_case_season_covered(const struct th_case *one, const struct th_season *season,
                                    struct th_error *err)
{
    for (int i = 0; i < season->n_parts; i++) {
        const struct th_span_cover *cover = &season->parts[i].cover;
        if (!cover->usable)
            return th_climate_require(one->climate, one->weather, cover->first_hour, cover->hours,
                                      err);
    }
    return TH_OK;
}

enum th_code th_case_uncovered(const struct th_case *one, const struct th_winters *winters,
                               struct th_error *err)
{
    struct th_error why = {0};
    if (winters->n > 0)
        th_case_season_covered(one, &winters->seasons[winters->n - 1], &why);
    th_fail(err, TH_ERR_COVERAGE,
            "room %s: the weather covers no whole season of its turns; in the last one %s",
            one->room->name, why.text[0] ? why.text : "nothing is read");
    th_error_place(err, why.file[0] ? why.file : NULL, 0, 0);
    return TH_ERR_COVERAGE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "place_weather.h"

#include "turnheat/places.h"
#include "turnheat/units.h"
#include "weather_kept.h"

#include <math.h>
#include <stdio.h>

#define M_PER_MILE 1609.344
/* Higher or lower than the nearest place by more, hills are likely: our judgement. */
#define HILLS_M 300.0

bool th_place_weather_same(const struct th_site *a, const struct th_site *b)
{
    return a->has_latitude && b->has_latitude && a->latitude_deg == b->latitude_deg &&
           a->longitude_deg == b->longitude_deg && a->elevation_m == b->elevation_m;
}

static void warn_of_distance(const struct th_site *site, struct th_issues *issues)
{
    struct th_places_near near;
    th_places_nearest(site->latitude_deg, site->longitude_deg, 1, &near);
    if (near.distance_m > TH_PLACES_FAR_M)
        th_issues_warning(issues, NULL,
                          "the nearest place with known weather, %s, %s, is %.0f miles away: the "
                          "generated winters may be far off",
                          near.row->name, near.row->state, near.distance_m / M_PER_MILE);
    else if (fabs(site->elevation_m - near.row->elevation_m) > HILLS_M)
        th_issues_warning(issues, NULL,
                          "the site lies %.0f ft %s the nearest place with known weather, %s, %s: "
                          "the generated winters may be off",
                          fabs(site->elevation_m - near.row->elevation_m) / TH_M_PER_FT,
                          site->elevation_m > near.row->elevation_m ? "above" : "below",
                          near.row->name, near.row->state);
}

enum th_code th_place_weather_make(const struct th_site *site, int seasons, unsigned long seed,
                                   struct th_weather *weather, struct th_issues *issues,
                                   struct th_error *err)
{
    struct th_normals normals;
    th_places_normals(site->latitude_deg, site->longitude_deg, site->elevation_m, &normals);
    if (site->place[0])
        snprintf(normals.place, sizeof normals.place, "%s", site->place);
    else
        snprintf(normals.place, sizeof normals.place, "%.2f N, %.2f W", site->latitude_deg,
                 -site->longitude_deg);
    warn_of_distance(site, issues);
    char how[TH_WEATHER_HOW_MAX];
    const int length =
        snprintf(how, sizeof how, "%.17g %.17g %.17g %d %lu %s", site->latitude_deg,
                 site->longitude_deg, site->elevation_m, seasons, seed, normals.place);
    const bool tellable = length >= 0 && (size_t)length < sizeof how;
    if (tellable && th_weather_recall(NULL, how, weather))
        return TH_OK;
    const enum th_code code = th_normals_generate(&normals, seasons, seed, weather, err);
    if (code == TH_OK && tellable)
        th_weather_keep(NULL, how, weather);
    return code;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_site.h"

#include "turnheat/places.h"
#include "weather_read.h"

#include <stdio.h>

static void take_place(struct th_apply *apply, struct th_site *site)
{
    const struct th_places_row *row = NULL;
    struct th_error err = {0};
    if (!site->place[0] || site->has_latitude)
        return;
    if (th_places_find(site->place, &row, &err) != TH_OK) {
        th_apply_error(apply, "site", "place", "%s", err.text);
        return;
    }
    site->has_latitude = site->has_longitude = true;
    site->latitude_deg = row->latitude_deg;
    site->longitude_deg = row->longitude_deg;
    if (!site->has_elevation)
        site->elevation_m = row->elevation_m;
    site->has_elevation = true;
}

static void take_elevation_of_weather(struct th_apply *apply, struct th_site *site)
{
    struct th_weather weather;
    struct th_error err;
    const struct th_weather_options options = {0};
    if (site->has_elevation || apply->draft->n_weather == 0)
        return;
    const char *const path = apply->draft->weather[0];
    const enum th_code code = th_weather_read(apply->files, &path, 1, &options, &weather, &err);
    if (code == TH_ERR_MEMORY)
        apply->issues->memory_short = true;
    else if (code != TH_OK)
        th_apply_error(apply, "site", "weather", "%s", err.text);
    else if (weather.station.has_elevation) {
        site->elevation_m = weather.station.elevation_m;
        site->has_elevation = true;
    }
    th_weather_finish(&weather);
}

void th_barn_site_make(struct th_apply *apply, struct th_site *site)
{
    struct th_places_near near;
    if (site->has_latitude != site->has_longitude) {
        if (!th_apply_is_bad(apply, "site"))
            th_apply_error(apply, "site", site->has_latitude ? "latitude" : "longitude",
                           "latitude and longitude go together; expected both");
        return;
    }
    take_place(apply, site);
    if (!site->has_latitude) {
        take_elevation_of_weather(apply, site);
        return;
    }
    if (!site->has_elevation)
        site->elevation_m = th_places_elevation_m(site->latitude_deg, site->longitude_deg);
    site->has_elevation = true;
    th_places_nearest(site->latitude_deg, site->longitude_deg, 1, &near);
    if (!site->has_utc_offset)
        site->utc_offset_h = near.row->utc_offset_h;
    site->has_utc_offset = true;
    if (!site->name[0])
        snprintf(site->name, sizeof site->name, "%s", site->place);
}

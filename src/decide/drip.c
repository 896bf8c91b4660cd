/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/drip.h"

#include "turnheat/envelope.h"
#include "turnheat/psychro.h"
#include "turnheat/sizing.h"

#include <math.h>
#include <stdlib.h>

static void drip_init(struct th_drip *drip, const struct th_room *room)
{
    *drip = (struct th_drip){.room = room};
    for (int i = 0; i < room->n_turns; i++)
        drip->season_h += 24.0 * room->turns[i].days;
    for (int i = 0; i < room->n_surfaces; i++) {
        drip->surfaces[i].ratio = INFINITY;
        drip->surfaces[i].film_m2k_w =
            room->surfaces[i].kind == TH_CEILING ? TH_FILM_CEILING_M2K_W : TH_FILM_WALL_M2K_W;
    }
}

static void watch_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                       const struct th_hour_out *out)
{
    struct th_drip *drip = context;
    const struct th_climate_hour *outdoors = in->balance.out;
    (void)turn;
    if (in->phase != TH_GROWING || !(out->room_w_kg_kg > 0.0))
        return;
    drip->hours += 1.0;
    for (int i = 0; i < drip->room->n_surfaces; i++) {
        struct th_drip_surface *s = &drip->surfaces[i];
        const double inside_c = th_envelope_inside_surface_c(
            out->room_c, outdoors->out_c, drip->room->surfaces[i].r_m2k_w, s->film_m2k_w);
        const double ratio =
            th_psy_saturation_ratio(inside_c, outdoors->pressure_pa) / out->room_w_kg_kg;
        s->hours += ratio <= 1.0;
        if (ratio >= s->ratio)
            continue;
        s->ratio = ratio;
        s->hour_number = hour_number;
        s->out_c = outdoors->out_c;
        s->room_c = out->room_c;
        s->inside_c = inside_c;
        s->room_w_kg_kg = out->room_w_kg_kg;
        s->pressure_pa = outdoors->pressure_pa;
    }
}

static void add(struct th_drip *sum, const struct th_drip *season)
{
    sum->hours += season->hours;
    for (int i = 0; i < sum->room->n_surfaces; i++) {
        const double hours = sum->surfaces[i].hours + season->surfaces[i].hours;
        if (season->surfaces[i].ratio < sum->surfaces[i].ratio)
            sum->surfaces[i] = season->surfaces[i];
        sum->surfaces[i].hours = hours;
    }
}

enum th_code th_drip_run(const struct th_runs *runs, const struct th_room *room,
                         const struct th_case *one, struct th_drip *drip,
                         struct th_winters *winters, struct th_error *err)
{
    int first, last;
    struct th_runs own;
    th_season_range(one->climate, &first, &last);
    const int n = last - first + 1;
    struct th_drip *seasons = malloc((size_t)n * sizeof *seasons);
    *winters = (struct th_winters){0};
    drip_init(drip, room);
    if (!seasons)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < n; i++)
        seasons[i] = *drip;
    /* A list of its own, since nothing of it is asked for again. */
    th_runs_init(&own, runs->jobs, &runs->onlooker);
    const struct th_watch_seasons watch = {{.hour = watch_hour, .context = seasons},
                                           sizeof *seasons};
    const int request =
        th_runs_add_watched(&own, room, one->climate, one->first_year, one->last_year, &watch);
    enum th_code code = th_runs_do(&own, room->name, err);
    if (code == TH_OK)
        code = th_runs_winters(&own, request, winters, err);
    for (int i = 0; i < n && code == TH_OK; i++)
        add(drip, &seasons[i]);
    th_runs_finish(&own);
    free(seasons);
    return code;
}

double th_drip_season_h(const struct th_drip *drip, int i)
{
    return drip->hours > 0.0 ? drip->surfaces[i].hours / drip->hours * drip->season_h : 0.0;
}

enum th_code th_drip_dew(const struct th_drip *drip, int i, double *dew_c, double *dry_r_m2k_w,
                         struct th_error *err)
{
    const struct th_drip_surface *s = &drip->surfaces[i];
    const enum th_code code = th_psy_dew_point(s->room_w_kg_kg, s->pressure_pa, dew_c, err);
    if (code == TH_OK)
        *dry_r_m2k_w = th_sizing_dry_r_m2k_w(s->room_c, s->out_c, *dew_c, s->film_m2k_w);
    return code;
}

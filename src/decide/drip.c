/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/drip.h"

#include "turnheat/envelope.h"
#include "turnheat/psychro.h"
#include "turnheat/sizing.h"

#include <math.h>
#include <stdlib.h>

/* More than rounding, as a share. */
#define CLEARLY (1.0 + 1e-9)

static void drip_init(struct th_drip *drip, const struct th_room *room)
{
    *drip = (struct th_drip){.room = room};
    for (int i = 0; i < TH_DRIP_DEGREES; i++)
        drip->least_pa[i] = th_psy_saturation_pressure(TH_DRIP_LEAST_C + i);
    for (int i = 0; i < room->n_turns; i++)
        drip->season_h += 24.0 * room->turns[i].days;
    for (int i = 0; i < room->n_surfaces; i++) {
        drip->surfaces[i].ratio = INFINITY;
        drip->surfaces[i].film_m2k_w =
            room->surfaces[i].kind == TH_CEILING ? TH_FILM_CEILING_M2K_W : TH_FILM_WALL_M2K_W;
    }
}

/* Whether a face no colder than a whole degree bears clearly more than `w_kg_kg`: it then need not
 * be asked how much. */
static bool surely_bears(const struct th_drip *drip, double inside_c, double pressure_pa,
                         double w_kg_kg)
{
    const double place = inside_c - TH_DRIP_LEAST_C;
    if (!(place >= 0.0 && place < TH_DRIP_DEGREES))
        return false;
    const double least_pa = drip->least_pa[(int)place];
    return TH_PSY_RATIO * least_pa > CLEARLY * w_kg_kg * (pressure_pa - least_pa);
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
        if (surely_bears(drip, inside_c, outdoors->pressure_pa,
                         out->room_w_kg_kg * fmax(s->ratio, 1.0)))
            continue;
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

enum th_code th_drip_ask(struct th_runs *runs, const struct th_room *room,
                         const struct th_case *one, struct th_drip_asked *asked,
                         struct th_error *err)
{
    int first, last;
    th_season_range(one->climate, &first, &last);
    *asked = (struct th_drip_asked){.n = last - first + 1};
    asked->seasons = malloc((size_t)asked->n * sizeof *asked->seasons);
    if (!asked->seasons)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    drip_init(&asked->seasons[0], room);
    for (int i = 1; i < asked->n; i++)
        asked->seasons[i] = asked->seasons[0];
    const size_t from = offsetof(struct th_drip, hours);
    const struct th_watch_seasons watch = {.watch = {watch_hour, asked->seasons},
                                           .stride = sizeof *asked->seasons,
                                           .seen_at = from,
                                           .seen = sizeof *asked->seasons - from};
    asked->request =
        th_runs_add_watched(runs, room, one->climate, one->first_year, one->last_year, &watch);
    return TH_OK;
}

enum th_code th_drip_read(const struct th_runs *runs, const struct th_drip_asked *asked,
                          struct th_drip *drip, struct th_winters *winters, struct th_error *err)
{
    const enum th_code code = th_runs_winters(runs, asked->request, winters, err);
    if (!asked->seasons)
        return code;
    drip_init(drip, asked->seasons[0].room);
    for (int i = 0; i < asked->n && code == TH_OK; i++)
        add(drip, &asked->seasons[i]);
    return code;
}

void th_drip_drop(struct th_drip_asked *asked)
{
    free(asked->seasons);
    *asked = (struct th_drip_asked){0};
}

enum th_code th_drip_run(const struct th_runs *runs, const struct th_room *room,
                         const struct th_case *one, struct th_drip *drip,
                         struct th_winters *winters, struct th_error *err)
{
    struct th_runs own;
    struct th_drip_asked asked;
    *winters = (struct th_winters){0};
    /* A list of its own, since nothing of it is asked for again. */
    th_runs_init(&own, runs->jobs, &runs->onlooker);
    enum th_code code = th_drip_ask(&own, room, one, &asked, err);
    if (code == TH_OK)
        code = th_runs_do(&own, room->name, err);
    if (code == TH_OK)
        code = th_drip_read(&own, &asked, drip, winters, err);
    th_drip_drop(&asked);
    th_runs_finish(&own);
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

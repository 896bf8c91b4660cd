/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/drip.h"

#include "turnheat/envelope.h"
#include "turnheat/psychro.h"

#include <math.h>
#include <stdlib.h>

/* More than rounding, as a share. */
#define CLEARLY (1.0 + 1e-9)

/* With pigs. */
static double season_h(const struct th_room *room)
{
    double hours = 0.0;
    for (int i = 0; i < room->n_turns; i++)
        hours += 24.0 * room->turns[i].days;
    return hours;
}

static void drip_init(struct th_drip *drip, const struct th_room *room)
{
    *drip = (struct th_drip){.room = room};
    for (int i = 0; i < TH_DRIP_DEGREES; i++)
        drip->least_pa[i] = th_psy_saturation_pressure(TH_DRIP_LEAST_C + i);
    drip->season_h = season_h(room);
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

/* Dew point of the room, °C, from the table: saturation is close to straight in its logarithm.
 * Hours beyond the table, which no room has, count as its ends. */
static double dew_point_c(const struct th_drip *drip, double w_kg_kg, double pressure_pa)
{
    const double vapour_pa = w_kg_kg * pressure_pa / (TH_PSY_RATIO + w_kg_kg);
    int low = 0, high = TH_DRIP_DEGREES - 1;
    if (!(vapour_pa > drip->least_pa[0]))
        return TH_DRIP_LEAST_C;
    while (high - low > 1) {
        const int middle = (low + high) / 2;
        if (drip->least_pa[middle] <= vapour_pa)
            low = middle;
        else
            high = middle;
    }
    return TH_DRIP_LEAST_C + low +
           log(vapour_pa / drip->least_pa[low]) / log(drip->least_pa[high] / drip->least_pa[low]);
}

/* Books what an hour asks of R; one whose air is no drier inside than out asks nothing. */
static void book_asked(struct th_drip *drip, double room_c, const struct th_climate_hour *outdoors,
                       double w_kg_kg)
{
    const double dew_c = dew_point_c(drip, w_kg_kg, outdoors->pressure_pa);
    if (dew_c <= outdoors->out_c)
        return;
    const double asked = dew_c < room_c ? log((room_c - outdoors->out_c) / (room_c - dew_c)) : 1e9;
    const double step = fmin(asked / TH_DRIP_STEP, TH_DRIP_STEPS - 1.0);
    drip->asks[(int)step] += 1.0;
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
    book_asked(drip, out->room_c, outdoors, out->room_w_kg_kg);
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
    for (int i = 0; i < TH_DRIP_STEPS; i++)
        sum->asks[i] += season->asks[i];
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

double th_drip_may_h(const struct th_room *room)
{
    return TH_DRIP_MAY_SHARE * season_h(room);
}

bool th_drip_is_dry(const struct th_drip *drip, int i)
{
    return drip->surfaces[i].hours <= TH_DRIP_MAY_SHARE * drip->hours;
}

double th_drip_dry_r_m2k_w(const struct th_drip *drip, int i)
{
    const double may_h = TH_DRIP_MAY_SHARE * drip->hours;
    double over_h = 0.0;
    int step = TH_DRIP_STEPS;
    while (step > 0 && over_h + drip->asks[step - 1] <= may_h)
        over_h += drip->asks[--step];
    if (step == TH_DRIP_STEPS)
        return INFINITY;
    return step > 0 ? drip->surfaces[i].film_m2k_w * exp(step * TH_DRIP_STEP) : 0.0;
}

enum th_code th_drip_dew(const struct th_drip *drip, int i, double *dew_c, struct th_error *err)
{
    const struct th_drip_surface *s = &drip->surfaces[i];
    return th_psy_dew_point(s->room_w_kg_kg, s->pressure_pa, dew_c, err);
}

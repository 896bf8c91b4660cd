/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Which surfaces drip, hour by hour of the winters: a face drips while it is no warmer than the dew
 * point of the room's air. Only hours with pigs in the room count. Humidity is indicative.
 */
#ifndef TURNHEAT_DRIP_H
#define TURNHEAT_DRIP_H

#include "turnheat/case.h"
#include "turnheat/runs.h"

/** One surface over all hours watched. */
struct th_drip_surface {
    double film_m2k_w;
    double hours; /**< dripping; th_drip_season_h() makes it that of a season */
    /** Its wettest hour: the lowest ratio of the humidity its face can bear to the room's. */
    double ratio;
    long hour_number;
    double out_c, room_c, inside_c, room_w_kg_kg, pressure_pa;
};

/** The share of hours that a surface may drip and be called dry: as a design day leaves 1 % of the
 * hours colder. Our judgement. */
#define TH_DRIP_MAY_SHARE 0.01

/** Steps of what hours ask: (room - outdoors) / (room - dew point), each e^0.02 more, from 1; the
 * last holds what no R keeps dry. */
#define TH_DRIP_STEPS 400
#define TH_DRIP_STEP 0.02

/** The whole degrees between which faces mostly lie. */
#define TH_DRIP_LEAST_C (-40)
#define TH_DRIP_DEGREES 80

struct th_drip {
    const struct th_room *room;
    double least_pa[TH_DRIP_DEGREES]; /**< saturation at each of them */
    double hours;                     /**< watched, with pigs */
    double asks[TH_DRIP_STEPS];       /**< hours by what they ask of R, times the inside film */
    double season_h;                  /**< of a season, with pigs, all turns */
    struct th_drip_surface surfaces[TH_SURFACES_MAX];
};

/** A room asked to be watched. */
struct th_drip_asked {
    struct th_drip *seasons; /**< one each */
    int n, request;
};

/**
 * Asks `runs` for `room`, which must outlive the answer, over the weather and seasons of `one`.
 * What is asked is answered after the next th_runs_do(). TH_ERR_MEMORY; drop `asked` in any case.
 */
enum th_code th_drip_ask(struct th_runs *runs, const struct th_room *room,
                         const struct th_case *one, struct th_drip_asked *asked,
                         struct th_error *err);

/** Reads the answer. `winters` gets the seasons, for the caller to finish in any case. Errors as
 * th_runs_winters(). */
enum th_code th_drip_read(const struct th_runs *runs, const struct th_drip_asked *asked,
                          struct th_drip *drip, struct th_winters *winters, struct th_error *err);

/** Frees what was asked. */
void th_drip_drop(struct th_drip_asked *asked);

/** Asks, runs with the jobs of `runs`, and reads. Errors as th_drip_read(). */
enum th_code th_drip_run(const struct th_runs *runs, const struct th_room *room,
                         const struct th_case *one, struct th_drip *drip,
                         struct th_winters *winters, struct th_error *err);

/** Hours of a season in which surface `i` drips. */
double th_drip_season_h(const struct th_drip *drip, int i);

/** Hours of a season, all turns, in which a surface may drip and be called dry. */
double th_drip_may_h(const struct th_room *room);

/** Whether surface `i` drips in no more than TH_DRIP_MAY_SHARE of the hours with pigs. */
bool th_drip_is_dry(const struct th_drip *drip, int i);

/** The least R of surface `i`, m² K/W, that would have kept it so; 0 when any R does, INFINITY when
 * none does. To 2 %. */
double th_drip_dry_r_m2k_w(const struct th_drip *drip, int i);

/** Dew point of the room in the wettest hour of surface `i`, °C. Errors as th_psy_dew_point(). */
enum th_code th_drip_dew(const struct th_drip *drip, int i, double *dew_c, struct th_error *err);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What a room needs on a design day: heat, heaters, and surfaces that stay dry. */
#ifndef TURNHEAT_SIZING_H
#define TURNHEAT_SIZING_H

#include "turnheat/season.h"

/** Stands for the day before pigs in th_sizing_hour(). */
#define TH_SIZING_PREHEAT (-1)

/**
 * A steady hour with outdoors at `out_c`, 15 mph wind (ASHRAE winter design, from memory), and heat
 * without limit that holds the set point exactly: day `day` of turn `turn`, or preheat (no pigs,
 * mass at set point, wash water drying). Air for unvented burners is included. Errors as
 * th_hour_solve().
 */
enum th_code th_sizing_hour(struct th_engine *engine, int turn, int day, double out_c,
                            struct th_hour_out *out, struct th_error *err);

/** The worst day of all turns on a design day. */
struct th_sizing {
    double out_c; /**< on the worst day */
    int turn, day;
    double load_w;    /**< heat the heaters must give with pigs there */
    double needed_w;  /**< gas input for it, without margin */
    double preheat_w; /**< gas input before pigs, wash water drying, the turn that needs most */
    double most_w;    /**< the larger of the two: what heaters must hold */
    double room_c;    /**< on the worst day, as what follows */
    double mass_kg, head;
    double fan_m3_s;       /**< minimum air */
    double air_w;          /**< heat that warms it */
    double pigs_w;         /**< heat the pigs give the room's air */
    struct th_tally books; /**< of a steady hour of every day, and of preheat */
};

/**
 * Finds it with outdoors at `out_c` in every age of the pigs, whatever the date, since heaters
 * outlive schedules. A fit to fills (`room->fitted`) raises air and set point here, but never
 * lowers them. Errors as th_engine_init() and th_hour_solve().
 */
enum th_code th_sizing_run(const struct th_room *room, double out_c, struct th_sizing *sizing,
                           struct th_error *err);

/** The same for today's schedule: outdoors at `dates_c` of th_design_dates(), never colder than
 * `out_c`, which stands in for unknown dates too. */
enum th_code th_sizing_dated(const struct th_room *room, double out_c, const double *dates_c,
                             struct th_sizing *sizing, struct th_error *err);

/** Gas input of all room heaters, W; `useful` (may be NULL) gets the heat of it. */
double th_sizing_installed_w(const struct th_room *room, double *useful_w);

/** The same with the largest single unit out. */
double th_sizing_one_out_w(const struct th_room *room);

/** Share of its rating a burner keeps at `elevation_m`: 4 % less per 1,000 ft above 2,000 ft (from
 * memory, natural-draft burners). */
double th_sizing_altitude_share(double elevation_m);

#endif

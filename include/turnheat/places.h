/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Monthly weather statistics of places in US hog country, compiled in from weather/places.csv,
 * whose README says how they were made and what they are worth. Means are those of 1991–2019.
 */
#ifndef TURNHEAT_PLACES_H
#define TURNHEAT_PLACES_H

#include "turnheat/normals.h"
#include <stddef.h>

/** A calendar month of a place, in the table's own units. */
struct th_places_month {
    double mean_f, sd_f, lag1, range_f, dew_point_f, wind_mph;
};

/** One place. */
struct th_places_row {
    const char *name;  /**< as the table has it, such as "Fargo-Hector" */
    const char *state; /**< two letters */
    double latitude_deg, longitude_deg, elevation_m;
    double utc_offset_h; /**< local standard time minus UTC */
    const char *station; /**< WMO number */
    double season_offset_f;
    struct th_places_month month[12]; /**< January first */
};

/** How many of the places round about a site are drawn on. */
#define TH_PLACES_NEAR 3
/** Beyond this distance to the nearest place its weather is a guess, m: 100 miles. */
#define TH_PLACES_FAR_M 160934.0

/** A place and how far it lies away. */
struct th_places_near {
    const struct th_places_row *row;
    double distance_m;
};

/** All places, in alphabetical order. */
const struct th_places_row *th_places(size_t *n);

/**
 * The place called `text`, such as "Mason City, Iowa" or "mason city, IA": words of its name, a
 * comma, the state as word or two letters. TH_ERR_INPUT saying what there is instead.
 */
enum th_code th_places_find(const char *text, const struct th_places_row **row,
                            struct th_error *err);

/** The name of a state that holds places, in lower case, by its two letters; "" for others. */
const char *th_places_state_name(const char *letters);

/** Great-circle distance between two points, m. */
double th_places_distance_m(double latitude_deg, double longitude_deg, double other_latitude_deg,
                            double other_longitude_deg);

/** The `n` places nearest to a point, the nearest first, `n` up to the number of places. */
void th_places_nearest(double latitude_deg, double longitude_deg, size_t n,
                       struct th_places_near *near);

/**
 * Elevation at a point as its three nearest places have it, weighted by 1/distance²; hills between
 * them are not known.
 */
double th_places_elevation_m(double latitude_deg, double longitude_deg);

/**
 * Monthly statistics at a point: at a place of the table its own row, elsewhere the mean of the
 * three nearest weighted by 1/distance², each mean temperature moved -2.0 °F a degree of latitude
 * north and -2.5 °F per 1,000 ft up (leave one out: 0.9 °F RMS November to April). The distance of
 * dew point from mean is interpolated, not the dew point. `normals->place` is left for the caller.
 */
void th_places_normals(double latitude_deg, double longitude_deg, double elevation_m,
                       struct th_normals *normals);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** An invented room and invented weather for tests that need some, whatever their numbers. */
#ifndef TURNHEAT_TESTS_SAMPLE_ROOM_H
#define TURNHEAT_TESTS_SAMPLE_ROOM_H

#include "turnheat/calendar.h"
#include "turnheat/climate.h"
#include "turnheat/psychro.h"
#include "turnheat/room.h"
#include "turnheat/units.h"
#include <gsl/gsl_math.h>
#include <math.h>
#include <stdlib.h>

/** A curtain-sided room of 40 × 200 × 8 ft with 1,000 pigs placed on 5 November for 165 days. */
static inline struct th_room sample_room(enum th_control control)
{
    struct th_room room;
    th_room_defaults(&room);
    room.spaces = 1000;
    room.site.has_elevation = true;
    room.site.elevation_m = 300.0;
    room.shell.floor_m2 = 8000.0 * TH_M2_PER_FT2;
    room.shell.volume_m3 = 64000.0 * TH_M3_PER_FT3;
    room.shell.perimeter_m = 480.0 * TH_M_PER_FT;
    room.air.max_m3_s = 100000.0 * TH_M3S_PER_CFM;
    room.air.leak_cm2 = 4000.0;
    room.n_surfaces = 2;
    th_surface_defaults(&room.surfaces[0]);
    room.surfaces[0].kind = TH_CEILING;
    room.surfaces[0].area_m2 = room.shell.floor_m2;
    room.surfaces[0].r_m2k_w = 30.0 * TH_R_SI_PER_US;
    th_surface_defaults(&room.surfaces[1]);
    room.surfaces[1].kind = TH_CURTAIN;
    room.surfaces[1].area_m2 = 2000.0 * TH_M2_PER_FT2;
    room.surfaces[1].r_m2k_w = 1.5 * TH_R_SI_PER_US;
    room.n_heaters = 1;
    th_heater_defaults(&room.heaters[0]);
    room.heaters[0].control = control;
    room.heaters[0].units = 3;
    room.heaters[0].input_w = 225000.0 * TH_W_PER_BTUH;
    room.heaters[0].turndown = control == TH_ON_OFF || control == TH_LEAD_LAG ? 1.0 : 0.3;
    room.n_turns = 1;
    th_turn_defaults(&room.turns[0]);
    room.turns[0].month = 11;
    room.turns[0].day = 5;
    room.turns[0].head = 1000;
    room.turns[0].weight_kg = 13.0 * TH_KG_PER_LB;
    room.turns[0].days = 165;
    return room;
}

/**
 * Hours from 1 July of `first_year` for `years` years: a yearly and a daily wave and a wandering
 * term, the same every time. Hours are NULL when memory is short.
 */
static inline struct th_climate sample_climate(int first_year, int years)
{
    const long first_day = th_day_number(first_year, 7, 1);
    const long n = 24 * (th_day_number(first_year + years, 7, 1) - first_day);
    struct th_climate climate = {.first_hour = 24 * first_day, .n = (size_t)n};
    climate.hours = calloc(climate.n, sizeof *climate.hours);
    climate.fill[TH_PART_TEMP].observed = climate.n;
    double wander = 0.0;
    for (long i = 0; climate.hours && i < n; i++) {
        struct th_climate_hour *hour = &climate.hours[i];
        wander = 0.99 * wander + 1.2 * sin(0.37 * (double)i + 1e-6 * (double)i * (double)i);
        hour->mean24_c = 9.0 + 16.0 * cos(2.0 * M_PI * (double)i / 8766.0) + wander;
        hour->out_c = hour->mean24_c + 4.0 * sin(2.0 * M_PI * (double)(i % 24 - 9) / 24.0);
        hour->pressure_pa = th_psy_pressure(300.0);
        hour->w_kg_kg = 0.75 * th_psy_saturation_ratio(hour->out_c, hour->pressure_pa);
        hour->wind_m_s = 4.0 + 2.0 * sin(0.05 * (double)i);
        hour->state = TH_HOUR_OBSERVED;
    }
    return climate;
}

/** Makes the hours warmer from the first to the last, by `span_k` in all, moist air never over
 * saturation: the winters of the invented weather are else much alike. */
static inline void spread_winters(struct th_climate *climate, double span_k)
{
    for (size_t i = 0; i < climate->n; i++) {
        struct th_climate_hour *const hour = &climate->hours[i];
        const double shift_k = span_k * ((double)i / (double)climate->n - 0.5);
        hour->out_c += shift_k;
        hour->mean24_c += shift_k;
        hour->w_kg_kg =
            fmin(hour->w_kg_kg, th_psy_saturation_ratio(hour->out_c, hour->pressure_pa));
    }
}

#endif

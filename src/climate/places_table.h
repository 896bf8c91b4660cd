/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The table of places, made from weather/places.csv while the program is built. */
#ifndef TURNHEAT_PLACES_TABLE_H
#define TURNHEAT_PLACES_TABLE_H

#include "turnheat/places.h"

extern const struct th_places_row th_places_table[];
extern const size_t th_n_places_table;

#endif

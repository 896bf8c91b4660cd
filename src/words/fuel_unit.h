/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How a room's fuel is counted and called: gallons of propane or therms of natural gas. */
#ifndef TURNHEAT_FUEL_UNIT_H
#define TURNHEAT_FUEL_UNIT_H

#include "turnheat/room.h"

struct th_fuel_unit {
    const char *name;  /**< "Propane" */
    const char *unit;  /**< "gal" */
    const char *units; /**< "gallons" */
};

/** Names for the fuel's unit sold. Never NULL. */
const struct th_fuel_unit *th_fuel_unit(const struct th_fuel *fuel);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: water vapour and CO₂ in a solved hour. */
#ifndef TURNHEAT_CORE_MOISTURE_H
#define TURNHEAT_CORE_MOISTURE_H

#include "turnheat/hour.h"

/** Fills the water and CO₂ of `out`; `unvented_w` of gas burns into the room. */
void th_moisture_fill(const struct th_balance *balance, double unvented_w, struct th_hour_out *out);

#endif

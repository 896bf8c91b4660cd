/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What the heaters' controls do in one hour. */
#ifndef TURNHEAT_CONTROL_H
#define TURNHEAT_CONTROL_H

#include "turnheat/heating.h"

/**
 * Solves the hour. Stages before the active one burn all hour and those after it are off; where
 * its swing reaches their thresholds, the swing of all is followed from switch to switch
 * (`interact`). Errors as th_cycle_solve(); TH_ERR_NUMERIC when stages would switch more than 32
 * times within one dead time.
 */
enum th_code th_heating_solve(const struct th_heating *heating, const struct th_heating_in *in,
                              struct th_heating_out *out, struct th_error *err);

#endif

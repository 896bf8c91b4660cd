/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: the hour with the fans at one flow, whatever burners and ceilings ask for. */
#ifndef TURNHEAT_HOUR_AT_FLOW_H
#define TURNHEAT_HOUR_AT_FLOW_H

#include "turnheat/hour.h"

/** As th_hour_solve(), at `fan_m3_s` in place of the minimum, which stays what the minimum is. */
enum th_code th_hour_at_flow(const struct th_hour_in *in, struct th_solvers *solvers,
                             double fan_m3_s, struct th_hour_out *out, struct th_error *err);

#endif

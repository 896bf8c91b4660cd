/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What a plan comes to, in a few lines to take to the supplier. */
#ifndef TURNHEAT_PLAN_SHORT_H
#define TURNHEAT_PLAN_SHORT_H

#include "report.h"
#include "turnheat/plan.h"

/** How much, when, what to take, when to order. Errors as th_plan_spread(). */
enum th_code th_plan_short(struct th_report *report, const struct th_plan *plan,
                           struct th_error *err);

#endif

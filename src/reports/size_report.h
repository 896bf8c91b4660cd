/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The sizing report: design load, heaters, gas, air, standby power and dry surfaces. */
#ifndef TURNHEAT_SIZE_REPORT_H
#define TURNHEAT_SIZE_REPORT_H

#include "report.h"
#include "turnheat/size.h"

/** Adds the report of a room that was sized. TH_ERR_BALANCE when its books do not close. */
enum th_code th_size_report(struct th_report *report, const struct th_room *room,
                            const struct th_size *size, struct th_error *err);

#endif

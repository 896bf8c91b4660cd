/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Cautions and warnings that several reports carry. */
#ifndef TURNHEAT_CAUTIONS_H
#define TURNHEAT_CAUTIONS_H

#include "turnheat/case.h"
#include "report.h"

/** Adds the cautions every report carries. */
void th_report_cautions(struct th_report *report);

/** Those that belong on a sheet about buying fuel. */
void th_report_fuel_cautions(struct th_report *report);

/** Warns of what is doubtful in the room as it is given. */
void th_report_doubts(struct th_report *report, const struct th_room *room);

/** Warns of one typical year, and of weather generated from normals, as its years tell. */
void th_report_thin_weather(struct th_report *report, const struct th_case *one);

/** Asks for the design temperature where only generated winters could tell it. */
void th_report_thin_design(struct th_report *report, const struct th_case *one);

#endif

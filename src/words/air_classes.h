/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The room's minimum air against the extension classes: pigs live by it, so reports say so. */
#ifndef TURNHEAT_AIR_CLASSES_H
#define TURNHEAT_AIR_CLASSES_H

#include "report.h"
#include "turnheat/room.h"

/**
 * Adds a line, as the text `below_classes`, when the fans' minimum is less than the class of the
 * pigs' weight on some day; of several turns, for the one that falls shortest. TH_ERR_MEMORY, or
 * TH_ERR_RANGE when a start weight lies outside the growth curve.
 */
enum th_code th_report_air_classes(struct th_report *report, const struct th_room *room,
                                   struct th_error *err);

#endif

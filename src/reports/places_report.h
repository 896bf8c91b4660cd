/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The places with known weather, as a list. */
#ifndef TURNHEAT_PLACES_REPORT_H
#define TURNHEAT_PLACES_REPORT_H

#include "report.h"

/** All places whose name or state holds `word`, without regard to case; all with NULL. */
void th_places_report_named(struct th_report *report, const char *word);

/** The ten places nearest to a point, with their distance. */
void th_places_report_near(struct th_report *report, double latitude_deg, double longitude_deg);

#endif

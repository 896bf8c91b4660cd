/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The table of parameters as a report, for people and for pages that ask for values. */
#ifndef TURNHEAT_KEYS_REPORT_H
#define TURNHEAT_KEYS_REPORT_H

#include "report.h"

/** The keys of the section `word` ("air"), or of all with NULL. TH_ERR_USAGE when the word is
 * unknown. */
enum th_code th_keys_report(struct th_report *report, const char *word, struct th_error *err);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The head of a page: what it is about, with what weather, at what price, of what day. */
#ifndef TURNHEAT_ABOUT_H
#define TURNHEAT_ABOUT_H

#include "report.h"
#include "turnheat/case.h"

/** Adds the head's lines for `n` rooms (0: only today's date). */
void th_about(struct th_report *report, const struct th_case *cases, int n);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** `compare A --against B`: two barn files side by side. */
#ifndef TURNHEAT_AGAINST_H
#define TURNHEAT_AGAINST_H

#include "options.h"

/** Does the work of `compare` where --against is given. TH_ERR_USAGE unless there are two barns. */
enum th_code th_against_run(const struct th_arguments *arguments, struct th_error *err);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What of a barn is in its quotation. */
#ifndef TURNHEAT_QUOTED_H
#define TURNHEAT_QUOTED_H

#include "cases.h"

/** Sets the bits of the options that `turnheat quote` takes into the quotation of the first of
 * `cases`. Errors as th_quote_run(). */
enum th_code th_quoted_options(const struct th_arguments *arguments, struct th_cases *cases,
                               unsigned *options, struct th_error *err);

#endif

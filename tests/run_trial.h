/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One room over the counted seasons, alone. */
#ifndef TESTS_RUN_TRIAL_H
#define TESTS_RUN_TRIAL_H

#include "turnheat/trial.h"

static inline enum th_code run_trial(struct th_trial *trial, const struct th_room *room,
                                     const struct th_climate *climate, int first_year,
                                     int last_year, struct th_error *err)
{
    struct th_winters winters;
    enum th_code code = th_winters_run(&winters, room, climate, first_year, last_year, NULL, err);
    if (code == TH_OK)
        code = th_trial_of(&winters, room->name, trial, err);
    th_winters_finish(&winters);
    return code;
}

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What each number of a barn file does to the gas of a season. */
#ifndef TURNHEAT_BARN_EFFECTS_H
#define TURNHEAT_BARN_EFFECTS_H

#include "barn.h"
#include "turnheat/runs.h"

struct th_barn_effect {
    char name[TH_SECTION_MAX + TH_NAME_MAX]; /**< as th_barn_input has it: "room.length" */
    double
        gas_share; /**< change of the season's gas, of the gas as it is; NAN where nothing moves */
};

/** All zero is empty. */
struct th_barn_effects {
    int n;
    struct th_barn_effect *rows;
};

/**
 * Moves each number that th_barn_inputs() tells, given or default, by itself: up by a tenth, a
 * temperature by 1 °F, a count by at least one; where that is out of its range down by as much, and
 * the change is taken with the other sign. Runs the season of `year` in `runs`. Errors as
 * th_runs_gas(). Finish in any case.
 */
enum th_code th_barn_effects_find(const struct th_barn *barn, const struct th_climate *climate,
                                  int year, struct th_runs *runs, struct th_barn_effects *effects,
                                  struct th_error *err);

/** Of the input with this name, or NAN. */
double th_barn_effect_of(const struct th_barn_effects *effects, const char *name);

/** Frees; a second call is allowed. */
void th_barn_effects_finish(struct th_barn_effects *effects);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Variants of a barn on the farms drawn for it: what each would burn with the same deviates and in
 * the same winters as the barn itself, so that a difference is surer than either. ln (gas of the
 * variant / gas of the barn) is a surface of its own (gas_surface.h), fitted to full runs of both
 * at the same points; it is exact where every number is as the file has it.
 */
#ifndef TURNHEAT_BESIDE_H
#define TURNHEAT_BESIDE_H

#include "turnheat/outlook.h"
#include "turnheat/trial.h"
#include "turnheat/variant.h"

#define TH_BESIDE_MAX 16

/** One variant. */
struct th_beside_room {
    const struct th_room *room; /**< borrowed until th_beside_init() returns; NULL: left out */
    /** Added to ON and OFF with the response as given, at the low and at the high end of its band
     * (TH_AS_GIVEN, TH_OVERSHOOT_HALF, TH_OVERSHOOT_TWICE); linear in the factor between and
     * beyond.
     */
    double shift_k[TH_STAGE_LOW];
    const struct th_trial *trial; /**< all winters at shift_k[TH_AS_GIVEN]; borrowed likewise */
};

/** One variant's surface. */
struct th_beside_surface {
    bool found;       /**< false: somewhere within what is not known it cannot be run */
    double *ln_ratio; /**< of each winter, as the files have barn and variant */
    struct th_gas_surface surface;
};

struct th_beside {
    const struct th_outlook *outlook; /**< borrowed */
    int barn;
    int n;
    struct th_beside_surface surfaces[TH_BESIDE_MAX];
};

/**
 * Runs `n` ≤ TH_BESIDE_MAX variants of barn `barn` of `outlook`, which `one` holds, at the first
 * TH_OUTLOOK_FEW_RUNS points of its surface. A variant's numbers move as far as the barn's: what an
 * offer promises was not measured. What fails in a variant at some point makes it not found.
 * TH_ERR_INPUT with too many; otherwise as th_runs_gas() of the barn. Finish in any case.
 */
enum th_code th_beside_init(struct th_beside *beside, struct th_runs *runs,
                            const struct th_outlook *outlook, int barn, const struct th_case *one,
                            const struct th_beside_room *rooms, int n, struct th_error *err);

/**
 * Gas in J of one room of every variant in a mean winter on the farm drawn as `draw`; NAN where
 * none was found. What the surfaces miss of single runs is not added back: most of it is of one
 * winter, and a mean winter holds all (held against the long way, tests/test_joint_real.c).
 * TH_ERR_MEMORY.
 */
enum th_code th_beside_gas_j(const struct th_beside *beside, size_t draw, double *gas_j,
                             struct th_error *err);

/** Frees; a second call is allowed. */
void th_beside_finish(struct th_beside *beside);

#endif

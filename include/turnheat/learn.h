/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What is believed of the deviates of a farm (unknowns.h), and what measurements make of it. A
 * belief is a normal distribution; before anything was measured it is N(0, I). The most likely
 * deviates are found by least squares with the belief among the rows, their covariance is
 * C = (I + JᵀJ)⁻¹ in units of what was believed, and draws from N(most likely, 1.5 C) are weighed
 * by belief × likelihood ÷ proposal.
 */
#ifndef TURNHEAT_LEARN_H
#define TURNHEAT_LEARN_H

#include "turnheat/error.h"
#include "turnheat/room.h"
#include <stdbool.h>
#include <stddef.h>

/** Most deviates of a farm that measurements are weighed over. */
#define TH_LEARN_Z_MAX 64

/** N(z, spread spreadᵀ) of `n_z` deviates; n_z 0: N(0, I) of however many there are. */
struct th_belief {
    int n_z;
    double z[TH_LEARN_Z_MAX];
    double spread[TH_LEARN_Z_MAX][TH_LEARN_Z_MAX]; /**< lower triangle */
};

/** Deviates out of independent standard normal ones. */
void th_belief_at(const struct th_belief *belief, int n_z, const double *u, double *z);

/** Standard deviation of one deviate. */
double th_belief_sd(const struct th_belief *belief, int i);

/**
 * What the rooms of a farm bring along from earlier fits (`fitted` of each); n_z 0 where none does.
 * Fits are independent of each other: their precisions add. TH_ERR_INPUT when rooms of one fit
 * differ in what they share, or a fit is no distribution; TH_ERR_MEMORY.
 */
enum th_code th_belief_of_rooms(const struct th_room *const *rooms, int n, struct th_belief *belief,
                                struct th_error *err);

/**
 * The room at place `barn` of a farm takes `belief` along: its `fitted` z and ways are filled in.
 * Directions in which N(0, I) was narrowed by less than a hundredth are left out. TH_ERR_MEMORY.
 */
enum th_code th_belief_to_rooms(const struct th_belief *belief, int n, struct th_fitted *fitted,
                                struct th_error *err);

/** What was measured, as seen by deviates z. */
struct th_evidence {
    const struct th_belief *before;
    int n_z;
    int n_rows; /**< misfits in standard errors, independent of each other */
    void (*rows)(void *context, const double *z, double *rows);
    double (*ln_likelihood)(void *context, const double *z); /**< NULL: −½ Σ row² */
    void *context;
};

/** Draws that fit what was measured. */
struct th_draws {
    size_t n;
    double *z;        /**< n × n_z, taken in proportion to their weights */
    double effective; /**< (Σw)² / Σw² */
};

/**
 * The most likely deviates and their spread, and, where draws->n > 0, draws. TH_ERR_INPUT with more
 * than TH_LEARN_Z_MAX deviates; TH_ERR_NUMERIC when the fit does not converge or no draw fits;
 * TH_ERR_MEMORY.
 */
enum th_code th_learn_from(const struct th_evidence *evidence, struct th_belief *after,
                           struct th_draws *draws, struct th_error *err);

/** Distance of `z` from what was believed, in standard deviations, squared. */
double th_belief_distance2(const struct th_belief *belief, int n_z, const double *z);

#endif

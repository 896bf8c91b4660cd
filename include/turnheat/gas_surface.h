/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A room's gallons as a smooth function of what is not known of it (unknowns.h) and of the winter,
 * fitted to a few full runs. With y0 a winter's gallons at the barn file's own numbers, m the mean
 * of ln y0 over the winters and l = ln y0 − m, ln (y / y0) is quadratic in the deviates z and
 * linear in z l; it is 0 at z = 0. Curvatures are held down as far as predicts runs left out best
 * (ridge regression, its strength by leave-one-out error). What is left of the runs is kept, to be
 * added back to what is drawn.
 */
#ifndef TURNHEAT_GAS_SURFACE_H
#define TURNHEAT_GAS_SURFACE_H

#include "turnheat/unknowns.h"
#include <stddef.h>

#define TH_GAS_SURFACE_RUNS 128
/** Terms: x, x², x l and the products of two. */
#define TH_GAS_SURFACE_TERMS (3 * TH_UNKNOWNS + TH_UNKNOWNS * (TH_UNKNOWNS - 1) / 2)

/** One full run: where it is made and what came of it. */
struct th_gas_surface_run {
    double z[TH_UNKNOWNS];
    double reach[TH_UNKNOWNS];
    size_t winter;   /**< 0 … n_winters − 1 */
    double l;        /**< of that winter */
    double ln_ratio; /**< ln (y / y0), to be filled in */
};

struct th_gas_surface {
    double term[TH_GAS_SURFACE_TERMS];
    size_t n_runs;
    double residual[TH_GAS_SURFACE_RUNS]; /**< of each run in ln y, as if it had been left out */
    double error;                         /**< their root mean square: the cross-validated error */
};

/**
 * Sets the points of `n` runs of `room`, `n` ≤ TH_GAS_SURFACE_RUNS: Sobol points, winters
 * equally often. `ln_y0` are the n_winters ≥ 1 logarithms. TH_ERR_MEMORY.
 */
enum th_code th_gas_surface_points(const struct th_room *room, size_t n, size_t n_winters,
                                   const double *ln_y0, struct th_gas_surface_run *runs,
                                   struct th_error *err);

/** Fits to finished runs. TH_ERR_INPUT with none or too many, or a ratio that is not a number;
 * TH_ERR_NUMERIC, TH_ERR_MEMORY. */
enum th_code th_gas_surface_fit(size_t n, const struct th_gas_surface_run *runs,
                                struct th_gas_surface *surface, struct th_error *err);

/** A surface at one reach: ln (y / y0) = level + slope · l. */
struct th_gas_surface_line {
    double level, slope;
};

/** The surface at `reach` of a room's deviates. */
struct th_gas_surface_line th_gas_surface_at(const struct th_gas_surface *surface,
                                             const double reach[TH_UNKNOWNS]);

#endif

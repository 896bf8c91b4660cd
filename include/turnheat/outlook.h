/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What a farm may burn in a winter to come: every winter of the weather, each for thousands of
 * farms that fit what is known of this one. One distribution holds weather and barns together.
 * Gallons are US gallons of propane (therms with natural gas), all rooms of all barns.
 */
#ifndef TURNHEAT_OUTLOOK_H
#define TURNHEAT_OUTLOOK_H

#include "turnheat/case.h"
#include "turnheat/gas_surface.h"
#include "turnheat/learn.h"
#include "turnheat/runs.h"

/** Farms drawn. */
#define TH_OUTLOOK_DRAWS 4096
/** Runs of a surface where nothing was measured that would have to be weighed on it. */
#define TH_OUTLOOK_FEW_RUNS 32
/** Standard deviation of a turn's gallons from one turn to the next in the same barn and weather
 * (judgement): pigs, people and doors. */
#define TH_TURN_SD 0.07
/** How far the weather of a place read off statistics may be off, standard deviation in K (derived:
 * 0.9 °F), the same in all winters. */
#define TH_PLACE_ERROR_K (0.9 * 5.0 / 9.0)
/** Measured winters from which percentiles are printed. */
#define TH_OUTLOOK_WINTERS_ENOUGH 10

/** One barn file: a room and its copies. */
struct th_outlook_barn {
    const struct th_room *room; /**< borrowed */
    double *ln_y0;              /**< of each winter: ln gallons of one room as the file has it */
    double *l;                  /**< the same less its mean */
    double place; /**< generated winters: ln gallons for TH_PLACE_ERROR_K of colder weather */
    struct th_gas_surface surface;
};

struct th_outlook {
    int n_barns;
    struct th_outlook_barn *barns;
    size_t n_winters;
    int *years;              /**< of the winters: those counted for every barn */
    bool generated;          /**< the winters are not measured ones */
    int n_z;                 /**< deviates of a farm, see th_outlook_place() */
    struct th_belief belief; /**< of them, before any record: what fills taught of the rooms */
    size_t n_draws;
    double *z;     /**< n_draws × n_z */
    double *place; /**< n_draws: the place error of generated winters, in standard deviations */
    double *gal;   /**< n_draws × n_winters */
};

/** Where the deviate of a barn's number stands among the farm's n_z: barns share those of wider
 * scope. */
int th_outlook_place(int barn, enum th_unknown unknown);

/** Deviates of a farm of `n` barns. */
int th_outlook_deviates(int n);

/** The deviates of one barn out of those of the farm. */
void th_outlook_barn_z(int barn, const double *farm, double z[TH_UNKNOWNS]);

/**
 * Runs the barns as they are and at the points of their surfaces. No farm is drawn yet.
 * TH_ERR_COVERAGE without a winter that counts for all, TH_ERR_MODEL when a barn burns nothing,
 * otherwise as th_belief_of_rooms(), th_runs_winters() and th_gas_surface_fit(). Finish in any
 * case.
 */
enum th_code th_outlook_init(struct th_outlook *outlook, struct th_runs *runs,
                             const struct th_case *cases, int n, struct th_error *err);

/** The same with surfaces through TH_OUTLOOK_FEW_RUNS runs, the first of those points: enough where
 * a barn's variants are compared and nothing is learnt of it. */
enum th_code th_outlook_init_few(struct th_outlook *outlook, struct th_runs *runs,
                                 const struct th_case *cases, int n, struct th_error *err);

/** Draws farms from `belief`. TH_ERR_MEMORY. */
enum th_code th_outlook_draw(struct th_outlook *outlook, struct th_error *err);

/**
 * Gallons of the farms whose deviates stand in `outlook->z` in every winter: surface, what the
 * surface misses of its runs, and the change from turn to turn.
 */
enum th_code th_outlook_burn(struct th_outlook *outlook, struct th_error *err);

/** ln gallons of one room of a barn in a winter for a farm with deviates `z` (n_z of them), without
 * chance. */
double th_outlook_ln_gal(const struct th_outlook *outlook, int barn, size_t winter,
                         const double *z);

/**
 * ln gallons of one room of a barn in every winter for the farm drawn as `draw`, its place error
 * with them, without chance: `ln_gal` has n_winters places.
 */
void th_outlook_farm(const struct th_outlook *outlook, int barn, size_t draw, double *ln_gal);

/** What the range may be called. */
enum th_range_kind {
    TH_RANGE_P10_P90,          /**< ten or more measured winters: percentiles */
    TH_RANGE_GENERATED_10_90,  /**< generated winters */
    TH_RANGE_FEW_WINTERS_10_90 /**< "the range over these winters and what is not known" */
};

/** What a range over `n_winters` of its winters is. */
enum th_range_kind th_range_kind_of(const struct th_outlook *outlook, size_t n_winters);

/** Low, middle and high: the 10th, 50th and 90th percent of all draws. */
struct th_range {
    enum th_range_kind kind;
    double low, middle, high;
    double mean;
    double alone_lowest, alone_highest; /**< the winters alone: the barns as their files have
                                           them, or as they most likely are */
};

/** Of the gallons. TH_ERR_INPUT before any draw, TH_ERR_MEMORY. */
enum th_code th_outlook_range(const struct th_outlook *outlook, struct th_range *range,
                              struct th_error *err);

/** Gallons of a winter with every number as the files have it, all rooms. */
double th_outlook_default_gal(const struct th_outlook *outlook, size_t winter);

/** Frees; NULL and a second call are allowed. */
void th_outlook_finish(struct th_outlook *outlook);

#endif

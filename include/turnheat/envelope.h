/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The shell: thermal resistance of walls and ceilings, slab edges and inside surfaces. R in m²K/W,
 * from air to air when films are among the layers.
 */
#ifndef TURNHEAT_ENVELOPE_H
#define TURNHEAT_ENVELOPE_H

#include "turnheat/error.h"
#include "turnheat/units.h"
#include <stdbool.h>

/** Surface films, m²K/W (ASHRAE Fundamentals, from memory): still air at a wall, still air below a
 * ceiling losing heat upward, 15 mph wind. */
#define TH_FILM_WALL_M2K_W (0.68 * TH_R_SI_PER_US)
#define TH_FILM_CEILING_M2K_W (0.61 * TH_R_SI_PER_US)
#define TH_FILM_OUTSIDE_M2K_W (0.17 * TH_R_SI_PER_US)

#define TH_LAYERS_MAX 12

/** One layer of an assembly: its R between the framing and where framing crosses it. Equal for a
 * layer that runs on, films included. */
struct th_layer {
    double clear_m2k_w;
    double framed_m2k_w;
};

/** A building material. `piece` says whether `r` is m²K/W of one piece or m K/W of thickness. */
struct th_material {
    const char *name;
    bool piece;
    double r;
    const char *source;
};

/** A whole wall, ceiling or curtain with its films. */
struct th_assembly {
    const char *name;
    const char *source;
    double framing_share; /**< of the area, 0…1 */
    int n_layers;
    struct th_layer layers[TH_LAYERS_MAX];
};

/** Heat lost at the edge of an unheated floor slab, W per metre of edge and K. */
struct th_slab_edge {
    const char *name;
    double f_w_mk;
    const char *source;
};

/** The material of that name (lower case, as in the list), or NULL. */
const struct th_material *th_material_find(const char *name);

/** All materials; `n` receives their number. */
const struct th_material *th_material_list(int *n);

/** The assembly of that name, or NULL. */
const struct th_assembly *th_assembly_find(const char *name);

/** All assemblies; `n` receives their number. */
const struct th_assembly *th_assembly_list(int *n);

/** The slab edge of that name, or NULL. */
const struct th_slab_edge *th_slab_edge_find(const char *name);

/** All slab edges; `n` receives their number. */
const struct th_slab_edge *th_slab_edge_list(int *n);

/**
 * R of `n_layers` layers by parallel paths: 1/R = (1 - s)/ΣR_clear + s/ΣR_framed (ASHRAE
 * Fundamentals, "isothermal and parallel-path methods"). TH_ERR_RANGE unless 1 ≤ n ≤ TH_LAYERS_MAX,
 * 0 ≤ share ≤ 1, every R ≥ 0 and finite and both sums > 0.
 */
enum th_code th_envelope_r(const struct th_layer *layers, int n_layers, double framing_share,
                           double *r_m2k_w, struct th_error *err);

/** Up to this difference loose fill keeps its R. */
#define TH_LOOSE_FILL_FULL_BELOW_K 20.0

/**
 * Share of its rated R that low-density loose-fill fiberglass on an attic floor keeps when the room
 * is `delta_k` warmer than the attic. Wilkes & Childs (Oak Ridge, 1992) measured 35–50 % of R lost
 * at large differences. The shape is our judgement: 1 up to 20 K, linear to 0.575 (the middle of
 * that band) at 43 K, constant beyond.
 */
double th_envelope_loose_fill_factor(double delta_k);

/** What th_envelope_attic_delta_k() is where the loose fill has lost some of its R. */
double th_envelope_loose_delta_k(double plain_w_k, double loose_w_k, double onward_w_k,
                                 double lift_k);

/**
 * How much warmer the room is than a massless attic, K, when heat comes up through `plain_w_k` and
 * through `loose_w_k` (at rated R) of such loose fill and goes on through `onward_w_k` (roof and
 * air drawn through) to outdoors, `lift_k` colder than the room. The R kept depends on the answer:
 * (plain + loose/factor(d)) d = onward (lift - d), met exactly. `lift_k` when nothing conducts.
 */
inline double th_envelope_attic_delta_k(double plain_w_k, double loose_w_k, double onward_w_k,
                                        double lift_k)
{
    const double all_w_k = plain_w_k + loose_w_k + onward_w_k;
    const double rated_k = all_w_k > 0.0 ? onward_w_k * lift_k / all_w_k : lift_k;
    return loose_w_k > 0.0 && rated_k > TH_LOOSE_FILL_FULL_BELOW_K
               ? th_envelope_loose_delta_k(plain_w_k, loose_w_k, onward_w_k, lift_k)
               : rated_k;
}

/**
 * Temperature, °C, of the inside surface of an assembly of `r_total` (films included, > 0) whose
 * inside film is `r_film`: T - (T - T_out) r_film/r_total.
 */
double th_envelope_inside_surface_c(double room_c, double out_c, double r_total_m2k_w,
                                    double r_film_m2k_w);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/envelope.h"

#include "bounds.h"

#include <gsl/gsl_poly.h>
#include <math.h>

#define LOOSE_FILL_LOWEST_FROM_K 43.0
#define LOOSE_FILL_LOWEST 0.575

enum th_code th_envelope_r(const struct th_layer *layers, int n_layers, double framing_share,
                           double *r_m2k_w, struct th_error *err)
{
    if (n_layers < 1 || n_layers > TH_LAYERS_MAX)
        return th_fail(err, TH_ERR_RANGE, "an assembly has %d layers; 1 to %d are allowed",
                       n_layers, TH_LAYERS_MAX);
    if (!(framing_share >= 0.0 && framing_share <= 1.0))
        return th_fail(err, TH_ERR_RANGE, "the framing share is %g; expected 0 to 1",
                       framing_share);
    double clear_m2k_w = 0.0;
    double framed_m2k_w = 0.0;
    for (int i = 0; i < n_layers; i++) {
        const struct th_layer layer = layers[i];
        if (!(layer.clear_m2k_w >= 0.0 && layer.framed_m2k_w >= 0.0))
            return th_fail(err, TH_ERR_RANGE, "layer %d has a negative R", i + 1);
        clear_m2k_w += layer.clear_m2k_w;
        framed_m2k_w += layer.framed_m2k_w;
    }
    if (!(clear_m2k_w > 0.0 && framed_m2k_w > 0.0 && isfinite(clear_m2k_w + framed_m2k_w)))
        return th_fail(err, TH_ERR_RANGE, "the layers add up to no R or to an endless one");
    *r_m2k_w = 1.0 / ((1.0 - framing_share) / clear_m2k_w + framing_share / framed_m2k_w);
    return TH_OK;
}

double th_envelope_loose_fill_factor(double delta_k)
{
    const double way = (delta_k - TH_LOOSE_FILL_FULL_BELOW_K) /
                       (LOOSE_FILL_LOWEST_FROM_K - TH_LOOSE_FILL_FULL_BELOW_K);
    return 1.0 - (1.0 - LOOSE_FILL_LOWEST) * th_within(way, 0.0, 1.0);
}

extern inline double th_envelope_attic_delta_k(double plain_w_k, double loose_w_k,
                                               double onward_w_k, double lift_k);

double th_envelope_loose_delta_k(double plain_w_k, double loose_w_k, double onward_w_k,
                                 double lift_k)
{
    const double lowest_w_k = plain_w_k + loose_w_k / LOOSE_FILL_LOWEST;
    const double lowest_k = onward_w_k * lift_k / (lowest_w_k + onward_w_k);
    if (lowest_k >= LOOSE_FILL_LOWEST_FROM_K)
        return lowest_k;
    /* Between the two the factor is a - b d, and the balance times it a quadratic in d. */
    const double b =
        (1.0 - LOOSE_FILL_LOWEST) / (LOOSE_FILL_LOWEST_FROM_K - TH_LOOSE_FILL_FULL_BELOW_K);
    const double a = 1.0 + b * TH_LOOSE_FILL_FULL_BELOW_K;
    const double always_w_k = plain_w_k + onward_w_k;
    const double driven_w = onward_w_k * lift_k;
    double d_k, beyond_k;
    gsl_poly_solve_quadratic(b * always_w_k, -(a * always_w_k + loose_w_k + b * driven_w),
                             a * driven_w, &d_k, &beyond_k);
    return d_k;
}

double th_envelope_inside_surface_c(double room_c, double out_c, double r_total_m2k_w,
                                    double r_film_m2k_w)
{
    return room_c - (room_c - out_c) * r_film_m2k_w / r_total_m2k_w;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/cycle.h"

#include <math.h>

/* What one pass above the ramp start costs. Times in s, heat in J. */
struct ramp {
    double rise_s;  /* from the ramp start up, until the heat stops */
    double fall_s;  /* from then back down to the ramp start */
    double waste_j; /* thrown out on the way */
    double peak_k;  /* above the ramp start */
    bool beyond;
};

static double positive(double x)
{
    return x > 0.0 ? x : 0.0;
}

/* The ramp never reaches its top: the room follows one exponential up and one down. */
static void pass_within(const struct th_cycle_in *in, double gain_w, double loss_w, double rise_s,
                        struct ramp *out)
{
    const double slope = in->ua_w_k + in->ramp_w_k;
    const double peak = gain_w / slope * (1.0 - exp(-slope * rise_s / in->capacity_j_k));
    out->peak_k = peak;
    out->fall_s = in->capacity_j_k / slope * log(1.0 + slope * peak / loss_w);
    out->waste_j = in->ramp_w_k / slope * (gain_w * rise_s - loss_w * out->fall_s);
    out->beyond = false;
}

/* Above the top of the band the fans throw out K·B however warm it gets. */
static void pass_beyond(const struct th_cycle_in *in, double gain_w, double loss_w, double rise_s,
                        struct ramp *out)
{
    const double c = in->capacity_j_k, u = in->ua_w_k, k = in->ramp_w_k, band = in->ramp_band_k;
    const double slope = u + k;
    const double up_s = -c / slope * log1p(-slope * band / gain_w);
    const double gain_top = gain_w - k * band, loss_top = loss_w + k * band;
    const double settle_k = gain_top / u;
    out->peak_k = settle_k - (settle_k - band) * exp(-u * (rise_s - up_s) / c);
    const double back_s = c / u * log((out->peak_k + loss_top / u) / (band + loss_top / u));
    const double down_s = c / slope * log1p(slope * band / loss_w);
    out->fall_s = back_s + down_s;
    out->waste_j = k / slope * (gain_w * up_s - c * band) + k * band * (rise_s - up_s + back_s) +
                   k / slope * (c * band - loss_w * down_s);
    out->beyond = true;
}

static void pass_ramp(const struct th_cycle_in *in, double hot_c, struct ramp *out)
{
    const double tau = in->capacity_j_k / in->ua_w_k;
    const double gain_w = in->ua_w_k * (hot_c - in->ramp_c);
    const double loss_w = in->ua_w_k * (in->ramp_c - in->free_c);
    out->rise_s = in->dead_time_s - tau * log((hot_c - in->off_c) / (hot_c - in->ramp_c));
    pass_within(in, gain_w, loss_w, out->rise_s, out);
    if (out->peak_k > in->ramp_band_k)
        pass_beyond(in, gain_w, loss_w, out->rise_s, out);
}

static void cycle(const struct th_cycle_in *in, double hot_c, struct th_cycle *out)
{
    const double tau = in->capacity_j_k / in->ua_w_k;
    const double lag = exp(-in->dead_time_s / tau);
    double waste_j = 0.0;
    out->low_c = in->free_c + (in->on_c - in->free_c) * lag;
    out->burn_s = tau * log((hot_c - out->low_c) / (hot_c - in->off_c)) + in->dead_time_s;
    out->high_c = hot_c - (hot_c - in->off_c) * lag;
    if (out->high_c <= in->ramp_c) {
        out->fall_s =
            tau * log((out->high_c - in->free_c) / (in->on_c - in->free_c)) + in->dead_time_s;
    } else {
        struct ramp ramp;
        pass_ramp(in, hot_c, &ramp);
        waste_j = positive(ramp.waste_j);
        out->high_c = in->ramp_c + ramp.peak_k;
        out->beyond_stage = ramp.beyond;
        out->fall_s = ramp.fall_s + tau * log((in->ramp_c - in->free_c) / (in->on_c - in->free_c)) +
                      in->dead_time_s;
    }
    const double period_s = out->burn_s + out->fall_s;
    out->lit = out->burn_s / period_s;
    out->waste_w = waste_j / period_s;
    out->starts_h = 3600.0 / period_s;
    out->mean_c = in->free_c + (in->heat_w * out->lit - out->waste_w) / in->ua_w_k;
}

enum th_code th_cycle_solve(const struct th_cycle_in *in, struct th_cycle *out,
                            struct th_error *err)
{
    *out = (struct th_cycle){0};
    if (!(in->ua_w_k > 0.0))
        return th_fail(err, TH_ERR_MODEL, "the room loses no more heat when warmer: %g W/K",
                       in->ua_w_k);
    if (!(in->on_c < in->off_c) || !(in->off_c <= in->ramp_c))
        return th_fail(err, TH_ERR_MODEL,
                       "heater ON %.2f, OFF %.2f and fan ramp %.2f degC are out of order", in->on_c,
                       in->off_c, in->ramp_c);
    const double hot_c = in->free_c + in->heat_w / in->ua_w_k;
    if (in->free_c >= in->on_c) {
        out->mean_c = out->low_c = out->high_c = in->free_c;
    } else if (hot_c <= in->off_c) {
        out->lit = 1.0;
        out->mean_c = out->low_c = out->high_c = hot_c;
    } else {
        cycle(in, hot_c, out);
    }
    return TH_OK;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/unknowns.h"

#include "turnheat/herd.h"
#include "turnheat/units.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* A band: how far a number moves at its low and its high end, and what one calls it. */
struct band {
    double low, high;
    const char *text;
};

struct row {
    const char *text;
    enum th_scope scope;
    struct band usual; /* as default */
    struct band given; /* where the number was given; without a text the usual one */
};

/* Moves are differences for the first and third, factors (in logarithms) for the others. The set
 * point's usual band is that of young pigs, in K; see set_band_k(). */
static const struct row rows[TH_UNKNOWNS] = {
    [TH_UNKNOWN_SENSIBLE] = {.text = "share of pig heat felt as warmth",
                             .scope = TH_SCOPE_ALL,
                             .usual = {-0.10, 0.10, "-0.10 to +0.10"}},
    [TH_UNKNOWN_PIG_HEAT] = {.text = "total heat of the pigs",
                             .scope = TH_SCOPE_ALL,
                             .usual = {0.90, 1.10, "-10 % to +10 %"}},
    [TH_UNKNOWN_ACTIVITY] = {.text = "day and night activity",
                             .scope = TH_SCOPE_ALL,
                             .usual = {0.0, 0.43, "0 to 0.43"}},
    [TH_UNKNOWN_AIR] = {.text = "minimum air",
                        .scope = TH_SCOPE_FARM,
                        .usual = {0.75, 1.25, "-25 % to +25 %"},
                        .given = {0.90, 1.10, "-10 % to +10 %"}},
    [TH_UNKNOWN_SET_POINT] = {.text = "set point",
                              .scope = TH_SCOPE_FARM,
                              .usual = {-2.0 * TH_K_PER_F, 2.0 * TH_K_PER_F,
                                        "-2 to +2 °F, -8 to +5 °F from 75 lb on"},
                              .given = {-TH_K_PER_F, TH_K_PER_F, "-1 to +1 °F"}},
    [TH_UNKNOWN_UA] = {.text = "heat through walls and ceiling",
                       .scope = TH_SCOPE_BARN,
                       .usual = {0.90, 1.10, "-10 % to +10 %"}},
    [TH_UNKNOWN_LEAKAGE] = {.text = "leakage",
                            .scope = TH_SCOPE_BARN,
                            .usual = {0.50, 2.0, "half to twice"},
                            .given = {0.75, 1.25, "-25 % to +25 %"}},
    [TH_UNKNOWN_RESPONSE] = {.text = "how far the room coasts after the heaters stop",
                             .scope = TH_SCOPE_BARN,
                             .usual = {0.50, 2.0, "half to twice"},
                             .given = {0.75, 1.25, "-25 % to +25 %"}}};

const char *th_unknown_text(enum th_unknown unknown)
{
    return rows[unknown].text;
}

enum th_scope th_unknown_scope(enum th_unknown unknown)
{
    return rows[unknown].scope;
}

bool th_unknown_is_given(const struct th_room *room, enum th_unknown unknown)
{
    switch (unknown) {
    case TH_UNKNOWN_AIR:
        return room->known.minimum_air;
    case TH_UNKNOWN_SET_POINT:
        return room->known.set_points;
    case TH_UNKNOWN_LEAKAGE:
        return room->known.leakage;
    case TH_UNKNOWN_RESPONSE:
        return room->response.has_overshoot;
    default:
        return false;
    }
}

static const struct band *band_of(const struct th_room *room, enum th_unknown unknown)
{
    const struct row *row = &rows[unknown];
    return row->given.text && th_unknown_is_given(room, unknown) ? &row->given : &row->usual;
}

const char *th_unknown_band(const struct th_room *room, enum th_unknown unknown)
{
    return band_of(room, unknown)->text;
}

/* The part of the way to the low (z < 0) or the high end. */
static double by_difference(const struct band *band, double z)
{
    return z * (z < 0.0 ? -band->low : band->high) / TH_UNKNOWN_EDGE_SD;
}

static double by_factor(const struct band *band, double z)
{
    return exp(z * log(z < 0.0 ? 1.0 / band->low : band->high) / TH_UNKNOWN_EDGE_SD);
}

/* A share of the mean such as ± 10 %: the factor itself is normal, not its logarithm. */
static double by_share(const struct band *band, double z)
{
    return 1.0 + z * (z < 0.0 ? 1.0 - band->low : band->high - 1.0) / TH_UNKNOWN_EDGE_SD;
}

static double activity_at(const struct band *band, double now, double z)
{
    const double end = z < 0.0 ? band->low : band->high;
    return fmax(now + fabs(z) / TH_UNKNOWN_EDGE_SD * (end - now), 0.0);
}

/* Published strategies for pigs above 75 lb lie up to 8 °F below and 5 °F above the default; to 30
   lb 2 °F either way, growing in between. */
static struct band set_band_k(double mass_kg)
{
    const double lb = mass_kg / TH_KG_PER_LB;
    const double share = fmin(fmax((lb - 30.0) / (75.0 - 30.0), 0.0), 1.0);
    return (struct band){.low = -TH_K_PER_F * (2.0 + share * (8.0 - 2.0)),
                         .high = TH_K_PER_F * (2.0 + share * (5.0 - 2.0))};
}

/* Default tables run over the days of the growth curve or over weight. */
static void move_default_set_points(struct th_setpoints *set, double z)
{
    for (int i = 0; i < set->set_c.n; i++) {
        const double x = set->set_c.x[i];
        const struct band band = set_band_k(set->by == TH_BY_WEIGHT ? x : th_herd_gompertz_kg(x));
        set->set_c.y[i] += by_difference(&band, z);
    }
}

static void move_air(struct th_room *room, const struct band *band, double z)
{
    const double factor = by_share(band, z);
    room->air.minimum_share *= factor;
    if (!room->known.fan_floor)
        room->air.floor_m3_s *= factor;
}

void th_unknown_move(struct th_room *room, enum th_unknown unknown, double z)
{
    const struct band *band = band_of(room, unknown);
    z = fmin(fmax(z, -TH_UNKNOWN_CUT_SD), TH_UNKNOWN_CUT_SD);
    switch (unknown) {
    case TH_UNKNOWN_SENSIBLE:
        room->pigs.k_s += by_difference(band, z);
        break;
    case TH_UNKNOWN_PIG_HEAT:
        room->pigs.heat_factor *= by_share(band, z);
        break;
    case TH_UNKNOWN_ACTIVITY:
        room->pigs.activity = activity_at(band, room->pigs.activity, z);
        break;
    case TH_UNKNOWN_AIR:
        move_air(room, band, z);
        break;
    case TH_UNKNOWN_SET_POINT:
        if (room->known.set_points)
            room->calibration.set_shift_k += by_difference(band, z);
        else
            move_default_set_points(&room->setpoints, z);
        break;
    case TH_UNKNOWN_UA:
        room->calibration.ua_factor *= by_share(band, z);
        break;
    case TH_UNKNOWN_LEAKAGE:
        room->air.leak_cm2 *= by_factor(band, z);
        break;
    case TH_UNKNOWN_RESPONSE:
        room->response.factor *= by_factor(band, z);
        break;
    case TH_UNKNOWNS:
        break;
    }
}

void th_unknowns_move(struct th_room *room, const double z[TH_UNKNOWNS])
{
    for (int i = 0; i < TH_UNKNOWNS; i++)
        th_unknown_move(room, (enum th_unknown)i, z[i]);
}

static double reach_of(const struct th_room *room, enum th_unknown unknown, double z)
{
    const struct band grown_k = set_band_k(HUGE_VAL);
    const double now = room->pigs.activity;
    z = fmin(fmax(z, -TH_UNKNOWN_CUT_SD), TH_UNKNOWN_CUT_SD);
    if (unknown == TH_UNKNOWN_SET_POINT && !room->known.set_points)
        return by_difference(&grown_k, z) / by_difference(&grown_k, 1.0);
    if (unknown == TH_UNKNOWN_ACTIVITY) {
        const struct band *band = band_of(room, unknown);
        const double one = activity_at(band, now, 1.0) - now;
        return one > 0.0 ? (activity_at(band, now, z) - now) / one : z;
    }
    return z;
}

void th_unknowns_reach(const struct th_room *room, const double z[TH_UNKNOWNS],
                       double reach[TH_UNKNOWNS])
{
    for (int i = 0; i < TH_UNKNOWNS; i++)
        reach[i] = reach_of(room, (enum th_unknown)i, z[i]);
}

double th_unknown_deviate(double probability)
{
    const double below = gsl_cdf_ugaussian_P(-TH_UNKNOWN_CUT_SD);
    const double within = fmin(fmax(probability, 0.0), 1.0) * (1.0 - 2.0 * below);
    return gsl_cdf_ugaussian_Pinv(below + within);
}

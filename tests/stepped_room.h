/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A room with a thermostat for every stage, integrated by GSL: what the heaters' closed forms are
 * held against. It shares the description of the room with src/core and nothing else. */
#ifndef TESTS_STEPPED_ROOM_H
#define TESTS_STEPPED_ROOM_H

#include "turnheat/heating.h"
#include "turnheat/units.h"
#include <stdbool.h>

#define F(difference) ((difference)*TH_K_PER_F)
#define BTUH(power) ((power)*TH_W_PER_BTUH)
#define UA(slope) ((slope)*TH_UA_SI_PER_US)
#define PENDING_MAX 8

/* Loss = at_w + slope·(T - ref) + ½·bend·(T - ref)². */
struct loss {
    double ref_c, at_w, slope_w_k, bend_w_k2;
};

struct thermostat {
    double on_c, off_c, heat_w;
    double low, band_k; /* a valve that follows the temperature while lit; band 0: full fire */
    double burners;     /* that start with this stage */
    bool wanted, lit;
    int n_pending; /* switches decided but not yet felt */
    double pending_s[PENDING_MAX];
};

struct stepped_room {
    struct loss loss;
    double ramp_c, ramp_band_k, ramp_w_k, capacity_j_k, dead_time_s;
    int n;
    struct thermostat stages[TH_STAGES_MAX];
};

struct observed {
    double time_s, heat_w, waste_w, mean_c, starts_h, low_c, high_c;
};

double loss_w(const struct loss *loss, double temp_c);

/* The room of E2: 2,650 Btu/°F, first stage 600 cfm more per °F with air 80 °F colder. */
struct stepped_room room_of(double load_w, double heat_w, double slope_w_k, double delay,
                            double ramp_above_off_k);

/* Measures from the first start of a burner after `settle_s` to the first one at least `span_s`
 * later, so that whole cycles are seen; without starts, over `limit_s`. */
struct observed observe(struct stepped_room *room, double from_c, double settle_s, double span_s,
                        double limit_s);

/* Rounded, so that the committed page does not depend on a compiler's last digits. */
double to_thousandths(double value);

#endif

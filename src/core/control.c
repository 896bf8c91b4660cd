/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the stages of heating.h do within one hour. */
#include "turnheat/control.h"

#include "bounds.h"
#include "swing.h"
#include "turnheat/cycle.h"
#include <math.h>

/* A stage burning at `fire` of its input for the share `lit` of the hour. */
static void burn(struct th_heating_out *out, const struct th_stage *stage, double fire, double lit)
{
    const double gas_w = stage->input_w * fire * lit;
    const double pilot_w = stage->pilot_w * (1.0 - lit);
    out->gas_w += gas_w;
    out->heat_w += gas_w * stage->share;
    out->blower_w += stage->blower_w * lit;
    out->pilot_gas_w += pilot_w;
    out->pilot_heat_w += pilot_w * stage->pilot_share;
    out->added_w +=
        stage->share * gas_w + (stage->blower_w - stage->pilot_w * stage->pilot_share) * lit;
    out->heater_hours += stage->units * lit;
    out->room_hours = th_greater(out->room_hours, lit);
    if (!stage->vented)
        out->unvented_w += gas_w + pilot_w;
}

/* Not told by starts: the second fire of a two-stage heater swings the room without a burner
 * starting. */
static bool swings(const struct th_heating_out *out)
{
    return out->high_c > out->low_c;
}

static void settle(const struct th_heating_in *in, struct th_heating_out *out)
{
    out->mean_c = in->free_c + (out->added_w - out->waste_w) / in->ua_w_k;
    if (!swings(out))
        out->low_c = out->high_c = out->mean_c;
}

static enum th_code run_cycle(const struct th_heating *heating, const struct th_heating_in *in,
                              const struct th_stage *stage, double free_c, double fire,
                              struct th_heating_out *out, struct th_error *err)
{
    const double pilots_w = stage->pilot_w * stage->pilot_share;
    const struct th_cycle_in cycle_in = {.on_c = in->set_c - stage->on_k,
                                         .off_c = in->set_c - stage->off_k,
                                         .free_c = free_c,
                                         .ua_w_k = in->ua_w_k,
                                         .heat_w = stage->input_w * stage->share * fire +
                                                   stage->blower_w - pilots_w,
                                         .capacity_j_k = heating->capacity_j_k,
                                         .dead_time_s = heating->dead_time_s,
                                         .ramp_c = in->ramp_c,
                                         .ramp_band_k = in->ramp_band_k,
                                         .ramp_w_k = in->ramp_w_k};
    struct th_cycle cycle;
    const enum th_code code = th_cycle_solve(&cycle_in, &cycle, err);
    if (code != TH_OK)
        return code;
    burn(out, stage, fire, cycle.lit);
    out->waste_w = cycle.waste_w;
    out->starts = cycle.starts_h * stage->units;
    out->low_c = cycle.low_c;
    out->high_c = cycle.high_c;
    out->beyond_stage = cycle.beyond_stage;
    return TH_OK;
}

/* Fire falls from 1 at OFF - band to `low` at OFF; below that the stage cycles at low fire. */
static enum th_code run_modulating(const struct th_heating *heating, const struct th_heating_in *in,
                                   const struct th_stage *stage, double free_c,
                                   struct th_heating_out *out, struct th_error *err)
{
    const double off_c = in->set_c - stage->off_k;
    const double idle_w = stage->blower_w - stage->pilot_w * stage->pilot_share;
    const double full_w = stage->input_w * stage->share;
    if (stage->low * full_w + idle_w >= in->ua_w_k * (off_c - free_c))
        return run_cycle(heating, in, stage, free_c, stage->low, out, err);
    const double per_k = full_w * (1.0 - stage->low) / stage->band_k;
    const double temp_c =
        (full_w * stage->low + idle_w + per_k * off_c + in->ua_w_k * free_c) / (in->ua_w_k + per_k);
    const double fire = stage->low + (1.0 - stage->low) * (off_c - temp_c) / stage->band_k;
    burn(out, stage, th_lesser(fire, 1.0), 1.0);
    return TH_OK;
}

static void run_ideal(const struct th_heating_in *in, const struct th_stage *stage, double free_c,
                      struct th_heating_out *out)
{
    const double hold_c = in->set_c - 0.5 * (stage->on_k + stage->off_k);
    const double most_w = stage->added_w;
    const double lit = th_within(in->ua_w_k * (hold_c - free_c) / most_w, 0.0, 1.0);
    burn(out, stage, 1.0, lit);
}

static enum th_code run_stage(const struct th_heating *heating, const struct th_heating_in *in,
                              const struct th_stage *stage, double free_c,
                              struct th_heating_out *out, struct th_error *err)
{
    switch (stage->law) {
    case TH_LAW_MODULATE:
        return run_modulating(heating, in, stage, free_c, out, err);
    case TH_LAW_IDEAL:
        run_ideal(in, stage, free_c, out);
        return TH_OK;
    case TH_LAW_CYCLE:
    default:
        return run_cycle(heating, in, stage, free_c, 1.0, out, err);
    }
}

/* Temperature at which the stage is sure to be burning fully. */
static double full_below_c(const struct th_heating_in *in, const struct th_stage *stage)
{
    const double off_c = in->set_c - stage->off_k;
    if (stage->law == TH_LAW_MODULATE)
        return off_c - stage->band_k;
    return stage->law == TH_LAW_IDEAL ? in->set_c - 0.5 * (stage->on_k + stage->off_k) : off_c;
}

/* Runs `active` with the stages before it burning all hour and those after it off. */
static enum th_code run_with(const struct th_heating *heating, const struct th_heating_in *in,
                             const struct th_stage *stages, int n, int active,
                             struct th_heating_out *out, struct th_error *err)
{
    *out = (struct th_heating_out){0};
    double free_c = in->free_c;
    for (int i = 0; i < active; i++) {
        burn(out, &stages[i], 1.0, 1.0);
        free_c += stages[i].added_w / in->ua_w_k;
    }
    if (active < n) {
        const enum th_code code = run_stage(heating, in, &stages[active], free_c, out, err);
        if (code != TH_OK)
            return code;
    }
    for (int i = active + 1; i < n; i++)
        burn(out, &stages[i], 1.0, 0.0);
    out->all_on = active == n;
    settle(in, out);
    return TH_OK;
}

/* Whether the room, with `active` alone at work, comes where another stage would wake or stop. */
static bool meets_others(const struct th_heating_in *in, const struct th_stage *stages, int n,
                         int active, const struct th_heating_out *out)
{
    bool meets = false;
    for (int i = 0; i < active && active < n; i++)
        meets |= out->high_c > full_below_c(in, &stages[i]);
    for (int i = active + 1; i < n; i++)
        meets |= out->low_c < in->set_c - stages[i].on_k;
    for (int i = 0; i < n; i++)
        meets &= stages[i].law != TH_LAW_IDEAL;
    return meets;
}

static int active_stage(const struct th_heating_in *in, const struct th_stage *stages, int n)
{
    double hot_c = in->free_c;
    for (int i = 0; i < n; i++) {
        hot_c += stages[i].added_w / in->ua_w_k;
        if (hot_c > full_below_c(in, &stages[i]))
            return i;
    }
    return n;
}

static enum th_code run_swing(const struct th_heating *heating, const struct th_heating_in *in,
                              int active, struct th_heating_out *out, struct th_error *err)
{
    struct th_swing swing;
    const enum th_code code = th_swing_solve(heating, in, active, &swing, err);
    if (code != TH_OK)
        return code;
    *out = (struct th_heating_out){.waste_w = swing.waste_w,
                                   .low_c = swing.low_c,
                                   .high_c = swing.high_c,
                                   .beyond_stage = swing.high_c > in->ramp_c + in->ramp_band_k,
                                   .all_on = swing.steady,
                                   .interact = true};
    for (int i = 0; i < heating->n; i++) {
        const struct th_swing_stage *use = &swing.stages[i];
        burn(out, &heating->stages[i], use->lit > 0.0 ? use->fire / use->lit : 0.0, use->lit);
        out->starts += use->starts_h * heating->stages[i].units;
        out->all_on &= use->fire >= 1.0;
    }
    out->room_hours = swing.any_lit;
    settle(in, out);
    return TH_OK;
}

enum th_code th_heating_solve(const struct th_heating *heating, const struct th_heating_in *in,
                              struct th_heating_out *out, struct th_error *err)
{
    const int active = active_stage(in, heating->stages, heating->n);
    const enum th_code code = run_with(heating, in, heating->stages, heating->n, active, out, err);
    if (code == TH_OK && meets_others(in, heating->stages, heating->n, active, out))
        return run_swing(heating, in, active, out, err);
    return code;
}

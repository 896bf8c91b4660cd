/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "swing.h"

#include "bounds.h"

#include <math.h>

/* Switches decided but not yet felt, of all stages. */
#define WAITING_MAX 32
#define STARTS_MAX 128
/* States closer than this are the same. */
#define SAME_K 1e-7
#define SAME_S 1e-4
/* A switch due within this is due now. */
#define DUE_S 1e-7

/* One stage's thermostat and burner. */
struct relay {
    double on_c, off_c, idle_w, full_w;
    bool modulates;
    double low, band_k;
};

/* What is summed over a stretch of time. */
struct sums {
    double time_s, waste_j, any_lit_s;
    struct {
        double lit_s, fire_s, starts;
    } of[TH_STAGES_MAX];
};

/* What changes. Every switch is felt one dead time after it was decided, so that they queue. */
struct state {
    double temp_c;
    bool wanted[TH_STAGES_MAX], lit[TH_STAGES_MAX];
    unsigned first_waiting, n_waiting;
    struct {
        double felt_s;
        int stage;
    } waiting[WAITING_MAX]; /* in a ring */
    struct sums sums;
};

/* Of the arrays the first `n` are in use. */
struct room {
    const struct th_heating *heating;
    const struct th_heating_in *in;
    int n;
    struct relay relays[TH_STAGES_MAX];
    double low_c, high_c;
    double steady_w; /* from lit stages that do not modulate */
    bool any_lit, any_modulates;
    struct state now;
};

/* dT/dt = (heat - slope·T)/capacity as long as T stays between two kinks. */
struct stretch {
    double slope_w_k, end_c; /* end_c: where it would settle */
};

static double fire_at(const struct relay *relay, double temp_c)
{
    if (!relay->modulates)
        return 1.0;
    const double part = th_within((relay->off_c - temp_c) / relay->band_k, 0.0, 1.0);
    return relay->low + (1.0 - relay->low) * part;
}

static double ramp_w(const struct th_heating_in *in, double temp_c)
{
    return in->ramp_w_k * th_within(temp_c - in->ramp_c, 0.0, in->ramp_band_k);
}

/* Heat from lit stages that modulate. */
static double modulated_w(const struct room *room, double temp_c)
{
    double heat_w = 0.0;
    for (int i = 0; i < room->n; i++) {
        const struct relay *relay = &room->relays[i];
        if (room->now.lit[i] && relay->modulates)
            heat_w += relay->idle_w + relay->full_w * fire_at(relay, temp_c);
    }
    return heat_w;
}

static double gain_w(const struct room *room, double temp_c)
{
    const double gain =
        room->in->ua_w_k * (room->in->free_c - temp_c) - ramp_w(room->in, temp_c) + room->steady_w;
    return room->any_modulates ? gain + modulated_w(room, temp_c) : gain;
}

/* The nearer of `nearest_c` and `kink_c` on the way in `direction`. */
static double nearer(double nearest_c, double kink_c, double from_c, double direction)
{
    const bool ahead = direction * (kink_c - from_c) > SAME_K;
    return ahead && direction * (nearest_c - kink_c) > 0.0 ? kink_c : nearest_c;
}

/* Where the room's line next bends or a thermostat next switches. */
static double next_mark_c(const struct room *room, double direction)
{
    const struct th_heating_in *in = room->in;
    const double from_c = room->now.temp_c;
    double mark_c = direction * INFINITY;
    mark_c = nearer(mark_c, in->ramp_c, from_c, direction);
    mark_c = nearer(mark_c, in->ramp_c + in->ramp_band_k, from_c, direction);
    for (int i = 0; i < room->n; i++) {
        const struct relay *relay = &room->relays[i];
        const bool wanted = room->now.wanted[i];
        if (wanted == (direction > 0.0))
            mark_c = nearer(mark_c, wanted ? relay->off_c : relay->on_c, from_c, direction);
        if (relay->modulates && room->now.lit[i]) {
            mark_c = nearer(mark_c, relay->off_c, from_c, direction);
            mark_c = nearer(mark_c, relay->off_c - relay->band_k, from_c, direction);
        }
    }
    return mark_c;
}

/* The line through two temperatures between which it does not bend; `at_from_w` is known. */
static struct stretch stretch_from(const struct room *room, double at_from_w, double mark_c,
                                   double direction)
{
    const double from_c = room->now.temp_c;
    const double other_c = isfinite(mark_c) ? mark_c : from_c + direction;
    const double slope_w_k = (at_from_w - gain_w(room, other_c)) / (other_c - from_c);
    return (struct stretch){slope_w_k, from_c + at_from_w / slope_w_k};
}

static double next_switch_s(const struct state *now)
{
    return now->n_waiting > 0 ? now->waiting[now->first_waiting].felt_s - now->sums.time_s
                              : INFINITY;
}

/* Adds `time_s` on the way to `to_c`. ∫T dt follows from the heat that is left in the room. */
static void pass(struct room *room, const struct stretch *s, double to_c, double time_s)
{
    struct state *now = &room->now;
    struct sums *sums = &now->sums;
    const double stored_j = room->heating->capacity_j_k * (to_c - now->temp_c);
    const double mean_c =
        time_s > 0.0 ? s->end_c - stored_j / (time_s * s->slope_w_k) : now->temp_c;
    for (int i = 0; i < room->n; i++) {
        if (!now->lit[i])
            continue;
        sums->of[i].lit_s += time_s;
        sums->of[i].fire_s += time_s * fire_at(&room->relays[i], mean_c);
    }
    sums->any_lit_s += room->any_lit ? time_s : 0.0;
    sums->waste_j += time_s * ramp_w(room->in, mean_c);
    sums->time_s += time_s;
    now->temp_c = to_c;
    room->low_c = th_lesser(room->low_c, to_c);
    room->high_c = th_greater(room->high_c, to_c);
}

static void sum_lit(struct room *room)
{
    room->steady_w = 0.0;
    room->any_lit = false;
    for (int i = 0; i < room->n; i++) {
        const struct relay *relay = &room->relays[i];
        const bool lit = room->now.lit[i];
        room->any_lit |= lit;
        room->steady_w += lit && !relay->modulates ? relay->idle_w + relay->full_w : 0.0;
    }
}

static void feel_switches(struct room *room)
{
    struct state *now = &room->now;
    if (next_switch_s(now) > DUE_S)
        return;
    do {
        const int stage = now->waiting[now->first_waiting].stage;
        now->lit[stage] = !now->lit[stage];
        now->sums.of[stage].starts += now->lit[stage] ? 1.0 : 0.0;
        now->first_waiting = (now->first_waiting + 1) % WAITING_MAX;
        now->n_waiting--;
    } while (next_switch_s(now) <= DUE_S);
    sum_lit(room);
}

/* Returns the stage that now wants to start, -1 when none does, -2 when too many switches wait. */
static int decide(struct room *room)
{
    struct state *now = &room->now;
    int starts = -1;
    for (int i = 0; i < room->n; i++) {
        const struct relay *relay = &room->relays[i];
        const bool crossed = now->wanted[i] ? now->temp_c >= relay->off_c - SAME_K
                                            : now->temp_c <= relay->on_c + SAME_K;
        if (!crossed)
            continue;
        if (now->n_waiting == WAITING_MAX)
            return -2;
        const unsigned last = (now->first_waiting + now->n_waiting++) % WAITING_MAX;
        now->waiting[last].felt_s = now->sums.time_s + room->heating->dead_time_s;
        now->waiting[last].stage = i;
        now->wanted[i] = !now->wanted[i];
        starts = now->wanted[i] ? i : starts;
    }
    return starts;
}

/* To the next switch or kink; false when the room settles without one. */
static bool advance(struct room *room)
{
    const double from_c = room->now.temp_c;
    const double rate_w = gain_w(room, from_c);
    const double direction = rate_w > 0.0 ? 1.0 : -1.0;
    const double mark_c = next_mark_c(room, direction);
    const struct stretch s = stretch_from(room, rate_w, mark_c, direction);
    const double tau_s = room->heating->capacity_j_k / s.slope_w_k;
    const double switch_s = next_switch_s(&room->now);
    const bool reached = direction * (s.end_c - mark_c) > 0.0;
    const double mark_s = reached ? tau_s * log((s.end_c - from_c) / (s.end_c - mark_c)) : INFINITY;
    if (!isfinite(mark_s) && !isfinite(switch_s)) {
        room->now.temp_c = s.end_c;
        return false;
    }
    if (mark_s <= switch_s)
        pass(room, &s, mark_c, mark_s);
    else
        pass(room, &s, s.end_c + (from_c - s.end_c) * exp(-switch_s / tau_s),
             th_greater(switch_s, 0.0));
    return true;
}

/* Whether `now` will go on as `before` did; both have `n` stages. */
static bool same_state(const struct state *now, const struct state *before, int n)
{
    if (fabs(now->temp_c - before->temp_c) > SAME_K || now->n_waiting != before->n_waiting)
        return false;
    for (int i = 0; i < n; i++)
        if (now->wanted[i] != before->wanted[i] || now->lit[i] != before->lit[i])
            return false;
    for (unsigned k = 0; k < now->n_waiting; k++) {
        const unsigned a = (now->first_waiting + k) % WAITING_MAX;
        const unsigned b = (before->first_waiting + k) % WAITING_MAX;
        const double in_s = now->waiting[a].felt_s - now->sums.time_s;
        const double then_in_s = before->waiting[b].felt_s - before->sums.time_s;
        if (now->waiting[a].stage != before->waiting[b].stage || fabs(in_s - then_in_s) > SAME_S)
            return false;
    }
    return true;
}

static void summarise(const struct room *room, const struct sums *before, struct th_swing *swing)
{
    const struct sums *now = &room->now.sums;
    const double time_s = now->time_s - before->time_s;
    for (int i = 0; i < room->n; i++)
        swing->stages[i] = (struct th_swing_stage){
            .lit = (now->of[i].lit_s - before->of[i].lit_s) / time_s,
            .fire = (now->of[i].fire_s - before->of[i].fire_s) / time_s,
            .starts_h = 3600.0 * (now->of[i].starts - before->of[i].starts) / time_s};
    swing->any_lit = (now->any_lit_s - before->any_lit_s) / time_s;
    swing->waste_w = (now->waste_j - before->waste_j) / time_s;
    swing->low_c = room->low_c;
    swing->high_c = room->high_c;
}

static void begin(struct room *room, const struct th_heating *heating,
                  const struct th_heating_in *in, int active)
{
    *room = (struct room){.heating = heating, .in = in, .n = heating->n};
    for (int i = 0; i < room->n; i++) {
        const struct th_stage *stage = &heating->stages[i];
        room->relays[i] =
            (struct relay){.on_c = in->set_c - stage->on_k,
                           .off_c = in->set_c - stage->off_k,
                           .idle_w = stage->blower_w - stage->pilot_w * stage->pilot_share,
                           .full_w = stage->input_w * stage->share,
                           .modulates = stage->law == TH_LAW_MODULATE,
                           .low = stage->low,
                           .band_k = stage->band_k};
        room->any_modulates |= room->relays[i].modulates;
        room->now.wanted[i] = room->now.lit[i] = i < active;
    }
    sum_lit(room);
    room->now.temp_c = room->low_c = room->high_c = room->relays[active].on_c;
}

/* Holds the room where it has settled, so that the sums of this second are those of any. */
static void stay(struct room *room)
{
    room->low_c = room->high_c = room->now.temp_c;
    const struct stretch here = {.end_c = room->now.temp_c, .slope_w_k = 1.0};
    pass(room, &here, room->now.temp_c, 1.0);
}

enum th_code th_swing_solve(const struct th_heating *heating, const struct th_heating_in *in,
                            int active, struct th_swing *swing, struct th_error *err)
{
    struct room room;
    int starts = 0, next_mark = 1;
    begin(&room, heating, in, active);
    struct state mark = room.now;
    swing->steady = false;
    while (starts < STARTS_MAX) {
        feel_switches(&room);
        const int started = decide(&room);
        if (started < -1)
            return th_fail(err, TH_ERR_NUMERIC, "more than %d switches of heaters in a dead time",
                           WAITING_MAX);
        if (started >= 0) {
            starts++;
            if (starts > 1 && same_state(&room.now, &mark, room.n))
                break;
            if (starts == next_mark) {
                next_mark *= 2;
                room.low_c = room.high_c = room.now.temp_c;
                mark = room.now;
            }
        }
        if (!advance(&room)) {
            swing->steady = true;
            mark = room.now;
            stay(&room);
            break;
        }
    }
    summarise(&room, &mark.sums, swing);
    return TH_OK;
}

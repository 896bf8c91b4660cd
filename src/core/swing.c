/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "swing.h"

#include "bounds.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define WAITING_MAX 8
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
    bool wanted, lit;
    int n_waiting;                 /* switches decided but not yet felt */
    double waiting_s[WAITING_MAX]; /* when they will be */
};

/* What is summed over a stretch of time. */
struct sums {
    double time_s, waste_j, any_lit_s;
    struct {
        double lit_s, fire_s, starts;
    } of[TH_STAGES_MAX];
};

/* Of the arrays the first `n` are made and kept. */
struct room {
    const struct th_heating *heating;
    const struct th_heating_in *in;
    int n;
    double temp_c, low_c, high_c;
    struct relay relays[TH_STAGES_MAX];
    struct sums sums;
};

/* dT/dt = (heat - slope·T)/capacity as long as T stays between two kinks. */
struct stretch {
    double heat_w, slope_w_k, end_c; /* end_c: where it would settle */
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

static double gain_w(const struct room *room, double temp_c)
{
    double gain = room->in->ua_w_k * (room->in->free_c - temp_c) - ramp_w(room->in, temp_c);
    for (int i = 0; i < room->n; i++) {
        const struct relay *relay = &room->relays[i];
        gain += relay->lit ? relay->idle_w + relay->full_w * fire_at(relay, temp_c) : 0.0;
    }
    return gain;
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
    const double from_c = room->temp_c;
    double mark_c = direction * INFINITY;
    mark_c = nearer(mark_c, in->ramp_c, from_c, direction);
    mark_c = nearer(mark_c, in->ramp_c + in->ramp_band_k, from_c, direction);
    for (int i = 0; i < room->n; i++) {
        const struct relay *relay = &room->relays[i];
        if (relay->wanted == (direction > 0.0))
            mark_c = nearer(mark_c, relay->wanted ? relay->off_c : relay->on_c, from_c, direction);
        if (relay->modulates && relay->lit) {
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
    const double from_c = room->temp_c;
    const double other_c = isfinite(mark_c) ? mark_c : from_c + direction;
    struct stretch s;
    s.slope_w_k = (at_from_w - gain_w(room, other_c)) / (other_c - from_c);
    s.heat_w = at_from_w + s.slope_w_k * from_c;
    s.end_c = s.heat_w / s.slope_w_k;
    return s;
}

static double next_switch_s(const struct room *room)
{
    double next_s = INFINITY;
    for (int i = 0; i < room->n; i++)
        if (room->relays[i].n_waiting > 0)
            next_s = th_lesser(next_s, room->relays[i].waiting_s[0]);
    return next_s - room->sums.time_s;
}

/* Adds `time_s` on the way to `to_c`. ∫T dt follows from the heat that is left in the room. */
static void pass(struct room *room, const struct stretch *s, double to_c, double time_s)
{
    const struct th_heating_in *in = room->in;
    struct sums *sums = &room->sums;
    const double stored_j = room->heating->capacity_j_k * (to_c - room->temp_c);
    const double mean_c =
        time_s > 0.0 ? (s->heat_w - stored_j / time_s) / s->slope_w_k : room->temp_c;
    bool any = false;
    for (int i = 0; i < room->n; i++) {
        const struct relay *relay = &room->relays[i];
        sums->of[i].lit_s += relay->lit ? time_s : 0.0;
        sums->of[i].fire_s += relay->lit ? time_s * fire_at(relay, mean_c) : 0.0;
        any |= relay->lit;
    }
    sums->any_lit_s += any ? time_s : 0.0;
    sums->waste_j += time_s * ramp_w(in, mean_c);
    sums->time_s += time_s;
    room->temp_c = to_c;
    room->low_c = th_lesser(room->low_c, to_c);
    room->high_c = th_greater(room->high_c, to_c);
}

static void feel_switches(struct room *room)
{
    for (int i = 0; i < room->n; i++) {
        struct relay *relay = &room->relays[i];
        if (relay->n_waiting == 0 || relay->waiting_s[0] > room->sums.time_s + DUE_S)
            continue;
        relay->lit = !relay->lit;
        room->sums.of[i].starts += relay->lit ? 1.0 : 0.0;
        relay->n_waiting--;
        memmove(relay->waiting_s, relay->waiting_s + 1,
                (size_t)relay->n_waiting * sizeof *relay->waiting_s);
    }
}

/* Returns the stage that now wants to start, -1 when none does, -2 when too many switches wait. */
static int decide(struct room *room)
{
    int starts = -1;
    for (int i = 0; i < room->n; i++) {
        struct relay *relay = &room->relays[i];
        const bool crossed = relay->wanted ? room->temp_c >= relay->off_c - SAME_K
                                           : room->temp_c <= relay->on_c + SAME_K;
        if (!crossed)
            continue;
        if (relay->n_waiting == WAITING_MAX)
            return -2;
        relay->wanted = !relay->wanted;
        relay->waiting_s[relay->n_waiting++] = room->sums.time_s + room->heating->dead_time_s;
        starts = relay->wanted ? i : starts;
    }
    return starts;
}

/* To the next switch or kink; false when the room settles without one. */
static bool advance(struct room *room)
{
    const double rate_w = gain_w(room, room->temp_c);
    const double direction = rate_w > 0.0 ? 1.0 : -1.0;
    const double mark_c = next_mark_c(room, direction);
    const struct stretch s = stretch_from(room, rate_w, mark_c, direction);
    const double tau_s = room->heating->capacity_j_k / s.slope_w_k;
    const double switch_s = next_switch_s(room);
    const bool reached = direction * (s.end_c - mark_c) > 0.0;
    const double mark_s =
        reached ? tau_s * log((s.end_c - room->temp_c) / (s.end_c - mark_c)) : INFINITY;
    if (!isfinite(mark_s) && !isfinite(switch_s)) {
        room->temp_c = s.end_c;
        return false;
    }
    if (mark_s <= switch_s)
        pass(room, &s, mark_c, mark_s);
    else
        pass(room, &s, s.end_c + (room->temp_c - s.end_c) * exp(-switch_s / tau_s),
             th_greater(switch_s, 0.0));
    return true;
}

/* Whether `now` will go on as `before` did. */
static bool same_state(const struct room *now, const struct room *before)
{
    if (fabs(now->temp_c - before->temp_c) > SAME_K)
        return false;
    for (int i = 0; i < now->n; i++) {
        const struct relay *a = &now->relays[i], *b = &before->relays[i];
        if (a->wanted != b->wanted || a->lit != b->lit || a->n_waiting != b->n_waiting)
            return false;
        for (int k = 0; k < a->n_waiting; k++)
            if (fabs((a->waiting_s[k] - now->sums.time_s) -
                     (b->waiting_s[k] - before->sums.time_s)) > SAME_S)
                return false;
    }
    return true;
}

static void summarise(const struct room *now, const struct sums *before, struct th_swing *swing)
{
    const double time_s = now->sums.time_s - before->time_s;
    for (int i = 0; i < now->n; i++)
        swing->stages[i] = (struct th_swing_stage){
            .lit = (now->sums.of[i].lit_s - before->of[i].lit_s) / time_s,
            .fire = (now->sums.of[i].fire_s - before->of[i].fire_s) / time_s,
            .starts_h = 3600.0 * (now->sums.of[i].starts - before->of[i].starts) / time_s};
    swing->any_lit = (now->sums.any_lit_s - before->any_lit_s) / time_s;
    swing->waste_w = (now->sums.waste_j - before->waste_j) / time_s;
    swing->low_c = now->low_c;
    swing->high_c = now->high_c;
}

static void begin(struct room *room, const struct th_heating *heating,
                  const struct th_heating_in *in, int active)
{
    const size_t n = (size_t)heating->n;
    room->heating = heating;
    room->in = in;
    room->n = heating->n;
    memset(&room->sums, 0, offsetof(struct sums, of) + n * sizeof room->sums.of[0]);
    for (int i = 0; i < room->n; i++) {
        const struct th_stage *stage = &heating->stages[i];
        room->relays[i] =
            (struct relay){.on_c = in->set_c - stage->on_k,
                           .off_c = in->set_c - stage->off_k,
                           .idle_w = stage->blower_w - stage->pilot_w * stage->pilot_share,
                           .full_w = stage->input_w * stage->share,
                           .modulates = stage->law == TH_LAW_MODULATE,
                           .low = stage->low,
                           .band_k = stage->band_k,
                           .wanted = i < active,
                           .lit = i < active};
    }
    room->temp_c = room->low_c = room->high_c = room->relays[active].on_c;
}

static void keep(struct room *mark, const struct room *room)
{
    const size_t n = (size_t)room->n;
    memcpy(mark, room, offsetof(struct room, relays) + n * sizeof room->relays[0]);
    memcpy(&mark->sums, &room->sums, offsetof(struct sums, of) + n * sizeof room->sums.of[0]);
}

/* Holds the room where it has settled, so that the sums of this second are those of any. */
static void stay(struct room *room, struct room *mark)
{
    keep(mark, room);
    room->low_c = room->high_c = room->temp_c;
    const struct stretch here = {.heat_w = room->temp_c, .slope_w_k = 1.0};
    pass(room, &here, room->temp_c, 1.0);
}

enum th_code th_swing_solve(const struct th_heating *heating, const struct th_heating_in *in,
                            int active, struct th_swing *swing, struct th_error *err)
{
    struct room room, mark;
    int starts = 0, next_mark = 1;
    *swing = (struct th_swing){0};
    begin(&room, heating, in, active);
    keep(&mark, &room);
    while (starts < STARTS_MAX) {
        feel_switches(&room);
        const int started = decide(&room);
        if (started < -1)
            return th_fail(err, TH_ERR_NUMERIC, "more than %d switches of a heater in a dead time",
                           WAITING_MAX);
        if (started >= 0) {
            starts++;
            if (starts > 1 && same_state(&room, &mark))
                break;
            if (starts == next_mark) {
                next_mark *= 2;
                room.low_c = room.high_c = room.temp_c;
                keep(&mark, &room);
            }
        }
        if (!advance(&room)) {
            swing->steady = true;
            stay(&room, &mark);
            break;
        }
    }
    summarise(&room, &mark.sums, swing);
    return TH_OK;
}

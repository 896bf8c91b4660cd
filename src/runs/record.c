/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/record.h"

#include "turnheat/calendar.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

enum th_code th_record_check(const struct th_record *record, struct th_error *err)
{
    if (!(record->gal > 0.0 && record->gal <= 1e8))
        return th_fail(err, TH_ERR_RANGE, "record %s: gallons must be above 0", record->name);
    if (!(record->error >= 0.001 && record->error <= 1.0))
        return th_fail(err, TH_ERR_RANGE, "record %s: the error must be 0.1 to 100 %%",
                       record->name);
    if (!(record->share >= 0.0 && record->share <= 1.0 && record->next_share >= 0.0 &&
          record->next_share <= 1.0))
        return th_fail(err, TH_ERR_RANGE, "record %s: its days must be a part of a season",
                       record->name);
    if (!(record->tank_gal >= 0.0))
        return th_fail(err, TH_ERR_RANGE, "record %s: the tanks must not be below 0 gallons",
                       record->name);
    return TH_OK;
}

/* The records as the likelihood sees them. */
struct seen {
    const struct th_outlook *outlook;
    int n;
    const struct th_record *records;
    double variance[TH_RECORDS_MAX]; /* of ln gallons, winter known */
    long winter[TH_RECORDS_MAX];     /* -1: not known */
    long next[TH_RECORDS_MAX];       /* the winter after it, of days past 30 June */
};

static bool on_meter(const struct th_record *record, int barn)
{
    return record->barns == 0 || (record->barns >> barn & 1ul);
}

/* Of a season's gallons. */
static double share_of(const struct th_record *record)
{
    return record->share > 0.0 || record->next_share > 0.0 ? record->share : 1.0;
}

/* The winter after `winter`; where it is not known the same again. */
static size_t next_of(const struct seen *e, int r, size_t winter)
{
    return e->winter[r] >= 0 && e->next[r] >= 0 ? (size_t)e->next[r] : winter;
}

static double ln_burn(const struct seen *e, int r, size_t winter, const double *z)
{
    const struct th_record *record = &e->records[r];
    double gal = 0.0;
    for (int b = 0; b < e->outlook->n_barns; b++) {
        const int copies = e->outlook->barns[b].room->copies;
        if (!on_meter(record, b))
            continue;
        gal += share_of(record) * copies * exp(th_outlook_ln_gal(e->outlook, b, winter, z));
        if (record->next_share > 0.0)
            gal += record->next_share * copies *
                   exp(th_outlook_ln_gal(e->outlook, b, next_of(e, r, winter), z));
    }
    return log(fmax(gal, DBL_MIN)); /* a meter has a barn */
}

static double season_gal(const struct seen *e, int r, size_t winter)
{
    double gal = 0.0;
    for (int b = 0; b < e->outlook->n_barns; b++)
        if (on_meter(&e->records[r], b))
            gal += e->outlook->barns[b].room->copies * exp(e->outlook->barns[b].ln_y0[winter]);
    return gal;
}

/* How far what is left out of its seasons leaves it open, of its gallons. */
static double beyond_of(const struct seen *e, int r, size_t winter)
{
    const struct th_record *record = &e->records[r];
    const double share = share_of(record);
    const double first = share * season_gal(e, r, winter);
    const double next = record->next_share * season_gal(e, r, next_of(e, r, winter));
    return TH_RECORD_BEYOND * hypot((1.0 - share) * first, (1.0 - record->next_share) * next) /
           (first + next);
}

/* Turns and surfaces of barns on one meter are off each by itself. */
static double variance_of(const struct seen *e, int r)
{
    const struct th_record *record = &e->records[r];
    const size_t winter = e->winter[r] < 0 ? 0 : (size_t)e->winter[r];
    const double seasons = share_of(record) + record->next_share;
    const double total = season_gal(e, r, winter);
    double barns = 0.0;
    for (int b = 0; b < e->outlook->n_barns; b++) {
        const struct th_outlook_barn *barn = &e->outlook->barns[b];
        const double share = barn->room->copies * exp(barn->ln_y0[winter]) / total;
        const double turns = fmax(barn->room->n_turns * seasons, 1.0);
        if (on_meter(record, b))
            barns += share * share *
                     (TH_TURN_SD * TH_TURN_SD / turns + barn->surface.error * barn->surface.error);
    }
    const double levels =
        record->delivered ? M_SQRT2 * TH_GAUGE_SD * record->tank_gal / record->gal : 0.0;
    const double beyond = beyond_of(e, r, winter);
    return record->error * record->error + levels * levels + beyond * beyond + barns;
}

/* First and last day. */
static void days_of(const struct th_record *record, long day[2])
{
    const bool part = record->last_day > 0;
    day[0] = part ? record->first_day : th_season_first_day(record->year);
    day[1] = part ? record->last_day : th_season_first_day(record->year + 1) - 1;
}

static bool share_days(const long a[2], const long b[2])
{
    return a[0] <= b[1] && b[0] <= a[1];
}

static long day_number(const int date[3])
{
    return th_day_number(date[2], date[0], date[1]);
}

/* Gallons that fills were fitted to already. */
static enum th_code beside_fills(const struct th_outlook *outlook, const struct th_record *record,
                                 struct th_error *err)
{
    long own[2];
    days_of(record, own);
    for (int b = 0; b < outlook->n_barns; b++) {
        const struct th_room *room = outlook->barns[b].room;
        const long fills[2] = {day_number(room->fitted.first_fill),
                               day_number(room->fitted.last_fill) - 1};
        if (room->fitted.given && on_meter(record, b) && share_days(own, fills))
            return th_fail(err, TH_ERR_INPUT,
                           "[record %s] is of days whose fills [calibration] of %s holds: the same "
                           "gallons would count twice; take one of them out",
                           record->name, room->name);
    }
    return TH_OK;
}

/* No gallons count twice. */
static enum th_code check_apart(const struct th_outlook *outlook, int n,
                                const struct th_record *records, struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int r = 0; r < n && code == TH_OK; r++) {
        code = beside_fills(outlook, &records[r], err);
        for (int other = 0; other < r && code == TH_OK; other++) {
            const unsigned long a = records[r].barns, b = records[other].barns;
            long day[2], other_day[2];
            days_of(&records[r], day);
            days_of(&records[other], other_day);
            if (share_days(day, other_day) && (a == 0 || b == 0 || (a & b)))
                code = th_fail(err, TH_ERR_INPUT,
                               "[record %s] and [record %s] share days and barns: the same gallons "
                               "would count twice; take one of them out",
                               records[other].name, records[r].name);
        }
    }
    return code;
}

static long winter_of(const struct th_outlook *outlook, int year)
{
    for (size_t w = 0; w < outlook->n_winters; w++)
        if (outlook->years[w] == year)
            return (long)w;
    return -1;
}

static enum th_code see(struct seen *e, const struct th_outlook *outlook, int n,
                        const struct th_record *records, struct th_error *err)
{
    *e = (struct seen){.outlook = outlook, .n = n, .records = records};
    if (n < 1 || n > TH_RECORDS_MAX)
        return th_fail(err, TH_ERR_INPUT, "at most %d records are weighed", TH_RECORDS_MAX);
    for (int r = 0; r < n; r++) {
        const enum th_code code = th_record_check(&records[r], err);
        if (code != TH_OK)
            return code;
        e->winter[r] = winter_of(outlook, records[r].year);
        e->next[r] = winter_of(outlook, records[r].year + 1);
        if (records[r].next_share > 0.0 && e->next[r] < 0)
            e->winter[r] = -1;
        e->variance[r] = variance_of(e, r);
    }
    return check_apart(outlook, n, records, err);
}

/* Mean and variance of ln gallons over the winters a record may be of. */
static void winters_of(const struct seen *e, int r, const double *z, double *mean, double *var)
{
    const size_t n = e->winter[r] < 0 ? e->outlook->n_winters : 1;
    double sum = 0.0, squares = 0.0;
    for (size_t w = 0; w < n; w++) {
        const double ln = ln_burn(e, r, e->winter[r] < 0 ? w : (size_t)e->winter[r], z);
        sum += ln;
        squares += ln * ln;
    }
    *mean = sum / (double)n;
    *var = fmax(squares / (double)n - *mean * *mean, 0.0);
}

/* Of a winter that is not known the likelihood is the mean over the winters. */
static double ln_likelihood(void *context, const double *z)
{
    const struct seen *e = context;
    double sum = 0.0;
    for (int r = 0; r < e->n; r++) {
        const size_t n = e->winter[r] < 0 ? e->outlook->n_winters : 1;
        double mean = 0.0;
        for (size_t w = 0; w < n; w++) {
            const double off = log(e->records[r].gal) -
                               ln_burn(e, r, e->winter[r] < 0 ? w : (size_t)e->winter[r], z);
            mean += exp(-0.5 * off * off / e->variance[r]) / (double)n;
        }
        sum += log(fmax(mean, 1e-300));
    }
    return sum;
}

static void rows(void *context, const double *z, double *row)
{
    const struct seen *e = context;
    for (int r = 0; r < e->n; r++) {
        double mean, var;
        winters_of(e, r, z, &mean, &var);
        row[r] = (log(e->records[r].gal) - mean) / sqrt(e->variance[r] + var);
    }
}

/* What a record's barns burn as the files have them. */
static double default_gal(const struct seen *e, int r)
{
    const double none[TH_LEARN_Z_MAX] = {0};
    double mean, var;
    winters_of(e, r, none, &mean, &var);
    return exp(mean);
}

/* Of a normal distribution eight cases of ten lie so many standard deviations from the mean. */
#define EIGHT_OF_TEN_SD 1.2816
/* Farms looked at for what a record was expected to be. */
#define EXPECTED_DRAWS 512

/* What a record was expected to be, over farms drawn before it and the winters it may be of. */
static void expect(const struct seen *e, struct th_learnt *learnt)
{
    const struct th_outlook *o = e->outlook;
    for (int r = 0; r < e->n; r++) {
        struct th_record_fit *fit = &learnt->records[r];
        double sum = 0.0, squares = 0.0;
        for (size_t d = 0; d < EXPECTED_DRAWS; d++) {
            const size_t winter = e->winter[r] < 0 ? d % o->n_winters : (size_t)e->winter[r];
            const double ln = ln_burn(e, r, winter, o->z + d * (size_t)o->n_z);
            sum += ln;
            squares += ln * ln;
        }
        const double mean = sum / EXPECTED_DRAWS;
        const double sd = sqrt(fmax(squares / EXPECTED_DRAWS - mean * mean, 0.0) + e->variance[r]);
        fit->expected_low = exp(mean - EIGHT_OF_TEN_SD * sd);
        fit->expected_high = exp(mean + EIGHT_OF_TEN_SD * sd);
        fit->surprise_sd = (log(e->records[r].gal) - mean) / sd;
    }
}

static void tell_records(const struct seen *e, struct th_learnt *learnt)
{
    double squares = th_belief_distance2(&e->outlook->belief, learnt->n_z, learnt->z);
    for (int r = 0; r < e->n; r++) {
        struct th_record_fit *fit = &learnt->records[r];
        double after, var;
        winters_of(e, r, learnt->z, &after, &var);
        fit->known_winter = e->winter[r] >= 0;
        fit->before_gal = default_gal(e, r);
        fit->after_gal = exp(after);
        fit->sd = sqrt(e->variance[r] + var);
        fit->misfit_sd = (log(e->records[r].gal) - after) / fit->sd;
        squares += fit->misfit_sd * fit->misfit_sd;
    }
    /* Of one record exactly its distance from the mean expected, of n one expects n − 1 more. */
    learnt->strain_sd = sqrt(fmax(squares - (e->n - 1), 0.0));
}

/* Gallons of the middle winter for a farm. */
static double middle_gal(const struct th_outlook *outlook, const double *z)
{
    double gal = 0.0;
    for (int b = 0; b < outlook->n_barns; b++)
        gal += outlook->barns[b].room->copies *
               exp(th_outlook_ln_gal(outlook, b, outlook->n_winters / 2, z));
    return gal;
}

/* The number whose move by itself changes the gallons most. */
static void find_moved(const struct th_outlook *outlook, struct th_learnt *learnt)
{
    double z[TH_LEARN_Z_MAX] = {0}, furthest_gal = -1.0;
    const double before_gal = middle_gal(outlook, z);
    for (int b = 0; b < outlook->n_barns; b++)
        for (int u = 0; u < TH_UNKNOWNS; u++) {
            const int at = th_outlook_place(b, (enum th_unknown)u);
            z[at] = learnt->z[at];
            const double off_gal = fabs(middle_gal(outlook, z) - before_gal);
            z[at] = 0.0;
            if (off_gal <= furthest_gal)
                continue;
            furthest_gal = off_gal;
            learnt->moved_barn = b;
            learnt->moved = (enum th_unknown)u;
        }
}

static void take_belief(const struct th_outlook *outlook, const struct th_belief *belief,
                        struct th_learnt *learnt)
{
    learnt->n_z = outlook->n_z;
    for (int i = 0; i < belief->n_z; i++) {
        learnt->z[i] = belief->z[i];
        learnt->sd[i] = th_belief_sd(belief, i);
    }
    find_moved(outlook, learnt);
}

enum th_code th_learn(struct th_outlook *outlook, int n, const struct th_record *records,
                      struct th_learnt *learnt, struct th_error *err)
{
    struct seen seen;
    struct th_belief after;
    *learnt = (struct th_learnt){.n_records = n};
    enum th_code code = see(&seen, outlook, n, records, err);
    if (code == TH_OK && outlook->n_draws == 0)
        code = th_outlook_draw(outlook, err);
    if (code != TH_OK)
        return code;
    expect(&seen, learnt);
    const struct th_evidence evidence = {.before = &outlook->belief,
                                         .n_z = outlook->n_z,
                                         .n_rows = n,
                                         .rows = rows,
                                         .ln_likelihood = ln_likelihood,
                                         .context = &seen};
    struct th_draws draws = {.n = outlook->n_draws, .z = outlook->z};
    code = th_learn_from(&evidence, &after, &draws, err);
    if (code == TH_ERR_NUMERIC && draws.effective == 0.0)
        return th_fail(err, TH_ERR_NUMERIC,
                       "record %s: no barn within what is not known of these comes near %.0f "
                       "gallons (about %.0f as the files have them); check the record, its season "
                       "and barns, and in the files pigs, dates and set points",
                       records[0].name, records[0].gal, default_gal(&seen, 0));
    if (code != TH_OK)
        return code;
    learnt->effective_draws = draws.effective;
    take_belief(outlook, &after, learnt);
    tell_records(&seen, learnt);
    return th_outlook_burn(outlook, err);
}

/* Before anything was measured. */
static enum th_code range_before(struct th_outlook *outlook, struct th_range *range,
                                 struct th_error *err)
{
    const int n_z = outlook->belief.n_z;
    outlook->belief.n_z = 0;
    enum th_code code = th_outlook_draw(outlook, err);
    if (code == TH_OK)
        code = th_outlook_range(outlook, range, err);
    outlook->belief.n_z = n_z;
    return code;
}

/* The winters with the barns as they most likely are. */
static void most_likely(const struct th_outlook *outlook, const double *z, struct th_range *range)
{
    range->alone_lowest = HUGE_VAL;
    range->alone_highest = 0.0;
    for (size_t w = 0; w < outlook->n_winters; w++) {
        double gal = 0.0;
        for (int b = 0; b < outlook->n_barns; b++)
            gal += outlook->barns[b].room->copies * exp(th_outlook_ln_gal(outlook, b, w, z));
        range->alone_lowest = fmin(range->alone_lowest, gal);
        range->alone_highest = fmax(range->alone_highest, gal);
    }
}

enum th_code th_answer_make(struct th_answer *answer, struct th_outlook *outlook, int n,
                            const struct th_record *records, struct th_error *err)
{
    *answer = (struct th_answer){
        .outlook = outlook, .fitted = outlook->belief.n_z > 0, .n_records = n, .records = records};
    enum th_code code = range_before(outlook, &answer->before, err);
    answer->now = answer->before;
    if (code != TH_OK || (n == 0 && !answer->fitted))
        return code;
    if (n > 0) {
        code = th_learn(outlook, n, records, &answer->learnt, err);
    } else {
        code = th_outlook_draw(outlook, err);
        take_belief(outlook, &outlook->belief, &answer->learnt);
        answer->learnt.effective_draws = (double)outlook->n_draws;
    }
    if (code == TH_OK)
        code = th_outlook_range(outlook, &answer->now, err);
    if (code == TH_OK)
        most_likely(outlook, answer->learnt.z, &answer->now);
    return code;
}

bool th_answer_learnt(const struct th_answer *answer)
{
    return answer && (answer->fitted || answer->n_records > 0);
}

enum th_code th_likely_init(struct th_likely *likely, const struct th_answer *answer,
                            const struct th_case *cases, int n, struct th_error *err)
{
    likely->rooms = calloc((size_t)n + 1, sizeof *likely->rooms);
    likely->cases = calloc((size_t)n + 1, sizeof *likely->cases);
    if (!likely->rooms || !likely->cases)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int b = 0; b < n; b++) {
        likely->rooms[b] = *cases[b].room;
        likely->cases[b] = cases[b];
        likely->cases[b].room = &likely->rooms[b];
        if (th_answer_learnt(answer)) {
            double z[TH_UNKNOWNS];
            th_outlook_barn_z(b, answer->learnt.z, z);
            th_unknowns_move(&likely->rooms[b], z);
        }
    }
    return TH_OK;
}

void th_likely_finish(struct th_likely *likely)
{
    free(likely->rooms);
    free(likely->cases);
    *likely = (struct th_likely){0};
}

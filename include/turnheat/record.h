/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What a meter or a supplier's bill of a past season says of a farm's barns. One record is enough:
 * farms drawn from what is known beforehand are weighed by how well they would have burnt what was
 * recorded. ln y ~ N(ln G, error² + levels + turns + surface), over what is believed of the
 * deviates of unknowns.h (learn.h).
 */
#ifndef TURNHEAT_RECORD_H
#define TURNHEAT_RECORD_H

#include "turnheat/outlook.h"

#define TH_RECORDS_MAX 16
/** Standard error of a record where none is given, of its gallons (judgement). */
#define TH_RECORD_ERROR 0.05
/** Standard error of one reading of a tank's gauge, of its capacity (judgement). */
#define TH_GAUGE_SD 0.03
/** Effective draws below which a report says that few farms fit. */
#define TH_LEARN_DRAWS_ENOUGH 200.0
/** Misfit, in standard errors, beyond which some input would have to be wrong. */
#define TH_LEARN_MISFIT_SD 3.0

/** A record this far from what was expected is doubted (judgement: one in twenty). */
#define TH_RECORD_SURPRISE_SD 2.0

/** One season's gallons. */
struct th_record {
    char name[TH_NAME_MAX];
    int year;                 /**< the season that starts on 1 July of this year */
    double gal;               /**< > 0; other users of the meter taken off */
    long first_day, last_day; /**< of these days (day numbers, at most a year; they may
                                 end in the next season); 0 and 0: the whole season */
    double share;             /**< of the season's gallons that those days take, 0…1, see
                                 th_record_find_share(); both 0: not a part */
    double next_share;        /**< the same of the season after, of days past 30 June */
    double error;             /**< standard error, share of the gallons, 0.001…1 */
    bool delivered;           /**< deliveries, levels at the ends not known; else gallons used */
    double tank_gal;          /**< delivered: capacity of the tanks, ≥ 0 */
    unsigned long barns;      /**< bit b: barn file b burns from this meter; 0 means all */
};

/** One record beside what the barns would have burnt. */
struct th_record_fit {
    bool known_winter; /**< its winter is among those of the outlook */
    double before_gal; /**< as the barn files have it; over all winters where not known */
    double after_gal;  /**< at the most likely farm */
    double sd;         /**< standard error of ln gallons */
    double misfit_sd;  /**< (ln y − ln G) / sd at the most likely farm */
    double expected_low, expected_high; /**< gallons it was expected to be in eight cases of ten */
    double
        surprise_sd; /**< how far it lies from what was expected, in standard deviations of that */
};

/** What records taught. */
struct th_learnt {
    int n_records;
    struct th_record_fit records[TH_RECORDS_MAX];
    int n_z;
    double z[TH_LEARN_Z_MAX];  /**< most likely deviates */
    double sd[TH_LEARN_Z_MAX]; /**< of each afterwards; beforehand 1 */
    double strain_sd;          /**< how far from what was expected, in standard deviations */
    double effective_draws;    /**< (Σw)² / Σw² of TH_OUTLOOK_DRAWS draws */
    int moved_barn;            /**< whose number changed the gallons most, and which */
    enum th_unknown moved;
};

/** How far a part of a season may be wrong for what is not in it, of that share (judgement). */
#define TH_RECORD_BEYOND 0.10

/** Ranges of a record. TH_ERR_RANGE. */
enum th_code th_record_check(const struct th_record *record, struct th_error *err);

/**
 * Replaces the farms of `outlook` by draws from those that fit the `n` ≥ 1 records and burns them.
 * TH_ERR_RANGE, TH_ERR_INPUT (too many records or barns, or two of the same days and barns, or one
 * of days whose fills a room was fitted to: no gallons count twice), TH_ERR_NUMERIC when no farm
 * fits or the fit does not converge, TH_ERR_MEMORY.
 */
enum th_code th_learn(struct th_outlook *outlook, int n, const struct th_record *records,
                      struct th_learnt *learnt, struct th_error *err);

/** An outlook with its ranges; without records and fills nothing was learnt and `before` is `now`.
 */
struct th_answer {
    const struct th_outlook *outlook;
    bool fitted; /**< some rooms bring along what their fills taught */
    struct th_range before, now;
    int n_records;
    const struct th_record *records;
    struct th_learnt learnt; /**< of records and fills */
};

/**
 * Draws the outlook, before any record and with the `n` records, and fills in `answer`. Errors as
 * th_outlook_draw() and th_learn().
 */
enum th_code th_answer_make(struct th_answer *answer, struct th_outlook *outlook, int n,
                            const struct th_record *records, struct th_error *err);

/** Whether fills or records taught anything of the barns. */
bool th_answer_learnt(const struct th_answer *answer);

/** The barns of an answer as they most likely are. Owns both. */
struct th_likely {
    struct th_room *rooms;
    struct th_case *cases; /**< as those of the outlook, with these rooms */
};

/**
 * The `n` cases of `answer`, each room moved to the most likely deviates; just as they are where
 * nothing was learnt or `answer` is NULL. Such a room is for running alone: what an outlook draws
 * of it would be learnt twice. TH_ERR_MEMORY. Finish in any case.
 */
enum th_code th_likely_init(struct th_likely *likely, const struct th_answer *answer,
                            const struct th_case *cases, int n, struct th_error *err);

/** Frees; a second call is allowed. */
void th_likely_finish(struct th_likely *likely);

#endif

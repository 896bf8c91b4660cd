/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The barn files and weather named on the command line, read and checked. */
#ifndef TURNHEAT_CASES_H
#define TURNHEAT_CASES_H

#include "barn.h"
#include "turnheat/case.h"
#include "options.h"
#include "progress.h"
#include "report.h"
#include "turnheat/runs.h"
#include "weathers.h"

struct th_cases {
    int n;
    struct th_case *cases; /**< one per barn file, in the order given */
    struct th_barn *barns;
    struct th_climate *climates;
    int n_climates;
    struct th_borrowed (*borrowed)[TH_BORROWED_MAX]; /**< of each climate */
    struct th_progress progress;                     /**< tells of the runs on standard error */
    struct th_runs runs;                             /**< on --jobs threads */
};

/**
 * Reads all operands as barn files, with --farm and --set, and the weather of --weather or of the
 * files, lets winters that miss a little borrow (borrow.h), and begins an empty list of runs.
 * Errors of the barn files and all warnings go to the issues of `arguments`, other errors to `err`.
 * Finish `cases` in any case, before `weathers`, which keep what was read.
 */
enum th_code th_cases_open(struct th_cases *cases, struct th_weathers *weathers,
                           const struct th_arguments *arguments, struct th_error *err);

/** Frees everything; a second call is allowed. */
void th_cases_finish(struct th_cases *cases);

/** What a command says of its cases. */
typedef enum th_code (*th_cases_tell)(struct th_report *report,
                                      const struct th_arguments *arguments, struct th_cases *cases,
                                      struct th_error *err);

/** Opens cases, lets `tell` fill the report, and finishes them. Errors as th_cases_open() and
 * `tell`. */
enum th_code th_cases_fill(struct th_report *report, struct th_weathers *weathers,
                           const struct th_arguments *arguments, th_cases_tell tell,
                           struct th_error *err);

/** The whole of a command that reports on cases: fills a report of all of them and delivers it, or
 * one of each with --json-lines. Errors as th_cases_fill(), th_deliver(), th_fleet_report(). */
enum th_code th_cases_report(const struct th_arguments *arguments, th_cases_tell tell,
                             struct th_error *err);

#endif

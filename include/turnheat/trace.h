/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Every hour of a room, one after the other. */
#ifndef TURNHEAT_TRACE_H
#define TURNHEAT_TRACE_H

#include "turnheat/case.h"
#include "turnheat/runs.h"

/** Sees the hours of the seasons that count. */
struct th_tracer {
    /** Called before the first hour of each season. */
    void (*season)(void *context, int year);
    struct th_watch watch; /**< its context is handed to both */
};

/**
 * Shows the hours of the counted seasons of `one` in order of time, each simulated once.
 * TH_ERR_COVERAGE when no season is counted, before anything is shown; otherwise as
 * th_runs_winters().
 */
enum th_code th_trace_run(struct th_runs *runs, const struct th_case *one,
                          const struct th_tracer *tracer, struct th_error *err);

#endif

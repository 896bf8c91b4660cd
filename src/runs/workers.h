/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Threads: workers_pthread.c, or workers_alone.c where a machine has none. */
#ifndef TURNHEAT_WORKERS_H
#define TURNHEAT_WORKERS_H

#define TH_WORKERS_MAX 256

/**
 * Calls `work(context, worker)` for the workers 0 to `n` - 1 at once and returns when all came
 * back. Worker 0 is the calling thread. Where fewer threads can be had, fewer are called: `work`
 * must leave nothing undone when it is called once.
 */
void th_workers_run(int n, void (*work)(void *context, int worker), void *context);

#endif

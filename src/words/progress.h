/* SPDX-License-Identifier: GPL-3.0-or-later */
/** One line that tells a waiting person what a long run is at; nothing where nobody watches. */
#ifndef TURNHEAT_PROGRESS_H
#define TURNHEAT_PROGRESS_H

#include <stdio.h>
#include <time.h>

struct th_progress {
    FILE *out;             /**< NULL: nobody watches */
    struct timespec since; /**< when the run began */
    int width;             /**< of the line that stands there now; 0: none */
};

/** Starts; `out` (stderr) counts only when it is a terminal. Nothing is written yet. */
void th_progress_begin(struct th_progress *progress, FILE *out);

/** Says what comes next (printf style), from the second second on. NULL progress is allowed. */
void th_progress_step(struct th_progress *progress, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/** Erases the line. */
void th_progress_end(struct th_progress *progress);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "progress.h"

#include <stdarg.h>
#include <string.h>
#include <unistd.h>

/* Runs shorter than this say nothing. */
#define QUIET_S 1.0
/* A line that wraps cannot be erased. */
#define WIDTH_MAX 72

void th_progress_begin(struct th_progress *progress, FILE *out)
{
    *progress = (struct th_progress){.out = isatty(fileno(out)) ? out : NULL};
    clock_gettime(CLOCK_MONOTONIC, &progress->since);
}

static double seconds(const struct timespec *since)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - since->tv_sec) + 1e-9 * (double)(now.tv_nsec - since->tv_nsec);
}

/* Over what stands there, the rest of it blanked. */
static void put(struct th_progress *progress, const char *text)
{
    const int n = (int)strlen(text);
    const int rest = progress->width > n ? progress->width - n : 0;
    fprintf(progress->out, "\r%s%*s%s", text, rest, "", n == 0 ? "\r" : "");
    fflush(progress->out);
    progress->width = n;
}

void th_progress_step(struct th_progress *progress, const char *format, ...)
{
    char text[WIDTH_MAX + 1];
    va_list args;
    if (!progress || !progress->out || seconds(&progress->since) < QUIET_S)
        return;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    put(progress, text);
}

void th_progress_end(struct th_progress *progress)
{
    if (progress->out && progress->width > 0)
        put(progress, "");
}

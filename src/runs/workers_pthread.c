/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The only file that starts threads. */
#include "workers.h"

#include <pthread.h>

struct worker {
    void (*work)(void *context, int worker);
    void *context;
    int number;
    pthread_t thread;
};

static void *start(void *argument)
{
    struct worker *worker = argument;
    worker->work(worker->context, worker->number);
    return NULL;
}

void th_workers_run(int n, void (*work)(void *context, int worker), void *context)
{
    struct worker workers[TH_WORKERS_MAX];
    int started = 1;
    for (; started < n && started < TH_WORKERS_MAX; started++) {
        struct worker *worker = &workers[started];
        *worker = (struct worker){.work = work, .context = context, .number = started};
        if (pthread_create(&worker->thread, NULL, start, worker) != 0)
            break;
    }
    work(context, 0);
    for (int i = 1; i < started; i++)
        pthread_join(workers[i].thread, NULL);
}

struct th_team th_workers_team(void)
{
    return (struct th_team){.n = 1};
}

void th_workers_exchange(void *places, size_t n, size_t size)
{
    (void)places, (void)n, (void)size;
}

bool th_workers_keeps(void)
{
    return false;
}

bool th_workers_recall(const struct th_season_key *key, struct th_season *season)
{
    (void)key, (void)season;
    return false;
}

void th_workers_keep(const struct th_season_key *key, const struct th_season *season)
{
    (void)key, (void)season;
}

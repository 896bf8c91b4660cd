/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workers.h"

#include <stdatomic.h>

/* Things to do, each by whoever is free. */
struct each {
    size_t n;
    void (*one)(void *context, size_t i);
    void *context;
    atomic_size_t next;
};

static void work(void *context, int worker)
{
    struct each *const each = context;
    (void)worker;
    for (size_t i = atomic_fetch_add(&each->next, 1); i < each->n;
         i = atomic_fetch_add(&each->next, 1))
        each->one(each->context, i);
}

void th_workers_each(int jobs, size_t n, void (*one)(void *context, size_t i), void *context)
{
    struct each each = {.n = n, .one = one, .context = context};
    const int most = n < TH_WORKERS_MAX ? (int)n : TH_WORKERS_MAX;
    th_workers_run(jobs < most ? jobs : most, work, &each);
}

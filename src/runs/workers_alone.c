/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For machines without threads: the caller works alone. */
#include "workers.h"

void th_workers_run(int n, void (*work)(void *context, int worker), void *context)
{
    (void)n;
    work(context, 0);
}

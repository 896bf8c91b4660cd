/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole barn file; the tables it names hold the same bytes. A room without errors must be one
   that the engine can prepare or refuse. */
#include "fuzz_file.h"

#include "barn.h"
#include "turnheat/season.h"

#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct th_barn barn;
    static struct th_engine engine;
    struct th_issues issues = {0};
    struct th_error err;
    th_init();
    fuzz_file_set(data, size);
    const enum th_code code = th_barn_read(NULL, "room.barn", NULL, NULL, 0, &barn, &issues);
    if ((code == TH_OK) != (issues.n_errors == 0))
        abort();
    if (code == TH_OK && th_engine_init(&engine, &barn.room, &err) == TH_OK)
        th_engine_finish(&engine);
    th_barn_finish(&barn);
    th_issues_finish(&issues);
    return 0;
}

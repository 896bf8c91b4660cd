/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A barn file, as for the target barn, whose room is then simulated over one season of invented
   weather. */
#include "fuzz_file.h"

#include "../sound_season.h"
#include "barn.h"

#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct th_barn barn;
    struct th_issues issues = {0};
    th_init();
    fuzz_file_set(data, size);
    if (th_barn_read(NULL, "room.barn", NULL, NULL, 0, &barn, &issues) == TH_OK &&
        !room_is_sound(&barn.room))
        abort();
    th_barn_finish(&barn);
    th_issues_finish(&issues);
    return 0;
}

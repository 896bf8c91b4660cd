/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A good barn file; the first line of the bytes is given as --set where it is not empty, the rest
   is the farm file. What is taken must pass the checks that plan relies on. */
#include "fuzz_file.h"

#include "barn.h"

#include <stdlib.h>
#include <string.h>

static const char room[] =
    "[room]\nspaces = 1,000\nlength = 200 ft\nwidth = 40 ft\nheight = 8 ft\n"
    "[site]\nelevation = 1,000 ft\n[surface ceiling]\nkind = ceiling\narea = 8,000 ft2\nR = 30\n"
    "[surface walls]\nkind = curtain\narea = 2,000 ft2\n[air]\ninstalled_max = 100,000 cfm\n"
    "[heater room]\nunits = 3\ninput = 225,000 Btu/h\n"
    "[turn winter]\nplace = 11-05\nhead = 1000\nweight = 13 lb\ndays = 165\n"
    "[choice lead-lag]\nheater room.control = lead_lag\n[option thick]\nsurface ceiling.R = 60\n";

static void check_farm(const struct th_barn *barn)
{
    struct th_error err;
    for (int i = 0; i < barn->n_tanks; i++)
        if (th_tank_check(&barn->tanks[i], &err) != TH_OK)
            abort();
    for (int i = 0; i < barn->n_contracts; i++)
        if (th_contract_check(&barn->contracts[i], &err) != TH_OK)
            abort();
    for (int i = 0; i < barn->n_uses; i++)
        if (th_use_check(&barn->uses[i], &err) != TH_OK)
            abort();
}

static void check_variants(const struct th_barn *barn)
{
    static struct th_room variant;
    struct th_issues issues = {0};
    for (int i = 0; i < barn->n_choices; i++)
        if (th_barn_variant(barn, TH_PICK_CHOICE, i, &variant, &issues) != TH_OK)
            abort();
    for (int i = 0; i < barn->n_options; i++)
        if (th_barn_variant(barn, TH_PICK_OPTION, i, &variant, &issues) != TH_OK)
            abort();
    th_issues_finish(&issues);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct th_barn barn;
    struct th_issues issues = {0};
    const uint8_t *const newline = size > 0 ? memchr(data, '\n', size) : NULL;
    if (!newline)
        return 0;
    const size_t length = (size_t)(newline - data);
    char *const set = calloc(length + 1, 1);
    if (!set)
        return 0;
    memcpy(set, data, length);
    th_init();
    fuzz_file_set(newline + 1, size - length - 1);
    fuzz_file_fix("room.barn", room);
    const char *const sets[] = {set};
    const enum th_code code =
        th_barn_read(NULL, "room.barn", "here.farm", sets, length > 0 ? 1 : 0, &barn, &issues);
    if ((code == TH_OK) != (issues.n_errors == 0))
        abort();
    if (code == TH_OK) {
        check_farm(&barn);
        check_variants(&barn);
    }
    th_barn_finish(&barn);
    th_issues_finish(&issues);
    free(set);
    return 0;
}

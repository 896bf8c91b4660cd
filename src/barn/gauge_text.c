/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "gauge_text.h"

#include "month_day.h"
#include "quantity.h"
#include "turnheat/calendar.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#define TEXT_MAX 160

/* "barns = 62 % on 2026-01-12": name, value and date, each trimmed, "" where not given. */
struct pair {
    char name[TEXT_MAX], value[TEXT_MAX], date[TEXT_MAX];
};

static void trim_copy(char to[TEXT_MAX], const char *from, size_t n)
{
    while (n > 0 && isspace((unsigned char)*from)) {
        from++;
        n--;
    }
    while (n > 0 && isspace((unsigned char)from[n - 1]))
        n--;
    snprintf(to, TEXT_MAX, "%.*s", (int)n, from);
}

static struct pair take_apart(const char *text)
{
    struct pair p = {"", "", ""};
    const char *equals = strchr(text, '=');
    const char *value = equals ? equals + 1 : text;
    const char *on = strstr(value, " on ");
    if (equals)
        trim_copy(p.name, text, (size_t)(equals - text));
    trim_copy(p.value, value, on ? (size_t)(on - value) : strlen(value));
    if (on)
        trim_copy(p.date, on + 4, strlen(on + 4));
    return p;
}

static int tank_named(const struct th_plan_in *plan, const char *name)
{
    if (!*name && plan->n_tanks == 1)
        return 0;
    for (int i = 0; i < plan->n_tanks; i++)
        if (strcmp(plan->tanks[i].name, name) == 0)
            return i;
    return -1;
}

static int contract_named(const struct th_plan_in *plan, const char *name)
{
    for (int i = 0; i < plan->n_contracts; i++)
        if (strcmp(plan->contracts[i].name, name) == 0)
            return i;
    return -1;
}

enum th_code th_gauge_read(const char *text, const struct th_plan_in *plan, struct th_ahead_in *in,
                           struct th_error *err)
{
    const struct pair p = take_apart(text);
    const int tank = tank_named(plan, p.name);
    if (tank < 0)
        return th_fail(err, TH_ERR_USAGE,
                       "--gauge \"%.60s\": expected the name of a [tank], as in \"%s=62 %%\"", text,
                       plan->n_tanks > 0 ? plan->tanks[0].name : "barns");
    struct th_gauge *gauge = &in->gauges[tank];
    if (gauge->read)
        return th_fail(err, TH_ERR_USAGE, "--gauge: %s is given twice", plan->tanks[tank].name);
    *gauge = (struct th_gauge){.read = true, .day = in->day};
    if (th_quantity_read(p.value, TH_DIM_SHARE, &gauge->share, NULL) != TH_OK ||
        !(gauge->share >= 0.0 && gauge->share <= 1.0))
        return th_fail(err, TH_ERR_USAGE,
                       "--gauge \"%.60s\": expected what the gauge shows, 0 to 100 %% with its "
                       "sign, as in \"41 %%\"",
                       text);
    if (p.date[0] && !th_date_read(p.date, &gauge->day))
        return th_fail(err, TH_ERR_USAGE,
                       "--gauge \"%.60s\": expected the day it was read, as in \"62 %% on "
                       "2026-01-12\"",
                       text);
    if (gauge->day > in->day)
        return th_fail(err, TH_ERR_USAGE, "--gauge \"%.60s\": it was read later than --from", text);
    return TH_OK;
}

enum th_code th_taken_read(const char *text, const struct th_plan_in *plan, struct th_ahead_in *in,
                           struct th_error *err)
{
    const struct pair p = take_apart(text);
    const int contract = contract_named(plan, p.name);
    if (contract < 0 || plan->contracts[contract].kind == TH_CONTRACT_SPOT)
        return th_fail(err, TH_ERR_USAGE,
                       "--taken \"%.60s\": expected the name of a [contract] in force and what was "
                       "taken of it, as in \"prepaid=4,000 gal\"",
                       text);
    for (int i = 0; i < in->n_taken; i++)
        if (in->taken[i].contract == contract)
            return th_fail(err, TH_ERR_USAGE, "--taken: %s is given twice",
                           plan->contracts[contract].name);
    const struct th_contract *const of = &plan->contracts[contract];
    if (of->kind != TH_CONTRACT_CAPPED && !(of->volume_gal > 0.0))
        return th_fail(err, TH_ERR_USAGE,
                       "--taken \"%.60s\": [contract %s] has no volume; write what you signed for, "
                       "as in volume = 4,000 gal",
                       text, of->name);
    struct th_taken *taken = &in->taken[in->n_taken++];
    taken->contract = contract;
    if (th_quantity_read(p.value, TH_DIM_GAS_VOLUME, &taken->gal, NULL) != TH_OK)
        return th_fail(err, TH_ERR_USAGE,
                       "--taken \"%.60s\": expected gallons, as in \"%s=4,000 gal\"", text,
                       plan->contracts[contract].name);
    if (taken->gal < 0.0)
        return th_fail(err, TH_ERR_USAGE, "--taken \"%.60s\": expected 0 gal or more", text);
    if ((plan->contracts[contract].volume_gal > 0.0 &&
         taken->gal > plan->contracts[contract].volume_gal))
        return th_fail(err, TH_ERR_USAGE,
                       "--taken \"%.60s\": expected 0 to %.0f gal, what the contract is of", text,
                       plan->contracts[contract].volume_gal);
    return TH_OK;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_effects.h"

#include "turnheat/units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A number moved: which request of the list runs it, and where to. */
struct trial_input {
    char name[TH_SECTION_MAX + TH_NAME_MAX];
    int request; /* -1: the barn cannot have it so */
    int sign;
};

struct search {
    const struct th_barn *barn;
    const struct th_climate *climate;
    int year;
    struct th_runs *runs;
    struct th_room *room; /* scratch */
    int n, room_for;
    struct trial_input *inputs;
    enum th_code code;
};

static double step_of(const struct th_parameter *key, double number)
{
    const double tenth = 0.1 * fabs(number);
    if (key->dimension == TH_DIM_TEMPERATURE || key->dimension == TH_DIM_DIFFERENCE)
        return TH_K_PER_F;
    return key->store == TH_STORE_WHOLE ? fmax(1.0, round(tenth)) : tenth;
}

static bool grow(struct search *s)
{
    if (s->n < s->room_for)
        return true;
    const int room_for = s->room_for ? 2 * s->room_for : 64;
    struct trial_input *const larger = realloc(s->inputs, (size_t)room_for * sizeof *larger);
    if (!larger)
        return false;
    s->inputs = larger;
    s->room_for = room_for;
    return true;
}

/* Asks for the season of the barn with the input at `number`; -1 where there is no such barn. */
static int request(struct search *s, const struct th_barn_input *input, double number)
{
    struct th_issues issues = {0};
    const enum th_code code =
        th_barn_changed(s->barn, input->section, input->key->name,
                        th_parameter_text(input->key, number).text, s->room, &issues);
    th_issues_finish(&issues);
    if (code == TH_ERR_MEMORY)
        s->code = code;
    return code == TH_OK ? th_runs_add(s->runs, s->room, s->climate, s->year, s->year) : -1;
}

static void try_input(void *context, const struct th_barn_input *input)
{
    struct search *const s = context;
    if (s->code != TH_OK || isnan(input->number))
        return;
    const double step = step_of(input->key, input->number);
    if (step == 0.0)
        return;
    if (!grow(s)) {
        s->code = TH_ERR_MEMORY;
        return;
    }
    struct trial_input *const tried = &s->inputs[s->n++];
    snprintf(tried->name, sizeof tried->name, "%s", input->name);
    tried->sign = 1;
    tried->request = request(s, input, input->number + step);
    if (tried->request < 0) {
        tried->sign = -1;
        tried->request = request(s, input, input->number - step);
    }
}

static enum th_code take_results(const struct search *s, int base, struct th_barn_effects *effects,
                                 struct th_error *err)
{
    double base_j = 0.0;
    enum th_code code = th_runs_gas(s->runs, base, &base_j, err);
    effects->rows = code == TH_OK ? calloc((size_t)s->n + 1, sizeof *effects->rows) : NULL;
    if (code == TH_OK && !effects->rows)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < s->n && code == TH_OK && base_j > 0.0; i++) {
        struct th_error not_run = {0};
        double gas_j = 0.0;
        if (s->inputs[i].request < 0)
            continue;
        code = th_runs_gas(s->runs, s->inputs[i].request, &gas_j, &not_run);
        if (code == TH_OK && gas_j != base_j) {
            struct th_barn_effect *const row = &effects->rows[effects->n++];
            memcpy(row->name, s->inputs[i].name, sizeof row->name);
            row->gas_share = s->inputs[i].sign * (gas_j / base_j - 1.0);
        }
        if (code != TH_ERR_MEMORY)
            code = TH_OK; /* a barn that cannot be run tells nothing */
        else
            th_fail(err, code, "out of memory");
    }
    return code;
}

enum th_code th_barn_effects_find(const struct th_barn *barn, const struct th_climate *climate,
                                  int year, struct th_runs *runs, struct th_barn_effects *effects,
                                  struct th_error *err)
{
    struct search s = {.barn = barn, .climate = climate, .year = year, .runs = runs};
    *effects = (struct th_barn_effects){0};
    s.room = malloc(sizeof *s.room);
    if (!s.room)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const int base = th_runs_add(runs, &barn->room, climate, year, year);
    enum th_code code = th_barn_inputs(barn, try_input, &s, err);
    if (code == TH_OK && s.code != TH_OK)
        code = th_fail(err, s.code, "out of memory");
    if (code == TH_OK)
        code = th_runs_do(runs, "the numbers of the barn file", err);
    if (code == TH_OK)
        code = take_results(&s, base, effects, err);
    free(s.room);
    free(s.inputs);
    return code;
}

double th_barn_effect_of(const struct th_barn_effects *effects, const char *name)
{
    for (int i = 0; i < effects->n; i++)
        if (strcmp(effects->rows[i].name, name) == 0)
            return effects->rows[i].gas_share;
    return NAN;
}

void th_barn_effects_finish(struct th_barn_effects *effects)
{
    free(effects->rows);
    *effects = (struct th_barn_effects){0};
}

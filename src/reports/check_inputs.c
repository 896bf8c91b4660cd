/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every input as it was understood: what is given, then what holds by default. */
#include "check_report.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct input_row {
    char name[TH_SECTION_MAX + TH_NAME_MAX];
    bool given;
    char value[TH_NOTE_MAX], written[TH_NOTE_MAX], where[64];
    const char *source;
    double gas_share;
    int place; /* in the order of the table of keys */
};

struct listing {
    const struct th_barn_effects *effects;
    int n, room;
    struct input_row *rows;
    bool out_of_memory;
};

static void keep_input(void *context, const struct th_barn_input *input)
{
    struct listing *const l = context;
    if (l->n == l->room) {
        const int room = l->room ? 2 * l->room : 128;
        struct input_row *const larger = realloc(l->rows, (size_t)room * sizeof *larger);
        l->out_of_memory |= !larger;
        if (!larger)
            return;
        l->rows = larger;
        l->room = room;
    }
    struct input_row *const row = &l->rows[l->n];
    *row = (struct input_row){.given = input->given, .source = input->source, .place = l->n++};
    row->gas_share = th_barn_effect_of(l->effects, input->name);
    snprintf(row->name, sizeof row->name, "%s", input->name);
    snprintf(row->value, sizeof row->value, "%s", input->value);
    if (input->given && strcmp(input->written, input->value) != 0)
        snprintf(row->written, sizeof row->written, "%s", input->written);
    if (input->given && input->place.line > 0)
        snprintf(row->where, sizeof row->where, "line %ld", input->place.line);
    else if (input->given)
        snprintf(row->where, sizeof row->where, "%s", input->place.file);
}

/* What moves the gas most first, what moves nothing as it stands in the table of keys. */
static int by_effect(const void *a, const void *b)
{
    const struct input_row *const left = a, *const right = b;
    const double of_left = isnan(left->gas_share) ? 0.0 : fabs(left->gas_share);
    const double of_right = isnan(right->gas_share) ? 0.0 : fabs(right->gas_share);
    if (of_left != of_right)
        return of_left > of_right ? -1 : 1;
    return left->place - right->place;
}

static void list_inputs(struct th_report *report, const struct listing *l, bool given)
{
    for (int i = 0; i < l->n; i++) {
        const struct input_row *const row = &l->rows[i];
        if (row->given != given)
            continue;
        th_report_row(report);
        th_report_cell(report, "input", "Input", "", TH_PLAIN, th_text(row->name));
        th_report_cell(report, "gas_pct", "Gas", "%", TH_TENTHS, th_number(100.0 * row->gas_share));
        th_report_cell(report, "value", "Value", "", TH_PLAIN, th_text(row->value));
        if (given) {
            th_report_cell(report, "written", "As written", "", TH_PLAIN,
                           th_text(row->written[0] ? row->written : NULL));
            th_report_cell(report, "where", "Where", "", TH_PLAIN, th_text(row->where));
        } else
            th_report_cell(report, "source", "Source", "", TH_PLAIN, th_text(row->source));
    }
}

enum th_code th_checked_inputs(struct th_report *report, const struct th_barn *barn,
                               const struct th_barn_effects *effects, struct th_error *err)
{
    struct listing all = {.effects = effects};
    th_report_section(report, "inputs", "Every input");
    enum th_code code = th_barn_inputs(barn, keep_input, &all, err);
    if (code == TH_OK && all.out_of_memory)
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (code == TH_OK && all.n > 0) {
        qsort(all.rows, (size_t)all.n, sizeof *all.rows, by_effect);
        if (effects->n > 0)
            th_report_paragraph(report, "order",
                                "Gas: what it does to the gas of the middle winter if this number "
                                "is a tenth more (a temperature 1 °F, a count at least one), the "
                                "others staying as they are. What moves most stands first.");
        th_report_table(report, "given", "As given");
        list_inputs(report, &all, true);
        th_report_table(report, "defaults", "As default");
        list_inputs(report, &all, false);
    }
    free(all.rows);
    return code;
}

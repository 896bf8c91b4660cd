/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_doc.h"

#include "turnheat/envelope.h"
#include "turnheat/units.h"

#include <string.h>

void th_key_write_value(const struct th_parameter *key, FILE *out)
{
    switch (key->store) {
    case TH_STORE_YES_NO:
        fputs("yes or no", out);
        return;
    case TH_STORE_WORD:
        for (const struct th_word *word = key->words; word->word; word++)
            fprintf(out, "%s%s", word == key->words ? "" : ", ", word->word);
        return;
    case TH_STORE_WHOLE:
        fputs("a whole number", out);
        return;
    case TH_STORE_NAME:
    case TH_STORE_NOTE:
        fputs("text", out);
        return;
    case TH_STORE_PATH:
        fputs("a file", out);
        return;
    case TH_STORE_WEATHER:
        fputs("files", out);
        return;
    case TH_STORE_WEEKDAYS:
        fputs("weekdays", out);
        return;
    case TH_STORE_SEASON:
        fputs("a season, such as 2025-26", out);
        return;
    case TH_STORE_DEVIATES:
        fputs("eight numbers", out);
        return;
    case TH_STORE_LEAVES:
        fputs("day: share, ...", out);
        return;
    case TH_STORE_WEEKS:
    case TH_STORE_NUMBER:
    case TH_STORE_MONTH_DAY:
    case TH_STORE_DATE:
        fputs(th_quantity_expected(key->dimension), out);
        return;
    }
}

struct th_key_text th_key_default(const struct th_parameter *key)
{
    struct th_key_text text;
    snprintf(text.text, sizeof text.text, "%s",
             key->initial.given ? th_amount_text(key, key->initial).text
             : key->otherwise   ? key->otherwise
                                : "none");
    return text;
}

/* A bar would end the cell. */
static void write_cell(const char *text, FILE *out)
{
    for (; *text; text++)
        fputs((const char[]){*text == '|' ? '\\' : *text, *text == '|' ? '|' : '\0', '\0'}, out);
}

static void write_default(const struct th_parameter *key, FILE *out)
{
    if (key->needed)
        fputs("must be given", out);
    else
        write_cell(th_key_default(key).text, out);
    if (key->source)
        fprintf(out, " (%s)", key->source);
}

static void write_key(const struct th_parameter *key, FILE *out)
{
    fprintf(out, "| `%s` | ", key->name);
    th_key_write_value(key, out);
    if (key->low.given)
        fprintf(out, "; %s to %s", th_amount_text(key, key->low).text,
                th_amount_text(key, key->high).text);
    if (key->usual_low.given)
        fprintf(out, ", usually %s to %s", th_amount_text(key, key->usual_low).text,
                th_amount_text(key, key->usual_high).text);
    fputs(" | ", out);
    write_default(key, out);
    fputs(" | ", out);
    write_cell(key->help, out);
    fputs(" |\n", out);
}

static void write_kind(const struct th_section_kind *kind, FILE *out)
{
    fprintf(out, "\n## `[%s%s]`\n\n%c%s.%s%s\n\n", kind->word, kind->named ? " NAME" : "",
            kind->help[0] >= 'a' && kind->help[0] <= 'z' ? kind->help[0] - 'a' + 'A'
                                                         : kind->help[0],
            kind->help + 1, kind->named ? " Any number, each with a name of its own." : "",
            kind->farm ? " May stand in the farm file." : "");
    fputs("| key | value | default (source) | meaning |\n|---|---|---|---|\n", out);
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++)
        write_key(key, out);
}

static void write_materials(FILE *out)
{
    int n = 0;
    const struct th_material *const list = th_material_list(&n);
    fputs("\n## Materials for `layers`\n\n| material | R | source |\n|---|---|---|\n", out);
    for (int i = 0; i < n; i++) {
        const double r_us = list[i].r / TH_R_SI_PER_US;
        const char *const end = strrchr(list[i].name, ' ');
        if (end && strcmp(end, " film") == 0)
            continue; /* added by themselves */
        if (list[i].piece)
            fprintf(out, "| %s | %.4g | %s |\n", list[i].name, r_us, list[i].source);
        else
            fprintf(out, "| %s THICKNESS | %.4g an inch | %s |\n", list[i].name, r_us * TH_M_PER_IN,
                    list[i].source);
    }
}

static void write_assemblies(FILE *out)
{
    int n = 0;
    const struct th_assembly *const list = th_assembly_list(&n);
    fputs("\n## Whole walls for `assembly`\n\n| assembly | R | source |\n|---|---|---|\n", out);
    for (int i = 0; i < n; i++) {
        double r = 0.0;
        if (th_envelope_r(list[i].layers, list[i].n_layers, list[i].framing_share, &r, NULL) ==
            TH_OK)
            fprintf(out, "| %s | %.3g | %s |\n", list[i].name, r / TH_R_SI_PER_US, list[i].source);
    }
}

static void write_edges(FILE *out)
{
    int n = 0;
    const struct th_slab_edge *const list = th_slab_edge_list(&n);
    fputs("\n## Slab edges for `slab_edge`\n\n| slab edge | Btu/h ft F | source |\n|---|---|---|\n",
          out);
    for (int i = 0; i < n; i++)
        fprintf(out, "| %s | %.2f | %s |\n", list[i].name,
                list[i].f_w_mk * TH_M_PER_FT * TH_K_PER_F / TH_W_PER_BTUH, list[i].source);
}

void th_barn_doc_write(FILE *out)
{
    int n = 0;
    const struct th_section_kind *const kinds = th_section_kinds(&n);
    for (int i = 0; i < n; i++)
        write_kind(&kinds[i], out);
    write_materials(out);
    write_assemblies(out);
    write_edges(out);
}

void th_key_explain(const struct th_parameter *key, FILE *out)
{
    fprintf(out, "%s. Expected: ", key->help);
    th_key_write_value(key, out);
    if (key->low.given)
        fprintf(out, ", between %s and %s", th_amount_text(key, key->low).text,
                th_amount_text(key, key->high).text);
    if (key->initial.given || key->otherwise)
        fprintf(out, ". Without it: %s", th_key_default(key).text);
    if (key->source)
        fprintf(out, " (%s)", key->source);
    fputs(".", out);
}

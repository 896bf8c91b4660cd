/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_doc.h"
#include "barn_new.h"
#include "barn_questions.h"
#include "commands.h"
#include "report.h"
#include "deliver.h"

#include <stdlib.h>
#include <string.h>

/* "5 to 40 ft", or "" where there is no such thing. */
static const char *span(const struct th_parameter *key, struct th_amount low, struct th_amount high,
                        char text[160])
{
    text[0] = '\0';
    if (!low.given)
        return text;
    const struct th_amount_text from = th_amount_text(key, low), to = th_amount_text(key, high);
    const size_t number = strcspn(from.text, " ");
    const bool one_unit = strcmp(from.text + number, to.text + strcspn(to.text, " ")) == 0;
    snprintf(text, 160, "%.*s to %s", (int)(one_unit ? number : strlen(from.text)), from.text,
             to.text);
    return text;
}

static void text_cell(struct th_report *report, const char *name, const char *label,
                      const char *text)
{
    th_report_cell(report, name, label, "", TH_PLAIN, text && *text ? th_text(text) : th_missing());
}

static void add_key(struct th_report *report, const struct th_parameter *key)
{
    char *value = NULL, range[160], usual[160];
    size_t size = 0;
    FILE *const memory = open_memstream(&value, &size);
    if (memory) {
        th_key_write_value(key, memory);
        fclose(memory);
    }
    th_report_row(report);
    text_cell(report, "key", "Key", key->name);
    text_cell(report, "value", "Value", value);
    text_cell(report, "range", "Range", span(key, key->low, key->high, range));
    text_cell(report, "usual", "Usual", span(key, key->usual_low, key->usual_high, usual));
    th_report_cell(report, "needed", "Needed", "", TH_PLAIN, th_bool(key->needed));
    text_cell(report, "default", "Default", key->needed ? NULL : th_key_default(key).text);
    text_cell(report, "source", "Source of it", key->source);
    text_cell(report, "meaning", "Meaning", key->help);
    th_report_cell(report, "settable", "By --set", "", TH_PLAIN, th_bool(th_key_is_scalar(key)));
    free(value);
}

static void add_section(struct th_report *report, const struct th_section_kind *kind)
{
    const struct th_parameter *key;
    th_report_part(report, "sections", kind->word);
    th_report_paragraph(report, "meaning", "%s", kind->help);
    th_report_fact(report, "named", "Any number, each with a name", "", TH_PLAIN,
                   th_bool(kind->named));
    th_report_fact(report, "farm", "May stand in the farm file", "", TH_PLAIN, th_bool(kind->farm));
    th_report_table(report, "keys", "Keys");
    for (int i = 0; (key = th_section_key(kind, i)); i++)
        add_key(report, key);
    th_report_part_end(report);
}

static enum th_code report_keys(struct th_report *report, const char *word, struct th_error *err)
{
    int n = 0;
    bool found = false;
    const struct th_section_kind *const kinds = th_section_kinds(&n);
    th_report_title(report, "Keys of barn and farm files");
    for (int i = 0; i < n; i++)
        if (!word || strcmp(word, kinds[i].word) == 0) {
            add_section(report, &kinds[i]);
            found = true;
        }
    if (found)
        return TH_OK;
    const char *const nearest = th_section_kind_nearest(word);
    return th_fail(err, TH_ERR_USAGE, "there is no section [%.60s]%s%s%s", word,
                   nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
}

/* What new --ask asks, for forms that ask the same. */
static void report_questions(struct th_report *report)
{
    size_t n;
    const struct th_question *const questions = th_questions(&n);
    th_report_title(report, "What new --ask asks");
    th_report_table(report, "questions", "Questions, and the answers of invented barns");
    for (size_t i = 0; i < n; i++) {
        th_report_row(report);
        text_cell(report, "section", "Section", questions[i].section);
        text_cell(report, "key", "Key", questions[i].key);
        text_cell(report, "asks", "What it is", questions[i].ask);
        text_cell(report, "where", "Where one reads it", questions[i].where);
        th_report_cell(report, "optional", "May stay open", "", TH_PLAIN,
                       th_bool(th_question_is_optional(&questions[i])));
        for (int kind = 0; kind < TH_NEW_KINDS; kind++)
            text_cell(report, th_barn_new_kinds[kind], th_barn_new_kinds[kind],
                      questions[i].answer[kind]);
    }
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_report *const report = th_report_new("keys");
    const char *const section = arguments->n_operands ? arguments->operands[0] : NULL;
    enum th_code code = TH_OK;
    if (th_given_count(arguments, "asked"))
        report_questions(report);
    else
        code = report_keys(report, section, err);
    if (code == TH_OK)
        code = th_deliver(arguments, report, err);
    th_report_free(report);
    return code;
}

static const struct th_option options[] = {
    {"asked", NULL, "list what new --ask asks instead", false, 0, false}};

const struct th_command th_cmd_keys = {
    .name = "keys",
    .operands = "[SECTION]",
    .operands_min = 0,
    .operands_max = 1,
    .summary = "what can be written into a barn or farm file",
    .about = "Lists the keys of all sections, or of one: units, range, what is usual, the value "
             "without it and where that comes from, and its meaning. This is the table the program "
             "itself reads by.",
    .example = "turnheat keys air",
    .takes = TH_TAKES_REPORT,
    .options = options,
    .n_options = 1,
    .run = run};

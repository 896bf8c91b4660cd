/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_new.h"

#include "barn_doc.h"
#include "barn_questions.h"

#include <string.h>

#define WIDTH 96
#define SENTENCES_MAX 800

/* A line of a barn to start from. Sections come in the order of the table of keys. */
struct line {
    const char *section;
    const char *key;
    const char *value;
};

/* Each of the three is an invented room of usual size and make. The heaters of the first two are
 * 1.15 to 1.25 times what th_size_run() asks for in the sample of that name. */
static const struct line curtain[] = {{"room", "length", "200 ft"},
                                      {"room", "width", "40 ft"},
                                      {"room", "height", "7.5 ft"},
                                      {"room", "slab_edge", "uninsulated"},
                                      {"site", "elevation", "1,000 ft"},
                                      {"surface curtains", "kind", "curtain"},
                                      {"surface curtains", "area", "1,536 ft2"},
                                      {"surface concrete", "area", "1,200 ft2"},
                                      {"surface concrete", "layers", "concrete 8 in"},
                                      {"surface framed", "area", "782 ft2"},
                                      {"surface framed", "assembly", "stud wall 2x6 r-19"},
                                      {"surface ceiling", "kind", "ceiling"},
                                      {"surface ceiling", "faces", "attic"},
                                      {"surface ceiling", "area", "8,000 ft2"},
                                      {"surface ceiling", "R", "29"},
                                      {"air", "fan_floor", "2,600 cfm"},
                                      {"air", "inlet_air", "attic"},
                                      {"heater main", "control", "on_off"},
                                      {"heater main", "units", "4"},
                                      {"heater main", "input", "150,000 Btu/h"},
                                      {"turn winter", "place", "11-05"},
                                      {"turn winter", "head", "1,050"},
                                      {"turn winter", "weight", "13 lb"},
                                      {"turn winter", "days", "165"},
                                      {"turn summer", "place", "05-05"},
                                      {"turn summer", "head", "1,050"},
                                      {"turn summer", "weight", "13 lb"},
                                      {"turn summer", "days", "165"},
                                      {0}};

static const struct line solid[] = {
    {"room", "length", "200 ft"},
    {"room", "width", "40 ft"},
    {"room", "height", "8 ft"},
    {"room", "slab_edge", "r-10 vertical 2 ft"},
    {"site", "elevation", "1,000 ft"},
    {"surface walls", "area", "2,838 ft2"},
    {"surface walls", "assembly", "stud wall 2x6 r-19"},
    {"surface concrete", "area", "960 ft2"},
    {"surface concrete", "layers", "concrete 8 in, extruded polystyrene 2 in"},
    {"surface ceiling", "kind", "ceiling"},
    {"surface ceiling", "faces", "attic"},
    {"surface ceiling", "area", "8,000 ft2"},
    {"surface ceiling", "R", "39"},
    {"air", "fan_floor", "2,200 cfm"},
    {"air", "inlet_air", "attic"},
    {"heater main", "control", "on_off"},
    {"heater main", "units", "3"},
    {"heater main", "input", "120,000 Btu/h"},
    {"turn winter", "place", "11-05"},
    {"turn winter", "head", "1,050"},
    {"turn winter", "weight", "13 lb"},
    {"turn winter", "days", "165"},
    {"turn summer", "place", "05-05"},
    {"turn summer", "head", "1,050"},
    {"turn summer", "weight", "13 lb"},
    {"turn summer", "days", "165"},
    {0}};

static const struct line nursery[] = {{"room", "length", "48 ft"},
                                      {"room", "width", "22 ft"},
                                      {"room", "height", "8 ft"},
                                      {"room", "perimeter", "22 ft"},
                                      {"room", "slab_edge", "r-10 vertical 2 ft"},
                                      {"site", "elevation", "1,000 ft"},
                                      {"surface end wall", "area", "176 ft2"},
                                      {"surface end wall", "assembly", "stud wall 2x6 r-19"},
                                      {"surface hallway wall", "faces", "hallway"},
                                      {"surface hallway wall", "area", "176 ft2"},
                                      {"surface hallway wall", "R", "12"},
                                      {"surface ceiling", "kind", "ceiling"},
                                      {"surface ceiling", "faces", "attic"},
                                      {"surface ceiling", "area", "1,056 ft2"},
                                      {"surface ceiling", "R", "35"},
                                      {"air", "fan_floor", "650 cfm"},
                                      {"air", "inlet_air", "hallway"},
                                      {"air", "hallway_temperature", "50 F"},
                                      {"pigs", "deaths", "2.7 %"},
                                      {"heater main", "control", "on_off"},
                                      {"heater main", "units", "1"},
                                      {"heater main", "input", "80,000 Btu/h"},
                                      {"turn winter", "place", "11-05"},
                                      {"turn winter", "head", "320"},
                                      {"turn winter", "weight", "12.9 lb"},
                                      {"turn winter", "days", "46"},
                                      {"turn late winter", "place", "01-06"},
                                      {"turn late winter", "head", "320"},
                                      {"turn late winter", "weight", "12.9 lb"},
                                      {"turn late winter", "days", "46"},
                                      {0}};

const char *const th_barn_new_kinds[] = {"curtain", "solid", "nursery", NULL};
static const struct line *const barns[] = {curtain, solid, nursery};

/* Comment lines of at most WIDTH characters. */
static void write_comment(const char *text, FILE *out)
{
    while (*text) {
        size_t length = strlen(text);
        if (length > WIDTH) {
            length = WIDTH;
            while (length > 1 && text[length] != ' ')
                length--;
        }
        fprintf(out, "# %.*s\n", (int)length, text);
        text += length + strspn(text + length, " ");
    }
}

/* "Meaning. Value: …, from … to …. Default: … (source)." as one paragraph. */
static void explain(const struct th_parameter *key, FILE *out)
{
    char text[SENTENCES_MAX] = "";
    FILE *const memory = fmemopen(text, sizeof text, "w");
    if (!memory)
        return;
    fprintf(memory, "%s: ", key->name);
    th_key_explain(key, memory);
    fclose(memory);
    fputs("\n", out);
    write_comment(text, out);
}

/* The key in a comment, with the value it has without. */
static void write_unset(const struct th_parameter *key, FILE *out)
{
    fprintf(out, "# %s =%s%s\n", key->name, key->initial.given ? " " : "",
            key->initial.given ? th_amount_text(key, key->initial).text : "");
}

static const struct line *find_line(const struct line *lines, const char *section, const char *key)
{
    for (const struct line *line = lines; line->section; line++)
        if (strcmp(line->section, section) == 0 && (!key || strcmp(line->key, key) == 0))
            return line;
    return NULL;
}

static void write_section(const struct th_section_kind *kind, const char *section,
                          const struct line *lines, bool explained, FILE *out)
{
    fprintf(out, "\n[%s]\n", section);
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++) {
        const struct line *const line = find_line(lines, section, key->name);
        if (explained)
            explain(key, out);
        if (line)
            fprintf(out, "%s = %s\n", key->name, line->value);
        else if (explained)
            write_unset(key, out);
    }
}

/* A section the barn does without: all of it in comments. */
static void write_unused(const struct th_section_kind *kind, FILE *out)
{
    fprintf(out, "\n# [%s%s]\n", kind->word, kind->named ? " NAME" : "");
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++) {
        explain(key, out);
        write_unset(key, out);
    }
}

static bool is_of_kind(const char *section, const struct th_section_kind *kind)
{
    const char *name = "";
    return th_section_kind_of(section, &name) == kind;
}

/* All sections of one kind; the first is explained. */
static void write_kind(const struct th_section_kind *kind, const struct line *lines, FILE *out)
{
    const char *last = NULL;
    fputs("\n", out);
    write_comment(kind->help, out);
    for (const struct line *line = lines; line->section; line++) {
        if (!is_of_kind(line->section, kind) || (last && strcmp(last, line->section) == 0))
            continue;
        write_section(kind, line->section, lines, last == NULL, out);
        last = line->section;
    }
    if (!last && !kind->named && !kind->optional)
        write_section(kind, kind->word, lines, true, out);
    else if (!last)
        write_unused(kind, out);
}

static int kind_of(const char *word)
{
    for (int i = 0; th_barn_new_kinds[i]; i++)
        if (strcmp(th_barn_new_kinds[i], word) == 0)
            return i;
    return -1;
}

/* `key = value   # what it is; where one reads it` */
static void write_answer(const struct th_question *question, const char *answer, bool hidden,
                         bool invented, FILE *out)
{
    char setting[TH_NOTE_MAX];
    const char *const mark = invented ? "INVENTED" : "";
    snprintf(setting, sizeof setting, "%s%s = %s", hidden ? "# " : "", question->key, answer);
    if (!*question->ask && !invented)
        fprintf(out, "%s\n", setting);
    else
        fprintf(out, "%-30s # %s%s%s%s%s\n", setting, mark, invented && *question->ask ? ": " : "",
                question->ask, *question->where ? "; " : "", question->where);
}

/* Whether the section of question `i` holds an answer. */
static bool section_answered(const struct th_question *questions, size_t n, size_t i,
                             const char *const *answers)
{
    for (size_t k = 0; answers && k < n; k++)
        if (answers[k] && strcmp(questions[k].section, questions[i].section) == 0)
            return true;
    return false;
}

bool th_barn_new_write_short(const char *kind, const char *const *answers, FILE *out)
{
    const int of = kind_of(kind);
    size_t n;
    const struct th_question *const questions = th_questions(&n);
    const char *section = "";
    if (of < 0)
        return false;
    fprintf(
        out,
        "# turnheat barn file, kind \"%s\". %s, then\n"
        "# turnheat check FILE. Every other key has a default: turnheat new --all shows them.\n",
        kind,
        answers ? "As answered; change what you know better"
                : "The room is invented: put your own numbers in");
    for (size_t i = 0; i < n; i++) {
        const char *const example = questions[i].answer[of];
        const char *const given = answers ? answers[i] : NULL;
        const bool hidden =
            th_question_is_optional(&questions[i]) && !section_answered(questions, n, i, answers);
        if (!example)
            continue;
        if (strcmp(section, questions[i].section) != 0)
            fprintf(out, "%s[%s]\n", hidden ? "# " : "", questions[i].section);
        section = questions[i].section;
        write_answer(&questions[i], given ? given : example, hidden, answers && !given && !hidden,
                     out);
    }
    return true;
}

bool th_barn_new_write(const char *kind, FILE *out)
{
    const int of = kind_of(kind);
    if (of < 0)
        return false;
    const struct line *const lines = barns[of];
    fprintf(out,
            "# turnheat barn file, kind \"%s\". The room below is invented: put your own "
            "numbers in.\n",
            kind);
    fputs(
        "# Lines that start with # are comments. Keys in comments hold the value they have without "
        "you.\n# Read it again with `turnheat check`. All keys: docs/barn-file.md.\n",
        out);
    int n = 0;
    const struct th_section_kind *const kinds = th_section_kinds(&n);
    for (int i = 0; i < n; i++)
        write_kind(&kinds[i], lines, out);
    return true;
}

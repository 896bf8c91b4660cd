/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ask.h"

#include "barn_doc.h"
#include "barn_new.h"
#include "barn_questions.h"
#include "output.h"
#include "text_wrap.h"
#include "utf8.h"

#include <stdlib.h>
#include <string.h>

#define ANSWER_MAX 240

/* Questions on their way. */
struct asking {
    FILE *in, *out;
    const char *path;
    int kind;
    const struct th_question *questions;
    size_t n, answered;
    char **answers; /* of each question; NULL: not answered */
    bool ended;     /* nothing more can be read */
};

/* The next line without blanks around it; false at the end of the input. */
static bool read_line(struct asking *a, char line[ANSWER_MAX])
{
    char *text = NULL;
    size_t room = 0;
    fflush(a->out);
    ssize_t length = getline(&text, &room, a->in);
    if (length < 0) {
        a->ended = true;
        free(text);
        return false;
    }
    while (length > 0 && strchr(" \t\r\n", text[length - 1]))
        length--;
    text[length] = '\0';
    snprintf(line, ANSWER_MAX, "%s", text + strspn(text, " \t"));
    free(text);
    return true;
}

static enum th_code save(const struct asking *a, struct th_error *err)
{
    struct th_output output;
    enum th_code code = th_output_open(&output, NULL, a->path, err);
    if (code != TH_OK)
        return code;
    th_barn_new_write_short(th_barn_new_kinds[a->kind], (const char *const *)a->answers,
                            output.file);
    return th_output_commit(&output, err);
}

static const struct th_parameter *key_of(const struct th_question *question)
{
    const char *name;
    return th_key_find(th_section_kind_of(question->section, &name), question->key);
}

static void explain(const struct asking *a, const struct th_question *question)
{
    char *text = NULL;
    size_t size = 0;
    FILE *const memory = open_memstream(&text, &size);
    if (!memory)
        return;
    if (*question->where)
        fprintf(memory, "%s. ", question->where);
    th_key_explain(key_of(question), memory);
    fclose(memory);
    if (!text) /* memory is short: the question stands without */
        return;
    fputs("  ", a->out);
    th_wrap(a->out, text, 2, TH_TEXT_WIDTH - 2);
    free(text);
}

/* Whether it goes on from the question before it: which winter the gallons were of. */
static bool goes_on(const struct asking *a, size_t i)
{
    return i > 0 && th_question_is_optional(&a->questions[i]) &&
           strcmp(a->questions[i].section, a->questions[i - 1].section) == 0;
}

static void prompt(const struct asking *a, const struct th_question *question)
{
    const char *const ask = *question->ask ? question->ask : key_of(question)->help;
    const char *const example = question->answer[a->kind];
    if (th_question_is_optional(question) && !goes_on(a, (size_t)(question - a->questions)))
        fprintf(a->out, "%s (such as %s; Enter: not known): ", ask, example);
    else
        fprintf(a->out, "%s [%s]: ", ask, example);
}

static void refuse(const struct asking *a, const char *answer, const char *why)
{
    char harmless[3 * ANSWER_MAX];
    th_make_harmless(harmless, answer);
    fprintf(a->out, "  %s: %s\n", harmless, why);
}

/* Asks until there is an answer that can be read; "" for none. */
static enum th_code ask_one(struct asking *a, const struct th_question *question,
                            char answer[ANSWER_MAX], struct th_error *err)
{
    for (;;) {
        prompt(a, question);
        if (!read_line(a, answer) || !*answer)
            return TH_OK;
        if (strcmp(answer, "?") == 0) {
            explain(a, question);
            continue;
        }
        const enum th_code code = th_question_check(question, answer, err);
        if (code == TH_OK || code == TH_ERR_MEMORY)
            return code;
        refuse(a, answer, err->text);
    }
}

static enum th_code ask_all(struct asking *a, struct th_error *err)
{
    enum th_code code = save(a, err);
    for (size_t i = 0; i < a->n && code == TH_OK && !a->ended; i++) {
        const struct th_question *const question = &a->questions[i];
        char answer[ANSWER_MAX] = "";
        if (!question->answer[a->kind] || (goes_on(a, i) && !a->answers[i - 1]))
            continue;
        code = ask_one(a, question, answer, err);
        if (code != TH_OK || a->ended ||
            (!*answer && th_question_is_optional(question) && !goes_on(a, i)))
            continue;
        a->answers[i] = strdup(*answer ? answer : question->answer[a->kind]);
        if (!a->answers[i])
            return th_fail(err, TH_ERR_MEMORY, "out of memory");
        a->answered++;
        code = save(a, err);
    }
    return code;
}

static int kind_called(const char *word)
{
    for (int i = 0; th_barn_new_kinds[i]; i++)
        if (strcmp(th_barn_new_kinds[i], word) == 0)
            return i;
    return -1;
}

static enum th_code settle_kind(struct asking *a, const char *kind, struct th_error *err)
{
    char answer[ANSWER_MAX];
    a->kind = kind_called(kind ? kind : th_barn_new_kinds[0]);
    if (a->kind < 0)
        return th_fail(err, TH_ERR_USAGE, "--barn %.60s: curtain, solid or nursery was expected",
                       kind);
    while (!kind) {
        fprintf(a->out, "kind of barn: curtain, solid or nursery [%s]: ", th_barn_new_kinds[0]);
        if (!read_line(a, answer) || !*answer)
            return TH_OK;
        const int called = kind_called(answer);
        if (called >= 0) {
            a->kind = called;
            return TH_OK;
        }
        refuse(a, answer, "curtain sides, solid walls or a nursery room off a hallway?");
    }
    return TH_OK;
}

enum th_code th_ask(FILE *in, FILE *out, const char *kind, const char *path, struct th_error *err)
{
    struct asking a = {.in = in, .out = out, .path = path};
    a.questions = th_questions(&a.n);
    a.answers = calloc(a.n, sizeof *a.answers);
    if (!a.answers)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    fputs("Enter takes what stands in brackets, ? explains. Every answer is saved at once.\n", out);
    enum th_code code = settle_kind(&a, kind, err);
    if (code == TH_OK && !a.ended)
        code = ask_all(&a, err);
    if (code == TH_OK && a.ended)
        fprintf(out, "\nThe questions ended early. %s\n",
                a.answered ? "The file holds the answers so far, the rest is marked INVENTED."
                           : "Nothing was answered.");
    if (code == TH_OK && a.answered)
        fprintf(out, "Next: turnheat check %s\n", path);
    for (size_t i = 0; i < a.n; i++)
        free(a.answers[i]);
    free(a.answers);
    return code;
}

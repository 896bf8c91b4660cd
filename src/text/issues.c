/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "issues.h"

#include "utf8.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define MESSAGE_MAX 900
/* Of a long line so many bytes are shown, so many of them before the place in question. */
#define SHOWN_MAX 160
#define SHOWN_BEFORE 60
#define CUT "..."

static bool continues_character(char c)
{
    return ((unsigned char)c & 0xC0u) == 0x80u;
}

/* The part of a long line that is shown: some of what is before `column`, at a character. */
static size_t window_start(const char *source, int column)
{
    if (column <= SHOWN_MAX)
        return 0;
    size_t start = (size_t)column - SHOWN_BEFORE;
    while (start > 0 && continues_character(source[start]))
        start--;
    return start;
}

/* The line and under it a caret at `column`; bytes that continue a character take no room. */
static void write_source(FILE *out, const char *source, int column)
{
    const size_t start = window_start(source, column);
    char part[SHOWN_MAX + 1], harmless[3 * SHOWN_MAX + 1];
    size_t length = strnlen(source + start, SHOWN_MAX);
    while (length > 0 && continues_character(source[start + length]))
        length--;
    memcpy(part, source + start, length);
    part[length] = '\0';
    th_make_harmless(harmless, part);
    fprintf(out, "\n    %s%s%s", start > 0 ? CUT : "", harmless, source[start + length] ? CUT : "");
    if (column < 1)
        return;
    fprintf(out, "\n    %*s", start > 0 ? (int)strlen(CUT) : 0, "");
    for (size_t i = start; i + 1 < (size_t)column && i < start + length; i++)
        if (!continues_character(source[i]))
            fputc(' ', out);
    fputc('^', out);
}

static void write_place(FILE *out, const struct th_place *place)
{
    char file[301], harmless[3 * sizeof file];
    if (!place || !place->file)
        return;
    snprintf(file, sizeof file, "%s", place->file);
    th_make_harmless(harmless, file);
    fputs(harmless, out);
    if (place->line > 0)
        fprintf(out, ":%ld", place->line);
    if (place->line > 0 && place->column > 0)
        fprintf(out, ":%d", place->column);
    fputs(": ", out);
}

static void add(struct th_issues *issues, int *n, struct th_issue *list,
                const struct th_place *place, bool with_source, const char *format, va_list args)
{
    if ((*n)++ >= TH_ISSUES_MAX)
        return;
    char message[MESSAGE_MAX], harmless[3 * MESSAGE_MAX], *text = NULL;
    size_t size = 0;
    vsnprintf(message, sizeof message, format, args);
    th_make_harmless(harmless, message);
    FILE *const out = open_memstream(&text, &size);
    if (out) {
        write_place(out, place);
        fprintf(out, "%s%s", issues->scope, harmless);
        if (with_source && place && place->source && *place->source)
            write_source(out, place->source, place->column);
        fclose(out);
    }
    list[*n - 1].text = text;
    if (!text)
        issues->memory_short = true;
}

bool th_issues_are_full(const struct th_issues *issues)
{
    return issues->n_errors >= TH_ISSUES_MAX;
}

void th_issues_error(struct th_issues *issues, const struct th_place *place, const char *format,
                     ...)
{
    va_list args;
    va_start(args, format);
    add(issues, &issues->n_errors, issues->errors, place, true, format, args);
    va_end(args);
}

void th_issues_warning(struct th_issues *issues, const struct th_place *place, const char *format,
                       ...)
{
    va_list args;
    va_start(args, format);
    add(issues, &issues->n_warnings, issues->warnings, place, false, format, args);
    va_end(args);
}

void th_issues_drop_warnings(struct th_issues *issues, int n)
{
    for (int i = n; i < issues->n_warnings && i < TH_ISSUES_MAX; i++) {
        free(issues->warnings[i].text);
        issues->warnings[i].text = NULL;
    }
    if (issues->n_warnings > n)
        issues->n_warnings = n;
}

static int n_kept(int n)
{
    return n < TH_ISSUES_MAX ? n : TH_ISSUES_MAX;
}

/* Whether one of the first `n`, which may be more than are kept, says the same. */
static bool is_among(const struct th_issue *issues, int n, const char *text)
{
    for (int i = 0; i < n_kept(n); i++)
        if (issues[i].text && strcmp(issues[i].text, text) == 0)
            return true;
    return false;
}

void th_issues_print_errors(const struct th_issues *lists, int n, FILE *out)
{
    int n_more = 0;
    for (int list = 0; list < n; list++) {
        for (int i = 0; i < n_kept(lists[list].n_errors); i++) {
            const char *const text = lists[list].errors[i].text;
            bool told = text && is_among(lists[list].errors, i, text);
            for (int other = 0; other < list && text && !told; other++)
                told = is_among(lists[other].errors, lists[other].n_errors, text);
            if (!told)
                fprintf(out, "%s\n", text ? text : "(out of memory)");
        }
        n_more += lists[list].n_errors - n_kept(lists[list].n_errors);
    }
    if (n_more > 0)
        fprintf(out, "and %d more errors\n", n_more);
}

void th_issues_print_warnings(const struct th_issues *lists, int n, FILE *out)
{
    for (int list = 0; list < n; list++)
        for (int i = 0; i < n_kept(lists[list].n_warnings); i++) {
            const char *const text = lists[list].warnings[i].text;
            bool told = !text || is_among(lists[list].warnings, i, text);
            for (int other = 0; other < list && !told; other++)
                told = is_among(lists[other].warnings, lists[other].n_warnings, text);
            if (!told)
                fprintf(out, "warning: %s\n", text);
        }
}

void th_issues_finish(struct th_issues *issues)
{
    if (!issues)
        return;
    for (int i = 0; i < TH_ISSUES_MAX; i++) {
        free(issues->errors[i].text);
        free(issues->warnings[i].text);
    }
    *issues = (struct th_issues){0};
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "issues.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define MESSAGE_MAX 900
#define TEXT_MAX 2000

static bool continues_character(char c)
{
    return ((unsigned char)c & 0xC0u) == 0x80u;
}

/* The line, and under it a caret at `column`. A caret line of tabs and blanks lines up in any
 * terminal; bytes that continue a character take no room. */
static int write_source(char *to, size_t room, const char *source, int column)
{
    int n = snprintf(to, room, "\n    %s", source);
    if (column < 1 || n < 0 || (size_t)n + 6 >= room)
        return n;
    n += snprintf(to + n, room - (size_t)n, "\n    ");
    for (int i = 0; i < column - 1 && source[i] && (size_t)n + 2 < room; i++)
        if (!continues_character(source[i]))
            to[n++] = source[i] == '\t' ? '\t' : ' ';
    to[n++] = '^';
    to[n] = '\0';
    return n;
}

static int write_place(char *to, size_t room, const struct th_place *place)
{
    if (!place || !place->file)
        return snprintf(to, room, "%s", "");
    if (place->line < 1)
        return snprintf(to, room, "%.300s: ", place->file);
    if (place->column < 1)
        return snprintf(to, room, "%.300s:%ld: ", place->file, place->line);
    return snprintf(to, room, "%.300s:%ld:%d: ", place->file, place->line, place->column);
}

static void add(struct th_issues *issues, int *n, struct th_issue *list,
                const struct th_place *place, bool with_source, const char *format, va_list args)
{
    if ((*n)++ >= TH_ISSUES_MAX)
        return;
    char message[MESSAGE_MAX];
    vsnprintf(message, sizeof message, format, args);
    char text[TEXT_MAX];
    int at = write_place(text, sizeof text, place);
    at += snprintf(text + at, sizeof text - (size_t)at, "%s%s", issues->scope, message);
    if (with_source && place && place->source && (size_t)at < sizeof text)
        write_source(text + at, sizeof text - (size_t)at, place->source, place->column);
    list[*n - 1].text = strdup(text);
    if (!list[*n - 1].text)
        issues->memory_short = true;
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

void th_issues_print_errors(const struct th_issues *issues, FILE *out)
{
    for (int i = 0; i < issues->n_errors && i < TH_ISSUES_MAX; i++)
        fprintf(out, "%s\n", issues->errors[i].text ? issues->errors[i].text : "(out of memory)");
    if (issues->n_errors > TH_ISSUES_MAX)
        fprintf(out, "and %d more errors\n", issues->n_errors - TH_ISSUES_MAX);
}

static bool has_warning(const struct th_issues *issues, int n, const char *text)
{
    for (int i = 0; i < n && i < TH_ISSUES_MAX; i++)
        if (issues->warnings[i].text && strcmp(issues->warnings[i].text, text) == 0)
            return true;
    return false;
}

void th_issues_print_warnings(const struct th_issues *lists, int n, FILE *out)
{
    for (int list = 0; list < n; list++)
        for (int i = 0; i < lists[list].n_warnings && i < TH_ISSUES_MAX; i++) {
            const char *const text = lists[list].warnings[i].text;
            bool told = !text || has_warning(&lists[list], i, text);
            for (int other = 0; other < list && !told; other++)
                told = has_warning(&lists[other], lists[other].n_warnings, text);
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

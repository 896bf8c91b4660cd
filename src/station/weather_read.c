/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_forms.h"

#include "file_names.h"
#include "turnheat/thousands.h"
#include "weather_kept.h"

#include <ctype.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define REFUSED_SHARE_MAX 0.01
#define REFUSED_ALWAYS_ALLOWED 3

#define FORM_DECLARED(name) extern const struct th_weather_form th_form_##name;
TH_WEATHER_FORMS(FORM_DECLARED)

#define FORM_LISTED(name) &th_form_##name,
static const struct th_weather_form *const forms[] = {TH_WEATHER_FORMS(FORM_LISTED) NULL};
#define FORM_NUMBER(name) FORM_##name,
enum { TH_WEATHER_FORMS(FORM_NUMBER) FORMS };

const char *th_weather_form_name(int i)
{
    return i >= 0 && i < FORMS ? forms[i]->name : NULL;
}

const char *th_weather_form_names(char text[TH_WEATHER_FORM_NAMES_MAX])
{
    size_t used = 0;
    for (int i = 0; forms[i] && used < TH_WEATHER_FORM_NAMES_MAX; i++)
        used += (size_t)snprintf(text + used, TH_WEATHER_FORM_NAMES_MAX - used, "%s%s",
                                 i == 0           ? ""
                                 : i == FORMS - 1 ? " or "
                                                  : ", ",
                                 forms[i]->name);
    return text;
}

bool th_unit_choice_from(const char *word, enum th_unit_choice *units)
{
    static const char *const words[] = {"auto", "us", "si"};
    for (int i = 0; i < 3; i++) {
        if (strcmp(word, words[i]) != 0)
            continue;
        *units = (enum th_unit_choice)i;
        return true;
    }
    return false;
}

bool th_clock_from(const char *word, enum th_clock *clock)
{
    static const char *const words[] = {"utc", "standard", "daylight"};
    for (int i = 0; i < 3; i++) {
        if (strcmp(word, words[i]) != 0)
            continue;
        *clock = (enum th_clock)(i + 1);
        return true;
    }
    return false;
}

bool th_weather_form_known(const char *name)
{
    for (int i = 0; i < FORMS; i++)
        if (strcmp(name, forms[i]->name) == 0)
            return true;
    return false;
}

/* Copies one line of `text` without its end; returns where the next one begins. */
static const char *copy_line(char *out, size_t size, const char *text, const char *end)
{
    const char *newline = memchr(text, '\n', (size_t)(end - text));
    const char *stop = newline ? newline : end;
    size_t length = (size_t)(stop - text);
    while (length > 0 && (text[length - 1] == '\r' || text[length - 1] == ' '))
        length--;
    if (length >= size)
        length = size - 1;
    memcpy(out, text, length);
    out[length] = '\0';
    return newline ? newline + 1 : end;
}

static void fold(char *text)
{
    for (; *text; text++)
        *text = (char)tolower((unsigned char)*text);
}

static enum th_code read_head(struct th_lines *lines, struct th_weather_head *head,
                              struct th_error *err)
{
    const char *text;
    size_t length;
    const enum th_code code = th_lines_peek(lines, &text, &length, err);
    if (code)
        return code;
    if (length == 0)
        return th_weather_fail(lines, 0, err, "the file is empty");
    if (memchr(text, '\0', length))
        return th_weather_fail(lines, 0, err,
                               "binary content (a NUL byte); a text file is expected");
    const char *end = text + length;
    if (length >= 3 && strncmp(text, "\xEF\xBB\xBF", 3) == 0)
        text += 3;
    const char *next = copy_line(head->first, sizeof head->first, text, end);
    copy_line(head->second, sizeof head->second, next, end);
    next = copy_line(head->names, sizeof head->names, text, end);
    while (next < end && (head->names[0] == '#' || head->names[0] == '\0'))
        next = copy_line(head->names, sizeof head->names, next, end);
    fold(head->names);
    return TH_OK;
}

static const struct th_weather_form *choose(const struct th_weather_head *head, const char *name)
{
    for (int i = 0; i < FORMS; i++)
        if (name ? strcmp(forms[i]->name, name) == 0 : forms[i]->recognise(head))
            return forms[i];
    return NULL;
}

const char *th_weather_looks_like(struct th_files *files, const char *path)
{
    const struct th_weather_form *form = NULL;
    struct th_weather_head head;
    struct th_lines lines;
    struct th_error err;
    if (th_lines_open(&lines, files, path, &err) != TH_OK)
        return NULL;
    if (read_head(&lines, &head, &err) == TH_OK)
        form = choose(&head, NULL);
    th_lines_close(&lines);
    return form ? form->name : NULL;
}

static enum th_code check_rows(const struct th_lines *lines, struct th_weather *weather,
                               struct th_error *err)
{
    const struct th_weather_file *file = th_weather_last_file(weather);
    if (file->rows == 0)
        return th_weather_fail(lines, lines->line, err, "no data rows after the heading");
    if (file->refused < file->rows &&
        (file->refused <= REFUSED_ALWAYS_ALLOWED ||
         (double)file->refused <= REFUSED_SHARE_MAX * (double)file->rows))
        return TH_OK;
    return th_weather_fail(
        lines, file->bad_line, err, "%s; %s of %s rows cannot be understood as %s", file->bad_why,
        th_whole((double)file->refused).text, th_whole((double)file->rows).text, weather->form);
}

static enum th_code read_form(struct th_lines *lines, const struct th_weather_options *options,
                              struct th_weather *weather, struct th_error *err)
{
    struct th_weather_head head;
    enum th_code code = read_head(lines, &head, err);
    if (code)
        return code;
    const struct th_weather_form *form = choose(&head, options->form);
    char names[TH_WEATHER_FORM_NAMES_MAX];
    if (!form)
        return th_weather_fail(lines, 1, err,
                               "found \"%.60s\"; expected %s (a table with a time and a "
                               "temperature column)",
                               head.first, th_weather_form_names(names));
    weather->form = form->name;
    code = th_weather_add_file(weather, lines->path, err);
    if (!code)
        code = form->read ? form->read(lines, options, weather, err)
                          : th_weather_read_table(form, lines, options, weather, err);
    return code ? code : check_rows(lines, weather, err);
}

static void apply_clock(const struct th_weather_options *options, struct th_weather *weather)
{
    if (options->clock != TH_CLOCK_UNKNOWN && !weather->typical) {
        weather->clock = options->clock;
        snprintf(weather->clock_note, sizeof weather->clock_note, "as told");
    }
    if (!options->has_utc_offset)
        return;
    weather->station.has_utc_offset = true;
    weather->station.utc_offset_h = options->utc_offset_h;
    if (weather->clock != TH_CLOCK_UNKNOWN)
        return;
    weather->clock = TH_CLOCK_UTC;
    snprintf(weather->clock_note, sizeof weather->clock_note,
             "taken as UTC because a UTC offset was given");
}

/* The options as text; false where they do not fit. */
static bool tell_how(const struct th_weather_options *options, char how[TH_WEATHER_HOW_MAX])
{
    const int length = snprintf(how, TH_WEATHER_HOW_MAX, "%s %d %d %d %.17g %s",
                                options->form ? options->form : "any form", (int)options->units,
                                (int)options->clock, options->has_utc_offset, options->utc_offset_h,
                                options->station ? options->station : "");
    return length >= 0 && length < TH_WEATHER_HOW_MAX;
}

static enum th_code read_file(struct th_files *files, const char *path,
                              const struct th_weather_options *options, struct th_weather *weather,
                              struct th_error *err)
{
    struct th_lines lines;
    struct th_weather one;
    char how[TH_WEATHER_HOW_MAX];
    th_weather_init(&one);
    enum th_code code = th_lines_open(&lines, files, path, err);
    if (code)
        return code;
    const bool tellable = tell_how(options, how);
    if (!tellable || !th_weather_recall(path, how, &one)) {
        code = read_form(&lines, options, &one, err);
        if (!code)
            apply_clock(options, &one);
        if (!code && tellable)
            th_weather_keep(path, how, &one);
    }
    if (!code)
        code = th_weather_join(weather, &one, err);
    th_lines_close(&lines);
    th_weather_finish(&one);
    return code;
}

/* The files that one path stands for; in a folder those that are weather. */
static enum th_code read_path(struct th_files *files, const char *path,
                              const struct th_weather_options *options, struct th_weather *weather,
                              struct th_error *err)
{
    struct th_file_names found;
    size_t n = 0;
    enum th_code code = th_file_names_of(files, path, &found, err);
    for (size_t i = 0; i < found.n && code == TH_OK; i++)
        if (!found.folder || th_weather_looks_like(files, found.names[i])) {
            code = read_file(files, found.names[i], options, weather, err);
            n++;
        }
    if (code == TH_OK && n == 0) {
        code = th_fail(err, TH_ERR_READ, "the folder holds no weather files");
        th_error_place(err, path, 0, 0);
    }
    th_file_names_finish(&found);
    return code;
}

enum th_code th_weather_read(struct th_files *files, const char *const *paths, int n,
                             const struct th_weather_options *options, struct th_weather *weather,
                             struct th_error *err)
{
    enum th_code code = TH_OK;
    th_weather_init(weather);
    for (int i = 0; i < n && !code; i++)
        code = read_path(files, paths[i], options, weather, err);
    if (code)
        th_weather_finish(weather);
    else
        th_weather_order(weather);
    return code;
}

bool th_weather_file_warning(const struct th_weather_file *file, char text[TH_WEATHER_WARNING_MAX])
{
    if (file->refused == 0)
        return false;
    snprintf(text, TH_WEATHER_WARNING_MAX,
             "%s: %s of %s rows were not understood and are left out, the first in line %ld: %s",
             file->name, th_whole((double)file->refused).text, th_whole((double)file->rows).text,
             file->bad_line, file->bad_why);
    return true;
}

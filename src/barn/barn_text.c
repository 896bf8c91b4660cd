/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_text.h"

#include "utf8.h"

#include <errno.h>
#include <ini.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FILE_MAX (1024 * 1024)

/* One file on its way: what inih does not know (lines, headers, errors) is kept here. */
struct reading {
    struct th_barn_text *text;
    struct th_issues *issues;
    const char *path;
    size_t first;   /* entry of this file's first */
    const char *at; /* rest of the file */
    const char *end;
    long line;
    char source[4 * TH_TEXT_LINE_MAX]; /* the line inih works on */
    char section[TH_TEXT_SECTION_MAX + 1];
    bool lost; /* below a header that could not be read */
    int errors;
    enum th_code code;
};

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

static void complain(struct reading *r, int column, const char *message)
{
    const struct th_place place = {r->path, r->line, column, r->source};
    th_issues_error(r->issues, &place, "%s", message);
    r->errors++;
}

static void entry_finish(struct th_entry *entry)
{
    free(entry->section);
    free(entry->key);
    free(entry->value);
    free(entry->file);
    free(entry->source);
    *entry = (struct th_entry){0};
}

/* NULL stays NULL. */
static bool copy(char **to, const char *from)
{
    *to = from ? strdup(from) : NULL;
    return !from || *to;
}

static enum th_code add_entry(struct th_barn_text *text, const struct th_entry *borrowed)
{
    if (text->n == text->room) {
        const size_t room = text->room ? 2 * text->room : 64;
        struct th_entry *const larger = realloc(text->entries, room * sizeof *larger);
        if (!larger)
            return TH_ERR_MEMORY;
        text->entries = larger;
        text->room = room;
    }
    struct th_entry entry = {.line = borrowed->line,
                             .key_column = borrowed->key_column,
                             .value_column = borrowed->value_column};
    bool copied = copy(&entry.section, borrowed->section);
    copied &= copy(&entry.key, borrowed->key);
    copied &= copy(&entry.value, borrowed->value);
    copied &= copy(&entry.file, borrowed->file);
    copied &= copy(&entry.source, borrowed->source);
    if (!copied) {
        entry_finish(&entry);
        return TH_ERR_MEMORY;
    }
    text->entries[text->n++] = entry;
    return TH_OK;
}

/* The header of this file with the name of the section now begun. */
static const struct th_entry *earlier_header(const struct reading *r)
{
    for (size_t i = r->first; i < r->text->n; i++) {
        const struct th_entry *const entry = &r->text->entries[i];
        if (!entry->key && strcmp(entry->section, r->section) == 0)
            return entry;
    }
    return NULL;
}

static int first_column(const char *source)
{
    return 1 + (int)strspn(source, " \t");
}

/* inih's handler: a key and its value, comments and blanks already off. */
static int take_pair(void *user, const char *section, const char *key, const char *value)
{
    (void)section;
    struct reading *const r = user;
    const char *const after = strchr(r->source, '=') + 1;
    const int value_column = (int)(after - r->source) + first_column(after);
    if (*value == '\0') {
        complain(r, value_column, "the value is missing; expected key = value");
        return 1;
    }
    const struct th_entry entry = {.section = r->section,
                                   .key = (char *)key,
                                   .value = (char *)value,
                                   .file = (char *)r->path,
                                   .source = r->source,
                                   .line = r->line,
                                   .key_column = 1,
                                   .value_column = value_column};
    r->code = add_entry(r->text, &entry);
    return r->code == TH_OK;
}

/* Copies the name between the brackets with single blanks. NULL text means it is fine. */
static const char *header_name(const char *source, char name[TH_TEXT_SECTION_MAX + 1])
{
    const char *const close = strchr(source, ']');
    if (!close)
        return "the section header is not closed; expected [name]";
    const char *const rest = close + 1 + strspn(close + 1, " \t");
    if (*rest && *rest != ';' && *rest != '#')
        return "there is something behind the section header; expected a new line";
    int n = 0;
    for (const char *c = source + 1; c < close; c++) {
        const bool blank = is_blank(*c);
        if (blank && (n == 0 || name[n - 1] == ' '))
            continue;
        if (n >= TH_TEXT_SECTION_MAX)
            return "the section name is too long; expected at most 47 characters";
        name[n++] = blank ? ' ' : *c;
    }
    if (n > 0 && name[n - 1] == ' ')
        n--;
    name[n] = '\0';
    return n == 0 ? "the section has no name; expected [name]" : NULL;
}

static void take_header(struct reading *r)
{
    const char *const wrong = header_name(r->source, r->section);
    r->lost = wrong != NULL;
    if (wrong) {
        complain(r, 1, wrong);
        return;
    }
    const struct th_entry *const before = earlier_header(r);
    if (before) {
        char message[160];
        snprintf(message, sizeof message, "section [%s] is given twice; first in line %ld",
                 r->section, before->line);
        complain(r, 1, message);
        return;
    }
    const struct th_entry entry = {.section = r->section,
                                   .file = (char *)r->path,
                                   .source = r->source,
                                   .line = r->line,
                                   .key_column = 1,
                                   .value_column = 1};
    r->code = add_entry(r->text, &entry);
}

/* Whether the line is a pair that inih can be trusted with. */
static bool pair_is_sound(struct reading *r)
{
    const char *const equals = strchr(r->source, '=');
    const char *const colon = strchr(r->source, ':');
    if (is_blank(r->source[0]))
        complain(r, first_column(r->source),
                 "the line is indented; expected it to start in the "
                 "first column");
    else if (!equals)
        complain(r, 1, "there is no = in the line; expected key = value, [section] or # comment");
    else if (colon && colon < equals)
        complain(r, 1 + (int)(colon - r->source),
                 "there is a : before the =; expected key = value");
    else if (equals == r->source)
        complain(r, 1, "the key is missing; expected key = value");
    else if (r->section[0] == '\0')
        complain(r, 1, "the line stands before the first section; expected a [section] above it");
    else
        return true;
    return false;
}

/* A # with blanks on both sides starts a comment; in "Barn #4" it does not. */
static size_t length_without_comment(const char *source)
{
    for (const char *c = source; *c; c++)
        if (*c == '#' && c > source && is_blank(c[-1]) && (is_blank(c[1]) || !c[1]))
            return (size_t)(c - source);
    return strlen(source);
}

/* Moves the next line into r->source; false when it cannot be used. */
static bool load_line(struct reading *r)
{
    const char *const newline = memchr(r->at, '\n', (size_t)(r->end - r->at));
    const char *const stop = newline ? newline : r->end;
    size_t length = (size_t)(stop - r->at);
    const char *const start = r->at;
    r->at = newline ? newline + 1 : r->end;
    r->line++;
    if (length > 0 && start[length - 1] == '\r')
        length--;
    const size_t shown = length < TH_TEXT_LINE_MAX ? length : TH_TEXT_LINE_MAX;
    memcpy(r->source, start, shown);
    r->source[shown] = '\0';
    const size_t good = th_utf8_good_text(start, length);
    if (good < length && good < shown)
        r->source[good] = '\0';
    if (length > TH_TEXT_LINE_MAX)
        complain(r, 0, "the line is too long; expected at most 190 characters");
    else if (good < length)
        complain(r, (int)good + 1, "the line is not plain text here; expected UTF-8");
    else
        return true;
    return false;
}

/* inih's reader: the next line that holds a pair; headers and errors are dealt with on the way. */
static char *next_pair(char *to, int room, void *stream)
{
    struct reading *const r = stream;
    while (r->at < r->end && r->code == TH_OK) {
        if (!load_line(r))
            continue;
        const char first = r->source[strspn(r->source, " \t")];
        if (first == '\0' || first == '#' || first == ';')
            continue;
        if (r->source[0] == '[')
            take_header(r);
        else if (!r->lost && pair_is_sound(r)) {
            const size_t length = length_without_comment(r->source);
            if ((int)length + 1 >= room) {
                complain(r, 0, "the line is longer than this program's inih library can take");
                continue;
            }
            memcpy(to, r->source, length);
            to[length] = '\0';
            return to;
        }
    }
    return NULL;
}

static void read_error(const char *path, struct th_issues *issues, const char *what,
                       const char *why)
{
    const struct th_place place = {.file = path};
    th_issues_error(issues, &place, "%s%s; expected a barn or farm file", what, why);
}

/* The whole file in memory, or NULL and an issue. */
static char *load_file(const char *path, size_t *size, struct th_issues *issues, enum th_code *code)
{
    FILE *const file = fopen(path, "rb");
    *code = TH_ERR_READ;
    if (!file) {
        if (errno == ENOMEM)
            *code = TH_ERR_MEMORY;
        else
            read_error(path, issues, "cannot be opened: ", strerror(errno));
        return NULL;
    }
    char *bytes = malloc(FILE_MAX + 1);
    if (!bytes)
        *code = TH_ERR_MEMORY;
    else {
        *size = fread(bytes, 1, FILE_MAX + 1, file);
        if (ferror(file))
            read_error(path, issues, "cannot be read: ", strerror(errno));
        else if (*size > FILE_MAX)
            read_error(path, issues, "the file is larger than 1 MiB", "");
        else
            *code = TH_OK;
    }
    fclose(file);
    if (*code != TH_OK) {
        free(bytes);
        bytes = NULL;
    }
    return bytes;
}

/* NUL bytes mean that this is no text at all: one error instead of fifty. */
static bool is_binary(struct reading *r, const char *bytes, size_t size)
{
    const char *const nul = memchr(bytes, '\0', size);
    if (!nul)
        return false;
    for (const char *c = bytes; c < nul; c++)
        r->line += *c == '\n';
    const struct th_place place = {r->path, r->line + 1, 0, NULL};
    const bool utf16 =
        size >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0);
    th_issues_error(r->issues, &place, "%s",
                    utf16 ? "the file is UTF-16 text; save it as UTF-8"
                          : "there is a NUL byte; expected a plain text file");
    r->code = TH_ERR_READ;
    return true;
}

enum th_code th_barn_text_read(struct th_barn_text *text, const char *path,
                               struct th_issues *issues)
{
    size_t size = 0;
    enum th_code code = TH_OK;
    char *const bytes = load_file(path, &size, issues, &code);
    if (!bytes)
        return code;
    struct reading r = {.text = text, .issues = issues, .path = path, .first = text->n};
    const bool marked = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0;
    r.at = bytes + (marked ? 3 : 0);
    r.end = bytes + size;
    if (!is_binary(&r, bytes, size)) {
        const int result = ini_parse_stream(next_pair, &r, take_pair, &r);
        if (r.code == TH_OK && r.errors == 0 && result != 0)
            read_error(path, issues, "the file could not be understood", "");
        if (result != 0 && r.errors == 0 && r.code == TH_OK)
            r.code = TH_ERR_INPUT;
        if (r.code == TH_OK && r.errors == 0 && text->n == r.first) {
            read_error(path, issues, "the file is empty", "");
            r.code = TH_ERR_READ;
        }
    }
    free(bytes);
    if (r.code != TH_OK)
        return r.code;
    return r.errors ? TH_ERR_INPUT : TH_OK;
}

enum th_code th_barn_text_add(struct th_barn_text *text, const char *section, const char *key,
                              const char *value, const char *source, int value_column)
{
    const struct th_entry entry = {.section = (char *)section,
                                   .key = (char *)key,
                                   .value = (char *)value,
                                   .file = (char *)"--set",
                                   .source = (char *)source,
                                   .line = 0,
                                   .key_column = 1,
                                   .value_column = value_column};
    return add_entry(text, &entry);
}

struct th_place th_entry_value_place(const struct th_entry *entry)
{
    return (struct th_place){entry->file, entry->line, entry->value_column, entry->source};
}

struct th_place th_entry_key_place(const struct th_entry *entry)
{
    return (struct th_place){entry->file, entry->line, entry->key_column, entry->source};
}

void th_barn_text_finish(struct th_barn_text *text)
{
    if (!text)
        return;
    for (size_t i = 0; i < text->n; i++)
        entry_finish(&text->entries[i]);
    free(text->entries);
    *text = (struct th_barn_text){0};
}

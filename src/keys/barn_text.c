/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_text.h"

#include "file_kind.h"
#include "unpack.h"
#include "utf8.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FILE_MAX (1024 * 1024)

/* One file on its way. */
struct reading {
    struct th_barn_text *text;
    struct th_issues *issues;
    char *path;
    size_t first; /* entry of this file's first */
    char *at;     /* rest of the file */
    char *end;
    char *names; /* where the next name or value is kept */
    long line;
    char *source;  /* the present line, ended by a NUL in place of its line end */
    char *section; /* NULL before the first */
    bool lost;     /* below a header that could not be read */
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

struct th_text_block {
    struct th_text_block *next;
    char bytes[];
};

/* `size` bytes that are freed with the text, or NULL. */
static char *new_block(struct th_barn_text *text, size_t size)
{
    struct th_text_block *const block = malloc(sizeof *block + size);
    if (!block)
        return NULL;
    block->next = text->blocks;
    text->blocks = block;
    return block->bytes;
}

/* Copies `length` bytes to `*at`, ends them with a NUL and goes past it. */
static char *keep(char **at, const char *from, size_t length)
{
    char *const to = *at;
    memcpy(to, from, length);
    to[length] = '\0';
    *at += length + 1;
    return to;
}

static enum th_code add_entry(struct th_barn_text *text, const struct th_entry *entry)
{
    if (!text->entries || text->n == text->room) {
        const size_t room = text->room ? 2 * text->room : 64;
        struct th_entry *const larger = realloc(text->entries, room * sizeof *larger);
        if (!larger)
            return TH_ERR_MEMORY;
        text->entries = larger;
        text->room = room;
    }
    text->entries[text->n++] = *entry;
    return TH_OK;
}

const struct th_entry *th_barn_text_header(const struct th_barn_text *text, const char *section)
{
    size_t at = 0;
    return th_name_index_get(&text->headers, section, NULL, &at) ? &text->entries[at] : NULL;
}

/* --- a pair --- */

static int first_column(const char *source)
{
    return 1 + (int)strspn(source, " \t");
}

/* Takes blanks off the end of the `length` bytes at `text`. */
static size_t trimmed(const char *text, size_t length)
{
    while (length > 0 && is_blank(text[length - 1]))
        length--;
    return length;
}

/* Where a comment starts: a # with blanks on both sides; in "Barn #4" it does not. */
static size_t length_without_comment(const char *source)
{
    for (const char *c = source; *c; c++)
        if (*c == '#' && c > source && is_blank(c[-1]) && (is_blank(c[1]) || !c[1]))
            return (size_t)(c - source);
    return strlen(source);
}

/* What is wrong with a line that should be key = value, and where; NULL when nothing is. */
static const char *pair_fault(const char *source, size_t length, int *column)
{
    const char *const equals = memchr(source, '=', length);
    const char *const colon = memchr(source, ':', length);
    const char *const semicolon = memchr(source, ';', length);
    *column = 1;
    if (semicolon) {
        *column = 1 + (int)(semicolon - source);
        return "a ; has no meaning here; expected a comma between values, and # before a comment";
    }
    if (is_blank(source[0])) {
        *column = first_column(source);
        return "the line is indented; expected it to start in the first column";
    }
    if (!equals)
        return "there is no = in the line; expected key = value, [section] or # comment";
    if (colon && colon < equals) {
        *column = 1 + (int)(colon - source);
        return "there is a : before the =; expected key = value";
    }
    return equals == source ? "the key is missing; expected key = value" : NULL;
}

/* Keeps the pair; without a value from `value` on, only that there is such a key. */
static void keep_pair(struct reading *r, size_t equals, size_t value, size_t length)
{
    char *const source = r->source;
    const size_t key = strspn(source, " \t");
    struct th_entry entry = {.section = r->section,
                             .file = r->path,
                             .source = source,
                             .line = r->line,
                             .key_column = (int)key + 1,
                             .value_column = (int)value + 1};
    entry.key = keep(&r->names, source + key, trimmed(source + key, equals - key));
    if (value < length)
        entry.value = keep(&r->names, source + value, trimmed(source + value, length - value));
    r->code = add_entry(r->text, &entry);
}

static void take_pair(struct reading *r)
{
    const char *const source = r->source;
    const size_t length = length_without_comment(source);
    int column = 1;
    const char *const fault = pair_fault(source, length, &column);
    /* A slip of the line tells its key all the same, so that the key is not missed as well. */
    const size_t ends = strcspn(source, "=:");
    const size_t equals = ends < length ? ends : 0;
    size_t value = equals + 1 + strspn(source + equals + 1, " \t");
    if (!r->section && !fault) {
        complain(r, 1, "the line stands before the first section; expected a [section] above it");
        return;
    }
    if (fault)
        complain(r, column, fault);
    else if (value >= length || source[value] == '\0')
        complain(r, (int)value + 1, "the value is missing; expected key = value");
    else {
        keep_pair(r, equals, value, length);
        return;
    }
    if (equals > 0 && r->section)
        keep_pair(r, equals, length, length);
}

/* --- a header --- */

/* Copies the name between the brackets with single blanks. NULL means it is fine. */
static const char *header_fault(const char *source, char name[TH_TEXT_SECTION_MAX + 1])
{
    const char *const close = strchr(source, ']');
    if (!close)
        return "the section header is not closed; expected [name]";
    const char *const rest = close + 1 + strspn(close + 1, " \t");
    if (*rest && *rest != '#')
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
    char name[TH_TEXT_SECTION_MAX + 1];
    const char *const fault = header_fault(r->source, name);
    r->lost = fault != NULL;
    if (fault) {
        complain(r, 1, fault);
        return;
    }
    r->section = keep(&r->names, name, strlen(name));
    const struct th_entry *const before = th_barn_text_header(r->text, name);
    if (before && before >= r->text->entries + r->first) {
        char message[160];
        snprintf(message, sizeof message, "section [%s] is given twice; first in line %ld", name,
                 before->line);
        complain(r, 1, message);
        return;
    }
    const struct th_entry entry = {.section = r->section,
                                   .file = r->path,
                                   .source = r->source,
                                   .line = r->line,
                                   .key_column = 1,
                                   .value_column = 1};
    const size_t at = r->text->n;
    r->code = add_entry(r->text, &entry);
    if (r->code == TH_OK && !before && !th_name_index_put(&r->text->headers, r->section, NULL, at))
        r->code = TH_ERR_MEMORY;
}

/* --- lines --- */

/* Moves the next line into r->source; false when it cannot be used. */
static bool next_line(struct reading *r)
{
    char *const newline = memchr(r->at, '\n', (size_t)(r->end - r->at));
    char *const stop = newline ? newline : r->end;
    r->source = r->at;
    r->at = newline ? newline + 1 : r->end;
    r->line++;
    size_t length = (size_t)(stop - r->source);
    if (length > 0 && r->source[length - 1] == '\r')
        length--;
    r->source[length] = '\0';
    const size_t good = th_utf8_good_text(r->source, length);
    if (length > TH_TEXT_LINE_MAX)
        complain(r, TH_TEXT_LINE_MAX, "the line is too long; expected at most 64 KiB");
    else if (good < length)
        complain(r, (int)good + 1, "the line is not plain text here; expected UTF-8");
    else
        return true;
    return false;
}

static void take_line(struct reading *r)
{
    const char first = r->source[strspn(r->source, " \t")];
    if (first == '\0' || first == '#')
        return;
    if (r->source[0] == '[')
        take_header(r);
    else if (!r->lost)
        take_pair(r);
}

static void read_error(const char *path, struct th_issues *issues, const char *what,
                       const char *why)
{
    const struct th_place place = {.file = path};
    th_issues_error(issues, &place, "%s%s; expected a barn or farm file", what, why);
}

/* The whole file in memory with a byte to spare, or NULL and an issue. */
static char *load_file(const char *path, struct th_files *files, size_t *size,
                       struct th_issues *issues, enum th_code *code)
{
    FILE *const file = th_files_open(files, path);
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
            read_error(path, issues,
                       errno == EISDIR ? "this is a folder; name the files in it"
                                       : "cannot be read: ",
                       errno == EISDIR ? "" : strerror(errno));
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
static bool is_binary(const char *path, struct th_issues *issues, const char *bytes, size_t size)
{
    const char *const nul = memchr(bytes, '\0', size);
    const char *const other = th_is_packed(bytes, size)
                                  ? "this is packed with gzip; unpack it first"
                                  : th_not_plain_text(bytes, size);
    if (other) {
        read_error(path, issues, other, "");
        return true;
    }
    if (!nul)
        return false;
    const char *line = bytes;
    struct th_place place = {.file = path, .line = 1};
    for (const char *c = bytes; c < nul; c++)
        if (*c == '\n') {
            place.line++;
            line = c + 1;
        }
    place.column = (int)(nul - line) + 1;
    place.source = line;
    th_issues_error(issues, &place, "there is a NUL byte; expected a plain text file");
    return true;
}

/* A block of the text that holds the path, the file and room for its names and values: they take no
 * more than their lines. NULL without memory. */
static char *keep_file(struct reading *r, const char *path, const char *bytes, size_t size)
{
    const size_t length = strlen(path);
    char *at = new_block(r->text, length + 1 + 2 * (size + 2));
    if (!at)
        return NULL;
    r->path = keep(&at, path, length);
    r->at = keep(&at, bytes, size);
    r->end = r->at + size;
    r->names = at;
    return r->at;
}

static enum th_code read_lines(struct reading *r, const char *path, const char *bytes, size_t size)
{
    const size_t mark = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    if (is_binary(path, r->issues, bytes, size))
        return TH_ERR_READ;
    if (!keep_file(r, path, bytes + mark, size - mark))
        return TH_ERR_MEMORY;
    while (r->at < r->end && r->code == TH_OK)
        if (next_line(r))
            take_line(r);
    if (r->code == TH_OK && r->errors == 0 && r->text->n == r->first) {
        read_error(path, r->issues, "the file is empty", "");
        return TH_ERR_READ;
    }
    return r->code == TH_OK && r->errors > 0 ? TH_ERR_INPUT : r->code;
}

enum th_code th_barn_text_read(struct th_barn_text *text, const char *path, struct th_files *files,
                               struct th_issues *issues)
{
    size_t size = 0;
    enum th_code code = TH_OK;
    char *const bytes = load_file(path, files, &size, issues, &code);
    if (!bytes)
        return code;
    struct reading r = {.text = text, .issues = issues, .first = text->n};
    code = read_lines(&r, path, bytes, size);
    free(bytes);
    return code;
}

enum th_code th_barn_text_add(struct th_barn_text *text, const char *section, const char *key,
                              const char *value, const char *source, int value_column)
{
    const size_t lengths[] = {strlen(section), strlen(key), strlen(value), strlen(source)};
    char *at = new_block(text, lengths[0] + lengths[1] + lengths[2] + lengths[3] + 4);
    if (!at)
        return TH_ERR_MEMORY;
    const struct th_entry entry = {.section = keep(&at, section, lengths[0]),
                                   .key = keep(&at, key, lengths[1]),
                                   .value = keep(&at, value, lengths[2]),
                                   .file = (char *)"--set",
                                   .source = keep(&at, source, lengths[3]),
                                   .line = 0,
                                   .key_column = 1,
                                   .value_column = value_column};
    return add_entry(text, &entry);
}

enum th_code th_barn_text_copy(const struct th_barn_text *text, struct th_barn_text *copy)
{
    *copy = (struct th_barn_text){0};
    for (size_t i = 0; i < text->n; i++) {
        const struct th_entry *const entry = &text->entries[i];
        enum th_code code = add_entry(copy, entry);
        if (code == TH_OK && !entry->key && !th_barn_text_header(copy, entry->section) &&
            !th_name_index_put(&copy->headers, entry->section, NULL, i))
            code = TH_ERR_MEMORY;
        if (code != TH_OK)
            return code;
    }
    return TH_OK;
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
    while (text->blocks) {
        struct th_text_block *const next = text->blocks->next;
        free(text->blocks);
        text->blocks = next;
    }
    free(text->entries);
    th_name_index_finish(&text->headers);
    *text = (struct th_barn_text){0};
}

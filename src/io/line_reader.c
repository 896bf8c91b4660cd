/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "line_reader.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#define CAPACITY (2 * TH_LINE_MAX)
#define BOM "\xEF\xBB\xBF"

static enum th_code fail_at(const struct th_lines *lines, struct th_error *err, const char *text)
{
    th_fail(err, TH_ERR_READ, "%s", text);
    th_error_place(err, lines->path, lines->line + 1, 0);
    return TH_ERR_READ;
}

enum th_code th_lines_open(struct th_lines *lines, const char *path, struct th_error *err)
{
    *lines = (struct th_lines){.path = path, .stream = fopen(path, "rb")};
    if (!lines->stream) {
        th_fail(err, TH_ERR_READ, "cannot be opened: %s", strerror(errno));
        th_error_place(err, path, 0, 0);
        return TH_ERR_READ;
    }
    setvbuf(lines->stream, NULL, _IONBF, 0);
    lines->buffer = malloc(CAPACITY + 1);
    if (lines->buffer)
        return TH_OK;
    th_lines_close(lines);
    return th_fail(err, TH_ERR_MEMORY, "out of memory");
}

void th_lines_close(struct th_lines *lines)
{
    if (lines->stream)
        fclose(lines->stream);
    free(lines->buffer);
    lines->stream = NULL;
    lines->buffer = NULL;
}

/* Moves the unread part to the front and reads until the buffer is full or the file ends. */
static enum th_code fill(struct th_lines *lines, struct th_error *err)
{
    memmove(lines->buffer, lines->buffer + lines->begin, lines->end - lines->begin);
    lines->end -= lines->begin;
    lines->begin = 0;
    lines->end += fread(lines->buffer + lines->end, 1, CAPACITY - lines->end, lines->stream);
    if (ferror(lines->stream))
        return fail_at(lines, err, "cannot be read");
    lines->at_end = lines->end < CAPACITY;
    return TH_OK;
}

static enum th_code give_line(struct th_lines *lines, size_t length, char **text, size_t *size,
                              struct th_error *err)
{
    char *start = lines->buffer + lines->begin;
    lines->begin += length + (lines->begin + length < lines->end);
    if (length > TH_LINE_MAX)
        return fail_at(lines, err, "the line is longer than 256 KiB; this is not a text table");
    if (memchr(start, '\0', length))
        return fail_at(lines, err, "binary content (a NUL byte); a text file is expected");
    if (length > 0 && start[length - 1] == '\r')
        length--;
    start[length] = '\0';
    if (lines->line == 0 && strncmp(start, BOM, 3) == 0) {
        start += 3;
        length -= 3;
    }
    lines->line++;
    *text = start;
    *size = length;
    return TH_OK;
}

enum th_code th_lines_next(struct th_lines *lines, char **text, size_t *length,
                           struct th_error *err)
{
    *text = NULL;
    *length = 0;
    const char *unread = lines->buffer + lines->begin;
    const char *newline = memchr(unread, '\n', lines->end - lines->begin);
    if (!newline && !lines->at_end) {
        const enum th_code code = fill(lines, err);
        if (code)
            return code;
        unread = lines->buffer;
        newline = memchr(unread, '\n', lines->end);
    }
    if (!newline && lines->begin == lines->end)
        return TH_OK;
    const size_t size = newline ? (size_t)(newline - unread) : lines->end - lines->begin;
    return give_line(lines, size, text, length, err);
}

enum th_code th_lines_peek(struct th_lines *lines, const char **head, size_t *length,
                           struct th_error *err)
{
    const enum th_code code = lines->begin == lines->end ? fill(lines, err) : TH_OK;
    *head = lines->buffer + lines->begin;
    *length = lines->end - lines->begin;
    if (*length > TH_LINE_MAX)
        *length = TH_LINE_MAX;
    return code;
}

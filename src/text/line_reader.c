/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "line_reader.h"

#include "file_kind.h"
#include "unpack.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* Read in pieces that stay in the processor's cache while they are parsed. */
#define PIECE 65536
#define CAPACITY (TH_LINE_MAX + PIECE)
#define BOM "\xEF\xBB\xBF"

static enum th_code fail_at(const struct th_lines *lines, struct th_error *err, const char *text)
{
    th_fail(err, TH_ERR_READ, "%s", text);
    th_error_place(err, lines->path, lines->line + 1, 0);
    return TH_ERR_READ;
}

enum th_code th_lines_open(struct th_lines *lines, struct th_files *files, const char *path,
                           struct th_error *err)
{
    *lines = (struct th_lines){.path = path};
    const enum th_code code = th_files_open_told(files, path, &lines->stream, err);
    if (code != TH_OK)
        return code;
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
    th_unpack_free(lines->unpack);
    free(lines->buffer);
    lines->stream = NULL;
    lines->unpack = NULL;
    lines->buffer = NULL;
}

/* The next PIECE of the file's text, less only at its end. */
static enum th_code get_bytes(struct th_lines *lines, char *to, size_t *got, struct th_error *err)
{
    if (lines->unpack)
        return th_unpack_read(lines->unpack, lines->stream, to, PIECE, got, err);
    *got = fread(to, 1, PIECE, lines->stream);
    if (ferror(lines->stream))
        return th_fail(err, TH_ERR_READ, "cannot be read: %s", strerror(errno));
    const bool packed = !lines->begun && th_is_packed(to, *got);
    lines->begun = true;
    if (!packed)
        return TH_OK;
    lines->unpack = th_unpack_new(to, *got);
    return lines->unpack ? th_unpack_read(lines->unpack, lines->stream, to, PIECE, got, err)
                         : th_fail(err, TH_ERR_MEMORY, "out of memory");
}

/* Moves the unread part to the front and reads another piece. */
static enum th_code read_piece(struct th_lines *lines, struct th_error *err)
{
    memmove(lines->buffer, lines->buffer + lines->begin, lines->end - lines->begin);
    lines->end -= lines->begin;
    lines->begin = 0;
    size_t got = 0;
    const bool first = !lines->begun;
    enum th_code code = get_bytes(lines, lines->buffer + lines->end, &got, err);
    const char *const other = first ? th_not_plain_text(lines->buffer, got) : NULL;
    if (code == TH_OK && other)
        code = th_fail(err, TH_ERR_READ, "%s", other);
    if (code != TH_OK) {
        th_error_place(err, lines->path, lines->line, 0);
        return code;
    }
    lines->end += got;
    lines->at_end = got < PIECE;
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
    size_t looked = 0;
    for (;;) {
        const char *unread = lines->buffer + lines->begin;
        const size_t size = lines->end - lines->begin;
        const char *newline = memchr(unread + looked, '\n', size - looked);
        if (newline)
            return give_line(lines, (size_t)(newline - unread), text, length, err);
        if (size > TH_LINE_MAX || (lines->at_end && size > 0))
            return give_line(lines, size, text, length, err);
        if (lines->at_end)
            return TH_OK;
        looked = size;
        const enum th_code code = read_piece(lines, err);
        if (code)
            return code;
    }
}

enum th_code th_lines_peek(struct th_lines *lines, const char **head, size_t *length,
                           struct th_error *err)
{
    const enum th_code code = lines->begin == lines->end ? read_piece(lines, err) : TH_OK;
    *head = lines->buffer + lines->begin;
    *length = lines->end - lines->begin;
    return code;
}

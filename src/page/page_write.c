/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files travel as one line of JSON that lists them, then their bytes one after the other, packed by
 * gzip (whose checksum tells a damaged page) and written as base64. files.js reads it again. */
#include "page_write.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <zlib.h>

#define MAKES_IT "sh src/page/make.sh"
static const char place_of_files[] = "<script type=\"text/plain\" id=\"files\">";

struct bytes {
    char *at;
    size_t n;
};

static enum th_code short_of_memory(struct th_error *err)
{
    return th_fail(err, TH_ERR_MEMORY, "out of memory");
}

/* The empty page beside the program: in the build folder, or as installed. */
static enum th_code open_empty(FILE **file, struct th_error *err)
{
    static const char *const places[] = {"/../page/turnheat.html",
                                         "/../share/turnheat/turnheat.html"};
    char path[PATH_MAX];
    const ssize_t n = readlink("/proc/self/exe", path, sizeof path - 64);
    path[n > 0 ? n : 0] = '\0';
    char *const slash = strrchr(path, '/');
    for (size_t i = 0; slash && i < sizeof places / sizeof *places; i++) {
        snprintf(slash, sizeof path - (size_t)(slash - path), "%s", places[i]);
        const enum th_code code = th_files_open_told(NULL, path, file, err);
        if (code == TH_OK || access(path, F_OK) == 0)
            return code;
    }
    return th_fail(err, TH_ERR_USAGE,
                   "the browser page has not been made yet; in turnheat's source folder, " MAKES_IT
                   " makes it");
}

static enum th_code copy(struct th_files *disk, const struct th_page_file *from, FILE *to,
                         struct th_error *err)
{
    char piece[65536];
    if (from->text)
        return fputs(from->text, to) >= 0 ? TH_OK : short_of_memory(err);
    FILE *file;
    size_t n;
    enum th_code code = th_files_open_told(disk, from->path, &file, err);
    if (code != TH_OK)
        return code;
    /* A stream in memory that finds none says so here only. */
    while (code == TH_OK && (n = fread(piece, 1, sizeof piece, file)) > 0)
        if (fwrite(piece, 1, n, to) < n)
            code = short_of_memory(err);
    if (ferror(file)) {
        code = th_fail(err, TH_ERR_READ, "cannot be read: %s", strerror(errno));
        th_error_place(err, from->path, 0, 0);
    }
    fclose(file);
    return code;
}

static bool list_file(json_t *list, const char *name, json_int_t size)
{
    return json_array_append_new(list, json_pack("{s:s, s:I}", "name", name, "size", size)) == 0;
}

/* All files, one after the other; their names and sizes go to the list in `about`. */
static enum th_code gather(struct th_files *disk, const struct th_page_files *files, json_t *about,
                           struct bytes *all, struct th_error *err)
{
    json_t *const list = json_array();
    FILE *const memory = open_memstream(&all->at, &all->n);
    enum th_code code = memory ? TH_OK : short_of_memory(err);
    for (size_t i = 0; i < files->n && code == TH_OK; i++) {
        const long before = ftell(memory);
        code = copy(disk, &files->list[i], memory, err);
        const json_int_t size = ftell(memory) - before;
        if (code == TH_OK && !list_file(list, files->list[i].name, size))
            code = short_of_memory(err);
    }
    const bool closed = !memory || (fclose(memory) == 0 && all->at);
    const bool listed = json_object_set_new(about, "files", list) == 0;
    return code != TH_OK || (closed && listed) ? code : short_of_memory(err);
}

/* `about` as a line, then `all`, packed. */
static enum th_code pack(const json_t *about, const struct bytes *all, struct bytes *packed,
                         struct th_error *err)
{
    z_stream stream = {0};
    const size_t flags = JSON_COMPACT | JSON_PRESERVE_ORDER;
    /* json_dumps() loses parts of a text when memory is short (jansson 2.14). */
    const size_t length = json_dumpb(about, NULL, 0, flags);
    char *const line = calloc(1, length + 1);
    const bool listed = line && length > 0 && json_dumpb(about, line, length, flags) == length;
    const int window = 15 + 16; /* zlib: the largest, with a gzip head */
    if (!listed || deflateInit2(&stream, 9, Z_DEFLATED, window, 9, Z_DEFAULT_STRATEGY) != Z_OK) {
        free(line);
        return short_of_memory(err);
    }
    line[length] = '\n';
    const size_t room = deflateBound(&stream, length + 1 + all->n);
    packed->at = calloc(1, room);
    if (packed->at) {
        stream.next_out = (unsigned char *)packed->at;
        stream.avail_out = (unsigned)room;
        stream.next_in = (unsigned char *)line;
        stream.avail_in = (unsigned)length + 1;
        deflate(&stream, Z_NO_FLUSH);
        stream.next_in = (unsigned char *)all->at;
        stream.avail_in = (unsigned)all->n;
        deflate(&stream, Z_FINISH);
    }
    packed->n = stream.total_out;
    deflateEnd(&stream);
    free(line);
    return packed->at ? TH_OK : short_of_memory(err);
}

/* RFC 4648. */
static void write_base64(FILE *out, const struct bytes *bytes)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    for (size_t i = 0; i < bytes->n; i += 3) {
        unsigned long three = 0;
        for (size_t k = 0; k < 3; k++)
            three = three << 8 | (i + k < bytes->n ? (unsigned char)bytes->at[i + k] : 0);
        for (size_t k = 0; k < 4; k++)
            fputc(i + k > bytes->n ? '=' : digits[three >> (18 - 6 * k) & 63], out);
    }
}

/* Copies the empty page with `packed` in the place that it has for files. */
static enum th_code fill(FILE *empty, FILE *out, const struct bytes *packed, struct th_error *err)
{
    char *line = NULL;
    size_t room = 0;
    ssize_t n;
    bool filled = false;
    while ((n = getline(&line, &room, empty)) >= 0) {
        const size_t length = sizeof place_of_files - 1;
        const bool here = !filled && strncmp(line, place_of_files, length) == 0;
        if (!here) {
            fwrite(line, 1, (size_t)n, out);
            continue;
        }
        fwrite(line, 1, length, out);
        write_base64(out, packed);
        fputs(line + length, out);
        filled = true;
    }
    free(line);
    if (!feof(empty))
        return ferror(empty)
                   ? th_fail(err, TH_ERR_READ, "the empty page cannot be read: %s", strerror(errno))
                   : short_of_memory(err);
    return filled ? TH_OK : th_fail(err, TH_ERR_INTERNAL, "the empty page has no place for files");
}

enum th_code th_page_write(FILE *out, struct th_files *disk, const struct th_page_files *files,
                           json_t *about, struct th_error *err)
{
    struct bytes all = {0}, packed = {0};
    FILE *empty = NULL;
    enum th_code code = open_empty(&empty, err);
    if (code != TH_OK)
        return code;
    if (files->n > 0) {
        code = gather(disk, files, about, &all, err);
        code = code == TH_OK ? pack(about, &all, &packed, err) : code;
    }
    if (code == TH_OK)
        code = fill(empty, out, &packed, err);
    fclose(empty);
    free(all.at);
    free(packed.at);
    return code;
}

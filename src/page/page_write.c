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
static FILE *open_empty(void)
{
    static const char *const places[] = {"/../page/turnheat.html",
                                         "/../share/turnheat/turnheat.html"};
    char path[PATH_MAX];
    const ssize_t n = readlink("/proc/self/exe", path, sizeof path - 64);
    if (n <= 0)
        return NULL;
    path[n] = '\0';
    char *const slash = strrchr(path, '/');
    for (size_t i = 0; slash && i < sizeof places / sizeof *places; i++) {
        snprintf(slash, sizeof path - (size_t)(slash - path), "%s", places[i]);
        FILE *const file = fopen(path, "rb");
        if (file)
            return file;
    }
    return NULL;
}

static enum th_code copy(struct th_files *disk, const struct th_page_file *from, FILE *to,
                         struct th_error *err)
{
    char piece[65536];
    if (from->text) {
        fputs(from->text, to);
        return TH_OK;
    }
    FILE *const file = th_files_open(disk, from->path);
    size_t n;
    while (file && (n = fread(piece, 1, sizeof piece, file)) > 0)
        fwrite(piece, 1, n, to);
    const bool failed = !file || ferror(file);
    if (failed)
        th_fail(err, TH_ERR_READ, "cannot be read: %s", strerror(errno));
    if (failed)
        th_error_place(err, from->path, 0, 0);
    if (file)
        fclose(file);
    return failed ? TH_ERR_READ : TH_OK;
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
        json_array_append_new(list,
                              json_pack("{s:s, s:I}", "name", files->list[i].name, "size", size));
    }
    const bool closed = !memory || fclose(memory) == 0;
    const bool listed = json_object_set_new(about, "files", list) == 0;
    return code != TH_OK || (closed && listed) ? code : short_of_memory(err);
}

/* `about` as a line, then `all`, packed. */
static enum th_code pack(const json_t *about, const struct bytes *all, struct bytes *packed,
                         struct th_error *err)
{
    z_stream stream = {0};
    char *const head = json_dumps(about, JSON_COMPACT | JSON_PRESERVE_ORDER);
    const int window = 15 + 16; /* zlib: the largest, with a gzip head */
    if (!head || deflateInit2(&stream, 9, Z_DEFLATED, window, 9, Z_DEFAULT_STRATEGY) != Z_OK) {
        free(head);
        return short_of_memory(err);
    }
    const size_t length = strlen(head), room = deflateBound(&stream, length + 1 + all->n);
    char *const line = realloc(head, length + 2);
    packed->at = calloc(1, room);
    if (line && packed->at) {
        line[length] = '\n';
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
    free(line ? line : head);
    return line && packed->at ? TH_OK : short_of_memory(err);
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
static bool fill(FILE *empty, FILE *out, const struct bytes *packed)
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
    return filled;
}

enum th_code th_page_write(FILE *out, struct th_files *disk, const struct th_page_files *files,
                           json_t *about, struct th_error *err)
{
    struct bytes all = {0}, packed = {0};
    FILE *const empty = open_empty();
    if (!empty)
        return th_fail(
            err, TH_ERR_USAGE,
            "the browser page has not been made yet; in turnheat's source folder, " MAKES_IT
            " makes it");
    enum th_code code = TH_OK;
    if (files->n > 0) {
        code = gather(disk, files, about, &all, err);
        code = code == TH_OK ? pack(about, &all, &packed, err) : code;
    }
    if (code == TH_OK && !fill(empty, out, &packed))
        code = th_fail(err, TH_ERR_INTERNAL, "the empty page has no place for files");
    fclose(empty);
    free(all.at);
    free(packed.at);
    return code;
}

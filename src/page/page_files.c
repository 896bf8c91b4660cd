/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_files.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A path on its way; never longer than the texts it is made of. */
struct path {
    char *text;
    size_t length;
};

/* Appends a part of a path; . and .. are worked out. */
static void append(struct path *path, const char *part, size_t length)
{
    if (length == 0 || (length == 1 && part[0] == '.'))
        return;
    if (length == 2 && strncmp(part, "..", 2) == 0) {
        while (path->length > 0 && path->text[--path->length] != '/')
            continue;
    } else {
        path->text[path->length++] = '/';
        memcpy(path->text + path->length, part, length);
        path->length += length;
    }
    path->text[path->length] = '\0';
}

static void append_all(struct path *path, const char *parts)
{
    while (*parts) {
        const size_t length = strcspn(parts, "/");
        append(path, parts, length);
        parts += length + (parts[length] == '/');
    }
}

/* The path from the root; links stay as they are, since files name each other through them. NULL
 * with `err`. */
static char *from_root(const char *path, struct th_error *err)
{
    char here[PATH_MAX] = "";
    if (path[0] != '/' && !getcwd(here, sizeof here)) {
        th_fail(err, TH_ERR_READ, "the present folder is not known: %s", strerror(errno));
        return NULL;
    }
    struct path made = {.text = calloc(1, strlen(here) + strlen(path) + 3)};
    if (!made.text) {
        th_fail(err, TH_ERR_MEMORY, "out of memory");
        return NULL;
    }
    append_all(&made, here);
    append_all(&made, path);
    return made.text;
}

enum th_code th_page_files_add(struct th_page_files *files, const char *path, size_t *index,
                               struct th_error *err)
{
    size_t i = 0;
    err->code = TH_OK;
    char *const made = from_root(path, err);
    if (!made)
        return err->code;
    while (i < files->n && strcmp(files->list[i].path, made) != 0)
        i++;
    *index = i;
    struct th_page_file *const list =
        i < files->n ? files->list : realloc(files->list, (i + 1) * sizeof *list);
    if (list)
        files->list = list;
    if (!list || i < files->n) {
        free(made);
        return list ? TH_OK : th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    files->list[files->n++] = (struct th_page_file){.path = made};
    return TH_OK;
}

void th_page_files_name(struct th_page_files *files)
{
    size_t common = files->n ? strlen(files->list[0].path) : 0;
    for (size_t i = 0; i < files->n; i++) {
        size_t same = 0;
        while (same < common && files->list[i].path[same] == files->list[0].path[same])
            same++;
        while (same > 0 && files->list[i].path[same - 1] != '/')
            same--;
        common = same;
    }
    for (size_t i = 0; i < files->n; i++)
        files->list[i].name = files->list[i].path + common;
}

void th_page_files_finish(struct th_page_files *files)
{
    for (size_t i = 0; i < files->n; i++) {
        free(files->list[i].path);
        free(files->list[i].text);
    }
    free(files->list);
    *files = (struct th_page_files){0};
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_names.h"

#include <dirent.h>
#include <errno.h>
#include <fnmatch.h>
#include <glob.h>
#include <stdlib.h>
#include <string.h>

#define PATTERN_SIGNS "*?["

static enum th_code short_of_memory(struct th_error *err)
{
    return th_fail(err, TH_ERR_MEMORY, "out of memory");
}

/* Adds folder/name, or name alone without a folder. */
static enum th_code add(struct th_file_names *found, const char *folder, const char *name,
                        struct th_error *err)
{
    const size_t size = (folder ? strlen(folder) : 0) + strlen(name) + 2;
    char **const names = realloc(found->names, (found->n + 1) * sizeof *names);
    if (names)
        found->names = names;
    char *const path = names ? malloc(size) : NULL;
    if (!path)
        return short_of_memory(err);
    const bool slash = folder && *folder && folder[strlen(folder) - 1] != '/';
    snprintf(path, size, "%s%s%s", folder ? folder : "", slash ? "/" : "", name);
    found->names[found->n++] = path;
    return TH_OK;
}

static enum th_code unread(const char *name, struct th_error *err, const char *what,
                           const char *why)
{
    th_fail(err, TH_ERR_READ, "%s%s", what, why);
    th_error_place(err, name, 0, 0);
    return TH_ERR_READ;
}

static enum th_code list_folder(const char *folder, struct th_file_names *found,
                                struct th_error *err)
{
    struct dirent **entries = NULL;
    const int n = scandir(folder, &entries, NULL, alphasort);
    enum th_code code = TH_OK;
    found->folder = true;
    if (n < 0)
        return errno == ENOMEM
                   ? short_of_memory(err)
                   : unread(folder, err, "the folder cannot be read: ", strerror(errno));
    for (int i = 0; i < n; i++) {
        struct stat status;
        if (code == TH_OK && entries[i]->d_name[0] != '.') {
            code = add(found, folder, entries[i]->d_name, err);
            if (code == TH_OK && stat(found->names[found->n - 1], &status) == 0 &&
                S_ISDIR(status.st_mode))
                free(found->names[--found->n]);
        }
        free(entries[i]);
    }
    free(entries);
    return code;
}

static enum th_code match_on_disk(const char *pattern, struct th_file_names *found,
                                  struct th_error *err)
{
    glob_t list = {0};
    const int result = glob(pattern, 0, NULL, &list);
    enum th_code code = result == GLOB_NOSPACE ? short_of_memory(err) : TH_OK;
    for (size_t i = 0; result == 0 && i < list.gl_pathc && code == TH_OK; i++)
        code = add(found, NULL, list.gl_pathv[i], err);
    globfree(&list);
    return code;
}

static enum th_code find_on_disk(const char *name, struct th_file_names *found,
                                 struct th_error *err)
{
    struct stat status;
    const bool there = stat(name, &status) == 0;
    if (there && S_ISDIR(status.st_mode))
        return list_folder(name, found, err);
    if (there || !strpbrk(name, PATTERN_SIGNS))
        return add(found, NULL, name, err);
    return match_on_disk(name, found, err);
}

/* Whether `name` lies in `folder`, which may end in a slash, and in none below it. */
static bool lies_in(const char *name, const char *folder)
{
    size_t length = strlen(folder);
    while (length > 0 && folder[length - 1] == '/')
        length--;
    return length > 0 && strncmp(name, folder, length) == 0 && name[length] == '/' &&
           !strchr(name + length + 1, '/');
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static enum th_code find_in_memory(const struct th_files *files, const char *name,
                                   struct th_file_names *found, struct th_error *err)
{
    enum th_code code = TH_OK;
    for (size_t i = 0; i < files->n_held; i++)
        if (strcmp(files->held[i].name, name) == 0)
            return add(found, NULL, name, err);
    for (size_t i = 0; i < files->n_held && code == TH_OK; i++) {
        const char *const held = files->held[i].name;
        const bool inside = lies_in(held, name);
        found->folder = found->folder || inside;
        if (inside || (strpbrk(name, PATTERN_SIGNS) && fnmatch(name, held, FNM_PATHNAME) == 0))
            code = add(found, NULL, held, err);
    }
    if (found->n > 1)
        qsort(found->names, found->n, sizeof *found->names, by_name);
    return code != TH_OK || found->n > 0 || strpbrk(name, PATTERN_SIGNS)
               ? code
               : add(found, NULL, name, err);
}

enum th_code th_file_names_of(const struct th_files *files, const char *name,
                              struct th_file_names *found, struct th_error *err)
{
    *found = (struct th_file_names){0};
    const enum th_code code = files && files->held ? find_in_memory(files, name, found, err)
                                                   : find_on_disk(name, found, err);
    if (code != TH_OK || found->n > 0)
        return code;
    return found->folder ? unread(name, err, "the folder holds no files", "")
                         : unread(name, err, "no file has a name that fits this", "");
}

void th_file_names_finish(struct th_file_names *found)
{
    for (size_t i = 0; i < found->n; i++)
        free(found->names[i]);
    free(found->names);
    *found = (struct th_file_names){0};
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* realpath() belongs to the X/Open part of POSIX in the C library's headers. */
/* NOLINTNEXTLINE(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp): POSIX defines it so. */
#define _XOPEN_SOURCE 700
#include "output.h"

#include "files.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Temporary files to remove when a signal ends the program. */
#define TEMPORARIES_MAX 8
static char *volatile temporaries[TEMPORARIES_MAX];

static const int endings[] = {SIGTERM, SIGINT, SIGHUP};
#define ENDINGS ((int)(sizeof endings / sizeof *endings))

static void end(int number)
{
    for (int i = 0; i < TEMPORARIES_MAX; i++)
        if (temporaries[i])
            unlink(temporaries[i]);
    raise(number); /* the handler is gone by now */
}

/* From here to resume() no signal comes between a file and what is known of it. */
static sigset_t hold_endings(void)
{
    sigset_t held, before;
    sigemptyset(&held);
    for (int i = 0; i < ENDINGS; i++)
        sigaddset(&held, endings[i]);
    sigprocmask(SIG_BLOCK, &held, &before);
    return before;
}

static void resume(const sigset_t *before)
{
    sigprocmask(SIG_SETMASK, before, NULL);
}

static void replace_temporary(const char *old, char *by)
{
    for (int i = 0; i < TEMPORARIES_MAX; i++)
        if (temporaries[i] == old) {
            temporaries[i] = by;
            return;
        }
}

static const char *shown_name(const struct th_output *output)
{
    return output->name ? output->name : "standard output";
}

static enum th_code fail(const struct th_output *output, int reason, struct th_error *err)
{
    return th_fail(err, reason == ENOMEM ? TH_ERR_MEMORY : TH_ERR_WRITE,
                   "%s could not be written: %s", shown_name(output), strerror(reason));
}

/* Barn and farm files are written by hand, and no command writes one over. */
static bool is_own_work(const char *name)
{
    const char *const dot = strrchr(name, '.');
    return dot && (strcmp(dot, ".barn") == 0 || strcmp(dot, ".farm") == 0);
}

/* What a command reads, or a farmer wrote, is not lost to what it writes. */
static enum th_code spare_inputs(const struct th_output *output, struct th_error *err)
{
    struct stat status;
    if (stat(output->path, &status) != 0 || !S_ISREG(status.st_mode))
        return TH_OK;
    const bool is_read = th_files_have_read(output->inputs, &status);
    if (!is_read && output->inputs && is_own_work(output->path))
        return th_fail(err, TH_ERR_USAGE,
                       "%s is there already, and a barn or farm file is never written over; name "
                       "another file",
                       shown_name(output));
    if (!is_read)
        return TH_OK;
    return th_fail(err, TH_ERR_USAGE,
                   "%s is read by this command and not written over; name another file",
                   shown_name(output));
}

/* The file a link leads to, so that the link itself survives; `path` as it is otherwise. */
static char *behind_links(const char *path)
{
    char *real = realpath(path, NULL);
    return real || errno == ENOMEM ? real : strdup(path);
}

static mode_t present_umask(void)
{
    const mode_t mask = umask(0);
    umask(mask);
    return mask;
}

static enum th_code open_directly(struct th_output *output, struct th_error *err)
{
    output->file = fopen(output->path, "w");
    return output->file ? TH_OK : fail(output, errno, err);
}

static int make_temporary(char *path)
{
    const sigset_t before = hold_endings();
    const int descriptor = mkstemp(path);
    if (descriptor >= 0)
        replace_temporary(NULL, path);
    const int reason = errno;
    resume(&before);
    errno = reason;
    return descriptor;
}

static enum th_code open_temporary(struct th_output *output, mode_t mode, struct th_error *err)
{
    const size_t size = strlen(output->path) + sizeof ".XXXXXX";
    output->temporary = malloc(size);
    if (!output->temporary)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    snprintf(output->temporary, size, "%s.XXXXXX", output->path);
    const int descriptor = make_temporary(output->temporary);
    if (descriptor < 0) {
        const int reason = errno;
        free(output->temporary);
        output->temporary = NULL;
        return fail(output, reason, err);
    }
    if (fchmod(descriptor, mode) == 0)
        output->file = fdopen(descriptor, "w");
    if (output->file)
        return TH_OK;
    const int reason = errno;
    close(descriptor);
    return fail(output, reason, err);
}

static enum th_code open_path(struct th_output *output, struct th_error *err)
{
    struct stat status;
    const bool present = stat(output->path, &status) == 0;
    struct stat link_status;
    const bool dangling = !present && lstat(output->path, &link_status) == 0;
    if (dangling || (present && !S_ISREG(status.st_mode)))
        return open_directly(output, err);
    if (present && access(output->path, W_OK) != 0)
        return fail(output, errno, err);
    const mode_t mode = present ? status.st_mode & 0777 : 0666 & ~present_umask();
    return open_temporary(output, mode, err);
}

static enum th_code give_up(struct th_output *output, enum th_code code)
{
    th_output_abandon(output);
    return code;
}

enum th_code th_output_open(struct th_output *output, const struct th_files *inputs,
                            const char *path, struct th_error *err)
{
    *output = (struct th_output){.inputs = inputs};
    if (!path) {
        output->file = stdout;
        return TH_OK;
    }
    output->name = strdup(path);
    output->path = behind_links(path);
    if (!output->name || !output->path)
        return give_up(output, th_fail(err, TH_ERR_MEMORY, "out of memory"));
    enum th_code code = spare_inputs(output, err);
    if (code == TH_OK)
        code = open_path(output, err);
    return code ? give_up(output, code) : TH_OK;
}

/* A failed fflush() or write leaves its reason in errno; an old failure has only the flag, and one
 * more byte asks for its reason: what was written is lost in any case. */
static enum th_code flush(const struct th_output *output, struct th_error *err)
{
    errno = 0;
    const bool failed_before = ferror(output->file) != 0;
    if (fflush(output->file) == 0 && !failed_before)
        return TH_OK;
    if (errno == 0) {
        fputc('\n', output->file);
        fflush(output->file);
    }
    return fail(output, errno ? errno : EIO, err);
}

static enum th_code close_and_rename(struct th_output *output, struct th_error *err)
{
    FILE *file = output->file;
    output->file = NULL;
    if (fclose(file) != 0)
        return fail(output, errno, err);
    if (!output->temporary)
        return TH_OK;
    const enum th_code code = spare_inputs(output, err);
    if (code != TH_OK)
        return code;
    const sigset_t before = hold_endings();
    const int reason = rename(output->temporary, output->path) == 0 ? 0 : errno;
    if (reason == 0) {
        replace_temporary(output->temporary, NULL);
        free(output->temporary);
        output->temporary = NULL;
    }
    resume(&before);
    return reason == 0 ? TH_OK : fail(output, reason, err);
}

enum th_code th_output_commit(struct th_output *output, struct th_error *err)
{
    enum th_code code = flush(output, err);
    if (!code && output->name)
        code = close_and_rename(output, err);
    th_output_abandon(output);
    return code;
}

void th_output_abandon(struct th_output *output)
{
    if (output->file && output->file != stdout)
        fclose(output->file);
    if (output->temporary) {
        unlink(output->temporary);
        replace_temporary(output->temporary, NULL);
    }
    free(output->temporary);
    free(output->path);
    free(output->name);
    *output = (struct th_output){0};
}

void th_output_guard(void)
{
    for (int descriptor = 0; descriptor <= 2; descriptor++)
        if (fcntl(descriptor, F_GETFD) == -1)
            open("/dev/null", descriptor == 2 ? O_WRONLY : O_RDONLY);
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
    for (int i = 0; i < ENDINGS; i++) {
        struct sigaction now;
        const struct sigaction action = {.sa_handler = end, .sa_flags = SA_RESETHAND | SA_NODEFER};
        if (sigaction(endings[i], NULL, &now) == 0 && now.sa_handler != SIG_IGN)
            sigaction(endings[i], &action, NULL);
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files appear whole or not at all. Standard output is tested by the dialogues of tests/cli. */
#include "files.h"
#include "output.h"
#include "run_suite.h"
#include <dirent.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define PATH_BYTES 600

static char folder[256];
static struct th_output output;
static struct th_error err;

static void make_folder(void)
{
    const char *base = getenv("TMPDIR");
    snprintf(folder, sizeof folder, "%s/output-test-XXXXXX", base ? base : ".");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    err = (struct th_error){0};
}

static const char *in_folder(const char *name)
{
    static char path[2][PATH_BYTES];
    static int turn;
    turn = !turn;
    snprintf(path[turn], PATH_BYTES, "%s/%s", folder, name);
    return path[turn];
}

/* Entries of the folder; removes them when asked to. */
static int entries(bool remove_them)
{
    int n = 0;
    DIR *directory = opendir(folder);
    ck_assert_ptr_nonnull(directory);
    for (const struct dirent *e = readdir(directory); e; e = readdir(directory)) {
        if (strcmp(e->d_name, ".") == 0 || strcmp(e->d_name, "..") == 0)
            continue;
        n++;
        if (remove_them)
            remove(in_folder(e->d_name));
    }
    closedir(directory);
    return n;
}

static void remove_folder(void)
{
    entries(true);
    rmdir(folder);
}

static void put(const char *name, const char *text)
{
    FILE *file = fopen(in_folder(name), "w");
    ck_assert_ptr_nonnull(file);
    fputs(text, file);
    fclose(file);
}

static void check_content(const char *name, const char *text)
{
    char found[64] = "";
    FILE *file = fopen(in_folder(name), "r");
    ck_assert_msg(file != NULL, "no %s", name);
    found[fread(found, 1, sizeof found - 1, file)] = '\0';
    fclose(file);
    ck_assert_str_eq(found, text);
}

static mode_t mode_of(const char *name)
{
    struct stat status;
    ck_assert_int_eq(stat(in_folder(name), &status), 0);
    return status.st_mode;
}

static enum th_code write_all(const char *path, const char *text)
{
    const enum th_code code = th_output_open(&output, NULL, path, &err);
    if (code)
        return code;
    fputs(text, output.file);
    return th_output_commit(&output, &err);
}

START_TEST(new_file_appears_when_complete)
{
    ck_assert_int_eq(th_output_open(&output, NULL, in_folder("new"), &err), TH_OK);
    fputs("half", output.file);
    ck_assert_int_ne(access(in_folder("new"), F_OK), 0);
    ck_assert_int_eq(th_output_commit(&output, &err), TH_OK);
    check_content("new", "half");
    const mode_t mask = umask(0);
    umask(mask);
    ck_assert_int_eq(mode_of("new") & 0777, 0666 & ~mask);
    ck_assert_int_eq(entries(false), 1);
}
END_TEST

START_TEST(old_file_stays_until_then)
{
    put("old", "old");
    ck_assert_int_eq(chmod(in_folder("old"), 0640), 0);
    ck_assert_int_eq(th_output_open(&output, NULL, in_folder("old"), &err), TH_OK);
    fputs("new", output.file);
    check_content("old", "old");
    ck_assert_int_eq(th_output_commit(&output, &err), TH_OK);
    check_content("old", "new");
    ck_assert_int_eq(mode_of("old") & 0777, 0640);
}
END_TEST

START_TEST(giving_up_leaves_the_old_file)
{
    put("old", "old");
    ck_assert_int_eq(th_output_open(&output, NULL, in_folder("old"), &err), TH_OK);
    fputs("new", output.file);
    th_output_abandon(&output);
    check_content("old", "old");
    ck_assert_int_eq(entries(false), 1);
    th_output_abandon(&output);
}
END_TEST

START_TEST(link_stays_a_link)
{
    put("target", "old");
    ck_assert_int_eq(symlink("target", in_folder("link")), 0);
    ck_assert_int_eq(write_all(in_folder("link"), "new"), TH_OK);
    check_content("target", "new");
    struct stat status;
    ck_assert_int_eq(lstat(in_folder("link"), &status), 0);
    ck_assert(S_ISLNK(status.st_mode));
    ck_assert_int_eq(symlink("later", in_folder("dangling")), 0);
    ck_assert_int_eq(write_all(in_folder("dangling"), "new"), TH_OK);
    check_content("later", "new");
}
END_TEST

START_TEST(device_is_written_directly)
{
    ck_assert_int_eq(write_all("/dev/null", "gone"), TH_OK);
    struct stat status;
    ck_assert_int_eq(stat("/dev/null", &status), 0);
    ck_assert(S_ISCHR(status.st_mode));
}
END_TEST

START_TEST(full_disk_is_reported)
{
    ck_assert_int_eq(write_all("/dev/full", "text"), TH_ERR_WRITE);
    ck_assert_str_eq(err.text, "/dev/full could not be written: No space left on device");
}
END_TEST

START_TEST(full_disk_found_while_writing_is_reported)
{
    ck_assert_int_eq(th_output_open(&output, NULL, "/dev/full", &err), TH_OK);
    for (int i = 0; i < 100000; i++)
        fputs("more than a buffer holds ", output.file);
    ck_assert_int_eq(th_output_commit(&output, &err), TH_ERR_WRITE);
}
END_TEST

START_TEST(closed_pipe_is_reported)
{
    int ends[2];
    char path[64];
    ck_assert_int_eq(pipe(ends), 0);
    snprintf(path, sizeof path, "/dev/fd/%d", ends[1]);
    ck_assert_int_eq(th_output_open(&output, NULL, path, &err), TH_OK);
    close(ends[0]);
    fputs("text", output.file);
    ck_assert_int_eq(th_output_commit(&output, &err), TH_ERR_WRITE);
    ck_assert_ptr_nonnull(strstr(err.text, "Broken pipe"));
    close(ends[1]);
}
END_TEST

START_TEST(unwritable_targets_are_reported)
{
    ck_assert_int_eq(write_all(in_folder("none/file"), ""), TH_ERR_WRITE);
    ck_assert_ptr_nonnull(strstr(err.text, "No such file or directory"));
    ck_assert_int_eq(write_all(folder, ""), TH_ERR_WRITE);
    ck_assert_ptr_nonnull(strstr(err.text, "Is a directory"));
    ck_assert_int_eq(write_all("/proc/turnheat", ""), TH_ERR_WRITE);
    ck_assert_int_eq(write_all("", ""), TH_ERR_WRITE);
    char long_name[NAME_MAX + 2];
    memset(long_name, 'x', sizeof long_name - 1);
    long_name[sizeof long_name - 1] = '\0';
    ck_assert_int_eq(write_all(in_folder(long_name), ""), TH_ERR_WRITE);
    ck_assert_int_eq(entries(false), 0);
}
END_TEST

/* The administrator may write everywhere, so the modes are only a barrier to others. */
START_TEST(modes_are_respected)
{
    if (geteuid() == 0) {
        printf("# SKIP modes_are_respected: run by the administrator\n");
        return;
    }
    put("locked", "old");
    ck_assert_int_eq(chmod(in_folder("locked"), 0444), 0);
    ck_assert_int_eq(write_all(in_folder("locked"), "new"), TH_ERR_WRITE);
    check_content("locked", "old");
    ck_assert_int_eq(chmod(folder, 0555), 0);
    ck_assert_int_eq(write_all(in_folder("new"), "new"), TH_ERR_WRITE);
    ck_assert_int_eq(chmod(folder, 0755), 0);
}
END_TEST

/* A program ended by a signal leaves nothing half written. */
static const int endings[] = {SIGTERM, SIGINT, SIGHUP};

START_TEST(signals_leave_no_temporary_file)
{
    const pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        signal(endings[_i], SIG_DFL); /* whoever started the test may ignore it, as nohup does */
        th_output_guard();
        if (th_output_open(&output, NULL, in_folder("page.html"), &err) == TH_OK &&
            entries(false) == 1)
            raise(endings[_i]);
        _exit(1);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status) && WTERMSIG(status) == endings[_i]);
    ck_assert_int_eq(entries(false), 0);
}
END_TEST

/* By whatever name: here a link. */
START_TEST(what_was_read_is_not_written_over)
{
    FILE *barn = fopen(in_folder("in.csv"), "w");
    fputs("[room]\n", barn);
    fclose(barn);
    ck_assert_int_eq(symlink("in.csv", in_folder("page.html")), 0);
    struct th_files files = {0};
    ck_assert_int_eq(th_output_open(&output, &files, in_folder("page.html"), &err), TH_OK);
    fclose(th_files_open(&files, in_folder("in.csv")));
    ck_assert_int_eq(th_output_commit(&output, &err), TH_ERR_USAGE);
    ck_assert_ptr_nonnull(strstr(err.text, "page.html is read by this command"));
    ck_assert_int_eq(th_output_open(&output, &files, in_folder("in.csv"), &err), TH_ERR_USAGE);
    ck_assert_int_eq(rename(in_folder("in.csv"), in_folder("own.barn")), 0);
    struct th_files none = {0};
    th_files_finish(&files);
    ck_assert_int_eq(th_output_open(&output, &none, in_folder("own.barn"), &err), TH_ERR_USAGE);
    ck_assert_ptr_nonnull(strstr(err.text, "never written over"));
    ck_assert_int_eq(entries(false), 2);
    struct stat status;
    ck_assert_int_eq(stat(in_folder("own.barn"), &status), 0);
    ck_assert_int_eq(status.st_size, 7);
}
END_TEST

int main(void)
{
    signal(SIGPIPE, SIG_IGN);
    Suite *suite = suite_create("output");
    TCase *c = tcase_create("output");
    tcase_add_checked_fixture(c, make_folder, remove_folder);
    tcase_add_test(c, new_file_appears_when_complete);
    tcase_add_test(c, old_file_stays_until_then);
    tcase_add_test(c, giving_up_leaves_the_old_file);
    tcase_add_test(c, link_stays_a_link);
    tcase_add_test(c, device_is_written_directly);
    tcase_add_test(c, full_disk_is_reported);
    tcase_add_test(c, full_disk_found_while_writing_is_reported);
    tcase_add_test(c, closed_pipe_is_reported);
    tcase_add_test(c, unwritable_targets_are_reported);
    tcase_add_test(c, modes_are_respected);
    tcase_add_loop_test(c, signals_leave_no_temporary_file, 0, sizeof endings / sizeof *endings);
    tcase_add_test(c, what_was_read_is_not_written_over);
    suite_add_tcase(suite, c);
    return run_suite(suite);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole commands with one failure in them, for each place where one can happen. What must hold is
   what the program promises (docs/output.md): an exit status that tells the kind of failure, a line
   on standard error, no partial file, nothing leaked. */
#include "commands.h"
#include "output.h"
#include "run.h"

#include "../run_suite.h"
#include "allocations.h"
#include "files.h"
#include "small_farm.h"
#include <dirent.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

/* Exit statuses of the child besides the program's own. */
#define LEAKED 100
#define NOT_REACHED 101

/* The C library keeps a buffer for each of the two streams that were opened anew. */
#define HELD_BY_STREAMS 2

/* GSL 2.7.1 does not give back the parts of a solver whose allocation fails half way. */
#define HELD_BY_GSL 60

/* In the child: the command with its output in a file. Gives the program's own status. */
static int run_here(const struct command *command, unsigned long allocation, enum file_call call,
                    int nth)
{
    if (!freopen(output, "w", stdout) || !freopen(messages, "w", stderr))
        return NOT_REACHED;
    int argc = 0;
    while (command->argv[argc])
        argc++;
    setvbuf(stdout, NULL, _IOLBF, 4096);
    tzset(); /* the C library keeps the time zone once it is asked for */
    const long held_by_gsl = strcmp(command->name, "calibrate") == 0 ? HELD_BY_GSL : 0;
    const long most = allocations_held() + HELD_BY_STREAMS + held_by_gsl;
    allocations_fail_once(allocation);
    files_fail_once(call, nth);
    const int status = th_run(th_commands, argc, (char **)command->argv);
    const bool reached = call == FILE_NONE || files_have_failed();
    files_fail_once(FILE_NONE, 0);
    allocations_fail_once(0);
    fflush(stderr);
    if (!reached)
        return NOT_REACHED;
    return status == 5 && allocations_held() > most ? LEAKED : status;
}

/* The exit status; a signal fails the test. */
static int run(const struct command *command, unsigned long allocation, enum file_call call,
               int nth)
{
    int status;
    const pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0)
        _exit(run_here(command, allocation, call, nth));
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status), "%s: signal %d at allocation %lu, file call %d.%d",
                  command->name, WTERMSIG(status), allocation, call, nth);
    return WEXITSTATUS(status);
}

/* A page is there whole or not at all. */
static bool page_whole(void)
{
    static const char end[] = "</html>\n";
    char tail[sizeof end] = "";
    FILE *const file = fopen(page, "r");
    const bool whole = file && fseek(file, 1 - (long)sizeof end, SEEK_END) == 0 &&
                       fread(tail, 1, sizeof end - 1, file) == sizeof end - 1 &&
                       strcmp(tail, end) == 0;
    if (file)
        fclose(file);
    return whole;
}

/* Inputs, the messages and perhaps a finished page; anything else is a partial file. */
static void check_folder(const struct command *command)
{
    DIR *const dir = opendir(folder);
    struct dirent *entry;
    ck_assert_ptr_nonnull(dir);
    while ((entry = readdir(dir))) {
        const bool known =
            entry->d_name[0] == '.' || strcmp(entry->d_name, "w.csv") == 0 ||
            strcmp(entry->d_name, "room.barn") == 0 || strcmp(entry->d_name, "fills.csv") == 0 ||
            strcmp(entry->d_name, "messages") == 0 || strcmp(entry->d_name, "output") == 0 ||
            (strcmp(entry->d_name, "page.html") == 0 && page_whole());
        ck_assert_msg(known, "%s left %s", command->name, entry->d_name);
    }
    closedir(dir);
    unlink(page);
}

static long size_of(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 ? (long)status.st_size : -1;
}

/* How many allocations the command makes when nothing fails. */
static unsigned long count_allocations(const struct command *command)
{
    int ends[2], status;
    unsigned long made = 0;
    ck_assert_int_eq(pipe(ends), 0);
    const pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        const unsigned long before = allocations_made();
        status = run_here(command, 0, FILE_NONE, 0);
        made = allocations_made() - before;
        _exit(write(ends[1], &made, sizeof made) == sizeof made ? status : NOT_REACHED);
    }
    close(ends[1]);
    ck_assert_int_eq(read(ends[0], &made, sizeof made), sizeof made);
    close(ends[0]);
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "%s: status %d without a fault",
                  command->name, WEXITSTATUS(status));
    return made;
}

START_TEST(each_failed_allocation_ends_with_status_5)
{
    const struct command *const command = &commands[_i];
    const unsigned long made = count_allocations(command);
    unsigned long fives = 0;
    const long whole = size_of(output);
    check_folder(command);
    for (unsigned long n = 1; n <= made; n++) {
        const int status = run(command, n, FILE_NONE, 0);
        check_folder(command);
        ck_assert_msg(status == 0 || status == 5, "%s: status %d at allocation %lu", command->name,
                      status, n);
        ck_assert_msg(status == 0 || size_of(messages) > 0, "%s: silent at allocation %lu",
                      command->name, n);
        ck_assert_msg(status == 5 || size_of(output) == whole, "%s: cut short at allocation %lu",
                      command->name, n);
        fives += status == 5;
    }
    printf("# %s: each of %lu allocations failed, %lu runs ended with status 5\n", command->name,
           made, fives);
    ck_assert_uint_gt(fives, made / 2);
}
END_TEST

/* Closing a file that was only read, and a picture that could not be drawn: the report has the same
   figures as a table. The first flush is that of standard output. */
static bool harmless(enum file_call call, int nth)
{
    return call == FILE_CLOSE || (call == FILE_FLUSH && nth > 1);
}

START_TEST(a_failed_file_call_is_told)
{
    static const int expected[FILE_CALLS] = {
        [FILE_OPEN] = 3, [FILE_READ] = 3, [FILE_FLUSH] = 4, [FILE_CLOSE] = 4, [FILE_RENAME] = 4};
    const struct command *const command = &commands[_i];
    int told = 0;
    for (enum file_call call = FILE_OPEN; call < FILE_CALLS; call++) {
        for (int nth = 1; nth < 100; nth++) {
            const int status = run(command, 0, call, nth);
            check_folder(command);
            if (status == NOT_REACHED)
                break;
            ck_assert_msg(status == expected[call] || (status == 0 && harmless(call, nth)),
                          "%s: status %d at file call %d.%d", command->name, status, call, nth);
            ck_assert_msg(status == 0 || size_of(messages) > 0, "%s: silent at file call %d.%d",
                          command->name, call, nth);
            told += status != 0;
        }
    }
    ck_assert_int_ge(told, 3);
}
END_TEST

static int run_all(void)
{
    Suite *suite = suite_create("faults");
    TCase *tc = tcase_create("faults");
    tcase_set_timeout(tc, 600);
    tcase_add_loop_test(tc, each_failed_allocation_ends_with_status_5, 0, N_COMMANDS);
    tcase_add_loop_test(tc, a_failed_file_call_is_told, 0, N_COMMANDS);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

int main(void)
{
    if (!small_farm_open())
        return EXIT_FAILURE;
    th_output_guard();
    const int status = run_all();
    small_farm_close();
    return status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole commands with one failure in them, for each place where one can happen. What must hold is
   what the program promises (docs/output.md): an exit status that tells the kind of failure, a line
   on standard error, no partial file, nothing leaked. */
#include "commands.h"
#include "output.h"
#include "run.h"

#include "../run_suite.h"
#include "allocations.h"
#include "file_calls.h"
#include "small_farm.h"
#include <dirent.h>
#include <fcntl.h>
#include <string.h>
#include <sys/mman.h>
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

/* In a child: the command with its output in a file. Gives the program's own status. */
static int run_here(const struct command *command, bool (*allocation_fails)(void),
                    enum file_call call, int nth)
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
    allocations_ask(allocation_fails);
    files_fail_once(call, nth);
    const int status = th_run(th_commands, argc, (char **)command->argv);
    const bool reached = call == FILE_NONE || files_have_failed();
    files_fail_once(FILE_NONE, 0);
    allocations_ask(NULL);
    fflush(stdout);
    fflush(stderr);
    if (!reached)
        return NOT_REACHED;
    return status == 5 && allocations_held() > most ? LEAKED : status;
}

/* The exit status; a signal fails the test. */
static int run(const struct command *command, bool (*allocation_fails)(void), enum file_call call,
               int nth)
{
    int status;
    const pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0)
        _exit(run_here(command, allocation_fails, call, nth));
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status), "%s: signal %d at file call %d.%d", command->name,
                  WTERMSIG(status), call, nth);
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

static bool is_temporary(const char *name)
{
    return strncmp(name, "page.html.", strlen("page.html.")) == 0;
}

/* The name of what is neither an input, a message nor a finished page: a partial file. */
static bool partial_file(char name[static 300])
{
    DIR *const dir = opendir(folder);
    const struct dirent *entry;
    bool found = false;
    while (dir && !found && (entry = readdir(dir))) {
        const char *const known[] = {"w.csv", "room.barn", "fills.csv", "messages", "output"};
        found =
            entry->d_name[0] != '.' && (strcmp(entry->d_name, "page.html") != 0 || !page_whole());
        for (size_t i = 0; i < sizeof known / sizeof *known; i++)
            found = found && strcmp(entry->d_name, known[i]) != 0;
        snprintf(name, 300, "%s", entry->d_name);
    }
    if (dir)
        closedir(dir);
    return found;
}

static void check_folder(const struct command *command)
{
    char name[300];
    ck_assert_msg(!partial_file(name), "%s left %s", command->name, name);
    unlink(page);
}

static long size_of(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 ? (long)status.st_size : -1;
}

/* What a run that tries each of its allocations tells the test, in memory that both share. */
struct tried {
    unsigned long allocations, failed, fives;
    long whole_size, page_size; /* of the output and of the page, where one is written */
    char fault[400];
};
static struct tried *tried;

#define FILES_OPEN_MAX 16

/* Where each open file stands, and a second name for a page that is being written: a child shares
   the files and may remove the page. */
struct place {
    off_t at[FILES_OPEN_MAX], size[FILES_OPEN_MAX];
    char temporary[320], kept[320];
};

static void remember(struct place *place)
{
    char name[300];
    *place = (struct place){.at = {0}};
    for (int fd = 0; fd < FILES_OPEN_MAX; fd++) {
        struct stat status;
        place->at[fd] = lseek(fd, 0, SEEK_CUR);
        place->size[fd] = fstat(fd, &status) == 0 ? status.st_size : 0;
    }
    if (!partial_file(name) || !is_temporary(name))
        return;
    snprintf(place->temporary, sizeof place->temporary, "%s/%s", folder, name);
    snprintf(place->kept, sizeof place->kept, "%s/.kept", folder);
    link(place->temporary, place->kept);
}

static void go_back(const struct place *place)
{
    for (int fd = 0; fd < FILES_OPEN_MAX; fd++) {
        if (place->at[fd] < 0)
            continue;
        if ((fcntl(fd, F_GETFL) & O_ACCMODE) != O_RDONLY && ftruncate(fd, place->size[fd]) != 0)
            snprintf(tried->fault, sizeof tried->fault, "file %d is not as it was", fd);
        lseek(fd, place->at[fd], SEEK_SET);
    }
    if (place->kept[0] == '\0')
        return;
    link(place->kept, place->temporary);
    unlink(place->kept);
}

/* What must hold of a child in which one allocation failed. */
static void judge(int status, const struct place *before)
{
    char name[300];
    const bool left = partial_file(name);
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    const char *fault = NULL;
    if (code != 0 && code != 5)
        fault = "its status";
    else if (code == 5 && size_of(messages) == 0)
        fault = "silent";
    else if (code == 0 &&
             (size_of(output) != tried->whole_size || size_of(page) != tried->page_size))
        fault = "cut short";
    else if (left)
        fault = name;
    if (fault && tried->fault[0] == '\0')
        snprintf(tried->fault, sizeof tried->fault, "allocation %lu: %s (wait status %d)",
                 tried->allocations, fault, status);
    tried->fives += code == 5;
    unlink(page);
    go_back(before);
}

/* Each allocation is tried, or each FAULTS_STRIDE-th. */
static unsigned long stride(void)
{
    const char *const given = getenv("FAULTS_STRIDE");
    const unsigned long every = given ? strtoul(given, NULL, 10) : 1;
    return every > 0 ? every : 1;
}

/* At each allocation a child goes on as if it had failed; the run itself has it. */
static bool fails_in_a_child(void)
{
    struct place before;
    int status = -1;
    if (tried->allocations++ % stride() != 0)
        return false;
    tried->failed++;
    remember(&before);
    const pid_t child = fork();
    if (child == 0)
        return true;
    if (child < 0 || waitpid(child, &status, 0) != child)
        snprintf(tried->fault, sizeof tried->fault, "no child at allocation %lu",
                 tried->allocations);
    else
        judge(status, &before);
    return false;
}

START_TEST(each_failed_allocation_ends_with_status_5)
{
    const struct command *const command = &commands[_i];
    const int zero = open("/dev/zero", O_RDWR);
    tried = mmap(NULL, sizeof *tried, PROT_READ | PROT_WRITE, MAP_SHARED, zero, 0);
    close(zero);
    ck_assert_ptr_ne(tried, MAP_FAILED);
    ck_assert_int_eq(run(command, NULL, FILE_NONE, 0), 0);
    tried->page_size = size_of(page);
    check_folder(command);
    tried->whole_size = size_of(output);
    ck_assert_int_eq(run(command, fails_in_a_child, FILE_NONE, 0), 0);
    ck_assert_msg(tried->fault[0] == '\0', "%s: %s", command->name, tried->fault);
    ck_assert_int_eq(size_of(output), tried->whole_size);
    check_folder(command);
    printf("# %s: of %lu allocations %lu failed, %lu runs ended with status 5\n", command->name,
           tried->allocations, tried->failed, tried->fives);
    ck_assert_uint_gt(tried->fives, tried->failed / 2);
    munmap(tried, sizeof *tried);
}
END_TEST

/* A stream in memory that cannot be closed is one that memory was too short for.
   Closing a file that was only read, and a picture that could not be drawn: the report has the same
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
            const int status = run(command, NULL, call, nth);
            check_folder(command);
            if (status == NOT_REACHED)
                break;
            const bool in_memory = call == FILE_CLOSE && status == 5;
            ck_assert_msg(status == expected[call] || (status == 0 && harmless(call, nth)) ||
                              in_memory,
                          "%s: status %d at file call %d.%d", command->name, status, call, nth);
            ck_assert_msg(status == 0 || size_of(messages) > 0, "%s: silent at file call %d.%d",
                          command->name, call, nth);
            told += status != 0;
        }
    }
    ck_assert_int_ge(told, 3);
}
END_TEST

/* The commands of small_farm.h whose words begin with `name`. */
static int run_named(const char *name)
{
    Suite *suite = suite_create("faults");
    TCase *tc = tcase_create(name);
    tcase_set_timeout(tc, 600);
    bool found = false;
    for (int i = 0; i < N_COMMANDS; i++) {
        if (strcmp(commands[i].argv[1], name) != 0)
            continue;
        found = true;
        tcase_add_loop_test(tc, each_failed_allocation_ends_with_status_5, i, i + 1);
        tcase_add_loop_test(tc, a_failed_file_call_is_told, i, i + 1);
    }
    suite_add_tcase(suite, tc);
    return run_suite(suite) == EXIT_SUCCESS && found ? EXIT_SUCCESS : EXIT_FAILURE;
}

int main(int argc, char **argv)
{
    if (argc != 2 || !small_farm_open())
        return EXIT_FAILURE;
    th_output_guard();
    const int status = run_named(argv[1]);
    small_farm_close();
    return status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Books broken on purpose: every command that simulates finds it and prints no numbers. The linker
   puts __wrap_th_accounts_book() in the place of the function that books an hour. */
#include "commands.h"
#include "output.h"
#include "run.h"

#include "../run_suite.h"
#include "accounts.h"
#include "small_farm.h"
#include <string.h>
#include <sys/wait.h>

/* What is booked too much, in every hour. */
static const struct {
    enum th_tally_item item;
    double too_much;
    const char *told;
} breaks[] = {
    {TH_FROM_HEATERS, 1e5, "eat"}, {TH_WATER_PIGS, 1.0, "ater"}, {TH_CO2_AIR, 1.0, "CO2"}};
#define N_BREAKS (int)(sizeof breaks / sizeof *breaks)

static int broken = -1;

void __real_th_accounts_book(struct th_tally *tally, long hour_number, const struct th_hour_in *in,
                             const struct th_hour_out *out);
void __wrap_th_accounts_book(struct th_tally *tally, long hour_number, const struct th_hour_in *in,
                             const struct th_hour_out *out);
void __wrap_th_accounts_book(struct th_tally *tally, long hour_number, const struct th_hour_in *in,
                             const struct th_hour_out *out)
{
    __real_th_accounts_book(tally, hour_number, in, out);
    if (broken >= 0)
        tally->sum[breaks[broken].item] += breaks[broken].too_much;
}

static int run(const struct command *command, int what)
{
    int argc = 0, status;
    while (command->argv[argc])
        argc++;
    const pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        if (!freopen(output, "w", stdout) || !freopen(messages, "w", stderr))
            _exit(100);
        broken = what;
        status = th_run(th_commands, argc, (char **)command->argv);
        fflush(NULL);
        _exit(status);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFEXITED(status));
    return WEXITSTATUS(status);
}

static bool holds(const char *path, const char *text)
{
    char all[8192];
    FILE *const file = fopen(path, "r");
    ck_assert_ptr_nonnull(file);
    all[fread(all, 1, sizeof all - 1, file)] = '\0';
    fclose(file);
    return strstr(all, text) != NULL;
}

static bool simulates(const struct command *command)
{
    static const char *const none[] = {"weather", "check", "page"};
    bool does = true;
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        does = does && strcmp(command->name, none[i]) != 0;
    return does;
}

START_TEST(every_command_finds_open_books)
{
    const struct command *const command = &commands[_i];
    ck_assert_msg(run(command, -1) == 0, "%s: not even with closed books", command->name);
    for (int what = 0; what < N_BREAKS && simulates(command); what++) {
        const int status = run(command, what);
        ck_assert_msg(status == 1, "%s: status %d with %s open", command->name, status,
                      breaks[what].told);
        ck_assert_msg(holds(messages, "stays open"), "%s: not told", command->name);
        ck_assert_msg(holds(messages, breaks[what].told), "%s: %s not named", command->name,
                      breaks[what].told);
        ck_assert_msg(!holds(output, " "), "%s: numbers all the same", command->name);
    }
}
END_TEST

static int run_all(void)
{
    Suite *suite = suite_create("books");
    TCase *tc = tcase_create("books");
    tcase_set_timeout(tc, 120);
    tcase_add_loop_test(tc, every_command_finds_open_books, 0, N_COMMANDS);
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

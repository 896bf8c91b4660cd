/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700
#include "progress.h"

#include "run_suite.h"
#include <fcntl.h>
#include <poll.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A pseudo-terminal: `out` writes to it, `screen` reads what arrived. */
struct terminal {
    int screen;
    FILE *out;
};

static bool open_terminal(struct terminal *t)
{
    t->out = NULL;
    t->screen = posix_openpt(O_RDWR | O_NOCTTY);
    if (t->screen < 0 || grantpt(t->screen) != 0 || unlockpt(t->screen) != 0)
        return false;
    const char *const name = ptsname(t->screen);
    t->out = name ? fopen(name, "w") : NULL;
    return t->out != NULL;
}

/* Waits for as many bytes as `wanted` has, which may arrive in pieces. */
static void check_screen(const struct terminal *t, const char *wanted)
{
    char text[256] = "";
    size_t n = 0;
    struct pollfd waiting = {.fd = t->screen, .events = POLLIN};
    while (n < strlen(wanted) && poll(&waiting, 1, 5000) == 1) {
        const ssize_t more = read(t->screen, text + n, strlen(wanted) - n);
        ck_assert_int_gt(more, 0);
        n += (size_t)more;
    }
    ck_assert_str_eq(text, wanted);
}

/* Ten seconds into the past, so that no test has to wait. */
static void begin_long_ago(struct th_progress *progress, FILE *out)
{
    th_progress_begin(progress, out);
    progress->since.tv_sec -= 10;
}

/* A shorter step blanks what was longer, and the end leaves an empty line. */
START_TEST(a_terminal_sees_one_line_and_then_none)
{
    struct terminal t;
    struct th_progress progress;
    if (!open_terminal(&t)) {
        printf("# SKIP progress on a terminal: there is no pseudo-terminal\n");
        return;
    }
    begin_long_ago(&progress, t.out);
    th_progress_step(&progress, "offer %d of %d", 1, 12);
    th_progress_step(&progress, "tanks");
    th_progress_end(&progress);
    check_screen(&t, "\roffer 1 of 12\rtanks        \r     \r");
    th_progress_end(&progress);
    th_progress_begin(&progress, t.out);
    th_progress_step(&progress, "a run that is over at once");
    th_progress_end(&progress);
    begin_long_ago(&progress, t.out);
    th_progress_step(&progress, "%70s and what would wrap", "x");
    check_screen(&t, "\r                                                                     x a");
    fclose(t.out);
    close(t.screen);
}
END_TEST

START_TEST(a_file_sees_nothing)
{
    struct th_progress progress;
    FILE *file = tmpfile();
    ck_assert_ptr_nonnull(file);
    begin_long_ago(&progress, file);
    th_progress_step(&progress, "offer 1");
    th_progress_end(&progress);
    th_progress_step(NULL, "nobody");
    ck_assert_int_eq(ftell(file), 0);
    fclose(file);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("progress");
    TCase *tc = tcase_create("progress");
    tcase_add_test(tc, a_terminal_sees_one_line_and_then_none);
    tcase_add_test(tc, a_file_sees_nothing);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

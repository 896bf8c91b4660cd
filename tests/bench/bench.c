/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Costs as multiples of a bare CSV loop, so that they mean the same on any machine. Prints a table;
 * fails only when a cost is more than twice its figure. Processor time, the best of five; of whole
 * commands also the time by the clock on two cores.
 */
#include "turnheat/winters.h"

#include "../sample_room.h"
#include "weather_read.h"
#include "yardstick.h"
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#ifdef __GLIBC__
#include <malloc.h>
#endif

#define TIMES 30
#define WINTERS 30
#define RUNS 5
#define ROOMS_MAX 8

/** What the measured runs work on, and what the yardsticks took. */
struct bench {
    char wide[512], narrow[512];
    double wide_s, narrow_s;
    const char *program, *farm, *rooms; /* the last a folder */
    struct th_climate climate;
};

static double seconds_of(struct timeval t)
{
    return (double)t.tv_sec + 1e-6 * (double)t.tv_usec;
}

/* Of this process and of those it has waited for. */
static double processor_s(void)
{
    struct timespec now;
    struct rusage children;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    getrusage(RUSAGE_CHILDREN, &children);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec + seconds_of(children.ru_utime) +
           seconds_of(children.ru_stime);
}

static double clock_s(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static bool loop_wide(const struct bench *bench)
{
    return yardstick_loop(bench->wide, TIMES) > 0;
}

static bool loop_narrow(const struct bench *bench)
{
    return yardstick_loop(bench->narrow, 1) > 0;
}

/* Reads a file and makes hours of it, as every command does before it simulates. */
static bool read_weather(const char *path)
{
    const struct th_weather_options options = {0};
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err;
    if (th_weather_read(NULL, &path, 1, &options, &weather, &err) != TH_OK) {
        fprintf(stderr, "bench: %s: %s\n", path, err.text);
        return false;
    }
    const enum th_code code = th_climate_init(&climate, &weather, 300.0, -6.0, &err);
    const bool whole =
        code == TH_OK && climate.n >= 8760 && th_climate_at(&climate, climate.first_hour);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
    return whole;
}

static bool read_wide(const struct bench *bench)
{
    for (int i = 0; i < TIMES; i++)
        if (!read_weather(bench->wide))
            return false;
    return true;
}

static bool read_narrow(const struct bench *bench)
{
    return read_weather(bench->narrow);
}

static bool winters(const struct bench *bench, enum th_control control)
{
    const struct th_room room = sample_room(control);
    struct th_winters winters;
    struct th_error err;
    if (th_winters_run(&winters, &room, &bench->climate, 1990, 2100, NULL, &err) != TH_OK) {
        fprintf(stderr, "bench: %s\n", err.text);
        return false;
    }
    const bool all = winters.n_counted == WINTERS && th_winters_mean_gas_j(&winters) > 0.0;
    th_winters_finish(&winters);
    return all;
}

static bool ideal_winters(const struct bench *bench)
{
    return winters(bench, TH_IDEAL);
}

static bool cycling_winters(const struct bench *bench)
{
    return winters(bench, TH_ON_OFF);
}

static bool four_choices(const struct bench *bench)
{
    return winters(bench, TH_ON_OFF) && winters(bench, TH_LEAD_LAG) &&
           winters(bench, TH_TWO_STAGE) && winters(bench, TH_MODULATING);
}

/* Runs the command line in a process of its own, its output thrown away. */
static bool run_program(const char *program, const char *const *words)
{
    int status;
    const pid_t child = fork();
    if (child == 0) {
        if (freopen("/dev/null", "w", stdout) && freopen("/dev/null", "w", stderr))
            execv(program, (char *const *)words);
        _exit(127);
    }
    return child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status) &&
           WEXITSTATUS(status) == 0;
}

/* A whole command on the first `rooms` of the folder (0: on the one with six options). */
static bool run_command(const struct bench *bench, const char *command, int rooms, const char *jobs)
{
    char paths[ROOMS_MAX][600];
    const char *words[ROOMS_MAX + 12] = {"turnheat", command,     "--weather", bench->narrow,
                                         "--farm",   bench->farm, "--clock",   "standard",
                                         "--jobs",   jobs};
    int n = 10;
    for (int i = 0; i < (rooms ? rooms : 1); i++) {
        if (rooms)
            snprintf(paths[i], sizeof paths[i], "%s/%d.barn", bench->rooms, i + 1);
        else
            snprintf(paths[i], sizeof paths[i], "%s/options.barn", bench->rooms);
        words[n++] = paths[i];
    }
    return run_program(bench->program, words);
}

static bool help(const struct bench *bench)
{
    const char *const words[] = {"turnheat", "--help", NULL};
    return run_program(bench->program, words);
}

static bool check(const struct bench *bench)
{
    char barn[600];
    snprintf(barn, sizeof barn, "%s/1.barn", bench->rooms);
    const char *const words[] = {"turnheat", "check", barn, NULL};
    return run_program(bench->program, words);
}

static bool budget(const struct bench *bench)
{
    return run_command(bench, "budget", 1, "2");
}

/** A cost, the yardstick it is held against, and the most it should be of it. */
static const struct cost {
    const char *name;
    bool (*run)(const struct bench *bench);
    bool narrow; /**< against the loop over the narrow file, not the wide one */
    double figure;
} costs[] = {
    {"read and check, 71 columns", read_wide, false, 1.9},
    {"read and check, 5 columns", read_narrow, true, 2.8},
    {"30 winters, ideal heater", ideal_winters, false, 0.17},
    {"30 winters, cycling heaters", cycling_winters, false, 0.21},
    {"30 winters, four heater choices", four_choices, false, 0.95},
};

/** Whole commands on 30 winters of the narrow file, on one thread and on two: what is wanted of
 * each in bare loops over the wide file, and its figure. */
static const struct whole {
    const char *name, *command;
    int rooms; /**< see run_command() */
    double wanted, figure, wanted_of_two, figure_of_two;
} wholes[] = {
    {"budget, one room", "budget", 1, 2.0, 1.8, 1.4, 1.4},
    {"compare, five choices", "compare", 1, 10.0, 9.5, 6.0, 5.8},
    {"compare, eight rooms", "compare", 8, 72.0, 66.0, 40.0, 38.0},
    {"plan, eight rooms, four contracts", "plan", 8, 12.0, 11.0, 7.0, 6.6},
    {"quote, six options", "quote", 0, 3.0, 2.1, 2.0, 1.5},
    {"hours", "hours", 1, 4.0, 2.8, 0.0, 0.0}, /* one thread writes them */
};

/** The lesser time; the first, where `best` is negative for none yet. */
static double lesser(double best, double took)
{
    return best < 0.0 || took < best ? took : best;
}

/** Best processor time of RUNS runs; negative when one failed. */
static double best_of(bool (*run)(const struct bench *), const struct bench *bench)
{
    double best = -1.0;
    for (int i = 0; i < RUNS; i++) {
        const double start = processor_s();
        if (!run(bench))
            return -1.0;
        best = lesser(best, processor_s() - start);
    }
    return best;
}

/** Prints a row; false when the cost is over twice its figure or the run failed. */
static bool print_row(const char *name, double took, double ratio, double wanted, double figure)
{
    if (took < 0.0) {
        printf("%-42s could not be run\n", name);
        return false;
    }
    const char *verdict = ratio <= figure         ? ""
                          : ratio <= 2.0 * figure ? "over its figure"
                                                  : "MORE THAN TWICE ITS FIGURE";
    printf("%-42s %8.3f s %8.2f", name, took, ratio);
    if (wanted > 0.0)
        printf(" %8.1f", wanted);
    else
        printf("         ");
    printf(" %8.1f  %s\n", figure, verdict);
    return ratio <= 2.0 * figure;
}

static bool measure(const struct cost *cost, const struct bench *bench)
{
    const double took = best_of(cost->run, bench);
    return print_row(cost->name, took, took / (cost->narrow ? bench->narrow_s : bench->wide_s), 0.0,
                     cost->figure);
}

/* Processor time on one thread and the clock on two, the best of RUNS each; of eight rooms both of
 * one run on two threads. The yardstick is the least so far: on a shared machine it is at times
 * twice as long. */
static bool measure_whole(const struct whole *whole, struct bench *bench)
{
    const bool many = whole->rooms > 1;
    double one = -1.0, two = -1.0;
    for (int i = 0; i < (many ? 1 : 2 * RUNS); i++) {
        const bool both = many || i >= RUNS;
        const double processor = processor_s(), clock = clock_s();
        if (!run_command(bench, whole->command, whole->rooms, both ? "2" : "1"))
            return print_row(whole->name, -1.0, 0.0, 0.0, 0.0);
        if (many || !both)
            one = lesser(one, processor_s() - processor);
        if (both)
            two = lesser(two, clock_s() - clock);
    }
    bench->wide_s = lesser(bench->wide_s, best_of(loop_wide, bench));
    bool good = print_row(whole->name, one, one / bench->wide_s, whole->wanted, whole->figure);
    if (whole->wanted_of_two > 0.0)
        good &= print_row("  by the clock on two cores", two, two / bench->wide_s,
                          whole->wanted_of_two, whole->figure_of_two);
    return good;
}

static bool prepare(struct bench *bench, const char *folder)
{
    snprintf(bench->wide, sizeof bench->wide, "%s/wide.csv", folder);
    snprintf(bench->narrow, sizeof bench->narrow, "%s/narrow.csv", folder);
    bench->climate = sample_climate(1990, WINTERS);
    return bench->climate.hours && yardstick_write_wide(bench->wide) &&
           yardstick_write_narrow(bench->narrow, WINTERS);
}

/* Figures without a limit: what a person waits for, and memory. */
static void print_times(const struct bench *bench)
{
    static const struct {
        const char *name;
        bool (*run)(const struct bench *bench);
    } waits[] = {{"--help", help}, {"check", check}, {"budget, 30 winters", budget}};
    struct rusage own, children;
    for (size_t i = 0; i < sizeof waits / sizeof *waits; i++) {
        const double start = clock_s();
        const bool good = waits[i].run(bench);
        printf("turnheat %-25s %8.3f s by the clock%s\n", waits[i].name, clock_s() - start,
               good ? "" : ", but it failed");
    }
    getrusage(RUSAGE_SELF, &own);
    getrusage(RUSAGE_CHILDREN, &children);
    printf("peak memory: library %.0f MB, turnheat %.0f MB\n", (double)own.ru_maxrss / 1024.0,
           (double)children.ru_maxrss / 1024.0);
}

static bool measure_all(struct bench *bench)
{
    bool good = true;
    bench->wide_s = best_of(loop_wide, bench);
    bench->narrow_s = best_of(loop_narrow, bench);
    if (bench->wide_s <= 0.0 || bench->narrow_s <= 0.0)
        return false;
    printf("%-42s %10s %8s %8s %8s\n", "cost", "time", "ratio", "wanted", "figure");
    printf("%-42s %8.3f s %8.2f\n", "bare loop, 262,800 rows of 71", bench->wide_s, 1.0);
    printf("%-42s %8.3f s %8.2f\n", "bare loop, 262,968 rows of 5", bench->narrow_s, 1.0);
    for (size_t i = 0; i < sizeof costs / sizeof *costs; i++)
        good &= measure(&costs[i], bench);
    for (size_t i = 0; i < sizeof wholes / sizeof *wholes; i++)
        good &= measure_whole(&wholes[i], bench);
    print_times(bench);
    return good;
}

int main(int argc, char **argv)
{
    if (argc != 4) {
        fputs("usage: bench PROGRAM FARM ROOMS\n", stderr);
        return EXIT_FAILURE;
    }
    th_init();
#ifdef __GLIBC__
    mallopt(M_MMAP_THRESHOLD, 32 << 20); /* as the program does */
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
#endif
    setvbuf(stdout, NULL, _IOLBF, 0); /* so that no child inherits unwritten lines */
    char folder[] = "bench-XXXXXX";
    struct bench bench = {.program = argv[1], .farm = argv[2], .rooms = argv[3]};
    bool good = false;
    if (mkdtemp(folder) && prepare(&bench, folder))
        good = measure_all(&bench);
    else
        perror("bench");
    remove(bench.wide);
    remove(bench.narrow);
    rmdir(folder);
    th_climate_finish(&bench.climate);
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}

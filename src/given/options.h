/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The command line as tables: what a command takes, and what was given.
 *
 * A command is one file cmd_NAME.c that defines a `const struct th_command th_cmd_NAME` and is
 * listed in commands.c; help, man page and completion follow from these tables.
 */
#ifndef TURNHEAT_OPTIONS_H
#define TURNHEAT_OPTIONS_H

#include "files.h"
#include "issues.h"
#include "turnheat/error.h"
#include <stdbool.h>
#include <stddef.h>

/** Groups of common options, combined into th_command.takes. */
enum th_takes {
    TH_TAKES_WEATHER = 1, /**< --weather --form --units --clock --station --utc-offset */
    TH_TAKES_YEARS = 2,   /**< --years */
    TH_TAKES_FARM = 4,    /**< --farm */
    TH_TAKES_SET = 8,     /**< --set */
    TH_TAKES_DATA = 16,   /**< --json --csv */
    TH_TAKES_HTML = 32,   /**< --html */
    TH_TAKES_REPORT = TH_TAKES_DATA | TH_TAKES_HTML,
    TH_TAKES_JOBS = 128, /**< --jobs */
    TH_TAKES_BARN =
        TH_TAKES_WEATHER | TH_TAKES_YEARS | TH_TAKES_FARM | TH_TAKES_SET | TH_TAKES_JOBS,
    TH_TAKES_HELP = 64,   /**< --help, which every command takes */
    TH_TAKES_LINES = 256, /**< --json-lines --barns */
    TH_LISTS_FARMS = 512  /**< a line of --barns is FARM BARN... in place of one barn */
};

struct th_option {
    const char *name;  /**< without the dashes */
    const char *value; /**< what follows it, such as "FILE"; NULL for a switch */
    const char *help;  /**< one sentence without full stop */
    bool repeatable;
    int group;    /**< one of enum th_takes for common options; 0 for a command's own */
    bool operand; /**< its value is one more operand, behind the others */
};

struct th_arguments;

struct th_command {
    const char *name;
    const char *operands; /**< as shown in the usage line, "BARN..."; "" for none */
    int operands_min, operands_max;
    const char *summary;             /**< one line for the list of commands, without full stop */
    const char *about;               /**< a paragraph for its help */
    const char *example;             /**< a command line that works on the samples */
    int takes;                       /**< of enum th_takes */
    const struct th_option *options; /**< its own */
    size_t n_options;
    /** Does the work. What it returns becomes the exit status; a text left in `err` is printed. */
    enum th_code (*run)(const struct th_arguments *arguments, struct th_error *err);
};

struct th_given {
    const struct th_option *option;
    const char *value; /**< NULL for a switch */
};

/** What was given, and what goes with the run. Strings belong to argv. */
struct th_arguments {
    const struct th_command *command;
    struct th_given *given;
    size_t n_given;
    const char **operands;
    size_t n_operands;
    struct th_files *files;   /**< what the run has read, and therefore does not write over */
    struct th_issues *issues; /**< owned: what is to be said of each operand, then of all of them;
                                 printed when the command has ended */
};

/** The list of what is to be said of all operands. */
struct th_issues *th_shared_issues(const struct th_arguments *arguments);

/** Largest number of operands where there is no limit. */
#define TH_ANY_NUMBER 1000000

/** The common options, in the order they are shown. */
extern const struct th_option th_common_options[];
extern const size_t th_n_common_options;

/**
 * Reads what follows the command's name: `--name value`, `--name=value`, `--` before operands that
 * begin with a dash. With --help among them nothing else is checked. TH_ERR_USAGE with a hint at
 * the nearest known option; TH_ERR_MEMORY. Finish with th_arguments_finish() either way.
 */
enum th_code th_arguments_read(struct th_arguments *arguments, const struct th_command *command,
                               int argc, char **argv, struct th_error *err);

/**
 * The same options for operands of their own, and for a farm file of their own unless `farm` is
 * NULL. Strings are borrowed. TH_ERR_MEMORY. Finish with th_arguments_finish() either way.
 */
enum th_code th_arguments_of(struct th_arguments *own, const struct th_arguments *all,
                             const char *const *operands, size_t n, const char *farm,
                             struct th_error *err);

/** TH_ERR_USAGE: the command needs its operands. */
enum th_code th_operands_missing(const struct th_command *command, struct th_error *err);

/** Frees what th_arguments_read() took. */
void th_arguments_finish(struct th_arguments *arguments);

/** How often the option was given. */
size_t th_given_count(const struct th_arguments *arguments, const char *name);

/** Its value the `index`-th time it was given, or NULL. */
const char *th_given_nth(const struct th_arguments *arguments, const char *name, size_t index);

/** Its value, or NULL. */
const char *th_given_text(const struct th_arguments *arguments, const char *name);

/** Reads a number in lowest…highest into `number`, which stays as it is when the option was not
 * given. TH_ERR_USAGE. */
enum th_code th_given_number(const struct th_arguments *arguments, const char *name, double lowest,
                             double highest, double *number, struct th_error *err);

/** Seeds go up to this, as the generators take them. */
#define TH_SEED_MOST 4294967295LL

/** The same for a whole number. */
enum th_code th_given_whole(const struct th_arguments *arguments, const char *name,
                            long long lowest, long long highest, long long *number,
                            struct th_error *err);

/** Reads --years A-B or A into `first` and `last`, which stay as they are without it.
 * TH_ERR_USAGE. */
enum th_code th_given_years(const struct th_arguments *arguments, int *first, int *last,
                            struct th_error *err);

#endif

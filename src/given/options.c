/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "options.h"

#include "turnheat/nearest.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct th_option th_common_options[] = {
    {"weather", "FILE",
     "an hourly weather file, in place of those the barn file names; repeat it for more files",
     true, TH_TAKES_WEATHER, false},
    {"form", "NAME", "the form of the weather files, when it is not recognised", false,
     TH_TAKES_WEATHER, false},
    {"units", "us|si", "the units of the weather files, when they are not recognised", false,
     TH_TAKES_WEATHER, false},
    {"clock", "utc|standard|daylight", "what the times in the weather files mean", false,
     TH_TAKES_WEATHER, false},
    {"station", "ID", "the station to take from a file that holds several", false, TH_TAKES_WEATHER,
     false},
    {"utc-offset", "HOURS", "local standard time minus UTC, such as -6 for US Central", false,
     TH_TAKES_WEATHER, false},
    {"years", "A-B", "only the seasons that start in these years, such as 2017-2019", false,
     TH_TAKES_YEARS, false},
    {"farm", "FILE", "the farm file: tanks, contracts, prices, other gas users", false,
     TH_TAKES_FARM, false},
    {"set", "SECTION.KEY=VALUE",
     "use this value in place of the barn file's, such as \"surface ceiling.R=40\"", true,
     TH_TAKES_SET, false},
    {"jobs", "N", "seasons to run at once, without it as many as there are processors", false,
     TH_TAKES_JOBS, false},
    {"json", NULL, "print the report as one JSON object", false, TH_TAKES_DATA, false},
    {"csv", NULL, "print the report as comma-separated tables", false, TH_TAKES_DATA, false},
    {"json-lines", NULL, "print a JSON object a line for each barn, with its errors if it has any",
     false, TH_TAKES_LINES, false},
    {"barns", "LIST",
     "with --json-lines the barn files named in this file, one a line; - is standard input", false,
     TH_TAKES_LINES, false},
    {"csv-dir", "FOLDER", "write each table of the report as a CSV file there as well", false,
     TH_TAKES_REPORT, false},
    {"html", "FILE", "write the report with its figures as a web page as well", false,
     TH_TAKES_HTML, false},
    {"help", NULL, "explain the command and show an example", false, TH_TAKES_HELP, false},
};
const size_t th_n_common_options = sizeof th_common_options / sizeof th_common_options[0];

#define NAMES_MAX 64

/* The options the command takes: its own, then the common ones. Returns how many. */
static size_t options_of(const struct th_command *command,
                         const struct th_option *options[NAMES_MAX])
{
    size_t n = 0;
    for (size_t i = 0; i < command->n_options && n < NAMES_MAX; i++)
        options[n++] = &command->options[i];
    for (size_t i = 0; i < th_n_common_options && n < NAMES_MAX; i++)
        if (th_common_options[i].group & (command->takes | TH_TAKES_HELP))
            options[n++] = &th_common_options[i];
    return n;
}

static enum th_code unknown_option(const struct th_command *command, const char *name,
                                   struct th_error *err)
{
    const struct th_option *options[NAMES_MAX];
    const char *names[NAMES_MAX];
    const size_t n = options_of(command, options);
    for (size_t i = 0; i < n; i++)
        names[i] = options[i]->name;
    const char *nearest = th_nearest(name, names, n);
    if (nearest)
        return th_fail(err, TH_ERR_USAGE, "%s has no option --%.60s; did you mean --%s?",
                       command->name, name, nearest);
    return th_fail(err, TH_ERR_USAGE, "%s has no option --%.60s", command->name, name);
}

static const struct th_option *find_option(const struct th_command *command, const char *name,
                                           size_t length)
{
    const struct th_option *options[NAMES_MAX];
    const size_t n = options_of(command, options);
    for (size_t i = 0; i < n; i++)
        if (strlen(options[i]->name) == length && strncmp(options[i]->name, name, length) == 0)
            return options[i];
    return NULL;
}

/* Takes `--name`, `--name=value` or `--name` and the argument after it; counts those into
 * `used`. */
static enum th_code read_option(struct th_arguments *a, const char *argument, const char *after,
                                int *used, struct th_error *err)
{
    const char *name = argument + 2;
    const size_t length = strcspn(name, "=");
    const struct th_option *option = find_option(a->command, name, length);
    const char *value = name[length] == '=' ? name + length + 1 : NULL;
    *used = 1;
    if (!option) {
        char asked[64];
        snprintf(asked, sizeof asked, "%.*s", (int)(length < 60 ? length : 60), name);
        return unknown_option(a->command, asked, err);
    }
    if (!option->value && value)
        return th_fail(err, TH_ERR_USAGE, "--%s takes no value", option->name);
    if (!option->repeatable && th_given_count(a, option->name))
        return th_fail(err, TH_ERR_USAGE, "--%s is given twice", option->name);
    if (option->value && !value) {
        value = after;
        *used = 2;
    }
    if (option->value && (!value || !*value))
        return th_fail(err, TH_ERR_USAGE, "--%s needs a value: --%s %s", option->name, option->name,
                       option->value);
    a->given[a->n_given++] = (struct th_given){option, value};
    return TH_OK;
}

static enum th_code read_all(struct th_arguments *a, int argc, char **argv, struct th_error *err)
{
    bool only_operands = false;
    for (int i = 0, used = 1; i < argc; i += used) {
        used = 1;
        if (only_operands || argv[i][0] != '-' || argv[i][1] == '\0') {
            a->operands[a->n_operands++] = argv[i];
        } else if (strcmp(argv[i], "--") == 0) {
            only_operands = true;
        } else if (argv[i][1] != '-') {
            return th_fail(err, TH_ERR_USAGE,
                           "\"%.60s\" is not known; options begin with two dashes", argv[i]);
        } else {
            const enum th_code code =
                read_option(a, argv[i], i + 1 < argc ? argv[i + 1] : NULL, &used, err);
            if (code)
                return code;
        }
    }
    return TH_OK;
}

enum th_code th_operands_missing(const struct th_command *command, struct th_error *err)
{
    return th_fail(err, TH_ERR_USAGE, "%s needs %s, as in: %s", command->name, command->operands,
                   command->example);
}

static enum th_code check(const struct th_arguments *a, struct th_error *err)
{
    const struct th_command *command = a->command;
    if (a->n_operands < (size_t)command->operands_min && !th_given_count(a, "barns"))
        return th_operands_missing(command, err);
    if (a->n_operands > (size_t)command->operands_max)
        return th_fail(err, TH_ERR_USAGE, "%s does not take \"%.60s\"", command->name,
                       a->operands[command->operands_max]);
    if (th_given_count(a, "json") && th_given_count(a, "csv"))
        return th_fail(err, TH_ERR_USAGE, "--json and --csv exclude each other");
    if (th_given_count(a, "barns") && !th_given_count(a, "json-lines"))
        return th_fail(err, TH_ERR_USAGE, "--barns goes with --json-lines");
    return TH_OK;
}

/* Values of options that are operands too. */
static void take_operands(struct th_arguments *a)
{
    for (size_t i = 0; i < a->n_given; i++)
        if (a->given[i].option && a->given[i].option->operand)
            a->operands[a->n_operands++] = a->given[i].value;
}

static bool asks_help(int argc, char **argv)
{
    for (int i = 0; i < argc && strcmp(argv[i], "--") != 0; i++)
        if (strcmp(argv[i], "--help") == 0)
            return true;
    return false;
}

enum th_code th_arguments_read(struct th_arguments *arguments, const struct th_command *command,
                               int argc, char **argv, struct th_error *err)
{
    *arguments = (struct th_arguments){.command = command};
    const size_t room = (size_t)argc + 1;
    arguments->given = calloc(room, sizeof *arguments->given);
    arguments->operands = calloc(room, sizeof *arguments->operands);
    arguments->issues = calloc(room, sizeof *arguments->issues);
    if (!arguments->given || !arguments->operands || !arguments->issues)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (asks_help(argc, argv)) {
        const struct th_option *help = find_option(command, "help", strlen("help"));
        arguments->given[arguments->n_given++] = (struct th_given){help, NULL};
        return TH_OK;
    }
    enum th_code code = read_all(arguments, argc, argv, err);
    if (code == TH_OK)
        code = check(arguments, err);
    if (code == TH_OK)
        take_operands(arguments);
    return code;
}

enum th_code th_arguments_of(struct th_arguments *own, const struct th_arguments *all,
                             const char *const *operands, size_t n, const char *farm,
                             struct th_error *err)
{
    *own = (struct th_arguments){.command = all->command, .files = all->files};
    own->given = calloc(all->n_given + 1, sizeof *own->given);
    own->operands = calloc(n + 1, sizeof *own->operands);
    own->issues = calloc(n + 1, sizeof *own->issues);
    if (!own->given || !own->operands || !own->issues)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (; own->n_given < all->n_given; own->n_given++)
        own->given[own->n_given] = all->given[own->n_given];
    if (farm)
        own->given[own->n_given++] =
            (struct th_given){find_option(all->command, "farm", strlen("farm")), farm};
    for (; own->n_operands < n; own->n_operands++)
        own->operands[own->n_operands] = operands[own->n_operands];
    return TH_OK;
}

struct th_issues *th_shared_issues(const struct th_arguments *arguments)
{
    return &arguments->issues[arguments->n_operands];
}

void th_arguments_finish(struct th_arguments *arguments)
{
    free(arguments->given);
    for (size_t i = 0; arguments->issues && i <= arguments->n_operands; i++)
        th_issues_finish(&arguments->issues[i]);
    free(arguments->issues);
    free(arguments->operands);
    *arguments = (struct th_arguments){0};
}

static bool is_named(const struct th_given *given, const char *name)
{
    return given->option && strcmp(given->option->name, name) == 0;
}

size_t th_given_count(const struct th_arguments *arguments, const char *name)
{
    size_t n = 0;
    for (size_t i = 0; i < arguments->n_given; i++)
        n += is_named(&arguments->given[i], name);
    return n;
}

const char *th_given_nth(const struct th_arguments *arguments, const char *name, size_t index)
{
    for (size_t i = 0; i < arguments->n_given; i++)
        if (is_named(&arguments->given[i], name) && index-- == 0)
            return arguments->given[i].value;
    return NULL;
}

const char *th_given_text(const struct th_arguments *arguments, const char *name)
{
    return th_given_nth(arguments, name, 0);
}

enum th_code th_given_number(const struct th_arguments *arguments, const char *name, double lowest,
                             double highest, double *number, struct th_error *err)
{
    const char *text = th_given_text(arguments, name);
    if (!text)
        return TH_OK;
    char *end;
    const double value = strtod(text, &end);
    if (end == text || *end != '\0' || !isfinite(value) || value < lowest || value > highest)
        return th_fail(err, TH_ERR_USAGE, "--%s \"%.60s\" should be a number from %.10g to %.10g",
                       name, text, lowest, highest);
    *number = value;
    return TH_OK;
}

enum th_code th_given_whole(const struct th_arguments *arguments, const char *name,
                            long long lowest, long long highest, long long *number,
                            struct th_error *err)
{
    double value = (double)*number;
    const enum th_code code =
        th_given_number(arguments, name, (double)lowest, (double)highest, &value, err);
    if (code)
        return code;
    if (value != floor(value))
        return th_fail(err, TH_ERR_USAGE, "--%s \"%.60s\" should be a whole number", name,
                       th_given_text(arguments, name));
    *number = (long long)value;
    return TH_OK;
}

/* A year of four digits at `text`; -1 otherwise. */
static int year_at(const char *text)
{
    return strspn(text, "0123456789") == 4 ? (int)strtol(text, NULL, 10) : -1;
}

enum th_code th_given_years(const struct th_arguments *arguments, int *first, int *last,
                            struct th_error *err)
{
    const char *text = th_given_text(arguments, "years");
    if (!text)
        return TH_OK;
    const int a = year_at(text);
    const char *rest = a < 0 ? "?" : text + 4;
    const int b = *rest == '-' ? year_at(rest + 1) : a;
    const bool ends = *rest == '\0' || (*rest == '-' && b >= 0 && rest[5] == '\0');
    if (a < 0 || !ends || b < a)
        return th_fail(err, TH_ERR_USAGE,
                       "--years \"%.60s\" should be a year or two, such as 2017-2019", text);
    *first = a;
    *last = b;
    return TH_OK;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "help.h"

#include "text_wrap.h"
#include "told.h"
#include "turnheat/version.h"
#include <string.h>

#define NAME_WIDTH 28

/* A name and what it means, the meaning wrapped in its own column. */
static void print_entry(FILE *out, const char *name, int name_width, const char *meaning)
{
    fprintf(out, "  %-*s", name_width, name);
    if ((int)strlen(name) > name_width - 1)
        fprintf(out, "\n  %*s", name_width, "");
    th_wrap(out, meaning, 2 + name_width, TH_TEXT_WIDTH - 2 - name_width);
}

static void print_option(FILE *out, const struct th_option *option)
{
    char name[96];
    snprintf(name, sizeof name, option->value ? "--%s %s" : "--%s", option->name, option->value);
    print_entry(out, name, NAME_WIDTH, option->help);
}

static void print_common(FILE *out, int takes)
{
    for (size_t i = 0; i < th_n_common_options; i++)
        if (th_common_options[i].group & (takes | TH_TAKES_HELP))
            print_option(out, &th_common_options[i]);
}

void th_help_program(FILE *out, const struct th_command *const *commands)
{
    fprintf(out, "turnheat %s: " TH_PURPOSE "\n\n", th_version());
    fputs("Usage: turnheat COMMAND [OPTION...] [FILE...]\n\nCommands:\n", out);
    for (; *commands; commands++)
        print_entry(out, (*commands)->name, 12, (*commands)->summary);
    fputs("\nOptions common to most commands:\n", out);
    print_common(out, ~0);
    print_option(out, &(struct th_option){"version", NULL, "print the version", false, 0, false});
    fputs("\nExit status:\n", out);
    for (size_t i = 0; i < th_n_exits; i++)
        fprintf(out, "  %d  %s\n", th_exits[i].status, th_exits[i].meaning);
    fputs("\nturnheat COMMAND --help explains a command and shows an example.\n", out);
}

void th_help_command(FILE *out, const struct th_command *command)
{
    fprintf(out, "turnheat %s: %s\n\n", command->name, command->summary);
    fprintf(out, "Usage: turnheat %s [OPTION...]%s%s\n\n", command->name,
            *command->operands ? " " : "", command->operands);
    th_wrap(out, command->about, 0, TH_TEXT_WIDTH);
    fputs("\nOptions:\n", out);
    for (size_t i = 0; i < command->n_options; i++)
        print_option(out, &command->options[i]);
    print_common(out, command->takes);
    fprintf(out, "\nExample:\n  %s\n", command->example);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes the man page and the bash completion from the tables of commands and options while the
 * program is built: `describe man TEMPLATE` and `describe completion`. Not installed. */
#include "commands.h"
#include "help.h"
#include "told.h"
#include "turnheat/version.h"
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* A text for mdoc: each sentence on a line of its own, no line taken for a macro, no escapes. */
static void mdoc_text(const char *text)
{
    bool starts_line = true;
    for (; *text; text++) {
        if (starts_line && (*text == '.' || *text == '\''))
            fputs("\\&", stdout);
        const bool ends_sentence =
            text[0] == '.' && text[1] == ' ' && isupper((unsigned char)text[2]);
        fputs(*text == '\\' ? "\\e" : (char[]){*text, '\0'}, stdout);
        if (ends_sentence) {
            putchar('\n');
            text++;
        }
        starts_line = ends_sentence;
    }
    putchar('\n');
}

static void mdoc_option(const struct th_option *option)
{
    printf(".It Fl -%s", option->name);
    if (option->value)
        printf(" Ar %s", option->value);
    putchar('\n');
    mdoc_text(option->help);
}

static bool takes(const struct th_command *command, const struct th_option *common)
{
    return common->group & (command->takes | TH_TAKES_HELP);
}

/* A command's own options in full, the common ones by name. */
static void mdoc_options(const struct th_command *command)
{
    if (command->n_options)
        puts(".Bl -tag -width Ds");
    for (size_t i = 0; i < command->n_options; i++)
        mdoc_option(&command->options[i]);
    puts(command->n_options ? ".El\n.Pp\nIt also takes" : ".Pp\nIt takes");
    for (size_t i = 0; i < th_n_common_options; i++)
        if (takes(command, &th_common_options[i]))
            printf(".Fl -%s%s\n", th_common_options[i].name,
                   i + 1 < th_n_common_options ? " ," : " .");
}

static void mdoc_command(const struct th_command *command)
{
    printf(".Ss turnheat %s %s\n", command->name, command->operands);
    mdoc_text(command->about);
    mdoc_options(command);
    puts(".Pp\nExample:\n.Pp");
    fputs(".Dl ", stdout);
    mdoc_text(command->example);
}

static void mdoc_summaries(void)
{
    for (const struct th_command *const *c = th_commands; *c; c++) {
        printf(".It Cm %s\n", (*c)->name);
        mdoc_text((*c)->summary);
    }
}

static void mdoc_commands(void)
{
    for (const struct th_command *const *c = th_commands; *c; c++)
        mdoc_command(*c);
}

static void mdoc_common(void)
{
    for (size_t i = 0; i < th_n_common_options; i++)
        mdoc_option(&th_common_options[i]);
}

static void mdoc_exits(void)
{
    for (size_t i = 0; i < th_n_exits; i++) {
        printf(".It %d\n", th_exits[i].status);
        mdoc_text(th_exits[i].meaning);
    }
}

static void mdoc_version(void)
{
    printf(".Os turnheat %s\n", th_version());
}

/* Lines of the template that stand for a table. */
static const struct {
    const char *line;
    void (*write)(void);
} tables[] = {
    {"@SUMMARIES@\n", mdoc_summaries}, {"@COMMANDS@\n", mdoc_commands}, {"@COMMON@\n", mdoc_common},
    {"@EXITS@\n", mdoc_exits},         {"@VERSION@\n", mdoc_version},
};

static void write_line(const char *line)
{
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        if (strcmp(line, tables[i].line) == 0) {
            tables[i].write();
            return;
        }
    }
    fputs(line, stdout);
}

static int write_man(const char *template_path)
{
    FILE *template = fopen(template_path, "r");
    if (!template) {
        perror(template_path);
        return 1;
    }
    char *line = NULL;
    size_t size = 0;
    while (getline(&line, &size, template) > 0)
        write_line(line);
    free(line);
    fclose(template);
    return 0;
}

static void bash_options(const struct th_command *command)
{
    printf("    %s) options='", command->name);
    for (size_t i = 0; i < command->n_options; i++)
        printf("--%s ", command->options[i].name);
    for (size_t i = 0; i < th_n_common_options; i++)
        if (takes(command, &th_common_options[i]))
            printf("--%s ", th_common_options[i].name);
    puts("' ;;");
}

/* After an option with a value: files for FILE, the words of a|b, nothing otherwise. */
static void bash_values(const struct th_option *options, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const char *value = options[i].value;
        if (!value)
            continue;
        printf("    --%s) ", options[i].name);
        if (strcmp(value, "FILE") == 0) {
            fputs("_turnheat_offer -f; ", stdout);
        } else if (strchr(value, '|')) {
            fputs("_turnheat_offer -W '", stdout);
            for (; *value; value++)
                putchar(*value == '|' ? ' ' : *value);
            fputs("'; ", stdout);
        }
        puts("return ;;");
    }
}

static int write_completion(void)
{
    puts("# SPDX-License-Identifier: GPL-3.0-or-later\n"
         "# bash completion for turnheat; made from the program's own tables.\n"
         "_turnheat_offer() {\n"
         "    mapfile -t COMPREPLY < <(compgen \"$@\" -- \"$word\")\n"
         "}\n"
         "_turnheat() {\n"
         "    local word=${COMP_WORDS[COMP_CWORD]} options=''\n"
         "    COMPREPLY=()\n"
         "    if ((COMP_CWORD == 1)); then");
    fputs("        _turnheat_offer -W '", stdout);
    for (const struct th_command *const *c = th_commands; *c; c++)
        printf("%s ", (*c)->name);
    puts("--help --version'\n        return\n    fi\n    case ${COMP_WORDS[COMP_CWORD - 1]} in");
    bash_values(th_common_options, th_n_common_options);
    for (const struct th_command *const *c = th_commands; *c; c++)
        bash_values((*c)->options, (*c)->n_options);
    puts("    esac\n    case ${COMP_WORDS[1]} in");
    for (const struct th_command *const *c = th_commands; *c; c++)
        bash_options(*c);
    puts("    esac\n"
         "    if [[ $word == -* ]]; then\n"
         "        _turnheat_offer -W \"$options\"\n"
         "    else\n"
         "        _turnheat_offer -f\n"
         "    fi\n"
         "}\n"
         "complete -o filenames -F _turnheat turnheat");
    return 0;
}

int main(int argc, char **argv)
{
    int status = 2;
    if (argc == 3 && strcmp(argv[1], "man") == 0)
        status = write_man(argv[2]);
    else if (argc == 2 && strcmp(argv[1], "completion") == 0)
        status = write_completion();
    else
        fputs("usage: describe man TEMPLATE | describe completion\n", stderr);
    return fflush(stdout) != 0 || ferror(stdout) ? 1 : status;
}

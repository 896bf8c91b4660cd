/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure.h"

#include "figure_script.h"
#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

void xml_write(FILE *out, const char *text)
{
    for (; *text; text++) {
        switch (*text) {
        case '&':
            fputs("&amp;", out);
            break;
        case '<':
            fputs("&lt;", out);
            break;
        case '>':
            fputs("&gt;", out);
            break;
        case '"':
            fputs("&quot;", out);
            break;
        case '\'':
            fputs("&#39;", out);
            break;
        default:
            fputc(*text, out);
        }
    }
}

static bool wait_for(pid_t child)
{
    int status;
    while (waitpid(child, &status, 0) < 0)
        if (errno != EINTR)
            return false;
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

/* Starts gnuplot without a shell and without anybody's start-up files. */
static bool spawn(posix_spawn_file_actions_t *actions)
{
    static char name[] = "gnuplot", no_start_files[] = "-d", locale[] = "LC_ALL=C";
    char *const arguments[] = {name, no_start_files, NULL};
    char *const environment[] = {locale, NULL};
    pid_t child;
    return posix_spawnp(&child, name, actions, NULL, arguments, environment) == 0 &&
           wait_for(child);
}

/* Runs gnuplot from one nameless temporary file into another, so nothing is left behind. */
static bool run_gnuplot(FILE *script, FILE *drawing)
{
    if (fflush(script) != 0 || fseek(script, 0, SEEK_SET) != 0)
        return false;
    posix_spawn_file_actions_t actions;
    if (posix_spawn_file_actions_init(&actions) != 0)
        return false;
    const bool ready =
        posix_spawn_file_actions_adddup2(&actions, fileno(script), STDIN_FILENO) == 0 &&
        posix_spawn_file_actions_adddup2(&actions, fileno(drawing), STDOUT_FILENO) == 0 &&
        posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0) == 0;
    const bool done = ready && spawn(&actions);
    posix_spawn_file_actions_destroy(&actions);
    return done && fseek(drawing, 0, SEEK_SET) == 0;
}

static bool starts(const char *line, const char *with)
{
    return strncmp(line, with, strlen(with)) == 0;
}

#define CANVAS "<g id=\"gnuplot_canvas\">"

/*
 * Copies gnuplot's drawing without its head, its definitions of marks (which no figure uses) and
 * its names: the same names in two figures would clash on one page.
 */
static void copy_drawing(FILE *out, FILE *drawing)
{
    char *line = NULL;
    size_t size = 0;
    bool inside = false, defining = false;
    while (getline(&line, &size, drawing) > 0) {
        if (starts(line, "<defs>"))
            defining = true;
        if (starts(line, CANVAS)) {
            inside = true;
            fputs("<g>\n", out);
        } else if (starts(line, "\t<g id=\"gnuplot_plot_")) {
            fputs("<g>\n", out);
        } else if (inside && !defining) {
            fputs(line, out);
        }
        if (starts(line, "</defs>"))
            defining = false;
    }
    free(line);
}

static bool is_complete(FILE *drawing)
{
    char *line = NULL;
    size_t size = 0;
    bool begun = false, ended = false;
    while (getline(&line, &size, drawing) > 0) {
        begun = begun || starts(line, CANVAS);
        ended = ended || starts(line, "</svg>");
    }
    free(line);
    return begun && ended && fseek(drawing, 0, SEEK_SET) == 0;
}

static void write_element(FILE *out, const struct th_figure *figure, int number, FILE *drawing)
{
    fprintf(out,
            "<svg viewBox=\"0 0 %d %d\" role=\"img\" aria-labelledby=\"figure-%d-title "
            "figure-%d-text\">\n<title id=\"figure-%d-title\">",
            FIGURE_WIDTH, FIGURE_HEIGHT, number, number, number);
    xml_write(out, figure->caption ? figure->caption : "");
    fprintf(out, "</title>\n<desc id=\"figure-%d-text\">", number);
    xml_write(out, figure->alternative ? figure->alternative : "");
    fputs("</desc>\n", out);
    copy_drawing(out, drawing);
}

bool figure_write_svg(FILE *out, const struct block *figure, int number)
{
    FILE *script = tmpfile();
    FILE *drawing = tmpfile();
    bool drawn = script && drawing && figure->grid.n_rows > 0 && figure->grid.n > 1;
    if (drawn) {
        figure_write_script(script, &figure->grid);
        drawn = run_gnuplot(script, drawing) && is_complete(drawing);
    }
    if (drawn)
        write_element(out, &figure->grid.figure, number, drawing);
    if (script)
        fclose(script);
    if (drawing)
        fclose(drawing);
    return drawn;
}

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
    return done;
}

/* All of a file as one string, to be freed; NULL when it cannot be had. */
static char *read_all(FILE *file)
{
    if (fseek(file, 0, SEEK_END) != 0)
        return NULL;
    const long size = ftell(file);
    char *text = size > 0 && fseek(file, 0, SEEK_SET) == 0 ? malloc((size_t)size + 1) : NULL;
    if (!text)
        return NULL;
    const size_t got = fread(text, 1, (size_t)size, file);
    text[got] = '\0';
    return text;
}

static bool starts(const char *line, const char *with)
{
    return strncmp(line, with, strlen(with)) == 0;
}

#define CANVAS "\n<g id=\"gnuplot_canvas\">\n"
#define END "\n</svg>"

static bool is_complete(const char *drawing)
{
    const char *canvas = drawing ? strstr(drawing, CANVAS) : NULL;
    return canvas && strstr(canvas, END);
}

/*
 * Copies gnuplot's drawing without its head, its definitions of marks (which no figure uses) and
 * its names: the same names in two figures would clash on one page.
 */
static void copy_drawing(FILE *out, const char *drawing)
{
    const char *line = strstr(drawing, CANVAS) + strlen(CANVAS);
    bool defining = false;
    fputs("<g>\n", out);
    while (*line) {
        const size_t length = strcspn(line, "\n") + 1;
        defining = defining || starts(line, "<defs>");
        if (starts(line, "\t<g id=\"gnuplot_plot_"))
            fputs("<g>\n", out);
        else if (!defining)
            fprintf(out, "%.*s\n", (int)length - 1, line);
        defining = defining && !starts(line, "</defs>");
        line += line[length - 1] ? length : length - 1;
    }
}

static void write_element(FILE *out, const struct th_figure *figure, int number,
                          const char *drawing)
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

/* The drawing of the figure, to be freed; NULL when gnuplot is missing or fails. */
static char *draw(const struct grid *grid)
{
    FILE *script = tmpfile();
    FILE *file = tmpfile();
    char *drawing = NULL;
    if (script && file) {
        figure_write_script(script, grid);
        drawing = run_gnuplot(script, file) ? read_all(file) : NULL;
    }
    if (script)
        fclose(script);
    if (file)
        fclose(file);
    return drawing;
}

bool figure_write_svg(FILE *out, const struct block *figure, int number)
{
    if (figure->grid.n_rows == 0 || figure->grid.n < 2)
        return false;
    char *drawing = draw(&figure->grid);
    const bool complete = is_complete(drawing);
    if (complete)
        write_element(out, &figure->grid.figure, number, drawing);
    free(drawing);
    return complete;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure_script.h"

#include "display.h"
#include <string.h>

#define DAY_S 86400.0
#define HOUR_S 3600.0

/* Labels along x that take more letters than this in all are set aslant. */
#define LEVEL_LABELS_MAX 56

/* Told apart without colour sight as well: lines also differ in their dashes. */
static const char *const colours[] = {"#1f4e79", "#c2571a", "#3b8c84", "#7a4988",
                                      "#a8861c", "#5f6b73", "#4f7f2d", "#a32a46"};
#define N_COLOURS (int)(sizeof colours / sizeof colours[0])

static const char *colour(int series)
{
    return colours[(series - 1) % N_COLOURS];
}

/* In single quotes gnuplot knows no escapes and replaces nothing; a quote is doubled. */
static void quoted(FILE *out, const char *text)
{
    fputc('\'', out);
    for (; *text; text++) {
        if (*text == '\'')
            fputc('\'', out);
        fputc(*text, out);
    }
    fputc('\'', out);
}

/* A label along x passes through gnuplot's number format, where a percent sign is doubled. */
static void quoted_label(FILE *out, const char *text)
{
    char doubled[2 * TH_SHOWN_MAX];
    size_t n = 0;
    for (; *text && n + 2 < sizeof doubled; text++) {
        doubled[n++] = *text;
        if (*text == '%')
            doubled[n++] = '%';
    }
    doubled[n] = '\0';
    quoted(out, doubled);
}

static bool is_bars(enum th_chart chart)
{
    return chart == TH_BARS || chart == TH_STACKED_BARS;
}

static bool is_stacked(enum th_chart chart)
{
    return chart == TH_STACKED_AREAS || chart == TH_STACKED_BARS;
}

static void number(FILE *script, struct th_value value)
{
    if (value.kind == TH_VALUE_NUMBER)
        fprintf(script, " %.9g", value.number);
    else
        fputs(" NaN", script);
}

static double x_scale(enum th_format format)
{
    return format == TH_DAY ? DAY_S : format == TH_HOUR ? HOUR_S : 1;
}

/* Stacked series are written as their running sums, beginning with the zero line. */
static void write_row(FILE *script, const struct grid *grid, const struct row *row, int index)
{
    const enum th_chart chart = grid->figure.chart;
    if (is_bars(chart))
        fprintf(script, "%d", index);
    else
        fprintf(script, "%.12g", row->values[0].number * x_scale(grid->columns[0].format));
    double sum = 0;
    if (is_stacked(chart))
        fputs(" 0", script);
    for (int c = 1; c < grid->n; c++) {
        const struct th_value value = row->values[c];
        sum += value.kind == TH_VALUE_NUMBER ? value.number : 0;
        number(script, is_stacked(chart) ? th_number(sum) : value);
    }
    fputc('\n', script);
}

/* A row of lines in which nothing is known is a gap: gnuplot would draw across it. */
static bool is_gap(const struct grid *grid, const struct row *row)
{
    bool known = is_bars(grid->figure.chart) || is_stacked(grid->figure.chart);
    for (int c = 1; c < grid->n; c++)
        known |= row->values[c].kind == TH_VALUE_NUMBER;
    return !known;
}

static void write_data(FILE *script, const struct grid *grid)
{
    fputs("$figure << end_of_figure\n", script);
    int index = 0;
    for (const struct row *row = grid->rows; row; row = row->next, index++)
        if (is_gap(grid, row))
            fputc('\n', script);
        else if (is_bars(grid->figure.chart) || row->values[0].kind == TH_VALUE_NUMBER)
            write_row(script, grid, row, index);
    fputs("end_of_figure\n", script);
}

static void write_labels(FILE *script, const struct grid *grid)
{
    char buffer[TH_SHOWN_MAX];
    int letters = 0, index = 0;
    for (const struct row *row = grid->rows; row; row = row->next)
        letters += th_display_width(th_show(buffer, row->values[0], grid->columns[0].format)) + 2;
    fprintf(script, "set xtics %s (", letters > LEVEL_LABELS_MAX ? "rotate by -35" : "norotate");
    for (const struct row *row = grid->rows; row; row = row->next, index++) {
        if (index)
            fputs(", ", script);
        quoted_label(script, th_show(buffer, row->values[0], grid->columns[0].format));
        fprintf(script, " %d", index);
    }
    fprintf(script, ")\nset xrange [-0.7:%.1f]\n", index - 0.3);
}

/* Days without a year; over more than half a year only the months, over several years with the
 * year under them. Dates need no name. */
static void write_dates(FILE *script, const struct grid *grid)
{
    const double span_s = (grid->last->values[0].number - grid->rows->values[0].number) *
                          x_scale(grid->columns[0].format);
    fprintf(script, "set xlabel ''\nset xdata time\nset timefmt '%%s'\nset format x \"%s\"\n",
            span_s > 500 * DAY_S   ? "%b\\n%Y"
            : span_s > 200 * DAY_S ? "%b"
                                   : "%d %b");
}

static void write_axes(FILE *script, const struct grid *grid)
{
    const struct th_column *x = &grid->columns[0];
    fputs("set ylabel ", script);
    quoted(script, grid->figure.y_label ? grid->figure.y_label : "");
    fputs("\nset xlabel ", script);
    quoted(script, x->label ? x->label : "");
    fputc('\n', script);
    if (is_bars(grid->figure.chart))
        write_labels(script, grid);
    else if (th_format_is_date(x->format) && grid->rows)
        write_dates(script, grid);
    if (is_bars(grid->figure.chart) || grid->figure.chart == TH_STACKED_AREAS)
        fputs("set yrange [*<0:0<*]\n", script);
    else
        fputs("set offsets graph 0, graph 0, graph 0.05, graph 0\n", script);
    if (!is_bars(grid->figure.chart))
        fputs("set autoscale xfix\n", script);
}

static void write_look(FILE *script)
{
    fprintf(script,
            "set encoding utf8\n"
            "set terminal svg size %d,%d dynamic font 'sans-serif,15' noenhanced linewidth 1.4\n",
            FIGURE_WIDTH, FIGURE_HEIGHT);
    fputs("set datafile missing 'NaN'\n"
          "set border 1 lc rgb '#555f66' lw 0.8\n"
          "set tics nomirror out scale 0.4 textcolor rgb '#2b3238'\n"
          "set ytics format '%.8g'\n"
          "set grid ytics lt 1 lc rgb '#d5dade' lw 0.6\n"
          "set key bmargin center horizontal Left reverse samplen 2.5 textcolor rgb '#2b3238'\n"
          "set xlabel offset 0,0.4 textcolor rgb '#2b3238'\n"
          "set ylabel textcolor rgb '#2b3238'\n"
          "set style fill solid 1.0 border rgb 'white'\n",
          script);
}

static void write_title(FILE *script, const struct th_column *column)
{
    fputs(" title ", script);
    quoted(script, column->label);
}

/* Where the bars of a series begin and end beside the middle of their place. */
static void write_bars(FILE *script, const struct grid *grid, int series)
{
    const bool stacked = is_stacked(grid->figure.chart);
    const double width = stacked ? 0.7 : 0.8 / (grid->n - 1);
    const double from = stacked ? -0.35 : -0.4 + width * (series - 1);
    fprintf(script, "using 1:%d:($1%+.4f):($1%+.4f):", series + 1 + stacked, from, from + width);
    if (stacked)
        fprintf(script, "%d:%d", series + 1, series + 2);
    else
        fprintf(script, "(0):%d", series + 1);
    fprintf(script, " with boxxyerror lc rgb '%s'", colour(series));
    write_title(script, &grid->columns[series]);
}

static void write_line(FILE *script, const struct grid *grid, int series)
{
    fprintf(script, "using 1:%d with lines lw 1.8 dt %d lc rgb '%s'", series + 1,
            1 + (series - 1) % 5, colour(series));
    write_title(script, &grid->columns[series]);
}

static void write_area(FILE *script, const struct grid *grid, int series)
{
    fprintf(script, "using 1:%d:%d with filledcurves lc rgb '%s'", series + 1, series + 2,
            colour(series));
    write_title(script, &grid->columns[series]);
}

static void write_band(FILE *script, const struct grid *grid)
{
    char label[2 * TH_SHOWN_MAX];
    snprintf(label, sizeof label, "%.90s to %.90s", grid->columns[1].label, grid->columns[3].label);
    fputs("using 1:2:4 with filledcurves fs solid 1.0 noborder lc rgb '#c9d8e6' title ", script);
    quoted(script, label);
    fprintf(script, ", $figure using 1:3 with lines lw 2 lc rgb '%s'", colour(1));
    write_title(script, &grid->columns[2]);
}

static void write_plot(FILE *script, const struct grid *grid)
{
    const enum th_chart chart = grid->figure.chart;
    const bool band = chart == TH_BAND && grid->n > 3;
    fputs("plot ", script);
    for (int series = 1; series < grid->n; series++) {
        fputs(series > 1 ? ", $figure " : "$figure ", script);
        if (is_bars(chart)) {
            write_bars(script, grid, series);
        } else if (chart == TH_STACKED_AREAS) {
            write_area(script, grid, series);
        } else if (band && series == 1) {
            write_band(script, grid);
            series = 3;
        } else {
            write_line(script, grid, series);
        }
    }
    fputc('\n', script);
}

void figure_write_script(FILE *script, const struct grid *grid)
{
    write_look(script);
    write_axes(script, grid);
    write_data(script, grid);
    write_plot(script, grid);
}

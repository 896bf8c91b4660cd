/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure_draw.h"

#include "svg.h"

#include <math.h>

#define BAR_HEIGHT 13
#define BAR_WIDTH_MAX 34
#define RANGE_WIDTH 5
#define DOT_RADIUS 4.5
#define SPECK_RADIUS 2.2

/* How far under the middle of its row a mark of names down lies: the name is over it. */
#define UNDER_NAME 10

const char *figure_class(char class[FIGURE_CLASS_MAX], const struct mark *mark)
{
    static const char *const kinds[] = {"line", "band", "bar", "dot", "speck", "rule", "rule"};
    static const char *const inks[] = {"plain", "heat", "cold", "pigs", "warn"};
    snprintf(class, FIGURE_CLASS_MAX, "%s %s d%d", kinds[mark->kind], inks[mark->ink],
             mark->dash % 5);
    return class;
}

const char *figure_place_text(char text[2 * TH_SHOWN_MAX], const struct drawing *drawing, double at)
{
    const enum th_axis_kind kind = drawing->figure.along.kind;
    if (kind != TH_AXIS_NAMES && kind != TH_AXIS_NAMES_DOWN)
        return figure_value_text(text, &drawing->figure.along, at);
    int index = 0;
    for (const struct note *name = drawing->names.first; name; name = name->next, index++)
        if (index == (int)at)
            return name->text;
    return "";
}

/* What a mark that stands alone tells when it is pointed at. */
static void write_title(FILE *out, const struct drawing *drawing, const struct mark *mark,
                        const struct mark_point *p)
{
    char place[2 * TH_SHOWN_MAX], span[2 * TH_SHOWN_MAX];
    const bool one = mark->kind == TH_MARK_BAR && p->low == 0;
    fputs("<title>", out);
    xml_write(out, figure_place_text(place, drawing, p->at));
    const char *const more[] = {mark->label, p->name};
    for (int i = 0; i < 2; i++)
        if (more[i] && *more[i]) {
            fputs(", ", out);
            xml_write(out, more[i]);
        }
    fputs(": ", out);
    xml_write(out, figure_span_text(span, &drawing->figure.value, one ? p->high : p->low, p->high));
    fputs("</title>", out);
}

static double shift(const struct figure_layout *l)
{
    return !l->down ? 0 : l->apart ? UNDER_NAME + FIGURE_LINE / 2.0 : UNDER_NAME;
}

static void write_box(FILE *out, const struct drawing *drawing, const struct figure_layout *l,
                      const struct mark *mark, const struct mark_point *p)
{
    const double step = fabs(l->along.end - l->along.start) / (l->along.to - l->along.from);
    const double thick = mark->kind == TH_MARK_BAND ? RANGE_WIDTH
                         : l->down                  ? BAR_HEIGHT
                                                    : fmin(0.6 * step, BAR_WIDTH_MAX);
    const double x1 = figure_x(l, p->at, p->low), x2 = figure_x(l, p->at, p->high);
    const double y1 = figure_y(l, p->at, p->low) + shift(l);
    const double y2 = figure_y(l, p->at, p->high) + shift(l);
    const double x = l->down ? fmin(x1, x2) : x1 - thick / 2;
    const double y = l->down ? y1 - thick / 2 : fmin(y1, y2);
    fprintf(out, "<rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\">", x, y,
            l->down ? fabs(x2 - x1) : thick, l->down ? thick : fabs(y2 - y1));
    write_title(out, drawing, mark, p);
    fputs("</rect>\n", out);
}

static void write_circle(FILE *out, const struct drawing *drawing, const struct figure_layout *l,
                         const struct mark *mark, const struct mark_point *p)
{
    fprintf(out, "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"%.1f\">", figure_x(l, p->at, p->high),
            figure_y(l, p->at, p->high) + shift(l),
            mark->kind == TH_MARK_DOT ? DOT_RADIUS : SPECK_RADIUS);
    write_title(out, drawing, mark, p);
    fputs("</circle>\n", out);
}

/* The first point from here on that is not known, or the end. */
static const struct mark_point *run_end(const struct mark_point *p)
{
    while (p && mark_point_is_known(p))
        p = p->next;
    return p;
}

static void write_run(FILE *out, const struct figure_layout *l, const struct mark_point *from,
                      const struct mark_point *end)
{
    fputs("<path d=\"", out);
    for (const struct mark_point *p = from; p != end; p = p->next)
        fprintf(out, "%c%.1f %.1f", p == from ? 'M' : 'L', figure_x(l, p->at, p->high),
                figure_y(l, p->at, p->high));
}

/* Back along the lower edge. */
static void write_run_back(FILE *out, const struct figure_layout *l, const struct mark_point *from,
                           const struct mark_point *last)
{
    for (const struct mark_point *p = last; p; p = p == from ? NULL : p->before)
        fprintf(out, "L%.1f %.1f", figure_x(l, p->at, p->low), figure_y(l, p->at, p->low));
    fputc('Z', out);
}

/* A line or band of one point has no length to be seen: a dot or an upright line stands for it. */
static void write_lone_point(FILE *out, const struct figure_layout *l, const struct mark *mark,
                             const struct mark_point *p)
{
    const double x = figure_x(l, p->at, p->high), y = figure_y(l, p->at, p->high);
    if (mark->kind == TH_MARK_LINE)
        fprintf(out, "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"%.1f\"/>\n", x, y, SPECK_RADIUS);
    else
        fprintf(out, "<rect x=\"%.1f\" y=\"%.1f\" width=\"%d\" height=\"%.1f\"/>\n",
                x - RANGE_WIDTH / 2.0, y, RANGE_WIDTH, figure_y(l, p->at, p->low) - y);
}

static void write_runs(FILE *out, const struct figure_layout *l, const struct mark *mark)
{
    const struct mark_point *p = mark->points;
    while (p) {
        const struct mark_point *const from = p, *const end = run_end(p);
        p = end == from ? from->next : end;
        if (end == from)
            continue;
        if (from->next == end) {
            write_lone_point(out, l, mark, from);
            continue;
        }
        write_run(out, l, from, end);
        if (mark->kind == TH_MARK_BAND)
            write_run_back(out, l, from, end ? end->before : mark->last);
        fputs("\"/>\n", out);
    }
}

/* The names of upright rules stand one over the other, the last one next to the plot. */
static double rule_name_y(const struct figure_layout *l, const struct mark *mark)
{
    int below = 0;
    for (const struct mark *m = mark->next; m; m = m->next)
        below += figure_rule_is_named(m, l->down);
    return l->top - 7 - FIGURE_LINE * below;
}

/* How far the middle of a name from x `from` to `to` at height `y` lies from lines and other rules.
 */
static double clearance(const struct drawing *drawing, const struct figure_layout *l,
                        const struct mark *named, double from, double to, double y)
{
    double least = INFINITY;
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next)
        for (const struct mark_point *p = mark->points; p && mark != named; p = p->next) {
            const double x = figure_x(l, p->at, p->high);
            if (mark->kind == TH_MARK_RULE_AT || !mark_point_is_known(p) ||
                (mark->kind != TH_MARK_RULE_VALUE && (x < from || x > to)))
                continue;
            least = fmin(least, fabs(figure_y(l, p->at, p->high) - y));
        }
    return least;
}

/* The name of a level rule stands above or below it, at its left or right end: at the first place
 * that is free of what is drawn, else at the freest. */
static void write_level_name(FILE *out, const struct drawing *drawing,
                             const struct figure_layout *l, const struct mark *mark, double y)
{
    static const struct {
        bool right;
        double down;
    } places[] = {{false, -4.0}, {true, -4.0}, {false, 13.0}, {true, 13.0}};
    const double width = svg_text_width(mark->label);
    double freest = -1.0;
    int at = 0;
    for (int i = 0; i < 4 && freest < FIGURE_LINE; i++) {
        const double from = places[i].right ? l->right - 4 - width : l->left + 4;
        const double free =
            clearance(drawing, l, mark, from, from + width, y + places[i].down - SVG_TEXT / 3.0);
        at = free > freest ? i : at;
        freest = fmax(free, freest);
    }
    svg_text(out, places[at].right ? l->right - 4 : l->left + 4, y + places[at].down,
             places[at].right ? "end" : "start", mark->label, l->right - l->left);
}

static void write_rule(FILE *out, const struct drawing *drawing, const struct figure_layout *l,
                       const struct mark *mark)
{
    const struct mark_point *p = mark->points;
    const bool upright = (mark->kind == TH_MARK_RULE_AT) != l->down;
    if (!p || !mark_point_is_known(p))
        return;
    const double x = figure_x(l, p->at, p->high), y = figure_y(l, p->at, p->high);
    const char *const label = mark->label ? mark->label : "";
    if (upright) {
        const bool left = x > (l->left + l->right) / 2;
        const double name_y = rule_name_y(l, mark);
        svg_line(out, "across", x, name_y + 3, x, l->bottom);
        svg_text(out, x + (left ? 3 : -3), name_y, left ? "end" : "start", label, l->width / 2);
    } else {
        svg_line(out, "across", l->left, y, l->right, y);
        if (*label)
            write_level_name(out, drawing, l, mark, y);
    }
}

static void write_mark(FILE *out, const struct drawing *drawing, const struct figure_layout *l,
                       const struct mark *mark)
{
    const bool dots = mark->kind == TH_MARK_DOT || mark->kind == TH_MARK_SPECK;
    if (mark->kind >= TH_MARK_RULE_AT) {
        write_rule(out, drawing, l, mark);
    } else if (dots || mark->kind == TH_MARK_BAR || l->names) {
        for (const struct mark_point *p = mark->points; p; p = p->next)
            if (mark_point_is_known(p))
                (dots ? write_circle : write_box)(out, drawing, l, mark, p);
    } else {
        write_runs(out, l, mark);
    }
}

void figure_write_marks(FILE *out, const struct drawing *drawing, const struct figure_layout *l)
{
    char class[FIGURE_CLASS_MAX];
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next) {
        svg_group(out, figure_class(class, mark));
        write_mark(out, drawing, l, mark);
        fputs("</g>\n", out);
    }
}

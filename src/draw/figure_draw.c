/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure_draw.h"

#include "svg.h"

#include <string.h>

/* So many places of a line answer when they are pointed at; more would lie closer than a hand. */
#define HOVERS_MAX 120

#define KEY_SAMPLE 22

/* Height at the foot of a row of names down that its bar takes. */
#define BESIDE_BAR 21

/* Names down stand clear of the axis they are written on. */
#define BESIDE_AXIS 5

/* A line beside the bars only: it would run through what stands over them. */
static void write_broken_line(FILE *out, const char *class, double x, const struct figure_layout *l)
{
    fprintf(out,
            "<line class=\"%s\" stroke-dasharray=\"0 %.1f %d 0\" x1=\"%.1f\" y1=\"%.1f\" "
            "x2=\"%.1f\" y2=\"%.1f\"/>\n",
            class, l->row - BESIDE_BAR, BESIDE_BAR, x, l->top, x, l->bottom);
}

static void write_value_axis(FILE *out, const struct drawing *drawing,
                             const struct figure_layout *l)
{
    const struct th_axis *axis = &drawing->figure.value;
    char text[TH_SHOWN_MAX];
    svg_group(out, "axis");
    for (int i = 0; i < l->value_ticks.n; i++) {
        const double at = l->value_ticks.at[i];
        const double place = figure_position(&l->value, at);
        const char *const class =
            fabs(place - figure_position(&l->value, 0)) < 0.05 ? "zero" : "grid";
        figure_tick_text(text, axis, &l->value_ticks, at);
        if (l->down) {
            if (place - l->left < BESIDE_AXIS)
                svg_line(out, class, place, l->top, place, l->bottom);
            else
                write_broken_line(out, class, place, l);
            if (l->unit_in_tick && i == l->value_ticks.n - 1)
                snprintf(text + strlen(text), sizeof text - strlen(text), " %s", axis->unit);
            svg_text(out, place, l->bottom + 15,
                     i == 0                      ? "start"
                     : i == l->value_ticks.n - 1 ? "end"
                                                 : "middle",
                     text, l->width);
        } else {
            svg_line(out, class, l->left, place, l->right, place);
            svg_text(out, l->left - 6, place + 4.5, "end", text, l->width);
        }
    }
    if (l->down && l->label_below)
        svg_text(out, l->right, l->height - 6, "end", axis->label, l->width);
    fputs("</g>\n", out);
}

/* Every how many names are written under a plot, so that none meets the next. */
static int name_stride(const struct drawing *drawing, const struct figure_layout *l)
{
    double widest = 0;
    for (const struct note *name = drawing->names.first; name; name = name->next)
        widest = fmax(widest, svg_text_width(name->text));
    const double step = (l->right - l->left) / fmax(drawing->n_names, 1);
    return (int)fmax(1, ceil((widest + 4) / step));
}

static void write_names(FILE *out, const struct drawing *drawing, const struct figure_layout *l)
{
    char text[FIGURE_ROW_TEXT];
    const int stride = l->down ? 1 : name_stride(drawing, l);
    int index = 0;
    for (const struct note *name = drawing->names.first; name; name = name->next, index++) {
        const double place = figure_position(&l->along, index);
        if (!l->down && index % stride == 0)
            svg_text(out, place, l->bottom + 17, "middle", name->text, l->width);
        if (!l->down)
            continue;
        const double line = place - 5 - (l->apart ? FIGURE_LINE / 2.0 : 0);
        figure_row_text(text, drawing, index);
        svg_text(out, l->left + BESIDE_AXIS, line, "start", name->text,
                 l->apart ? l->width - BESIDE_AXIS
                          : l->width - BESIDE_AXIS - svg_text_width(text) - 8);
        svg_text(out, l->apart ? l->left + BESIDE_AXIS : l->right,
                 line + (l->apart ? FIGURE_LINE : 0), l->apart ? "start" : "end", text, l->width);
    }
}

static void write_along_axis(FILE *out, const struct drawing *drawing,
                             const struct figure_layout *l)
{
    const struct th_axis *axis = &drawing->figure.along;
    char text[TH_SHOWN_MAX];
    svg_group(out, "axis");
    for (int i = 0; i < l->along_ticks.n; i++) {
        const double place = figure_position(&l->along, l->along_ticks.at[i]);
        svg_line(out, "tick", place, l->bottom, place, l->bottom + 4);
        figure_tick_text(text, axis, &l->along_ticks, l->along_ticks.at[i]);
        svg_text(out, fmin(place, l->width - svg_text_width(text) / 2), l->bottom + 18, "middle",
                 text, l->width);
    }
    fputs("<g class=\"names\">\n", out);
    write_names(out, drawing, l);
    fputs("</g>\n", out);
    if (!l->down)
        svg_text(out, l->right, l->height - 6, "end", axis->label, l->width);
    fputs("</g>\n", out);
}

static void write_sample(FILE *out, const struct mark *mark, double y)
{
    const double middle = KEY_SAMPLE / 2.0;
    if (mark->kind == TH_MARK_LINE)
        fprintf(out, "<path d=\"M0 %.1fL%d %.1f\"/>\n", y, KEY_SAMPLE, y);
    else if (mark->kind == TH_MARK_DOT || mark->kind == TH_MARK_SPECK)
        fprintf(out, "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"%s\"/>\n", middle, y,
                mark->kind == TH_MARK_DOT ? "4.5" : "2.2");
    else
        fprintf(out, "<rect x=\"0\" y=\"%.1f\" width=\"%d\" height=\"10\"/>\n", y - 5, KEY_SAMPLE);
}

static void write_key(FILE *out, const struct drawing *drawing, const struct figure_layout *l)
{
    char class[FIGURE_CLASS_MAX];
    double y = 10;
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next) {
        if (!figure_has_label(mark))
            continue;
        svg_group(out, figure_class(class, mark));
        write_sample(out, mark, y);
        fputs("</g>\n", out);
        svg_text(out, KEY_SAMPLE + 6, y + 4.5, "start", mark->label, l->width - KEY_SAMPLE - 6);
        y += FIGURE_LINE;
    }
}

#define END_LABELS_MAX 24

struct end_label {
    const struct mark *mark;
    double y;
};

static const struct mark_point *last_known(const struct mark *mark)
{
    const struct mark_point *last = NULL;
    for (const struct mark_point *p = mark->points; p; p = p->next)
        if (mark_point_is_known(p))
            last = p;
    return last;
}

/* The labels in the order of their ends, from the top down. */
static int sort_end_labels(const struct drawing *drawing, const struct figure_layout *l,
                           struct end_label ends[END_LABELS_MAX])
{
    int n = 0;
    for (const struct mark *mark = drawing->marks; mark && n < END_LABELS_MAX; mark = mark->next) {
        const struct mark_point *last = figure_has_label(mark) ? last_known(mark) : NULL;
        if (!last)
            continue;
        const double y = figure_y(l, last->at, (last->low + last->high) / 2);
        int k = n++;
        for (; k > 0 && ends[k - 1].y > y; k--)
            ends[k] = ends[k - 1];
        ends[k] = (struct end_label){mark, y};
    }
    return n;
}

/* Down from the top so that none lies on another, then up from the bottom edge. */
static void spread_end_labels(struct end_label *ends, int n, double bottom)
{
    for (int i = 1; i < n; i++)
        ends[i].y = fmax(ends[i].y, ends[i - 1].y + FIGURE_LINE - 1);
    for (int i = n - 1; i >= 0; i--)
        ends[i].y = fmin(ends[i].y, i == n - 1 ? bottom : ends[i + 1].y - FIGURE_LINE + 1);
}

static void write_end_labels(FILE *out, const struct drawing *drawing,
                             const struct figure_layout *l)
{
    struct end_label ends[END_LABELS_MAX];
    char class[FIGURE_CLASS_MAX];
    const int n = sort_end_labels(drawing, l, ends);
    spread_end_labels(ends, n, l->bottom);
    for (int i = 0; i < n; i++) {
        figure_class(class, ends[i].mark);
        fprintf(out, "<g class=\"end %s\">\n", class);
        svg_text(out, l->right + 6, ends[i].y + 4.5, "start", ends[i].mark->label, l->width);
        fputs("</g>\n", out);
    }
}

/* The mark whose places answer when pointed at: the first line or band. */
static const struct mark *leading_mark(const struct drawing *drawing)
{
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next)
        if (mark->kind <= TH_MARK_BAND)
            return mark;
    return NULL;
}

static void write_hover_text(FILE *out, const struct drawing *drawing, double at)
{
    char place[2 * TH_SHOWN_MAX], span[2 * TH_SHOWN_MAX];
    fputs("<title>", out);
    xml_write(out, figure_place_text(place, drawing, at));
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next) {
        if (mark->kind > TH_MARK_BAND)
            continue;
        const struct mark_point *p = mark->points;
        while (p && !(p->at == at && mark_point_is_known(p)))
            p = p->next;
        if (!p)
            continue;
        fputs("\n", out);
        xml_write(out, mark->label ? mark->label : "");
        fputs(mark->label ? ": " : "", out);
        xml_write(out, figure_span_text(span, &drawing->figure.value, p->low, p->high));
    }
    fputs("</title>", out);
}

/* Strips from top to bottom that tell all values at their place. */
static void write_hovers(FILE *out, const struct drawing *drawing, const struct figure_layout *l)
{
    const struct mark *mark = l->names ? NULL : leading_mark(drawing);
    int n = 0;
    for (const struct mark_point *p = mark ? mark->points : NULL; p; p = p->next)
        n++;
    const int every = n / HOVERS_MAX + 1;
    const double width = (l->right - l->left) / fmax(1, (double)n / every);
    int index = 0;
    svg_group(out, "hover");
    for (const struct mark_point *p = mark ? mark->points : NULL; p; p = p->next, index++) {
        if (index % every != 0 || !mark_point_is_known(p))
            continue;
        fprintf(out, "<rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\">",
                figure_x(l, p->at, 0) - width / 2, l->top, width, l->bottom - l->top);
        write_hover_text(out, drawing, p->at);
        fputs("</rect>\n", out);
    }
    fputs("</g>\n", out);
}

void figure_write_svg(FILE *out, const struct drawing *drawing, bool narrow)
{
    struct figure_layout l;
    figure_lay_out(drawing, narrow, &l);
    fprintf(out, "<svg class=\"%s\" viewBox=\"0 0 %.0f %.0f\" role=\"img\">\n",
            narrow ? "narrow" : "wide", l.width, l.height);
    xml_element(out, "title", "", drawing->figure.caption);
    xml_element(out, "desc", "", drawing->figure.reading);
    write_value_axis(out, drawing, &l);
    figure_write_marks(out, drawing, &l);
    write_along_axis(out, drawing, &l);
    if (!l.down)
        svg_text(out, 0, l.unit_y, "start", drawing->figure.value.label, l.width);
    if (l.key)
        write_key(out, drawing, &l);
    else
        write_end_labels(out, drawing, &l);
    write_hovers(out, drawing, &l);
    fputs("</svg>\n", out);
}

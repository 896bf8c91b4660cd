/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure_layout.h"

#include "svg.h"
#include <string.h>

/* A desk's drawing is shown about as large as it says; a phone of 340 pixels has some 300 left. */
#define WIDE 700
#define NARROW 320
#define WIDE_PLOT_HEIGHT 260
#define NARROW_PLOT_HEIGHT 210

/* A row of names down: the name over its marks. */
#define ROW 46

/* Values beside a name take no more than this share of the line. */
#define NAME_SHARE 0.3

/* Labels beside the ends of lines take no more than this. */
#define END_LABEL_MAX 190

#define SIDE 12

double figure_x(const struct figure_layout *layout, double at, double value)
{
    return layout->down ? figure_position(&layout->value, value)
                        : figure_position(&layout->along, at);
}

double figure_y(const struct figure_layout *layout, double at, double value)
{
    return layout->down ? figure_position(&layout->along, at)
                        : figure_position(&layout->value, value);
}

bool figure_has_label(const struct mark *mark)
{
    return mark->label && *mark->label && mark->kind < TH_MARK_RULE_AT;
}

const char *figure_span_text(char text[2 * TH_SHOWN_MAX], const struct th_axis *axis, double low,
                             double high)
{
    char from[TH_SHOWN_MAX], to[TH_SHOWN_MAX];
    figure_value_text(to, axis, high);
    if (*axis->unit == '$')
        figure_value_text(from, axis, low);
    else
        th_show(from, th_number(low), axis->format);
    snprintf(text, (size_t)2 * TH_SHOWN_MAX, low == high ? "%.0s%s" : "%s to %s", from, to);
    return text;
}

static const struct mark_point *point_at(const struct mark *mark, double at)
{
    for (const struct mark_point *p = mark->points; p; p = p->next)
        if (p->at == at && mark_point_is_known(p))
            return p;
    return NULL;
}

const char *figure_row_text(char text[FIGURE_ROW_TEXT], const struct drawing *drawing, int index)
{
    const struct th_axis *axis = &drawing->figure.value;
    char one[TH_SHOWN_MAX], span[2 * TH_SHOWN_MAX];
    const char *middle = "", *range = "";
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next) {
        const struct mark_point *p = point_at(mark, index);
        if (p && (mark->kind == TH_MARK_DOT || mark->kind == TH_MARK_BAR) && !*middle)
            middle = figure_value_text(one, axis, p->high);
        else if (p && mark->kind == TH_MARK_BAND && !*range)
            range = figure_span_text(span, axis, p->low, p->high);
    }
    snprintf(text, FIGURE_ROW_TEXT, *middle && *range ? "%s (%s)" : "%s%s", middle, range);
    return text;
}

static void hold(double value, double *from, double *to)
{
    if (!isfinite(value))
        return;
    *from = fmin(*from, value);
    *to = fmax(*to, value);
}

static void find_spans(const struct drawing *drawing, struct figure_scale *along,
                       struct figure_scale *value)
{
    *along = *value = (struct figure_scale){.from = INFINITY, .to = -INFINITY};
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next)
        for (const struct mark_point *p = mark->points; p; p = p->next) {
            if (mark->kind != TH_MARK_RULE_VALUE)
                hold(p->at, &along->from, &along->to);
            if (mark->kind != TH_MARK_RULE_AT) {
                hold(p->low, &value->from, &value->to);
                hold(p->high, &value->from, &value->to);
            }
        }
    if (drawing->figure.value.from_zero)
        hold(0, &value->from, &value->to);
}

static double widest_tick(const struct figure_ticks *ticks, const struct th_axis *axis)
{
    char text[TH_SHOWN_MAX];
    double widest = 0;
    for (int i = 0; i < ticks->n; i++)
        widest = fmax(widest, svg_text_width(figure_tick_text(text, axis, ticks, ticks->at[i])));
    return widest;
}

static int labels(const struct drawing *drawing, double *widest)
{
    int n = 0;
    *widest = 0;
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next)
        if (figure_has_label(mark)) {
            n++;
            *widest = fmax(*widest, svg_text_width(mark->label));
        }
    return n;
}

/* Whether some row's values leave its name less than most of the line. */
static bool rows_need_two_lines(const struct drawing *drawing, double width)
{
    char text[FIGURE_ROW_TEXT];
    for (int index = 0; index < drawing->n_names; index++)
        if (svg_text_width(figure_row_text(text, drawing, index)) > NAME_SHARE * width)
            return true;
    return false;
}

bool figure_rule_is_named(const struct mark *mark, bool down)
{
    return mark->kind == (down ? TH_MARK_RULE_VALUE : TH_MARK_RULE_AT) && mark->label &&
           *mark->label;
}

static int rule_names(const struct drawing *drawing, bool down)
{
    int n = 0;
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next)
        n += figure_rule_is_named(mark, down);
    return n;
}

/* The unit goes behind the last number of an axis that runs from left to right, where there is
   room; dollars have it before each. */
static bool unit_fits_last_tick(const struct th_axis *axis, const struct figure_ticks *ticks,
                                double width)
{
    char text[TH_SHOWN_MAX];
    if (*axis->unit == '$' || strcmp(axis->label, axis->unit) != 0 || ticks->n < 2)
        return false;
    const double last =
        svg_text_width(figure_tick_text(text, axis, ticks, ticks->at[ticks->n - 1]));
    const double before =
        svg_text_width(figure_tick_text(text, axis, ticks, ticks->at[ticks->n - 2]));
    return last + svg_text_width(axis->unit) + before / 2 + 2 * SVG_TEXT < width / (ticks->n - 1);
}

static void place_plot(const struct drawing *drawing, struct figure_layout *l)
{
    const struct th_figure *figure = &drawing->figure;
    double widest;
    const int n_labels = labels(drawing, &widest);
    l->key = n_labels > 0 && (l->narrow || l->names || widest > END_LABEL_MAX);
    const bool unit_on_top = !l->down && *figure->value.label;
    l->unit_in_tick = l->down && unit_fits_last_tick(&figure->value, &l->value_ticks, l->width);
    l->label_below =
        l->down ? *figure->value.label && strcmp(figure->value.label, "$") != 0 && !l->unit_in_tick
                : *figure->along.label;
    l->unit_y = FIGURE_LINE * ((l->key ? n_labels : 0) + unit_on_top) - 3;
    l->top = l->unit_y + 13 + FIGURE_LINE * rule_names(drawing, l->down);
    l->left = l->down ? 1 : widest_tick(&l->value_ticks, &figure->value) + 8;
    l->right = l->width - (n_labels > 0 && !l->key ? widest + SIDE : l->down ? 1 : SIDE);
    l->apart = l->down && rows_need_two_lines(drawing, l->width);
    l->row = ROW + (l->apart ? FIGURE_LINE : 0);
    l->bottom = l->top + (l->down     ? drawing->n_names * l->row
                          : l->narrow ? NARROW_PLOT_HEIGHT
                                      : WIDE_PLOT_HEIGHT);
    l->height = l->bottom + 7 + FIGURE_LINE * (1 + l->label_below);
}

void figure_lay_out(const struct drawing *drawing, bool narrow, struct figure_layout *l)
{
    const struct th_figure *figure = &drawing->figure;
    const enum th_axis_kind kind = figure->along.kind;
    const int value_ticks = narrow && kind == TH_AXIS_NAMES_DOWN ? 4 : 6;
    *l = (struct figure_layout){.narrow = narrow,
                                .down = kind == TH_AXIS_NAMES_DOWN,
                                .names = kind == TH_AXIS_NAMES || kind == TH_AXIS_NAMES_DOWN,
                                .width = narrow ? NARROW : WIDE};
    find_spans(drawing, &l->along, &l->value);
    figure_widen(&l->value.from, &l->value.to, value_ticks);
    figure_number_ticks(l->value.from, l->value.to, value_ticks, &l->value_ticks);
    if (l->names) {
        l->along.from = -0.5;
        l->along.to = fmax(drawing->n_names, 1) - 0.5;
    } else if (l->along.from == l->along.to) {
        l->along.from -= 0.5;
        l->along.to += 0.5;
    }
    if (kind == TH_AXIS_NUMBER)
        figure_number_ticks(l->along.from, l->along.to, narrow ? 5 : 9, &l->along_ticks);
    else if (!l->names)
        figure_time_ticks(l->along.from, l->along.to, kind == TH_AXIS_HOUR, narrow ? 4 : 8,
                          &l->along_ticks);
    place_plot(drawing, l);
    struct figure_scale *across = l->down ? &l->value : &l->along;
    struct figure_scale *upward = l->down ? &l->along : &l->value;
    across->start = l->left;
    across->end = l->right;
    upward->start = l->down ? l->top : l->bottom;
    upward->end = l->down ? l->bottom : l->top;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure.h"

#include "report_doc.h"

static struct th_axis keep_axis(struct th_report *report, const struct th_axis *axis)
{
    struct th_axis kept = *axis;
    kept.unit = report_keep(report, axis->unit ? axis->unit : "");
    kept.label = axis->label ? report_keep(report, axis->label) : kept.unit;
    return kept;
}

void th_figure(struct th_report *report, const struct th_figure *figure)
{
    struct block *block = report_add_block(report, BLOCK_FIGURE, NULL, figure->caption);
    if (!block)
        return;
    block->drawing.figure = (struct th_figure){.caption = block->text,
                                               .reading = report_keep(report, figure->reading),
                                               .along = keep_axis(report, &figure->along),
                                               .value = keep_axis(report, &figure->value)};
}

/* The figure that is being drawn, or NULL. */
static struct drawing *open_drawing(struct th_report *report)
{
    if (!report || !report->last || report->last->kind != BLOCK_FIGURE) {
        report_misuse(report, "a mark outside a figure", NULL);
        return NULL;
    }
    return &report->last->drawing;
}

void th_figure_name(struct th_report *report, const char *name)
{
    struct drawing *drawing = open_drawing(report);
    struct note *note = drawing ? report_take(report, sizeof *note) : NULL;
    if (!note)
        return;
    note->text = report_keep(report, name ? name : "");
    if (drawing->names.last)
        drawing->names.last->next = note;
    else
        drawing->names.first = note;
    drawing->names.last = note;
    drawing->n_names++;
}

void th_figure_mark(struct th_report *report, enum th_mark_kind kind, enum th_ink ink,
                    const char *label)
{
    struct drawing *drawing = open_drawing(report);
    struct mark *mark = drawing ? report_take(report, sizeof *mark) : NULL;
    if (!mark)
        return;
    *mark = (struct mark){.kind = kind, .ink = ink, .label = report_keep(report, label)};
    for (const struct mark *other = drawing->marks; other; other = other->next)
        mark->dash += other->kind == kind && other->ink == ink;
    if (drawing->last_mark)
        drawing->last_mark->next = mark;
    else
        drawing->marks = mark;
    drawing->last_mark = mark;
}

static void add_point(struct th_report *report, double at, double low, double high,
                      const char *name)
{
    struct drawing *drawing = open_drawing(report);
    struct mark *mark = drawing ? drawing->last_mark : NULL;
    struct mark_point *point = mark ? report_take(report, sizeof *point) : NULL;
    if (!point)
        return;
    *point = (struct mark_point){.before = mark->last,
                                 .at = at,
                                 .low = low,
                                 .high = high,
                                 .name = report_keep(report, name)};
    if (mark->last)
        mark->last->next = point;
    else
        mark->points = point;
    mark->last = point;
}

void th_figure_named_point(struct th_report *report, double at, double value, const char *name)
{
    const struct drawing *drawing = open_drawing(report);
    const bool bar = drawing && drawing->last_mark && drawing->last_mark->kind == TH_MARK_BAR;
    add_point(report, at, bar ? 0 : value, value, name);
}

void th_figure_point(struct th_report *report, double at, double value)
{
    th_figure_named_point(report, at, value, NULL);
}

void th_figure_span(struct th_report *report, double at, double low, double high)
{
    add_point(report, at, low, high, NULL);
}

void th_figure_rule(struct th_report *report, enum th_mark_kind kind, const char *label,
                    double where)
{
    th_figure_mark(report, kind, TH_INK_PLAIN, label);
    add_point(report, where, where, where, NULL);
}

bool mark_point_is_known(const struct mark_point *point)
{
    return isfinite(point->at) && isfinite(point->low) && isfinite(point->high);
}

bool drawing_is_empty(const struct drawing *drawing)
{
    for (const struct mark *mark = drawing->marks; mark; mark = mark->next)
        for (const struct mark_point *point = mark->points; point; point = point->next)
            if (mark->kind < TH_MARK_RULE_AT && mark_point_is_known(point))
                return false;
    return true;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Figures of a report: a few kinds of marks over two axes. Pages draw them as SVG; the other forms,
 * which have the numbers in their tables, leave them out.
 *
 *     th_figure(r, &(struct th_figure){
 *                      .caption = "November takes a third",
 *                      .reading = "Gallons by month: dot the middle winter, line all of them.",
 *                      .along = {.kind = TH_AXIS_NAMES},
 *                      .value = {.unit = "gal", .format = TH_SIG3, .from_zero = true}});
 *     th_figure_name(r, "Nov");
 *     th_figure_name(r, "Dec");
 *     th_figure_mark(r, TH_MARK_BAND, TH_INK_HEAT, NULL);
 *     th_figure_span(r, 0, 600, 800);
 *     th_figure_span(r, 1, 500, 700);
 *     th_figure_mark(r, TH_MARK_DOT, TH_INK_HEAT, NULL);
 *     th_figure_point(r, 0, 712);
 *
 * Places along the first axis are numbers, day numbers, hour numbers or, on an axis of names, the
 * counts of the names from 0. A figure in which nothing is known says so in words.
 */
#ifndef TURNHEAT_FIGURE_H
#define TURNHEAT_FIGURE_H

#include "report.h"

enum th_axis_kind {
    TH_AXIS_NUMBER,    /**< numbers; the only kind for values */
    TH_AXIS_DAY,       /**< day numbers of turnheat/calendar.h */
    TH_AXIS_YEARLESS,  /**< day numbers of a season whose year is not told */
    TH_AXIS_HOUR,      /**< hour numbers */
    TH_AXIS_NAMES,     /**< names from left to right: few and short */
    TH_AXIS_NAMES_DOWN /**< names from top to bottom, each over its marks with their values */
};

struct th_axis {
    enum th_axis_kind kind;
    const char *unit;      /**< of its values; "$" and what begins with it stands before a number */
    const char *label;     /**< written at the axis; NULL: the unit */
    enum th_format format; /**< of the values told on hover and beside names */
    bool from_zero;        /**< lengths are compared: the axis holds 0 */
};

enum th_mark_kind {
    TH_MARK_LINE,    /**< through its points, broken where nothing is known */
    TH_MARK_BAND,    /**< between low and high; over names a bar or thin line of its own for each */
    TH_MARK_BAR,     /**< from low to high, or from 0 */
    TH_MARK_DOT,     /**< a dot that matters: the middle */
    TH_MARK_SPECK,   /**< a small dot: one of many */
    TH_MARK_RULE_AT, /**< a straight line across, at a place of the first axis */
    TH_MARK_RULE_VALUE /**< a straight line along, at a value */
};

/** What colours mean, and nothing else: gas and heaters, outdoors and cold, pigs, trouble. */
enum th_ink { TH_INK_PLAIN, TH_INK_HEAT, TH_INK_COLD, TH_INK_PIGS, TH_INK_WARNING };

struct th_figure {
    const char *caption; /**< what the figure shows, as a finding */
    const char *reading; /**< how to read it: what is drawn, of what, by which marks */
    struct th_axis along, value;
};

/** Starts a figure; what follows belongs to it. */
void th_figure(struct th_report *report, const struct th_figure *figure);

/** The next name of an axis of names. */
void th_figure_name(struct th_report *report, const char *name);

/** Starts a mark. `label` (NULL: none) is written beside it or in the key. */
void th_figure_mark(struct th_report *report, enum th_mark_kind kind, enum th_ink ink,
                    const char *label);

/** A point of the mark started last; a value that is not finite is a gap. Bars begin at 0. */
void th_figure_point(struct th_report *report, double at, double value);

/** A point with a name of its own: the winter of a speck. */
void th_figure_named_point(struct th_report *report, double at, double value, const char *name);

/** From `low` to `high` at one place of a band or bar. */
void th_figure_span(struct th_report *report, double at, double low, double high);

/** A rule with its label, at a place or a value. */
void th_figure_rule(struct th_report *report, enum th_mark_kind kind, const char *label,
                    double where);

#endif

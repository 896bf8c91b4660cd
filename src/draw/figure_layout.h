/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Where the parts of a figure lie on a drawing for a desk or for a phone. */
#ifndef TURNHEAT_FIGURE_LAYOUT_H
#define TURNHEAT_FIGURE_LAYOUT_H

#include "figure_scale.h"
#include "report_doc.h"

struct figure_layout {
    bool narrow; /**< for a phone: fewer ticks, labels in a key */
    bool down;   /**< names from top to bottom, values from left to right */
    bool names;  /**< the first axis has names */
    bool key;    /**< labels in a key over the plot, not beside the marks */
    bool apart;  /**< down: values on a line of their own under the names */
    double width, height;
    double left, right, top, bottom; /**< edges of the plot */
    double unit_y;                   /**< base line of the unit over the values */
    double row;                      /**< height of a row of names down */
    bool unit_in_tick;               /**< the last tick of names down has the unit */
    bool label_below;                /**< a label stands below the ticks */
    struct figure_scale along, value;
    struct figure_ticks along_ticks, value_ticks;
};

/** Height of a line of text. */
#define FIGURE_LINE 17

void figure_lay_out(const struct drawing *drawing, bool narrow, struct figure_layout *layout);

/** Where a value at a place of the first axis lies. */
double figure_x(const struct figure_layout *layout, double at, double value);
double figure_y(const struct figure_layout *layout, double at, double value);

/** What stands beside the name number `index` of a figure of names down: "$120 (-$30 to $240)". */
#define FIGURE_ROW_TEXT (4 * TH_SHOWN_MAX)
const char *figure_row_text(char text[FIGURE_ROW_TEXT], const struct drawing *drawing, int index);

/** "600 to 800 gal", or one value when both are the same or the mark has but one. */
const char *figure_span_text(char text[2 * TH_SHOWN_MAX], const struct th_axis *axis, double low,
                             double high);

/** Whether the mark is an upright rule whose name stands over the plot, on a line of its own. */
bool figure_rule_is_named(const struct mark *mark, bool down);

/** Whether the mark's label is written beside its end or in the key. */
bool figure_has_label(const struct mark *mark);

#endif

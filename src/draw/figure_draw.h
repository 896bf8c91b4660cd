/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Figures as SVG elements. */
#ifndef TURNHEAT_FIGURE_DRAW_H
#define TURNHEAT_FIGURE_DRAW_H

#include "figure_layout.h"

/** Writes the figure, which is not empty, as one <svg> element for a desk or a phone. */
void figure_write_svg(FILE *out, const struct drawing *drawing, bool narrow);

/** The marks of the figure; figure_write_svg() draws axes and labels around them. */
void figure_write_marks(FILE *out, const struct drawing *drawing,
                        const struct figure_layout *layout);

/** Colour, dash and kind of a mark as classes of the page's style. */
#define FIGURE_CLASS_MAX 32
const char *figure_class(char class[FIGURE_CLASS_MAX], const struct mark *mark);

/** What lies at the place: "Jan 5, 2014", or the name. */
const char *figure_place_text(char text[2 * TH_SHOWN_MAX], const struct drawing *drawing,
                              double at);

#endif

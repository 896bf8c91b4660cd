/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Figures of a report, drawn by gnuplot when it is installed. */
#ifndef TURNHEAT_FIGURE_H
#define TURNHEAT_FIGURE_H

#include "report_doc.h"

/**
 * Writes the figure as one <svg> element for a web page. `number` counts the figures of the page
 * from 1 and makes the element's names unique. False, with nothing written, when gnuplot is
 * missing or fails.
 */
bool figure_write_svg(FILE *out, const struct block *figure, int number);

/** Writes the text as XML: & < > " ' become entities. */
void xml_write(FILE *out, const char *text);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A figure as commands for gnuplot. */
#ifndef TURNHEAT_FIGURE_SCRIPT_H
#define TURNHEAT_FIGURE_SCRIPT_H

#include "report_doc.h"

/** Size of the drawing in its own units. */
#define FIGURE_WIDTH 680
#define FIGURE_HEIGHT 390

/** Writes the script that draws the figure as SVG on gnuplot's standard output. */
void figure_write_script(FILE *script, const struct grid *grid);

#endif

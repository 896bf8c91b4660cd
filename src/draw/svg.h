/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Pieces of XML and SVG. Places are in the drawing's own units, about a pixel each. */
#ifndef TURNHEAT_SVG_H
#define TURNHEAT_SVG_H

#include <stdio.h>

/** Height of the letters of every text. */
#define SVG_TEXT 13

/** Writes the text as XML: & < > " ' become entities. */
void xml_write(FILE *out, const char *text);

/** <tag>text</tag>, with attributes as given ("" for none). */
void xml_element(FILE *out, const char *tag, const char *attributes, const char *text);

/** About how wide the text is. */
double svg_text_width(const char *text);

/** A text at x, y (its base line): `anchor` start, middle or end; cut to `most` wide with "…". */
void svg_text(FILE *out, double x, double y, const char *anchor, const char *text, double most);

void svg_line(FILE *out, const char *class, double x1, double y1, double x2, double y2);

/** The opening tag of a group of the class. */
void svg_group(FILE *out, const char *class);

#endif

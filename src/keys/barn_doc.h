/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The key lists of docs/barn-file.md, generated from the table of keys. */
#ifndef TURNHEAT_BARN_DOC_H
#define TURNHEAT_BARN_DOC_H

#include "barn_keys.h"

/** The line of docs/barn-file.md under which the lists stand. */
#define TH_BARN_DOC_MARK "<!-- From here on generated from the table of keys: do not edit. -->"

/** Writes every section with its keys, then materials, assemblies and slab edges, as Markdown. */
void th_barn_doc_write(FILE *out);

/** Writes what to put behind the = of a key: its units, or the words to choose from. */
void th_key_write_value(const struct th_parameter *key, FILE *out);

/** "Meaning. Expected: …, between … and …. Without it: … (source)." */
void th_key_explain(const struct th_parameter *key, FILE *out);

/** What holds without the key: its default, or words for what is worked out, or "none". */
struct th_key_text {
    char text[320];
};
struct th_key_text th_key_default(const struct th_parameter *key);

#endif

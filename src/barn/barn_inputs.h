/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Every input of a room as it was understood. */
#ifndef TURNHEAT_BARN_INPUTS_H
#define TURNHEAT_BARN_INPUTS_H

#include "barn_apply.h"

/** One input. Strings are valid while it is told. */
struct th_barn_input {
    const char *name;    /**< "room.length" */
    const char *section; /**< "room" */
    const struct th_parameter *key;
    double number;         /**< in SI; NAN when it is no single number */
    bool given;            /**< otherwise a default */
    const char *value;     /**< as the program writes it: "51.5 ft", "11-05" */
    const char *written;   /**< as it stands in the file; NULL for a default */
    const char *source;    /**< of a default; NULL: none is told */
    struct th_place place; /**< where it stands */
};

typedef void (*th_barn_input_fn)(void *context, const struct th_barn_input *input);

/** Tells the inputs of the sections that make the room, in the order of the table of keys: what is
 * given and what holds otherwise; keys without which there is nothing are passed over. */
void th_barn_inputs_tell(const struct th_apply *apply, th_barn_input_fn tell, void *context);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** One value of one key: text in, the draft's value out. */
#ifndef TURNHEAT_BARN_VALUES_H
#define TURNHEAT_BARN_VALUES_H

#include "barn_keys.h"

/**
 * Reads `value` for `key` into its place in `element` (th_key_struct()), if it has one, checks its
 * range and marks it as given. `number` receives a number in SI, or the value of a word. `file` is
 * what paths are relative to. TH_ERR_INPUT or TH_ERR_RANGE with a column in `value` says what was
 * expected.
 */
enum th_code th_value_set(const struct th_parameter *key, const char *value, const char *file,
                          void *element, struct th_draft *draft, double *number,
                          struct th_error *err);

/** Joins the folder of `file` and `path` into `joined` unless `path` is absolute. False when too
 * long. */
bool th_path_beside(const char *file, const char *path, char joined[TH_PATH_MAX]);

#endif

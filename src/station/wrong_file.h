/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A file given where another kind of file is expected: what it is and what to do with it. */
#ifndef TURNHEAT_WRONG_FILE_H
#define TURNHEAT_WRONG_FILE_H

#include "files.h"
#include <stdbool.h>

/** The kinds of files that commands read. */
enum th_file_use { TH_USE_BARN, TH_USE_FARM, TH_USE_WEATHER, TH_USE_FILLS, TH_USE_NORMALS };

#define TH_WRONG_FILE_MAX 240

/** Whether the file at `path`, which could not be read as `expected`, is known to be something
 * else; then `text` says what, and what to do. */
bool th_is_wrong_file(struct th_files *files, const char *path, enum th_file_use expected,
                      char text[TH_WRONG_FILE_MAX]);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The browser page with files inside. */
#ifndef TURNHEAT_PAGE_WRITE_H
#define TURNHEAT_PAGE_WRITE_H

#include "files.h"
#include "page_files.h"
#include <jansson.h>
#include <stdio.h>

/**
 * Writes the empty page of `turnheat` (made by src/page/meson.build, found beside the running
 * program in its build folder or as installed) to `out`, with the named `files` of `disk` inside it
 * and `about`, an object that says what each is for. A list "files" of names and sizes is added to
 * it. TH_ERR_USAGE when the page was not made yet, with the command that makes it; TH_ERR_READ for
 * a file that cannot be read; TH_ERR_MEMORY; TH_ERR_INTERNAL.
 */
enum th_code th_page_write(FILE *out, struct th_files *disk, const struct th_page_files *files,
                           json_t *about, struct th_error *err);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Makes one file call of the program fail. The program under test is linked with --wrap for
 * fopen64, fflush, fclose and rename.
 */
#ifndef TURNHEAT_TESTS_FILE_CALLS_H
#define TURNHEAT_TESTS_FILE_CALLS_H

#include <stdbool.h>

enum file_call {
    FILE_NONE,
    FILE_OPEN,  /**< cannot be opened */
    FILE_READ,  /**< opens, but reading from it is an error */
    FILE_FLUSH, /**< the disk is full */
    FILE_CLOSE, /**< the disk is full, seen late */
    FILE_RENAME,
    FILE_CALLS
};

/** Lets the `nth` call of this kind from now on (1 is the next) fail, and no other. */
void files_fail_once(enum file_call call, int nth);

/** Whether that call has come. */
bool files_have_failed(void);

#endif

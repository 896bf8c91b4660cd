/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Status codes and the error record every fallible function fills in.
 *
 * A fallible function returns an `enum th_code` (TH_OK is 0) and takes a
 * `struct th_error *` as its last argument, which may be NULL. The library never prints, never
 * exits and never touches the locale.
 */
#ifndef TURNHEAT_ERROR_H
#define TURNHEAT_ERROR_H

#include <stdbool.h>

/** One list gives the codes and their texts. */
#define TH_CODES(X)                                                                                \
    X(TH_OK, "no error")                                                                           \
    X(TH_ERR_INPUT, "an input is wrong")                                                           \
    X(TH_ERR_RANGE, "a value lies outside its range")                                              \
    X(TH_ERR_COVERAGE, "the weather does not cover what was asked")                                \
    X(TH_ERR_MODEL, "the case lies outside the model")                                             \
    X(TH_ERR_BALANCE, "a balance does not close")                                                  \
    X(TH_ERR_READ, "a file could not be read")                                                     \
    X(TH_ERR_WRITE, "an output could not be written")                                              \
    X(TH_ERR_MEMORY, "out of memory")                                                              \
    X(TH_ERR_NUMERIC, "a numerical method did not converge")                                       \
    X(TH_ERR_CANCELLED, "it was stopped before it was done")                                       \
    X(TH_ERR_USAGE, "the command line is wrong")                                                   \
    X(TH_ERR_INTERNAL, "an error inside the program")

#define TH_CODE_ENUM(code, text) code,
enum th_code { TH_CODES(TH_CODE_ENUM) TH_CODE_COUNT };
#undef TH_CODE_ENUM

/** What went wrong and where. `line` and `column` count from 1; 0 means "not known". */
struct th_error {
    enum th_code code;
    char file[256];
    long line;
    int column;
    char text[512];
};

/** Switches GSL's aborting error handler off. Call once, before any other function. */
void th_init(void);

/** The plain text of `code`; never NULL. */
const char *th_code_text(enum th_code code);

/** Fills `err` (may be NULL) with `code` and a printf-style text, clears its place; returns `code`.
 */
enum th_code th_fail(struct th_error *err, enum th_code code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/** Whether a number is finite and lies from `low` to `high`. */
bool th_in_range(double value, double low, double high);

/** Adds a place to an error already filled in. `file` may be NULL, `line` and `column` 0. */
void th_error_place(struct th_error *err, const char *file, long line, int column);

#endif

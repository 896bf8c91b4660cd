/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Numbers as people read them in messages: thousands with commas, whatever the locale. */
#ifndef TURNHEAT_THOUSANDS_H
#define TURNHEAT_THOUSANDS_H

/**
 * Copies plain digits such as "-6945.1" to `to`, with commas in the whole part, and drops the sign
 * of a rounded-away zero. `to` holds at least 4/3 of the digits and 2 bytes more.
 */
void th_thousands(char *to, const char *digits);

struct th_whole {
    char text[48];
};

/** A number rounded to a whole one: th_whole(6945.1).text is "6,945". 1e15 and more have no commas.
 */
struct th_whole th_whole(double number);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Counts the heap allocations of a test program, those of shared libraries included, and makes one
 * of them fail. Linking allocations.c is enough: its malloc() stands before that of the C library
 * (glibc only; not together with a sanitizer, which brings a malloc() of its own).
 */
#ifndef TURNHEAT_TESTS_ALLOCATIONS_H
#define TURNHEAT_TESTS_ALLOCATIONS_H

#include <stdbool.h>

/** Allocations asked for so far. */
unsigned long allocations_made(void);

/** Blocks that are held now. */
long allocations_held(void);

/** Lets the `nth` allocation from now on (1 is the next) and all after it fail; 0 lets none. */
void allocations_fail_from(unsigned long nth);

/** Lets only the `nth` allocation from now on fail. */
void allocations_fail_once(unsigned long nth);

/** Asks at each allocation from now on, but those of `ask`, whether it fails, until one does;
 * NULL asks nobody. */
void allocations_ask(bool (*ask)(void));

#endif

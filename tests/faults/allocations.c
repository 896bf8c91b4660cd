/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "allocations.h"

#include <errno.h>
#include <malloc.h>
#include <stddef.h>

/* glibc's own allocator under the names that a program may not take over. */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);
void __libc_free(void *block);

static unsigned long made, fail_at;
static long held;
static bool fail_ever_after;
static bool (*asked)(void);
static bool in_child;

#define LARGE_BYTES 8192

static bool chosen(void)
{
    bool (*const ask)(void) = asked;
    asked = NULL;
    if (ask && ask()) {
        in_child = true;
        return true;
    }
    asked = ask;
    return false;
}

static bool fails(void)
{
    made++;
    if (chosen()) {
        errno = ENOMEM;
        return true;
    }
    if (fail_at == 0 || made < fail_at || (made > fail_at && !fail_ever_after))
        return false;
    errno = ENOMEM;
    return true;
}

static void *hold(void *block)
{
    held += block != NULL;
    return block;
}

void *malloc(size_t size)
{
    return fails() ? NULL : hold(__libc_malloc(size));
}

void *calloc(size_t count, size_t size)
{
    return fails() ? NULL : hold(__libc_calloc(count, size));
}

void *realloc(void *block, size_t size)
{
    if (fails())
        return NULL;
    void *const moved = __libc_realloc(block, size);
    held += (moved != NULL) - (block != NULL);
    return moved;
}

void free(void *block)
{
    held -= block != NULL;
    /* To give back a large block, a child would first copy it from its parent. */
    if (!in_child || malloc_usable_size(block) < LARGE_BYTES)
        __libc_free(block);
}

unsigned long allocations_made(void)
{
    return made;
}

long allocations_held(void)
{
    return held;
}

void allocations_fail_from(unsigned long nth)
{
    fail_at = nth ? made + nth : 0;
    fail_ever_after = true;
}

void allocations_fail_once(unsigned long nth)
{
    fail_at = nth ? made + nth : 0;
    fail_ever_after = false;
}

void allocations_ask(bool (*ask)(void))
{
    asked = ask;
}

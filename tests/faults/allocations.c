/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "allocations.h"

#include <errno.h>
#include <stdbool.h>
#include <stddef.h>

/* glibc's own allocator under the names that a program may not take over. */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);

void *malloc(size_t size);
void *calloc(size_t count, size_t size);
void *realloc(void *block, size_t size);

static unsigned long made, fail_at;
static bool fail_ever_after;

static bool fails(void)
{
    made++;
    if (fail_at == 0 || made < fail_at || (made > fail_at && !fail_ever_after))
        return false;
    errno = ENOMEM;
    return true;
}

void *malloc(size_t size)
{
    return fails() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return fails() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size)
{
    return fails() ? NULL : __libc_realloc(block, size);
}

unsigned long allocations_made(void)
{
    return made;
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

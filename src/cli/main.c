/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"
#include "output.h"
#include "run.h"

#ifdef __GLIBC__
#include <malloc.h>
#include <stdlib.h>
#include <sys/mman.h>
#endif

/* Room for what a command takes; none of it is used before it is written to. */
#define HEAP_BYTES ((size_t)512 << 20)
#define ALL_AT_ONCE (2 << 20)
#define PAGE_BYTES 4096

/* Memory once had is kept for the next winter and the next file, and had in large pages where the
 * system has some: having each small page anew takes longer than filling it. */
static void keep_memory(void)
{
#ifdef __GLIBC__
    mallopt(M_MMAP_THRESHOLD, 32 << 20);
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
#ifdef MADV_HUGEPAGE
    mallopt(M_TOP_PAD, (int)HEAP_BYTES);
    char *const heap = malloc(ALL_AT_ONCE);
    mallopt(M_TOP_PAD, ALL_AT_ONCE);
    if (heap)
        madvise(heap + PAGE_BYTES - (size_t)heap % PAGE_BYTES, HEAP_BYTES, MADV_HUGEPAGE);
    free(heap);
#endif
#endif
}

int main(int argc, char **argv)
{
    keep_memory();
    th_output_guard();
    th_init();
    return th_run(th_commands, argc, argv);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"
#include "output.h"
#include "run.h"

#ifdef __GLIBC__
#include <malloc.h>
#endif

/* Memory once had is kept for the next winter and the next file: having each page anew from the
 * system takes longer than filling it. */
static void keep_memory(void)
{
#ifdef __GLIBC__
    mallopt(M_MMAP_THRESHOLD, 32 << 20);
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
#endif
}

int main(int argc, char **argv)
{
    keep_memory();
    th_output_guard();
    th_init();
    return th_run(th_commands, argc, argv);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first byte picks a kind of small CSV table, the rest is the file. What is read must pass the
   checks that the engine relies on. */
#include "fuzz_file.h"

#include "barn_tables.h"
#include "normals_read.h"

#include <stdlib.h>

static void read_table(void)
{
    static const struct th_table_column x[] = {
        {"day", TH_DIM_COUNT, 1}, {"weight", TH_DIM_MASS, 2}, {0}};
    static const struct th_table_column y = {"set", TH_DIM_TEMPERATURE, 0};
    static struct th_table table;
    struct th_error err;
    int meaning = 0;
    if (th_table_read(NULL, "table.csv", x, &y, &table, &meaning, &err) == TH_OK &&
        (th_table_check(&table, &err) != TH_OK || (meaning != 1 && meaning != 2)))
        abort();
}

static void read_normals(void)
{
    static struct th_normals normals;
    struct th_error err;
    if (th_normals_read(NULL, "place.csv", &normals, &err) == TH_OK &&
        th_normals_check(&normals, &err) != TH_OK)
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static void (*const readers[])(void) = {read_table, read_normals};
    if (size == 0)
        return 0;
    th_init();
    fuzz_file_set(data + 1, size - 1);
    readers[data[0] % 2]();
    return 0;
}

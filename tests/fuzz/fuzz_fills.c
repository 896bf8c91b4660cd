/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Deliveries. The first byte is the capacity in hundreds of gallons. Fills that are read must come
   one a day in order, fit into the tanks, and give gallons between them. */
#include "fuzz_file.h"

#include "fills_read.h"

#include <math.h>
#include <stdlib.h>

static void check_fill(const struct th_tank_fill *fill, const struct th_tank_fill *before,
                       double capacity_gal)
{
    if ((before && fill->day <= before->day) || !isfinite(fill->delivered_gal) ||
        fill->delivered_gal < 0.0 || !(fill->level_share >= 0.0 && fill->level_share <= 1.0) ||
        fill->delivered_gal > (1.0 - fill->level_share) * capacity_gal)
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct th_tank_fill fills[TH_FILLS_MAX];
    struct th_error err;
    size_t n = 0;
    if (size == 0)
        return 0;
    const double capacity_gal = 100.0 * data[0];
    th_init();
    fuzz_file_set(data + 1, size - 1);
    const enum th_code code = th_fills_read(NULL, "fills.csv", capacity_gal, 0.0, fills, &n, &err);
    if (n > TH_FILLS_MAX || (code != TH_OK && err.text[0] == '\0'))
        abort();
    for (size_t i = 0; code == TH_OK && i < n; i++)
        check_fill(&fills[i], i > 0 ? &fills[i - 1] : NULL, capacity_gal);
    static double used_gal[TH_FILLS_MAX];
    if (code == TH_OK)
        th_fill_used_gal(n, fills, capacity_gal, used_gal);
    for (size_t i = 0; code == TH_OK && i + 1 < n; i++)
        if (!isfinite(used_gal[i]))
            abort();
    return 0;
}

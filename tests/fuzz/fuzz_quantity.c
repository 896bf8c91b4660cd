/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first byte is a dimension, the rest a value with its unit. What is taken must be finite. */
#include "fuzz_file.h"

#include "quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0)
        return 0;
    char *text = calloc(size, 1);
    if (!text)
        return 0;
    memcpy(text, data + 1, size - 1);
    double value = NAN;
    struct th_error err;
    if (th_quantity_read(text, data[0] % TH_DIMENSION_COUNT, &value, &err) == TH_OK &&
        !isfinite(value))
        abort();
    free(text);
    return 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first byte says which of the six forms to read, or (6 and 7 of eight) to recognise it, and
   what else a user may say about the file; the rest is the file. What is read must be usable: hours
   in order, values finite. */
#include "fuzz_file.h"

#include "turnheat/climate.h"
#include "weather_read.h"

#include <math.h>
#include <stdlib.h>

static void check_hours(const struct th_climate *climate)
{
    for (size_t i = 0; i < climate->n; i++) {
        const struct th_climate_hour *hour = &climate->hours[i];
        if (hour->state != TH_HOUR_MISSING &&
            !(isfinite(hour->out_c) && hour->w_kg_kg >= 0.0 && hour->pressure_pa > 0.0))
            abort();
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0)
        return 0;
    const struct th_weather_options options = {
        .form = th_weather_form_name(data[0] % 8), /* none beyond the last */
        .units = data[0] / 8 % 4 % 3,
        .station = data[0] / 8 % 4 == 3 ? "XXX" : NULL,
        .clock = data[0] / 32 % 4,
        .has_utc_offset = data[0] & 128,
        .utc_offset_h = -6.0};
    const char *path = "725500-14942-2018";
    fuzz_file_set(data + 1, size - 1);
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err;
    th_init();
    if (th_weather_read(NULL, &path, 1, &options, &weather, &err) != TH_OK)
        return 0;
    th_weather_order(&weather);
    if (th_climate_init(&climate, &weather, 300.0, -6.0, &err) == TH_OK) {
        check_hours(&climate);
        th_climate_finish(&climate);
    }
    th_weather_finish(&weather);
    return 0;
}

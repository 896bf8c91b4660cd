/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_kept.h"

bool th_weather_recall(const char *path, const char *how, struct th_weather *weather)
{
    (void)path;
    (void)how;
    (void)weather;
    return false;
}

void th_weather_keep(const char *path, const char *how, const struct th_weather *weather)
{
    (void)path;
    (void)how;
    (void)weather;
}

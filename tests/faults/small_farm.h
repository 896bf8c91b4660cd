/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Files of a small invented farm, and every command that works on them, on one thread. */
#ifndef TURNHEAT_TESTS_SMALL_FARM_H
#define TURNHEAT_TESTS_SMALL_FARM_H

#include "turnheat/calendar.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

static char folder[] = "faults-XXXXXX";
static char weather[64], page[64], barn[64], fills[64], messages[64], output[64];

static struct command {
    const char *name;
    const char *argv[14];
} commands[] = {
    {"budget",
     {"turnheat", "budget", barn, "--weather", weather, "--jobs", "1", "--html", page, NULL}},
    {"compare --json",
     {"turnheat", "compare", barn, "--weather", weather, "--jobs", "1", "--json", NULL}},
    {"plan --csv", {"turnheat", "plan", barn, "--weather", weather, "--jobs", "1", "--csv", NULL}},
    {"size", {"turnheat", "size", barn, "--weather", weather, "--jobs", "1", NULL}},
    {"hours", {"turnheat", "hours", barn, "--weather", weather, "--jobs", "1", NULL}},
    {"weather", {"turnheat", "weather", weather, NULL}},
    {"check", {"turnheat", "check", barn, NULL}},
    {"quote", {"turnheat", "quote", barn, "--weather", weather, "--jobs", "1", NULL}},
    {"calibrate",
     {"turnheat", "calibrate", barn, "--weather", weather, "--jobs", "1", "--fills", fills, "--set",
      "turn winter.days=8", NULL}},
    {"page", {"turnheat", "page", barn, "--weather", weather, "--out", page, NULL}},
};
#define N_COMMANDS (int)(sizeof commands / sizeof *commands)

/* A turn of a day, so that every allocation can be tried; calibrate makes it longer. */
static inline void write_inputs(void)
{
    FILE *file = fopen(weather, "w");
    fputs("time,temp_c,rh,wind_m_s\n", file);
    for (int hour = 0; hour < 12 * 24; hour++) {
        const struct th_date date = th_date_of(th_day_number(2018, 1, 1) + hour / 24);
        fprintf(file, "%d-%02d-%02d %02d:00,%.1f,75,4\n", date.year, date.month, date.day,
                hour % 24, -10.0 + 6.0 * sin(0.26 * hour));
    }
    fclose(file);
    file = fopen(barn, "w");
    fputs("[room]\nname = Invented\nspaces = 1,000\nlength = 200 ft\nwidth = 40 ft\n"
          "height = 8 ft\n[site]\nelevation = 1,000 ft\nutc_offset = -6\n"
          "[surface ceiling]\nkind = ceiling\narea = 8,000 ft2\nR = 30\n"
          "[surface walls]\nkind = wall\narea = 3,840 ft2\nR = 12\n"
          "[air]\ninstalled_max = 100,000 cfm\n[fuel]\nprice = $2.00/gal\n"
          "[heater room]\nunits = 3\ninput = 225,000 Btu/h\n"
          "[tank yard]\n[option thick]\ncost = $100\nsurface ceiling.R = 60\n"
          "[turn winter]\nplace = 01-02\nhead = 1000\nweight = 13 lb\ndays = 1\npreheat = 1 h\n",
          file);
    fclose(file);
    file = fopen(fills, "w");
    fputs("date,gallons,level_before_pct\n", file);
    for (int day = 3; day < 10; day++)
        fprintf(file, "2018-01-%02d,90,50\n", day);
    fclose(file);
}

/** Makes a folder with the inputs; false where that fails. */
static inline bool small_farm_open(void)
{
    if (!mkdtemp(folder))
        return false;
    snprintf(weather, sizeof weather, "%s/w.csv", folder);
    snprintf(barn, sizeof barn, "%s/room.barn", folder);
    snprintf(fills, sizeof fills, "%s/fills.csv", folder);
    snprintf(page, sizeof page, "%s/page.html", folder);
    snprintf(output, sizeof output, "%s/output", folder);
    snprintf(messages, sizeof messages, "%s/messages", folder);
    write_inputs();
    return true;
}

/** Removes everything. */
static inline void small_farm_close(void)
{
    unlink(weather);
    unlink(barn);
    unlink(fills);
    unlink(page);
    unlink(messages);
    unlink(output);
    rmdir(folder);
}

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_turns.h"

#include "turnheat/calendar.h"

#include <math.h>
#include <stdio.h>

#define DAYS_A_YEAR 365
#define COMING_MONTH 4

/* The last day a repeat may be placed on: in the season (from April on the next one), and over
   before the first pigs come again a year later. */
static long last_day(const struct th_turn_plan *turn)
{
    const int season = turn->year - (turn->month < COMING_MONTH);
    const long ends = th_season_first_day(season + 1) - 1;
    const long again = th_day_number(turn->year, turn->month, turn->day) + DAYS_A_YEAR -
                       (long)ceil(turn->preheat_h / 24.0) - turn->days;
    return ends < again ? ends : again;
}

static void add_repeats(struct th_apply *apply, const struct th_turn_plan *turn,
                        struct th_room *room)
{
    char section[TH_SECTION_MAX];
    snprintf(section, sizeof section, "turn %s", turn->name);
    if (turn->year == 0) {
        th_apply_error(apply, section, "every",
                       "place has no year; expected one, such as 2026-11-05");
        return;
    }
    const long first = th_day_number(turn->year, turn->month, turn->day);
    for (int k = 1; first + (long)k * turn->every_days <= last_day(turn); k++) {
        const struct th_date date = th_date_of(first + (long)k * turn->every_days);
        if (room->n_turns == TH_TURNS_MAX) {
            th_apply_error(apply, section, "every",
                           "repeated so often the room has more turns than %d; expected a longer "
                           "time between them",
                           TH_TURNS_MAX);
            return;
        }
        struct th_turn_plan *again = &room->turns[room->n_turns++];
        *again = *turn;
        again->month = date.month;
        again->day = date.day;
        again->year = date.year;
        snprintf(again->name, sizeof again->name, "%.*s %d", TH_NAME_MAX - 16, turn->name, k + 1);
    }
}

void th_barn_turns(struct th_apply *apply, struct th_room *room)
{
    const struct th_draft *draft = apply->draft;
    room->n_turns = draft->n_turns;
    for (int i = 0; i < draft->n_turns; i++)
        room->turns[i] = draft->turns[i];
    for (int i = 0; i < draft->n_turns; i++)
        if (draft->turns[i].every_days > 0)
            add_repeats(apply, &draft->turns[i], room);
}

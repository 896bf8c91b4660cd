/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_questions.h"

#include "barn_values.h"
#include "turnheat/places.h"

#include <stdlib.h>
#include <string.h>

#define EACH(answer)                                                                               \
    {                                                                                              \
        answer, answer, answer                                                                     \
    }

/* Answers are those of invented rooms of usual size and make. */
static const struct th_question questions[] = {
    {"room", "copies", "rooms alike, on the same dates", "", {"1", "1", "4"}},
    {"room", "length", "inside length", "", {"200 ft", "200 ft", "48 ft"}},
    {"room", "width", "inside width", "", {"40 ft", "40 ft", "22 ft"}},
    {"room", "height", "floor to ceiling, inside", "", {"7.5 ft", "8 ft", "8 ft"}},
    {"room",
     "perimeter",
     "edge of the floor that faces outdoors, not other rooms",
     "",
     {NULL, NULL, "22 ft"}},
    {"room",
     "curtain_height",
     "height of the curtains on both long sides",
     "0 ft for solid walls",
     {"4 ft", NULL, NULL}},
    {"room",
     "concrete_height",
     "bare concrete at the foot of the walls",
     "0 ft only if covered to the R of the wall above it (2 in of foam board make about R-11)",
     {"2.5 ft", "2 ft", "0 ft"}},
    {"room",
     "doors",
     "doors and fan openings together",
     "a door is about 20 ft2",
     {"82 ft2", "82 ft2", "12 ft2"}},
    {"room", "walls", "R of the other outer walls",
     "2x6 with R-19 batts 17, 2x4 with R-11 batts 11", EACH("R-17")},
    {"room",
     "ceiling",
     "R of the ceiling",
     "blown cellulose 3.5 an inch, fiberglass 2.5",
     {"R-29", "R-39", "R-35"}},
    {"site", "place", "nearest town with known weather",
     "turnheat weather --places lists them; or latitude, longitude and elevation",
     EACH("Mason City, Iowa")},
    {"air",
     "fan_floor",
     "least air the fans move in cold weather",
     "fan label times lowest controller setting",
     {"2,600 cfm", "2,200 cfm", "650 cfm"}},
    {"air",
     "inlet_air",
     "where air comes in",
     "outside, attic or hallway",
     {"attic", "attic", "hallway"}},
    {"air",
     "hallway_temperature",
     "temperature the hallway is kept at",
     "its own controller",
     {NULL, NULL, "50 F"}},
    {"heater main",
     "units",
     "room heaters",
     "brooders and mats stand under [zone]",
     {"4", "3", "1"}},
    {"heater main",
     "input",
     "input of one",
     "rating plate, Btu/h",
     {"150,000 Btu/h", "120,000 Btu/h", "80,000 Btu/h"}},
    {"heater main", "control", "how they switch", "on_off, lead_lag, two_stage or modulating",
     EACH("on_off")},
    {"heater main", "off_below", "they stop this far below set point", "controller: heat off",
     EACH("1 F")},
    {"turn winter", "place", "pigs come", "", {"Nov 5", "Nov 5", "Nov 5"}},
    {"turn winter", "head", "pigs placed in one room", "", {"1,050", "1,050", "320"}},
    {"turn winter", "weight", "weight they come at", "", EACH("13 lb")},
    {"turn winter", "days", "how long they stay", "days, or 24 weeks", {"165", "165", "46"}},
    {"turn next", "place", "the turn after it", "", {"May 5", "May 5", "Jan 6"}},
    {"turn next", "head", "", "", {"1,050", "1,050", "320"}},
    {"turn next", "weight", "", "", EACH("13 lb")},
    {"turn next", "days", "", "", {"165", "165", "46"}},
    {"fuel", "price", "price of propane", "your last ticket", EACH("$1.85")},
    {"record last winter", "gallons", "propane of last winter, if known; narrows the answer most",
     "your supplier", EACH("8,000 gal")},
    {"record last winter", "season", "which winter that was", "1 July to 30 June", EACH("2025-26")},
};

const struct th_question *th_questions(size_t *n)
{
    *n = sizeof questions / sizeof *questions;
    return questions;
}

bool th_question_is_optional(const struct th_question *question)
{
    static const char record[] = "record ";
    return strncmp(question->section, record, sizeof record - 1) == 0;
}

enum th_code th_question_check(const struct th_question *question, const char *answer,
                               struct th_error *err)
{
    const char *name;
    const struct th_section_kind *const kind = th_section_kind_of(question->section, &name);
    const struct th_parameter *const key = th_key_find(kind, question->key);
    const struct th_places_row *row;
    double number;
    if (strcmp(question->key, "place") == 0 && strcmp(question->section, "site") == 0)
        return th_places_find(answer, &row, err);
    struct th_draft *const draft = calloc(1, sizeof *draft);
    void *const element = calloc(1, kind->stride + sizeof *draft);
    const enum th_code code =
        draft && element
            ? th_value_set(key, answer, "", th_key_struct(kind, key, element), draft, &number, err)
            : th_fail(err, TH_ERR_MEMORY, "out of memory");
    free(element);
    free(draft);
    return code;
}

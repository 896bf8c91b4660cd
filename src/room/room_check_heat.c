/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fans and heaters against each other. */
#include "room_check.h"

#include "turnheat/air.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

/* Input above 20 Btu/h per cubic foot is more than Ontario clause 7.36.1 lets unvented heaters have
 * without special air. */
static const double MOST_INPUT_W_M3 = 20.0 * TH_W_PER_BTUH / TH_M3_PER_FT3;

static void check_flows(const struct th_air *air, struct th_findings *f)
{
    if (air->max_m3_s > 0.0 && air->max_m3_s < air->floor_m3_s)
        th_find_error(f, "air", "installed_max", "the most air is below the fan floor");
}

static void check_minimum(const struct th_air *air, struct th_findings *f)
{
    struct th_error err;
    if (th_table_check(&air->minimum_m3_s, &err) != TH_OK)
        th_find_error(f, "air", "minimum_table", "%s", err.text);
    if (air->minimum_share < 1.0)
        th_find_warning(f, "air", "minimum",
                        "minimum air is set by hand to %.0f %% of the table: watch humidity, "
                        "ammonia and carbon dioxide, and never go lower to save fuel",
                        100.0 * air->minimum_share);
}

double th_room_least_fan_m3_s(const struct th_room *room)
{
    const struct th_air *air = &room->air;
    double lowest = INFINITY;
    for (int i = 0; i < room->n_turns; i++) {
        const struct th_turn_plan *turn = &room->turns[i];
        const double wanted =
            turn->head * air->minimum_share * th_table_at(&air->minimum_m3_s, turn->weight_kg);
        lowest = fmin(lowest, fmax(wanted, air->floor_m3_s));
    }
    return lowest;
}

static void check_leakage(const struct th_room *room, struct th_findings *f)
{
    if (room->n_turns < 1 || th_table_check(&room->air.minimum_m3_s, NULL) != TH_OK)
        return;
    const double leak = th_air_leak_20_pa_m3_s(room->air.leak_cm2);
    const double fans = th_room_least_fan_m3_s(room);
    if (room->known.leakage && leak > fans)
        th_find_warning(f, "air", "leakage",
                        "at 20 Pa the shell leaks %s cfm, more than the %s cfm the fans move at "
                        "minimum: the inlets cannot be in control of the air",
                        th_whole(leak / TH_M3S_PER_CFM).text, th_whole(fans / TH_M3S_PER_CFM).text);
}

/* The smallest fans of barns move some hundreds of cfm, a timer's share of them tens: our
 * judgement. */
#define LEAST_FLOOR_CFM 20.0

static void check_least_floor(const struct th_air *air, struct th_findings *f)
{
    const double floor_cfm = air->floor_m3_s / TH_M3S_PER_CFM;
    if (floor_cfm > 0.0 && floor_cfm < LEAST_FLOOR_CFM)
        th_find_warning(f, "air", "fan_floor",
                        "the fans' lowest flow is %.3g cfm, less than any fan of a barn: are "
                        "thousands meant? They are written with a comma, as 5,000 cfm",
                        floor_cfm);
}

/* Minimum air of the heaviest pigs is 10 cfm a head (MWPS-32): a smallest fan that cannot go below
 * it is not one. */
static void check_floor_flow(const struct th_room *room, struct th_findings *f)
{
    double most = 0.0;
    for (int i = 0; i < room->n_turns; i++)
        most = fmax(most, room->turns[i].head);
    const double each_cfm = most > 0.0 ? room->air.floor_m3_s / most / TH_M3S_PER_CFM : 0.0;
    if (each_cfm > 10.0)
        th_find_warning(f, "air", "fan_floor",
                        "the fans' lowest flow is %.3g cfm a pig, more than the minimum of grown "
                        "pigs (10): is a tenth of it, %s cfm, meant?",
                        each_cfm, th_whole(room->air.floor_m3_s / TH_M3S_PER_CFM / 10.0).text);
}

void th_check_air(const struct th_room *room, struct th_findings *f)
{
    check_floor_flow(room, f);
    check_least_floor(&room->air, f);
    check_flows(&room->air, f);
    if (room->n_turns > 0 && !(room->air.max_m3_s > 0.0))
        th_find_error(f, "air", "installed_max", "the room's largest air flow is missing");
    check_minimum(&room->air, f);
    check_leakage(room, f);
}

static void check_offsets(const struct th_heater *heater, double ramp_start_k, const char *section,
                          struct th_findings *f)
{
    if (!(heater->on_k > heater->off_k))
        th_find_error(f, section, "on_below",
                      "the heater comes on %.1f °F and goes off %.1f °F below set point: it must "
                      "come on lower than it goes off",
                      heater->on_k / TH_K_PER_F, heater->off_k / TH_K_PER_F);
    if (!(-heater->off_k < ramp_start_k))
        th_find_error(f, section, "off_below",
                      "the fans start to ramp at set point %+.1f °F, below the heater's OFF point: "
                      "heater and fans would fight",
                      ramp_start_k / TH_K_PER_F);
}

static void check_heater(const struct th_heater *heater, double ramp_start_k, struct th_findings *f)
{
    char section[TH_NAME_MAX + 12];
    snprintf(section, sizeof section, "heater %s", heater->name);
    if (heater->units < 1)
        th_find_error(f, section, "units", "a group of heaters has at least one unit");
    if (!(heater->turndown > 0.0))
        th_find_error(f, section, "turndown",
                      "turndown is missing: the lowest fire as a share of "
                      "the rating");
    th_find_ranges(f, section, &th_parameters_heater, heater);
    check_offsets(heater, ramp_start_k, section, f);
}

static void check_heater_size(const struct th_room *room, struct th_findings *f)
{
    double unvented_w = 0.0;
    for (int i = 0; i < room->n_heaters; i++)
        if (!room->heaters[i].vented)
            unvented_w += room->heaters[i].units * room->heaters[i].input_w;
    if (room->shell.volume_m3 > 0.0 && unvented_w > MOST_INPUT_W_M3 * room->shell.volume_m3)
        th_find_warning(f, "room", "",
                        "unvented heaters of %s Btu/h are more than 20 Btu/h per cubic foot of "
                        "room (Ontario clause 7.36.1): larger than makes sense",
                        th_whole(unvented_w / TH_W_PER_BTUH).text);
}

/* Barns have 60 to 250 Btu/h of room heaters a pig (common practice, no source). */
#define LEAST_BTUH_PIG 30.0

static void check_heater_smallness(const struct th_room *room, struct th_findings *f)
{
    double input_w = 0.0, head = 0.0;
    for (int i = 0; i < room->n_heaters; i++)
        input_w += room->heaters[i].units * room->heaters[i].input_w;
    for (int i = 0; i < room->n_turns; i++)
        head = fmax(head, room->turns[i].head);
    const double input_btuh = input_w / TH_W_PER_BTUH;
    if (input_w > 0.0 && !room->zone.on && input_btuh < LEAST_BTUH_PIG * head)
        th_find_warning(f, "room", "",
                        "heaters of %s Btu/h for %s pigs are %.2g Btu/h a pig, and barns have 60 "
                        "to 250: is a zero missing?",
                        th_whole(input_btuh).text, th_whole(head).text, input_btuh / head);
}

void th_check_heat(const struct th_room *room, struct th_findings *f)
{
    if (room->n_heaters < 1)
        th_find_error(f, "room", "", "the room has no heater: add [heater main]");
    for (int i = 0; i < room->n_heaters; i++)
        check_heater(&room->heaters[i], room->air.ramp_start_k, f);
    check_heater_size(room, f);
    check_heater_smallness(room, f);
}

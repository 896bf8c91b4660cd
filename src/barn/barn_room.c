/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_room.h"

#include "barn_digest.h"
#include "barn_layers.h"
#include "barn_room_air.h"
#include "barn_shape.h"
#include "barn_site.h"
#include "barn_tables.h"
#include "barn_turns.h"
#include "turnheat/envelope.h"
#include "turnheat/season.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Slope length over run of a 4 in 12 roof. */
static const double ROOF_SLOPE = 1.054;
/* MWPS-32, hot weather, finishing pigs: from memory. */
static const double HOT_WEATHER_CFM = 120.0;
/* A blower of 500 W for every 250,000 Btu/h: from memory. */
static const double BLOWER_W_PER_BTUH = 500.0 / 250000.0;

static void section_name(char section[TH_SECTION_MAX], const char *word, const char *name)
{
    snprintf(section, TH_SECTION_MAX, "%s %.*s", word, TH_SECTION_MAX - 12, name);
}

/* --- surfaces --- */

static void lay_out_layers(struct th_apply *apply, struct th_surface *surface, const char *section)
{
    struct th_error err = {0};
    if (th_layers_r(th_apply_text(apply, section, "layers").text,
                    th_apply_number(apply, section, "framing"), surface->kind, surface->faces,
                    &surface->r_m2k_w, &err) == TH_OK)
        return;
    struct th_place place = th_apply_place(apply, section, "layers");
    place.column += err.column > 0 ? err.column - 1 : 0;
    th_apply_error_at(apply, section, &place, "%s", err.text);
}

static void take_assembly(struct th_apply *apply, struct th_surface *surface, const char *name,
                          const char *section)
{
    const struct th_assembly *const assembly = th_assembly_find(name);
    if (!assembly)
        th_apply_error(apply, section, "assembly",
                       "assembly '%s' is not known; expected one of the list in docs/barn-file.md",
                       name);
    else
        th_envelope_r(assembly->layers, assembly->n_layers, assembly->framing_share,
                      &surface->r_m2k_w, NULL);
}

static void make_surface(struct th_apply *apply, struct th_surface *surface)
{
    char section[TH_SECTION_MAX];
    section_name(section, "surface", surface->name);
    if (th_apply_holds(apply, section, "R"))
        return;
    if (th_apply_holds(apply, section, "layers"))
        lay_out_layers(apply, surface, section);
    else if (th_apply_holds(apply, section, "assembly"))
        take_assembly(apply, surface, th_apply_text(apply, section, "assembly").text, section);
    else if (surface->kind == TH_CURTAIN)
        take_assembly(apply, surface, "curtain", section);
    else if (!th_apply_is_bad(apply, section))
        th_apply_error(apply, section, "", "there is no R; expected R, layers or assembly");
}

static void make_surfaces(struct th_apply *apply, struct th_room *room)
{
    const struct th_draft *const draft = apply->draft;
    room->n_surfaces = draft->n_surfaces;
    for (int i = 0; i < draft->n_surfaces; i++) {
        room->surfaces[i] = draft->surfaces[i];
        make_surface(apply, &room->surfaces[i]);
    }
    th_barn_shape_surfaces(apply, room);
}

/* --- the shell --- */

static double area_facing_attic(const struct th_room *room)
{
    double area_m2 = 0.0;
    for (int i = 0; i < room->n_surfaces; i++)
        if (room->surfaces[i].faces == TH_FACES_ATTIC)
            area_m2 += room->surfaces[i].area_m2;
    return area_m2;
}

static void find_edge(struct th_apply *apply, struct th_shell *shell)
{
    const struct th_apply_text name = th_apply_text(apply, "room", "slab_edge");
    const struct th_slab_edge *const edge = th_slab_edge_find(name.text);
    if (edge)
        shell->edge_f_w_mk = edge->f_w_mk;
    else
        th_apply_error(apply, "room", "slab_edge",
                       "slab edge '%s' is not known; expected one of the list in docs/barn-file.md",
                       name.text);
}

static void make_shell(struct th_apply *apply, struct th_room *room)
{
    struct th_shell *const shell = &room->shell;
    if (!(shell->floor_m2 > 0.0))
        shell->floor_m2 = shell->length_m * shell->width_m;
    if (!(shell->volume_m3 > 0.0))
        shell->volume_m3 = shell->floor_m2 * shell->height_m;
    if (!th_apply_holds(apply, "room", "perimeter"))
        shell->perimeter_m = 2.0 * (shell->length_m + shell->width_m);
    if (!th_apply_holds(apply, "room", "roof_area"))
        shell->roof_m2 = ROOF_SLOPE * area_facing_attic(room);
    if (!th_apply_holds(apply, "room", "slab_edge_F"))
        find_edge(apply, shell);
}

/* --- heaters, pigs, fuel --- */

static void make_heaters(const struct th_apply *apply, struct th_room *room)
{
    room->n_heaters = 0;
    for (int i = 0; i < apply->draft->n_heaters; i++) {
        const struct th_heater *const from = &apply->draft->heaters[i];
        char section[TH_SECTION_MAX];
        section_name(section, "heater", from->name);
        if (from->units == 0)
            continue;
        struct th_heater *const heater = &room->heaters[room->n_heaters++];
        *heater = *from;
        if (!th_apply_holds(apply, section, "turndown"))
            heater->turndown = th_heater_turndown(heater->control);
        if (!th_apply_holds(apply, section, "blower"))
            heater->blower_w = BLOWER_W_PER_BTUH * heater->input_w / TH_W_PER_BTUH;
    }
}

static void make_turns(struct th_apply *apply, struct th_room *room)
{
    double most = 0.0;
    th_barn_turns(apply, room);
    for (int i = 0; i < room->n_turns; i++)
        most = fmax(most, room->turns[i].head);
    if (!(room->spaces > 0.0))
        room->spaces = most;
    if (!(room->air.max_m3_s > 0.0))
        room->air.max_m3_s = HOT_WEATHER_CFM * TH_M3S_PER_CFM * room->spaces;
}

/* A choice of the other gas adds that one's price: the present one's may stand beside it. */
static void check_price(struct th_apply *apply, bool propane)
{
    const bool gallon = th_apply_has(apply, "fuel", "price");
    const bool therm = th_apply_has(apply, "fuel", "price_per_therm");
    if (propane && therm && !gallon)
        th_apply_error(apply, "fuel", "price_per_therm",
                       "propane has a price per gallon; expected price, or gas = natural");
    if (!propane && gallon && !therm)
        th_apply_error(apply, "fuel", "price",
                       "natural gas has a price per therm; expected price_per_therm");
}

static void make_fuel(struct th_apply *apply, struct th_room *room)
{
    struct th_fuel *const fuel = &room->fuel;
    const struct th_fuel given = *fuel;
    const bool has_content = th_apply_holds(apply, "fuel", "heat_content");
    const bool propane = fuel->gas == TH_PROPANE;
    th_fuel_of_gas(fuel, fuel->gas);
    if (has_content && propane) {
        /* A gallon with more heat makes as much water and carbon dioxide per gallon. */
        fuel->water_kg_j *= fuel->hhv_j / given.hhv_j;
        fuel->co2_m3_j *= fuel->hhv_j / given.hhv_j;
        fuel->hhv_j = given.hhv_j;
    } else if (has_content)
        th_apply_error(apply, "fuel", "heat_content",
                       "a gallon's heat content has no meaning for natural gas");
    if (th_apply_holds(apply, "fuel", "lower_share"))
        fuel->lhv_share = given.lhv_share;
    check_price(apply, propane);
}

/* --- tables --- */

static bool read_table(struct th_apply *apply, const char *section, const char *key,
                       const struct th_table_column *x, const struct th_table_column *y,
                       struct th_table *table, int *meaning)
{
    char path[TH_PATH_MAX];
    struct th_error err = {0};
    if (!th_apply_path(apply, section, key, path))
        return false;
    const enum th_code code = th_table_read(apply->files, path, x, y, table, meaning, &err);
    if (code == TH_OK)
        return true;
    if (err.line > 0) {
        const struct th_place place = {.file = path, .line = err.line};
        th_apply_error_at(apply, section, &place, "%s", err.text);
    } else
        th_apply_error(apply, section, key, "%.200s: %s", path, err.text);
    return false;
}

static const struct th_table_column weight_x[] = {{"weight", TH_DIM_MASS, TH_BY_WEIGHT}, {0}};
static const struct th_table_column day_x[] = {{"day", TH_DIM_DAYS, TH_BY_TURN_DAY}, {0}};
static const struct th_table_column setpoint_x[] = {{"curve_day", TH_DIM_DAYS, TH_BY_CURVE_DAY},
                                                    {"turn_day", TH_DIM_DAYS, TH_BY_TURN_DAY},
                                                    {"weight", TH_DIM_MASS, TH_BY_WEIGHT},
                                                    {0}};
static const struct th_table_column weight_y = {"weight", TH_DIM_MASS, 0};
static const struct th_table_column set_y = {"set", TH_DIM_TEMPERATURE, 0};
static const struct th_table_column comfort_y = {"comfort", TH_DIM_TEMPERATURE, 0};
static const struct th_table_column air_y = {"air", TH_DIM_FLOW, 0};

static void make_tables(struct th_apply *apply, struct th_room *room)
{
    struct th_setpoints *const set = &room->setpoints;
    if (read_table(apply, "pigs", "growth_table", day_x, &weight_y, &room->pigs.weight_kg, NULL))
        room->pigs.growth = TH_GROWTH_BY_DAY;
    int by = (int)set->by;
    if (read_table(apply, "setpoints", "table", setpoint_x, &set_y, &set->set_c, &by))
        set->by = (enum th_by)by;
    read_table(apply, "setpoints", "comfort_table", weight_x, &comfort_y, &set->comfort_c, NULL);
    read_table(apply, "air", "minimum_table", weight_x, &air_y, &room->air.minimum_m3_s, NULL);
    const double shift_k = th_apply_number(apply, "setpoints", "shift");
    for (int i = 0; i < set->set_c.n; i++)
        set->set_c.y[i] += shift_k;
}

static void name_after_file(const char *path, struct th_room *room)
{
    const char *const slash = strrchr(path, '/');
    const char *const stem = slash ? slash + 1 : path;
    snprintf(room->name, sizeof room->name, "%.*s", (int)strcspn(stem, "."), stem);
}

static struct th_known known_of(const struct th_apply *apply)
{
    return (struct th_known){.minimum_air = th_apply_has(apply, "air", "minimum") ||
                                            th_apply_has(apply, "air", "minimum_curve") ||
                                            th_apply_has(apply, "air", "minimum_table"),
                             .fan_floor = th_apply_has(apply, "air", "fan_floor"),
                             .leakage = th_apply_has(apply, "air", "leakage") ||
                                        th_apply_has(apply, "air", "leakage_per_floor") ||
                                        th_apply_has(apply, "air", "leakage_ach20"),
                             .set_points = th_apply_has(apply, "setpoints", "table") ||
                                           th_apply_has(apply, "setpoints", "shift")};
}

void th_barn_room_make(struct th_apply *apply, struct th_room *room)
{
    *room = apply->draft->room;
    if (!room->name[0])
        name_after_file(apply->barn_path, room);
    th_barn_site_make(apply, &room->site);
    make_surfaces(apply, room);
    make_shell(apply, room);
    make_heaters(apply, room);
    th_barn_room_air(apply, room);
    make_turns(apply, room);
    make_fuel(apply, room);
    make_tables(apply, room);
    room->known = known_of(apply);
    room->fitted.given = th_apply_has(apply, "calibration", NULL);
}

/* The group of heaters that makes the most stages. */
static const char *most_units(const struct th_room *room)
{
    const struct th_heater *most = &room->heaters[0];
    for (int i = 1; i < room->n_heaters; i++)
        if (room->heaters[i].units > most->units)
            most = &room->heaters[i];
    return most->name;
}

/* What the engine would refuse is said here, where the file is still known. */
static void try_engine(struct th_apply *apply, const struct th_room *room)
{
    struct th_error err = {0};
    char section[TH_SECTION_MAX] = "room";
    struct th_engine *const engine = calloc(1, sizeof *engine);
    if (!engine) {
        apply->issues->memory_short = true;
        return;
    }
    const enum th_code code = th_engine_init(engine, room, &err);
    if (code == TH_ERR_MODEL)
        section_name(section, "heater", most_units(room));
    if (code == TH_OK)
        th_engine_finish(engine);
    else if (code == TH_ERR_MEMORY)
        apply->issues->memory_short = true;
    else
        th_apply_error(apply, section, code == TH_ERR_MODEL ? "units" : "overshoot", "%s",
                       err.text);
    free(engine);
}

/* What fills taught holds for the room they were weighed with. */
static void check_fitted(struct th_apply *apply, const struct th_room *room)
{
    char digest[TH_NAME_MAX];
    if (!room->fitted.given)
        return;
    th_barn_digest(apply->text, room, true, digest);
    if (!th_barn_digest_differs(digest, room->fitted.inputs))
        return;
    /* What --set changes is a question to the barn that was fitted, as a [choice] is. */
    th_barn_digest(apply->text, room, false, digest);
    const char *const differs = th_barn_digest_differs(digest, room->fitted.inputs);
    if (differs)
        th_apply_error(apply, "calibration", "inputs",
                       "[%s] is not what it was when turnheat calibrate made this [calibration], "
                       "so it no longer holds; take the section out and calibrate again",
                       differs);
}

/* Turns that `every` repeats say the same again. */
static bool said_before(const struct th_findings *findings, int i)
{
    for (int before = 0; before < i; before++)
        if (strncmp(findings->warnings[i].section, "turn ", 5) == 0 &&
            strcmp(findings->warnings[before].text, findings->warnings[i].text) == 0)
            return true;
    return false;
}

void th_barn_room_review(struct th_apply *apply, const struct th_room *room)
{
    struct th_findings findings;
    th_room_review(room, &findings);
    for (int i = 0; i < findings.n_errors && i < TH_FINDINGS_MAX; i++) {
        const struct th_finding *const found = &findings.errors[i];
        const bool everything = strcmp(found->section, "room") == 0;
        if (th_apply_is_bad(apply, found->section) || (everything && apply->n_bad > 0))
            continue;
        const struct th_place place = th_apply_place(apply, found->section, found->key);
        th_issues_error(apply->issues, &place, "%s%s%s%s", place.source ? "" : "[",
                        place.source ? "" : found->section, place.source ? "" : "] ", found->text);
    }
    for (int i = 0; i < findings.n_warnings && i < TH_FINDINGS_MAX && apply->n_bad == 0; i++) {
        const struct th_finding *const found = &findings.warnings[i];
        const struct th_place place = th_apply_place(apply, found->section, found->key);
        if (said_before(&findings, i))
            continue;
        th_issues_warning(apply->issues, &place, "%s", found->text);
    }
    if (findings.n_errors == 0 && apply->n_bad == 0)
        check_fitted(apply, room);
    if (findings.n_errors == 0 && apply->n_bad == 0)
        try_engine(apply, room);
}

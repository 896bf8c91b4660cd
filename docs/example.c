/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How another program uses the library: gallons of one room in ten winters, with two ceilings.
   Everything is SI; units.h has the factors. The room and its place are invented. See library.md.
 */
#include <stdio.h>
#include <stdlib.h>
#include <turnheat/normals.h>
#include <turnheat/units.h>
#include <turnheat/version.h>
#include <turnheat/winters.h>

#define ELEVATION_M 300.0
#define SEASONS 10
#define SEED 1
#define LAST_YEAR (TH_NORMAL_FIRST_YEAR + SEASONS - 1)

/* Monthly means, °F: an invented place in the upper Midwest. */
static const double mean_f[12] = {16, 21, 34, 48, 60, 69, 73, 71, 62, 49, 35, 21};

/* Hours made from monthly statistics. With hours of your own, fill a struct th_weather instead:
   th_weather_add_file(), then th_weather_add() for each reading, and set its clock. */
static enum th_code make_weather(struct th_climate *climate, struct th_error *err)
{
    struct th_normals normals = {.place = "an invented place"};
    struct th_weather weather;
    for (int i = 0; i < 12; i++)
        normals.month[i] = (struct th_month_normal){.mean_c = th_c_from_f(mean_f[i]),
                                                    .sd_k = 10.0 * TH_K_PER_F,
                                                    .lag1 = 0.7,
                                                    .range_k = 18.0 * TH_K_PER_F};
    enum th_code code = th_normals_generate(&normals, SEASONS, SEED, &weather, err);
    if (code != TH_OK)
        return code;
    code = th_climate_init(climate, &weather, ELEVATION_M, -6.0, err);
    th_weather_finish(&weather);
    return code;
}

static void add_surface(struct th_room *room, enum th_surface_kind kind, double area_ft2,
                        double r_us)
{
    struct th_surface *const surface = &room->surfaces[room->n_surfaces++];
    th_surface_defaults(surface);
    surface->kind = kind;
    surface->area_m2 = area_ft2 * TH_M2_PER_FT2;
    surface->r_m2k_w = r_us * TH_R_SI_PER_US;
}

/* 40 × 200 × 8 ft, 1,000 pigs of 13 lb placed on 5 November for 165 days. What is not set here has
   the default that docs/barn-file.md lists. */
static struct th_room make_room(void)
{
    struct th_room room;
    th_room_defaults(&room);
    room.spaces = 1000.0;
    room.site.has_elevation = true;
    room.site.elevation_m = ELEVATION_M;
    room.shell.floor_m2 = 8000.0 * TH_M2_PER_FT2;
    room.shell.volume_m3 = 64000.0 * TH_M3_PER_FT3;
    room.shell.perimeter_m = 480.0 * TH_M_PER_FT;
    room.air.max_m3_s = 100000.0 * TH_M3S_PER_CFM;
    room.air.leak_cm2 = 1000.0;
    add_surface(&room, TH_CEILING, 8000.0, 30.0);
    add_surface(&room, TH_WALL, 3840.0, 15.0);
    room.n_heaters = 1;
    th_heater_defaults(&room.heaters[0]);
    room.heaters[0].control = TH_ON_OFF;
    room.heaters[0].units = 3;
    room.heaters[0].input_w = 225000.0 * TH_W_PER_BTUH;
    room.n_turns = 1;
    th_turn_defaults(&room.turns[0]);
    room.turns[0].month = 11;
    room.turns[0].day = 5;
    room.turns[0].head = 1000.0;
    room.turns[0].weight_kg = 13.0 * TH_KG_PER_LB;
    room.turns[0].days = 165;
    return room;
}

/* One line a season, then the mean. The room must pass th_room_check() before it is run. */
static enum th_code print_gallons(const char *title, const struct th_room *room,
                                  const struct th_climate *climate, struct th_error *err)
{
    struct th_winters winters;
    struct th_tally total;
    enum th_code code = th_room_check(room, err);
    if (code == TH_OK)
        code = th_winters_run(&winters, room, climate, TH_NORMAL_FIRST_YEAR, LAST_YEAR, NULL, err);
    if (code != TH_OK)
        return code;
    printf("%s\n", title);
    for (int i = 0; i < winters.n; i++)
        if (winters.seasons[i].counted)
            printf("  %d-%02d %8.1f gal\n", winters.seasons[i].year,
                   (winters.seasons[i].year + 1) % 100,
                   th_tally_gas_j(&winters.seasons[i].total) / room->fuel.hhv_j);
    th_winters_total(&winters, &total);
    printf("  mean    %8.1f gal; heat balance open by %.0e\n",
           th_winters_mean_gas_j(&winters) / room->fuel.hhv_j, th_tally_heat_gap(&total));
    th_winters_finish(&winters);
    return TH_OK;
}

int main(void)
{
    struct th_climate climate;
    struct th_error err;
    struct th_room room = make_room();
    th_init();
    printf("turnheat %s\n", th_version());
    enum th_code code = make_weather(&climate, &err);
    if (code == TH_OK) {
        code = print_gallons("ceiling R-30", &room, &climate, &err);
        room.surfaces[0].r_m2k_w = 50.0 * TH_R_SI_PER_US; /* a variant is a copy with one change */
        if (code == TH_OK)
            code = print_gallons("ceiling R-50", &room, &climate, &err);
        th_climate_finish(&climate);
    }
    if (code != TH_OK)
        fprintf(stderr, "%s: %s\n", th_code_text(code), err.text);
    return code == TH_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}

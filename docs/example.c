/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How another program uses the library: gallons of one room in ten winters, with two ceilings; what
   burners that turn down are worth in it; and how to buy its gas. Everything is SI; units.h has the
   factors. The room, its place and the offer are invented. See library.md. */
#include <stdio.h>
#include <stdlib.h>
#include <turnheat/compare.h>
#include <turnheat/design.h>
#include <turnheat/normals.h>
#include <turnheat/plan.h>
#include <turnheat/units.h>
#include <turnheat/version.h>

#define ELEVATION_M 300.0
#define SEASONS 10
#define SEED 1
#define LAST_YEAR (TH_NORMAL_FIRST_YEAR + SEASONS - 1)
#define JOBS 2
#define PATHS 200
#define PRICE_USD_GAL 1.85

/* Monthly means, °F: an invented place in the upper Midwest. */
static const double mean_f[12] = {16, 21, 34, 48, 60, 69, 73, 71, 62, 49, 35, 21};

/* Hours made from monthly statistics. With hours of your own, fill a struct th_weather instead:
   th_weather_add_file(), then th_weather_add() for each reading, and set its clock. */
static enum th_code make_weather(struct th_weather *weather, struct th_climate *climate,
                                 struct th_error *err)
{
    struct th_normals normals = {.place = "an invented place"};
    for (int i = 0; i < 12; i++)
        normals.month[i] = (struct th_month_normal){.mean_c = th_c_from_f(mean_f[i]),
                                                    .sd_k = 10.0 * TH_K_PER_F,
                                                    .lag1 = 0.7,
                                                    .range_k = 18.0 * TH_K_PER_F};
    enum th_code code = th_normals_generate(&normals, SEASONS, SEED, weather, err);
    if (code == TH_OK)
        code = th_climate_init(climate, weather, ELEVATION_M, -6.0, err);
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
    room.fuel.has_price = true;
    room.fuel.price = PRICE_USD_GAL;
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

/* A choice is the room with other heaters; one list of runs serves all of them. */
static enum th_code print_choice(struct th_runs *runs, const struct th_case *one,
                                 struct th_error *err)
{
    struct th_choice choice = {
        .buy = {.name = "burners that turn down to 30 %", .cost_usd = 900.0, .life_years = 15.0},
        .room = *one->room};
    struct th_design design;
    struct th_comparison *const found = malloc(sizeof *found);
    if (!found)
        return TH_ERR_MEMORY;
    choice.room.heaters[0].control = TH_MODULATING;
    choice.room.heaters[0].turndown = 0.3;
    enum th_code code = th_room_check(&choice.room, err);
    if (code == TH_OK)
        code = th_design_of(one, &design, err);
    if (code == TH_OK)
        code = th_comparison_run(found, runs, one, &choice, 1, design.days[0].out_99_c, NULL, err);
    if (code == TH_OK)
        printf("%s: %s\n  as warm as today %.0f gal less a season\n", choice.buy.name,
               th_verdict_word(found->money[0].verdict),
               th_comparison_units(found, &found->results[0].trial) -
                   th_comparison_units(found, th_judged(&found->results[1])));
    if (code == TH_OK &&
        th_verdict_harmless(found->money[0].verdict)) /* else dollars keep silent */
        printf("  net savings %.0f $\n", found->money[0].today.net.usd);
    free(found);
    return code;
}

/* Two tanks, one offer: what a winter takes over what is not known, and how much to prepay. */
static enum th_code print_plan(struct th_runs *runs, const struct th_case *one,
                               struct th_error *err)
{
    struct th_tank tank;
    struct th_contract prepaid;
    struct th_price_model price;
    struct th_plan plan;
    th_tank_defaults(&tank);
    tank.count = 2;
    tank.capacity_gal = 1000.0;
    th_contract_defaults(&prepaid, TH_CONTRACT_PREPAID);
    prepaid.volume_gal = 2000.0;
    prepaid.price_usd_gal = 1.70;
    th_price_defaults(&price);
    price.posted_usd_gal = PRICE_USD_GAL;
    price.today_month = 8;
    const struct th_plan_in in = {.cases = one,
                                  .n_cases = 1,
                                  .tanks = &tank,
                                  .n_tanks = 1,
                                  .contracts = &prepaid,
                                  .n_contracts = 1,
                                  .price = &price,
                                  .seed = SEED,
                                  .n_paths = PATHS};
    const enum th_code code = th_plan_run(runs, &in, &plan, err);
    if (code == TH_OK)
        printf("plan\n  a winter takes %.0f gal (%.0f to %.0f)\n  prepaid: %.0f gal costs least on "
               "average, %.0f gal in bad cases\n",
               plan.answer.now.middle, plan.answer.now.low, plan.answer.now.high,
               plan.buying.split.cheapest.volume_gal[0], plan.buying.split.cautious.volume_gal[0]);
    th_plan_finish(&plan);
    return code;
}

/* Budget, compare and plan. */
static enum th_code print_all(const struct th_weather *weather, const struct th_climate *climate,
                              struct th_error *err)
{
    struct th_room room = make_room(), better = room;
    const struct th_case one = {.room = &room,
                                .weather = weather,
                                .climate = climate,
                                .first_year = TH_NORMAL_FIRST_YEAR,
                                .last_year = LAST_YEAR};
    struct th_runs runs;
    better.surfaces[0].r_m2k_w = 50.0 * TH_R_SI_PER_US; /* a variant is a copy with one change */
    enum th_code code = print_gallons("ceiling R-30", &room, climate, err);
    if (code == TH_OK)
        code = print_gallons("ceiling R-50", &better, climate, err);
    th_runs_init(&runs, JOBS, NULL);
    if (code == TH_OK)
        code = print_choice(&runs, &one, err);
    if (code == TH_OK)
        code = print_plan(&runs, &one, err);
    th_runs_finish(&runs);
    return code;
}

int main(void)
{
    struct th_weather weather = {0};
    struct th_climate climate = {0};
    struct th_error err = {0};
    th_init();
    printf("turnheat %s\n", th_version());
    enum th_code code = make_weather(&weather, &climate, &err);
    if (code == TH_OK)
        code = print_all(&weather, &climate, &err);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
    if (code != TH_OK)
        fprintf(stderr, "%s: %s\n", th_code_text(code), err.text);
    return code == TH_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}

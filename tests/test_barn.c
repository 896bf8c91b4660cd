/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run_suite.h"
#include "sound_barn.h"
#include "turnheat/units.h"
#include <stdio.h>
#include <string.h>

START_TEST(a_sound_barn_becomes_a_room)
{
    must_read(SOUND WALLS);
    const struct th_room *const room = &barn.room;
    ck_assert_int_eq(issues.n_warnings, 0);
    ck_assert_double_eq_tol(room->shell.floor_m2, 743.2243, 1e-3);
    ck_assert_double_eq_tol(room->shell.volume_m3, 1812.278, 1e-2);
    ck_assert_double_eq_tol(room->shell.perimeter_m, 146.304, 1e-9);
    ck_assert_double_eq_tol(room->shell.roof_m2, 1.054 * 743.2243, 1e-2);
    /* ASHRAE 90.1 family: R-10 vertical 2 ft is 0.54 Btu/h ft °F, 1.7307 W/mK each. */
    ck_assert_double_eq_tol(room->shell.edge_f_w_mk, 0.54 * 1.7307, 1e-3);
    ck_assert_double_eq_tol(room->surfaces[0].r_m2k_w, 30 * 0.176110, 1e-4);
    ck_assert_double_eq_tol(room->air.leak_cm2, 50 * 6.4516, 1e-9);
    ck_assert_double_eq_tol(room->air.max_m3_s, 1000 * 120 * TH_M3S_PER_CFM, 1e-9);
    ck_assert_double_eq_tol(room->heaters[0].blower_w, 500.0, 1e-6);
    ck_assert_double_eq(room->heaters[0].turndown, 1.0);
    ck_assert_double_eq(room->spaces, 1000.0);
    ck_assert_int_eq(room->turns[0].month, 11);
    ck_assert_int_eq(room->turns[0].day, 5);
    ck_assert_double_eq(room->turns[0].preheat_h, 48.0);
    ck_assert(!room->fuel.has_price);
    ck_assert(!room->zone.on);
    ck_assert(!room->fitted.given);
    ck_assert_str_eq(room->name, "test");
}
END_TEST

START_TEST(weather_paths_are_relative_to_the_file)
{
    must_read(SOUND);
    ck_assert_int_eq(barn.n_weather, 2);
    const char *const slash = strrchr(barn.path, '/');
    const size_t folder = slash ? (size_t)(slash - barn.path) + 1 : 0;
    ck_assert_int_eq(strncmp(barn.weather[0], barn.path, folder), 0);
    ck_assert_str_eq(barn.weather[0] + folder, "a.epw");
    ck_assert_str_eq(barn.weather[1] + folder, "sub/b.epw");
}
END_TEST

static const struct {
    const char *text;
    const char *says;
} wrong[] = {
    {SOUND "[rom]\n", "[rom] is not known; did you mean [room]?"},
    {SOUND "[kitchen]\n", "[kitchen] is not known; expected room, site"},
    {SOUND "[surface]\narea = 1 ft2\n", "expected [surface NAME]"},
    {SOUND "[pigs fat]\n", "expected [pigs]"},
    {SOUND "[pigs]\nsensible_facter = 0.8\n", "did you mean sensible_factor?"},
    {SOUND "[pigs]\nzzz = 0.8\n", "see docs/barn-file.md"},
    {SOUND "[pigs]\nactivity = 0.2\nactivity = 0.3\n", "is also given"},
    {SOUND "[pigs]\nactivity = 2\n", "outside its range; expected 0 to 0.43"},
    {SOUND "[pigs]\nactivity = much\n", "not a number"},
    {SOUND "[pigs]\nspill = 1\n", "unit is missing"},
    {SOUND "[pigs]\nspill = 1 cfm\n", "does not fit water a day"},
    {SOUND "[zone]\nunits = 18\n", "on is missing"},
    {SOUND "[zone]\non = maybe\n", "expected yes or no"},
    {SOUND "[heater extra]\nunits = 1.5\ninput = 100,000 Btu/h\n", "whole"},
    {SOUND "[heater extra]\nunits = 1\n", "input is missing"},
    {SOUND "[heater extra]\ninput = 100,000 Btu/h\ncontrol = lead-lagg\n",
     "did you mean lead_lag?"},
    {SOUND "[heater extra]\ninput = 100,000 Btu/h\non_below = 1 F\n", "must come on lower"},
    {SOUND "[heater extra]\ninput = 100,000 Btu/h\nturndown = 120 %\n", "outside its range"},
    {SOUND "[heater extra]\ninput = 100,000 Btu/h\noff_below = -3 F\n", "would fight"},
    {SOUND "[surface w]\narea = 10 ft2\n", "expected R, layers or assembly"},
    {SOUND "[surface w]\narea = 10 ft2\nR = 0\n", "outside its range"},
    {SOUND "[surface w]\nR = 10\n", "area is missing"},
    {SOUND "[surface w]\narea = 10 ft2\nR = 10\nlayers = steel cladding\n", "layers excludes R"},
    {SOUND "[surface w]\narea = 10 ft2\nlayers = plywod 0.5 in\n", "did you mean plywood?"},
    {SOUND "[surface w]\narea = 10 ft2\nlayers = plywood\n", "thickness is missing"},
    {SOUND "[surface w]\narea = 10 ft2\nlayers = plywood 0.5 lb\n", "does not fit a length"},
    {SOUND "[surface w]\narea = 10 ft2\nlayers = plywood 1 in,, steel cladding\n",
     "layer is missing"},
    {SOUND "[surface w]\narea = 10 ft2\nlayers = wall film, plywood 1 in\n", "added by themselves"},
    {SOUND "[surface w]\narea = 10 ft2\nassembly = straw\n", "assembly 'straw' is not known"},
    {SOUND "[turn two]\nplace = 04-01\nhead = 900\nweight = 13 lb\ndays = 100\n", "overlaps"},
    {SOUND "[turn two]\nplace = 04-31\nhead = 900\nweight = 13 lb\ndays = 10\n", "month and day"},
    {SOUND "[turn two]\nplace = 06-01\nhead = 900\nweight = 13 lb\n", "days is missing"},
    {SOUND "[turn two]\nplace = 06-01\nhead = 900\nweight = 13 lb\ndays = 90\nleave = 45\n",
     "no :"},
    {SOUND "[turn two]\nplace = 06-01\nhead = 9000\nweight = 13 lb\ndays = 90\n", "do not fit"},
    {SOUND "[fuel]\nprice_per_therm = $0.9/therm\n", "price per gallon"},
    {SOUND "[fuel]\ngas = natural\nprice = $2/gal\n", "price per therm"},
    {SOUND "[fuel]\nprice = $2/gal\nprice_per_therm = $0.9/therm\n", "excludes price"},
    {SOUND "[setpoints]\ntable = no such table.csv\n", "no such table.csv"},
    {SOUND "[tank a]\nweekdays = Mon Thi\n", "no weekday"},
    {SOUND "[tank a]\nuse_share = 60 %\n[tank b]\nuse_share = 35 %\n",
     "use_share of a, b add to 95 %; expected 100 %"},
    {SOUND "[tank a]\nuse_share = 60 %\n[tank b]\nuse_share = 40 %\n[tank c]\n",
     "use_share of a, b add to 100 %; expected less than 100 %"},
    {SOUND "[tank a]\nfill = 40 %\nstart = 60 %\n",
     "test.barn:27:9: start = 60 % is above the level tanks are filled to, fill = 40 %"},
    {SOUND "[use dryer]\nfrom = 10-01\nweeks = 300 gal, 1,200\n", "unit is missing"},
    {SOUND "[use dryer]\nfrom = 10-01\nweeks = 300 gal, -1 gal\n", "below 0"},
    {SOUND "[choice a]\ncost = $100\nheater mane.units = 1\n", "no section [heater mane]"},
    {SOUND "[choice a]\nheater main.unit = 1\n", "did you mean units?"},
    {SOUND "[choice a]\nheater main.units = 0\n", "no heater"},
    {SOUND "[choice a]\nheater main.turndown = 3\n", "outside its range"},
    {SOUND "[choice a]\nsetpoints.table = x.csv\n", "only single values"},
    {SOUND "[choice a]\ntank a.count = 2\n[tank a]\n", "choices and options change the room"},
    {SOUND "[choice a]\nheater main.on_below = 0.5 F\n", "with choice a: "},
    {SOUND "[choice a]\nlive = 12\n", "did you mean life?"},
    {ROOM CEILING AIR HEATER TURN, "elevation is missing"},
    {ROOM SITE AIR HEATER TURN, "no surface"},
    {ROOM SITE CEILING AIR TURN, "no heater"},
    {ROOM SITE CEILING AIR HEATER, "no turn"},
    {SITE CEILING AIR HEATER TURN, "no size"},
    {SOUND "[surface a23]\n[surface a24]\n", "area is missing"},
};

START_TEST(every_mistake_says_what_was_expected)
{
    must_fail(read_barn(wrong[_i].text), wrong[_i].says);
}
END_TEST

START_TEST(errors_point_at_the_value)
{
    must_fail(read_barn(SOUND "[pigs]\nspill = 1 cfm\n"), "");
    const char *const said = issues.errors[0].text;
    ck_assert_ptr_nonnull(strstr(said, ":26:11: the unit 'cfm'"));
    ck_assert_ptr_nonnull(strstr(said, "\n    spill = 1 cfm\n              ^"));
}
END_TEST

START_TEST(all_errors_are_listed_at_once)
{
    must_fail(read_barn("[room]\nlength = 200\nwidth = 40\nheight = 8 ft\n[air]\nminimun = 80 %\n"),
              "unit is missing");
    /* Two units, an unknown key; what follows from the room without size is kept back. */
    ck_assert_int_eq(issues.n_errors, 3);
}
END_TEST

START_TEST(an_error_in_one_turn_does_not_hide_one_in_another_section)
{
    read_barn(SOUND "[turn two]\nplace = 06-01\nhead = 900\nweight = 13\ndays = 90\n"
                    "[heater extra]\ninput = 100,000 Btu/h\non_below = 1 F\n");
    ck_assert_int_eq(issues.n_errors, 2);
}
END_TEST

/* R-19 batts between 2×6 studs with 12 % framing and half an inch of plywood: 17.4 by the library's
 * own assembly, which tests/test_envelope.c checks against its source. */
START_TEST(layers_agree_with_the_named_assembly)
{
    must_read(SOUND "[surface a]\narea = 10 ft2\nframing = 12 %\n"
                    "layers = Plywood 0.5 in, R-19 batt | softwood 5.5 in\n"
                    "[surface b]\narea = 10 ft2\nassembly = stud wall 2x6 r-19\n"
                    "[surface c]\narea = 10 ft2\nkind = curtain\n"
                    "[surface d]\narea = 10 ft2\nlayers = hollow concrete block 8 in\n");
    const struct th_surface *const s = barn.room.surfaces;
    ck_assert_double_eq_tol(s[1].r_m2k_w, s[2].r_m2k_w, 1e-12);
    ck_assert_double_eq_tol(s[3].r_m2k_w / TH_R_SI_PER_US, 1.5, 1e-9);
    ck_assert_double_eq_tol(s[4].r_m2k_w / TH_R_SI_PER_US, 1.11 + 0.68 + 0.17, 1e-9);
}
END_TEST

START_TEST(set_changes_a_value_as_if_in_the_file)
{
    const char *const sets[] = {"surface ceiling.R=40", "air.minimum= 90 %", "room.copies=2",
                                "room.copies=4", "pigs.activity=0.43"};
    ck_assert_int_eq(read_both(SOUND, NULL, sets, 5), TH_OK);
    ck_assert_double_eq_tol(barn.room.surfaces[0].r_m2k_w / TH_R_SI_PER_US, 40.0, 1e-9);
    ck_assert_double_eq(barn.room.air.minimum_share, 0.9);
    ck_assert_double_eq(barn.room.pigs.activity, 0.43);
    ck_assert_int_eq(barn.room.copies, 4);
}
END_TEST

START_TEST(set_replaces_layers_by_an_r)
{
    const char *const sets[] = {"surface w.R=22"};
    ck_assert_int_eq(
        read_both(SOUND "[surface w]\narea = 10 ft2\nlayers = plywood 1 in\n", NULL, sets, 1),
        TH_OK);
    ck_assert_double_eq_tol(barn.room.surfaces[1].r_m2k_w / TH_R_SI_PER_US, 22.0, 1e-9);
}
END_TEST

/* R of the layers by themselves, and the R an option's layers, assembly or slab edge put in the
 * place of the file's own R and F. */
START_TEST(options_may_name_layers)
{
    const char *const text =
        SOUND "[surface w]\narea = 10 ft2\nR = 3\n[surface v]\narea = 10 ft2\n"
              "layers = plywood 0.5 in, r-19 batt\n"
              "[option a]\ncost = $1\nsurface w.layers = plywood 0.5 in, r-19 batt\n"
              "[option b]\ncost = $1\nsurface w.assembly = stud wall 2x6 r-19\n"
              "surface v.R = 11\n"
              "[option c]\ncost = $1\nroom.slab_edge = uninsulated\n";
    struct th_issues own = {0};
    static struct th_room room;
    ck_assert_int_eq(read_both(text, NULL, NULL, 0), TH_OK);
    const double layered = barn.room.surfaces[2].r_m2k_w;
    ck_assert_int_eq(th_barn_variant(&barn, TH_PICK_OPTION, 0, &room, &own), TH_OK);
    ck_assert_double_eq(room.surfaces[1].r_m2k_w, layered);
    ck_assert_int_eq(th_barn_variant(&barn, TH_PICK_OPTION, 1, &room, &own), TH_OK);
    ck_assert_double_gt(room.surfaces[1].r_m2k_w, 15.0 * TH_R_SI_PER_US);
    ck_assert_double_eq_tol(room.surfaces[2].r_m2k_w, 11.0 * TH_R_SI_PER_US, 1e-9);
    ck_assert_int_eq(th_barn_variant(&barn, TH_PICK_OPTION, 2, &room, &own), TH_OK);
    ck_assert_double_gt(room.shell.edge_f_w_mk, barn.room.shell.edge_f_w_mk);
    th_issues_finish(&own);
}
END_TEST

static const struct {
    const char *set;
    const char *says;
} wrong_sets[] = {
    {"", "section, dot, key"},
    {"R=40", "section, dot, key"},
    {".R=40", "section, dot, key"},
    {"surface ceiling.=40", "section, dot, key"},
    {"surface ceiling.R", "section, dot, key"},
    {"surface ceiling.R=", "section, dot, key"},
    {"surface floor.R=40", "no section [surface floor]"},
    {"surface ceiling.r=40", "did you mean R?"},
    {"surface ceiling.R=forty", "not a number"},
    {"surface ceiling.R=4000", "outside its range"},
    {"site.weather=x.epw", "only single values"},
    {"setpoints.table=x.csv", "only single values"},
    {"room.name=x", "only single values"},
    {"turn winter.leave=45: 50 %", "only single values"},
    {"air.minimum=70 %", "expected 80 % to 300 %"},
    {"zone.units=4", "on is missing"},
};

START_TEST(set_is_checked_like_the_file)
{
    const char *const sets[] = {wrong_sets[_i].set};
    must_fail(read_both(SOUND, NULL, sets, 1), wrong_sets[_i].says);
}
END_TEST

START_TEST(choices_change_a_copy)
{
    must_read(SOUND "[heater second]\ninput = 100,000 Btu/h\n"
                    "[choice modulating]\ncost = $6,400\nlife = 12\nupkeep = $-50/year\n"
                    "heater main.control = modulating\nheater second.units = 0\n"
                    "[choice small]\nheater main.input = 200,000 Btu/h\nzone.on = yes\n"
                    "[option attic]\ncost = $500\ncost_per_area = $1.20/ft2\narea = 8,000 ft2\n"
                    "surface ceiling.R = 40\n"
                    "[option tight]\nair.leakage_per_floor = 0.5 cm2/m2\n");
    ck_assert_int_eq(barn.n_choices, 2);
    ck_assert_str_eq(barn.choices[0].name, "modulating");
    ck_assert_double_eq(th_pick_cost_usd(&barn.choices[0]), 6400.0);
    ck_assert_double_eq(barn.choices[0].life_years, 12.0);
    ck_assert_double_eq(barn.choices[0].upkeep_usd_year, -50.0);
    ck_assert_double_eq_tol(th_pick_cost_usd(&barn.options[0]), 10100.0, 1e-6);
    ck_assert_int_eq(barn.room.n_heaters, 2);
    ck_assert_int_eq(barn.room.heaters[0].control, TH_ON_OFF);

    static struct th_room room;
    ck_assert_int_eq(th_barn_variant(&barn, TH_PICK_CHOICE, 0, &room, &issues), TH_OK);
    ck_assert_int_eq(room.n_heaters, 1);
    ck_assert_int_eq(room.heaters[0].control, TH_MODULATING);
    ck_assert_double_eq(room.heaters[0].turndown, 0.2);
    ck_assert_int_eq(th_barn_variant(&barn, TH_PICK_CHOICE, 1, &room, &issues), TH_OK);
    ck_assert_int_eq(room.n_heaters, 2);
    ck_assert(room.zone.on);
    ck_assert_double_eq_tol(room.heaters[0].blower_w, 400.0, 1e-6);

    const int both[] = {0, 1};
    ck_assert_int_eq(th_barn_with_options(&barn, both, 2, &room, &issues), TH_OK);
    ck_assert_double_eq_tol(room.surfaces[0].r_m2k_w / TH_R_SI_PER_US, 40.0, 1e-9);
    ck_assert_double_eq_tol(room.air.leak_cm2, 0.5 * room.shell.floor_m2, 1e-9);
}
END_TEST

START_TEST(the_farm_file_adds_tanks_and_prices)
{
    ck_assert_int_eq(read_both(SOUND,
                               "[tank north]\ncount = 2\n[fuel]\nprice = $2.10/gal\n"
                               "[contract booked]\nkind = booked\nvolume = 4,000 gal\n"
                               "price = $1.80/gal\n"
                               "[use dryer]\nfrom = 10-01\nweeks = 300 gal, 1,200 gal\n",
                               NULL, 0),
                     TH_OK);
    ck_assert_int_eq(barn.n_tanks, 1);
    ck_assert_int_eq(barn.tanks[0].count, 2);
    ck_assert_double_eq(barn.tanks[0].fill_share, 0.8);
    ck_assert_int_eq(barn.contracts[0].kind, TH_CONTRACT_BOOKED);
    ck_assert_int_eq(barn.contracts[0].to_month, 3);
    ck_assert_int_eq(barn.uses[0].n_weeks, 2);
    ck_assert_double_eq(barn.uses[0].week_gal[1], 1200.0);
    ck_assert_double_eq(barn.room.fuel.price, 2.10);
    ck_assert_double_eq(barn.price.posted_usd_gal, 2.10);
}
END_TEST

static const struct {
    const char *barn;
    const char *farm;
    const char *says;
} conflicts[] = {
    {SOUND "[fuel]\nprice = $2/gal\n", "[fuel]\nprice = $2.10/gal\n",
     "expected only one of them, or the same in both files"},
    {SOUND "[fuel]\nprice = $2/gal\nprice = $2/gal\n", "[tank a]\n", "price is also given in"},
    {SOUND "[tank a]\n", "[tank a]\n", "[tank a] is also given in"},
    {SOUND, "[heater x]\ninput = 100,000 Btu/h\n", "belongs in the barn file"},
};

START_TEST(conflicts_name_both_files)
{
    must_fail(read_both(conflicts[_i].barn, conflicts[_i].farm, NULL, 0), conflicts[_i].says);
}
END_TEST

START_TEST(both_files_may_say_the_same)
{
    ck_assert_int_eq(
        read_both(SOUND "[fuel]\nprice = $2\n", "[fuel]\nprice = $2.00/gal\n", NULL, 0), TH_OK);
    ck_assert_double_eq(barn.price.posted_usd_gal, 2.0);
}
END_TEST

START_TEST(catalogue_flows_are_derated_and_converted)
{
    must_read(SOUND);
    const double measured = barn.room.air.floor_m3_s;
    stop();
    must_read(ROOM SITE CEILING
              "[air]\nfan_floor = 1,500 cfm\nair_basis = standard\nleakage = 50 in2\n" HEATER TURN);
    /* 0.81 for dirt and wind; 950 ft and 21 °C thin standard air by about 4 %. */
    ck_assert_double_eq_tol(barn.room.air.floor_m3_s / measured, 0.81 * 1.04, 0.01);
}
END_TEST

START_TEST(leakage_follows_the_shell_when_not_given)
{
    must_read(ROOM SITE CEILING "[air]\nfan_floor = 1,500 cfm\n" HEATER TURN);
    ck_assert_double_eq_tol(barn.room.air.leak_cm2 / barn.room.shell.floor_m2, 1.1, 1e-9);
    stop();
    must_read(ROOM SITE CEILING HEATER TURN "[surface s]\narea = 3,840 ft2\nkind = curtain\n");
    ck_assert_double_eq_tol(barn.room.air.leak_cm2 / barn.room.shell.floor_m2, 6.0, 1e-9);
    /* The missing fan floor is said; leakage at its default is not warned of. */
    ck_assert_int_eq(issues.n_warnings, 1);
    stop();
    /* One small curtain: a tenth of 19 % of 8,000 ft² adds a tenth of 4.9 cm²/m². */
    must_read(ROOM SITE CEILING HEATER TURN "[surface s]\narea = 152 ft2\nkind = curtain\n");
    ck_assert_double_eq_tol(barn.room.air.leak_cm2 / barn.room.shell.floor_m2, 1.59, 1e-9);
    stop();
    must_read(ROOM SITE CEILING HEATER TURN "[air]\nleakage_per_floor = 6 cm2/m2\n");
    /* No fan floor, no walls, and more leakage than air. */
    ck_assert_int_eq(issues.n_warnings, 3);
    stop();
    must_read(ROOM SITE CEILING HEATER TURN "[air]\nleakage_ach20 = 1.2 ach\nfan_floor = 0 cfm\n");
    /* ASHRAE Trans. 101(1) no. 3869: 1.0 to 1.4 air changes are about 1.1 cm² per m² of floor. */
    ck_assert_double_eq_tol(barn.room.air.leak_cm2 / barn.room.shell.floor_m2, 1.1, 0.2);
}
END_TEST

START_TEST(natural_gas_is_sold_by_the_therm)
{
    must_read(SOUND "[fuel]\ngas = natural\nprice_per_therm = $0.90/therm\nfreeze = 40 F\n");
    ck_assert_int_eq(barn.room.fuel.gas, TH_NATURAL_GAS);
    ck_assert_double_eq_tol(barn.room.fuel.hhv_j / TH_J_PER_BTU, 100000.0, 1e-6);
    ck_assert_double_eq(barn.room.fuel.price, 0.9);
    ck_assert(barn.room.fuel.freeze);
    ck_assert_double_eq_tol(barn.room.fuel.freeze_c, 40.0 / 9.0, 1e-9);
}
END_TEST

START_TEST(pigs_leave_in_parts)
{
    must_read(SOUND "[turn two]\nplace = 06-01\nhead = 1,000\nweight = 13 lb\ndays = 100\n"
                    "leave = 45: 50 %, 90: 0.3\n");
    ck_assert_int_eq(barn.room.turns[1].n_leaves, 2);
    ck_assert_double_eq(barn.room.turns[1].leaves[0].day, 45.0);
    ck_assert_double_eq(barn.room.turns[1].leaves[1].share, 0.3);
}
END_TEST

/* Wean to finish twice: the third would come when the first comes again. A nursery until June. */
START_TEST(dated_turns_are_repeated_until_the_season_ends)
{
    const char *const sets[] = {"turn winter.place=2026-11-05", "turn winter.every=26 weeks"};
    ck_assert_int_eq(read_both(SOUND, NULL, sets, 2), TH_OK);
    ck_assert_int_eq(barn.room.n_turns, 2);
    ck_assert_str_eq(barn.room.turns[1].name, "winter 2");
    ck_assert_int_eq(barn.room.turns[1].month, 5);
    ck_assert_int_eq(barn.room.turns[1].day, 6);
    ck_assert_int_eq(barn.room.turns[1].year, 2027);
    ck_assert_int_eq(th_room_season_year(&barn.room), 2026);
    stop();
    const char *const nursery[] = {"turn winter.place=2026-11-05", "turn winter.every=8 weeks",
                                   "turn winter.days=46"};
    ck_assert_int_eq(read_both(SOUND, NULL, nursery, 3), TH_OK);
    ck_assert_int_eq(barn.room.n_turns, 5);
    ck_assert_int_eq(barn.room.turns[4].month, 6);
    stop();
    must_fail(read_both(SOUND, NULL, &nursery[1], 2), "place has no year");
    stop();
    const char *const often[] = {"turn winter.place=2026-07-02", "turn winter.every=35 days",
                                 "turn winter.days=30"};
    must_fail(read_both(SOUND, NULL, often, 3), "more turns than 8");
    stop();
    const char *const none[] = {"turn winter.place=2026-02-29"};
    must_fail(read_both(SOUND, NULL, none, 1), "no such day");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("barn");
    TCase *tc = tcase_create("barn");
    tcase_add_checked_fixture(tc, NULL, stop);
    tcase_add_test(tc, a_sound_barn_becomes_a_room);
    tcase_add_test(tc, weather_paths_are_relative_to_the_file);
    tcase_add_loop_test(tc, every_mistake_says_what_was_expected, 0, sizeof wrong / sizeof *wrong);
    tcase_add_test(tc, errors_point_at_the_value);
    tcase_add_test(tc, all_errors_are_listed_at_once);
    tcase_add_test(tc, an_error_in_one_turn_does_not_hide_one_in_another_section);
    tcase_add_test(tc, layers_agree_with_the_named_assembly);
    tcase_add_test(tc, set_changes_a_value_as_if_in_the_file);
    tcase_add_test(tc, set_replaces_layers_by_an_r);
    tcase_add_test(tc, options_may_name_layers);
    tcase_add_loop_test(tc, set_is_checked_like_the_file, 0,
                        sizeof wrong_sets / sizeof *wrong_sets);
    tcase_add_test(tc, dated_turns_are_repeated_until_the_season_ends);
    tcase_add_test(tc, choices_change_a_copy);
    tcase_add_test(tc, the_farm_file_adds_tanks_and_prices);
    tcase_add_loop_test(tc, conflicts_name_both_files, 0, sizeof conflicts / sizeof *conflicts);
    tcase_add_test(tc, both_files_may_say_the_same);
    tcase_add_test(tc, catalogue_flows_are_derated_and_converted);
    tcase_add_test(tc, leakage_follows_the_shell_when_not_given);
    tcase_add_test(tc, natural_gas_is_sold_by_the_therm);
    tcase_add_test(tc, pigs_leave_in_parts);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

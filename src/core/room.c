/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The defaults of a room, each with its source. "From memory" means a published figure that was not
 * re-read; "our judgement" that no source was found. */
#include "turnheat/room.h"

#include "turnheat/air.h"
#include "turnheat/combustion.h"
#include "turnheat/envelope.h"
#include "turnheat/herd.h"
#include "turnheat/units.h"

#include <string.h>

static double k_from_f(double difference_f)
{
    return difference_f * TH_K_PER_F;
}

static double w_from_btuh(double btuh)
{
    return btuh * TH_W_PER_BTUH;
}

static void shell_defaults(struct th_shell *shell)
{
    /* Uninsulated slab edge: ASHRAE 90.1 family via Wash. Admin. Code 51-11C A106.1. */
    shell->edge_f_w_mk = 0.73 * TH_W_PER_BTUH / (TH_M_PER_FT * TH_K_PER_F);
    /* Bare steel over purlins: two films only, from memory (ASHRAE Fundamentals). */
    shell->roof_r_m2k_w = TH_FILM_CEILING_M2K_W + TH_FILM_OUTSIDE_M2K_W;
    /* The concrete floor: our judgement. */
    shell->mass_j_m2k = 200e3;
    shell->mass_h_w_m2k = 6.0;
}

static void air_defaults(struct th_air *air)
{
    air->minimum_share = 1.0;
    /* MWPS-32 as tabulated by Univ. of Minnesota Extension; the smooth shape is derived. */
    air->minimum_m3_s = *th_air_minimum_smooth();
    /* 8 cfm per place: our judgement. */
    air->stage_place_m3_s = 8.0 * TH_M3S_PER_CFM;
    air->stage_factor = 1.0;
    /* Fans ramp from 0.5 °F above set point over 2 °F: common practice, no source. */
    air->ramp_start_k = k_from_f(0.5);
    air->ramp_band_k = k_from_f(2.0);
    air->inlet = TH_INLET_OUTSIDE;
    /* Hallway 50 °F, heated by an unvented heater: our judgement. */
    air->hallway_c = th_c_from_f(50.0);
    air->hallway_share = 84250.0 / 91500.0;
    /* Some shelter: our judgement. */
    air->shelter = 2;
    /* 300 cfm per 100,000 Btu/h: Ontario clause 7.36.1. */
    air->burner_air_m3_s_w = 300.0 * TH_M3S_PER_CFM / w_from_btuh(100000.0);
    air->rh_limit = 0.80;
    air->co2_design_ppm = 3000.0;
    air->co2_worker_ppm = 5000.0; /* OSHA */
    air->co2_out_ppm = 420.0;
}

static void pigs_defaults(struct th_pigs *pigs)
{
    /* Fit to published close-outs, see th_herd_gompertz_kg(). */
    pigs->growth = TH_GROWTH_GOMPERTZ;
    /* House level, wet floors: CIGR 2002. */
    pigs->k_s = 0.85;
    pigs->heat_factor = 1.0;
    pigs->humidity_factor = 1.0;
    /* Between CIGR's 0.43 (from memory) and none: our judgement. Least at 1.7 h: CIGR, from memory.
     */
    pigs->activity = 0.2;
    pigs->activity_hour = 1.7;
    /* Wean-finish, the same close-outs as the growth curve. */
    pigs->death_share = 0.055;
    pigs->co2_m3_h_kw = TH_HERD_CO2_M3_H_KW;
}

/* By curve day until 40 lb, derived; then by weight: above 50 lb the middle of where PIH-11 table 1
 * and the Missouri ranges (Zulovich) overlap, derived by that rule. */
static const double young_day_f[][2] = {{0, 84}, {7, 82}, {14, 80}, {21, 77}, {28, 75}};
static const double set_lb_f[][2] = {{40, 75},  {46, 74},  {50, 72},   {56, 70},  {68, 69},
                                     {80, 68},  {92, 67},  {104, 66},  {116, 65}, {128, 64},
                                     {141, 63}, {155, 63}, {171, 62.5}};
/* Lower comfort limit, linear in weight: our judgement from the low ends of both sources. */
static const double comfort_lb_f[][2] = {{25, 75},   {40, 71},    {56, 65},    {68, 64},
                                         {80, 60.5}, {104, 58.5}, {128, 56.5}, {155, 55}};
#define POINTS(table) ((int)(sizeof(table) / sizeof *(table)))

static void add_point(struct th_table *table, double x, double temp_f)
{
    table->x[table->n] = x;
    table->y[table->n++] = th_c_from_f(temp_f);
}

static void setpoint_defaults(struct th_setpoints *setpoints)
{
    setpoints->by = TH_BY_CURVE_DAY;
    for (int i = 0; i < POINTS(young_day_f); i++)
        add_point(&setpoints->set_c, young_day_f[i][0], young_day_f[i][1]);
    for (int i = 0; i < POINTS(set_lb_f); i++)
        add_point(&setpoints->set_c, th_herd_gompertz_day(set_lb_f[i][0] * TH_KG_PER_LB),
                  set_lb_f[i][1]);
    for (int i = 0; i < POINTS(comfort_lb_f); i++)
        add_point(&setpoints->comfort_c, comfort_lb_f[i][0] * TH_KG_PER_LB, comfort_lb_f[i][1]);
    /* No setback in the first two weeks: our judgement. */
    setpoints->setback_from_day = 14.0;
    setpoints->setback_start_h = 22;
    setpoints->setback_end_h = 6;
}

static void zone_defaults(struct th_zone *zone)
{
    /* 18 units in a field-test room of about 1,000 pigs; derived. */
    zone->pigs_per_unit = 55.0;
    /* Nebraska trials. */
    zone->input_w = w_from_btuh(17000.0);
    /* The field test's setting at placement; 2 °F a week and 21 days are our judgement. */
    zone->target_c = th_c_from_f(85.0);
    zone->target_k_week = k_from_f(2.0);
    zone->days = 21.0;
    /* Common practice, no source. */
    zone->rise_k = k_from_f(17.0);
    zone->drop_k = k_from_f(9.0);
    /* Our judgement. */
    zone->return_days = 7.0;
    /* HUD H2, about 820 Btu/h per pilot. */
    zone->pilot_w = w_from_btuh(800.0);
}

void th_fuel_of_gas(struct th_fuel *fuel, enum th_gas gas)
{
    const struct th_combustion burnt = th_combustion_of(gas);
    fuel->gas = gas;
    fuel->hhv_j = burnt.hhv_j;
    fuel->lhv_share = burnt.lhv_share;
    fuel->water_kg_j = burnt.water_kg_j;
    fuel->co2_m3_j = burnt.co2_m3_j;
}

/* All our judgement: an electricity price, a real return and a study period to start from. */
static void money_defaults(struct th_money *money)
{
    money->electricity_j = 0.12 / (1000.0 * TH_S_PER_H);
    money->discount = 0.05;
    money->years = 10;
    money->payer_share = 1.0;
    money->loan_rate = 0.08;
    money->loan_years = 7;
    money->inflation = 0.025;
}

void th_room_defaults(struct th_room *room)
{
    memset(room, 0, sizeof *room);
    room->copies = 1;
    shell_defaults(&room->shell);
    air_defaults(&room->air);
    pigs_defaults(&room->pigs);
    setpoint_defaults(&room->setpoints);
    zone_defaults(&room->zone);
    /* Three times the room air's capacity and 90 s: our judgement. */
    room->response = (struct th_response){.air_capacity = 3.0, .dead_time_s = 90.0, .factor = 1.0};
    th_fuel_of_gas(&room->fuel, TH_PROPANE);
    /* An empty barn that is kept from freezing: 40 °F, common practice, no source. */
    room->fuel.freeze_c = th_c_from_f(40.0);
    money_defaults(&room->money);
    room->calibration = (struct th_calibration){.ua_factor = 1.0, .air_factor = 1.0};
}

double th_heater_turndown(enum th_control control)
{
    switch (control) {
    case TH_TWO_STAGE:
        return 0.5;
    case TH_MODULATING:
        return 0.2;
    case TH_IDEAL:
    case TH_ON_OFF:
    case TH_LEAD_LAG:
        break;
    }
    return 1.0;
}

void th_heater_defaults(struct th_heater *heater)
{
    /* ON 2 °F and OFF 1 °F below set point, stages 1 °F apart: common practice, no source. The
     * modulating band of 2 °F and lighting by spark: our judgement. */
    *heater = (struct th_heater){.control = TH_ON_OFF,
                                 .units = 1,
                                 .on_k = k_from_f(2.0),
                                 .off_k = k_from_f(1.0),
                                 .stagger_k = k_from_f(1.0),
                                 .turndown = th_heater_turndown(TH_ON_OFF),
                                 .band_k = k_from_f(2.0),
                                 .pilot = TH_PILOT_NONE,
                                 .pilot_w = w_from_btuh(800.0)}; /* HUD H2, about 820 Btu/h */
}

void th_turn_defaults(struct th_turn_plan *turn)
{
    /* Preheat of two days: common practice, no source. Wash water: our judgement. */
    *turn = (struct th_turn_plan){.month = 1, .day = 1, .preheat_h = 48.0, .wash_kg_m2 = 0.5};
}

void th_surface_defaults(struct th_surface *surface)
{
    *surface = (struct th_surface){.kind = TH_WALL, .faces = TH_FACES_OUTSIDE};
}

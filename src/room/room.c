/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The defaults of a room: those of the table of parameters (parameters_*.c), and here what is no
 * single value. "From memory" means a published figure that was not re-read; "our judgement" that
 * no source was found. */
#include "turnheat/room.h"

#include "room_check.h"

#include "parameters_rows.h"
#include "turnheat/air.h"
#include "turnheat/combustion.h"
#include "turnheat/envelope.h"
#include "turnheat/herd.h"
#include "turnheat/units.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

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

static const struct th_parameters *const of_room[] = {
    &th_parameters_room, &th_parameters_site,      &th_parameters_air,
    &th_parameters_pigs, &th_parameters_setpoints, &th_parameters_zone,
    &th_parameters_fuel, &th_parameters_money,     NULL};

void th_room_defaults(struct th_room *room)
{
    memset(room, 0, sizeof *room);
    for (const struct th_parameters *const *list = of_room; *list; list++)
        th_parameters_start(*list, room);
    room->shell.edge_f_w_mk = th_slab_edge_find("uninsulated")->f_w_mk;
    /* MWPS-32 as tabulated by Univ. of Minnesota Extension; the smooth shape is derived. */
    room->air.minimum_m3_s = *th_air_minimum_smooth();
    room->air.stage_factor = 1.0;
    /* Fit to published close-outs, see th_herd_gompertz_kg(). */
    room->pigs.growth = TH_GROWTH_GOMPERTZ;
    setpoint_defaults(&room->setpoints);
    room->response.factor = 1.0;
    room->calibration = (struct th_calibration){.ua_factor = 1.0, .air_factor = 1.0};
    th_fuel_of_gas(&room->fuel, TH_PROPANE);
    /* An empty barn that is kept from freezing: 40 °F, common practice, no source. */
    room->fuel.freeze_c = th_c_from_f(40.0);
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
    *heater = (struct th_heater){.turndown = th_heater_turndown(TH_ON_OFF)};
    th_parameters_start(&th_parameters_heater, heater);
}

void th_turn_defaults(struct th_turn_plan *turn)
{
    *turn = (struct th_turn_plan){.month = 1, .day = 1};
    th_parameters_start(&th_parameters_turn, turn);
}

void th_surface_defaults(struct th_surface *surface)
{
    *surface = (struct th_surface){.kind = TH_WALL, .faces = TH_FACES_OUTSIDE};
    th_parameters_start(&th_parameters_surface, surface);
}

static void find(int *n, struct th_finding *list, const char *section, const char *key,
                 const char *format, va_list args)
{
    if (*n < TH_FINDINGS_MAX) {
        struct th_finding *finding = &list[*n];
        snprintf(finding->section, sizeof finding->section, "%s", section);
        snprintf(finding->key, sizeof finding->key, "%s", key);
        vsnprintf(finding->text, sizeof finding->text, format, args);
    }
    (*n)++;
}

void th_find_error(struct th_findings *f, const char *section, const char *key, const char *format,
                   ...)
{
    va_list args;
    va_start(args, format);
    find(&f->n_errors, f->errors, section, key, format, args);
    va_end(args);
}

void th_find_warning(struct th_findings *f, const char *section, const char *key,
                     const char *format, ...)
{
    va_list args;
    va_start(args, format);
    find(&f->n_warnings, f->warnings, section, key, format, args);
    va_end(args);
}

static bool find_wrong(struct th_findings *f, const char *section, const struct th_parameter *row,
                       double si)
{
    if (th_parameter_fits(row, si))
        return false;
    if (row->needed && si == 0.0)
        th_find_error(f, section, row->name, "%s is missing: %s", row->name, row->help);
    else
        th_find_error(f, section, row->name, "%s = %s lies outside its range; expected %s to %s",
                      row->name, th_parameter_text(row, si).text,
                      th_amount_text(row, row->low).text, th_amount_text(row, row->high).text);
    return true;
}

bool th_find_ranges(struct th_findings *f, const char *section, const struct th_parameters *list,
                    const void *values)
{
    bool fit = true;
    for (int i = 0; i < list->n; i++) {
        const struct th_parameter *const row = &list->rows[i];
        if (!th_parameter_is_ranged(row, values))
            continue;
        const double si = th_parameter_number(row, values);
        if (find_wrong(f, section, row, si))
            fit = false;
        else if (th_parameter_counts(row, values) && !th_parameter_is_usual(row, si))
            th_find_warning(f, section, row->name, "%s", th_parameter_doubt(row, si).text);
    }
    return fit;
}

int th_room_season_year(const struct th_room *room)
{
    const int coming_month = 4;
    int first = 0;
    for (int i = 0; i < room->n_turns; i++) {
        const struct th_turn_plan *turn = &room->turns[i];
        const int year = turn->year - (turn->month < coming_month);
        if (turn->year > 0 && (first == 0 || year < first))
            first = year;
    }
    return first;
}

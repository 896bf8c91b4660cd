/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hours_trace.h"

#include "csv_out.h"
#include "turnheat/units.h"

/* Columns in the order in which an hour is worked out by hand. */
#define COLUMNS(X)                                                                                 \
    X("outdoor_f", th_f_from_c(b->out->out_c))                                                     \
    X("outdoor_mean24_f", th_f_from_c(b->out->mean24_c))                                           \
    X("outdoor_w_lb_lb", b->out->w_kg_kg)                                                          \
    X("pressure_inhg", b->out->pressure_pa / TH_PA_PER_INHG)                                       \
    X("wind_mph", b->out->wind_m_s / TH_M_S_PER_MPH)                                               \
    X("head_count", b->day ? b->day->head : 0.0)                                                   \
    X("weight_lb", b->day ? b->day->mass_kg / TH_KG_PER_LB : 0.0)                                  \
    X("activity_ratio", b->day ? b->activity : 0.0)                                                \
    X("set_f", th_f_from_c(in->set_c))                                                             \
    X("mass_f", th_f_from_c(b->mass_c))                                                            \
    X("room_f", th_f_from_c(o->room_c))                                                            \
    X("room_low_f", th_f_from_c(o->low_c))                                                         \
    X("room_high_f", th_f_from_c(o->high_c))                                                       \
    X("fan_cfm", o->fan_m3_s / TH_M3S_PER_CFM)                                                     \
    X("fan_air_lb_h", t[TH_TERM_DRY_FAN] * LB_H)                                                   \
    X("leak_air_lb_h", (t[TH_TERM_DRY_AIR] - t[TH_TERM_DRY_FAN]) * LB_H)                           \
    X("all_air_lb_h", o->dry_air_kg_s *LB_H)                                                       \
    X("inlet_f", th_f_from_c(t[TH_TERM_INLET_C]))                                                  \
    X("walls_btu_h", t[TH_TERM_SURFACE + TH_WALL] / TH_W_PER_BTUH)                                 \
    X("ceiling_btu_h", t[TH_TERM_SURFACE + TH_CEILING] / TH_W_PER_BTUH)                            \
    X("curtain_btu_h", t[TH_TERM_SURFACE + TH_CURTAIN] / TH_W_PER_BTUH)                            \
    X("doors_btu_h", t[TH_TERM_SURFACE + TH_DOOR] / TH_W_PER_BTUH)                                 \
    X("edge_btu_h", t[TH_TERM_EDGE] / TH_W_PER_BTUH)                                               \
    X("air_btu_h", t[TH_TERM_AIR] / TH_W_PER_BTUH)                                                 \
    X("leakage_btu_h", t[TH_TERM_LEAKAGE] / TH_W_PER_BTUH)                                         \
    X("mass_btu_h", t[TH_TERM_MASS] / TH_W_PER_BTUH)                                               \
    X("drying_btu_h", t[TH_TERM_DRYING] / TH_W_PER_BTUH)                                           \
    X("thrown_btu_h", o->thrown_w / TH_W_PER_BTUH)                                                 \
    X("ramp_waste_btu_h", o->heating.waste_w / TH_W_PER_BTUH)                                      \
    X("pigs_btu_h", t[TH_TERM_PIGS] / TH_W_PER_BTUH)                                               \
    X("pigs_latent_btu_h", t[TH_TERM_LATENT] / TH_W_PER_BTUH)                                      \
    X("zone_btu_h", (t[TH_TERM_ZONE] + t[TH_TERM_ZONE_PILOTS]) / TH_W_PER_BTUH)                    \
    X("pilots_btu_h", t[TH_TERM_PILOTS] / TH_W_PER_BTUH)                                           \
    X("internal_btu_h", t[TH_TERM_INTERNAL] / TH_W_PER_BTUH)                                       \
    X("heaters_btu_h", o->heating.heat_w / TH_W_PER_BTUH)                                          \
    X("blowers_btu_h", o->heating.blower_w / TH_W_PER_BTUH)                                        \
    X("heater_gas_btu_h", o->heating.gas_w / TH_W_PER_BTUH)                                        \
    X("zone_gas_btu_h", t[TH_TERM_ZONE_GAS] / TH_W_PER_BTUH)                                       \
    X("pilot_gas_btu_h", (o->heating.pilot_gas_w + t[TH_TERM_ZONE_PILOT_GAS]) / TH_W_PER_BTUH)     \
    X("hallway_gas_btu_h", o->hallway_gas_w / TH_W_PER_BTUH)                                       \
    X("gas_btu_h", o->gas_w / TH_W_PER_BTUH)                                                       \
    X("gas_units", o->gas_w *TH_S_PER_H / b->room->fuel.hhv_j)                                     \
    X("heater_hours_h", o->heating.heater_hours)                                                   \
    X("starts_count", o->heating.starts)                                                           \
    X("rh_pct", 100.0 * o->rh)                                                                     \
    X("co2_ppm", o->co2_ppm)

#define LB_H (TH_S_PER_H / TH_KG_PER_LB)
#define NUMBER_COLUMN(key, value) {key, key, "", TH_PLAIN},

static const struct th_column columns[] = {{"season", "season", "", TH_PLAIN},
                                           {"turn", "turn", "", TH_PLAIN},
                                           {"phase", "phase", "", TH_PLAIN},
                                           {"hour", "hour", "", TH_HOUR},
                                           COLUMNS(NUMBER_COLUMN)};
#define N_COLUMNS ((int)(sizeof columns / sizeof *columns))

/* Where the trace goes. */
struct trace {
    FILE *out;
    const struct th_room *room;
    bool begun;
    int year;
};

/* The head stands above the first season. */
static void begin_season(void *context, int year)
{
    struct trace *trace = context;
    if (!trace->begun)
        th_csv_head(trace->out, columns, N_COLUMNS);
    trace->begun = true;
    trace->year = year;
}

static void write_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                       const struct th_hour_out *o)
{
    static const char *const phases[TH_PHASES] = {"preheat", "growing", "empty"};
    const struct trace *trace = context;
    const struct th_balance *b = &in->balance;
    const double *t = o->terms;
#define NUMBER_VALUE(key, value) th_number(value),
    const struct th_value values[] = {
        th_number(trace->year), th_text(trace->room->turns[turn].name), th_text(phases[in->phase]),
        th_number((double)hour_number), COLUMNS(NUMBER_VALUE)};
#undef NUMBER_VALUE
    th_csv_row(trace->out, columns, values, N_COLUMNS);
}

enum th_code th_hours_write(FILE *out, struct th_runs *runs, const struct th_case *one,
                            struct th_error *err)
{
    struct trace trace = {.out = out, .room = one->room};
    const struct th_tracer tracer = {begin_season, {.hour = write_hour, .context = &trace}};
    return th_trace_run(runs, one, &tracer, err);
}

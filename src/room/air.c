/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/air.h"

#include "turnheat/psychro.h"

#include <math.h>

#define LB(mass) ((mass)*TH_KG_PER_LB)
#define CFM(flow) ((flow)*TH_M3S_PER_CFM)

#define SHELTER_CLASSES 5
#define STACK_COEFFICIENT 0.000145
static const double wind_coefficient[SHELTER_CLASSES] = {0.000319, 0.000246, 0.000174, 0.000104,
                                                         0.000032};

static const struct th_table minimum_smooth = {
    .n = 9,
    .x = {LB(13), LB(21), LB(30), LB(50), LB(75), LB(112), LB(150), LB(200), LB(260)},
    .y = {CFM(2.0), CFM(2.2), CFM(2.7), CFM(3.8), CFM(5.2), CFM(7.0), CFM(8.2), CFM(9.2), CFM(10)},
};

static const struct th_table minimum_steps = {
    .n = 4,
    .step = true,
    .x = {LB(12), LB(30), LB(75), LB(150)},
    .y = {CFM(2), CFM(3), CFM(7), CFM(10)},
};

const struct th_table *th_air_minimum_smooth(void)
{
    return &minimum_smooth;
}

const struct th_table *th_air_minimum_steps(void)
{
    return &minimum_steps;
}

struct th_air_leak th_air_leak(double leak_cm2, int shelter)
{
    const int known = shelter < 1 ? 1 : shelter > SHELTER_CLASSES ? SHELTER_CLASSES : shelter;
    const double m3_s_litre = 1e-3;
    const double scale_m3_s = m3_s_litre * leak_cm2;
    return (struct th_air_leak){.area_squared = scale_m3_s * scale_m3_s,
                                .per_k = STACK_COEFFICIENT,
                                .per_wind_squared = wind_coefficient[known - 1]};
}

extern inline double th_air_leak_squared(const struct th_air_leak *leak, double delta_k,
                                         double wind_m_s);

double th_air_leak_m3_s(double leak_cm2, int shelter, double delta_k, double wind_m_s)
{
    const struct th_air_leak leak = th_air_leak(leak_cm2, shelter);
    return sqrt(th_air_leak_squared(&leak, delta_k, wind_m_s));
}

double th_air_leak_cm2_from_ach20(double ach20, double volume_m3, double density_kg_m3)
{
    const double flow_20pa_m3_s = ach20 * volume_m3 / TH_S_PER_H;
    const double flow_4pa_m3_s = flow_20pa_m3_s * pow(4.0 / 20.0, 0.65);
    return 1.0e4 * flow_4pa_m3_s * sqrt(density_kg_m3 / (2.0 * 4.0));
}

double th_air_leak_20_pa_m3_s(double leak_cm2)
{
    const double density_kg_m3 = 1.2;
    return leak_cm2 * 1e-4 * sqrt(8.0 / density_kg_m3) * pow(20.0 / 4.0, 0.65);
}

extern inline double th_air_dry_kg_s(double flow_m3_s, double temp_c, double w_out,
                                     double water_kg_s, double pressure_pa);

double th_air_standard_to_room(double standard_m3_s, double temp_c, double w_kg_kg,
                               double pressure_pa)
{
    return standard_m3_s * TH_AIR_STANDARD_KG_M3 * th_psy_volume(temp_c, w_kg_kg, pressure_pa);
}

double th_air_inlet_m2(double flow_m3_s, double velocity_m_s)
{
    return flow_m3_s / velocity_m_s;
}

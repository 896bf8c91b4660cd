/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Conversions between SI, used everywhere inside the library, and US customary units, used at the
 * edges. All are exact by definition of the units (NIST SP 811, appendix B); the Btu is the
 * International Table Btu.
 */
#ifndef TURNHEAT_UNITS_H
#define TURNHEAT_UNITS_H

#define TH_M_PER_FT 0.3048
#define TH_M_PER_IN 0.0254
#define TH_M2_PER_FT2 (TH_M_PER_FT * TH_M_PER_FT)
#define TH_M3_PER_FT3 (TH_M2_PER_FT2 * TH_M_PER_FT)
#define TH_M3_PER_GAL (231.0 * TH_M_PER_IN * TH_M_PER_IN * TH_M_PER_IN)
#define TH_KG_PER_LB 0.45359237
#define TH_J_PER_BTU 1055.05585262
#define TH_K_PER_F (5.0 / 9.0)
#define TH_S_PER_H 3600.0
#define TH_W_PER_BTUH (TH_J_PER_BTU / TH_S_PER_H)
#define TH_M3S_PER_CFM (TH_M3_PER_FT3 / 60.0)
#define TH_M_S_PER_MPH 0.44704
#define TH_M_S_PER_KNOT (1852.0 / 3600.0)
#define TH_PA_PER_INHG 3386.389
#define TH_PA_PER_PSI 6894.757293168
/** (m² K/W) per (ft² °F h/Btu). */
#define TH_R_SI_PER_US (TH_M2_PER_FT2 * TH_K_PER_F / TH_W_PER_BTUH)
/** (W/K) per (Btu/h °F). */
#define TH_UA_SI_PER_US (TH_W_PER_BTUH / TH_K_PER_F)

/** °C from °F. */
static inline double th_c_from_f(double t_f)
{
    return (t_f - 32.0) * TH_K_PER_F;
}

/** °F from °C. */
static inline double th_f_from_c(double t_c)
{
    return t_c / TH_K_PER_F + 32.0;
}

#endif

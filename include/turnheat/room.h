/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * One room as the engine sees it: one air space with its own pigs, fans and heaters. Plain values
 * in SI; copying a struct th_room copies the room, so a variant is a copy with one number changed.
 */
#ifndef TURNHEAT_ROOM_H
#define TURNHEAT_ROOM_H

#include "turnheat/error.h"
#include "turnheat/table.h"
#include <stdbool.h>

#define TH_NAME_MAX 48
#define TH_SURFACES_MAX 24
#define TH_HEATERS_MAX 6
#define TH_TURNS_MAX 8
#define TH_LEAVES_MAX 6

/** What a surface is, for the report of where heat goes. */
enum th_surface_kind { TH_WALL, TH_CEILING, TH_CURTAIN, TH_DOOR, TH_SURFACE_KINDS };

/** What lies on the other side of a surface. */
enum th_faces { TH_FACES_OUTSIDE, TH_FACES_ATTIC, TH_FACES_HALLWAY };

struct th_surface {
    char name[TH_NAME_MAX];
    enum th_surface_kind kind;
    enum th_faces faces;
    double area_m2;  /**< net of openings, > 0 */
    double r_m2k_w;  /**< whole assembly with films, > 0 */
    bool loose_fill; /**< low-density loose-fill fiberglass: R falls in deep cold */
};

struct th_site {
    char name[TH_NAME_MAX];
    char place[TH_NAME_MAX]; /**< as th_places_find() takes it, or "" */
    bool has_latitude;
    double latitude_deg; /**< of the place, where one is given */
    bool has_longitude;
    double longitude_deg;
    bool has_elevation;
    double elevation_m; /**< required before a run, -400…5000 */
    bool has_utc_offset;
    double utc_offset_h; /**< local standard time minus UTC, -12…14 */
    bool has_design_99;
    double design_99_c; /**< 99 % heating dry bulb */
    bool has_design_996;
    double design_996_c; /**< 99.6 % heating dry bulb */
};

/** Sizes of the room and what the shell adds besides its surfaces. */
struct th_shell {
    double length_m; /**< 0 if floor, volume and perimeter were given instead */
    double width_m;
    double height_m;         /**< mean inside height */
    double floor_m2;         /**< > 0 */
    double volume_m3;        /**< > 0 */
    double perimeter_m;      /**< slab edge facing outdoors, ≥ 0 */
    double edge_f_w_mk;      /**< slab-edge loss per metre and K */
    double roof_r_m2k_w;     /**< roof above the attic, with films */
    double roof_m2;          /**< roof area above the attic */
    double stratification_k; /**< ceiling air warmer than the room, ≥ 0 */
    double mass_j_m2k;       /**< building mass per m² floor; 0 switches it off */
    double mass_h_w_m2k;     /**< between mass and air, per m² floor */
    double internal_w;       /**< lights and motors, all as heat */
};

enum th_inlet { TH_INLET_OUTSIDE, TH_INLET_ATTIC, TH_INLET_HALLWAY };

/** How air above the minimum comes into a room off a hallway. */
enum th_surplus { TH_SURPLUS_HALLWAY, TH_SURPLUS_OUTSIDE };

struct th_air {
    double floor_m3_s;            /**< lowest steady fan flow of the room, room basis */
    double max_m3_s;              /**< installed maximum, room basis */
    double minimum_share;         /**< of the minimum table, 0.8…3 */
    struct th_table minimum_m3_s; /**< per pig against mass in kg */
    double stage_full_m3_s;  /**< first stage at full; 0 = the larger of twice the present minimum
                                and stage_place_m3_s × spaces */
    double stage_place_m3_s; /**< per finishing place, for that default */
    double stage_factor;     /**< multiplies the full flow (1), for the range in `compare` */
    double ramp_start_k;     /**< first stage starts above set point by this */
    double ramp_band_k;      /**< and is at full this much higher */
    enum th_inlet inlet;
    enum th_surplus surplus;  /**< for TH_INLET_HALLWAY */
    double hallway_c;         /**< temperature the hallway is kept at */
    double hallway_share;     /**< of the hallway heater's gas that becomes heat there */
    double leak_cm2;          /**< effective leakage area at 4 Pa, whole room */
    int shelter;              /**< shelter class 1 (none) … 5 (very heavy) */
    double burner_air_m3_s_w; /**< air per W of gas fired in unvented burners */
    bool control_rh;          /**< hold rh_limit with the fans */
    bool control_co2;         /**< hold co2_design_ppm with the fans */
    double rh_limit;          /**< 0…1 */
    double co2_design_ppm;
    double co2_worker_ppm;
    double co2_out_ppm;
};

enum th_growth { TH_GROWTH_GOMPERTZ, TH_GROWTH_BY_DAY };

struct th_pigs {
    enum th_growth growth;
    struct th_table weight_kg; /**< against day of turn, when TH_GROWTH_BY_DAY */
    double k_s;                /**< house-level sensible factor, 0.5…1.1 */
    double heat_factor;        /**< multiplies total heat, 1 */
    double spill_kg_day;       /**< spilled water that evaporates, per pig and day */
    double humidity_factor;    /**< multiplies water for humidity only */
    double activity;           /**< 0…0.43 */
    double activity_hour;      /**< hour of least activity */
    double death_share;        /**< dying over the whole turn */
    double co2_m3_h_kw;        /**< m³/h (20 °C, 1 atm) per kW of total heat at 20 °C */
};

enum th_by { TH_BY_CURVE_DAY, TH_BY_TURN_DAY, TH_BY_WEIGHT };

struct th_setpoints {
    enum th_by by; /**< what both tables' x means: curve day, day of turn or kg */
    struct th_table set_c;
    struct th_table comfort_c; /**< lower comfort limit against mass in kg (always weight) */
    double setback_k;          /**< night setback, 0 = none */
    double setback_from_day;   /**< not before this day of the turn */
    int setback_start_h;       /**< first hour of the night, 0…23 */
    int setback_end_h;         /**< first hour of the morning */
};

struct th_zone {
    bool on;
    double units; /**< 0 = one per `pigs_per_unit` placed */
    double pigs_per_unit;
    double input_w;       /**< gas input per unit */
    double share;         /**< of gas that becomes room heat; 0 = the fuel's unvented share */
    double pilot_w;       /**< per unit while lit */
    double target_c;      /**< at pig level on curve day 0 */
    double target_k_week; /**< falls by this each week */
    double days;          /**< curve days with zone heat */
    double rise_k;        /**< at full output */
    double drop_k;        /**< room set point lower by this on those days */
    double return_days;   /**< over which the set point comes back */
};

enum th_control { TH_IDEAL, TH_ON_OFF, TH_LEAD_LAG, TH_TWO_STAGE, TH_MODULATING };
enum th_pilot { TH_PILOT_NONE, TH_PILOT_HEATING, TH_PILOT_TURN };

/** A group of equal room heaters under one control. Offsets are below the set point. */
struct th_heater {
    char name[TH_NAME_MAX];
    enum th_control control;
    int units;      /**< lit, ≥ 1 */
    double input_w; /**< gas input rating of one unit, > 0 */
    bool vented;
    double share;     /**< of gas that becomes heat; 0 = by fuel and venting */
    double on_k;      /**< ON offset */
    double off_k;     /**< OFF offset, < on_k */
    double stagger_k; /**< between stages, lead-lag and two-stage */
    double turndown;  /**< lowest or low fire as a share of the rating, 0 < r ≤ 1 */
    double band_k;    /**< modulating: from full fire to the OFF point */
    enum th_pilot pilot;
    double pilot_w;  /**< per unit while lit; 0 with spark */
    double blower_w; /**< electrical, per unit while the burner is on */
};

/** How fast the room answers its heaters. */
struct th_response {
    double air_capacity; /**< short-cycle capacity as a multiple of the room air's (3) */
    double dead_time_s;  /**< heater, mixing and probe (90) */
    bool has_overshoot;
    double overshoot_k;      /**< measured rise after the heaters stop; replaces dead_time_s */
    double overshoot_out_c;  /**< outdoor temperature of that day */
    double kept_dead_time_s; /**< of the barn this is a variant of (th_response_keep()); 0: none */
    double factor;           /**< multiplies dead time over capacity (1), for the range */
};

/** A share of the pigs then alive leaves on a day of the turn. */
struct th_leave {
    double day;
    double share;
};

struct th_turn_plan {
    char name[TH_NAME_MAX];
    int month, day;    /**< placement */
    int year;          /**< of a placement with a date; 0: every year */
    int every_days;    /**< in files: again after so many days until the season ends; 0: once */
    double head;       /**< pigs placed, > 0 */
    double weight_kg;  /**< at placement */
    int days;          /**< 1…366 */
    double preheat_h;  /**< ≥ 0 */
    double wash_kg_m2; /**< wash water dried in the first 24 h of preheat */
    int n_leaves;
    struct th_leave leaves[TH_LEAVES_MAX];
};

enum th_gas { TH_PROPANE, TH_NATURAL_GAS };

struct th_fuel {
    enum th_gas gas;
    double hhv_j;      /**< per unit sold: a US gallon of propane, a therm of natural gas */
    double lhv_share;  /**< lower over higher heating value */
    double water_kg_j; /**< water formed per J of gas (higher value) */
    double co2_m3_j;   /**< CO₂ formed, m³ at 20 °C and 1 atm per J */
    bool has_price;
    double price; /**< $ per unit sold */
    bool freeze;  /**< empty barn kept from freezing */
    double freeze_c;
};

struct th_money {
    double electricity_j; /**< $ per J */
    double discount;      /**< real, per year */
    double fuel_growth;   /**< real price growth per year */
    int years;            /**< study period */
    double payer_share;   /**< of the fuel bill paid by whoever buys the equipment */
    double loan_share;    /**< of first cost borrowed */
    double loan_rate;     /**< nominal, per year */
    int loan_years;
    double inflation;        /**< to make loan payments real */
    double tax_rate;         /**< on net savings */
    double first_cost_usd;   /**< of the building and its equipment, one room; 0: not given */
    double first_life_years; /**< of it */
};

/** Moves of a whole room, for what is not known of it and for variants; 1, 1, 0 without. */
struct th_calibration {
    double ua_factor;
    double air_factor;  /**< on the minimum air */
    double set_shift_k; /**< actual minus displayed set point */
};

/** Uncertain numbers of a room: TH_UNKNOWNS of unknowns.h. */
#define TH_FITTED_NUMBERS 8
/** Directions in which fills can narrow them, at most. */
#define TH_FITTED_WAYS 6

/**
 * What fills taught of the uncertain numbers of a room (unknowns.h), as `calibrate` prints it: the
 * most likely deviates and their covariance I − Σ way wayᵀ, in place of 0 and I. Rooms of one fit
 * share its name, and what they say of shared numbers.
 */
struct th_fitted {
    bool given;
    char fit[TH_NAME_MAX];                         /**< of which fit */
    char inputs[TH_NAME_MAX];                      /**< digest of the file it was made from */
    int first_fill[3], last_fill[3];               /**< month, day, year */
    double z[TH_FITTED_NUMBERS];                   /**< most likely deviates */
    double way[TH_FITTED_WAYS][TH_FITTED_NUMBERS]; /**< all 0 where not used */
};

/** Which uncertain numbers were given rather than left at their default; see unknowns.h. */
struct th_known {
    bool minimum_air; /**< the table or its share */
    bool fan_floor;
    bool leakage;
    bool set_points;
};

struct th_room {
    char name[TH_NAME_MAX];
    int copies;    /**< identical rooms on the same dates, ≥ 1 */
    double spaces; /**< finishing places */
    struct th_site site;
    struct th_shell shell;
    int n_surfaces;
    struct th_surface surfaces[TH_SURFACES_MAX];
    struct th_air air;
    struct th_pigs pigs;
    struct th_setpoints setpoints;
    struct th_zone zone;
    int n_heaters;
    struct th_heater heaters[TH_HEATERS_MAX];
    struct th_response response;
    int n_turns;
    struct th_turn_plan turns[TH_TURNS_MAX];
    struct th_fuel fuel;
    struct th_money money;
    struct th_calibration calibration;
    struct th_fitted fitted;
    struct th_known known;
    int solve_every_h; /**< of so many hours one is solved and stands for all of them; ≤ 1: every
                            hour is. See th_room_roughly(). */
};

/**
 * Fills `room` with the documented defaults: no surfaces, heaters or turns, no elevation, no price.
 * Floor, volume and leakage are left 0 and must be given.
 */
void th_room_defaults(struct th_room *room);

/**
 * The fuel season a dated placement belongs to: the one it lies in, from April on the next. Of all
 * turns the first; 0 without a date.
 */
int th_room_season_year(const struct th_room *room);

/** A heater group of one unit with the documented defaults: no name, no rating. */
void th_heater_defaults(struct th_heater *heater);

/** Sets the fuel's gas and with it heat content, lower value and products of combustion. */
void th_fuel_of_gas(struct th_fuel *fuel, enum th_gas gas);

/** A turn with the documented defaults: no name, date, head or days. */
void th_turn_defaults(struct th_turn_plan *turn);

/** A wall facing outdoors: no name, area or R. */
void th_surface_defaults(struct th_surface *surface);

/** Lowest or low fire used when none is given: 1 on/off and lead-lag, 0.5 two-stage, 0.2 modulating
 * (our judgement). */
double th_heater_turndown(enum th_control control);

#define TH_FINDINGS_MAX 32

/** Something wrong or doubtful in a room: where, as in the barn file, and what. */
struct th_finding {
    char section[TH_NAME_MAX + 12]; /**< "heater main", "air" */
    char key[24];                   /**< "" when no single key is to blame */
    char text[320];
};

/** Errors forbid a run; warnings are to be printed on top of every report. */
struct th_findings {
    int n_errors; /**< may exceed TH_FINDINGS_MAX: only the first are kept */
    struct th_finding errors[TH_FINDINGS_MAX];
    int n_warnings;
    struct th_finding warnings[TH_FINDINGS_MAX];
};

/**
 * Checks ranges and cross-checks what one value alone cannot show (heaters present, ON above OFF,
 * turns apart, pigs fit on the floor). Fills `findings` anew with all there is to say.
 */
void th_room_review(const struct th_room *room, struct th_findings *findings);

/** Least flow of the fans over the turns' first days, m³/s: the minimum or their floor. INFINITY
 * without turns. The minimum table must be sound. */
double th_room_least_fan_m3_s(const struct th_room *room);

/**
 * th_room_review() for callers who only need yes or no: TH_ERR_RANGE with the first error's
 * section, key and text, or TH_OK.
 */
enum th_code th_room_check(const struct th_room *room, struct th_error *err);

#endif

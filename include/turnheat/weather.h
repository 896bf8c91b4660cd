/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Hourly weather as read from files: reports with the time on the files' own clock, every value
 * with its own present flag. th_climate_init() turns it into hours for the engine.
 */
#ifndef TURNHEAT_WEATHER_H
#define TURNHEAT_WEATHER_H

#include "turnheat/climate.h"
#include "turnheat/error.h"
#include <stdbool.h>
#include <stddef.h>

/** What a file's times mean. DAYLIGHT is wall-clock time that follows the US daylight rule. */
enum th_clock { TH_CLOCK_UNKNOWN, TH_CLOCK_UTC, TH_CLOCK_STANDARD, TH_CLOCK_DAYLIGHT };

enum th_quantity {
    TH_TEMP_C,
    TH_DEW_C,
    TH_RH,          /**< 0…1 */
    TH_PRESSURE_PA, /**< at the station, never reduced to sea level */
    TH_WIND_M_S,
    TH_QUANTITIES
};

/** One report. `value[q]` means something only when th_observation_has(report, q). */
struct th_observation {
    long minute;    /**< since 1970-01-01 00:00 on the weather's clock */
    unsigned has;   /**< bit 1 << quantity */
    unsigned order; /**< place in the files, set by th_weather_add() */
    double value[TH_QUANTITIES];
};

/** Whether the report carries quantity `q`. */
static inline bool th_observation_has(const struct th_observation *report, enum th_quantity q)
{
    return (report->has >> q) & 1u;
}

/** Puts a value into a report. */
static inline void th_observation_set(struct th_observation *report, enum th_quantity q,
                                      double value)
{
    report->has |= 1u << q;
    report->value[q] = value;
}

struct th_station {
    char id[32];   /**< "" when the form names none */
    char name[96]; /**< "" when the form names none */
    bool has_place;
    double lat_deg, lon_deg;
    bool has_elevation;
    double elevation_m;
    bool has_utc_offset;
    double utc_offset_h; /**< local standard time minus UTC */
};

/** One file: what it covers and what was wrong with it. */
struct th_weather_file {
    char name[256];
    size_t rows;      /**< data rows read */
    size_t refused;   /**< rows that could not be understood */
    long bad_line;    /**< line of the first of them, 0 = none */
    char bad_why[96]; /**< what was wrong with it */
    bool has_span;
    long first_minute, last_minute; /**< of the reports with a temperature */
};

/** Totals over all files. */
struct th_weather_counts {
    size_t rows;         /**< data rows read */
    size_t refused;      /**< could not be understood */
    size_t duplicates;   /**< of one and the same minute; the last with a temperature is kept */
    size_t other_type;   /**< specials, summaries and other report types left out */
    size_t no_temp;      /**< without a temperature */
    size_t suspect;      /**< temperatures the form itself marks as suspect, taken as missing */
    size_t out_of_order; /**< earlier than the row before */
    size_t leap_rows;    /**< rows of 29 February left out of a typical year */
};

/** Reports of one station. Owns memory: th_weather_init(), th_weather_finish(). */
struct th_weather {
    const char *form; /**< name of the form as read, "epw", or NULL; not owned */
    bool typical;
    enum th_clock clock;
    char clock_note[128]; /**< how the clock was decided */
    char units_note[160]; /**< how the units were decided */
    struct th_station station;
    struct th_weather_counts counts;
    size_t n_files;
    struct th_weather_file *files;
    size_t n, capacity;
    struct th_observation *reports; /**< in order of time after th_weather_order() */
};

/** An empty weather. */
void th_weather_init(struct th_weather *weather);

/** Frees what the weather owns; NULL and a second call are allowed. */
void th_weather_finish(struct th_weather *weather);

/** Frees the reports, for when the hours are made of them; what was read and counted stays. */
void th_weather_drop_reports(struct th_weather *weather);

/** Starts a new file, to which the next reports belong. TH_ERR_MEMORY. */
enum th_code th_weather_add_file(struct th_weather *weather, const char *name,
                                 struct th_error *err);

/** The file reports are being added to; there must be one. */
struct th_weather_file *th_weather_last_file(struct th_weather *weather);

/** Adds a report to the last file. TH_ERR_MEMORY. */
enum th_code th_weather_add(struct th_weather *weather, const struct th_observation *report,
                            struct th_error *err);

/** Counts a row that could not be understood; the first of a file is remembered with `why`. */
void th_weather_refuse_row(struct th_weather *weather, long line, const char *why);

/**
 * Appends the files and reports of `more`, which is left empty. TH_ERR_INPUT when the two name
 * different stations or forms, when either is a typical year, or when their clocks differ.
 */
enum th_code th_weather_join(struct th_weather *weather, struct th_weather *more,
                             struct th_error *err);

/**
 * Turns wall-clock time into standard time, puts the reports in order of time (keeping file order
 * within a minute) and drops repeated minutes. A typical year is left as it is.
 */
void th_weather_order(struct th_weather *weather);

/**
 * Makes the hours: the report nearest to each full hour, short gaps filled, moisture as humidity
 * ratio. `utc_offset_h` is the site's local standard time minus UTC, NAN when not known; only
 * weather on UTC needs it. `elevation_m` gives the pressure where the files have none.
 *
 * Gap rule, each quantity by itself: 1–3 h are interpolated; 4–24 h take the mean of the same hour
 * of the day before and the day after when both are observed; the rest stays missing. Missing
 * temperature leaves the hour missing; for the others see TH_DEFAULT_RH and enum th_climate_part.
 * Readings outside the TH_IMPOSSIBLE_… bounds, of any quantity, count as not observed.
 *
 * TH_ERR_COVERAGE when no temperature was read, when the clock is unknown, or on UTC without an
 * offset; TH_ERR_RANGE for an offset outside -12…14 h or an elevation outside -500…6000 m;
 * TH_ERR_MEMORY. `climate` need not be initialised; on error it is empty.
 */
enum th_code th_climate_init(struct th_climate *climate, const struct th_weather *weather,
                             double elevation_m, double utc_offset_h, struct th_error *err);

/** Relative humidity where none is known (our judgement; winter means run 0.7–0.8). */
#define TH_DEFAULT_RH 0.75
/** -70 °F and 125 °F, about the lowest and highest read in the lower 48 states (from memory). */
#define TH_IMPOSSIBLE_LOW_C (-102.0 * 5.0 / 9.0)
#define TH_IMPOSSIBLE_HIGH_C (93.0 * 5.0 / 9.0)
/** Station pressure: the range of psychro.h, well beyond any place with pigs (our judgement). */
#define TH_IMPOSSIBLE_LOW_PA 30000.0
#define TH_IMPOSSIBLE_HIGH_PA 120000.0
/** About the strongest gust ever read at a station, 113 m/s (from memory). */
#define TH_IMPOSSIBLE_WIND_M_S 113.0

/**
 * TH_OK when the span is usable, else TH_ERR_COVERAGE with the file (when `weather` is given), the
 * first and last missing hour and the counts.
 */
enum th_code th_climate_require(const struct th_climate *climate, const struct th_weather *weather,
                                long first_hour, long hours, struct th_error *err);

/** The file that should hold hour `hour_number`, or NULL when there are no files. */
const struct th_weather_file *th_weather_file_at(const struct th_weather *weather,
                                                 const struct th_climate *climate,
                                                 long hour_number);

#endif

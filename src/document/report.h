/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A report: built once by a command, then rendered as text, JSON, CSV or HTML.
 *
 *     struct th_report *r = th_report_new("budget");
 *     th_report_title(r, "Propane budget – %s", room->name);
 *     th_report_warning(r, "Minimum air is set to %.2f of the table by hand.", share);
 *
 *     th_report_section(r, "season", "The heating season");
 *     th_report_fact(r, "gas_gal", "Propane burnt", "gal", TH_SIG3, th_number(gas_gal));
 *     th_report_fact(r, "lowest_f", "Lowest outdoors", "°F", TH_TENTHS, th_number(lowest_f));
 *     th_report_fact(r, "station", "Weather from", "", TH_PLAIN, th_text(station));
 *
 *     th_report_table(r, "months", "Gallons by month");
 *     for (int m = 0; m < 12; m++) {
 *         th_report_row(r);
 *         th_report_cell(r, "month", "Month", "", TH_PLAIN, th_text(name[m]));
 *         th_report_cell(r, "gas_gal", "Propane", "gal", TH_SIG3, th_number(gas_gal[m]));
 *     }
 *
 *     th_report_caution(r, "The weather of three winters is thin evidence.");
 *     code = th_report_write(r, TH_AS_TEXT, stdout, &err); (render.h)
 *     th_report_free(r);
 *
 * As JSON this is {"schema": 2, "turnheat": "…", "command": "budget", "title": …, "warnings": […],
 * "season": {"gas_gal": 2290, "lowest_f": …, "station": …, "months": [{"month": "Jan", …}, …]},
 * "cautions": […]}. Facts and tables given before the first section lie at
 * the top. Keys are lower case and end in the unit; missing values are null; numbers carry nine
 * significant digits. Keys do not hang on the data. Where the unit of a key that ends in _gal is
 * therms, the key is null and another, that ends in _therm, stands beside it.
 *
 * What has no key is for people only; a fact without a label and a table without a caption are for
 * machines only.
 *
 * Every string is copied. Bad UTF-8 and control characters are replaced on the way in, so that a
 * hostile name can harm no form of output. Building never fails visibly: the first failure (out of
 * memory, a key used twice in one place, rows that differ in their cells) is kept and returned by
 * th_report_write(). All functions accept a NULL report, so th_report_new() needs no check either.
 */
#ifndef TURNHEAT_REPORT_H
#define TURNHEAT_REPORT_H

#include "turnheat/error.h"
#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/** The number under which keys are only ever added. */
#define TH_REPORT_SCHEMA 2

/** How a number is shown to people. JSON and CSV carry the number itself. */
enum th_format {
    TH_PLAIN,      /**< as short as possible, six significant digits, no thousands commas: a year */
    TH_SIG3,       /**< three significant digits: gallons, dollars, Btu/h */
    TH_BULK,       /**< the same without decimals: gallons and dollars of a season or month */
    TH_SIG2,       /**< two significant digits */
    TH_WHOLE,      /**< whole: hours, starts, heads, percents, ppm */
    TH_TENTHS,     /**< one decimal: temperatures in °F */
    TH_HUNDREDTHS, /**< two decimals: dollars a gallon, ratios */
    TH_DAY,  /**< a day number of turnheat/calendar.h as Jan 31, 2018 (JSON, CSV: 2018-01-31) */
    TH_HOUR, /**< an hour number as Jan 31, 2018, 06:00 (JSON, CSV: 2018-01-31T06:00) */
    TH_FORMAT_COUNT
};

enum th_value_kind {
    TH_VALUE_MISSING,
    TH_VALUE_NUMBER,
    TH_VALUE_TEXT,
    TH_VALUE_BOOL,
    TH_VALUE_NO_NUMBER
};

struct th_value {
    enum th_value_kind kind;
    double number;
    const char *text;
    bool flag;
};

/** Nothing known: JSON null, an empty CSV field, a dash for people. */
static inline struct th_value th_missing(void)
{
    return (struct th_value){.kind = TH_VALUE_MISSING};
}

/** A number; NaN and the infinities are missing. */
static inline struct th_value th_number(double number)
{
    return isfinite(number) ? (struct th_value){.kind = TH_VALUE_NUMBER, .number = number}
                            : th_missing();
}

/** A text; NULL is missing. */
static inline struct th_value th_text(const char *text)
{
    return text ? (struct th_value){.kind = TH_VALUE_TEXT, .text = text} : th_missing();
}

/** No number, which people are told in words ("never"); missing to machines. */
static inline struct th_value th_no_number(const char *words)
{
    return (struct th_value){.kind = TH_VALUE_NO_NUMBER, .text = words};
}

/** Yes or no. */
static inline struct th_value th_bool(bool flag)
{
    return (struct th_value){.kind = TH_VALUE_BOOL, .flag = flag};
}

/** A number only when it is known. */
static inline struct th_value th_number_if(bool known, double number)
{
    return known ? th_number(number) : th_missing();
}

/** A column of a table. `unit` "" for none; "$" and "$/gal" are money. */
struct th_column {
    const char *key, *label, *unit;
    enum th_format format;
};

struct th_report;

/** Starts the report of `command`. Never needs a check; see above. */
struct th_report *th_report_new(const char *command);

/** Frees the report; NULL is allowed. */
void th_report_free(struct th_report *report);

/** The title over everything (printf style). The last call counts. */
void th_report_title(struct th_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/** The report is of this one file among many: JSON says so. */
void th_report_file(struct th_report *report, const char *path);

/** In place of a result: what is wrong, and the exit status that stands for it. JSON says this and
 * no more. May be called several times. */
void th_report_error(struct th_report *report, int status, const char *text);

/** The page is to be printed on one sheet: small, in two columns. */
void th_report_one_sheet(struct th_report *report);

/** A line of the head of a page (printf style): farm, weather, price, date. Pages only. */
void th_report_about(struct th_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/** A warning, shown on top of every form, in the order given; the same text only once. */
void th_report_warning(struct th_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/** A caution, shown at the end of every form, in the order given. */
void th_report_caution(struct th_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/** A balance shown at the end: `in` and `out` should agree. `key` names it ("heat"). */
void th_report_balance(struct th_report *report, const char *key, const char *label,
                       const char *unit, double in, double out);

/**
 * Starts one element of the list `key` ("rooms"): what follows up to the next part or
 * th_report_part_end() belongs to it. In JSON an object of the array `key` with the member "name".
 */
void th_report_part(struct th_report *report, const char *key, const char *name);

/** Ends the part; what follows belongs to the whole report again. */
void th_report_part_end(struct th_report *report);

/** Starts a section with a heading (NULL: none); `key` names the JSON object for what follows. */
void th_report_section(struct th_report *report, const char *key, const char *heading);

/** A paragraph; with a `key` (NULL: none) it is also a text in JSON and CSV. */
void th_report_paragraph(struct th_report *report, const char *key, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/** One more line of the answer on top of all, in whatever part the report has got to: of the list
 * "lines" of its first section, "answer". */
void th_report_top_line(struct th_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/**
 * One sentence of an answer, a paragraph to people; in JSON the lines of a section are the texts of
 * its list "lines".
 */
void th_report_line(struct th_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/** One item of a bulleted list; neighbours form one list. For people only. */
void th_report_item(struct th_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/** A line to paste into a file, as it stands; neighbours form one block. For people only. */
void th_report_paste(struct th_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/** A fact; neighbours form one aligned list. `key` NULL: for people only; `label` NULL: for
 * machines only. */
void th_report_fact(struct th_report *report, const char *key, const char *label, const char *unit,
                    enum th_format format, struct th_value value);

/**
 * Starts a table, filled by rows of cells. People are not shown a column in which nothing is known;
 * machines always find its key. A table without rows is an empty list. `key` NULL: for people only;
 * `caption` NULL: for machines only, "" for none.
 */
void th_report_table(struct th_report *report, const char *key, const char *caption);

/** Starts a row of the table started last. */
void th_report_row(struct th_report *report);

/** Starts the totals row of the table started last: `<key>_total` in JSON. */
void th_report_total(struct th_report *report);

/**
 * A cell of the row started last, in a column of its own: written like a fact. The first row of a
 * table tells its columns (at most 32); every other row and the total name the same keys in the
 * same order, or the report fails with TH_ERR_INTERNAL. `unit` "" for none; "$" and "$/gal" are
 * money. With NULL for a label people are told nothing of it.
 */
void th_report_cell(struct th_report *report, const char *key, const char *label, const char *unit,
                    enum th_format format, struct th_value value);

/** A line to sign on, with the words under it. For people only. */
void th_report_signature(struct th_report *report, const char *label);

#endif

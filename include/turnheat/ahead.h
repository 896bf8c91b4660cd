/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What lies ahead of a farm from one day on: the rest of the season's gallons, the trucks, whether
 * contracts in force are enough, and when the next order must go out. Every winter of the plan goes
 * on from the same date, each for many farms that fit what is known; a farm's gallons keep the
 * ratio of its season to the barn files' on every day (our judgement). US gallons and dollars.
 */
#ifndef TURNHEAT_AHEAD_H
#define TURNHEAT_AHEAD_H

#include "turnheat/plan.h"

/** A gauge is read to this share of the capacity, so that much less is counted (model's rule). */
#define TH_AHEAD_GAUGE_LESS 0.05
/** Never put an order off below this level. */
#define TH_AHEAD_LEVEL_LEAST 0.25
/** Share of the cases in which the reserve may be touched before a truck comes. */
#define TH_AHEAD_RISK 0.05
/** A reading older than this is questioned; so is one above the level tanks are filled to. */
#define TH_AHEAD_READING_DAYS 14
/** Seven days each from the first day on, the last one shorter. */
#define TH_AHEAD_WEEKS_MAX 53

/** A reading of one group of tanks. */
struct th_gauge {
    bool read;    /**< else the group starts as at the beginning of a season */
    double share; /**< of the capacity, 0…1 */
    long day;     /**< of the reading, not after the day looked ahead from */
};

/** A contract in force. */
struct th_taken {
    int contract; /**< its place among the plan's */
    double gal;   /**< taken of it so far, ≥ 0 */
};

struct th_ahead_in {
    long day;    /**< the first day (day number) */
    bool season; /**< a whole season to come, from 1 July: no winter is left out, nothing is paid */
    struct th_gauge gauges[TH_TANKS_MAX]; /**< in the order of the plan's tanks */
    int n_taken;
    struct th_taken taken[TH_CONTRACTS_MAX];
};

/** Over the cases: the 10th, 50th and 90th percent of them, and their mean. What they may be called
 * hangs on the winters, see th_ahead.kind. */
struct th_ahead_span {
    double low, middle, high, mean;
};

struct th_ahead_week {
    long first_day;
    int n_days;
    struct th_ahead_span used_gal;
    double loads; /**< mean number of truck loads */
};

struct th_ahead_month {
    int month; /**< 0 January */
    struct th_ahead_span used_gal;
    double delivered_gal; /**< mean */
};

/** When to order for one group of tanks. */
struct th_ahead_order {
    double reading_gal; /**< what the gauge says */
    double counted_gal; /**< less what it may be off, and less what was used since */
    bool needed;        /**< some of the cases come near the reserve before 30 June */
    long by_day;        /**< the last day to order on */
    bool late;          /**< that day is gone: order at once and ask for an early truck */
    bool by_quarter;    /**< the level decides, not the reserve */
    long comes_day;     /**< the truck of an order on by_day */
    double room_gal;    /**< room for a truck's gallons then, mean */
    double level_share; /**< least level to expect then: one case in twenty is lower */
    struct th_vapour_check vapour; /**< at that level on the coldest day ahead */
    double coldest_c;              /**< outdoors at the worst hour */
};

/** What comes of one contract in force. */
struct th_ahead_contract {
    int contract;
    double taken_gal, left_gal; /**< so far, and still to take */
    long last_day;              /**< of its window */
    double all_share;           /**< of the cases that take all that is left */
    double drawn_gal;           /**< mean still drawn */
    double unused_gal;          /**< mean not taken at the end, over all cases */
};

/** What th_ahead_run() finds. Small enough for the heap only: calloc it. */
struct th_ahead {
    long first_day, end_day; /**< end_day 1 July is not in it */
    enum th_range_kind kind; /**< what low and high may be called */
    size_t n_winters, n_cases;
    bool has_came;   /**< the season itself is among the winters: it was left out of the cases */
    double came_gal; /**< what it used from that day on, barns as the files have them */
    struct th_ahead_span used;   /**< barns and other users */
    struct th_ahead_span bought; /**< delivered */
    struct th_ahead_span spot;   /**< of it at the posted price */
    struct th_ahead_span usd;    /**< still to be paid; 0 without a price */
    struct th_split_cash cash;   /**< the mean of `usd` by month; nothing early, no interest; what
                                     rolls into the next season is no part of `usd` */
    int n_weeks;
    struct th_ahead_week weeks[TH_AHEAD_WEEKS_MAX];
    int n_months;
    struct th_ahead_month months[12];
    struct th_ahead_order orders[TH_TANKS_MAX];
    int n_contracts;
    struct th_ahead_contract contracts[TH_CONTRACTS_MAX]; /**< in the order they are drawn */
};

/**
 * Looks ahead from `in->day` over the winters of `plan` (th_plan_winters() at least). The season of
 * that day is not used for itself. TH_ERR_RANGE names a reading or a gallon out of
 * range, TH_ERR_COVERAGE without a winter to go on with, TH_ERR_MEMORY.
 */
enum th_code th_ahead_run(const struct th_plan *plan, const struct th_ahead_in *in,
                          struct th_ahead *ahead, struct th_error *err);

#endif

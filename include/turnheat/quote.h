/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Which of a builder's options belong into a new barn, ranked one step at a time. */
#ifndef TURNHEAT_QUOTE_H
#define TURNHEAT_QUOTE_H

#include "turnheat/case.h"
#include "turnheat/compare.h"
#include "turnheat/drip.h"
#include "turnheat/payback.h"
#include "turnheat/sizing.h"
#include "turnheat/spread.h"
#include "turnheat/study.h"
#include "turnheat/trial.h"

#define TH_QUOTE_OPTIONS_MAX 8

/** What is ranked; all pointers are borrowed. */
struct th_quote_in {
    const struct th_runs *runs; /**< its jobs and onlooker are used */
    const struct th_case *base; /**< the barn without options */
    const struct th_purchase *options;
    int n;           /**< ≤ TH_QUOTE_OPTIONS_MAX */
    double out_99_c; /**< outdoors on the design day */
    /** Makes the room with the options whose bits are set; bit i is option i. */
    enum th_code (*build)(void *context, unsigned options, struct th_room *room,
                          struct th_error *err);
    void *context;
    /** All options are asked for: they join whether they pay or not, unless pigs or walls suffer,
     * and none is dropped again. */
    bool as_offered;
    /** For the builder's own copy: options left out are told in figures, and what each is worth
     * over the farms. Without, only what the quotation holds is. */
    bool builder;
    /** Where the farms go that the barn may be, with the records that are weighed in; made when
     * they are first asked for. To be finished by whoever owns it; NULL: no ranges over them. */
    struct th_farms *farms;
    int n_records;
    const struct th_record *records;
};

/** Why an option is in or out; the pigs come before the money. */
enum th_quote_state {
    TH_QUOTE_TAKEN,   /**< pays on top of those before it */
    TH_QUOTE_NO_PAY,  /**< does not pay on top of those taken */
    TH_QUOTE_REFUSED, /**< refused, see th_change_refused() */
    TH_QUOTE_HEAT,    /**< short of heat, see harm.h; likewise the next two */
    TH_QUOTE_SHORT_OF_AIR,
    TH_QUOTE_COLD,
    TH_QUOTE_WET,           /**< surfaces drip more than 2 h a season longer */
    TH_QUOTE_NO_DIFFERENCE, /**< likewise the verdict of th_comparison_weigh(), as the next two */
    TH_QUOTE_SETTINGS_FIRST,
    TH_QUOTE_DEPENDS,  /**< on the room's response; what rests on its worth after the study joins */
    TH_QUOTE_REPLACED, /**< was taken, until another of its group did better */
    TH_QUOTE_DROPPED   /**< was taken, but no longer pays beside the others */
};

/** One option, in the order of its first decision. Of one that is left out and whose figures nobody
 * asked for, `option`, `state` and `refused` alone are set, and `state` may be any that leaves it
 * out. */
struct th_quote_step {
    int option;
    enum th_quote_state state;
    char refused[TH_REFUSED_MAX]; /**< why, where it is TH_QUOTE_REFUSED; otherwise "" */
    struct th_hardship added;     /**< to the pigs' lot in the worst winter */
    bool falls_short;             /**< its heaters fall below the design need */
    double saved_units; /**< in a mean season, on top of those before, all copies; of another
                             fuel what it costs in units of today's */
    struct th_return
        payback;         /**< marginal, against those before; when dropped, beside those left */
    bool other_fuel;     /**< it changes the fuel or its price */
    double scrapped_usd; /**< its net savings if it is worth nothing after the study */
    /* Of what was weighed or, where today.drawn, taken: */
    struct th_net today; /**< over the farms and, weighed, the response cases */
    double chance;       /**< see th_choice_return */
    /* Of a change of heating, which is weighed as th_comparison_weigh() does: */
    bool weighed;
    enum th_warmth judged_by;
    double shift_k;         /**< added to ON and OFF, so that the room is as warm as without */
    bool has_settings;      /**< better settings of the heaters without it cost nothing: */
    struct th_net settings; /**< net savings against them */
};

/** What `th_quote_run()` finds. Units are those of the fuel: gallons or therms. */
struct th_quote {
    int n;
    struct th_quote_step steps[TH_QUOTE_OPTIONS_MAX];
    unsigned taken;      /**< bits of the options taken */
    double options_usd;  /**< first cost of those, all copies */
    struct th_room room; /**< with them, ON and OFF moved as the steps say */
    double shift_k;      /**< by how much in all */
    struct th_trial before, after;
    struct th_choice_return together;           /**< all that were taken, against none */
    double joint_error;                         /**< as in th_comparison */
    struct th_spread before_units, after_units; /**< of a season, all copies, each its own fuel's */
    double out_99_c;
    struct th_sizing sizing; /**< of the room with the options taken */
    double installed_w, one_out_w;
    double peak_gas_w;                    /**< every burner lit, all copies */
    double inlet_first_m2, inlet_last_m2; /**< for the least air of the first turn's days */
    double standby_w;                     /**< all fans and blowers, all copies */
    double drip_h[TH_SURFACES_MAX];       /**< of a season, by surface of `room` */
};

/**
 * Ranks the options: at each step the one with the highest marginal SIR (better at once first)
 * joins, in the place of one of its group, as long as its marginal net savings are above zero and
 * air, heat, warmth and dry surfaces are no worse than with those taken. What is a
 * th_change_of_heating() is weighed as th_comparison_weigh() does against those taken and joins
 * only if its sign does not hang on the room's response, ON and OFF then moved until the room is as
 * warm as without it. What is seen at a glance not to be the best of a step is not run whole: what
 * is told and what joins always is. Then a pass that drops: as long as net savings rise by it, what
 * has come to pay less than it costs goes. TH_ERR_INPUT without a fuel price or with too many
 * options; errors of `build`, of th_drip_run(), th_sizing_run() and th_comparison_weigh().
 */
enum th_code th_quote_run(const struct th_quote_in *in, struct th_quote *quote,
                          struct th_error *err);

#endif

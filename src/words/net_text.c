/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "net_text.h"

#include "spread_text.h"

#include <stdio.h>
#include <string.h>

const char *th_dollars(char text[TH_SHOWN_MAX], double usd)
{
    return th_show_with_unit(text, th_number(usd), TH_SIG3, "$");
}

const char *th_net_words(char text[TH_NET_MAX], const struct th_net *net)
{
    char now[TH_SHOWN_MAX], low[TH_SHOWN_MAX], high[TH_SHOWN_MAX];
    th_dollars(now, net->usd);
    th_dollars(low, net->low_usd);
    th_dollars(high, net->high_usd);
    if (strcmp(now, low) == 0 && strcmp(now, high) == 0)
        snprintf(text, TH_NET_MAX, "%s", now);
    else
        snprintf(text, TH_NET_MAX, "%s (%s to %s)", now, low, high);
    return text;
}

struct th_value th_measure_value(char words[TH_MEASURE_MAX], struct th_measure m, int years)
{
    static const char *const states[] = {[TH_MEASURE_NONE] = "none",
                                         [TH_MEASURE_BETTER_AT_ONCE] = "better at once",
                                         [TH_MEASURE_NOT_UNIQUE] = "not unique"};
    if (m.state == TH_MEASURE_DEFINED)
        return th_number(m.value);
    if (m.state != TH_MEASURE_NEVER)
        return th_no_number(states[m.state]);
    snprintf(words, TH_MEASURE_MAX, "not within %d years", years);
    return th_no_number(words);
}

const char *th_chance_words(char text[TH_CHANCE_MAX], const struct th_net *net, double chance)
{
    char low[TH_SHOWN_MAX], high[TH_SHOWN_MAX], cases[TH_CASES_MAX];
    th_cases_of_ten(cases, chance);
    if (net->drawn && net->case_low_usd < net->case_high_usd)
        snprintf(text, TH_CHANCE_MAX,
                 "; it pays in %s, and with the overshoot and the first fan stage "
                 "smaller or larger comes to %s to %s",
                 cases, th_dollars(low, net->case_low_usd), th_dollars(high, net->case_high_usd));
    else if (net->drawn)
        snprintf(text, TH_CHANCE_MAX, "; it pays in %s", cases);
    else
        snprintf(text, TH_CHANCE_MAX,
                 ", the range being what is not known of the room's overshoot and its first fan "
                 "stage");
    return text;
}

const char *th_warmth_words(enum th_warmth by)
{
    static const char *const words[] = {[TH_BY_MEAN] = "mean temperature",
                                        [TH_BY_TROUGH] = "low of the swing",
                                        [TH_AS_SET] = "settings"};
    return words[by];
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Net savings of a change in words, and what was made equal before it was weighed. */
#ifndef TURNHEAT_NET_TEXT_H
#define TURNHEAT_NET_TEXT_H

#include "display.h"
#include "turnheat/compare.h"

#define TH_NET_MAX (3 * TH_SHOWN_MAX + 8)

/** "$14,700" */
const char *th_dollars(char text[TH_SHOWN_MAX], double usd);

/** "$14,700 ($1,810 to $20,400)"; "$14,700" where the range shows no other. */
const char *th_net_words(char text[TH_NET_MAX], const struct th_net *net);

#define TH_MEASURE_MAX 48

/** A measure of payback: its number, or why it has none: "not within 10 years" of a study of so
 * many. The words live in `words` until a cell has kept them. */
struct th_value th_measure_value(char words[TH_MEASURE_MAX], struct th_measure m, int years);

#define TH_CHANCE_MAX 200

/** "; it pays in 7 of 10 cases" and the rest of what the range is. */
const char *th_chance_words(char text[TH_CHANCE_MAX], const struct th_net *net, double chance);

/** "mean temperature", "low of the swing" or "settings". */
const char *th_warmth_words(enum th_warmth by);

#endif

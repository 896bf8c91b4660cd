/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A barn file that its builder can hand to the customer. */
#ifndef TURNHEAT_BARN_OFFER_H
#define TURNHEAT_BARN_OFFER_H

#include "barn.h"

/**
 * Writes `barn`, with what its farm file says of it, as one barn file: only the options whose bits
 * are set in `options`; no choices, no tanks, contracts and other users, no [money] first_cost, no
 * record of a meter that other barns share, and no remark. Paths stay as they were given, so the
 * file belongs where the barn file is. Whether `out` took it all is for the caller to see.
 */
void th_barn_offer(const struct th_barn *barn, unsigned options, FILE *out);

#endif

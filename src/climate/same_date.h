/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The same date in another year. */
#ifndef TURNHEAT_SAME_DATE_H
#define TURNHEAT_SAME_DATE_H

/** The hour of the same date and time of day `years_back` years earlier; 29 February becomes the
 * 28th where there is none. */
long th_same_date_hour(long hour_number, int years_back);

#endif

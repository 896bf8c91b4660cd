/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The rows of the table of parameters for buying gas. Private, as parameters_rows.h. */
#ifndef TURNHEAT_PARAMETERS_FARM_H
#define TURNHEAT_PARAMETERS_FARM_H

#include "parameters_rows.h"

/* In [fuel], of struct th_price_model. */
extern const struct th_parameters th_parameters_price;
/* Of struct th_tank, th_contract and th_use. */
extern const struct th_parameters th_parameters_tank, th_parameters_contract, th_parameters_use;

#endif

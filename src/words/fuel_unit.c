/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fuel_unit.h"

const struct th_fuel_unit *th_fuel_unit(const struct th_fuel *fuel)
{
    static const struct th_fuel_unit units[] = {
        [TH_PROPANE] = {"Propane", "gal", "gallons"},
        [TH_NATURAL_GAS] = {"Natural gas", "therm", "therms"}};
    return &units[fuel->gas];
}

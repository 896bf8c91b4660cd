/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "heater_text.h"

const char *th_control_text(enum th_control control)
{
    static const char *const texts[] = {[TH_IDEAL] = "ideal (no swing)",
                                        [TH_ON_OFF] = "on/off together",
                                        [TH_LEAD_LAG] = "lead-lag",
                                        [TH_TWO_STAGE] = "two-stage",
                                        [TH_MODULATING] = "modulating"};
    return texts[control];
}

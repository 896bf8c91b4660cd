/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "heater_text.h"

const char *th_control_text(enum th_control control)
{
    switch (control) { /* without a default: the compiler asks for a new one's words */
    case TH_IDEAL:
        return "ideal (no swing)";
    case TH_ON_OFF:
        return "all on or off at once";
    case TH_LEAD_LAG:
        return "one after the other (lead-lag)";
    case TH_TWO_STAGE:
        return "two-stage";
    case TH_MODULATING:
        return "modulating";
    }
    return "unknown";
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "heater_text.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

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

const char *th_title_text(char text[TH_TITLE_MAX], const char *name, const char *what)
{
    const bool is_said = !what || strstr(name, what);
    snprintf(text, TH_TITLE_MAX, "%s%s%s%s", name, is_said ? "" : " (", is_said ? "" : what,
             is_said ? "" : ")");
    if (text[0] >= 'a' && text[0] <= 'z')
        text[0] = (char)(text[0] - 'a' + 'A');
    return text;
}

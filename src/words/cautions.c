/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cautions.h"
#include <string.h>

enum { ESTIMATES, AIR, PROPANE };

static const char *const cautions[] = {
    [ESTIMATES] = "These are estimates from a model, not a guarantee.",
    [AIR] = "Never save fuel by cutting air below the minimum, closing inlets or taping curtains "
            "beyond the rule: carbon monoxide, CO2, ammonia and pit gases injure pigs and people "
            "(ceilings: H2S 10 ppm, NIOSH; CO 50 and CO2 5,000 ppm, OSHA).",
    [PROPANE] =
        "Propane is heavier than air and lies in pits and low places; natural gas gathers under "
        "ceilings. Smell gas: touch no switch, light no flame, get people out, shut the supply off "
        "outside, call the supplier. A tank "
        "run empty needs a leak test and relighting by a qualified person.",
    "Never agitate or pump a pit with pilots or burners lit or people inside. Run no engine "
    "in a closed room.",
    "Keep a low-temperature alarm, a CO alarm and backup ventilation working and tested.",
    "Gas piping, venting, tank setting, valve adjustment and wiring follow NFPA 54, 58 and "
    "150, "
    "the rating plate and local codes, and are work for a licensed installer."};

void th_report_cautions(struct th_report *report)
{
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
        th_report_caution(report, "%s", cautions[i]);
}

void th_report_fuel_cautions(struct th_report *report)
{
    th_report_caution(report, "%s", cautions[ESTIMATES]);
    th_report_caution(report, "%s", cautions[AIR]);
    th_report_caution(report, "%s", cautions[PROPANE]);
}

static bool ends_with_mark(const char *text)
{
    const size_t n = strlen(text);
    return n > 0 && strchr(".?!", text[n - 1]);
}

void th_report_doubts(struct th_report *report, const struct th_room *room)
{
    struct th_findings findings;
    th_room_review(room, &findings);
    for (int i = 0; i < findings.n_warnings && i < TH_FINDINGS_MAX; i++)
        th_report_warning(report, "%s: %s%s", room->name, findings.warnings[i].text,
                          ends_with_mark(findings.warnings[i].text) ? "" : ".");
}

void th_report_thin_weather(struct th_report *report, const struct th_case *one)
{
    if (one->climate->typical)
        th_report_warning(
            report,
            "%s: one typical year is thin evidence: it holds no bad winter and can "
            "miss the design temperature by 9 °F. Size from a published or long-term value.",
            th_case_weather_name(one));
    if (th_climate_generated(one->climate))
        th_report_warning(
            report,
            "%s: the weather is invented, generated from monthly statistics; no such "
            "winter was measured. Use station files of your place to decide anything.",
            th_case_weather_name(one));
}

void th_report_thin_design(struct th_report *report, const struct th_case *one)
{
    const struct th_site *const site = &one->room->site;
    if (th_climate_generated(one->climate) && !site->has_design_99 && !site->has_design_996)
        th_report_warning(
            report,
            "%s: enter the design temperature (design_99, design_996 in [site], from a "
            "handbook). What 99 %% of the simulated hours lie above stands in for it here, and "
            "generated winters have too few very cold hours.",
            th_case_weather_name(one));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heater choices and options with their costs, tanks, contracts and other gas users. */
#include "check_report.h"

#include <stdio.h>
#include <string.h>

/* Whether [KIND NAME] stands in the farm file. */
static bool from_farm(const struct th_barn *barn, const char *kind, const char *name)
{
    char section[TH_TEXT_SECTION_MAX + 1];
    snprintf(section, sizeof section, "%s %.*s", kind, TH_TEXT_SECTION_MAX - 10, name);
    for (size_t i = 0; i < barn->text.n; i++) {
        const struct th_entry *entry = &barn->text.entries[i];
        if (!entry->key && strcmp(entry->section, section) == 0)
            return strcmp(entry->file, barn->farm_path) == 0;
    }
    return false;
}

/* What is still to be listed of one barn: rows of the farm file are told with the first. */
struct listing {
    const struct th_barn *barn;
    bool farm_told;
};

static bool listed(const struct listing *of, const char *kind, const char *name)
{
    return !of->farm_told || !from_farm(of->barn, kind, name);
}

static int count_tanks(const struct listing *of)
{
    int n = 0;
    for (int i = 0; i < of->barn->n_tanks; i++)
        n += listed(of, "tank", of->barn->tanks[i].name);
    return n;
}

static int count_contracts(const struct listing *of)
{
    int n = 0;
    for (int i = 0; i < of->barn->n_contracts; i++)
        n += listed(of, "contract", of->barn->contracts[i].name);
    return n;
}

static int count_uses(const struct listing *of)
{
    int n = 0;
    for (int i = 0; i < of->barn->n_uses; i++)
        n += listed(of, "use", of->barn->uses[i].name);
    return n;
}

static void pick_table(struct th_report *report, const char *key, const char *caption,
                       const struct th_pick *picks, int n)
{
    if (n == 0)
        return;
    th_report_table(report, key, caption);
    for (int i = 0; i < n; i++) {
        th_report_row(report);
        th_report_cell(report, "name", "Name", "", TH_PLAIN, th_text(picks[i].name));
        th_report_cell(report, "cost_usd", "First cost", "$", TH_SIG3,
                       th_number(th_pick_cost_usd(&picks[i])));
        th_report_cell(report, "life_years", "Life", "years", TH_WHOLE,
                       th_number_if(picks[i].life_years > 0.0, picks[i].life_years));
        th_report_cell(report, "upkeep_usd_year", "Upkeep", "$/year", TH_SIG3,
                       th_number(picks[i].upkeep_usd_year));
        th_report_cell(report, "note", "Note", "", TH_PLAIN,
                       th_text(picks[i].note[0] ? picks[i].note : NULL));
    }
}

static void tank_table(struct th_report *report, const struct listing *of)
{
    const struct th_barn *const barn = of->barn;
    if (count_tanks(of) == 0)
        return;
    th_report_table(report, "tanks", "Tanks");
    for (int i = 0; i < barn->n_tanks; i++) {
        if (!listed(of, "tank", barn->tanks[i].name))
            continue;
        const struct th_tank *t = &barn->tanks[i];
        th_report_row(report);
        th_report_cell(report, "tank", "Tank", "", TH_PLAIN, th_text(t->name));
        th_report_cell(report, "tanks_count", "Number", "", TH_WHOLE, th_number(t->count));
        th_report_cell(report, "capacity_gal", "Size of one", "gal", TH_WHOLE,
                       th_number(t->capacity_gal));
        th_report_cell(report, "fill_pct", "Filled to", "%", TH_WHOLE,
                       th_number(100.0 * t->fill_share));
        th_report_cell(report, "lead_days", "Days to deliver", "", TH_WHOLE,
                       th_number(t->lead_days));
    }
}

static const char *contract_text(enum th_contract_kind kind)
{
    static const char *const texts[] = {[TH_CONTRACT_SPOT] = "spot",
                                        [TH_CONTRACT_PREPAID] = "prepaid",
                                        [TH_CONTRACT_BOOKED] = "booked",
                                        [TH_CONTRACT_CAPPED] = "capped"};
    return texts[kind];
}

static void contract_table(struct th_report *report, const struct listing *of)
{
    const struct th_barn *const barn = of->barn;
    if (count_contracts(of) == 0)
        return;
    th_report_table(report, "contracts", "Contracts");
    for (int i = 0; i < barn->n_contracts; i++) {
        if (!listed(of, "contract", barn->contracts[i].name))
            continue;
        const struct th_contract *c = &barn->contracts[i];
        const bool priced = c->kind != TH_CONTRACT_SPOT;
        th_report_row(report);
        th_report_cell(report, "contract", "Contract", "", TH_PLAIN, th_text(c->name));
        th_report_cell(report, "kind", "Kind", "", TH_PLAIN, th_text(contract_text(c->kind)));
        th_report_cell(report, "volume_gal", "Volume", "gal", TH_WHOLE,
                       th_number_if(c->volume_gal > 0.0, c->volume_gal));
        th_report_cell(report, "price_usd_gal", "Price", "$/gal", TH_HUNDREDTHS,
                       th_number_if(priced, c->price_usd_gal));
    }
}

static void use_table(struct th_report *report, const struct listing *of)
{
    const struct th_barn *const barn = of->barn;
    if (count_uses(of) == 0)
        return;
    th_report_table(report, "uses", "Other users of the same gas");
    for (int i = 0; i < barn->n_uses; i++) {
        if (!listed(of, "use", barn->uses[i].name))
            continue;
        double gal = 0.0;
        for (int week = 0; week < barn->uses[i].n_weeks; week++)
            gal += barn->uses[i].week_gal[week];
        th_report_row(report);
        th_report_cell(report, "use", "Gas user", "", TH_PLAIN, th_text(barn->uses[i].name));
        th_report_cell(report, "weeks_count", "Weeks", "", TH_WHOLE,
                       th_number(barn->uses[i].n_weeks));
        th_report_cell(report, "season_gal", "A season", "gal", TH_SIG3, th_number(gal));
    }
}

void th_checked_farm(struct th_report *report, const struct th_barn *barn, bool farm_told)
{
    const struct listing of = {.barn = barn, .farm_told = farm_told && barn->farm_path[0]};
    const int own = count_tanks(&of) + count_contracts(&of) + count_uses(&of);
    const int all = barn->n_tanks + barn->n_contracts + barn->n_uses;
    if (barn->n_choices + barn->n_options > 0)
        th_report_section(report, "picks", "What could be changed");
    pick_table(report, "choices", "Heater choices", barn->choices, barn->n_choices);
    pick_table(report, "options", "Options of the builder", barn->options, barn->n_options);
    if (all > 0)
        th_report_section(report, "farm", "Tanks, contracts and other gas users");
    if (own < all)
        th_report_paragraph(report, NULL, "Those of the farm file are listed with the first room.");
    tank_table(report, &of);
    contract_table(report, &of);
    use_table(report, &of);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heater choices and options with their costs, tanks, contracts and other gas users. */
#include "check_report.h"

static void pick_table(struct th_report *report, const char *key, const char *caption,
                       const struct th_pick *picks, int n)
{
    static const struct th_column columns[] = {{"name", "Name", "", TH_PLAIN},
                                               {"cost_usd", "First cost", "$", TH_SIG3},
                                               {"life_years", "Life", "years", TH_WHOLE},
                                               {"upkeep_usd_year", "Upkeep", "$/year", TH_SIG3},
                                               {"note", "Note", "", TH_PLAIN}};
    if (n == 0)
        return;
    th_report_table(report, key, caption, columns, 5);
    for (int i = 0; i < n; i++)
        th_report_row(report, (struct th_value[]){
                                  th_text(picks[i].name), th_number(th_pick_cost_usd(&picks[i])),
                                  th_number_if(picks[i].life_years > 0.0, picks[i].life_years),
                                  th_number(picks[i].upkeep_usd_year),
                                  th_text(picks[i].note[0] ? picks[i].note : NULL)});
}

static void tank_table(struct th_report *report, const struct th_barn *barn)
{
    static const struct th_column columns[] = {{"tank", "Tank", "", TH_PLAIN},
                                               {"tanks_count", "Number", "", TH_WHOLE},
                                               {"capacity_gal", "Size of one", "gal", TH_WHOLE},
                                               {"fill_pct", "Filled to", "%", TH_WHOLE},
                                               {"lead_days", "Days to deliver", "", TH_WHOLE}};
    if (barn->n_tanks == 0)
        return;
    th_report_table(report, "tanks", "Tanks", columns, 5);
    for (int i = 0; i < barn->n_tanks; i++) {
        const struct th_tank *t = &barn->tanks[i];
        th_report_row(report, (struct th_value[]){
                                  th_text(t->name), th_number(t->count), th_number(t->capacity_gal),
                                  th_number(100.0 * t->fill_share), th_number(t->lead_days)});
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

static void contract_table(struct th_report *report, const struct th_barn *barn)
{
    static const struct th_column columns[] = {{"contract", "Contract", "", TH_PLAIN},
                                               {"kind", "Kind", "", TH_PLAIN},
                                               {"volume_gal", "Volume", "gal", TH_WHOLE},
                                               {"price_usd_gal", "Price", "$/gal", TH_HUNDREDTHS}};
    if (barn->n_contracts == 0)
        return;
    th_report_table(report, "contracts", "Contracts", columns, 4);
    for (int i = 0; i < barn->n_contracts; i++) {
        const struct th_contract *c = &barn->contracts[i];
        const bool priced = c->kind != TH_CONTRACT_SPOT;
        th_report_row(report, (struct th_value[]){th_text(c->name), th_text(contract_text(c->kind)),
                                                  th_number_if(c->volume_gal > 0.0, c->volume_gal),
                                                  th_number_if(priced, c->price_usd_gal)});
    }
}

static void use_table(struct th_report *report, const struct th_barn *barn)
{
    static const struct th_column columns[] = {{"use", "Gas user", "", TH_PLAIN},
                                               {"weeks_count", "Weeks", "", TH_WHOLE},
                                               {"season_gal", "A season", "gal", TH_SIG3}};
    if (barn->n_uses == 0)
        return;
    th_report_table(report, "uses", "Other users of the same gas", columns, 3);
    for (int i = 0; i < barn->n_uses; i++) {
        double gal = 0.0;
        for (int week = 0; week < barn->uses[i].n_weeks; week++)
            gal += barn->uses[i].week_gal[week];
        th_report_row(report,
                      (struct th_value[]){th_text(barn->uses[i].name),
                                          th_number(barn->uses[i].n_weeks), th_number(gal)});
    }
}

void th_checked_farm(struct th_report *report, const struct th_barn *barn)
{
    const int picks = barn->n_choices + barn->n_options;
    const int gas = barn->n_tanks + barn->n_contracts + barn->n_uses;
    if (picks > 0)
        th_report_section(report, "picks", "What could be changed");
    pick_table(report, "choices", "Heater choices", barn->choices, barn->n_choices);
    pick_table(report, "options", "Options of the builder", barn->options, barn->n_options);
    if (gas > 0)
        th_report_section(report, "farm", "Tanks, contracts and other gas users");
    tank_table(report, barn);
    contract_table(report, barn);
    use_table(report, barn);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/trial.h"

enum th_code th_trial_of(const struct th_winters *winters, const char *name, struct th_trial *trial,
                         struct th_error *err)
{
    trial->n = trial->middle = 0;
    th_tally_clear(&trial->mean);
    if (winters->n_counted == 0)
        return th_fail(err, TH_ERR_COVERAGE, "room %s: the weather covers no whole season", name);
    if (winters->n_counted > TH_TRIAL_SEASONS_MAX)
        return th_fail(err, TH_ERR_MODEL, "%d seasons are more than the %d a comparison takes",
                       winters->n_counted, TH_TRIAL_SEASONS_MAX);
    const struct th_season *const middle = th_winters_middle(winters);
    for (int i = 0; i < winters->n; i++) {
        const struct th_season *season = &winters->seasons[i];
        if (!season->counted)
            continue;
        if (season == middle)
            trial->middle = trial->n;
        trial->years[trial->n] = season->year;
        trial->hardship[trial->n] = th_hardship_of(season);
        trial->gas_j[trial->n++] = th_tally_gas_j(&season->total);
        th_tally_add(&trial->mean, &season->total, 1.0 / winters->n_counted);
    }
    return TH_OK;
}

double th_trial_gas_j(const struct th_trial *trial)
{
    return th_tally_gas_j(&trial->mean);
}

double th_trial_heated_c(const struct th_trial *trial)
{
    const double hours = trial->mean.sum[TH_HEAT_WANTED];
    return hours > 0.0 ? trial->mean.sum[TH_HEATED_KH] / hours : 0.0;
}

int th_trial_middle_year(const struct th_trial *trial)
{
    return trial->years[trial->middle];
}

struct th_block th_trial_block(const struct th_trial *trial)
{
    const int n = trial->n < TH_BLOCK_SEASONS ? trial->n : TH_BLOCK_SEASONS;
    int from = trial->middle - n / 2;
    from = from < 0 ? 0 : from;
    from = from > trial->n - n ? trial->n - n : from;
    struct th_block block = {.first_year = trial->years[from],
                             .last_year = trial->years[from + n - 1]};
    block.gas_j = th_trial_block_gas_j(trial, &block);
    block.scale = block.gas_j > 0.0 ? th_trial_gas_j(trial) / block.gas_j : 1.0;
    return block;
}

double th_trial_block_gas_j(const struct th_trial *trial, const struct th_block *block)
{
    double sum_j = 0.0;
    int n = 0;
    for (int i = 0; i < trial->n; i++)
        if (trial->years[i] >= block->first_year && trial->years[i] <= block->last_year) {
            sum_j += trial->gas_j[i];
            n++;
        }
    return n > 0 ? sum_j / n : 0.0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_farm.h"

#include "turnheat/calendar.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* The checks of tanks, contracts and prices begin their texts with the key they speak of. */
static void blame(struct th_apply *apply, const char *word, const char *name,
                  const struct th_error *err)
{
    char section[TH_SECTION_MAX], key[TH_NAME_MAX];
    size_t n = 0;
    while (n < sizeof key - 1 && (islower((unsigned char)err->text[n]) || err->text[n] == '_'))
        n++;
    snprintf(key, sizeof key, "%.*s", (int)n, err->text);
    snprintf(section, sizeof section, "%s%s%.*s", word, *name ? " " : "", TH_SECTION_MAX - 12,
             name);
    th_apply_error(apply, section, key, "%s", err->text);
}

/* A price that plans cannot be made with. Without one, or for natural gas, none are made. */
static void check_price(struct th_apply *apply, const struct th_fuel *fuel)
{
    struct th_price_model price = apply->draft->price;
    struct th_error err = {0};
    price.posted_usd_gal = fuel->price;
    if (fuel->has_price && fuel->gas == TH_PROPANE && th_price_check(&price, &err) != TH_OK)
        blame(apply, "fuel", "", &err);
}

/* A record of days is at most of so many. */
#define YEAR_DAYS 366
/* Shares of thirds and sevenths are written rounded. */
#define SHARES_OFF 0.005

static long day_of(const int date[3])
{
    return th_day_number(date[2], date[0], date[1]);
}

/* A record is of a season, or of days, at most a year; its season and days are filled in. */
static void find_days(struct th_apply *apply, struct th_barn_record *of)
{
    const int *from = of->from, *to = of->to;
    struct th_record *record = &of->record;
    char section[TH_SECTION_MAX];
    snprintf(section, sizeof section, "record %.*s", TH_SECTION_MAX - 12, record->name);
    if (from[0] == 0 && to[0] == 0) {
        if (record->year == 0)
            th_apply_error(apply, section, "",
                           "there is no season; expected season = 2025-26, or from and to");
        return;
    }
    if (record->year > 0 || from[2] == 0 || to[2] == 0) {
        th_apply_error(apply, section, from[0] > 0 ? "from" : "to",
                       "expected either season, or from and to, both with their year");
        return;
    }
    record->year = th_season_of_month(from[2], from[0]);
    record->first_day = day_of(from);
    record->last_day = day_of(to);
    if (record->last_day <= record->first_day || record->last_day - record->first_day > YEAR_DAYS)
        th_apply_error(apply, section, "to", "expected a later day, at most a year later");
}

/* Shares of the gas are those of all tanks: given for all they add up to it, given for some they
   leave a part to the others. */
static void check_shares(struct th_apply *apply)
{
    const struct th_draft *const draft = apply->draft;
    char names[TH_TANKS_MAX * (TH_NAME_MAX + 2)] = "", section[TH_SECTION_MAX] = "";
    double sum = 0.0;
    size_t n = 0;
    int given = 0;
    for (int i = 0; i < draft->n_tanks; i++) {
        const struct th_tank *tank = &draft->tanks[i];
        if (!(tank->use_share > 0.0))
            continue;
        sum += tank->use_share;
        n += (size_t)snprintf(names + n, sizeof names - n, "%s%s", given++ > 0 ? ", " : "",
                              tank->name);
        snprintf(section, sizeof section, "tank %.*s", TH_SECTION_MAX - 12, tank->name);
    }
    const bool all = given == draft->n_tanks;
    if (given > 0 && all && fabs(sum - 1.0) > SHARES_OFF)
        th_apply_error(apply, section, "use_share",
                       "use_share of %s add to %.4g %%; expected 100 %%", names, 100.0 * sum);
    else if (given > 0 && !all && sum >= 1.0)
        th_apply_error(apply, section, "use_share",
                       "use_share of %s add to %.4g %%; expected less than 100 %%, since the other "
                       "tanks supply the rest",
                       names, 100.0 * sum);
}

void th_barn_farm_review(struct th_apply *apply, const struct th_room *room)
{
    struct th_draft *const draft = apply->draft;
    struct th_error err = {0};
    for (int i = 0; i < draft->n_tanks; i++)
        if (th_tank_check(&draft->tanks[i], &err) != TH_OK)
            blame(apply, "tank", draft->tanks[i].name, &err);
    check_shares(apply);
    for (int i = 0; i < draft->n_contracts; i++)
        if (th_contract_check(&draft->contracts[i], &err) != TH_OK)
            blame(apply, "contract", draft->contracts[i].name, &err);
    for (int i = 0; i < draft->n_uses; i++)
        if (th_use_check(&draft->uses[i], &err) != TH_OK)
            blame(apply, "use", draft->uses[i].name, &err);
    for (int i = 0; i < draft->n_records; i++)
        find_days(apply, &draft->records[i]);
    check_price(apply, &room->fuel);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "records.h"

#include "turnheat/record_share.h"

#include <stdio.h>
#include <string.h>

/* "samples/curtain.barn" is called curtain. */
static bool is_called(const struct th_barn *barn, const char *name, size_t length)
{
    const char *const slash = strrchr(barn->path, '/');
    const char *const stem = slash ? slash + 1 : barn->path;
    return strcspn(stem, ".") == length && strncmp(stem, name, length) == 0;
}

/* The bits of the barn files that a list of names means. */
static enum th_code find_barns(const struct th_cases *cases, const struct th_barn_record *of,
                               unsigned long *barns, struct th_error *err)
{
    for (const char *at = of->barns + strspn(of->barns, " ,"); *at; at += strspn(at, " ,")) {
        const size_t length = strcspn(at, " ,");
        unsigned long found = 0;
        for (int b = 0; b < cases->n; b++)
            if (is_called(&cases->barns[b], at, length))
                found |= 1ul << b;
        if (!found)
            return th_fail(
                err, TH_ERR_INPUT,
                "[record %s] is of barn file \"%.*s\", which is not given here; expected "
                "names of the barn files on the command line",
                of->record.name, (int)length, at);
        *barns |= found;
        at += length;
    }
    return TH_OK;
}

static enum th_code add(struct th_cases *cases, int barn, const struct th_barn_record *of,
                        struct th_records *records, struct th_error *err)
{
    struct th_record record = of->record;
    const struct th_barn *own = &cases->barns[barn];
    if (records->n == TH_RECORDS_MAX)
        return th_fail(err, TH_ERR_INPUT, "there are more than %d records", TH_RECORDS_MAX);
    record.delivered = of->kind;
    for (int i = 0; i < own->n_tanks; i++)
        record.tank_gal += own->tanks[i].count * own->tanks[i].capacity_gal;
    enum th_code code = find_barns(cases, of, &record.barns, err);
    if (code != TH_OK)
        return code;
    if (!record.barns && !of->from_farm)
        record.barns = 1ul << barn;
    for (int b = 0; b < cases->n; b++)
        if ((!record.barns || record.barns >> b & 1ul) &&
            cases->barns[b].room.fuel.gas != TH_PROPANE)
            return th_fail(err, TH_ERR_INPUT,
                           "[record %s] is of gallons, and room %s burns natural gas", record.name,
                           cases->barns[b].room.name);
    if (record.last_day > 0)
        code = th_record_find_share(&cases->runs, cases->cases, cases->n, &record, err);
    records->list[records->n++] = record;
    return code;
}

enum th_code th_records_gather(struct th_cases *cases, struct th_records *records,
                               struct th_error *err)
{
    enum th_code code = TH_OK;
    records->n = 0;
    for (int b = 0; b < cases->n; b++)
        for (int i = 0; i < cases->barns[b].n_records && code == TH_OK; i++) {
            const struct th_barn_record *of = &cases->barns[b].records[i];
            /* Every barn holds those of the farm file. */
            if (of->from_farm && b > 0)
                continue;
            code = add(cases, b, of, records, err);
        }
    return code;
}

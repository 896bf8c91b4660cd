/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/farms.h"

enum th_code th_farms_init(struct th_farms *farms, struct th_runs *runs,
                           const struct th_case *cases, int n, int which, int n_records,
                           const struct th_record *records, struct th_error *err)
{
    *farms = (struct th_farms){.learnt = n_records > 0, .one = &cases[which]};
    for (int i = 0; i < n; i++)
        farms->learnt |= cases[i].room->fitted.given;
    enum th_code code = TH_OK;
    if (farms->learnt) {
        farms->barn = which;
        code = th_outlook_init(&farms->outlook, runs, cases, n, err);
        if (code == TH_OK)
            code = th_answer_make(&farms->answer, &farms->outlook, n_records, records, err);
    } else {
        code = th_outlook_init_few(&farms->outlook, runs, farms->one, 1, err);
        if (code == TH_OK)
            code = th_outlook_draw(&farms->outlook, err);
    }
    farms->drawn = code == TH_OK;
    return code == TH_ERR_MODEL || code == TH_ERR_COVERAGE ? TH_OK : code;
}

void th_farms_finish(struct th_farms *farms)
{
    if (!farms)
        return;
    th_outlook_finish(&farms->outlook);
    farms->drawn = false;
}

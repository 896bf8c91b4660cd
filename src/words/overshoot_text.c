/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "overshoot_text.h"

#include "turnheat/season.h"
#include "turnheat/units.h"

/* A cold day to tell it for where none was measured. */
#define TOLD_FOR_F 20.0

enum th_code th_report_overshoot(struct th_report *report, const struct th_room *room,
                                 struct th_error *err)
{
    const bool measured = room->response.has_overshoot;
    const double out_c = measured ? room->response.overshoot_out_c : th_c_from_f(TOLD_FOR_F);
    struct th_engine engine;
    const enum th_code code = th_engine_init(&engine, room, err);
    if (code != TH_OK)
        return code;
    const double overshoot_k = th_engine_overshoot_k(&engine, out_c);
    th_engine_finish(&engine);
    th_report_fact(report, "overshoot_f", "Coasts past the OFF point (overshoot)", "°F", TH_TENTHS,
                   th_number(overshoot_k / TH_K_PER_F));
    th_report_fact(report, "overshoot_outdoor_f", "  new pigs, outdoors at", "°F", TH_WHOLE,
                   th_number(th_f_from_c(out_c)));
    th_report_fact(report, "overshoot_from", "  that is", "", TH_PLAIN,
                   th_text(measured ? "measured" : "assumed from the dead time, not measured"));
    return TH_OK;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "size_report.h"

#include "balance_text.h"
#include "cautions.h"
#include "display.h"
#include "figure.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

/* Days between two rows of the table by age, and between two points of its figure. */
#define DAY_STEP 14
/* From this weight on a pig is called heavy: 100 lb. */
#define HEAVY_KG (100.0 * TH_KG_PER_LB)
#define POINT_STEP 3
#define WORDS_MAX 400

static double btuh(double w)
{
    return w / TH_W_PER_BTUH;
}

static const char *from_text(enum th_design_from from)
{
    static const char *const texts[] = {[TH_DESIGN_GIVEN] = "given in [site]",
                                        [TH_DESIGN_WEATHER] = "from these weather files",
                                        [TH_DESIGN_GENERATED] = "of generated hours",
                                        [TH_DESIGN_DATES] = "of the weeks around each date"};
    return texts[from];
}

static void need_row(struct th_report *report, const struct th_size *size,
                     const struct th_size_need *need)
{
    const struct th_sizing *s = &need->sizing;
    const bool needed = s->most_w > 0.0;
    char when[64];
    snprintf(when, sizeof when, "%s %% %s", need->at_996 ? "99.6" : "99", from_text(need->from));
    th_report_row(report);
    th_report_cell(report, "design", "Design day", "", TH_PLAIN, th_text(when));
    th_report_cell(report, "outdoor_f", "Outdoors", "°F", TH_TENTHS,
                   th_number(th_f_from_c(s->out_c)));
    th_report_cell(report, "load_btu_h", "Heat to give off, pigs", "Btu/h", TH_SIG3,
                   th_number(btuh(s->load_w)));
    th_report_cell(report, "needed_btu_h", "Heater input needed, pigs", "Btu/h", TH_SIG3,
                   th_number(btuh(s->needed_w)));
    th_report_cell(report, "preheat_btu_h", "Input before pigs, drying", "Btu/h", TH_SIG3,
                   th_number(btuh(s->preheat_w)));
    th_report_cell(report, "worst_day", "Day of the turn, 0 = placed", "", TH_WHOLE,
                   th_number(s->day));
    th_report_cell(report, "installed_ratio", "Installed / larger of both", "", TH_HUNDREDTHS,
                   th_number_if(needed, size->installed_w / s->most_w));
    th_report_cell(report, "one_out_ratio", "With one unit out", "", TH_HUNDREDTHS,
                   th_number_if(needed, size->one_out_w / s->most_w));
}

/* What heaters must hold on the design day, in words. */
static void most_words(char words[WORDS_MAX], const struct th_size *size)
{
    const struct th_sizing *w = &size->worst;
    char most[TH_SHOWN_MAX], out[TH_SHOWN_MAX];
    th_show_with_unit(most, th_number(btuh(w->most_w)), TH_SIG3, "Btu/h");
    th_show_with_unit(out, th_number(th_f_from_c(w->out_c)), TH_TENTHS, "°F");
    if (w->preheat_w > w->needed_w)
        snprintf(words, WORDS_MAX,
                 "Heaters must give %s of input at %s outdoors, before the pigs come: the fans run "
                 "at their floor, washing dries, and no pig warms the room.",
                 most, out);
    else
        snprintf(words, WORDS_MAX,
                 "Heaters must give %s of input at %s outdoors, on day %d, with pigs of %.0f lb.",
                 most, out, w->day, w->mass_kg / TH_KG_PER_LB);
}

/* The same over all design days looked at. */
static void say_range(struct th_report *report, const struct th_size *size)
{
    double low_w = size->worst.most_w, high_w = low_w;
    char low[TH_SHOWN_MAX], high[TH_SHOWN_MAX];
    for (int i = 0; i < size->n_needs; i++) {
        low_w = fmin(low_w, size->needs[i].sizing.most_w);
        high_w = fmax(high_w, size->needs[i].sizing.most_w);
    }
    if (high_w > low_w)
        th_report_top_line(report, "%s to %s Btu/h by how cold a day is planned for.",
                           th_show(low, th_number(btuh(low_w)), TH_SIG3),
                           th_show(high, th_number(btuh(high_w)), TH_SIG3));
}

/* Whether the heaters drawn are enough, and with the largest of them out. */
static void say_installed(struct th_report *report, const struct th_size *size)
{
    const double most_w = size->worst.most_w, ratio = size->installed_w / most_w;
    char installed[TH_SHOWN_MAX], out[TH_SHOWN_MAX], pigs[TH_SHOWN_MAX], verdict[WORDS_MAX];
    if (!(most_w > 0.0) || !(size->installed_w > 0.0))
        return;
    th_show_with_unit(installed, th_number(btuh(size->installed_w)), TH_SIG3, "Btu/h");
    th_show_with_unit(out, th_number(btuh(size->one_out_w)), TH_SIG3, "Btu/h");
    if (ratio < 1.0 && size->installed_w >= size->worst.needed_w)
        snprintf(
            verdict, sizeof verdict,
            "too little to warm and dry the empty room on such a day; with pigs in it they need "
            "%s, and that is there",
            th_show(pigs, th_number(btuh(size->worst.needed_w)), TH_SIG3));
    else
        snprintf(verdict, sizeof verdict, "%s",
                 ratio < 1.0                   ? "too little, the pigs stand cold on such a day"
                 : ratio < TH_SIZE_RATIO_LOW   ? "enough with little to spare"
                 : ratio <= TH_SIZE_RATIO_HIGH ? "enough"
                                               : "more than is needed, which overshoots");
    th_report_top_line(report,
                       "%s are installed, %.2f times that: %s. With one unit out %s are left: %s.",
                       installed, ratio, verdict, out,
                       size->one_out_w >= most_w ? "still enough"
                       : size->one_out_w >= size->worst.needed_w
                           ? "enough with pigs, not before they come"
                           : "not enough, so keep a spare or divide it among more units");
}

/* By the extension classes of minimum air the pigs may need more than by the smooth curve. */
static void say_classes(struct th_report *report, const struct th_size *size)
{
    const double needed_w = size->classes.needed_w;
    char needed[TH_SHOWN_MAX], installed[TH_SHOWN_MAX];
    if (!(needed_w > size->worst.most_w))
        return;
    th_show_with_unit(needed, th_number(btuh(needed_w)), TH_SIG3, "Btu/h");
    th_show(installed, th_number(btuh(size->installed_w)), TH_SIG3);
    th_report_top_line(report,
                       "With the extension classes of minimum air (MWPS-32) it is %s, most at %.0f "
                       "lb: the %s installed are %s.",
                       needed, size->classes.mass_kg / TH_KG_PER_LB, installed,
                       size->installed_w < needed_w ? "short of that" : "enough for that too");
}

/* The answer on top: what is needed, what is there, what that rests on. */
static void say_answer(struct th_report *report, const struct th_room *room,
                       const struct th_size *size)
{
    char words[WORDS_MAX];
    most_words(words, size);
    words[0] = 'h';
    th_report_top_line(report, "%s%s: %s", room->name, room->copies > 1 ? ", one room" : "", words);
    say_range(report, size);
    say_installed(report, size);
    if (size->installed_w > 0.0)
        say_classes(report, size);
    if (size->needs[0].from == TH_DESIGN_GIVEN)
        th_report_top_line(report, "It rests on the design temperature given, at set point in a 15 "
                                   "mph wind, with no margin; wall and ceiling R and the least air "
                                   "change it most.");
    else
        th_report_top_line(report,
                           "It rests on the 99 %% day %s, at set point in a 15 mph wind, with no "
                           "margin; a published design temperature would change it most.",
                           from_text(size->needs[0].from));
}

/* Either curve of minimum air, and why heavy pigs may need most. */
static void curve_facts(struct th_report *report, const struct th_size *size)
{
    const struct th_sizing *c = &size->classes;
    char out[TH_SHOWN_MAX];
    th_report_fact(report, "smooth_btu_h", "Input needed with the smooth curve of minimum air",
                   "Btu/h", TH_SIG3, th_number(btuh(size->smooth.needed_w)));
    th_report_fact(report, "classes_btu_h", "with the extension classes (MWPS-32)", "Btu/h",
                   TH_SIG3, th_number(btuh(c->needed_w)));
    th_report_fact(report, "classes_lb", "then most at a weight of", "lb", TH_WHOLE,
                   th_number(c->mass_kg / TH_KG_PER_LB));
    if (c->mass_kg > HEAVY_KG && c->head > 0.0)
        th_report_paragraph(
            report, NULL,
            "Heavy pigs can need more heat than small ones: by the classes a pig of %.0f lb gets "
            "%.0f cfm, and warming that from %s takes %.0f Btu/h, while the pig gives the room "
            "%.0f Btu/h.",
            c->mass_kg / TH_KG_PER_LB, c->fan_m3_s / c->head / TH_M3S_PER_CFM,
            th_show_with_unit(out, th_number(th_f_from_c(c->out_c)), TH_TENTHS, "°F"),
            btuh(c->air_w / c->head), btuh(c->pigs_w / c->head));
}

static void need_section(struct th_report *report, const struct th_size *size)
{
    char words[WORDS_MAX];
    th_report_section(report, "need", "What the room needs");
    most_words(words, size);
    th_report_fact(report, "most", NULL, "", TH_PLAIN, th_text(words));
    th_report_table(report, "need", "At set point, 15 mph wind, no margin");
    for (int i = 0; i < size->n_needs; i++)
        need_row(report, size, &size->needs[i]);
    th_report_fact(report, "installed_btu_h", "Installed input", "Btu/h", TH_SIG3,
                   th_number(btuh(size->installed_w)));
    curve_facts(report, size);
    th_report_paragraph(report, NULL,
                        "Dates: today's schedule, each date at what 99 %% of the hours within 15 "
                        "days of it lie above (our own measure), never colder than the year's. "
                        "Heaters outlive schedules, so the year's value decides.");
    th_report_paragraph(report, NULL,
                        "Recommended installed over needed: %.2f to %.2f (common practice, no "
                        "source). More than that overshoots and burns more; see compare.",
                        TH_SIZE_RATIO_LOW, TH_SIZE_RATIO_HIGH);
}

static void age_figure(struct th_report *report, const struct th_size *size)
{
    th_figure(report,
              &(struct th_figure){
                  .caption = "What the pigs need by age, and what is installed",
                  .reading = "Heat to be given off by day of the turn while the 99 % design "
                             "cold lasts, and what the heaters give off: their input less "
                             "what goes up the flue or is lost with height.",
                  .along = {.label = "day of the turn", .format = TH_WHOLE},
                  .value = {.unit = "Btu/h", .format = TH_SIG3, .from_zero = true}});
    th_figure_mark(report, TH_MARK_LINE, TH_INK_HEAT, NULL);
    for (int day = 0; day < size->n_days; day += POINT_STEP)
        th_figure_point(report, day, btuh(size->days[day].load_99_w));
    th_figure_rule(report, TH_MARK_RULE_VALUE, "all heaters", btuh(size->heat_w));
    if (size->installed_w > 0.0)
        th_figure_rule(report, TH_MARK_RULE_VALUE, "needed before the pigs come",
                       btuh(size->heat_w * size->worst.preheat_w / size->installed_w));
    if (size->installed_w > size->one_out_w && size->one_out_w > 0.0)
        th_figure_rule(report, TH_MARK_RULE_VALUE, "with one unit out",
                       btuh(size->heat_w * size->one_out_w / size->installed_w));
}

static void age_section(struct th_report *report, const struct th_room *room,
                        const struct th_size *size)
{
    const struct th_design_day *design = &size->design.days[0];
    char caption[96];
    snprintf(caption, sizeof caption, "Turn %s, every two weeks, %s", room->turns[0].name,
             from_text(design->from));
    th_report_section(report, "by_age", "By age of the pigs");
    th_report_table(report, "by_age", caption);
    for (int i = 0; i < size->n_days; i += DAY_STEP) {
        const struct th_size_day *day = &size->days[i];
        th_report_row(report);
        th_report_cell(report, "day", "Day", "", TH_WHOLE, th_number(i));
        th_report_cell(report, "weight_lb", "Weight", "lb", TH_WHOLE,
                       th_number(day->mass_kg / TH_KG_PER_LB));
        th_report_cell(report, "set_f", "Set point", "°F", TH_TENTHS,
                       th_number(th_f_from_c(day->set_c)));
        th_report_cell(report, "minimum_cfm", "Minimum air", "cfm", TH_SIG3,
                       th_number(day->fan_m3_s / TH_M3S_PER_CFM));
        th_report_cell(report, "inlet_ft2", "Inlet opening at 800 ft/min", "ft²", TH_HUNDREDTHS,
                       th_number(day->inlet_m2 / TH_M2_PER_FT2));
        th_report_cell(report, "load_99_btu_h", "Heat to give off, 99 %", "Btu/h", TH_SIG3,
                       th_number(btuh(day->load_99_w)));
        th_report_cell(report, "load_996_btu_h", "99.6 %", "Btu/h", TH_SIG3,
                       th_number_if(design->has_996, btuh(day->load_996_w)));
    }
    age_figure(report, size);
}

/* Number and size against each other. */
static void choice_table(struct th_report *report, const struct th_size *size)
{
    th_report_table(report, "choices", "Heaters by number and size, input each");
    for (int i = 0; i < size->n_choices; i++) {
        const struct th_size_choice *c = &size->choices[i];
        const bool drawn = i == 0 && size->installed_w > 0.0;
        th_report_row(report);
        th_report_cell(report, "heaters", "Heaters", "", TH_PLAIN,
                       th_text(drawn ? "as drawn" : "instead"));
        th_report_cell(report, "units_count", "Units", "", TH_WHOLE, th_number(c->units));
        th_report_cell(report, "unit_btu_h", "Each", "Btu/h", TH_SIG3, th_number(btuh(c->unit_w)));
        th_report_cell(report, "ratio", "Of need", "", TH_HUNDREDTHS, th_number(c->ratio));
        th_report_cell(report, "one_out_ratio", "One out", "", TH_HUNDREDTHS,
                       th_number(c->one_out));
        th_report_cell(report, "load_factor_pct", "Load factor", "%", TH_WHOLE,
                       th_number_if(size->drip.hours > 0.0, 100.0 * c->load_share));
        th_report_cell(report, "autumn_all_pct", "Autumn fire, all", "%", TH_WHOLE,
                       th_number(100.0 * c->autumn_all));
        th_report_cell(report, "autumn_one_pct", "of one", "%", TH_WHOLE,
                       th_number_if(c->autumn_one <= 1.0, 100.0 * c->autumn_one));
    }
    th_report_paragraph(report, NULL,
                        "Of need: what all give over what heaters must hold; instead: the least "
                        "size that gives %.2f times it, in steps of 5,000 Btu/h. Load factor: mean "
                        "fire over the turns, of full fire. Autumn fire: new pigs and 45 °F "
                        "outdoors, of full fire, all together and one alone with the others off; "
                        "a dash means that one is not enough.",
                        TH_SIZE_RATIO_LOW);
    if (!(size->drip.hours > 0.0))
        th_report_paragraph(report, NULL,
                            "The weather covers no winter whole, so there is no load factor, nor "
                            "hours in which surfaces drip.");
}

static void heater_section(struct th_report *report, const struct th_room *room,
                           const struct th_size *size)
{
    const double installed_w = size->installed_w;
    th_report_section(report, "heaters", "Heaters");
    th_report_fact(report, "units_count", "Units of this size for 1.15 × the larger", "", TH_WHOLE,
                   th_number_if(room->n_heaters > 0, size->units));
    th_report_fact(report, "altitude_share_pct", "Rating kept at this elevation", "%", TH_WHOLE,
                   th_number(100.0 * size->altitude_share));
    th_report_fact(report, "autumn_btu_h", "Input needed at 45 °F outdoors, new pigs", "Btu/h",
                   TH_SIG3, th_number(btuh(size->autumn_w)));
    th_report_fact(report, "autumn_fire_pct", "that is, of what is installed", "%", TH_WHOLE,
                   th_number_if(installed_w > 0.0, 100.0 * size->autumn_w / installed_w));
    th_report_paragraph(
        report, NULL,
        "A variable-output heater whose lowest fire lies above that share starts and "
        "stops in autumn as a fixed one does.");
    choice_table(report, size);
}

/* Tanks are of propane: without rows for another gas. */
static void tank_table(struct th_report *report, const struct th_size *size, bool propane)
{
    th_report_table(report, "tanks", propane ? "What tanks can vaporise" : NULL);
    for (int i = 0; i < TH_SIZE_TANKS && propane; i++) {
        const struct th_size_tank *t = &size->tanks[i];
        th_report_row(report);
        th_report_cell(report, "tank_gal", "Tank", "gal", TH_WHOLE, th_number(t->capacity_gal));
        th_report_cell(report, "vapour_btu_h", "Vapour, 30 % full on the design day", "Btu/h",
                       TH_SIG3, th_number(btuh(t->vapour_w)));
        th_report_cell(report, "tanks_count", "Tanks for all burners", "", TH_WHOLE,
                       th_number_if(t->count > 0, t->count));
    }
    if (propane)
        th_report_paragraph(
            report, NULL,
            "A rule for tanks in use day after day (from memory); whether a vaporiser "
            "or more tanks are right is the supplier's decision.");
}

static void gas_section(struct th_report *report, const struct th_room *room,
                        const struct th_size *size)
{
    const bool propane = room->fuel.gas == TH_PROPANE;
    char enough[TH_SHOWN_MAX];
    th_report_section(report, "gas", "Gas supply");
    th_report_fact(report, "peak_gas_btu_h", "All burners lit, all copies of the room", "Btu/h",
                   TH_SIG3, th_number(btuh(size->peak_gas_w)));
    th_report_fact(report, "peak_gas_gal_h", "that is", "gal/h", TH_TENTHS,
                   th_number_if(propane, size->peak_gas_w * TH_S_PER_H / room->fuel.hhv_j));
    th_report_fact(report, "line_gas_btu_h", "One room's line, its burners lit", "Btu/h", TH_SIG3,
                   th_number(btuh(size->line_gas_w)));
    th_report_fact(report, "steady_gas_btu_h", "Steady on the design day, all copies", "Btu/h",
                   TH_SIG3, th_number(btuh(size->steady_gas_w)));
    th_report_fact(report, "steady_gas_gal_h", "that is", "gal/h", TH_TENTHS,
                   th_number_if(propane, size->steady_gas_w * TH_S_PER_H / room->fuel.hhv_j));
    th_report_paragraph(report, NULL,
                        "Pipes and regulators are planned by all burners lit. Where tanks cannot "
                        "make that much vapour in the cold, a vaporiser must make up the rest: no "
                        "less than the steady demand.");
    if (size->installed_w > 0.0 && size->enough_gas_w > size->steady_gas_w)
        th_report_paragraph(
            report, NULL,
            "On the design day all of them burn without a stop and do not hold it. "
            "Heaters that do would draw %s steadily: plan for that if they are to "
            "come.",
            th_show_with_unit(enough, th_number(btuh(size->enough_gas_w)), TH_SIG3, "Btu/h"));
    tank_table(report, size, propane);
}

static void air_section(struct th_report *report, const struct th_room *room,
                        const struct th_size *size)
{
    const double per_ft3 = btuh(size->unvented_w_m3) * TH_M3_PER_FT3;
    th_report_section(report, "air", "Air for burners, and standby power");
    th_report_fact(report, "burner_air_cfm", "Air while all unvented burners fire", "cfm", TH_SIG3,
                   th_number(size->burner_air_m3_s / TH_M3S_PER_CFM));
    th_report_fact(report, "unvented_btu_h_ft3", "Unvented input per volume (limit 20)",
                   "Btu/h ft³", TH_TENTHS, th_number(per_ft3));
    if (size->too_much_unvented)
        th_report_warning(report,
                          "%s: unvented burners of %.1f Btu/h per ft³ are above the limit of 20 "
                          "(Ontario clause 7.36.1): vent some of them.",
                          room->name, per_ft3);
    th_report_fact(report, "standby_kw", "Standby power for all fans and blowers", "kW", TH_SIG2,
                   th_number(size->standby_w / 1000.0));
    th_report_paragraph(report, NULL,
                        "Standby: the installed maximum air at 12 cfm a watt (our judgement) plus "
                        "heater blowers, running; motors take several times that when they start. "
                        "Controls, lights and wells are not in it.");
}

/* Without a number where any R does, or none: air as damp as it can be wets every wall. */
static struct th_value dry_r(double r_m2k_w)
{
    if (r_m2k_w > 0.0 && isfinite(r_m2k_w))
        return th_number(r_m2k_w / TH_R_SI_PER_US);
    return th_no_number(r_m2k_w > 0.0 ? "none" : "any");
}

/* A surface in its wettest hour; nothing is known without hours with pigs. */
static enum th_code face_row(struct th_report *report, const struct th_drip *drip, int i,
                             struct th_error *err)
{
    const struct th_surface *surface = &drip->room->surfaces[i];
    const struct th_drip_surface *s = &drip->surfaces[i];
    const bool known = drip->hours > 0.0;
    double dew_c = 0.0;
    const enum th_code code = known ? th_drip_dew(drip, i, &dew_c, err) : TH_OK;
    th_report_row(report);
    th_report_cell(report, "surface", "Surface", "", TH_PLAIN, th_text(surface->name));
    th_report_cell(report, "r_us", "R", "", TH_TENTHS,
                   th_number(surface->r_m2k_w / TH_R_SI_PER_US));
    th_report_cell(report, "drip_h", "Drips, a season", "h", TH_WHOLE,
                   th_number_if(known, th_drip_season_h(drip, i)));
    th_report_cell(report, "dry", "Stays dry", "", TH_PLAIN,
                   known ? th_bool(th_drip_is_dry(drip, i)) : th_missing());
    th_report_cell(report, "dry_r_us", "R that stays dry", "", TH_TENTHS,
                   known ? dry_r(th_drip_dry_r_m2k_w(drip, i)) : th_missing());
    th_report_cell(report, "outdoor_f", "Wettest hour: outdoors", "°F", TH_TENTHS,
                   th_number_if(known, th_f_from_c(s->out_c)));
    th_report_cell(report, "room_f", "room", "°F", TH_TENTHS,
                   th_number_if(known, th_f_from_c(s->room_c)));
    th_report_cell(report, "dew_f", "dew point", "°F", TH_TENTHS,
                   th_number_if(known, th_f_from_c(dew_c)));
    th_report_cell(report, "inside_f", "inside face", "°F", TH_TENTHS,
                   th_number_if(known, th_f_from_c(s->inside_c)));
    return code;
}

static enum th_code dry_section(struct th_report *report, const struct th_drip *drip,
                                struct th_error *err)
{
    enum th_code code = TH_OK;
    th_report_section(report, "condensation", "Condensation");
    th_report_table(report, "surfaces", "Each surface over the winters, pigs in the room");
    for (int i = 0; i < drip->room->n_surfaces && code == TH_OK; i++)
        code = face_row(report, drip, i, err);
    th_report_paragraph(report, NULL,
                        "Drips: hours in which the inside face is no warmer than the dew point of "
                        "the room. Stays dry: in all but 1 %% of the hours with pigs, as a design "
                        "day leaves 1 %% of the hours colder; beside it the R that would. The "
                        "wettest hour of all winters seldom is the coldest. Humidity is "
                        "indicative.");
    return code;
}

enum th_code th_size_report(struct th_report *report, const struct th_room *room,
                            const struct th_size *size, struct th_error *err)
{
    char whose[96];
    th_report_doubts(report, room);
    say_answer(report, room, size);
    need_section(report, size);
    age_section(report, room, size);
    heater_section(report, room, size);
    gas_section(report, room, size);
    air_section(report, room, size);
    const enum th_code code = dry_section(report, &size->drip, err);
    if (code != TH_OK)
        return code;
    snprintf(whose, sizeof whose, "room %s, steady design hours", room->name);
    return th_report_books(report, NULL, whose, &size->books, err);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The budget's figures of hours: heat through the season that took most gas, and its coldest week.
 */
#include "budget_report.h"

#include "figure.h"
#include "season_text.h"
#include "turnheat/calendar.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define WEEK_HOURS 168
#define DAY_HOURS 24

/* What the caption of the season tells: when this share of the heaters' heat has been given. */
#define MOST_OF_HEAT 0.9

/* Means of one day, W. */
struct mean_day {
    long day;
    double lost_w, pigs_w, heaters_w;
};

/* The mean of the day that hour `*i` is in; moves on to the next day's first hour. */
static struct mean_day take_day(const struct th_budget *budget, size_t *i)
{
    struct mean_day day = {.day = th_day_of_hour(budget->hours[*i].hour_number)};
    int n = 0;
    for (; *i < budget->n_hours && th_day_of_hour(budget->hours[*i].hour_number) == day.day;
         (*i)++, n++) {
        day.lost_w += budget->hours[*i].lost_w;
        day.pigs_w += budget->hours[*i].pigs_w;
        day.heaters_w += budget->hours[*i].heaters_w;
    }
    day.lost_w /= n;
    day.pigs_w /= n;
    day.heaters_w /= n;
    return day;
}

/* By which day most of the heaters' heat has been given. */
static long most_given_by(const struct th_budget *budget)
{
    double all = 0.0, given = 0.0;
    size_t i = 0;
    for (size_t k = 0; k < budget->n_hours; k++)
        all += budget->hours[k].heaters_w;
    for (; i + 1 < budget->n_hours && given < MOST_OF_HEAT * all; i++)
        given += budget->hours[i].heaters_w;
    return th_day_of_hour(budget->hours[i].hour_number);
}

/* One line of daily means; a gap where the barn is empty. */
static void day_line(struct th_report *report, const struct th_budget *budget, enum th_ink ink,
                     const char *label, size_t member)
{
    long before = th_day_of_hour(budget->hours[0].hour_number);
    th_figure_mark(report, TH_MARK_LINE, ink, label);
    for (size_t i = 0; i < budget->n_hours;) {
        const struct mean_day day = take_day(budget, &i);
        const double *value = (const double *)(const void *)((const char *)&day + member);
        if (day.day > before + 1)
            th_figure_point(report, (double)before + 0.5, NAN);
        th_figure_point(report, (double)day.day, *value / TH_W_PER_BTUH);
        before = day.day;
    }
}

static void season_figure(struct th_report *report, const struct th_budget *budget)
{
    char caption[96], reading[160], name[TH_SEASON_NAME_MAX];
    const struct th_date by = th_date_of(most_given_by(budget));
    th_season_name(budget->worst, name);
    snprintf(caption, sizeof caption, "Nine tenths of the heaters' heat is given by %s %d",
             th_month_in_prose(by.month - 1), by.day);
    snprintf(reading, sizeof reading,
             "Daily means of one room, season %s, which took most gas. Heaters fill what the pigs "
             "leave open.",
             name);
    th_figure(report, &(struct th_figure){
                          .caption = caption,
                          .reading = reading,
                          .along = {.kind = TH_AXIS_DAY},
                          .value = {.unit = "Btu/h", .format = TH_SIG3, .from_zero = true}});
    day_line(report, budget, TH_INK_COLD, "lost", offsetof(struct mean_day, lost_w));
    day_line(report, budget, TH_INK_PIGS, "pigs", offsetof(struct mean_day, pigs_w));
    day_line(report, budget, TH_INK_HEAT, "heaters", offsetof(struct mean_day, heaters_w));
}

/* The coldest 168 hours in a row of one stay of pigs. */
static size_t coldest_week(const struct th_budget *budget)
{
    size_t best = 0;
    double best_sum = INFINITY, sum = 0.0;
    for (size_t i = 0; i < budget->n_hours; i++) {
        sum += budget->hours[i].out_c;
        if (i >= WEEK_HOURS)
            sum -= budget->hours[i - WEEK_HOURS].out_c;
        const size_t first = i + 1 - WEEK_HOURS;
        if (i + 1 < WEEK_HOURS ||
            budget->hours[i].hour_number - budget->hours[first].hour_number != WEEK_HOURS - 1)
            continue;
        if (sum < best_sum) {
            best_sum = sum;
            best = first;
        }
    }
    return best;
}

static void hour_line(struct th_report *report, const struct th_budget_hour *week,
                      enum th_mark_kind kind, enum th_ink ink, const char *label, size_t low,
                      size_t high)
{
    th_figure_mark(report, kind, ink, label);
    for (int i = 0; i < WEEK_HOURS; i++) {
        const char *hour = (const char *)&week[i];
        th_figure_span(report, (double)week[i].hour_number,
                       th_f_from_c(*(const double *)(const void *)(hour + low)),
                       th_f_from_c(*(const double *)(const void *)(hour + high)));
    }
}

#define HOUR(member) offsetof(struct th_budget_hour, member)

static void room_figure(struct th_report *report, const struct th_budget *budget,
                        const struct th_budget_hour *week)
{
    char caption[200], name[TH_SEASON_NAME_MAX];
    double low = INFINITY, high = -INFINITY, zone_w = 0.0;
    for (int i = 0; i < WEEK_HOURS; i++) {
        low = fmin(low, week[i].room_low_c);
        high = fmax(high, week[i].room_high_c);
        zone_w = fmax(zone_w, week[i].zone_w);
    }
    th_season_name(budget->worst, name);
    snprintf(caption, sizeof caption,
             "In the coldest week of %s, which took most gas, the room stays between %s and %s °F",
             name, th_whole(th_f_from_c(low)).text, th_whole(th_f_from_c(high)).text);
    th_figure(report,
              &(struct th_figure){.caption = caption,
                                  .reading = "Hour by hour: the room from the low to the high of "
                                             "its swing, the set point, and the comfort limit of "
                                             "pigs of that age. Another winter may have had a "
                                             "colder hour.",
                                  .along = {.kind = TH_AXIS_HOUR},
                                  .value = {.unit = "°F", .format = TH_TENTHS}});
    hour_line(report, week, TH_MARK_BAND, TH_INK_HEAT, "room", HOUR(room_low_c), HOUR(room_high_c));
    hour_line(report, week, TH_MARK_LINE, TH_INK_PLAIN, "set point", HOUR(set_c), HOUR(set_c));
    if (zone_w > 0.0)
        hour_line(report, week, TH_MARK_LINE, TH_INK_PIGS, "where pigs lie", HOUR(feel_c),
                  HOUR(feel_c));
    hour_line(report, week, TH_MARK_LINE, TH_INK_WARNING, "comfort limit", HOUR(comfort_c),
              HOUR(comfort_c));
}

static void outdoor_figure(struct th_report *report, const struct th_budget_hour *week)
{
    char caption[96];
    double low = INFINITY;
    for (int i = 0; i < WEEK_HOURS; i++)
        low = fmin(low, week[i].out_c);
    snprintf(caption, sizeof caption, "In that week it gets down to %s °F outdoors",
             th_whole(th_f_from_c(low)).text);
    th_figure(report, &(struct th_figure){.caption = caption,
                                          .reading = "The same week.",
                                          .along = {.kind = TH_AXIS_HOUR},
                                          .value = {.unit = "°F", .format = TH_TENTHS}});
    hour_line(report, week, TH_MARK_LINE, TH_INK_COLD, NULL, HOUR(out_c), HOUR(out_c));
}

static void gas_figure(struct th_report *report, const struct th_budget_hour *week)
{
    char caption[96], shown[TH_SHOWN_MAX];
    double most_w = 0.0;
    for (int i = 0; i < WEEK_HOURS; i++)
        most_w = fmax(most_w, week[i].gas_w);
    snprintf(caption, sizeof caption, "The hungriest hour of it takes %s Btu/h of gas",
             th_show(shown, th_number(most_w / TH_W_PER_BTUH), TH_SIG3));
    th_figure(report, &(struct th_figure){
                          .caption = caption,
                          .reading = "The same week, one room.",
                          .along = {.kind = TH_AXIS_HOUR},
                          .value = {.unit = "Btu/h", .format = TH_SIG3, .from_zero = true}});
    th_figure_mark(report, TH_MARK_LINE, TH_INK_HEAT, NULL);
    for (int i = 0; i < WEEK_HOURS; i++)
        th_figure_point(report, (double)week[i].hour_number, week[i].gas_w / TH_W_PER_BTUH);
}

void th_budget_hour_figures(struct th_report *report, const struct th_budget *budget)
{
    if (budget->n_hours < WEEK_HOURS)
        return;
    const struct th_budget_hour *week = &budget->hours[coldest_week(budget)];
    season_figure(report, budget);
    room_figure(report, budget, week);
    outdoor_figure(report, week);
    gas_figure(report, week);
    th_budget_work_figures(report, budget->worst);
}

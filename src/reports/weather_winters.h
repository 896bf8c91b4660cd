/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Winters of a weather report beside each other: degree-days and coldest hours. */
#ifndef TURNHEAT_WEATHER_WINTERS_H
#define TURNHEAT_WEATHER_WINTERS_H

#include "report.h"
#include "turnheat/weather_summary.h"

/** Adds the section on degree-days, by year and season; of a `typical` year no seasons. */
void th_weather_degree_days(struct th_report *report, const struct th_weather_summary *summary,
                            bool typical);

/** Adds a line of an answer: how many whole winters there are, and their spread. */
void th_weather_say_winters(struct th_report *report, const struct th_weather_summary *summary);

/** Adds a figure of each whole winter's coldest hour; nothing without one. */
void th_weather_cold_figure(struct th_report *report, const struct th_weather_summary *summary);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet to take into the barn on a cold day. */
#include "compare_report.h"

#define TIMES 5
#define BLANK "______"

static void what_it_decides(struct th_report *report)
{
    th_report_section(report, "decides", "What it decides");
    th_report_paragraph(
        report, "text",
        "Whether other heaters, better settings or nothing pays. Heaters that stop late let the "
        "room rise on, and the fans then throw that heat out. How far it rises in your room is the "
        "one number the comparison of heaters rests on most.");
}

static void what_to_note(struct th_report *report)
{
    th_report_section(report, "note", "What to note");
    th_report_item(report, "A calm day, 10 to 30 °F outdoors, the pigs in for less than a week, "
                           "inlets, fans and heaters set as always. Shut the doors and wait for an "
                           "hour.");
    th_report_item(report, "Hang a thermometer that shows tenths beside the controller's probe; "
                           "or read the controller.");
    th_report_item(report, "Each time the last heater stops, note the temperature. Watch on, two "
                           "to five minutes, and note the highest it reaches before it falls.");
    th_report_item(report,
                   "Just before a heater stops read CO2 at pig height, if you have a meter, "
                   "and how many heaters burn.");
    th_report_table(report, "times", "Five times, one after the other");
    for (int i = 1; i <= TIMES; i++) {
        th_report_row(report);
        th_report_cell(report, "time_count", "Time", "", TH_WHOLE, th_number(i));
        th_report_cell(report, "stop_f", "Heaters stop at, °F", "", TH_PLAIN, th_no_number(BLANK));
        th_report_cell(report, "highest_f", "Highest after, °F", "", TH_PLAIN, th_no_number(BLANK));
        th_report_cell(report, "overshoot_f", "Difference, °F", "", TH_PLAIN, th_no_number(BLANK));
        th_report_cell(report, "outdoor_f", "Outdoors, °F", "", TH_PLAIN, th_no_number(BLANK));
        th_report_cell(report, "co2_ppm", "CO2, ppm", "", TH_PLAIN, th_no_number(BLANK));
    }
    th_report_paragraph(report, NULL,
                        "Middle of the five differences " BLANK " °F, outdoors " BLANK
                        " °F, heaters burning " BLANK ", date " BLANK ".");
}

static void how_to_enter(struct th_report *report)
{
    th_report_section(report, "enter", "How to enter it");
    th_report_paragraph(report, "text",
                        "In the barn file under [room], with your numbers in place of these, and "
                        "[heater] as it burnt that day. Then compare again.");
    th_report_paste(report, "overshoot = 3.1 F");
    th_report_paste(report, "overshoot_outdoor = 20 F");
}

static void what_follows(struct th_report *report)
{
    th_report_section(report, "follows", "What follows");
    th_report_item(report, "The range of each answer narrows: from half and twice as far to a "
                           "quarter less and more.");
    th_report_item(report, "About 1 °F or less: the fans throw little out, and other heaters have "
                           "little to save.");
    th_report_item(report, "Several °F: settings first, OFF lower or the heaters one after the "
                           "other, which costs nothing. Ask for a price only if other heaters "
                           "pay beside that.");
    th_report_item(report, "CO2 over 3,000 ppm: air first. No heater is a saving in bad air.");
    th_report_caution(report, "Change nothing for the test, least of all the minimum air. Stay out "
                              "if you smell gas, and above 5,000 ppm CO2.");
}

void th_compare_sheet(struct th_report *report)
{
    th_report_title(report, "How far does your room overshoot?");
    th_report_one_sheet(report);
    what_it_decides(report);
    what_to_note(report);
    how_to_enter(report);
    what_follows(report);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

/* To add a command, declare it here, list it below and name its file in meson.build. */
extern const struct th_command th_cmd_budget, th_cmd_calibrate, th_cmd_check, th_cmd_compare,
    th_cmd_hours, th_cmd_keys, th_cmd_new, th_cmd_page, th_cmd_plan, th_cmd_quote, th_cmd_size,
    th_cmd_weather;

const struct th_command *const th_commands[] = {
    &th_cmd_new,     &th_cmd_keys, &th_cmd_check, &th_cmd_weather, &th_cmd_budget,
    &th_cmd_compare, &th_cmd_size, &th_cmd_plan,  &th_cmd_quote,   &th_cmd_calibrate,
    &th_cmd_hours,   &th_cmd_page, NULL,
};

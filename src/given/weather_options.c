/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_options.h"

enum th_code th_weather_options_given(const struct th_arguments *arguments,
                                      struct th_weather_options *options, struct th_error *err)
{
    const char *form = th_given_text(arguments, "form");
    const char *units = th_given_text(arguments, "units");
    const char *clock = th_given_text(arguments, "clock");
    *options = (struct th_weather_options){.form = form,
                                           .has_utc_offset =
                                               th_given_text(arguments, "utc-offset") != NULL,
                                           .station = th_given_text(arguments, "station")};
    char names[TH_WEATHER_FORM_NAMES_MAX];
    if (form && !th_weather_form_known(form))
        return th_fail(err, TH_ERR_USAGE, "--form %.40s: %s was expected", form,
                       th_weather_form_names(names));
    if (units && !th_unit_choice_from(units, &options->units))
        return th_fail(err, TH_ERR_USAGE, "--units %.40s: us or si was expected", units);
    if (clock && !th_clock_from(clock, &options->clock))
        return th_fail(err, TH_ERR_USAGE, "--clock %.40s: utc, standard or daylight was expected",
                       clock);
    return th_given_number(arguments, "utc-offset", -12.0, 14.0, &options->utc_offset_h, err);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The surface of the sample barns on real winters, held against full runs: P10 and P90 within 3 %
 * (root mean square). Needs the folder TURNHEAT_WEATHER. */
#include "sample_barn.h"
#include "surface_judge.h"

#include "run_suite.h"

static void check_room(int room, int station)
{
    struct sample s;
    struct th_gas_surface surface;
    if (!open_sample(&s, room, station, "surface"))
        return;
    const size_t n_winters = (size_t)(last_file[station] - FIRST);
    const double off = judge_room(&s.room, &s.climate, FIRST, n_winters, &surface);
    printf("# %s, %s: P10 and P90 off by %.1f %%, one run by %.1f %%\n", names[room],
           cities[station], 100.0 * off, 100.0 * surface.error);
    ck_assert_double_lt(off, 0.03);
    close_sample(&s);
}

START_TEST(curtain_at_omaha)
{
    check_room(0, 0);
}
END_TEST

START_TEST(solid_at_omaha)
{
    check_room(1, 0);
}
END_TEST

START_TEST(curtain_at_minneapolis)
{
    check_room(0, 1);
}
END_TEST

START_TEST(solid_at_minneapolis)
{
    check_room(1, 1);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {curtain_at_omaha, solid_at_omaha, curtain_at_minneapolis,
                                  solid_at_minneapolis};
    return run_weather_suite("surface_real", tests, 4);
}

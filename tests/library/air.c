/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program outside the tree, as a user of the library would write it. */
#include <stdio.h>
#include <turnheat/psychro.h>
#include <turnheat/version.h>

int main(void)
{
    th_init();
    const double pressure_pa = th_psy_pressure(300);
    printf("turnheat %s: air of 20 °C and 60 %% holds %.1f g/kg at 300 m\n", th_version(),
           1000 * th_psy_humidity_ratio(20, 0.6, pressure_pa));
    return 0;
}

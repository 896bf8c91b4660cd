/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/version.h"

const char *th_version(void)
{
    return TH_VERSION;
}

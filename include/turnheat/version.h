/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Which turnheat this is. */
#ifndef TURNHEAT_VERSION_H
#define TURNHEAT_VERSION_H

/** The version of the library in use, such as "0.2.0"; never NULL. */
const char *th_version(void);

#endif

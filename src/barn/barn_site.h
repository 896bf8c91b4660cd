/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Where the barn stands: what its place tells and the file does not. */
#ifndef TURNHEAT_BARN_SITE_H
#define TURNHEAT_BARN_SITE_H

#include "barn_apply.h"

/**
 * Fills in latitude, longitude, elevation and offset from UTC of `site` where a place or a latitude
 * and longitude are given, else the elevation that the weather files of [site] tell; what the file
 * says itself goes before. Errors go to `apply`.
 */
void th_barn_site_make(struct th_apply *apply, struct th_site *site);

#endif

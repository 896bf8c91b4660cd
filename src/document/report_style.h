/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How a web page looks, on a phone, a screen and paper. */
#ifndef TURNHEAT_REPORT_STYLE_H
#define TURNHEAT_REPORT_STYLE_H

/** The style sheet; holds nothing that would need escaping. */
extern const char report_style[];

#endif

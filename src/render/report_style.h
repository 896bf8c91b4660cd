/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How a web page looks, on a phone, a screen and paper. */
#ifndef TURNHEAT_REPORT_STYLE_H
#define TURNHEAT_REPORT_STYLE_H

/* Style sheets; they hold nothing that would need escaping. */

extern const char figure_style[]; /**< colours, and the figures */
extern const char page_style[];   /**< the rest of a page */
extern const char print_style[];  /**< what paper needs besides */

#endif

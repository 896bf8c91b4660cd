/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "title_text.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

const char *th_title_text(char text[TH_TITLE_MAX], const char *name, const char *what)
{
    const bool is_said = !what || strstr(name, what);
    snprintf(text, TH_TITLE_MAX, "%s%s%s%s", name, is_said ? "" : " (", is_said ? "" : what,
             is_said ? "" : ")");
    if (text[0] >= 'a' && text[0] <= 'z')
        text[0] = (char)(text[0] - 'a' + 'A');
    return text;
}

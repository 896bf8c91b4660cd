/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of a barn file. Every entry must point into its own line. */
#include "fuzz_file.h"

#include "barn_text.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct th_barn_text text = {0};
    struct th_issues issues = {0};
    fuzz_file_set(data, size);
    const enum th_code code = th_barn_text_read(&text, "room.barn", NULL, &issues);
    if ((code == TH_OK) != (issues.n_errors == 0))
        abort();
    for (size_t i = 0; i < text.n; i++) {
        const struct th_entry *entry = &text.entries[i];
        if (entry->line < 1 || (entry->key && entry->value_column > TH_TEXT_LINE_MAX + 1))
            abort();
    }
    th_barn_text_finish(&text);
    th_issues_finish(&issues);
    return 0;
}

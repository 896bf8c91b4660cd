/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Renews the key lists of docs/barn-file.md: write_key_lists docs/barn-file.md. */
#include "barn_doc.h"

#include <stdlib.h>
#include <string.h>

#define KEPT_MAX 65536

int main(int argc, char **argv)
{
    static char kept[KEPT_MAX];
    FILE *file = argc == 2 ? fopen(argv[1], "r") : NULL;
    if (!file) {
        fputs("usage: write_key_lists docs/barn-file.md\n", stderr);
        return EXIT_FAILURE;
    }
    kept[fread(kept, 1, sizeof kept - 1, file)] = '\0';
    fclose(file);
    char *const mark = strstr(kept, TH_BARN_DOC_MARK);
    if (!mark || !(file = fopen(argv[1], "w"))) {
        fputs("write_key_lists: the mark is missing, or the file cannot be written\n", stderr);
        return EXIT_FAILURE;
    }
    *mark = '\0';
    fprintf(file, "%s%s\n\n", kept, TH_BARN_DOC_MARK);
    th_barn_doc_write(file);
    return fclose(file) == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

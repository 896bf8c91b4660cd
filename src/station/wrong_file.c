/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "wrong_file.h"

#include "barn_keys.h"
#include "line_reader.h"
#include "weather_read.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* What was found: a kind of input, or something that no command reads. */
enum found { JSON = TH_USE_NORMALS + 1, PAGE, REPORT, UNKNOWN };

static const struct {
    const char *is, *remedy;
} words[] = {
    [TH_USE_BARN] = {"a barn file", "barn files stand on the command line without an option"},
    [TH_USE_FARM] = {"a farm file", "it holds no room; give it with --farm beside a barn file"},
    [TH_USE_WEATHER] = {"hourly weather", "write --weather before each weather file"},
    [TH_USE_FILLS] = {"tank fills", "give them to turnheat calibrate with --fills"},
    [TH_USE_NORMALS] = {"monthly statistics", "turnheat weather --normals makes winters of them"},
    [JSON] = {"a JSON file", "reports are not read back; give the files they were made from"},
    [PAGE] = {"a web page", "pages are not read back; give the files they were made from"},
    [REPORT] = {"a printed report",
                "reports are not read back; give the files they were made from"},
};

/* What a header says the file is: only a room makes a barn file of one that began as a farm file.
 */
static int kind_of_header(const char *line, int before)
{
    char section[64];
    const char *name;
    snprintf(section, sizeof section, "%s", line + 1);
    section[strcspn(section, "]")] = '\0';
    const struct th_section_kind *const kind = th_section_kind_of(section, &name);
    if (!kind)
        return before;
    if (strcmp(kind->word, "room") == 0)
        return TH_USE_BARN;
    return kind->farm || before == TH_USE_FARM ? TH_USE_FARM : TH_USE_BARN;
}

/* What a line of column names says. */
static int kind_of_names(const char *line)
{
    char folded[256];
    snprintf(folded, sizeof folded, "%s", line);
    for (char *c = folded; *c; c++)
        *c = (char)tolower((unsigned char)*c);
    if (strstr(folded, "gallons") && strstr(folded, "date"))
        return TH_USE_FILLS;
    return strstr(folded, "month") && strstr(folded, "mean_") ? TH_USE_NORMALS : UNKNOWN;
}

static int kind_of_lines(struct th_lines *lines)
{
    char *line;
    size_t length;
    struct th_error err;
    int kind = UNKNOWN;
    bool first = true;
    while (th_lines_next(lines, &line, &length, &err) == TH_OK && line && kind != TH_USE_BARN) {
        if (line[0] == '[') {
            kind = kind_of_header(line, kind);
        } else if (strncmp(line, "═", strlen("═")) == 0 && lines->line == 2) {
            return REPORT;
        } else if (first && line[0] != '#' && length > 0) {
            if (line[0] == '{' || line[0] == '<')
                return line[0] == '{' ? JSON : PAGE;
            kind = kind_of_names(line);
            first = false;
        }
    }
    return kind;
}

static int kind_of(struct th_files *files, const char *path)
{
    struct th_lines lines;
    struct th_error err;
    if (th_lines_open(&lines, files, path, &err) != TH_OK)
        return UNKNOWN;
    const int kind = kind_of_lines(&lines);
    th_lines_close(&lines);
    return kind == UNKNOWN && th_weather_looks_like(files, path) ? TH_USE_WEATHER : kind;
}

bool th_is_wrong_file(struct th_files *files, const char *path, enum th_file_use expected,
                      char text[TH_WRONG_FILE_MAX])
{
    const int found = kind_of(files, path);
    if (found == UNKNOWN || found == (int)expected)
        return false;
    snprintf(text, TH_WRONG_FILE_MAX, "found %s in place of %s; %s", words[found].is,
             words[expected].is, words[found].remedy);
    return true;
}

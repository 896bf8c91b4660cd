/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "deliver.h"

#include "csv_tables.h"
#include "output.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

static enum th_code write_page(const struct th_files *inputs, const char *path,
                               const struct th_report *report, struct th_error *err)
{
    struct th_output output;
    enum th_code code = th_output_open(&output, inputs, path, err);
    if (code)
        return code;
    code = th_report_write(report, TH_AS_HTML, output.file, err);
    if (!code)
        return th_output_commit(&output, err);
    th_output_abandon(&output);
    return code;
}

/* One table as FOLDER/NAME.csv. */
static enum th_code write_table(const struct th_files *inputs, const char *folder,
                                const struct th_report *report, int index, struct th_error *err)
{
    char name[TH_TABLE_NAME_MAX], path[FILENAME_MAX];
    struct th_output output;
    th_report_table_name(report, index, name);
    if (snprintf(path, sizeof path, "%s/%s.csv", folder, name) >= (int)sizeof path)
        return th_fail(err, TH_ERR_WRITE, "%.60s: the name is too long", folder);
    enum th_code code = th_output_open(&output, inputs, path, err);
    if (code)
        return code;
    code = th_report_write_table(report, index, false, output.file, err);
    if (!code)
        return th_output_commit(&output, err);
    th_output_abandon(&output);
    return code;
}

/* All tables into the folder, which is made when it is missing. */
static enum th_code write_tables(const struct th_files *inputs, const char *folder,
                                 const struct th_report *report, struct th_error *err)
{
    if (mkdir(folder, 0777) != 0 && errno != EEXIST) {
        th_fail(err, TH_ERR_WRITE, "the folder could not be made: %s", strerror(errno));
        th_error_place(err, folder, 0, 0);
        return TH_ERR_WRITE;
    }
    enum th_code code = TH_OK;
    for (int i = 0; i < th_report_tables(report) && !code; i++)
        code = write_table(inputs, folder, report, i, err);
    return code;
}

enum th_code th_deliver(const struct th_arguments *arguments, const struct th_report *report,
                        struct th_error *err)
{
    const enum th_rendering rendering = th_given_count(arguments, "json")  ? TH_AS_JSON
                                        : th_given_count(arguments, "csv") ? TH_AS_CSV
                                                                           : TH_AS_TEXT;
    struct th_output output;
    enum th_code code = th_output_open(&output, NULL, NULL, err);
    if (!code)
        code = th_report_write(report, rendering, output.file, err);
    if (!code)
        code = th_output_commit(&output, err);
    const char *page = th_given_text(arguments, "html");
    const char *folder = th_given_text(arguments, "csv-dir");
    if (!code && page)
        code = write_page(arguments->files, page, report, err);
    if (!code && folder)
        code = write_tables(arguments->files, folder, report, err);
    return code;
}

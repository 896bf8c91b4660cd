/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_offer.h"
#include "cases.h"
#include "commands.h"
#include "file_names.h"
#include "given_barn.h"
#include "output.h"
#include "page_write.h"
#include "quoted.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* What goes into the page: the files, and which of them are "barns", "farm" and "weather". */
struct cargo {
    struct th_files *disk; /* borrowed */
    struct th_page_files files;
    json_t *about;
    char *offer; /* what the customer may have of the one barn; NULL: all travels as it is */
};

/* Adds a file; its number to the list `role`, where there is one. */
static enum th_code add(struct cargo *cargo, const char *path, const char *role,
                        struct th_error *err)
{
    size_t index;
    FILE *file;
    enum th_code code = th_files_open_told(cargo->disk, path, &file, err);
    if (code != TH_OK)
        return code;
    if (getc(file) == EOF && ferror(file)) { /* now, while nothing is written */
        code = th_fail(err, TH_ERR_READ, "cannot be read: %s", strerror(errno));
        th_error_place(err, path, 0, 0);
    }
    fclose(file);
    if (code != TH_OK)
        return code;
    code = th_page_files_add(&cargo->files, path, &index, err);
    if (code == TH_OK && role &&
        json_array_append_new(json_object_get(cargo->about, role),
                              json_integer((json_int_t)index)) != 0)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    return code;
}

/* All files that a name of weather stands for. */
static enum th_code add_weather(struct cargo *cargo, const char *name, const char *role,
                                struct th_error *err)
{
    struct th_file_names found;
    enum th_code code = th_file_names_of(cargo->disk, name, &found, err);
    for (size_t i = 0; i < found.n && code == TH_OK; i++)
        code = add(cargo, found.names[i], role, err);
    th_file_names_finish(&found);
    return code;
}

/* A barn, which must be free of errors, and the weather that it names. */
static enum th_code add_barn(struct cargo *cargo, const struct th_arguments *arguments,
                             size_t operand, struct th_error *err)
{
    struct th_barn barn;
    enum th_code code = th_barn_given(arguments, operand, &barn, err);
    if (code == TH_OK)
        code = add(cargo, arguments->operands[operand], "barns", err);
    for (int i = 0; i < barn.n_weather && code == TH_OK; i++)
        code = add_weather(cargo, barn.weather[i], NULL, err);
    th_barn_finish(&barn);
    return code;
}

/* The quotation is made to know which options are in it. */
static enum th_code make_offer(struct cargo *cargo, const struct th_arguments *arguments,
                               struct th_error *err)
{
    struct th_weathers weathers = {0};
    struct th_cases cases;
    unsigned options = 0;
    size_t n = 0;
    if (arguments->n_operands != 1)
        return th_fail(err, TH_ERR_USAGE, "--quote is of one barn file");
    enum th_code code = th_cases_open(&cases, &weathers, arguments, err);
    if (code == TH_OK)
        code = th_quoted_options(arguments, &cases, &options, err);
    FILE *const out = code == TH_OK ? open_memstream(&cargo->offer, &n) : NULL;
    if (out)
        th_barn_offer(&cases.barns[0], options, out);
    const bool cut = out && ferror(out);
    th_cases_finish(&cases);
    th_weathers_finish(&weathers);
    if (code == TH_OK && (!out || fclose(out) != 0 || cut || !cargo->offer))
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    return code;
}

/* The offer goes in the place of the barn; the farm file stays at home. */
static enum th_code add_offer(struct cargo *cargo, const struct th_arguments *arguments,
                              struct th_error *err)
{
    const enum th_code code = add_barn(cargo, arguments, 0, err);
    if (code != TH_OK)
        return code;
    cargo->files.list[0].text = cargo->offer;
    cargo->offer = NULL;
    if (json_object_set_new(cargo->about, "quoted", json_pack("[i]", 0)) != 0)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    return TH_OK;
}

/* Tables that the barns named; barn and farm files are no tables. */
static enum th_code add_tables(struct cargo *cargo, const struct th_arguments *arguments,
                               struct th_error *err)
{
    const char *const farm = th_given_text(arguments, "farm");
    enum th_code code = TH_OK;
    for (size_t i = 0; i < arguments->files->n_read && code == TH_OK; i++) {
        const char *const name = th_files_read_name(arguments->files, i);
        if (!farm || strcmp(name, farm) != 0)
            code = add(cargo, name, NULL, err);
    }
    return code;
}

static enum th_code add_all(struct cargo *cargo, const struct th_arguments *arguments,
                            struct th_error *err)
{
    const bool quote = th_given_count(arguments, "quote") > 0;
    const char *const farm = quote ? NULL : th_given_text(arguments, "farm");
    enum th_code code = TH_OK;
    if (quote)
        code = make_offer(cargo, arguments, err);
    if (quote && code == TH_OK)
        code = add_offer(cargo, arguments, err);
    for (size_t i = 0; i < arguments->n_operands && code == TH_OK && !quote; i++)
        code = add_barn(cargo, arguments, i, err);
    if (code == TH_OK && farm)
        code = add(cargo, farm, "farm", err);
    for (size_t i = 0; i < th_given_count(arguments, "weather") && code == TH_OK; i++)
        code = add_weather(cargo, th_given_nth(arguments, "weather", i), "weather", err);
    if (code == TH_OK)
        code = add_tables(cargo, arguments, err);
    th_page_files_name(&cargo->files);
    return code;
}

static enum th_code write_page(const struct cargo *cargo, const struct th_arguments *arguments,
                               const char *path, struct th_error *err)
{
    struct th_output output;
    enum th_code code = th_output_open(&output, arguments->files, path, err);
    if (code != TH_OK)
        return code;
    code = th_page_write(output.file, arguments->files, &cargo->files, cargo->about, err);
    if (code == TH_OK)
        return th_output_commit(&output, err);
    th_output_abandon(&output);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    const char *const path = th_given_text(arguments, "out");
    if (!path)
        return th_fail(err, TH_ERR_USAGE, "--out FILE.html is needed: where to write the page");
    struct cargo cargo = {.disk = arguments->files,
                          .about = json_pack("{s:[], s:[], s:[]}", "barns", "farm", "weather")};
    enum th_code code = cargo.about ? add_all(&cargo, arguments, err)
                                    : th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (code == TH_OK)
        code = write_page(&cargo, arguments, path, err);
    th_page_files_finish(&cargo.files);
    free(cargo.offer);
    json_decref(cargo.about);
    return code;
}

static const struct th_option options[] = {
    {"weather", "FILE", "weather to take along and use in place of that of the barn files", true, 0,
     false},
    {"quote", NULL,
     "a live quotation for the customer of one barn: only the price of gas, placements, last "
     "year's gallons and the options quoted can be changed, and nothing else of the builder's "
     "travels with it (quote --offer)",
     false, 0, false},
    {"out", "FILE.html", "where to write the page", false, 0, false}};

const struct th_command th_cmd_page = {
    .name = "page",
    .operands = "[BARN...]",
    .operands_min = 0,
    .operands_max = TH_ANY_NUMBER,
    .summary = "the whole program as one HTML file to hand on",
    .about =
        "Writes one file that opens in any browser, on a phone or a desk, without a network: the "
        "program itself, a form with the questions of new --ask, and the barns, the farm and "
        "their weather, if some are named. Whoever gets it can change the barn, see the answer "
        "and save the barn file again. See docs/page.md.",
    .example = "turnheat page samples/curtain.barn --farm samples/thistle-hollow.farm --out "
               "turnheat.html",
    .takes = TH_TAKES_FARM,
    .options = options,
    .n_options = sizeof options / sizeof options[0],
    .run = run};

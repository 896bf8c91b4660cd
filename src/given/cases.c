/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cases.h"

#include "deliver.h"
#include "fleet.h"
#include "given_barn.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define JOBS_MAX 256

static enum th_code read_barns(struct th_cases *cases, const struct th_arguments *arguments,
                               struct th_error *err)
{
    enum th_code result = TH_OK;
    for (int i = 0; i < cases->n; i++) {
        const enum th_code code = th_barn_given(arguments, (size_t)i, &cases->barns[i], err);
        if (code != TH_OK)
            result = code;
    }
    return result;
}

static double offset_of(const struct th_site *site, const struct th_arguments *arguments)
{
    const char *given = th_given_text(arguments, "utc-offset");
    if (given)
        return strtod(given, NULL);
    return site->has_utc_offset ? site->utc_offset_h : NAN;
}

static enum th_code climate_of(struct th_cases *cases, int room,
                               const struct th_arguments *arguments, struct th_error *err)
{
    const struct th_site *site = &cases->barns[room].room.site;
    struct th_case *own = &cases->cases[room];
    for (int i = 0; i < room; i++) {
        const struct th_site *other = &cases->barns[i].room.site;
        if (cases->cases[i].weather == own->weather && other->elevation_m == site->elevation_m &&
            other->has_utc_offset == site->has_utc_offset &&
            other->utc_offset_h == site->utc_offset_h) {
            own->climate = cases->cases[i].climate;
            return TH_OK;
        }
    }
    struct th_climate *climate = &cases->climates[cases->n_climates++];
    own->climate = climate;
    return th_climate_init(climate, own->weather, site->elevation_m, offset_of(site, arguments),
                           err);
}

/* Winters that miss a little borrow it, the same for all rooms under one climate. */
static enum th_code borrow_hours(struct th_cases *cases, int climate, struct th_error *err)
{
    const struct th_room **rooms = calloc((size_t)cases->n, sizeof(const struct th_room *));
    int n_rooms = 0, n = 0;
    if (!rooms)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < cases->n; i++)
        if (cases->cases[i].climate == &cases->climates[climate])
            rooms[n_rooms++] = cases->cases[i].room;
    const enum th_code code =
        th_borrow_run(&cases->climates[climate], rooms, n_rooms, cases->borrowed[climate], &n, err);
    free(rooms);
    for (int i = 0; i < cases->n; i++)
        if (cases->cases[i].climate == &cases->climates[climate]) {
            cases->cases[i].borrowed = cases->borrowed[climate];
            cases->cases[i].n_borrowed = n;
        }
    return code;
}

static enum th_code open_rooms(struct th_cases *cases, struct th_weathers *weathers,
                               const struct th_arguments *arguments, struct th_error *err)
{
    int first_year = INT_MIN, last_year = INT_MAX;
    enum th_code code = read_barns(cases, arguments, err);
    if (code == TH_OK)
        code = th_given_years(arguments, &first_year, &last_year, err);
    for (int i = 0; i < cases->n && code == TH_OK; i++) {
        cases->cases[i] = (struct th_case){
            .room = &cases->barns[i].room, .first_year = first_year, .last_year = last_year};
        code =
            th_weathers_take(weathers, arguments, &cases->barns[i], &cases->cases[i].weather, err);
        if (code == TH_OK)
            code = climate_of(cases, i, arguments, err);
    }
    th_weathers_made(weathers);
    for (int i = 0; i < cases->n_climates && code == TH_OK; i++)
        code = borrow_hours(cases, i, err);
    return code;
}

/* The line on standard error, erased when all is done. */
static bool tell(void *context, const char *what, size_t done, size_t all)
{
    struct th_progress *progress = context;
    if (done < all)
        th_progress_step(progress, "%s: %zu of %zu", what, done, all);
    else
        th_progress_end(progress);
    return true;
}

static enum th_code begin_runs(struct th_cases *cases, const struct th_arguments *arguments,
                               struct th_error *err)
{
    const long processors = sysconf(_SC_NPROCESSORS_ONLN);
    long long jobs = processors < 1 ? 1 : processors > JOBS_MAX ? JOBS_MAX : processors;
    const enum th_code code = th_given_whole(arguments, "jobs", 1, JOBS_MAX, &jobs, err);
    th_progress_begin(&cases->progress, stderr);
    th_runs_init(&cases->runs, (int)jobs, &(struct th_onlooker){tell, &cases->progress});
    return code;
}

enum th_code th_cases_open(struct th_cases *cases, struct th_weathers *weathers,
                           const struct th_arguments *arguments, struct th_error *err)
{
    const size_t n = arguments->n_operands;
    *cases = (struct th_cases){.n = (int)n};
    const enum th_code code = begin_runs(cases, arguments, err);
    if (code != TH_OK) {
        cases->n = 0;
        return code;
    }
    cases->cases = calloc(n, sizeof *cases->cases);
    cases->barns = calloc(n, sizeof *cases->barns);
    cases->climates = calloc(n, sizeof *cases->climates);
    cases->borrowed = calloc(n, sizeof *cases->borrowed);
    if (!cases->cases || !cases->barns || !cases->climates || !cases->borrowed) {
        cases->n = 0;
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    return open_rooms(cases, weathers, arguments, err);
}

void th_cases_finish(struct th_cases *cases)
{
    th_runs_finish(&cases->runs);
    for (int i = 0; cases->barns && i < cases->n; i++)
        th_barn_finish(&cases->barns[i]);
    for (int i = 0; i < cases->n_climates; i++)
        th_climate_finish(&cases->climates[i]);
    free(cases->cases);
    free(cases->barns);
    free(cases->climates);
    free(cases->borrowed);
    *cases = (struct th_cases){0};
}

enum th_code th_cases_fill(struct th_report *report, struct th_weathers *weathers,
                           const struct th_arguments *arguments, th_cases_tell tell_all,
                           struct th_error *err)
{
    struct th_cases cases;
    enum th_code code = th_cases_open(&cases, weathers, arguments, err);
    if (code == TH_OK)
        code = tell_all(report, arguments, &cases, err);
    th_cases_finish(&cases);
    return code;
}

enum th_code th_cases_report(const struct th_arguments *arguments, th_cases_tell tell_all,
                             struct th_error *err)
{
    if (th_given_count(arguments, "json-lines"))
        return th_fleet_report(arguments, tell_all, err);
    struct th_weathers weathers = {0};
    struct th_report *report = th_report_new(arguments->command->name);
    enum th_code code = th_cases_fill(report, &weathers, arguments, tell_all, err);
    if (code == TH_OK)
        code = th_deliver(arguments, report, err);
    th_report_free(report);
    th_weathers_finish(&weathers);
    return code;
}

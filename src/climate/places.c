/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/places.h"

#include "turnheat/nearest.h"
#include "places_table.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define EARTH_M 6371000.0
#define DEG (3.14159265358979323846 / 180.0)
/* Nearer than this a point is the place itself. */
#define SAME_M 1000.0
/* How a mean moves between places: fitted to all of them (weather/README.md). */
#define F_PER_DEG_NORTH (-2.0)
#define F_PER_1000_FT_UP (-2.5)

#define NAME_MAX_CHARS 64

static const struct {
    const char *letters, *name;
} states[] = {
    {"co", "colorado"}, {"ia", "iowa"},           {"il", "illinois"},     {"in", "indiana"},
    {"ks", "kansas"},   {"ky", "kentucky"},       {"mi", "michigan"},     {"mn", "minnesota"},
    {"mo", "missouri"}, {"nc", "north carolina"}, {"nd", "north dakota"}, {"ne", "nebraska"},
    {"oh", "ohio"},     {"ok", "oklahoma"},       {"pa", "pennsylvania"}, {"sd", "south dakota"},
    {"tx", "texas"},    {"ut", "utah"},           {"va", "virginia"},     {"wi", "wisconsin"}};

const struct th_places_row *th_places(size_t *n)
{
    *n = th_n_places_table;
    return th_places_table;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool in_word(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

/* "St. Louis-Lambert" → " st louis lambert ": words in lower case, a blank before and behind each.
   What does not fit is dropped. */
static void fold(const char *text, size_t length, char folded[NAME_MAX_CHARS])
{
    size_t n = 0;
    folded[n++] = ' ';
    for (size_t i = 0; i < length && n + 2 < NAME_MAX_CHARS; i++) {
        const char c = lower(text[i]);
        if (in_word(c))
            folded[n++] = c;
        else if (c != '.' && folded[n - 1] != ' ')
            folded[n++] = ' ';
    }
    if (folded[n - 1] != ' ')
        folded[n++] = ' ';
    folded[n] = '\0';
}

/* The two letters of a state given as word or letters, or NULL. */
static const char *state_of(const char *text)
{
    char folded[NAME_MAX_CHARS];
    fold(text, strlen(text), folded);
    for (size_t i = 0; i < sizeof states / sizeof *states; i++) {
        char letters[NAME_MAX_CHARS], name[NAME_MAX_CHARS];
        fold(states[i].letters, strlen(states[i].letters), letters);
        fold(states[i].name, strlen(states[i].name), name);
        if (strcmp(folded, letters) == 0 || strcmp(folded, name) == 0)
            return states[i].letters;
    }
    return NULL;
}

const char *th_places_state_name(const char *letters)
{
    for (size_t i = 0; i < sizeof states / sizeof *states; i++)
        if (lower(letters[0]) == states[i].letters[0] && lower(letters[1]) == states[i].letters[1])
            return states[i].name;
    return "";
}

static bool in_state(const struct th_places_row *row, const char *letters)
{
    return lower(row->state[0]) == letters[0] && lower(row->state[1]) == letters[1];
}

/* How well the folded name fits: 2 the town alone or the whole name, 1 words within it, 0 not. */
static int fit(const struct th_places_row *row, const char *name)
{
    char whole[NAME_MAX_CHARS], town[NAME_MAX_CHARS];
    fold(row->name, strlen(row->name), whole);
    fold(row->name, strcspn(row->name, "-"), town);
    if (strcmp(name, whole) == 0 || strcmp(name, town) == 0)
        return 2;
    return strstr(whole, name) ? 1 : 0;
}

/* How many letters the folded name is off from that of the place; 0 where its words are in it. */
static int off_by(const struct th_places_row *row, const char *name)
{
    char whole[NAME_MAX_CHARS], town[NAME_MAX_CHARS];
    fold(row->name, strlen(row->name), whole);
    fold(row->name, strcspn(row->name, "-"), town);
    const int of_whole = th_nearest_distance(name, whole),
              of_town = th_nearest_distance(name, town);
    return fit(row, name) ? 0 : of_whole < of_town ? of_whole : of_town;
}

#define LIST_CHARS 300

/* Appends to `list` what fits. */
static void add_name(char list[LIST_CHARS], const char *parting, const char *name,
                     const char *ending)
{
    const size_t n = strlen(list);
    snprintf(list + n, LIST_CHARS - n, "%s%s%s", n ? parting : "", name, ending);
}

/* "Springfield, IL or Springfield, MO": the places whose names are most like the folded one, of one
   state or, where `letters` is NULL, of all; "" where none is. */
static void list_alike(const char *name, const char *letters, char list[LIST_CHARS])
{
    int best = NAME_MAX_CHARS;
    list[0] = '\0';
    for (size_t i = 0; i < th_n_places_table; i++) {
        const struct th_places_row *const row = &th_places_table[i];
        const int off = !letters || in_state(row, letters) ? off_by(row, name) : best;
        best = off < best ? off : best;
    }
    for (size_t i = 0; i < th_n_places_table && th_nearest_likely(name + 1, best); i++) {
        const struct th_places_row *const row = &th_places_table[i];
        const char ending[] = {',', ' ', row->state[0], row->state[1], '\0'};
        if ((!letters || in_state(row, letters)) && off_by(row, name) == best)
            add_name(list, " or ", row->name, ending);
    }
}

/* The places of a state. */
static void list_of_state(const char *letters, char list[LIST_CHARS])
{
    list[0] = '\0';
    for (size_t i = 0; i < th_n_places_table; i++)
        if (in_state(&th_places_table[i], letters))
            add_name(list, ", ", th_places_table[i].name, "");
}

/* A town that its state has not. */
static enum th_code unknown_place(const char *text, const char *name, const char *letters,
                                  struct th_error *err)
{
    char list[LIST_CHARS], alike[LIST_CHARS] = "";
    list_of_state(letters, list);
    if (strlen(name) > 2)
        list_alike(name, letters, alike);
    return th_fail(err, TH_ERR_INPUT,
                   "'%.60s' is none of the places there%s%s%s expected one of: %s; or latitude, "
                   "longitude and elevation of any other",
                   text, alike[0] ? "; did you mean " : ";", alike, alike[0] ? "? If not," : "",
                   list);
}

/* A name without a state: perhaps a state itself, or a town that is known. */
static enum th_code stateless(const char *text, const char *name, struct th_error *err)
{
    char list[LIST_CHARS] = "";
    const char *const letters = state_of(text);
    if (letters) {
        list_of_state(letters, list);
        return th_fail(err, TH_ERR_INPUT,
                       "'%.60s' is a whole state; expected one of its towns with it, such as "
                       "Mason City, Iowa; known there: %s; or latitude, longitude and elevation",
                       text, list);
    }
    if (strlen(name) > 2)
        list_alike(name, NULL, list);
    if (list[0])
        return th_fail(err, TH_ERR_INPUT,
                       "'%.60s' names no state; expected town and state: %s; or latitude, "
                       "longitude and elevation of any other",
                       text, list);
    return th_fail(err, TH_ERR_INPUT,
                   "'%.60s' names no state with known places, nor a town with known weather; "
                   "expected a town and its state: with a state, as Mason City, Iowa, the towns "
                   "known there are listed; or latitude, longitude and elevation",
                   text);
}

/* The comma or blank before the state at the end of `text`, or NULL when there is none. */
static const char *before_state(const char *text)
{
    const char *const comma = strrchr(text, ',');
    if (comma)
        return state_of(comma + 1) ? comma : NULL;
    for (const char *blank = strchr(text, ' '); blank; blank = strchr(blank + 1, ' '))
        if (state_of(blank + 1))
            return blank;
    return NULL;
}

enum th_code th_places_find(const char *text, const struct th_places_row **row,
                            struct th_error *err)
{
    char name[NAME_MAX_CHARS];
    const char *const end = before_state(text);
    const char *const letters = end ? state_of(end + 1) : NULL;
    int best = 0, with_best = 0;
    fold(text, end ? (size_t)(end - text) : strlen(text), name);
    if (!letters)
        return stateless(text, name, err);
    for (size_t i = 0; i < th_n_places_table && strlen(name) > 2; i++) {
        const int how = in_state(&th_places_table[i], letters) ? fit(&th_places_table[i], name) : 0;
        if (how > best) {
            *row = &th_places_table[i];
            best = how;
            with_best = 0;
        }
        with_best += how && how == best;
    }
    return with_best == 1 ? TH_OK : unknown_place(text, name, letters, err);
}

/* By haversines. */
double th_places_distance_m(double latitude_deg, double longitude_deg, double other_latitude_deg,
                            double other_longitude_deg)
{
    const double north = sin(0.5 * DEG * (other_latitude_deg - latitude_deg));
    const double east = sin(0.5 * DEG * (other_longitude_deg - longitude_deg));
    const double h =
        north * north + cos(DEG * latitude_deg) * cos(DEG * other_latitude_deg) * east * east;
    return 2.0 * EARTH_M * asin(fmin(1.0, sqrt(h)));
}

void th_places_nearest(double latitude_deg, double longitude_deg, size_t n,
                       struct th_places_near *near)
{
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        near[i] = (struct th_places_near){&th_places_table[0], INFINITY};
    for (size_t i = 0; i < th_n_places_table; i++) {
        const struct th_places_row *const row = &th_places_table[i];
        const struct th_places_near here = {row, th_places_distance_m(latitude_deg, longitude_deg,
                                                                      row->latitude_deg,
                                                                      row->longitude_deg)};
        if (kept == n && near[n - 1].distance_m <= here.distance_m)
            continue;
        size_t at = kept < n ? kept++ : n - 1;
        for (; at > 0 && near[at - 1].distance_m > here.distance_m; at--)
            near[at] = near[at - 1];
        near[at] = here;
    }
}

/* The three nearest with their weights, whose sum is 1; a place nearer than SAME_M stands alone. */
static void weigh(double latitude_deg, double longitude_deg,
                  struct th_places_near near[TH_PLACES_NEAR], double weight[TH_PLACES_NEAR])
{
    double sum = 0.0;
    th_places_nearest(latitude_deg, longitude_deg, TH_PLACES_NEAR, near);
    const bool alone = near[0].distance_m < SAME_M;
    for (int i = 0; i < TH_PLACES_NEAR; i++) {
        weight[i] = alone ? i == 0 : 1.0 / (near[i].distance_m * near[i].distance_m);
        sum += weight[i];
    }
    for (int i = 0; i < TH_PLACES_NEAR; i++)
        weight[i] /= sum;
}

double th_places_elevation_m(double latitude_deg, double longitude_deg)
{
    struct th_places_near near[TH_PLACES_NEAR];
    double weight[TH_PLACES_NEAR], elevation_m = 0.0;
    weigh(latitude_deg, longitude_deg, near, weight);
    for (int i = 0; i < TH_PLACES_NEAR; i++)
        elevation_m += weight[i] * near[i].row->elevation_m;
    return elevation_m;
}

/* °F by which a mean at the point differs from that at `row`. */
static double moved_f(const struct th_places_row *row, double latitude_deg, double elevation_m)
{
    return F_PER_DEG_NORTH * (latitude_deg - row->latitude_deg) +
           F_PER_1000_FT_UP * (elevation_m - row->elevation_m) / (1000.0 * TH_M_PER_FT);
}

static void add_month(struct th_places_month *sum, const struct th_places_month *m, double weight,
                      double move_f)
{
    sum->mean_f += weight * (m->mean_f + move_f);
    sum->sd_f += weight * m->sd_f;
    sum->lag1 += weight * m->lag1;
    sum->range_f += weight * m->range_f;
    sum->dew_point_f += weight * (m->mean_f - m->dew_point_f); /* below the mean, as yet */
    sum->wind_mph += weight * m->wind_mph;
}

static struct th_month_normal to_si(const struct th_places_month *m)
{
    return (struct th_month_normal){.mean_c = th_c_from_f(m->mean_f),
                                    .sd_k = m->sd_f * TH_K_PER_F,
                                    .lag1 = m->lag1,
                                    .range_k = m->range_f * TH_K_PER_F,
                                    .has_dew = true,
                                    .dew_c = th_c_from_f(m->mean_f - fmax(0.0, m->dew_point_f)),
                                    .has_wind = true,
                                    .wind_m_s = m->wind_mph * TH_M_S_PER_MPH};
}

void th_places_normals(double latitude_deg, double longitude_deg, double elevation_m,
                       struct th_normals *normals)
{
    struct th_places_near near[TH_PLACES_NEAR];
    double weight[TH_PLACES_NEAR];
    *normals = (struct th_normals){.has_season_offset = true};
    weigh(latitude_deg, longitude_deg, near, weight);
    const bool own = near[0].distance_m < SAME_M;
    for (int month = 0; month < 12; month++) {
        struct th_places_month sum = {0};
        for (int i = 0; i < TH_PLACES_NEAR; i++)
            add_month(&sum, &near[i].row->month[month], weight[i],
                      own ? 0.0 : moved_f(near[i].row, latitude_deg, elevation_m));
        normals->month[month] = to_si(&sum);
    }
    for (int i = 0; i < TH_PLACES_NEAR; i++)
        normals->season_offset_k += weight[i] * near[i].row->season_offset_f * TH_K_PER_F;
}

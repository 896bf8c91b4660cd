/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_layers.h"

#include "barn_text.h"
#include "turnheat/nearest.h"
#include "quantity.h"
#include "turnheat/envelope.h"

#include <ctype.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>

#define PART_MAX (TH_TEXT_LINE_MAX + 1)

static enum th_code refuse(struct th_error *err, int column, const char *text)
{
    th_fail(err, TH_ERR_INPUT, "%s", text);
    th_error_place(err, NULL, 0, column);
    return TH_ERR_INPUT;
}

/* Copies the `length` bytes at `from` in lower case without blanks around them; how many blanks
 * were in front. */
static int trim(const char *from, size_t length, char to[PART_MAX])
{
    size_t front = 0;
    while (front < length && isspace((unsigned char)from[front]))
        front++;
    while (length > front && isspace((unsigned char)from[length - 1]))
        length--;
    size_t n = 0;
    for (size_t i = front; i < length && n < PART_MAX - 1; i++)
        to[n++] = (char)tolower((unsigned char)from[i]);
    to[n] = '\0';
    return (int)front;
}

static enum th_code unknown(const char *part, int column, struct th_error *err)
{
    char name[PART_MAX];
    snprintf(name, sizeof name, "%s", part);
    /* A thickness behind the name would only blur the comparison. */
    for (char *c = name; *c; c++)
        if (*c == ' ' && isdigit((unsigned char)c[1]) && c > name) {
            *c = '\0';
            break;
        }
    int n = 0;
    const struct th_material *const list = th_material_list(&n);
    const char *nearest = NULL;
    int least = INT_MAX;
    for (int i = 0; i < n; i++) {
        const int distance = th_nearest_distance(name, list[i].name);
        if (distance < least) {
            least = distance;
            nearest = list[i].name;
        }
    }
    char text[400];
    const bool likely = nearest && th_nearest_likely(nearest, least);
    snprintf(text, sizeof text,
             "material '%.80s' is not known%s%s%s; expected one of the list in docs/barn-file.md",
             name, likely ? " (did you mean " : "", likely ? nearest : "", likely ? "?)" : "");
    return refuse(err, column, text);
}

static bool is_film(const char *name)
{
    const size_t n = strlen(name);
    return n > 5 && strcmp(name + n - 5, " film") == 0;
}

/* "plywood 0.5 in": the longest known name that a length follows. */
static enum th_code read_thick(const char *part, int column, double *r, struct th_error *err)
{
    for (const char *blank = strchr(part, ' '); blank; blank = strchr(blank + 1, ' ')) {
        char name[PART_MAX];
        snprintf(name, sizeof name, "%.*s", (int)(blank - part), part);
        const struct th_material *const material = th_material_find(name);
        if (!material || material->piece)
            continue;
        double thickness_m = 0.0;
        const int at = column + (int)(blank - part) + 1;
        if (th_quantity_read(blank + 1, TH_DIM_LENGTH, &thickness_m, err) != TH_OK) {
            th_error_place(err, NULL, 0, at);
            return TH_ERR_INPUT;
        }
        if (!(thickness_m > 0.0 && thickness_m <= 3.0))
            return refuse(err, at, "this thickness cannot be; expected up to 10 ft");
        *r = material->r * thickness_m;
        return TH_OK;
    }
    return unknown(part, column, err);
}

static enum th_code read_part(const char *part, int column, double *r, struct th_error *err)
{
    if (*part == '\0')
        return refuse(err, column, "a layer is missing here; expected a material");
    if (is_film(part))
        return refuse(err, column, "films are added by themselves; expected a material");
    const struct th_material *const material = th_material_find(part);
    if (!material)
        return read_thick(part, column, r, err);
    if (!material->piece)
        return refuse(err, column, "the thickness is missing; expected such as plywood 0.5 in");
    *r = material->r;
    return TH_OK;
}

static enum th_code read_layer(const char *text, size_t length, int column, struct th_layer *layer,
                               struct th_error *err)
{
    const char *const bar = memchr(text, '|', length);
    const size_t clear_length = bar ? (size_t)(bar - text) : length;
    char part[PART_MAX];
    int front = trim(text, clear_length, part);
    *layer = (struct th_layer){0};
    enum th_code code = read_part(part, column + front, &layer->clear_m2k_w, err);
    layer->framed_m2k_w = layer->clear_m2k_w;
    if (code != TH_OK || !bar)
        return code;
    front = trim(bar + 1, length - clear_length - 1, part);
    return read_part(part, column + (int)clear_length + 1 + front, &layer->framed_m2k_w, err);
}

static struct th_layer film(double r)
{
    return (struct th_layer){.clear_m2k_w = r, .framed_m2k_w = r};
}

/* Still air on both sides unless the far side is outdoors (ASHRAE Fundamentals, from memory). */
static void add_films(struct th_layer *inside, struct th_layer *far_side, enum th_surface_kind kind,
                      enum th_faces faces)
{
    const double still = kind == TH_CEILING ? TH_FILM_CEILING_M2K_W : TH_FILM_WALL_M2K_W;
    *inside = film(still);
    *far_side = film(faces == TH_FACES_OUTSIDE ? TH_FILM_OUTSIDE_M2K_W : still);
}

enum th_code th_layers_r(const char *layers, double framing, enum th_surface_kind kind,
                         enum th_faces faces, double *r_m2k_w, struct th_error *err)
{
    struct th_layer list[TH_LAYERS_MAX];
    int n = 1;
    const char *at = layers;
    for (;;) {
        const size_t length = strcspn(at, ",");
        if (n >= TH_LAYERS_MAX - 1)
            return refuse(err, (int)(at - layers) + 1,
                          "there are too many layers; expected at "
                          "most 10");
        const enum th_code code = read_layer(at, length, (int)(at - layers) + 1, &list[n++], err);
        if (code != TH_OK)
            return code;
        if (at[length] == '\0')
            break;
        at += length + 1;
    }
    add_films(&list[0], &list[n], kind, faces);
    const enum th_code code = th_envelope_r(list, n + 1, framing, r_m2k_w, err);
    if (code != TH_OK)
        th_error_place(err, NULL, 0, 1);
    return code;
}

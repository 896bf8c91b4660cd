/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_values.h"

#include "month_day.h"
#include "turnheat/nearest.h"
#include "turnheat/calendar.h"

#include <ctype.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* Of a list; longer ones are cut and then not understood. */
#define ITEM_MAX TH_PATH_MAX

static enum th_code refuse(struct th_error *err, enum th_code code, int column, const char *text)
{
    th_fail(err, code, "%s", text);
    th_error_place(err, NULL, 0, column);
    return code;
}

static enum th_code read_number(const struct th_parameter *key, const char *text, double *number,
                                struct th_error *err)
{
    const enum th_code code = th_quantity_read(text, key->dimension, number, err);
    if (code != TH_OK || th_parameter_fits(key, *number))
        return code;
    /* Rating plates are read aloud in thousands. */
    const bool thousands = key->dimension == TH_DIM_POWER && th_parameter_fits(key, 1e3 * *number);
    th_fail(err, TH_ERR_RANGE, "%s = %.60s lies outside its range; expected %s to %s%s%s%s",
            key->name, text, th_amount_text(key, key->low).text,
            th_amount_text(key, key->high).text, thousands ? "; is " : "",
            thousands ? th_parameter_text(key, 1e3 * *number).text : "",
            thousands ? " meant?" : "");
    th_error_place(err, NULL, 0, 1);
    return TH_ERR_RANGE;
}

static enum th_code set_number(const struct th_parameter *key, const char *text, double *to,
                               struct th_error *err)
{
    const enum th_code code = read_number(key, text, to, err);
    if (code != TH_OK || !key->count || *to == floor(*to))
        return code;
    return refuse(err, TH_ERR_INPUT, 1,
                  "this is not whole; expected a whole number, thousands with a comma, as 2,400");
}

static enum th_code set_whole(const struct th_parameter *key, const char *text, int *to,
                              struct th_error *err)
{
    double number = 0.0;
    const enum th_code code = read_number(key, text, &number, err);
    if (code != TH_OK)
        return code;
    if (number != floor(number) || fabs(number) > INT_MAX)
        return refuse(err, TH_ERR_INPUT, 1, "this is not whole; expected a whole number");
    *to = (int)number;
    return TH_OK;
}

static enum th_code set_yes_no(const char *text, bool *to, struct th_error *err)
{
    if (strcasecmp(text, "yes") != 0 && strcasecmp(text, "no") != 0)
        return refuse(err, TH_ERR_INPUT, 1, "this is neither yes nor no; expected yes or no");
    *to = strcasecmp(text, "yes") == 0;
    return TH_OK;
}

/* "Two-stage", "two stage" and "two_stage" are one word. */
static bool same_word(const char *text, const char *word)
{
    for (; *text && *word; text++, word++) {
        const bool joint = *text == '-' || *text == ' ' || *text == '/';
        if ((joint ? '_' : tolower((unsigned char)*text)) != *word)
            return false;
    }
    return *text == *word;
}

static enum th_code set_word(const struct th_parameter *key, const char *text, int *to,
                             struct th_error *err)
{
    char known[200] = "";
    const char *nearest = NULL;
    int least = INT_MAX;
    for (const struct th_word *word = key->words; word->word; word++) {
        if (same_word(text, word->word)) {
            *to = word->value;
            return TH_OK;
        }
        const size_t n = strlen(known);
        snprintf(known + n, sizeof known - n, "%s%s", n ? ", " : "", word->word);
        const int distance = th_nearest_distance(text, word->word);
        if (distance < least) {
            least = distance;
            nearest = word->word;
        }
    }
    const bool likely = nearest && th_nearest_likely(nearest, least);
    th_fail(err, TH_ERR_INPUT, "'%.60s' is not known here; expected one of: %s%s%s%s", text, known,
            likely ? " (did you mean " : "", likely ? nearest : "", likely ? "?)" : "");
    th_error_place(err, NULL, 0, 1);
    return TH_ERR_INPUT;
}

static enum th_code set_month_day(const char *text, int *month_and_day, struct th_error *err)
{
    double number = 0.0;
    const enum th_code code = th_quantity_read(text, TH_DIM_MONTH_DAY, &number, err);
    if (code != TH_OK)
        return code;
    month_and_day[0] = (int)number / 100;
    month_and_day[1] = (int)number % 100;
    return TH_OK;
}

/* The year is kept where it is told. */
static enum th_code set_date(const char *text, int *month_day_year, struct th_error *err)
{
    int month_day, year = 0;
    const enum th_code code = set_month_day(text, month_day_year, err);
    if (code != TH_OK || !th_month_day_year_read(text, &month_day, &year))
        return code;
    if (year > 0 && !th_date_valid(year, month_day_year[0], month_day_year[1]))
        return refuse(err, TH_ERR_INPUT, 1, "there is no such day; expected one of that year");
    month_day_year[2] = year;
    return TH_OK;
}

static enum th_code set_text(const char *text, char *to, size_t room, struct th_error *err)
{
    if (strlen(text) >= room) {
        th_fail(err, TH_ERR_INPUT, "the text is too long; expected at most %zu bytes", room - 1);
        th_error_place(err, NULL, 0, (int)room);
        return TH_ERR_INPUT;
    }
    memcpy(to, text, strlen(text) + 1);
    return TH_OK;
}

bool th_path_beside(const char *file, const char *path, char joined[TH_PATH_MAX])
{
    const char *const slash = strrchr(file, '/');
    const int folder = path[0] == '/' || !slash ? 0 : (int)(slash - file) + 1;
    const int n = snprintf(joined, TH_PATH_MAX, "%.*s%s", folder, file, path);
    return n >= 0 && n < TH_PATH_MAX;
}

static enum th_code set_path(const char *text, const char *file, char *to, struct th_error *err)
{
    if (th_path_beside(file, text, to))
        return TH_OK;
    return refuse(err, TH_ERR_INPUT, 1, "the path is too long");
}

/* The next item of a list parted by commas, blanks around it taken off. A comma between digits
 * parts thousands, so one that ends an item is followed by a blank or the end. False at the end;
 * `column` is the item's. */
static bool next_item(const char *text, size_t *at, char item[ITEM_MAX], int *column)
{
    while (text[*at] == ' ' || text[*at] == '\t')
        (*at)++;
    if (text[*at] == '\0')
        return false;
    *column = (int)*at + 1;
    size_t end = *at;
    while (text[end] &&
           !(text[end] == ',' && (isspace((unsigned char)text[end + 1]) || text[end + 1] == '\0')))
        end++;
    size_t length = end - *at;
    *at = text[end] ? end + 1 : end;
    while (length > 0 && isspace((unsigned char)text[end - 1])) {
        end--;
        length--;
    }
    const size_t kept = length < ITEM_MAX - 1 ? length : ITEM_MAX - 1;
    memcpy(item, text + *column - 1, kept);
    item[kept] = '\0';
    return true;
}

static enum th_code set_weather(const char *text, const char *file, struct th_draft *draft,
                                struct th_error *err)
{
    char item[ITEM_MAX];
    size_t at = 0;
    int column = 1;
    while (next_item(text, &at, item, &column)) {
        if (draft->n_weather >= TH_WEATHER_MAX)
            return refuse(err, TH_ERR_INPUT, column,
                          "there are too many weather files; expected "
                          "at most 64");
        if (!th_path_beside(file, item, draft->weather[draft->n_weather]))
            return refuse(err, TH_ERR_INPUT, column, "the path is too long");
        draft->n_weather++;
    }
    return TH_OK;
}

static enum th_code set_leave(char *item, struct th_leave *leave, struct th_error *err)
{
    char *const colon = strchr(item, ':');
    if (!colon)
        return refuse(err, TH_ERR_INPUT, 1,
                      "there is no : between day and share; expected such as "
                      "45: 50 %, 150: 30 %");
    *colon = '\0';
    const char *share = colon + 1;
    while (*share == ' ')
        share++;
    const enum th_code code = th_quantity_read(item, TH_DIM_DAYS, &leave->day, err);
    if (code != TH_OK)
        return code;
    return th_quantity_read(share, TH_DIM_SHARE, &leave->share, err);
}

/* `to` is the number of leaves; the leaves follow it in struct th_turn_plan. */
static enum th_code set_leaves(const char *text, struct th_turn_plan *turn, struct th_error *err)
{
    char item[ITEM_MAX];
    size_t at = 0;
    int column = 1;
    turn->n_leaves = 0;
    while (next_item(text, &at, item, &column)) {
        if (turn->n_leaves >= TH_LEAVES_MAX)
            return refuse(err, TH_ERR_INPUT, column,
                          "pigs leave on too many days; expected at "
                          "most 6");
        const enum th_code code = set_leave(item, &turn->leaves[turn->n_leaves], err);
        if (code != TH_OK) {
            th_error_place(err, NULL, 0, column);
            return code;
        }
        turn->n_leaves++;
    }
    return TH_OK;
}

static enum th_code set_weeks(const char *text, struct th_use *use, struct th_error *err)
{
    char item[ITEM_MAX];
    size_t at = 0;
    int column = 1;
    use->n_weeks = 0;
    while (next_item(text, &at, item, &column)) {
        if (use->n_weeks >= TH_USE_WEEKS_MAX)
            return refuse(err, TH_ERR_INPUT, column,
                          "there are too many weeks; expected at most "
                          "53");
        double *const gallons = &use->week_gal[use->n_weeks];
        enum th_code code = th_quantity_read(item, TH_DIM_GAS_VOLUME, gallons, err);
        if (code == TH_OK && *gallons < 0.0)
            code = refuse(err, TH_ERR_RANGE, column, "gallons of a week cannot be below 0");
        if (code != TH_OK) {
            th_error_place(err, NULL, 0, column);
            return code;
        }
        use->n_weeks++;
    }
    return TH_OK;
}

static enum th_code set_weekdays(const char *text, unsigned *to, struct th_error *err)
{
    static const char *const names[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
    unsigned days = 0;
    for (const char *at = text + strspn(text, " ,"); *at; at += strspn(at, " ,")) {
        const size_t length = strcspn(at, " ,");
        char word[ITEM_MAX] = "";
        for (size_t i = 0; i < length && i < ITEM_MAX - 1; i++)
            word[i] = (char)tolower((unsigned char)at[i]);
        int found = -1;
        for (int i = 0; i < 7; i++)
            if (strcmp(word, names[i]) == 0)
                found = i;
        if (found < 0)
            return refuse(err, TH_ERR_INPUT, (int)(at - text) + 1,
                          "this is no weekday; expected some of Mon Tue Wed Thu Fri Sat Sun");
        days |= 1u << found;
        at += length;
    }
    *to = days;
    return TH_OK;
}

/* "2025-26", or "2025-2026" or "2025/26": the second year follows the first. */
static enum th_code set_season(const char *text, int *to, struct th_error *err)
{
    static const char digits[] = "0123456789";
    const size_t length = strlen(text);
    const bool formed = (length == 7 || length == 9) && strspn(text, digits) == 4 &&
                        (text[4] == '-' || text[4] == '/') &&
                        strspn(text + 5, digits) == length - 5;
    const long first = formed ? strtol(text, NULL, 10) : 0;
    const long second = formed ? strtol(text + 5, NULL, 10) : 0;
    if (!formed || first < 1900 || second != (length == 9 ? first + 1 : (first + 1) % 100))
        return refuse(err, TH_ERR_INPUT, 1,
                      "this is no season; expected two years that follow each other, such as "
                      "2025-26");
    *to = (int)first;
    return TH_OK;
}

/* Numbers with blanks between. */
static enum th_code set_deviates(const char *value, double *to, struct th_error *err)
{
    const char *at = value;
    for (int i = 0; i < TH_FITTED_NUMBERS; i++) {
        char *end;
        to[i] = strtod(at, &end);
        if (end == at || !(fabs(to[i]) <= 10.0))
            return th_fail(err, TH_ERR_INPUT,
                           "expected the %d numbers that turnheat calibrate prints",
                           TH_FITTED_NUMBERS);
        at = end;
    }
    if (at[strspn(at, " \t")])
        return th_fail(err, TH_ERR_INPUT, "expected no more than %d numbers", TH_FITTED_NUMBERS);
    return TH_OK;
}

/* Room for the value of a key that has no place; it is only read to see whether it is right. */
union th_scratch {
    double number;
    int whole[2];
    bool yes;
    char text[TH_NOTE_MAX];
    char path[TH_PATH_MAX];
};

static enum th_code store(const struct th_parameter *key, const char *value, const char *file,
                          void *at, void *element, struct th_draft *draft, struct th_error *err)
{
    switch (key->store) {
    case TH_STORE_NUMBER:
        return set_number(key, value, at, err);
    case TH_STORE_WHOLE:
        return set_whole(key, value, at, err);
    case TH_STORE_YES_NO:
        return set_yes_no(value, at, err);
    case TH_STORE_WORD:
        return set_word(key, value, at, err);
    case TH_STORE_MONTH_DAY:
        return set_month_day(value, at, err);
    case TH_STORE_DATE:
        return set_date(value, at, err);
    case TH_STORE_NAME:
        return set_text(value, at, TH_NAME_MAX, err);
    case TH_STORE_NOTE:
        return set_text(value, at, TH_NOTE_MAX, err);
    case TH_STORE_PATH:
        return set_path(value, file, at, err);
    case TH_STORE_WEATHER:
        return set_weather(value, file, draft, err);
    case TH_STORE_WEEKDAYS:
        return set_weekdays(value, at, err);
    case TH_STORE_WEEKS:
        return set_weeks(value, element, err);
    case TH_STORE_SEASON:
        return set_season(value, at, err);
    case TH_STORE_LEAVES:
        return set_leaves(value, element, err);
    case TH_STORE_DEVIATES:
        return set_deviates(value, at, err);
    }
    return th_fail(err, TH_ERR_INPUT, "%s cannot be set", key->name);
}

/* Between straight or curly quotes, as word processors make them. */
static bool is_quoted(const char *value)
{
    static const char *const quotes[] = {"\"", "'", "“", "”", "‘", "’", "„", "«"};
    for (size_t i = 0; i < sizeof quotes / sizeof *quotes; i++)
        if (strncmp(value, quotes[i], strlen(quotes[i])) == 0)
            return true;
    return false;
}

enum th_code th_value_set(const struct th_parameter *key, const char *value, const char *file,
                          void *element, struct th_draft *draft, double *number,
                          struct th_error *err)
{
    union th_scratch scratch = {.number = 0.0};
    void *const at = key->has_place ? (char *)element + key->offset : (void *)&scratch;
    const enum th_code code = store(key, value, file, at, element, draft, err);
    if (code != TH_OK && code != TH_ERR_MEMORY && is_quoted(value))
        return refuse(err, code, 0, "the value stands in quotes; expected it without");
    if (code == TH_OK && key->given)
        *(bool *)((char *)element + key->given) = true;
    if (code == TH_OK && key->store == TH_STORE_NUMBER)
        *number = *(const double *)at;
    if (code == TH_OK && (key->store == TH_STORE_WHOLE || key->store == TH_STORE_WORD))
        *number = *(const int *)at;
    return code;
}

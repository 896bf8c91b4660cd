/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/parameters.h"

#include "turnheat/thousands.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Where the row's value is kept. */
static void *place_of(const struct th_parameter *row, void *values)
{
    return (char *)values + row->offset;
}

static void start(const struct th_parameter *row, void *place)
{
    const double si = row->initial.si;
    switch (row->store) {
    case TH_STORE_NUMBER:
        *(double *)place = si;
        return;
    case TH_STORE_WHOLE:
    case TH_STORE_WORD:
        *(int *)place = (int)si;
        return;
    case TH_STORE_YES_NO:
        *(bool *)place = si != 0.0;
        return;
    case TH_STORE_MONTH_DAY:
        ((int *)place)[0] = (int)si / 100;
        ((int *)place)[1] = (int)si % 100;
        return;
    case TH_STORE_WEEKDAYS:
        *(unsigned *)place = (unsigned)si;
        return;
    case TH_STORE_DATE:
    case TH_STORE_NAME:
    case TH_STORE_NOTE:
    case TH_STORE_PATH:
    case TH_STORE_WEATHER:
    case TH_STORE_WEEKS:
    case TH_STORE_SEASON:
    case TH_STORE_LEAVES:
    case TH_STORE_DEVIATES:
        return; /* all zero is their start */
    }
}

void th_parameters_start(const struct th_parameters *list, void *values)
{
    for (int i = 0; i < list->n; i++)
        if (list->rows[i].has_place && list->rows[i].initial.given)
            start(&list->rows[i], place_of(&list->rows[i], values));
}

double th_parameter_number(const struct th_parameter *row, const void *values)
{
    const void *const place = (const char *)values + row->offset;
    return row->store == TH_STORE_WHOLE ? *(const int *)place : *(const double *)place;
}

bool th_parameter_is_ranged(const struct th_parameter *row, const void *values)
{
    const char *const from = values;
    if (!row->has_place || !row->low.given)
        return false;
    if (row->given)
        return *(const bool *)(from + row->given);
    return row->initial.given || row->needed || th_parameter_number(row, values) != 0.0;
}

bool th_parameter_counts(const struct th_parameter *row, const void *values)
{
    const char *const from = values;
    return !row->when || *(const int *)(const void *)(from + row->when) == row->when_is;
}

static bool lies_between(double si, struct th_amount low, struct th_amount high)
{
    const double slack = 1e-9 * fmax(1.0, fabs(si));
    return si >= low.si - slack && si <= high.si + slack;
}

bool th_parameter_fits(const struct th_parameter *row, double si)
{
    return isfinite(si) && (!row->low.given || lies_between(si, row->low, row->high));
}

bool th_parameter_is_usual(const struct th_parameter *row, double si)
{
    return !row->usual_low.given || lies_between(si, row->usual_low, row->usual_high);
}

const struct th_parameter *th_parameters_outside(const struct th_parameters *list,
                                                 const void *values)
{
    for (int i = 0; i < list->n; i++) {
        const struct th_parameter *const row = &list->rows[i];
        if (th_parameter_is_ranged(row, values) &&
            !th_parameter_fits(row, th_parameter_number(row, values)))
            return row;
    }
    return NULL;
}

/* At most four digits where there are few, all of a large number's: "0.185", "-1,300". */
static void write_number(char *to, double number)
{
    char digits[32];
    snprintf(digits, sizeof digits, fabs(number) < 1000.0 ? "%.4g" : "%.0f", number);
    if (strchr(digits, 'e'))
        memcpy(to, digits, strlen(digits) + 1);
    else
        th_thousands(to, digits);
}

static const char *word_of(const struct th_word *words, int value)
{
    while (words->word && words->value != value)
        words++;
    return words->word ? words->word : "?";
}

static struct th_amount_text number_text(struct th_amount amount)
{
    struct th_amount_text text;
    char number[48];
    const bool money = amount.unit[0] == '$';
    const char *const unit = money ? amount.unit + 1 : amount.unit;
    if (money && amount.number != round(amount.number) && round(100.0 * amount.number) != 0.0)
        snprintf(number, sizeof number, "%.2f", fabs(amount.number));
    else
        write_number(number, money ? fabs(amount.number) : amount.number);
    snprintf(text.text, sizeof text.text, "%s%s%s%s%s", money && amount.number < 0.0 ? "-" : "",
             money ? "$" : "", number, *unit && !money ? " " : "", unit);
    return text;
}

struct th_amount_text th_amount_text(const struct th_parameter *row, struct th_amount amount)
{
    struct th_amount_text text = {.text = ""};
    switch (row->store) {
    case TH_STORE_NUMBER:
    case TH_STORE_WHOLE:
        return number_text(amount);
    case TH_STORE_YES_NO:
        snprintf(text.text, sizeof text.text, "%s", amount.si != 0.0 ? "yes" : "no");
        return text;
    case TH_STORE_WORD:
        snprintf(text.text, sizeof text.text, "%s", word_of(row->words, (int)amount.si));
        return text;
    case TH_STORE_MONTH_DAY:
    case TH_STORE_DATE:
        snprintf(text.text, sizeof text.text, "%02d-%02d", (int)amount.si / 100,
                 (int)amount.si % 100);
        return text;
    case TH_STORE_NAME:
    case TH_STORE_NOTE:
    case TH_STORE_PATH:
    case TH_STORE_WEATHER:
    case TH_STORE_WEEKDAYS:
    case TH_STORE_WEEKS:
    case TH_STORE_SEASON:
    case TH_STORE_LEAVES:
    case TH_STORE_DEVIATES:
        snprintf(text.text, sizeof text.text, "%s", amount.unit);
        return text;
    }
    return text;
}

/* A range gives two points of the line from SI to its unit. */
struct th_amount_text th_parameter_text(const struct th_parameter *row, double si)
{
    const double per_si = (row->high.number - row->low.number) / (row->high.si - row->low.si);
    double number = row->low.number + (si - row->low.si) * per_si;
    if (fabs(number) < 1e-12 * (row->high.number - row->low.number))
        number = 0.0;
    return number_text((struct th_amount){.si = si, .number = number, .unit = row->low.unit});
}

struct th_parameter_doubt th_parameter_doubt(const struct th_parameter *row, double si)
{
    struct th_parameter_doubt doubt;
    snprintf(doubt.text, sizeof doubt.text, "%s = %s is not usual, which is %s to %s%s%s%s",
             row->name, th_parameter_text(row, si).text, th_amount_text(row, row->usual_low).text,
             th_amount_text(row, row->usual_high).text, row->meant ? " (" : "",
             row->meant ? row->meant : "", row->meant ? ")" : "");
    return doubt;
}

enum th_code th_parameters_check(const struct th_parameters *list, const void *values,
                                 struct th_error *err)
{
    const struct th_parameter *const row = th_parameters_outside(list, values);
    if (!row)
        return TH_OK;
    return th_fail(err, TH_ERR_RANGE, "%s = %s lies outside its range; expected %s to %s",
                   row->name, th_parameter_text(row, th_parameter_number(row, values)).text,
                   th_amount_text(row, row->low).text, th_amount_text(row, row->high).text);
}

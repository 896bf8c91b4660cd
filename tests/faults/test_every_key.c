/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every key of the parameter table with values no one should write, alone and several at once: a
   file is refused with words that can be printed, or gives a room that can be simulated. Weather
   forms cut at every byte. `test_every_key SAMPLES CORPUS [STRIDE]`: of the cases each STRIDE-th is
   tried, 1 by hand. */
#include "../run_suite.h"
#include "../sound_season.h"
#include "barn.h"
#include "barn_keys.h"
#include "utf8.h"
#include "weather_read.h"

#include <string.h>

static const char *samples, *corpus;
static int stride = 20;

#define TEXT_MAX 40000
static char nines[5000], deep[5000];

static const char *const values[] = {"",
                                     "-1",
                                     "0",
                                     "1",
                                     "1e308",
                                     "-1e308",
                                     "1e-308",
                                     "nan",
                                     "inf",
                                     "-inf",
                                     "0x10",
                                     "1,000",
                                     "1,00",
                                     "999999999999999",
                                     "3",
                                     "3 F",
                                     "-40 F",
                                     "400 F",
                                     "1e9 ft2",
                                     "0.0001 ft2",
                                     "3 ft",
                                     "-3 %",
                                     "0 %",
                                     "100 %",
                                     "1e6 %",
                                     "100000 cfm",
                                     "1e9 Btu/h",
                                     "1 W",
                                     "yes",
                                     "no",
                                     "on_off",
                                     "propane",
                                     "02-29",
                                     "2026-02-30",
                                     "11-05",
                                     "1 day",
                                     "1e6 days",
                                     "1 lb",
                                     "1e7 lb",
                                     "$0.01/gal",
                                     "$-3/gal",
                                     "$1e12",
                                     "1 gal",
                                     "1e12 gal",
                                     "\x01\x1b[31m",
                                     "\xff\xfe\xc3",
                                     "a;b#c",
                                     "../../../etc/passwd",
                                     "= 3",
                                     "3 ft, 4 ft",
                                     "Mon, Mon, Xyz",
                                     "2025-26",
                                     "2025-99",
                                     nines,
                                     deep};
#define N_VALUES (sizeof values / sizeof *values)

/* The samples, which hold most sections, as they are and changed. */
static char sound_barn[TEXT_MAX], sound_farm[TEXT_MAX], barn_text[2 * TEXT_MAX],
    farm_text[2 * TEXT_MAX];

static bool load(char text[TEXT_MAX], const char *name)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", samples, name);
    FILE *const file = fopen(path, "r");
    if (!file)
        return false;
    const size_t n = fread(text, 1, TEXT_MAX - 1, file);
    text[n] = '\0';
    fclose(file);
    return true;
}

/* Where the section of this word begins below its head, or NULL. */
static char *find_section(char *text, const char *word)
{
    const size_t n = strlen(word);
    for (char *at = text; at; at = strchr(at, '\n')) {
        at += *at == '\n';
        if (*at == '[' && strncmp(at + 1, word, n) == 0 && (at[1 + n] == ']' || at[1 + n] == ' '))
            return strchr(at, '\n') + 1;
    }
    return NULL;
}

/* Writes `key = value` into the first section of this word, in place of what stands there, or into
   one more section. */
static void give(char text[2 * TEXT_MAX], const char *word, bool named, const char *key,
                 const char *value)
{
    char line[6000];
    const size_t n = strlen(key);
    int length = snprintf(line, sizeof line, "%s = %s\n", key, value);
    char *at = find_section(text, word);
    if (!at) {
        at = text + strlen(text);
        length =
            snprintf(line, sizeof line, "\n[%s%s]\n%s = %s\n", word, named ? " x" : "", key, value);
    }
    char *old = at, *rest = at;
    for (; *old && *old != '['; old = strchr(old, '\n') + 1)
        if (strncmp(old, key, n) == 0 && (old[n] == ' ' || old[n] == '=')) {
            at = old;
            rest = strchr(old, '\n') + 1;
            break;
        }
    if (strlen(text) + (size_t)length >= 2 * TEXT_MAX)
        return;
    memmove(at + length, rest, strlen(rest) + 1);
    memcpy(at, line, (size_t)length);
}

static void begin(void)
{
    strcpy(barn_text, sound_barn);
    strcpy(farm_text, sound_farm);
}

/* Messages can be shown on any terminal: lines of well-formed characters. */
static bool is_printable(const char *text)
{
    for (size_t n = strcspn(text, "\n"); *text; n = strcspn(text, "\n")) {
        if (th_utf8_good_text(text, n) != n)
            return false;
        text += n + (text[n] == '\n');
    }
    return true;
}

static void judge_issues(const struct th_issues *issues, const char *what)
{
    for (int i = 0; i < issues->n_errors && i < TH_ISSUES_MAX; i++)
        ck_assert_msg(issues->errors[i].text && is_printable(issues->errors[i].text), "%s", what);
    for (int i = 0; i < issues->n_warnings && i < TH_ISSUES_MAX; i++)
        ck_assert_msg(issues->warnings[i].text && is_printable(issues->warnings[i].text), "%s",
                      what);
}

/* Reads what was given and judges it; whether it was a room. */
static bool judge(const char *what)
{
    static struct th_barn barn;
    const struct th_file list[] = {{"a.barn", barn_text, strlen(barn_text)},
                                   {"b.farm", farm_text, strlen(farm_text)}};
    struct th_files files = {.n_held = 2, .held = list};
    struct th_issues issues = {0};
    const enum th_code code = th_barn_read(&files, "a.barn", "b.farm", NULL, 0, &barn, &issues);
    ck_assert_msg((code == TH_OK) == (issues.n_errors == 0), "%s: code %d, %d errors", what, code,
                  issues.n_errors);
    judge_issues(&issues, what);
    ck_assert_msg(code != TH_OK || room_is_sound(&barn.room), "%s: the season is not sound", what);
    th_barn_finish(&barn);
    th_issues_finish(&issues);
    return code == TH_OK;
}

static void give_kind(const struct th_section_kind *kind, const struct th_parameter *key,
                      const char *value)
{
    const bool in_farm = kind->farm && find_section(sound_farm, kind->word);
    give(in_farm ? farm_text : barn_text, kind->word, kind->named, key->name, value);
}

START_TEST(every_key_with_every_value)
{
    char what[300];
    int n_kinds, n = 0, tried = 0, rooms = 0;
    const struct th_section_kind *kinds = th_section_kinds(&n_kinds);
    begin();
    ck_assert(judge("the samples as they are"));
    for (int k = 0; k < n_kinds; k++)
        for (int i = 0; th_section_key(&kinds[k], i); i++)
            for (size_t v = 0; v < N_VALUES; v++) {
                const struct th_parameter *const key = th_section_key(&kinds[k], i);
                if (n++ % stride != 0)
                    continue;
                snprintf(what, sizeof what, "[%s] %s = %.40s", kinds[k].word, key->name, values[v]);
                begin();
                give_kind(&kinds[k], key, values[v]);
                rooms += judge(what);
                tried++;
            }
    printf("# %d of %d cases tried, %d of them were rooms\n", tried, n, rooms);
    ck_assert_int_gt(rooms, tried / 50);
    ck_assert_int_lt(rooms, tried / 2);
}
END_TEST

/* Lehmer's generator: the same cases every time. */
static unsigned long draw(unsigned long *state, unsigned long below)
{
    *state = *state * 48271UL % 2147483647UL;
    return *state % below;
}

/* Several at once contradict each other in ways no list foresees. Values within the range of their
   key let more of them through. */
START_TEST(several_keys_at_once)
{
    char what[300], number[64];
    unsigned long state = 20261126;
    int n_kinds, rooms = 0;
    const int tries = 12000 / stride;
    const struct th_section_kind *kinds = th_section_kinds(&n_kinds);
    for (int t = 0; t < tries; t++) {
        snprintf(what, sizeof what, "case %d of %d", t, tries);
        begin();
        for (unsigned long g = 2 + draw(&state, 3); g > 0; g--) {
            const struct th_section_kind *const kind = &kinds[draw(&state, (unsigned long)n_kinds)];
            int n_keys = 0;
            while (th_section_key(kind, n_keys))
                n_keys++;
            const struct th_parameter *const key =
                th_section_key(kind, (int)draw(&state, (unsigned long)n_keys));
            const double share = (double)draw(&state, 5) / 4.0;
            snprintf(number, sizeof number, "%.12g %s",
                     key->low.number + share * (key->high.number - key->low.number),
                     key->low.given && key->low.unit ? key->low.unit : "");
            give_kind(kind, key,
                      key->low.given && draw(&state, 4) ? number : values[draw(&state, N_VALUES)]);
        }
        rooms += judge(what);
    }
    printf("# %d cases tried, %d of them were rooms\n", tries, rooms);
    ck_assert_int_gt(rooms, tries / 50);
}
END_TEST

static void judge_weather(const char *bytes, size_t size, const char *form)
{
    const struct th_file list[] = {{"w", bytes, size}};
    const char *path = "w";
    struct th_files files = {.n_held = 1, .held = list};
    const struct th_weather_options options = {
        .form = form, .has_utc_offset = true, .utc_offset_h = -6.0};
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err = {0};
    const enum th_code code = th_weather_read(&files, &path, 1, &options, &weather, &err);
    ck_assert_msg(code == TH_OK || *err.text, "%s cut to %zu: %d %s", form ? form : "none", size,
                  (int)code, err.text);
    if (code != TH_OK)
        return;
    th_weather_order(&weather);
    if (th_climate_init(&climate, &weather, 300.0, -6.0, &err) == TH_OK) {
        for (size_t i = 0; i < climate.n; i++)
            ck_assert(climate.hours[i].state == TH_HOUR_MISSING ||
                      isfinite(climate.hours[i].out_c));
        th_climate_finish(&climate);
    }
    th_weather_finish(&weather);
}

static const char *const forms[] = {"epw", "isd_lite", "lcd", "mesonet", "plain", "tmy3"};

/* The first byte of a file of the corpus is not of the form. */
START_TEST(a_weather_form_cut_anywhere)
{
    char path[4096], bytes[4096];
    snprintf(path, sizeof path, "%s/weather/%s", corpus, forms[_i]);
    FILE *const file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "%s", path);
    const size_t n = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    ck_assert_uint_gt(n, 50);
    for (size_t size = 1; size <= n; size++) {
        char *const cut = malloc(size); /* so that reading past it is seen */
        ck_assert_ptr_nonnull(cut);
        memcpy(cut, bytes + 1, size - 1);
        judge_weather(cut, size - 1, th_weather_form_name((unsigned char)bytes[0] % 8));
        judge_weather(cut, size - 1, NULL);
        free(cut);
    }
}
END_TEST

int main(int argc, char **argv)
{
    if (argc < 3)
        return EXIT_FAILURE;
    samples = argv[1];
    corpus = argv[2];
    if (argc > 3)
        stride = atoi(argv[3]);
    memset(nines, '9', sizeof nines - 1);
    memset(deep, '[', sizeof deep - 1);
    if (!load(sound_barn, "solid.barn") || !load(sound_farm, "thistle-hollow.farm"))
        return EXIT_FAILURE;
    Suite *suite = suite_create("every key");
    TCase *tc = tcase_create("every key");
    tcase_set_timeout(tc, 3600);
    tcase_add_test(tc, every_key_with_every_value);
    tcase_add_test(tc, several_keys_at_once);
    tcase_add_loop_test(tc, a_weather_form_cut_anywhere, 0, sizeof forms / sizeof *forms);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

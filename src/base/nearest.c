/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/nearest.h"

#include <string.h>

#define LENGTH_MAX 48

static int least(int a, int b)
{
    return a < b ? a : b;
}

static int letter(const char *name, int i)
{
    const char c = name[i - 1];
    return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c;
}

/* Optimal string alignment: each cell from the three or four before it. */
static int step(int d[LENGTH_MAX][LENGTH_MAX], const char *a, const char *b, int i, int j)
{
    const int change = letter(a, i) == letter(b, j) ? 0 : 1;
    int best = least(d[i - 1][j - 1] + change, least(d[i - 1][j], d[i][j - 1]) + 1);
    const int swapped =
        i > 1 && j > 1 && letter(a, i) == letter(b, j - 1) && letter(a, i - 1) == letter(b, j);
    return swapped ? least(best, d[i - 2][j - 2] + 1) : best;
}

int th_nearest_distance(const char *a, const char *b)
{
    int d[LENGTH_MAX][LENGTH_MAX];
    const int m = (int)strnlen(a, LENGTH_MAX - 1);
    const int n = (int)strnlen(b, LENGTH_MAX - 1);
    for (int i = 0; i <= m; i++)
        d[i][0] = i;
    for (int j = 0; j <= n; j++)
        d[0][j] = j;
    for (int i = 1; i <= m; i++)
        for (int j = 1; j <= n; j++)
            d[i][j] = step(d, a, b, i, j);
    return d[m][n];
}

int th_nearest_likely(const char *name, int distance)
{
    const int length = (int)strnlen(name, LENGTH_MAX);
    return distance <= least(3, (length + 1) / 3);
}

const char *th_nearest(const char *name, const char *const *names, size_t n)
{
    int best = LENGTH_MAX;
    const char *nearest = NULL;
    for (size_t i = 0; i < n; i++) {
        const int distance = th_nearest_distance(name, names[i]);
        if (distance >= best)
            continue;
        best = distance;
        nearest = names[i];
    }
    return nearest && th_nearest_likely(name, best) ? nearest : NULL;
}

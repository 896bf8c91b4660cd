/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Checks against the outside world. One call inside a Check test compares a published number with
 * ours and becomes a row of docs/validation.md:
 *
 *     validate("C1", VALIDATE_CHECK, "Kansas State Swine Day 1976", "500 cfm heated 30 °F",
 *              16000.0, heat_w / TH_W_PER_BTUH, 0.02 * 16000.0, "Btu/h");
 *
 * A check fails the test when |computed - published| > tolerance (absolute, in `unit`); it also
 * fails when computed is not a number. A report never fails: it sets a plausibility band beside
 * our number, and `tolerance` is not used. `published` may be NAN in a report when the source gives
 * no number; say in `what` what it does give. An id may have several rows with different `what`.
 *
 * The numbers are compared with the committed page at the digits printed there (5 significant).
 * After a change: `meson test -C BUILD; meson compile -C BUILD validation-write`, and look at the
 * diff.
 */
#ifndef TURNHEAT_VALIDATE_H
#define TURNHEAT_VALIDATE_H

enum validate_kind { VALIDATE_CHECK, VALIDATE_REPORT };

/** Where in the tests a row comes from; filled in by the macros below. */
struct validate_place {
    const char *file;
    int line;
};

#define VALIDATE_HERE ((struct validate_place){__FILE__, __LINE__})

#define validate(id, kind, source, what, published, computed, tolerance, unit)                     \
    validate_row(VALIDATE_HERE, id, kind, source, what, published, computed, tolerance, unit)

/** Says that the rows of `id` cannot be computed here; their committed rows are kept. */
#define validate_skip(id, reason) validate_skip_row(VALIDATE_HERE, id, reason)

void validate_row(struct validate_place place, const char *id, enum validate_kind kind,
                  const char *source, const char *what, double published, double computed,
                  double tolerance, const char *unit);

void validate_skip_row(struct validate_place place, const char *id, const char *reason);

#endif

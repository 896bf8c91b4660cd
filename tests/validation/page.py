#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes docs/validation.md from the rows the test programs wrote, or compares it with them.

page.py check PAGE ROWS   exit 1 when the committed page is not what the tests computed
page.py write PAGE ROWS   write the page, and say what changed

Rows an id was skipped for are kept from the committed page, and the skip is said.
"""

import pathlib
import re
import sys

HEAD = """<!-- SPDX-License-Identifier: GPL-3.0-or-later -->
# Checks against the outside world

Written by the tests; do not edit by hand (`tests/validation/validate.h` says how). A **check**
fails the tests when the computed number leaves the published one by more than "within", which is
as wide as the source's own accuracy. A **report** sets a published plausibility band, on samples
we invented, beside our number and never fails. "From memory" marks a source that was not read
again. Numbers have five significant digits; a deviation is in percent, or in the unit where a
percentage would say nothing. Where a difference should be nothing and is rounding alone, a bound
of its size stands in its place.

"""
COLUMNS = ["id", "kind", "what", "source", "published", "computed", "unit", "deviation", "within"]


def natural(row):
    """A2 before A10; rows of one id keep the order in which they were computed."""
    return [int(part) if part.isdigit() else part for part in re.split(r"(\d+)", row[0])]


def read_rows(folder):
    computed, skipped = [], {}
    for path in sorted(pathlib.Path(folder).glob("*.rows")):
        for line in path.read_text(encoding="utf-8").splitlines():
            cells = line.split("\t")
            if cells[1] == "skip":
                skipped[cells[0]] = cells[2]
            else:
                computed.append([cell.replace("|", "/") for cell in cells])
    return computed, skipped


def read_page(path):
    if not path.exists():
        return []
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line[:1] == "|"]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def page_text(rows):
    lines = [COLUMNS, ["---"] * len(COLUMNS)] + rows
    return HEAD + "\n".join("| " + " | ".join(cells) + " |" for cells in lines) + "\n"


def merged(committed, computed, skipped):
    """The computed rows, and the committed rows that could not be computed here."""
    have = {(row[0], row[2]) for row in computed}
    kept = [row for row in committed if row[0] in skipped and (row[0], row[2]) not in have]
    return sorted(kept + computed, key=natural), kept


def differences(committed, wanted):
    old = {(row[0], row[2]): row for row in committed}
    new = {(row[0], row[2]): row for row in wanted}
    for key in sorted(old.keys() | new.keys()):
        if key not in new:
            yield f"{key[0]}: {key[1]}: in the page, computed by no test"
        elif key not in old:
            yield f"{key[0]}: {key[1]}: computed, not in the page"
        elif old[key] != new[key]:
            yield f"{key[0]}: {key[1]}: page {old[key][3:]}, computed {new[key][3:]}"


def main(action, page, folder):
    page = pathlib.Path(page)
    computed, skipped = read_rows(folder)
    if not computed:
        print(f"SKIP: {folder} holds no rows; run the whole test suite first")
        return 77
    names = [(row[0], row[2]) for row in computed]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        print("these rows are computed twice:", *twice, sep="\n  ")
        return 1
    committed = read_page(page)
    wanted, kept = merged(committed, computed, skipped)
    for name, reason in sorted(skipped.items()):
        n = sum(row[0] == name for row in kept)
        print(f"SKIP {name}: {reason} ({n} committed rows kept unchecked)")
    if action == "write":
        print(*differences(committed, wanted), sep="\n")
        page.write_text(page_text(wanted), encoding="utf-8")
        print(f"wrote {len(wanted)} rows")
        return 0
    found = list(differences(committed, wanted))
    print(*found, sep="\n")
    if not found and page.read_text(encoding="utf-8") != page_text(wanted):
        found = ["the page's text differs"]
        print(found[0])
    print(f"{len(wanted)} rows, {len(found)} differ")
    return 1 if found else 0


if __name__ == "__main__":
    if len(sys.argv) != 4 or sys.argv[1] not in ("check", "write"):
        sys.exit(__doc__)
    sys.exit(main(*sys.argv[1:]))

# SPDX-License-Identifier: GPL-3.0-or-later
"""Every figure of every report, read as a reader reads it, as TAP.

`python3 figures.py TURNHEAT [REPORT...]`, from the top of the tree. The pages of all reports are made
for 1, 3, 30 and 88 invented winters. Each mark is read off the drawing through two ticks of its own
axis and must be the number of the report's own table, of --json or of the hourly trace; what is told
on hover must be the number the mark stands at. Both the desk's and the phone's drawing are read.
"""

import csv
import json
import re
import statistics
import subprocess
import sys
import tempfile
from calendar import monthrange
from collections import defaultdict
from datetime import date, datetime
from pathlib import Path

sys.dont_write_bytecode = True
from read_figure import Figure, bars_are, bars_by_name, check, line_is, ranges_are, told_where_it_stands

TURNHEAT = sys.argv[1]
FARM = ["--farm", "samples/thistle-hollow.farm"]
WINTERS = (1, 3, 30, 88)
FUEL_PRICE = 1.85  # of samples/thistle-hollow.farm
HARMS = ("not_comparable", "short_of_heat", "short_of_air", "colder")
MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()


# --- pages, and the numbers beside them ---

folder = tempfile.TemporaryDirectory()
scratch = Path(folder.name)


def run(words, out=subprocess.DEVNULL):
    subprocess.run([TURNHEAT, *words], check=True, stdout=out, stderr=subprocess.DEVNULL)


def json_of(words):
    """What --json prints."""
    made = scratch / "made.json"
    with made.open("w") as out:
        run([*words, "--json"], out)
    return json.loads(made.read_text())


def page_of(words):
    """--json, and the figures of the page for a desk and a phone."""
    page = scratch / "page.html"
    made = json_of([*words, "--html", str(page)])
    drawn = {"wide": [], "narrow": []}
    for svg in re.finditer(r'<svg class="(\w+)".*?</svg>', page.read_text(), re.S):
        drawn[svg[1]].append(Figure(svg[0]))
    return made, drawn


def weather_of(winters):
    """As many invented winters, or the one of the samples."""
    if winters == 1:
        return "weather/demo-omaha.csv"
    path = scratch / f"{winters}.csv"
    if not path.exists():
        run(["weather", "--place", "Omaha,NE", "--seasons", str(winters), "--out", str(path)])
    return str(path)


def season_trace(barn, weather, season):
    """The hourly trace of the season named."""
    path = scratch / "hours.csv"
    year = season[:4]
    run(["hours", barn, *FARM, "--weather", weather, "--years", f"{year}-{year}", "--out", str(path)])
    with path.open() as rows:
        hours = list(csv.DictReader(rows))
    for hour in hours:
        hour["at"] = datetime.fromisoformat(hour["hour"])
    return hours


def total(hour, columns):
    return sum(float(hour[f"{c}_btu_h"]) for c in columns.split())


def daily(hours, columns):
    days = defaultdict(list)
    for hour in hours:
        days[hour["at"].date()].append(total(hour, columns))
    return [statistics.fmean(values) for _, values in sorted(days.items())]


# --- each report's figures ---


def months_of(figure, made):
    room = made["rooms"][0]
    rows = [r for r in room["months"]["months"] if (r["gas_highest_gal"] or 0) > 0]
    seasons = [s for s in room["season"]["seasons"] if s["gas_gal"] is not None]
    if len(seasons) == 1:
        bars_are(figure, [(r["month"], r["gas_gal"]) for r in rows])
        return
    by_month, by_winter = defaultdict(list), defaultdict(float)
    for mark in figure.of("speck"):
        for (_, value), told in figure.dots(mark):
            month, winter = told.partition(":")[0].split(", ")
            by_month[month].append(value)
            by_winter[winter] += value
    check.same(list(by_winter), [s["season"] for s in seasons], "winters of the months")
    for season in seasons:
        slack = figure.tolerance * len(rows) + 0.01 * len(rows)
        check.near(by_winter[season["season"]], season["gas_gal"], slack, f"winter {season['season']}")
    for row in rows:
        check.near(statistics.fmean(by_month[row["month"]]), row["gas_gal"], figure.tolerance, row["month"])
    ranges_are(
        figure,
        [
            (f"{r['month']}, middle", r["gas_lowest_gal"], statistics.median(by_month[r["month"]]),
             r["gas_highest_gal"])
            for r in rows
        ],
    )


def records(winters):
    """Last season's gallons in the barn file: the first figure has them beside the model's."""
    barn = scratch / "recorded.barn"
    record = "[record {0}]\ngallons = {1} gal\nseason = {2}\n"
    barn.write_text(Path(BARN).read_text() + "\n" + record.format("tickets", 9000, "2101-02") + record.format("meter", 8600, "2024-25"))
    made, drawn = page_of(["budget", str(barn), *FARM, "--weather", weather_of(winters)])
    rows = made["answer"]["records"]
    for figures in drawn.values():
        figure = figures[0]
        bars = [b for mark in figure.of("bar") for b in figure.boxes(mark)]
        for (_, _, read, _), row in zip(bars, rows, strict=True):
            check.near(read, row["recorded_gal"], figure.tolerance, f"recorded, {row['record']}")
        for ink, key in (("cold", "before_gal"), ("heat", "after_gal")):
            dots = [d for mark in figure.of("dot", ink) for d in figure.dots(mark)]
            for ((_, read), _), row in zip(dots, rows, strict=True):
                check.near(read, row[key], figure.tolerance, f"{key}, {row['record']}")
    return drawn


LOST = "walls ceiling curtain doors edge air leakage"


def coldest_week(hours):
    """The coldest 168 hours in a row."""
    out = [float(h["outdoor_f"]) for h in hours]
    first = min(range(len(out) - 167), key=lambda i: round(sum(out[i : i + 168]), 6))
    return hours[first : first + 168]


def comfort_is(figure, mark, week, hours, rows):
    """The table of check has the comfort limit of every seventh day; between, it lies between."""
    placed = next(h["at"] for h in hours if h["phase"] == "growing")
    limit = {row["day"]: row["comfort_f"] for row in rows}
    for (_, read), hour in zip(figure.line(mark), week):
        day = (hour["at"] - placed).days
        before, after = limit[day // 7 * 7], limit.get((day + 6) // 7 * 7, limit[max(limit)])
        slack = figure.tolerance + abs(before - after) / 2
        check.near(read, (before + after) / 2, slack, "comfort limit")


def week_of(figures, hours, rows):
    room, outdoor, gas = figures
    week = coldest_week(hours)
    band = room.band(room.of("band")[0])
    check.same(len(band), len(week), room.title)
    for (_, low, high), hour in zip(band, week):
        check.near(low, float(hour["room_low_f"]), room.tolerance, "room, low of the swing")
        check.near(high, float(hour["room_high_f"]), room.tolerance, "room, high of the swing")
    line_is(room, room.of("line", "plain")[0], [float(h["set_f"]) for h in week])
    comfort_is(room, room.of("line", "warn")[0], week, hours, rows)
    line_is(outdoor, outdoor.of("line")[0], [float(h["outdoor_f"]) for h in week])
    line_is(gas, gas.of("line")[0], [float(h["gas_btu_h"]) for h in week])


def work_of(figure, hours, season, copies, key):
    """One room by month; all rooms over the season are in the table."""
    months = defaultdict(float)
    for hour in hours:
        months[hour["at"].month] += float(hour[key])
    order = [m for m in [7, 8, 9, 10, 11, 12, 1, 2, 3, 4, 5, 6] if months[m] > 0]
    bars_are(figure, [(MONTHS[m - 1], months[m]) for m in order])
    read = copies * sum(value for _, value, _ in bars_by_name(figure))
    check.near(read, season[key], copies * len(order) * figure.tolerance, f"{key} of the season")


def heat_of(figure, made):
    heat = made["rooms"][0]["heat"]
    shares = {row["part"]: row["share_pct"] for side in ("heat_to", "heat_from") for row in heat[side]}
    for name, read, _ in bars_by_name(figure):
        check.near(read, shares.pop(name, None), figure.tolerance, f"share of {name}")
    for name, share in shares.items():
        check.near(share, 0, 0.5, f"share of {name}, which is not drawn")


BARN = "samples/curtain.barn"


def budget(winters):
    weather = weather_of(winters)
    made, drawn = page_of(["budget", BARN, *FARM, "--weather", weather])
    checked = json_of(["check", BARN, *FARM])
    room = made["rooms"][0]
    copies = room["inputs"]["copies_count"]
    counted = [s for s in room["season"]["seasons"] if s["gas_gal"] is not None]
    check.same(len(counted), winters, "winters counted")
    most = max(counted, key=lambda s: s["gas_gal"])
    hours = season_trace(BARN, weather, most["season"])
    for months, season, room_week, out_week, gas_week, work, starts, heat in drawn.values():
        months_of(months, made)
        for mark, columns in zip(season.of("line"), (LOST, "pigs", "heaters"), strict=True):
            line_is(season, mark, daily(hours, columns))
        week_of((room_week, out_week, gas_week), hours, checked["rooms"][0]["pigs"]["weeks"])
        work_of(work, hours, most, copies, "heater_hours_h")
        work_of(starts, hours, most, copies, "starts_count")
        heat_of(heat, made)
    return drawn


def curve_of(figure, verdicts, flips, price):
    """At today's price every line passes through the net savings told; the best choice's through
    those at other prices too. What is saved is worth its price, so lines are straight."""
    at = figure.rules()["today"]
    check.near(figure.along(at), price, 0.01 * price, "today's price")
    asked = [(row, price, row["net_usd"]) for row in verdicts]
    best = {row["choice"]: i for i, row in enumerate(verdicts)}
    asked += [
        (verdicts[best[f["choice"]]], f["price_usd_gal"], f["net_usd"])
        for f in flips
        if f["leak_factor"] == 1
    ]
    for row, wanted, net in asked:
        points = figure.line(figure.of("line")[verdicts.index(row)])
        (x0, y0), (x1, y1) = points[0], points[-1]
        first, last = price / 2, price * 2
        read = y0 + (wanted - first) / (last - first) * (y1 - y0)
        check.near(read, net, 2 * figure.tolerance, f"net savings of {row['choice']} at {wanted}")


def compare(winters):
    made, drawn = page_of(["compare", BARN, *FARM, "--weather", weather_of(winters)])
    room = made["rooms"][0]
    running, felt, verdicts = room["choices"]["running"], room["choices"]["comfort"], room["verdicts"]
    named = [r for r in running if not r["choice"].startswith("free choice")]
    for comfort, hours, starts, net, price in drawn.values():
        bars_are(comfort, [(r["choice"], r["cold_f_h"]) for r in felt])
        worst = defaultdict(float)
        for mark, row in zip(comfort.of("speck"), felt, strict=True):
            dots = [value for (_, value), _ in comfort.dots(mark)]
            check.same(len(dots), winters if winters > 1 else 0, "winters of the comfort figure")
            if dots:
                check.near(max(dots), row["cold_f_h"], comfort.tolerance, f"worst winter: {row['choice']}")
        bars_are(hours, [(r["choice"], r["heater_hours_h"]) for r in named])
        bars_are(starts, [(r["choice"], r["starts_count"]) for r in named])
        shown = [
            (v["choice"] if v["word"] not in HARMS else f"{v['choice']}: {v['verdict']}", v)
            for v in verdicts
        ]
        ranges_are(net, [(n, v["net_low_usd"], v["net_usd"], v["net_high_usd"]) for n, v in shown])
        curve_of(price, verdicts, room["payback"]["flips"], FUEL_PRICE)
    return drawn


def against(winters):
    # With more heaters neither barn is short of heat in the hardest of many winters: dollars are told.
    words = ["compare", BARN, "--against", "samples/solid.barn", *FARM, "--set", "heater main.units=6"]
    made, drawn = page_of([*words, "--weather", weather_of(winters)])
    pay, fuel = made["payback"], made["fuel"]["barns"]
    for figures in drawn.values():
        check.same(len(figures), 2, "figures")
        bars_are(figures[0], [(b["barn"], b["mean_units"]) for b in fuel])
        ranges = [b for mark in figures[0].of("band") for b in figures[0].boxes(mark)]
        check.same(len(ranges), 0 if winters == 1 else 2, "ranges over the winters")
        for (_, low, high, _), barn in zip(ranges, fuel):
            check.near(low, barn["lowest_units"], figures[0].tolerance, "lowest winter")
            check.near(high, barn["highest_units"], figures[0].tolerance, "highest winter")
        money = figures[-1]
        dots = [d for mark in money.of("dot") for d in money.dots(mark)]
        check.near(dots[0][0][1], made["money"]["worth_usd"], money.tolerance, "worth of the fuel saved")
        check.near(dots[1][0][1], pay["net_usd"], money.tolerance, "net savings")
        _, low, high, _ = [b for mark in money.of("band") for b in money.boxes(mark)][1]
        check.near(low, pay["net_low_usd"], money.tolerance, "net savings, from")
        check.near(high, pay["net_high_usd"], money.tolerance, "net savings, to")
    return drawn


LINES = {"heat": ["mean_usd"], "plain": ["p90_usd"], "cold": ["lowest_usd"],
         "warn": ["cvar95_usd", "highest_usd"]}


def volumes_of(figure, contract, buying):
    rows = [r for r in buying["volumes"] if r["contract"] == contract]
    for mark in figure.of("line"):
        keys = LINES[mark.get("class").split()[1]]
        values = [next(r[k] for k in keys if r.get(k) is not None) for r in rows]
        line_is(figure, mark, values)
        for (x, _), row in zip(figure.line(mark), rows):
            check.near(figure.along(x), row["volume_gal"], 40, "gallons on contract")
    best = next(c for c in buying["choices"] if c["contract"] == contract)
    check.near(figure.along(figure.rules()["cheapest on average"]), best["cheapest_gal"], 40, "cheapest volume")


def tanks_of(figure, made):
    """The lowest level, the trucks and the order level are told; a day's level is not."""
    tanks, gallons = made["tanks"]["tanks"], made["gallons"]
    holds = sum(t["tanks_count"] * t["each_gal"] for t in tanks)
    check.near(figure.rules()["order level"], sum(t["reorder_gal"] for t in tanks), figure.tolerance, "order level")
    for mark in figure.of("line"):
        winter = mark.get("class").split()[1]
        season = gallons["worst_season"] if winter == "heat" else None
        row = next((s for s in gallons["seasons"] if s["season"] == season), None)
        levels = [value for _, value in figure.line(mark)]
        check.same(365 <= len(levels) <= 366, True, "days of a fuel year")
        check.same(0 <= min(levels) + figure.tolerance and max(levels) <= holds + figure.tolerance, True, "levels")
        if row:
            check.near(min(levels), row["lowest_level_pct"] / 100 * holds, figure.tolerance, "lowest level")


def plan(winters):
    made, drawn = page_of(["plan", BARN, *FARM, "--weather", weather_of(winters)])
    buying = made["buying"]
    contracts = list(dict.fromkeys(r["contract"] for r in buying["volumes"]))
    for ways, *volumes, cash, weeks, tanks in drawn.values():
        ranges_are(
            ways,
            [(w["way"], w["mean_usd"] if winters > 1 else None, w["mean_usd"], w["bad_usd"])
             for w in buying["split_cost"]],
        )
        for figure, contract in zip(volumes, contracts, strict=True):
            volumes_of(figure, contract, buying)
        bars_are(cash, [(r["month"], r["cash_usd"]) for r in made["months"]["months"] if r["cash_usd"]])
        rows = made["weeks"]["weeks"]
        line_is(weeks, weeks.of("line")[0], [r["middle_gal"] for r in rows])
        for (_, low, high), row in zip(weeks.band(weeks.of("band")[0]), rows, strict=True):
            check.near(low, row["low_gal"], weeks.tolerance, f"week of {row['from']}, low")
            check.near(high, row["high_gal"], weeks.tolerance, f"week of {row['from']}, high")
        tanks_of(tanks, made)
    return drawn


def size(winters):
    made, drawn = page_of(["size", BARN, *FARM, "--weather", weather_of(winters)])
    room = made["rooms"][0]
    need, by_day = room["need"], {r["day"]: r["load_99_btu_h"] for r in room["by_age"]["by_age"]}
    one_out = need["need"][0]["one_out_ratio"] / need["need"][0]["installed_ratio"]
    for (age,) in drawn.values():
        days = [(round(age.along(x)), value) for x, value in age.line(age.of("line")[0])]
        met = [(value, by_day[day]) for day, value in days if day in by_day]
        check.same(len(met) >= 4, True, "days that the table has too")
        for value, expected in met:
            check.near(value, expected, age.tolerance, "heat needed")
        rules = age.rules()
        installed = rules["all heaters"]
        before = need["need"][0]["preheat_btu_h"] / need["installed_btu_h"]
        slack = 2 * age.tolerance / installed
        check.near(rules["needed before the pigs come"] / installed, before, slack, "before the pigs")
        check.near(rules["with one unit out"] / installed, one_out, slack, "with one unit out")
    return drawn


def quote(winters):
    made, drawn = page_of(["quote", BARN, *FARM, "--builder", "--weather", weather_of(winters)])
    options = made["options"]["options"]
    for (savings,) in drawn.values():
        bars_are(savings, [(o["option"], o["saved_gal"]) for o in options])
    return drawn


def months_drawn(figure, first):
    """(mean, low, high, days) of the months drawn, by calendar month; they begin with `first`."""
    drawn = defaultdict(list)
    means = figure.line(figure.of("line")[0])
    for i, ((_, mean), (_, low, high)) in enumerate(
        zip(means, figure.band(figure.of("band")[0]), strict=True)
    ):
        year, month = divmod(12 * first.year + first.month - 1 + i, 12)
        drawn[MONTHS[month]].append((mean, low, high, monthrange(year, month + 1)[1]))
    return drawn


def weather(winters):
    made, drawn = page_of(["weather", weather_of(winters)])
    rows = made["coverage"]["months"]
    seasons = [s for s in made["degree_days"]["seasons"] if s["missing_h"] == 0]
    for figures in drawn.values():
        months = months_drawn(figures[0], datetime.fromisoformat(made["station"]["files"][0]["first"]))
        for row in rows:
            here, slack = months[row["month"]], figures[0].tolerance
            mean = sum(m * days for m, _, _, days in here) / sum(days for *_, days in here)
            check.same(24 * sum(days for *_, days in here), row["hours_h"], row["month"])
            check.near(mean, row["mean_f"], slack, f"{row['month']}, mean")
            check.near(min(low for _, low, _, _ in here), row["low_f"], slack, f"{row['month']}, lowest")
            check.near(max(high for *_, high, _ in here), row["high_f"], slack, f"{row['month']}, highest")
        check.same(len(figures), 3 if winters > 1 else 2, "figures")
        cold = figures[-1]
        dots = [d for mark in cold.of("dot") for d in cold.dots(mark)]
        for ((_, read), told), row in zip(dots, seasons, strict=True):
            check.near(read, row["low_f"], cold.tolerance, f"coldest hour of {row['period']}")
            check.same(told.partition(":")[0].endswith(row["period"]), True, f"{told} is of {row['period']}")
        check.near(cold.rules()["99 % of hours are warmer"], made["cold"]["design_99_f"], cold.tolerance, "99 %")
        for figure in figures[1:-1]:
            dots = [d for mark in figure.of("dot") for d in figure.dots(mark)]
            check.same(len(dots), winters, "winters by degree-days")
            for ((_, read), _), row in zip(dots, seasons, strict=True):
                check.near(read, row["hourly_f_d"], figure.tolerance, f"degree-days of {row['period']}")
            middle = statistics.median(s["hourly_f_d"] for s in seasons)
            check.near(figure.rules()["middle"], middle, figure.tolerance, "the middle winter")
    return drawn


def calibrate(winters):
    barns = [BARN, "samples/solid.barn", "samples/nursery.barn"]
    made, drawn = page_of(
        ["calibrate", *barns, *FARM, "--fills", "samples/fills.csv", "--weather", weather_of(winters)]
    )
    rows = made["fit"]["intervals"]
    days = [(date.fromisoformat(r["to"]) - date.fromisoformat(r["from"])).days for r in rows]
    for (fills,) in drawn.values():
        bars = [b for mark in fills.of("bar") for b in fills.boxes(mark)]
        for (_, _, read, _), row, n in zip(bars, rows, days, strict=True):
            check.near(read, row["used_gal"] / n, fills.tolerance, f"used to {row['to']}")
        for ink, key in (("cold", "before_gal"), ("heat", "after_gal")):
            dots = [d for mark in fills.of("dot", ink) for d in fills.dots(mark)]
            for ((_, read), _), row, n in zip(dots, rows, days, strict=True):
                check.near(read, row[key] / n, fills.tolerance, f"{key} to {row['to']}")
    return drawn


REPORTS = [
    (report, winters)
    for report in (budget, compare, against, plan, size, quote, weather)
    for winters in WINTERS
] + [(records, 1), (records, 30), (calibrate, 1)]


def main():
    wanted = sys.argv[2:]
    for report, winters in REPORTS:
        if wanted and report.__name__ not in wanted:
            continue
        for figures in report(winters).values():
            check.same(len(figures) > 0, True, "figures")
            for figure in figures:
                told_where_it_stands(figure)
        check.close(f"figures of {report.__name__} over {winters} winters")
    print(f"1..{check.count}")
    return check.failed


if __name__ == "__main__":
    sys.exit(main())

# SPDX-License-Identifier: GPL-3.0-or-later
"""A figure read as a reader reads it: each mark through two ticks of its own axis."""

import re
from xml.etree import ElementTree

# Places are written to a tenth of a pixel: half of that for a mark, twice half of it for the ticks
# it is read through.
PIXELS = 0.16


def number_of(text):
    """The number a tick or a value is written as."""
    found = re.match(r"-?\$?-?[\d,]*\.?\d+", text)
    return float(re.sub(r"[$,]", "", found.group()))


def half_a_digit(text):
    """How far off a written number may be: three digits, or half of its last decimal."""
    decimals = len(text.partition(".")[2].rstrip(" %galBtu/h°F·d$")) if "." in text else 0
    return max(0.0051 * abs(number_of(text)), 0.51 * 10**-decimals)


class Figure:
    """One drawing: its axes, and its marks with their places."""

    def __init__(self, text):
        self.svg = ElementTree.fromstring(text.replace("\u00a0", " "))  # a number keeps its % by it
        self.title = self.svg.findtext("title")
        self.reading = self.svg.findtext("desc")
        groups = self.svg.findall("g")
        axes = [g for g in groups if g.get("class") == "axis"]
        self.find_value_axis(axes[0])
        self.names = {
            "".join(t.itertext()).partition("…")[0]: float(t.get("y" if self.down else "x"))
            for t in axes[1].find("g").findall("text")
        }
        self.along_ticks = [
            (float(line.get("x1")), label.text)
            for line, label in zip(axes[1].findall("line"), axes[1].findall("text"))
        ]
        # What comes after the second axis is the key, drawn as the marks are.
        self.marks = groups[groups.index(axes[0]) + 1 : groups.index(axes[1])]
        self.hovers = [g for g in groups if g.get("class") == "hover"][0].findall("rect")

    def find_value_axis(self, axis):
        lines = axis.findall("line")
        self.down = lines[0].get("x1") == lines[0].get("x2")
        places = [float(line.get("x1" if self.down else "y1")) for line in lines]
        values = [number_of(t.text) for t in axis.findall("text")[: len(lines)]]
        self.place0, self.value0 = places[0], values[0]
        self.per_pixel = (values[-1] - values[0]) / (places[-1] - places[0])
        self.tolerance = abs(PIXELS * self.per_pixel)

    def value(self, place):
        """What stands at a place of the axis of values."""
        return self.value0 + (place - self.place0) * self.per_pixel

    def of(self, kind, *inks):
        """The marks of a kind, of one of the colours."""
        return [
            m
            for m in self.marks
            if m.get("class").split()[0] == kind and (not inks or m.get("class").split()[1] in inks)
        ]

    def boxes(self, mark):
        """Of each bar or upright range: where it stands, from, to, what is told."""
        for box in mark.findall("rect"):
            x, y, width, height = (float(box.get(k)) for k in ("x", "y", "width", "height"))
            ends = (x, x + width) if self.down else (y + height, y)
            at = y + height / 2 if self.down else x + width / 2
            yield at, self.value(ends[0]), self.value(ends[1]), box.findtext("title")

    def dots(self, mark):
        """Of each dot: where it stands, its value, what is told."""
        for dot in mark.findall("circle"):
            x, y = float(dot.get("cx")), float(dot.get("cy"))
            yield (y, self.value(x)) if self.down else (x, self.value(y)), dot.findtext("title")

    def points(self, mark):
        """The points of a line, or the upper edge and then the lower one of a band, by run."""
        runs = []
        for path in mark.findall("path"):
            pairs = re.findall(r"[ML](\S+) ([\d.-]+)", path.get("d"))
            runs.append([(float(x), self.value(float(y))) for x, y in pairs])
        return runs

    def line(self, mark):
        return [point for run in self.points(mark) for point in run]

    def band(self, mark):
        """(place, low, high) of every point of a band over time."""
        all_points = []
        for run in self.points(mark):
            upper, lower = run[: len(run) // 2], run[len(run) // 2 :][::-1]
            all_points += [(x, low, high) for (x, high), (_, low) in zip(upper, lower)]
        return all_points

    def rules(self):
        """Labels and values or places of the rules across."""
        found = {}
        for mark in self.of("rule"):
            line, label = mark.find("line"), mark.find("text")
            if line is not None:
                along = (line.get("x1") == line.get("x2")) != self.down
                found[label.text] = float(line.get("x1")) if along else self.value(float(line.get("y1")))
        return found

    def along(self, place):
        """A number of the first axis, read through two of its ticks."""
        (x0, t0), (x1, t1) = self.along_ticks[0], self.along_ticks[-1]
        return number_of(t0) + (place - x0) / (x1 - x0) * (number_of(t1) - number_of(t0))


class Checks:
    """What was compared, and what differed."""

    def __init__(self):
        self.count = self.numbers = 0
        self.failed = False
        self.wrong = []

    def near(self, read, expected, tolerance, what):
        self.numbers += 1
        if expected is None or not abs(read - expected) <= tolerance:
            self.wrong.append(f"{what}: read {read:.6g}, is {expected}")

    def same(self, one, other, what):
        self.numbers += 1
        if one != other:
            self.wrong.append(f"{what}: {one}, is {other}")

    def close(self, what):
        """One line of TAP for all compared since the last one."""
        self.count += 1
        ok = not self.wrong and self.numbers > 0
        self.failed |= not ok
        print(f"{'ok' if ok else 'not ok'} {self.count} - {what}: {self.numbers} numbers")
        for line in self.wrong[:8]:
            print(f"# {line}")
        self.numbers, self.wrong = 0, []


check = Checks()


def told_where_it_stands(figure):
    """What is told on hover is what the mark is read as."""
    for mark in figure.marks:
        for _, low, high, told in figure.boxes(mark):
            ends = re.split(r" to (?=[-$\d])", told.rpartition(": ")[2])
            one = mark.get("class").startswith("bar")
            low = high if one and abs(low) < abs(high) else low
            for read, text in zip([low, high] if len(ends) == 2 else [low], ends):
                check.near(read, number_of(text), half_a_digit(text) + figure.tolerance, told)
        for (_, value), told in figure.dots(mark):
            if told:
                text = told.rpartition(": ")[2]
                check.near(value, number_of(text), half_a_digit(text) + figure.tolerance, told)
    lines = figure.of("line") + figure.of("band")
    for strip in figure.hovers:
        middle = float(strip.get("x")) + float(strip.get("width")) / 2
        told = [text.rpartition(": ")[2] for text in strip.findtext("title").split("\n")[1:]]
        here = []
        for mark in [m for m in figure.marks if m in lines]:
            points = figure.band(mark) if mark in figure.of("band") else figure.line(mark)
            here += [p[1:] for p in points if abs(p[0] - middle) < 0.11][:1]
        check.same(len(told), len(here), f"values told at {strip.findtext('title')}")
        for text, read in zip(told, here):
            for part, value in zip(re.split(r" to (?=[-$\d])", text), read):
                check.near(value, number_of(part), half_a_digit(part) + figure.tolerance, text)


def bars_by_name(figure, *inks):
    """(name, value, told) of the bars, by the name told."""
    return [
        (told.rpartition(": ")[0], high if abs(high) > abs(low) else low, at)
        for mark in figure.of("bar", *inks)
        for at, low, high, told in figure.boxes(mark)
    ]


def bars_are(figure, expected, *inks):
    """The bars are these, in order; names across stand under their own."""
    bars = bars_by_name(figure, *inks)
    check.same([b[0] for b in bars], [name for name, _ in expected], figure.title)
    for (name, read, at), (_, value) in zip(bars, expected):
        check.near(read, value, figure.tolerance, f"{figure.title}: {name}")
        if not figure.down:
            check.near(at, figure.names.get(name, -1), 0.11, f"place of {name}")


def ranges_are(figure, expected):
    """A range and a dot under each name: (name, low, middle, high), low None without a range."""
    bands = [b for mark in figure.of("band") for b in figure.boxes(mark)]
    dots = [d for mark in figure.of("dot") for d in figure.dots(mark)]
    check.same(len(dots), len(expected), f"{figure.title}: dots")
    ranged = [e for e in expected if e[1] is not None]
    check.same(len(bands), len(ranged), f"{figure.title}: ranges")
    for ((_, read), told), (name, _, middle, _) in zip(dots, expected):
        check.same(told.rpartition(": ")[0], name, figure.title)
        check.near(read, middle, figure.tolerance, f"{figure.title}: {name}")
    for (_, low, high, _), (name, least, _, most) in zip(bands, ranged):
        check.near(low, min(least, most), figure.tolerance, f"{figure.title}: {name} from")
        check.near(high, max(least, most), figure.tolerance, f"{figure.title}: {name} to")


def line_is(figure, mark, expected):
    points = figure.line(mark)
    check.same(len(points), len(expected), f"{figure.title}: points")
    for (_, read), value in zip(points, expected):
        check.near(read, value, figure.tolerance, figure.title)

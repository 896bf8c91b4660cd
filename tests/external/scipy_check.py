# SPDX-License-Identifier: GPL-3.0-or-later
"""scipy_check.py ANSWERS SET: works the cases that ANSWERS prints out again with scipy.

Exit 0 when all agree, 1 otherwise; a line for each case that does not.
"""

import math
import subprocess
import sys

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

KELVIN = 273.15


def moist_volume(temp_c, w, pressure):
    """Ideal mixture of dry air (28.966 g/mol) and water (18.015268 g/mol)."""
    gas = 8.314462618
    return gas * (temp_c + KELVIN) / pressure * (1 / 0.028966 + w / 0.018015268)


def check_dry_air(flow, temp_c, w_out, water, pressure, ours):
    def gap(dry):
        return dry * moist_volume(temp_c, w_out + water / dry, pressure) - flow

    return {"dry air": (ours, brentq(gap, 1e-6, 50.0, xtol=1e-14), 1e-4)}


def sonntag(temp_c):
    """Saturation pressure by Sonntag 1990 (from memory), over ice below freezing."""
    t = temp_c + KELVIN
    if temp_c < 0:
        return math.exp(-6024.5282 / t + 29.32707 + 1.0613868e-2 * t - 1.3198825e-5 * t * t
                        - 0.49382577 * math.log(t))
    return math.exp(-6096.9385 / t + 21.2409642 - 2.711193e-2 * t + 1.673952e-5 * t * t
                    + 2.433502 * math.log(t))


def check_dew_points(temp_c, pressure, w, dew_c):
    vapour = pressure * w / (18.015268 / 28.966 + w)
    theirs = brentq(lambda t: sonntag(t) - vapour, -60.0, 60.0)
    return {"dew point, °C + 100": (dew_c + 100, theirs + 100, 3e-4)}


class Room:
    """One cycle of the thermostat, integrated in time: fall, heat, and the fan ramp's own heat."""

    def __init__(self, on_c, off_c, free_c, ua, heat, capacity, dead, ramp_c, band, ramp):
        self.on_c, self.off_c, self.free_c, self.ua = on_c, off_c, free_c, ua
        self.heat, self.capacity, self.dead = heat, capacity, dead
        self.ramp_c, self.band, self.ramp = ramp_c, band, ramp

    def rates(self, heat):
        def of(_, y):
            over = min(max(y[0] - self.ramp_c, 0.0), self.band)
            waste = self.ramp * over
            gain = heat - self.ua * (y[0] - self.free_c) - waste
            return [gain / self.capacity, waste, y[0]]

        return of

    def run(self, state, heat, until):
        """Goes on to a temperature, or for a time when `until` is ("time", s)."""
        kind, value = until
        options = {"rtol": 1e-9, "atol": 1e-9, "max_step": 10.0}
        if kind == "time":
            if value == 0.0:
                return state, 0.0
            found = solve_ivp(self.rates(heat), (0.0, value), state, **options)
            return found.y[:, -1], value

        def reached(_, y):
            return y[0] - value

        reached.terminal, reached.direction = True, 1.0 if heat > 0 else -1.0
        found = solve_ivp(self.rates(heat), (0.0, 1e6), state, events=reached, **options)
        return found.y[:, -1], found.t[-1]

    def cycle(self):
        """Starts where the room, falling, passes ON; ends there again."""
        state, lead = self.run([self.on_c, 0.0, 0.0], 0.0, ("time", self.dead))
        low = state[0]
        state, up = self.run(state, self.heat, ("temperature", self.off_c))
        state, over = self.run(state, self.heat, ("time", self.dead))
        high = state[0]
        state, down = self.run(state, 0.0, ("temperature", self.on_c))
        period = lead + up + over + down
        return {"lit": (up + over) / period, "waste": state[1] / period, "mean": state[2] / period,
                "starts": 3600.0 / period, "low": low, "high": high}


def check_cycles(*numbers):
    *inputs, lit, waste, starts, mean, low, high = numbers
    room = Room(*inputs)
    if room.free_c >= room.on_c or room.free_c + room.heat / room.ua <= room.off_c:
        raise ValueError("a case without a cycle shows nothing")
    theirs = room.cycle()
    ours = {"lit": lit, "waste": waste, "mean": mean, "starts": starts, "low": low, "high": high}
    # Waste is compared as part of the heat: where there is none, both are 0.
    pairs = {name: (ours[name], theirs[name], 1e-5) for name in ours if name != "waste"}
    pairs["waste"] = (room.heat + waste, room.heat + theirs["waste"], 1e-6)
    return pairs


CHECKS = {"cycles": check_cycles, "dew-points": check_dew_points, "dry-air": check_dry_air}


def main(answers, name):
    lines = subprocess.run([answers, name], check=True, capture_output=True, text=True).stdout
    cases = [[float(word) for word in line.split()] for line in lines.splitlines()]
    wrong = 0
    for case in cases:
        for what, (ours, theirs, relative) in CHECKS[name](*case).items():
            if not abs(ours - theirs) <= relative * abs(theirs):
                wrong += 1
                print(f"{what}: ours {ours:.9g}, scipy {theirs:.9g}, case {case}")
    print(f"{name}: {len(cases)} cases, {wrong} values differ")
    return 1 if wrong or not cases else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))

# SPDX-License-Identifier: GPL-3.0-or-later
# Works one winter hour of samples/curtain.barn from its outdoor reading to gallons, independently of
# the program, and compares every line with the row that `turnheat hours` printed for it. Constants are
# those of the sample and of docs/theory.md. Input: the CSV of `turnheat hours`; -v when=2102-01-24T06:00.
# Prints a Markdown table; exit status 1 when a line differs in its first four digits.
function f2c(f) { return (f - 32) / 1.8 }
function c2f(c) { return c * 1.8 + 32 }
function max(a, b) { return a > b ? a : b }
function min(a, b) { return a < b ? a : b }

# Net heat the room lacks at t (degC); leaves the terms in globals, W.
function net(t,    tot, sen, v, q, cp) {
    tot = heat20 * (1 + 0.012 * (20 - t))
    sen = heat20 * 0.85 * (0.8 * (1 + 0.012 * (20 - t)) - 0.38e-3 * t * t)
    pigs = max(0, min(sen, tot)); latent = tot - pigs
    leak_q = leak_cm2 / 1000 * sqrt(0.000145 * abs(t - out) + 0.000246 * wind * wind)
    q = sqrt(fan_q * fan_q + leak_q * leak_q)
    v = 287.042 * (t + 273.15) / p
    dry = (q / v - 1.607858 * latent / 2448000) / (1 + 1.607858 * w)
    dry_fan = dry * fan_q / q
    cp = 1006 + 1860 * w
    attic = (ua_ceiling * t + (ua_roof + dry_fan * cp) * out) / (ua_ceiling + ua_roof + dry_fan * cp)
    ceiling = ua_ceiling * (t - attic)
    walls = ua_walls * (t - out); curtain = ua_curtain * (t - out); doors = ua_doors * (t - out)
    edge = f_edge * (t - mean24); mass = mass_w * (t - mass_c)
    air = dry_fan * cp * (t - attic); leakage = (dry - dry_fan) * cp * (t - out)
    return walls + ceiling + curtain + doors + edge + air + leakage + mass - pigs
}
function abs(x) { return x < 0 ? -x : x }

function cycle(    tau, e, low, hot, t1, lr, g, s, k, b, y1, t2, tb, gc, lc, down, back, j) {
    tau = cap / u; e = exp(-90 / tau); hot = tf + qh / u
    low = tf + (on - tf) * e
    burn = tau * log((hot - low) / (hot - off)) + 90
    t1 = 90 - tau * log((hot - off) / (hot - ramp))
    lr = u * (ramp - tf); g = qh - lr; k = ramp_k; s = u + k; b = 2 / 1.8
    y1 = g / s * (1 - exp(-s * t1 / cap))
    if (y1 <= b) {
        t2 = cap / s * log(1 + s * y1 / lr); j = k / s * (g * t1 - lr * t2)
    } else {
        tb = -cap / s * log(1 - s * b / g); gc = g - k * b; lc = lr + k * b
        y1 = gc / u - (gc / u - b) * exp(-u * (t1 - tb) / cap)
        back = tau * log((y1 + lc / u) / (b + lc / u)); down = cap / s * log(1 + s * b / lr)
        j = k / s * (g * tb - cap * b) + k * b * (t1 - tb + back) + k / s * (cap * b - lr * down)
        t2 = down + back
    }
    fall = t2 + tau * log((ramp - tf) / (on - tf)) + 90
    lit = burn / (burn + fall); waste = j / (burn + fall)
    low_c = low; high_c = ramp + y1
}

# Four digits, without an exponent.
function four(x,    step) {
    step = 10 ^ (int(log(abs(x) + 1e-300) / log(10) + 300) - 300 - 3)
    return step >= 1 ? sprintf("%d", int(x / step + (x < 0 ? -0.5 : 0.5)) * step) : sprintf("%.4g", x)
}

# Terms are linear between ON and OFF in the program; those that are curved differ by less than 1e-4.
function line(what, how, value, column, unit,    row, off_by) {
    row = $(col[column]); off_by = row != 0 ? abs(value / row - 1) : abs(value)
    printf "| %s | %s | %s | %s | %s |\n", what, how, four(value), four(row), unit
    if (off_by > 1e-4) { printf "DIFFERS by %.1e: %s\n", off_by, what > "/dev/stderr"; bad = 1 }
}

BEGIN { FS = ","; bt = 3.412141633; gal = 91500 }
{ gsub(/"/, "") }
NR == 1 { for (i = 1; i <= NF; i++) col[$i] = i; next }
$4 != when { next }
{
    found = 1
    out = f2c($(col["outdoor_f"])); mean24 = f2c($(col["outdoor_mean24_f"]))
    w = $(col["outdoor_w_lb_lb"]); p = $(col["pressure_inhg"]) * 3386.389
    wind = $(col["wind_mph"]) * 0.44704; mass_c = f2c($(col["mass_f"])); set = f2c($(col["set_f"]))
    ft2 = 0.09290304; r = 0.1761101838; leak_cm2 = 6 * 8000 * ft2
    # Pigs: CIGR total at 20 degC with the intake of this weight; activity at half past the hour.
    m = $(col["weight_lb"]) * 0.45359237; n = 3.11 + (2.99 - 3.11) * (m - 37.5) / 25
    phi = 5.09 * m ^ 0.75; each = phi + (1 - (0.47 + 0.003 * m)) * (n - 1) * phi
    act = 1 - 0.2 * sin(2 * 3.14159265358979 / 24 * (substr(when, 12, 2) + 0.5 + 6 - 1.7))
    heat20 = $(col["head_count"]) * each * act
    # Minimum air between 75 lb (5.2 cfm) and 112 lb (7.0 cfm).
    cfm = $(col["head_count"]) * (5.2 + 1.8 * ($(col["weight_lb"]) - 75) / 37)
    fan_q = cfm * 0.000471947443
    # Surfaces: areas and R of the sample; the roof is the ceiling's area times a 4 in 12 slope, R 0.78.
    r_concrete = 1.49; r_framed = 17.43664; r_ceiling = 28.90013; slope = 1.054
    ua_curtain = 1536 * ft2 / (1.5 * r); ua_doors = (42 / 5 + 40 / 1.5) * ft2 / r
    ua_walls = (1200 / r_concrete + 782 / r_framed) * ft2 / r; ua_ceiling = 8000 / r_ceiling * ft2 / r
    ua_roof = 8000 * slope * ft2 / (0.78 * r); f_edge = 0.73 * 480 * 0.52752793
    # Floor: 200 kJ/m2K and 6 W/m2K, taken over an hour.
    area = 8000 * ft2; mass_w = 200000 * area * (1 - exp(-6 * 3600 / 200000)) / 3600
    on = set - 2 / 1.8; off = set - 1 / 1.8; ramp = set + 0.5 / 1.8
    at_on = net(on); u = (net(off) - at_on) / (off - on); tf = on - at_on / u
    blower = 4 * 300; qh = 600000 * 84250 / 91500 / bt + blower
    pr = 101325 * (1 - 2.25577e-5 * 950 * 0.3048) ^ 5.2559
    cap = 3 * 60000 * 0.028316846592 * pr / (287.042 * 293.15) * 1006
    net(ramp); d1 = dry; t1_in = attic
    keep = fan_q; fan_q = max(2 * keep, 8 * 1050 * 0.000471947443); net(ramp); d2 = dry; fan_q = keep
    ramp_k = (d2 - d1) * (1006 + 1860 * w) * (ramp - t1_in) / (2 / 1.8)
    cycle()
    t = tf + (qh * lit - waste) / u; net(t)
    print "| what | how | by hand | `hours` row | unit |"
    print "|---|---|---|---|---|"
    line("activity", "1 - 0.2 sin(2 pi/24 (6.5 + 6 - 1.7))", act, "activity_ratio", "")
    line("minimum air", "head x smooth table at the weight", cfm, "fan_cfm", "cfm")
    line("room temperature", "free temperature + (heaters - waste)/U", c2f(t), "room_f", "°F")
    line("low of the swing", "", c2f(low_c), "room_low_f", "°F")
    line("high of the swing", "", c2f(high_c), "room_high_f", "°F")
    line("pigs, sensible", "k_s 0.85 at the room temperature", pigs * bt, "pigs_btu_h", "Btu/h")
    line("pigs, latent", "total less sensible", latent * bt, "pigs_latent_btu_h", "Btu/h")
    line("air through the fans", "dry air", dry_fan * 3600 / 0.45359237, "fan_air_lb_h", "lb/h")
    line("leakage air", "4,459 cm2, class 2, added in quadrature", (dry - dry_fan) * 3600 / 0.45359237, "leak_air_lb_h", "lb/h")
    line("air entering", "attic", c2f(attic), "inlet_f", "°F")
    line("walls", "A/R x (room - outdoors)", walls * bt, "walls_btu_h", "Btu/h")
    line("ceiling", "A/R x (room - attic)", ceiling * bt, "ceiling_btu_h", "Btu/h")
    line("curtains", "A/R x (room - outdoors)", curtain * bt, "curtain_btu_h", "Btu/h")
    line("doors and fans", "A/R x (room - outdoors)", doors * bt, "doors_btu_h", "Btu/h")
    line("slab edge", "0.73 x 480 ft x (room - 24 h mean)", edge * bt, "edge_btu_h", "Btu/h")
    line("minimum air", "dry air x (1006 + 1860 w) x (room - attic)", air * bt, "air_btu_h", "Btu/h")
    line("leakage", "the same from outdoors", leakage * bt, "leakage_btu_h", "Btu/h")
    line("floor", "takes up heat (less than 0: gives)", mass * bt, "mass_btu_h", "Btu/h")
    line("ramp waste", "exact cycle", waste * bt, "ramp_waste_btu_h", "Btu/h")
    line("heaters", "600,000 x 0.9208 x lit share", (qh - blower) * lit * bt, "heaters_btu_h", "Btu/h")
    line("blowers", "4 x 300 W x lit share", blower * lit * bt, "blowers_btu_h", "Btu/h")
    line("gas", "600,000 x lit share", 600000 * lit, "gas_btu_h", "Btu/h")
    line("propane", "gas / 91,500 Btu/gal", 600000 * lit / gal, "gas_units", "gal")
}
END { if (!found) { print "no row for " when > "/dev/stderr"; exit 1 } exit bad }

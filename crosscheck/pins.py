#!/usr/bin/env python3
"""Lays pins into wheels and pinions of polygons.

    python3 crosscheck/pins.py            print the sizes over them
    python3 crosscheck/pins.py --write    and put them into data/pins.toml, which a test of crate making reads

The outline of a space is built here from the factors of BS 978-2 alone, as a polygon of some thousand
corners; the pin is a disc that a reference library moves inward until it meets the metal.
"""

import math
import sys

from run import HERE, enter_environment

DATA = HERE / "data" / "pins.toml"
CASES = [
    # which, teeth, leaves, module, profile, pin
    ("wheel", 64, 8, 0.8, "", 1.5),
    ("wheel", 96, 12, 0.6, "", 1.1),
    ("wheel", 75, 10, 0.5, "", 1.0),
    ("wheel", 108, 12, 0.7, "", 1.3),
    ("pinion", 96, 12, 0.6, "A", 1.2),
    ("pinion", 64, 8, 0.8, "B", 1.7),
    ("pinion", 84, 7, 0.75, "C", 1.6),
]
LEAVES = {
    "A": ((1.05, 0.525, 0.525), (1.25, 0.625, 0.625)),
    "B": ((1.05, 0.670, 0.700), (1.25, 0.805, 0.833)),
    "C": ((1.05, 0.855, 1.050), (1.25, 1.050, 1.250)),
}


def theoretical(zw, zp):
    """Addendum of the epicycloid of a circle half as wide as the pinion, met on the axis of the tooth, by halving."""
    big, r = zw / 2.0, zp / 4.0

    def half_left(b):
        x = (big + r) * math.cos(b) - r * math.cos(b * (big + r) / r)
        y = (big + r) * math.sin(b) - r * math.sin(b * (big + r) / r)
        return math.atan2(y, x) - math.pi / 2.0 / zw, math.hypot(x, y)

    low, high = 0.0, math.pi * r / big
    for _ in range(200):
        middle = (low + high) / 2.0
        if half_left(middle)[0] < 0.0:
            low = middle
        else:
            high = middle
    return half_left(low)[1] - big


def arc(tip, pitch, half, radius, corners=4000):
    """Points of the arc of `radius` from the tip on the axis of the tooth to the flank at the pitch circle."""
    a = (tip, 0.0)
    b = (pitch * math.cos(half), pitch * math.sin(half))
    chord = math.dist(a, b)
    radius = max(radius, chord / 2.0)
    up = math.sqrt(radius * radius - chord * chord / 4.0)
    mx, my = (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0
    ux, uy = (b[1] - a[1]) / chord, (a[0] - b[0]) / chord
    c = min(((mx + s * up * ux, my + s * up * uy) for s in (1.0, -1.0)), key=lambda c: math.hypot(*c))
    t0, t1 = math.atan2(a[1] - c[1], a[0] - c[0]), math.atan2(b[1] - c[1], b[0] - c[0])
    return [
        (c[0] + radius * math.cos(t0 + (t1 - t0) * k / corners), c[1] + radius * math.sin(t0 + (t1 - t0) * k / corners))
        for k in range(corners + 1)
    ]


def size(which, zw, zp, m, profile, pin):
    """Over two pins."""
    from shapely.geometry import Point, Polygon

    f = theoretical(zw, zp)
    fa = 0.95 * f
    if which == "wheel":
        z, half, tip, root, radius = zw, math.pi / 2.0 / zw, zw / 2.0 + fa, (zw - math.pi) / 2.0, 1.40 * f
    else:
        width, add, radius = LEAVES[profile][0 if zp <= 10 else 1]
        z, half, tip = zp, width / zp, zp / 2.0 + add
        root = zp / 2.0 - fa - 0.40
    pitch = z / 2.0
    upper = arc(tip, pitch, half, radius) + [(root * math.cos(half), root * math.sin(half))]
    lower = [(x, -y) for x, y in reversed(upper)]
    tooth = Polygon([(m * x, m * y) for x, y in upper + [(0.0, 0.0)] + lower])
    middle = math.pi / z
    q = pin / 2.0

    def apart(rho):
        return tooth.distance(Point(rho * math.cos(middle), rho * math.sin(middle))) > q

    low, high = m * root, m * tip + q
    for _ in range(60):
        rho = (low + high) / 2.0
        low, high = (low, rho) if apart(rho) else (rho, high)
    askew = 1.0 if z % 2 == 0 else math.cos(math.pi / 2.0 / z)
    return 2.0 * high * askew + pin


def main():
    enter_environment()
    rows = []
    for case in CASES:
        rows.append((case, size(*case)))
    lines = [
        "# Sizes over two pins, millimetres, by crosscheck/pins.py: a disc moved into polygons built from the factors",
        "# of BS 978-2. Each row: which, teeth, leaves, module, profile of the leaves, pin, over both pins.",
    ]
    for (which, zw, zp, m, profile, pin), over in rows:
        lines += [
            "",
            "[[case]]",
            f'of = "{which}"',
            f"teeth = {zw}",
            f"leaves = {zp}",
            f"module = {m}",
            f'profile = "{profile}"',
            f"pin = {pin}",
            f"over = {over:.6f}",
        ]
    text = "\n".join(lines) + "\n"
    print(text)
    if "--write" in sys.argv:
        DATA.write_text(text)


if __name__ == "__main__":
    main()

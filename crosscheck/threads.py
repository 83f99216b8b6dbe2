#!/usr/bin/env python3
"""Works the derived figures of checks/published/threads.toml again, by other means than ours.

    python3 crosscheck/threads.py

The wire in its seat is found as a minimax with SciPy: for each tilt of the wire the
furthest that any point of either flank pushes it out, then the tilt at which that is
least; ours solves three equations at one contact. Schedules come from numerical
integration of the groove and root finding; ours are closed formulae and halving. The
rest is the formula of the standard written out once more. A figure that differs by more
than the tolerance of its check ends the run with status 1.
"""

import math
import sys
import tomllib
from pathlib import Path

from run import ROOT, enter_environment

SIN, COS, TAN, RAD = math.sin, math.cos, math.tan, math.radians
UNITS = {"mm": 1.0, "in": 25.4, "um": 1e-3, "nm": 1e-6, "mm2": 1.0, "in2": 645.16, "rpm": 1.0, "%": 0.01, "": 1.0}


def number(text):
    """A written quantity in millimetres, square millimetres, turns a minute or plain."""
    value, _, unit = text.partition(" ")
    return float(value) * UNITS[unit]


def seat(d2, pitch, half_angle, wire):
    """Reading over a rigid wire of this diameter in a single-start thread, all in millimetres."""
    import numpy as np
    from scipy.optimize import minimize, minimize_scalar

    r2, k, t, w = d2 / 2, pitch / (2 * math.pi), TAN(half_angle), wire / 2

    def out(place, tilt, side):
        r, turn = place
        z = k * turn + side * (pitch / 4 + (r - r2) * t)
        off = z * COS(tilt) - r * SIN(turn) * SIN(tilt)
        return r * COS(turn) + math.sqrt(w * w - off * off) if abs(off) < w else -1e3

    def pushed(tilt):
        worst = -1e3
        for side in (1, -1):
            grid = [(r, f) for r in np.linspace(r2 * 0.8, r2 * 1.2, 41) for f in np.linspace(-0.2, 0.2, 41)]
            start = max(grid, key=lambda p: out(p, tilt, side))
            how = {"xatol": 1e-13, "fatol": 1e-15, "maxiter": 4000, "maxfev": 8000}
            best = minimize(lambda p: -out(p, tilt, side), start, method="Nelder-Mead", options=how)
            worst = max(worst, -best.fun)
        return worst

    lead = math.atan(k / r2)
    best = minimize_scalar(pushed, bounds=(0.5 * lead, 1.5 * lead), method="bounded", options={"xatol": 1e-9})
    return 2 * (best.fun + w)


def groove(flat, radius, half_angle):
    """Area of a groove as a function of its depth, by integrating its width."""
    from scipy.integrate import quad

    def width(h):
        if radius == 0:
            return flat + 2 * h * TAN(half_angle)
        bite = radius * (1 - SIN(half_angle))
        if h < bite:
            return 2 * math.sqrt(2 * radius * h - h * h)
        return 2 * (radius * COS(half_angle) + (h - bite) * TAN(half_angle))

    return lambda x: quad(width, 0, x, points=[radius * (1 - SIN(half_angle))] if radius else None, epsabs=1e-13)[0]


def equal_areas(total, n, flat, radius, half_angle):
    from scipy.optimize import brentq

    area = groove(flat, radius, half_angle)
    whole = area(total)
    return [brentq(lambda x: area(x) - i / n * whole, 0, total * 1.001, xtol=1e-13) for i in range(1, n + 1)]


def within(total, flat, radius, half_angle, most_area, least, most):
    """Largest cuts that are allowed, then the common area at which their number ends at the depth."""
    from scipy.optimize import brentq

    area = groove(flat, radius, half_angle)

    def walk(limit, n):
        x, all_ = 0.0, []
        for _ in range(n):
            step = brentq(lambda s: area(x + s) - area(x) - limit, 0, 5, xtol=1e-14)
            x += min(max(step, least), most)
            all_.append(x)
        return all_

    n = next(n for n in range(1, 100) if walk(most_area, n)[-1] >= total)
    limit = brentq(lambda a: walk(a, n)[-1] - total, 1e-6, most_area, xtol=1e-14)
    return walk(limit, n)


def iso_formulae(p, d):
    low, high = next((a, b) for a, b in [(0.99, 1.4), (1.4, 2.8), (2.8, 5.6), (5.6, 11.2)] if d <= b)
    pitch = 90 * p**0.4 * math.sqrt(low * high) ** 0.1
    bore = 433 * p - 190 * p**1.22
    return {
        "major_tolerance": (180 * p ** (2 / 3) - 3.15 / p**0.5) / 1e3,
        "minor_tolerance": bore / 1e3,
        "pitch_tolerance": pitch / 1e3,
        "nut_pitch_tolerance": 1.32 * pitch / 1e3,
        "deviation": (15 + 11 * p) / 1e3,
    }


def over(d2, p, a, w):
    plain = d2 + w * (1 + 1 / SIN(a)) - p / 2 / TAN(a)
    return plain, plain + w / 2 * (p / (math.pi * d2)) ** 2 * COS(a) / TAN(a)


def strip(kn, es, ds, en, p, a):
    return math.pi / p * kn * (p / 2 + TAN(a) * (es - kn)), math.pi / p * ds * (p / 2 + TAN(a) * (ds - en))


def worked():
    """Check and its answers, worked here."""
    ba, iso = RAD(23.75), RAD(30)
    yield "T14", iso_formulae(0.5, 3.0)
    p, d, e, m = 0.81, 4.7, 4.215, 3.73
    yield "B01", {
        "major_max": d,
        "major_min": d - 0.15 * p,
        "pitch_max": e,
        "pitch_min": e - (0.08 * p + 0.02),
        "minor_max": m,
        "minor_min": m - (0.16 * p + 0.04),
    }
    p = 0.53
    yield "B03", {
        "pitch_min": 2.48,
        "pitch_max": 2.48 + 0.12 * p + 0.03,
        "minor_min": 2.16,
        "minor_max": 2.16 + 0.375 * p,
    }
    p = 0.28
    yield "B04", {
        "major_max": 1.3,
        "major_min": 1.3 - p / 4,
        "pitch_max": 1.13,
        "pitch_min": 1.13 - (0.1 * p + 0.025),
        "minor_max": 0.96,
        "minor_min": 0.96 - (0.2 * p + 0.05),
    }
    t = 0.002 * (3 / 16) ** (1 / 3) + 0.003 * (3 / 16) ** 0.5 + 0.005 * (1 / 32) ** 0.5
    yield "B05", {"pitch_tolerance": 25.4 * t, "major_tolerance": 25.4 * (t + 0.01 * (1 / 32) ** 0.5)}
    plain, reading = over(2.6175, 0.5, iso, 0.29)
    yield "R08", {"plain": plain, "reading": reading}
    for id_, d2, p, a, w in [
        ("R10", 5.4, 1.0, ba, None),
        ("R11", 1 - 0.75**1.5 * 0.25, 0.25, iso, None),
        ("R12", 5.0, 2.0, iso, 1.2),
    ]:
        w = w or p / (2 * COS(a))
        plain, reading = over(d2, p, a, w)
        yield id_, {"plain": plain, "reading": reading, "exact": seat(d2, p, a, w)}
    x = (2.93 - 2.6175 + (0.5 / 2 - 0.10) / TAN(iso)) / 2
    yield "P01", {"depth": x, "root": 2.93 - 2 * x}
    yield "P06", {f"at.{i}": v for i, v in enumerate(equal_areas(0.32, 8, 0.0, 0.0, iso), 1)}
    yield "P07", {f"at.{i}": v for i, v in enumerate(equal_areas(0.3, 5, 0.0, 0.1, ba), 1)}
    fall = [0.32 / 5**0.5 * phi**0.5 for phi in (0.3, 1, 2, 3, 4, 5)]
    yield "P08", {f"at.{i}": v for i, v in enumerate(fall, 1)}
    greedy = within(0.3249, 0.0625, 0.0, iso, 0.02, 0.015, 0.08)
    yield "P09", {"count": float(len(greedy))} | {f"at.{i}": v for i, v in enumerate(greedy, 1)}
    yield "P18", {"bend": 20 * 8**3 / (3 * 200e3 * math.pi / 64 * 2.25**4)}
    e = 35 / 66 / 0.53 - 1
    yield "P19", {"train": "35/66", "ppm": e * 1e6, "rise": e * 6 / TAN(ba)}
    screw, nut = strip(2.599, 2.580, 2.874, 2.775, 0.5, iso)
    area = math.pi / 4 * ((3 - 0.649519 * 0.5 + 3 - 1.226869 * 0.5) / 2) ** 2
    yield "S05", {"screw_shear": screw, "nut_shear": nut}
    yield "S07", {"hole_length": 500 * area / (198 * nut)}
    screw, _ = strip(0.0939, 0.0925, 0.1061, 0.0991, 0.025, iso)
    area = math.pi / 4 * (0.112 - 0.9743 / 40) ** 2
    yield "S09", {"screw_length": 25.4 * 2 * area / screw}


def main():
    enter_environment()
    checks = tomllib.loads((ROOT / "checks/published/threads.toml").read_text())["check"]
    checks = {c["id"]: c for c in checks}
    missed = 0
    for id_, answers in worked():
        check = checks[f"threads.{id_}"]
        for answer, wanted in check["want"].items():
            room = check["within"] if isinstance(check["within"], str) else check["within"][answer]
            if isinstance(answers[answer], str):
                missed += answers[answer] != wanted
                continue
            off = answers[answer] - number(wanted)
            holds = abs(off) <= number(room) + 1e-12
            missed += not holds
            says = "" if holds else f"   MISSED, check says {wanted}"
            print(f"{id_:5} {answer:20} {answers[answer]:14.8f}  off {off:10.1e}{says}")
    sys.exit(1 if missed else 0)


if __name__ == "__main__":
    main()

#!/usr/bin/env python3
"""Works out published machining figures a second time, by other methods than the program's.

    python3 crosscheck/machining.py

Reads checks/published/machining.toml and, for the checks named in METHODS, computes the
wanted figures anew from what is given: bending by the differential equation, the thin ring
by its boundary-value problem, means of |cos| by quadrature, greatest cuts by a root finder,
tools in their grooves by a grid over the solid, cut lists by trying every arrangement.
A figure that differs by more than the bound beside it ends the run with status 1.
"""

import itertools
import math
import re
import sys
import tomllib

from run import ROOT, enter_environment

CHECKS = ROOT / "checks" / "published" / "machining.toml"
SIZES = {
    "mm": 1.0, "um": 1e-3, "m": 1e3, "in": 25.4, "thou": 0.0254, "deg": 1.0, "N": 1.0, "N m": 1e3, "N mm": 1.0,
    "N/mm2": 1.0, "GPa": 1e3, "rpm": 1.0, "m/min": 1.0, "kg/m3": 1.0, "W": 1.0, "K": 1.0, "degC": 1.0, "s": 1.0,
    "cm3": 1e3, "%": 0.01, "ppm/K": 1e-6, "N/mm": 1.0, "": 1.0,
}


def number(text):
    """A quantity in mm, N, N/mm2, degrees, s."""
    found = re.fullmatch(r"\s*(-?[0-9.]+)\s*(.*?)\s*", text)
    return float(found.group(1)) * SIZES[found.group(2)]


def numbers(text):
    return [number(part) for part in text.split(",")]


def inertia(d):
    return math.pi * d**4 / 64


def bar(lengths, diameters, e, force, at, held):
    """Deflection at the force by solving y'' = M/(E I); unknown reactions from what must vanish."""
    import numpy as np
    from scipy.integrate import solve_ivp

    total = sum(lengths)
    ends = np.cumsum(lengths)
    breaks = sorted({0.0, *[float(x) for x in ends], at})

    def shoot(slope, push, load):
        state, at_force = [0.0, slope], 0.0
        for left, right in zip(breaks, breaks[1:]):
            d = diameters[int(np.searchsorted(ends, (left + right) / 2))]
            ei = e * inertia(d)
            moment = lambda x: load * max(at - x, 0.0) - push * (total - x)
            path = solve_ivp(lambda x, y: [y[1], moment(x) / ei], (left, right), state, rtol=1e-11, atol=1e-15)
            state = [float(y) for y in path.y[:, -1]]
            if right == at:
                at_force = state[0]
        return at_force, state[0]

    if held == "chuck":
        return shoot(0, 0, force)[0]
    if held == "chuck and centre":
        free, unit = shoot(0, 0, force), shoot(0, 1, 0)
        return free[0] - free[1] / unit[1] * unit[0]
    free, unit = shoot(0, force * at / total, force), shoot(1, 0, 0)
    return abs(free[0] - free[1] / unit[1] * unit[0])


def plain_bar(held, place=0.5):
    def method(g):
        out = number(g["out"])
        at = number(g["at"]) if "at" in g else out * place
        y = bar([out], [number(g["diameter"])], number(g["modulus"]), number(g["force"]), at, held)
        return {"deflection": y}

    return method


def worst_place(g):
    from scipy.optimize import minimize_scalar

    out, d, e, f = (number(g[k]) for k in ("out", "diameter", "modulus", "force"))
    bend = lambda a: bar([out], [d], e, f, a, "chuck and centre")
    best = minimize_scalar(lambda a: -bend(a), bounds=(0.3 * out, 0.8 * out), method="bounded", options={"xatol": 1e-7})
    return {"worst_at": best.x, "worst_deflection": -best.fun}


def stepped(g):
    y = bar(numbers(g["lengths"]), numbers(g["diameters"]), number(g["modulus"]), number(g["force"]), number(g["at"]), "chuck")
    return {"deflection": y}


def overhang(g):
    from scipy.optimize import brentq

    d, e, f, taper = number(g["diameter"]), number(g["modulus"]), number(g["force"]), number(g["taper"])
    return {"limit": brentq(lambda x: 2 * bar([x], [d], e, f, x, "chuck") - taper, 1, 100, xtol=1e-9)}


def column(g):
    """Buckling of a column held at one end and on a pivot at the other: tan u = u."""
    from scipy.optimize import brentq

    u = brentq(lambda x: math.sin(x) - x * math.cos(x), 4.4, 4.6)
    out = number(g["out"])
    return {"bows_at": 0.55 * number(g["modulus"]) * inertia(number(g["diameter"])) * (u / out) ** 2}


def whip(g):
    from scipy.optimize import brentq

    root = brentq(lambda x: math.cos(x) * math.cosh(x) + 1, 1.5, 2.5)
    out, d = number(g["out"]) / 1e3, number(g["diameter"]) / 1e3
    speed = root**2 / out**2 * math.sqrt(number(g["modulus"]) * 1e6 / number(g["density"])) * d / 4
    return {"whips_at": speed * 30 / math.pi}


def share(g):
    from scipy.integrate import quad
    from scipy.optimize import minimize_scalar

    if g["contact"] == "all round":
        return {"share": quad(lambda x: abs(math.cos(x)), 0, 2 * math.pi, points=[math.pi / 2, 1.5 * math.pi])[0] / 4 / math.pi}
    n = int(g["contact"])
    mean = lambda turn: sum(abs(math.cos(turn + 2 * math.pi * i / n)) for i in range(n)) / n
    starts = [k * 2 * math.pi / 360 for k in range(360)]
    least = min(minimize_scalar(mean, bounds=(s, s + 0.02), method="bounded", options={"xatol": 1e-12}).fun for s in starts)
    return {"share": least / 2}


def greatest_cut(g):
    from scipy.optimize import brentq

    f, mu, d, l, ahead = (number(g[k]) for k in ("force", "friction", "diameter", "length", "ahead"))
    k, s = math.sqrt(3) / 6, number(g.get("safety", "2.4"))
    slips = brentq(lambda c: s * math.hypot(c, 0.4 * c) / (mu * f) - 1, 0, f)
    tips = brentq(lambda c: math.hypot(c, 0.3 * c) * (ahead + l / 2) - k * f * l / 3, 0, f)
    main, feed = min(slips, tips), number(g["feed"])
    return {"greatest_main": main, "greatest_depth": main / (700 * feed**-0.27) / feed}


def ring(g):
    """Radial displacement of a thin ring: w'' + w = -M r^2/(E I), slope nothing under and between the loads."""
    import numpy as np
    from scipy.integrate import solve_bvp

    n = int(g["jaws"])
    load, r = number(g["force"]) / n, number(g["mean"])
    ei = number(g["modulus"]) * number(g["width"]) * number(g["wall"]) ** 3 / 12
    t = math.pi / n
    # From midway between two loads: normal force N/(2 sin t) at the middle, moment M0 there unknown.
    h = load / (2 * math.sin(t))

    def equations(phi, y, p):
        moment = p[0] + h * r * (1 - np.cos(phi))
        # y = w, w', tangential v: a ring that does not stretch has v' = -w.
        return np.vstack([y[1], -y[0] + moment * r * r / ei, -y[0]])

    ends = lambda a, b, p: np.array([a[1], b[1], a[2], b[2]])
    guess = np.zeros((3, 41))
    found = solve_bvp(equations, ends, np.linspace(0, t, 41), guess, p=[0.0], tol=1e-9)
    middle, under = float(found.y[0, 0]), float(found.y[0, -1])
    return {"inward": abs(under), "outward": abs(middle), "after_release": abs(under) + abs(middle)}


def rubs(section, tool, height, steps=6000):
    """Whether any point of the tool below the face stands in metal; a grid over depth and the tool's section."""
    import numpy as np

    for y in np.linspace(height / steps, height, steps):
        x, z = tool(y)
        below = z < 0
        if np.any(section(np.hypot(x[below], y)) - z[below] > 1e-7):
            return True
    return False


def least_angle(clears, low, high, rounds=18):
    for _ in range(rounds):
        middle = (low + high) / 2
        low, high = (low, middle) if clears(middle) else (middle, high)
    return (low + high) / 2


def side_relief(g):
    """A flat tool deep in its groove, with no end clearance but what is given."""
    import numpy as np

    outer, height = number(g["outer"]), number(g["height"])
    depth, end = number(g.get("depth", "1000 mm")), math.radians(number(g.get("end", "0 deg")))
    section = lambda r: np.where(r > outer + 1e-12, 0.0, -depth)

    def clears(side):
        t = math.tan(math.radians(side))
        tool = lambda y: (np.array([outer - y * t]), np.array([-depth + y * math.tan(end)]))
        return not rubs(section, tool, height, 60000)

    return {"side": least_angle(clears, 0, 45)}


def end_clearance(g):
    import numpy as np

    outer, depth, side = number(g["outer"]), number(g["depth"]), math.radians(number(g["side"]))
    section = lambda r: np.where(r > outer + 1e-12, 0.0, -depth)

    def clears(end):
        t = math.tan(math.radians(end))
        tool = lambda y: (np.array([outer - y * math.tan(side)]), np.array([-depth + y * t]))
        return not rubs(section, tool, 3 * outer, 60000)

    return {"end": least_angle(clears, 1, 60)}


def round_nose(g):
    import numpy as np

    rho, depth, middle = number(g["nose"]), number(g["depth"]), number(g["middle"])
    half = math.sqrt(2 * rho * depth - depth**2)

    def section(r):
        off = np.minimum(np.abs(r - middle), half)
        return rho - depth - np.sqrt(rho**2 - off**2)

    # Crowded towards the lips, where half a round is steepest.
    x = middle + half * np.sin(np.linspace(-1, 1, 4001) * math.pi / 2)
    z = section(x)

    def clears(end):
        return not rubs(section, lambda y: (x, z + y * math.tan(math.radians(end))), 12.0, 4000)

    return {"outer": middle + half, "end": least_angle(clears, 1, 45, 14)}


def turning(g):
    """The point of a sloping face that reaches the large radius, found along the face."""
    from scipy.optimize import brentq

    small, large = number(g["small"]), number(g["large"])
    rake, clearance = math.radians(number(g["rake"])), math.radians(number(g["clearance"]))
    reach = lambda c: math.hypot(small + c * math.cos(rake), c * math.sin(rake))
    face = brentq(lambda c: reach(c) - large, 0, 3 * large)
    # Square to a flank that leans back by the clearance from the vertical: the face meets it at 90° - (a + g).
    return {"on_face": face, "on_flank": face * math.sin(math.pi / 2 - clearance - rake)}


def honed(g):
    """A profile made as depths square to the flank for zero rake, then cut at the honed face."""
    small, step = number(g["small"]), number(g["large"]) - number(g["small"])
    rake = math.radians(number(g["rake"]))
    point = (small + 0j) * complex(math.cos(rake), -math.sin(rake)) + step
    return {"honed": abs(point)}


def cut_list(g):
    pieces, length, kerf = numbers(g["pieces"]), number(g["bars"]), number(g["kerf"])
    for bars in itertools.count(1):
        rooms, seen = [length + kerf] * bars, set()

        def fill(at):
            if at == len(pieces):
                return True
            state = (at, tuple(sorted(rooms)))
            if state in seen:
                return False
            seen.add(state)
            for i in range(bars):
                if rooms[i] >= pieces[at] + kerf - 1e-9:
                    rooms[i] -= pieces[at] + kerf
                    if fill(at + 1):
                        return True
                    rooms[i] += pieces[at] + kerf
            return False

        if fill(0):
            return {"bars_used": float(bars)}


def cooling(g):
    from scipy.integrate import solve_ivp

    d, long = number(g["diameter"]) / 1e3, number(g["length"]) / 1e3
    mass = 8470 * math.pi / 4 * d * d * long
    surface = math.pi * d * long + math.pi / 2 * d * d
    air, near = number(g["air"]), number(g["within"])
    flow = number(g["transfer"]) * surface / (mass * 377)
    done = lambda t, y: y[0] - air - near
    done.terminal = True
    path = solve_ivp(lambda t, y: [-flow * (y[0] - air)], (0, 1e5), [number(g["from"])], events=done, rtol=1e-10, atol=1e-10)
    return {"time": float(path.t_events[0][0]), "constant": 1 / flow}


METHODS = {
    "A9": (column, 2e-3),
    "A10": (plain_bar("chuck", 1.0), 1e-6),
    "A11": (plain_bar("chuck and centre"), 1e-6),
    "A12": (worst_place, 1e-5),
    "A13": (plain_bar("centres"), 1e-6),
    "A14": (overhang, 1e-6),
    "A15": (stepped, 1e-6),
    "U26": (whip, 2e-4),
    "B6": (greatest_cut, 1e-6),
    "B7": (greatest_cut, 1e-3),
    "B7-short": (greatest_cut, 3e-3),
    "B9": (share, 1e-6),
    "B9-four": (share, 1e-6),
    "B9-collet": (share, 1e-6),
    "B11": (ring, 1e-5),
    "B11-two": (ring, 2e-3),
    "C1": (side_relief, 1e-4),
    "C2": (side_relief, 1e-3),
    "C3": (end_clearance, 1e-3),
    "C5": (round_nose, 5e-3),
    "C6": (round_nose, 5e-3),
    "C8": (turning, 1e-6),
    "C9": (honed, 1e-6),
    "C10": (turning, 1e-6),
    "D3": (cut_list, 0.0),
    "D4": (cut_list, 0.0),
    "H5": (cooling, 1e-6),
}


def main():
    enter_environment()
    checks = {c["id"].split(".", 1)[1]: c for c in tomllib.loads(CHECKS.read_text())["check"]}
    worst = []
    for name, (method, bound) in METHODS.items():
        check = checks[name]
        found = method(check["given"])
        for key, text in check["want"].items():
            if key not in found:
                continue
            want = number(text)
            off = abs(found[key] - want) / abs(want)
            word = "agrees" if off <= bound else "DIFFERS"
            print(f"{name:10} {key:16} {text:>16}  again {found[key]:.8g}  off by {off:.1e} of {bound:.0e}  {word}")
            if off > bound:
                worst.append(name)
    sys.exit(1 if worst else 0)


if __name__ == "__main__":
    main()

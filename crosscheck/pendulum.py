#!/usr/bin/env python3
"""Works out periods, places of bobs and suspension strips by other methods, and compares times.

    python3 crosscheck/pendulum.py            print the table of results
    python3 crosscheck/pendulum.py --write    and put it into crosscheck/RESULTS.md, small data into crosscheck/data

Periods by the complete elliptic integral, bobs by a root finder on the period, strips by
integrating the bent beam, both modes as eigenvalues. Our side is the example `pendulum_time`
of crate `pendulum`, built as tests are. A figure that differs by more than the stated bound
ends the run with status 1. Times are the least of several runs, both sides in one run of
this script, and given as ratios; no time ever fails a run.
"""

import math
import os
import platform
import random
import subprocess
import sys
import time

from run import HERE, ROOT, TARGET, enter_environment, put_section

RUNS = 5
DATA = HERE / "data" / "pendulum.toml"
G = 9.80665


def cases():
    """Arcs, pendulums and strips, the same each time."""
    some = random.Random(20)
    arcs = [math.radians(a / 10) for a in range(1791)]
    places = []
    for _ in range(300):
        length = some.uniform(0.2, 1.2)
        places.append(
            [length, some.uniform(0.004, 0.012), length * some.uniform(1.02, 1.2), some.uniform(2000, 8500),
             some.uniform(0.5, 10), some.uniform(0.03, 0.12), some.uniform(0.03, 0.15)]
        )
    strips = []
    while len(strips) < 200:
        e, b, t = some.uniform(90e9, 215e9), some.uniform(0.004, 0.02), some.uniform(0.00006, 0.0003)
        free, m, c = some.uniform(0.004, 0.03), some.uniform(0.3, 10), some.uniform(0.2, 1.0)
        pull = m * G
        u = math.sqrt(pull / (e * b * t**3 / 12)) * free
        # The shooting loses a figure for each two of u; the closed form does not.
        if 0.2 <= u <= 12:
            strips.append([e, b, t, free, pull, c, m, c, m * some.uniform(0.01, 0.1) ** 2])
    return arcs, places, strips


def timed(run):
    least, result = math.inf, None
    for _ in range(RUNS):
        begun = time.perf_counter()
        result = run()
        least = min(least, time.perf_counter() - begun)
    return result, least


def periods(arcs):
    """Period over that at no arc; the integral is taken near one where the arc is large."""
    import numpy as np
    from scipy.special import ellipkm1

    a = np.array(arcs)
    return [[float(x)] for x in 2 / math.pi * ellipkm1(np.cos(a / 2) ** 2)]


def bob(case):
    """Depth of the bob for a period: sums over rod and bob, and a root finder between bounds."""
    from scipy.optimize import brentq

    length, d, long, rho, m, wide, high = case
    rod = rho * math.pi / 4 * d * d * long
    rod_i = rod * (long**2 / 12 + d * d / 16 + long**2 / 4)
    own = m * (high**2 / 12 + wide**2 / 16)

    def period(z):
        return 2 * math.pi * math.sqrt((rod_i + own + m * z * z) / (rod * long / 2 + m * z) / G)

    want = 2 * math.pi * math.sqrt(length / G)
    return [brentq(lambda z: period(z) - want, length / 2, 3 * length, xtol=1e-16, rtol=8.9e-16)]


def beam(case):
    """Effective length: the bent beam integrated twice, once for a force and once for a deflection."""
    import numpy as np
    from scipy.integrate import solve_ivp

    e, b, t, free, pull, below = case[:6]
    ei = e * b * t**3 / 12

    def flow(s, y):
        # Two cases side by side: bob put aside by one, no force; unit force, bob not put aside.
        return [y[1], pull / ei * (y[0] - 1.0), y[3], pull / ei * y[2] + (below + free - s) / ei]

    end = solve_ivp(flow, (0, free), np.zeros(4), method="DOP853", rtol=1e-13, atol=1e-18).y[:, -1]
    aside, pushed = end[0] + below * end[1], end[2] + below * end[3]
    # X = aside X + pushed F, and F = W X / L.
    return [pull * pushed / (1 - aside)]


def modes(case):
    """Swing and wobble as eigenvalues of stiffness and mass."""
    import numpy as np
    from scipy.linalg import eigh

    e, b, t, free, pull, _, m, c, own = case
    ei = e * b * t**3 / 12
    u = math.sqrt(pull / ei) * free
    sh, ch = math.sinh(u), math.cosh(u)
    # sin and cos differ by little here where u is small: by products of half angles instead.
    delta = 4 * math.sinh(u / 2) * (u / 2 * math.cosh(u / 2) - math.sinh(u / 2))
    k = ei / (free**3 * delta) * np.array(
        [[u**3 * sh, -(u**2) * (ch - 1) * free], [-(u**2) * (ch - 1) * free, u * (u * ch - sh) * free**2]]
    )
    k[1, 1] += pull * c
    mass = np.array([[m, m * c], [m * c, m * c * c + own]])
    low, high = eigh(k, mass, eigvals_only=True)
    return [math.sqrt(low), math.sqrt(high)]


def ours(arcs, places, strips):
    """Answers and times of our own code, by task."""
    subprocess.run(["cargo", "build", "--quiet", "-p", "pendulum", "--example", "pendulum_time"], cwd=ROOT, check=True)
    lines = [f"runs {RUNS}", *(f"arc {a!r}" for a in arcs)]
    for word, list_of in (("place", places), ("strip", strips)):
        lines.extend(f"{word} " + " ".join(map(repr, case)) for case in list_of)
    program = TARGET / "debug" / "examples" / "pendulum_time"
    out = subprocess.run([program], input="\n".join(lines), capture_output=True, text=True, check=True).stdout
    found, name = {}, None
    for line in out.splitlines():
        words = line.split()
        if words[0].isalpha() and words[0] != "NaN":
            name = words[0]
            found[name] = ([], float(words[1]))
        else:
            found[name][0].append([float(w) for w in words])
    return found


def worst(mine, theirs):
    """Largest relative difference."""
    return max(abs(x - y) / abs(y) for m, t in zip(mine, theirs, strict=True) for x, y in zip(m, t, strict=True))


def write_data(arcs, turns, places, depths, strips, lengths, both):
    """A few of each for the tests of the crate."""
    def one(table, given, want):
        row = lambda xs: "[" + ", ".join(repr(float(x)) for x in xs) + "]"
        return f"[[{table}]]\ngiven = {row(given)}\nwant = {row(want)}\n"

    rows = ["# Made by `python3 crosscheck/pendulum.py --write`; SI units, in the order of the example pendulum_time.\n"]
    rows += [one("arc", [arcs[i]], turns[i]) for i in range(0, len(arcs), 45)] + [one("arc", [arcs[-1]], turns[-1])]
    rows += [one("place", places[i], depths[i]) for i in range(0, len(places), 20)]
    rows += [one("strip", strips[i], lengths[i] + both[i]) for i in range(0, len(strips), 8)]
    DATA.parent.mkdir(exist_ok=True)
    DATA.write_text("\n".join(rows))


def main():
    enter_environment()
    import numpy
    import scipy

    arcs, places, strips = cases()
    turns, t_arc = timed(lambda: periods(arcs))
    depths, t_place = timed(lambda: [bob(c) for c in places])
    lengths, t_beam = timed(lambda: [beam(c) for c in strips])
    both, t_modes = timed(lambda: [modes(c) for c in strips])
    mine = ours(arcs, places, strips)
    strip_rows, strip_time = mine["strip"]
    # Depth of the place it turns about: in the length, its own error would not be seen.
    pivot = lambda found: [[c[5] + c[3] - row[0]] for c, row in zip(strips, found, strict=True)]
    tasks = [
        ("period at 1791 arcs, 0 to 179°: elliptic integral", mine["arc"][0], turns, 1e-14, t_arc, mine["arc"][1]),
        ("place of the bob, 300 pendulums: root finder", mine["place"][0], depths, 1e-13, t_place, mine["place"][1]),
        ("pivot of a strip, 200: bent beam integrated", pivot(strip_rows), pivot(lengths), 1e-10, t_beam, strip_time),
        ("swing and wobble on it, 200: eigenvalues", [r[1:] for r in strip_rows], both, 1e-9, t_modes, strip_time),
    ]
    rows, wrong = [], []
    for what, found, wanted, bound, seconds, our_seconds in tasks:
        off = worst(found, wanted)
        if not off <= bound:
            wrong.append(f"{what}: off by {off:.1e}, more than {bound:.0e}")
        rows.append(
            f"| {what} | {off:.1e} | {bound:.0e} | {seconds * 1e3:.3f} | {our_seconds * 1e3:.3f} | {our_seconds / seconds:.2g} |"
        )
    table = "\n".join(
        [
            "| task | off by at most | allowed | reference (ms) | ours (ms) | ours / reference |",
            "| --- | --- | --- | --- | --- | --- |",
            *rows,
        ]
    )
    versions = (
        f"numpy {numpy.__version__}, scipy {scipy.__version__}, Python {platform.python_version()}, "
        f"{platform.machine()}, {os.cpu_count()} cores; least of {RUNS} runs; ours built with the dev profile"
    )
    print(table, "\n", versions, sep="")
    if "--write" in sys.argv[1:]:
        put_section(TITLE, RESULTS.format(table=table, versions=versions))
        write_data(arcs, turns, places, depths, strips, lengths, both)
    for line in wrong:
        print(line, file=sys.stderr)
    sys.exit(1 if wrong else 0)


TITLE = "# Pendulums against reference libraries"
RESULTS = """
Made by `python3 crosscheck/pendulum.py --write`. Differences are relative, the largest of
all cases. The time of ours for a strip is that of its length and both modes together, and
stands in both of the last two rows. A ratio below 1 means that ours is quicker.

{table}

{versions}.
"""


if __name__ == "__main__":
    main()

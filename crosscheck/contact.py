#!/usr/bin/env python3
"""Finds by polygons where a pinion stands when a wheel's tooth just touches its leaf.

    python3 crosscheck/contact.py            print the table of results
    python3 crosscheck/contact.py --write    and put it into RESULTS.md and data/contact.toml

A tooth and a leaf, each a polygon of some thousand corners a side, are turned about their
centres; the leaf's angle at which their overlap vanishes is found by halving. The example
`contact_crosscheck` of crate `teeth` prints the corners and the angles that our kernel
finds. Angles that differ by more than BOUND end the run with status 1; no time does.
"""

import math
import subprocess
import sys
import time

from run import HERE, ROOT, TARGET, enter_environment, put_section

BOUND = 0.1
HALVINGS = 34
TITLE = "# A tooth and a leaf against the overlap of polygons"
DATA = HERE / "data" / "contact.toml"


def ours():
    """Pairs as the example prints them."""
    subprocess.run(
        ["cargo", "build", "--quiet", "-p", "teeth", "--example", "contact_crosscheck"], cwd=ROOT, check=True
    )
    out = subprocess.run(
        [TARGET / "debug" / "examples" / "contact_crosscheck"], capture_output=True, text=True, check=True
    ).stdout
    pairs = []
    for line in out.splitlines():
        word, rest = line.split(" ", 1)
        if word == "pair":
            name, numbers = rest.split(", ")
            teeth, leaves, offset = numbers.split()
            pairs.append({"name": name, "teeth": int(teeth), "leaves": int(leaves), "offset": float(offset)})
            pairs[-1].update(wheel=[], pinion=[], at=[])
        elif word == "seconds":
            pairs[-1][word] = float(rest)
        else:
            pairs[-1][word].append(tuple(float(x) for x in rest.split()))
    return pairs


def outline(side, half_at_pitch, lead):
    """Closed outline of a tooth about its wheel's centre; its pitch point on the side that matters lies at angle 0."""
    sides = [(rho, half) for rho, half in side] + [(rho, -half) for rho, half in reversed(side)]
    points = [(rho, half - half_at_pitch if lead else half + half_at_pitch) for rho, half in sides]
    return [(rho * math.cos(a), rho * math.sin(a)) for rho, a in points]


def touching(pair):
    """Pinion angles at which the overlap just vanishes, and seconds for one of them."""
    import shapely
    from shapely import affinity

    centres = (pair["teeth"] + pair["leaves"]) / 2 + pair["offset"]
    at_pitch = lambda side, radius: min(side, key=lambda p: abs(p[0] - radius))[1]
    wheel = shapely.Polygon(outline(pair["wheel"], at_pitch(pair["wheel"], pair["teeth"] / 2), True))
    # The pinion's own frame: angle 0 points to the wheel, and turns upward with it.
    half = at_pitch(pair["pinion"], pair["leaves"] / 2)
    leaf = [(centres - x, y) for x, y in outline(pair["pinion"], half, False)]
    pinion = shapely.Polygon(leaf)
    assert wheel.is_valid and pinion.is_valid
    found, begun = [], time.perf_counter()
    for theta, ours_phi in pair["at"]:
        tooth = affinity.rotate(wheel, theta, origin=(0, 0), use_radians=True)
        shapely.prepare(tooth)
        ahead = lambda phi: affinity.rotate(pinion, -phi, origin=(centres, 0), use_radians=True)
        # Well ahead the leaf is free; well back it is cut into.
        even = theta * pair["teeth"] / pair["leaves"]
        low, high = even - 0.05, even + 0.05
        assert tooth.intersects(ahead(low)) and not tooth.intersects(ahead(high))
        for _ in range(HALVINGS):
            mid = (low + high) / 2
            if tooth.intersects(ahead(mid)):
                low = mid
            else:
                high = mid
        found.append((low + high) / 2)
    return found, (time.perf_counter() - begun) / len(found)


def main():
    enter_environment()
    import platform

    import shapely

    rows, data, worst = [], [], 0.0
    for pair in ours():
        found, seconds = touching(pair)
        off = [(mine - theirs) * 180 / math.pi * 60 for (_, mine), theirs in zip(pair["at"], found)]
        most = max(abs(x) for x in off)
        worst = max(worst, most)
        # Our time is for a whole run over a pitch, the reference's for one touch.
        rows.append(
            f"| {pair['name']}, centres {pair['offset']:+.2f} m | {len(found)} | {most:.4f} | {BOUND} "
            f"| {seconds * 1e3:.1f} | {pair['seconds'] * 1e3:.3f} | {pair['seconds'] / seconds:.4f} |"
        )
        for (theta, _), phi in zip(pair["at"], found):
            data.append(
                f"[[touch]]\nteeth = {pair['teeth']}\nleaves = {pair['leaves']}\nform = \"{pair['name'].split()[1]}\"\n"
                f"offset = {pair['offset']}\ntheta = {theta!r}\nphi = {phi!r}\n"
            )
    table = "\n".join(
        [
            "| pair | positions | most apart (arcmin of pinion) | allowed | one touch, reference (ms) | whole run, ours (ms) | ours / reference |",
            "| --- | --- | --- | --- | --- | --- | --- |",
            *rows,
        ]
    )
    print(table)
    if "--write" in sys.argv[1:]:
        versions = f"shapely {shapely.__version__}, Python {platform.python_version()}, {platform.machine()}"
        put_section(TITLE, RESULTS.format(table=table, versions=versions))
        DATA.parent.mkdir(exist_ok=True)
        head = "# Angles of a leaf that a tooth just touches, by overlap of polygons; made by crosscheck/contact.py --write.\n# Modules and radians.\n\n"
        DATA.write_text(head + "\n".join(data))
    if worst > BOUND:
        sys.exit(f"angles differ by {worst:.3f} arcmin, more than {BOUND}")


RESULTS = """
Made by `python3 crosscheck/contact.py --write`. A tooth of 16000 corners and a leaf of 8000
are turned until they just touch; our kernel gives the same angle from the flanks alone. The
reference's time is for one position, ours for a whole run over a pitch: where teeth take over,
forces at 49 positions, play and reach.

{table}

{versions}; ours built with the dev profile.
"""


if __name__ == "__main__":
    main()

#!/usr/bin/env python3
"""Removes the metal of a turning program with a reference library and with our own code.

    python3 crosscheck/turning.py            print the table of results
    python3 crosscheck/turning.py --write    and put it into crosscheck/RESULTS.md

The program has 1953 places: 24 roughing passes and a finishing pass of 1850 straight moves along a wavy
profile, its places those of the centre of the nose. The reference reads the places by a pattern of
its own and sweeps the insert along each move as a convex hull, made before its clock starts. Our side is
the example `turning_time` of crate `proof`, built as tests are; its clock runs from moves to area.
An area that differs by more than 1e-6 mm² ends the run with status 1, and so does a task that
is not as many times as fast as stated. Times are the least of several runs, both sides in one run of
this script.
"""

import math
import os
import platform
import re
import subprocess
import sys
import time

from run import ROOT, TARGET, enter_environment, put_section

RUNS = 3
OUR_RUNS = 20
AREA_WITHIN = 1e-6
PROGRAM = ROOT / "crates" / "proof" / "tests" / "data" / "turning-1953-moves.nc"
# The published result of the same removal by two methods: 90.598422 (polygons), 90.598422 (heights on a grid).
PUBLISHED, PUBLISHED_WITHIN = 90.598422, 2e-6
NOSE, FRONT, BACK, LENGTH, CHORDS = 0.2, 87.0, 52.0, 8.0, 32


def insert():
    """Corners of the insert about the centre of its nose."""
    first, last = math.radians(FRONT + 90), math.radians(BACK + 270)
    angles = [first + (last - first) * i / CHORDS for i in range(CHORDS + 1)]
    nose = [(NOSE * math.cos(a), NOSE * math.sin(a)) for a in angles]

    def along(p, degrees):
        a = math.radians(degrees)
        return (p[0] + LENGTH * math.cos(a), p[1] + LENGTH * math.sin(a))

    return nose + [along(nose[-1], BACK), along(nose[0], FRONT)]


def moves():
    """Each move as (rapid, from, to), places as (z, radius)."""
    rapid, here, found = None, None, []
    for line in PROGRAM.read_text().splitlines():
        word = re.search(r"\bG0([01])\b", line)
        rapid = word.group(1) == "0" if word else rapid
        place = re.search(r"X(\S+) Z(\S+)", line)
        if place:
            to = (float(place.group(2)), float(place.group(1)) / 2)
            if here is not None:
                found.append((rapid, here, to))
            here = to
    return found


def timed(run):
    """The result of a task and its least time."""
    least, result = math.inf, None
    for _ in range(RUNS):
        begun = time.perf_counter()
        result = run()
        least = min(least, time.perf_counter() - begun)
    return result, least


def reference():
    """Areas and times of the reference library, by task."""
    import shapely

    tool = insert()
    sweeps = []
    for rapid, a, b in moves():
        corners = [(p[0] + x, p[1] + y) for p in (a, b) for x, y in tool]
        sweeps.append((rapid, shapely.MultiPoint(corners).convex_hull))
    bar, window = shapely.box(-34, 0, 0, 5), shapely.box(-30, 0, 0, 6)

    def removed():
        cut = shapely.unary_union([sweep for rapid, sweep in sweeps if not rapid])
        return bar.difference(cut)

    def one_by_one():
        rest, worst = bar, 0.0
        for rapid, sweep in sweeps:
            if rapid:
                worst = max(worst, rest.intersection(sweep).area)
            else:
                rest = rest.difference(sweep)
        return rest, worst

    def in_chains():
        rest, worst, chain = bar, 0.0, []
        for rapid, sweep in sweeps:
            if not rapid:
                chain.append(sweep)
                continue
            if chain:
                rest, chain = rest.difference(shapely.unary_union(chain)), []
            worst = max(worst, rest.intersection(sweep).area)
        return rest, worst

    left, t_removed = timed(removed)
    (ordered, worst), t_ordered = timed(one_by_one)
    (chained, worst_chained), t_chained = timed(in_chains)
    area = lambda region: region.intersection(window).area
    return {
        "removed": (area(left), t_removed),
        "one-by-one": (area(ordered), t_ordered),
        "in-chains": (area(chained), t_chained),
        "worst": max(worst, worst_chained),
    }


def ours():
    """Figures and times of our own code, by task."""
    subprocess.run(["cargo", "build", "--quiet", "-p", "proof", "--example", "turning_time"], cwd=ROOT, check=True)
    words = [TARGET / "debug" / "examples" / "turning_time", PROGRAM, OUR_RUNS]
    out = subprocess.run([str(word) for word in words], capture_output=True, text=True, check=True).stdout
    rows = (line.split() for line in out.splitlines())
    return {name: (float(figure), float(seconds)) for name, figure, seconds in rows}


# Task of the reference, of ours, what it is, how many times as fast ours must be.
TASKS = [
    ("removed", "removed", "union of all sweeps, taken off the bar", 5),
    ("one-by-one", "in-order", "every rapid tried, feeds taken off one by one", 10),
    ("in-chains", "in-order", "every rapid tried, feeds taken off chain by chain", 10),
]


def main():
    enter_environment()
    import shapely

    theirs, mine = reference(), ours()
    rows, wrong = [], []
    for task, own, what, times in TASKS:
        (area, seconds), (our_area, our_seconds) = theirs[task], mine[own]
        off = abs(our_area - area)
        if not off <= AREA_WITHIN:
            wrong.append(f"{what}: areas differ by {off:.1e} mm²")
        if not abs(our_area - PUBLISHED) <= PUBLISHED_WITHIN:
            wrong.append(f"{what}: {our_area:.6f} mm², published {PUBLISHED}")
        if seconds < times * our_seconds:
            wrong.append(f"{what}: only {seconds / our_seconds:.1f} times as fast, not {times}")
        rows.append(
            f"| {what} | {area:.9f} | {our_area:.9f} | {off:.1e} | {AREA_WITHIN:.0e} "
            f"| {seconds * 1e3:.1f} | {our_seconds * 1e3:.2f} | {seconds / our_seconds:.1f} | {times} |"
        )
    if max(theirs["worst"], mine["worst-rapid"][0]) > 1e-6:
        wrong.append(f"a rapid through stock: {theirs['worst']} by the reference, {mine['worst-rapid'][0]} by ours")
    table = "\n".join(
        [
            "| task | area left, reference (mm²) | area left, ours (mm²) | off by (mm²) | allowed "
            "| reference (ms) | ours (ms) | times as fast | at least |",
            "| --- | --- | --- | --- | --- | --- | --- | --- | --- |",
            *rows,
        ]
    )
    versions = (
        f"shapely {shapely.__version__} (GEOS {shapely.geos_version_string}), Python {platform.python_version()}, "
        f"{platform.machine()}, {os.cpu_count()} cores; least of {RUNS} runs, ours of {OUR_RUNS}; "
        "ours built with the dev profile"
    )
    read = f"{mine['read'][0]:.0f} moves are read from the text in {mine['read'][1] * 1e3:.1f} ms"
    print(table, "\n", read, "\n", versions, sep="")
    if "--write" in sys.argv[1:]:
        put_section(TITLE, RESULTS.format(table=table, versions=versions, read=read))
    for line in wrong:
        print(line, file=sys.stderr)
    sys.exit(1 if wrong else 0)


TITLE = "# A turning program removed by a reference library"
RESULTS = """
Made by `python3 crosscheck/turning.py --write`. An insert of 35° with a nose of 0.2 mm in {{32}} chords
turns a wavy profile from a bar of 10 mm: 24 roughing passes and 1850 finishing moves. The reference sweeps
each move as a hull made beforehand; ours makes one ring of each chain of feeds within its time. Both take
every rapid against the metal that stands at that moment; no rapid touches any.

{table}

{read}. {versions}.
""".replace("{{32}}", str(CHORDS))


if __name__ == "__main__":
    main()

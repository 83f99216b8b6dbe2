#!/usr/bin/env python3
"""Finds the same trains by trying every combination, and compares lists and times.

    python3 crosscheck/counts.py            print the table of results
    python3 crosscheck/counts.py --write    and put it into crosscheck/RESULTS.md

The reference takes each set of pinions in turn and compares it with the products of all sets
of wheels at once, as whole numbers in NumPy arrays: |N·D - T·P| <= P·E with target T/D and
room E/D, every term below 2^63. Our side is the example `counts_time` of crate `train`, built as tests are.
A list that differs ends the run with status 1, and so does a search that is less than 50
times as fast. Times are the least of several runs, both sides in one run of this script.
"""

import itertools
import math
import os
import platform
import subprocess
import sys
import time
from fractions import Fraction

from run import ROOT, TARGET, enter_environment, put_section

RUNS = 3
OUR_RUNS = 20
TIMES_AS_FAST = 50
# Name, what it is, stages, wheels, pinions, ratio, room in seconds, seconds of the first arbor's turn, known count.
SEARCHES = [
    ("B5", "the year from a day, 30 s", 3, (30, 150), (6, 20), "365.24219", "30", "86400", 73),
    ("B8", "two lunations from half a day, 20 s", 3, (20, 120), (6, 16), "118.122352", "20", "43200", 69),
    ("exact", "ratio 360, exact", 3, (30, 150), (6, 20), "360", "0", "86400", None),
    ("wide", "ratio 60, 1 s in an hour", 3, (30, 120), (6, 16), "60", "1", "3600", None),
    ("four", "ratio 1000, 5 s in an hour", 4, (30, 72), (7, 12), "1000", "5", "3600", None),
]


def exhaustive(stages, wheels, pinions, ratio, seconds, turn):
    """Every combination of a set of wheels and a set of pinions, compared as whole numbers."""
    import numpy as np

    target, room = Fraction(ratio), Fraction(seconds) / Fraction(turn)
    scale = math.lcm(target.denominator, room.denominator)
    t, e = int(target * scale), int(room * scale)
    begun = time.perf_counter()
    sets = np.array(
        list(itertools.combinations_with_replacement(range(wheels[0], wheels[1] + 1), stages)), dtype=np.int64
    )
    products = sets.prod(axis=1)
    largest = max(int(products.max()) * scale, t * pinions[1] ** stages)
    assert 2 * largest < 2**63 and e * pinions[1] ** stages < 2**63, "terms outgrow the arrays"
    scaled = products * scale
    found, tried = [], 0
    for leaves in itertools.combinations_with_replacement(range(pinions[0], pinions[1] + 1), stages):
        p = math.prod(leaves)
        hits = np.flatnonzero(np.abs(scaled - t * p) <= e * p)
        tried += len(sets)
        found.extend((*map(int, sets[i]), *leaves) for i in hits)
    return sorted(found), tried, time.perf_counter() - begun


def ours(searches):
    """Lists and times of our own search, by name."""
    subprocess.run(["cargo", "build", "--quiet", "-p", "train", "--example", "counts_time"], cwd=ROOT, check=True)
    lines = [
        f"{name} {stages} {w[0]} {w[1]} {p[0]} {p[1]} {ratio} {seconds} {turn} {OUR_RUNS}"
        for name, _, stages, w, p, ratio, seconds, turn, _ in searches
    ]
    program = TARGET / "debug" / "examples" / "counts_time"
    out = subprocess.run([program], input="\n".join(lines), capture_output=True, text=True, check=True).stdout
    rows = iter(out.splitlines())
    found = {}
    for head in rows:
        name, count, seconds = head.split()
        trains = sorted(tuple(map(int, next(rows).split())) for _ in range(int(count)))
        found[name] = (trains, float(seconds))
    return found


def main():
    enter_environment()
    import numpy

    mine = ours(SEARCHES)
    rows, wrong = [], []
    for name, what, stages, wheels, pinions, ratio, seconds, turn, known in SEARCHES:
        best = math.inf
        for _ in range(RUNS):
            theirs, tried, took = exhaustive(stages, wheels, pinions, ratio, seconds, turn)
            best = min(best, took)
        trains, our_best = mine[name]
        if trains != theirs:
            wrong.append(f"{what}: {len(trains)} trains, {len(theirs)} by trying all; the lists differ")
        if known is not None and len(trains) != known:
            wrong.append(f"{what}: {len(trains)} trains, {known} are known")
        if best < TIMES_AS_FAST * our_best:
            wrong.append(f"{what}: only {best / our_best:.0f} times as fast")
        rows.append(
            f"| {what} | {stages} | {wheels[0]} to {wheels[1]} | {pinions[0]} to {pinions[1]} | {tried:,} "
            f"| {len(trains)} | {best * 1e3:.0f} | {our_best * 1e3:.2f} | {best / our_best:.0f} |"
        )
    table = "\n".join(
        [
            "| ratio and room | stages | wheels | pinions | combinations | trains | reference (ms) | ours (ms) | times as fast |",
            "| --- | --- | --- | --- | --- | --- | --- | --- | --- |",
            *rows,
        ]
    )
    versions = (
        f"numpy {numpy.__version__}, Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores; "
        f"least of {RUNS} runs, ours of {OUR_RUNS}; ours built with the dev profile"
    )
    print(table, "\n", versions, sep="")
    if "--write" in sys.argv[1:]:
        put_section(TITLE, RESULTS.format(table=table, versions=versions))
    for line in wrong:
        print(line, file=sys.stderr)
    sys.exit(1 if wrong else 0)


TITLE = "# Counts of trains by trying every combination"
RESULTS = """
Made by `python3 crosscheck/counts.py --write`. Each set of pinions is compared with the
products of all sets of wheels, as whole numbers in arrays; the lists of trains are the same
on both sides, train by train. Ours takes the sets of wheels that the window leaves.

{table}

{versions}.
"""


if __name__ == "__main__":
    main()

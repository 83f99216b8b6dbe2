#!/usr/bin/env python3
"""Runs the same plane regions through a reference library and through our own code.

    python3 crosscheck/run.py            print the table of results
    python3 crosscheck/run.py --write    and put it into crosscheck/RESULTS.md

Pinned wheels are installed into a virtual environment below the target directory;
our side is the example `region_crosscheck` of crate `shape`, built as tests are.
Areas that differ by more than the stated bound end the run with status 1. Times are
the least of several runs, both sides in one run of this script, and given as ratios;
no time ever fails a run.
"""

import math
import os
import platform
import re
import subprocess
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent
TARGET = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))
VENV = TARGET / "crosscheck-venv"
PYTHON = VENV / "bin" / "python"

RUNS = 5
CUTS = 200
OFFSET = 0.1
# Both sides round a corner in equal steps: a quarter turn in QUARTER steps.
QUARTER = 128
SAGITTA = OFFSET * (1.0 - math.cos(math.pi / 4 / QUARTER))


def enter_environment():
    """Makes the virtual environment once, and runs this script again inside it."""
    stamp = VENV / "installed"
    wanted = (HERE / "requirements.txt").read_text()
    if not stamp.exists() or stamp.read_text() != wanted:
        subprocess.run([sys.executable, "-m", "venv", "--clear", VENV], check=True)
        pip = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
        subprocess.run(pip + ["--only-binary", ":all:", "-r", HERE / "requirements.txt"], check=True)
        stamp.write_text(wanted)
    if Path(sys.prefix).resolve() != VENV.resolve():
        sys.exit(subprocess.run([PYTHON, *sys.argv]).returncode)


def put_section(title, text):
    """Puts a section below its title into RESULTS.md, in place of the one that stood there."""
    path = HERE / "RESULTS.md"
    old = path.read_text() if path.exists() else ""
    # A title stands on a line of its own; the part before the first is empty.
    parts = [part for part in re.split(r"(?m)^(?=# )", old) if part.strip()]
    new = f"{title}\n{text}"
    at = [i for i, part in enumerate(parts) if part.startswith(title + "\n")]
    if at:
        parts[at[0]] = new
    else:
        parts.append(new)
    path.write_text("\n".join(part.strip() + "\n" for part in parts))


def put_results(head, text):
    """Puts one chapter into RESULTS.md in place of the one with the same head; the others stay."""
    path = HERE / "RESULTS.md"
    old = path.read_text() if path.exists() else ""
    chapters = [c.strip() for c in re.split(r"^(?=# )", old, flags=re.M) if c.strip()]
    heads = [c.splitlines()[0] for c in chapters]
    if head in heads:
        chapters[heads.index(head)] = text.strip()
    else:
        chapters.append(text.strip())
    path.write_text("\n\n".join(chapters) + "\n")


def rack_tooth(module, pressure_deg=20.0, depth=1.25, round_radius=0.38, per_round=7):
    """One tooth of a basic rack as a cutter, 19 corners, its tip at y = -depth * module.

    Straight flanks at the pressure angle, half a pitch wide on the reference line, tip
    corners rounded tangent to flank and tip: the usual proportions of a basic rack.
    """
    alpha = math.radians(pressure_deg)
    rho, top = round_radius * module, 1.5 * module
    half = math.pi * module / 4
    # Centre of the rounding on the right: rho above the tip line, rho inside the flank.
    cy = rho - depth * module
    cx = half + cy * math.tan(alpha) - rho / math.cos(alpha)
    right = []
    for i in range(per_round + 1):
        angle = -math.pi / 2 + (math.pi / 2 - alpha) * i / per_round
        right.append((cx + rho * math.cos(angle), cy + rho * math.sin(angle)))
    right.append((half + top * math.tan(alpha), top))
    left = [(-x, y) for x, y in reversed(right)]
    return left + right + [(0.0, 1.1 * top)]


def gear(teeth=24, module=1.0, positions=2000, roll=0.6, blank_corners=4000):
    """A gear blank and the positions of one rack tooth rolling past it."""
    import numpy as np

    pitch_radius = teeth * module / 2
    angles = np.arange(blank_corners) * (2 * np.pi / blank_corners)
    blank = (pitch_radius + module) * np.column_stack([np.cos(angles), np.sin(angles)])
    tooth = np.array(rack_tooth(module))
    tools = []
    for phi in np.linspace(-roll, roll, positions):
        # The rack slides by the arc that the pitch circle turns; seen from the gear it turns.
        moved = np.column_stack([tooth[:, 0] + pitch_radius * phi, tooth[:, 1] + pitch_radius])
        turn = np.array([[np.cos(phi), np.sin(phi)], [-np.sin(phi), np.cos(phi)]])
        tools.append(moved @ turn)
    return blank, tools


def timed(run):
    """The result of a task and its least time over RUNS runs."""
    least, result = math.inf, None
    for _ in range(RUNS):
        begun = time.perf_counter()
        result = run()
        least = min(least, time.perf_counter() - begun)
    return result, least


def reference(blank, tools):
    """Areas and times of the reference library, by task."""
    import shapely

    stock = shapely.Polygon(blank)
    swept, t_union = timed(lambda: shapely.unary_union([shapely.Polygon(tool) for tool in tools]))
    part, t_difference = timed(lambda: stock.difference(swept))
    picked = [shapely.Polygon(tool) for tool in tools][:: math.ceil(len(tools) / CUTS)]

    def in_order():
        rest = stock
        for tool in picked:
            rest = rest.difference(tool)
        return rest

    cut, t_cut = timed(in_order)
    grown, t_grown = timed(lambda: part.buffer(OFFSET, quad_segs=QUARTER))
    shrunk, t_shrunk = timed(lambda: part.buffer(-OFFSET, quad_segs=QUARTER))
    mitred, t_mitred = timed(lambda: part.buffer(OFFSET, join_style="mitre", mitre_limit=4.0))
    return {
        "union": (swept.area, t_union),
        "difference": (part.area, t_difference),
        "in-order": (cut.area, t_cut),
        "grown": (grown.area, t_grown),
        "shrunk": (shrunk.area, t_shrunk),
        "mitred": (mitred.area, t_mitred),
    }


def ours(blank, tools):
    """Areas and times of our own code, by task."""
    subprocess.run(
        ["cargo", "build", "--quiet", "-p", "shape", "--example", "region_crosscheck"], cwd=ROOT, check=True
    )
    lines = []
    for name, corners in [("blank", blank)] + [("tool", tool) for tool in tools]:
        lines.append(name)
        lines.extend(f"{float(x)!r} {float(y)!r}" for x, y in corners)
    words = [TARGET / "debug" / "examples" / "region_crosscheck", CUTS, OFFSET, repr(SAGITTA), RUNS]
    out = subprocess.run(
        [str(word) for word in words], input="\n".join(lines), capture_output=True, text=True, check=True
    ).stdout
    rows = (line.split() for line in out.splitlines())
    return {name: (float(area), float(seconds)) for name, area, _, seconds in rows}


TASKS = {
    "union": ("union of 2000 tool positions", 1e-8),
    "difference": ("blank less that union", 1e-8),
    "in-order": (f"{CUTS} cuts, one after another", 1e-8),
    "grown": (f"grown by {OFFSET} mm, rounded", 1e-6),
    "shrunk": (f"shrunk by {OFFSET} mm, rounded", 1e-6),
    "mitred": (f"grown by {OFFSET} mm, mitred", 1e-6),
}


def main():
    enter_environment()
    import numpy
    import shapely

    blank, tools = gear()
    theirs, mine = reference(blank, tools), ours(blank, tools)
    rows, worst = [], []
    for task, (what, bound) in TASKS.items():
        (area, seconds), (our_area, our_seconds) = theirs[task], mine[task]
        off = abs(our_area - area) / area
        if not off <= bound:
            worst.append(f"{what}: areas differ by {off:.1e}, more than {bound:.0e}")
        rows.append(
            f"| {what} | {area:.9f} | {our_area:.9f} | {off:.1e} | {bound:.0e} "
            f"| {seconds * 1e3:.1f} | {our_seconds * 1e3:.1f} | {our_seconds / seconds:.2f} |"
        )
    table = "\n".join(
        [
            "| task | area, reference (mm²) | area, ours (mm²) | off by | allowed | reference (ms) | ours (ms) | ours / reference |",
            "| --- | --- | --- | --- | --- | --- | --- | --- |",
            *rows,
        ]
    )
    versions = (
        f"shapely {shapely.__version__} (GEOS {shapely.geos_version_string}), numpy {numpy.__version__}, "
        f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores; "
        f"least of {RUNS} runs; ours built with the dev profile"
    )
    print(table, "\n", versions, sep="")
    if "--write" in sys.argv[1:]:
        put_section(TITLE, RESULTS.format(table=table, versions=versions))
    for line in worst:
        print(line, file=sys.stderr)
    print(flush=True)
    contact = subprocess.run([PYTHON, HERE / "contact.py", *sys.argv[1:]]).returncode
    sys.exit(1 if worst or contact else 0)


TITLE = "# Plane regions against a reference library"
RESULTS = """
Made by `python3 crosscheck/run.py --write`. A gear blank of 24 teeth, module 1 mm
(4000 corners), is cut by one rack tooth (19 corners) in 2000 positions over a roll of
±0.6 rad; the part is then offset. Both sides read the same corners in the same run.
A ratio below 1 means that ours is quicker.

{table}

{versions}.
"""


if __name__ == "__main__":
    main()

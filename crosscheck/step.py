#!/usr/bin/env python3
"""Reads our exchange files back with an independent geometry kernel.

    python3 crosscheck/step.py            print the table of results
    python3 crosscheck/step.py --write    and put it into crosscheck/RESULTS.md

The example `solids` of crate `step` writes one file for each of a range of solids and says
what crate `shape` reckons their volume to be. The kernel behind gmsh (OpenCASCADE) reads the
files: there must be one closed solid of as many faces, its volume and box must agree, and cut
in two by a slanted plane the halves must make the whole again, which a body with a wrong or
missing face does not survive. A difference beyond the bounds ends the run with status 1.
"""

import math
import platform
import subprocess
import sys
import tempfile
from pathlib import Path

from run import ROOT, TARGET, enter_environment, put_results

VOLUME, HALVES, BOX = 1e-9, 1e-6, 1e-6
HEAD = "# Solids read back by an independent kernel"


def solids(folder):
    """Lines of the example: name, volume, low and high corner, faces, through holes."""
    subprocess.run(["cargo", "build", "--quiet", "-p", "step", "--example", "solids"], cwd=ROOT, check=True)
    out = subprocess.run(
        [str(TARGET / "debug" / "examples" / "solids"), folder], capture_output=True, text=True, check=True
    ).stdout
    return [line.split() for line in out.splitlines()]


def box_of(gmsh, bodies):
    """The box of a solid from the boxes of its edges, which are exact for lines and circles, and its surfaces'
    own extremes: the kernel's box of a curved face is wider than the face, so points on the faces are taken."""
    low, high = [math.inf] * 3, [-math.inf] * 3
    for dim, tag in gmsh.model.getBoundary(bodies, combined=False, oriented=False):
        (u0, v0), (u1, v1) = gmsh.model.getParametrizationBounds(dim, tag)
        if gmsh.model.getType(dim, tag) == "Plane":
            continue
        grid = []
        steps = 720
        for k in range(steps + 1):
            for v in (v0, (v0 + v1) / 2, v1):
                grid += [u0 + (u1 - u0) * k / steps, v]
            grid += [(u0 + u1) / 2, v0 + (v1 - v0) * k / steps]
            grid += [u0, v0 + (v1 - v0) * k / steps, u1, v0 + (v1 - v0) * k / steps]
        points = gmsh.model.getValue(dim, tag, grid)
        for i in range(3):
            low[i], high[i] = min(low[i], *points[i::3]), max(high[i], *points[i::3])
    for dim, tag in gmsh.model.getBoundary(bodies, combined=False, oriented=False, recursive=True):
        point = gmsh.model.getValue(dim, tag, [])
        for i in range(3):
            low[i], high[i] = min(low[i], point[i]), max(high[i], point[i])
    return low, high


def halves(gmsh, bodies, size):
    """Volumes on either side of a plane that no symmetry of the parts knows."""
    occ = gmsh.model.occ
    big = 4 * size
    block = occ.addBox(-big, -big, 0, 2 * big, 2 * big, big)
    occ.rotate([(3, block)], 0, 0, 0, 1, 0.3, 0, 0.7123)
    occ.translate([(3, block)], 0.0137, 0.0211, size * 0.1)
    inside, _ = occ.intersect(bodies, [(3, block)], removeObject=False, removeTool=False)
    outside, _ = occ.cut(bodies, [(3, block)], removeObject=False, removeTool=True)
    return [sum(occ.getMass(3, t) for d, t in part if d == 3) for part in (inside, outside)]


def slotted_ball(occ):
    ball = [(3, occ.addSphere(0, 0, 0, 3))]
    slots = [(3, occ.addBox(-5, -0.5, -4, 10, 1, 2)), (3, occ.addBox(-5, -0.3, -0.5, 10, 0.6, 5))]
    return occ.cut(ball, slots)[0]


def round_head(occ):
    radius = 12.41 / 4
    dome = [(3, occ.addSphere(0, 0, 10 - radius, radius))]
    dome = occ.intersect(dome, [(3, occ.addBox(-5, -5, 8, 10, 10, 5))])[0]
    dome = occ.cut(dome, [(3, occ.addBox(-5, -0.4, 8.8, 10, 0.8, 5))])[0]
    return occ.fuse([(3, occ.addCylinder(0, 0, 0, 0, 0, 8, 1.5))], dome)[0]


# The kernel's integral over a sphere cut across its grid is off by some 1e-4, of its own bodies as of ours. These it
# builds itself as well, and nothing may be left of the one when the other is taken away.
BUILT, ROUGH = {"ball-slotted": slotted_ball, "round-head": round_head}, 3e-4


def main():
    enter_environment()
    import gmsh

    gmsh.initialize()
    gmsh.option.setNumber("General.Terminal", 0)
    # Nothing is mended on the way in.
    for fix in ("OCCFixDegenerated", "OCCFixSmallEdges", "OCCFixSmallFaces", "OCCSewFaces", "OCCMakeSolids"):
        gmsh.option.setNumber("Geometry." + fix, 0)
    gmsh.option.setString("Geometry.OCCTargetUnit", "MM")
    rows, wrong = [], []
    with tempfile.TemporaryDirectory() as folder:
        for name, volume, x0, y0, z0, x1, y1, z1, faces, _ in solids(folder):
            volume, faces = float(volume), int(faces)
            gmsh.clear()
            found = gmsh.model.occ.importShapes(str(Path(folder) / f"{name}.step"))
            gmsh.model.occ.synchronize()
            bodies = [f for f in found if f[0] == 3]
            read = sum(gmsh.model.occ.getMass(3, tag) for _, tag in bodies)
            off = abs(read - volume) / volume
            if name in BUILT:
                own = BUILT[name](gmsh.model.occ)
                for one, other in ((bodies, own), (own, bodies)):
                    if gmsh.model.occ.cut(one, other, removeObject=False, removeTool=False)[0]:
                        wrong.append(f"{name}: not the same body as the kernel's own")
                gmsh.model.occ.remove(own, recursive=True)
            if off > (ROUGH if name in BUILT else VOLUME):
                wrong.append(f"{name}: volume off by {off:.1e}")
            low, high = box_of(gmsh, bodies)
            text = "not compared"
            if x0 != "-":
                want = [float(v) for v in (x0, y0, z0, x1, y1, z1)]
                gap = max(abs(a - b) for a, b in zip(low + high, want))
                text = f"{gap:.0e}"
                # A grid over an arc may miss its highest point by its sagitta over half a step.
                if gap > BOX + max(map(abs, want)) * (math.pi / 720) ** 2 / 2:
                    wrong.append(f"{name}: box off by {gap:.1e}")
                count = len(gmsh.model.getEntities(2))
                if len(bodies) != 1 or count != faces:
                    wrong.append(f"{name}: {len(bodies)} solids of {count} faces, not one of {faces}")
            size = max(map(abs, low + high))
            parts = halves(gmsh, bodies, size)
            split = abs(sum(parts) - volume) / volume
            if split > (ROUGH if name in BUILT else HALVES) or min(parts) <= 0:
                wrong.append(f"{name}: halves {parts} do not make {volume}")
            rows.append(f"| {name} | {faces or '-'} | {read:.9f} | {volume:.9f} | {off:.1e} | {split:.1e} | {text} |")
            print(rows[-1])
    table = "\n".join(
        [
            "| solid | faces | volume read (mm³) | volume reckoned (mm³) | off by | halves off by | box off by (mm) |",
            "| --- | --- | --- | --- | --- | --- | --- |",
            *rows,
        ]
    )
    versions = f"gmsh {gmsh.__version__}, Python {platform.python_version()}, {platform.machine()}"
    gmsh.finalize()
    print(versions)
    if "--write" in sys.argv[1:]:
        put_results(HEAD, RESULTS.format(head=HEAD, table=table, versions=versions))
    for line in wrong:
        print(line, file=sys.stderr)
    sys.exit(1 if wrong else 0)


RESULTS = """{head}

Made by `python3 crosscheck/step.py --write`. Exchange files written by crate `step` are read by
the kernel behind gmsh, nothing mended on the way in; the volume reckoned is that of crate
`shape`, from the part and not from its solid. Allowed: volume 1e-9 of itself, sum of two halves
1e-6, one solid with as many faces as were written. A sphere cut across its grid (ball-slotted,
round-head) the kernel integrates to some 1e-4 only, its own bodies included: there the kernel's
own body and ours must leave nothing of each other when subtracted.

{table}

{versions}.
"""


if __name__ == "__main__":
    main()

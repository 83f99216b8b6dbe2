#!/usr/bin/env python3
"""Sets published grasshoppers out a second time, over other unknowns than the program's.

    python3 crosscheck/grasshopper.py

Reads checks/published/grasshopper.toml. The program works with three unknowns, closed-form
tips and its own Newton steps. Here both joints, the distance of the arbors and the angle of
the tooth at both ends and the middle of each beat are unknown together, eleven in all, and
every length is its own equation; a general root finder solves them. Torque is taken from the
turn of the wheel by a difference, not from moments. A figure that differs by more than the
bound beside it ends the run with status 1.
"""

import math
import re
import sys
import tomllib

from run import ROOT, enter_environment

CHECKS = ROOT / "checks" / "published" / "grasshopper.toml"


def number(text):
    """A figure in mm, degrees or without a unit."""
    return float(re.match(r"[-+0-9.e]+", text).group())


def turned(angle, v):
    c, s = math.cos(angle), math.sin(angle)
    return (c * v[0] - s * v[1], s * v[0] + c * v[1])


def set_out(teeth, span, radius, half, lengths, signs):
    """All eleven unknowns; lengths None for a single joint with lengths free but alike."""
    import numpy as np
    from scipy.optimize import brentq, least_squares

    pitch = 2 * math.pi / teeth
    ratio = pitch / 4 / half
    between = (span + 0.5) * pitch
    tip = lambda a: np.array([radius * math.sin(a), radius * math.cos(a)])
    ahead = lambda a: np.array([math.cos(a), -math.sin(a)])
    if lengths:
        gap = lambda d: math.acos((1 - ratio) / d) + math.acos((1 + ratio) / d) - between
        d = brentq(gap, 1 + ratio, 1e3)
        at = [-math.acos((1 - ratio) / d), math.acos((1 + ratio) / d)]
    else:
        far, out = 1 / math.cos(between / 2), ratio / math.sin(between / 2)
        lean, d = math.atan(out / far), math.hypot(far, out)
        at = [-between / 2 - lean, between / 2 - lean]
    d *= radius
    begin = []
    for k in range(2):
        length = lengths[k] if lengths else radius * math.tan(between / 2)
        begin += list(tip(at[k]) + signs[k] * length * ahead(at[k]) - [0, d])
    turn = [pitch / 4, -pitch / 4]
    for k in range(2):
        begin += [at[k] - turn[k], at[k], at[k] + turn[k]]
    begin.append(d)

    def wrong(x):
        joints, angles, d = [x[0:2], x[2:4]], [x[4:7], x[7:10]], x[10]
        out = []
        for k in range(2):
            # Frame angles in the order −e, 0, +e.
            spans = []
            for frame, angle in zip((-half, 0, half), angles[k]):
                j = np.array(turned(frame, joints[k])) + [0, d]
                spans.append(np.hypot(*(j - tip(angle))))
            if lengths:
                out += [(s - lengths[k]) / radius for s in spans]
            else:
                out += [(spans[0] - spans[1]) / radius, (spans[2] - spans[1]) / radius]
            out.append(np.dot(joints[k] + [0, d] - tip(angles[k][1]), tip(angles[k][1])) / radius**2)
        if not lengths:
            out += list((joints[0] - joints[1]) / radius)
        out.append(angles[0][0] - angles[0][2] - pitch / 2)
        out.append(angles[1][2] - angles[1][0] - pitch / 2)
        out.append(angles[1][0] - angles[0][0] - span * pitch)
        return out

    found = least_squares(wrong, begin, xtol=1e-15, ftol=1e-15, gtol=1e-15, x_scale="jac")
    left = max(abs(v) for v in wrong(found.x))
    if left > 1e-11:
        raise ValueError(f"not solved: {left:.1e} left")
    return found.x


def figures(given):
    """Every figure that a check may want, by name."""
    import numpy as np
    from scipy.optimize import brentq

    teeth, span = int(given["teeth"]), int(given["span"])
    radius, half = number(given["tip_radius"]), math.radians(number(given["half_arc"]))
    twin = "entry_arm" in given
    lengths = [number(given["entry_arm"]), number(given["exit_arm"])] if twin else None
    sign = lambda name, usual: 1 if given.get(name, usual) == "push" else -1
    signs = [sign("entry_action", "push"), sign("exit_action", "push" if twin else "pull")]
    x = set_out(teeth, span, radius, half, lengths, signs)
    d = x[10]
    joints, middle = [x[0:2], x[2:4]], [x[5], x[8]]
    out = {"distance": d}
    arms = []
    for k, word in enumerate(("entry", "exit")):
        out[f"{word}_radius"] = math.hypot(*joints[k])
        out[f"{word}_bearing"] = math.degrees(math.atan2(joints[k][1], joints[k][0])) % 360
        out[f"{word}_x"], out[f"{word}_y"] = joints[k]
        tip = (radius * math.sin(middle[k]), radius * math.cos(middle[k]))
        arms.append(math.hypot(joints[k][0] - tip[0], joints[k][1] + d - tip[1]))
    out["arm"] = arms[0]

    def wheel(k, frame):
        """Angle of the tooth by a root finder, near where it stood at mid-swing."""
        j = np.array(turned(frame, joints[k])) + [0, d]
        off = lambda a: math.hypot(j[0] - radius * math.sin(a), j[1] - radius * math.cos(a)) - arms[k]
        reach = math.pi / teeth * 1.5
        return brentq(off, middle[k] - reach, middle[k] + reach, xtol=1e-15)

    for k, word in enumerate(("entry", "exit")):
        turn = -1 if k == 0 else 1
        h = 1e-4
        for name, frame in (("start", -turn * half), ("end", turn * half)):
            slope = (8 * (wheel(k, frame + h) - wheel(k, frame - h)) - wheel(k, frame + 2 * h) + wheel(k, frame - 2 * h)) / (12 * h)
            out[f"{word}_{name}"] = abs(slope)
        out[f"mean_{word}"] = abs(wheel(k, half) - wheel(k, -half)) / (2 * half)
    out["mean"] = math.pi / teeth / (2 * half)
    # Where both arms agree about the wheel.
    pitch = 2 * math.pi / teeth
    for word, pitches, near in (("exit", span, -half), ("entry", span + 1, half)):
        agree = lambda t: wheel(1, t) - wheel(0, t) - pitches * pitch
        out[f"{word}_catch"] = math.degrees(brentq(agree, near - 0.1 * half, near + 0.1 * half, xtol=1e-14))
    return out


def main():
    enter_environment()
    checks = tomllib.loads(CHECKS.read_text())["check"]
    wrong = 0
    for check in checks:
        ours, bound = figures(check["given"]), number(check["within"])
        for name, want in check["want"].items():
            off = abs(ours[name] - number(want))
            good = off <= bound
            wrong += not good
            print(f"{'ok ' if good else 'OFF'} {check['id']:28} {name:14} {want:>14}  second reckoning {ours[name]:.9f}")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()

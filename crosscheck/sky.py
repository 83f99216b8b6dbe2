#!/usr/bin/env python3
"""Works the equation of time again, by another road than the program's, without any library.

    python3 crosscheck/sky.py

Kepler's equation is solved by repeated substitution, the Sun is placed as a vector in the
ecliptic, pulled about by the largest terms of Moon, Venus, Jupiter and Mars, and turned into
the equator; ours sums the equation of the centre. Reads every check of
checks/published/sky.toml that asks for a day or for the noughts of a year. A figure off by
more than its check allows ends the run with status 1.
"""

import datetime
import math
import sys
import tomllib
from pathlib import Path

CHECKS = Path(__file__).resolve().parent.parent / "checks" / "published" / "sky.toml"


def rad(degrees):
    return math.radians(math.fmod(degrees, 360.0))


def equation(julian):
    """Sundial less mean clock, in minutes."""
    t = (julian - 2451545.0) / 36525.0
    mean = 280.46646 + 36000.76983 * t + 0.0003032 * t * t
    anomaly = 357.52911 + 35999.05029 * t - 0.0001537 * t * t
    e = 0.016708634 - 0.000042037 * t
    m = rad(anomaly)
    x = m
    for _ in range(30):
        x = m + e * math.sin(x)
    truly = math.atan2(math.sqrt(1.0 - e * e) * math.sin(x), math.cos(x) - e)
    # Periodic pulls of Venus, Jupiter and the Moon on the Earth, in degrees (largest terms, from memory).
    pulls = (
        0.00134 * math.cos(rad(153.23 + 22518.7541 * t))
        + 0.00154 * math.cos(rad(216.57 + 45037.5082 * t))
        + 0.00200 * math.cos(rad(312.69 + 32964.3577 * t))
        + 0.00178 * math.sin(rad(350.74 + 445267.1142 * t))
    )
    node = rad(125.04 - 1934.136 * t)
    nutation = -17.20 / 3600.0 * math.sin(node)
    at = truly + rad(mean - anomaly) + math.radians(pulls - 20.4955 / 3600.0 + nutation)
    tilt = math.radians(23.4392911 - 0.0130042 * t + 9.20 / 3600.0 * math.cos(node))
    place = complex(math.cos(at), math.sin(at) * math.cos(tilt))
    # Seen from the mean Sun, what is left of the turn is the equation itself; aberration belongs to both.
    mean_sun = rad(mean - 20.4955 / 3600.0) + math.radians(nutation * math.cos(tilt))
    left = place * complex(math.cos(mean_sun), -math.sin(mean_sun))
    return -math.degrees(math.atan2(left.imag, left.real)) * 4.0


def noon(day):
    return day.toordinal() + 1721425.0


def main():
    missed = 0
    for check in tomllib.loads(CHECKS.read_text())["check"]:
        if check["ask"] == "sky.equation_of_time":
            got = equation(noon(datetime.date.fromisoformat(check["given"]["date"])))
            want, within = float(check["want"]["minutes"]), float(check["within"])
            held = abs(got - want) <= within
            print(f"{check['id']}: want {want:+.3f}, other road {got:+.3f} min{'' if held else '   MISSED'}")
            missed += not held
        elif check["ask"] == "sky.sundial_year":
            year = int(check["given"]["year"])
            days = [datetime.date(year, 1, 1) + datetime.timedelta(i) for i in range(365)]
            noughts = []
            for a, b in zip(days, days[1:]):
                p, q = equation(noon(a)), equation(noon(b))
                if (p < 0) != (q < 0):
                    noughts.append(a if abs(p) < abs(q) else b)
            want = [v for k, v in sorted(check["want"].items()) if k.startswith("nought.")]
            dates = [datetime.date.fromisoformat(f"{year}-{w}") for w in want]
            # A second of difference may move the nearest noon by one day.
            held = len(dates) == len(noughts) and all(abs((x - y).days) <= 1 for x, y in zip(dates, noughts))
            noughts = [d.strftime("%m-%d") for d in noughts]
            print(f"{check['id']}: want {want}, other road {noughts}{'' if held else '   MISSED'}")
            missed += not held
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())

#!/usr/bin/env python3
"""Hears made-up recordings whose truth is known, at rising noise, beside a pipeline of scipy.signal.

    python3 crosscheck/listen.py            print the table of results
    python3 crosscheck/listen.py --write    and put it into crosscheck/RESULTS.md

The recordings are made here, by a generator written anew, not by the crate's own: decaying tones, noise
from a numbered stream, hum. The reference filters, squares, finds peaks, takes rising edges, then lays the
mean tick and the mean tock on each by correlation, and draws a line by least squares; it is told the beat.
Ours is the example `heard` of crate `listen`, built as tests are; it is told nothing but that the
recorder is right. Up to noise of 0.06, 1 being full scale, rate and beat error must be within what was
published of the recording; beyond, a rate that is given must lie within twice its own doubt.
Both sides are timed in one run of this script, on samples in memory, the least of three.
"""

import math
import os
import platform
import subprocess
import sys
import tempfile
import time
import wave
from pathlib import Path

from run import ROOT, TARGET, enter_environment, put_section

FS = 48_000
RUNS = 3
DECAY = 1.8e-3
RATE_WITHIN, ERROR_WITHIN, PUBLISHED_TO = 0.05, 0.05, 0.06
# Beat (s), rate (s/day), beat error (ms), scatter of beats (ms), length (s), seed, noise.
CASES = [
    *((1.0, 12.5, 8.0, 0.0, 60.0, 12_345, n) for n in (0.0, 0.003, 0.01, 0.03, 0.06, 0.1, 0.15, 0.2, 0.3)),
    (0.5, 3.0, 1.5, 0.0, 30.0, 5, 0.01),
    (0.5, 3.0, 1.5, 0.0, 30.0, 5, 0.06),
    (1.0, -4.0, -12.0, 0.2, 120.0, 99, 0.03),
]


def stream(seed, count):
    """Outputs of the numbered generator as numbers between 0 and 1."""
    import numpy as np

    with np.errstate(over="ignore"):
        z = np.uint64(seed) + np.arange(1, count + 1, dtype=np.uint64) * np.uint64(0x9E3779B97F4A7C15)
        z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
        z ^= z >> np.uint64(31)
    return ((z >> np.uint64(11)).astype(float) + 0.5) / 2.0**53


def normals(seed, count):
    import numpy as np

    u = stream(seed, 2 * count)
    return np.sqrt(-2 * np.log(u[0::2])) * np.cos(2 * math.pi * u[1::2])


def made(beat, rate, error, scatter, seconds, seed, noise):
    """A recording of 16 bits and the true times of its beats."""
    import numpy as np

    n = int(seconds * FS)
    x = noise * normals(seed, n) + 0.02 * np.sin(2 * math.pi * 50 * np.arange(n) / FS)
    true = beat / (1 + rate / 86_400)
    k = np.arange(int(seconds / true) + 2)
    t = 0.25 + k * true + error / 2e3 * (-1.0) ** k + scatter * 1e-3 * normals(seed + 1, len(k))
    t = t[: np.argmax(t + 0.05 > seconds)]
    for i, at in enumerate(t):
        size, hertz = ((0.5, 2600.0), (0.35, 2350.0))[i % 2]
        for offset, part, tone in ((-9e-3, 0.15, hertz), (0.0, 1.0, hertz), (6.5e-3, 0.30, 1700.0)):
            a = math.ceil((at + offset) * FS)
            i0 = np.arange(a, min(a + int(FS * 12 * DECAY), n))
            tau = i0 / FS - (at + offset)
            x[i0] += size * part * np.exp(-tau / DECAY) * np.sin(2 * math.pi * tone * tau)
    return np.clip(np.round(32_767 * x), -32_768, 32_767).astype("<i2"), t


def line(times, counts, beat):
    """Rate (s/day) and beat error (ms) of a line by least squares; what lies 4 deviations off is left out."""
    import numpy as np

    keep = np.ones(len(times), bool)
    for _ in range(5):
        rows = np.stack([np.ones(len(times)), counts, (-1.0) ** counts], 1)
        by, *_ = np.linalg.lstsq(rows[keep], times[keep], rcond=None)
        left = times - rows @ by
        deviation = math.sqrt(np.mean(left[keep] ** 2))
        keep = np.abs(left) <= 4 * max(deviation, 1e-9)
    return 86_400 * (beat / by[1] - 1), 2e3 * by[2], int(keep.sum())


def reference(pcm, beat):
    """Rate, beat error and beats by the pipeline of scipy.signal."""
    import numpy as np
    from scipy import signal

    x = pcm / 32_768
    taps = signal.firwin(769, [1200, 4500], pass_zero=False, fs=FS)
    y = signal.oaconvolve(x, taps, mode="same")
    box = int(0.5e-3 * FS)
    power = np.maximum(signal.oaconvolve(y * y, np.ones(box) / box, mode="same"), 0)
    apart = int(0.4 * beat * FS)
    tops, _ = signal.find_peaks(power, distance=apart)
    blocks = power[: len(power) // int(beat * FS) * int(beat * FS)].reshape(-1, int(beat * FS))
    least = max(8 * np.median(power), 0.12 * np.median(blocks.max(1)))
    tops = tops[power[tops] > least]
    edges = []
    for top in tops:
        a, b = max(top - int(12e-3 * FS), 0), min(top + int(30e-3 * FS), len(power))
        main = a + int(np.argmax(power[a:b]))
        i = main
        while i > 1 and power[i - 1] > 0.2 * power[main]:
            i -= 1
        over = (0.2 * power[main] - power[i - 1]) / max(power[i] - power[i - 1], 1e-30)
        edges.append(i - 1 + over)
    times = np.unique(np.array(edges) / FS)
    counts = np.round((times - times[0]) / beat).astype(int)
    before, after = int(12e-3 * FS), int(20e-3 * FS)
    for _ in range(2):
        moved = times.copy()
        for kind in (0, 1):
            which = [
                i for i in np.flatnonzero(counts % 2 == kind)
                if before + 100 < round(times[i] * FS) < len(y) - after - 100
            ]
            if not which:
                continue
            places = [round(times[i] * FS) for i in which]
            pieces = np.stack([y[p - before : p + after] for p in places])
            form, shifts = pieces.mean(0), []
            for p in places:
                like = signal.correlate(y[p - before - 48 : p + after + 48], form, mode="valid")
                top = int(np.clip(np.argmax(like), 1, len(like) - 2))
                l, c, r = like[top - 1 : top + 2]
                shifts.append(top - 48 + 0.5 * (l - r) / (l - 2 * c + r))
            late = np.array(places) + np.array(shifts)
            # The middle of the kind stays where its edges are.
            late += np.median(times[which] * FS - late)
            moved[which] = late / FS
        times = moved
    rate, error, used = line(times, counts, beat)
    return rate, error, used


def least_of(runs, work):
    best, answer = math.inf, None
    for _ in range(runs):
        begun = time.perf_counter()
        answer = work()
        best = min(best, time.perf_counter() - begun)
    return answer, best


def main():
    enter_environment()
    import numpy as np
    import scipy

    subprocess.run(["cargo", "build", "--quiet", "-p", "listen", "--example", "heard"], cwd=ROOT, check=True)
    program = TARGET / "debug" / "examples" / "heard"
    bad, rows, ratios = [], [], []
    reference(made(*CASES[0])[0], 1.0)  # What is loaded at first use is no part of the work.
    with tempfile.TemporaryDirectory() as folder:
        for case in CASES:
            beat, _, _, scatter, seconds, _, noise = case
            pcm, t = made(*case)
            rate, error, _ = line(t, np.arange(len(t)), beat)
            path = Path(folder) / "made.wav"
            with wave.open(str(path), "wb") as out:
                out.setnchannels(1)
                out.setsampwidth(2)
                out.setframerate(FS)
                out.writeframes(pcm.tobytes())
            (r_rate, r_error, r_used), slow = least_of(RUNS, lambda pcm=pcm, beat=beat: reference(pcm, beat))
            told = subprocess.run([program, path, "?", str(RUNS)], capture_output=True, text=True, check=True)
            trust, *numbers = told.stdout.split()
            used, o_rate, within, o_error, fast = map(float, numbers)
            off, e_off = o_rate - rate, o_error - error
            name = f"{beat} s, noise {noise}" + (f", scatter {scatter} ms" if scatter else "")
            if noise <= PUBLISHED_TO:
                if trust != "Sure" or int(used) != len(t):
                    bad.append(f"{name}: {trust}, {used:.0f} of {len(t)} beats")
                if not (abs(off) <= RATE_WITHIN and abs(e_off) <= ERROR_WITHIN):
                    bad.append(f"{name}: rate off by {off}, beat error by {e_off}")
            elif trust == "Sure" and not abs(off) <= 2 * within:
                bad.append(f"{name}: off by {off}, told ± {within}")
            ratios.append(slow / fast)
            given = f"{off:+.4f} ± {within:.4f} | {e_off:+.4f}" if trust == "Sure" else "none given | none given"
            rows.append(
                f"| {name} | {len(t)} | {r_used} | {int(used)} | {r_rate - rate:+.4f} | {given.split(' | ')[0]} |"
                f" {r_error - error:+.4f} | {given.split(' | ')[1]} | {slow * 1e3:.0f} | {fast * 1e3:.0f} |"
                f" {slow / fast:.1f} |"
            )
    text = (
        "\nMade by `python3 crosscheck/listen.py --write`. Recordings of 48 kHz and 16 bits whose truth is known: what\n"
        "each side's rate (s/day) and beat error (ms) are off by. The reference is told the beat, ours is not; its\n"
        f"doubt is 95 in 100. Bounds up to noise of {PUBLISHED_TO}: every beat, {RATE_WITHIN} s/day, {ERROR_WITHIN} ms;\n"
        "beyond, a rate that is given lies within twice its doubt.\n\n"
        "| recording | beats | reference's beats | our beats | reference's rate off by | our rate off by |"
        " reference's beat error off by | our beat error off by | reference (ms) | ours (ms) | times as fast |\n"
        "|" + " --- |" * 11 + "\n" + "\n".join(rows)
        + f"\n\nSciPy {scipy.__version__}, Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores;"
        " ours built with the dev profile; a beat every second for 60 s, every half for 30 s, with scatter for 120 s.\n"
    )
    print(text)
    for says in bad:
        print("BAD", says)
    if "--write" in sys.argv and not bad:
        put_section("# A clock heard, against a pipeline of signal processing", text)
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()

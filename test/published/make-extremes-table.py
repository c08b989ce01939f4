"""Makes extremes-table.jsonl: the most and the least that chains let through anywhere in a band.

    python3 test/published/make-extremes-table.py > test/published/extremes-table.jsonl

By brute force: scipy.signal.freqz (freqs for analogue prototypes) of coefficients written out here (W3C Audio EQ
Cookbook) at every 0.01 Hz of the band, then scipy.optimize.minimize_scalar between the neighbours of the best. Beside it
what points at 24 an octave would show of the most. One JSON value a line: first what made the table, then a row a line.
"""

import json
import sys

import numpy as np
import scipy
from scipy import optimize, signal


def cookbook(kind, q, gain_db):
    """The prototype's coefficients of s squared, s and 1, above and below."""
    a = 10 ** (gain_db / 40)
    root = np.sqrt(a) / q
    return {
        "lowpass": ([0, 0, 1], [1, 1 / q, 1]),
        "highpass": ([1, 0, 0], [1, 1 / q, 1]),
        "bandpass": ([0, 1 / q, 0], [1, 1 / q, 1]),
        "notch": ([1, 0, 1], [1, 1 / q, 1]),
        "allpass": ([1, -1 / q, 1], [1, 1 / q, 1]),
        "peaking": ([1, a / q, 1], [1, 1 / (a * q), 1]),
        "lowshelf": ([a, a * root, a * a], [a, root, 1]),
        "highshelf": ([a * a, a * root, a], [1, root, a]),
    }[kind]


def level_db(filters, fs, f):
    total = np.zeros(len(f))
    for each in filters:
        b, a = cookbook(each["type"], each["q"], each.get("gainDb", 0))
        f0 = each["frequencyHz"]
        if fs is None:
            _, h = signal.freqs(b, a, worN=f / f0)
        else:
            # s = cot(w0 / 2) (1 - 1/z) / (1 + 1/z) is SciPy's bilinear with a sample rate of cot(w0 / 2) / 2.
            bz, az = signal.bilinear(b, a, 1 / (2 * np.tan(np.pi * f0 / fs)))
            _, h = signal.freqz(bz, az, worN=f, fs=fs)
        with np.errstate(divide="ignore"):
            total += 20 * np.log10(np.abs(h))
    return total


def extreme(filters, fs, low, high, sign):
    best, best_f = -np.inf, low
    edges = np.linspace(low, high, 21)
    for start, end in zip(edges[:-1], edges[1:]):
        f = np.append(np.arange(start, end, 0.01), end)
        level = sign * level_db(filters, fs, f)
        i = int(np.argmax(level))
        if level[i] > best:
            best, best_f = level[i], f[i]
    found = optimize.minimize_scalar(
        lambda f: -sign * level_db(filters, fs, np.array([f]))[0],
        bounds=(max(low, best_f - 0.01), min(high, best_f + 0.01)),
        method="bounded",
        options={"xatol": 1e-9},
    )
    return sign * max(best, -found.fun)


def of(kind, f0, q, gain_db=None):
    return {"type": kind, "frequencyHz": f0, "q": q} | ({} if gain_db is None else {"gainDb": gain_db})


# Frequencies and Qs of the 96 kHz archetype's own grids: 20 to 40000 Hz in 397 steps, 0.1 to 40 in 200.
narrow = [
    of("bandpass", 20 * 2000 ** (331 / 396), 0.1 * 400 ** (196 / 199)),
    of("highshelf", 20 * 2000 ** (331 / 396), 40.0, -6.0),
]
cases = [
    ("a band-pass and a narrow shelf", narrow, 96000),
    ("a band-pass of Q 150 below a shelf", [of("bandpass", 6545, 150), of("highshelf", 8509, 10, -12)], 96000),
    ("a narrow bell that lifts", [of("peaking", 7777, 200, 9)], 48000),
    ("bells that overlap", [of("peaking", 900 * 1.2**k, 6 + k, (-1) ** k * 5) for k in range(6)], 48000),
    ("a high cut that resonates", [of("lowpass", 9000, 8), of("highpass", 60, 0.7)], 44100),
    ("cuts beside a bell", [of("highpass", 80, 1.3), of("lowpass", 15000, 0.9), of("peaking", 18700, 12, -15)], 48000),
    ("shelves", [of("lowshelf", 200, 3, -8), of("highshelf", 4000, 5, -11)], 96000),
    ("two bells beside the pilot", [of("peaking", 18960, 60, -18), of("peaking", 19050, 60, -18)], 48000),
    ("the analogue prototype", [of("bandpass", 3333, 80), of("peaking", 3300, 40, 6)], None),
    ("an all-pass", [of("allpass", 1000, 4), of("peaking", 1000, 2, -3)], 48000),
]

print(json.dumps({"python": sys.version.split()[0], "scipy": scipy.__version__, "numpy": np.__version__}))
for name, filters, fs in cases:
    points = 20 * 2 ** (np.arange(0, 24 * np.log2(1000)) / 24)
    print(
        json.dumps(
            {
                "name": name,
                "filters": filters,
                "sampleRateHz": fs,
                "mostDb": extreme(filters, fs, 20, 20000, 1),
                "leastInKeepDb": extreme(filters, fs, 80, 12000, -1),
                "mostInWindowDb": extreme(filters, fs, 18900, 19100, 1),
                "mostAtPointsDb": float(np.max(level_db(filters, fs, points))),
            }
        )
    )

"""Makes scipy-table.jsonl: filter responses worked out by SciPy, by routes that share nothing with src/filters.

    python3 test/published/make-scipy-table.py > test/published/scipy-table.jsonl

Cuts come from scipy.signal.butter; a Linkwitz-Riley cut is a Butterworth one of half the order, squared.
Cookbook sections are their analogue prototypes (W3C Audio EQ Cookbook), moved to the pre-warped frequency and
put through scipy.signal.bilinear_zpk. Responses are evaluated from zeros and poles (freqz_zpk, freqs_zpk),
which keeps its precision at low frequencies; group delays by scipy.signal.group_delay.
The matched and nyquist-gain sections are the papers' equations, term by term, in 50 digits: Orfanidis 1997 as in
the author's own published function, Vicanek 2016 as two independent implementations restate it.
One JSON value a line: first what made the table, then a row a line, its `part` told first.
"""

import json
import sys

import mpmath as mp
import numpy as np
import scipy
from scipy import signal

HZ = [20, 30, 40, 50, 80, 200, 1000, 5000, 10000, 15000, 18000, 18900, 19000, 19100, 20000]
ANALOGUE_HZ = HZ + [30000, 60000]
FLOOR_DB = -180


def rounded(values):
    return [float(f"{value:.11g}") for value in values]


def decibels(h):
    """In dB; null where a zero falls so nearly on the frequency that only rounding is left."""
    with np.errstate(divide="ignore"):
        levels = 20 * np.log10(np.abs(h))
    return [None if level < FLOOR_DB else float(f"{level:.11g}") for level in levels]


def digital(zpk, fs, squared=False):
    _, h = signal.freqz_zpk(*zpk, worN=HZ, fs=fs)
    return decibels(h**2 if squared else h)


def analogue(zpk, squared=False):
    _, h = signal.freqs_zpk(*zpk, worN=2 * np.pi * np.array(ANALOGUE_HZ))
    return decibels(h**2 if squared else h)


def cuts():
    for kind, fc in (("highpass", 40), ("lowpass", 1000), ("lowpass", 15000)):
        for order in range(1, 9):
            for fs in (44100, 48000, 96000, None):
                for family in ("butterworth", "linkwitz-riley"):
                    squared = family == "linkwitz-riley"
                    if squared and order > 4:
                        continue
                    row = {"type": kind, "frequencyHz": fc, "family": family, "sampleRateHz": fs}
                    row["slopeDbPerOctave"] = 6 * order * (2 if squared else 1)
                    if fs is None:
                        zpk = signal.butter(order, 2 * np.pi * fc, kind, analog=True, output="zpk")
                        row["db"] = analogue(zpk, squared)
                    else:
                        zpk = signal.butter(order, fc, kind, output="zpk", fs=fs)
                        row["db"] = digital(zpk, fs, squared)
                    yield row


def prototype(kind, q, gain_db):
    """Numerator and denominator in s, highest power first, as the cookbook prints them."""
    a = 10 ** (gain_db / 40)
    root = np.sqrt(a) / q
    return {
        "lowpass": ([1], [1, 1 / q, 1]),
        "highpass": ([1, 0, 0], [1, 1 / q, 1]),
        "bandpass": ([1 / q, 0], [1, 1 / q, 1]),
        "notch": ([1, 0, 1], [1, 1 / q, 1]),
        "allpass": ([1, -1 / q, 1], [1, 1 / q, 1]),
        "peaking": ([1, a / q, 1], [1, 1 / (a * q), 1]),
        "lowshelf": ([a, a * root, a * a], [a, root, 1]),
        "highshelf": ([a * a, a * root, a], [1, root, a]),
    }[kind]


def moved(kind, q, gain_db, omega):
    """The prototype as zeros, poles and gain, its s = j moved to omega."""
    z, p, k = signal.tf2zpk(*prototype(kind, q, gain_db))
    return z * omega, p * omega, k * omega ** (len(p) - len(z))


SECTIONS = [
    *((kind, f0, q, None) for kind in ("lowpass", "highpass") for f0 in (40, 15000) for q in (0.5, 2.5)),
    *((kind, f0, q, None) for kind in ("bandpass", "notch", "allpass") for f0 in (40, 1000, 19000) for q in (0.7, 10)),
    *(("peaking", f0, q, g) for f0 in (40, 15000, 19000) for q in (0.5, 3, 10) for g in (-15, -3, 6)),
    *((kind, f0, q, g) for kind in ("lowshelf", "highshelf") for f0 in (80, 15000) for q in (0.5, 0.9) for g in (-15, 6)),
    # The knob positions either side of 19 kHz on 179 logarithmic points from 26 Hz to 21.7 kHz: k = 174 and 175.
    *(("peaking", 26 * (21700 / 26) ** (k / 178), q, -15) for k in (174, 175) for q in (3, 10)),
]


def sections():
    for kind, f0, q, gain_db in SECTIONS:
        told = {"type": kind, "frequencyHz": f0, "q": q}
        if gain_db is not None:
            told["gainDb"] = gain_db
        yield {**told, "sampleRateHz": None, "db": analogue(moved(kind, q, gain_db or 0, 2 * np.pi * f0))}
        for fs in (44100, 48000, 96000):
            omega = 2 * fs * np.tan(np.pi * f0 / fs)
            zpk = signal.bilinear_zpk(*moved(kind, q, gain_db or 0, omega), fs=fs)
            yield {**told, "sampleRateHz": fs, "db": digital(zpk, fs)}


def delays():
    at = [200, 1000, 2000, 5000, 10000, 15000, 18000]
    for kind, f0, q, gain_db in SECTIONS:
        if f0 < 1000 or kind == "notch":
            continue
        fs = 48000
        omega = 2 * fs * np.tan(np.pi * f0 / fs)
        z, p, k = signal.bilinear_zpk(*moved(kind, q, gain_db or 0, omega), fs=fs)
        b, a = signal.zpk2tf(z, p, k)
        _, samples = signal.group_delay((b, a), w=at, fs=fs)
        told = {"type": kind, "frequencyHz": f0, "q": q}
        if gain_db is not None:
            told["gainDb"] = gain_db
        yield {**told, "sampleRateHz": fs, "atHz": at, "seconds": rounded(samples / fs)}


def vicanek(kind, w0, q_prototype, gain):
    """Equations 12, 26, 27 and 29 to 45 of 'Matched Second Order Digital Filters' (2016)."""
    pole_q = mp.sqrt(gain) * q_prototype if kind == "peaking" else q_prototype
    q = 1 / (2 * pole_q)
    shape = mp.cos(mp.sqrt(1 - q**2) * w0) if q <= 1 else mp.cosh(mp.sqrt(q**2 - 1) * w0)
    a1, a2 = -2 * mp.exp(-q * w0) * shape, mp.exp(-2 * q * w0)
    phi1 = mp.sin(w0 / 2) ** 2
    phi0 = 1 - phi1
    phi2 = 4 * phi0 * phi1
    A0, A1, A2 = (1 + a1 + a2) ** 2, (1 - a1 + a2) ** 2, -4 * a2
    power = A0 * phi0 + A1 * phi1 + A2 * phi2
    slope = -A0 + A1 + 4 * (phi0 - phi1) * A2
    if kind == "lowpass":
        B1 = (power * q_prototype**2 - A0 * phi0) / phi1
        b0 = (mp.sqrt(A0) + mp.sqrt(B1)) / 2
        return [b0, mp.sqrt(A0) - b0, mp.mpf(0), a1, a2]
    if kind == "highpass":
        b0 = q_prototype * mp.sqrt(power) / (4 * phi1)
        return [b0, -2 * b0, b0, a1, a2]
    if kind == "bandpass":
        B2 = (power - slope * phi1) / (4 * phi1**2)
        B1 = slope + 4 * (phi1 - phi0) * B2
        b1 = -mp.sqrt(B1) / 2
        b0 = (mp.sqrt(B2 + b1**2) - b1) / 2
        return [b0, b1, -b0 - b1, a1, a2]
    R1, R2, B0 = gain**2 * power, gain**2 * slope, A0
    B2 = (R1 - R2 * phi1 - B0) / (4 * phi1**2)
    B1 = R2 + B0 + 4 * (phi1 - phi0) * B2
    W = (mp.sqrt(B0) + mp.sqrt(B1)) / 2
    b0 = (W + mp.sqrt(W**2 + B2)) / 2
    return [b0, (mp.sqrt(B0) - mp.sqrt(B1)) / 2, -B2 / (4 * b0), a1, a2]


def orfanidis(G0, G, GB, w0, Dw):
    """The design equations of 'Digital Parametric Equalizer Design with Prescribed Nyquist-Frequency Gain'."""
    F, G00, F00 = abs(G**2 - GB**2), abs(G**2 - G0**2), abs(GB**2 - G0**2)
    tail = F00 * mp.pi**2 * Dw**2 / F
    far = (w0**2 - mp.pi**2) ** 2
    G1 = mp.sqrt((G0**2 * far + G**2 * tail) / (far + tail))
    G01, G11 = abs(G**2 - G0 * G1), abs(G**2 - G1**2)
    F01, F11 = abs(GB**2 - G0 * G1), abs(GB**2 - G1**2)
    W2 = mp.sqrt(G11 / G00) * mp.tan(w0 / 2) ** 2
    DW = (1 + mp.sqrt(F00 / F11) * W2) * mp.tan(Dw / 2)
    C = F11 * DW**2 - 2 * W2 * (F01 - mp.sqrt(F00 * F11))
    D = 2 * W2 * (G01 - mp.sqrt(G00 * G11))
    A, B = mp.sqrt((C + D) / F), mp.sqrt((G**2 * C + GB**2 * D) / F)
    scale = 1 + W2 + A
    b = [G1 + G0 * W2 + B, -2 * (G1 - G0 * W2), G1 - B + G0 * W2]
    return [value / scale for value in (*b, -2 * (1 - W2), 1 + W2 - A)]


def papers():
    mp.mp.dps = 50
    for kind, f0, q, gain_db in SECTIONS:
        for fs in (48000, 96000):
            told = {"type": kind, "frequencyHz": f0, "q": q, "sampleRateHz": fs}
            w0 = 2 * mp.pi * mp.mpf(f0) / fs
            if gain_db is not None:
                told["gainDb"] = gain_db
            gain = mp.power(10, mp.mpf(gain_db or 0) / 20)
            q_mp = mp.mpf(q)
            if kind in ("lowpass", "highpass", "bandpass", "peaking"):
                found = vicanek(kind, w0, q_mp, gain)
                yield {**told, "design": "matched", "coefficients": [float(c) for c in found]}
            ends = {"peaking": (1, gain, mp.sqrt(gain)), "notch": (1, 0, mp.sqrt(0.5)), "bandpass": (0, 1, mp.sqrt(0.5))}
            # Beyond this edge src/filters prescribes another bandwidth gain than the paper's usual one.
            upper_edge = f0 * (np.sqrt(1 + 0.25 / q**2) + 0.5 / q)
            if kind in ends and upper_edge < f0 + 0.9 * (fs / 2 - f0):
                found = orfanidis(*ends[kind], w0, w0 / q_mp)
                yield {**told, "design": "nyquist-gain", "coefficients": [float(c) for c in found]}


b, a = signal.iirnotch(0.06, 30)
made_by = f"SciPy {scipy.__version__}, NumPy {np.__version__}, mpmath {mp.__version__}, Python {sys.version.split()[0]}"
print(json.dumps({"part": "header", "madeBy": f"make-scipy-table.py with {made_by}", "hz": HZ, "analogueHz": ANALOGUE_HZ}))
print(json.dumps({"part": "iirnotch", "w0": 0.06, "q": 30, "b": list(b), "a": list(a)}))
for part, rows in (("cut", cuts()), ("section", sections()), ("delay", delays()), ("paper", papers())):
    for row in rows:
        print(json.dumps({"part": part, **row}))

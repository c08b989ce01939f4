"""Makes pilot-table.jsonl: what the guard room works out, by routes that share nothing with src/guard.

    python3 test/published/make-pilot-table.py > test/published/pilot-table.jsonl

Integrals are adaptive (scipy.integrate.quad) over frequency itself, responses come from scipy.signal.freqz and freqs
of coefficients written out here (W3C Audio EQ Cookbook) or designed by scipy.signal.butter. The power that reaches the
pilot is found by making sum and difference of two channels as numpy arrays, not by a formula for it.
The loop's natural frequency is the root of its integrated noise response; low-pass taps are scipy.signal.firwin's.
One JSON value a line: first what made the table, then a row a line, its `part` told first.
"""

import json
import sys

import numpy as np
import scipy
from scipy import integrate, optimize, signal

TWO_PI = 2 * np.pi


def emit(part, **row):
    print(json.dumps({"part": part, **row}))


def cookbook(kind, f0, fs, q, gain_db=0.0):
    w0 = TWO_PI * f0 / fs
    c, alpha = np.cos(w0), np.sin(w0) / (2 * q)
    if kind == "notch":
        return [1, -2 * c, 1], [1 + alpha, -2 * c, 1 - alpha]
    amp = 10 ** (gain_db / 40)
    return [1 + alpha * amp, -2 * c, 1 - alpha * amp], [1 + alpha / amp, -2 * c, 1 - alpha / amp]


def power(filters, fs, f):
    """|H|^2 of filters at one frequency, or of their analogue prototypes where there is no sample rate."""
    total = 1.0
    for each in filters:
        kind, f0 = each["type"], each["frequencyHz"]
        if kind == "lowpass":
            order = each["slopeDbPerOctave"] // 6
            if fs is None:
                b, a = signal.butter(order, TWO_PI * f0, analog=True)
            else:
                b, a = signal.butter(order, f0, fs=fs)
        elif fs is None:
            q, amp = each["q"], 10 ** (each.get("gainDb", 0) / 40)
            w = TWO_PI * f0
            if kind == "notch":
                b, a = [1, 0, w * w], [1, w / q, w * w]
            else:
                b, a = [1, w * amp / q, w * w], [1, w / (amp * q), w * w]
        else:
            b, a = cookbook(kind, f0, fs, each["q"], each.get("gainDb", 0))
        _, h = signal.freqs(b, a, worN=[TWO_PI * f]) if fs is None else signal.freqz(b, a, worN=[f], fs=fs)
        total *= abs(h[0]) ** 2
    return total


def emphasis(f, microseconds):
    return 1 + (TWO_PI * f * microseconds * 1e-6) ** 2


def pink_share(lo, hi, filters, fs, microseconds, low=20, high=20000):
    hi = min(hi, high, np.inf if fs is None else fs / 2)
    breaks = [f["frequencyHz"] for f in filters if lo < f["frequencyHz"] < hi]
    value, _ = integrate.quad(
        lambda f: power(filters, fs, f) * emphasis(f, microseconds) / f,
        lo, hi, points=breaks or None, limit=400, epsrel=1e-9, epsabs=0,
    )
    return value / np.log(high / low)


def reach(image):
    """Power round the pilot over one channel's there, from two long unrelated noises and their sum and difference."""
    rng = np.random.default_rng(20)
    one, other = rng.standard_normal((2, 4_000_000))
    left, right = {
        "left-only": (one, 0 * one),
        "right-only": (0 * one, one),
        "identical": (one, one),
        "independent": (one, other),
    }[image]
    middle, side = (left + right) / 2, (left - right) / 2
    return (np.mean(middle**2) + np.mean((side / 2) ** 2)) / np.mean(one**2)


def ratios():
    high_cut = {"type": "lowpass", "frequencyHz": 15000, "slopeDbPerOctave": 12}
    steep = {"type": "lowpass", "frequencyHz": 15000, "slopeDbPerOctave": 24}
    notch = {"type": "notch", "frequencyHz": 19000, "q": 5}
    narrow = {"type": "notch", "frequencyHz": 18950, "q": 60}
    bell = {"type": "peaking", "frequencyHz": 19320, "q": 8, "gainDb": -15}
    chains = [[], [high_cut], [high_cut, notch], [narrow], [bell], [steep, bell]]
    for fs in (44100, 48000, 96000, None):
        for filters in chains:
            if fs == 44100 and filters not in ([narrow], [bell], [high_cut, notch]):
                continue
            for microseconds, line_up, window, image in (
                (50, 0, 100, "identical"), (75, -12, 100, "independent"), (50, -6, 300, "left-only"),
            ):
                arriving = 0.5 * 10 ** (-18 / 10) * reach(image)
                arriving *= (0.9 / 10 ** (line_up / 20)) ** 2 / emphasis(1000, microseconds)
                arriving *= pink_share(19000 - window, 19000 + window, filters, fs, microseconds)
                emit("ratio", filters=filters, sampleRateHz=fs, preEmphasisMicroseconds=microseconds,
                     lineUpDbfs=line_up, windowHz=window, image=image,
                     db=float(f"{10 * np.log10(0.09**2 / 2 / arriving):.7g}"))


def loops():
    zeta = 1 / np.sqrt(2)

    def noise_bandwidth(wn):
        def response(f):
            s = 2j * np.pi * f
            return abs((2 * zeta * wn * s + wn * wn) / (s * s + 2 * zeta * wn * s + wn * wn)) ** 2
        return integrate.quad(response, 0, np.inf, limit=400)[0]

    for bandwidth in (10, 30, 100, 300):
        wn = optimize.brentq(lambda w: noise_bandwidth(w) - bandwidth, bandwidth / 10, bandwidth * 10)
        emit("loop", noiseBandwidthHz=bandwidth, naturalFrequency=float(f"{wn:.7g}"))


def taps():
    for fs, low, high, stop in ((192000, 15000, 18500, 90), (96000, 23000, 25000, 80)):
        half = int(np.ceil((stop - 7.95) / (2.285 * TWO_PI * (high - low) / fs) / 2))
        beta = signal.kaiser_beta(stop)
        h = signal.firwin(2 * half + 1, (low + high) / 2, window=("kaiser", beta), fs=fs)
        length, _ = signal.kaiserord(stop, (high - low) / (fs / 2))
        emit("taps", sampleRateHz=fs, passHz=low, stopHz=high, stopDb=stop, least=length,
             count=len(h), middle=[float(f"{x:.12g}") for x in h[half : half + 12]])


def runs():
    rng = np.random.default_rng(3)
    x = np.round(rng.uniform(-1, 1, 16), 6)
    z = np.fft.fft(x[:8] + 1j * x[8:])
    emit("fourier", real=list(x[:8]), imaginary=list(x[8:]),
         toReal=[float(v) for v in z.real], toImaginary=[float(v) for v in z.imag])
    b, a = cookbook("peaking", 19000, 48000, 5, -18)
    low_b, low_a = signal.butter(2, 15000, fs=48000)
    y = signal.lfilter(low_b, low_a, signal.lfilter(np.array(b), np.array(a), x))
    emit("run", samples=list(x), out=[float(v) for v in y])


def random():
    state, values = 2463534242, []
    for _ in range(6):
        state ^= (state << 13) & 0xFFFFFFFF
        state ^= state >> 17
        state ^= (state << 5) & 0xFFFFFFFF
        values.append(state)
    emit("random", seed=2463534242, values=values)


emit("header", madeBy=f"make-pilot-table.py with SciPy {scipy.__version__}, NumPy {np.__version__}, "
     f"Python {sys.version.split()[0]}")
ratios()
loops()
taps()
runs()
random()

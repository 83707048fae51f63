#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Flutter readings of three recordings by SciPy, for ScipyFlutterTest.

Shares no code with the library. The recordings are closed-form; the deviations are written in the table as

  sine:RATE_HZ:PEAK:PHASE          PEAK sin(2 pi RATE t + PHASE)
  comb:COUNT:LOWEST:HIGHEST:PEAK   COUNT sines of equal peak, rate k = LOWEST (HIGHEST/LOWEST)^(k/(COUNT-1)),
                                   phase k = 2 pi frac(0.618034 k^2)
  pulses:HEIGHT:WIDTH:PERIOD:START rectangular pulses

and the instantaneous frequency is nominal (1 + speedError) (1 + drift t + sum of the deviations).

Weighting: poles and zeros in Hz of the documentation of the library's weighting, 0 dB at 4 Hz. Quasi-peak: from the words
and constants of the documentation of the library's detector, stepped at 48 kHz / 6. Both are the definition of what is
measured; the published standard gives no formula for either.

Run: python3 flutter_reference.py > ../resources/org/tapemetrology/core/flutter/scipy_flutter.csv
"""
import numpy as np
import scipy
from scipy import signal

RATE = 48000
SECONDS = 40
NOMINAL = 3150.0
RECORDINGS = [
    ("two-rates", 0.003, 0.0, "sine:4:0.001:0 sine:23:0.0012:1.1 sine:0.9:0.0008:0.4"),
    ("comb", -0.07, 0.0, "comb:61:0.35:160:0.0002"),
    ("pulses-and-drift", 0.011, 2e-6, "pulses:0.002:0.1:1:0.25 sine:11:0.0003:2"),
]

ZEROS = [0, 0, 0, -4.9024, -91.6101]
POLES = [-0.3066 + 0.2939j, -0.3066 - 0.2939j, -2.0549, -3.2472, -12.4342, -116.8960]
HOLD_ATTACK, HOLD_DECAY, SMOOTH_ATTACK, SMOOTH_DECAY, METER = 0.0346, 0.880, 0.0844, 0.135, 0.125


def sines(text):
    kind, *numbers = text.split(":")
    numbers = [float(n) for n in numbers]
    if kind == "sine":
        return [tuple(numbers)]
    count, lowest, highest, peak = numbers
    k = np.arange(int(count))
    rates = lowest * (highest / lowest) ** (k / (count - 1))
    phases = 2 * np.pi * np.mod(0.618034 * k * k, 1)
    return [(r, peak, p) for r, p in zip(rates, phases)]


def integral(text, t):
    """Integral of a deviation from 0 to t."""
    if text.startswith("pulses"):
        height, width, period, start = [float(n) for n in text.split(":")[1:]]
        since = t - start
        whole = np.floor(since / period)
        area = whole * width + np.minimum(since - whole * period, width)
        return height * np.where(since < 0, 0, area)
    total = np.zeros_like(t)
    for rate, peak, phase in sines(text):
        w = 2 * np.pi * rate
        total += peak / w * (np.cos(phase) - np.cos(w * t + phase))
    return total


def recording(speed_error, drift, deviations):
    t = np.arange(RATE * SECONDS) / RATE
    s = t + drift * t * t / 2
    for deviation in deviations.split():
        s = s + integral(deviation, t)
    # whole cycles off before the sine, so that its argument stays small
    return 0.5 * np.sin(2 * np.pi * np.mod(NOMINAL * (1 + speed_error) * s, 1))


def detector(x, rate):
    """Indication of detector A, without its scale."""
    step = 1 / rate
    up = down = s = m = 0.0
    out = np.empty(len(x))
    rise, fall = 1 - np.exp(-step / HOLD_ATTACK), np.exp(-step / HOLD_DECAY)
    smooth_rise, smooth_fall = 1 - np.exp(-step / SMOOTH_ATTACK), np.exp(-step / SMOOTH_DECAY)
    needle = 1 - np.exp(-step / METER)
    for i, v in enumerate(x.tolist()):
        up = up + rise * (v - up) if v > up else up * fall
        down = down + rise * (-v - down) if -v > down else down * fall
        y = max((v + down) / 2, (up - v) / 2)
        s = s + smooth_rise * (y - s) if y > s else s * smooth_fall
        m += needle * (s - m)
        out[i] = m
    return out


def readings(x, scale):
    phase = np.unwrap(np.angle(signal.hilbert(x)))
    edge = RATE // 20
    mean = (phase[-edge - 1] - phase[edge]) / (2 * np.pi * (len(x) - 2 * edge - 1)) * RATE
    yield "speed.error", 100 * (mean / NOMINAL - 1)
    d = np.diff(phase) * RATE / (2 * np.pi) / mean - 1
    d[:edge] = d[edge]
    d = d[:-edge]

    k = 1 / abs(np.prod([4j - z for z in ZEROS]) / np.prod([4j - p for p in POLES]))
    rad = 2 * np.pi
    z, p, k = signal.bilinear_zpk(rad * np.array(ZEROS), rad * np.array(POLES), k * rad, RATE)
    weighted = 100 * signal.sosfilt(signal.zpk2sos(z, p, k), d)
    settled = weighted[3 * RATE:]
    yield "flutter.weighted.rms", np.sqrt(np.mean(settled ** 2))
    yield "flutter.weighted.two-sigma", np.quantile(np.abs(settled), 0.95)
    yield "flutter.weighted.average", np.mean(np.abs(settled)) * np.pi / (2 * np.sqrt(2))
    # One whole part of 30 s from 3 s on; the 7 s that are left are less than half a part.
    indication = scale * detector(weighted[::6], RATE / 6)
    yield "flutter.weighted.quasi-peak", np.max(indication[3 * RATE // 6:33 * RATE // 6])

    flat = 100 * d
    for kind, edge_hz in (("highpass", 0.075), ("lowpass", 270)):
        flat = signal.sosfilt(signal.butter(4, edge_hz, kind, fs=RATE, output="sos"), flat)
    yield "flutter.unweighted.rms", np.sqrt(np.mean(flat[15 * RATE:] ** 2))


def main():
    print("# flutter_reference.py, 2026-11-25, SciPy %s, NumPy %s" % (scipy.__version__, np.__version__))
    print("recording,sampleRateHz,seconds,nominalHz,amplitude,speedError,driftPerSecond,deviations,quantity,value")
    t = np.arange(10 * RATE // 6) * 6 / RATE
    scale = 1 / np.max(detector(np.sin(2 * np.pi * 4 * t), RATE / 6))
    for name, speed_error, drift, deviations in RECORDINGS:
        x = recording(speed_error, drift, deviations)
        for quantity, value in readings(x, scale):
            print("%s,%d,%d,%g,0.5,%g,%g,%s,%s,%.9g"
                  % (name, RATE, SECONDS, NOMINAL, speed_error, drift, deviations, quantity, value))


if __name__ == "__main__":
    main()

#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Magnitudes of Butterworth filters by SciPy, for ButterworthTest.

Run: python3 filter_reference.py > ../resources/org/tapemetrology/core/filter/scipy_butterworth.csv
"""
import numpy as np
import scipy
from scipy import signal

FILTERS = [
    ("lowpass", 1, 100, 4000),
    ("lowpass", 2, 200, 2000),
    ("lowpass", 4, 270, 4000),
    ("lowpass", 7, 1500, 8000),
    ("lowpass", 12, 3000, 44100),
    ("highpass", 2, 0.5, 2000),
    ("highpass", 4, 0.075, 4000),
    ("highpass", 5, 300, 4000),
    ("highpass", 4, 10, 2000),
]


def main():
    print("# filter_reference.py, 2026-11-25, SciPy %s, NumPy %s" % (scipy.__version__, np.__version__))
    print("kind,order,edgeHz,sampleRateHz,frequencyHz,magnitude")
    for kind, order, edge, rate in FILTERS:
        z, p, k = signal.butter(order, edge, kind, fs=rate, output="zpk")
        for ratio in (0.25, 0.5, 0.9, 1, 1.1, 2, 4):
            frequency = edge * ratio
            if frequency < 0.49 * rate:
                _, h = signal.freqz_zpk(z, p, k, worN=[frequency], fs=rate)
                print("%s,%d,%g,%d,%.9g,%.12g" % (kind, order, edge, rate, frequency, abs(h[0])))


if __name__ == "__main__":
    main()

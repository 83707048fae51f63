# SPDX-License-Identifier: Apache-2.0
"""Weighted wow and flutter of a test tone with SciPy, three ways, on one thread, to compare the time with.

usage: python3 peers.py METHOD FILE.f32 [ROUNDS]

METHOD is one of hilbert, resample_poly, upfirdn, none (imports and reads alone). FILE holds raw 32-bit floats at 48 kHz, one
channel. Prints, one JSON object: seconds of each round of computation without reading the file, the reading, peak memory.

The chain behind the demodulator is the same in all: a band of three second-order sections, as many as the weighting has, then a
rectifier with one pole for the peak, which is simpler than the detector of the standard. So the readings are some tenth off those of
the library, and the end of the recording spoils the peak of hilbert: times are compared here, not figures.
"""
import json
import os
import resource
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np
from scipy import signal

RATE = 48_000
TONE = 3150.0
FACTOR = 12


def low_pass(rate):
    """Pass 1.2 kHz, stop 2.772 kHz, 105 dB by Kaiser's formulas: the filter of the library."""
    taps, beta = signal.kaiserord(107, (2772 - 1200) / (rate / 2))
    return signal.firwin(taps | 1, (1200 + 2772) / 2, window=("kaiser", beta), fs=rate)


def deviation(z, rate):
    return np.angle(z[1:] * np.conj(z[:-1])) * rate / (2 * np.pi)


def by_hilbert(x):
    phase = np.unwrap(np.angle(signal.hilbert(x)))
    d = np.diff(phase) * RATE / (2 * np.pi) - TONE
    return signal.resample_poly(d, 1, FACTOR)


def by_resample_poly(x):
    """Real and imaginary part apart: complex input takes SciPy three times as long."""
    angle = 2 * np.pi * TONE / RATE * np.arange(len(x))
    taps = low_pass(RATE).astype(np.float32)
    re = signal.resample_poly(x * np.cos(angle).astype(np.float32), 1, FACTOR, window=taps)
    im = signal.resample_poly(x * -np.sin(angle).astype(np.float32), 1, FACTOR, window=taps)
    return deviation(re + 1j * im, RATE / FACTOR)


def by_upfirdn(x):
    """The mixer in the taps, as in the library; what is left of the turning comes off the deviation."""
    h = low_pass(RATE)
    k = np.arange(len(h))
    taps = 2 * h * np.exp(2j * np.pi * TONE / RATE * k)
    re = signal.upfirdn(taps.real.astype(np.float32), x, 1, FACTOR)
    im = signal.upfirdn(taps.imag.astype(np.float32), x, 1, FACTOR)
    z = re + 1j * im
    rate = RATE / FACTOR
    turn = np.exp(-2j * np.pi * TONE / rate)
    return np.angle(z[1:] * np.conj(z[:-1]) * turn) * rate / (2 * np.pi)


# A band around 4 Hz with as many sections as the weighting: cost, not conformity.
WEIGHTING = signal.butter(3, [0.6, 12], "bandpass", fs=RATE / FACTOR, output="sos")
LIMIT = signal.butter(8, 470, fs=RATE / FACTOR, output="sos")


def reading(d):
    limited = signal.sosfilt(LIMIT, d - np.mean(d[2000:]))
    weighted = np.abs(signal.sosfilt(WEIGHTING, limited))
    k = np.exp(-1 / (0.02 * RATE / FACTOR))
    peak = signal.lfilter([1 - k], [1, -k], weighted)[20_000:]
    return float(100 * np.max(peak) / TONE), float(100 * np.percentile(weighted[20_000:], 95) / TONE)


METHODS = {"hilbert": by_hilbert, "resample_poly": by_resample_poly, "upfirdn": by_upfirdn}


def main():
    method, path = sys.argv[1], sys.argv[2]
    rounds = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    x = np.fromfile(path, dtype=np.float32)
    times, values = [], None
    for _ in range(rounds if method != "none" else 0):
        begin = time.process_time()
        values = reading(METHODS[method](x))
        times.append(time.process_time() - begin)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps({"method": method, "seconds": times, "reading": values, "peakMiB": round(memory)}))


if __name__ == "__main__":
    main()

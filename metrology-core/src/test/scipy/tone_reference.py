# SPDX-License-Identifier: Apache-2.0
"""Sine fits, harmonic fits and averaged spectra by SciPy: python3 tone_reference.py fits > sine-fits-scipy.csv
and python3 tone_reference.py spectrum > welch-scipy.csv

Noise is that of a linear congruential generator, n(i+1) = 16807 n(i) mod 2147483647 from 1234567890, as in NIST SP 1065
12.4. Fits are polished by Gauss-Newton steps of NumPy's lstsq; they have amplitudes and phases for parameters, where the library has cosines and sines.
"""
import sys

import numpy as np
import scipy
from scipy import optimize, signal

MODULUS = 2147483647


def noise(length):
    n = 1234567890
    y = np.empty(length)
    for i in range(length):
        y[i] = n / MODULUS - 0.5
        n = 16807 * n % MODULUS
    return y


def fits():
    print(f"# tone_reference.py, SciPy {scipy.__version__}, NumPy {np.__version__}")
    print("length,rateHz,startHz,trueHz,harmonics,noise,frequencyHz,frequencyError,offset,offsetError,"
          "then amplitude,error,phase,error of each")
    for length, rate, start, true, harmonics, level in (
            (4800, 48000, 1000, 997.3, 1, 0.02), (4801, 44100, 3150, 3151.7, 1, 0.5), (1001, 48000, 50, 53, 1, 0.1),
            (9600, 48000, 315, 315.7, 3, 0.05), (9001, 96000, 1000, 1001.1, 5, 0.2)):
        n = np.arange(length)
        y = 0.25 + level * noise(length)
        for k in range(1, harmonics + 1):
            y += 0.7 / k**2 * np.cos(2 * np.pi * k * true * n / rate + 0.4 * k)
        t = (n - (length - 1) / 2) / rate

        def model(t, f, c, *ap):
            return c + sum(ap[2 * k] * np.cos(2 * np.pi * (k + 1) * f * t + ap[2 * k + 1]) for k in range(harmonics))

        def gradient(t, f, c, *ap):
            columns = [np.zeros_like(t), np.ones_like(t)]
            for k in range(harmonics):
                angle = 2 * np.pi * (k + 1) * f * t + ap[2 * k + 1]
                columns[0] -= ap[2 * k] * 2 * np.pi * (k + 1) * t * np.sin(angle)
                columns += [np.cos(angle), -ap[2 * k] * np.sin(angle)]
            return np.stack(columns, axis=1)

        middle = (length - 1) / 2 / rate
        guess = [true, 0.2]
        for k in range(1, harmonics + 1):
            guess += [0.6 / k**2, (2 * np.pi * k * true * middle + 0.4 * k + np.pi) % (2 * np.pi) - np.pi]
        values, covariance = optimize.curve_fit(
            model, t, y, guess, jac=gradient, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
        for _ in range(3):  # the sum of squares is flat where it stops, its gradient is not
            values = values + np.linalg.lstsq(gradient(t, *values), y - model(t, *values), rcond=None)[0]
        errors = np.sqrt(np.diag(covariance))
        cells = [length, rate, start, true, harmonics, level]
        cells += [repr(float(v)) for pair in zip(values, errors) for v in pair]
        print(",".join(str(c) for c in cells))


def spectrum():
    rate, size = 48000, 4096
    length = 20 * size
    n = np.arange(length)
    y = 0.1 * noise(length) + 0.01 * np.sin(2 * np.pi * 1000 * n / rate) + 0.001 * np.sin(2 * np.pi * 9999 * n / rate)
    # The library's window is centred between the samples; SciPy takes any window.
    window = 0.5 - 0.5 * np.cos(2 * np.pi * (np.arange(size) + 0.5) / size)
    f, density = signal.welch(y, rate, window=window, noverlap=size // 2, detrend=False)
    power = density * rate / size
    print(f"# tone_reference.py, SciPy {scipy.__version__}, NumPy {np.__version__}")
    print("kind,from,to,power")
    for k in (1, 2, 85, 86, 100, 853, 2000, 2047):
        print(f"bin,{k},{k},{float(power[k])!r}")
    for band in range(-13, 14):
        low, high = 1000 * 10 ** ((band - 0.5) / 10), 1000 * 10 ** ((band + 0.5) / 10)
        inside = np.flatnonzero((f >= low) & (f < high))
        print(f"band,{inside[0]},{inside[-1]},{float(power[inside].sum())!r}")


{"fits": fits, "spectrum": spectrum}[sys.argv[1]]()

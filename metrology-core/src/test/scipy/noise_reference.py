# SPDX-License-Identifier: Apache-2.0
"""Reference figures for the noise meter by SciPy and NumPy: python3 noise_reference.py > noise-reference.csv

The test signal is the sum of a linear congruential generator's uniform noise (n(i+1) = 16807 n(i) mod 2147483647, as in
NIST SP 1065 12.4) and of three sines. Powers come from its spectrum, weighted with the analogue curves, so nothing here
shares a filter with the meter.
"""
import numpy as np
from scipy import signal

SECONDS = 20
MODULUS = 2147483647


def test_signal(rate):
    n = 1234567890
    noise = np.empty(SECONDS * rate)
    for i in range(noise.size):
        noise[i] = n / MODULUS - 0.5
        n = 16807 * n % MODULUS
    t = np.arange(noise.size) / rate
    return (0.002 * noise + 0.001 * np.sin(2 * np.pi * 50 * t) + 0.0001 * np.sin(2 * np.pi * 3150 * t)
            + 0.0001 * np.sin(2 * np.pi * 10000 * t))


def a_weighting(f):
    fr2, fl2, fh2 = 1e6, 10**3.0, 10**7.8
    d = np.sqrt(0.5)
    b = (fr2 + fl2 * fh2 / fr2 - d * (fl2 + fh2)) / (1 - d)
    root = np.sqrt(b * b - 4 * fl2 * fh2)
    f1, f4 = np.sqrt((-b - root) / 2), np.sqrt((-b + root) / 2)
    f2, f3 = (3 - np.sqrt(5)) / 2 * 10**2.45, (3 + np.sqrt(5)) / 2 * 10**2.45
    poles = -2 * np.pi * np.array([f1, f1, f2, f3, f4, f4])
    _, h = signal.freqs_zpk([0, 0, 0, 0], poles, 1, worN=2 * np.pi * np.r_[1000.0, f])
    return np.abs(h[1:] / h[0])


def bs468(f):
    """The published closed form of the curve, not the poles that the meter has; h1 + j h2 is its denominator."""
    h1 = -4.737338981378384e-24 * f**6 + 2.043828333606125e-15 * f**4 - 1.363894795463638e-7 * f**2 + 1
    h2 = 1.306612257412824e-19 * f**5 - 2.118150887518656e-11 * f**3 + 5.559488023498642e-4 * f
    return 10 ** (18.2386752 / 20) * 1.246332637532143e-4 * 1j * f / (h1 + 1j * h2)


def butterworth_band(f):
    """Fourth-order edges at 22.4 Hz and 22.4 kHz, on the analogue axis."""
    return 1 / np.sqrt((1 + (22.4 / f) ** 8) * (1 + (f / 22400) ** 8))


def dbfs(rms):
    return 20 * np.log10(rms * np.sqrt(2))


print("rate,quantity,frequency,dbfs")
for rate in (44100, 48000, 96000):
    x = test_signal(rate)
    x = x[2 * rate:]  # whole seconds: every sine holds whole periods
    spectrum = np.fft.rfft(x) / x.size
    f = np.fft.rfftfreq(x.size, 1 / rate)
    power = 2 * np.abs(spectrum[1:]) ** 2
    f = f[1:]
    print(f"{rate},noise.a-weighted,,{dbfs(np.sqrt(np.sum(power * a_weighting(f)**2))):.4f}")
    weighted = np.fft.irfft(np.r_[0, spectrum[1:] * bs468(f)] * x.size, x.size)
    # Four times the rate by zero-padding the spectrum, then the mean of the rectified signal.
    fine = signal.resample(weighted, 4 * x.size)
    average = np.mean(np.abs(fine)) * np.pi / (2 * np.sqrt(2)) / np.abs(bs468(np.array([2000.0]))[0])
    print(f"{rate},noise.average,,{dbfs(average):.4f}")
    if rate > 2 * 22400:
        print(f"{rate},noise.unweighted,,{dbfs(np.sqrt(np.sum(power * butterworth_band(f)**2))):.4f}")
    for n in range(-4, 14):
        mid = 1000 * 10 ** (n / 10)
        edges = np.array([mid * 10**-0.05, mid * 10**0.05])
        if edges[1] > 0.47 * rate:
            break
        sos = signal.butter(4, edges, "bandpass", fs=rate, output="sos")
        _, h = signal.sosfreqz(sos, f, fs=rate)
        print(f"{rate},noise.third-octave,{mid:.6f},{dbfs(np.sqrt(np.sum(power * np.abs(h)**2))):.4f}")

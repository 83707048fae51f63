# SPDX-License-Identifier: Apache-2.0
"""Weighted RMS and average of noise by NumPy and SciPy: python3 weighting_reference.py > weighted-noise-scipy.csv

One second of a linear congruential generator's noise (n(i+1) = 16807 n(i) mod 2147483647 from 1234567890, as in NIST SP
1065 12.4) repeated for ever: the power of such a signal is that of its spectral lines, each weighted with the analogue
curve, and no end of it is cut off. The average is that of the signal at four times the rate.
"""
import numpy as np
import scipy
from scipy import signal

from noise_reference_curves import a_weighting, bs468, upper_edge

MODULUS = 2147483647

print(f"# weighting_reference.py, SciPy {scipy.__version__}, NumPy {np.__version__}")
print("rateHz,curve,figure,dB re RMS of the noise")
for rate in (32000, 44100, 48000, 96000, 192000):
    n = 1234567890
    x = np.empty(rate)
    for i in range(rate):
        x[i] = n / MODULUS - 0.5
        n = 16807 * n % MODULUS
    x -= x.mean()
    rms = np.sqrt(np.mean(x**2))
    spectrum = np.fft.rfft(x)
    f = np.fft.rfftfreq(rate, 1 / rate)[1:]
    for name, curve in (("a", a_weighting), ("bs468", bs468), ("edge", upper_edge)):
        if name == "edge" and rate < 44800:
            continue
        weighted = np.fft.irfft(np.r_[0, spectrum[1:] * curve(f)], rate)
        print(f"{rate},{name},rms,{20 * np.log10(np.sqrt(np.mean(weighted**2)) / rms):.6f}")
        if name == "bs468":
            fine = signal.resample(weighted, 4 * rate)
            print(f"{rate},{name},average,{20 * np.log10(np.mean(np.abs(fine)) / rms):.6f}")

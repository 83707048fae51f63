# SPDX-License-Identifier: Apache-2.0
"""The analogue curves of the noise figures, by formulas that the library does not have."""
import numpy as np
from scipy import signal


def a_weighting(f):
    """IEC 61672-1 annex E by its poles; the standard rounds the same figures."""
    poles = -2 * np.pi * np.array([20.598997, 20.598997, 107.65265, 737.86223, 12194.217, 12194.217])
    _, h = signal.freqs_zpk([0, 0, 0, 0], poles, 1, worN=2 * np.pi * np.r_[1000.0, f])
    return h[1:] / np.abs(h[0])


def bs468(f):
    """The published closed form of the curve, not the poles that the meter has; h1 + j h2 is its denominator."""
    h1 = -4.737338981378384e-24 * f**6 + 2.043828333606125e-15 * f**4 - 1.363894795463638e-7 * f**2 + 1
    h2 = 1.306612257412824e-19 * f**5 - 2.118150887518656e-11 * f**3 + 5.559488023498642e-4 * f
    return 10 ** (18.2386752 / 20) * 1.246332637532143e-4 * 1j * f / (h1 + 1j * h2)


def upper_edge(f):
    """Fourth-order Butterworth low-pass at 22.4 kHz."""
    b, a = signal.butter(4, 2 * np.pi * 22400, analog=True)
    return signal.freqs(b, a, worN=2 * np.pi * f)[1]

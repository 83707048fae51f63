# SPDX-License-Identifier: Apache-2.0
"""Reference figures for the multitaper spectrum by SciPy and NumPy: python3 spectrum_reference.py > spectrum-scipy.csv

The test series is the linear congruential generator's uniform noise (n(i+1) = 16807 n(i) mod 2147483647, as in NIST SP
1065 12.4) through one pole, so that its density falls, and a sine. The multitaper density is made here from SciPy's
tapers, the mean over the tapers of the periodograms.
"""
import datetime
import numpy as np
import scipy
from scipy import signal

MODULUS = 2147483647
RATE = 1000.0


def series(length):
    n = 1234567890
    noise = np.empty(length)
    for i in range(length):
        noise[i] = n / MODULUS - 0.5
        n = 16807 * n % MODULUS
    shaped = signal.lfilter([0.1], [1, -0.9], noise)
    return 0.001 * shaped + 0.0005 * np.sin(2 * np.pi * 7.58 * np.arange(length) / RATE)


print(f"# spectrum_reference.py, {datetime.date.today()}, SciPy {scipy.__version__}, NumPy {np.__version__}")
print("kind,length,nw,order,index,value")
for length, nw, orders in ((64, 2.5, 4), (255, 4, 7), (1024, 4, 7), (8192, 4, 7)):
    tapers, ratios = signal.windows.dpss(length, nw, orders, return_ratios=True)
    for k in range(orders):
        print(f"concentration,{length},{nw},{k},,{ratios[k]:.12f}")
        for i in sorted({int(i) for i in np.linspace(0, length - 1, 9)}):
            print(f"taper,{length},{nw},{k},{i},{tapers[k, i]:.12e}")

length = 8192
x = series(length)
t = np.linspace(-1, 1, length)
x = x - np.polynomial.legendre.legval(t, np.polynomial.legendre.legfit(t, x, 3))
tapers = signal.windows.dpss(length, 4, 7)
density = np.mean(np.abs(np.fft.rfft(tapers * x, axis=1)) ** 2, axis=0) * 2 / RATE
for k in (4, 8, 20, 62, 100, 400, 1000, 2500, 3800):
    print(f"density,{length},4,,{k},{density[k]:.9e}")

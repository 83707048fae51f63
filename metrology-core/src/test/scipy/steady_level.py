# SPDX-License-Identifier: Apache-2.0
"""Independent reference for the statistics of a jumping level, by NumPy and SciPy.

Autocovariances by Fourier transform, the initial monotone sequence of Geyer (Statistical Science 7 (1992) p. 473) on
vectors, percentiles from the sorted values, Student's t and the time needed by SciPy.

Run from src/test: python3 scipy/steady_level.py
"""
import os

import numpy as np
import scipy
from scipy import optimize, signal, stats

OUT = os.path.join("resources", "org", "tapemetrology", "core", "level")
WINDOW = 0.1


def series(rng):
    """Levels of consecutive 100 ms windows in dBFS, rounded to what the table holds."""
    white = -12 + 0.5 * rng.normal(size=150)
    phi = np.exp(-WINDOW / 0.5)
    jumping = -18 + signal.lfilter([np.sqrt(1 - phi**2)], [1, -phi], rng.normal(size=1100))[100:]
    swaying = -6 + 0.4 * np.sin(2 * np.pi * 0.55 * WINDOW * np.arange(400)) + 0.2 * rng.normal(size=400)
    dropout = np.full(300, -10.0) + 0.1 * rng.normal(size=300)
    dropout[137] -= 25
    return {"white": white, "jumping": jumping, "swaying": swaying, "dropout": dropout}


def scatter(p):
    n = len(p)
    d = np.fft.rfft(p - p.mean(), 4 * n)
    g = np.fft.irfft(d * d.conj())[:n] / n
    pairs = g[: n // 2 * 2].reshape(-1, 2).sum(axis=1)
    stop = np.argmax(pairs <= 0) if (pairs <= 0).any() else len(pairs)
    pairs = np.minimum.accumulate(pairs[:stop])
    width = 4 * stop - 1
    total = max((2 * pairs.sum() - g[0]) / max(0.1, 1 - width / n), g[0] / 2)
    u = np.sqrt(total / n)
    return u, n / width, p.var(ddof=1) / u**2


rng = np.random.default_rng(20261125)
with open(os.path.join(OUT, "steady-level-scipy.csv"), "w") as out:
    out.write(f"# steady_level.py, NumPy {np.__version__}, SciPy {scipy.__version__}\n")
    out.write("# name,level,mean of levels,median,2.5 %,97.5 %,u dB,effective windows,U95 dB,s for 0.1 dB 95 %,levels\n")
    for name, x in series(rng).items():
        x = np.round(x, 4)
        p = 10 ** (x / 10)
        u, freedom, effective = scatter(p)
        u_db = 10 / np.log(10) * u / p.mean()
        t95 = lambda f: stats.t.ppf(0.975, max(f, 1.0))
        times = optimize.brentq(lambda r: t95(freedom * r) * u_db / np.sqrt(r) - 0.1, 1e-6, 1e6, xtol=1e-12)
        needed = times * WINDOW * len(x)
        figures = [10 * np.log10(p.mean()), x.mean(), *np.quantile(x, [0.5, 0.025, 0.975], method="inverted_cdf"),
                   u_db, effective, t95(freedom) * u_db, needed]
        out.write(name + "," + ",".join(f"{v:.9g}" for v in figures) + "," + " ".join(f"{v:.4f}" for v in x) + "\n")

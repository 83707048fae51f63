# SPDX-License-Identifier: Apache-2.0
"""Independent reference for replay curves, losses and the loss fit, by NumPy and SciPy.

Run from src/test: python3 scipy/replay_losses.py
"""
import os

import numpy as np
from scipy import optimize

OUT = os.path.join("resources", "org", "tapemetrology", "core", "loss")
F = np.array([63, 125, 250, 315, 500, 1000, 2000, 4000, 6300, 8000, 10000, 12500, 14000, 16000.0])
V_UM = 47600.0
LAMBDA = V_UM / F


def flux(f, t1, t2):
    # The magnitude of the analogue network itself rather than the formula in decibels.
    s = 2j * np.pi * f
    h = 1 / (1 + s * t2)
    if t1:
        h = h * (1 + s * t1) / (s * t1)
    return 20 * np.log10(np.abs(h))


def spacing(d, lam):
    return -20 * np.log10(np.exp(-2 * np.pi * d / lam))


def sinc_loss(length, lam):
    return -20 * np.log10(np.abs(np.sinc(length / lam)))


def thickness(d, lam):
    # Mean of the spacing losses of all layers, by numerical integration.
    y = (np.arange(20000) + 0.5) / 20000 * d
    return -20 * np.log10(np.array([np.mean(np.exp(-2 * np.pi * y / l)) for l in lam]))


def azimuth(arcmin, width_mm, lam):
    # Mean over the width of the track of the phase that the skew makes there, by numerical integration.
    y = ((np.arange(200000) + 0.5) / 200000 - 0.5) * width_mm * 1e3 * np.tan(np.radians(arcmin / 60))
    return -20 * np.log10(np.array([np.abs(np.mean(np.exp(2j * np.pi * y / l))) for l in lam]))


with open(os.path.join(OUT, "losses-scipy.csv"), "w") as out:
    out.write("# kind,size,frequencyHz,dB at 4.76 cm/s; azimuth on 0.6 mm; flux as t1+t2 in us\n")
    for kind, sizes, function in [
        ("spacing", [0.1, 0.7, 2.0], spacing),
        ("gap", [0.8, 1.5, 2.5], lambda g, lam: sinc_loss(1.11 * g, lam)),
        ("thickness", [0.5, 3.0, 12.0], thickness),
        ("azimuth", [2.0, 9.0, 15.0], lambda a, lam: azimuth(a, 0.6, lam)),
    ]:
        for size in sizes:
            for f, loss in zip(F, function(size, LAMBDA)):
                out.write(f"{kind},{size},{f},{loss:.9f}\n")
    for t1, t2 in [(3180, 120), (3180, 70), (1590, 120), (0, 35), (0, 17.5)]:
        for f, level in zip(F, flux(F, t1 * 1e-6, t2 * 1e-6)):
            out.write(f"flux,{t1}+{t2},{f},{level:.9f}\n")

# Least-squares fits of noisy responses, by trust region: values, standard errors, sum of squares, AICc.
rng = np.random.default_rng(20261125)
MODELS = {
    "spacing": lambda p: p[0] - spacing(p[1], LAMBDA),
    "gap": lambda p: p[0] - sinc_loss(1.11 * p[1], LAMBDA),
    "azimuth": lambda p: p[0] + 20 * np.log10(np.abs(np.sinc(600 * np.tan(np.radians(p[1] / 60)) / LAMBDA))),
    "thickness": lambda p: p[0] + 20 * np.log10(-np.expm1(-2 * np.pi * p[1] / LAMBDA) / (2 * np.pi * p[1] / LAMBDA)),
    "time constant": lambda p: p[0] + flux(F, 3180e-6, 120e-6) - flux(F, 3180e-6, p[1] * 1e-6),
}
START = {"spacing": 0.5, "gap": 1.0, "azimuth": 8.0, "thickness": 2.0, "time constant": 100.0}
TRUTH = {"spacing": 0.6, "gap": 1.6, "azimuth": 14.0, "thickness": 4.0, "time constant": 70.0}
with open(os.path.join(OUT, "loss-fit-scipy.csv"), "w") as out:
    out.write("# truth,level dB at each frequency (63 Hz to 16 kHz)\n")
    out.write("# truth,fitted cause,offset,its error,size,its error,sum of squares,AICc\n")
    for truth, size in TRUTH.items():
        y = np.round(MODELS[truth]([0.3, size]) + rng.normal(0, 0.2, len(F)), 4)
        out.write(truth + "," + ",".join(f"{v:.4f}" for v in y) + "\n")
        for cause, model in MODELS.items():
            # From several starts, since the losses of gap and azimuth have nulls.
            fit = min((optimize.least_squares(
                lambda p: model(p) - y, [0, START[cause] * scale], x_scale=[0.1, START[cause]],
                jac="3-point", xtol=1e-14, ftol=1e-14, gtol=1e-14, bounds=([-50, 1e-3], [50, 1e4]))
                for scale in (0.3, 0.6, 1, 1.6, 2)), key=lambda f: f.cost)
            rss = 2 * fit.cost
            n, k = len(F), 3
            cov = np.linalg.inv(fit.jac.T @ fit.jac) * rss / (n - 2)
            aicc = n * np.log(rss / n) + 2 * k + 2 * k * (k + 1) / (n - k - 1)
            e = np.sqrt(np.diag(cov))
            out.write(f"{truth},{cause},{fit.x[0]:.6f},{e[0]:.6f},{fit.x[1]:.6f},{e[1]:.6f},{rss:.6f},{aicc:.5f}\n")

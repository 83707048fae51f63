#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Ratios to the yardstick and multiples of real time from a run of the benchmarks.

usage: benchmarks/ratios.py RESULT.json

RESULT.json is what JMH writes with `-rf json -rff RESULT.json`. Every benchmark works on a minute of recording, but for the sine
fit, which takes half a second; the yardstick is `YardstickBenchmark.sumOfSquares`, a minute at 48 kHz, of the same run.
"""
import json
import sys

SECONDS = {"sineFitOfHalfASecond": 0.5}
SAMPLES = {"fullReading96k": 2, "fullReading48kStereo": 2, "wholeMeasurement48kStereo": 2, "stereo48k": 2}


def main():
    runs = json.load(open(sys.argv[1]))
    unit = {"ms/op": 1e-3, "us/op": 1e-6}
    rows = []
    for run in runs:
        name = ".".join(run["benchmark"].split(".")[-2:])
        metric = run["primaryMetric"]
        scale = unit[metric["scoreUnit"]]
        rows.append((name, run.get("params") or {}, metric["score"] * scale, metric["scoreError"] * scale))
    yardstick = [s for n, _, s, _ in rows if n == "YardstickBenchmark.sumOfSquares"]
    print("| benchmark | parameters | ms | error | times yardstick | per sample | times real time |")
    print("|---|---|---|---|---|---|---|")
    for name, parameters, score, error in rows:
        method = name.split(".")[1]
        ratio = score / yardstick[0] if yardstick else float("nan")
        samples = SAMPLES.get(method, 1)
        if "rate" in parameters:
            samples = int(parameters["rate"]) / 48000
        text = ", ".join(f"{k} {v}" for k, v in parameters.items())
        print(
            f"| `{name}` | {text} | {1e3 * score:.3g} | {1e3 * error:.2g} | {ratio:.3g} | {ratio / samples:.3g} "
            f"| {SECONDS.get(method, 60) / score:.4g} |"
        )


if __name__ == "__main__":
    main()

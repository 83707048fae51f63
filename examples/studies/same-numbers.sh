#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Measures a fixed set of generated recordings on several Java machines, each compiled and interpreted (-Xint), and
# compares every reading with those of the first: same status, same warnings, values within 1e-9 of each other.
#
# usage: same-numbers.sh JAVA_HOME [JAVA_HOME...]   after "mvn package"; needs Python 3 and takes a minute of processor time.
# Other class files than those of the packaged workbench: CLASSPATH_OF_WORKBENCH=... same-numbers.sh ...
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
classes=${CLASSPATH_OF_WORKBENCH:-$here/../target/workbench.jar}
[ $# -gt 0 ] || { echo "usage: $0 JAVA_HOME [JAVA_HOME...]" >&2; exit 64; }
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT

workbench() { # workbench JAVA_HOME JAVA_OPTION... -- ARGUMENT...
  local java=$1/bin/java options=()
  shift
  while [ "$1" != -- ]; do
    options+=("$1")
    shift
  done
  shift
  "$java" ${options[@]+"${options[@]}"} -cp "$classes" org.tapemetrology.examples.Workbench "$@"
}
generate() {
  local name=$1
  shift
  workbench "$first" -- generate --out "$folder/$name.wav" "$@"
}

first=$1
generate clean --seconds 12 --rate 8000
generate flutter --seconds 36 --rate 16000 --speed-error 0.4 --drift 0.02 --flutter 4:0.08 --flutter 0.63:0.1 --hiss -60
generate stereo --seconds 10 --rate 48000 --channels 2 --samples pcm16 --flutter 10:0.05 --hum 50:-50 --hiss -70
generate dropouts --seconds 20 --rate 11025 --flutter 6.3:0.1 --dropout 5000:0.02:40 --dropout 11000:0.3:60
generate fast --seconds 9 --rate 96000 --tone 3000 --speed-error -1.5 --flutter 100:0.02 --level -20
generate other --seconds 9 --rate 44100 --tone 1000 --level -12 --hiss -55
generate short --seconds 0.7 --rate 48000
generate faint --seconds 9 --rate 22050 --level -70 --samples pcm16 --flutter 4:0.2

for home in "$@"; do
  for options in "" -Xint; do
    workbench "$home" $options -- measure --format json "$folder"/*.wav >>"$folder/numbers.txt"
    version=$("$home/bin/java" -version 2>&1 | sed -n 's/^[^"]*"\([^"]*\)".*/\1/p')
    echo "{\"run\":\"Java $version${options:+ $options}\"}" >>"$folder/numbers.txt"
  done
done

python3 - "$folder/numbers.txt" <<'PYTHON'
import json, sys

WITHIN = 1e-9
NUMBERS = {"value": 0, "expandedUncertainty": 0}
runs, lines = [], []
for line in open(sys.argv[1]):
    read = json.loads(line)
    if "run" in read:
        runs.append((read["run"], lines))
        lines = []
    else:
        lines.append(read)

name, reference = runs[0]
count = sum(len(one["readings"]) for one in reference)
values = sum(r["value"] is not None for one in reference for r in one["readings"])
print(f"{len(reference)} recordings, {count} readings, {values} with a value; reference: {name}")
failed = values < 100
for name, lines in runs[1:]:
    worst, where, different = 0.0, "", 0
    assert len(lines) == len(reference), f"{name} measured {len(lines)} recordings"
    for one, other in zip(reference, lines):
        if one["warnings"] != other["warnings"] or len(one["readings"]) != len(other["readings"]):
            different += 1
            continue
        for a, b in zip(one["readings"], other["readings"]):
            for number in ("value", "expandedUncertainty"):
                x, y = a[number], b[number]
                if (x is None) != (y is None):
                    different += 1
                elif x is not None and x != y:
                    off = abs(x - y) / max(abs(x), abs(y))
                    if off > worst:
                        worst, where = off, f" ({a['quantity']} of {one['source']['file'].split('/')[-1]})"
            different += {**a, **NUMBERS} != {**b, **NUMBERS}
    print(f"{name}: largest relative difference {worst:.1e}{where}, {different} other differences")
    failed |= worst > WITHIN or different > 0
sys.exit(1 if failed else 0)
PYTHON

#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# The same recording of ten minutes read by this library and, three ways, with SciPy: computation and whole process.
# usage: benchmarks/peers/run.sh [CLASSPATH]    after "mvn -q -DskipTests -pl benchmarks -am package"; CLASSPATH for other classes than those
# ROUNDS is the number of rounds, 3 where it is not set. Needs Python 3 with NumPy and SciPy, and GNU time. Times are those of the processor; one
# thread each, as far as they can be held to it. A round takes some minutes.
set -e
here=$(dirname "$0")
classes=${1:-$here/../target/classes:$(ls "$here"/../../metrology-core/target/metrology-core-*[0-9T].jar)}
file=$(mktemp)
trap 'rm -f "$file"' EXIT
python3 - "$file" <<'PYTHON'
import sys
import numpy as np
n = np.arange(600 * 48000)
f = 3162.6
x = 0.5 * np.sin(2 * np.pi * f * n / 48000 + f * 0.0008 / 7.6 * np.sin(2 * np.pi * 7.6 * n / 48000))
x.astype(np.float32).tofile(sys.argv[1])
PYTHON
for round in $(seq "${ROUNDS:-3}"); do
    echo "round $round: computation, seconds of each of several rounds in one process"
    java -Xmx64m -cp "$classes" org.tapemetrology.benchmarks.FileReading weighted "$file" 12
    java -Xmx64m -cp "$classes" org.tapemetrology.benchmarks.FileReading full "$file" 12
    for method in upfirdn resample_poly hilbert; do
        python3 "$here/peers.py" $method "$file" 2
    done
    echo "round $round: whole process, user and system seconds, elapsed"
    for method in weighted full; do
        command time -f "$method %U %S %e" java -Xmx64m -cp "$classes" \
            org.tapemetrology.benchmarks.FileReading $method "$file" >/dev/null
    done
    for method in none upfirdn resample_poly hilbert; do
        command time -f "$method %U %S %e" python3 "$here/peers.py" $method "$file" >/dev/null
    done
done

#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Pipes a long recording through "workbench.jar live" within a heap of 64 MiB, as fast as it goes, and compares every
# reading with those of the same recording measured from its file. Prints how many times real time it went.
#
# usage: live-hour.sh [SECONDS [CHANNELS [LIVE OPTION...]]]   after "mvn package"; needs some 200 kB a second of disk space in
# the folder for temporary files. The hour of two channels takes a minute or two of processor time.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
jar=$here/../target/workbench.jar
seconds=${1:-3600}
channels=${2:-2}
shift $(($# < 2 ? $# : 2))
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT

java -jar "$jar" generate --out "$folder/tone.wav" --seconds "$seconds" --rate 48000 --channels "$channels" \
  --samples pcm16 --speed-error 0.3 --flutter 4:0.08 --flutter 0.55:0.05 --dropout 100:0.02:40 --dropout 1000:0.1:60

timed() { # timed NAME COMMAND...: runs the command and tells how fast it went, by the clock and by processor time
  local name=$1 spent
  shift
  TIMEFORMAT="%R %U %S"
  spent=$({ time "$@" 2>"$folder/errors.txt"; } 2>&1)
  awk -v n="$name" -v s="$seconds" -v t="$spent" 'BEGIN { split(t, p, " "); c = p[2] + p[3]
    printf "%s: %.1f s, %.0f times real time; processor %.1f s, %.0f times\n", n, p[1], s / p[1], c, s / c }'
}
live() { # through a pipe, so that it cannot be told from a capture program
  cat "$folder/tone.wav" | java -Xmx64m -jar "$jar" live --display lines "$@" >"$folder/live.json" 2>"$folder/live.txt"
}
measure() {
  java -Xmx64m -jar "$jar" measure --format json "$folder/tone.wav" >"$folder/file.json"
}
timed "live, heap 64 MiB" live "$@"
timed "measure, heap 64 MiB" measure
tail -1 "$folder/live.txt"
sed "s|\"file\":\"[^\"]*\"|\"file\":\"-\"|" "$folder/file.json" | cmp - "$folder/live.json"
echo "$(grep -o '"quantity"' "$folder/live.json" | wc -l) readings, all the same to the last digit"

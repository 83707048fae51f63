#!/usr/bin/env bash
# Builds what is published twice, in two fresh clones, and compares every file byte for byte. Prints their sums; fails where two differ.
set -euo pipefail
cd "$(dirname "$0")/../.."

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for name in first second; do
  git clone -q . "$work/$name"
  # Another folder and another time must leave no trace in a jar.
  (cd "$work/$name" && mvn -B -q -Prelease -pl reference-signals,metrology-core -am package -DskipTests)
  (cd "$work/$name" && sha256sum */target/*.jar */target/bom.json) >"$work/$name.sums"
done
diff "$work/first.sums" "$work/second.sums"
test "$(wc -l <"$work/first.sums")" -ge 8
cat "$work/first.sums"

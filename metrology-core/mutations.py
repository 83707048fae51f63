#!/usr/bin/env python3
"""Table of mutation tests by package from PIT's mutations.xml.

Of a class in several files the last one counts; where it has the same mutants in both, what either killed is killed.

    metrology-core/mutations.py [--survivors] FILE...
"""
import collections
import re
import sys
import xml.etree.ElementTree as ElementTree

KILLED = {"KILLED", "TIMED_OUT", "MEMORY_ERROR", "RUN_ERROR"}
PREFIX = "org.tapemetrology.core."


def mutants(path):
    """The mutants of a file by class; a file that was cut off is read as far as it goes."""
    with open(path, encoding="utf-8") as file:
        text = file.read()
    found = collections.defaultdict(list)
    for part in re.findall(r"<mutation .*?</mutation>", text, re.S):
        mutant = ElementTree.fromstring(part)
        found[mutant.findtext("mutatedClass").replace(PREFIX, "")].append(mutant)
    return found


def key(mutant):
    return tuple(mutant.findtext(name) for name in ("mutatedMethod", "methodDescription", "lineNumber", "mutator")) + tuple(
        index.text for index in mutant.iter("index"))


def joined(earlier, later):
    """Of two runs of a class the later one, with what the earlier one killed, if both have the same mutants."""
    before = {key(m): m for m in earlier}
    if before.keys() != {key(m) for m in later}:
        return later
    return [m if m.get("status") in KILLED else before[key(m)] for m in later]


def main(arguments):
    survivors = "--survivors" in arguments
    by_class = {}
    for path in (a for a in arguments if not a.startswith("--")):
        for name, group in mutants(path).items():
            by_class[name] = joined(by_class.get(name, []), group)
    if not by_class:
        sys.exit("no mutants in the files")
    packages = collections.defaultdict(lambda: [0, 0, 0])
    for name, group in by_class.items():
        row = packages[name.rpartition(".")[0] or "(root)"]
        row[0] += len(group)
        row[1] += sum(m.get("status") in KILLED for m in group)
        row[2] += sum(m.get("status") == "TIMED_OUT" for m in group)
    print("| package | mutants | killed | of them by time | % |\n|---|---|---|---|---|")
    total = [sum(row[i] for row in packages.values()) for i in range(3)]
    for name, row in [*sorted(packages.items()), ("together", total)]:
        print(f"| `{name}` | {row[0]} | {row[1]} | {row[2]} | {100 * row[1] / row[0]:.1f} |")
    if survivors:
        for name, group in sorted(by_class.items()):
            left = [m for m in group if m.get("status") not in KILLED]
            for m in sorted(left, key=lambda one: int(one.findtext("lineNumber"))):
                print(name, m.findtext("lineNumber"), m.findtext("mutatedMethod"), m.get("status"), m.findtext("description"))


if __name__ == "__main__":
    main(sys.argv[1:])

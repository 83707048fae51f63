#!/usr/bin/env python3
"""Table of mutation tests by package from PIT's mutations.xml.

Of a class in several files the last one counts; where it has the same mutants in both, what either killed is killed. Files that are
joined by "+" are samples of the same code: all their mutants count, and what one of them killed is killed.

    metrology-core/mutations.py [--survivors] [--of ALL] FILE[+FILE...]...

With --of and the file of a run without tests (all mutants that there are), each class counts by the number of its mutants, and the
standard error of that estimate is given: the runs then are samples, each taken evenly from its class.
"""
import collections
import math
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


def together(paths):
    """The mutants of samples of the same code by class."""
    best = collections.defaultdict(dict)
    for path in paths:
        for name, group in mutants(path).items():
            for mutant in group:
                if best[name].setdefault(key(mutant), mutant).get("status") not in KILLED:
                    best[name][key(mutant)] = mutant
    return {name: list(group.values()) for name, group in best.items()}


def share(classes):
    """Of classes by mutants, run and killed: how many mutants, run and killed there are, the weighted share, its standard error."""
    total, run, killed = (sum(row[i] for row in classes) for i in range(3))
    part = sum(n * k / r for n, r, k in classes) / total
    # A stratified sample; the variance within a class, of which few were run, is taken to be that of all together.
    squares = sum(n * n * (1 - r / n) / r for n, r, k in classes)
    return total, run, killed, part, math.sqrt(part * (1 - part) * squares) / total


def estimate(by_class, everything):
    packages = collections.defaultdict(list)
    missing = collections.Counter()
    for name, group in everything.items():
        package = name.rpartition(".")[0] or "(root)"
        ran = by_class.get(name, [])
        if ran:
            killed = sum(m.get("status") in KILLED for m in ran)
            packages[package].append((max(len(group), len(ran)), len(ran), killed))
        else:
            missing[package] += len(group)
    print("| package | mutants | run | killed | % of all, weighted | standard error | not run |\n|---|---|---|---|---|---|---|")
    rows = [*sorted(packages.items()), ("together", [row for rows in packages.values() for row in rows])]
    for name, classes in rows:
        total, run, killed, part, error = share(classes)
        left = missing.get(name, 0) if name != "together" else sum(missing.values())
        print(f"| `{name}` | {total} | {run} | {killed} | {100 * part:.1f} | {100 * error:.1f} | {left} |")


def main(arguments):
    survivors = "--survivors" in arguments
    everything = {}
    if "--of" in arguments:
        at = arguments.index("--of")
        everything = mutants(arguments[at + 1])
        arguments = arguments[:at] + arguments[at + 2 :]
    by_class = {}
    for path in (a for a in arguments if not a.startswith("--")):
        for name, group in together(path.split("+")).items():
            by_class[name] = joined(by_class.get(name, []), group)
    if not by_class:
        sys.exit("no mutants in the files")
    if everything:
        estimate(by_class, everything)
    else:
        table(by_class)
    if survivors:
        for name, group in sorted(by_class.items()):
            left = [m for m in group if m.get("status") not in KILLED]
            for m in sorted(left, key=lambda one: int(one.findtext("lineNumber"))):
                print(name, m.findtext("lineNumber"), m.findtext("mutatedMethod"), m.get("status"), m.findtext("description"))


def table(by_class):
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


if __name__ == "__main__":
    main(sys.argv[1:])

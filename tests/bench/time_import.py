# SPDX-License-Identifier: GPL-3.0-or-later
"""Times ways to read a folder of logs, alternately, and prints a table of ratios.

    time_import.py READ_LOGS FOLDER TIMES

The best wall clock of TIMES runs counts, taken inside each program, so that starting Python or R costs nothing. On a
machine that has other things to do, compare the processor time. Exit status 1 when a goal is missed.
"""
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
# Our importer is to be so many times faster on the same number of threads.
GOALS = {"pandas": 4.0, "fread": 2.0}
MEMORY_GOAL = 1.2


def command(way, threads, read_logs, files):
    program = {
        "pandas": ["/usr/bin/python3", str(HERE / "read_pandas.py")],
        "fread": ["Rscript", "--vanilla", str(HERE / "read_fread.R")],
    }.get(way, [read_logs, way])
    return [*program, str(threads), *files]


def run(arguments):
    done = subprocess.run(arguments, stdout=subprocess.PIPE, text=True)
    if done.returncode != 0:
        sys.exit(f"failed with status {done.returncode}: {' '.join(arguments[:4])} ...")
    return [float(word) for word in done.stdout.split()]


def ratio(theirs, ours, goal):
    met = theirs / ours >= goal
    return f"{theirs / ours:8.2f} {'at least ' + format(goal, 'g') if goal else '':10} {'' if met else 'MISSED'}", met


def main():
    read_logs, folder, times = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3])
    files = sorted(str(file) for file in folder.iterdir())
    ways = [(way, threads) for threads in (1, 2) for way in ("lines", "libcsv", "pandas", "fread", "import")]
    best, processor, memory = {}, {}, 0.0
    for _ in range(times):
        for way in ways:
            run(command("touch", 1, read_logs, files))
            figures = run(command(*way, read_logs, files))
            best[way] = min(best.get(way, figures[0]), figures[0])
            processor[way] = min(processor.get(way, figures[1]), figures[1])
            if way[0] == "import":
                memory = max(memory, figures[3] / figures[2])
    good = True
    print(f"{'':8} {'threads':>7} {'s':>8} {'CPU s':>8} {'ratio':>8} {'goal':10} {'':6} {'CPU ratio':>9}")
    for way, threads in ways:
        us = ("import", threads)
        text, met = ratio(best[way, threads], best[us], GOALS.get(way, 0.0))
        print(f"{way:8} {threads:7} {best[way, threads]:8.3f} {processor[way, threads]:8.3f} {text:26}"
              f" {processor[way, threads] / processor[us]:9.2f}")
        good = good and met
    print(f"memory needed while reading / columns kept: {memory:.3f}, goal: at most {MEMORY_GOAL:g}"
          f"{'' if memory <= MEMORY_GOAL else '  MISSED'}")
    sys.exit(0 if good and memory <= MEMORY_GOAL else 1)


main()

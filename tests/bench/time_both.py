# SPDX-License-Identifier: GPL-3.0-or-later
"""Times the program and the comparison script on one folder of logs, alternately, and prints a line of the table.

    time_both.py PROGRAM FOLDER TIMES GOAL_RATIO GOAL_MEMORY

The best wall clock of TIMES runs counts, with the peak resident memory (/usr/bin/time) of that run. GOAL_MEMORY is the
share of the script's memory that the program may take; 0: no goal. Exit status 1 when the two do not agree on the
figures: a fast wrong answer is no benchmark.
"""
import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SCRIPT = Path(__file__).with_name("compare_script.py")
# The same definitions on both sides, so the same figures but for the bins of the level and the method of the fit.
SHARED = {
    "peak_velocity": 1e-6,
    "mean_velocity": 1e-4,
    "velocity_deviation": 1e-2,
    "peak_torque": 1e-6,
    "mean_torque_slope": 5e-3,
    "peak_torque_slope": 1e-2,
    "dead_time": 1e-2,
    "ringing_frequency": 1e-2,
    "ringing_damping": 5e-2,
}


def run(command):
    """Wall clock in s, peak memory in MB, and what the command printed."""
    with tempfile.NamedTemporaryFile("r") as memory:
        start = time.perf_counter()
        done = subprocess.run(["/usr/bin/time", "-v", "-o", memory.name, *command], stdout=subprocess.PIPE)
        seconds = time.perf_counter() - start
        if done.returncode != 0:
            sys.exit(f"failed with status {done.returncode}: {' '.join(command)}")
        line = next(line for line in memory if "Maximum resident set size" in line)
    return seconds, int(line.split()[-1]) / 1024, done.stdout


def disagreements(ours, theirs):
    ours, theirs = (json.loads(text)["configurations"][0]["measures"] for text in (ours, theirs))
    for key, tolerance in SHARED.items():
        if "mean" not in ours[key]:
            yield f"{key}: absent here ({ours[key]['absent']}), {theirs[key]['mean']:.6g} by the script"
        elif abs(ours[key]["mean"] / theirs[key]["mean"] - 1) > tolerance:
            yield f"{key}: {ours[key]['mean']:.6g} here, {theirs[key]['mean']:.6g} by the script"


def main(program, folder, times, goal_ratio, goal_memory):
    script = ["/usr/bin/python3", str(SCRIPT)]
    with tempfile.TemporaryDirectory() as charts:
        chart = os.path.join(charts, "chart.png")
        commands = {
            "script": [*script, chart, folder],
            "threads": [*script, "--threads", str(len(os.sched_getaffinity(0))), chart, folder],
            "program": [program, "measure", "--json", "--chart", chart, folder],
        }
        best = {}
        for _ in range(times):
            for name, command in commands.items():
                result = run(command)
                best[name] = min(best.get(name, result), result, key=lambda r: r[0])
    (plain, plain_mb, found), (threaded, _, _), (ours, ours_mb, figures) = best.values()
    ratio, share = plain / ours, ours_mb / plain_mb
    met = ratio >= goal_ratio and (goal_memory == 0 or share <= goal_memory)
    goal = f"{goal_ratio:g}x" + (f", memory <= {goal_memory:.2f}" if goal_memory else "")
    print(f"{Path(folder).name:<20} {plain:8.3f} {threaded:8.3f} {ours:8.3f} {ratio:7.1f} {threaded / ours:7.1f}"
          f" {plain_mb:8.0f} {ours_mb:8.0f} {share:6.2f}  {goal}: {'met' if met else 'NOT met'}", flush=True)
    wrong = list(disagreements(figures, found))
    for line in wrong:
        print(f"    the figures differ: {line}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2], int(sys.argv[3]), float(sys.argv[4]), float(sys.argv[5])))

#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The demo bench, measured by the program and once more by numpy and scipy: what has one definition agrees to 1e-9.
Usage: agree_with_scipy.py PROGRAM DEMO_DATA. Exit status 77, skipped, where numpy or scipy is missing."""
import io
import json
import pathlib
import subprocess
import sys

try:
    import numpy as np
    from scipy import signal, stats
except ImportError:
    print("numpy or scipy is not installed")
    sys.exit(77)

PROGRAM, DEMO = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2])
FOLDERS = ["Teasel slope 0.3", "Teasel slope 2.0"]
n_checked = 0


def agree(what, ours, theirs, scale=None):
    global n_checked
    n_checked += 1
    if not abs(ours - theirs) <= 1e-9 * (scale or abs(theirs)):
        sys.exit(f"{what}: {ours!r} against {theirs!r}")


def read(path):
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    names = lines[0].lower().split(",")
    values = np.genfromtxt(io.StringIO("\n".join(lines[1:])), delimiter=",")
    column = {key: values[:, next(i for i, name in enumerate(names) if key in name)] for key in ("time", "velocity", "torque")}
    return column["time"] / (1000 if "ms" in names[0] else 1), column["velocity"], column["torque"]


def check_trial(trial, path):
    t, velocity, torque = read(path)
    u, measures = t - trial["onset_s"], trial["measures"]
    if trial["rows_left_out"] or trial["mirrored"] or len(t) != trial["rows"]:
        return
    a, b = measures["mean_velocity"]["window_s"]
    inside = (u >= a - 1e-12) & (u <= b + 1e-12)
    agree("peak torque", measures["peak_torque"]["value"], torque[inside].max())
    agree("peak velocity", measures["peak_velocity"]["value"], velocity[inside].max())
    if abs(u[inside][0] - a) < 1e-12 and abs(u[inside][-1] - b) < 1e-12:
        agree("mean velocity", measures["mean_velocity"]["value"], np.trapz(velocity[inside], u[inside]) / (b - a))
    slope = measures["peak_torque_slope"]
    first, last = np.searchsorted(u, [slope["window_s"][0] - 1e-9, slope["window_s"][1] + 1e-9])
    n, interval = last - first, (t[last - 1] - t[first]) / (last - first - 1)
    fitted = signal.savgol_filter(torque, n, 2, deriv=1, delta=interval)
    agree("peak slope", slope["value"], fitted[first + n // 2])


def check_summary(name, values, summary):
    x = np.array(values)
    scale = abs(x).max()
    agree(name + " mean", summary["mean"], x.mean(), scale)
    agree(name + " sd", summary["sd"], x.std(ddof=1), scale)
    agree(name + " standard uncertainty", summary["standard_uncertainty"], stats.sem(x), scale)
    if x.std() == 0:
        return  # scipy has no interval of no width
    low, high = stats.t.interval(0.95, len(x) - 1, x.mean(), stats.sem(x))
    agree(name + " interval", summary["ci95"][0], low, scale)
    agree(name + " interval", summary["ci95"][1], high, scale)


def values_of(configuration, key):
    return [t["measures"][key]["value"] for t in configuration["trials"] if t["included"] and "value" in t["measures"][key]]


def check_comparison(key, reference, other, compared):
    a, b = np.array(values_of(reference, key)), np.array(values_of(other, key))
    t = stats.ttest_ind(b, a, equal_var=False)
    agree(key + " difference", compared["difference"], b.mean() - a.mean(), abs(a).max())
    agree(key + " p", compared["p"], t.pvalue, 1e-3)
    u, v = a.var(ddof=1) / len(a), b.var(ddof=1) / len(b)
    df = (u + v) ** 2 / (u * u / (len(a) - 1) + v * v / (len(b) - 1))
    agree(key + " df", compared["df"], df)
    half = stats.t.ppf(0.975, df) * np.sqrt(u + v)
    agree(key + " interval", compared["ci95"][1], b.mean() - a.mean() + half, abs(a).max())


run = subprocess.run([PROGRAM, "measure", "--json", *FOLDERS], cwd=DEMO, capture_output=True, check=False)
if run.returncode > 1:
    sys.exit(run.stderr.decode())
results = json.loads(run.stdout)
for configuration in results["configurations"]:
    for trial in configuration["trials"]:
        if "measures" in trial:
            check_trial(trial, DEMO / configuration["name"] / trial["file"])
    for key, summary in configuration["measures"].items():
        values = values_of(configuration, key) if "sd" in summary else []
        if len(values) > 1:
            check_summary(key, values, summary)
for comparison in results["comparisons"]:
    for key, compared in comparison["measures"].items():
        if "difference" in compared and "p" in compared:
            check_comparison(key, *results["configurations"][:2], compared)
print(f"{n_checked} figures agree")
if n_checked < 100:
    sys.exit("too few figures were compared")

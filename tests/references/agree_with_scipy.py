#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The demo bench and a second-order step, measured by the program and once more by numpy and scipy: what has one
definition agrees to 1e-9. scipy.signal makes the step response; agree_with_octave.m has a control library.
Usage: agree_with_scipy.py PROGRAM DEMO_DATA. Exit status 77, skipped, where numpy or scipy is missing."""
import io
import json
import pathlib
import subprocess
import sys
import tempfile

try:
    import numpy as np
    from scipy import signal, special, stats
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
    check_rise_and_smoothness(measures, u, velocity, torque)


def arc_length(rate, rate_hz, cutoff_hz):
    """Balasubramanian et al. 2015, with numpy's transform."""
    padded = 2 ** (int(np.ceil(np.log2(len(rate)))) + 4)
    m = np.abs(np.fft.rfft(rate, padded))
    m /= m.max()
    inside = np.flatnonzero((np.arange(len(m)) * rate_hz / padded <= cutoff_hz * (1 + 1e-12)) & (m >= 0.05))
    m = m[inside[0]:inside[-1] + 1]
    return -np.hypot(1 / (len(m) - 1), np.diff(m)).sum()


def first_crossing(t, y, level):
    i = np.flatnonzero((y[:-1] < level) & (y[1:] >= level))[0]
    return t[i] + (t[i + 1] - t[i]) * (level - y[i]) / (y[i + 1] - y[i])


def check_rise_and_smoothness(measures, u, velocity, torque):
    active = np.flatnonzero(u >= -1e-12)[0]
    peak = measures["peak_velocity"]["value"]
    agree("rise time", measures["velocity_rise_time"]["value"],
          first_crossing(u[active - 1:], velocity[active - 1:], 0.9 * peak))
    slope, smooth = measures["peak_torque_slope"]["window_s"], measures["torque_smoothness"]
    interval = np.median(np.diff(u))
    wide = int(round((slope[1] - slope[0]) / interval)) + 1
    rate = signal.savgol_filter(torque, wide, 2, deriv=1, delta=interval)
    first, last = np.searchsorted(u, [smooth["window_s"][0] - 1e-9, smooth["window_s"][1] + 1e-9])
    cutoff_hz = min(200, 0.4 / interval)
    if 1 / interval < 40 * cutoff_hz:
        agree("smoothness", smooth["value"], arc_length(rate[first:last], 1 / interval, cutoff_hz))


def check_deviation(configuration):
    """The square root of the time mean of the variance between repeats, on their grid."""
    step, curves = configuration["grid_step_s"], []
    end = min(t["active_end_s"] for t in configuration["trials"] if t["included"])
    grid = np.arange(0, int(np.floor(end / step + 1e-9)) + 1) * step
    for trial in configuration["trials"]:
        if trial["included"]:
            t, velocity, _ = read(DEMO / configuration["name"] / trial["file"])
            curves.append(np.interp(grid, t - trial["onset_s"], -velocity if trial["mirrored"] else velocity))
    variance = np.var(curves, axis=0, ddof=1)
    agree("velocity deviation", configuration["measures"]["velocity_deviation"]["mean"],
          np.sqrt(np.trapz(variance, grid) / (grid[-1] - grid[0])))


def write_second_order(folder, zeta, wn, rate_hz, top):
    """Times whose onset is a sample, and scipy's step response, to all digits."""
    before = 400
    n = before + int(rate_hz * 40 / (zeta * wn))
    t = np.arange(n) / rate_hz
    y = np.zeros(n)
    y[before:] = top * signal.step(([wn * wn], [1, 2 * zeta * wn, wn * wn]), T=t[:n - before])[1]
    rows = [f"{a!r},{top if i >= before else 0},{b!r}" for i, (a, b) in enumerate(zip(t.tolist(), y.tolist()))]
    (folder / "step.csv").write_text("time_s,command_Nm,torque_Nm\n" + "\n".join(rows) + "\n", encoding="utf-8")
    return t - t[before], y


def check_second_order(zeta):
    """The top level is taken from the overshoot, since a histogram finds it to half a bin; all else follows from it."""
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        t, y = write_second_order(folder, zeta, 120.0, 10000, 8)
        run = subprocess.run([PROGRAM, "measure", "--json", folder], capture_output=True, check=True)
        measures = json.loads(run.stdout)["configurations"][0]["trials"][0]["measures"]
    value = {key: measure.get("value") for key, measure in measures.items()}
    top = y.max() / (1 + value["overshoot"])
    agree("peak torque", value["peak_torque"], y.max())
    if not abs(top - 8) < 8 / 256:
        sys.exit(f"top level of the second-order step: {top}")
    t10, t90 = (first_crossing(t, y, share * top) for share in (0.1, 0.9))
    agree("dead time", value["dead_time"], t10)
    agree("transition duration", value["torque_transition_time"], t90 - t10)
    agree("mean slope", value["mean_torque_slope"], 0.8 * top / (t90 - t10))
    over = np.flatnonzero((t > t90) & (y >= top))[0]
    agree("undershoot", value["undershoot"], 1 - y[over:].min() / top, 1)
    out = np.flatnonzero(np.abs(y - top) > 0.02 * top)[-1]
    edge = top * (1.02 if y[out] > top else 0.98)
    agree("settling", value["settling_time"],
          t[out] + (t[out + 1] - t[out]) * (edge - y[out]) / (y[out + 1] - y[out]))


def check_summary(name, values, summary):
    x = np.array(values)
    scale = abs(x).max()
    agree(name + " mean", summary["mean"], x.mean(), scale)
    agree(name + " sd", summary["sd"], x.std(ddof=1), scale)
    agree(name + " standard uncertainty", summary["standard_uncertainty"], stats.sem(x), scale)
    agree(name + " repeatability", summary["repeatability"], 2.8 * x.std(ddof=1), scale)
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
    pooled = np.sqrt(((len(a) - 1) * a.var(ddof=1) + (len(b) - 1) * b.var(ddof=1)) / (len(a) + len(b) - 2))
    m = len(a) + len(b) - 2
    exact = np.exp(special.gammaln(m / 2) - special.gammaln((m - 1) / 2)) / np.sqrt(m / 2)
    agree(key + " Hedges' g", compared["hedges_g"], exact * (b.mean() - a.mean()) / pooled)
    half = stats.t.ppf(0.975, df) * np.sqrt(u + v)
    agree(key + " interval", compared["ci95"][1], b.mean() - a.mean() + half, abs(a).max())


def check_holm(measures):
    """Holm 1979: the k-th smallest of m times m - k, never less than the one before, 1 at most."""
    tested = sorted((c["p"], c["p_holm"]) for c in measures.values() if "p" in c)
    largest = 0
    for k, (p, holm) in enumerate(tested):
        largest = max(largest, min(1, (len(tested) - k) * p))
        agree("p after Holm", holm, largest, 1e-3)


run = subprocess.run([PROGRAM, "measure", "--json", *FOLDERS], cwd=DEMO, capture_output=True, check=False)
if run.returncode > 1:
    sys.exit(run.stderr.decode())
results = json.loads(run.stdout)
for configuration in results["configurations"]:
    for trial in configuration["trials"]:
        if "measures" in trial:
            check_trial(trial, DEMO / configuration["name"] / trial["file"])
    check_deviation(configuration)
    for key, summary in configuration["measures"].items():
        values = values_of(configuration, key) if "sd" in summary else []
        if len(values) > 1:
            check_summary(key, values, summary)
for comparison in results["comparisons"]:
    check_holm(comparison["measures"])
    for key, compared in comparison["measures"].items():
        if "difference" in compared and "p" in compared:
            check_comparison(key, *results["configurations"][:2], compared)
for damping in (0.1, 0.3, 0.6):
    check_second_order(damping)
print(f"{n_checked} figures agree")
if n_checked < 350:
    sys.exit("too few figures were compared")

# SPDX-License-Identifier: GPL-3.0-or-later
"""The benchmark's other side: what a careful practitioner would write with pandas, scipy and matplotlib.

    compare_script.py [--threads N] CHART.png FOLDER

Reads every log of the folder, measures each repeat, averages them, draws velocity and torque with bands and prints
JSON. It takes the short cuts that such a script may take: pandas' C parser with its fastest conversion, only the
columns that are used, files mapped into memory, threads on request, no pyplot, slopes filtered on the rise only, curves
thinned to what the picture can show.
"""
import argparse
import hashlib
import json
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd
from matplotlib.figure import Figure
from scipy.optimize import curve_fit
from scipy.signal import savgol_filter
from scipy.special import stdtrit

COLUMNS = ["time_s", "command_Nm", "velocity_rad_s", "torque_Nm"]
LEVEL_BINS = 256
SETTLING_BAND = 0.02
MM_PER_INCH = 25.4


@dataclass
class Trial:
    file: str
    sha256: str
    rows: int
    interval: float
    onset: float
    time: np.ndarray  # after the onset
    velocity: np.ndarray
    torque: np.ndarray
    measures: dict


def read_log(path):
    with path.open("rb") as file:
        sha256 = hashlib.file_digest(file, "sha256").hexdigest()
    frame = pd.read_csv(
        path, engine="c", comment="#", usecols=COLUMNS, dtype=np.float64, memory_map=True, low_memory=False
    )
    return sha256, frame.dropna()


def mode_level(values, bins):
    """Mode of the amplitude histogram: mean of the fullest bin and its neighbours."""
    count, edges = np.histogram(values, bins)
    fullest = int(count.argmax())
    low, high = edges[max(fullest - 1, 0)], edges[min(fullest + 2, bins)]
    return float(values[(values >= low) & (values <= high)].mean())


def level_bins(n):
    return int(np.clip(n // 16, 1, LEVEL_BINS))


def first_crossing(time, values, start, level):
    """Index before the first rising crossing from `start` on, and its time by linear interpolation."""
    above = values[start:] >= level
    crossings = np.flatnonzero(above[1:] & ~above[:-1])
    if not len(crossings):
        raise ValueError(f"the signal never rises through {level:.4g}")
    i = start + int(crossings[0])
    share = (level - values[i]) / (values[i + 1] - values[i])
    return i, time[i] + share * (time[i + 1] - time[i])


def slope_window(interval):
    n = max(5, int(np.ceil(1e-3 / interval - 1e-9)))
    return n + 1 - n % 2


def peak_slope(torque, i10, i90, interval):
    n = slope_window(interval)
    part = torque[max(i10 - 2 * n, 0) : i90 + 2 * n + 1]
    slope = savgol_filter(part, n, 2, deriv=1, delta=interval)
    return float(slope[n // 2 : len(slope) - n // 2].max())


def decaying_sine(t, amplitude, decay, frequency, phase, level):
    return amplitude * np.exp(-decay * t) * np.cos(2 * np.pi * frequency * t + phase) + level


def ringing(time, residual, interval):
    """Frequency and damping ratio: spectrum for a start, then a fit, both at about 1 kHz."""
    thin = max(1, int(1e-3 / interval + 0.5))
    n = len(residual) // thin
    y = residual[: n * thin].reshape(n, thin).mean(axis=1)
    t = (np.arange(n) * thin + (thin - 1) / 2) * interval
    spectrum = np.abs(np.fft.rfft((y - y.mean()) * np.hanning(2 * n)[n:]))
    start = np.fft.rfftfreq(n, thin * interval)[1 + int(spectrum[1:].argmax())]
    guess = [np.ptp(y) / 2, 0.05 * 2 * np.pi * start, start, -np.pi / 2, 0]
    fit, _ = curve_fit(decaying_sine, t, y, guess, maxfev=2000)
    decay, frequency = fit[1], abs(fit[2])
    return {"ringing_frequency": frequency, "ringing_damping": decay / np.hypot(decay, 2 * np.pi * frequency)}


def measure(time, velocity, torque, onset, interval):
    """The measures of one repeat; `time` is after the onset, which is the sample `onset`."""
    active_t, active_v, active_y = time[onset:], velocity[onset:], torque[onset:]
    base = mode_level(torque[:onset], level_bins(onset))
    rise, _ = first_crossing(time, torque, onset - 1, base + (active_y.max() - base) / 2)
    top = mode_level(torque[rise + 1 :], level_bins(len(torque) - rise - 1))
    step = top - base
    i10, t10 = first_crossing(time, torque, onset - 1, base + 0.1 * step)
    i90, t90 = first_crossing(time, torque, i10, base + 0.9 * step)
    i_top, _ = first_crossing(time, torque, i90, top)
    after = torque[i90 + 1 :]
    outside = np.flatnonzero(np.abs(active_y - top) > SETTLING_BAND * step)
    _, t_v90 = first_crossing(time, velocity, onset - 1, 0.9 * active_v.max())
    crest = int(after.argmax())
    found = {
        "peak_velocity": active_v.max(),
        "mean_velocity": np.trapz(active_v, active_t) / (active_t[-1] - active_t[0]),
        "velocity_rise_time": t_v90,
        "peak_torque": active_y.max(),
        "mean_torque_slope": 0.8 * step / (t90 - t10),
        "peak_torque_slope": peak_slope(torque, i10, i90, interval),
        "torque_transition_time": t90 - t10,
        "dead_time": t10,
        "overshoot": (after[crest] - top) / step,
        "undershoot": max(0.0, (top - after[crest:].min()) / step),
        "settling_time": active_t[outside[-1]] if len(outside) else 0.0,
    }
    found.update(ringing(time[i_top + 1 :], torque[i_top + 1 :] - top, interval))
    return {key: float(value) for key, value in found.items()}


def make_trial(path):
    sha256, frame = read_log(path)
    time, command, velocity, torque = (frame[name].to_numpy() for name in COLUMNS)
    onset = int((command >= (command.min() + command.max()) / 2).argmax())
    if onset == 0:
        raise ValueError(f"{path}: the command does not step")
    interval = float(np.median(np.diff(time)))
    after = time - time[onset]
    measures = measure(after, velocity, torque, onset, interval)
    return Trial(path.name, sha256, len(time), interval, float(time[onset]), after, velocity, torque, measures)


def common_grid(trials):
    step = max(trial.interval for trial in trials)
    start = max(trial.time[0] for trial in trials)
    end = min(trial.time[-1] for trial in trials)
    first, last = int(np.ceil(start / step)), int(np.floor(end / step))
    return np.arange(first, last + 1) * step


def average(trials, grid, channel):
    stack = np.empty((len(trials), len(grid)))
    for row, trial in zip(stack, trials):
        row[:] = np.interp(grid, trial.time, getattr(trial, channel))
    mean = stack.mean(axis=0)
    stack -= mean
    return mean, np.sqrt(np.einsum("ij,ij->j", stack, stack) / (len(trials) - 1))


def summary(trials):
    result = {}
    n = len(trials)
    for key in trials[0].measures:
        values = np.array([trial.measures[key] for trial in trials])
        mean, sd = float(values.mean()), float(values.std(ddof=1))
        half = float(stdtrit(n - 1, 0.975)) * sd / np.sqrt(n)
        result[key] = {"mean": mean, "sd": sd, "n": n, "ci95": [mean - half, mean + half]}
    return result


def draw(path, name, n, grid, panels):
    """Panels of mean curves over bands, 175 mm x 120 mm at 300 dpi."""
    thin = max(1, len(grid) // 4000)
    figure = Figure(figsize=(175 / MM_PER_INCH, 120 / MM_PER_INCH), dpi=300)
    figure.subplots_adjust(left=0.1, right=0.98, bottom=0.11, top=0.98, hspace=0.08)
    axes = figure.subplots(len(panels), 1, sharex=True)
    t = grid[::thin] * 1e3
    for axis, (label, (mean, sd)) in zip(axes, panels.items()):
        mean, sd = mean[::thin], sd[::thin]
        axis.fill_between(t, mean - sd, mean + sd, color="#0072B2", alpha=0.25, linewidth=0)
        axis.plot(t, mean, color="#0072B2", linewidth=1, label=f"{name} (n = {n})")
        axis.set_ylabel(label)
        axis.grid(alpha=0.3)
    axes[0].legend(loc="lower right")
    axes[-1].set_xlabel("time after the step [ms]")
    figure.savefig(path)


def read_trials(folder, threads):
    paths = sorted(folder.glob("*.csv"))
    if threads == 1:
        return [make_trial(path) for path in paths]
    with ThreadPoolExecutor(threads) as pool:
        return list(pool.map(make_trial, paths))


def main(chart, folder, threads):
    trials = read_trials(folder, threads)
    if len(trials) < 2:
        sys.exit(f"{folder}: fewer than two logs")
    grid = common_grid(trials)
    velocity, torque = average(trials, grid, "velocity"), average(trials, grid, "torque")
    measures = summary(trials)
    measures["velocity_deviation"] = {"mean": float(np.sqrt(np.mean(velocity[1][grid >= 0] ** 2)))}
    draw(chart, folder.name, len(trials), grid, {"velocity [rad/s]": velocity, "torque [N·m]": torque})
    listed = [
        {"file": t.file, "sha256": t.sha256, "rows": t.rows, "sample_interval_s": t.interval, "onset_s": t.onset,
         "measures": t.measures}
        for t in trials
    ]
    configuration = {"name": folder.name, "trials": listed, "n": len(trials), "measures": measures}
    json.dump({"configurations": [configuration]}, sys.stdout, indent=2)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description="Measures a folder of logs and draws their mean curves.")
    parser.add_argument("--threads", type=int, default=1)
    parser.add_argument("chart", type=Path)
    parser.add_argument("folder", type=Path)
    options = parser.parse_args()
    main(options.chart, options.folder, options.threads)

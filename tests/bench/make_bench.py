# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes the bench of the report's benchmark: 12 configurations of two invented drives, 10 repeats each.

    make_bench.py FOLDER N_ROWS

Three torque slopes by two dampings on each drive, all in the logs' headers. One drive follows its slope setting, the other
has it for show. The torque rings at 38 Hz and the velocity saturates, as in make_logs.c; repeats scatter. Seeded: the same
bytes each time.
"""
import sys
from pathlib import Path

import numpy as np

STEP_NM = 12.0
INTERVAL_S = 0.0004
STEP_AT = 0.3
DRIVES = {"Alder": 1.0, "Sedge": 0.0}  # how far the slope follows its setting
SLOPES_NM_PER_MS = [0.5, 1.0, 2.0]
DAMPINGS_PERCENT = [0, 20]
N_REPEATS = 10


def torque_nm(after, rise_s, ring_nm, decay_per_s):
    ramp = STEP_NM * np.clip(after / rise_s, 0, 1)
    since = np.clip(after - rise_s, 0, None)
    return ramp + ring_nm * np.exp(-decay_per_s * since) * np.sin(2 * np.pi * 38.0 * since)


def write_log(path, header, n_rows, follows, slope, damping, chance):
    t = np.arange(n_rows) * INTERVAL_S
    after = t - n_rows * INTERVAL_S * STEP_AT - 0.003
    rise_s = STEP_NM / (1000 * (follows * slope + (1 - follows) * 1.2)) * (1 + 0.01 * chance.normal())
    level = 1 + 0.01 * chance.normal()
    torque = level * torque_nm(after, rise_s, 0.9 - 0.02 * damping, 14.4 * (1 + damping / 20))
    moving = np.clip(after - rise_s / 2, 0, None)
    tau_s = 0.22 * (1 + 0.01 * chance.normal())
    reached = 1 - np.exp(-moving / tau_s)
    top = 45.0 * (1 - 0.004 * damping) * level
    rows = np.column_stack(
        [
            t,
            np.where(after >= -0.003, STEP_NM, 0),
            top * (moving - tau_s * reached) - 4.7,
            top * reached + 0.03 * chance.normal(size=n_rows),
            torque + 0.002 * chance.normal(size=n_rows),
        ]
    )
    np.savetxt(path, rows, fmt=["%.4f", "%.1f", "%.4f", "%.3f", "%.4f"], delimiter=",", header=header, comments="")


def main():
    folder, n_rows = Path(sys.argv[1]), int(sys.argv[2])
    chance = np.random.default_rng(20240311)
    for drive, follows in DRIVES.items():
        for slope in SLOPES_NM_PER_MS:
            for damping in DAMPINGS_PERCENT:
                name = f"{drive} slope {slope} damping {damping}"
                header = (
                    f"# device: {drive}\n# firmware: 1.4\n# rotation_deg: 900\n# inertia_kg_m2: 0.050\n"
                    f"# setting torque slope: {slope} N·m/ms\n# setting damping: {damping} %\n"
                    "time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm"
                )
                (folder / name).mkdir(parents=True)
                for repeat in range(1, N_REPEATS + 1):
                    path = folder / name / f"run-{repeat:02}.csv"
                    write_log(path, header, n_rows, follows, slope, damping, chance)


main()

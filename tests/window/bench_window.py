# SPDX-License-Identifier: GPL-3.0-or-later
"""The whole program on a screen, with a bench to work on: what the tests that drive it have in common. Their first two
arguments are the window's program and the command's."""
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

from screen import Screen, run, wait_for

HERE = pathlib.Path(__file__).resolve().parent
PROGRAM, BATCH = (pathlib.Path(path).resolve() for path in sys.argv[1:3])

STEP_S = 0.05
SAMPLES = 700
RATE_HZ = 2000


def write_log(path, top_nm, time_constant_s):
    """A step of command at 0.05 s; a first-order torque with known top and time constant."""
    lines = ["# setting torque slope: %g N·m/ms" % (top_nm / 10), "time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm"]
    for i in range(SAMPLES):
        t = i / RATE_HZ
        since = max(0.0, t - STEP_S)
        torque = top_nm * (1 - math.exp(-since / time_constant_s))
        lines.append(f"{t:.4f},{top_nm if t >= STEP_S else 0:.3f},{10 * since * since:.9f},{20 * since:.9f},{torque:.9f}")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def write_bench(folder):
    """Two configurations of three repeats; file names with a space, an umlaut and signs that URIs escape."""
    for name, top_nm, time_constant_s in (("soft", 4.0, 0.020), ("hard", 6.0, 0.008)):
        (folder / name).mkdir()
        for i, log in enumerate(("run 1.csv", "run ü2.csv", "run #3%.csv")):
            write_log(folder / name / log, top_nm + 0.1 * i, time_constant_s * (1 + 0.02 * i))
    return [folder / "soft", folder / "hard"]


class BenchWindow(unittest.TestCase):
    """A window of its own for each test, on a bench of two configurations, with a place for what it keeps."""

    def setUp(self):
        self.scratch = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.scratch.name)
        self.bench = write_bench(self.folder)
        self.errors = open(self.folder / "stderr.txt", "w+", encoding="utf-8")
        self.start()

    def start(self, *arguments):
        self.program = subprocess.Popen([PROGRAM, *map(str, arguments)], stdout=subprocess.DEVNULL, stderr=self.errors,
                                        env={**os.environ, "XDG_STATE_HOME": str(self.folder / "state")})
        self.screen = Screen(self.program.pid)
        run("timeout", "15", "xdotool", "search", "--sync", "--onlyvisible", "--name", "Slewbench$")

    def restart(self, *arguments):
        self.program.terminate()
        self.program.wait(timeout=20)
        self.start(*arguments)

    def tearDown(self):
        if self.program.poll() is None:
            self.program.terminate()
        self.program.wait(timeout=20)
        self.errors.seek(0)
        said = self.errors.read()
        self.errors.close()
        self.scratch.cleanup()
        self.assertEqual(said, "", "nothing is said on stderr")

    # What a person does and sees.

    def title(self):
        return self.screen.find("frame", re.compile("Slewbench$")).name

    def drop(self, paths):
        frame = self.screen.find("frame", re.compile("Slewbench$"))
        x, y = self.screen.place(frame)
        return subprocess.run([HERE / "drop_source.py", str(x), str(y), *map(str, paths)], timeout=60).returncode

    def open_bench(self):
        self.assertEqual(self.drop(self.bench), 0)
        self.wait_for_row("Peak torque", "hard")

    def row(self, measure):
        return self.screen.all("list item", re.compile("^" + measure))[0].name

    def wait_for_row(self, measure, what):
        return wait_for(f"{what!r} in the row of {measure}",
                        lambda: what in self.row(measure) and self.row(measure), 30)

    def unfold(self, name):
        self.screen.click(self.screen.find("push button", f"Trials of {name}"))

    def save_to(self, path):
        """Answers the file chooser that is on the screen: a whole path in the name field."""
        self.screen.find("push button", re.compile("Save"))
        wait_for("the name field has the keys",
                 lambda: any("focused" in node.states() for node in self.screen.all("text")))
        self.screen.keys("ctrl+a")
        self.screen.write(str(path))
        self.screen.keys("Return")

    def export(self, path, format_index, preset_index=0):
        self.screen.keys("ctrl+e")
        wait_for("the export sheet", lambda: self.screen.all("combo box", "Format"))
        self.choose("Format", format_index)
        self.choose("Size", preset_index)
        self.export_button().act()
        self.save_to(path)
        wait_for(f"{path.name} written", lambda: path.exists() and path.stat().st_size > 0, 30)
        wait_for("the strip says so", lambda: self.screen.all("label", re.compile("The chart is written")))

    def export_button(self):
        """The sheet's own, not the header bar's of the same name."""
        return wait_for("the sheet's button", lambda: next(
            node for node in self.screen.find("frame", "Export chart").walk()
            if node.role == "push button" and node.name.startswith("Export…")))

    def choose(self, field, index):
        if index == 0:
            return
        combo = self.screen.find("combo box", field)
        self.screen.click(combo)
        for _ in range(index):
            self.screen.keys("Down")
        self.screen.keys("Return")

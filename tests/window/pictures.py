#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Takes the pictures of docs/pictures anew, of the window and of the chart's views on the demo bench. Not a test.

    tests/window/headless --size 1440x900 tests/window/pictures.py WINDOW BATCH window
    tests/window/headless --size 1280x720 tests/window/pictures.py WINDOW BATCH story
    tests/window/headless tests/window/pictures.py WINDOW BATCH views

WINDOW and BATCH are the programs slewbench-window and slewbench."""
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import time

from screen import Screen, run, wait_for

ROOT = pathlib.Path(__file__).resolve().parents[2]
PICTURES, DEMO = ROOT / "docs" / "pictures", ROOT / "demo-data"
PROGRAM, BATCH, WHAT = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve(), sys.argv[3]

PAPER = ["--width", "150", "--height", "105", "--dpi", "150"]

# The difference has four panels, which take more room at the same size of text.
VIEWS = {
    "view-difference.png": ["--view", "difference", "--from", "-0.02", "--to", "0.06", "--width", "175",
                            "--height", "140", "--dpi", "130"],
    "view-spread.png": ["--view", "spread", *PAPER],
    "view-sweep.png": ["--view", "sweep", *PAPER],
    "view-plan.png": ["--view", "plan", "--plan", "5", *PAPER],
}


def take(name):
    run("xdotool", "mousemove", 2, 2)
    time.sleep(1.5)  # drawn, and nothing under the pointer
    run("import", "-window", "root", "-strip", PICTURES / name)


def open_window(state, *arguments):
    program = subprocess.Popen([PROGRAM, *map(str, arguments)], env={**os.environ, "XDG_STATE_HOME": state})
    screen = Screen(program.pid)
    frame = wait_for("the window", lambda: run("xdotool", "search", "--onlyvisible", "--name", "Slewbench$").split())[-1]
    run("xdotool", "windowsize", "--sync", frame, "100%", "100%")
    run("xdotool", "windowmove", frame, 0, 0)
    wait_for("the measures", lambda: screen.all("list item", re.compile("^Peak torque")), 30)
    return program, screen


def take_window(state):
    program, _ = open_window(state, *sorted(folder for folder in DEMO.iterdir() if folder.is_dir()))
    take("window.png")
    program.terminate()


def take_story(state):
    program, screen = open_window(state, DEMO / "demo.slewbench")
    screen.click(screen.find("page tab", re.compile(r"^Judgements \(5\)"), 60))
    screen.find("push button", "Show the torque slope over its levels")
    take("judgements.png")
    screen.click(screen.all("push button", "Show the torque slope over its levels")[0])
    take("story-2.png")
    screen.click(screen.find("label", "2 reasons"))
    run("xdotool", "click", "--repeat", 4, "--delay", 60, 5)  # so that they are in sight
    take("story-3.png")
    program.terminate()


def take_views():
    for name, options in VIEWS.items():
        made = subprocess.run([BATCH, "chart", "-o", PICTURES / name, *options, DEMO / "demo.slewbench"],
                              stderr=subprocess.PIPE, text=True, check=False)
        # Rows of one log of the demo are left out, and told; of the paper there is to be nothing to tell.
        if made.returncode > 1 or " would do" in made.stderr:
            sys.exit(made.stderr)


with tempfile.TemporaryDirectory() as state:
    if WHAT == "window":
        take_window(state)
    elif WHAT == "story":
        take_story(state)
    else:
        take_views()

#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Work on the chart by keys and pointer. The logs of bench_window.py are first-order steps, so that the torque of a mean
curve t after the step is the mean over the repeats of top (1 - exp (-t / time constant)): the readings have to be it."""
import json
import math
import re
import sys
import time
import unittest

from bench_window import BATCH, BenchWindow, run, wait_for
from screen import LOOK_S


FROM_20_MS_BEFORE = "over [−-]20 to 100 ms"


def soft_torque(t):
    return sum((4.0 + 0.1 * i) * (1 - math.exp(-t / (0.020 * (1 + 0.02 * i)))) for i in range(3)) / 3


def number(text):
    return float(text.replace("−", "-"))


class ChartWork(BenchWindow):
    def chart(self):
        return self.screen.find("image", "Chart")

    def says(self):
        return self.chart().description

    def wait_to_say(self, what):
        return wait_for(f"the chart says {what!r}", lambda: re.search(what, self.says()))

    def wait_for_step(self, step):
        wait_for(f"the step {step!r}", lambda: self.screen.all("push button", f"Undo: {step}"))

    def type_time(self, from_ms, to_ms):
        self.screen.keys("ctrl+g", "ctrl+a")
        self.screen.write(from_ms)
        self.screen.keys("Tab", "ctrl+a")
        self.screen.write(to_ms)
        self.screen.keys("Return")

    def show_to_100_ms(self):
        """Then a step of the arrow keys is 0.5 ms, with Control 5 ms, from 0 on."""
        self.open_bench()
        self.type_time("0", "100,0")
        self.wait_for_step("change the time shown")
        self.wait_to_say("over 0 to 100 ms")
        self.screen.click(self.chart())
        self.screen.keys("Home")

    def follow(self, curve):
        for _ in range(5):
            if re.search("Followed: " + re.escape(curve), self.says()):
                return
            self.screen.keys("Down")
            wait_for("the keys", lambda: "Followed" in self.says())
        self.fail(f"{curve} is never followed: {self.says()}")

    def session(self):
        path = self.folder / "chart.slewbench"
        before = path.stat().st_mtime_ns if path.exists() else None
        self.screen.keys("ctrl+s")
        if before is None:
            self.save_to(path)
        wait_for("the session", lambda: path.exists() and path.stat().st_mtime_ns != before)
        return path, json.loads(path.read_text(encoding="utf-8"))

    def test_two_points_tell_time_value_and_slope_of_the_data(self):
        self.show_to_100_ms()
        self.follow("soft in Torque")
        self.screen.keys("Home", "m")
        self.screen.keys(*["ctrl+Right"] * 4)  # the first point's chart has to be there before the second is set
        self.screen.keys("m")
        found = self.wait_to_say(r"Δt ([\d.]+) ms Δy ([\d.−]+) N·m slope ([\d.−]+) N·m/ms")
        rise = soft_torque(0.020) - soft_torque(0)
        self.assertAlmostEqual(number(found[1]), 20, delta=0.001)
        self.assertAlmostEqual(number(found[2]), rise, delta=0.006)  # a thousandth of the axis
        self.assertAlmostEqual(number(found[3]), rise / 20, delta=0.0001)
        at = re.search(r"At 20(?:\.0*)? ms.*?Torque \[N·m\]: soft ([\d.]+)", self.says())
        self.assertAlmostEqual(number(at[1]), soft_torque(0.020), delta=0.006)
        path, session = self.session()
        points = {c["name"]: c["points"] for c in session["configurations"] if "points" in c}
        self.assertEqual(list(points), ["soft"])
        self.assertEqual([(p["place"], p["panel"], p["on"]) for p in points["soft"]],
                         [("first", "torque", "curve"), ("second", "torque", "curve")])
        self.assertAlmostEqual(points["soft"][1]["time_s"] - points["soft"][0]["time_s"], 0.020, delta=1e-9)
        self.screen.click(self.chart())
        self.screen.keys("Escape")
        self.wait_for_step("take the points away")
        wait_for("no points", lambda: "Δt" not in self.says())
        self.restart(path)
        self.wait_to_say(r"Δt 20(?:\.0*)? ms Δy")  # as they were saved

    def test_callout_stays_in_the_session_and_on_its_point(self):
        self.show_to_100_ms()
        self.follow("soft in Torque")
        self.screen.keys("Home", *["ctrl+Right"] * 4, "c")
        self.screen.find("text", "Callout")
        self.screen.write("half way up")
        self.screen.keys("Return")
        self.wait_for_step("add a callout to soft")
        self.wait_to_say("callout on soft at 20 ms: half way up")
        self.screen.keys("ctrl+shift+Down")
        self.wait_for_step("move a callout")
        path, session = self.session()
        callout = next(c for c in session["configurations"] if c["name"] == "soft")["callouts"][0]
        self.assertEqual((callout["panel"], callout["text"]), ("torque", "half way up"))
        self.assertAlmostEqual(callout["time_s"], 0.020, delta=1e-9)
        run(BATCH, "chart", "-o", self.folder / "chart.svg", path)
        self.screen.keys("Delete")
        self.wait_for_step("delete a callout")
        wait_for("no callout", lambda: "callout" not in self.says())
        self.screen.keys("ctrl+z")
        self.wait_to_say("half way up")

    def test_labels_name_what_the_curves_show(self):
        self.open_bench()  # the peaks come late: all of the time is shown
        self.screen.click(self.screen.find("push button", "Labels"))
        self.screen.find("check box", "Peaks")
        self.screen.keys("space")  # the first has the keys
        self.wait_for_step("label the peaks")
        self.wait_to_say(r"torque of soft: peak [\d.]+ N·m")
        self.screen.keys("Escape")
        path, session = self.session()
        self.assertEqual(session["chart"]["labels"], ["peaks"])
        self.screen.keys("ctrl+z")
        wait_for("no label", lambda: "peak" not in self.says())

    def test_time_is_typed_and_gone_back_to(self):
        self.show_to_100_ms()
        self.type_time("60", "10")  # ends before it begins: nothing is done
        self.type_time("10", "60")
        self.wait_to_say("over 10 to 60 ms")
        self.screen.keys("alt+Left")
        self.wait_to_say("over 0 to 100 ms")
        self.screen.keys("alt+Right")
        self.wait_to_say("over 10 to 60 ms")

    def test_rise_is_shown_by_one_key_and_gone_back_from(self):
        self.show_to_100_ms()
        self.screen.keys("ctrl+9")
        said = self.wait_to_say(r"over ([−-]\d+(?:\.\d+)?) to (\d+(?:\.\d+)?) ms")
        # A first-order step is at 90 % after ln 10 time constants: 20.4 ms is the mean of the slower repeats. The onset and
        # that are seen, with little beside them: less before it than the rise takes, and no more than six time constants.
        self.assertLess(number(said[1]), 0)
        self.assertGreater(number(said[1]), -20.4 * math.log(10))
        self.assertGreater(number(said[2]), 20.4 * math.log(10))
        self.assertLess(number(said[2]), 6 * 20.4)
        self.screen.keys("alt+Left")
        self.wait_to_say("over 0 to 100 ms")

    def test_onset_is_moved_with_the_figures_told(self):
        self.show_to_100_ms()
        self.follow("soft in Torque")
        self.screen.keys("Home", "Right", "Right", "o")
        self.wait_for_step("move the onset of soft")
        self.screen.find("label", re.compile(r"^Onset moved of soft: .*Dead time", re.S))
        path, session = self.session()
        for trial in next(c for c in session["configurations"] if c["name"] == "soft")["trials"]:
            self.assertAlmostEqual(trial["onset_s"], 0.051, delta=1e-9)

    # By the pointer alone. How many pixels a second takes is asked of the window: the reading line told at two places.

    def pointer_at(self, x, y):
        run("xdotool", "mousemove", x, y)
        time.sleep(0.04)

    def read_at(self, x, y):
        """The time that a click there reads, in ms; it also follows the nearest curve."""
        self.pointer_at(x, y)
        run("xdotool", "click", 1)
        time.sleep(0.4)  # so that two clicks are not one double click
        return number(self.wait_to_say(r"At ([\d.−]+) ms")[1])

    def drag(self, x0, y0, x1, y1):
        time.sleep(LOOK_S)
        self.pointer_at(x0, y0)
        run("xdotool", "mousedown", 1)
        for k in range(1, 4):
            self.pointer_at(x0 + (x1 - x0) * k // 3, y0 + (y1 - y0) * k // 3)
        run("xdotool", "mouseup", 1)

    def frame_of_chart(self):
        _, _, width, height = self.chart().extents_in_window()
        x, y = self.screen.place(self.chart())
        return x - width // 2, y - height // 2, width, height

    def ms_per_px(self):
        """And the place on the screen of the onset."""
        left, top, width, height = self.frame_of_chart()
        x0, x1, y = left + width // 4, left + 3 * width // 4, top + 3 * height // 4
        t0, t1 = self.read_at(x0, y), self.read_at(x1, y)
        self.assertGreater(t1, t0)
        return (t1 - t0) / (x1 - x0), round(x0 - t0 * (x1 - x0) / (t1 - t0))

    def drag_tab(self, x, by_px, step):
        """Looks for the tab from the top of the chart down, twice: a busy machine may miss a quick drag. Beside it a drag
        moves the time shown."""
        top = self.frame_of_chart()[1]
        for y in 2 * list(range(top + 10, top + 130, 20)):
            self.drag(x, y, x + by_px, y)
            moved = lambda: bool(self.screen.all("push button", f"Undo: {step}"))
            try:
                wait_for("something moved", lambda: moved() or not re.search(FROM_20_MS_BEFORE, self.says()), 5)
            except AssertionError:
                continue
            if moved():
                return
            self.type_time("-20", "100,0")
            self.wait_to_say(FROM_20_MS_BEFORE)
        self.fail("no tab is there")

    def test_onset_and_end_are_dragged_by_their_tabs(self):
        self.open_bench()
        self.type_time("-20", "100,0")
        self.wait_to_say(FROM_20_MS_BEFORE)
        ms_per_px, x = self.ms_per_px()
        self.follow("soft in Torque")
        self.screen.keys("Home", *["ctrl+Right"] * 16, "e")  # 6 ms each: 76 ms after the onset
        self.wait_for_step("move the end of the active window of soft")
        self.type_time("-20", "90")  # a step of another name, so that the drag's is seen
        self.wait_for_step("change the time shown")
        self.type_time("-20", "100,0")
        self.wait_to_say(FROM_20_MS_BEFORE)
        self.drag_tab(round(x + 76 / ms_per_px), -50, "move the end of the active window of soft")
        self.drag_tab(x, 60, "move the onset of soft")
        path, session = self.session()
        within = 2 * ms_per_px / 1000 + 0.0005  # two pixels and a sample
        for trial in next(c for c in session["configurations"] if c["name"] == "soft")["trials"]:
            self.assertAlmostEqual(trial["onset_s"], 0.050 + 0.060 * ms_per_px, delta=within)
            self.assertAlmostEqual(trial["active_end_s"], 0.126 - 0.050 * ms_per_px, delta=within)

    def is_moved_by(self, *drag):
        self.drag(*drag)
        try:
            wait_for("the step", lambda: self.screen.all("push button", "Undo: move a callout"), 1.5)
        except AssertionError:
            return False
        return True

    def callout_of(self, name):
        _, session = self.session()
        return next(c for c in session["configurations"] if c["name"] == name)["callouts"][0]

    def test_label_of_a_callout_is_dragged_and_its_point_stays(self):
        self.show_to_100_ms()
        ms_per_px, x = self.ms_per_px()
        self.follow("soft in Torque")
        self.screen.keys("Home", *["ctrl+Right"] * 8, "c")  # at 40 ms
        self.screen.find("text", "Callout")
        self.screen.write("here it bends a little")
        self.screen.keys("Return")
        self.wait_for_step("add a callout to soft")
        self.session()  # before places are looked for: the window is another one after its first save
        left, top, width, height = self.frame_of_chart()
        x = round(x + 40 / ms_per_px) + 3  # the label stands right above or below its point, where curves leave room
        y = top + 52 * height // 100
        while not self.is_moved_by(x, y, x, y + 30):  # beside the label nothing comes of it: time has no up and down
            y += 10
            self.assertLess(y, top + height, "no label is there")
        self.screen.keys("ctrl+z")
        self.wait_for_step("add a callout to soft")
        time.sleep(1)  # what is drawn anew lets go what the hand had taken
        self.assertTrue(self.is_moved_by(x, y, x + 45, y + 30))
        first = self.callout_of("soft")
        self.screen.keys("ctrl+z")
        self.wait_for_step("add a callout to soft")
        time.sleep(1)
        self.assertTrue(self.is_moved_by(x, y, x + 15, y + 10))
        callout = self.callout_of("soft")
        self.assertEqual(callout["text"], "here it bends a little")
        self.assertAlmostEqual(callout["time_s"], 0.040, delta=1e-9)
        # From one place 45 px to the right and 30 down, then 15 and 10: 3 to 2 between where the two ended.
        self.assertLess(callout["label_x"], first["label_x"])
        self.assertAlmostEqual(
            callout["label_x"] - first["label_x"], 1.5 * (callout["label_y"] - first["label_y"]), delta=0.01
        )

    def test_curves_are_dimmed_and_drawn_alone_and_roles_swapped(self):
        self.show_to_100_ms()
        self.follow("soft in Velocity")
        self.screen.keys("d")
        self.wait_for_step("dim soft")
        self.wait_to_say("soft[^;]*, dimmed")
        self.screen.keys("s")
        self.wait_for_step("draw soft alone")
        self.wait_to_say("1 configuration:")
        self.screen.keys("s")
        self.wait_for_step("draw all")
        self.screen.keys("F3")
        self.wait_for_step("swap reference and other")
        reference = self.screen.find("toggle button", "Use hard as reference") if self.screen.all(
            "toggle button", "Use hard as reference") else self.screen.find("push button", "Use hard as reference")
        wait_for("hard is the reference", lambda: {"pressed", "checked"} & reference.states())

    def test_views_of_slope_ringing_and_phase_are_shown(self):
        self.open_bench()
        for key, what in (("alt+5", "torque slope"), ("alt+6", "torque less its level"),
                          ("alt+7", "torque over velocity")):
            self.screen.keys(key)
            self.wait_to_say(what)


if __name__ == "__main__":
    del sys.argv[1:3]
    unittest.main(verbosity=2, warnings="ignore")  # the library warns of parts of itself

#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The whole program from outside: real drags, clicks and keys; read back through the accessibility bus and the files it
writes. Run it on a screen of its own:

  headless test_window.py SLEWBENCH-WINDOW SLEWBENCH
"""
import math
import os
import re
import struct
import subprocess
import sys
import time
import unittest
import xml.etree.ElementTree as ElementTree

from bench_window import BATCH, BenchWindow, RATE_HZ, SAMPLES, STEP_S, write_log
from screen import run, wait_for


class WindowTest(BenchWindow):
    maxDiff = None

    # The facts.

    def test_first_page_says_what_to_drop(self):
        self.assertEqual(self.title(), "Slewbench")
        self.screen.find("label", re.compile("Drop logged repeats"))
        self.screen.find("label", re.compile("can break a wrist"))
        self.screen.find("push button", "Open a folder…")

    def test_folders_dropped_become_configurations_with_measures(self):
        self.open_bench()
        row = self.row("Peak torque")
        # Tops of 4.0, 4.1, 4.2 and of 6.0, 6.1, 6.2 N·m: means 4.1 and 6.1, sample deviations 0.1.
        self.assertRegex(row, r"soft: 4\.1\d* ± 0\.10")
        self.assertRegex(row, r"hard: 6\.1\d* ± 0\.10")
        # The difference of the means, and its sign: other minus reference.
        self.assertRegex(row, r"difference: \+2\.0")
        self.assertIn("differs", row)
        # The toolkit's fallback for a widget without a name is that of its type. What shows the chosen item within a
        # choice is the toolkit's own, and never has the keys.
        self.assertEqual([node.name for node in self.screen.tree().walk()
                          if re.match("(Gtk|Sb)[A-Z]", node.name) and node.name != "GtkListItemWidget"
                          and "focusable" in node.states()], [])

    def test_files_with_odd_names_dropped_together_become_one_configuration(self):
        logs = sorted(self.bench[0].iterdir())
        self.assertEqual(self.drop(logs), 0)
        self.wait_for_row("Peak torque", "soft")
        self.assertEqual(len(self.screen.all("push button", re.compile("^Trials of "))), 1)
        self.unfold("soft")
        for log in logs:
            self.screen.find("check box", f"Include {log.name}")

    def test_configuration_not_drawn_leaves_table_and_undo_brings_it_back(self):
        self.open_bench()
        self.screen.click(self.screen.find("check box", "Draw soft"))
        wait_for("soft gone from the table", lambda: "soft:" not in self.row("Peak torque"))
        self.assertTrue(self.title().startswith("• "))
        self.screen.keys("ctrl+z")
        self.wait_for_row("Peak torque", "soft:")
        self.screen.keys("ctrl+shift+z")
        wait_for("soft gone again", lambda: "soft:" not in self.row("Peak torque"))

    def test_trial_left_out_changes_the_mean_and_undo_restores_it(self):
        self.open_bench()
        # Not of the logs that are read first: of all.
        before = wait_for("the means of all repeats", lambda: re.search(
            r"soft: 4\.1\d* ± 0\.10.*hard: 6\.1\d* ± 0\.10", self.row("Peak torque"))).string
        self.unfold("soft")
        self.screen.click(self.screen.find("check box", "Include run 1.csv"))
        # Without the first, 4.1 and 4.2 remain: mean 4.15, deviation 0.1 / sqrt 2 = 0.071.
        changed = self.wait_for_row("Peak torque", "4.15")
        self.assertIn("± 0.071", changed)
        self.screen.find("label", "n = 2 of 3")
        self.screen.keys("ctrl+z")
        wait_for("the row of before", lambda: self.row("Peak torque") == before)

    def test_log_of_several_steps_dropped_becomes_trials_that_can_be_cut_joined_and_undone(self):
        """Three pulses of 4 N·m, one of them down; the torque follows the command."""
        levels = (0, 4, 0, -4, 0, 4, 0)
        lines = ["time_s,command_Nm,torque_Nm"]
        lines += [f"{i / 1000:.3f},{levels[i // 200]},{levels[i // 200]}" for i in range(200 * len(levels))]
        log = self.folder / "pulses.csv"
        log.write_text("\n".join(lines) + "\n", encoding="utf-8")
        self.assertEqual(self.drop([log]), 0)
        self.screen.find("label", "n = 3")
        self.screen.find("label", re.compile(r"pulses\.csv was cut into 3 steps, a trial each"))
        self.unfold("pulses")
        self.screen.find("check box", "Include pulses.csv, step 2 of 3 (at 0.600 s)")

        # By hand, from the keyboard: the menu of the second step, its first item; then another cut.
        self.screen.click(self.screen.all("push button", re.compile(r"^Menu of pulses\.csv, step 2 of 3"))[-1])
        self.screen.keys("Return")
        self.screen.find("label", "2: 0 → −4 N·m at 0.600 s")
        self.screen.find("push button", "Remove cut 2").act()
        wait_for("two trials", lambda: self.screen.all("push button", "Make 2 trials")[0]).act()
        self.screen.find("label", "n = 2")
        self.screen.find("check box", re.compile(r"^Include pulses\.csv, step 2 of 2"))
        self.screen.keys("ctrl+z")
        self.screen.find("label", "n = 3")

        self.screen.click(self.screen.all("push button", re.compile(r"^Menu of pulses\.csv, step 1 of 3"))[-1])
        self.screen.keys("Down", "Return")
        self.screen.find("check box", "Include pulses.csv")
        self.screen.find("label", "n = 1")
        self.screen.keys("ctrl+z")
        self.screen.find("label", "n = 3")
        self.screen.keys("ctrl+z")  # the adding, with its cuts
        self.screen.find("label", re.compile("Drop logged repeats"))

    def reason(self):
        field = self.screen.find("text", "Why run 1.csv is left out")
        return field.ask("Text", "GetText", "(ii)", 0, 16)[0]

    def test_reason_for_leaving_a_trial_out_is_in_the_copied_methods_text(self):
        self.open_bench()
        self.unfold("soft")
        self.screen.click(self.screen.find("check box", "Include run 1.csv"))
        self.screen.click(self.screen.find("text", "Why run 1.csv is left out"))
        self.screen.write("cable came loose")
        self.screen.keys("Return")
        wait_for("a step of the history",
                 lambda: self.screen.all("push button", "Undo: say why run 1.csv is left out"))
        self.screen.find("label", "n = 2 of 3")
        self.assertEqual(self.reason(), "cable came loose")
        self.screen.keys("ctrl+z")  # with the keys still in the field
        wait_for("the field to follow", lambda: self.reason() == "")
        self.screen.keys("Tab")  # leaving it says nothing
        self.screen.find("push button", "Undo: exclude run 1.csv")
        self.screen.keys("ctrl+shift+z")
        wait_for("the reason again", lambda: self.reason() == "cable came loose")
        self.screen.keys("F10")
        self.screen.find("menu item", "Copy methods text").act()
        self.screen.find("label", re.compile("What was done is on the clipboard"))

    def test_many_turns_of_a_choice_are_one_step(self):
        self.open_bench()
        self.screen.click(self.screen.find("push button", "Choices"))
        self.screen.find("spin button", re.compile("^Slope window"))
        self.screen.keys("Up", "Up", "Up")  # the first field is the margin, 5 %
        wait_for("a step of the history",
                 lambda: self.screen.all("push button", "Undo: change the margin of equality"))
        self.screen.keys("Escape")
        self.screen.keys("ctrl+z")
        wait_for("no step left but the adding", lambda: not self.screen.all("push button", re.compile("^Undo: change")))

    def test_chosen_measure_is_marked_on_the_chart(self):
        self.open_bench()
        before = self.screen.find("image", "Chart").description
        self.screen.click(self.screen.find("label", "Mean torque slope"))
        wait_for("the row is selected", lambda: "selected" in self.screen.all(
            "list item", re.compile("^Mean torque slope"))[0].states())
        wait_for("the chart's description says what is marked",
                 lambda: self.screen.find("image", "Chart").description != before
                 and "ean torque slope" in self.screen.find("image", "Chart").description)

    def chart_says(self, words):
        wait_for(f"the chart's description says {words!r}",
                 lambda: words in self.screen.find("image", "Chart").description)

    def test_view_is_switched_by_key_and_button_and_follows_the_chosen_measure(self):
        self.open_bench()
        self.screen.keys("alt+3")
        self.chart_says("Spread of 2 configurations. Peak torque slope [N·m/ms]: 6 points")
        self.screen.find("push button", "Undo: show the spread of the repeats")
        self.screen.click(self.screen.find("label", "Peak torque"))
        self.chart_says("Spread of 2 configurations. Peak torque [N·m]: 6 points")
        self.screen.find("push button", "Undo: show the peak torque")
        path = self.folder / "spread.svg"
        self.export(path, 1)
        batch = self.folder / "batch.svg"
        subprocess.run([BATCH, "chart", "--view", "spread", "--measure", "peak_torque", "-o", batch, *self.bench],
                       check=True, timeout=60)
        self.assertEqual(path.read_bytes(), batch.read_bytes())
        self.screen.click(self.screen.find("push button", "Sweep"))
        self.chart_says("Sweep. Setting: torque slope [N·m/ms]")
        self.screen.keys("alt+2")
        self.chart_says("torque difference")
        self.screen.find("push button", "Undo: show the difference")
        self.screen.keys("ctrl+z")
        self.chart_says("Sweep. Setting: torque slope [N·m/ms]")
        self.screen.keys("alt+1")
        self.chart_says("Two panels: velocity and torque, over")

    def test_chosen_measure_is_explained_in_the_words_of_the_batch_command(self):
        self.open_bench()
        button = self.screen.find("push button", "Explain")
        self.assertNotIn("sensitive", button.states())  # nothing is chosen
        self.screen.click(self.screen.find("label", "Dead time"))
        wait_for("there is something to explain", lambda: "sensitive" in button.states())
        button.act()
        wait_for("the sheet is up", lambda: self.screen.all("frame", re.compile("^Dead time")))
        view = self.screen.find("text", "How it was computed")
        text = wait_for("it is filled", lambda: view.text().count("\n") > 10
                        and view.text())
        printed = subprocess.run([BATCH, "measure", "--explain", "dead_time", *self.bench],
                                 capture_output=True, text=True, check=False).stdout
        self.assertNotRegex(text, r"(?<![\w.)])-[0-9]|[0-9] ms")  # minus signs; numbers stay with their units
        plain = text.replace("\u2212", "-").replace("\u2060", "").replace("\u00a0", " ")
        self.assertEqual(plain.strip(), printed.replace("\u2212", "-").strip())
        self.screen.keys("Escape")
        wait_for("Escape closes it", lambda: not self.screen.all("frame", re.compile("^Dead time")))

    def test_rename_by_key(self):
        self.open_bench()
        self.screen.keys("F2")
        wait_for("the name is open for writing",
                 lambda: any("focused" in node.states()
                             for node in self.screen.all("text", "Name of the configuration")))
        self.screen.keys("ctrl+a")
        self.screen.write("gentle")
        self.screen.keys("Return")
        self.assertTrue(wait_for("a column called gentle", lambda: "gentle:" in self.row("Peak torque")))

    def test_bad_file_is_a_notice_with_its_name(self):
        bad = self.folder / "letter.csv"
        bad.write_text("Dear Sir,\nno numbers here.\n", encoding="utf-8")
        self.open_bench()
        self.assertEqual(self.drop([bad]), 0)
        notice = self.screen.find("list item", re.compile("Not usable: letter, letter.csv"))
        self.assertIn("letter.csv", notice.name)

    def test_path_that_cannot_be_opened_is_told_in_the_window(self):
        self.restart(self.folder / "no such folder")
        self.screen.find("label", re.compile("no such folder.*there is no such file or folder"))

    def test_first_logs_show_while_others_are_read_and_reading_stops_and_goes_on(self):
        folder = self.folder / "many"
        folder.mkdir()
        first = folder / "run 1.csv"
        write_log(first, 5.0, 0.010)
        with first.open("a", encoding="utf-8") as log:  # slow to read, quick to forget
            log.write("n/a,0,0,0,0\n" * 60_000)
        # As many names of it as take a few seconds, whatever the machine and the build.
        start = time.monotonic()
        subprocess.run([BATCH, "measure", first], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=60)
        count = max(12, min(250, round(8 / (time.monotonic() - start))))
        for i in range(2, count + 1):
            os.link(first, folder / f"run {i}.csv")  # each name is a log to be read
        cancel = self.screen.find("push button", "Cancel")
        self.assertEqual(self.drop([folder]), 0)
        self.screen.find("label", re.compile(rf"^Reading logs: \d+ of {count}$"))
        cancel.act()
        self.screen.find("label", re.compile("^Reading was stopped"))
        part = self.screen.find("label", re.compile(rf"^n = \d+ of {count}$"))
        self.assertGreater(int(part.name.split()[2]), 0)
        self.screen.find("push button", re.compile("^Read the rest")).act()
        wait_for("every log counted", lambda: self.screen.all("label", f"n = {count}"), 60)

    def test_log_that_is_written_slowly_joins_once_it_is_whole_and_undo_keeps_it_out(self):
        self.open_bench()
        whole = self.folder / "whole.csv"
        write_log(whole, 4.3, 0.020)
        log = self.bench[0] / "run 9.csv"
        # Another process writes it, in two halves with a pause in the middle of a line.
        half = whole.stat().st_size // 2 + 3
        writer = subprocess.Popen(["sh", "-c", f"head -c {half}; sleep 0.5; cat"], stdin=whole.open("rb"),
                                  stdout=log.open("wb"))
        self.screen.find("list item", re.compile("New: run 9.csv joined soft"))
        self.assertEqual(writer.wait(timeout=10), 0)
        # Tops of 4.0, 4.1, 4.2 and 4.3 N·m: mean 4.15, sample deviation sqrt (0.05 / 3) = 0.129.
        self.assertIn("± 0.13", self.wait_for_row("Peak torque", "soft: 4.15"))
        self.screen.find("label", "n = 4")
        self.screen.find("push button", "Undo: add run 9.csv")
        self.assertEqual(self.screen.all("list item", re.compile("Rows left out.*run 9")), [])
        self.screen.keys("ctrl+z")
        of_three = re.compile(r"soft: 4\.10* ± 0\.10")
        wait_for("the row of the three", lambda: of_three.search(self.row("Peak torque")))
        time.sleep(3)  # for what must not happen
        self.assertRegex(self.row("Peak torque"), of_three)
        self.assertEqual(self.screen.all("list item", re.compile("run 9.csv")), [])

    def type_into(self, field, text):
        self.screen.click(self.screen.find("text", field))
        self.screen.keys("ctrl+a")
        self.screen.write(text)

    def write_counts(self, folder):
        """Time as the number of the sample and the angle in counts: neither can be read without a person's word."""
        folder.mkdir()
        for run in (1, 2):
            lines = ["sample,command_Nm,angle_counts,torque_Nm"]
            for i in range(SAMPLES):
                since = max(0.0, i / RATE_HZ - STEP_S)
                lines.append(f"{i},{5 if i / RATE_HZ >= STEP_S else 0},{round(10 * since * since * 4096 / math.tau)},"
                             f"{(4 + run) * (1 - math.exp(-since / 0.01)):.6f}")
            (folder / f"run {run}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")

    def test_log_that_wants_values_brings_up_the_sheet_and_is_read_once_they_are_stated(self):
        folder = self.folder / "counts"
        self.write_counts(folder)
        self.assertEqual(self.drop([folder]), 0)
        self.screen.find("frame", "Import sheet: columns of run 1.csv in counts")
        self.screen.find("label", "sample rate wanted")
        self.screen.find("label", "counts per turn wanted")
        apply = self.screen.find("push button", "Apply")
        self.assertNotIn("sensitive", apply.states())
        self.type_into("Sample rate [Hz] of sample", str(RATE_HZ))
        self.type_into("Counts per turn of angle_counts", "4096")
        # The last sample is at (700 - 1) / 2000 s; 0.2995 s after the step: 10 * 0.2995² = 0.897 rad, 585 counts.
        self.screen.find("label", "0 … 0.3495 s")
        self.screen.find("label", re.compile(r"^0 … 0\.897\d* rad$"))
        self.screen.find("label", f"{SAMPLES} rows are read.")
        wait_for("the sheet can be applied", lambda: "sensitive" in self.screen.find("push button", "Apply").states())
        self.screen.keys("Return")
        self.screen.find("label", "n = 2")  # the other log of this shape is read in the same way
        self.screen.find("push button", "Undo: columns of run 1.csv")
        # Tops of 5 and 6 N·m: mean 5.5.
        self.wait_for_row("Peak torque", "counts: 5.5")
        self.screen.keys("ctrl+z")
        self.screen.find("list item", re.compile("Not usable: counts, run 1.csv"))

    def test_rate_that_was_found_is_confirmed_by_writing_it_and_by_no_other_choice(self):
        folder = self.folder / "rows"
        folder.mkdir()
        rows = "".join(f"{5 if i >= 100 else 0},{4 if i >= 104 else 0}.5\n" for i in range(SAMPLES))
        (folder / "run 1.csv").write_text(f"# sample_rate_hz: {RATE_HZ}\ncommand_Nm,torque_Nm\n{rows}", encoding="utf-8")
        self.assertEqual(self.drop([folder]), 0)
        open_rate = "No column is the time: look at the sample rate."
        self.screen.find("label", open_rate)
        self.choose("Quotes", 3)  # none
        time.sleep(2)  # for what must not happen
        self.screen.find("label", open_rate)
        self.type_into("Sample rate [Hz]", str(RATE_HZ))
        self.screen.find("label", "Every column is clear.")

    def test_sheet_opens_for_a_certain_log_on_request_only(self):
        self.open_bench()
        self.assertEqual(self.screen.all("frame", re.compile("^Import sheet: columns of")), [])
        self.screen.keys("ctrl+l")
        self.screen.find("frame", re.compile("^Import sheet: columns of run .*.csv in .+$"))
        self.screen.find("label", "Every column is clear.")
        self.screen.find("image", re.compile("^Plot of torque"))
        self.screen.keys("Escape")
        wait_for("the sheet gone", lambda: not self.screen.all("frame", re.compile("^Import sheet: columns of")))

    def test_exported_svg_is_what_the_batch_command_writes(self):
        self.open_bench()
        path = self.folder / "from window.svg"
        self.export(path, 1)
        ElementTree.parse(path)
        batch = self.folder / "from batch.svg"
        subprocess.run([BATCH, "chart", "-o", batch, *self.bench], check=True, timeout=60)
        self.assertEqual(path.read_bytes(), batch.read_bytes())
        # The sheet comes up with the format of the last export: the same again without choosing it.
        self.screen.find("push button", "Undo: choose the format of the export")
        path.unlink()
        self.export(path, 0)
        ElementTree.parse(path)

    def test_panels_chosen_on_the_export_sheet_are_those_of_the_batch_command(self):
        self.open_bench()
        self.screen.keys("ctrl+e")
        angle = wait_for("the check of the angle", lambda: next(
            node for node in self.screen.find("frame", "Export chart").walk()
            if node.role == "check box" and node.name == "Angle"))
        self.screen.click(angle)
        self.screen.find("push button", "Undo: show the angle panel")
        self.choose("Format", 1)
        self.export_button().act()
        path = self.folder / "panels.svg"
        self.save_to(path)
        wait_for("the drawing written", lambda: path.exists() and path.stat().st_size > 0, 30)
        wait_for("the strip says so", lambda: self.screen.all("label", re.compile("The chart is written")))
        batch = self.folder / "batch.svg"
        subprocess.run([BATCH, "chart", "-o", batch, "--panels", "velocity,torque,angle", *self.bench], check=True,
                       timeout=60)
        self.assertEqual(path.read_bytes(), batch.read_bytes())

    def test_exported_png_has_the_pixels_asked_for(self):
        self.open_bench()
        page = self.folder / "page.png"
        self.export(page, 0)
        frame = self.folder / "frame.png"
        self.export(frame, 0, preset_index=2)
        self.assertEqual(png_size(page), (round(175 / 25.4 * 300), round(120 / 25.4 * 300)))
        batch = self.folder / "from batch.png"
        subprocess.run([BATCH, "chart", "-o", batch, *self.bench], check=True, timeout=60)
        self.assertEqual(page.read_bytes(), batch.read_bytes())
        self.assertEqual(png_size(frame), (1920, 1080))

    def test_session_is_saved_and_opens_again(self):
        self.open_bench()
        path = self.folder / "bench.slewbench"
        self.screen.keys("ctrl+s")
        self.save_to(path)
        wait_for("the session written", lambda: path.exists())
        wait_for("its name in the title", lambda: self.title() == "bench – Slewbench")
        self.restart(path)
        self.wait_for_row("Peak torque", "hard:")
        self.assertEqual(self.title(), "bench – Slewbench")

    def test_closing_with_unsaved_choices_asks_first(self):
        # This one ends by itself, so that a leak would be told; GTK's own reading of a drop leaks, hence no drop here.
        self.restart(*self.bench)
        self.wait_for_row("Peak torque", "hard:")
        self.screen.click(self.screen.find("push button", "Use hard as reference"))
        wait_for("the unsaved mark", lambda: self.title().startswith("• "))
        self.screen.keys("ctrl+w")
        self.screen.find("push button", re.compile("^Close without saving")).act()
        self.assertEqual(self.program.wait(timeout=20), 0)

    def test_wheel_zooms_and_is_one_step(self):
        self.open_bench()
        chart = self.screen.find("image", "Chart")
        x, y = self.screen.place(chart)
        run("xdotool", "mousemove", x, y)
        run("xdotool", "click", "--repeat", 5, "--delay", 20, 4)
        wait_for("a step of the history", lambda: self.screen.all("push button", "Undo: change the time shown"))
        self.screen.keys("ctrl+z")
        wait_for("no such step any more", lambda: not self.screen.all("push button", "Undo: change the time shown"))


def png_size(path):
    with open(path, "rb") as file:
        head = file.read(24)
    if head[:8] != b"\x89PNG\r\n\x1a\n":
        raise AssertionError(f"{path.name} is no PNG")
    return struct.unpack(">II", head[16:24])


if __name__ == "__main__":
    del sys.argv[1:3]
    unittest.main(verbosity=2, warnings="ignore")  # the library warns of parts of itself

#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What becomes of a person's work when the program dies, when it is closed, and when another window has the same
session; with real windows and real kills. Run it on a screen of its own:

  headless test_sessions.py SLEWBENCH-WINDOW SLEWBENCH
"""
import json
import os
import re
import shutil
import subprocess
import sys
import time
import unittest

from bench_window import BenchWindow, PROGRAM
from screen import Screen, run, wait_for

# What is lost to a crash is said to be a second or two.
KEPT_WITHIN_S = 2

FOUND = re.compile(r"^Unsaved work of \d\d:\d\d was found: ")


class SessionTest(BenchWindow):
    def unsaved(self):
        """What is kept on disk, one text for each piece of unsaved work."""
        return [path.read_text(encoding="utf-8") for path in (self.folder / "state").glob("slewbench/unsaved/*.unsaved")]

    def kill(self):
        self.program.kill()
        self.program.wait(timeout=20)

    def leave_out_first_of(self, name):
        self.unfold(name)
        self.screen.click(self.screen.find("check box", "Include run 1.csv"))
        self.screen.find("label", "n = 2 of 3")

    def test_work_of_a_killed_program_is_offered_and_goes_on_until_it_is_saved(self):
        self.open_bench()
        self.leave_out_first_of("soft")
        wait_for("the choice on disk", lambda: any('"included" : false' in text for text in self.unsaved()), KEPT_WITHIN_S)
        self.kill()
        self.start()
        text = self.screen.find("label", FOUND).name
        self.assertRegex(text, r"a new session, 2 configurations with 6 trials\.$")
        self.screen.find("push button", re.compile("^Open: Unsaved work")).act()
        self.screen.find("label", "n = 2 of 3")
        self.assertTrue(self.title().startswith("• "))
        self.assertEqual(self.screen.all("label", FOUND), [])
        self.assertEqual(len(self.unsaved()), 1, "it is kept until it is saved")
        self.screen.keys("ctrl+s")
        path = self.folder / "bench.slewbench"
        self.save_to(path)
        wait_for("the session written", lambda: path.exists())
        wait_for("nothing unsaved is kept", lambda: not self.unsaved())

    def test_work_on_a_session_goes_on_in_its_file_also_when_it_is_killed_again(self):
        path = self.folder / "bench.slewbench"
        self.open_bench()
        self.screen.keys("ctrl+s")
        self.save_to(path)
        wait_for("its name in the title", lambda: self.title() == "bench – Slewbench")
        before = path.read_bytes()
        self.leave_out_first_of("soft")
        wait_for("the choice on disk", lambda: any('"included" : false' in text for text in self.unsaved()), KEPT_WITHIN_S)
        for _ in range(2):  # found work that is not saved is found again
            self.kill()
            self.start()
            self.assertIn(": bench, 2 configurations", self.screen.find("label", FOUND).name)
            self.screen.find("push button", re.compile("^Open: Unsaved work")).act()
            self.screen.find("label", "n = 2 of 3")
            self.assertEqual(self.title(), "• bench – Slewbench")
        self.assertEqual(path.read_bytes(), before)
        self.screen.keys("ctrl+s")
        wait_for("no mark in the title", lambda: self.title() == "bench – Slewbench")
        trials = json.loads(path.read_text(encoding="utf-8"))["configurations"][0]["trials"]
        self.assertEqual(sum(trial["included"] for trial in trials), 2)

    def test_work_of_several_killed_windows_is_offered_until_it_is_discarded(self):
        for count in (1, 2):
            self.open_bench()
            wait_for("it is kept", lambda: len(self.unsaved()) == count, KEPT_WITHIN_S)
            self.kill()
            self.start()
        wait_for("both are offered", lambda: len(self.screen.all("label", FOUND)) == 2)
        self.screen.all("push button", re.compile("^Discard: Unsaved work"))[0].act()
        wait_for("one is left", lambda: len(self.screen.all("label", FOUND)) == 1)
        self.assertEqual(len(self.unsaved()), 1)
        self.kill()  # neither opened nor discarded
        self.start()
        self.screen.find("label", FOUND)
        self.screen.find("push button", re.compile("^Discard: Unsaved work")).act()
        wait_for("none is left", lambda: not self.unsaved())

    def test_closing_a_new_session_of_opened_folders_asks_first(self):
        self.restart(*self.bench)  # this one ends by itself: a leak would be told
        self.wait_for_row("Peak torque", "hard:")
        wait_for("it is kept", self.unsaved, KEPT_WITHIN_S)
        self.screen.keys("ctrl+w")
        self.screen.find("push button", re.compile("^Close without saving"))
        self.screen.keys("Escape")
        wait_for("the question gone", lambda: not self.screen.all("push button", re.compile("^Close without saving")))
        self.assertIsNone(self.program.poll())
        self.screen.keys("ctrl+w")
        self.screen.find("push button", re.compile("^Close without saving")).act()
        self.assertEqual(self.program.wait(timeout=20), 0)
        self.assertEqual(self.unsaved(), [], "a person has decided")

    def front(self, pid):
        windows = run("xdotool", "search", "--sync", "--all", "--onlyvisible", "--pid", pid, "--name", "Slewbench$")
        run("xdotool", "windowactivate", "--sync", windows.split()[-1])

    def test_two_windows_on_one_file_notice_each_other_and_neither_is_written_over_unasked(self):
        path = self.folder / "bench.slewbench"
        self.open_bench()
        self.screen.keys("ctrl+s")
        self.save_to(path)
        wait_for("its name in the title", lambda: self.title() == "bench – Slewbench")
        first, first_pid = self.screen, self.program.pid
        other = subprocess.Popen([PROGRAM, str(path)], stdout=subprocess.DEVNULL, stderr=self.errors,
                                 env={**os.environ, "XDG_STATE_HOME": str(self.folder / "state")})
        try:
            second = Screen(other.pid)
            second.find("label", re.compile("^bench.slewbench is open in another window too"))
            first.find("label", re.compile("^bench.slewbench was opened in another window too"))

            self.front(other.pid)
            second.click(second.find("push button", "Use hard as reference"))
            second.keys("ctrl+s")
            wait_for("theirs is saved", lambda: '"reference" : 0' not in path.read_text(encoding="utf-8"))
            first.find("label", re.compile("^bench.slewbench was changed on disk by another window"))
            theirs = path.read_bytes()

            self.front(first_pid)
            first.click(first.find("check box", "Draw soft"))
            wait_for("mine is unsaved", lambda: self.title().startswith("• "))
            first.keys("ctrl+s")
            over = first.find("push button", re.compile("^Save anyway"))
            self.assertEqual(path.read_bytes(), theirs)
            over.act()
            wait_for("mine is saved", lambda: self.title() == "bench – Slewbench")
            self.assertIn('"drawn" : false', path.read_text(encoding="utf-8"))
        finally:
            other.terminate()
            other.wait(timeout=20)

    def test_logs_that_went_elsewhere_are_located_from_a_notice_and_a_changed_one_is_not_taken(self):
        path = self.folder / "bench.slewbench"
        self.open_bench()
        self.screen.keys("ctrl+s")
        self.save_to(path)
        wait_for("its name in the title", lambda: self.title() == "bench – Slewbench")
        self.kill()
        place = self.folder / "archive" / "autumn"
        place.mkdir(parents=True)
        shutil.move(self.bench[0], place)
        changed = place / "soft" / "run 1.csv"
        changed.write_text(changed.read_text(encoding="utf-8").replace("4.000", "3.999"), encoding="utf-8")
        self.start(path)
        self.screen.find("list item", re.compile("^Not usable: soft, run ü2.csv"))
        self.screen.all("push button", re.compile("^Locate: "))[0].act()
        self.screen.find("push button", re.compile("^_?Open( Open)?$"))
        self.screen.keys("ctrl+l", "ctrl+a")
        self.screen.write(str(self.folder / "archive"))
        self.screen.keys("alt+o")
        self.screen.find("label", re.compile("^2 of 3 logs were found.*not taken: run 1.csv"))
        self.screen.find("push button", "Undo: locate 2 logs")
        self.screen.find("label", "n = 2 of 3")
        self.screen.find("list item", re.compile("^Not usable: soft, run 1.csv"))

    def test_bench_of_a_chart_opens_beside_the_session_that_is_open(self):
        path, chart = self.folder / "bench.slewbench", self.folder / "figures" / "figure.png"
        chart.parent.mkdir()  # away from the logs, which are found by the session that is open
        self.open_bench()
        self.screen.keys("ctrl+s")
        self.save_to(path)
        wait_for("its name in the title", lambda: self.title() == "bench – Slewbench")
        self.export(chart, 0)
        before = path.read_bytes()
        self.assertEqual(self.drop([chart]), 0)
        wait_for("its button", lambda: next(
            (node for node in self.screen.all("push button", "Open its bench")
             if "sensitive" in node.states()), None), 30).act()
        wait_for("a window of its own", lambda: sorted(
            frame.name for frame in self.screen.all("frame", re.compile("Slewbench$")))
            == ["bench – Slewbench", "• New session – Slewbench"])
        self.assertEqual(path.read_bytes(), before)

    def drag(self, node, onto, below=0):
        """With the mouse, in steps: a jump is no drag."""
        (x, y), (to_x, to_y) = self.screen.place_at_rest(node), self.screen.place_at_rest(onto)
        to_y += below
        run("xdotool", "mousemove", x, y, "mousedown", 1)
        for i in range(1, 13):
            run("xdotool", "mousemove", x + (to_x - x) * i // 12, y + (to_y - y) * i // 12, "sleep", "0.02")
        run("xdotool", "mousemove", to_x, to_y + 1, "sleep", "0.2", "mouseup", 1)

    def test_trials_chosen_together_are_dragged_split_and_undone_by_name(self):
        self.open_bench()
        self.unfold("soft")
        first = self.screen.find("check box", "Include run 1.csv")
        third = self.screen.find("check box", "Include run ü2.csv")
        run("xdotool", "keydown", "ctrl")
        self.screen.click(first)
        self.screen.click(third)
        run("xdotool", "keyup", "ctrl")
        self.assertIn("checked", first.states(), "choosing leaves nothing out")
        self.drag(first, self.screen.find("label", "hard"))
        self.screen.find("push button", "Undo: move 2 trials to hard")
        wait_for("one here, five there", lambda: self.screen.all("label", "n = 1") and self.screen.all("label", "n = 5"))
        self.screen.keys("ctrl+z")
        wait_for("three each", lambda: len(self.screen.all("label", "n = 3")) == 2)

        # By the menu, whose submenu may not keep the keys: undo is heard at once.
        self.screen.open_menu("Menu of run 1.csv", "Move to")
        self.screen.keys("Down", "Down", "Down", "Return")
        time.sleep(0.5)  # its submenu slides in
        self.screen.keys("Down", "Return")
        self.screen.find("push button", "Undo: move run 1.csv to hard")
        self.screen.keys("ctrl+z")
        wait_for("three each again", lambda: len(self.screen.all("label", "n = 3")) == 2)

        first = self.screen.find("check box", "Include run 1.csv")  # and by the keyboard
        self.screen.click(first, 2)  # out and in again: it has the focus
        self.screen.keys("ctrl+space")
        self.screen.open_menu("Menu of run 1.csv", "Split off").act()
        self.screen.find("push button", "Undo: split run 1.csv off soft")
        self.screen.find("label", "soft (2)")

    def test_configurations_and_trials_are_worked_on_by_keys_alone(self):
        self.open_bench()
        self.screen.click(self.screen.find("label", "hard"))
        self.screen.keys("alt+r")
        self.screen.find("push button", "Undo: make hard the reference")
        self.screen.keys("alt+d")
        self.screen.find("push button", "Undo: hide hard")
        self.screen.keys("alt+d", "shift+F10")
        self.screen.find("menu item", "Duplicate")
        self.screen.keys("Escape", "alt+t")
        first = self.screen.find("check box", "Include run 1.csv")
        self.screen.click(first, 2)  # out and in again: it has the focus
        self.screen.keys("shift+F10")
        self.screen.find("menu item", "Split off")
        self.screen.keys("Escape")
        self.screen.keys("ctrl+shift+x")
        self.screen.find("label", "n = 2 of 3")
        self.screen.keys("ctrl+i")
        wait_for("all are in", lambda: len(self.screen.all("label", "n = 3")) == 2)
        self.screen.keys("ctrl+shift+n")
        self.screen.find("push button", "Undo: split run 1.csv off hard")
        self.screen.keys("alt+9")
        tab = self.screen.find("page tab", re.compile("^Judgements"))
        wait_for("the judgements", lambda: tab.states() & {"selected", "checked", "pressed"})
        self.screen.keys("ctrl+u")
        self.screen.find("push button", "Copy as CSV")
        self.screen.keys("Escape", "ctrl+m")
        self.screen.find("spin button", re.compile("Slope window"))

    def test_configurations_are_dragged_into_order_and_merged(self):
        self.open_bench()
        def order():
            found = (re.match("^Use (.*) as reference$", name) for name in self.screen.names("push button"))
            return [match[1] for match in found if match]

        wait_for("in the order in which they came", lambda: order() == ["soft", "hard"])
        self.drag(self.screen.find("label", "hard"), self.screen.find("label", "soft"), -8)
        self.screen.find("push button", "Undo: move hard up")
        wait_for("the other way round", lambda: order() == ["hard", "soft"])
        self.screen.click(self.screen.find("label", "hard"))  # by the keyboard
        self.screen.keys("alt+Down")
        self.screen.find("push button", "Undo: move hard down")
        self.screen.open_menu("Menu of hard", "Duplicate").act()
        self.screen.find("label", "hard (2)")
        self.screen.find("push button", "Undo: duplicate hard")

    def test_choices_of_the_export_sheet_stay_with_the_session(self):
        self.open_bench()
        self.screen.keys("ctrl+e")
        self.screen.find("combo box", "Format")
        for field, index in ("Format", 1), ("Size", 2), ("Drawn in", 1), ("Legend", 1), ("Foot line", 1):
            self.choose(field, index)
        first, again, session = (self.folder / name for name in ("first.svg", "again.svg", "bench.slewbench"))
        self.write_chart(first)
        self.screen.keys("ctrl+s")
        self.save_to(session)
        wait_for("the session written", session.exists)
        self.restart(session)
        self.wait_for_row("Peak torque", "hard:")
        self.screen.keys("ctrl+e")
        self.write_chart(again)
        self.assertIn(b'width="338.667mm"', first.read_bytes())  # the third size, 1920 pixels of 1/144 in
        self.assertEqual(first.read_bytes(), again.read_bytes())

    def write_chart(self, path):
        self.export_button().act()
        self.save_to(path)
        wait_for(f"{path.name} written", lambda: path.exists() and path.stat().st_size > 0, 30)

    def test_folder_that_is_gone_is_told_and_the_work_is_kept(self):
        place = self.folder / "place"
        place.mkdir()
        path = place / "bench.slewbench"
        self.open_bench()
        self.screen.keys("ctrl+s")
        self.save_to(path)
        wait_for("its name in the title", lambda: self.title() == "bench – Slewbench")
        shutil.rmtree(place)
        self.leave_out_first_of("soft")
        self.screen.keys("ctrl+s")
        self.screen.find("label", re.compile("The session was not saved: the folder .*place is not there"))
        self.assertTrue(self.title().startswith("• "))
        wait_for("the choice is kept", self.unsaved, KEPT_WITHIN_S)


if __name__ == "__main__":
    del sys.argv[1:3]
    unittest.main(verbosity=2, warnings="ignore")  # the library warns of parts of itself

#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The table of measures in the real window: units, order, what is copied, the chart among it; and that what is undone and
done again is what is saved. Run it on a screen of its own:

  headless test_table.py SLEWBENCH-WINDOW SLEWBENCH
"""
import re
import subprocess
import sys
import unittest

from bench_window import BATCH, BenchWindow
from screen import wait_for

from gi.repository import Gdk, Gio, GLib, Gtk  # the versions are chosen in screen.py


def clipboard_bytes(mime_type):
    """What the clipboard holds as this type; None: nothing yet."""
    Gtk.init()
    read, loop = [None], GLib.MainLoop()
    sink = Gio.MemoryOutputStream.new_resizable()

    def spliced(sink, result):
        sink.splice_finish(result)
        read[0] = sink.steal_as_bytes().get_data()
        loop.quit()

    def begun(board, result):
        try:
            stream, _ = board.read_finish(result)
        except GLib.Error:
            loop.quit()
            return
        sink.splice_async(stream, Gio.OutputStreamSpliceFlags.CLOSE_TARGET, GLib.PRIORITY_DEFAULT, None, spliced)

    Gdk.Display.get_default().get_clipboard().read_async([mime_type], GLib.PRIORITY_DEFAULT, None, begun)
    loop.run()
    return read[0]


def clipboard():
    """The text on the clipboard; None: nothing yet."""
    read = clipboard_bytes("text/plain;charset=utf-8")
    return read and read.decode()


class TableTest(BenchWindow):
    def measure(self, *inputs):
        return subprocess.run([BATCH, "measure", *map(str, inputs)], capture_output=True, text=True, check=True,
                              timeout=60).stdout

    def pick(self, field, index):
        def parts(role):
            return [node for node in self.screen.find("combo box", field).walk() if node.role == role]
        parts("push button")[0].act()
        wait_for("an item has the keys", lambda: any("focused" in node.states() for node in parts("list item")))
        self.screen.keys(*["Down"] * index, "Return")

    def test_units_are_switched_in_the_table_and_on_the_axis_and_copied_as_shown(self):
        self.open_bench()
        self.assertIn("Peak torque slope in N·m/ms", self.row("Peak torque slope"))
        self.screen.click(self.screen.find("push button", "Table"))
        self.pick("Torque slopes in", 1)
        self.wait_for_row("Peak torque slope", "in N·m/s;")
        self.pick("Velocities in", 1)
        self.wait_for_row("Peak velocity", "in rpm;")
        self.screen.find("push button", "Copy as CSV").act()
        expected = self.measure("--csv", "--units", "Nm/s,rpm", *self.bench)
        wait_for("the table on the clipboard", lambda: clipboard().split() == expected.split())
        self.screen.find("push button", "Undo: show velocities in rpm")

    def focused_row(self):
        """The name of the table's row that has the keys; None: no row has them."""
        table = self.screen.find("list", "Measures")
        return next((node.name for node in table.walk() if node.role == "list item" and "focused" in node.states()), None)

    def test_tab_passes_the_table_in_one_step_and_arrows_move_in_it(self):
        self.open_bench()
        self.screen.click(self.screen.find("label", "Peak velocity"))
        wait_for("the first row has the keys", lambda: "Peak velocity" in (self.focused_row() or ""))
        self.screen.keys("Down", "Down")
        wait_for("the third has them", lambda: "Velocity deviation" in (self.focused_row() or ""))
        self.screen.keys("Tab")
        wait_for("no row has them", lambda: self.focused_row() is None)
        self.screen.keys("shift+Tab")
        wait_for("back in the row that they left", lambda: "Velocity deviation" in (self.focused_row() or ""))
        self.screen.keys("shift+Tab")
        wait_for("before the table", lambda: self.focused_row() is None)
        self.screen.keys("Tab")
        wait_for("in the row again", lambda: "Velocity deviation" in (self.focused_row() or ""))
        self.screen.keys("Up")
        wait_for("a row above", lambda: "Mean velocity" in (self.focused_row() or ""))

    def test_chart_is_copied_as_it_would_be_exported(self):
        self.open_bench()
        self.wait_for_row("Peak torque slope", "in N·m/ms;")
        self.screen.keys("ctrl+shift+e")
        for ending, mime_type in ("png", "image/png"), ("svg", "image/svg+xml"):
            copied = wait_for("a chart on the clipboard", lambda: clipboard_bytes(mime_type))
            exported = self.folder / f"expected.{ending}"
            subprocess.run([BATCH, "chart", "-o", exported, *map(str, self.bench)], check=True, timeout=60)
            self.assertEqual(copied, exported.read_bytes())

    def test_twenty_steps_undone_and_done_again_are_what_is_saved(self):
        path = self.folder / "bench.slewbench"
        self.open_bench()
        self.unfold("soft")
        check = self.screen.find("check box", "Include run 1.csv")
        self.screen.click(check)  # out, in ... out; its reason has the keys
        self.screen.find("push button", "Undo: exclude run 1.csv")
        self.screen.keys("shift+Tab", "shift+Tab", "space")  # past the menu of the trial
        self.screen.find("push button", "Undo: include run 1.csv")
        self.screen.keys(*["space"] * 17)
        self.screen.find("push button", "Undo: exclude run 1.csv")
        self.screen.click(self.screen.find("push button", "Use hard as reference"))
        self.screen.find("push button", "Undo: make hard the reference")
        self.screen.keys(*["ctrl+z"] * 19)
        self.screen.find("push button", "Redo: include run 1.csv")
        self.screen.keys(*["ctrl+shift+z"] * 19)
        self.screen.find("push button", "Undo: make hard the reference")
        wait_for("nothing to do again", lambda: self.screen.all("push button", "Redo"))
        self.screen.keys("ctrl+s")
        self.save_to(path)
        wait_for("its name in the title", lambda: self.title() == "bench – Slewbench")
        expected = self.measure("--json", "--reference", "hard", "--other", "soft", "--exclude",
                                str(self.bench[0] / "run 1.csv"), *self.bench)
        once = self.measure("--json", path)
        self.assertEqual(re.sub(r'"file" : ".*?"', "", once), re.sub(r'"file" : ".*?"', "", expected))
        self.restart(path)
        self.wait_for_row("Peak torque", "hard")
        self.screen.click(self.screen.find("push button", "Use soft as reference"))
        self.screen.keys("ctrl+z")
        self.screen.keys("ctrl+s")
        wait_for("saved again", lambda: self.title() == "bench – Slewbench")
        self.assertEqual(self.measure("--json", path), once)


if __name__ == "__main__":
    del sys.argv[1:3]
    unittest.main(verbosity=2, warnings="ignore")  # the library warns of parts of itself

#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Reports written from the window, by real keys and clicks. Run it on a screen of its own:

  headless test_report.py SLEWBENCH-WINDOW SLEWBENCH
"""
import re
import subprocess
import sys
import unittest

from bench_window import BATCH, BenchWindow
from screen import wait_for


def files_below(folder):
    return {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


class ReportTest(BenchWindow):
    maxDiff = None

    def sheet(self):
        self.screen.keys("ctrl+shift+r")
        return self.screen.find("frame", "Write the report")

    def name_it(self, name):
        self.screen.click(self.screen.find("text", "Name"))
        self.screen.keys("ctrl+a")
        self.screen.write(name)

    def choose_folder(self, folder):
        self.screen.find("push button", re.compile("^Open$|^Select$|^_Open"))
        self.screen.write(str(folder))
        self.screen.keys("Return")

    def wait_until_told(self, what):
        return wait_for(f"{what!r} told", lambda: self.screen.all("label", re.compile(what)), 60)

    # The facts.

    def test_report_in_a_folder_is_what_the_batch_command_writes(self):
        self.open_bench()
        self.sheet()
        self.name_it("all of it")
        self.screen.keys("Return")
        self.choose_folder(self.folder)
        self.wait_until_told("The report is written: .*all of it")
        batch = self.folder / "by the command"
        subprocess.run([BATCH, "report", "-o", batch, *self.bench], check=True, timeout=60)
        self.assertEqual(files_below(self.folder / "all of it"), files_below(batch))
        # Its tables are none of the tester's logs.
        self.assertEqual(len(self.screen.all("push button", re.compile("^Trials of "))), 2)
        # What somebody changed since is not written over, and the reason is told.
        page = self.folder / "all of it" / "report.html"
        page.write_text("notes of my own")
        self.sheet()
        self.name_it("all of it")
        self.screen.keys("Return")
        self.choose_folder(self.folder)
        self.wait_until_told("report.html is not as a report wrote it, and would be lost")
        self.assertEqual(page.read_text(), "notes of my own")

    def test_report_in_an_archive_opens_as_a_session(self):
        self.open_bench()
        self.sheet()
        self.screen.click(self.screen.find("radio button", "One archive, with the logs"))
        self.screen.click(self.screen.find("push button", "Write…"))
        archive = self.folder / "bench.zip"
        self.save_to(archive)
        self.wait_until_told("The report is written: .*bench.zip")
        by_command = self.folder / "command.zip"
        subprocess.run([BATCH, "report", "--bundle", "-o", by_command, *self.bench], check=True, timeout=60)
        self.assertEqual(archive.read_bytes(), by_command.read_bytes())
        said = subprocess.run([BATCH, "measure", archive], check=True, timeout=60, capture_output=True, text=True).stdout
        self.assertIn("soft (n = 3)", said)
        # A name that gets its ending only then is asked about too.
        archive.write_text("another's")
        self.sheet()
        self.screen.click(self.screen.find("radio button", "One archive, with the logs"))
        self.screen.click(self.screen.find("push button", "Write…"))
        self.save_to(self.folder / "bench")
        self.screen.find("label", re.compile("bench.zip” is there already"))
        self.screen.find("push button", "Cancel")
        self.screen.keys("Escape")
        wait_for("the question gone", lambda: not self.screen.all("push button", "Replace"))
        self.assertEqual(archive.read_text(), "another's")

    def test_name_that_is_no_folder_s_is_refused(self):
        self.open_bench()
        self.sheet()
        self.name_it("a/b")
        self.screen.find("label", re.compile("needs a name, without"))
        self.assertNotIn("sensitive", self.screen.find("push button", "Write…").states())
        self.name_it("report")
        wait_for("it can be written", lambda: "sensitive" in self.screen.find("push button", "Write…").states())
        self.screen.keys("Escape")
        wait_for("the sheet gone", lambda: not self.screen.all("frame", "Write the report"))


if __name__ == "__main__":
    del sys.argv[1:3]
    unittest.main(verbosity=2, warnings="ignore")  # the library warns of parts of itself

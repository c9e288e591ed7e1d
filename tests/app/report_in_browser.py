#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A report's page in a real browser at 1100 pixels: it needs no moving sideways, the verdict of the comparison is
within the window, the chart is as wide as its column, and what is photographed is not blank.

Skipped where there is no Chromium (Debian: chromium)."""
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import zlib

WIDTH = 1100
PROBE = """<script>
const verdict = [...document.querySelectorAll('thead th')].find(cell => cell.textContent === 'Verdict');
const chart = document.querySelector('figure svg').getBoundingClientRect();
document.body.dataset.found = [document.documentElement.scrollWidth, verdict.getBoundingClientRect().right,
                               chart.width, chart.height].map(Math.round).join(' ');
</script>"""


def browse(browser, profile, *arguments):
    command = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
               f"--user-data-dir={profile}", f"--window-size={WIDTH},900", *arguments]
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=100).stdout


def pixels(path):
    """The bytes of a PNG's rows (PNG specification, 5.3)."""
    data, at, packed = path.read_bytes(), 8, b""
    while at < len(data):
        length = int.from_bytes(data[at:at + 4], "big")
        if data[at + 4:at + 8] == b"IDAT":
            packed += data[at + 8:at + 8 + length]
        at += 12 + length
    return zlib.decompress(packed)


def main(program, demo):
    browser = shutil.which("chromium")
    if browser is None:
        sys.exit(77)
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        subprocess.run([program, "report", "-o", folder / "report", pathlib.Path(demo) / "demo.slewbench"],
                       capture_output=True, check=False)
        page = folder / "report" / "report.html"
        probed = folder / "probed.html"
        probed.write_text(page.read_text("utf-8").replace("</body>", PROBE + "</body>"), "utf-8")
        document = browse(browser, folder / "profile", "--dump-dom", probed.as_uri())
        whole, verdict, width, height = map(int, re.search(r'data-found="([^"]*)"', document).group(1).split())
        assert whole <= WIDTH, f"the page is {whole} px wide in a window of {WIDTH}"
        assert 0 < verdict <= WIDTH, f"the verdicts end at {verdict} px"
        # 120 mm of 175 mm, the chart's usual paper
        assert width > 900 and abs(height / width - 120 / 175) < 0.01, f"the chart is {width} by {height} px"
        picture = folder / "page.png"
        browse(browser, folder / "profile", f"--screenshot={picture}", page.as_uri())
        assert len(set(pixels(picture))) > 100, "the page is blank"


main(sys.argv[1], sys.argv[2])

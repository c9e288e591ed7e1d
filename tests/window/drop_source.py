#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A small window to drag files from, and the mouse that drags them.

  drop_source.py X Y FILE...

Drops the files at X,Y of the screen with real mouse events. Exit status 0 when the target took them.
"""
import pathlib
import subprocess
import sys
import threading
import time

import gi

gi.require_version("Gdk", "4.0")
gi.require_version("Gtk", "4.0")
from gi.repository import Gdk, Gio, GLib, GObject, Gtk  # noqa: E402

TITLE = "drop source"
PAUSE_S = 0.03
taken = False


def mouse(*words):
    subprocess.run(["xdotool", *map(str, words)], check=True, capture_output=True, timeout=20)
    time.sleep(PAUSE_S)


def middle_of_source():
    """Places the source in the corner that the program under test does not cover, and says where its middle is."""
    found = subprocess.run(["xdotool", "search", "--sync", "--onlyvisible", "--name", f"^{TITLE}$"], check=True,
                           capture_output=True, text=True, timeout=20).stdout.split()
    width, height = map(int, subprocess.run(["xdotool", "getdisplaygeometry"], check=True, capture_output=True,
                                            text=True, timeout=20).stdout.split())
    mouse("windowmove", found[-1], width - 90, height - 70)
    mouse("windowraise", found[-1])
    time.sleep(0.3)
    info = subprocess.run(["xwininfo", "-id", found[-1]], check=True, capture_output=True, text=True).stdout
    facts = dict(line.split(":", 1) for line in info.splitlines() if ":" in line)
    at = {key.strip(): value for key, value in facts.items()}
    return (int(at["Absolute upper-left X"]) + int(at["Width"]) // 2,
            int(at["Absolute upper-left Y"]) + int(at["Height"]) // 2)


def drag(app, x, y):
    try:
        x0, y0 = middle_of_source()
        mouse("mousemove", x0, y0)
        mouse("mousedown", 1)
        for step in (4, 12, 20):  # beyond the distance at which a press becomes a drag
            mouse("mousemove", x0 - step, y0 - step)
        for i in range(1, 11):
            mouse("mousemove", x0 + (x - x0) * i // 10, y0 + (y - y0) * i // 10)
        mouse("mousemove", x + 1, y + 1)
        mouse("mousemove", x, y)
        mouse("mouseup", 1)
        time.sleep(2)  # "drag-end" ends the program sooner
    except Exception as problem:  # the thread must end the program whatever happens
        print("drop_source:", problem, file=sys.stderr)
    GLib.idle_add(app.quit)


def on_drag_end(source, drag_, delete, app):
    global taken
    taken = bool(drag_.get_selected_action())
    GLib.timeout_add(100, app.quit)


def on_activate(app, x, y, paths):
    window = Gtk.ApplicationWindow(application=app, title=TITLE, decorated=False)
    window.set_default_size(70, 50)
    label = Gtk.Label(label=f"{len(paths)} files", hexpand=True, vexpand=True)
    window.set_child(label)
    files = Gdk.FileList.new_from_list([Gio.File.new_for_path(str(path)) for path in paths])
    source = Gtk.DragSource(actions=Gdk.DragAction.COPY)
    source.connect("prepare",
                   lambda *_: Gdk.ContentProvider.new_for_value(GObject.Value(Gdk.FileList, files)))
    source.connect("drag-end", on_drag_end, app)
    label.add_controller(source)
    window.present()
    threading.Thread(target=drag, args=(app, x, y), daemon=True).start()


def main():
    if len(sys.argv) < 4:
        sys.exit(__doc__)
    x, y = int(sys.argv[1]), int(sys.argv[2])
    paths = [pathlib.Path(name).resolve() for name in sys.argv[3:]]
    app = Gtk.Application(flags=Gio.ApplicationFlags.NON_UNIQUE)
    app.connect("activate", on_activate, x, y, paths)
    app.run([])
    sys.exit(0 if taken else 1)


main()

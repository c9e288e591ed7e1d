# SPDX-License-Identifier: GPL-3.0-or-later
"""A running window seen as assistive technology sees it, and worked with mouse and keys."""
import re
import subprocess
import time

import pyatspi


def run(*words):
    return subprocess.run([str(word) for word in words], check=True, capture_output=True, text=True,
                          timeout=20).stdout


def wait_for(what, condition, timeout_s=15):
    """The first true value of condition(); objects may vanish while they are looked at."""
    end = time.monotonic() + timeout_s
    while True:
        try:
            value = condition()
        except Exception:
            value = None
        if value:
            return value
        if time.monotonic() > end:
            raise AssertionError(f"waited {timeout_s} s for: {what}")
        time.sleep(0.04)


def children(node):
    for i in range(node.childCount):
        child = node.getChildAtIndex(i)
        if child is not None:
            yield child


def walk(node):
    yield node
    for child in children(node):
        yield from walk(child)


class Screen:
    def __init__(self, program, pid=None, timeout_s=15):
        """`pid` tells one of several of the same name."""
        desktop = pyatspi.Registry.getDesktop(0)
        self.root = wait_for(f"{program} on the accessibility bus",
                             lambda: next((a for a in children(desktop) if a.name == program and a.childCount
                                           and pid in (None, a.get_process_id())), None),
                             timeout_s)

    def all(self, role, name=None):
        """Nodes by role and name; a compiled pattern as name is searched for."""
        def fits(node):
            if node.getRoleName() != role:
                return False
            if name is None:
                return True
            return bool(name.search(node.name)) if isinstance(name, re.Pattern) else node.name == name
        return [node for node in walk(self.root) if fits(node)]

    def find(self, role, name=None, timeout_s=15):
        return wait_for(f"{role} {name!r}", lambda: self.all(role, name)[0], timeout_s)

    def names(self, role, name=None):
        return [node.name for node in self.all(role, name)]

    @staticmethod
    def states(node):
        node.clear_cache()
        return {pyatspi.stateToString(state) for state in node.getState().getStates()}

    @staticmethod
    def act(node):
        node.queryAction().doAction(0)

    def window_of(self, node):
        while node.parent is not None and node.parent.getRoleName() != "application":
            node = node.parent
        return node

    @staticmethod
    def screen_window(node):
        """By its title, which may change between the two questions: to be asked again then."""
        node.clear_cache()
        return run("xdotool", "search", "--sync", "--onlyvisible", "--name", "^" + re.escape(node.name) + "$").split()[-1]

    def place(self, node):
        """The node's middle on the screen: only places within a window are right, so the window's own is added."""
        extents = node.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
        window = wait_for("the window on the screen", lambda: self.screen_window(self.window_of(node)))
        info = run("xwininfo", "-id", window)
        x, y = (int(re.search(key + r":\s+(-?\d+)", info)[1]) for key in ("Absolute upper-left X", "Absolute upper-left Y"))
        return x + extents.x + extents.width // 2, y + extents.y + extents.height // 2

    def click(self, node, count=1, button=1):
        x, y = self.place(node)
        run("xdotool", "mousemove", x, y)
        run("xdotool", "click", "--repeat", count, "--delay", 60, button)

    @staticmethod
    def keys(*keys):
        run("xdotool", "key", "--delay", 30, *keys)

    @staticmethod
    def write(text):
        run("xdotool", "type", "--delay", 12, "--", text)


def dump(node, depth=0):
    """The tree as text, for finding out why something is not found."""
    print("  " * depth + f"{node.getRoleName()} {node.name!r} {' '.join(sorted(Screen.states(node)))}")
    for child in children(node):
        dump(child, depth + 1)

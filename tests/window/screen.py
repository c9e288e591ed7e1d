# SPDX-License-Identifier: GPL-3.0-or-later
"""A running window seen as assistive technology sees it, and worked with mouse and keys.

The tree is asked for as a whole (Cache.GetItems of the AT-SPI bus): one question where walking it takes three for each of
some hundred nodes, and would be most of what a test of the window costs."""
import collections
import re
import subprocess
import sys
import time

try:
    import gi
    gi.require_version("Atspi", "2.0")
    gi.require_version("Gdk", "4.0")  # these two for those who read the clipboard or drop files
    gi.require_version("Gtk", "4.0")
    from gi.repository import Atspi, Gio, GLib
except (ImportError, ValueError) as missing:
    print("skipped:", missing)
    sys.exit(77)

# Before each input: a person looks first, and a widget that has just come may not have the keys yet.
LOOK_S = 0.3

APPLICATION = "/org/a11y/atspi/accessible/root"
CACHE = "/org/a11y/atspi/cache"
PREFIX = "org.a11y.atspi."


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


class AccessibilityBus:
    def __init__(self):
        session = Gio.bus_get_sync(Gio.BusType.SESSION)
        address, = session.call_sync("org.a11y.Bus", "/org/a11y/bus", "org.a11y.Bus", "GetAddress", None, None,
                                     Gio.DBusCallFlags.NONE, -1, None).unpack()
        self.connection = Gio.DBusConnection.new_for_address_sync(
            address, Gio.DBusConnectionFlags.AUTHENTICATION_CLIENT | Gio.DBusConnectionFlags.MESSAGE_BUS_CONNECTION,
            None, None)

    def call(self, owner, path, interface, method, signature="()", *arguments):
        return self.connection.call_sync(owner, path, interface, method, GLib.Variant(signature, arguments), None,
                                         Gio.DBusCallFlags.NONE, 15000, None).unpack()

    def program(self, pid):
        """The bus name under which the process is registered."""
        programs, = self.call(PREFIX + "Registry", APPLICATION, PREFIX + "Accessible", "GetChildren")
        for owner, _ in programs:
            if self.call("org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus",
                         "GetConnectionUnixProcessID", "(s)", owner)[0] == pid:
                return owner
        return None


class Node:
    """One accessible object: what it was when the tree was asked for, and what can be asked and done now. One that was
    made anew meanwhile, as rows are when results come, is the one in its place: of the same role, name and number."""

    def __init__(self, screen, item):
        (self.owner, self.path), _, (_, self.parent_path), self.index, self.child_count = item[:5]
        self.name, role, self.description = item[6:9]
        self.screen = screen
        self.nth = 0
        self.role = Atspi.role_get_name(Atspi.Role(role))
        self.parent = None
        self.children = []

    def ask(self, interface, method, signature="()", *arguments):
        try:
            return self.screen.bus.call(self.owner, self.path, PREFIX + interface, method, signature, *arguments)
        except GLib.Error as error:
            if "does not exist" not in error.message:
                raise
            self.path = self.screen.all(self.role, self.name)[self.nth].path
            return self.screen.bus.call(self.owner, self.path, PREFIX + interface, method, signature, *arguments)

    def name_now(self):
        return self.screen.bus.call(self.owner, self.path, "org.freedesktop.DBus.Properties", "Get", "(ss)",
                             PREFIX + "Accessible", "Name")[0]

    def states(self):
        low, high = self.ask("Accessible", "GetState")[0]
        bits = low | high << 32
        return {state.value_nick for state in map(Atspi.StateType, range(int(Atspi.StateType.LAST_DEFINED)))
                if bits >> int(state) & 1}

    def extents_in_window(self):
        """x, y, width, height"""
        return self.ask("Component", "GetExtents", "(u)", Atspi.CoordType.WINDOW)[0]

    def text(self):
        return self.ask("Text", "GetText", "(ii)", 0, -1)[0]

    def act(self):
        time.sleep(LOOK_S)
        self.ask("Action", "DoAction", "(i)", 0)

    def window(self):
        node = self
        while node.parent is not None and node.parent.path != APPLICATION:
            node = node.parent
        return node

    def walk(self):
        """This and all below, each before its children."""
        yield self
        for child in self.children:
            yield from child.walk()


class Screen:
    def __init__(self, pid, timeout_s=15):
        self.bus = AccessibilityBus()
        self.owner = wait_for(f"process {pid} on the accessibility bus", lambda: self.bus.program(pid), timeout_s)

    def tree(self):
        """The application's node. GTK tells only of objects whose parent was asked for its children, so those that count
        more children than are known, and the application, which does not count its windows, are asked first."""
        windows = self.children_of(APPLICATION)
        known = -1
        while True:
            items, = self.bus.call(self.owner, CACHE, PREFIX + "Cache", "GetItems")
            nodes = {node.path: node for node in (Node(self, item) for item in items)}
            self.bind(nodes)
            short = [node.path for node in nodes.values() if len(node.children) < node.child_count]
            short += [path for path in windows if path not in nodes]
            if not short or len(nodes) == known:
                self.count(nodes[APPLICATION])
                return nodes[APPLICATION]
            known = len(nodes)
            for path in short:
                self.reveal(path)

    def children_of(self, path):
        return [path for _, path in self.bus.call(self.owner, path, PREFIX + "Accessible", "GetChildren")[0]]

    def reveal(self, path):
        for child in self.children_of(path):
            self.reveal(child)

    @staticmethod
    def count(root):
        of_name = collections.Counter()
        for node in root.walk():
            node.nth = of_name[node.role, node.name]
            of_name[node.role, node.name] += 1

    @staticmethod
    def bind(nodes):
        for node in nodes.values():
            node.parent = nodes.get(node.parent_path)
            if node.parent is not None:
                node.parent.children.append(node)
        for node in nodes.values():
            node.children.sort(key=lambda child: child.index)

    def all(self, role, name=None):
        """Nodes by role and name; a compiled pattern as name is searched for."""
        def fits(node):
            if node.role != role:
                return False
            if name is None:
                return True
            return bool(name.search(node.name)) if isinstance(name, re.Pattern) else node.name == name
        return [node for node in self.tree().walk() if fits(node)]

    def find(self, role, name=None, timeout_s=15):
        return wait_for(f"{role} {name!r}", lambda: self.all(role, name)[0], timeout_s)

    def names(self, role, name=None):
        return [node.name for node in self.all(role, name)]

    @staticmethod
    def screen_window(node):
        """By its title, which may change between the two questions: to be asked again then."""
        return run("xdotool", "search", "--sync", "--onlyvisible", "--name",
                   "^" + re.escape(node.name_now()) + "$").split()[-1]

    def place(self, node):
        """The node's middle on the screen: only places within a window are right, so the window's own is added."""
        left, top, width, height = node.extents_in_window()
        window = wait_for("the window on the screen", lambda: self.screen_window(node.window()))
        info = run("xwininfo", "-id", window)
        x, y = (int(re.search(key + r":\s+(-?\d+)", info)[1]) for key in ("Absolute upper-left X", "Absolute upper-left Y"))
        return x + left + width // 2, y + top + height // 2

    def place_at_rest(self, node):
        """The same once the node stands still: rows above it may still be filled in."""
        now, before = node.extents_in_window(), None
        while now != before:
            time.sleep(LOOK_S)
            now, before = node.extents_in_window(), now
        return self.place(node)

    def click(self, node, count=1, button=1):
        x, y = self.place_at_rest(node)
        run("xdotool", "mousemove", x, y)
        run("xdotool", "click", "--repeat", count, "--delay", 60, button)

    def open_menu(self, button, item):
        """The menu's item of this name once it is there; a click that comes while the button is made anew is lost."""
        for _ in range(3):
            self.click(self.find("push button", button))
            try:
                return self.find("menu item", item, timeout_s=5)
            except AssertionError as error:
                missing = error
        raise missing

    @staticmethod
    def keys(*keys):
        time.sleep(LOOK_S)
        run("xdotool", "key", "--delay", 30, *keys)

    @staticmethod
    def write(text):
        time.sleep(LOOK_S)
        run("xdotool", "type", "--delay", 12, "--", text)

    def dump(self):
        """The tree as text, for finding out why something is not found."""
        def lines(node, depth):
            print("  " * depth + f"{node.role} {node.name!r} {' '.join(sorted(node.states()))}")
            for child in node.children:
                lines(child, depth + 1)
        lines(self.tree(), 0)

"""Drives a program in a real window as a person would: with the mouse and the keyboard, finding things by the names a
screen reader is told, never by the program's insides.

    with Session("target/release/tranche", ["week.rotation.ron"], size=(1440, 900), env={...}) as window:
        window.carry("^middle, free", "^Thursday supper, empty")
        window.expect("^Thursday supper, .* 280 g", seconds=5)
        window.keys("ctrl+s")
        window.close()

A pattern is a regular expression, searched for in the accessible name and, where there is one, in the text. Every wait
ends as soon as what is waited for is there; the times given are the longest a test is ready to wait.
"""

import os
import re
import subprocess
import time

from desktop import Desktop, SCREEN, die_with_parent, end_process, wait_until

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib

PATIENCE = 5.0
# A drag is told to the program as this many steps of the pointer, one to a screen refresh.
STEPS, REFRESH = 16, 1 / 60
STATES = {
    "focused": Atspi.StateType.FOCUSED,
    "checked": Atspi.StateType.CHECKED,
    "selected": Atspi.StateType.SELECTED,
    "enabled": Atspi.StateType.ENABLED,
}


class WindowError(AssertionError):
    """The window did not do what was expected of it."""


class Node:
    """One thing a screen reader is told of. It is asked anew each time, nothing is remembered."""

    def __init__(self, accessible, name, depth):
        self.accessible, self.name, self.depth = accessible, name, depth

    @property
    def role(self):
        return self.accessible.get_role_name()

    @property
    def text(self):
        if "Text" not in self.accessible.get_interfaces():
            return ""
        return Atspi.Text.get_text(self.accessible, 0, -1) or ""

    @property
    def box(self):
        """Left, top, width and height in pixels of the screen."""
        box = self.accessible.get_extents(Atspi.CoordType.SCREEN)
        return box.x, box.y, box.width, box.height

    @property
    def states(self):
        told = self.accessible.get_state_set()
        return {word for word, state in STATES.items() if told.contains(state)}

    def __str__(self):
        text = self.text
        value = f" = {text!r}" if text and text != self.name else ""
        x, y, width, height = self.box
        return f"{self.role} {self.name!r}{value} {x},{y} {width}x{height} {' '.join(sorted(self.states))}".rstrip()


class Session:
    """One run of one program in one window."""

    def __init__(self, program, args=(), size=(1440, 900), env=None, patience=20.0):
        if size[0] > SCREEN[0] or size[1] > SCREEN[1]:
            raise ValueError(f"a window of {size} does not fit the screen of {SCREEN}")
        self.desktop = Desktop.shared()
        self.size = size
        self.words = [os.path.abspath(program), *map(str, args)]
        self.log = os.path.join(self.desktop.folder, f"program-{time.monotonic_ns()}.log")
        self._away()
        # One pixel to a point whatever the screen says of its size, and plain English whatever the machine speaks.
        whole = dict(os.environ, WINIT_X11_SCALE_FACTOR="1", LC_ALL="C.UTF-8", LANG="C.UTF-8", LANGUAGE="")
        whole.update(env or {})
        with open(self.log, "wb") as log:
            self.process = subprocess.Popen(
                self.words, stdin=subprocess.DEVNULL, stdout=log, stderr=log, env=whole, preexec_fn=die_with_parent
            )
        try:
            self.id = self._await_window(patience)
            self._take_size()
            self._await_voice(patience)
            self.settle()
        except BaseException:
            self.kill()
            raise

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.kill()

    # -- the process ---------------------------------------------------------------------------------------------

    @property
    def alive(self):
        return self.process.poll() is None

    @property
    def said(self):
        """What the program has printed so far."""
        with open(self.log, errors="replace") as log:
            return log.read()

    def cpu_ticks(self):
        """Processor time used so far by all threads, user and system, in ticks of 1/100 s (proc(5), fields 14, 15)."""
        with open(f"/proc/{self.process.pid}/stat") as stat:
            fields = stat.read().rpartition(")")[2].split()
        hundredths = os.sysconf("SC_CLK_TCK") / 100
        return (int(fields[11]) + int(fields[12])) / hundredths

    def settle(self, seconds=4.0):
        """Waits until the program has nothing more to do: no thread runs or waits for a processor, three looks in a row.

        An animation is waited for; a program that never rests is waited for no longer than `seconds`.
        """
        quiet, before = 0, None
        end = time.monotonic() + seconds
        while quiet < 3 and time.monotonic() < end and self.alive:
            used, running = self._work()
            quiet = quiet + 1 if used == before and not running else 0
            before = used
            time.sleep(0.03)

    def _work(self):
        used, running = 0, False
        folder = f"/proc/{self.process.pid}/task"
        try:
            for thread in os.listdir(folder):
                with open(f"{folder}/{thread}/stat") as stat:
                    fields = stat.read().rpartition(")")[2].split()
                running |= fields[0] == "R"
                try:
                    # Nanoseconds on a processor, where the kernel tells them; otherwise whole ticks.
                    with open(f"{folder}/{thread}/schedstat") as exact:
                        used += int(exact.read().split()[0])
                except OSError:
                    used += int(fields[11]) + int(fields[12])
        except OSError:
            pass
        return used, running

    def close(self, seconds=10.0):
        """Closes the window as its close button would, waits for the program to end and returns its exit status."""
        self._run("wmctrl", "-i", "-c", self.id)
        if not wait_until(lambda: not self.alive, seconds):
            self._fail(f"the program still runs {seconds:g} s after its window was closed")
        return self.process.returncode

    def kill(self):
        """Ends the program at once. Right at any time, also when it has ended already."""
        if self.alive:
            self.process.kill()
        end_process(self.process)

    def _await_window(self, seconds):
        def shown():
            if not self.alive:
                raise WindowError(f"{self.words[0]} ended (status {self.process.returncode}) before a window came: {self.said[-800:]}")
            return self._xdotool("search", "--onlyvisible", "--pid", self.process.pid, check=False).split()

        windows = wait_until(shown, seconds)
        if not windows:
            raise WindowError(f"no window came within {seconds:g} s; the program said: {self.said[-800:]}")
        return windows[-1]

    def _take_size(self):
        width, height = self.size
        self._run("wmctrl", "-i", "-r", self.id, "-b", "remove,maximized_vert,maximized_horz")
        self._xdotool("windowsize", self.id, width, height)
        self._xdotool("windowmove", self.id, 0, 0)
        self._xdotool("windowactivate", self.id)
        wanted = {"X": 0, "Y": 0, "WIDTH": width, "HEIGHT": height}
        if not wait_until(lambda: wanted.items() <= self._geometry().items(), PATIENCE):
            raise WindowError(f"the window should be {width}x{height} at 0,0 and is {self._geometry()}")

    def _geometry(self):
        lines = self._xdotool("getwindowgeometry", "--shell", self.id).splitlines()
        return {key: int(value) for key, _, value in (line.partition("=") for line in lines) if value.isdigit()}

    def _await_voice(self, seconds):
        if not wait_until(lambda: self.alive and any(self.nodes()), seconds):
            raise WindowError(f"a screen reader was told nothing within {seconds:g} s; the program said: {self.said[-800:]}")

    # -- what a screen reader is told ----------------------------------------------------------------------------

    def nodes(self):
        """Everything in the window that has a place in the accessible tree, parents first."""
        context = GLib.MainContext.default()
        while context.pending():
            context.iteration(False)
        desk = Atspi.get_desktop(0)
        # Without this the library answers from memory.
        desk.set_cache_mask(Atspi.Cache.NONE)
        for index in range(desk.get_child_count()):
            try:
                program = desk.get_child_at_index(index)
                if program is None or program.get_process_id() != self.process.pid:
                    continue
                program.set_cache_mask(Atspi.Cache.NONE)
                windows = [program.get_child_at_index(child) for child in range(program.get_child_count())]
            except GLib.Error:
                continue
            for top in windows:
                yield from self._walk(top, 0)

    def _walk(self, accessible, depth):
        # The tree may change while it is walked; what has gone is passed over.
        try:
            if accessible is None:
                return
            yield Node(accessible, accessible.get_name() or accessible.get_description() or "", depth)
            count = accessible.get_child_count()
        except GLib.Error:
            return
        for index in range(count):
            try:
                child = accessible.get_child_at_index(index)
            except GLib.Error:
                continue
            yield from self._walk(child, depth + 1)

    def all(self, pattern):
        """All that match now, in the order of the tree."""
        wanted, found = re.compile(pattern), []
        for node in self.nodes():
            try:
                if wanted.search(node.name) or wanted.search(node.text):
                    found.append(node)
            except GLib.Error:
                continue
        return found

    def find(self, pattern, seconds=PATIENCE, nth=1):
        """The first (or the nth) thing that matches; fails when there is none within the time."""

        def hit():
            self._still_there()
            found = self.all(pattern)
            return found[nth - 1] if len(found) >= nth else None

        node = wait_until(hit, seconds)
        if node is None:
            self._fail(f"nothing is named {pattern!r}" + (f" (number {nth})" if nth > 1 else "") + f" within {seconds:g} s")
        return node

    expect = find

    def absent(self, pattern, seconds=PATIENCE):
        """Fails unless everything of that name is gone within the time."""
        if not wait_until(lambda: not self.all(pattern), seconds):
            self._fail(f"there, and should not be: {pattern!r}")
        self._still_there()

    def focus(self):
        """The thing that has the keyboard, or None."""
        for node in self.nodes():
            try:
                if node.depth > 0 and "focused" in node.states:
                    return node
            except GLib.Error:
                continue
        return None

    def tree(self):
        """The accessible tree in words, one thing a line."""
        lines = []
        for node in self.nodes():
            try:
                lines.append("  " * node.depth + str(node))
            except GLib.Error:
                continue
        return "\n".join(lines) + "\n"

    # -- hands ---------------------------------------------------------------------------------------------------

    def click(self, pattern, seconds=PATIENCE, button=1, times=1):
        self._move(*self._middle(pattern, seconds))
        self._xdotool("click", "--repeat", times, "--delay", 80, button)
        self.settle()

    def hover(self, pattern, seconds=PATIENCE):
        self._move(*self._middle(pattern, seconds))
        self.settle()

    def hands_off(self):
        """Takes the pointer off the window, so that nothing looks hovered."""
        self._away()
        self.settle()

    def carry(self, source, target, hold=None, key=None):
        """Drags one thing onto another. `hold` names a picture to take over the target before the button comes up (or is
        called there); `key` is held down meanwhile, as in key="ctrl"."""
        start, end = self._middle(source), self._middle(target)
        self._move(*start)
        self.settle()
        if key:
            self._xdotool("keydown", key)
        self._xdotool("mousedown", 1)
        try:
            for step in range(1, STEPS + 1):
                self._move(*(a + (b - a) * step // STEPS for a, b in zip(start, end)))
            self.settle()
            if callable(hold):
                hold()
            elif hold:
                self.shot(hold)
        finally:
            self._xdotool("mouseup", 1)
            if key:
                self._xdotool("keyup", key)
        self.settle()

    def keys(self, *combinations):
        """Presses keys one after another, each in xdotool's words: "ctrl+s", "Tab", "Return", "Left"."""
        for combination in combinations:
            self._still_there()
            self._xdotool("key", "--clearmodifiers", combination)
            self.settle()

    def type(self, text):
        self._still_there()
        self._xdotool("type", "--delay", 25, "--", text)
        self.settle()

    def shot(self, path):
        """A picture of the window, as PNG."""
        os.makedirs(os.path.dirname(os.path.abspath(path)), exist_ok=True)
        # From the screen, not from the window's own memory: what a person would see.
        width, height = self.size
        self._run("import", "-window", "root", "-crop", f"{width}x{height}+0+0", "+repage", os.fspath(path))

    def title(self):
        return self._xdotool("getwindowname", self.id).strip()

    def _middle(self, pattern, seconds=PATIENCE):
        """The middle of what can be seen of it. A thing outside the window cannot be touched, and that is a failure."""

        def placed():
            node = self.find(pattern, seconds)
            try:
                return node, node.box
            except GLib.Error:
                # Redrawn between the two questions.
                return None

        # Found while it still moves, it would be missed.
        self.find(pattern, seconds)
        self.settle()
        place = wait_until(placed, seconds)
        if not place:
            self._fail(f"{pattern!r} never keeps its place")
        node, (x, y, width, height) = place
        left, top = max(x, 0), max(y, 0)
        right, bottom = min(x + width, self.size[0]), min(y + height, self.size[1])
        if right - left < 1 or bottom - top < 1:
            self._fail(f"{node.name!r} lies outside the window: {x},{y} {width}x{height}")
        return (left + right) // 2, (top + bottom) // 2

    def _away(self):
        self._xdotool("mousemove", SCREEN[0] - 1, SCREEN[1] - 1)

    def _move(self, x, y):
        self._xdotool("mousemove", x, y)
        time.sleep(REFRESH)

    # -- small things --------------------------------------------------------------------------------------------

    def _still_there(self):
        if not self.alive:
            raise WindowError(f"the program ended (status {self.process.returncode}); it said: {self.said[-800:]}")

    def _fail(self, text):
        self._still_there()
        raise WindowError(text)

    def _xdotool(self, *words, check=True):
        return self._run("xdotool", *words, check=check)

    @staticmethod
    def _run(*words, check=True):
        words = [str(word) for word in words]
        try:
            done = subprocess.run(words, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=15)
        except subprocess.TimeoutExpired:
            raise WindowError("no answer within 15 s from: " + " ".join(words)) from None
        if check and done.returncode != 0:
            raise WindowError(f"{' '.join(words)} failed: {done.stderr.strip() or done.stdout.strip()}")
        return done.stdout

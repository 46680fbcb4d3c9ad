"""A private desktop for one test run: a virtual display, a window manager, a message bus and an accessibility bus.

Nothing here touches the desktop of the person who runs the tests, and nothing outlives the run: every process started
here dies with this one, even if this one is killed. There is one desktop to a Python process, because the accessibility
library keeps its one connection for as long as the process lives.
"""

import atexit
import ctypes
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time

# The biggest window a test may ask for.
SCREEN = (1920, 1200)

TOOLS = ["Xvfb", "openbox", "dbus-daemon", "xdotool", "wmctrl", "import"]
LAUNCHERS = ["/usr/libexec/at-spi-bus-launcher", "/usr/lib/at-spi2-core/at-spi-bus-launcher"]

# Windows stand undecorated in the corner: a pixel of the window is then a pixel of the screen. No key and no button is
# bound, so that all of them reach the program.
OPENBOX = """<?xml version="1.0" encoding="UTF-8"?>
<openbox_config xmlns="http://openbox.org/3.4/rc">
  <theme><keepBorder>no</keepBorder></theme>
  <focus><focusNew>yes</focusNew><followMouse>no</followMouse></focus>
  <applications><application class="*">
    <decor>no</decor><focus>yes</focus>
    <position force="yes"><x>0</x><y>0</y></position>
  </application></applications>
</openbox_config>
"""

PR_SET_PDEATHSIG = 1
PR_SET_CHILD_SUBREAPER = 36
_libc = ctypes.CDLL(None, use_errno=True)


class DesktopError(Exception):
    """The desktop itself could not be set up: a tool is missing or a server did not start."""


def wait_until(question, seconds, pause=0.05):
    """Asks until the answer is true-ish and returns it; returns the last answer once the time is up."""
    end = time.monotonic() + seconds
    while True:
        answer = question()
        if answer or time.monotonic() >= end:
            return answer
        time.sleep(pause)


def die_with_parent():
    """For the child between fork and exec: end when the test run ends, however it ends."""
    _libc.prctl(PR_SET_PDEATHSIG, signal.SIGTERM)


def descendants(root):
    """The process ids below `root`, deepest last."""
    parents = {}
    for entry in os.listdir("/proc"):
        if entry.isdigit():
            try:
                with open(f"/proc/{entry}/stat") as stat:
                    # The command name may hold blanks and brackets; what follows the last bracket is plain.
                    parents[int(entry)] = int(stat.read().rpartition(")")[2].split()[1])
            except (OSError, IndexError, ValueError):
                continue
    found, level = [], {root}
    while level:
        level = {pid for pid, parent in parents.items() if parent in level}
        found += sorted(level)
    return found


def end_process(process, seconds=3.0):
    """Asks a process to end, then makes it."""
    if process.poll() is None:
        process.terminate()
        try:
            process.wait(seconds)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


class Desktop:
    """The virtual desktop. `Desktop.shared()` starts it once and ends it with this process."""

    _shared = None

    @classmethod
    def shared(cls):
        if cls._shared is None:
            desktop = cls()
            atexit.register(desktop.close)
            for number in (signal.SIGTERM, signal.SIGHUP):
                signal.signal(number, lambda caught, _: sys.exit(128 + caught))
            try:
                desktop.start()
            except BaseException:
                desktop.close()
                raise
            cls._shared = desktop
        return cls._shared

    def __init__(self):
        self.servers = []
        self.folder = None

    def start(self):
        missing = [tool for tool in TOOLS if not shutil.which(tool)]
        launcher = next((path for path in LAUNCHERS if os.path.exists(path)), None)
        if not launcher:
            missing.append("at-spi-bus-launcher")
        if missing:
            raise DesktopError("missing " + ", ".join(missing) + "; .ci/run lists the Debian packages they come from")

        # Servers that put themselves in the background become our children, so that close() finds them.
        _libc.prctl(PR_SET_CHILD_SUBREAPER, 1)
        self.folder = tempfile.mkdtemp(prefix="real-window-")
        runtime = os.path.join(self.folder, "runtime")
        os.mkdir(runtime, 0o700)
        for name in ("WAYLAND_DISPLAY", "WAYLAND_SOCKET", "AT_SPI_BUS_ADDRESS", "NO_AT_BRIDGE", "SESSION_MANAGER"):
            os.environ.pop(name, None)
        os.environ.update(
            XDG_RUNTIME_DIR=runtime,
            LIBGL_ALWAYS_SOFTWARE="1",
            GALLIUM_DRIVER="llvmpipe",
            GSETTINGS_BACKEND="memory",
        )
        # The display number and the bus address are told by the servers themselves: no port to guess, none to clash.
        screen = "%dx%dx24" % SCREEN
        self.display = ":" + self.start_telling(
            lambda fd: ["Xvfb", "-displayfd", str(fd), "-screen", "0", screen, "-nolisten", "tcp", "-noreset"]
        )
        os.environ["DISPLAY"] = self.display
        os.environ["DBUS_SESSION_BUS_ADDRESS"] = self.start_telling(
            lambda fd: ["dbus-daemon", "--session", "--nofork", "--nopidfile", f"--print-address={fd}"]
        )
        config = os.path.join(self.folder, "openbox.xml")
        with open(config, "w") as file:
            file.write(OPENBOX)
        self.serve(["openbox", "--config-file", config, "--sm-disable"])
        self.serve([launcher, "--launch-immediately"])
        if not wait_until(lambda: self.quietly(["wmctrl", "-m"]), 15):
            raise DesktopError("the window manager did not start within 15 s")
        self.switch_accessibility_on()

    def serve(self, command, **more):
        with open(os.path.join(self.folder, os.path.basename(command[0]) + ".log"), "wb") as log:
            server = subprocess.Popen(
                command, stdin=subprocess.DEVNULL, stdout=log, stderr=log, preexec_fn=die_with_parent, **more
            )
        self.servers.append(server)
        return server

    def start_telling(self, command):
        """Starts a server that writes one line to a file descriptor once it is ready, and returns that line."""
        reader, writer = os.pipe()
        words = command(writer)
        server = self.serve(words, pass_fds=(writer,))
        os.close(writer)
        with os.fdopen(reader) as told:
            line = told.readline().strip()
        if not line:
            raise DesktopError(f"{words[0]} did not start (status {server.wait()})")
        return line

    @staticmethod
    def quietly(command):
        quiet = dict(stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            return subprocess.run(command, stdin=subprocess.DEVNULL, timeout=10, **quiet).returncode == 0
        except subprocess.TimeoutExpired:
            return False

    def switch_accessibility_on(self):
        """Says that a screen reader is listening. A program asks this at its start and stays silent otherwise."""
        import gi

        gi.require_version("Atspi", "2.0")
        from gi.repository import Gio, GLib

        bus = Gio.bus_get_sync(Gio.BusType.SESSION, None)
        status = ("org.a11y.Bus", "/org/a11y/bus", "org.freedesktop.DBus.Properties")

        def call(method, *arguments):
            values = [
                GLib.Variant("v", GLib.Variant("b", value)) if isinstance(value, bool) else GLib.Variant("s", value)
                for value in arguments
            ]
            return bus.call_sync(*status, method, GLib.Variant.new_tuple(*values), None, 0, 2000, None)

        def switched_on():
            try:
                for name in ("IsEnabled", "ScreenReaderEnabled"):
                    call("Set", "org.a11y.Status", name, True)
                    if not call("Get", "org.a11y.Status", name).unpack()[0]:
                        return False
                return True
            except GLib.Error:
                return False

        if not wait_until(switched_on, 15):
            raise DesktopError("the accessibility bus did not answer within 15 s")

    def close(self):
        """Ends everything this process started, and waits until it is gone."""
        for server in reversed(self.servers):
            end_process(server)
        self.servers.clear()
        for number in (signal.SIGTERM, signal.SIGKILL):
            for pid in reversed(descendants(os.getpid())):
                try:
                    os.kill(pid, number)
                except OSError:
                    pass
            wait_until(self.none_left, 3)
        if self.folder:
            shutil.rmtree(self.folder, ignore_errors=True)

    @staticmethod
    def none_left():
        try:
            while os.waitpid(-1, os.WNOHANG)[0]:
                pass
        except OSError:
            pass
        return not descendants(os.getpid())

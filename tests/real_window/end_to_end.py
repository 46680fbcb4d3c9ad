#!/usr/bin/python3
"""Uses the release program from outside, as the cook does: real window, real mouse, real files.

  end_to_end.py [PROGRAM] [-o FOLDER]

PROGRAM is target/release/tranche where none is given. Of each test that fails, a picture of the window, what a screen
reader was told and what the program printed are left in FOLDER (target/real-window). The last line counts the results;
the exit status is 1 when a test failed.
"""

import argparse
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
import traceback

sys.dont_write_bytecode = True
from desktop import wait_until
from window import Session

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
ROTATION = os.path.join(TOP, "tests", "data", "red-cabbage-open.rotation.ron")
FREE_SHARE = r"^middle, free, 280 g"
EMPTY_CELL = r"^Thursday supper, empty"
FILLED_CELL = r"^Thursday supper, (?!empty).*\b280 g"


class Kitchen:
    """What one test works with: a folder of its own, in which the program finds no trace of an earlier run."""

    def __init__(self, program, folder):
        self.program, self.folder = program, folder
        self.env = {}
        for name in ("CONFIG", "DATA", "STATE", "CACHE"):
            self.env[f"XDG_{name}_HOME"] = os.path.join(folder, name.lower())
        self.env["HOME"] = os.path.join(folder, "home")
        for path in self.env.values():
            os.makedirs(path)
        self.plans = os.path.join(folder, "plans")
        os.mkdir(self.plans)
        self.window = None

    def rotation(self):
        """A fresh copy of the red cabbage week whose Thursday supper is still empty."""
        return shutil.copy(ROTATION, self.plans)

    def open(self, *args):
        self.window = None
        self.window = Session(self.program, args, size=(1440, 900), env=self.env)
        return self.window

    def report(self, path):
        """The program's own report of a file, read from the file by a second process."""
        words = [self.program, "report", "--json", path]
        done = subprocess.run(words, env=dict(os.environ, **self.env), capture_output=True, text=True, timeout=30)
        # 1: the file cannot be read, 2: wrong usage. 3 and 4 tell of findings, which are no matter here.
        assert done.returncode in (0, 3, 4), f"report ended with {done.returncode}: {done.stderr}"
        return json.loads(done.stdout)


def read(path):
    with open(path, "rb") as file:
        return file.read()


def unallocated(report):
    return report["balance"]["unallocated_g"]


def assert_thursday_eats_the_rest(report):
    thursday = [meal for meal in report["meals"] if (meal["weekday"], meal["mealtime"]) == ("Thursday", "supper")]
    assert len(thursday) == 1, f"the report should name Thursday supper once, among {report['meals']}"
    assert thursday[0]["grams"] == 280, f"Thursday supper should eat 280 g: {thursday[0]}"
    assert unallocated(report) == 0, f"nothing should be left over: {report['balance']}"


def a_share_dragged_to_a_meal_is_saved_and_comes_back(kitchen):
    path = kitchen.rotation()
    before = read(path)
    assert unallocated(kitchen.report(path)) == 280, "the test needs a week with 280 g left over"

    window = kitchen.open(path)
    window.expect(EMPTY_CELL)
    window.carry(FREE_SHARE, EMPTY_CELL)
    window.expect(FILLED_CELL)
    window.absent(EMPTY_CELL)
    window.absent(FREE_SHARE)
    assert read(path) == before, "the file changed before it was saved"

    window.keys("ctrl+s")
    assert wait_until(lambda: read(path) != before, 5), "ctrl+s did not change the file within 5 s"
    window.settle()
    saved, when = read(path), os.stat(path).st_mtime_ns
    status = window.close()
    assert status == 0, f"the program ended with status {status}"
    assert (read(path), os.stat(path).st_mtime_ns) == (saved, when), "the file changed after it was saved"
    left = os.listdir(kitchen.plans)
    assert left == [os.path.basename(path)], f"saving left other files behind: {left}"
    assert_thursday_eats_the_rest(kitchen.report(path))

    again = kitchen.open(path)
    again.expect(FILLED_CELL)
    assert not again.all(EMPTY_CELL) and not again.all(FREE_SHARE), "the reopened week is not the one saved"
    assert again.close() == 0
    assert read(path) == saved, "opening and closing changed the file"


def a_share_goes_to_a_meal_by_keyboard_alone_and_is_undone(kitchen):
    path = kitchen.rotation()
    before = read(path)
    window = kitchen.open(path)
    window.expect(EMPTY_CELL)
    for _ in range(60):
        focused = window.focus()
        if focused and re.search(FREE_SHARE, focused.name):
            break
        window.keys("Tab")
    else:
        raise AssertionError("60 times Tab never reached the free share")
    # Picked up, walked away and back, put down.
    window.keys("Return", "Left", "Right", "Return")
    window.expect(FILLED_CELL)
    window.keys("ctrl+s")
    assert wait_until(lambda: read(path) != before, 5), "ctrl+s did not change the file within 5 s"
    assert_thursday_eats_the_rest(kitchen.report(path))
    window.keys("ctrl+z")
    window.expect(EMPTY_CELL)
    window.keys("ctrl+s")
    assert wait_until(lambda: unallocated(kitchen.report(path)) == 280, 5), "undo was not saved"
    assert window.close() == 0


def a_broken_file_is_named_with_its_line_and_the_window_stays(kitchen):
    path = os.path.join(kitchen.plans, "broken.rotation.ron")
    lines = read(ROTATION).decode().splitlines(keepends=True)
    # A field nobody knows, on the line after the version.
    at = next(number for number, line in enumerate(lines) if "version" in line) + 1
    lines.insert(at, "    no_such_field: 3,\n")
    with open(path, "w") as file:
        file.writelines(lines)
    broken = read(path)

    window = kitchen.open(path)
    message = window.expect(rf"line {at + 1}\b")
    told = f"{message.name} {message.text}"
    assert "broken.rotation.ron" in told, f"the message does not name the file: {told}"
    time.sleep(2)
    assert window.alive, f"the program ended (status {window.process.returncode}): {window.said}"
    window.expect(rf"line {at + 1}\b")
    assert window.close() == 0
    assert read(path) == broken, "the broken file was changed"


def an_idle_window_rests(kitchen):
    window = kitchen.open(kitchen.rotation())
    window.expect(EMPTY_CELL)
    time.sleep(3)
    before = window.cpu_ticks()
    time.sleep(10)
    used = window.cpu_ticks() - before
    assert window.alive, f"the program ended (status {window.process.returncode}): {window.said}"
    # 10 hundredths of a second in 10 s: 1 % of one processor.
    assert used <= 10, f"10 s of rest cost {used / 100:.2f} s of processor time; 0.10 s is allowed"
    print(f"    10 s of rest cost {used / 100:.2f} s of processor time")


TESTS = [
    a_share_dragged_to_a_meal_is_saved_and_comes_back,
    a_share_goes_to_a_meal_by_keyboard_alone_and_is_undone,
    a_broken_file_is_named_with_its_line_and_the_window_stays,
    an_idle_window_rests,
]


def leave_evidence(window, folder, name):
    """What a person needs to see why a test failed. Gathering it must not hide the failure."""
    os.makedirs(folder, exist_ok=True)
    with open(os.path.join(folder, name + ".log"), "w") as file:
        file.write(window.said)
    try:
        window.shot(os.path.join(folder, name + ".png"))
        with open(os.path.join(folder, name + ".txt"), "w") as file:
            file.write(window.tree())
    except Exception as trouble:
        print(f"    no picture of the failure: {trouble}")


def run(test, program, folder):
    with tempfile.TemporaryDirectory(prefix="end-to-end-") as own:
        kitchen = Kitchen(program, own)
        try:
            test(kitchen)
            return True
        except Exception as trouble:
            line = traceback.extract_tb(trouble.__traceback__)
            where = next((step.lineno for step in reversed(line) if step.filename == __file__), "?")
            print(f"    line {where}: {trouble}" if str(trouble) else traceback.format_exc())
            if kitchen.window:
                leave_evidence(kitchen.window, folder, test.__name__)
            return False
        finally:
            if kitchen.window:
                kitchen.window.kill()


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", nargs="?", default=os.path.join(TOP, "target", "release", "tranche"))
    parser.add_argument("-o", dest="folder", default=os.path.join(TOP, "target", "real-window"), help="for what failures leave")
    options = parser.parse_args()
    program = os.path.abspath(options.program)
    if not os.access(program, os.X_OK):
        parser.error(f"{program} is no program; build it with: cargo build --release")
    passed = failed = 0
    for test in TESTS:
        start = time.monotonic()
        good = run(test, program, options.folder)
        passed, failed = passed + good, failed + (not good)
        print(f"{'passed' if good else 'FAILED'}  {test.__name__.replace('_', ' ')}  ({time.monotonic() - start:.1f} s)", flush=True)
    if failed:
        print(f"what the failures left: {options.folder}")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

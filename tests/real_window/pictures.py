#!/usr/bin/python3
"""Takes the README's pictures of the release program anew. Run by hand whenever the window has changed its looks.

  pictures.py [PROGRAM] [-o FOLDER]

Started without a file and without a past, the program opens its demo rotation; each look is chosen from the menu, as a
person would. PROGRAM is target/release/tranche, FOLDER is assets/pictures where none is given.
"""

import argparse
import os
import sys
import tempfile

sys.dont_write_bytecode = True
from window import Session

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
SIZE = (1440, 900)
# Picture -> the names to click, one after another, before it is taken.
PICTURES = {
    "bench-light.png": ["^View", "^Light"],
    "bench-dark.png": ["^View", "^Dark"],
}


def take(program, path, clicks):
    with tempfile.TemporaryDirectory(prefix="pictures-") as past:
        env = {f"XDG_{name}_HOME": os.path.join(past, name.lower()) for name in ("CONFIG", "DATA", "STATE", "CACHE")}
        with Session(program, size=SIZE, env={**env, "HOME": past}) as window:
            for name in clicks:
                window.click(name)
            window.hands_off()
            window.shot(path)
    print(f"{path}: {SIZE[0]}x{SIZE[1]}")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", nargs="?", default=os.path.join(TOP, "target", "release", "tranche"))
    parser.add_argument("-o", dest="folder", default=os.path.join(TOP, "assets", "pictures"))
    options = parser.parse_args()
    for name, clicks in PICTURES.items():
        take(options.program, os.path.join(options.folder, name), clicks)


if __name__ == "__main__":
    main()

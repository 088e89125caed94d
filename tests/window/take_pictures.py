#!/usr/bin/env python3
"""Takes pictures of the real window for projects/pictures.sh, which makes them small.
   tests/window/take_pictures.py PATH/TO/haftwright FOLDER
"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

from real_window import RealWindow, Screen

PROJECTS = pathlib.Path(__file__).resolve().parents[2] / "projects"


def open_window(program, screen, config, project, theme):
    settings = pathlib.Path(config) / "haftwright" / "settings.json"
    settings.parent.mkdir(parents=True, exist_ok=True)
    settings.write_text(json.dumps({"hint_seen": True, "theme": theme}))
    return RealWindow(program, screen, config, [PROJECTS / project])


def take(window, file):
    window.wait(lambda frame: frame["resting"], "rest")
    subprocess.run(["import", "-display", f":{window.screen.display}", "-window", "root", str(file)], check=True)
    print(file)


def main(program, folder):
    screen = Screen()
    try:
        with tempfile.TemporaryDirectory() as config:
            window = open_window(program, screen, config, "shucking_knife.json", "dark")
            window.click("panel", "Joints")
            window.move_to(2, 2)
            take(window, folder / "window.png")
            window.kill()
            window = open_window(program, screen, config, "marking_knife.json", "light")
            window.click("panel", "Pins")
            window.move_to(2, 2)
            take(window, folder / "window_light.png")
            window.kill()
    finally:
        screen.close()


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    main(os.path.abspath(sys.argv[1]), pathlib.Path(sys.argv[2]).absolute())

#!/usr/bin/env python3
"""The real window on a virtual screen with software drawing: how long until its first frame is on the screen, and how
much processor time it takes while nobody touches it.
   tests/benchmark/start_and_idle.py PATH/TO/haftwright [starts] [idle seconds]
"""
import os
import pathlib
import statistics
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "window"))
from real_window import RealWindow, Screen  # noqa: E402

PROJECTS = pathlib.Path(__file__).resolve().parents[2] / "projects"


def processor_s(pid):
    """User and system time of a process."""
    fields = pathlib.Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def start(program, screen, config, project):
    window = RealWindow(program, screen, config, [project] if project else [])
    return window, (window.frame()["first_frame_s"] - window.started_s) * 1e3


def main(program, starts=10, idle_s=10):
    screen = Screen()
    try:
        with tempfile.TemporaryDirectory() as folder:
            settings = pathlib.Path(folder) / "haftwright" / "settings.json"
            settings.parent.mkdir()
            settings.write_text('{"hint_seen": true}')
            for name in ("", "shucking_knife.json", "reed_knife.json"):
                times, processor = [], []
                for _ in range(starts):
                    window, first_ms = start(program, screen, folder, PROJECTS / name if name else None)
                    times.append(first_ms)
                    processor.append(processor_s(window.process.pid) * 1e3)
                    window.kill()
                print(f"{name or 'start page':22} first frame: median {statistics.median(times):4.0f} ms, "
                      f"best {min(times):4.0f}, worst {max(times):4.0f}; "
                      f"processor time until at rest: median {statistics.median(processor):4.0f} ms", flush=True)
            window, _ = start(program, screen, folder, PROJECTS / "reed_knife.json")
            before, frames = processor_s(window.process.pid), window.frame()["frame"]
            time.sleep(idle_s)
            used = processor_s(window.process.pid) - before
            print(f"idle for {idle_s:.0f} s: {used * 1e3:.0f} ms of processor time ({used / idle_s:.2%} of one core), "
                  f"{window.frame()['frame'] - frames} frames")
            window.kill()
    finally:
        screen.close()


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    main(os.path.abspath(sys.argv[1]), *(int(argument) for argument in sys.argv[2:4]))

"""Steers the real window on a virtual screen: a person's mouse and keys through xdotool, the places of things through
the file that the window writes (HAFTWRIGHT_PLACES). Every wait is for a condition; running out of time is a failure.
"""
import json
import os
import pathlib
import subprocess
import time

from x11_client import X11Client

SCREEN = (1280, 800)
DEADLINE_S = float(os.environ.get("HAFTWRIGHT_DEADLINE_S", 60))


class GaveUp(AssertionError):
    """What was waited for did not come."""


def wait_until(condition, what, describe=lambda: ""):
    """The first true value of condition()."""
    end = time.monotonic() + DEADLINE_S
    while True:
        found = condition()
        if found:
            return found
        if time.monotonic() > end:
            raise GaveUp(f"waited {DEADLINE_S:.0f} s for {what}\n{describe()}")
        time.sleep(0.01)


class Screen:
    """A virtual screen of its own, on a free display number."""

    def __init__(self, size=SCREEN):
        reading, writing = os.pipe()
        self.process = subprocess.Popen(
            ["Xvfb", "-displayfd", str(writing), "-screen", "0", f"{size[0]}x{size[1]}x24", "-nolisten", "tcp"],
            pass_fds=[writing], stderr=subprocess.DEVNULL)
        os.close(writing)
        with os.fdopen(reading) as answer:
            self.display = answer.readline().strip()
        if not self.display:
            raise OSError("Xvfb did not start")

    def close(self):
        self.process.terminate()
        self.process.wait()


class RealWindow:
    """One run of the program. `config` is its settings folder, which several runs may share."""

    def __init__(self, program, screen, config, arguments=()):
        self.screen = screen
        self.config = pathlib.Path(config)
        self.config.mkdir(parents=True, exist_ok=True)
        self.places_file = self.config / "places.json"
        self.places_file.unlink(missing_ok=True)
        self.errors_file = self.config / "stderr"
        environment = dict(os.environ, DISPLAY=f":{screen.display}", XDG_CONFIG_HOME=str(self.config),
                           XDG_DATA_HOME=str(self.config / "data"), HOME=str(self.config), HAFTWRIGHT_PLACES=str(self.places_file))
        environment.pop("WAYLAND_DISPLAY", None)
        self.environment = environment
        self.started_s = time.monotonic()
        with open(self.errors_file, "wb") as errors:
            self.process = subprocess.Popen([program, *map(str, arguments)], env=environment, stderr=errors)
        self.wait(lambda frame: frame["resting"], "the window to come up")
        self.id = int(self._xdotool("search", "--onlyvisible", "--pid", self.process.pid).split()[0])
        # There is no window manager here that would give it the keyboard.
        self._xdotool("windowfocus", "--sync", self.id)

    # --- What it shows ---
    def frame(self):
        """What the last frame showed."""
        try:
            return json.loads(self.places_file.read_text())
        except FileNotFoundError:
            return None

    def session(self):
        return self.frame()["session"]

    def errors(self):
        return self.errors_file.read_text(errors="replace")

    def wait(self, condition, what):
        """The first frame for which condition(frame) is true."""
        def look():
            frame = self.frame()
            if frame and condition(frame):
                return frame
            if self.process.poll() is not None:
                raise GaveUp(f"the window ended with {self.process.returncode} instead of {what}\n{self.errors()}")
            return None

        return wait_until(look, what, lambda: json.dumps(self.frame(), indent=1) + "\n" + self.errors())

    def wait_session(self, what, **wanted):
        """Until the session's state is so and nothing moves any longer."""
        return self.wait(
            lambda frame: frame["resting"] and all(frame["session"].get(key) == wanted[key] for key in wanted),
            f"{what}: {wanted}")

    @staticmethod
    def find(frame, kind, name, index=0):
        found = [place for place in frame["places"] if place["kind"] == kind and place["name"] == name]
        return found[index] if len(found) > index else None

    def place(self, kind, name, index=0):
        """Where it is, once it is in sight and stands still."""
        def there(frame):
            found = self.find(frame, kind, name, index)
            return frame["resting"] and found and found["in_sight"]

        return self.find(self.wait(there, f"{kind} '{name}' in sight"), kind, name, index)

    def shows(self, kind, name):
        return self.find(self.frame(), kind, name) is not None

    # --- What a person does ---
    def _xdotool(self, *arguments):
        return subprocess.run(["xdotool", *map(str, arguments)], env=self.environment, check=True, text=True,
                              stdout=subprocess.PIPE).stdout

    def move_to(self, x, y):
        x, y = round(x), round(y)
        self._xdotool("mousemove", x, y)
        self.wait(lambda frame: frame["resting"] and frame["pointer"] == [x, y], f"the pointer at {x}, {y}")

    def press(self):
        self._xdotool("mousedown", 1)
        self.wait(lambda frame: frame["resting"] and frame["pressed"], "the button pressed")

    def let_go(self):
        self._xdotool("mouseup", 1)
        self.wait(lambda frame: frame["resting"] and not frame["pressed"], "the button let go")

    def click(self, kind, name, index=0):
        place = self.place(kind, name, index)
        self.move_to(place["x"], place["y"])
        self.press()
        self._xdotool("mouseup", 1)

    def quick_click(self, x, y, then):
        """There, away and elsewhere before the window may have drawn a frame."""
        self._xdotool("mousemove", round(x), round(y), "click", "--delay", 0, 1, "mousemove", *then)

    def right_click(self):
        """Where the pointer is."""
        for action in ("mousedown", "mouseup"):
            before = self.frame()["frame"]
            self._xdotool(action, 3)
            self.wait(lambda frame: frame["resting"] and frame["frame"] > before, f"the right button's {action}")

    def key(self, *keys):
        self._xdotool("key", *keys)

    def type_into(self, name, text, index=0, end="Return"):
        """Types over what a field holds."""
        self.click("field", name, index)
        self.wait(lambda frame: self.find(frame, "field", name, index)["active"], f"field '{name}' to take keys")
        self.key("ctrl+a")
        self._xdotool("type", text)
        self.wait(lambda frame: self.find(frame, "field", name, index).get("text") == text, f"'{text}' in the field")
        if end:
            self.key(end)

    def scroll_to(self, kind, name, over, index=0, up=False):
        """Turns the wheel over a place until something is in sight."""
        self.move_to(*over)
        for _ in range(100):
            frame = self.wait(lambda now: now["resting"], "rest")
            found = self.find(frame, kind, name, index)
            if found and found["in_sight"]:
                return found
            self._xdotool("click", 4 if up else 5)
            self.wait(lambda now: now["frame"] > frame["frame"] and now["resting"], "the wheel to turn")
        raise GaveUp(f"{kind} '{name}' does not scroll into sight")

    def drop(self, path, x=SCREEN[0] // 2, y=SCREEN[1] // 2):
        with X11Client(self.screen.display, DEADLINE_S) as client:
            client.drop([path], self.id, x, y)

    def ask_to_close(self):
        with X11Client(self.screen.display, DEADLINE_S) as client:
            client.ask_to_close(self.id)

    # --- Its end ---
    def wait_for_end(self):
        """The exit code."""
        return self.process.wait(DEADLINE_S)

    def kill(self):
        self.process.kill()
        self.process.wait()

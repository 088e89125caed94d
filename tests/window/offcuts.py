#!/usr/bin/env python3
"""The panel Offcuts of the real window: the bin, and the plan over it.
   tests/window/offcuts.py PATH/TO/haftwright [unittest arguments]
"""
import json
import os
import shutil
import subprocess
import sys
import unittest

import run
from real_window import wait_until

OVER_PANEL = (150, 500)


def offcut(key, material, length, width, thickness, **more):
    return {"id": key, "material": material, "size": {"length_mm": length, "width_mm": width},
            "thickness_mm": thickness, **more}


# Bubinga for both front pieces and olive for the rear ones, as thick as a book needs; what else lies in the shop.
BIN = {
    "haftwright_bin": 1,
    "offcuts": [
        offcut("shelf", "bubinga", 120, 70, 26, name="shelf end", kept_at="drawer 2"),
        offcut("branch", "olive", 210, 80, 26, defects=[{
            "kind": "knot", "outline": [{"x_mm": 190, "y_mm": 60, "bulge": 1}, {"x_mm": 198, "y_mm": 60, "bulge": 1}]}]),
        offcut("plank", "black_walnut", 300, 60, 20, alike=2)],
    "sheets": [
        {"id": "fibre", "material": "vulcanized_fibre", "thickness_mm": 0.8, "size": {"length_mm": 300, "width_mm": 200}},
        {"id": "brass", "material": "brass_c26000", "thickness_mm": 1, "size": {"length_mm": 100, "width_mm": 100}}],
    "rods": [{"id": "rod", "stock": {"nominal_mm": 5, "measured_mm": 4.98, "material": "brass_c36000"}, "length_mm": 300}]}


def essentials(offcuts):
    """Without what the program writes out where the test left it to its defaults."""
    return {key: [each["material"], each["size"], each["thickness_mm"], each.get("alike", 1), len(each.get("defects", [])),
                  each.get("reserved", [])] for key, each in offcuts.items()}


def frame_change(frame):
    """What the first change that is offered would do."""
    return next((place["name"] for place in frame["places"] if place["kind"] == "change"), "")


class Offcuts(run.WindowTest):
    def setUp(self):
        super().setUp()
        self.bin = self.config / "data" / "haftwright" / "bin.json"
        self.project = self.folder / "shucking.json"
        shutil.copy(run.PROJECTS / "shucking_knife.json", self.project)
        self.project.chmod(0o644)

    def write_bin(self, content):
        self.bin.parent.mkdir(parents=True, exist_ok=True)
        self.bin.write_text(json.dumps(content))

    def in_bin(self, kind="offcuts"):
        return {each["id"]: each for each in self.saved(self.bin)[kind]}

    def open_panel(self, content=BIN):
        if content:
            self.write_bin(content)
        window = self.open(self.project)
        window.click("panel", "Offcuts")
        return window

    def open_plan(self, content=BIN):
        window = self.open_panel(content)
        window.click("button", "The plan")
        self.wait_for_plan(window)
        window.click("button", "Typed blanks too")
        # Only a plan of these pieces shows them on a board or tells of them.
        self.wait_for_plan(window, lambda frame: window.find(frame, "blank", "0") or self.shown(frame, "no place"))
        return window

    def wait_for_plan(self, window, also=lambda frame: True):
        return window.wait(
            lambda frame: frame["resting"] and (window.find(frame, "planning", "planning") or {}).get("text") == "done"
            and window.find(frame, "plan state", "plan") and also(frame), "a plan")

    @staticmethod
    def shown(frame, kind):
        return [place["name"] for place in frame["places"] if place["kind"] == kind]

    def click_below(self, window, kind, name, index=0):
        window.scroll_to(kind, name, OVER_PANEL, index)
        window.click(kind, name, index)

    def test_no_bin_says_how_to_begin_one(self):
        window = self.open_panel(None)
        window.place("button", "Open another bin ...")
        self.assertFalse(self.bin.exists())
        window.click("button", "Begin a bin with an offcut")
        wait_until(self.bin.exists, "a bin")
        window.wait(lambda frame: window.find(frame, "offcut", "bubinga") or window.find(frame, "offcut", "offcut_1"),
                    "the new offcut")
        (made,) = self.in_bin().values()
        self.assertEqual(made["material"], "bubinga")
        self.quit_saved(window)

    def test_search_narrows_the_bin(self):
        window = self.open_panel()
        window.place("offcut", "shelf")
        self.assertEqual(self.shown(window.frame(), "offcut"), ["shelf", "branch", "plank"])
        window.type_into("Wood", "oli")
        window.wait(lambda frame: self.shown(frame, "offcut") == ["branch"], "olive alone")
        window.click("button", "Show all")
        window.wait(lambda frame: frame["resting"] and len(self.shown(frame, "offcut")) == 3, "all of them")
        window.type_into("At least", "20 cm x 30")
        window.wait(lambda frame: self.shown(frame, "offcut") == ["branch", "plank"], "long ones alone")
        self.assertEqual(self.shown(window.frame(), "rod"), ["rod"])
        window.type_into("At least", "long")
        window.wait(lambda frame: "no size" in window.find(frame, "found", "in the bin")["text"], "what is wrong with it")
        self.quit_saved(window)

    def test_fields_change_the_bin_and_undo_brings_it_back(self):
        window = self.open_panel()
        before = self.saved(self.bin)
        self.click_below(window, "offcut", "shelf")
        window.scroll_to("field", "Thickness", OVER_PANEL)
        window.type_into("Thickness", "1 in")
        wait_until(lambda: self.in_bin()["shelf"]["thickness_mm"] == 25.4, "the thickness in the file")
        window.scroll_to("drawing", "offcut part", OVER_PANEL, up=True)
        window.click("drawing", "offcut part")
        self.click_below(window, "fold-out", "Defects: none")
        self.click_below(window, "button", "Add the defect")
        wait_until(lambda: len(self.in_bin()["shelf"].get("defects", [])) == 1, "the defect in the file")
        corners = self.in_bin()["shelf"]["defects"][0]["outline"]
        # In the middle of the drawing, where it was clicked, within a pixel and what it is rounded to.
        self.assertAlmostEqual(sum(corner["x_mm"] for corner in corners) / 2, 60, delta=0.6)
        self.assertAlmostEqual(sum(corner["y_mm"] for corner in corners) / 2, 35, delta=0.6)
        window.scroll_to("button", "Undo in the bin", OVER_PANEL, up=True)
        window.click("button", "Undo in the bin")
        wait_until(lambda: not self.in_bin()["shelf"].get("defects"), "the defect gone")
        window.click("button", "Undo in the bin")
        wait_until(lambda: self.in_bin()["shelf"]["thickness_mm"] == before["offcuts"][0]["thickness_mm"], "the old thickness")
        window.click("button", "Redo in the bin")
        wait_until(lambda: self.in_bin()["shelf"]["thickness_mm"] == 25.4, "the thickness again")
        self.quit_saved(window)

    def test_change_by_somebody_else_is_noticed(self):
        window = self.open_panel()
        window.place("offcut", "shelf")
        theirs = dict(BIN, offcuts=BIN["offcuts"][1:])
        self.write_bin(theirs)
        window.wait(lambda frame: frame["resting"] and window.find(frame, "offcut", "shelf") is None
                    and "has changed the bin" in window.find(frame, "said", "bin").get("text", ""), "theirs, and a word")
        self.assertEqual(self.saved(self.bin), theirs)
        self.quit_saved(window)

    def test_typed_blanks_are_at_hand_unless_they_are_asked_for(self):
        window = self.open_panel()
        window.click("button", "The plan")
        self.wait_for_plan(window)
        self.assertFalse(window.shows("blank", "0"))
        window.click("button", "Typed blanks too")
        window.wait(lambda frame: frame["resting"] and window.find(frame, "blank", "0"), "boards with blanks")
        self.quit_saved(window)

    def test_planned_wood_is_shown_as_its_photos_show_it(self):
        photo = {"file": "shelf.png", "face": "upper", "marks": [
            {"x_px": 20 + 2 * x, "y_px": 160 - 2 * y, "x_mm": x, "y_mm": y} for x, y in [(0, 0), (120, 0), (120, 70), (0, 70)]]}
        seen = dict(BIN, offcuts=[dict(BIN["offcuts"][0], photos=[photo]), *BIN["offcuts"][1:]])
        folder = self.bin.parent / "bin-pictures"
        folder.mkdir(parents=True)
        subprocess.run([sys.executable, run.PROJECTS.parent / "tests" / "command" / "make_photos.py", "plain", "280", "180",
                        folder / "shelf.png"], check=True)
        window = self.open_panel(seen)
        self.assertFalse(window.shows("button", "Planned wood"))
        window.click("button", "The plan")
        self.wait_for_plan(window)
        window.click("button", "Typed blanks too")
        for side in "left", "right":
            window.wait(lambda frame: (window.find(frame, "planned wood", f"{side} front piece") or {}).get("text") == "shown",
                        "the photo of the front piece")
            self.assertIn("no photo of either face of \"branch\"", window.place("planned wood", f"{side} rear piece")["text"])
        window.click("button", "Planned wood")
        window.wait(lambda frame: frame["resting"] and not window.find(frame, "planned wood", "left front piece"), "no photo")
        window.click("button", "Planned wood")
        window.place("planned wood", "left front piece")
        self.quit_saved(window)

    def test_reserve_cut_and_undo(self):
        window = self.open_plan()
        self.assertIn("Everything has a place", window.place("plan state", "plan")["text"])
        before = self.in_bin()
        self.click_below(window, "button", "Reserve")
        wait_until(lambda: self.in_bin()["shelf"].get("reserved"), "a reservation in the file")
        self.assertEqual({one["project"] for one in self.in_bin()["shelf"]["reserved"]}, {"Shucking knife"})
        # That button comes with the frame that asks for a plan over the bin as it is now.
        self.wait_for_plan(window, lambda frame: window.find(frame, "button", "Let go"))
        self.click_below(window, "button", "It is cut ...")
        self.assertIn("shelf", self.in_bin())
        self.click_below(window, "button", "Yes, it is cut")
        wait_until(lambda: "shelf" not in self.in_bin(), "the sawn offcut out of the file")
        for left in self.in_bin().values():
            self.assertFalse(left.get("reserved"))
        window.click("button", "The bin")
        window.place("button", "Add an offcut")  # the plan has a button to undo too, elsewhere
        window.click("button", "Undo in the bin")
        wait_until(lambda: self.in_bin()["shelf"].get("reserved") if "shelf" in self.in_bin() else None, "the cut taken back")
        window.click("button", "Undo in the bin")
        wait_until(lambda: essentials(self.in_bin()) == essentials(before), "everything back, nothing reserved")
        self.quit_saved(window)

    def test_change_gives_a_piece_its_place(self):
        short = json.loads(json.dumps(BIN))
        # The blanks of the rear pieces are 74.4 mm long, and the rim takes 1 mm at each end.
        short["offcuts"][1]["size"]["length_mm"] = 72
        short["offcuts"][1].pop("defects")
        window = self.open_plan(short)
        frame = window.wait(lambda frame: window.find(frame, "no place", "the left rear piece and the right rear piece")
                            and window.find(frame, "change", frame_change(frame)), "why not, and a change")
        self.assertRegex(frame_change(frame), r"^move joint 1 [0-9.]+ mm toward the butt$")
        self.click_below(window, "button", "Make this change")
        window.wait(lambda frame: frame["session"]["undo"] != "", "one step of the project")
        self.wait_for_plan(window, lambda frame: not self.shown(frame, "no place") and window.find(frame, "blank", "0"))
        window.key("ctrl+z")
        window.wait_session("undone", undo="")
        self.quit_saved(window)

    def test_drawing_order_of_work_and_findings(self):
        window = self.open_plan()
        drawing = self.folder / "cutting.svg"
        self.click_below(window, "button", "Save drawing ...")
        window.type_into("file name", str(drawing))
        wait_until(drawing.exists, "the drawing")
        self.assertIn("<svg", drawing.read_text())
        window.wait(lambda frame: frame["session"]["notices"], "a notice")
        window.click("answer", "Close")
        self.click_below(window, "fold-out", "Order of work")
        steps = window.wait(lambda frame: frame["resting"] and window.find(frame, "work step", "1"), "the steps")
        kinds = [place["name"] for place in steps["places"] if place["kind"] == "work step"]
        self.assertEqual(kinds[0], "caution")
        self.assertEqual(kinds[kinds.index("1"):], [str(i + 1) for i in range(len(kinds) - kinds.index("1"))])
        window.click("button", "Offcuts", 1)
        window.wait(lambda frame: frame["resting"] and "left rear piece" in " ".join(self.shown(frame, "finding")),
                    "findings on the plan")
        self.quit_saved(window)

    def test_blank_is_dragged_stays_where_it_was_put_and_is_freed(self):
        window = self.open_plan()
        self.assertFalse(self.saved(self.project).get("hand_places"))
        window.scroll_to("blank", "0", OVER_PANEL)
        blank = window.place("blank", "0")
        window.move_to(blank["x"], blank["y"])
        window.press()
        # Farther than a click goes, and in steps as a hand moves.
        for step in range(1, 6):
            window.move_to(blank["x"] + 6 * step, blank["y"])
        window.let_go()
        window.wait(lambda frame: frame["session"]["undo"].startswith("put the "), "one step of the project")
        self.wait_for_plan(window, lambda frame: "by hand" in [place.get("text") for place in frame["places"]
                                                               if place["kind"] == "hand"])
        window.key("ctrl+s")
        wait_until(lambda: self.saved(self.project).get("hand_places"), "the place in the project")
        (place,) = self.saved(self.project)["hand_places"]
        self.assertEqual((place["offcut"], place["cut"]), ("shelf", "book"))
        # It can be turned, and freed again: each a step that undo takes back.
        def turn(frame):
            return (window.find(frame, "field", "turn") or {}).get("text")

        before = turn(window.frame())
        self.click_below(window, "button", "Right 1 deg")
        self.wait_for_plan(window, lambda frame: turn(frame) not in (None, before))
        window.key("ctrl+s")
        wait_until(lambda: abs((self.saved(self.project)["hand_places"][0]["turn_deg"] - place["turn_deg"]) % 360 - 359) < 1e-6,
                   "the turn in the project")
        self.click_below(window, "button", "Free")
        self.wait_for_plan(window, lambda frame: frame["session"]["undo"].startswith("free the "))
        window.key("ctrl+s")
        wait_until(lambda: not self.saved(self.project).get("hand_places"), "no place left in the project")
        window.key("ctrl+z")
        window.key("ctrl+z")
        window.key("ctrl+z")
        window.wait_session("all undone", undo="")
        window.key("ctrl+s")
        self.quit_saved(window)

    def test_preferences_are_ordered_and_remembered(self):
        window = self.open_plan()
        self.click_below(window, "fold-out", "What counts")
        window.wait(lambda frame: window.find(frame, "preference", "4"), "the preferences")
        before = [window.find(window.frame(), "preference", str(i))["text"] for i in range(1, 5)]
        self.click_below(window, "button", "Up", 2)
        after = [before[0], before[2], before[1], before[3]]
        window.wait(lambda frame: [window.find(frame, "preference", str(i))["text"] for i in range(1, 5)] == after,
                    "the third before the second")
        self.wait_for_plan(window)
        settings = next(self.config.rglob("settings.json"))
        self.assertEqual(self.saved(settings)["cutting_order"], after)
        self.quit_saved(window)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    run.PROGRAM = os.path.abspath(sys.argv.pop(1))
    unittest.main(verbosity=2, defaultTest="Offcuts")

#!/usr/bin/env python3
"""The real window, used as a person would, on a virtual screen.
   tests/window/run.py PATH/TO/haftwright [unittest arguments]
"""
import json
import os
import pathlib
import shutil
import sys
import tempfile
import unittest

from real_window import RealWindow, Screen, wait_until

PROJECTS = pathlib.Path(__file__).resolve().parents[2] / "projects"
PROGRAM = None
SIGKILL = 9


class WindowTest(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.screen = Screen()

    @classmethod
    def tearDownClass(cls):
        cls.screen.close()

    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)
        self.config = self.folder / "config"
        self.settings = self.config / "haftwright" / "settings.json"
        self.settings.parent.mkdir(parents=True)
        self.settings.write_text('{"hint_seen": true}')
        self.project = self.folder / "paring.json"
        shutil.copy(PROJECTS / "paring_knife.json", self.project)
        self.project.chmod(0o644)

    def open(self, *arguments):
        window = RealWindow(PROGRAM, self.screen, self.config, arguments)
        self.addCleanup(window.kill)
        return window

    def bad_file(self):
        bad = self.folder / "bad.json"
        text = self.project.read_text()
        bad.write_text(text.replace('"length_mm": 102', '"length_mm": "long"', 1))
        self.assertNotEqual(bad.read_text(), text)
        return bad

    def saved(self, path=None):
        return json.loads((path or self.project).read_text())

    def quit_saved(self, window):
        window.ask_to_close()
        self.assertEqual(window.wait_for_end(), 0, window.errors())

    def quit_unsaved(self, window):
        window.ask_to_close()
        window.click("answer", "Don't save")
        self.assertEqual(window.wait_for_end(), 0, window.errors())

    def kept_work(self):
        """What the autosave holds of it; None while there is nothing."""
        kept = list((self.config / "haftwright" / "unsaved").glob("*/work.json"))
        if not kept:
            return None
        self.assertEqual(len(kept), 1)
        return json.loads(kept[0].read_text())

    def drag_pin(self, window, number, along_px, across_px):
        """Takes a pin of the left face by its cross and holds it; pixels on the screen, across: up."""
        faces = [window.place("grip", f"Move pin {number}", face) for face in (0, 1)]
        grip = max(faces, key=lambda place: place["y"])  # unrolled about the spine the left face is below
        window.move_to(grip["x"], grip["y"])
        window.press()
        window.wait_session("the pin is held", dragging=f"Move pin {number}")
        # In two goes, as a hand does.
        window.move_to(grip["x"] + along_px / 2, grip["y"] - across_px / 2)
        window.move_to(grip["x"] + along_px, grip["y"] - across_px)
        window.wait_session("the drag shows", unsaved=True)

    def pixels_per_mm(self, window):
        pins = self.saved()["pins"]
        first, last = (window.place("grip", f"Move pin {number}") for number in (1, 3))
        return (last["x"] - first["x"]) / (pins[2]["x_mm"] - pins[0]["x_mm"])


class Editing(WindowTest):
    def test_drag_type_undo_redo_save(self):
        before = self.saved()
        window = self.open(self.project)
        self.assertEqual(window.session()["title"], "Paring knife")
        self.assertFalse(window.session()["unsaved"])

        pixels = self.pixels_per_mm(window)
        along, across = round(-6 * pixels), round(5 * pixels)
        self.drag_pin(window, 3, along, across)
        window.let_go()
        window.wait_session("the drag is one step", undo="Move pin 3", dragging="", unsaved=True)

        window.click("panel", "Joints")
        window.type_into("Place", "1 1/8 in")
        wait_until(lambda: window.session()["undo"] != "Move pin 3", "the typed value is a step")
        typed_step = window.session()["undo"]
        self.assertEqual(window.place("field", "Place")["text"], "28.58 mm")

        window.key("ctrl+z")
        window.wait_session("undone once", undo="Move pin 3", redo=typed_step)
        self.assertEqual(window.place("field", "Place")["text"], "26.00 mm")
        window.key("ctrl+z")
        window.wait_session("undone twice", undo="", redo="Move pin 3", unsaved=False)
        window.key("ctrl+y")
        window.key("ctrl+y")
        window.wait_session("made again", undo=typed_step, redo="", unsaved=True)
        self.assertEqual(self.saved(), before)
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False, undo=typed_step, notices=[])

        after = self.saved()
        pixel_mm = 1 / pixels
        pin, was = after["pins"][2], before["pins"][2]
        self.assertAlmostEqual(pin["x_mm"], was["x_mm"] + along * pixel_mm, delta=pixel_mm)
        self.assertAlmostEqual(pin["y_mm"], was["y_mm"] + across * pixel_mm, delta=pixel_mm)
        self.assertAlmostEqual(after["sides"]["left"]["joints"][0]["place_mm"], 1.125 * 25.4, places=9)
        # The other pins and the other joint stay where they were.
        for i in (0, 1):
            self.assertEqual([after["pins"][i][key] for key in ("x_mm", "y_mm")],
                             [before["pins"][i][key] for key in ("x_mm", "y_mm")])
        self.assertEqual(after["sides"]["left"]["joints"][1]["place_mm"], 72)
        self.assertEqual(after["name"], before["name"])
        self.quit_saved(window)

    def test_escape_lets_go(self):
        window = self.open(self.project)
        self.drag_pin(window, 1, 40, 0)
        window.key("Escape")
        window.wait_session("the drag is dropped", dragging="", unsaved=False, undo="")
        window.let_go()
        window.wait_session("nothing happened", dragging="", unsaved=False, undo="")
        self.quit_saved(window)

    def test_unreadable_value_stays_in_the_field(self):
        window = self.open(self.project)
        window.click("panel", "Joints")
        window.type_into("Place", "3 spans")
        window.key("ctrl+s")
        window.wait_session("nothing changed", unsaved=False, undo="")
        self.assertEqual(window.place("field", "Place")["text"], "3 spans")
        window.type_into("Place", "27")
        window.wait_session("a good value is taken", unsaved=True)
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False)
        self.assertEqual(self.saved()["sides"]["left"]["joints"][0]["place_mm"], 27)
        self.quit_saved(window)


class FoldView(WindowTest):
    def test_thickness_follows_the_hand(self):
        window = self.open(self.project)
        name = "Thickness at station 2, left side"
        grip = window.place("grip", name)
        window.move_to(grip["x"], grip["y"])
        window.press()
        # A thicker side moves the faces apart; what is held stays under the pointer all the same.
        for down_px in (8, 16, 24, 4):
            window.move_to(grip["x"], grip["y"] + down_px)
            self.assertAlmostEqual(window.place("grip", name)["y"], grip["y"] + down_px, delta=1)
        window.let_go()
        window.wait_session("the drag is one step", undo=name)
        self.quit_unsaved(window)

    def test_a_quick_click_counts_where_it_was_made(self):
        window = self.open(self.project)
        for panel, field in (("Joints", "Place"), ("Finish", "Crown radius"), ("Joints", "Place")):
            at = window.place("panel", panel)
            window.quick_click(at["x"], at["y"], (640, 700))
            window.place("field", field)
        self.quit_saved(window)

    def test_added_with_the_right_button_and_typed(self):
        window = self.open(self.project)
        left = max((window.place("grip", "Move pin 2", face) for face in (0, 1)), key=lambda place: place["y"])
        window.move_to(left["x"] + 40, left["y"] - 12)
        window.key("m")  # a measure does not take the right button
        window.right_click()
        window.click("menu item", "Add a pin here")
        window.wait_session("a pin is added", undo="Add a pin", unsaved=True)
        window.type_into("across", "1.5")
        window.wait_session("typed", undo="Move pin 4")
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False)
        self.assertEqual(len(self.saved()["pins"]), 4)
        self.assertEqual(self.saved()["pins"][3]["y_mm"], 1.5)
        self.quit_saved(window)

    def test_escape_closes_the_menu_only(self):
        window = self.open(self.project)
        grip = window.place("grip", "Move pin 1")
        window.click("grip", "Move pin 1")
        window.place("field", "across")
        window.right_click()
        window.place("menu item", "Remove")
        window.key("Escape")
        window.wait(lambda frame: frame["resting"] and not window.find(frame, "menu item", "Remove"),
                    "the menu to close")
        window.place("field", "across")  # the pin is still selected
        self.assertEqual(window.place("grip", "Move pin 1")["x"], grip["x"])
        self.quit_saved(window)

    def test_a_selection_stays_with_its_pin(self):
        before = [pin["x_mm"] for pin in self.saved()["pins"]]
        window = self.open(self.project)
        window.click("grip", "Move pin 1")
        window.key("Delete")
        window.wait_session("the first pin is taken away", undo="Remove pin 1")
        window.wait(lambda frame: frame["resting"] and not window.find(frame, "grip", "Move pin 3"), "two pins")
        window.click("grip", "Move pin 1")  # which was the second
        along = window.place("field", "along")["text"]
        window.key("ctrl+z")
        window.wait_session("the first pin is back", undo="", redo="Remove pin 1")
        self.assertEqual(window.place("field", "along")["text"], along)
        window.key("Delete")
        window.wait_session("the one that was selected goes", undo="Remove pin 2")
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False)
        self.assertEqual([pin["x_mm"] for pin in self.saved()["pins"]], [before[0], before[2]])
        self.quit_saved(window)


class Pins(WindowTest):
    def open_panel(self):
        """The window, and a place of the panel to turn the wheel over."""
        window = self.open(self.project)
        window.click("grip", "Move pin 1")
        window.click("panel", "Pins")
        name = window.place("field", "Name")
        return window, (name["x"], name["y"])

    def test_a_size_that_is_not_given_waits_to_be_typed(self):
        design = self.saved()
        design["pins"][0]["scale_hole"] = {"drill": "3.1 mm"}
        self.project.write_text(json.dumps(design))
        window, panel = self.open_panel()
        window.scroll_to("field", "Diameter", panel)
        self.assertEqual(window.place("field", "Diameter").get("text", ""), "")
        window.click("field", "Diameter")
        window.wait(lambda frame: window.find(frame, "field", "Diameter")["active"], "the field to take keys")
        window.key("Return")
        window.wait(lambda frame: not window.find(frame, "field", "Diameter")["active"], "the field to let go")
        window.wait_session("a click alone gives nothing", unsaved=False, undo="")
        window.type_into("Diameter", "3.12")
        window.wait_session("typed", unsaved=True)
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False)
        self.assertEqual(self.saved()["pins"][0]["scale_hole"], {"drill": "3.1 mm", "diameter_mm": 3.12})
        self.quit_saved(window)

    def test_added_ones_stand_apart_and_are_taken_hold_of(self):
        window, panel = self.open_panel()
        for number in (4, 5):
            window.scroll_to("button", "Add a pin", panel)
            window.click("button", "Add a pin")
            window.wait_session("added", undo="Add a pin")
            window.wait(lambda frame: frame["resting"] and window.find(frame, "grip", f"Move pin {number}"), "its grip")
            # The first pin's fold-out and those of the pins added before are open above it.
            self.assertEqual(window.place("field", "Name", number - 3)["text"], f"pin {number}")
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False)
        places = [(pin["x_mm"], pin["y_mm"]) for pin in self.saved()["pins"]]
        self.assertEqual(len(set(places)), 5)
        self.quit_saved(window)


class Picture(WindowTest):
    def test_asks_before_it_replaces_a_file(self):
        other = self.folder / "paring.png"
        other.write_text("somebody's photograph")
        window = self.open(self.project)
        for choice in ("Cancel", "Replace it"):
            self.assertEqual(other.read_text(), "somebody's photograph")
            window.key("ctrl+p")
            window.click("answer", "Choose a file ...")
            window.click("answer", "Save")
            window.place("answer", "Replace it")
            window.click("answer", choice)
            window.wait(lambda frame: frame["resting"] and not window.find(frame, "answer", "Replace it"), "an end")
        window.wait_session("the picture is told of", notices=[{"title": "Picture saved", "lines": [str(other)]}])
        self.assertTrue(other.read_bytes().startswith(b"\x89PNG"))
        window.key("Escape")
        self.quit_saved(window)


class LineUp(WindowTest):
    FIRST = "drill guide, onto a pinned tang"
    TAPED = "both taped together, drilled as one"

    def answered(self, window, way):
        """Once everything is told of the design that is shown."""
        def done(frame):
            mark = window.find(frame, "computing", "done")
            chosen = window.find(frame, "way", way)
            return frame["resting"] and mark and chosen and chosen.get("text") == "chosen"

        return window.wait(done, f"the answer for '{way}'")

    def open_panel(self):
        """The window, and a place of the panel to turn the wheel over."""
        window = self.open(self.project)
        window.click("panel", "Line-up")
        panel = window.find(self.answered(window, self.FIRST), "headline", "a step shows")
        return window, (panel["x"], panel["y"])

    def of_kind(self, window, kind):
        frame = window.wait(lambda now: now["resting"], "rest")
        return [place for place in frame["places"] if place["kind"] == kind]

    def test_another_way_and_undo(self):
        window, over = self.open_panel()
        self.assertTrue(self.of_kind(window, "source"))
        self.assertEqual([line["name"] for line in self.of_kind(window, "summary")], ["Worst place", "Best change", "Pins"])
        window.scroll_to("way", self.TAPED, over)
        window.click("way", self.TAPED)
        window.wait_session("a step", undo=f"Drill this way: {self.TAPED}", unsaved=True)
        self.answered(window, self.TAPED)
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False, notices=[])
        taped = self.saved()
        self.assertEqual(taped.pop("drilling")["way"], "taped")
        window.key("ctrl+z")
        window.wait_session("undone", undo="", unsaved=True)
        self.answered(window, self.FIRST)
        window.key("ctrl+s")
        window.wait_session("saved as it was", unsaved=False, notices=[])
        undone = self.saved()
        self.assertNotEqual(undone.pop("drilling", {}).get("way"), "taped")
        self.assertEqual(undone, taped)
        self.quit_saved(window)

    def test_joint_end_in_the_fold_view(self):
        window, over = self.open_panel()
        ends = [place["name"] for place in self.of_kind(window, "end")]
        end = next(name for name in ends if "joint" in name and name.endswith("at the spine, finished surface"))
        window.scroll_to("end", end, over)
        window.click("end", end)
        window.place("spread", end)
        self.quit_saved(window)

    def test_readings_of_a_dry_fit(self):
        window, over = self.open_panel()
        window.click("button", "After the dry fit")
        window.scroll_to("field", "Reading", over)
        window.type_into("Reading", "a thumb")
        window.wait_session("no reading", undo="")
        for text in ("26.40 mm", "26.10 mm"):
            window.scroll_to("field", "Reading", over)
            window.type_into("Reading", text)
            window.wait_session("a reading", undo="Add a reading")
        window.wait(lambda frame: frame["resting"] and window.find(frame, "computing", "done"), "the answer")
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False)
        readings = self.saved()["dry_fit"]
        self.assertEqual([reading["reading_mm"] for reading in readings], [26.4, 26.1])
        self.assertEqual([reading["side"] for reading in readings], ["left", "right"])
        # A reading is picked where it is drawn.
        window.scroll_to("reading on the right", "1", over, up=True)
        window.click("reading on the right", "1")
        window.scroll_to("field", "Reading", over)
        self.assertEqual(window.find(window.frame(), "field", "Reading")["text"], "26.10 mm")
        window.scroll_to("reading on the left", "0", over, up=True)
        window.click("reading on the left", "0")
        window.scroll_to("field", "Reading", over)
        self.assertEqual(window.find(window.frame(), "field", "Reading")["text"], "26.40 mm")
        # One edge of one joint: nothing is cut before the others are known.
        self.assertFalse(window.find(window.wait(lambda now: now["resting"], "rest"), "button", "Put it into the project"))
        window.key("ctrl+z")
        window.wait_session("a reading taken back", unsaved=True)
        window.key("ctrl+s")
        window.wait_session("saved with one reading", unsaved=False)
        self.assertEqual(self.saved()["dry_fit"], readings[:1])
        self.quit_saved(window)

    def test_a_correction(self):
        project = json.loads(self.project.read_text())
        project["dry_fit"] = [
            {"joint": f"joint_{joint + 1}", "strip_edge": strip_edge, "at": at, "kind": "step", "side": "right", "reading_mm": 0.9}
            for joint in range(len(project["sides"]["left"]["joints"]))
            for strip_edge in ("front", "rear")
            for at in ("spine", "belly")
        ]
        self.project.write_text(json.dumps(project))
        window, over = self.open_panel()
        window.click("button", "After the dry fit")
        window.wait(lambda frame: frame["resting"] and window.find(frame, "computing", "done"), "the answer")
        window.scroll_to("button", "Put it into the project", over)
        self.assertTrue(self.of_kind(window, "mend"))
        window.click("button", "Put it into the project")
        window.wait(lambda frame: frame["resting"] and frame["session"]["undo"].startswith("Correction"), "the correction as a step")
        window.key("ctrl+s")
        window.wait_session("saved with the correction", unsaved=False)
        self.assertEqual(self.saved().get("dry_fit", []), [])
        window.key("ctrl+z")
        window.wait_session("the correction taken back", undo="", unsaved=True)
        window.key("ctrl+s")
        window.wait_session("saved as it was read", unsaved=False)
        self.assertEqual(len(self.saved()["dry_fit"]), len(project["dry_fit"]))
        self.quit_saved(window)

    def test_make_a_change(self):
        window, over = self.open_panel()
        shows = self.of_kind(window, "headline")[0]["text"]
        window.scroll_to("button", "Make this change", over)
        window.click("button", "Make this change")
        window.wait_session("a step", unsaved=True)

        def answered(frame):
            headline = window.find(frame, "headline", "a step shows")
            return window.find(frame, "computing", "done") and headline and headline["text"] != shows

        window.wait(answered, "the new answer")
        better = self.of_kind(window, "headline")[0]["text"]
        self.assertLess(float(better.split()[0]), float(shows.split()[0]))
        window.key("ctrl+z")
        window.wait_session("undone", undo="", unsaved=False)
        self.quit_saved(window)


class Shop(WindowTest):
    def setUp(self):
        super().setUp()
        self.shop = self.config / "data" / "haftwright" / "shop.json"
        self.project_holds()

    def project_holds(self, **rules):
        """These rules, and the defaults of all else that a shop has too."""
        project = self.saved()
        project.pop("adhesive", None)
        project.update(rules=rules, drilling={"one_block": True})
        self.project.write_text(json.dumps(project))

    def shop_holds(self, **rules):
        self.shop.parent.mkdir(parents=True)
        self.shop.write_text(json.dumps({"haftwright_shop": 1, "rules": rules}))

    def rules(self, path, *keys):
        return [self.saved(path)["rules"][key] for key in keys]

    def differing(self, window, count):
        """Once the panel tells that so many values differ."""
        return window.wait(
            lambda frame: frame["resting"] and (window.find(frame, "shop", "differences") or {}).get("text") == str(count),
            f"{count} values that differ")

    def open_panel(self):
        window = self.open(self.project)
        window.click("panel", "Shop rules")
        return window

    def test_a_project_takes_values_and_undo_takes_them_back(self):
        self.shop_holds(edge_wall_mm=2.5, near_share=0.25)
        window = self.open_panel()
        frame = self.differing(window, 2)
        self.assertEqual(window.find(frame, "difference", "rules.edge_wall_mm")["text"], "2 mm / 2.5 mm")
        window.click("button", "Take the shop's")
        window.wait_session("one is taken", undo="Take the shop's: Rules: Edge wall", unsaved=True)
        self.differing(window, 1)
        window.key("ctrl+z")
        self.differing(window, 2)
        window.click("button", "Take all the shop's")
        window.wait_session("all are taken", undo="Take the shop's: all values", unsaved=True)
        self.differing(window, 0)
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False, notices=[])
        self.assertEqual(self.rules(self.project, "edge_wall_mm", "near_share"), [2.5, 0.25])
        self.quit_saved(window)

    def test_the_shop_takes_values(self):
        self.project_holds(edge_wall_mm=3, near_share=0.25)
        before = self.saved()
        window = self.open_panel()
        self.differing(window, 2)
        self.assertFalse(self.shop.exists())
        window.click("button", "Make it the shop's")
        self.differing(window, 1)
        self.assertEqual(self.rules(self.shop, "edge_wall_mm", "near_share"), [3, 0.2])
        window.click("button", "Make all the shop's")
        self.differing(window, 0)
        self.assertEqual(self.rules(self.shop, "edge_wall_mm", "near_share"), [3, 0.25])
        window.wait_session("the project is as it was", unsaved=False, undo="", notices=[])
        self.assertEqual(self.saved(), before)
        self.quit_saved(window)

    def test_a_failed_write_is_told(self):
        self.project_holds(edge_wall_mm=3)
        window = self.open_panel()
        self.differing(window, 1)
        (self.config / "data").write_text("a file where the folder should be")
        window.click("button", "Make all the shop's")
        told = window.wait(lambda frame: frame["session"]["notices"], "that nothing was written")["session"]["notices"]
        self.assertEqual([notice["title"] for notice in told], ["The shop's values have not changed"])
        self.assertIn("shop.json", told[0]["lines"][0])
        window.click("answer", "Close")
        window.wait_session("it was read", notices=[], unsaved=False)
        self.differing(window, 1)
        self.quit_saved(window)

    def test_a_shop_file_written_meanwhile_shows_by_itself(self):
        self.shop_holds(edge_wall_mm=2.5)
        window = self.open_panel()
        self.differing(window, 1)
        self.shop.write_text(json.dumps({"haftwright_shop": 1, "rules": {"edge_wall_mm": 2.5, "near_share": 0.25}}))
        self.differing(window, 2)
        self.quit_saved(window)

    def test_a_new_project_begins_with_the_shop(self):
        self.shop_holds(edge_wall_mm=2.5)
        window = self.open()
        window.click("button", "Begin")
        window.wait_session("a new project", title="Untitled", unsaved=True)
        window.click("panel", "Shop rules")
        self.differing(window, 0)
        window.key("ctrl+s")
        made = self.folder / "made.json"
        window.type_into("file name", str(made))
        window.wait_session("saved under its name", path=str(made), unsaved=False)
        self.assertEqual(self.rules(made, "edge_wall_mm"), [2.5])
        self.quit_saved(window)


class Safety(WindowTest):
    def test_killed_in_a_drag_and_restored(self):
        on_disk = self.project.read_bytes()
        window = self.open(self.project)
        window.click("panel", "Joints")
        window.type_into("Place", "27.5")
        window.wait_session("an unsaved edit", unsaved=True)
        wait_until(self.kept_work, "the autosave")
        self.drag_pin(window, 1, 30, 0)
        window.process.kill()
        self.assertEqual(window.wait_for_end(), -SIGKILL)
        kept = self.kept_work()
        self.assertEqual(json.loads(kept["design"])["sides"]["left"]["joints"][0]["place_mm"], 27.5)
        self.assertEqual(self.project.read_bytes(), on_disk)

        by_name = self.open(self.project)
        by_name.wait_session("it is asked about", offers=1, path=str(self.project), unsaved=False)
        self.assertIn("left behind", by_name.session()["question"])
        by_name.click("answer", "Not now")
        by_name.wait_session("for later", offers=1, question="")
        self.quit_saved(by_name)

        again = self.open()
        again.wait_session("the work is offered", offers=1, path="")
        again.click("button", "Take it up again")
        again.wait_session("it is open and unsaved", offers=0, path=str(self.project), unsaved=True)
        self.assertEqual(self.project.read_bytes(), on_disk)
        again.key("ctrl+s")
        again.wait_session("saved", unsaved=False)
        self.assertEqual(self.project.read_text(), kept["design"])
        self.assertIsNone(self.kept_work())
        self.quit_saved(again)
        third = self.open()
        third.wait_session("nothing is offered any longer", offers=0)

    def test_bad_file_dropped(self):
        window = self.open(self.project)
        window.click("panel", "Joints")
        window.type_into("Place", "27.5")
        window.wait_session("an unsaved edit", unsaved=True)
        step = window.session()["undo"]
        window.drop(self.bad_file())
        told = window.wait(lambda frame: frame["resting"] and frame["session"]["notices"], "an error")["session"]
        self.assertEqual(told["notices"][0]["title"], "bad.json can't be opened")
        self.assertIn("tang.starter.length_mm", told["notices"][0]["lines"][0])
        self.assertEqual((told["path"], told["undo"], told["unsaved"]), (str(self.project), step, True))
        window.click("answer", "Close")
        window.wait_session("it was read", notices=[], path=str(self.project), undo=step, unsaved=True)
        window.key("ctrl+s")
        window.wait_session("saved", unsaved=False)
        self.assertEqual(self.saved()["sides"]["left"]["joints"][0]["place_mm"], 27.5)
        self.quit_saved(window)

    def test_good_file_dropped(self):
        window = self.open(self.project)
        other = self.folder / "a marking knife.json"
        shutil.copy(PROJECTS / "marking_knife.json", other)
        window.drop(other)
        window.wait_session("the dropped file is open", path=str(other), unsaved=False, notices=[])
        self.quit_saved(window)

    def test_bad_file_as_argument(self):
        for bad, word in ((self.bad_file(), "tang.starter.length_mm"), (self.folder / "nowhere.json", "nowhere.json")):
            with self.subTest(word):
                window = self.open(bad)
                told = window.wait(lambda frame: frame["resting"] and frame["session"]["notices"], "an error")["session"]
                self.assertEqual(told["path"], "")
                self.assertIn(word, json.dumps(told["notices"]))
                window.click("answer", "Close")
                window.wait_session("it was read", notices=[])
                window.click("button", "Shucking knife")
                window.wait_session("the window goes on", title="Shucking knife")
                self.quit_saved(window)

    def test_closing_asks(self):
        on_disk = self.project.read_bytes()
        window = self.open(self.project)
        window.click("panel", "Joints")
        window.type_into("Place", "27.5")
        window.wait_session("an unsaved edit", unsaved=True)
        asks = 'Save the changes to "Paring knife" first?'
        window.ask_to_close()
        window.wait_session("a question", question=asks)
        window.click("answer", "Cancel")
        window.wait_session("it stays open", question="", unsaved=True)
        window.ask_to_close()
        window.wait_session("a question again", question=asks)
        window.click("answer", "Don't save")
        self.assertEqual(window.wait_for_end(), 0, window.errors())
        self.assertEqual(self.project.read_bytes(), on_disk)
        self.assertIsNone(self.kept_work())

    def test_closing_saves_when_told(self):
        window = self.open(self.project)
        window.click("panel", "Joints")
        window.type_into("Place", "27.5")
        window.wait_session("an unsaved edit", unsaved=True)
        window.key("ctrl+q")
        window.wait(lambda frame: frame["resting"] and frame["session"]["question"], "a question")
        window.click("answer", "Save")
        self.assertEqual(window.wait_for_end(), 0, window.errors())
        self.assertEqual(self.saved()["sides"]["left"]["joints"][0]["place_mm"], 27.5)

    def test_change_on_disk_is_noticed(self):
        window = self.open(self.project)
        theirs = self.saved()
        theirs["name"] = "Theirs"
        self.project.write_text(json.dumps(theirs))
        window.wait(lambda frame: frame["resting"] and "somebody else" in frame["session"]["question"], "a question")
        window.click("answer", "Read it again")
        window.wait_session("theirs is open", title="Theirs", unsaved=False)
        self.quit_saved(window)


class StartPage(WindowTest):
    def test_first_run(self):
        self.settings.unlink()
        window = self.open()
        window.wait_session("nothing is open", path="", title="")
        window.click("button", "Marking knife")
        # A copy without a file, so that saving can't write over the sample.
        window.wait_session("a copy of the sample is open", path="", title="Marking knife", unsaved=False)
        window.click("answer", "Got it")
        wait_until(
            lambda: self.settings.exists() and json.loads(self.settings.read_text())["hint_seen"],
            "the hint to be remembered as seen")
        self.quit_saved(window)

    def test_recent(self):
        self.quit_saved(self.open(self.project))
        window = self.open()
        window.click("button", "Paring")
        window.wait_session("the recent file is open", path=str(self.project))
        self.quit_saved(window)

    def test_open_by_name(self):
        window = self.open()
        window.click("button", "Open a project file ...")
        window.type_into("file name", str(self.project))
        window.wait_session("the file is open", path=str(self.project), title="Paring knife")
        self.quit_saved(window)

    def test_new_and_save_as(self):
        window = self.open()
        window.type_into("Length", "110")
        window.click("button", "Begin")
        window.wait_session("a new project", title="Untitled", path="", unsaved=True)
        window.key("ctrl+s")
        made = self.folder / "made.json"
        window.type_into("file name", str(made))
        window.wait_session("saved under its name", path=str(made), unsaved=False)
        tang = self.saved(made)["tang"]
        corners = [corner["x_mm"] for corner in tang["outline"]]
        self.assertEqual(max(corners), 110)
        self.quit_saved(window)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    PROGRAM = os.path.abspath(sys.argv.pop(1))
    unittest.main(verbosity=2)

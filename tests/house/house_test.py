#!/usr/bin/env python3
"""What DEVELOPERS.md promises about the house, held against the sources: in how many places a check, a way of drilling,
a source of error, a thing to drag and a role of a drawing stand, which rooms see which headers, how long files get.
   tests/house/house_test.py [unittest arguments]
"""
import pathlib
import re
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
SOURCES = {  # without comments
    str(path.relative_to(ROOT)): re.sub(r"//.*", "", path.read_text())
    for folder in ("include", "src") for path in sorted((ROOT / folder).rglob("*.?pp"))
}


def files_with(pattern):
    return {name for name, text in SOURCES.items() if re.search(pattern, text)}


class OnePlaceToChange(unittest.TestCase):
    def test_check(self):
        names = set(re.findall(r"run<checks::(check_\w+)>", SOURCES["src/checks/checks.cpp"]))
        self.assertGreater(len(names), 20)
        for name in names:
            with self.subTest(name):
                files = files_with(rf"\b{name}\b") - {"src/checks/checks.cpp", "src/checks/kinds.hpp"}
                self.assertEqual(len(files), 1)
                self.assertTrue(files.pop().startswith("src/checks/"))

    def test_way_of_drilling(self):
        listed = re.search(r"enum class DrillWay \{(.*?)\}", SOURCES["include/haftwright/design/drilling.hpp"], re.S).group(1)
        ways = re.findall(r"\w+", listed)
        self.assertGreater(len(ways), 4)
        for way in ways:
            with self.subTest(way):
                # A default of one field or another names a way; nothing asks which one it is.
                asked = files_with(rf"(==|!=|case)\s*DrillWay::{way}\b")
                self.assertEqual(asked, set())
                self.assertEqual({name for name in files_with(rf"DrillWay::{way}\b") if name.endswith(".cpp")},
                                 {f"src/alignment/way_{way}.cpp"})

    def test_source_of_error(self):
        keys = re.findall(r'\{"(\w+)", &ShopErrors::(\w+)', SOURCES["src/design/drilling.cpp"])
        self.assertGreater(len(keys), 15)
        for key, member in keys:
            with self.subTest(key):
                places = files_with(rf"(ShopErrors::|errors[.]){member}\b") - {"src/design/drilling.cpp"}
                self.assertTrue(places)
                self.assertTrue(all(place.startswith("src/alignment/") for place in places), places)

    def test_thing_to_drag(self):
        table = SOURCES["src/edits/draggables.cpp"]
        names = set(re.findall(r"&draggable::(\w+)", table))
        self.assertGreater(len(names), 8)
        for name in names:
            with self.subTest(name):
                self.assertEqual(len(files_with(rf"constinit const Draggable draggable::{name}\b")), 1)
        # The window shows a thing by its row: these it never names.
        for name in ("joint_rake", "joint_slant", "edge", "cutout"):
            self.assertIn(name, names)
            self.assertEqual({file for file in files_with(rf"draggable::{name}\b") if file.startswith("src/app/")}, set())

    def test_role_of_a_drawing(self):
        listed = re.search(r"enum class Role \{(.*?)\}", SOURCES["include/haftwright/drawing/drawing.hpp"], re.S).group(1)
        roles = re.findall(r"\w+", listed)
        self.assertGreater(len(roles), 30)
        looks = {"src/app/widgets/drawing_looks.cpp", "src/drawing/svg_looks.cpp"}
        for role in roles:
            with self.subTest(role):
                files = files_with(rf"\bRole::{role}\b")
                self.assertLessEqual(looks, files)
                # Something is drawn in it.
                self.assertTrue(files - looks)
        # What is drawn is decided below the window, how it looks by painters alone.
        colours = files_with(r"palette\(\)|IM_COL32|#[0-9a-f]{6}\b")
        self.assertEqual({name for name in colours if name.startswith(("src/preview/", "include/haftwright/drawing/"))}, set())


class Rooms(unittest.TestCase):
    def only_in(self, pattern, rooms):
        found = {name.split("/")[1 if name.startswith("src") else 2] for name in files_with(pattern)}
        self.assertTrue(found)
        self.assertLessEqual(found, rooms)

    def test_headers_of_others(self):
        self.only_in(r"#include <(TopoDS|BRep|Geom|gp|STEP|Standard)\w*\.hxx>", {"kernel"})
        self.only_in(r"#include <epoxy/", {"render", "app"})
        self.only_in(r"#include <(imgui|GLFW/|ft2build)", {"app"})
        self.only_in(r"#include <nlohmann/", {"files", "session", "command", "app"})

    def test_every_room_is_named(self):
        text = (ROOT / "DEVELOPERS.md").read_text()
        for folder in (ROOT / "src").iterdir():
            if folder.is_dir():
                self.assertRegex(text, rf"(?m)^\| {folder.name} \|")

    def test_no_file_is_long(self):
        for name in [*SOURCES, *(str(p.relative_to(ROOT)) for p in (ROOT / "tests").rglob("*.?pp"))]:
            with self.subTest(name):
                self.assertLessEqual((ROOT / name).read_text().count("\n"), 430)


if __name__ == "__main__":
    unittest.main()

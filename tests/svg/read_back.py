"""Reads the SVG files of write_drawings with Python's own XML parser and an arc conversion made after the SVG standard
(SVG 1.1, appendix F.6.5), and holds every item against where it really is: within 1e-6 mm, with its class and tag.
    read_back.py WRITE_DRAWINGS PROJECT...
"""
import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

SVG = "{http://www.w3.org/2000/svg}"
WITHIN_MM = 1e-6
TOKEN = re.compile(r"[MLAZ]|[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


def arc_points(x1, y1, rx, ry, turn, large, sweep, x2, y2):
    """Quarter by quarter."""
    if turn != 0 or rx != ry:
        raise AssertionError("an arc that is no part of a circle")
    dx, dy = (x1 - x2) / 2, (y1 - y2) / 2
    short = (dx * dx + dy * dy) / (rx * rx)
    if short > 1:  # F.6.6: a radius that rounding left too small is made to fit
        rx *= math.sqrt(short)
    factor = math.sqrt(max(0.0, rx * rx / (dx * dx + dy * dy) - 1))
    if large == sweep:
        factor = -factor
    cx, cy = factor * dy + (x1 + x2) / 2, -factor * dx + (y1 + y2) / 2
    start = math.atan2(y1 - cy, x1 - cx)
    by = math.atan2(y2 - cy, x2 - cx) - start
    if sweep and by < 0:
        by += 2 * math.pi
    if not sweep and by > 0:
        by -= 2 * math.pi
    return [(cx + rx * math.cos(start + by * i / 4), cy + rx * math.sin(start + by * i / 4)) for i in range(5)]


def line_points(x1, y1, x2, y2):
    return [(x1 + (x2 - x1) * i / 4, y1 + (y2 - y1) * i / 4) for i in range(5)]


def path_edges(text):
    """[(closed, [five points of each edge])]"""
    tokens = TOKEN.findall(text)
    loops, edges, here, begun = [], [], None, None
    while tokens:
        command = tokens.pop(0)
        take = lambda count: [float(tokens.pop(0)) for _ in range(count)]
        if command == "M":
            if edges:
                loops.append((False, edges))
            edges, here = [], tuple(take(2))
            begun = here
        elif command == "L":
            to = tuple(take(2))
            edges.append(line_points(*here, *to))
            here = to
        elif command == "A":
            rx, ry, turn, large, sweep, x, y = take(7)
            edges.append(arc_points(*here, rx, ry, turn, large, sweep, x, y))
            here = (x, y)
        else:
            if here != begun:
                raise AssertionError("a loop that does not come back")
            loops.append((True, edges))
            edges = []
    if edges:
        loops.append((False, edges))
    return loops


class Reader:
    def __init__(self, name):
        self.name = name
        self.compared = 0
        self.farthest = 0.0

    def same(self, got, wanted, what):
        if got != wanted:
            raise AssertionError(f"{self.name}: {what}: {got!r}, not {wanted!r}")

    def near(self, got, wanted, what):
        off = math.dist(got, wanted)
        self.compared += 1
        self.farthest = max(self.farthest, off)
        if not off <= WITHIN_MM:
            raise AssertionError(f"{self.name}: {what}: {got}, not {wanted}")

    def path(self, element, item):
        loops = path_edges(element.get("d"))
        wanted = [loop for loop in item["loops"] if loop]
        self.same(len(loops), len(wanted), "loops")
        for (closed, edges), places, is_closed in zip(loops, wanted, item["closed"]):
            self.same(closed, is_closed, "closed")
            self.same(len(edges), len(places), "edges")
            for edge, place in zip(edges, places):
                for got, there in zip(edge, place):
                    self.near(got, there, "edge")

    def circle(self, element, item):
        self.near((float(element.get("cx")), float(element.get("cy"))), item["at"], "centre")
        self.near((float(element.get("r")), 0), (item["r"], 0), "radius")

    def text(self, element, item):
        self.same(element.text, item["words"], "words")
        self.same(element.get("text-anchor"), item["anchor"], "anchor")
        self.near((float(element.get("x")), float(element.get("y"))), item["at"], "text")
        self.near((float(element.get("font-size")), 0), (item["height"], 0), "height")
        turned = element.get("transform")
        if turned is None:
            self.same(item["turn_deg"], 0, "turn")
        else:
            angle, x, y = map(float, re.fullmatch(r"rotate\((\S+) (\S+) (\S+)\)", turned).groups())
            self.near((angle, 0), (-item["turn_deg"], 0), "turn")
            self.near((x, y), item["at"], "turned about")

    def dimension(self, element, item):
        lines = [child for child in element if child.tag == SVG + "path" and child.get("d")]
        self.same(len(lines), len(item["lines"]), "dimension lines")
        for line, ends in zip(lines, item["lines"]):
            (_, (edge,)), = path_edges(line.get("d"))
            self.near(edge[0], ends[0], "dimension line")
            self.near(edge[-1], ends[1], "dimension line")
        arrows = element.findall(SVG + "polygon")
        self.same(len(arrows), len(item["arrows"]), "arrows")
        for arrow, corners in zip(arrows, item["arrows"]):
            numbers = [float(number) for number in arrow.get("points").split()]
            for i, corner in enumerate(corners):
                self.near(numbers[2 * i:2 * i + 2], corner, "arrow")
        texts = element.findall(SVG + "text")
        self.same(len(texts), 1 if item["text"] else 0, "texts of a dimension")
        if texts:
            self.text(texts[0], item["text"])

    def read(self, root, wanted):
        width, height = wanted["page"]
        self.near((float(root.get("width").removesuffix("mm")), float(root.get("height").removesuffix("mm"))),
                  (width, height), "page")
        self.near([float(number) for number in root.get("viewBox").split()][2:], (width, height), "view box")
        self.same(root.find(SVG + "title").text, self.name + " & <more>", "title")
        style = root.find(SVG + "style").text
        elements = [child for child in root if child.tag not in (SVG + "title", SVG + "style")]
        self.same(len(elements), len(wanted["items"]), "items")
        kinds = {"path": "path", "circle": "circle", "text": "text", "dimension": "g"}
        for element, item in zip(elements, wanted["items"]):
            self.same(element.tag, SVG + kinds[item["kind"]], "element")
            self.same(element.get("class"), item["class"], "class")
            self.same(element.get("data-tag"), item["tag"], "tag")
            if "." + item["class"] + "{" not in style:
                raise AssertionError(f"{self.name}: {item['class']} has no look")
            getattr(self, item["kind"])(element, item)


def main():
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.argv[1], folder, *sys.argv[2:]], check=True)
        files = sorted(pathlib.Path(folder).glob("*.svg"))
        compared, farthest = 0, 0.0
        for file in files:
            reader = Reader(file.stem)
            reader.read(ElementTree.parse(file).getroot(), json.loads(file.with_suffix(".json").read_text()))
            compared += reader.compared
            farthest = max(farthest, reader.farthest)
        if len(files) < 60 or compared < 10000:
            raise AssertionError(f"only {len(files)} files and {compared} places")
        print(f"{len(files)} files, {compared} places, at most {farthest:.1e} mm off")


main()

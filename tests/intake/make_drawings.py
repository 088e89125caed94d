#!/usr/bin/env python3
"""Makes the drawings under tests/intake/files with ezdxf 0.18 (Debian package python3-ezdxf), which shares no code with
the reader. They are kept, so that the tests do not need it. What they hold is known to written_by_others_test.cpp.
   tests/intake/make_drawings.py
"""
import math
import pathlib
import re

import ezdxf

FILES = pathlib.Path(__file__).parent / "files"
# A tang 110 mm long with a round butt: straight belly and spine, 26 mm apart.
TANG = [(0, -13, 0), (97, -13, 1), (97, 13, 0), (0, 13, 0)]


def tidy(document, name):
    """Without what differs from day to day or is not needed."""
    for variable in ("$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"):
        if variable in document.header:
            document.header[variable] = 2460000.0
    document.saveas(FILES / name)
    text = (FILES / name).read_text()
    (FILES / name).write_text(re.sub(r"(?m)^0\.18\.1 @ .*$", "0.18.1", text))


def newer(version, unit, scale, name):
    document = ezdxf.new(version)
    document.units = unit
    document.layers.add("TANG")
    document.layers.add("NOTES")
    document.layers.add("OLD").freeze()
    space = document.modelspace()
    tang = [(x / scale, y / scale, bulge) for x, y, bulge in TANG]
    space.add_lwpolyline(tang, format="xyb", close=True, dxfattribs={"layer": "TANG"})
    for x in (20, 50, 80):
        space.add_circle((x / scale, 0), 1.55 / scale, dxfattribs={"layer": "TANG"})
    # A slot: an ellipse 12 by 4.
    space.add_ellipse((35 / scale, 0), major_axis=(6 / scale, 0), ratio=1 / 3, dxfattribs={"layer": "TANG"})
    # A hole drawn as a rational spline, which is a circle exactly.
    root = math.sqrt(0.5)
    corners = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)]
    points = [((65 + 2 * x) / scale, 2 * y / scale, 0) for x, y in corners]
    space.add_rational_spline(points, weights=[1, root] * 4 + [1], degree=2,
                              knots=[0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4], dxfattribs={"layer": "TANG"})
    space.add_text("Tang, 4 mm", dxfattribs={"layer": "NOTES"}).set_placement((0, 20 / scale))
    space.add_line((0, 0), (110 / scale, 0), dxfattribs={"layer": "NOTES"})
    space.add_circle((10 / scale, 0), 5 / scale, dxfattribs={"layer": "OLD"})
    document.layout("Layout1").add_circle((0, 0), 50 / scale)
    tidy(document, name)


def older(name):
    """R12: single lines and arcs in no order, holes in a block that is mirrored and scaled."""
    document = ezdxf.new("R12")
    space = document.modelspace()
    space.add_line((97, 13), (0, 13))
    space.add_line((97, -13), (0, -13))
    space.add_arc((97, 0), 13, -90, 90)
    space.add_line((0, 13), (0, -13))
    hole = document.blocks.new("HOLE", base_point=(1, 1))
    hole.add_circle((1, 1), 1)
    pair = document.blocks.new("PAIR")
    pair.add_blockref("HOLE", (0, 0))
    pair.add_blockref("HOLE", (10, 2))
    space.add_blockref("PAIR", (60, 0), dxfattribs={"xscale": -2, "yscale": 2})
    space.add_blockref("HOLE", (80, -3), dxfattribs={"xscale": 1.5, "yscale": 1.5, "column_count": 2,
                                                     "column_spacing": 6, "rotation": 90})
    slot = space.add_polyline2d([(15, -2, 0), (25, -2, 1), (25, 2, 0), (15, 2, 1)], format="xyb")
    slot.close(True)
    tidy(document, name)


newer("R2000", 4, 1, "millimetres_r2000.dxf")
newer("R2018", 1, 25.4, "inches_r2018.dxf")
older("blocks_r12.dxf")

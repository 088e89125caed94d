#!/usr/bin/env python3
"""A PDF of the printed frame as another reader draws it, held against the frame's SVG: where it is dark and where light.
   frame_drawn.py FRAME.svg DRAWN.pgm     the latter at 254 dots an inch, ten a millimetre
"""
import math
import re
import sys


def read_pgm(path):
    data = open(path, "rb").read()
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    width, height = int(head.group(1)), int(head.group(2))
    return width, height, data[head.end():]


def main(svg, drawn):
    text = open(svg).read()
    size = tuple(map(float, re.search(r'viewBox="0 0 (\S+) (\S+)"', text).groups()))
    width, height, pixels = read_pgm(drawn)
    assert abs(width - 10 * size[0]) < 2 and abs(height - 10 * size[1]) < 2, (width, height, size)
    number = r'="([\d.]+)"'
    looked_at = 0

    def look(x, y, dark):
        nonlocal looked_at
        looked_at += 1
        value = pixels[int(y * 10) * width + int(x * 10)]
        assert value < 80 if dark else value > 180, (x, y, value, dark)

    boxes = [(tuple(map(float, m.groups()[:4])), m.group(5)) for m in
             re.finditer(rf'<rect x{number} y{number} width{number} height{number} fill="(\w+)"', text)]
    for (x, y, w, h), fill in boxes[1:]:
        for inside in ((x + w * u, y + h * v) for u in (0.25, 0.75) for v in (0.25, 0.75)):
            if fill == "black" and min(w, h) < 5:
                look(*inside, True)
        # Just inside and outside each side; of the line and its ticks, only outside its ends.
        for px, py, out_x, out_y in ((x, y + h / 2, -1, 0), (x + w, y + h / 2, 1, 0), (x + w / 2, y, 0, -1), (x + w / 2, y + h, 0, 1)):
            if min(w, h) > 5:
                look(px + 0.2 * out_x, py + 0.2 * out_y, fill == "white")
                look(px - 0.2 * out_x, py - 0.2 * out_y, fill == "black")
            elif out_x and w > 90:
                look(px + 0.2 * out_x, py, False)
    for match in re.finditer(rf"<circle cx{number} cy{number} r{number}", text):
        x, y, r = map(float, match.groups())
        for i in range(8):
            a = i * math.pi / 4
            look(x + 0.93 * r * math.cos(a), y + 0.93 * r * math.sin(a), False)
            look(x + 1.07 * r * math.cos(a), y + 1.07 * r * math.sin(a), True)
    assert looked_at > 400, looked_at


if __name__ == "__main__":
    main(*sys.argv[1:])

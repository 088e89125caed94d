#!/usr/bin/env python3
"""Photos for the tests of the command line, from square above at 8 pixels a millimetre, as PNG.
   make_photos.py plain WIDTH HEIGHT OUT    one colour, pixels
   make_photos.py huge OUT                  a header that states 200 million pixels, and nothing behind it
   make_photos.py marks OUT                 a block of 60 x 30 mm, its lower left corner at (70, 45) of a blue ground of
                                            200 x 120 mm
   make_photos.py sheet OUT                 the same on a white sheet of 148 x 210 mm that lies on a dark bench
   make_photos.py card OUT                  the same beside a white card of 85.6 x 54 mm on a blue ground
   make_photos.py frame FRAME.svg OUT       the same in the printed frame
"""
import re
import struct
import sys
import zlib

SCALE = 8
WOOD = (150, 105, 60)
BLUE = (70, 110, 190)
WHITE = (235, 235, 232)
DARK = (45, 42, 40)


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width, height, rows):
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)) +
            chunk(b"IDAT", zlib.compress(b"".join(b"\0" + bytes(row) for row in rows), 1)) + chunk(b"IEND", b""))


class Sheet:
    """Areas painted one over another, in millimetres from the upper left corner."""

    def __init__(self, width_mm, height_mm, colour):
        self.size = round(width_mm * SCALE), round(height_mm * SCALE)
        self.rows = [bytearray(bytes(colour) * self.size[0]) for _ in range(self.size[1])]

    def span(self, y, left, right, colour):
        left, right = max(0, round(left)), min(self.size[0], round(right))
        if right > left:
            self.rows[y][3 * left:3 * right] = bytes(colour) * (right - left)

    def box(self, x, y, width, height, colour):
        for row in range(max(0, round(y * SCALE)), min(self.size[1], round((y + height) * SCALE))):
            self.span(row, x * SCALE, (x + width) * SCALE, colour)

    def disc(self, x, y, radius, colour):
        for row in range(round((y - radius) * SCALE), round((y + radius) * SCALE)):
            square = (radius * SCALE) ** 2 - (row + 0.5 - y * SCALE) ** 2
            if square > 0:
                self.span(row, x * SCALE - square ** 0.5, x * SCALE + square ** 0.5, colour)

    def bytes(self):
        return png(*self.size, self.rows)


def marks():
    sheet = Sheet(200, 120, BLUE)
    sheet.box(70, 45, 60, 30, WOOD)
    return sheet


def on_sheet():
    sheet = Sheet(190, 250, DARK)
    sheet.box(20, 20, 148, 210, WHITE)
    sheet.box(64, 105, 60, 30, WOOD)
    return sheet


def beside_card():
    sheet = Sheet(220, 110, BLUE)
    sheet.box(15, 28, 85.6, 54, WHITE)
    sheet.box(130, 40, 60, 30, WOOD)
    return sheet


def in_frame(svg):
    """Rectangles and discs of the frame's drawing, which are all that it has but a line of words."""
    text = open(svg).read()
    width, height = map(float, re.search(r'viewBox="0 0 (\S+) (\S+)"', text).groups())
    sheet = Sheet(width + 20, height + 20, (120, 120, 118))
    number = r'="([\d.]+)"'
    for line in text.splitlines():
        fill = (20, 20, 20) if 'fill="black"' in line else WHITE
        if found := re.match(rf"<rect x{number} y{number} width{number} height{number}", line):
            x, y, w, h = map(float, found.groups())
            sheet.box(x + 10, y + 10, w, h, fill)
        elif found := re.match(rf"<circle cx{number} cy{number} r{number}", line):
            x, y, r = map(float, found.groups())
            sheet.disc(x + 10, y + 10, r, fill)
    sheet.box(width / 2 + 10 - 30, height / 2 + 10 - 15, 60, 30, WOOD)
    return sheet


def made(what, *rest):
    if what == "plain":
        width, height = int(rest[0]), int(rest[1])
        return png(width, height, [bytes(WOOD) * width] * height)
    if what == "huge":
        return png(20000, 10000, [])
    return {"marks": marks, "sheet": on_sheet, "card": beside_card, "frame": in_frame}[what](*rest).bytes()


if __name__ == "__main__":
    with open(sys.argv[-1], "wb") as out:
        out.write(made(*sys.argv[1:-1]))

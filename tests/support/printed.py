# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads lengths off a printed page: the lines and curves that a PDF tells its printer to draw, in mm.

Knows what Chromium writes (plain objects, deflated streams, forms within pages), not all of PDF. Operators
and coordinates as in ISO 32000-1, 8.5."""

import dataclasses
import re
import zlib

POINT = 25.4 / 72  # mm
TOKEN = re.compile(rb"\((?:\\.|[^\\()])*\)|<[0-9A-Fa-f\s]*>|[\[\]]|/[^\s/<>\[\]()]*|[^\s\[\]()<>/]+")
STEPS = 32  # of a curve, enough for 0.01 % of a quarter circle's reach


@dataclasses.dataclass
class Path:
    """What one painting operator draws: strokes of points in mm, y upward, and whether any is bent."""
    strokes: list
    bent: bool

    def box(self):
        points = [point for stroke in self.strokes for point in stroke]
        xs, ys = zip(*points)
        return min(xs), min(ys), max(xs), max(ys)

    def width(self):
        left, _, right, _ = self.box()
        return right - left

    def height(self):
        _, low, _, high = self.box()
        return high - low


@dataclasses.dataclass
class Sheet:
    """A printed page, in mm."""
    width: float
    height: float
    paths: list


def product(a, b):
    """First a, then b; each (a b c d e f) as in 8.3.4."""
    return (a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3],
            a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
            a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5])


class Pen:
    """Follows the operators of one stream."""

    def __init__(self, document, resources, matrix):
        self.document, self.resources, self.matrix = document, resources, matrix
        self.kept, self.paths = [], []
        self.strokes, self.at, self.bent = [], (0, 0), False

    def place(self, x, y):
        a, b, c, d, e, f = self.matrix
        return ((a * x + c * y + e) * POINT, (b * x + d * y + f) * POINT)

    def line(self, x, y):
        self.strokes[-1].append(self.place(x, y))
        self.at = (x, y)

    def curve(self, x1, y1, x2, y2, x3, y3):
        x0, y0 = self.at
        for i in range(1, STEPS + 1):
            t, u = i / STEPS, 1 - i / STEPS
            weights = (u ** 3, 3 * u * u * t, 3 * u * t * t, t ** 3)
            self.strokes[-1].append(self.place(
                sum(w * x for w, x in zip(weights, (x0, x1, x2, x3))),
                sum(w * y for w, y in zip(weights, (y0, y1, y2, y3)))))
        self.at, self.bent = (x3, y3), True

    def painted(self):
        if self.strokes:
            self.paths.append(Path(self.strokes, self.bent))
        self.dropped()

    def dropped(self):
        self.strokes, self.bent = [], False

    def form(self, name):
        number = re.search(re.escape(name) + rb"\s+(\d+)\s+0\s+R", self.resources)
        head, stream = self.document.objects[int(number.group(1))]
        if b"/Form" not in head:
            return
        matrix = re.search(rb"/Matrix\s*\[([^\]]*)\]", head)
        own = tuple(map(float, matrix.group(1).split())) if matrix else (1, 0, 0, 1, 0, 0)
        pen = Pen(self.document, self.document.resources(head), product(own, self.matrix))
        pen.follow(stream)
        self.paths += pen.paths

    def obey(self, word, numbers):
        if word == b"q":
            self.kept.append(self.matrix)
        elif word == b"Q":
            self.matrix = self.kept.pop()
        elif word == b"cm":
            self.matrix = product(tuple(numbers), self.matrix)
        elif word == b"m":
            self.strokes.append([self.place(*numbers)])
            self.at = tuple(numbers)
        elif word == b"l":
            self.line(*numbers)
        elif word == b"c":
            self.curve(*numbers)
        elif word == b"v":
            self.curve(*self.at, *numbers)
        elif word == b"y":
            self.curve(*numbers, *numbers[2:])
        elif word == b"re":
            x, y, w, h = numbers
            self.strokes.append([self.place(x + i * w, y + j * h)
                                 for i, j in ((0, 0), (1, 0), (1, 1), (0, 1), (0, 0))])
        elif word in (b"S", b"s", b"f", b"f*", b"B", b"B*", b"b", b"b*"):
            self.painted()
        elif word == b"n":
            self.dropped()

    def follow(self, stream):
        numbers, name = [], b""
        for token in TOKEN.findall(stream):
            if re.fullmatch(rb"[-+]?\d*\.?\d+|[-+]?\d+\.", token):
                numbers.append(float(token))
            elif token.startswith(b"/"):
                name = token
            elif token == b"Do":
                self.form(name)
                numbers = []
            elif token[:1].isalpha():
                self.obey(token, numbers)
                numbers = []


class Document:
    def __init__(self, data):
        self.objects = {}
        for match in re.finditer(rb"(?<!\d)(\d+) 0 obj\b(.*?)\bendobj", data, re.S):
            head, _, rest = match.group(2).partition(b"stream")
            stream = re.sub(rb"\r?\nendstream\s*$", b"", rest.lstrip(b"\r").removeprefix(b"\n"))
            if rest and b"/FlateDecode" in head:
                stream = zlib.decompressobj().decompress(stream)
            self.objects[int(match.group(1))] = (head, stream)

    def resources(self, head):
        reference = re.search(rb"/Resources\s+(\d+)\s+0\s+R", head)
        return self.objects[int(reference.group(1))][0] if reference else head

    def sheets(self):
        for head, _ in self.objects.values():
            if re.search(rb"/Type\s*/Page\b", head):
                yield self.sheet(head)

    def sheet(self, head):
        box = list(map(float, re.search(rb"/MediaBox\s*\[([^\]]*)\]", head).group(1).split()))
        contents = re.search(rb"/Contents\s*\[?((?:\s*\d+\s+0\s+R)+)", head).group(1)
        pen = Pen(self, self.resources(head), (1, 0, 0, 1, -box[0], -box[1]))
        pen.follow(b"\n".join(self.objects[int(number)][1]
                              for number in re.findall(rb"(\d+)\s+0\s+R", contents)))
        return Sheet((box[2] - box[0]) * POINT, (box[3] - box[1]) * POINT, pen.paths)


def sheets_of(pdf):
    """The pages of a PDF's bytes, in the order in which they stand there."""
    return list(Document(pdf).sheets())


def level_lines(path, longer_than):
    """Lengths of the path's level lines, in the order of drawing."""
    found = []
    for stroke in path.strokes:
        (x0, y0), (x1, y1) = stroke[0], stroke[-1]
        if len(stroke) == 2 and abs(y1 - y0) < 1e-3 and abs(x1 - x0) > longer_than:
            found.append(abs(x1 - x0))
    return found


def is_ring(path):
    """One bent line, as wide as high, that comes back to where it began."""
    if not path.bent or len(path.strokes) != 1:
        return False
    (x0, y0), (x1, y1) = path.strokes[0][0], path.strokes[0][-1]
    return (abs(path.width() - path.height()) < 0.01 * path.width()
            and max(abs(x1 - x0), abs(y1 - y0)) < 0.01 * path.width())

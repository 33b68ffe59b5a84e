# SPDX-License-Identifier: GPL-3.0-or-later
"""Cores that are not plain and round, burned back once more with Shapely, and fired.

A core that is the same from end to end is a plane figure, grown by the web with GEOS' buffer and cut
off at the wall. A turned core is its half section, from which the buffer of its burning edges is
taken away; its volume is Pappus'. Burning areas are differences of volumes, so that nothing is taken
from perimeters either. Round parts are polygons here: good for 1e-5."""

import math

from shapely import affinity, wkt
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from quantities import read

CHORDS = 180  # a quarter turn


def length(value):
    return 0.0 if value == 0 else read(value, "length")


def is_plain(segment):
    return not (isinstance(segment["core"], dict) or segment.get("slot")
                or segment.get("head_dish") or segment.get("nozzle_dish"))


def disk(x, y, radius):
    return Point(x, y).buffer(radius, CHORDS)


def bar(long, wide, ends):
    if ends == "square":
        return Polygon([(-long / 2, -wide / 2), (long / 2, -wide / 2), (long / 2, wide / 2),
                        (-long / 2, wide / 2)])
    half = (long - wide) / 2
    return LineString([(-half, 0), (half, 0)]).buffer(wide / 2, CHORDS)


def void_of(core):
    """The plane figure of a core, or None where it is turned."""
    if "outline" in core:
        scale = read("1 " + core.get("unit", "mm"), "length")
        return affinity.scale(wkt.loads(core["outline"]), scale, scale, origin=(0, 0))
    if "round" in core:
        return unary_union([disk(length(c["x"]), length(c["y"]), length(c["diameter"]) / 2)
                            for c in core["round"]])
    if "offset" in core:
        count, offset = core.get("count", 1), length(core["offset"])
        angles = [2 * math.pi * i / count for i in range(count)]
        return unary_union([disk(offset * math.cos(a), offset * math.sin(a),
                                 length(core["diameter"]) / 2) for a in angles])
    if core.get("shape") in ("slot", "cross"):
        arm = bar(length(core["length"]), length(core["width"]), core.get("ends", "round"))
        return arm if core["shape"] == "slot" else unary_union([arm, affinity.rotate(arm, 90)])
    if "shape" in core:
        raise NotImplementedError(core["shape"])
    return None


class Swept:
    """The same plane from end to end."""

    def __init__(self, void, long, outer, bare):
        self.void, self.long, self.bare = void, long, bare
        self.wall = disk(0, 0, outer / 2)

    def volume(self, web):
        left = self.wall.difference(self.void.buffer(web, CHORDS) if web > 0 else self.void)
        ends = ("head" in self.bare) + ("nozzle" in self.bare)
        return left.area * max(0.0, self.long - ends * web)


class Turned:
    """A body of revolution: half section (z, r), and the edges of it that burn."""

    def __init__(self, core, slots, dishes, long, outer, bare):
        line = [(z, d / 2) for z, d in core]
        for slot in sorted(slots, key=lambda s: length(s["at"])):
            line = self.cut(line, length(slot["at"]), length(slot["width"]), length(slot["depth"]))
        head, nozzle = dishes
        ends = [(head, self.radius(line, head)), (long - nozzle, self.radius(line, long - nozzle))]
        line = [ends[0], *line[1:-1], ends[1]]
        self.body = Polygon([(0, outer / 2), *line, (long, outer / 2)])
        edges = []
        if "head" in bare:
            edges.append(LineString([(0, outer / 2), line[0]]))
        if "core" in bare:
            edges.append(LineString(line))
        if "nozzle" in bare:
            edges.append(LineString([line[-1], (long, outer / 2)]))
        self.front = unary_union(edges)

    @staticmethod
    def radius(line, z):
        for (z0, r0), (z1, r1) in zip(line, line[1:]):
            if z0 <= z <= z1 and z1 > z0:
                return r0 + (r1 - r0) * (z - z0) / (z1 - z0)
        raise ValueError(z)

    @classmethod
    def cut(cls, line, at, width, depth):
        a, b = at - width / 2, at + width / 2
        near, far = cls.radius(line, a), cls.radius(line, b)
        reach = max(near, far) + depth
        before = [p for p in line if p[0] < a]
        after = [p for p in line if p[0] > b]
        return [*before, (a, near), (a, reach), (b, reach), (b, far), *after]

    def volume(self, web):
        left = self.body.difference(self.front.buffer(web, CHORDS)) if web > 0 else self.body
        return 2 * math.pi * left.area * left.centroid.y if not left.is_empty else 0.0


def shape_of(segment, outer):
    long = length(segment["length"])
    bare = {"head", "nozzle", "core", "outer"} - set(segment.get("inhibited", ["outer"]))
    core = segment["core"]
    if isinstance(core, dict):
        void = void_of(core)
        if void is not None:
            return Swept(void, long, outer, bare)
        pairs = ([(length(z), length(d)) for z, d in core["diameters"]] if "diameters" in core
                 else [(0.0, length(core["head"])), (long, length(core["nozzle"]))])
    else:
        pairs = [(0.0, length(core)), (long, length(core))]
    dishes = (length(segment.get("head_dish", 0)), length(segment.get("nozzle_dish", 0)))
    return Turned(pairs, segment.get("slot", []), dishes, long, outer, bare)


def volume(shapes, web):
    return sum(count * shape.volume(web) for shape, count in shapes)


def fire(shapes, motor, burnout, steps):
    """Burn time and impulse by equal steps of web, each with the area that its two volumes give."""
    time = impulse = 0.0
    width = burnout / steps
    before = volume(shapes, 0.0)
    for step in range(steps):
        after = volume(shapes, width * (step + 1))
        area = (before - after) / width
        before = after
        pressure = motor.pressure(area)
        taken = width / motor.rate(max(area, 1e-12), pressure)
        time += taken
        impulse += taken * motor.thrust(pressure)
    return time, impulse

#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Burns drawn cores by Shapely's buffer, as an independent reference.

Reads lines of: wall radius, web, Well-Known Text of the void (tab-separated).
Writes for each: propellant section and length of front inside the wall.

Arcs are drawn with 32 chords a quarter: GEOS buffers go silently wrong beside very short edges.
"""
import sys

from shapely import wkt
from shapely.geometry import Point

for line in sys.stdin:
    wall, web, text = line.rstrip("\n").split("\t")
    tube = Point(0, 0).buffer(float(wall), 512)
    burnt = wkt.loads(text).buffer(float(web), 32)
    print(tube.difference(burnt).area, burnt.boundary.intersection(tube).length)

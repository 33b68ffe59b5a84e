#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Plays the try that docs/bench.md tells, and takes its pictures.

    docs/draw_bench.py build/grainwright

Works as a hand would, on a copy of case 02, in the browser that the tests use; prints what the page says
at each step, and writes docs/bench-*.png.
"""
import pathlib
import sys

HOUSE = pathlib.Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HOUSE / "tests/bench"))
from browser import FLAT, Page, browser, screen  # noqa: E402
from server import Bench  # noqa: E402

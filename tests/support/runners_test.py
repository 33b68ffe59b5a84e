# SPDX-License-Identifier: GPL-3.0-or-later
"""That the scripts which judge the program can say no."""

import types
import unittest

import case
import collate_checks
import session


def finished(returncode, stdout="", stderr=""):
    return types.SimpleNamespace(returncode=returncode, stdout=stdout, stderr=stderr)


class Cases(unittest.TestCase):
    def test_expectations(self):
        done = finished(1, "Nothing fits", "asked too much")
        self.assertTrue(case.holds("exit 1", done))
        self.assertFalse(case.holds("exit 0", done))
        self.assertTrue(case.holds('contains "too much"', done))
        self.assertFalse(case.holds('contains "proven"', done))
        self.assertFalse(case.holds('lacks "nothing fits"', done))
        self.assertRaises(SystemExit, case.holds, "contains proven", done)

    def test_expectations_stand_under_their_run(self):
        runs = case.runs_of(["Why?", "run: grainwright fire a.toml", "expect: exit 0",
                             "run: grainwright fire b.toml", "expect: exit 2"])
        self.assertEqual(runs, [("fire a.toml", ["exit 0"]), ("fire b.toml", ["exit 2"])])
        self.assertRaises(SystemExit, case.runs_of, ["expect: exit 0"])
        self.assertRaises(SystemExit, case.runs_of, ["run: fire a.toml"])


class Golden(unittest.TestCase):
    def test_only_what_is_volatile_is_replaced(self):
        self.assertEqual(session.settled("4096 builds in 0.21 s"), "4096 builds in <time> s")
        self.assertEqual(session.settled('"seconds": 2.1e-3,'), '"seconds": <time>,')
        self.assertEqual(session.settled("grainwright 1.2.3"), "grainwright <version>")
        self.assertEqual(session.settled("0.0116786439193,2e-05"), "0.01167864,2e-05")
        kept = "burns for 0.21 s at 580 psi; core 0.375 in"
        self.assertEqual(session.settled(kept), kept)


class Checks(unittest.TestCase):
    ROW = ["grain", "a test", "area, m2", "closed form", "1.234567", "1.234567"]

    def test_numbers_may_differ_in_the_last_digit_alone(self):
        table = collate_checks.table_of([self.ROW])
        self.assertTrue(collate_checks.same(table, table.replace("1.234567", "1.234568")))
        self.assertFalse(collate_checks.same(table, table.replace("1.234567", "1.23460")))
        self.assertFalse(collate_checks.same(table, table.replace("area", "volume")))
        self.assertFalse(collate_checks.same(table, table.replace("closed form", "a book")))
        self.assertFalse(collate_checks.same(table, ""))

    def test_a_repeated_row_stands_once(self):
        once = collate_checks.table_of([self.ROW])
        self.assertEqual(collate_checks.table_of([self.ROW, self.ROW]), once)
        self.assertEqual(once.count("a test"), 1)


if __name__ == "__main__":
    unittest.main()

"""Drift: the outlook and the first things to check, as a user runs them."""

import unittest

from batten import BattenTest


class Drift(BattenTest):
    def test_nothing_read_gives_no_date(self):
        self.new_piano()
        self.assertIn("no date", self.ok("drift").out.lower())
        self.assertEqual(self.ok("--json", "drift").json["due"]["state"], "unknown")

    def test_the_demo_has_a_past_to_learn_from(self):
        self.ok("demo")
        told = self.ok("--json", "drift").json
        self.assertGreaterEqual(told["known_from"]["visits"], 4)
        self.assertGreater(told["known_from"]["pairs"], 100)
        self.assertEqual(len(told["points"]), 25)
        text = self.ok("drift").out
        self.assertIn("nine in ten", text)
        self.assertTrue(all(len(line) <= 100 for line in text.splitlines()), text)
        self.assertEqual(len(self.ok("--json", "drift", "--months", "36").json["points"]), 37)
        self.assertEqual(self.ok("--json", "drift", "--limit", "5").json["due"]["state"], "overdue")

    def test_first_checks(self):
        self.ok("demo")
        dry = self.ok("--json", "drift", "--after", "dry").json
        sizes = [c["in_tolerances"] for c in dry["checks"]]
        self.assertEqual(sizes, sorted(sizes, reverse=True))
        self.assertIn("Common practice, no source", self.ok("drift", "--after", "transport").out)
        self.ok("shop", "check-list-transport", "wheels locked; pedals travel")
        own = self.ok("drift", "--after", "transport").out
        self.assertIn("wheels locked", own)
        self.assertNotIn("no source", own)

    def test_refused_in_words(self):
        self.new_piano()
        for words in (["--limit", "none"], ["--months", "99"], ["--after", "flood"]):
            self.refused("drift", *words)
        self.refused("set", "climate", "60 to 45", saying="climate")
        self.ok("set", "climate", "45 to 60; driest february")
        self.ok("set", "new-felt", "2025-03 hammers")


if __name__ == "__main__":
    unittest.main()

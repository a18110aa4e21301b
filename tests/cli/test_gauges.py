"""Template and visits, as a user runs them."""

import unittest
import xml.etree.ElementTree as xml

from batten import BattenTest


class Gauges(BattenTest):
    def test_files_are_what_their_endings_say(self):
        self.new_piano()
        said = self.ok("template", "-o", "gauges.pdf").out
        self.assertRegex(said, r"gauges\.pdf: \d+ pieces on \d+ pages\.")
        self.assertIn("all four bars", said)
        self.assertIn("Not cut: key-height gauge. No target is set", said)
        self.assertTrue((self.folder / "gauges.pdf").read_bytes().startswith(b"%PDF-"))
        self.ok("template", "-o", "gauges.svg", "--gauge", "dip", "--language", "de")
        root = xml.parse(self.folder / "gauges.svg").getroot()
        self.assertTrue(root.get("width").endswith("mm"))
        self.ok("template", "-o", "GAUGES.DXF")
        self.assertTrue((self.folder / "GAUGES.DXF").read_bytes().endswith(b"EOF\r\n"))
        self.ok("template", "-o", "page.png", "--page", "2", "--dpi", "50")
        self.assertTrue((self.folder / "page.png").read_bytes().startswith(b"\x89PNG"))

    def test_the_same_bytes_for_the_same_targets(self):
        self.new_piano()
        for name in ("a.dxf", "b.dxf", "a.svg", "b.svg"):
            self.ok("template", "-o", name)
        self.assertEqual((self.folder / "a.dxf").read_bytes(), (self.folder / "b.dxf").read_bytes())
        self.assertEqual((self.folder / "a.svg").read_bytes(), (self.folder / "b.svg").read_bytes())

    def test_targets_decide_the_sizes(self):
        self.new_piano()
        self.ok("set", "dip-target", "10.1 mm")
        self.ok("set", "key-height-target", "64.5 mm")
        self.ok("set", "sharps-height-target", "12.3 mm")
        gauges = {g["gauge"]: g for g in self.ok("--json", "template", "--list").json["gauges"]}
        self.assertEqual([p["size"] for p in gauges["dip"]["pieces"]], [10.1])
        self.assertEqual([p["size"] for p in gauges["key-height"]["pieces"]], [64.5])
        # What is left of a sharp: 12.3 less its dip of 9.7 (docs/manual/settings.md).
        self.assertEqual([p["size"] for p in gauges["sharp-dip"]["pieces"]], [2.6])
        self.assertIn("0.398 in", self.ok("--inches", "template", "--list").out.replace("\u202f", " "))

    def test_refusals_help(self):
        self.new_piano()
        self.refused("template", "-o", "gauges.doc", saying=".pdf, .svg, .dxf")
        self.refused("template", "--gauge", "strike", saying="There are: blow, check")
        self.refused("template", "--gauge", "key-height", saying="No target is set")
        self.refused("template", "--language", "fr", saying="de (Deutsch)")
        self.refused("template", "-o", "nowhere/gauges.pdf")
        self.assertFalse((self.folder / "nowhere").exists())


class Visits(BattenTest):
    def test_two_visits_compared(self):
        self.new_piano()
        keys = ["A0", "C1", "E1", "G1", "B1", "D2", "E2"]
        for key in keys:
            self.ok("read", "let-off", key, "2.0", "--uncertainty", "0.1")
        self.refused("visits", "1", saying="only one visit")
        self.ok("visit", "a year on")
        for key in keys:
            self.ok("read", "let-off", key, "2.6", "--uncertainty", "0.1")
            self.ok("turned", key, "later let-off 1/8", "--adjuster", "let-off-button")
        listed = self.ok("visits").out
        self.assertIn("a year on; 7 readings, 7 moves", listed)
        said = self.ok("visits", "1", "2").out
        # 0.6 mm by the readings above; each to 0.1, so that a difference of seven is good to 0.053.
        self.assertRegex(said, r"moved by itself: all notes, A0–E2: \+0\.60 ± 0\.05 mm over 7 notes")
        self.assertIn("7 moves at 7 notes", said)
        answer = self.ok("--json", "visits", "1").json
        self.assertTrue(answer["readings"][0]["by_itself"][0]["beyond_noise"])
        self.assertEqual(answer["adjusters"][0]["moves"], 7)
        self.refused("visits", "1", "1", saying="itself")
        self.refused("visits", "7", saying="1 (the oldest) to 2")


if __name__ == "__main__":
    unittest.main()

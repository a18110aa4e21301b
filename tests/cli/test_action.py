"""One note's mechanism: readings, influence, strokes, drawings."""

import json
import pathlib
import re
import unittest
import xml.etree.ElementTree as ET

from batten import BattenTest

SVG = "{http://www.w3.org/2000/svg}"
BLOCKED = ["--let-off-button", "-1.5 mm"]


class Action(BattenTest):
    def drawing(self, name):
        """Parsed by an XML parser, not by us."""
        root = ET.parse(self.folder / name).getroot()
        self.assertEqual(root.tag, SVG + "svg")
        self.assertTrue(root.find(SVG + "title").text)
        self.assertTrue(root.find(SVG + "desc").text)
        return [t.text or "" for t in root.iter(SVG + "text")]

    def test_readings_lie_in_the_trades_spans(self):
        """Spans of makers' sheets and workshop articles (trade), middle register."""
        for profile in ["small", "medium", "concert"]:
            note = self.ok("--json", "action", profile, "C4").json
            self.assertTrue(note["regulated"])
            readings = note["readings"]
            for name, low, high in [("blow_mm", 44, 48), ("dip_mm", 9.5, 10.8), ("let_off_mm", 1, 3),
                                    ("aftertouch_mm", 0.8, 1.6), ("drop_mm", 1, 2),
                                    ("down_weight_gf", 46, 52), ("damper_start", 0.45, 0.55)]:
                self.assertGreaterEqual(readings[name], low, (profile, name))
                self.assertLessEqual(readings[name], high, (profile, name))
            self.assertGreaterEqual(readings["up_weight_gf"], 20)
            self.assertEqual(readings["faults"], [])

    def test_words_fit_the_screen_and_say_what_the_json_says(self):
        out = self.ok("action", "medium", "C4").out
        self.assertLessEqual(max(map(len, out.splitlines())), 98)
        note = self.ok("--json", "action", "medium", "C4").json
        self.assertRegex(out, rf"blow +{note['readings']['blow_mm']:.2f}\u202fmm +44.0 to 48.0\u202fmm")
        rows = {r["reading"]: r["by"] for r in note["influence"]["rows"]}
        self.assertEqual(len(rows), 16)
        self.assertEqual(len(rows["blow"]), 10)
        told = re.search(r"(?m)^  blow +mm +~?([−+][\d.]+)", out).group(1).replace("−", "-")
        self.assertAlmostEqual(float(told), rows["blow"]["capstan"]["value"], delta=0.006)

    def test_signs_a_technician_knows(self):
        """Trade (catalogue): a raised capstan shortens the blow and adds aftertouch, let-off stays; earlier let-off
        adds let-off and aftertouch; punchings in front take dip and aftertouch one for one."""
        rows = {r["reading"]: r["by"] for r in
                self.ok("--json", "action", "medium", "C4").json["influence"]["rows"]}
        by = lambda reading, adjuster: rows[reading][adjuster]["value"]
        self.assertLess(by("blow", "capstan"), -8)
        self.assertGreater(by("aftertouch", "capstan"), 1)
        self.assertLess(abs(by("let-off", "capstan")), 0.2)
        self.assertGreater(by("let-off", "let-off-button"), 1)
        self.assertGreater(by("aftertouch", "let-off-button"), 0.2)
        self.assertAlmostEqual(by("dip", "front-punchings"), -1, delta=0.1)
        self.assertAlmostEqual(by("aftertouch", "front-punchings"), -1, delta=0.1)
        self.assertGreater(by("drop", "drop-screw"), 1)
        self.assertLess(by("check-distance", "back-check"), -1)

    def test_a_what_if_says_both(self):
        run = self.ok("action", "medium", "C4", "--capstan", "-0.2mm", "--spring", "10 %")
        self.assertIn("Moved from there: capstan, lower 0.20\u202fmm; repetition spring, strengthen 10\u202f%.",
                      run.out)
        self.assertIn("as moved", run.out)
        note = self.ok("--json", "action", "medium", "C4", "--capstan=-0.2 mm").json
        change = note["readings"]["blow_mm"] - note["regulated_readings"]["blow_mm"]
        row = [r for r in note["influence"]["rows"] if r["reading"] == "blow"][0]
        self.assertAlmostEqual(change, -0.2 * row["by"]["capstan"]["value"], delta=0.1)
        self.assertAlmostEqual(note["moved"]["capstan_mm"], -0.2, places=12)

    def test_harm_is_told_in_place_with_the_caution(self):
        out = self.ok("action", "medium", "C4", *BLOCKED).out
        self.assertLess(out.index("This note does not work so"), out.index("Readings"))
        self.assertIn("Blocked", out)
        self.assertIn("slowly first, and only then firmly", re.sub(r"\s+", " ", out))
        faults = self.ok("--json", "action", "medium", "C4", *BLOCKED).json["readings"]["faults"]
        self.assertTrue(faults[0]["may_break"])
        self.assertIn("Blocked", self.ok("stroke", "medium", "C4", *BLOCKED).out)

    def test_strokes(self):
        run = self.ok("--json", "stroke", "medium", "C4").json
        speeds = [s["hammer_speed_m_s"] for s in run["strokes"]]
        self.assertEqual([s["effort"] for s in run["strokes"]], ["soft", "middling", "loud"])
        self.assertEqual(speeds, sorted(speeds))
        for s in run["strokes"]:
            events = s["events_ms"]
            self.assertLess(events["let_off"], events["string"])
            self.assertAlmostEqual(events["string"], s["travel_time_ms"], delta=0.01)
            energy = s["energy_mJ"]
            parts = sum(energy[k] for k in ["hammer", "key", "rest", "lost"])
            self.assertAlmostEqual(parts / energy["finger_work"], 1, delta=0.05)
        out = self.ok("stroke", "medium", "C4", "--touch", "struck", "--effort", "loud").out
        self.assertIn("the key struck", out)
        self.assertNotIn("soft", out)
        self.assertLessEqual(max(map(len, out.splitlines())), 98)

    def test_drawings_are_xml_and_say_their_depth(self):
        self.ok("action", "medium", "C4", "--draw", "a.svg", "--draw-press", "p.svg", "--draw-influence", "i.svg")
        self.assertIn("medium, C4: at rest", self.drawing("a.svg"))
        self.assertIn("pressed", self.drawing("p.svg"))
        self.assertIn("capstan", self.drawing("i.svg"))
        for depth, title in [("6mm", "key 6.0\u202fmm down"), ("let-off", "at let-off"), ("checked", "in check"),
                             ("0.2 in", "key 5.1\u202fmm down")]:
            self.ok("action", "concert", "F#3", "--draw", "b.svg", "--depth", depth)
            self.assertIn("concert, F#3: " + title, self.drawing("b.svg"))
        self.ok("stroke", "small", "C8", "--draw", "s.svg")
        self.assertIn("small, C8: the key pressed", self.drawing("s.svg"))
        self.assertIn("written: s.svg", self.ok("stroke", "small", "C8", "--draw", "s.svg").err)

    def test_a_piano_knows_its_action(self):
        self.new_piano()
        self.refused("action", "C4", saying="batten set action-profile")
        self.ok("set", "action-profile", "Concert")
        self.assertEqual(self.last_entry()["value"], "concert")
        for words in [["C4"], ["Studio", "C4"], ["studio grand", "C4"]]:
            self.assertTrue(self.ok("action", *words).out.startswith("Studio grand (profile concert), C4\n"))
        self.ok("line")  # the line's settings do not mind
        self.refused("set", "action-profile", "grande", saying="small, medium, concert")
        self.refused("set", "colour", "blue", saying="action-profile")

    def test_a_profile_of_ones_own(self):
        self.ok("profiles", "medium", "-o", "mine.json")
        profile = json.loads((self.folder / "mine.json").read_text())
        profile["name"] = "mine"
        profile["everywhere"]["head-mass"] = "8.4 g"
        for note in profile["notes"]:
            note["dimensions"].pop("head-mass")
        (self.folder / "mine.json").write_text(json.dumps(profile))
        self.assertTrue(self.ok("action", "mine.json", "C4").out.startswith("mine, C4\n"))
        self.new_piano()
        self.ok("set", "action-profile", "mine.json")
        self.assertEqual(self.last_entry()["value"], str(self.folder / "mine.json"))
        self.ok("action", "C4")
        profile["everywhere"]["head-mas"] = "8.4 g"
        (self.folder / "mine.json").write_text(json.dumps(profile))
        self.refused("action", "C4", saying='Is "head-mass" meant?')
        (self.folder / "mine.json").unlink()
        self.refused("action", "C4", saying="cannot be used")
        text = self.ok("profiles", "medium", "--all").out
        self.assertIn('"check-friction": "0.6"', text)
        self.assertIn("concert grand", self.ok("profiles").out)
        self.assertEqual(len(self.ok("--json", "profiles").json["profiles"]), 3)

    def test_the_manuals_profile_is_one(self):
        manual = pathlib.Path(__file__).resolve().parents[2] / "docs/manual/action.md"
        example = re.search(r"```json\n(.*?)```", manual.read_text(), re.DOTALL).group(1)
        (self.folder / "manual.json").write_text(example)
        self.assertIn("read on the bench in May", self.ok("action", "manual.json", "C4").out)

    def test_what_cannot_be_is_told(self):
        for words, saying in [
                (["action", "medium", "H4"], "not a note"),
                (["action", "medium", "C4", "--capstan", "3 g"], "capstan: “3 g” is a mass"),
                (["action", "medium", "C4", "--capstan", "50"], "up to 10 mm"),
                (["action", "medium", "C4", "--spring", "soft"], "repetition spring"),
                (["action", "medium", "C4", "--depth", "3mm"], "--draw"),
                (["action", "medium", "C4", "--draw", "a.svg", "--depth", "deep"], "rest, let-off"),
                (["action", "medium", "C4", "--draw", "a.svg", "--depth", "40"], "0 to 20 mm"),
                (["action", "medium", "C4", "--draw", "no/a.svg"], "Check the folder"),
                (["action", "nowhere", "C4"], "small, medium, concert"),
                (["stroke", "medium", "C4", "--effort", "brute"], "soft, middling, loud"),
                (["stroke", "medium", "C4", "--touch", "kicked"], "pressed or struck"),
                (["profiles", "none"], "small, medium, concert")]:
            self.refused(*words, saying=saying)
            self.assertTrue(self.batten("--json", *words).json["problem"]["happened"])
        self.assertFalse((self.folder / ".local").exists(), "no store is made by looking")


if __name__ == "__main__":
    unittest.main()

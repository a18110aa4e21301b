"""Handover and bench sheets on paper, and paper typed back, as a user does it."""

import re
import unittest

from batten import BattenTest


class Paper(BattenTest):
    def setUp(self):
        super().setUp()
        self.ok("demo")

    def entries(self):
        return len(self.ok("--json", "history").json["entries"])

    def test_handover(self):
        self.assertRegex(self.ok("handover").out, r"^written: handover.pdf, \d+ pages\n$")
        self.assertTrue((self.folder / "handover.pdf").read_bytes().startswith(b"%PDF-"))
        self.ok("handover", "--owner-only", "--language", "de", "--letter", "-o", "seite.pdf")
        self.ok("handover", "--visit", "1", "--picture", "--dpi", 50, "-o", "h.png")
        self.assertTrue((self.folder / "h.png").read_bytes().startswith(b"\x89PNG"))
        self.refused("handover", "--language", "fr", saying="There are: en")
        self.refused("handover", "--visit", "99", saying="There is no visit 99")
        self.ok("set", "owner-words", "Thank you for the coffee.")
        said = self.ok("--json", "handover").json
        self.assertIn("Thank you for the coffee.", [b.get("text") for b in said["owner"]["blocks"]])
        german = self.ok("--json", "handover", "--language", "de").json
        self.assertIn("Was gefunden wurde", [b.get("text") for b in german["owner"]["blocks"]])

    def test_a_bench_sheet_comes_back(self):
        out = self.ok("sheet", "--pass", "let-off", "--large", "-o", "lo.pdf").out
        code = re.search(r"batten back (LO-\d+-[A-Z])", out).group(1)
        before = self.entries()
        run = self.ok("back", code, typed="1 - no time\n\n2 - no time either\n")
        self.assertIn("written down: 2 entries", run.out)
        self.assertEqual(self.entries(), before + 2)
        # Once more: counted, not doubled.
        again = self.ok("back", code, typed="1 - no time\n")
        self.assertIn("1 had been typed back before", again.out)
        self.assertEqual(self.entries(), before + 2)
        bad = self.refused("back", code, typed="3 - ok\nx\n999 =\n", saying="2 lines could not be taken")
        self.assertIn("line 2: x", bad.err)
        self.assertEqual(self.entries(), before + 2)
        self.refused("back", "LO-1-?", typed="1 =\n", saying="is no code")


if __name__ == "__main__":
    unittest.main()

"""A series of readings from a pipe, as a digital gauge types it."""

import json
import unittest

from batten import BattenTest


class Series(BattenTest):
    def setUp(self):
        super().setUp()
        self.new_piano()

    def readings(self):
        return [(e["note"], e["value"]) for e in self.ok("--json", "history").json["entries"]
                if e["kind"] == "reading" and e["in_force"]]

    def test_a_gauge_types_numbers_with_cr_lf(self):
        run = self.ok("read", "string-height", "--from", "C4", "--to", "E4", "--naturals",
                      "--gauge", "dial 2", typed="195.20\r\n +195.1 mm \r\n7.68in\r\n")
        self.assertEqual(self.readings(), [("C4", 195.2), ("D4", 195.1), ("E4", 195.072)])  # 7.68 × 25.4
        self.assertEqual(run.out.count("kept: "), 3)
        self.assertIn("3 readings kept.", run.out)
        self.assertEqual(self.last_entry()["gauge"], "dial 2")
        self.assertEqual(self.last_entry()["typed"], "7.68in")

    def test_skip_again_back_and_notes_by_name(self):
        self.ok("read", "string-height", "--from", "C4",
                typed="195\n-\n\n-\n196\nagain\n196.2\nG4 197\nback\n197.5\nback\nback\n195.9\nstop\n1\n")
        # C4; C#4 and D4 skipped, the empty line passes over nothing; D#4, D#4 again; G4 taken back and read anew, taken back; then the
        # second D#4 taken back and read anew.
        self.assertEqual(self.readings(), [("C4", 195), ("D#4", 196), ("D#4", 195.9)])

    def test_downward_and_from_a_file_without_a_last_line_end(self):
        self.ok("read", "blow", "--from", "D4", "--to", "C4", typed="46\n46.1\n46.2")
        self.assertEqual(self.readings(), [("D4", 46), ("C#4", 46.1), ("C4", 46.2)])

    def test_a_bad_value_stops_the_pipe_and_says_where_to_go_on(self):
        run = self.batten("read", "string-height", "--samples", typed="195\n194.9\n19x\n194\n194\n")
        self.assertEqual(run.code, 1)
        self.assertEqual(self.readings(), [("A0", 195), ("B0", 194.9)])
        self.assertIn("Stopped at E1", run.err)
        self.assertIn("Go on with --from E1", run.err)
        self.ok("read", "string-height", "--samples", "--from", "E1", typed="194\n")
        self.assertEqual(self.readings()[-1], ("E1", 194))

    def test_what_would_land_on_a_wrong_note_stops_too(self):
        for typed in ["C9 45\n", "H4 45\n", "B2 45\n", "45 46\n", "4500\n", "46 g\n"]:
            run = self.batten("read", "blow", "--from", "C4", "--to", "E4", typed=typed + "46\n")
            self.assertEqual(run.code, 1, typed)
            self.assertIn("Stopped at C4", run.err)
        self.assertEqual(self.readings(), [])

    def test_what_cannot_be_a_series_is_told_before_the_first_value(self):
        self.refused("read", "humidity", typed="48\n", saying="batten read humidity VALUE")
        self.refused("read", "string-hight", typed="195\n", saying="string-height")
        self.refused("read", "blow", "--from", "H4", typed="46\n", saying="H4")
        self.ok("add", "Bare grand")
        self.refused("-p", "Bare", "read", "blow", "--samples", typed="46\n", saying="sections")

    def test_nothing_typed_keeps_nothing(self):
        self.assertIn("0 readings kept, next would be A0.", self.ok("read", "blow").out)
        self.assertEqual(self.readings(), [])

    def test_strings_end_with_what_to_look_at(self):
        out = self.ok("read", "string-height", "--samples", typed="195\n" * 3 + "198\n" + "195\n" * 30).out
        self.assertIn("Look first", out)
        self.assertIn("String heights worth reading next", out)

    def test_json_is_a_line_for_each_reading(self):
        run = self.batten("--json", "read", "blow", "--from", "C4", typed="46\n45.9\nx\n")
        self.assertEqual(run.code, 1)
        kept, problem = run.out.splitlines()[:2], "\n".join(run.out.splitlines()[2:])
        self.assertEqual([json.loads(k)["value"] for k in kept], [46, 45.9])
        self.assertTrue(json.loads(problem)["problem"]["happened"])


if __name__ == "__main__":
    unittest.main()

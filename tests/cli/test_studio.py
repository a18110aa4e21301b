"""When every piano is due, and a day's plan, as a user runs them."""

import re
import unittest

from batten import BattenTest


class Due(BattenTest):
    def setUp(self):
        super().setUp()
        self.ok("demo")

    def test_says_when_each_is_due_and_what_it_needs(self):
        text = re.sub(r"\s+", " ", self.ok("due").out)
        self.assertIn("Hall grand, 2.1 m", text)
        self.assertRegex(text, r"overdue|due \d+ \w+ 20\d\d")
        self.assertRegex(text, r"\d+ % expected outside tolerance today, worst: [\w -]+, about \d+ (h|min)")
        self.assertIn("return-limit", text)
        [piano] = self.ok("--json", "due").json["pianos"]
        self.assertEqual(piano["visits"], 5)
        self.assertIn(piano["due"]["state"], ["due-at", "overdue"])
        self.assertRegex(piano["last_done"], r"^20\d\d-\d\d-\d\d$")
        self.assertIsNone(self.ok("--json", "due").json["day"])

    def test_a_lower_limit_is_passed_sooner(self):
        self.ok("set", "return-limit", "5 %")
        [piano] = self.ok("--json", "due").json["pianos"]
        self.assertEqual(piano["due"]["state"], "overdue")
        self.assertIn("! Hall grand", self.ok("due").out)

    def test_plans_a_day(self):
        self.ok("set", "return-limit", "5 %")
        self.ok("add", "Never read", "--place", "Room 4")
        day = self.ok("--json", "due", "--hours", "10").json["day"]
        self.assertEqual([s["name"] for s in day["stops"]], ["Hall grand, 2.1 m"])
        self.assertEqual(day["stops"][0]["why"], "overdue")
        self.assertEqual(day["minutes_there_are"], 600)
        self.assertLessEqual(day["minutes_used"], 600)
        self.assertEqual([(left["name"], left["why"]) for left in day["left_out"]], [("Never read", "unread")])
        text = self.ok("due", "--hours", "10 h", "--fixed", "Never read").out
        self.assertLess(text.index("Never read"), text.index("Hall grand"))
        self.assertIn("promised", text)
        short = self.ok("--json", "due", "--hours", "0.5").json["day"]
        self.assertEqual(short["stops"], [])
        self.assertIn("too-long", [left["why"] for left in short["left_out"]])

    def test_refuses_what_makes_no_sense(self):
        self.refused("due", "--hours", "0", saying="no number of hours")
        self.refused("due", "--hours", "soon", saying="6 h 30")
        self.refused("due", "--fixed", "Hall grand", saying="without the hours")
        self.refused("due", "--hours", "6", "--fixed", "Nobody's", saying="Nobody's")
        self.refused("due", "--hours", "0.2", "--fixed", "Hall grand", saying="promised need")
        self.refused("due", "--calendar", "due.ics", "--language", "xx", saying="xx")

    def test_writes_a_calendar(self):
        self.ok("due", "--calendar", "due.ics", "--language", "de")
        text = (self.folder / "due.ics").read_bytes().decode()
        self.assertTrue(text.startswith("BEGIN:VCALENDAR\r\n"))
        self.assertEqual(text.count("BEGIN:VEVENT"), 1)
        self.assertIn("Regulierung fällig", text.replace("\r\n ", ""))
        self.assertIn("DTSTART;VALUE=DATE:20", text)


if __name__ == "__main__":
    unittest.main()

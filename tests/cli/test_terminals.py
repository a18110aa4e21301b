"""Colour, prompts and progress: on a terminal only, and never alone."""

import re
import subprocess
import unittest

from batten import PROGRAM, BattenTest

ESCAPE = "\x1b"


def plain(shown):
    return re.sub(r"\x1b\[[0-9;]*[A-Za-z]", "", shown).replace("\r\n", "\n")


class Terminals(BattenTest):
    def test_no_escapes_where_no_one_looks_on(self):
        self.ok("demo")
        for words in [["line"], ["line", "--all"], ["history"], ["pianos"], ["--help"], ["lines"],
                      ["sheet"]]:
            run = self.batten(*words)
            self.assertNotIn(ESCAPE, run.out + run.err, words)

    def test_colour_on_a_terminal_says_nothing_that_words_do_not(self):
        self.ok("demo")
        code, shown = self.at_terminal("line")
        self.assertEqual(code, 0)
        self.assertIn(ESCAPE, shown)
        self.assertEqual(plain(shown), self.ok("line").out)

    def test_no_color(self):
        """no-color.org: present and not empty, whatever its value."""
        self.ok("demo")
        self.assertNotIn(ESCAPE, self.at_terminal("line", NO_COLOR="1")[1])
        self.assertIn(ESCAPE, self.at_terminal("line", NO_COLOR="")[1])

    def test_a_name_cannot_steer_the_terminal(self):
        self.ok("add", "Gr\x1b]0;owned\x07and\u009b31m", "--sections", "E2 bridge")
        for run in [self.ok("pianos"), self.ok("visit", "v\x1b[2Jx"), self.ok("history")]:
            for control in "\x1b\x07\u009b":
                self.assertNotIn(control, run.out + run.err)

    def test_output_that_cannot_be_written_is_not_done(self):
        self.ok("demo")
        for words in [["line"], ["export"]]:
            with open("/dev/full", "wb") as full:
                done = subprocess.run([PROGRAM, *words], stdout=full, stderr=subprocess.PIPE,
                                      cwd=self.folder, env=self.environment, timeout=120)
            self.assertEqual(done.returncode, 1, words)
            self.assertIn(b"could not be written", done.stderr)

    def test_a_dumb_terminal_gets_no_colour(self):
        self.ok("demo")
        self.assertNotIn(ESCAPE, self.at_terminal("line", TERM="dumb")[1])

    def test_a_series_at_a_terminal_prompts_and_asks_again(self):
        self.new_piano()
        code, shown = self.at_terminal("read", "blow", "--from", "C4", "--to", "D4",
                                       typed="46\nforty\n45.9\nB3 45\n46.1\n")
        self.assertEqual(code, 0, shown)
        self.assertIn("C4  ", shown)
        self.assertIn("neither a value nor a note", shown)
        self.assertIn("B3 is not in this series", shown)
        self.assertEqual(shown.count("C#4  "), 2)
        self.assertIn("3 readings kept", shown)

    def test_progress_only_on_a_terminal(self):
        self.new_piano()
        rows = "".join(f"{1 + i % 88},string-height,195\n" for i in range(2000))
        (self.folder / "t.csv").write_text("note,reading,value\n" + rows)
        self.assertEqual(self.ok("import", "t.csv").err, "")
        code, shown = self.at_terminal("import", "t.csv")
        self.assertEqual(code, 0)
        self.assertRegex(shown, r"import \[#+\.*\] \d+ %")
        # Wiped away when done.
        self.assertIn("2000 readings kept.", plain(shown).split("\r")[-1])


if __name__ == "__main__":
    unittest.main()

"""The words of the command line: help, misuse, exit codes."""

import re
import unittest

from batten import BattenTest

COMMANDS = ["demo", "pianos", "add", "visit", "set", "read", "turned", "prepare", "note", "history",
            "undo", "import", "export", "line", "sheet", "action", "stroke", "profiles",
            "plan", "next", "done", "why", "brief", "complaint", "bundle", "backup", "shop"]


class Words(BattenTest):
    def test_help_names_every_command_and_shows_examples(self):
        text = self.ok("--help").out
        for command in COMMANDS:
            self.assertRegex(text, rf"(?m)^  {command} ")
        self.assertIn("Examples:", text)
        self.assertIn("Exit codes: 0 done; 1 could not be done; 2 the command makes no sense; 3 bad",
                      text)
        self.assertIn("qualified technician's judgement", text)

    def test_help_of_every_command_has_an_example_of_it(self):
        for command in COMMANDS:
            text = self.ok(command, "--help").out
            self.assertRegex(text, rf"Examples:\n(.*\n)*  batten ([-\w/. ]+ )?{command}", command)

    def test_the_examples_in_the_help_are_understood(self):
        """Every example line parses: none of them is misuse (exit code 2)."""
        self.new_piano()
        for command in COMMANDS:
            text = self.ok(command, "--help").out
            for line in text.split("Examples:\n")[1].splitlines():
                line = re.split(r"\s{3,}", line.strip())[0]
                if not line or "/tmp/" in line:
                    continue
                import shlex
                words = shlex.split(line)[1:]
                self.assertNotEqual(self.batten(*words).code, 2, line)

    def test_version(self):
        self.assertRegex(self.ok("--version").out, r"^batten \d+\.\d+\.\d+\n$")

    def test_misuse_is_exit_code_2_and_says_where_to_look(self):
        for words in [[], ["lines"], ["line", "--foo"], ["add"], ["set", "samples"],
                      ["sheet", "--dpi", "many"], ["sheet", "--page", "0"], ["read"],
                      ["read", "a", "b", "c", "d"]]:
            run = self.refused(*words, code=2, saying="--help")
            self.assertNotIn("subcommand", run.err.lower())
        self.assertIn('There is no command "lines".', self.batten("lines").err)
        self.assertIn("turned", self.batten("lines").err)

    def test_misuse_in_json(self):
        for words in [["--json", "lines"], ["lines", "--json"], ["sheet", "--dpi", "x", "--json"]]:
            run = self.batten(*words)
            self.assertEqual(run.code, 2)
            self.assertTrue(run.json["problem"]["happened"])
            self.assertTrue(run.json["problem"]["todo"])

    def test_a_failure_is_exit_code_1(self):
        self.refused("line", saying="batten add")
        self.new_piano()
        self.refused("--piano", "Upright", "line", saying="Studio grand")

    def test_bad_rows_are_exit_code_3(self):
        self.new_piano()
        (self.folder / "t.csv").write_text("note,reading,value\nC4,blow,46\nH4,blow,46\n")
        run = self.refused("import", "t.csv", code=3, saying="line 3")
        self.assertIn("nothing was imported", run.err)
        self.assertEqual(self.count(), 1)
        run = self.batten("--json", "import", "t.csv")
        self.assertEqual(run.code, 3)
        self.assertEqual(run.json["bad"][0]["line"], 3)
        self.assertIn("1 reading kept, 1 bad row left out", self.ok("import", "t.csv", "--take-good").out)


if __name__ == "__main__":
    unittest.main()

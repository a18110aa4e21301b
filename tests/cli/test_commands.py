"""Every command, in words and in JSON."""

import csv
import io
import json
import unittest

from batten import BattenTest, ITEMS, SECTIONS


class Commands(BattenTest):
    def test_the_whole_job_from_nothing_to_a_worklist(self):
        self.new_piano()
        self.assertIn("No capstan yet", self.ok("line").out)
        self.ok("set", "blow-target", "46")
        for key in range(1, 89, 4):
            self.ok("read", "string-height", key, 200)
        self.ok("read", "hammer-height", "C4", 153)
        self.ok("read", "hammer-height", "D4", "6.03 in")
        closed = self.ok("line").out
        for item in ITEMS:
            self.assertIn(item, closed)
        self.assertNotIn("Worklist", closed)
        self.pass_gate()
        worklist = self.ok("line").out.split("Worklist: ")[1]
        self.assertIn("C4", worklist)
        self.assertRegex(worklist, r"raise 7⁄64 turn +until the crown has risen 1\.0")
        self.ok("turned", "C4", "raise 7/64")
        self.assertIn("read again: turned since", self.ok("line").out)
        self.ok("undo")
        self.assertIn("Worklist", self.ok("line").out)

    def test_json_is_valid_for_every_command_and_for_every_refusal(self):
        self.ok("--json", "pianos").json
        self.ok("--json", "demo").json
        self.ok("--json", "add", "Studio grand", "--sections", SECTIONS).json
        for words in [["pianos"], ["visit", "second"], ["set", "turn-step", "1/32"],
                      ["read", "blow", "C4", "46"], ["turned", "C4", "raise 1/16"],
                      ["prepare", "screws-tight", "done"], ["note", "x\"\\\n\x01", "--at", "C4"],
                      ["history"], ["undo"], ["line"], ["line", "--all"],
                      ["export"], ["export", "--wide", "-o", "t.csv"], ["import", "t.csv"],
                      ["sheet", "-o", "s.pdf"], ["sheet", "--picture", "-o", "s.png"]]:
            run = self.ok("--json", *words)
            self.assertIsInstance(run.json, dict, words)
            self.assertEqual(run.err, "", words)
        for words in [["add", "Studio grand"], ["add", "X", "--lowest", "H1"],
                      ["add", "X", "--sections", "E2 wall"], ["set", "colour", "blue"],
                      ["read", "blow", "C4", "46 g"], ["read", "humidity"],
                      ["turned", "C4", "1/16"], ["prepare", "screws", "done"], ["note", ""],
                      ["undo", "zzzzzz"], ["import", "none.csv"], ["export", "-o", "none/t.csv"],
                      ["sheet", "-o", "none/s.pdf"], ["--piano", "Y", "line"],
                      ["--store", ".", "pianos"]]:
            run = self.batten("--json", *words)
            self.assertEqual(run.code, 1, words)
            self.assertTrue(run.json["problem"]["happened"], words)

    def test_the_line_in_json_says_what_the_words_say(self):
        self.ok("demo")
        line = self.ok("--json", "line").json
        self.assertEqual(len(line["notes"]), 88)
        self.assertTrue(line["gate"]["open"])
        words = self.ok("line").out
        self.assertIn(f"Worklist: {len(line['order'])} capstans", words)
        moves = {n["note"]: n for n in line["notes"] if n["verdict"] == "move"}
        self.assertEqual(set(moves), set(line["order"]))
        rows = words.split("Worklist")[1].splitlines()
        rows = [r for r in rows if "until the crown" in r]
        self.assertEqual([r.split()[1] for r in rows], line["order"])
        for row, note in zip(rows, line["order"]):
            self.assertIn(moves[note]["direction"], row)
            self.assertIn(f"{moves[note]['crown_travel_mm']:.1f}", row)
            self.assertEqual(moves[note]["direction"] == "raise", moves[note]["deviation_mm"] < 0)

    def test_lines_of_the_line_fit_a_hundred_columns(self):
        self.ok("demo")
        self.new_piano()
        for piano in ["Hall", "Studio"]:
            for words in [[], ["--all"], ["--inches", "--all"]]:
                for row in self.ok("--piano", piano, "line", *words).out.splitlines():
                    self.assertLessEqual(len(row), 100, row)  # code points

    def test_a_wrong_reading_is_asked_for_until_it_has_been_read_again(self):
        self.new_piano()
        typed = ["200"] * 21
        typed[8] = "201.5"  # B3
        out = self.ok("read", "string-height", "--samples", typed="\n".join(typed)).out
        self.assertRegex(out, r"\? B3 +string read 201.50.*read it again \(\d\d\u202f% likely wrong\)")
        self.ok("read", "string-height", "B3", 200)
        self.assertRegex(self.ok("line").out, r"· B3 +string read 201.50.*left out, another reading")

    def test_inches(self):
        self.ok("demo")
        text = self.ok("line", "--inches").out
        self.assertNotRegex(text.split("\nMind")[0], r"\bmm\b")
        self.assertRegex(text, r"until the crown has risen 0\.0\d\d\u202fin")

    def test_units_of_every_kind_and_what_was_expected(self):
        self.new_piano()
        self.assertIn("44.45", self.ok("read", "blow", "C4", '1 3/4"').out)
        self.assertIn("44.45", self.ok("read", "blow", "C4", "1-3/4 in").out)
        self.assertIn("45.20", self.ok("read", "blow", "C4", "45,2").out)
        self.assertIn("45.20", self.ok("read", "blow", "C4", "4.52cm").out)
        self.assertIn("−0.50", self.ok("read", "datum-transfer", "C4", "-0.5").out)
        self.assertIn("48.0\u202fgf", self.ok("read", "down-weight", "C4", "48 g").out)
        kept = self.count()
        for words, saying in [(["blow", "C4", "45 g"], "expected a length: mm"),
                              (["down-weight", "C4", "45 mm"], "expected a force"),
                              (["blow", "C4", "45 furlongs"], "expected a length: mm"),
                              (["humidity", "warm"], "percentage"),
                              (["blow", "C4", "450"], "5.00\u202fmm to 90.00\u202fmm"),
                              (["blow", "H4", "45"], "not a note"),
                              (["blows", "C4", "45"], "hammer-height"),
                              (["blow", "45"], "Say which")]:
            self.refused("read", *words, saying=saying)
        self.assertEqual(self.count(), kept)

    def test_two_pianos_are_told_apart(self):
        self.new_piano("Studio grand")
        self.new_piano("Hall grand")
        run = self.ok("read", "blow", "C4", "46")
        self.assertIn("piano: Hall grand", run.err)  # the one visited last, and it says so
        self.assertEqual(self.ok("-p", "studio", "read", "blow", "C4", "45").err, "")
        self.assertIn("45.00", self.ok("-p", "Stu", "history").out)
        self.assertNotIn("45.00", self.ok("-p", "Hall", "history").out)
        self.refused("-p", "S", "add", "Hall grand")
        self.new_piano("Studio grand, second")
        run = self.refused("-p", "studio grand,", "read", "blow", "C9", "1")
        self.refused("-p", "studi", "line", saying="Studio grand, second")
        text = self.ok("pianos").out
        for name in ["Studio grand", "Hall grand", "Room 4", "A0–C8", "1 visit", "entries"]:
            self.assertIn(name, text)

    def test_history_and_undo(self):
        self.new_piano()
        self.ok("--who", "Mira", "read", "blow", "C4", "46", "--gauge", "block 2")
        self.ok("note", "knuckle replaced", "--at", "C4", BATTEN_WHO="Anselm")
        text = self.ok("history").out
        self.assertIn("C4 blow 46.00\u202fmm ± 0.15\u202fmm, gauge block 2  — Mira", text)
        self.assertIn("C4 remark: knuckle replaced  — Anselm", text)
        self.assertEqual(len(self.ok("history", "--last", 1).out.splitlines()), 2)  # and its visit
        identity = self.last_entry()["id"]
        self.assertIn("taken back: C4 remark", self.ok("undo", identity[:8]).out)
        self.refused("undo", identity[:8], saying="already")
        self.assertIn("[taken back]", self.ok("history").out)
        self.assertIn("taken back: C4 blow", self.ok("undo").out)
        self.assertIn("taken back: setting sections", self.ok("undo").out)
        self.refused("undo", saying="nothing to take back")

    def test_import_and_export_through_the_pipe_and_the_file(self):
        self.new_piano()
        (self.folder / "wide.csv").write_bytes(
            "\ufeffnote;string-height [mm];blow [in]\r\nC4;195,2;1 3/4\"\r\nD4;;1.75\r\n".encode())
        self.assertIn("3 readings kept", self.ok("import", "wide.csv").out)
        out = self.ok("export").out
        rows = list(csv.DictReader(io.StringIO(out)))
        self.assertEqual([r["note"] for r in rows], ["C4", "C4", "D4"])
        self.ok("export", "-o", "long.csv")
        self.assertEqual((self.folder / "long.csv").read_bytes().decode(), out)
        self.assertTrue(out.endswith("\r\n"))
        comma = self.ok("export", "--wide", "--semicolon", "--decimal-comma", "--mark").out
        self.assertTrue(comma.startswith("\ufeffnote;"))
        self.assertIn("195,2", comma)
        self.refused("export", "-o", "none/long.csv", saying="could not be written")
        self.refused("import", "none.csv", saying="none.csv")

    def test_sheet(self):
        self.ok("demo")
        self.assertRegex(self.ok("sheet").out, r"^written: line-sheet.pdf, \d pages?\n$")
        self.assertTrue((self.folder / "line-sheet.pdf").read_bytes().startswith(b"%PDF-"))
        self.ok("sheet", "--picture", "--dpi", 50, "-o", "s.png")
        self.assertTrue((self.folder / "s.png").read_bytes().startswith(b"\x89PNG"))
        self.refused("sheet", "-o", "none/s.pdf", saying="Check that the folder exists")
        self.ok("sheet", "--picture", "--dpi", 50, "--page", 99, "-o", "t.png")  # the last there is
        self.assertNotEqual((self.folder / "t.png").read_bytes(),
                            (self.folder / "s.png").read_bytes())

    def test_the_store_lies_where_it_is_told(self):
        self.ok("--store", "a/b/c.store", "add", "Far grand")
        self.assertTrue((self.folder / "a/b/c.store").exists())
        self.ok("add", "Home grand")
        self.assertTrue((self.folder / ".local/share/batten/journal.store").exists())
        self.ok("add", "Data grand", XDG_DATA_HOME=str(self.folder / "data"))
        self.assertTrue((self.folder / "data/batten/journal.store").exists())
        self.refused("--store", ".", "pianos")
        (self.folder / "notes.txt").write_text("felt, paper punchings\n")
        self.refused("--store", "notes.txt", "pianos")
        self.assertEqual((self.folder / "notes.txt").read_text(), "felt, paper punchings\n")

    def test_a_mistyped_store_is_not_made(self):
        self.refused("--store", self.folder / "no" / "where.store", "line", saying="no store at")
        self.assertFalse((self.folder / "no").exists())

    def test_a_reading_without_its_value_is_told(self):
        self.ok("add", "Grand", "--sections", "E2 bridge")
        self.refused("read", "string-height", "C4", saying="no value behind C4")

    def test_visits_and_settings(self):
        self.new_piano()
        self.assertIn("begun: visit", self.ok("visit", "before the May recital").out)
        self.ok("set", "undamped-from", "G6")
        self.refused("read", "damper-start", "C8", "0.5", saying="no damper")
        self.ok("set", "out-of-service", "C4 D4")
        self.refused("read", "blow", "D4", "46", saying="out of service")
        self.ok("set", "out-of-service", "")
        self.ok("read", "blow", "D4", "46")
        self.refused("set", "blow-target", "20", saying="Setting blow-target")
        self.refused("set", "colour", "blue", saying="turn-step")
        self.refused("turned", "C4", "raise 3", saying="slip")
        self.refused("turned", "C4", "3/64", saying='Begin with "raise" or "lower"')

    def test_the_demo_is_there_once(self):
        self.ok("demo")
        self.ok("demo")
        self.assertEqual(len(json.loads(self.ok("--json", "pianos").out)["pianos"]), 1)


if __name__ == "__main__":
    unittest.main()

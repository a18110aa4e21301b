"""Bundles, backups and the workshop's settings, as a user goes about them."""

import pathlib
import re
import shutil
import signal
import struct
import subprocess
import time
import unittest
import zlib

from batten import PROGRAM, BattenTest


def png(across=2, down=2):
    """Black, by the PNG specification (W3C, second edition)."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(b"\0" + b"\0" * across for _ in range(down))
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", across, down, 8, 0, 0, 0, 0))
            + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))


class Data(BattenTest):
    def piano(self, store, *words):
        return self.ok("--store", store, "--piano", "Studio", *words)

    def journal(self, store):
        return self.piano(store, "--json", "history").json["entries"]

    def backups(self):
        return sorted(self.folder.glob(".local/share/batten/backups/*.backup"))

    def test_two_technicians_give_each_other_their_work(self):
        self.ok("--store", "a.store", "add", "Studio grand")
        self.piano("a.store", "--who", "Ada", "read", "drop", "C4", "2")
        self.piano("a.store", "bundle", "-o", "a.json")
        run = self.ok("--store", "b.store", "bundle", "--import", "a.json")
        self.assertRegex(run.out, r'added "Studio grand": 1 entry and 1 visit new, 0 there already')
        self.piano("b.store", "--who", "Zoë", "read", "drop", "D4", "2")
        self.piano("a.store", "--who", "Ada", "read", "drop", "E4", "2")
        for store in "ab":
            run = self.piano(f"{store}.store", "--json", "bundle", "-o", f"{store}.json").json
            self.assertEqual(run, {"file": f"{store}.json", "revision": 2})
        for _ in range(2):
            for store in "ab":
                for file in "ba":
                    self.ok("--store", f"{store}.store", "bundle", "--import", f"{file}.json")
        journals = [self.journal(f"{store}.store") for store in "ab"]
        self.assertEqual(len(journals[0]), 3)
        self.assertEqual(journals[0], journals[1])
        for store in "ab":
            self.piano(f"{store}.store", "bundle", "-o", f"{store}.json")
        self.assertEqual((self.folder / "a.json").read_bytes(), (self.folder / "b.json").read_bytes())

    def test_a_bundle_without_a_name_is_called_after_the_piano_and_the_day(self):
        self.ok("add", "Aula / Bühne")
        self.ok("bundle")
        self.assertEqual(len(list(self.folder.glob("Aula  Bühne ????-??-??.batten.json"))), 1)

    def test_a_piano_of_the_same_name_gets_another_and_that_is_said(self):
        self.ok("--store", "a.store", "add", "Studio grand")
        self.ok("--store", "a.store", "bundle", "-o", "a.json")
        self.ok("add", "Studio grand")
        run = self.ok("bundle", "--import", "a.json")
        self.assertIn('added "Studio grand 2"', run.out)
        self.assertIn('It is called "Studio grand" in the file; another piano has that name here.', run.out)
        self.ok("--store", "b.store", "add", "Studio grand")
        self.ok("--store", "b.store", "bundle", "-o", "b.json")
        self.refused("bundle", "--import", "b.json", "--as", "studio GRAND", saying="already")
        self.assertIn('added "Aula"', self.ok("bundle", "--import", "b.json", "--as", "Aula").out)

    def test_what_is_no_bundle_changes_nothing(self):
        self.ok("add", "Studio grand")
        self.ok("bundle", "-o", "good.json")
        good = (self.folder / "good.json").read_bytes()
        before = self.ok("--json", "pianos").json
        for name, content, saying in [
                ("half.json", good[: len(good) // 2], "damaged"),
                ("changed.json", good.replace(b"Studio", b"Studie"), "checksum"),
                ("table.csv", b"note,reading,value\n", "no bundle of a piano"),
                ("empty.json", b"", "empty")]:
            (self.folder / name).write_bytes(content)
            run = self.refused("bundle", "--import", name, saying=saying)
            self.assertIn("Nothing was changed.", run.err)
        self.refused("bundle", "--import", "none.json", saying="cannot be read")
        with open(self.folder / "huge.json", "wb") as file:
            file.truncate(60 << 20)
        self.refused("bundle", "--import", "huge.json", saying="larger than 50 MB")
        self.assertEqual(self.ok("--json", "pianos").json, before)

    def test_a_backup_is_made_after_a_command_once_a_day(self):
        self.ok("pianos")
        self.assertEqual(self.backups(), [])  # nothing worth keeping yet
        self.ok("add", "Studio grand")
        self.assertEqual(len(self.backups()), 1)
        self.ok("read", "drop", "C4", "2")
        self.assertEqual(len(self.backups()), 1)
        # Two days old: by its name.
        old = self.backups()[0]
        stamp = re.search(r"\.(\d{8}T\d{6}Z)\.", old.name).group(1)
        then = time.strftime("%Y%m%dT%H%M%SZ", time.gmtime(time.time() - 2 * 86400))
        old.rename(old.with_name(old.name.replace(stamp, then)))
        self.ok("history")
        self.assertEqual(len(self.backups()), 2)
        self.assertEqual(len(self.ok("--json", "backup", "list").json["backups"]), 2)

    def test_where_none_can_be_made_that_is_said_and_the_command_is_done(self):
        self.ok("add", "Studio grand")
        shutil.rmtree(self.folder / ".local/share/batten/backups")
        (self.folder / ".local/share/batten/backups").write_text("in the way")
        run = self.ok("--json", "read", "drop", "C4", "2")
        self.assertEqual(run.json["reading"], "drop")
        self.assertIn("No backup was made.", run.err)
        self.ok("shop", "backup-folder", "none")
        self.assertNotIn("backup", self.ok("pianos").err)

    def test_back_to_a_backup_and_the_store_there_was_is_kept(self):
        self.ok("add", "Studio grand")
        self.ok("read", "drop", "C4", "2")
        made = self.ok("--json", "backup", "now").json
        self.ok("read", "drop", "D4", "2")
        run = self.ok("backup", "restore", made["made_at"])
        self.assertIn("restored: ", run.out)
        self.assertEqual(len(self.ok("--json", "history").json["entries"]), 1)
        kept = re.search(r"is kept: (.*)", run.out).group(1)
        self.assertEqual(len(self.ok("--store", kept, "--json", "history").json["entries"]), 2)
        # What was entered since comes back as a bundle.
        self.ok("--store", kept, "bundle", "-o", "since.json")
        self.ok("bundle", "--import", "since.json")
        self.assertEqual(len(self.ok("--json", "history").json["entries"]), 2)
        self.refused("backup", "restore", "1999", saying='There is no backup "1999"')
        # By file, to another machine.
        self.ok("--store", "new/journal.store", "backup", "restore", made["path"])
        self.assertEqual(len(self.ok("--store", "new/journal.store", "--json", "history").json["entries"]), 1)

    def test_not_under_a_running_server(self):
        self.ok("add", "Studio grand")
        made = self.ok("--json", "backup", "now").json
        server = subprocess.Popen([PROGRAM, "serve", "--port", "0"], cwd=self.folder,
                                  env=self.environment, stdout=subprocess.PIPE)
        self.addCleanup(server.stdout.close)
        self.addCleanup(server.wait)
        self.addCleanup(server.kill)
        server.stdout.readline()
        self.refused("backup", "restore", made["path"], saying="Another program has the store open")
        server.send_signal(signal.SIGTERM)
        server.wait(60)
        self.ok("backup", "restore", made["path"])

    def test_the_server_makes_one_at_its_start(self):
        self.ok("add", "Studio grand")
        shutil.rmtree(self.folder / ".local/share/batten/backups")
        server = subprocess.Popen([PROGRAM, "serve", "--port", "0"], cwd=self.folder,
                                  env=self.environment, stdout=subprocess.PIPE)
        self.addCleanup(server.stdout.close)
        self.addCleanup(server.wait)
        self.addCleanup(server.kill)
        server.stdout.readline()
        for _ in range(600):
            if self.backups():
                break
            time.sleep(0.1)
        self.assertEqual(len(self.backups()), 1)

    def test_a_damaged_store_is_set_aside_and_replaces_no_backup(self):
        self.ok("add", "Studio grand")
        made = pathlib.Path(self.ok("--json", "backup", "now").json["path"])
        store = self.folder / ".local/share/batten/journal.store"
        store.write_bytes(b"rubbish" * 3000)
        self.assertEqual(self.batten("pianos").code, 1)
        self.assertTrue(made.exists())
        run = self.ok("backup", "restore", made)
        kept = pathlib.Path(re.search(r"is kept: (.*)", run.out).group(1))
        self.assertEqual(kept.read_bytes(), b"rubbish" * 3000)
        self.assertIn("Studio grand", self.ok("pianos").out)

    def test_the_workshops_settings(self):
        self.assertIn("letterhead-name", self.ok("shop").out)
        self.ok("shop", "letterhead-name", "Mira Sand, grand pianos")
        self.ok("shop", "letterhead-lines", "Mill Lane 3; Oxbury ;; 0555 123 456")
        self.ok("shop", "language", "DE")
        settings = {s["name"]: s["value"] for s in self.ok("--json", "shop").json["settings"]}
        self.assertEqual(settings["letterhead-name"], "Mira Sand, grand pianos")
        self.assertEqual(settings["letterhead-lines"], "Mill Lane 3\nOxbury\n0555 123 456")
        self.assertEqual(settings["language"], "de")
        self.assertIsNone(settings["paper"])
        self.assertRegex(self.ok("shop", "language").out, r"^language +de$")
        self.ok("shop", "language", "usual")
        self.assertRegex(self.ok("shop", "language").out, r"^language +en$")
        for words, saying in [(["paper", "a5"], "There are: a4, letter"),
                              (["colour", "red"], "no setting"),
                              (["colour"], "no setting"),
                              (["return-limit", "120 %"], "1 to 90"),
                              (["backup-folder", "here"], "the whole path"),
                              (["backup-keep", "many"], "7 days, 4 weeks"),
                              (["letterhead-name", "x" * 500], "too long"),
                              (["letterhead-lines", ";".join("abcdefghij")], "10 lines are too many")]:
            self.refused("shop", *words, saying=saying)

    def test_the_logo_is_looked_at_before_it_is_kept(self):
        (self.folder / "logo.png").write_bytes(png())
        self.ok("shop", "logo", "logo.png")
        self.assertEqual(self.ok("--json", "shop").json["logo"],
                         {"media_type": "image/png", "bytes": len(png())})
        for name, content, saying in [("a.svg", b"<svg/>", "neither PNG nor JPEG"),
                                      ("cut.png", png()[:20], "neither PNG nor JPEG"),
                                      ("large.png", png() + b"\0" * (1 << 20), "larger than 1 MB"),
                                      ("wide.png", png(7000, 1), "7000 × 1 pixels")]:
            (self.folder / name).write_bytes(content)
            self.refused("shop", "logo", name, saying=saying)
        self.assertIsNotNone(self.ok("--json", "shop").json["logo"])
        self.ok("shop", "logo", "none")
        self.assertIsNone(self.ok("--json", "shop").json["logo"])


if __name__ == "__main__":
    unittest.main()

"""Runs the built program over a store of its own."""

import json
import os
import pathlib
import pty
import select
import subprocess
import tempfile
import unittest

PROGRAM = os.environ["BATTEN"]
SECTIONS = "E2 bridge, A#4 strut, D6 strut"
ITEMS = ["screws-tight", "key-frame-bedded", "keys-square-and-easy", "centres-free-and-firm",
         "hammers-spaced", "hammers-travelling", "hammers-square", "strings-level", "felts-sound",
         "rest-cushions-even"]


class Run:
    def __init__(self, code, out, err):
        self.code, self.out, self.err = code, out, err

    @property
    def json(self):
        return json.loads(self.out)


class BattenTest(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="batten-")
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)
        self.environment = {"HOME": folder.name, "PATH": os.environ["PATH"], "TZ": "UTC",
                            "LANG": "C.UTF-8"}
        # What the build adds, such as sanitizer options.
        for name, value in os.environ.items():
            if name.endswith("SAN_OPTIONS"):
                self.environment[name] = value

    def batten(self, *words, typed="", **environment):
        done = subprocess.run([PROGRAM, *map(str, words)], input=typed.encode(),
                              capture_output=True, cwd=self.folder, timeout=120,
                              env=self.environment | environment)
        return Run(done.returncode, done.stdout.decode(), done.stderr.decode())

    def ok(self, *words, **more):
        run = self.batten(*words, **more)
        self.assertEqual(run.code, 0, run.err + run.out)
        return run

    def refused(self, *words, code=1, saying="", **more):
        """Says why in one sentence or more on standard error, and nothing on standard output."""
        run = self.batten(*words, **more)
        self.assertEqual(run.code, code, run.err + run.out)
        self.assertIn(saying, run.err)
        self.assertRegex(run.err.strip(), r"[.?\")]$")
        self.assertEqual(run.out, "")
        return run

    def at_terminal(self, *words, typed="", **environment):
        """Runs with a terminal for input, output and errors; returns its code and all it showed."""
        pid, fd = pty.fork()
        if pid == 0:
            os.chdir(self.folder)
            os.execve(PROGRAM, [PROGRAM, *map(str, words)],
                      self.environment | {"TERM": "xterm"} | environment)
        shown = b""
        os.write(fd, typed.encode())
        while True:
            ready, _, _ = select.select([fd], [], [], 60)
            if not ready:
                self.fail("the program waits: " + shown.decode())
            try:
                block = os.read(fd, 65536)
            except OSError:  # the other side is closed
                break
            if not block:
                break
            shown += block
        _, status = os.waitpid(pid, 0)
        os.close(fd)
        return os.waitstatus_to_exitcode(status), shown.decode()

    def new_piano(self, name="Studio grand"):
        self.ok("add", name, "--place", "Room 4", "--sections", SECTIONS)

    def pass_gate(self):
        for item in ITEMS:
            self.ok("prepare", item, "found")

    def last_entry(self):
        return self.ok("--json", "history", "--last", 1).json["entries"][-1]

    def count(self):
        return len(self.ok("--json", "history").json["entries"])

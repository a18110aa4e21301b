"""The program as a server: it says where it is, answers, and ends when told to."""

import json
import pathlib
import re
import select
import signal
import subprocess
import urllib.error
import urllib.request

from batten import PROGRAM, BattenTest


class ServeTest(BattenTest):
    def serve(self, *words):
        process = subprocess.Popen([PROGRAM, "serve", "--port", "0", *words], cwd=self.folder,
                                   env=self.environment, stdout=subprocess.PIPE,
                                   stderr=subprocess.PIPE)
        self.addCleanup(process.stderr.close)
        self.addCleanup(process.stdout.close)
        self.addCleanup(process.wait)
        self.addCleanup(process.kill)
        ready, _, _ = select.select([process.stdout], [], [], 120)
        self.assertTrue(ready, "no address was printed")
        url = process.stdout.readline().decode().strip()
        self.assertRegex(url, r"^http://localhost:\d+/$")
        return process, url

    def get(self, url):
        # Straight there, whatever proxy the machine has.
        opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        with opener.open(url, timeout=60) as answer:
            return answer.read().decode()

    def test_it_answers_until_it_is_told_to_end(self):
        self.ok("add", "Studio grand")
        for ending in (signal.SIGTERM, signal.SIGINT):
            process, url = self.serve()
            session = json.loads(self.get(url + "api/session"))
            self.assertRegex(session["token"], "^[0-9a-f]{64}$")
            self.assertFalse(session["lan"])
            self.assertIn("<script", self.get(url))
            self.assertIn("Studio grand", self.get(url + "api/pianos"))
            process.send_signal(ending)
            self.assertEqual(process.wait(60), 0)
            self.assertEqual(process.stdout.read(), b"")

    def test_a_taken_port_is_refused_with_the_way_out(self):
        _, url = self.serve()
        port = re.search(r":(\d+)/", url).group(1)
        run = self.refused("serve", "--port", port, saying="is taken by another program")
        self.assertIn("--port 0", run.err)

    def test_the_network_sees_a_code_and_a_fingerprint(self):
        process, url = self.serve("--lan", "--lan-port", "0")
        self.assertTrue(json.loads(self.get(url + "api/session"))["lan"])
        process.terminate()
        self.assertEqual(process.wait(60), 0)
        said = process.stderr.read().decode()
        self.assertRegex(said, r"https://[^ ]+:\d+/")
        self.assertRegex(said, r"\b\d{4} \d{4}\b")
        self.assertRegex(said, r"\b([0-9A-F]{2}:){31}[0-9A-F]{2}\b")
        key = next(pathlib.Path(self.folder).rglob("*.tls-key.pem"))
        self.assertEqual(key.stat().st_mode & 0o777, 0o600)

    def test_devices_are_listed_and_only_those_there_are_revoked(self):
        self.assertIn("No device is paired", self.ok("devices").out)
        self.assertEqual(self.ok("--json", "devices").json, {"devices": []})
        self.refused("devices", "revoke", "Tablet", saying='No paired device is called "Tablet"')

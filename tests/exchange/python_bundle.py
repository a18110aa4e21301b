"""Bundles against Python's own json, hashlib and uuid: read as docs/formats/bundle.md says, and one
that Python writes is read by the program."""

import hashlib
import json
import re
import subprocess
import sys
import uuid

echo = sys.argv[1]
data = subprocess.run([echo], capture_output=True, check=True).stdout

# The document's own lines.
said = re.search(rb'"sha256":"([0-9a-f]{64})"', data)
zeros = data[: said.start(1)] + b"0" * 64 + data[said.end(1) :]
assert hashlib.sha256(zeros).hexdigest() == said.group(1).decode()
assert said.start() < 200

bundle = json.loads(data)
assert list(bundle) == ["format", "version", "sha256", "piano", "visits", "entries"]
assert bundle["format"] == "batten-bundle" and bundle["version"] == 1
members = {
    "reading": {"reading", "key", "value", "uncertainty", "gauge", "typed"},
    "move": {"adjuster", "key", "amount", "remark"},
    "skip": {"adjuster", "key", "reason"},
    "preparation": {"item", "key", "state", "reason"},
    "setting": {"name", "value"},
    "remark": {"key", "text"},
    "undo": {"entry"},
}
seen = set()
last = (0, "")
for entry in bundle["entries"]:
    kind = entry["kind"]
    seen.add(kind)
    assert set(entry) == {"id", "visit", "stamp", "at_ms", "who", "kind"} | members[kind], entry
    assert str(uuid.UUID(entry["id"])) == entry["id"]
    assert last < (entry["stamp"], entry["id"])
    last = (entry["stamp"], entry["id"])
assert seen == set(members), seen
# A line for each visit and entry.
assert len(data.splitlines()) == 4 + len(bundle["visits"]) + len(bundle["entries"])


def written(value):
    """As another program may write it: other order, blanks and escapes."""
    value = dict(value, sha256="0" * 64)
    head = {name: value.pop(name) for name in ("format", "version", "sha256")}
    text = json.dumps({**head, **dict(reversed(list(value.items())))}, separators=(",", ":"))
    text = text.replace('"piano"', '\n  "piano"').encode()
    return text.replace(b"0" * 64, hashlib.sha256(text).hexdigest().encode(), 1)


again = subprocess.run([echo, "read"], input=written(bundle), capture_output=True)
assert again.returncode == 0, again.stderr
assert again.stdout == data
bundle["entries"][0]["value"] = 7
wrong = written(bundle).replace(b'"value":7', b'"value":8')
assert subprocess.run([echo, "read"], input=wrong, capture_output=True).returncode == 1

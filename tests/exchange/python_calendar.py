"""Debian's icalendar as an independent reader of calendars we write.

Random calendars (names of many scripts, everything RFC 5545 escapes, long lines) are written by
calendar_echo; icalendar must read the same events back, and every line must keep RFC 5545, 3.1.
icalendar 4 takes an escaped backslash before an n for a line break, so texts with a backslash are
read by the few lines below instead, after RFC 5545, 3.3.11.

usage: python_calendar.py CALENDAR_ECHO
"""

import datetime
import random
import re
import subprocess
import sys

import icalendar

PIECES = ["a", "Flügel", "Klavierübung Nr. 3", "x y", ",", ";", "\\", "\\n", "\n", ":", '"', "é", "″", "𝄞", "≥",
          "ー", "'", "=", "\t", " ", "  ", "BEGIN:VEVENT", "(Saal 2)", "Ω" * 9, "word " * 12]


def hexed(text):
    return text.encode().hex() or "-"


def random_text(chance, most, line_breaks=True):
    text = "".join(chance.choice(PIECES) for _ in range(chance.randint(0, most)))
    return text if line_breaks else text.replace("\n", " ")


def random_event(chance, number):
    first = datetime.date(1970, 1, 1) + datetime.timedelta(days=chance.randint(0, 40000))
    return {
        "uid": f"next-visit-{number}-{chance.randint(0, 10**9)}",
        "day": first,
        "days": chance.choice([1, 1, 1, 2, 30, 366]),
        "summary": random_text(chance, 8, line_breaks=False),
        "description": random_text(chance, 30),
        "place": random_text(chance, 6),
        "remind": chance.choice([None, 0, 7, 365]),
    }


def written(program, name, language, stamp, events):
    lines = [f"calendar {hexed(name)} {language} {int(stamp.timestamp() * 1000)}"]
    for e in events:
        remind = "-" if e["remind"] is None else e["remind"]
        texts = " ".join(hexed(e[part]) for part in ("summary", "description", "place"))
        lines.append(f"event {hexed(e['uid'])} {e['day'].isoformat()} {e['days']} {texts} {remind}")
    done = subprocess.run([program], input="\n".join(lines).encode(), stdout=subprocess.PIPE, check=True)
    return done.stdout


def check_lines(data):
    assert data.endswith(b"\r\n")
    for line in data[:-2].split(b"\r\n"):
        assert b"\n" not in line and b"\r" not in line, line
        assert len(line) <= 75, (len(line), line)  # RFC 5545, 3.1
        line.decode()  # a character is never cut


def text_of(component, name):
    return str(component[name]) if name in component else ""


def own_texts(data, name):
    """Values of a property in the order of the file, unfolded and unescaped by the letter of RFC 5545."""
    lines = re.sub(b"\r\n[ \t]", b"", data).decode().split("\r\n")
    values = [line.split(":", 1)[1] for line in lines if re.match(f"{name}(;LANGUAGE=[a-z]+)?:", line)]
    return [re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], value) for value in values]


def same(read, sent):
    return "\\" in sent or read == sent


def check_event(read, sent, stamp, language):
    assert text_of(read, "UID") == sent["uid"]
    assert read["DTSTAMP"].dt == stamp, read["DTSTAMP"].dt
    assert read["DTSTART"].dt == sent["day"] and type(read["DTSTART"].dt) is datetime.date
    assert read["DTEND"].dt == sent["day"] + datetime.timedelta(days=sent["days"])
    assert same(text_of(read, "SUMMARY"), sent["summary"]), (text_of(read, "SUMMARY"), sent["summary"])
    assert same(text_of(read, "DESCRIPTION"), sent["description"]), (text_of(read, "DESCRIPTION"), sent["description"])
    assert same(text_of(read, "LOCATION"), sent["place"])
    if sent["summary"]:
        assert read["SUMMARY"].params["LANGUAGE"] == language
    alarms = read.subcomponents
    assert len(alarms) == (0 if sent["remind"] is None else 1)
    for alarm in alarms:
        assert alarm["TRIGGER"].dt == datetime.timedelta(days=-sent["remind"])
        assert str(alarm["ACTION"]) == "DISPLAY" and text_of(alarm, "DESCRIPTION")
    assert not read.errors, read.errors


def main():
    program = sys.argv[1]
    chance = random.Random(5545)
    for _ in range(300):
        events = [random_event(chance, n) for n in range(chance.randint(0, 12))]
        stamp = datetime.datetime.fromtimestamp(chance.randint(0, 4 * 10**9), datetime.timezone.utc)
        name, language = random_text(chance, 5, line_breaks=False), chance.choice(["en", "de"])
        data = written(program, name, language, stamp, events)
        assert data == written(program, name, language, stamp, events)
        check_lines(data)
        calendar = icalendar.Calendar.from_ical(data)
        assert calendar["VERSION"] == "2.0" and same(text_of(calendar, "X-WR-CALNAME"), name)
        read = [part for part in calendar.subcomponents if part.name == "VEVENT"]
        assert len(read) == len(events)
        for one, sent in zip(read, events):
            check_event(one, sent, stamp, language)
        assert own_texts(data, "LOCATION") == [e["place"] for e in events if e["place"]]
        shown = [text for e in events for text in (e["description"], None if e["remind"] is None else e["summary"] or "–")]
        assert own_texts(data, "DESCRIPTION") == [text for text in shown if text]
        assert own_texts(data, "SUMMARY") == [e["summary"] for e in events if e["summary"]]
    print("300 calendars read back")


main()

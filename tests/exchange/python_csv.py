"""Python's csv module as an independent writer and reader of tables of readings.

It writes tables of random readings in the dialects it knows; table_echo must read the same numbers,
to the last bit. table_echo writes random readings in all its styles; Python must read the same.

usage: python_csv.py TABLE_ECHO FOLDER
"""

import csv
import itertools
import os
import random
import subprocess
import sys

READINGS = {  # code: (least, greatest possible, read at a note, unit)
    "string-height": (20, 400, True, "mm"),
    "hammer-height": (20, 400, True, "mm"),
    "datum-transfer": (-300, 300, True, "mm"),
    "down-weight": (0, 150, True, "gf"),
    "damper-start": (0, 1, True, ""),
    "spring-rise": (0, 4, True, "grade"),
    "humidity": (0, 100, False, "%"),
}
# Nothing at either end that an unquoted cell would lose: blanks are put inside only.
PIECES = ["a", "rule", "x y", '"', ",", ";", "é", "″", "𝄞", "=", "-", "@", "'", "t\tt", "n\nn", "r\rr"]
NAMES = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"]


def note_name(key):
    return NAMES[(key + 8) % 12] + str((key + 8) // 12)


def gauge(rng):
    return "".join(rng.choice(PIECES) for _ in range(rng.randrange(4)))


def reading(rng):
    code = rng.choice(list(READINGS))
    low, high, at_note, unit = READINGS[code]
    value = rng.uniform(low, high) if rng.random() < 0.5 else round(rng.uniform(low, high), 2)
    if unit == "grade":
        value = float(rng.randint(low, high))
    key = rng.randint(1, 88) if at_note else None
    uncertainty = rng.choice([0.0, 0.1, rng.uniform(0.001, 0.9)])
    return code, key, value, uncertainty, gauge(rng)


def marked(text):
    """Whether a leading apostrophe marks text a spreadsheet would run."""
    bare = text.lstrip("'")
    return bare != "" and bare[0] in "=+-@\t\r\n"


def after_reading(one):
    """An apostrophe before = and its like is the spreadsheets' sign for text, taken off."""
    code, key, value, uncertainty, name = one
    return code, key, value, uncertainty, name[1:] if name.startswith("'") and marked(name) else name


def number(value, comma):
    return repr(value).replace(".", ",") if comma else repr(value)


def optional(value, comma):
    return number(value, comma) if value else ""


def long_rows(readings, comma):
    yield ["note", "reading", "value", "unit", "uncertainty", "gauge"]
    for code, key, value, uncertainty, name in readings:
        yield [note_name(key) if key else "", code, number(value, comma), READINGS[code][3],
               optional(uncertainty, comma), name]


def wide_rows(readings, comma):
    """One reading a row; the order then is that of the readings."""
    codes = sorted({one[0] for one in readings})
    yield ["note"] + [h for code in codes for h in (code, code + " uncertainty", code + " gauge")]
    for code, key, value, uncertainty, name in readings:
        cells = [number(value, comma), optional(uncertainty, comma), name]
        yield [note_name(key) if key else ""] + [
            cell for column in codes for cell in (cells if column == code else ["", "", ""])]


def parse_echo(lines, count):
    result = []
    for line in itertools.islice(lines, count):
        code, key, value, uncertainty, name, _ = line.split()
        result.append((code, None if key == "-" else int(key), float.fromhex(value),
                       float.fromhex(uncertainty),
                       "" if name == "-" else bytes.fromhex(name).decode()))
    return result


def check(condition, *what):
    if not condition:
        print("FAILED:", *what)
        sys.exit(1)


def python_writes(echo, folder, rng):
    files = []
    dialects = itertools.product(
        [",", ";", "\t"], ["\r\n", "\n", "\r"], [csv.QUOTE_MINIMAL, csv.QUOTE_ALL],
        ["utf-8", "utf-8-sig", "utf-16"], [False, True], [long_rows, wide_rows])
    for i, (separator, end, quoting, encoding, comma, form) in enumerate(dialects):
        readings = [reading(rng) for _ in range(rng.randint(1, 20))]
        if quoting == csv.QUOTE_MINIMAL:
            # Python before 3.13 leaves a line break unquoted that is not in the line terminator
            # (RFC 4180, section 2, rule 6 asks for quotes).
            for c in set("\r\n") - set(end):
                readings = [one[:4] + (one[4].replace(c, ""),) for one in readings]
        path = os.path.join(folder, f"python_{i}.csv")
        with open(path, "w", newline="", encoding=encoding) as file:
            csv.writer(file, delimiter=separator, lineterminator=end, quoting=quoting).writerows(
                form(readings, comma))
        files.append((path, readings))
    run = subprocess.run([echo, "read"] + [path for path, _ in files], capture_output=True, text=True)
    check(run.returncode == 0 and run.stderr == "", run.stdout[:2000], run.stderr[:2000])
    lines = iter(run.stdout.splitlines())
    for path, readings in files:
        check(next(lines) == f"file {len(readings)} 0", path)
        found = parse_echo(lines, len(readings))
        expected = [after_reading(one) for one in readings]
        check(found == expected, path, [p for p in zip(found, expected) if p[0] != p[1]][:1])
        os.remove(path)
    return len(files)


def python_reads(echo, rng):
    styles = list(itertools.product(["long", "wide"], [",", ";", "\t"], "01", "01"))
    for form, separator, comma, mark in styles:
        readings = [reading(rng) for _ in range(50)]
        spec = "".join(
            f"{code} {key or '-'} {value.hex()} {uncertainty.hex()} {name.encode().hex() or '-'}\n"
            for code, key, value, uncertainty, name in readings)
        run = subprocess.run([echo, "write", form, separator, comma, mark], input=spec.encode(),
                             capture_output=True)
        check(run.returncode == 0, run.stderr)
        text = run.stdout.decode("utf-8")
        check(text.startswith("\ufeff") == (mark == "1"), "byte order mark")
        rows = list(csv.reader(text.removeprefix("\ufeff").splitlines(keepends=True), strict=True,
                               delimiter=separator))
        check(len({len(row) for row in rows}) == 1, "rows of different lengths", form)
        plain = lambda cell: float(cell.replace(",", ".")) if cell else 0.0
        unmarked = lambda cell: cell[1:] if cell.startswith("'") and marked(cell) else cell
        found = []
        if form == "long":
            check(rows[0] == ["note", "reading", "value", "unit", "uncertainty", "gauge"], rows[0])
            for note, code, value, unit, uncertainty, name in rows[1:]:
                check(unit == READINGS[code][3], unit, code)
                found.append((code, note, plain(value), plain(uncertainty), unmarked(name)))
        else:
            for row in rows[1:]:
                cells = dict(zip(rows[0], row))
                for heading, cell in cells.items():
                    code = heading.split(" ")[0]
                    if cell and code in READINGS and heading.split(" ")[1:2] not in (
                            ["uncertainty"], ["gauge"]):
                        unit = heading[len(code):]
                        found.append((code, cells["note"], plain(cell),
                                      plain(cells.get(code + " uncertainty" + unit, "")),
                                      unmarked(cells.get(code + " gauge", ""))))
        expected = [(code, note_name(key) if key else "", value, uncertainty, name)
                    for code, key, value, uncertainty, name in readings]
        if form == "wide":
            order = lambda one: (one[1], one[0])  # stable within a kind at a note
            found.sort(key=order)
            expected.sort(key=order)
        check(found == expected, form, separator, comma,
              [p for p in zip(found, expected) if p[0] != p[1]][:1])
    return len(styles)


def main():
    echo, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    rng = random.Random(20)
    written = python_writes(echo, folder, rng)
    read = python_reads(echo, rng)
    print(f"{written} tables written by Python read the same, {read} of ours read by Python the same")


main()

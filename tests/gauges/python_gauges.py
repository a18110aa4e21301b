"""Gauges to cut, read with libraries that are not ours: every length within 0.1 mm at 1:1.

  PDF  pikepdf reads the page's own operators; a unit is 1/72 in (ISO 32000-1, 8.3.2.3), an inch 25.4 mm
       by definition; poppler finds the words and the fonts
  DXF  ezdxf reads and audits the file
  SVG  Python's XML parser; width and height carry "mm" and the viewBox has the same figures, so that
       a unit of its coordinates is a millimetre (SVG 1.1, 7.10)

usage: python_gauges.py GAUGES_ECHO FOLDER
"""

import json
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as xml

import ezdxf
import pikepdf

LIMIT = 0.1  # mm, what must hold
POINT = 25.4 / 72
SVG = "{http://www.w3.org/2000/svg}"

CASES = [
    ("a4", "en", "88", []),
    ("letter", "de", "88", ["key-height-target=65 mm", "sharps-height-target=12.3 mm", "aftertouch-target=1.2 mm"]),
    ("a4", "de", "97", ["key-height-target=64 to 66 mm", "sharps-height-target=12 to 12.5 mm",
                        "dip-target=10.2 to 9.6 mm", "let-off-target=3 to 0.8 mm", "blow-target=48 to 44 mm",
                        "check-distance-target=16 to 12 mm", "jack-clearance-target=0.3 to 0.1 mm",
                        "aftertouch-target=1.6 to 0.9 mm"]),
    ("letter", "en", "97", ["inches", "key-height-target=2.5 in", "sharps-height-target=0.49 in"]),
]


def matches(found, wanted, limit):
    """Two closed outlines, each from its lower left corner, the first point anywhere."""
    if len(found) != len(wanted):
        return False
    left, low = min(x for x, _ in found), min(y for _, y in found)
    moved = [(x - left, y - low) for x, y in found]
    for start in range(len(moved)):
        turned = moved[start:] + moved[:start]
        if all(abs(a - c) <= limit and abs(b - d) <= limit for (a, b), (c, d) in zip(turned, wanted)):
            return True
    return False


def check_outlines(found, pieces, limit, where):
    left = list(found)
    for piece in pieces:
        wanted = [tuple(p) for p in piece["outline"]]
        hit = next((o for o in left if matches(o, wanted, limit)), None)
        assert hit is not None, f"{where}: no outline of {piece['title']}"
        left.remove(hit)
    assert not left, f"{where}: {len(left)} outlines too many"


def apart(a, b):
    return a[1] <= b[0] or b[1] <= a[0] or a[3] <= b[2] or b[3] <= a[2]


def box(points):
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), max(xs), min(ys), max(ys)


def check_apart(outlines, where):
    boxes = [box(o) for o in outlines]
    for i, a in enumerate(boxes):
        for b in boxes[:i]:
            assert apart(a, b), f"{where}: two pieces meet"


# --- PDF

def times(m, n):
    a, b, c, d, e, f = m
    g, h, i, j, k, l = n
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + l)


def paths_of(page):
    """Every path that is painted, in mm on the page: (closed, points, has curves)."""
    found = []

    def walk(thing, resources, ctm):
        stack, current, path = [], None, []

        def at(x, y):
            a, b, c, d, e, f = ctm
            return ((a * x + c * y + e) * POINT, (b * x + d * y + f) * POINT)

        for operands, operator in pikepdf.parse_content_stream(thing):
            name = str(operator)
            n = [float(o) for o in operands] if name in ("cm", "m", "l", "c", "re") else []
            if name == "q":
                stack.append(ctm)
            elif name == "Q":
                ctm = stack.pop()
            elif name == "cm":
                ctm = times(n, ctm)
            elif name == "m":
                current = [False, [at(*n)], False]
                path.append(current)
            elif name == "l":
                current[1].append(at(*n))
            elif name == "c":
                current[1].append(at(*n[4:]))
                current[2] = True
            elif name == "h":
                current[0] = True
            elif name == "re":
                x, y, w, h = n
                path.append([True, [at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h)], False])
            elif name in ("S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n"):
                if name in ("S", "s"):
                    for part in path:
                        part[0] = part[0] or name == "s"
                        # A path may go back to its first point before it is closed.
                        if part[0] and len(part[1]) > 1 and part[1][0] == part[1][-1]:
                            part[1].pop()
                    found.extend(path)
                path = []
            elif name == "Do":
                form = resources.XObject[str(operands[0])]
                if form.get("/Subtype") == "/Form":
                    matrix = [float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0])]
                    walk(form, form.get("/Resources", resources), times(matrix, ctm))

    walk(page, page.get("/Resources"), (1, 0, 0, 1, 0, 0))
    return found


def check_pdf(file, pieces, case):
    paper, language, _, _ = case
    with pikepdf.open(file) as pdf:
        outlines, circles = [], []
        for number, page in enumerate(pdf.pages):
            width, height = float(page.MediaBox[2]) * POINT, float(page.MediaBox[3]) * POINT
            wanted = (210, 297) if paper == "a4" else (215.9, 279.4)  # ISO 216; 8.5 × 11 in
            assert abs(width - wanted[0]) < 0.05 and abs(height - wanted[1]) < 0.05, (width, height)
            assert page.get("/UserUnit", 1) == 1
            here = paths_of(page)
            for closed, points, curved in here:
                left, right, low, high = box(points)
                assert left >= 5 and low >= 5 and right <= width - 5 and high <= height - 5, "beyond a printer's reach"
            flat = [p for c, p, curved in here if not c and not curved and len(p) == 2]
            # Length along an axis, and straightness: bars of 100 mm and 4 in, both ways, on every page.
            for bar in (100, 101.6):
                for across in (0, 1):
                    fits = [p for p in flat if abs(abs(p[0][across] - p[1][across]) - bar) < LIMIT
                            and abs(p[0][1 - across] - p[1][1 - across]) < 1e-3]
                    assert len(fits) == 1, f"page {number + 1}: {len(fits)} bars of {bar} mm along axis {across}"
            mine = [p for closed, p, curved in here if closed and not curved]
            check_apart(mine, f"page {number + 1}")
            outlines += mine
            circles += [p for closed, p, curved in here if curved]
        check_outlines(outlines, pieces, LIMIT / 10, "PDF")
        wanted = sorted(2 * hole[2] for piece in pieces for hole in piece["holes"])
        found = sorted(box(c)[1] - box(c)[0] for c in circles)
        assert len(found) == len(wanted) and all(abs(a - b) < LIMIT for a, b in zip(found, wanted)), (found, wanted)
    text = subprocess.run(["pdftotext", "-layout", file, "-"], stdout=subprocess.PIPE, check=True).stdout.decode()
    flat = re.sub(r"\s+", "", text)
    for piece in pieces:
        for words in piece["words"]:
            assert re.sub(r"\s+", "", words) in flat, f"PDF: {words} cannot be selected"
    assert "…" not in flat or any("…" in w for p in pieces for w in p["words"]), "PDF: words are cut"
    assert ("Balken" if language == "de" else "actual size") in text
    fonts = subprocess.run(["pdffonts", file], stdout=subprocess.PIPE, check=True).stdout.decode().splitlines()[2:]
    assert fonts and all(re.search(r"\byes\s+(yes|no)\s+yes\b", line) for line in fonts), fonts


# --- DXF and SVG

def check_dxf(file, pieces):
    drawing = ezdxf.readfile(file)
    assert drawing.dxfversion == "AC1009"
    audit = drawing.audit()
    assert not audit.has_errors and not audit.has_fixes, (audit.errors, audit.fixes)
    space = drawing.modelspace()
    lines = list(space.query("POLYLINE"))
    on = {e.dxf.layer for e in space}
    assert on == {"CUT", "ENGRAVE", "CHECK"}, on
    cut = [e for e in lines if e.dxf.layer == "CUT"]
    assert all(e.is_closed for e in cut)
    outlines = [[(v.dxf.location.x, v.dxf.location.y) for v in e.vertices] for e in cut]
    check_outlines(outlines, pieces, 1e-3, "DXF")
    check_apart(outlines, "DXF")
    circles = sorted(e.dxf.radius for e in space.query("CIRCLE"))
    assert circles == sorted(hole[2] for p in pieces for hole in p["holes"])
    bars = [e for e in lines if e.dxf.layer == "CHECK" and len(e.vertices) == 2]
    lengths = [(e.vertices[0].dxf.location - e.vertices[1].dxf.location).magnitude for e in bars]
    assert sum(abs(length - 100) < 1e-3 for length in lengths) == 1
    engraved = [(v.dxf.location.x, v.dxf.location.y) for e in lines if e.dxf.layer == "ENGRAVE" for v in e.vertices]
    boxes = [box(o) for o in outlines]
    assert engraved and all(any(l < x < r and b < y < t for l, r, b, t in boxes) for x, y in engraved), "words beside"


def points_of(path):
    return [tuple(map(float, pair)) for pair in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path)]


def check_svg(file, pieces, language):
    root = xml.parse(file).getroot()
    width, height = root.get("width"), root.get("height")
    assert width.endswith("mm") and height.endswith("mm")
    assert root.get("viewBox").split() == ["0", "0", width[:-2], height[:-2]]
    assert root.get("lang") == language and root.find(SVG + "title").text
    groups = {g.get("id"): g for g in root.findall(SVG + "g")}
    assert set(groups) == {"cut", "engrave", "check"}
    parts = groups["cut"].findall(SVG + "g")
    assert [p.find(SVG + "title").text for p in parts] and len(parts) == len(pieces)
    outlines = []
    for part in parts:
        path = part.find(SVG + "path").get("d")
        assert path.endswith("Z")
        outlines.append([(x, float(height[:-2]) - y) for x, y in points_of(path)])
    check_outlines(outlines, pieces, 1e-3, "SVG")
    check_apart(outlines, "SVG")
    titles = sorted(p.find(SVG + "title").text for p in parts)
    assert titles == sorted(p["title"] for p in pieces)
    radii = sorted(float(c.get("r")) for c in groups["cut"].iter(SVG + "circle"))
    assert radii == sorted(hole[2] for p in pieces for hole in p["holes"])
    first = points_of(groups["check"].find(SVG + "path").get("d"))[:2]
    assert abs(first[1][0] - first[0][0] - 100) < 1e-3 and first[0][1] == first[1][1]
    for x, y in (p for o in outlines for p in o):
        assert 0 <= x <= float(width[:-2]) and 0 <= y <= float(height[:-2])
    assert not list(root.iter(SVG + "text")), "a laser cutter has no fonts"


def main():
    program, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    for case in CASES:
        done = subprocess.run([program, folder, *case[:3], *case[3]], stdout=subprocess.PIPE, check=True)
        pieces = json.loads(done.stdout)
        assert len(pieces) >= 6
        for piece in pieces:
            for size in piece["measures"]:
                assert size > 0
        check_pdf(os.path.join(folder, "gauges.pdf"), pieces, case)
        check_dxf(os.path.join(folder, "gauges.dxf"), pieces)
        check_svg(os.path.join(folder, "gauges.svg"), pieces, case[1])
        print(" ".join(case[:3]), len(pieces), "pieces")


main()

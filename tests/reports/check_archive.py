"""Holds PDF files to the rules of PDF/A-2u (ISO 19005-2) that can be read off their structure, by pikepdf, which
knows nothing of how they were made. Says what is broken and ends with 1."""
import re
import sys

import pikepdf

FAILURES = []


def hold(condition, rule):
    if not condition:
        FAILURES.append(rule)


def fonts_of(resources, seen):
    for font in dict(resources.get("/Font", {})).values():
        yield font
    for form in dict(resources.get("/XObject", {})).values():
        if form.get("/Subtype") == "/Form" and form.objgen not in seen and "/Resources" in form:
            seen.add(form.objgen)
            yield from fonts_of(form.Resources, seen)


def check_font(font):
    hold("/ToUnicode" in font or font.get("/Encoding") in ("/WinAnsiEncoding", "/MacRomanEncoding"),
         "6.2.11.7: a font whose letters have no Unicode")
    inner = font.DescendantFonts[0] if font.Subtype == "/Type0" else font
    descriptor = inner.get("/FontDescriptor")
    hold(descriptor is not None and any(k in descriptor for k in ("/FontFile", "/FontFile2", "/FontFile3")),
         "6.2.11.4: a font that is not embedded")
    if font.Subtype == "/Type0" and inner.Subtype == "/CIDFontType2":
        hold("/CIDToGIDMap" in inner, "6.2.11.3.2: no CIDToGIDMap")


def check(path):
    data = open(path, "rb").read()
    hold(re.match(rb"%PDF-1\.[4-7]\n%[\x80-\xff]{4}", data), "6.1.2: header")
    with pikepdf.open(path) as pdf:
        hold(not pdf.is_encrypted, "6.1.3: encrypted")
        hold("/ID" in pdf.trailer, "6.1.3: no ID")
        root = pdf.Root
        metadata = root.Metadata
        hold("/Filter" not in metadata, "6.6.2.1: metadata is filtered")
        meta = pdf.open_metadata()
        hold(meta.get("pdfaid:part") == "2" and meta.get("pdfaid:conformance") == "U", "6.6.4: identification")
        info = pdf.docinfo
        hold(str(info.get("/Title")) == meta.get("dc:title"), "6.6.3: title differs")
        hold(str(info.get("/Producer")) == meta.get("pdf:Producer"), "6.6.3: producer differs")
        hold(str(info.get("/Creator")) == meta.get("xmp:CreatorTool"), "6.6.3: creator differs")
        digits = re.sub(r"\D", "", meta.get("xmp:CreateDate"))
        hold(str(info.get("/CreationDate")) == f"D:{digits}Z", "6.6.3: date differs")
        intents = [i for i in root.OutputIntents if i.S == "/GTS_PDFA1"]
        hold(len(intents) == 1 and intents[0].DestOutputProfile.N == 3, "6.2.3: output intent")
        profile = intents[0].DestOutputProfile.read_bytes()
        hold(profile[12:20] == b"mntrRGB " and profile[36:40] == b"acsp", "6.2.3: not an RGB monitor profile")
        hold("/Lang" in root, "no language")
        for key in ("/AA", "/OpenAction", "/AcroForm"):
            hold(key not in root, f"6.5, 6.6: {key}")
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Stream):
                filters = thing.get("/Filter", [])
                filters = [filters] if isinstance(filters, pikepdf.Name) else list(filters)
                hold("/LZWDecode" not in filters and "/Crypt" not in filters, "6.1.7.2: filter")
                if thing.get("/Subtype") == "/Image":
                    hold(not thing.get("/Interpolate", False), "6.2.8.1: Interpolate")
                    hold("/Alternates" not in thing and "/OPI" not in thing, "6.2.8.1: Alternates, OPI")
                    hold(thing.get("/ColorSpace") in ("/DeviceRGB", "/DeviceGray"), "6.2.4: colour of an image")
                hold("/Ref" not in thing and "/PS" not in thing, "6.2.9: a reference or PostScript form")
            if isinstance(thing, pikepdf.Dictionary):
                hold(thing.get("/TR") is None and thing.get("/HTP") is None, "6.2.5: transfer function")
        for page in pdf.pages:
            hold("/Annots" not in page, "6.3: annotations")
            group = page.get("/Group")
            hold(group is None or group.CS == "/DeviceRGB", "6.2.10: blending space")
            fonts = list(fonts_of(page.Resources, set()))
            hold(fonts, "no font: the text is not text")
            for font in fonts:
                check_font(font)
        problems = pdf.check()
        hold(not problems, f"qpdf: {problems}")


for name in sys.argv[1:]:
    check(name)
    for failure in dict.fromkeys(FAILURES):
        print(f"{name}: {failure}")
sys.exit(1 if FAILURES else 0)

// Pages from the program, sheets typed back, gauges chosen, a logo looked at before it is sent.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Block, Gauge } from "../src/api/paper_types.ts";
import { strokeEnd } from "../src/paper/before_after.tsx";
import { asAsked, chosenLanguage, chosenPaper, chosenUnit } from "../src/paper/choices.ts";
import { nextToGive, shortened } from "../src/paper/fit.ts";
import { sectionsOf } from "../src/paper/page.tsx";
import { shop } from "../src/state/shop.ts";
import { ofThisVisit } from "../src/views/handover/own_words.tsx";
import { wrongLogo } from "../src/views/shop/logo.tsx";
import { sheetPath } from "../src/views/worklist/bench.tsx";
import { chosenGauges } from "../src/views/worklist/gauges.tsx";
import { saidOf, typedLines } from "../src/views/worklist/typed_lines.ts";

test("a heading begins a section, what stands before the first one is kept", () => {
  const stays = { rank: 0, least: 0 };
  const blocks: Block[] = [
    { kind: "quiet", text: "a", ...stays },
    { kind: "heading", text: "b", ...stays },
    { kind: "text", lead: "", text: "c", ...stays },
    { kind: "heading", text: "d", ...stays },
    { kind: "sign", text: "e", ...stays },
  ];
  assert.deepEqual(sectionsOf(blocks).map((part) => part.length), [1, 2, 1, 1]);
});

test("what has no room goes by its rank, the last first, and a list keeps its least", () => {
  const list = [
    { rank: 2, parts: ["a", "b", "c"], least: 1, gone: 0 },
    { rank: 5, parts: [], least: 0, gone: 0 },
    { rank: 2, parts: ["d", "e"], least: 0, gone: 0 },
  ];
  const order: number[] = [];
  for (let next = nextToGive(list); next; next = nextToGive(list)) {
    next.gone += 1;
    order.push(list.indexOf(next));
  }
  assert.deepEqual(order, [1, 2, 2, 0, 0]);
});

test("a text that is longer than the page loses its end, and says so", () => {
  assert.equal(shortened("0123456789"), "01234567…");
  // Again and again it grows shorter, and has one sign.
  assert.equal(shortened(shortened("0123456789")), "0123456…");
});

test("a stroke goes up for what lies above, and no farther than the edge", () => {
  assert.equal(strokeEnd(0), -0);
  assert.ok(strokeEnd(1) < 0);
  assert.equal(strokeEnd(1), -strokeEnd(-1));
  assert.equal(strokeEnd(9), strokeEnd(2.2));
});

test("what is typed from a sheet is told apart line by line", () => {
  const kinds = typedLines("3 45.2\n\n 4 = \r\n5 - screw is stuck\n6: 1 3/4\"\n7 -1/32\n8=\n9. 45").map((one) => one.kind);
  assert.deepEqual(kinds, ["read", "done", "left", "read", "read", "done", "wrong"]);
});
test("a line without its number, and one that stands there twice, are told at once", () => {
  const [first, , third] = typedLines("45.2\n3 45.2\n3 45.3");
  assert.ok(first?.kind === "wrong" && third?.kind === "wrong");
  assert.match(saidOf(first), /45\.2/);
  assert.match(saidOf(third), /Line 3/);
});

test("a page is asked for as the workshop has it, until chosen otherwise", () => {
  assert.equal(asAsked(), "language=en&paper=a4&inches=0");
  const setting = (name: string, value: string) => ({ name, group: "paper", value, usual: "", unit: "", example: "", choices: [], what: "" });
  shop.value = { settings: [setting("paper", "letter"), setting("language", "de"), setting("unit", "in")], logo: null, backup: null };
  assert.equal(asAsked(), "language=de&paper=letter&inches=1");
  [chosenLanguage.value, chosenPaper.value, chosenUnit.value] = ["en", "a4", "mm"];
  assert.equal(asAsked({ large: "1" }), "language=en&paper=a4&inches=0&large=1");
  [chosenLanguage.value, chosenPaper.value, chosenUnit.value, shop.value] = [null, null, null, null];
});
test("a sheet of a pass or of all, in large type or not", () => {
  assert.equal(sheetPath("a b", "let-off-button", true), "/api/pianos/a%20b/sheet.pdf?language=en&paper=a4&inches=0&pass=let-off-button&large=1");
  assert.equal(sheetPath("x", null, false), "/api/pianos/x/sheet.pdf?language=en&paper=a4&inches=0");
});

test("what was written to the owner holds for its visit, until it is taken back", () => {
  const entry = (id: string, visit: string, value: string, in_force = true) =>
    ({ id, at: "", at_ms: 0, who: "", visit, in_force, kind: "setting", name: "owner-words", value }) as const;
  const undo = { id: "u", at: "", at_ms: 0, who: "", kind: "undo", entry: "b" } as const;
  // Newest first.
  assert.equal(ofThisVisit("owner-words", [entry("b", "v2", "new"), entry("a", "v1", "old")], "v2"), "new");
  assert.equal(ofThisVisit("owner-words", [entry("a", "v1", "old")], "v2"), "");
  assert.equal(ofThisVisit("owner-words", [undo, entry("b", "v2", "new"), entry("a", "v2", "first")], "v2"), "first");
  assert.equal(ofThisVisit("next-visit", [entry("a", "v2", "x")], "v2"), "");
});

test("gauges are all of them but those that were struck", () => {
  const all = [{ gauge: "blow" }, { gauge: "dip" }] as Gauge[];
  assert.deepEqual(chosenGauges(all, new Set(["blow"])), ["dip"]);
});

test("a logo of another kind or too large is told before it is sent", () => {
  assert.equal(wrongLogo("image/png", 1024 * 1024), null);
  assert.match(wrongLogo("image/svg+xml", 10)?.happened ?? "", /neither PNG nor JPEG/);
  assert.match(wrongLogo("image/jpeg", 1024 * 1024 + 1)?.happened ?? "", /1 MB/);
});

// Prints and reads as core/quantities does: data/api-examples/quantities.json is held to the C++
// library by tests/quantities/examples_test.cpp.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { moveUnits, readingShown } from "../src/quantities/kinds.ts";
import { isSharp, keyOfNote, noteName } from "../src/quantities/notes.ts";
import { readLength, readTyped } from "../src/quantities/read.ts";
import {
  showAmount,
  showDifference,
  showInchFraction,
  showNumber,
  showReading,
  showSpread,
  showTurns,
} from "../src/quantities/show.ts";
import { language, unit } from "../src/state/choices.ts";

declare const WEB_FOLDER: string;
interface Examples {
  inch_fractions: { mm: number; shown: string }[];
  turns: { turns: number; shown: string }[];
  numbers: { value: number; decimals: number; comma: boolean; plus: boolean; shown: string }[];
  lengths: { text: string; mm: number | null }[];
}
const file = `${WEB_FOLDER}/../data/api-examples/quantities.json`;
const examples = JSON.parse(readFileSync(file, "utf8")) as Examples;

function english(): void {
  language.value = "en";
  unit.value = "mm";
}

test("inch fractions as the core prints them", () => {
  english();
  assert.ok(examples.inch_fractions.length > 10);
  for (const one of examples.inch_fractions) assert.equal(showInchFraction(one.mm), one.shown, `${one.mm} mm`);
});
test("turns as the core prints them", () => {
  english();
  assert.ok(examples.turns.length > 10);
  for (const one of examples.turns) assert.equal(showTurns(one.turns), one.shown, `${one.turns}`);
});
test("numbers as the core prints them, the comma in German", () => {
  for (const one of examples.numbers) {
    language.value = one.comma ? "de" : "en";
    assert.equal(showNumber(one.value, one.decimals, one.plus), one.shown, JSON.stringify(one));
  }
  english();
});
test("lengths as the core reads them", () => {
  english();
  for (const one of examples.lengths) {
    const read = readLength(one.text);
    assert.equal(read.ok, one.mm !== null, `“${one.text}”`);
    if (read.ok) assert.ok(Math.abs(read.value - one.mm!) < 1e-12, `“${one.text}” is ${read.value}`);
  }
});
test("readings with their unit, in both languages and units", () => {
  english();
  assert.equal(showReading("blow", 45.2), "45.2\u202fmm");
  assert.equal(showReading("dip", 10.05), "10.05\u202fmm");
  assert.equal(showReading("down-weight", 48), "48\u202fgf");
  assert.equal(showReading("spring-rise", 2), "grade 2");
  assert.equal(showReading("damper-start", 0.5), "50\u202f%");
  assert.equal(showReading("blow", null), "–");
  assert.equal(showSpread("blow", 0.12), "±\u202f0.12\u202fmm");
  assert.equal(showDifference("blow", -0.35), "−0.35\u202fmm");
  assert.equal(showAmount("capstan", -3 / 64), "3⁄64 turn");
  assert.equal(showAmount("repetition-spring", 2), "2 steps");
  unit.value = "in";
  // 1 3/4 in is 44.45 mm, 0.010 in is 0.254 mm: the inch is 25.4 mm exactly (international yard, 1959).
  assert.equal(showReading("blow", 44.45), "1¾″");
  assert.equal(showSpread("blow", 0.254), "±\u202f0.010\u202fin");
  assert.equal(showReading("dip", 10.16), "0.400\u202fin");
  language.value = "de";
  assert.equal(showReading("dip", 10.16), "0,400\u202fin");
  assert.equal(showAmount("capstan", 3 / 64), "3⁄64 Umdrehung");
  english();
});
test("what a gauge types", () => {
  english();
  assert.deepEqual(readTyped("45,2", "blow"), { ok: true, value: 45.2 });
  assert.deepEqual(readTyped("48 g", "down-weight"), { ok: true, value: 48 });
  assert.deepEqual(readTyped("48 g", "blow"), { ok: false, wrong: "unit" });
  assert.deepEqual(readTyped("", "blow"), { ok: false, wrong: "empty" });
  unit.value = "in";
  const inches = readTyped("1.75", "blow");
  assert.ok(inches.ok && Math.abs(inches.value - 44.45) < 1e-12);
  assert.deepEqual(readTyped("44.45 mm", "blow"), { ok: true, value: 44.45 });
  english();
});
test("keys and names are each other's inverse; C4 is 40 and A4 49 of 88", () => {
  for (let key = 1; key <= 88; key++) assert.equal(keyOfNote(noteName(key)), key);
  // Middle C and the A of 440 Hz: scientific pitch notation, key numbers as counted on 88 keys.
  assert.equal(keyOfNote("C4"), 40);
  assert.equal(keyOfNote("A4"), 49);
  assert.equal(keyOfNote("D♭4"), 41);
  assert.equal(keyOfNote("C9"), null);
  assert.equal(keyOfNote("H4"), null);
  let sharps = 0;
  for (let key = 1; key <= 88; key++) if (isSharp(key)) sharps++;
  assert.equal(sharps, 36);
});
test("every reading and adjuster has a unit", () => {
  assert.equal(Object.keys(readingShown).length, 36);
  assert.equal(Object.keys(moveUnits).length, 17);
});

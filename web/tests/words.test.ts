// Every word in both languages: same keys, none empty, the same places to fill in.
import assert from "node:assert/strict";
import { test } from "node:test";
import { moveUnits, readingShown } from "../src/quantities/kinds.ts";
import { language } from "../src/state/choices.ts";
import { de } from "../src/words/de/index.ts";
import { en } from "../src/words/en/index.ts";
import { hasWord, plural, t, tCaution, tDirection, tReading } from "../src/words/index.ts";

const english: Record<string, string> = en;
const german: Record<string, string> = de;
const places = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map((found) => found[1]).sort();

test("the languages have the same keys", () => {
  assert.ok(Object.keys(english).length > 300);
  assert.deepEqual(Object.keys(german).sort(), Object.keys(english).sort());
});
test("no text is empty, and what is filled in is filled in in both", () => {
  for (const key of Object.keys(english)) {
    assert.notEqual(english[key]!.trim(), "", key);
    assert.notEqual(german[key]!.trim(), "", key);
    assert.deepEqual(places(german[key]!), places(english[key]!), key);
  }
});
test("typographic apostrophes and quotation marks", () => {
  for (const [key, text] of Object.entries(german)) {
    assert.ok(!/(?<![\d/ ])"/.test(text.replace(/ \d\/\d"/g, "")), `${key}: ${text}`);
  }
  for (const [key, text] of Object.entries(english)) assert.ok(!/[a-z]'[a-z]/.test(text), `${key}: ${text}`);
});
test("a plural has its singular", () => {
  for (const key of Object.keys(english)) {
    if (key.endsWith(".one")) assert.ok(hasWord(key.replace(/\.one$/, ".other")), key);
  }
});
test("every reading and adjuster of the catalogue has its words", () => {
  for (const code of Object.keys(readingShown)) {
    assert.ok(hasWord(`reading.${code}`), code);
    assert.ok(hasWord(`reading.${code}.how`), code);
  }
  for (const code of Object.keys(moveUnits)) {
    for (const part of ["", ".positive", ".negative", ".tools", ".effect"])
      assert.ok(hasWord(`adjuster.${code}${part}`), code + part);
  }
});
test("said in the language chosen", () => {
  language.value = "de";
  assert.equal(tReading("blow"), "Steighöhe");
  assert.equal(tDirection("capstan", -1), "tiefer");
  assert.match(tCaution("blocked-hammer").text, /bricht/);
  assert.equal(plural("pianos.entries", 1), "1 Eintrag");
  language.value = "en";
  assert.equal(plural("pianos.entries", 3), "3 entries");
  assert.equal(t("readings.progress.of", { read: 3, asked: 8 }), "3 of 8");
});

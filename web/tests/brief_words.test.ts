// The brief and the complaint in words: the English composed here from codes and numbers must be what
// the core says of the same (data/api-examples), and every code must have its words in both languages.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import type { BriefAnswer } from "../src/api/brief_types.ts";
import type { Diagnosis } from "../src/api/complaint_types.ts";
import { showLength } from "../src/quantities/show.ts";
import { language, unit } from "../src/state/choices.ts";
import { besides, changeWords, priceWords, taperWords, unmetWords, verdict } from "../src/views/brief/wording.ts";
import { likelihood, lookName, lookValue, mendWords, share, summary } from "../src/views/complaint/wording.ts";
import { de } from "../src/words/de/index.ts";
import { en } from "../src/words/en/index.ts";

declare const WEB_FOLDER: string;
const read = <T>(name: string): T => JSON.parse(readFileSync(`${WEB_FOLDER}/../data/api-examples/${name}.json`, "utf8")) as T;
interface Codes {
  complaints: string[];
  looks: { code: string; reading: boolean; can_be_none: boolean }[];
  takings: string[];
  causes: { code: string; has_remedy: boolean }[];
  needs: string[];
  wants: string[];
  ways: string[];
  faults: string[];
}
const brief = read<BriefAnswer>("brief");
const diagnosis = read<Diagnosis>("complaint");
const codes = read<Codes>("codes");

/** The core writes ' for ’ and a plain blank before %. */
const typeset = (text: string) => text.replaceAll("'", "’").replaceAll(" %", "\u202f%");

test("every code of the core has its words in both languages, and no code is made up", () => {
  const need: string[] = [];
  const add = (prefix: string, list: readonly string[], ends = [""]) => {
    for (const code of list) for (const end of ends) need.push(`${prefix}.${code}${end}`);
  };
  add("complaint.felt", codes.complaints);
  add("complaint.taking", codes.takings);
  add("complaint.cause", codes.causes.map((c) => c.code));
  add("complaint.remedy", codes.causes.filter((c) => c.has_remedy).map((c) => c.code));
  add("complaint.none", codes.looks.filter((l) => l.can_be_none).map((l) => l.code));
  add("complaint.look", codes.looks.filter((l) => !l.reading).map((l) => l.code), ["", ".how", ".0", ".1", ".2"]);
  add("brief.need", codes.needs);
  add("brief.want", codes.wants);
  add("brief.way", [...codes.ways, "sheet"]);
  add("brief.fault", codes.faults);
  for (const table of [en, de] as Record<string, string>[]) {
    for (const key of need) assert.ok(table[key], key);
    const families = /^(complaint\.(felt|taking|cause|remedy|none|look)|brief\.(need|want|way|fault))\./;
    assert.deepEqual(Object.keys(table).filter((key) => families.test(key)).sort(), [...need].sort());
  }
});

test("in English a departure is told as the core tells it", () => {
  language.value = "en";
  unit.value = "mm";
  let told = 0;
  for (const r of brief.registers)
    for (const way of r.departures) {
      const here = `${changeWords(way)}: aftertouch ${showLength(way.figures.aftertouch_mm)}; ${priceWords(way)}.`;
      assert.equal(here, typeset(way.words));
      ++told;
    }
  assert.ok(told >= 5);
});
test("so are the verdict, the stroke and what cannot be met", () => {
  language.value = "en";
  for (const r of brief.registers) {
    const mine = verdict(r);
    assert.equal(mine.english, "");
    const core = typeset(r.words[0]!).replace(/^.*?\) /, "");
    assert.equal(mine.words.charAt(0).toLowerCase() + mine.words.slice(1), core);
    const stroke = r.words.find((w) => w.startsWith("Key bottom"))!;
    const times = (text: string) => [...text.matchAll(/[\d.]+\u202fms (after|before) the string/g)].map((m) => m[0]);
    assert.deepEqual(times(besides(r)[0]!), times(stroke));
    for (const u of r.unmet) assert.ok(unmetWords(u, r.bands).includes(showLength(u.by_mm)));
  }
});
test("in German no English is left, and the decimal mark is a comma", () => {
  language.value = "de";
  for (const r of brief.registers) {
    for (const text of [verdict(r).words, ...besides(r), ...r.departures.map((d) => `${changeWords(d)} ${priceWords(d)}`)]) {
      assert.doesNotMatch(text, /\b(the|dip|blow|let-off|string|deeper|key)\b/, text);
      assert.doesNotMatch(text, /\d\.\d/, text);
    }
  }
  language.value = "en";
});

test("a taper on record is told from its first note to its last", () => {
  language.value = "en";
  assert.equal(taperWords("46.40 mm; 46.40 mm"), "46.40\u202fmm");
  assert.equal(taperWords("2.20 to 2.06 mm; 2.06 to 1.60 mm"), "2.20\u202fmm–1.60\u202fmm");
});

test("the summary is the core's, and nothing is certain", () => {
  language.value = "en";
  // Beyond it the core adds what is to be looked at next or done, which the view shows by itself.
  assert.ok(typeset(diagnosis.summary).startsWith(summary(diagnosis)), summary(diagnosis));
  const sum = diagnosis.causes.reduce((all, c) => all + c.probability, 0);
  assert.ok(Math.abs(sum - 1) < 1e-9);
  assert.equal(share(1), "99\u202f%");
  assert.equal(share(0.004), "0\u202f%");
  const words = [0.9, 0.6, 0.2, 0.05, 0.01].map(likelihood);
  assert.equal(new Set(words).size, words.length);
});
test("a cause that is known reads as known, one that nothing explains is said to be so", () => {
  language.value = "en";
  const with_first = (cause: string, probability: number, known: boolean): Diagnosis => ({
    ...diagnosis,
    known,
    causes: [{ ...diagnosis.causes[0]!, cause, probability }, ...diagnosis.causes.slice(1)],
  });
  assert.match(summary(with_first("drop-small", 0.85, true)), /^Very likely: the drop is too small \(85\u202f%\)/);
  assert.match(summary(with_first("no-fault", 0.85, false)), /in order/);
  assert.match(summary(with_first("something-else", 0.85, false)), /None of the causes/);
  assert.match(summary(with_first("no-fault", 0.5, false)), /^Not known yet/);
});
test("looks are told by value, by grade or as not readable", () => {
  language.value = "en";
  assert.equal(lookValue("drop", 0.4), "0.40\u202fmm");
  assert.equal(lookValue("drop", null), "cannot be read (the hammer does not let go)");
  assert.equal(lookValue("key-freedom", 2), "binds");
  assert.equal(lookValue("spring-rise", 2.4), "grade 2");
  assert.equal(lookName("key-freedom"), "freedom of the key");
  const mend = { cause: "drop-small", text: "", adjuster: "drop-screw", direction: 1, read_by: "drop", from: 0.4, to: 1.5 };
  assert.match(mendWords(mend), /press slowly before playing firmly\. Drop: from about 0\.40\u202fmm to 1\.50\u202fmm\.$/);
  assert.match(mendWords({ ...mend, cause: "key-tight", adjuster: null }), /No adjuster mends it/);
});

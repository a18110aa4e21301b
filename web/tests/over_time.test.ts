// What is expected of a piano and what two visits tell, in words; months along an axis; pianos in their order.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, test } from "node:test";
import type { Drift, DriftGrounds, DriftPoint } from "../src/api/drift_types.ts";
import type { Studio, StudioPiano } from "../src/api/studio_types.ts";
import { monthMarks, valueAt } from "../src/charts/share_chart.tsx";
import { addDays, dayOf, daysBetween, monthName, showDay } from "../src/quantities/days.ts";
import { showShare } from "../src/quantities/show.ts";
import { language, unit } from "../src/state/choices.ts";
import { toldOf } from "../src/views/overtime/compare.tsx";
import { checkWords, dueHeadline, dueSpan, knownWords, placeWords, pointWords, showChance, surerWords } from "../src/views/overtime/wording.ts";
import { dueWords, factsOf, inOrder, summary } from "../src/views/pianos/due.ts";
import { wrongFile } from "../src/views/pianos/bundle.tsx";

declare const WEB_FOLDER: string;
const example = <T>(name: string) =>
  JSON.parse(readFileSync(join(WEB_FOLDER, "../data/api-examples", `${name}.json`), "utf8")) as T;

afterEach(() => {
  language.value = "en";
  unit.value = "mm";
});

test("a day of the calendar is that day whatever the zone", () => {
  const day = dayOf("2027-03-28"); // summer time begins in most of Europe
  assert.deepEqual([day.getFullYear(), day.getMonth(), day.getDate()], [2027, 2, 28]);
  assert.equal(addDays(day, 1).getDate(), 29);
  assert.equal(daysBetween("2027-03-27", "2027-03-29"), 2);
  assert.equal(daysBetween("2024-02-28", "2024-03-01"), 2); // a leap year
  assert.equal(showDay("2026-11-26"), "26 November 2026");
  language.value = "de";
  assert.equal(showDay("2026-11-26"), "26. November 2026");
  assert.equal(monthName(3), "März");
});

test("months are marked at their first days, as many as there is room for", () => {
  const marks = monthMarks("2026-11-26", 0, 730, 9);
  assert.deepEqual(
    marks.map((one) => `${one.month.getFullYear()}-${one.month.getMonth() + 1}`),
    ["2027-1", "2027-4", "2027-7", "2027-10", "2028-1", "2028-4", "2028-7", "2028-10"],
  );
  // 26 November to 1 January: 36 days
  assert.equal(marks[0]?.day, 36);
  assert.equal(monthMarks("2026-11-26", 0, 730, 5).length, 4);
});

const points: DriftPoint[] = [
  { day: 0, at: "2026-11-26T10:00:00Z", share: 0.1, low: 0.05, high: 0.2, chance_over_limit: 0 },
  { day: 30, at: "2026-12-26T10:00:00Z", share: 0.2, low: 0.1, high: 0.4, chance_over_limit: 0.5 },
];
test("between two points of the forecast", () => {
  const half = valueAt(points, 15);
  assert.ok(half && Math.abs(half.share - 0.15) < 1e-12 && Math.abs(half.chance_over_limit - 0.25) < 1e-12);
  assert.equal(valueAt(points, 30)?.share, 0.2);
  assert.equal(valueAt(points, 31), null);
  assert.equal(valueAt([], 0), null);
});

test("when it is due is said with what is not known of it", () => {
  const due = { state: "due-at", at: "2027-09-23T14:48:04Z", low_day: 160.5, low: "2027-05-05T22:00:04Z", high: null } as const;
  assert.equal(dueHeadline(due, 24), "By 23 September 2027");
  assert.match(dueSpan(due, 24), /not before \d May 2027; perhaps later than the 24 months/);
  assert.match(dueSpan({ ...due, high: "2028-01-02T10:00:00Z" }, 24), /between \d May 2027 and 2 January 2028/);
  const soon = { ...due, low_day: 0, low: "2026-11-26T10:00:04Z", high: "2028-01-02T10:00:00Z" };
  assert.match(dueSpan(soon, 24), /^In nine cases of ten before 2 January 2028/);
  const none = { at: null, low_day: null, low: null, high: null };
  assert.equal(dueHeadline({ state: "beyond", ...none }, 24), "Not within the next 24 months");
  assert.match(dueHeadline({ state: "overdue", ...none }, 24), /overdue/);
  assert.equal(dueHeadline({ state: "unknown", ...none }, 24), "Not known yet");
  assert.equal(dueSpan({ state: "unknown", ...none }, 24), "");
});

test("with one visit it says in both languages that it rests on common practice", () => {
  const one: DriftGrounds = {
    visits: 1, pairs: 0, humidities: 0, learned: 0, new_felt_known: false, playing_hours_known: false, climate_known: false,
  };
  assert.match(knownWords(one), /common practice alone/);
  assert.equal(surerWords(one).length, 5);
  language.value = "de";
  assert.match(knownWords(one), /üblicher Erfahrung/);
  const { known_from: known } = example<Drift>("drift");
  assert.match(knownWords(known), /5 Besuchen gelernt: 640 Werte/);
  assert.equal(surerWords({ ...one, pairs: 9, climate_known: true, playing_hours_known: true, new_felt_known: true }).length, 0);
});

test("a chance is never certain, a share may be none", () => {
  assert.equal(showChance(0), "<\u202f1\u202f%");
  assert.equal(showChance(0.9999), ">\u202f99\u202f%");
  assert.equal(showChance(0.5), "50\u202f%");
  assert.equal(showShare(0), "0\u202f%");
  assert.equal(showShare(null), "–");
});

test("a point of the forecast and a check in words, inches as asked", () => {
  const [, late] = points;
  assert.match(pointWords(late!, dayOf("2026-12-26"), 1), /^In 1 month \(December 2026\): 20\u202f% outside/);
  const check = { reading: "blow", unit: "mm", change: 0.3, sd: 0.15, in_tolerances: 0.6, newly_outside: 0.14, notes: ["E4"] };
  assert.match(checkWords(check), /\+0\.30\u202fmm ±\u202f0\.15\u202fmm .* 14\u202f%/);
  unit.value = "in";
  assert.ok(!/mm/.test(checkWords(check)), checkWords(check));
});

test("where two visits differ", () => {
  assert.equal(placeWords({ first: "A0", last: "C8" }, "A0", "C8"), "everywhere");
  assert.equal(placeWords({ first: "F2", last: "A#4" }, "A0", "C8"), "F2 – A♯4");
  assert.equal(placeWords({ first: "F2", last: "F2" }, "A0", "C8"), "F2");
});

test("a section that holds every note is not said twice", () => {
  const shift = { first: "F2", last: "D4", notes: 10, mean: 0.2, error: 0.02, spread: null, chance: 0, beyond_noise: true, spread_beyond_noise: false };
  assert.deepEqual(toldOf([{ ...shift, section: null }, { ...shift, section: 1 }]).map((one) => one.section), [null]);
  assert.equal(toldOf([{ ...shift, section: null }, { ...shift, section: 1, notes: 6 }, { ...shift, section: 2, notes: 4 }]).length, 3);
});

test("pianos in the order of what is due first", () => {
  const piano = (id: string, state: StudioPiano["due"]["state"], date: string | null, share: number | null): StudioPiano => ({
    id, name: id, place: "", visits: 2, last_done: "2026-01-02", due: { state, date, low: null, high: null },
    share_now: share, share_at_return: share, worst_reading: share === null ? null : "blow", minutes: share === null ? null : 90,
  });
  const list = [
    piano("a", "beyond", null, 0.01),
    piano("b", "due-at", "2027-03-01", 0.12),
    piano("c", "unknown", null, null),
    piano("d", "overdue", "2026-11-26", 0.25),
    piano("e", "overdue", "2026-11-26", 0.4),
    piano("f", "due-at", "2026-12-10", 0.19),
  ];
  assert.equal(inOrder(list, "due").join(""), "edfbca");
  assert.equal(inOrder(list, "worst").join(""), "edfbac");
  assert.equal(inOrder(list, "name").join(""), "abcdef");
  const studio: Studio = { today: "2026-11-26", limit: 0.2, pianos: list, day: null };
  assert.equal(summary(studio), "2 overdue, 1 due within 30 days, 2 later, 1 not known yet.");
  assert.equal(dueWords(list[1]!.due), "due by 1 March 2027");
  assert.deepEqual(factsOf(list[2]!), ["last worked on 2 January 2026"]);
  assert.equal(factsOf(list[3]!).length, 4);
});

test("a file that is none or too large is not sent", () => {
  assert.match(wrongFile(null) ?? "", /Choose a file/);
  assert.match(wrongFile({ size: 50_000_001 }) ?? "", /50 MB/);
  assert.equal(wrongFile({ size: 1000 }), null);
});

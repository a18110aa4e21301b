// Hands-on and worklist: the queue of steps, words for every adjuster and direction, arcs.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Pass, Plan, ReadStep, Step, TimeCurve, TurnStep } from "../src/api/plan_types.ts";
import { turnArc } from "../src/drawing/arcs.ts";
import { places } from "../src/drawing/action_sketch.tsx";
import { language, unit } from "../src/state/choices.ts";
import * as queue from "../src/views/hands/queue.ts";
import { holdWords, orderWords, reasonWords } from "../src/views/hands/reasons.ts";
import { threadValue } from "../src/views/hands/thread.tsx";
import { actWords, amountWords, apart, stepped, thenLines, underAmount, whyLine } from "../src/views/hands/wording.ts";
import { listed, pointAt, questionWords, shiftTable } from "../src/views/worklist/words.ts";

// The ten adjusters of a note and their units: core/regulation/catalogue/adjusters.cpp.
const adjusters: Record<string, [string, number]> = {
  capstan: ["blow", 3 / 64],
  "balance-punchings": ["key-height", 0.25],
  "front-punchings": ["dip", 0.25],
  "jack-button": ["jack-position", 1 / 16],
  "lever-height-button": ["jack-clearance", 1 / 32],
  "repetition-spring": ["spring-rise", 1],
  "let-off-button": ["let-off", 1 / 8],
  "drop-screw": ["drop", 1 / 32],
  "back-check": ["check-distance", 0.4],
  "damper-wire": ["damper-start", 0.6],
};

function turn(adjuster: string, note: string, amount: number, more: Partial<TurnStep> = {}): TurnStep {
  return {
    kind: "turn", adjuster, note, reading: adjusters[adjuster]![0], unit: "mm", minutes: 0.5, read: true, goal: null,
    before: 2, before_sd: 0.1, target: 1.5, tolerance: 0.2, amount, papers_mm: [], hand: null, read_after: false,
    after: 1.5, at_the_end: 1.5, effects: [], ...more,
  };
}
function read(adjuster: string, note: string): ReadStep {
  return {
    kind: "read", adjuster, note, reading: adjusters[adjuster]![0], unit: "mm", minutes: 0.2, read: false, goal: null,
    before: 2, before_sd: 0.1, target: 1.5, tolerance: 0.2,
  };
}
function pass(adjuster: string, steps: Step[], shifted: Pass["shifted"] = []): Pass {
  return {
    pass: adjuster, adjuster, readings: steps.filter((s) => s.kind === "read").length,
    moves: steps.filter((s) => s.kind === "turn").length, minutes: 1, notes_done: 0, notes_left_knowingly: 0, unit: "turns",
    strain: 1, set_up_minutes: 5, least_step: 1 / 64, place: { adjuster, spares: null, disturbed_by: null }, shifted,
    thread: null, cautions: [], why_here: "", steps,
  };
}
function plan(revision: number, passes: Pass[]): Plan {
  return {
    revision, profile: "medium", profile_chosen: true, gate_open: true,
    progress: { words: "", last: "", minutes_since_last_entry: null, minutes_left: 0, moves_left: 0, readings_left: 0, passes: [] },
    next: null, questions: [], passes, holds: [], minutes: 0, minutes_there_are: null, minutes_of_all: 0, left_for_time: [],
    order: { derived: [], common: [], rework_derived: 0, rework_common: 0 }, unevenness: 1, unevenness_after: 0.3, hands: null, cautions: [],
  };
}

const [c4, d4, e4] = [turn("capstan", "C4", 3 / 64), turn("capstan", "D4", -1 / 32), turn("capstan", "E4", 1 / 64)];
const drop = turn("drop-screw", "C4", 1 / 32);
const whole = plan(10, [pass("capstan", [c4, d4, e4]), pass("drop-screw", [drop])]);
const started = () => queue.begin(queue.withPlan(queue.empty, whole), whole);

test("a pass begins only when its beginning was acknowledged", () => {
  const waiting = queue.withPlan(queue.empty, whole);
  assert.equal(waiting.shown, null);
  assert.equal(waiting.between, "capstan");
  assert.equal(started().shown, c4);
});

test("done: the next step follows at once; the plan at hand is enough", () => {
  const next = queue.answer(started(), whole, "done", ["a"]);
  assert.equal(next.shown, d4);
  assert.deepEqual(queue.stepsLeft(next, whole), [d4, e4, drop]);
});

test("a new plan does not change what is on view; it counts from the next step on", () => {
  const other = turn("capstan", "F4", 1 / 64);
  const fresh = plan(11, [pass("capstan", [other, c4, d4])]);
  const now = queue.withPlan(started(), fresh);
  assert.equal(now.shown, c4);
  assert.equal(queue.answer(now, fresh, "done", []).shown, other);
});

test("a plan that does not know of an answer yet does not bring its step back; one that does may", () => {
  let now = queue.answer(started(), whole, "done", ["a"]);
  assert.ok(!queue.stepsLeft(now, whole).includes(c4));
  now = queue.settle(now, c4, { known: 11 });
  assert.ok(!queue.stepsLeft(now, whole).includes(c4), "revision 10 was made before entry 11");
  const knows = plan(11, whole.passes);
  assert.ok(queue.stepsLeft(now, knows).includes(c4), "asked again by a plan that knows of it");
});

test("a reading passed over writes nothing down and comes again when all else is done", () => {
  const [one, two] = [read("capstan", "C4"), read("capstan", "D4")];
  const short = plan(3, [pass("capstan", [one, two])]);
  let now = queue.begin(queue.withPlan(queue.empty, short), short);
  now = queue.answer(now, short, "passed", []);
  assert.equal(now.shown, two);
  now = queue.answer(now, short, "read", ["b"]);
  assert.equal(now.shown, one);
});

test("a pass that ends says so, and the next one waits", () => {
  let now = started();
  for (const id of ["a", "b", "c"]) now = queue.answer(now, whole, "done", [id]);
  assert.equal(now.shown, null);
  assert.equal(now.ended, "capstan");
  assert.equal(now.between, "drop-screw");
  now = queue.answer(queue.begin(now, whole), whole, "done", ["d"]);
  assert.equal(now.shown, null);
  assert.equal(now.between, null);
  assert.equal(now.ended, "drop-screw");
});

test("what was turned otherwise than asked is remembered; as asked is not", () => {
  assert.equal(queue.answer(started(), whole, "done", [], 1 / 16).answered[0]?.amount, 1 / 16);
  assert.equal(queue.answer(started(), whole, "done", [], c4.amount).answered[0]?.amount, null);
});

test("taken back: the step is on view again, and counts as left", () => {
  const now = queue.undo(queue.answer(started(), whole, "done", ["a"]), c4);
  assert.equal(now.shown, c4);
  assert.equal(now.answered.length, 0);
});

test("read again before turning: the same note with what the new plan asks", () => {
  const again = turn("capstan", "C4", 1 / 64);
  const fresh = plan(11, [pass("capstan", [e4, again, d4])]);
  assert.equal(queue.renew(started(), fresh).shown, again);
  const settled = plan(12, [pass("capstan", [d4])]);
  assert.equal(queue.renew(started(), settled).shown, d4);
});

test("work may begin at another pass", () => {
  const now = queue.withPlan(queue.startAt(queue.empty, "drop-screw"), whole);
  assert.equal(now.between, "drop-screw");
});

test("what is left counts setting up until a pass is begun", () => {
  assert.deepEqual(queue.whatIsLeft(queue.empty, whole), { moves: 4, readings: 0, minutes: 4 * 0.5 + 2 * 5 });
  const now = queue.answer(started(), whole, "done", ["a"]);
  assert.deepEqual(queue.whatIsLeft(now, whole, "capstan"), { moves: 2, readings: 0, minutes: 1 });
});

test("minutes worked end at a gap of ten", () => {
  const at = (...minutes: number[]) => minutes.map((m) => m * 60_000);
  assert.equal(queue.workedMinutes(at(58, 51, 44, 20), 60 * 60_000), 16);
  assert.equal(queue.workedMinutes(at(20), 60 * 60_000), 0);
  assert.equal(queue.workedMinutes([], 60 * 60_000), 0);
});

test("every adjuster has words for both directions in both languages, and a place in the drawing", () => {
  for (const lang of ["en", "de"] as const) {
    language.value = lang;
    for (const [adjuster, [, amount]] of Object.entries(adjusters)) {
      const [more, less] = [actWords(turn(adjuster, "C4", amount)), actWords(turn(adjuster, "C4", -amount))];
      assert.notEqual(more, less, adjuster);
      assert.ok(!more.includes("-button") && more.length > 8, more);
      assert.ok(/\d|[½⅓¼⅛¾]/.test(amountWords(turn(adjuster, "C4", amount))), adjuster);
    }
  }
  language.value = "en";
  for (const adjuster of Object.keys(adjusters)) assert.ok(places[adjuster], adjuster);
  const rings = Object.values(places).map((place) => `${place.x} ${place.y}`);
  assert.equal(new Set(rings).size, rings.length);
});

test("an amount's number stands apart from its unit", () => {
  assert.deepEqual(apart("3⁄64 turn"), ["3⁄64", "turn"]);
  assert.deepEqual(apart("0.25 + 0.08\u202fmm"), ["0.25 + 0.08", "mm"]);
  assert.deepEqual(apart("1 1⁄32 turns"), ["1 1⁄32", "turns"]);
});

test("amounts are told with their unit, papers one by one", () => {
  unit.value = "mm";
  assert.equal(amountWords(c4), "3⁄64 turn");
  const papers = turn("front-punchings", "C4", 0.33, { papers_mm: [0.25, 0.08] });
  assert.equal(amountWords(papers), "0.25 + 0.08\u202fmm");
  assert.equal(underAmount(papers), "");
  // A tenth of a millimetre asked for, and no paper of it to hand.
  assert.match(underAmount(turn("front-punchings", "C4", 0.1, { papers_mm: [0.13] })), /0\.10\u202fmm/);
  assert.equal(underAmount(turn("capstan", "C4", 1, { hand: "clockwise" })), "clockwise");
});

test("afterwards the crown is looked at where heights are read, else the reading itself", () => {
  const height = turn("capstan", "C4", 3 / 64, { reading: "hammer-height", goal: 86.4, before: 46.4, target: 45.5, after: 45.6, at_the_end: 45.5 });
  assert.match(thenLines(height)[0]!, /crown 86\.40\u202fmm/);
  assert.match(whyLine(height), /Blow 46\.4\u202fmm, wanted 45\.5\u202fmm/);
  assert.equal(thenLines(turn("let-off-button", "C4", 1, { at_the_end: 1.9 })).length, 2, "later passes take it on");
});

test("another amount goes by the adjuster's step and is never nothing", () => {
  assert.equal(stepped(3 / 64, -1, 1 / 64), 2 / 64);
  assert.equal(stepped(1 / 64, -1, 1 / 64), -1 / 64);
  assert.equal(stepped(-1 / 64, 1, 1 / 64), 1 / 64);
});

// A quarter of a clockwise turn from twelve ends at three: plane geometry.
test("an arc goes from twelve the way the hand does", () => {
  const arc = turnArc(0.25, "clockwise", 100, 78);
  assert.equal(arc.path, "M100.00 22.00A78 78 0 0 1 178.00 100.00");
  assert.equal(turnArc(-0.25, "counter-clockwise", 100, 78).path, "M100.00 22.00A78 78 0 0 0 22.00 100.00");
  assert.match(turnArc(0.75, "clockwise", 100, 78).path, / 0 1 1 22\.00 100\.00$/);
  assert.equal(turnArc(0, "clockwise", 100, 78).path, "");
  const more = turnArc(1.25, "clockwise", 100, 78);
  assert.equal(more.whole, 1);
  assert.equal(Math.round(more.degrees), 90);
});

// What the core's setting is read from: core/regulation/planning/threads.hpp.
test("a thread goes on record in the catalogue's own words", () => {
  assert.equal(threadValue("raise", true), "raise clockwise");
  assert.equal(threadValue("earlier let-off", false), "earlier let-off counter-clockwise");
});

test("the order's reason names passes and tolerances", () => {
  const place = { adjuster: "capstan", spares: { adjuster: "front-punchings", tolerances: 0.68 }, disturbed_by: null };
  assert.match(orderWords(place), /dip.*0\.7/);
  assert.match(orderWords({ ...place, spares: null }), /could as well come later/);
});

test("reasons are told in both languages without the core's sentence", () => {
  const stands = { reading: "blow", unit: "mm", value: 46.4, sd: 0.2, target: 45.5, tolerance: 0.25, chance: 0.97, readings: 1, read: true };
  const facts: Parameters<typeof reasonWords>[0][] = [
    { code: "off", ...stands },
    { code: "known", ...stands, readings: 0 },
    { code: "gives-way", sake: ["dip"] },
    { code: "purpose", adjuster: "capstan" },
    { code: "turn-does", adjuster: "capstan", amount_unit: "turns", reading: "blow", unit: "mm", change: -12, share_sd: 0.1, moves_here: 0, moves_elsewhere: 3 },
    { code: "also-moves", effects: [{ reading: "aftertouch", change: 0.2, unit: "mm" }] },
    { code: "later-passes", reading: "blow", unit: "mm", after: 45, at_the_end: 45.5 },
    { code: "order", adjuster: "capstan", spares: null, disturbed_by: null },
    { code: "afterwards", reading: "blow", read_again: true },
    { code: "why-read", cause: "moved-since", adjuster: "capstan", waiting: [] },
    { code: "how", reading: "blow" },
    { code: "why-nothing", cause: "inside", holds: [] },
  ];
  const told = (["en", "de"] as const).map((lang) => {
    language.value = lang;
    return facts.map((one) => reasonWords(one));
  });
  language.value = "en";
  told[0]!.forEach((one, i) => {
    const other = told[1]![i];
    assert.ok(one && other && one.text && other.text, facts[i]!.code);
    assert.notEqual(one.text, other.text, facts[i]!.code);
    assert.ok(!/[{}]/.test(one.text + other.text), one.text + other.text);
  });
});

// Codes as json/plan_json.cpp writes them.
test("every reason to hold a move back has words", () => {
  const codes = [
    "could-block", "could-not-let-go", "could-be-carried", "could-trap", "could-rub", "beyond-limit", "response-doubted", "direction-unsure", "lacking",
  ];
  const said = codes.map((reason) => holdWords({ reason, would_settle: null }));
  assert.equal(new Set(said).size, codes.length);
  for (const [i, words] of said.entries()) assert.notEqual(words, codes[i]);
  assert.match(holdWords({ reason: "could-block", would_settle: "let-off" }), /let-off could release/);
});

test("a question says what was seen, what was expected and what to do", () => {
  const words = questionWords({
    kind: "odd-answer", note: "F#4", adjuster: "capstan", reading: "hammer-height", expected: -0.6, expected_sd: 0.1, seen: 0.1,
    confirmed: false, unit: "mm", happened: "", maybe: "", todo: "",
  });
  assert.match(words.happened, /F♯4.*\+0\.10\u202fmm.*−0\.60\u202fmm/);
  assert.match(words.todo, /hammer height/);
});

const curve: TimeCurve = {
  revision: 1, minutes_of_all: 100, unevenness: 2, unevenness_of_all: 0.4,
  points: [
    { minutes: 0, work: 0, unevenness: 2, passes: [] },
    { minutes: 50, work: 48, unevenness: 1, passes: ["capstan"] },
    { minutes: 100, work: 99, unevenness: 0.4, passes: ["capstan", "drop-screw"] },
  ],
};
test("the curve between its points is a straight line, and ends where it ends", () => {
  assert.equal(pointAt(curve, 25).unevenness, 1.5);
  assert.equal(pointAt(curve, 50).unevenness, 1);
  assert.equal(pointAt(curve, 0).unevenness, 2);
  assert.equal(pointAt(curve, 400).unevenness, 0.4);
  assert.deepEqual(pointAt(curve, 75).passes, ["capstan"]);
});

test("the order's table has each shift in its row and column", () => {
  const passes = [pass("capstan", [], [{ by: "drop-screw", tolerances: 0.3 }]), pass("drop-screw", [])];
  assert.deepEqual(shiftTable(passes), [
    [null, 0.3],
    [null, null],
  ]);
});

test("a list is told with its last word joined", () => {
  assert.equal(listed(["a"]), "a");
  assert.equal(listed(["a", "b", "c"]), "a, b and c");
});

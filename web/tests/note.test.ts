// The Note view's own reckoning: questions that overtake each other, parts moved, what stands inside.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Frame, NoteAdjuster } from "../src/api/note_types.ts";
import { frameAt, place, transformOf } from "../src/drawing/frames.ts";
import { language, unit } from "../src/state/choices.ts";
import { Latest } from "../src/views/note/latest.ts";
import { nextStop } from "../src/views/note/stops.ts";
import { handWords, moveWords, standing, targetWords } from "../src/views/note/wording.ts";

const thin = "\u202f";
const soon = () => new Promise((go) => setTimeout(go, 0));

/** A server that answers when told to. */
function slow() {
  const open: { question: number; answer: (value: string) => void; fail: () => void }[] = [];
  const got: [string, number][] = [];
  const latest = new Latest<number, string>(
    (question) => new Promise((answer, refuse) => open.push({ question, answer, fail: () => refuse(new Error("gone")) })),
    (answer, question) => got.push([answer, question]),
  );
  return { open, got, latest };
}

test("one question is on its way, and only the newest of those asked meanwhile follows", async () => {
  const { open, got, latest } = slow();
  for (const question of [1, 2, 3, 4]) latest.ask(question);
  assert.deepEqual(open.map((one) => one.question), [1]);
  open[0]!.answer("one");
  await soon();
  assert.deepEqual(open.map((one) => one.question), [1, 4]);
  assert.deepEqual(got, [["one", 1]]);
  open[1]!.answer("four");
  await soon();
  assert.deepEqual(got, [["one", 1], ["four", 4]]);
  assert.equal(latest.busy, false);
  latest.ask(5);
  assert.equal(open.length, 3);
});

test("what was asked of another note is not taken for this one", async () => {
  const { open, got, latest } = slow();
  latest.ask(1);
  latest.ask(2);
  latest.forget();
  latest.ask(3);
  open[0]!.answer("one");
  await soon();
  assert.deepEqual(open.map((one) => one.question), [1, 3]);
  open[1]!.answer("three");
  await soon();
  assert.deepEqual(got, [["three", 3]]);
});

test("a question that fails leaves the way free for the next", async () => {
  const { open, got, latest } = slow();
  latest.ask(1);
  latest.ask(2);
  open[0]!.fail();
  await soon();
  open[1]!.answer("two");
  await soon();
  assert.deepEqual(got, [["two", 2]]);
});

const frame = (depth: number, ...part0: [number, number, number]): Frame => [depth, 45 - 5 * depth, 50, ...part0];

// A turn by a right angle about the origin takes (1, 0) to (0, 1): the rotation matrix, y upward.
test("a part turns and shifts as the frame says", () => {
  const turned = frame(0, 10, 20, Math.PI / 2);
  const { x, y } = place(turned, [0, 1, 0]);
  assert.ok(Math.abs(x - 10) < 1e-12 && Math.abs(y - 21) < 1e-12);
  assert.deepEqual(place(turned, [-1, 3, 4]), { x: 3, y: 4 });
  // SVG 1.1, 7.4: matrix(a b c d e f) takes (x, y) to (ax + cy + e, bx + dy + f).
  const [a, b, c, d, e, f] = /matrix\((.*)\)/.exec(transformOf(turned, 0)!)![1]!.split(" ").map(Number);
  for (const [px, py] of [[1, 0], [0, 1], [-3, 7]] as const) {
    const at = place(turned, [0, px, py]);
    assert.ok(Math.abs(a! * px + c! * py + e! - at.x) < 1e-4);
    assert.ok(Math.abs(b! * px + d! * py + f! - at.y) < 1e-4);
  }
  assert.equal(transformOf(turned, -1), undefined);
});

test("between two frames everything is in proportion; beyond them it stays", () => {
  const frames = [frame(0, 0, 0, 0), frame(4, 2, 0, 0.4), frame(8, 2, 8, 0.4)];
  assert.deepEqual(frameAt(frames, 1), [1, 40, 50, 0.5, 0, 0.1]);
  assert.deepEqual(frameAt(frames, 6)!.slice(3), [2, 4, 0.4]);
  assert.equal(frameAt(frames, 99), frames[2]);
  assert.equal(frameAt(frames, -1), frames[0]);
  assert.equal(frameAt([], 1), null);
});

test("steps of a press go from mark to mark and begin again", () => {
  const stops = [["rest", 0], ["let-off", 8.9], ["drop", 9.1], ["bottom", 10]] as const;
  const seen: number[] = [];
  for (let at = 0, i = 0; i < 4; ++i) seen.push((at = nextStop(stops, at)));
  assert.deepEqual(seen, [8.9, 9.1, 10, 0]);
});

const capstan: NoteAdjuster = {
  code: "capstan", unit: "mm", most: 1.2, step: 0.01, sets: "blow", move_unit: "turns", per_move: 0.8, pending: null, pending_amount: null,
};

test("a slider's amount is told with its direction, and as a turn of the hand", () => {
  language.value = "en";
  unit.value = "mm";
  assert.equal(moveWords(capstan, 0.2), `raise 0.20${thin}mm`);
  assert.equal(moveWords(capstan, -0.2), `lower 0.20${thin}mm`);
  assert.equal(moveWords(capstan, 0), "as it is");
  assert.equal(handWords(capstan, -0.2), "about ¼ turn");
  assert.equal(handWords({ ...capstan, move_unit: "mm" }, 0.2), "");
  const spring: NoteAdjuster = { ...capstan, code: "repetition-spring", unit: "%", move_unit: "steps", per_move: 5 };
  assert.equal(moveWords(spring, -10), `weaken 10${thin}%`);
  assert.equal(handWords(spring, -10), "about 2 steps");
  unit.value = "in";
  assert.equal(moveWords(capstan, 0.254), `raise 0.010${thin}in`);
  unit.value = "mm";
  language.value = "de";
  assert.match(moveWords(capstan, 0.2), new RegExp(`0,20${thin}mm$`));
  language.value = "en";
});

test("inside is within the tolerance of the target, its edge included", () => {
  const blow = { code: "blow", target: 45, tolerance: 0.5 };
  assert.equal(standing(blow, 45.5), "inside");
  assert.equal(standing(blow, 44.49), "outside");
  assert.equal(standing(blow, null), "unknown");
  assert.equal(standing({ target: null, tolerance: 0.5 }, 45), "free");
  assert.equal(targetWords(blow), `45.0 ±${thin}0.50${thin}mm`);
  assert.equal(targetWords({ code: "blow", target: null, tolerance: 0.5 }), "–");
});

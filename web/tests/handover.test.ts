// How a handover's figures are said: what is read, what is reckoned, what was not as found.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { HandoverNote, HandoverOutside } from "../src/api/handover_types.ts";
import { comparedNotes, goodTo, showFirst, showNow, showOff, whyOutside } from "../src/views/handover/telling.ts";

const note: HandoverNote = {
  note: "C4",
  target: 45,
  first: 47,
  first_sd: 0.15,
  as_found: true,
  outside_at_first: true,
  basis: "read",
  now: 45.2,
  now_sd: 0.13,
  shifted: true,
  doubted: false,
  outside_now: false,
};

test("a first reading after the fact stands in brackets, one outside is marked", () => {
  assert.equal(showFirst("blow", note), "47.0\u202fmm !");
  assert.equal(showFirst("blow", { ...note, as_found: false, outside_at_first: false }), "(47.0\u202fmm)");
  assert.equal(showFirst("blow", { ...note, first: null }), "–");
});

test("what is reckoned, old, doubted or outside is marked with more than colour", () => {
  assert.equal(showNow("blow", note), "45.2\u202fmm");
  assert.equal(showNow("blow", { ...note, basis: "reckoned" }), "≈ 45.2\u202fmm");
  assert.equal(showNow("blow", { ...note, basis: "earlier" }), "° 45.2\u202fmm");
  assert.equal(showNow("blow", { ...note, doubted: true, outside_now: true }), "45.2\u202fmm ? !");
});

test("a distance has no sign", () => {
  assert.equal(showOff("blow", 0.346), "0.35\u202fmm");
  assert.equal(showOff("blow", null), "–");
});

test("only notes read as found and known now are compared", () => {
  const reading = {
    reading: "blow", unit: "mm", asked: 88, read: 3, as_found: 2, now_read: 1, now_reckoned: 1, only_earlier: 1,
    tolerance: 0.5, neighbour_tolerance: 0.25,
    found: empty(), now: empty(), compared: { found: empty(), now: empty() },
    notes: [note, { ...note, basis: "reckoned" as const }, { ...note, as_found: false }, { ...note, basis: "earlier" as const }],
  };
  assert.equal(comparedNotes(reading).length, 2);
  // √((0.15² + 0.13²) / 2) = 0.14036
  assert.ok(Math.abs((goodTo([note]) ?? 0) - 0.14036) < 1e-5);
  assert.equal(goodTo([]), null);
});

test("why something is left outside is told, with the reason on record", () => {
  const one: HandoverOutside = {
    note: "C4", reading: "blow", unit: "mm", now: 47, now_sd: 0.1, basis: "read", target: 45, tolerance: 0.5,
    why: "skipped", reason: "screw turns in the wood", hold: null, would_settle: null,
  };
  assert.match(whyOutside(one), /screw turns in the wood/);
  assert.match(whyOutside({ ...one, why: "held", hold: "could-block" }), /come to the string/);
  assert.notEqual(whyOutside({ ...one, why: "to-do" }), whyOutside({ ...one, why: "no-move" }));
});

function empty() {
  return { notes: 0, outside: 0, rms: null, rms_tolerances: null, beside: 0, outside_beside: 0, beside_rms: null, beside_rms_tolerances: null };
}

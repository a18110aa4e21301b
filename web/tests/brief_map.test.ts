// The map of blow and dip on an action with one ratio, where every figure has a closed form:
// margin = dip − (blow − let-off)/ratio (aftertouch = dip − escape depth, by definition).
import assert from "node:assert/strict";
import { test } from "node:test";
import type { MapAnswer } from "../src/api/brief_types.ts";
import { between, checkPoints, levelLine, marginLine, readAt, region, ticks } from "../src/charts/brief_map_shapes.ts";

const ratio = 5;
const let_off = 1.8;
const marginOf = (blow: number, dip: number) => dip - (blow - let_off) / ratio;

function made(): MapAnswer {
  const blows = 17;
  const dips = 13;
  const at: { blow: number; dip: number }[] = [];
  for (let j = 0; j < dips; ++j)
    for (let i = 0; i < blows; ++i) at.push({ blow: 42 + (8 * i) / (blows - 1), dip: 8.5 + (3 * j) / (dips - 1) });
  const column = (value: (p: { blow: number; dip: number }) => number) => at.map(value);
  const point = { blow_mm: 46, dip_mm: 10, let_off_mm: let_off, drop_mm: 1.5 };
  return {
    revision: 1, register: "middle", note: "C4", blow_low_mm: 42, blow_high_mm: 50, blows, dip_low_mm: 8.5, dip_high_mm: 11.5, dips,
    sheet: point, today: null, against: "sheet", aftertouch: { low_mm: 0.8, high_mm: 1.6, on_record: false },
    base: { travel_ms: 50, soft_ms: 1, middling_ms: 0, loud_ms: -1 },
    errors: { margin_mm: 0, timing_ms: 0, power_percent: 0, travel_ms: 0 },
    escape_margin_mm: column((p) => marginOf(p.blow, p.dip)),
    bottom_less_string_soft_ms: column((p) => p.dip),
    bottom_less_string_middling_ms: column((p) => 4 * (marginOf(p.blow, p.dip) - 1)),
    bottom_less_string_loud_ms: column((p) => p.blow),
    power_percent: column((p) => 2 * (p.blow - 46)),
    travel_ms: column((p) => p.blow + p.dip),
    faults: column((p) => (p.blow > 49 && p.dip > 11 ? 8 : 0)),
  };
}

test("the line of a margin is where the closed form has it", () => {
  const line = marginLine(made(), 0.8);
  assert.equal(line.length, 17);
  for (const p of line) assert.ok(Math.abs(marginOf(p.blow, p.dip) - 0.8) < 1e-9);
  assert.deepEqual(marginLine(made(), 9), []);
});
test("a region lies within the axes and between its margins", () => {
  const m = made();
  const corners = region(m, 0.8, 1.6);
  assert.equal(corners.length, 34);
  for (const p of corners) {
    assert.ok(p.dip >= 8.5 && p.dip <= 11.5);
    const margin = marginOf(p.blow, p.dip);
    const held = p.dip === 8.5 || p.dip === 11.5;
    assert.ok(held || Math.abs(margin - 0.8) < 1e-9 || Math.abs(margin - 1.6) < 1e-9);
  }
});
test("between the points what is linear is exact, outside there is nothing", () => {
  const m = made();
  for (const at of [{ blow: 43.21, dip: 9.87 }, { blow: 50, dip: 11.5 }, { blow: 42, dip: 8.5 }]) {
    assert.ok(Math.abs(between(m, m.travel_ms, at)! - at.blow - at.dip) < 1e-9);
  }
  assert.equal(between(m, m.travel_ms, { blow: 50.1, dip: 9 }), null);
  assert.equal(between(m, m.travel_ms, { blow: 45, dip: 8.4 }), null);
  const gap = { ...m, travel_ms: m.travel_ms.map((v, k) => (k === 0 ? null : v)) };
  assert.equal(between(gap, gap.travel_ms, { blow: 42.1, dip: 8.55 }), null);
});
test("lines of power stand upright, of timing on the margin; where nothing lets go there is none", () => {
  const m = made();
  const power = levelLine(m, m.power_percent, 4, true);
  assert.equal(power.length, 13);
  for (const p of power) assert.ok(Math.abs(p.blow - 48) < 1e-9);
  const free = levelLine(m, m.power_percent, 4, true, (margin) => margin > 0);
  assert.ok(free.length < power.length && free.every((p) => marginOf(p.blow, p.dip) > -0.26));
  const together = levelLine(m, m.bottom_less_string_middling_ms, 0, false);
  for (const p of together) assert.ok(Math.abs(marginOf(p.blow, p.dip) - 1) < 1e-9);
});
test("what is said of a point: zone by its margin, the check by the nearest point", () => {
  const m = made();
  const at = (margin: number) => readAt(m, { blow: 46, dip: (46 - let_off) / ratio + margin });
  assert.equal(at(-0.1).zone, "none");
  assert.equal(at(0.79).zone, "thin");
  assert.equal(at(0.81).zone, "works");
  assert.equal(at(1.59).zone, "works");
  assert.equal(at(1.61).zone, "fat");
  assert.ok(Math.abs(at(1).margin! - 1) < 1e-9);
  assert.equal(at(1).touchesCheck, false);
  assert.equal(readAt(m, { blow: 50, dip: 11.5 }).touchesCheck, true);
  assert.equal(readAt({ ...m, faults: m.faults.map(() => 16) }, { blow: 46, dip: 10 }).zone, "other");
  assert.ok(checkPoints(m, 1).every((p) => p.blow > 49 && p.dip > 11) && checkPoints(m, 1).length > 0);
});
test("ticks are round and within", () => {
  assert.deepEqual(ticks(42, 50, 8), [42, 43, 44, 45, 46, 47, 48, 49, 50]);
  assert.deepEqual(ticks(42, 50, 4), [42, 44, 46, 48, 50]);
  assert.deepEqual(ticks(8.5, 11.5, 6).map((v) => v.toFixed(2)), ["8.50", "9.00", "9.50", "10.00", "10.50", "11.00", "11.50"]);
});

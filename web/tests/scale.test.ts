// The own scale beside d3-scale, a general library, on many spans.
import assert from "node:assert/strict";
import { test } from "node:test";
import { scaleLinear as reference } from "d3-scale";
import { scaleLinear } from "../src/charts/scale.ts";

const spans: [number, number][] = [
  [0, 1],
  [0, 246.3],
  [0, 10.4],
  [0, 0.037],
  [-3, 7],
  [0.51, 1.12],
  [0, 88],
  [1000, 1e6],
  [0, 0.6],
  [0, 2.5],
];

test("places as d3-scale does, clamped or not", () => {
  for (const span of spans) {
    const [own, theirs] = [scaleLinear(span, [300, 20]), reference(span, [300, 20])];
    for (let i = -2; i <= 12; i++) {
      const value = span[0] + (i / 10) * (span[1] - span[0]);
      assert.ok(Math.abs(own(value) - theirs(value)) < 1e-9);
      assert.ok(Math.abs(own.clamp(true)(value) - theirs.copy().clamp(true)(value)) < 1e-9);
      assert.ok(Math.abs(own.invert(own(value)) - value) < 1e-6 * Math.max(1, Math.abs(value)));
    }
  }
});
test("marks where d3-scale does", () => {
  for (const span of spans) {
    for (const count of [2, 3, 4, 5, 6, 8, 10]) {
      const [own, theirs] = [scaleLinear(span, [0, 1]).ticks(count), reference(span, [0, 1]).ticks(count)];
      assert.equal(own.length, theirs.length, `${span} in ${count}: ${own} / ${theirs}`);
      own.forEach((value, i) =>
        assert.ok(Math.abs(value - theirs[i]!) < 1e-9 * Math.max(1, Math.abs(value)), `${value} / ${theirs[i]}`),
      );
    }
  }
});

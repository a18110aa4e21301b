// The keyboard's geometry, what the lanes show, the immediate check of a reading.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Column, ReadingKind, Strip } from "../src/api/types.ts";
import { keyAt, keyboardWidth, keyPlaces, nearestKey } from "../src/charts/keyboard.ts";
import { extent, lane, place, runs } from "../src/charts/lanes.ts";
import { overlaid } from "../src/state/late.ts";
import { readPlace, writePlace } from "../src/state/where.ts";
import { codeAt, doubtOf } from "../src/views/readings/check.ts";

const column = (value: number | null): Column => new Array<number | null>(88).fill(value);
const aim = (mean: number, sd: number, target: number) => ({
  unit: "mm",
  read: column(null),
  mean: column(mean),
  sd: column(sd),
  target: column(target),
  tolerance: 0.5,
  neighbour_tolerance: 0.25,
  doubted: new Array<boolean>(88).fill(false),
});
function example(): Strip {
  return {
    revision: 7,
    first: 1,
    last: 88,
    notes: Array.from({ length: 88 }, (_, i) => `${i + 1}`),
    sharp: new Array<boolean>(88).fill(false),
    served: new Array<boolean>(88).fill(true),
    samples: [1, 88],
    lacking: null,
    gate_open: true,
    sections: [
      { first: 1, last: 20 },
      { first: 21, last: 88 },
    ],
    string: {
      read_mm: column(null),
      fair_mm: column(190),
      sd_mm: column(0.1),
      doubt: new Array<null>(88).fill(null),
      unisons_off_level: [],
    },
    hammer: { read_mm: column(null), target_mm: column(145), target_sd_mm: column(0.1), deviation_mm: column(null) },
    aims: { blow: aim(45, 0.3, 45.5), dip: aim(10, 0.1, 10) },
    weights: { down_gf: column(50), up_gf: column(25) },
    moves: [
      {
        note: "C4",
        key: 40,
        adjuster: "capstan",
        amount: 0.1,
        unit: "turns",
        direction: "raise",
        reading: "blow",
        before: 46,
        target: 45.5,
        at_the_end: 45.4,
      },
    ],
  };
}

test("88 keys: 52 naturals side by side, a sharp over each gap that has one", () => {
  const places = keyPlaces(1, 88);
  const naturals = places.filter((one) => !one.sharp);
  assert.equal(naturals.length, 52);
  naturals.forEach((one, i) => assert.ok(Math.abs(one.left - i * 23.5) < 1e-9));
  assert.equal(keyboardWidth(places), 52 * 23.5);
  for (const one of places) {
    if (!one.sharp) continue;
    const [below, above] = [places[one.key - 2]!, places[one.key]!];
    assert.ok(
      one.left > below.left + below.width / 2 && one.left + one.width < above.left + above.width / 2 + 2,
      `${one.key}`,
    );
  }
});
test("a finger finds the key it is on", () => {
  const places = keyPlaces(1, 88);
  for (const one of places) {
    assert.equal(keyAt(places, one.middle, true), one.key);
    assert.equal(nearestKey(places, one.middle), one.key);
  }
  const sharp = places.find((one) => one.sharp)!;
  assert.notEqual(keyAt(places, sharp.middle, false), sharp.key);
  assert.equal(keyAt(places, -5, true), 1);
  assert.equal(keyAt(places, 1e6, true), 88);
});
test("all series of a lane share one scale and their bands fill its height", () => {
  const strip = example();
  strip.aims["dip"]!.mean[3] = 12;
  const list = lane(strip, "line");
  const { bands, perUnit } = place(list, 100);
  assert.equal(bands.length, 2);
  const last = bands[1]!;
  assert.ok(Math.abs(last.centre + last.height / 2 + 5 - 100) < 1e-6);
  for (const band of bands) {
    const found = extent(band.series)!;
    assert.ok((found[1] - found[0]) * perUnit <= band.height + 1e-6);
  }
});
test("a blow to be shortened is an arrow up in the hammers' lane", () => {
  const hammers = lane(example(), "line")[1]!;
  assert.deepEqual(hammers.moves, [{ at: 39, from: 144, to: 144.6, adjuster: "capstan", amount: 0.1 }]);
});
test("no curve is drawn over a break", () => {
  assert.deepEqual(runs(example()), [
    { from: 0, to: 19 },
    { from: 20, to: 87 },
  ]);
});
test("readings not in the strip yet are drawn into it, the strip itself staying as it was", () => {
  const strip = example();
  const drawn = overlaid.on(
    strip,
    [
      { reading: "blow", key: 40, value: 45.2 },
      { reading: "string-height", key: 1, value: 190.3 },
    ],
    false,
  );
  assert.equal(drawn.aims["blow"]!.read[39], 45.2);
  assert.equal(drawn.string?.read_mm[0], 190.3);
  assert.equal(strip.aims["blow"]!.read[39], null);
  assert.equal(overlaid.on(strip, [], false), strip);
  assert.equal(overlaid.on(strip, [{ reading: "hammer-height", key: 1, value: 85 }], true).hammer?.read_mm[0], null);
});
test("without sections there is a keyboard and no lane, and nothing falls over", () => {
  const strip: Strip = { ...example(), string: null, hammer: null, weights: null, aims: {}, sections: [], moves: [] };
  for (const name of ["line", "depth", "escape", "checking", "touch"] as const) assert.deepEqual(lane(strip, name), []);
  assert.equal(place([], 100).bands.length, 0);
  assert.deepEqual(runs(strip), [{ from: 0, to: 87 }]);
  const drawn = overlaid.on(strip, [{ reading: "string-height", key: 1, value: 190 }], false);
  assert.equal(drawn.string, null);
});
test("a sharp's dip is a sharp's dip", () => {
  assert.equal(codeAt("dip", true), "sharp-dip");
  assert.equal(codeAt("sharps-height", false), "key-height");
  assert.equal(codeAt("blow", true), "blow");
});
test("a number is looked at before it is kept", () => {
  const kind = {
    code: "blow",
    name: "blow",
    unit: "mm",
    per_note: true,
    usual_low: 44,
    usual_high: 48,
    possible_low: 5,
    possible_high: 90,
    tolerance: 0.5,
    neighbour_tolerance: 0.25,
  } as ReadingKind;
  const strip = example();
  assert.equal(doubtOf(strip, kind, "blow", 40, 45.2, 0.15), null);
  assert.equal(doubtOf(strip, kind, "blow", 40, 452, 0.15)?.kind, "impossible");
  // sqrt(0.3² + 0.15²) = 0.335; three of them are 1.006.
  assert.equal(doubtOf(strip, kind, "blow", 40, 46.0, 0.15), null);
  assert.equal(doubtOf(strip, kind, "blow", 40, 46.02, 0.15)?.kind, "unexpected");
  assert.equal(doubtOf(strip, undefined, "aftertouch", 40, 10.5, 0.1)?.kind, "physics");
  assert.equal(doubtOf(null, undefined, "blow", 40, 12, 0.15), null);
});
test("an address says where one is, and back", () => {
  for (const hash of ["#/", "#/devices", "#/p/1193f7cb/readings", "#/p/1193f7cb/note/C%234"]) {
    assert.equal(writePlace(readPlace(hash)), hash);
  }
  assert.deepEqual(readPlace("#/p/x/nonsense"), { view: "worklist", piano: "x", note: null });
  assert.deepEqual(readPlace("#/%E0%A4%A"), { view: "pianos" });
});

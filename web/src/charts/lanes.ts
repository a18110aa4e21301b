// What each lane of the strip shows, put together from the server's columns.
import type { Column, Strip, StripMove } from "../api/types.ts";

export const laneNames = ["line", "depth", "escape", "checking", "touch"] as const;
export type LaneName = (typeof laneNames)[number];

export interface LaneMove {
  at: number; // index into the compass
  from: number;
  to: number;
  adjuster: string;
  amount: number;
}
/** One quantity along the keyboard. Columns by index into the compass. */
export interface Series {
  code: string;
  colour: "string" | "hammer";
  read: Column;
  mean: Column;
  sd: Column;
  target: Column;
  tolerance: number | null;
  doubted: (boolean | null)[];
  moves: LaneMove[];
  /** Whether waiting readings of this code are drawn here. */
  unit: string;
}

const empty = (strip: Strip): Column => new Array<number | null>(strip.notes.length).fill(null);

function movesOf(
  strip: Strip,
  readings: readonly string[],
  place: (move: StripMove, value: number) => number | null,
): LaneMove[] {
  return strip.moves.flatMap((move): LaneMove[] => {
    if (!readings.includes(move.reading) || move.before === null || move.at_the_end === null || move.amount === null)
      return [];
    const from = place(move, move.before);
    const to = place(move, move.at_the_end);
    if (from === null || to === null) return [];
    return [{ at: move.key - strip.first, from, to, adjuster: move.adjuster, amount: move.amount }];
  });
}

function ofAim(strip: Strip, code: string, readings: readonly string[] = [code]): Series[] {
  const aim = strip.aims[code];
  if (!aim) return [];
  return [
    {
      code,
      colour: "hammer",
      read: aim.read,
      mean: aim.mean,
      sd: aim.sd,
      target: aim.target,
      tolerance: aim.tolerance,
      doubted: aim.doubted,
      moves: movesOf(strip, readings, (_, value) => value),
      unit: aim.unit,
    },
  ];
}

function theLine(strip: Strip): Series[] {
  if (!strip.string || !strip.hammer) return [];
  const blow = strip.aims["blow"];
  const fair = strip.string.fair_mm;
  const under = (column: Column | undefined): Column =>
    fair.map((height, at) => {
      const drop = column?.[at];
      return height === null || drop === null || drop === undefined ? null : height - drop;
    });
  return [
    {
      code: "string-height",
      colour: "string",
      read: strip.string.read_mm,
      mean: fair,
      sd: strip.string.sd_mm,
      target: empty(strip),
      tolerance: null,
      doubted: strip.string.doubt.map((doubt) => doubt !== null),
      moves: [],
      unit: "mm",
    },
    {
      code: "hammer-height",
      colour: "hammer",
      read: strip.hammer.read_mm,
      mean: under(blow?.mean),
      sd: blow?.sd ?? empty(strip),
      target: strip.hammer.target_mm,
      tolerance: blow?.tolerance ?? null,
      doubted: blow?.doubted ?? [],
      moves: movesOf(strip, ["blow", "hammer-height"], (move, value) => {
        const height = fair[move.key - strip.first];
        // A hammer's height read again is told as the blow it stands for.
        return height === null || height === undefined ? null : height - value;
      }),
      unit: "mm",
    },
  ];
}

function weights(strip: Strip): Series[] {
  if (!strip.weights) return [];
  const plain = (code: string, colour: Series["colour"], read: Column): Series => ({
    code,
    colour,
    read,
    mean: empty(strip),
    sd: empty(strip),
    target: empty(strip),
    tolerance: null,
    doubted: [],
    moves: [],
    unit: "gf",
  });
  return [plain("down-weight", "hammer", strip.weights.down_gf), plain("up-weight", "string", strip.weights.up_gf)];
}

export function lane(strip: Strip, name: LaneName): Series[] {
  switch (name) {
    case "line":
      return theLine(strip);
    case "depth":
      return [...ofAim(strip, "dip", ["dip", "sharp-dip"]), ...ofAim(strip, "aftertouch")];
    case "escape":
      return [...ofAim(strip, "let-off"), ...ofAim(strip, "drop")];
    case "checking":
      return ofAim(strip, "check-distance");
    case "touch":
      return weights(strip);
  }
}

const known = (value: number | null | undefined): value is number =>
  typeof value === "number" && Number.isFinite(value);

/** Least and greatest of what is drawn; null where nothing is. */
export function extent(series: Series): [number, number] | null {
  let low = Infinity;
  let high = -Infinity;
  const take = (value: number | null | undefined, around: number) => {
    if (!known(value)) return;
    low = Math.min(low, value - around);
    high = Math.max(high, value + around);
  };
  series.read.forEach((value) => take(value, 0));
  // A wide belief is drawn as far as the lane goes and no further: it would flatten everything else.
  series.mean.forEach((value) => take(value, 0));
  series.target.forEach((value) => take(value, series.tolerance ?? 0));
  return low <= high ? [low, high] : null;
}

export interface Band {
  series: Series;
  /** Value at the band's middle, and pixels from its middle up per unit. */
  middle: number;
  centre: number;
  /** Of what is drawn; above it, from `top`, stands the name. */
  height: number;
  top: number;
}

const name_height = 20; // px

/**
 * Places the series of a lane one above the other in `height` pixels, all at one scale, so that a
 * millimetre is a millimetre in all of them. `perUnit`: pixels a unit.
 */
export function place(list: readonly Series[], height: number): { bands: Band[]; perUnit: number } {
  const spans = list.map((series) => {
    const found = extent(series);
    return found ? { low: found[0], high: found[1] } : { low: 0, high: 0 };
  });
  const least = list[0]?.unit === "gf" ? 10 : 0.6; // so that a flat row is not blown up to noise
  const widths = spans.map(({ low, high }) => Math.max(least, high - low));
  const margin = name_height + 5;
  const room = Math.max(10, height - margin * list.length);
  const perUnit = list.length === 0 ? 1 : room / widths.reduce((sum, width) => sum + width, 0);
  let top = 0;
  const bands = list.map((series, i): Band => {
    const own = widths[i]! * perUnit + margin;
    const band = {
      series,
      middle: (spans[i]!.low + spans[i]!.high) / 2,
      top,
      centre: top + name_height + (own - margin) / 2,
      height: own - margin,
    };
    top += own;
    return band;
  });
  return { bands, perUnit };
}

/** Runs of indices without a break between them, cut at the ends of sections. */
export function runs(strip: Strip): { from: number; to: number }[] {
  const list = strip.sections.map((section) => ({ from: section.first - strip.first, to: section.last - strip.first }));
  return list.length > 0 ? list : [{ from: 0, to: strip.notes.length - 1 }];
}

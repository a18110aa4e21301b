// The map of blow against dip as shapes: regions, lines and what stands at a point. mm, ms, %.
import type { MapAnswer } from "../api/brief_types.ts";

export const fault = { none: 1, thin: 2, fat: 4, check: 8, other: 16 } as const;
type Column = readonly (number | null)[];
export interface Spot {
  blow: number;
  dip: number;
}

export const blowAt = (m: MapAnswer, i: number) => m.blow_low_mm + ((m.blow_high_mm - m.blow_low_mm) * i) / (m.blows - 1);
export const dipAt = (m: MapAnswer, j: number) => m.dip_low_mm + ((m.dip_high_mm - m.dip_low_mm) * j) / (m.dips - 1);
const index = (m: MapAnswer, i: number, j: number) => j * m.blows + i;

/** Dip at which the escape margin is `level` in column i, beyond the axes too: the margin rises by a
 * millimetre with each of the dip. Null where nothing could be set. */
export function freeDip(m: MapAnswer, i: number, level: number): number | null {
  const first = m.escape_margin_mm[index(m, i, 0)] ?? null;
  return first === null ? null : m.dip_low_mm + level - first;
}

/** The line of one escape margin; empty where it does not come into the map. */
export function marginLine(m: MapAnswer, level: number): Spot[] {
  const line: Spot[] = [];
  let inside = false;
  for (let i = 0; i < m.blows; ++i) {
    const dip = freeDip(m, i, level);
    if (dip === null) continue;
    inside ||= dip > m.dip_low_mm && dip < m.dip_high_mm;
    line.push({ blow: blowAt(m, i), dip });
  }
  return inside ? line : [];
}

/** The region between two escape margins, as a closed polygon within the axes. */
export function region(m: MapAnswer, low: number, high: number): Spot[] {
  const under: Spot[] = [];
  const over: Spot[] = [];
  const held = (dip: number) => Math.min(Math.max(dip, m.dip_low_mm), m.dip_high_mm);
  for (let i = 0; i < m.blows; ++i) {
    const a = freeDip(m, i, low);
    const b = freeDip(m, i, high);
    if (a === null || b === null) continue;
    under.push({ blow: blowAt(m, i), dip: held(a) });
    over.push({ blow: blowAt(m, i), dip: held(b) });
  }
  return [...under, ...over.reverse()];
}

/** Where a column's value crosses `level`: one point in each row (or column) of the map. */
export function levelLine(m: MapAnswer, column: Column, level: number, byRow: boolean, only?: (margin: number) => boolean): Spot[] {
  const line: Spot[] = [];
  const [lines, along] = byRow ? [m.dips, m.blows] : [m.blows, m.dips];
  const value = (a: number, k: number) => {
    const at = byRow ? index(m, k, a) : index(m, a, k);
    const margin = m.escape_margin_mm[at] ?? null;
    const v = column[at] ?? null;
    return v === null || margin === null || (only && !only(margin)) ? null : v - level;
  };
  for (let a = 0; a < lines; ++a)
    for (let k = 1; k < along; ++k) {
      const v = value(a, k - 1);
      const w = value(a, k);
      if (v === null || w === null || v < 0 === w < 0) continue;
      const place = k - 1 + v / (v - w);
      line.push(byRow ? { blow: blowAt(m, place), dip: dipAt(m, a) } : { blow: blowAt(m, a), dip: dipAt(m, place) });
      break;
    }
  return line;
}

/** Between the four points around it; null where one of them is not known, or outside. */
export function between(m: MapAnswer, column: Column, at: Spot): number | null {
  const x = ((at.blow - m.blow_low_mm) / (m.blow_high_mm - m.blow_low_mm)) * (m.blows - 1);
  const y = ((at.dip - m.dip_low_mm) / (m.dip_high_mm - m.dip_low_mm)) * (m.dips - 1);
  const slack = 1e-9;
  if (x < -slack || y < -slack || x > m.blows - 1 + slack || y > m.dips - 1 + slack) return null;
  const i = Math.min(Math.max(Math.floor(x), 0), m.blows - 2);
  const j = Math.min(Math.max(Math.floor(y), 0), m.dips - 2);
  const corner = (a: number, b: number) => column[index(m, i + a, j + b)] ?? null;
  const [p, q, r, s] = [corner(0, 0), corner(1, 0), corner(0, 1), corner(1, 1)];
  if (p === null || q === null || r === null || s === null) return null;
  const u = x - i;
  const v = y - j;
  return p * (1 - u) * (1 - v) + q * u * (1 - v) + r * (1 - u) * v + s * u * v;
}

export type Zone = "none" | "thin" | "works" | "fat" | "other";
export interface Reading {
  zone: Zone;
  touchesCheck: boolean;
  margin: number | null;
  power: number | null;
  travel: number | null;
  soft: number | null;
  middling: number | null;
  loud: number | null;
}
/** What a note set so would be like. The zone follows the margin, so that it is exact at its edges. */
export function readAt(m: MapAnswer, at: Spot): Reading {
  const margin = between(m, m.escape_margin_mm, at);
  const i = Math.round(((at.blow - m.blow_low_mm) / (m.blow_high_mm - m.blow_low_mm)) * (m.blows - 1));
  const j = Math.round(((at.dip - m.dip_low_mm) / (m.dip_high_mm - m.dip_low_mm)) * (m.dips - 1));
  const near = m.faults[index(m, Math.min(Math.max(i, 0), m.blows - 1), Math.min(Math.max(j, 0), m.dips - 1))] ?? 0;
  const zone: Zone =
    margin === null || near & fault.other
      ? "other"
      : margin <= 0
        ? "none"
        : margin < m.aftertouch.low_mm
          ? "thin"
          : margin > m.aftertouch.high_mm
            ? "fat"
            : "works";
  return {
    zone,
    touchesCheck: (near & fault.check) !== 0,
    margin,
    power: between(m, m.power_percent, at),
    travel: between(m, m.travel_ms, at),
    soft: between(m, m.bottom_less_string_soft_ms, at),
    middling: between(m, m.bottom_less_string_middling_ms, at),
    loud: between(m, m.bottom_less_string_loud_ms, at),
  };
}

/** Points where the tail touches the check, few enough to be told apart. */
export function checkPoints(m: MapAnswer, every = 3): Spot[] {
  const points: Spot[] = [];
  for (let j = 0; j < m.dips; j += every)
    for (let i = 0; i < m.blows; i += every)
      if ((m.faults[index(m, i, j)] ?? 0) & fault.check) points.push({ blow: blowAt(m, i), dip: dipAt(m, j) });
  return points;
}

/** Round steps, at most `most` of them. */
export function ticks(low: number, high: number, most: number): number[] {
  const raw = (high - low) / most;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((k) => k * power).find((s) => s >= raw - 1e-12) ?? raw;
  const list: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9; ++k) list.push(k * step);
  return list;
}

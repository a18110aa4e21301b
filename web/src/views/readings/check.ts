// The immediate look at a number: can it be, does it fit what is believed, does it fit the mechanism.
import type { ReadingKind, Strip } from "../../api/types.ts";

export type Doubt =
  /** Not possible at all; the server would refuse it. */
  | { kind: "impossible"; low: number; high: number }
  /** More than three times its spread from what was expected. */
  | { kind: "unexpected"; mean: number; sd: number }
  /** A let-off or drop as long as the blow, an aftertouch as deep as the dip. */
  | { kind: "physics"; than: string; limit: number };

const surprising = 3; // standard deviations: one sound reading in 370

/** What a sharp's or natural's reading is really called at this key. */
export function codeAt(code: string, sharp: boolean): string {
  if (code === "dip" || code === "sharp-dip") return sharp ? "sharp-dip" : "dip";
  if (code === "key-height" || code === "sharps-height") return sharp ? "sharps-height" : "key-height";
  return code;
}
/** The strip's aim a reading belongs to. */
export function aimOf(code: string): string {
  return code === "sharp-dip" ? "dip" : code === "sharps-height" ? "key-height" : code;
}

/** What the strip believes of the reading at a key, or nothing. */
export function expectation(strip: Strip, code: string, key: number): { mean: number; sd: number } | null {
  const at = key - strip.first;
  const aim = strip.aims[aimOf(code)];
  const [mean, sd] =
    code === "string-height" ? [strip.string?.fair_mm[at], strip.string?.sd_mm[at]] : [aim?.mean[at], aim?.sd[at]];
  return typeof mean === "number" && typeof sd === "number" ? { mean, sd } : null;
}

const longer: Record<string, string> = { "let-off": "blow", drop: "blow", "check-distance": "blow", aftertouch: "dip" };

/** `uncertainty`: one standard deviation of a careful reading. Null: nothing to say. */
export function doubtOf(
  strip: Strip | null,
  kind: ReadingKind | undefined,
  code: string,
  key: number | null,
  value: number,
  uncertainty: number,
): Doubt | null {
  if (kind && (value < kind.possible_low || value > kind.possible_high)) {
    return { kind: "impossible", low: kind.possible_low, high: kind.possible_high };
  }
  if (!strip || key === null) return null;
  const other = longer[code];
  const limit = other ? expectation(strip, other, key) : null;
  if (other && limit && value >= limit.mean) return { kind: "physics", than: other, limit: limit.mean };
  const expected = expectation(strip, code, key);
  if (!expected) return null;
  const spread = Math.hypot(expected.sd, uncertainty);
  return Math.abs(value - expected.mean) > surprising * spread
    ? { kind: "unexpected", mean: expected.mean, sd: spread }
    : null;
}

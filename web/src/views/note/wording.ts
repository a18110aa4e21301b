// What the Note view says of numbers: amounts of sliders, readings against their targets.
import type { NoteAdjuster, NoteReading } from "../../api/note_types.ts";
import { showAmount, showLength, showNumber, showReading, showSpread, thin } from "../../quantities/show.ts";
import { t, tDirection } from "../../words/index.ts";

/** "raise 0.25 mm", "as it is". */
export function moveWords(adjuster: NoteAdjuster, amount: number): string {
  if (Math.abs(amount) < 1e-9) return t("note.as_it_is");
  const size = adjuster.unit === "%" ? `${showNumber(Math.abs(amount), 0)}${thin}%` : showLength(Math.abs(amount), 2);
  return `${tDirection(adjuster.code, amount)} ${size}`;
}
/** "about ¼ turn": what the hand would do for it; empty where the slider's unit is the hand's own. */
export function handWords(adjuster: NoteAdjuster, amount: number): string {
  if (adjuster.move_unit === "mm" || Math.abs(amount) < 1e-9 || !(adjuster.per_move > 0)) return "";
  const moved = Math.abs(amount) / adjuster.per_move;
  return t("note.about", { amount: showAmount(adjuster.code, adjuster.move_unit === "steps" ? Math.round(moved * 10) / 10 : moved) });
}
export function pendingWords(adjuster: NoteAdjuster): string {
  const amount = adjuster.pending_amount ?? 0;
  return `${tDirection(adjuster.code, amount)} ${showAmount(adjuster.code, amount)}`;
}

export type Standing = "inside" | "outside" | "unknown" | "free";
/** Against target and tolerance; free: the reading has none. */
export function standing(reading: Pick<NoteReading, "target" | "tolerance">, value: number | null): Standing {
  if (reading.target === null || reading.tolerance === null) return "free";
  if (value === null) return "unknown";
  return Math.abs(value - reading.target) <= reading.tolerance + 1e-9 ? "inside" : "outside";
}

/** Readings the catalogue does not show by itself. */
export function valueWords(code: string, value: number | null): string {
  if (value === null || !Number.isFinite(value)) return "–";
  if (code === "ratio") return showNumber(value, 2);
  if (code === "let-off-bump") return `${showNumber(value, 0)}${thin}gf`;
  return showReading(code, value);
}

/** "14.0 ± 1.50 mm": the unit once. */
export function targetWords(reading: Pick<NoteReading, "code" | "target" | "tolerance">): string {
  const target = valueWords(reading.code, reading.target);
  if (reading.target === null || reading.tolerance === null) return target;
  const spread = showSpread(reading.code, reading.tolerance);
  const unit = target.slice(target.lastIndexOf(thin));
  return `${target.includes(thin) && spread.endsWith(unit) ? target.slice(0, -unit.length) : target} ${spread}`;
}

export const shownReadings = [
  "blow", "let-off", "drop", "dip", "sharp-dip", "aftertouch", "check-distance", "jack-clearance", "jack-position",
  "spring-rise", "damper-start", "lost-motion", "down-weight", "up-weight", "let-off-bump", "shank-gap",
] as const;
/** Only a blow tells these; while a slider moves the last one played is shown. */
export const ofTheBlow = new Set(["check-distance", "spring-rise"]);

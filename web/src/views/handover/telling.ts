// How the figures of a handover are said.
import type { Handover, HandoverNote, HandoverOutside, HandoverReading } from "../../api/handover_types.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showReading, showSpread } from "../../quantities/show.ts";
import { datesAs } from "../../state/choices.ts";
import { capital } from "../../words/capital.ts";
import { t, tAdjuster, tCode, tReading } from "../../words/index.ts";

/** A distance without its sign: "0.12 mm", "0.4". */
export function showOff(reading: string, value: number | null): string {
  return showSpread(reading, value).replace(/^±\s*/, "");
}

export function showDay(iso: string): string {
  // Day before month in both languages.
  return new Intl.DateTimeFormat(datesAs.value, { dateStyle: "long" }).format(new Date(iso));
}
/** From the visit's beginning to the last reading or move of it. */
export function showDates(told: Handover): string {
  const from = told.visit ? showDay(told.visit.begun) : "";
  const to = told.last_at ? showDay(told.last_at) : from;
  return from === to || from === "" ? to : t("handover.dates", { from, to });
}

/** "blow" as a heading begins: "Blow". */
export function heading(reading: string): string {
  return capital(tReading(reading));
}
export function headingOf(adjuster: string): string {
  return capital(tAdjuster(adjuster));
}

export function noteOrAll(note: string | null): string {
  return note === null ? t("handover.all_notes") : notePrinted(note);
}

export function whyOutside(one: HandoverOutside): string {
  if (one.why === "held" && one.hold) return tCode(`handover.hold.${one.hold}`, t("handover.why.held"));
  return t(`handover.why.${one.why}`, { reason: one.reason ?? "" });
}

/** "(46.1 mm)" where it was read only after something that shifts it was turned. */
export function showFirst(reading: string, note: HandoverNote): string {
  if (note.first === null) return "–";
  const value = showReading(reading, note.first);
  return (note.as_found ? value : `(${value})`) + (note.outside_at_first ? " !" : "");
}
export function showNow(reading: string, note: HandoverNote): string {
  if (note.now === null) return "–";
  const sign = note.basis === "reckoned" ? "≈ " : note.basis === "earlier" ? "° " : "";
  return sign + showReading(reading, note.now) + (note.doubted ? " ?" : "") + (note.outside_now ? " !" : "");
}

/** Notes read as found and known now. */
export function comparedNotes(reading: HandoverReading): HandoverNote[] {
  return reading.notes.filter((n) => n.as_found && (n.basis === "read" || n.basis === "reckoned"));
}
/** Root mean square of the standard deviations behind a comparison; null without notes. */
export function goodTo(notes: readonly HandoverNote[]): number | null {
  if (notes.length === 0) return null;
  const sum = notes.reduce((s, n) => s + ((n.first_sd ?? 0) ** 2 + (n.now_sd ?? 0) ** 2) / 2, 0);
  return Math.sqrt(sum / notes.length);
}

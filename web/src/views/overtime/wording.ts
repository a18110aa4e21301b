// What is expected and what was found, in sentences.
import type { DriftDue, DriftGrounds, DriftPoint, FirstCheck } from "../../api/drift_types.ts";
import type { Shift } from "../../api/visits_types.ts";
import { showDay, showMonth } from "../../quantities/days.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showDifference, showShare, showSpread, thin } from "../../quantities/show.ts";
import { plural, t } from "../../words/index.ts";

type Due = Pick<DriftDue, "state" | "at" | "low_day" | "low" | "high">;

/** Never "100 %" nor "0 %" of a chance: nothing is certain. */
export function showChance(chance: number): string {
  const percent = Math.round(100 * chance);
  if (percent <= 0) return `<${thin}1${thin}%`;
  if (percent >= 100) return `>${thin}99${thin}%`;
  return showShare(chance);
}

export function dueHeadline(due: Due, months: number): string {
  if (due.state === "due-at" && due.at) return t("overtime.due.due-at", { date: showDay(due.at) });
  if (due.state === "beyond") return plural("overtime.due.beyond", months);
  return t(due.state === "overdue" ? "overtime.due.overdue" : "overtime.due.unknown");
}
/** Between which days it lies; empty where nothing can be said. */
export function dueSpan(due: Due, months: number): string {
  if (due.state === "unknown" || due.state === "overdue") return "";
  // From today on is no beginning.
  const low = due.low && (due.low_day ?? 0) >= 1 ? due.low : null;
  if (low && due.high) return t("overtime.span", { low: showDay(low), high: showDay(due.high) });
  if (low) return t("overtime.span.open", { low: showDay(low), months });
  return due.high ? t("overtime.span.until", { high: showDay(due.high) }) : "";
}
/** On what the date rests; the first word of it is how little that is. */
export function knownWords(known: DriftGrounds): string {
  if (known.pairs === 0) return t("overtime.known.none");
  return t("overtime.known.some", { visits: known.visits, pairs: known.pairs, learned: showShare(known.learned) });
}
/** What would make it surer, most telling first. */
export function surerWords(known: DriftGrounds): string[] {
  return [
    known.pairs === 0 && t("overtime.surer.visit"),
    !known.climate_known && known.humidities === 0 && t("overtime.surer.humidity"),
    !known.climate_known && t("overtime.surer.climate", { setting: t("settings.name.climate") }),
    !known.playing_hours_known && t("overtime.surer.hours", { setting: t("settings.name.playing-hours") }),
    !known.new_felt_known && t("overtime.surer.felt", { setting: t("settings.name.new-felt") }),
  ].filter((one): one is string => one !== false);
}

/** Of the point `months` ahead. */
export function pointWords(point: Omit<DriftPoint, "at">, date: Date, months: number): string {
  const params = {
    share: showShare(point.share),
    low: showShare(point.low),
    high: showShare(point.high),
    chance: showChance(point.chance_over_limit),
    when: showMonth(date),
  };
  return months === 0 ? t("overtime.at.now", params) : plural("overtime.at", months, params);
}

export function checkWords(check: FirstCheck): string {
  return t("overtime.checks.change", {
    change: showDifference(check.reading, check.change),
    sd: showSpread(check.reading, check.sd),
    share: showShare(check.newly_outside),
  });
}

/** "A0 – E2", "everywhere". */
export function placeWords(shift: Pick<Shift, "first" | "last">, lowest: string, highest: string): string {
  if (shift.first === lowest && shift.last === highest) return t("overtime.compare.everywhere");
  if (shift.first === shift.last) return notePrinted(shift.first);
  return `${notePrinted(shift.first)} – ${notePrinted(shift.last)}`;
}

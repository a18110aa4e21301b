// When a piano is due, and in which order several are shown.
import type { Studio, StudioPiano } from "../../api/studio_types.ts";
import type { PianoDue } from "../../api/types.ts";
import { daysBetween, showDay } from "../../quantities/days.ts";
import { showMinutes, showShare } from "../../quantities/show.ts";
import { t, tReading } from "../../words/index.ts";

export type Order = "due" | "worst" | "name";
export const soon = 30; // days

/** A shape beside the words. */
export const signs = { overdue: "!", "due-at": "◷", beyond: "✓", unknown: "?" } as const;

/** "due by 14 March 2027", "overdue" */
export function dueWords(due: PianoDue): string {
  if (due.state === "due-at" && due.date) return t("studio.due.due-at", { date: showDay(due.date) });
  return t(due.state === "due-at" ? "studio.due.unknown" : `studio.due.${due.state}`);
}
export function factsOf(piano: StudioPiano): string[] {
  return [
    piano.last_done ? t("studio.last_done", { date: showDay(piano.last_done) }) : t("studio.never_done"),
    piano.share_now === null ? "" : t("studio.share", { share: showShare(piano.share_now) }),
    piano.worst_reading === null ? "" : t("studio.worst", { reading: tReading(piano.worst_reading) }),
    piano.minutes === null ? "" : t("studio.minutes", { minutes: showMinutes(piano.minutes) }),
  ].filter(Boolean);
}

const ranks = { overdue: 0, "due-at": 1, unknown: 2, beyond: 3 } as const;
/** The ids in their order; those the list does not know come last. */
export function inOrder(pianos: readonly StudioPiano[], order: Order): string[] {
  const byName = (a: StudioPiano, b: StudioPiano) => a.name.localeCompare(b.name);
  const worst = (one: StudioPiano) => one.share_now ?? -1;
  const sorted = [...pianos].sort((a, b) => {
    if (order === "due") {
      const rank = ranks[a.due.state] - ranks[b.due.state];
      const date = (a.due.date ?? "").localeCompare(b.due.date ?? "");
      // Of two that are overdue the one farther out comes first.
      return rank || (a.due.state === "overdue" ? worst(b) - worst(a) : date) || byName(a, b);
    }
    return order === "worst" ? worst(b) - worst(a) || byName(a, b) : byName(a, b);
  });
  return sorted.map((one) => one.id);
}

export function summary(studio: Studio): string {
  const count = (is: (one: StudioPiano) => boolean) => studio.pianos.filter(is).length;
  const days = (one: StudioPiano) => (one.due.date ? daysBetween(studio.today, one.due.date) : Infinity);
  const dated = (one: StudioPiano) => one.due.state === "due-at";
  return t("studio.summary", {
    overdue: count((one) => one.due.state === "overdue"),
    soon: count((one) => dated(one) && days(one) <= soon),
    later: count((one) => (dated(one) && days(one) > soon) || one.due.state === "beyond"),
    unknown: count((one) => one.due.state === "unknown"),
    days: soon,
  });
}

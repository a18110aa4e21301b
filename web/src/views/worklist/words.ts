// What the worklist says, and what it reckons from the plan; no drawing here.
import type { Pass, Plan, Question, TimeCurve, TimePoint } from "../../api/plan_types.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showDifference, showReading, showSpread } from "../../quantities/show.ts";
import { t, plural, tAdjuster, tReading } from "../../words/index.ts";
import { passName } from "../hands/wording.ts";

export function listed(parts: readonly string[]): string {
  const last = parts[parts.length - 1] ?? "";
  return parts.length < 2 ? last : t("worklist.and", { list: parts.slice(0, -1).join(", "), last });
}

/** The curve between its points: straight lines; the passes of the point before. */
export function pointAt(curve: TimeCurve, minutes: number): TimePoint {
  const points = curve.points;
  const after = points.findIndex((point) => point.minutes >= minutes);
  const b = points[after < 0 ? points.length - 1 : after]!;
  const a = points[Math.max(0, (after < 0 ? points.length : after) - 1)] ?? b;
  if (b.minutes <= a.minutes || minutes >= b.minutes) return { ...b, minutes };
  const share = (minutes - a.minutes) / (b.minutes - a.minutes);
  return { minutes, work: a.work, passes: a.passes, unevenness: a.unevenness + share * (b.unevenness - a.unevenness) };
}

export function agoWords(minutes: number): string {
  if (minutes < 15) return t("ago.now");
  if (minutes < 90) return t("ago.minutes", { count: Math.round(minutes) });
  if (minutes < 36 * 60) return t("ago.hours", { count: Math.round(minutes / 60) });
  return t("ago.days", { count: Math.round(minutes / 60 / 24) });
}

/** Where were we, a sentence each; `minutesAgo`: the last entry. */
export function whereWereWe(plan: Plan, minutesAgo: number | null): string[] {
  const said: string[] = [];
  said.push(minutesAgo === null ? t("worklist.where.none") : t("worklist.where.last", { ago: agoWords(minutesAgo) }));
  const finished = plan.progress.passes.filter((pass) => pass.finished);
  const begun = plan.progress.passes.filter((pass) => !pass.finished && pass.notes_done + pass.notes_left_knowingly > 0);
  if (finished.length > 0) {
    const passes = finished.map((one) => plural("worklist.where.notes", one.notes_done + one.notes_left_knowingly, { pass: passName(one.adjuster) }));
    said.push(t("worklist.where.finished", { passes: listed(passes) }));
  }
  if (begun.length > 0) {
    const passes = begun.map((one) => {
      const done = one.notes_done + one.notes_left_knowingly;
      return t("worklist.where.share", { pass: passName(one.adjuster), done, all: done + one.moves_left });
    });
    said.push(t("worklist.where.begun", { passes: listed(passes) }));
  }
  return said;
}

export interface Asked {
  happened: string;
  maybe: string;
  todo: string;
}
export function questionWords(q: Question): Asked {
  const reading = q.reading === "hammer-height" ? "blow" : q.reading;
  const [note, name] = [notePrinted(q.note), tReading(reading)];
  if (q.kind === "odd-reading")
    return {
      happened: t("question.odd-reading", {
        note,
        reading: name,
        seen: showReading(reading, q.seen),
        expected: showReading(reading, q.expected),
        spread: showSpread(reading, q.expected_sd),
      }),
      maybe: t("question.odd-reading.maybe"),
      todo: t("question.odd-reading.todo", { note, reading: tReading(q.reading) }),
    };
  const adjuster = tAdjuster(q.adjuster ?? "");
  return {
    happened: t("question.turned", {
      note,
      adjuster,
      reading: name,
      seen: showDifference(reading, q.seen),
      expected: showDifference(reading, q.expected),
    }),
    maybe: t(q.kind === "wrong-way" ? "question.wrong-way.maybe" : "question.odd-answer.maybe"),
    todo: t("question.turned.todo", { note, adjuster, reading: tReading(q.reading) }),
  };
}

/** Passes as rows and columns: by how much a column's pass shifts what a row's has set; null: not. */
export function shiftTable(passes: readonly Pass[]): (number | null)[][] {
  return passes.map((row) => passes.map((column) => row.shifted.find((one) => one.by === column.adjuster)?.tolerances ?? null));
}

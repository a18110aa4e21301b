// One step at a time, from the plan at hand: what is on view never changes under the hand. A new
// plan counts from the next step on.
import type { Pass, Plan, Step } from "../../api/plan_types.ts";

export type Outcome = "done" | "read" | "left" | "passed";
/** What became of a step; `ids` are the entries it made. */
export interface Answered {
  step: Step;
  outcome: Outcome;
  ids: readonly string[];
  /** What was turned, where that is not what was asked; null: as asked, or nothing. */
  amount: number | null;
  /** Revision from which on a plan knows of it; null: not on the piano's machine yet. */
  known: number | null;
}
export interface Queue {
  /** On view; null: nothing is left, or the next pass has not been begun. */
  shown: Step | null;
  /** The next pass, waiting to be begun. */
  between: string | null;
  /** Pass that has just ended. */
  ended: string | null;
  /** In the order they were made. */
  answered: readonly Answered[];
  /** Passes whose beginning was acknowledged. */
  begun: readonly string[];
  /** Work begins at this pass; null: at the plan's first. */
  from: string | null;
}

export const empty: Queue = { shown: null, between: null, ended: null, answered: [], begun: [], from: null };

export function stepId(step: Step): string {
  return `${step.kind} ${step.adjuster} ${step.note} ${step.kind === "read" ? step.reading : ""}`;
}

/** Answers this plan does not know of yet, and steps that were passed over. */
function away(queue: Queue, plan: Plan): Set<string> {
  return new Set(
    queue.answered
      .filter((one) => one.outcome === "passed" || one.known === null || one.known > plan.revision)
      .map((one) => stepId(one.step)),
  );
}

function inOrder(queue: Queue, plan: Plan): Pass[] {
  const at = Math.max(0, plan.passes.findIndex((pass) => pass.adjuster === queue.from));
  return [...plan.passes.slice(at), ...plan.passes.slice(0, at)];
}

/** Steps of the plan that are still to be made; those passed over come back when all else is done. */
export function stepsLeft(queue: Queue, plan: Plan): Step[] {
  const gone = away(queue, plan);
  const all = inOrder(queue, plan).flatMap((pass) => pass.steps);
  return all.filter((step) => !gone.has(stepId(step)));
}

/** Puts the next step on view, or the beginning of the next pass. */
export function advance(queue: Queue, plan: Plan): Queue {
  let now = queue;
  let next = stepsLeft(now, plan)[0];
  if (!next && now.answered.some((one) => one.outcome === "passed")) {
    now = { ...now, answered: now.answered.filter((one) => one.outcome !== "passed") };
    next = stepsLeft(now, plan)[0];
  }
  const before = now.answered[now.answered.length - 1]?.step.adjuster ?? null;
  const ended = before !== null && before !== next?.adjuster ? before : null;
  if (!next) return { ...now, shown: null, between: null, ended };
  if (!now.begun.includes(next.adjuster)) return { ...now, shown: null, between: next.adjuster, ended };
  return { ...now, shown: next, between: null, ended: null };
}

/** A plan has come: what is on view stays; only where nothing is, something appears. */
export function withPlan(queue: Queue, plan: Plan): Queue {
  return queue.shown ? queue : advance(queue, plan);
}

/** The pass that waits is begun. */
export function begin(queue: Queue, plan: Plan): Queue {
  if (queue.between === null) return queue;
  return advance({ ...queue, begun: [...queue.begun, queue.between], between: null }, plan);
}

/** The step on view has its answer; the next one of the plan at hand follows at once. */
export function answer(queue: Queue, plan: Plan, outcome: Outcome, ids: readonly string[], amount: number | null = null): Queue {
  const step = queue.shown;
  if (!step) return queue;
  const otherwise = step.kind === "turn" && amount !== step.amount ? amount : null;
  const one: Answered = { step, outcome, ids, amount: otherwise, known: null };
  return advance({ ...queue, answered: [...queue.answered, one] }, plan);
}

/** The answer's entries: their identities, and from which revision on they are known. */
export function settle(queue: Queue, step: Step, change: Partial<Pick<Answered, "ids" | "known">>): Queue {
  const at = lastOf(queue, step);
  if (at < 0) return queue;
  return { ...queue, answered: queue.answered.map((one, i) => (i === at ? { ...one, ...change } : one)) };
}

/** The answer is taken back: the step is on view again. */
export function undo(queue: Queue, step: Step): Queue {
  const at = lastOf(queue, step);
  if (at < 0) return queue;
  return { ...queue, answered: queue.answered.filter((_, i) => i !== at), shown: step, between: null, ended: null };
}

/** The step on view is asked anew of this plan, after a reading that may have changed it. */
export function renew(queue: Queue, plan: Plan): Queue {
  const shown = queue.shown;
  if (!shown) return advance(queue, plan);
  const left = stepsLeft(queue, plan);
  const same = left.find((step) => stepId(step) === stepId(shown)) ?? left.find((step) => step.adjuster === shown.adjuster && step.note === shown.note);
  return same ? { ...queue, shown: same } : advance({ ...queue, shown: null }, plan);
}

/** Begins at another pass than the plan's first. */
export function startAt(queue: Queue, adjuster: string): Queue {
  return { ...queue, from: adjuster, shown: null, between: null, ended: null };
}

function lastOf(queue: Queue, step: Step): number {
  const id = stepId(step);
  for (let i = queue.answered.length - 1; i >= 0; i--) if (stepId(queue.answered[i]!.step) === id) return i;
  return -1;
}

export interface Left {
  moves: number;
  readings: number;
  minutes: number;
}
/** What is left, of a pass or of all; the setting up of passes not begun is reckoned in. */
export function whatIsLeft(queue: Queue, plan: Plan, adjuster?: string): Left {
  const gone = away(queue, plan);
  const left: Left = { moves: 0, readings: 0, minutes: 0 };
  for (const pass of plan.passes) {
    if (adjuster && pass.adjuster !== adjuster) continue;
    for (const step of pass.steps) {
      if (gone.has(stepId(step))) continue;
      left.minutes += step.minutes;
      if (step.kind === "turn") left.moves++;
      else left.readings++;
    }
    if (!queue.begun.includes(pass.adjuster)) left.minutes += pass.set_up_minutes;
  }
  return left;
}

/** Minutes worked without a pause of `gap` minutes; `times` are ms, newest first. */
export function workedMinutes(times: readonly number[], now: number, gap = 10): number {
  let last = now;
  for (const time of times) {
    if (last - time > gap * 60_000) break;
    last = Math.min(last, time);
  }
  return (now - last) / 60_000;
}

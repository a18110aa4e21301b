// Where the hand is: kept while the page is open, for the piano that is open.
import { computed, effect, signal, untracked } from "@preact/signals";
import type { NewEntry } from "../../api/entries.ts";
import type { Plan, Step } from "../../api/plan_types.ts";
import type { Problem } from "../../api/types.ts";
import { keyOfNote } from "../../quantities/notes.ts";
import { discardRefused, enter, takeBack } from "../../state/entering.ts";
import { chosenKey, journal, pianoId, plan, revision } from "../../state/piano.ts";
import * as queue from "./queue.ts";

export const hand = signal<queue.Queue>(queue.empty);
/** Place in hand.answered that is looked back at; null: the step that is to be made. */
export const lookingAt = signal<number | null>(null);
export const refusal = signal<{ step: Step; problem: Problem } | null>(null);
/** What was answered last, for a few seconds: its undo is at hand. */
export const justDone = signal<queue.Answered | null>(null);
/** Said once, as to a person who cannot look. */
export const told = signal("");
/** A reading was taken before the move: the amount is being reckoned anew from this revision on. */
const renewFrom = signal<number | null>(null);
export const reckoning = computed(() => renewFrom.value !== null);

export const thePlan = computed(() => plan.value as Plan | null);

let piano: string | null = null;
let begun = false;

/** Follows plan, journal and piano; once. */
export function startHands(): void {
  if (begun) return;
  begun = true;
  effect(() => {
    const now = pianoId.value;
    const made = thePlan.value;
    untracked(() => {
      if (now !== piano) {
        piano = now;
        hand.value = { ...queue.empty };
        lookingAt.value = null;
        refusal.value = null;
        justDone.value = null;
        renewFrom.value = null;
      }
      if (!made) return;
      const from = renewFrom.peek();
      if (from !== null && made.revision >= from) {
        renewFrom.value = null;
        show(queue.renew(hand.peek(), made));
      } else {
        show(queue.withPlan(hand.peek(), made));
      }
    });
  });
  // Entries that waited here are on the piano's machine now.
  effect(() => {
    const there = new Set(journal.value.map((entry) => entry.id));
    untracked(() => {
      for (const one of hand.peek().answered)
        if (one.known === null && one.ids.length > 0 && one.ids.every((id) => there.has(id)))
          hand.value = queue.settle(hand.peek(), one.step, { known: revision.peek() });
    });
  });
}

function show(next: queue.Queue): void {
  const before = hand.peek().shown;
  hand.value = next;
  const step = next.shown;
  if (step && step !== before) {
    const key = keyOfNote(step.note);
    if (key !== null) chosenKey.value = key;
  }
}

const undo_shown = 10_000; // ms
let forgetting: ReturnType<typeof setTimeout> | undefined;
function remember(): void {
  const list = hand.peek().answered;
  justDone.value = list[list.length - 1] ?? null;
  clearTimeout(forgetting);
  forgetting = setTimeout(() => (justDone.value = null), undo_shown);
}

/** Told at the step itself: the frame around the views need not tell it again. */
function tellRefusal(step: Step, problem: Problem, ids: readonly string[]): void {
  refusal.value = { step, problem };
  for (const id of ids) void discardRefused(id);
}

/** Writes the entries of the step on view down and goes on at once; a refusal brings it back. */
export function answerStep(outcome: queue.Outcome, entries: NewEntry[]): void {
  const [now, made, at] = [hand.peek(), thePlan.peek(), pianoId.peek()];
  const step = now.shown;
  if (!step || !made || !at) return;
  refusal.value = null;
  const move = entries.find((entry) => entry.kind === "move");
  show(queue.answer(now, made, outcome, [], move ? Number(move.amount) : null));
  remember();
  if (entries.length === 0) return;
  void enter(at, entries).then((entered) => {
    if (pianoId.peek() !== at) return;
    if (entered.state === "refused") {
      tellRefusal(step, entered.problem, entered.ids);
      if (justDone.peek()?.step === step) justDone.value = null;
      show(queue.undo(hand.peek(), step));
      return;
    }
    const known = entered.state === "saved" ? revision.peek() : null;
    hand.value = queue.settle(hand.peek(), step, { ids: entered.ids, known });
    if (justDone.peek()?.step === step) remember();
  });
}

/** Reads before the move: kept, and the amount is reckoned anew. */
export function readBeforeMove(entries: NewEntry[]): void {
  const [step, at] = [hand.peek().shown, pianoId.peek()];
  if (!step || !at) return;
  refusal.value = null;
  void enter(at, entries).then((entered) => {
    if (pianoId.peek() !== at) return;
    if (entered.state === "refused") tellRefusal(step, entered.problem, entered.ids);
    else if (entered.state === "saved") renewFrom.value = revision.peek();
    const made = thePlan.peek();
    if (made && renewFrom.peek() !== null && made.revision >= (renewFrom.peek() ?? 0)) {
      renewFrom.value = null;
      show(queue.renew(hand.peek(), made));
    }
  });
}

/** Takes the entries of an answer back; its step is on view again. */
export function undoAnswer(one: queue.Answered): void {
  const at = pianoId.peek();
  if (!at) return;
  lookingAt.value = null;
  justDone.value = null;
  // As it stands now: the identities may have come since it was remembered.
  const list = hand.peek().answered.filter((other) => other.step === one.step);
  const ids = list[list.length - 1]?.ids ?? one.ids;
  show(queue.undo(hand.peek(), one.step));
  for (const id of [...ids].reverse())
    void takeBack(at, id).then((entered) => {
      if (entered.state === "refused") tellRefusal(one.step, entered.problem, entered.ids);
    });
}

export function beginPass(): void {
  const made = thePlan.peek();
  if (made) show(queue.begin(hand.peek(), made));
}
/** From the worklist: work begins at this pass. */
export function startAtPass(adjuster: string | null): void {
  startHands();
  const made = thePlan.peek();
  lookingAt.value = null;
  if (!adjuster) return;
  const next = queue.startAt(hand.peek(), adjuster);
  show(made ? queue.advance(next, made) : next);
}

/** The pedal's way back: what was answered, one by one. */
export function lookBack(): void {
  const count = hand.peek().answered.length;
  const now = lookingAt.peek();
  if (count > 0) lookingAt.value = Math.max(0, (now ?? count) - 1);
}
export function lookAhead(): void {
  const now = lookingAt.peek();
  if (now === null) return;
  lookingAt.value = now + 1 < hand.peek().answered.length ? now + 1 : null;
}

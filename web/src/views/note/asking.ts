// What the Note view knows and asks: the note's facts, the sliders, the model's answers.
import { computed, effect, signal, untracked } from "@preact/signals";
import { get, post } from "../../api/client.ts";
import type { NoteFacts, Start, Strokes, WhatIf } from "../../api/note_types.ts";
import type { Outcome, Problem } from "../../api/types.ts";
import { frameAt } from "../../drawing/frames.ts";
import { noteName } from "../../quantities/notes.ts";
import { chosenKey, pianoId, steadyRevision } from "../../state/piano.ts";
import { Latest } from "./latest.ts";

export const facts = signal<NoteFacts | null>(null);
export const problem = signal<Problem | null>(null);
export const start = signal<Start>("believed");
/** Offsets by adjuster, slider's unit; those at 0 are left out. */
export const moves = signal<Record<string, number>>({});
/** mm the key is pressed, as the slider says. */
export const depth = signal(0);
export const touch = signal<"pressed" | "struck">("pressed");

/** The newest answer, with the blow's readings or without. */
export const answer = signal<WhatIf | null>(null);
/** Why these settings have no answer. */
export const cannot = signal<Problem | null>(null);
/** The newest answer with frames, if it is of the same settings as `answer`. */
export const whole = computed(() => (answer.value && answer.value.frames.length > 0 ? answer.value : null));
/** Check distance and spring rise of the last blow that was played. */
export const blown = signal<WhatIf | null>(null);
export const strokes = signal<Strokes | null>(null);
/** Whether the answer is for what the sliders show. */
export const pending = signal(false);

export const frame = computed(() => {
  const now = answer.value;
  if (!now) return null;
  return (now.frames.length > 0 && frameAt(now.frames, depth.value)) || now.at;
});
export const bottom = computed(() => answer.value?.marks.bottom ?? 10);

const pause = 160; // ms without a move: the hand has stopped
const frames = 60;

interface Question {
  path: string;
  body: { moves: Record<string, number>; start: Start; depth: number; frames: number };
}
const whatIfs = new Latest<Question, Outcome<WhatIf>>(
  ({ path, body }) => post<WhatIf>(`${path}/what-if`, body),
  (got, { body }) => {
    if (got.ok) {
      answer.value = got.value;
      if (got.value.blow) blown.value = got.value;
      cannot.value = null;
    } else {
      cannot.value = got.problem;
    }
    pending.value = body.frames === 0;
  },
);
interface StrokeQuestion {
  path: string;
  body: { moves: Record<string, number>; start: Start; touch: "pressed" | "struck" };
}
const played = new Latest<StrokeQuestion, Outcome<Strokes>>(
  ({ path, body }) => post<Strokes>(`${path}/strokes`, body),
  (got) => {
    strokes.value = got.ok ? got.value : null;
  },
);

const path = computed(() =>
  pianoId.value ? `/api/pianos/${encodeURIComponent(pianoId.value)}/notes/${encodeURIComponent(noteName(chosenKey.value))}` : null,
);

let timer: ReturnType<typeof setTimeout> | undefined;

function askWhole(): void {
  clearTimeout(timer);
  const to = path.peek();
  if (!to || !facts.peek()) return;
  pending.value = true;
  const body = { moves: moves.peek(), start: start.peek() };
  whatIfs.ask({ path: to, body: { ...body, depth: depth.peek(), frames } });
  played.ask({ path: to, body: { ...body, touch: touch.peek() } });
}
/** While a slider is dragged: what is quick at once, the rest when the hand pauses. */
function askQuick(): void {
  clearTimeout(timer);
  const to = path.peek();
  if (!to || !facts.peek()) return;
  pending.value = true;
  whatIfs.ask({ path: to, body: { moves: moves.peek(), start: start.peek(), depth: depth.peek(), frames: 0 } });
  timer = setTimeout(askWhole, pause);
}

export function setMove(code: string, amount: number): void {
  const { [code]: _, ...others } = moves.peek();
  moves.value = Math.abs(amount) < 1e-9 ? others : { ...others, [code]: amount };
  askQuick();
}
export function setMoves(all: Record<string, number>): void {
  moves.value = all;
  askWhole();
}
export function setStart(to: Start): void {
  start.value = to;
  askWhole();
}
export function setTouch(to: "pressed" | "struck"): void {
  touch.value = to;
  askWhole();
}

/** Follows the chosen note and what is written down of it; returns what stops it. */
export function follow(): () => void {
  let shown: string | null = null;
  return effect(() => {
    const to = path.value;
    void steadyRevision.value;
    untracked(() => {
      const other = to !== shown;
      shown = to;
      if (other) {
        whatIfs.forget();
        played.forget();
        clearTimeout(timer);
        moves.value = {};
        problem.value = null;
      }
      if (!to) return;
      void get<NoteFacts>(to).then((got) => {
        if (to !== path.peek()) return;
        if (!got.ok) {
          problem.value = got.problem;
          facts.value = answer.value = blown.value = strokes.value = null;
          return;
        }
        if (facts.peek()?.key !== got.value.key || other) start.value = got.value.start;
        facts.value = got.value;
        problem.value = null;
        askWhole();
      });
    });
  });
}

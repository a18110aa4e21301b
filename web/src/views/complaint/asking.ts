// What is being asked about a note, kept while the page is open, so that a look at another view
// loses nothing.
import { computed, signal } from "@preact/signals";
import { post } from "../../api/client.ts";
import type { Diagnosis, LookSent } from "../../api/complaint_types.ts";
import type { Problem } from "../../api/types.ts";
import { chosenKey, pianoId } from "../../state/piano.ts";
import { noteName } from "../../quantities/notes.ts";

export interface Asking {
  felt: string[];
  looks: LookSent[];
  /** Takings that cannot be done now. */
  skipped: string[];
  /** Still choosing what is felt. */
  choosing: boolean;
}
const fresh: Asking = { felt: [], looks: [], skipped: [], choosing: true };
const all = signal<Record<string, Asking>>({});
const nameOf = (piano: string | null, note: string) => `${piano ?? ""} ${note}`;

export const note = computed(() => noteName(chosenKey.value));
export const asking = computed(() => all.value[nameOf(pianoId.value, note.value)] ?? fresh);
export function change(part: Partial<Asking>): void {
  all.value = { ...all.value, [nameOf(pianoId.peek(), note.peek())]: { ...asking.peek(), ...part } };
}

/** The look said now stands for what was said before. */
export function putLook(look: LookSent): void {
  change({ looks: [...asking.peek().looks.filter((l) => l.look !== look.look), look] });
}
export function takeOut(look: string): void {
  change({ looks: asking.peek().looks.filter((l) => l.look !== look) });
}

export const diagnosis = signal<{ asked: string; value: Diagnosis } | null>(null);
export const problem = signal<Problem | null>(null);
export const working = signal(false);
let running: AbortController | null = null;

/** Asks anew; an answer still on its way is not waited for. */
export async function diagnose(piano: string, of: string, what: Asking): Promise<void> {
  running?.abort();
  const mine = (running = new AbortController());
  working.value = true;
  const answer = await post<Diagnosis>(
    `/api/pianos/${encodeURIComponent(piano)}/complaints`,
    { note: of, felt: what.felt, looks: what.looks },
    mine.signal,
  );
  if (mine.signal.aborted) return;
  working.value = false;
  if (answer.ok) {
    diagnosis.value = { asked: nameOf(piano, of), value: answer.value };
    problem.value = null;
  } else {
    problem.value = answer.problem;
  }
}
/** The answer about the note that is shown. */
export const answer = computed(() =>
  diagnosis.value?.asked === nameOf(pianoId.value, note.value) ? diagnosis.value.value : null,
);

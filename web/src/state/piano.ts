// The piano that is open: what the server last said about it, and what has come since.
import { computed, effect, signal, untracked } from "@preact/signals";
import { get } from "../api/client.ts";
import type { EntriesAnswer, Entry, JournalAnswer } from "../api/entries.ts";
import type { PianoHead, Problem, Strip } from "../api/types.ts";
import { waitingEntries } from "./entering.ts";
import { overlaid, type Late } from "./late.ts";
import { pianoId, rememberPiano, view } from "./where.ts";

export { pianoId };
export const head = signal<PianoHead | null>(null);
/** GET …/plan; its type is in api/plan_types.ts. */
export const plan = signal<unknown>(null);
/** Minutes there are; null: as long as it takes. */
export const planMinutes = signal<number | null>(null);
/** Number of journal entries there are, as soon as it is known. */
export const revision = signal(0);
/** The same once a burst of entries is over: what is fetched anew follows this. */
export const steadyRevision = signal(0);
/** 1 (A0) … 88 (C8) */
export const chosenKey = signal(40);
/** Newest first. Whole once it has been fetched; before that, what came in meanwhile. */
export const journal = signal<Entry[]>([]);
export const problemOfPiano = signal<Problem | null>(null);

const stripSaid = signal<Strip | null>(null);
/** Entries acknowledged with the revision they brought; the strip may not have them yet. */
const late = signal<readonly { entry: Entry; revision: number }[]>([]);

const waitingHere = computed(() => overlaid.waiting(waitingEntries.value, pianoId.value));
/** Readings that wait in this browser: "blow@40". */
export const waitingReadings = computed<ReadonlySet<string>>(
  () => new Set(waitingHere.value.map((one) => `${one.reading}@${one.key}`)),
);

/** The value of a setting of the open piano; null where it is not chosen. */
export function settingOf(name: string): string | null {
  return head.value?.settings.find((one) => one.name === name)?.value ?? null;
}

/** What the server said, with the readings since then drawn in. */
export const strip = computed<Strip | null>(() => {
  const said = stripSaid.value;
  if (!said) return null;
  const since = late.value
    .filter((one) => one.revision > said.revision)
    .flatMap((one): Late[] => overlaid.entry(one.entry));
  return overlaid.on(said, [...since, ...waitingHere.value], settingOf("hammer-datum") === "bench");
});

type What = "head" | "strip" | "plan" | "journal";
const asking = new Map<What, { again: boolean }>();

function told(now: number): void {
  if (now > revision.peek()) revision.value = now;
}

async function fetchOne(piano: string, what: What): Promise<void> {
  const base = `/api/pianos/${encodeURIComponent(piano)}`;
  if (what === "head") {
    const answer = await get<PianoHead>(base);
    if (pianoId.peek() !== piano) return;
    if (!answer.ok) {
      problemOfPiano.value = answer.problem;
      // Another store may have been opened: its pianos are shown next time.
      if (answer.status === 404) rememberPiano(null);
      return;
    }
    head.value = answer.value;
    rememberPiano(piano);
    problemOfPiano.value = null;
    told(answer.value.revision);
  } else if (what === "strip") {
    const answer = await get<Strip>(`${base}/strip`);
    if (pianoId.peek() !== piano || !answer.ok) return;
    stripSaid.value = answer.value;
    late.value = late.peek().filter((one) => one.revision > answer.value.revision);
    told(answer.value.revision);
  } else if (what === "journal") {
    const answer = await get<JournalAnswer>(`${base}/journal`);
    if (pianoId.peek() !== piano || !answer.ok) return;
    const known = new Set(answer.value.entries.map((entry) => entry.id));
    journal.value = [...journal.peek().filter((entry) => !known.has(entry.id)), ...answer.value.entries.reverse()];
    told(answer.value.revision);
  } else {
    const minutes = planMinutes.peek();
    const answer = await get<{ revision?: number }>(`${base}/plan${minutes === null ? "" : `?minutes=${minutes}`}`);
    if (pianoId.peek() !== piano || !answer.ok || planMinutes.peek() !== minutes) return;
    plan.value = answer.value;
  }
}

/** One request of a kind at a time; asked meanwhile, once more after it. */
async function fetchInTurn(piano: string, what: What): Promise<void> {
  const running = asking.get(what);
  if (running) {
    running.again = true;
    return;
  }
  const mine = { again: false };
  asking.set(what, mine);
  try {
    await fetchOne(piano, what);
  } finally {
    asking.delete(what);
  }
  const now = pianoId.peek();
  if (mine.again && now) await fetchInTurn(now, what);
}

const planViews = new Set<string>(["worklist", "hands"]);

/** Fetches again; all that is on view unless said otherwise. */
export async function refresh(what?: What): Promise<void> {
  const piano = pianoId.peek();
  if (!piano) return;
  const list: What[] = what ? [what] : ["head", "strip"];
  if (!what && planViews.has(view.peek())) list.push("plan");
  await Promise.all(list.map((one) => fetchInTurn(piano, one)));
}

/** Entries that are written down, from here or from another device: shown at once. */
export function takeEntries(piano: string, answer: Pick<EntriesAnswer, "revision" | "entries">, device = ""): void {
  if (piano !== pianoId.peek()) return;
  const known = new Set(journal.peek().map((entry) => entry.id));
  const fresh = answer.entries.filter((entry) => !known.has(entry.id)).map((entry): Entry => ({ device, ...entry }));
  if (fresh.length > 0) {
    journal.value = [...[...fresh].reverse(), ...journal.peek()];
    late.value = [...late.peek(), ...fresh.map((entry) => ({ entry, revision: answer.revision }))];
  }
  told(answer.revision);
}

const burst = 120; // ms: a reading every few seconds is not one, an import is

/** Begins to follow the piano of the address; once. */
export function startPiano(): void {
  effect(() => {
    const piano = pianoId.value;
    untracked(() => {
      head.value = null;
      stripSaid.value = null;
      plan.value = null;
      journal.value = [];
      late.value = [];
      problemOfPiano.value = null;
      revision.value = 0;
      steadyRevision.value = 0;
      if (!piano) return;
      // The plan has an effect of its own, below.
      void Promise.all([refresh("head"), refresh("strip")]).then(() => fetchInTurn(piano, "journal"));
    });
  });
  effect(() => {
    const now = revision.value;
    const timer = setTimeout(() => (steadyRevision.value = now), steadyRevision.peek() === 0 ? 0 : burst);
    return () => clearTimeout(timer);
  });
  effect(() => {
    const now = steadyRevision.value;
    untracked(() => {
      const behind = (stripSaid.peek()?.revision ?? now) < now || (head.peek()?.revision ?? now) < now;
      if (now > 0 && behind) void refresh();
    });
  });
  effect(() => {
    const wanted = planViews.has(view.value);
    void planMinutes.value;
    if (wanted && pianoId.value) void untracked(() => refresh("plan"));
  });
}

// The piano that is open: what the server last said about it.
import { signal } from "@preact/signals";
import { get } from "../api/client.ts";
import type { Entry } from "../api/entries.ts";
import type { PianoHead, Problem, Strip } from "../api/types.ts";
import { pianoId } from "./where.ts";

export { pianoId };
export const head = signal<PianoHead | null>(null);
export const strip = signal<Strip | null>(null);
/** GET …/plan; its type is in api/plan_types.ts. */
export const plan = signal<unknown>(null);
/** Minutes there are; null: as long as it takes. */
export const planMinutes = signal<number | null>(null);
/** Number of journal entries of what is shown; views that fetch for themselves follow it. */
export const revision = signal(0);
/** 1 (A0) … 88 (C8) */
export const chosenKey = signal(40);
/** Newest first. */
export const journal = signal<Entry[]>([]);
export const problemOfPiano = signal<Problem | null>(null);

type What = "head" | "strip" | "plan";

async function fetchOne(piano: string, what: What): Promise<void> {
  const base = `/api/pianos/${encodeURIComponent(piano)}`;
  const minutes = planMinutes.peek();
  const path = what === "head" ? base : what === "strip" ? `${base}/strip` : `${base}/plan${minutes === null ? "" : `?minutes=${minutes}`}`;
  const answer = await get<unknown>(path);
  if (pianoId.peek() !== piano) return;
  if (!answer.ok) {
    if (what !== "plan") problemOfPiano.value = answer.problem;
    return;
  }
  if (what === "head") head.value = answer.value as PianoHead;
  else if (what === "strip") strip.value = answer.value as Strip;
  else plan.value = answer.value;
  const told = (answer.value as { revision?: number }).revision;
  if (typeof told === "number" && told > revision.peek()) revision.value = told;
  problemOfPiano.value = null;
}

/** Fetches again; everything unless said otherwise. */
export async function refresh(what?: What): Promise<void> {
  const piano = pianoId.peek();
  if (!piano) return;
  const list: What[] = what ? [what] : ["head", "strip", "plan"];
  await Promise.all(list.map((one) => fetchOne(piano, one)));
}

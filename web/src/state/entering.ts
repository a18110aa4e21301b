// Entries on their way to the piano's machine: kept in this browser first, then sent.
import { signal } from "@preact/signals";
import { post } from "../api/client.ts";
import type { EntriesAnswer, Entered, NewEntry } from "../api/entries.ts";
import { Box, type Kept } from "./box.ts";
import { link, refusedEntries, waiting } from "./link.ts";
import { NotKept, Queue } from "./queue.ts";
import { t } from "../words/index.ts";
import { startSession } from "./session.ts";

/** A version-4 UUID; crypto.randomUUID is not there on plain http away from loopback. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6]! & 0x0f) | 0x40;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

/** Not yet on the piano's machine, oldest first; of every piano. */
export const waitingEntries = signal<readonly Kept[]>([]);

const longest_request = 10_000; // ms; then it counts as unanswered and is asked again
const sendTo = (piano: string, body: unknown) =>
  post<EntriesAnswer>(`/api/pianos/${encodeURIComponent(piano)}/entries`, body, AbortSignal.timeout(longest_request));

const whenSaved = new Set<(piano: string, answer: EntriesAnswer) => void>();
/** Calls `act` with whatever the server has acknowledged. */
export function onSaved(act: (piano: string, answer: EntriesAnswer) => void): void {
  whenSaved.add(act);
}

const whenHeard = new Set<(answered: boolean) => void>();
/** Calls `act` after every attempt to send: whether the server answered at all. */
export function onHeard(act: (answered: boolean) => void): void {
  whenHeard.add(act);
}

let queue: Queue | null = null;
let otherTabs: BroadcastChannel | null = null;

function theQueue(): Queue {
  if (queue) return queue;
  let before = "";
  const locks = globalThis.navigator?.locks;
  queue = new Queue({
    box: new Box(indexedDB),
    send: sendTo,
    renew: async () => (await startSession()).ok,
    newId,
    now: () => Date.now(),
    later: (ms, act) => void setTimeout(act, ms),
    alone: locks ? (act) => locks.request("batten-entries", act) as unknown as Promise<void> : undefined,
    changed: (kept) => {
      const wait = kept.filter((one) => one.state === "waiting");
      waitingEntries.value = wait;
      waiting.value = wait.length;
      refusedEntries.value = kept.flatMap((one) => (one.problem ? [{ ...one, problem: one.problem }] : []));
      const now = kept.map((one) => one.id + one.state).join();
      if (now !== before) otherTabs?.postMessage("entries");
      before = now;
    },
    saved: (piano, answer) => {
      for (const act of whenSaved) act(piano, answer);
    },
    heard: (answered) => {
      if (!answered) link.value = "down";
      for (const act of whenHeard) act(answered);
    },
  });
  return queue;
}

/** Looks for what an earlier page left, and sends it. */
export async function startEntering(): Promise<void> {
  if (typeof BroadcastChannel !== "undefined") {
    otherTabs = new BroadcastChannel("batten");
    otherTabs.onmessage = () => void theQueue().tell();
  }
  addEventListener("online", () => sendNow());
  await theQueue().tell();
  sendNow();
}
/** The server may be there again. */
export function sendNow(): void {
  void theQueue()
    .drain()
    .catch(() => undefined);
}

/** Where this browser keeps nothing (a private window), straight to the server. */
async function enterUnkept(piano: string, entries: readonly NewEntry[]): Promise<Entered> {
  const made = entries.map((entry) => ({ id: newId(), at_ms: Date.now(), ...entry }));
  const ids = made.map((entry) => entry.id);
  const answer = await sendTo(piano, { entries: made });
  if (!answer.ok) {
    const problem = answer.offline ? { ...answer.problem, kept: t("problem.not_kept") } : answer.problem;
    return { state: "refused", ids, problem };
  }
  for (const act of whenSaved) act(piano, answer.value);
  return { state: "saved", ids, entries: answer.value.entries };
}

/** Keeps the entries in this browser first, then sends them; each is written down exactly once. */
export async function enter(piano: string, entries: NewEntry[]): Promise<Entered> {
  try {
    return await theQueue().enter(piano, entries);
  } catch (error) {
    if (error instanceof NotKept) return enterUnkept(piano, entries);
    throw error;
  }
}

/** Takes an entry back: its undo is an entry of its own; one that was refused is let go. */
export async function takeBack(piano: string, entryId: string): Promise<Entered> {
  if (refusedEntries.peek().some((one) => one.id === entryId)) {
    await discardRefused(entryId);
    return { state: "saved", ids: [], entries: [] };
  }
  return enter(piano, [{ kind: "undo", entry: entryId }]);
}

export async function discardRefused(id: string): Promise<void> {
  await theQueue().discard(id);
}
/** Enters something else in its place. */
export async function correctRefused(id: string, piano: string, entries: NewEntry[]): Promise<Entered> {
  const entered = await enter(piano, entries);
  if (entered.state !== "refused") await discardRefused(id);
  return entered;
}

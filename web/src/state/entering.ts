// Entries on their way to the piano's machine.
import { post } from "../api/client.ts";
import type { Entered, EntriesAnswer, NewEntry } from "../api/entries.ts";

/** A version-4 UUID; crypto.randomUUID is not there on plain http away from loopback. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6]! & 0x0f) | 0x40;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

/** Keeps the entries in this browser first, then sends them; each is written down exactly once. */
export async function enter(piano: string, entries: NewEntry[]): Promise<Entered> {
  const made = entries.map((entry) => ({ id: newId(), at_ms: Date.now(), ...entry }));
  const answer = await post<EntriesAnswer>(`/api/pianos/${encodeURIComponent(piano)}/entries`, { entries: made });
  if (answer.ok) return { state: "saved", entries: answer.value.entries };
  if (answer.offline) return { state: "waiting", ids: made.map((entry) => entry.id) };
  return { state: "refused", problem: answer.problem };
}

/** Takes an entry back: its undo is an entry of its own. */
export function takeBack(piano: string, entryId: string): Promise<Entered> {
  return enter(piano, [{ kind: "undo", entry: entryId }]);
}

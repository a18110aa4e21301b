// Whether the piano's machine is heard, and what has not reached it yet.
import { signal } from "@preact/signals";
import type { NewEntry } from "../api/entries.ts";
import type { Problem } from "../api/types.ts";

/** An entry the server would not have: kept here until it is corrected or discarded. */
export interface Refused {
  id: string;
  piano: string;
  entry: NewEntry;
  problem: Problem;
}

export const link = signal<"live" | "down" | "starting">("starting");
/** Entries not yet acknowledged. */
export const waiting = signal(0);
export const refusedEntries = signal<Refused[]>([]);

// POST /api/bundles: a piano's file read in. GET /api/backups: copies of the store.
import type { Piano, Problem } from "./types.ts";

export interface BundleTaken {
  /** As the file has it. */
  piano: Piano;
  piano_added: boolean;
  /** What it is called here; another name where a piano here had that one. */
  called: string;
  visits_added: number;
  visits_already_there: number;
  entries_added: number;
  entries_already_there: number;
  revision: number;
}
export interface Backups {
  folder: string;
  /** Newest first. */
  backups: { file: string; made_at: string; bytes: number }[];
  /** Why the last one could not be made. */
  problem: Problem | null;
}

// POST /api/bundles: a piano's file read in. GET /api/backups: copies of the store.
import type { Piano } from "./types.ts";

export interface BundleTaken {
  /** As it is here. */
  piano: Piano;
  piano_added: boolean;
  /** Its name in the file. */
  called: string;
  visits_added: number;
  visits_already_there: number;
  entries_added: number;
  entries_already_there: number;
  revision: number;
}
export interface Backups {
  /** null: none are made by themselves. */
  folder: string | null;
  /** Newest first. */
  backups: { file: string; made_at: string; bytes: number }[];
}

// What is written down, as asked of the server and as it comes back.
import type { Problem } from "./types.ts";

export type PreparationState = "wanting" | "found" | "done" | "waived";

/** What a hand or a gauge gave. `value` may be the text as typed ("45,2", "1 3/4\""). */
export type NewEntry =
  | {
      kind: "reading";
      reading: string;
      note?: string | null;
      value: string | number;
      uncertainty?: string;
      gauge?: string;
    }
  /** `amount` in the adjuster's unit, signed, or words ("raise 3/64"). */
  | { kind: "move"; adjuster: string; note?: string | null; amount: string | number; remark?: string }
  | { kind: "skip"; adjuster: string; note?: string | null; reason?: string }
  | { kind: "preparation"; item: string; state: PreparationState; note?: string | null; reason?: string }
  | { kind: "setting"; name: string; value: string }
  | { kind: "remark"; note?: string | null; text: string }
  | { kind: "undo"; entry: string };

/** POST …/entries: all or none are written down, each identity once. */
export interface EntriesSent {
  entries: (NewEntry & { id: string; at_ms?: number })[];
}

interface Kept {
  id: string;
  at: string;
  at_ms: number;
  who: string;
  /** In the journal only. */
  place?: number;
  in_force?: boolean;
  visit?: string;
  /** The paired device it came from; empty: the piano's machine. */
  device?: string;
}
export interface ReadingEntry extends Kept {
  kind: "reading";
  reading: string;
  note: string | null;
  value: number;
  uncertainty: number;
  unit: string;
  gauge: string;
  typed: string;
}
export interface MoveEntry extends Kept {
  kind: "move";
  adjuster: string;
  note: string | null;
  direction: string;
  amount: number;
  unit: string;
  remark: string;
}
export interface SkipEntry extends Kept {
  kind: "skip";
  adjuster: string;
  note: string | null;
  reason: string;
}
export interface PreparationEntry extends Kept {
  kind: "preparation";
  item: string;
  note: string | null;
  state: PreparationState;
  reason: string;
}
export interface SettingEntry extends Kept {
  kind: "setting";
  name: string;
  value: string;
}
export interface RemarkEntry extends Kept {
  kind: "remark";
  note: string | null;
  text: string;
}
export interface UndoEntry extends Kept {
  kind: "undo";
  entry: string;
}
export type Entry =
  | ReadingEntry
  | MoveEntry
  | SkipEntry
  | PreparationEntry
  | SettingEntry
  | RemarkEntry
  | UndoEntry;

export interface EntriesAnswer {
  revision: number;
  entries: Entry[];
  already_there: number;
}
export interface JournalAnswer {
  revision: number;
  since: number;
  entries: Entry[];
}

/**
 * What came of entering; `ids` are the entries' own, in the order given. `entries` is empty where
 * another tab sent them. `waiting`: kept in this browser, not yet on the piano's machine.
 */
export type Entered =
  | { state: "saved"; ids: string[]; entries: Entry[] }
  | { state: "waiting"; ids: string[] }
  | { state: "refused"; ids: string[]; problem: Problem };

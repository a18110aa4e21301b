// GET …/handover: values in the reading's unit, moves in the adjuster's.
export interface Spread {
  notes: number;
  outside: number;
  rms: number | null;
  rms_tolerances: number | null;
  /** Notes with a neighbour on both sides. */
  beside: number;
  outside_beside: number;
  beside_rms: number | null;
  beside_rms_tolerances: number | null;
}
/** unread is never listed. reckoned: moved since it was read, carried on by the model. */
export type Basis = "unread" | "earlier" | "reckoned" | "read";
export interface HandoverNote {
  note: string;
  target: number;
  first: number | null;
  first_sd: number | null;
  as_found: boolean;
  outside_at_first: boolean;
  basis: Basis;
  now: number | null;
  now_sd: number | null;
  /** Turned, or moved by something else, since the first reading. */
  shifted: boolean;
  doubted: boolean;
  outside_now: boolean;
}
export interface HandoverReading {
  reading: string;
  unit: string;
  asked: number;
  read: number;
  as_found: number;
  now_read: number;
  now_reckoned: number;
  only_earlier: number;
  tolerance: number;
  neighbour_tolerance: number;
  found: Spread;
  now: Spread;
  /** The same notes before and after. */
  compared: { found: Spread; now: Spread };
  notes: HandoverNote[];
}
export interface HandoverMoves {
  adjuster: string;
  unit: string;
  moves: number;
  notes_moved: number;
  positive: string;
  negative: string;
  positive_sum: number;
  negative_sum: number;
  /** note null: an adjuster of the piano. */
  notes: { note: string | null; moves: number; amount: number }[];
}
export interface HandoverOther {
  reading: string;
  unit: string;
  note: string | null;
  times: number;
  first: number;
  last: number;
  first_at: string;
  last_at: string;
}
export interface HandoverOutside {
  note: string;
  reading: string;
  unit: string;
  now: number;
  now_sd: number;
  basis: Basis;
  target: number;
  tolerance: number;
  why: "skipped" | "held" | "to-do" | "no-move";
  reason: string | null;
  hold: string | null;
  would_settle: string | null;
}
export interface HandoverPreparation {
  item: string;
  state: "wanting" | "found" | "done" | "waived" | null;
  reason: string;
  passed: boolean;
  earlier_visit: boolean;
  wanting_notes: string[];
}
export interface Handover {
  revision: number;
  piano: { id: string; name: string; place: string };
  visit: { title: string; begun: string } | null;
  last_at: string | null;
  who: string[];
  profile: string;
  profile_chosen: boolean;
  gate_open: boolean;
  steps_left: { readings: number; moves: number; minutes: number };
  readings: HandoverReading[];
  moves: HandoverMoves[];
  others: HandoverOther[];
  outside: HandoverOutside[];
  preparation: HandoverPreparation[];
  remarks: { note: string | null; text: string; at: string }[];
  skips: { adjuster: string; note: string | null; reason: string; at: string }[];
}

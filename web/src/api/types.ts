// What the server says, as docs/api and data/api-examples have it. Lengths are mm unless said.

export interface Problem {
  happened: string;
  kept: string;
  todo: string;
}

/** An answer, or why there is none. `offline`: the server did not answer at all. */
export type Outcome<T> = { ok: true; value: T } | { ok: false; problem: Problem; status: number; offline: boolean };

/** Numbers by key of the compass, lowest first; null where nothing is known. */
export type Column = (number | null)[];

export interface Session {
  token: string;
  who: string;
  device: string | null;
  lan: boolean;
  version: string;
}

export interface ReadingKind {
  code: string;
  name: string;
  unit: string;
  per_note: boolean;
  usual_low: number | null;
  usual_high: number | null;
  possible_low: number;
  possible_high: number;
  tolerance: number | null;
  neighbour_tolerance: number | null;
}
export interface AdjusterKind {
  code: string;
  name: string;
  per_note: boolean;
  sets: string;
  positive: string;
  negative: string;
  unit: string;
  step: number;
  limit: number;
  strain: number;
  cautions: string[];
}
export interface Catalogue {
  readings: ReadingKind[];
  adjusters: AdjusterKind[];
  preparation: { code: string; name: string }[];
  cautions: { code: string; heading: string; text: string }[];
  complaints: { code: string; sentence: string }[];
}

export interface Visit {
  id: string;
  begun: string;
  title: string;
}
export interface Piano {
  id: string;
  name: string;
  place: string;
  lowest: string;
  highest: string;
}
export interface PianoSummary extends Piano {
  visits: number;
  entries: number;
  latest_visit: Visit | null;
  /** ISO 8601; where the server says it. */
  last_entry_at?: string | null;
}
export interface PianosAnswer {
  pianos: PianoSummary[];
}

export interface PreparationLine {
  item: string;
  /** null: nobody has looked yet. */
  state: "wanting" | "found" | "done" | "waived" | null;
  reason: string;
  note: string | null;
}
export interface PianoHead {
  revision: number;
  piano: Piano;
  visits: Visit[];
  settings: Record<string, string>;
  preparation: PreparationLine[];
  gate: { open: boolean; missing: string[] };
  profile: string;
}

export interface StripAim {
  unit: string;
  read: Column;
  mean: Column;
  sd: Column;
  target: Column;
  tolerance: number | null;
  neighbour_tolerance: number | null;
  doubted: boolean[];
}
export interface StripMove {
  note: string;
  key: number;
  adjuster: string;
  amount: number;
  unit: string;
  direction: string;
  reading: string;
  before: number | null;
  target: number | null;
  at_the_end: number | null;
}
export interface Strip {
  revision: number;
  first: number;
  last: number;
  notes: string[];
  sharp: boolean[];
  served: boolean[];
  sections: { first: number; last: number }[];
  string: { read_mm: Column; fair_mm: Column; sd_mm: Column; doubt: (null | "ask" | "doubtful" | "wrong")[] };
  hammer: { read_mm: Column; target_mm: Column; target_sd_mm: Column; deviation_mm: Column };
  aims: Record<string, StripAim>;
  weights: { down_gf: Column; up_gf: Column };
  moves: StripMove[];
}

export interface ReadSuggestion {
  reading: string;
  note: string;
  why: "settles-doubt" | "surer-target" | "plan" | "sample";
}
export interface ReadNext {
  revision: number;
  suggestions: ReadSuggestion[];
  progress: { reading: string; asked: number; read: number }[];
}

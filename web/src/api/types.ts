// What the server says, as docs/api and data/api-examples have it. Lengths are mm unless said.

export interface Problem {
  happened: string;
  kept: string;
  todo: string;
  /** Of the server's own sentences, which are English. */
  lang?: "en";
}

/** What comes with a status of 400 and above. */
export interface Refusal {
  problem: Problem;
}

/** An answer, or why there is none. `offline`: the server did not answer at all. `body`: all that was said with it. */
export type Outcome<T> =
  | { ok: true; value: T }
  | { ok: false; problem: Problem; status: number; offline: boolean; body?: unknown };

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
  scope: "note" | "piano" | "visit";
  per_note: boolean;
  how: string;
  usual_low: number | null;
  usual_high: number | null;
  possible_low: number;
  possible_high: number;
  tolerance: number | null;
  neighbour_tolerance: number | null;
  /** One standard deviation of a careful reading. */
  uncertainty: number;
  minutes: number;
  source: string;
  /** The aim it tells of; null where it tells of none. */
  aim: string | null;
}
export interface AdjusterKind {
  code: string;
  pass: string;
  name: string;
  scope: "note" | "piano" | "visit";
  sets: string;
  positive: string;
  negative: string;
  unit: string;
  step: number;
  limit: number;
  strain: number;
  tools: string;
  effect: string;
  cautions: string[];
}
export interface Catalogue {
  readings: ReadingKind[];
  adjusters: AdjusterKind[];
  preparation: { code: string; name: string; how: string; why: string; per_note: boolean; reading: string | null }[];
  states: string[];
  cautions: { code: string; heading: string; text: string }[];
  complaints: { code: string; sentence: string }[];
  profiles: string[];
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
/** Days as "2026-11-26"; the span holds nine cases of ten. */
export interface PianoDue {
  state: "due-at" | "overdue" | "beyond" | "unknown";
  date: string | null;
  low: string | null;
  high: string | null;
}
export interface PianoSummary extends Piano {
  visits: number;
  entries: number;
  latest_visit: Visit | null;
  /** As kept from the last time the studio list was made; null where nothing is kept that still holds. */
  due?: PianoDue | null;
  /** Day of its last reading or move. */
  last_done?: string | null;
}
export interface PianosAnswer {
  pianos: PianoSummary[];
}

type State = "wanting" | "found" | "done" | "waived";
export interface PreparationLine {
  item: string;
  /** null: nobody has looked yet. */
  state: State | null;
  reason: string;
  passed: boolean;
  /** Said at an earlier visit; to be looked at again. */
  earlier_visit: boolean;
  wanting_at: string[];
  notes: { note: string; state: State; reason: string }[];
}
export interface Setting {
  name: string;
  group: string;
  /** null: not chosen, the usual holds. */
  value: string | null;
  usual: string;
  unit: string;
  example: string;
  choices: string[];
  /** One or two sentences, English. */
  what: string;
}
export interface PianoHead {
  revision: number;
  piano: Piano;
  visits: Visit[];
  profile: string;
  profile_chosen: boolean;
  settings: Setting[];
  gate: { open: boolean };
  preparation: PreparationLine[];
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
  amount: number | null;
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
  /** Key numbers. */
  samples: number[];
  sections: { first: number; last: number }[];
  /** Why there is no line and no plan yet; null where there is. */
  lacking: Problem | null;
  gate_open: boolean;
  string: {
    read_mm: Column;
    fair_mm: Column;
    sd_mm: Column;
    doubt: (null | "ask" | "doubtful" | "wrong")[];
    unisons_off_level: { key: number; off_mm: number | null }[];
  } | null;
  /** Crowns over the strings' datum. */
  hammer: { read_mm: Column; target_mm: Column; target_sd_mm: Column; deviation_mm: Column } | null;
  /** As last read, gram-force. */
  weights: { down_gf: Column; up_gf: Column } | null;
  /** By the reading's code; empty where there is no plan. */
  aims: Record<string, StripAim>;
  moves: StripMove[];
}
export interface ReadSuggestion {
  reading: string;
  note: string;
  key: number;
  why: "settles-doubt" | "surer-target" | "plan" | "sample" | "by-halves";
  unit: string;
  expected: number | null;
  expected_sd: number | null;
  chance_wrong: number | null;
  drop_mm: number | null;
}
export interface ReadNext {
  revision: number;
  lacking: Problem | null;
  suggestions: ReadSuggestion[];
  progress: { reading: string; asked: number; read: number; samples_asked: number; samples_read: number }[];
}

// GET …/drift and …/first-checks: core/regulation/drift/outlook.hpp. Shares and chances are 0…1, `day` counts from
// `from`, instants are as elsewhere ("2026-11-26T10:00:04Z"), values in the reading's unit.
export interface DriftPoint {
  day: number;
  at: string;
  /** Expected share of notes outside tolerance; 90 % of futures lie between low and high. */
  share: number;
  low: number;
  high: number;
  chance_over_limit: number;
}
export type DueState = "due-at" | "overdue" | "beyond" | "unknown";
/** An end of the span is null where it lies behind the months looked at, or before now. */
export interface DriftDue {
  state: DueState;
  day: number | null;
  at: string | null;
  low_day: number | null;
  low: string | null;
  high_day: number | null;
  high: string | null;
}
/** Mean over the notes; playing in until it has stopped, season from the driest to the dampest of the year (+: larger
 * when damp), wear in a year. `own_sd`: from note to note. */
export interface DriftCause {
  cause: "playing-in" | "season" | "wear" | "wander";
  mean: number;
  sd: number;
  own_sd: number;
}
export interface DriftReading {
  reading: string;
  unit: string;
  tolerance: number;
  notes: number;
  /** Left at one visit and found at the next: what taught. */
  pairs: number;
  outside_now: number;
  causes: DriftCause[];
  points: DriftPoint[];
  due: DriftDue;
}
export interface DriftGrounds {
  visits: number;
  pairs: number;
  humidities: number;
  /** 0: all from common practice, 1: this piano's past has settled what it can. */
  learned: number;
  new_felt_known: boolean;
  playing_hours_known: boolean;
  climate_known: boolean;
}
export interface Drift {
  revision: number;
  from: string;
  last_work: string | null;
  limit: number;
  months: number;
  share_now: number;
  /** Readings at notes that are counted. */
  known: number;
  points: DriftPoint[];
  due: DriftDue;
  known_from: DriftGrounds;
  readings: DriftReading[];
}

export type After = "dry" | "wet" | "heavy-use" | "new-felt" | "transport" | "new-hammers";
export interface FirstCheck {
  reading: string;
  unit: string;
  change: number;
  sd: number;
  in_tolerances: number;
  /** Expected share of its notes that leave the tolerance. */
  newly_outside: number;
  notes: string[];
}
export interface FirstChecks {
  revision: number;
  after: After;
  /** Assumed of it: percent moisture content of the wood; hours played. */
  moisture: number;
  hours: number;
  checks: FirstCheck[];
  /** Transport and new hammers: keys of words where the list is ours, else the user's own lines. */
  listed: string[];
  listed_is_ours: boolean;
  known_from: DriftGrounds;
}

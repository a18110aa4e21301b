// GET …/drift and …/first-checks. Shares are 0…1, days are of the calendar ("2026-11-26"), values in the reading's unit.
export interface DriftPoint {
  /** Days from `today`. */
  day: number;
  date: string;
  /** Expected share of notes outside tolerance, and its 90 % band. */
  share: number;
  low: number;
  high: number;
  chance_over_limit: number;
}
export type DueState = "due-at" | "overdue" | "beyond" | "unknown";
export interface Due {
  state: DueState;
  /** The day the expected share passes the limit; null where it does not within the months asked for. */
  date: string | null;
  /** 90 % span; null: beyond the months asked for. */
  low: string | null;
  high: string | null;
}
/** One part of what is expected of a reading over the months, as a rule for one note. */
export interface DriftPart {
  part: "playing-in" | "season" | "wear";
  /** season: half of its swing. The others: over the months asked for. */
  amount: number;
  sd: number;
}
export interface DriftReading {
  reading: string;
  unit: string;
  tolerance: number;
  notes: number;
  outside_now: number;
  /** Pairs of left and found again that it has learned from. */
  pairs: number;
  points: DriftPoint[];
  parts: DriftPart[];
}
export interface Drift {
  revision: number;
  today: string;
  months: number;
  limit: number;
  notes: number;
  outside_now: number;
  known_from: { visits: number; pairs: number };
  due: Due;
  points: DriftPoint[];
  readings: DriftReading[];
  climate: {
    /** Relative humidity, %, between which the year swings here, and the month of the driest (1…12). */
    low: number;
    high: number;
    driest_month: number;
    from: "setting" | "readings" | "usual";
    read: { date: string; humidity: number; temperature: number | null }[];
  };
}

export type After = "dry" | "wet" | "heavy-use" | "new-felt" | "transport" | "new-hammers";
export interface FirstCheck {
  reading: string | null;
  /** Sample notes to read. */
  notes: string[];
  unit: string;
  tolerance: number | null;
  /** Expected shift and its standard deviation; null on the lists of common practice. */
  shift: number | null;
  sd: number | null;
  in_tolerances: number | null;
  why: string;
  /** Of a list that is not from the model: as the user or common practice has it. */
  text: string | null;
}
export interface FirstChecks {
  revision: number;
  after: After;
  basis: "model" | "common-practice" | "own-list";
  checks: FirstCheck[];
}

// GET …/visits/compare?from=&to=: what moved by itself and what was changed between two visits. Values in the reading's
// unit, moves in the adjuster's.
export interface VisitOnRecord {
  id: string;
  title: string;
  begun: string;
  last_at: string | null;
  who: string[];
  readings: number;
  moves: number;
  humidity: number | null;
  temperature: number | null;
}
export interface Shift {
  /** Of the compass, 0 the lowest; null: all of it. */
  section: number | null;
  first: string;
  last: string;
  notes: number;
  mean: number;
  /** Standard error of the mean. */
  error: number;
  /** From note to note, beyond what readings alone would do; null where that cannot be told. */
  spread: number | null;
  /** Of a mean as far off zero by readings alone. */
  chance: number;
  beyond_noise: boolean;
  spread_beyond_noise: boolean;
}
export interface NoteDifference {
  note: string;
  value: number;
  sd: number;
}
export interface ComparedReading {
  reading: string;
  unit: string;
  tolerance: number | null;
  neighbour_tolerance: number | null;
  /** That sets it. */
  adjuster: string | null;
  /** Left at the end of `from`, found at `to`; the whole compass first, then its registers. */
  by_itself: Shift[];
  /** Found at `to`, left at its end. */
  changed: Shift[];
  /** The same note by note. */
  notes_by_itself: NoteDifference[];
  notes_changed: NoteDifference[];
}
export interface ComparedAdjuster {
  adjuster: string;
  unit: string;
  /** That tells of it. */
  reading: string | null;
  moves: number;
  notes: number;
  /** Sums of the moves either way. */
  positive: number;
  negative: number;
  by_register: { first: string; last: string; moves: number; notes: number; mean: number }[];
  /** Of its reading, before anybody turned it. */
  by_itself: number | null;
  by_itself_error: number | null;
  by_itself_beyond: boolean;
}
export interface VisitsCompared {
  revision: number;
  piano: string;
  from: VisitOnRecord;
  to: VisitOnRecord;
  days: number;
  visits_between: number;
  looks: number;
  method: string;
  false_finding_rate: number;
  readings: ComparedReading[];
  adjusters: ComparedAdjuster[];
}
/** GET …/visits, oldest first. */
export interface VisitsAnswer {
  revision: number;
  piano: string;
  visits: VisitOnRecord[];
}

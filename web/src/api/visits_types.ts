// GET …/visits/compare?from=&to=: what moved by itself and what was changed between two visits.
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
  /** "all", or "A0–E2" as notes. */
  first: string;
  last: string;
  notes: number;
  mean: number;
  /** Standard error of the mean. */
  error: number;
  /** From note to note, what readings alone would not do. */
  spread: number | null;
  beyond_noise: boolean;
}
export interface ComparedReading {
  reading: string;
  unit: string;
  tolerance: number | null;
  /** Left at the end of `from`, found at `to`. */
  by_itself: Shift[];
  /** Found at `to`, left at its end. */
  changed: Shift[];
}
export interface ComparedAdjuster {
  adjuster: string;
  unit: string;
  moves: number;
  notes: number;
  mean: number;
  first: string | null;
  last: string | null;
}
export interface VisitsCompared {
  revision: number;
  from: VisitOnRecord;
  to: VisitOnRecord;
  looks: number;
  false_finding_rate: number;
  readings: ComparedReading[];
  adjusters: ComparedAdjuster[];
}

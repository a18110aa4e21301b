// GET /api/studio?hours=: every piano, when it is due and what it needs; and a day's plan.
import type { Due } from "./drift_types.ts";

export interface StudioPiano {
  id: string;
  name: string;
  place: string;
  visits: number;
  /** Day of the last visit's last entry; null: none yet. */
  last_done: string | null;
  due: Due;
  share_now: number | null;
  worst_reading: string | null;
  /** For the next visit, getting there and setting up included. */
  minutes: number | null;
}
export interface DayStop {
  id: string;
  name: string;
  minutes: number;
  between_minutes: number;
  why: string;
}
export interface DayPlan {
  hours: number;
  minutes_used: number;
  stops: DayStop[];
  left_out: { id: string; name: string; minutes: number | null; why: string }[];
}
export interface Studio {
  today: string;
  pianos: StudioPiano[];
  day: DayPlan | null;
}

// GET /api/studio?hours=: every piano, when it is due and what it needs; and a day's plan. Days as "2026-11-26".
import type { PianoDue } from "./types.ts";

export interface StudioPiano {
  id: string;
  name: string;
  place: string;
  visits: number;
  /** Day of the last entry; null: none yet. */
  last_done: string | null;
  due: PianoDue;
  /** Of notes outside tolerance. */
  share_now: number | null;
  share_at_return: number | null;
  worst_reading: string | null;
  /** For the next visit; null: nothing is known of it. */
  minutes: number | null;
}
export interface DayStop {
  id: string;
  name: string;
  place: string;
  minutes: number;
  /** Going there and setting up. */
  between_minutes: number;
  worth: number;
  fixed: boolean;
  why: string;
}
export interface LeftOut {
  id: string;
  name: string;
  place: string;
  minutes: number | null;
  why: string;
}
export interface DayPlan {
  hours: number;
  minutes_there_are: number;
  minutes_used: number;
  stops: DayStop[];
  left_out: LeftOut[];
}
export interface Studio {
  today: string;
  limit: number;
  pianos: StudioPiano[];
  day: DayPlan | null;
}

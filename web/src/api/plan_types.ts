// GET …/plan, …/time and …/why, as json/plan_json.cpp and json/reasons_json.cpp write them.
// Numbers are in the unit beside them, an amount in its adjuster's; ± is one standard deviation.

export type Hand = "clockwise" | "counter-clockwise";

interface AnyStep {
  note: string;
  /** The pass it belongs to; of a turn, what is turned. */
  adjuster: string;
  reading: string;
  unit: string;
  minutes: number;
  /** Whether the reading was ever taken at this note. */
  read: boolean;
  /** What the gauge should show: of a turn right after it, of a reading now. */
  goal: number | null;
  before: number | null;
  before_sd: number | null;
  target: number | null;
  tolerance: number | null;
}
export interface ReadStep extends AnyStep {
  kind: "read";
}
export interface TurnStep extends AnyStep {
  kind: "turn";
  amount: number;
  papers_mm: number[];
  hand: Hand | null;
  read_after: boolean;
  after: number | null;
  at_the_end: number | null;
  effects: { reading: string; change: number; unit: string }[];
}
export type Step = ReadStep | TurnStep;

export interface Shift {
  adjuster: string;
  tolerances: number;
}
/** Why the pass stands where it stands. */
export interface PlaceInOrder {
  adjuster: string;
  spares: Shift | null;
  disturbed_by: Shift | null;
}
export interface Thread {
  setting: string;
  positive: Hand | null;
  /** English; null where there is nothing to ask. */
  question: string | null;
}
export interface Pass {
  pass: string;
  adjuster: string;
  readings: number;
  moves: number;
  minutes: number;
  notes_done: number;
  notes_left_knowingly: number;
  unit: "turns" | "mm" | "steps";
  strain: number;
  set_up_minutes: number;
  least_step: number;
  place: PlaceInOrder;
  shifted: { by: string; tolerances: number }[];
  thread: Thread | null;
  cautions: string[];
  why_here: string;
  steps: Step[];
}
export interface Hold {
  note: string;
  adjuster: string;
  reading: string;
  reason: string;
  would_settle: string | null;
  words: string;
}
export interface Question {
  kind: "wrong-way" | "odd-answer" | "odd-reading";
  note: string;
  adjuster: string | null;
  reading: string;
  expected: number | null;
  expected_sd: number | null;
  seen: number | null;
  confirmed: boolean;
  unit: string;
  happened: string;
  maybe: string;
  todo: string;
}
export interface PassProgress {
  pass: string;
  adjuster: string;
  notes_done: number;
  notes_left_knowingly: number;
  moves_left: number;
  readings_left: number;
  minutes_left: number;
  finished: boolean;
}
export interface Plan {
  revision: number;
  profile: string;
  profile_chosen: boolean;
  gate_open: boolean;
  progress: {
    words: string;
    last: string;
    minutes_since_last_entry: number | null;
    minutes_left: number;
    moves_left: number;
    readings_left: number;
    passes: PassProgress[];
  };
  next: Step | null;
  questions: Question[];
  passes: Pass[];
  holds: Hold[];
  minutes: number;
  minutes_there_are: number | null;
  minutes_of_all: number;
  left_for_time: Step[];
  order: { derived: string[]; common: string[]; rework_derived: number; rework_common: number };
  unevenness: number;
  unevenness_after: number;
  hands: {
    ocra_index: number;
    class: "acceptable" | "borderline" | "high";
    minutes: number;
    pauses: { after_minutes: number; minutes: number; adjuster: string }[];
  } | null;
  cautions: { code: string; heading: string; text: string }[];
}

export interface TimePoint {
  minutes: number;
  work: number;
  unevenness: number;
  passes: string[];
}
export interface TimeCurve {
  revision: number;
  minutes_of_all: number;
  unevenness: number;
  unevenness_of_all: number;
  points: TimePoint[];
}

interface Stands {
  reading: string;
  unit: string;
  value: number;
  sd: number;
  target: number;
  tolerance: number;
  chance: number;
  readings: number;
  read: boolean;
}
export type ReasonFacts =
  | ({ code: "off" } & Stands)
  | ({ code: "known" } & Stands)
  | { code: "gives-way"; sake: string[] }
  | { code: "purpose"; adjuster: string }
  | {
      code: "turn-does";
      adjuster: string;
      amount_unit: string;
      reading: string;
      unit: string;
      change: number;
      share_sd: number;
      moves_here: number;
      moves_elsewhere: number;
    }
  | { code: "also-moves"; effects: { reading: string; change: number; unit: string }[] }
  | { code: "later-passes"; reading: string; unit: string; after: number; at_the_end: number }
  | ({ code: "order" } & PlaceInOrder)
  | { code: "afterwards"; reading: string; read_again: boolean }
  | { code: "why-read"; cause: "does-not-fit" | "never-read" | "moved-since" | "unsure"; adjuster: string; waiting: Hold[] }
  | { code: "how"; reading: string }
  | {
      code: "why-nothing";
      cause:
        | "held"
        | "out-of-service"
        | "left-knowingly"
        | "no-time"
        | "not-asked"
        | "gate-shut"
        | "doubted"
        | "not-read"
        | "inside";
      holds: Hold[];
    };
export type Reason = ReasonFacts & { heading: string; text: string };
export interface WhyAnswer {
  note: string;
  adjuster: string;
  because: Reason[];
}

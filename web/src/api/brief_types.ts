// GET …/brief?outline=1, GET …/brief[?where=], GET …/brief/map?where=, POST …/brief. Lengths mm.

export interface BriefPoint {
  blow_mm: number;
  dip_mm: number;
  let_off_mm: number;
  drop_mm: number;
}
export interface Band {
  low_mm: number;
  high_mm: number;
  on_record: boolean;
}
export interface RegisterName {
  register: string;
  note: string;
  sharp: boolean;
}
export interface TargetLine {
  setting: string;
  reading: string;
  unit: string;
  /** One for each section; empty: not set. */
  tapers: { at_first: number; at_last: number }[];
}
export interface Need extends Band {
  need: string;
  possible_low_mm: number;
  possible_high_mm: number;
}
export interface Want {
  want: string;
  weight: number;
  usual_weight: number;
  unit: string;
  unit_size: number;
}
export interface Acceptance {
  at_ms: number;
  who: string;
  because: string;
  settings: { name: string; value: string }[];
}
export interface Outline {
  revision: number;
  profile: string;
  profile_chosen: boolean;
  registers: RegisterName[];
  sections: { first: string; last: string }[];
  targets: TargetLine[];
  needs: Need[];
  wants: Want[];
  accepted: Acceptance[];
}

export interface Figures {
  works: boolean;
  blow_mm: number | null;
  dip_mm: number | null;
  let_off_mm: number | null;
  drop_mm: number | null;
  check_distance_mm: number | null;
  ratio: number | null;
  escape_margin_mm: number | null;
  aftertouch_mm: number | null;
  jack_clearance_mm: number | null;
  rest_scatter_mm: number | null;
  lever_share: number | null;
  lost_motion_mm: number | null;
  spring_grade: number;
  hindrance: string;
  reached: boolean;
  read: boolean;
  misses: { need: string; value_mm: number | null; by_mm: number | null }[];
  faults: string[];
  strokes: { effort: string; hammer_speed_m_s: number | null; travel_time_ms: number | null; bottom_less_string_ms: number | null }[];
}
export interface Departure {
  way: string;
  code: string;
  words: string;
  blow_by_mm: number;
  dip_by_mm: number;
  let_off_by_mm: number;
  drop_by_mm: number;
  cost: number | null;
  power_percent: number | null;
  travel_ms: number | null;
  timing_ms: number | null;
  repetition_ms: number | null;
  aftertouch_mm: number | null;
  figures: Figures;
}
export interface Unmet {
  need: string;
  nearest_mm: number | null;
  by_mm: number | null;
  at: BriefPoint;
  words: string;
}
export interface RegisterBrief extends RegisterName {
  bands: Record<string, Band>;
  sheet: Figures;
  today: Figures | null;
  words: string[];
  departures: Departure[];
  unmet: Unmet[];
}
export interface BriefAnswer {
  revision: number;
  profile: string;
  profile_chosen: boolean;
  works: boolean;
  words: string;
  registers: RegisterBrief[];
}

type Column = (number | null)[];
/** Columns: blow fastest. Faults added: 1 no escapement, 2 thin, 4 fat, 8 touches the check, 16 no setting. */
export interface MapAnswer {
  revision: number;
  register: string;
  note: string;
  blow_low_mm: number;
  blow_high_mm: number;
  blows: number;
  dip_low_mm: number;
  dip_high_mm: number;
  dips: number;
  sheet: BriefPoint;
  today: BriefPoint | null;
  against: "today" | "sheet";
  aftertouch: Band;
  base: { travel_ms: number | null; soft_ms: number | null; middling_ms: number | null; loud_ms: number | null };
  errors: { margin_mm: number; timing_ms: number; power_percent: number; travel_ms: number };
  escape_margin_mm: Column;
  bottom_less_string_soft_ms: Column;
  bottom_less_string_middling_ms: Column;
  bottom_less_string_loud_ms: Column;
  power_percent: Column;
  travel_ms: Column;
  faults: number[];
}

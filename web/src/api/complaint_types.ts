// POST …/complaints: what a player feels, and what is behind it.

export interface LookToTake {
  look: string;
  /** The catalogue's reading; null: a trial by hand with grades 0, 1, 2. */
  reading: string | null;
  unit: string;
  name: string;
  how: string;
  can_be_none: boolean;
  none: string;
  possible_low: number;
  possible_high: number;
  usual_uncertainty: number;
}
export interface LookCompared {
  look: string;
  seen: number | null;
  given: number | null;
  sound: number | null;
}
export interface RankedCause {
  cause: string;
  name: string;
  probability: number;
  adjuster: string | null;
  because: { explained: string[]; unexplained: string[]; looks: LookCompared[] };
  reason: string;
}
export interface NextTaking {
  taking: string;
  entropy_before_bits: number;
  entropy_after_bits: number;
  looks: LookToTake[];
}
export interface Mend {
  cause: string;
  text: string;
  adjuster: string | null;
  direction: number;
  read_by: string | null;
  from: number | null;
  to: number | null;
}
export interface Diagnosis {
  revision: number;
  note: string;
  profile: string;
  profile_chosen: boolean;
  known: boolean;
  summary: string;
  felt: string[];
  seen: { look: string; value: number | null; unit: string; from_journal: boolean }[];
  causes: RankedCause[];
  next: NextTaking[];
  mend: Mend | null;
  cautions: { code: string; text: string }[];
}

/** A look as it is sent; null: it cannot be read. */
export interface LookSent {
  look: string;
  value: string | number | null;
  beside?: string | number;
}
export interface ComplaintSent {
  note: string;
  felt: string[];
  looks: LookSent[];
}

// What goes onto paper and comes back from it: the handover's pages, bench sheets, gauges to cut.

/** A picture of notes before and after, in tolerances of the reading; key 1 (A0) … */
export interface StripMark {
  key: number;
  before: number | null;
  after: number | null;
}
export interface Figure {
  name: string;
  meaning: string;
  before: string;
  after: string;
  /** How well it is known, with its unit. */
  good_to: string;
}
/** Composed in the page's language; a view adds no words of its own. */
export type Block =
  | { kind: "heading" | "text" | "quiet" | "caution"; text: string }
  | { kind: "list"; items: string[] }
  | { kind: "figures"; columns: string[]; rows: Figure[] }
  | { kind: "table"; columns: string[]; rows: string[][] }
  | { kind: "strip"; text: string; before: string; after: string; first: number; last: number; marks: StripMark[] };
export interface ComposedPage {
  title: string;
  language: string;
  /** Of the letterhead; empty: none. */
  letterhead: { name: string; lines: string[] };
  blocks: Block[];
}
/** GET …/handover?language=&inches= */
export interface HandoverPages {
  owner: ComposedPage;
  file: ComposedPage;
  /** What the technician wrote in this visit; empty: nothing. */
  own: { words: string; next_visit: string };
}

/** POST …/back: {"code","lines"}; all or none. */
export interface BackAnswer {
  revision: number;
  written: number;
  lines: { line: number; note: string; words: string }[];
}
/** Beside "problem" where it is refused. */
export interface BackRefusal {
  lines: { line: number; text: string; happened: string; todo: string }[];
}

/** GET …/templates */
export interface Gauge {
  kind: string;
  /** As engraved. */
  label: string;
  register: string;
  size_mm: number;
}
export interface Templates {
  revision: number;
  gauges: Gauge[];
  cautions: string[];
}

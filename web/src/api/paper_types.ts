// What goes onto paper and comes back from it: the handover's pages, bench sheets, gauges to cut.

/** Bold before the text; either may be empty. */
export interface PageItem {
  lead: string;
  text: string;
}
export interface PageRow {
  cells: string[];
  /** What the figures mean, in a sentence; may be empty. */
  means: string;
  /** Outside its tolerance. */
  marked: boolean;
}
/** Key (1 is A0), before and after in tolerances from the wanted figure, + above it. */
export type StripMark = [key: number, before: number, after: number];
/** How soon it may be left out where a page has no room: 0 never, the highest first; of items and rows the last, down to `least`. */
interface Rank {
  rank: number;
  least: number;
}
/** Composed in the page's language: a view adds no words of its own. */
export type Block = Rank & (
    | { kind: "heading" | "subheading" | "quiet" | "sign"; text: string }
    | { kind: "text" | "caution"; lead: string; text: string }
    | { kind: "list"; items: PageItem[] }
    | { kind: "figures" | "table"; columns: string[]; rows: PageRow[] }
    | { kind: "strip"; text: string; before: string; after: string; lowest: number; highest: number; marks: StripMark[] }
);
export interface ComposedPage {
  title: string;
  head: PageItem[];
  blocks: Block[];
  /** Holds {page} and {pages}. */
  number: string;
  /** Said where something had to be left out. */
  cut: string;
  /** Of one and of more items left out; holds {count}. */
  more: string[];
}
/** GET …/handover?language=&inches= */
export interface HandoverPages {
  owner: ComposedPage;
  file: ComposedPage;
}

/** POST …/back: {"code","lines"}; all or none. */
export interface BackAnswer {
  revision: number;
  written: number;
  /** Entries of lines that were typed back before. */
  already_there: number;
  /** `line`: the sheet's. */
  lines: { line: number; note: string; words: string }[];
}
/** Beside "problem" where it is refused. */
export interface BackRefusal {
  /** `line`: as typed, from 1. */
  lines: { line: number; text: string; happened: string; todo: string }[];
}

/** GET …/templates; lengths in mm. */
export interface GaugePiece {
  size: number;
  /** The size as engraved, in the unit asked for. */
  text: string;
  /** Of the targets it serves. */
  least: number;
  most: number;
  first: string;
  last: string;
  /** "A0–E2" */
  notes: string;
  count: number;
  width: number;
  height: number;
  /** Of what thickness it is cut; null: any that is stiff. */
  stock: number | null;
}
export interface Gauge {
  gauge: string;
  name: string;
  use: string;
  reading: string;
  tolerance: number;
  /** How far the targets of a piece lie from its size at most. */
  within: number;
  pieces: GaugePiece[];
  /** Sizes as steps of one piece; none where there is but one. */
  blocks: { sizes: number[]; width: number; height: number }[];
}
export interface Templates {
  revision: number;
  language: string;
  unit: string;
  gauges: Gauge[];
  left_out: { gauge: string; name: string; setting: string; reason: string }[];
  pages: { a4: number; letter: number };
  /** How they are cut, whose figures they are, what the layers of the files are. */
  notes: string[];
  cautions: { heading: string; text: string }[];
}

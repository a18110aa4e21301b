// What a hand or a gauge types, for the immediate check; the server is the judge.
import { unit } from "../state/choices.ts";
import { readingShown, type Unit } from "./kinds.ts";
import { takeNumber, type WrongNumber } from "./number_text.ts";

/** `wrong` is the end of a key of words/en/quantities.ts ("typed.empty"). */
export type Typed = { ok: true; value: number } | { ok: false; wrong: WrongNumber | "unit" };

const lengths: Record<string, number> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  inch: 25.4,
  inches: 25.4,
  '"': 25.4,
  "″": 25.4,
  "''": 25.4,
  "”": 25.4,
};
const forces: Record<string, number> = { gf: 1, g: 1, kgf: 1000, N: 1000 / 9.80665, mN: 1 / 9.80665 };
const others: Record<Exclude<Unit, "mm" | "gf">, Record<string, number>> = {
  // A part of one, or in hundredths.
  "": { "%": 0.01 },
  grade: {},
  "%": { "%": 1 },
  "°C": { "°C": 1, C: 1 },
};

/** As written first; then whatever the case, because a phone writes "Mm". */
function factorOf(symbols: Record<string, number>, symbol: string): number | undefined {
  if (symbol in symbols) return symbols[symbol];
  const like = Object.keys(symbols).find((one) => one.toLowerCase() === symbol.toLowerCase());
  return like === undefined ? undefined : symbols[like];
}

/** A length in mm; a bare number is in `assumed`. */
export function readLength(text: string, assumed: "mm" | "in" = "mm"): Typed {
  return read(text, lengths, assumed === "in" ? 25.4 : 1);
}
function read(text: string, symbols: Record<string, number>, bare: number): Typed {
  const taken = takeNumber(text);
  if (!taken.ok) return taken;
  const factor = taken.rest === "" ? bare : factorOf(symbols, taken.rest);
  return factor === undefined ? { ok: false, wrong: "unit" } : { ok: true, value: taken.value * factor };
}

/** In the reading's own unit; a bare length is in the unit the user has chosen. */
export function readTyped(text: string, readingCode: string): Typed {
  const kind = readingShown[readingCode]?.unit ?? "mm";
  if (kind === "mm") return readLength(text, unit.peek());
  return read(text, kind === "gf" ? forces : others[kind], 1);
}
/** The same of a text that was kept with its unit: a bare number is in the catalogue's. */
export function readKept(text: string, readingCode: string): Typed {
  const kind = readingShown[readingCode]?.unit ?? "mm";
  return kind === "mm" ? readLength(text) : readTyped(text, readingCode);
}

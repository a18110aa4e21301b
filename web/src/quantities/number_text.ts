// The number in front of a unit, as a hand writes it: the grammar of core/quantities/text.hpp.
const fractions: Record<string, [number, number]> = {
  "½": [1, 2],
  "⅓": [1, 3],
  "⅔": [2, 3],
  "¼": [1, 4],
  "¾": [3, 4],
  "⅕": [1, 5],
  "⅖": [2, 5],
  "⅗": [3, 5],
  "⅘": [4, 5],
  "⅙": [1, 6],
  "⅚": [5, 6],
  "⅐": [1, 7],
  "⅛": [1, 8],
  "⅜": [3, 8],
  "⅝": [5, 8],
  "⅞": [7, 8],
  "⅑": [1, 9],
  "⅒": [1, 10],
};
const blank = "[ \\t\\u00a0\\u2009\\u202f\\u2007]*";
const written = new RegExp(`^(\\d{1,9})${blank}[/⁄]${blank}(\\d{1,9})`);
const vulgar = new RegExp(`^[${Object.keys(fractions).join("")}]`);
const outer = new RegExp(`^${blank}|${blank}$`, "g");
const longest_number = 40;
const largest_denominator = 1000;

export type WrongNumber = "empty" | "number" | "ambiguous" | "mark" | "fraction" | "many";
export type LeadingNumber = { ok: true; value: number; rest: string } | { ok: false; wrong: WrongNumber };

export const withoutOuterBlanks = (text: string): string => text.replace(outer, "");
const wrong = (what: WrongNumber): LeadingNumber => ({ ok: false, wrong: what });

/** "3/64" or "¾" at the start; null where neither stands there. */
function takeFraction(text: string): { top: number; bottom: number; rest: string } | "wrong" | null {
  const one = vulgar.exec(text)?.[0];
  if (one) {
    const [top, bottom] = fractions[one]!;
    return { top, bottom, rest: text.slice(one.length) };
  }
  const found = written.exec(text);
  if (!found) return new RegExp(`^\\d+${blank}[/⁄]`).test(text) ? "wrong" : null;
  const [top, bottom] = [Number(found[1]), Number(found[2])];
  if (bottom === 0 || bottom > largest_denominator) return "wrong";
  return { top, bottom, rest: text.slice(found[0].length) };
}

/** Reads the longest number at the start of `text`; `rest` is what stands behind it, blanks taken away. */
export function takeNumber(text: string): LeadingNumber {
  let rest = withoutOuterBlanks(text);
  if (rest === "") return wrong("empty");
  const negative = /^[-\u2212]/.test(rest);
  rest = withoutOuterBlanks(rest.replace(/^[-+\u2212]/, ""));
  const start = rest.length;
  let value: number;
  const first = takeFraction(rest);
  if (first === "wrong") return wrong("fraction");
  if (first) {
    value = first.top / first.bottom;
    rest = first.rest;
  } else {
    const body = /^[\d.,]*/.exec(rest)![0];
    if (!/\d/.test(body)) return wrong("number");
    if (body.length > longest_number || (body.match(/[.,]/g)?.length ?? 0) > 1) return wrong("mark");
    const [before = "", behind] = body.split(/[.,]/);
    if (behind === "") return wrong("mark");
    if (behind?.length === 3 && body.includes(",") && before !== "" && !before.startsWith("0"))
      return wrong("ambiguous");
    value = Number(body.replace(",", "."));
    rest = rest.slice(body.length);
    const joined = /^[-\u2212]/.test(rest);
    const mixed = takeFraction(joined ? rest.slice(1) : withoutOuterBlanks(rest));
    if (mixed === "wrong") return wrong("fraction");
    if (mixed) {
      if (behind !== undefined || before.length > 9 || mixed.top >= mixed.bottom) return wrong("fraction");
      value = (value * mixed.bottom + mixed.top) / mixed.bottom;
      rest = mixed.rest;
    }
  }
  if (start - rest.length > longest_number) return wrong("mark");
  rest = withoutOuterBlanks(rest);
  if (/^[-+\u2212\d]/.test(rest)) return wrong("many");
  return { ok: true, value: negative ? -value : value, rest };
}

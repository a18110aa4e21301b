// What was typed from a sheet, looked at while it is typed; the server is the judge.
import { t, type Key } from "../../words/index.ts";

export type TypedLine =
  | { kind: "read" | "done" | "left"; line: number; text: string }
  | { kind: "wrong"; text: string; why: Key };

const form = /^(\d{1,4})(?:\s*:\s*|\s+|(?==))(\S.*)$/;

/** A line each; empty ones are passed over. */
export function typedLines(text: string): TypedLine[] {
  const seen = new Set<number>();
  const list: TypedLine[] = [];
  for (const raw of text.split(/\r?\n/)) {
    const one = raw.trim();
    if (one === "") continue;
    const [, number = "", rest = ""] = form.exec(one) ?? [];
    const line = Number(number);
    if (number === "") list.push({ kind: "wrong", text: one, why: "paper.back.wrong" });
    else if (seen.has(line)) list.push({ kind: "wrong", text: number, why: "paper.back.wrong.twice" });
    else if (rest === "=") list.push({ kind: "done", line, text: one });
    // "- reason" with a blank; "-1/32" is an amount.
    else if (/^[-–](\s|$)/.test(rest)) list.push({ kind: "left", line, text: one });
    else list.push({ kind: "read", line, text: one });
    seen.add(line);
  }
  return list;
}

export function saidOf(wrong: Extract<TypedLine, { kind: "wrong" }>): string {
  return t(wrong.why, { text: wrong.text, line: wrong.text });
}

// What a hand or a gauge types, for the immediate check; the server is the judge.
import { unit } from "../state/choices.ts";
import { readingShown } from "./kinds.ts";

/** `wrong` is a key of words/en/quantities.ts. */
export type Typed = { ok: true; value: number } | { ok: false; wrong: "empty" | "number" | "unit" };

export function readTyped(text: string, readingCode: string): Typed {
  const plain = text.trim().replace(",", ".").replace("−", "-");
  if (plain === "") return { ok: false, wrong: "empty" };
  const found = /^([-+]?\d*\.?\d+)\s*(mm|in|"|″|gf|g|%|°C)?$/i.exec(plain);
  if (!found) return { ok: false, wrong: "number" };
  const kind = readingShown[readingCode]?.unit ?? "mm";
  const typedUnit = found[2]?.toLowerCase() ?? (kind === "mm" && unit.peek() === "in" ? "in" : "");
  const value = Number(found[1]);
  return { ok: true, value: typedUnit === "in" || typedUnit === '"' || typedUnit === "″" ? value * 25.4 : value };
}

// A reading as it is typed at a step.
import type { NewEntry } from "../../api/entries.ts";
import type { Step } from "../../api/plan_types.ts";
import { readingShown } from "../../quantities/kinds.ts";
import { readTyped } from "../../quantities/read.ts";
import { unit } from "../../state/choices.ts";
import { t } from "../../words/index.ts";

/** Unit beside a field, and what is wrong with what was typed; empty: nothing. */
export const fieldUnit = (reading: string): string => {
  const shown = readingShown[reading]?.unit ?? "mm";
  return shown === "mm" ? unit.value : shown === "grade" ? "" : shown;
};
export function wrongWords(text: string, reading: string): string {
  const typed = readTyped(text, reading);
  return typed.ok ? "" : t(`typed.${typed.wrong}`, { text, example: "45.2", unit: fieldUnit(reading) });
}
export function readingEntry(step: Step, text: string): NewEntry {
  return { kind: "reading", reading: step.reading, note: step.note, value: typedValue(text, step.reading) };
}
/** As typed, with the unit the field shows where the hand gave none. */
function typedValue(text: string, reading: string): string {
  const plain = text.trim();
  const inches = fieldUnit(reading) === "in" && /\d$/.test(plain);
  return inches ? `${plain} in` : plain;
}

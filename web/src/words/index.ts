// The user's language: every word the front end says is a key of words/en and words/de.
import { signal } from "@preact/signals";
import { language } from "../state/choices.ts";
import type { en } from "./en/index.ts";

export type Key = keyof typeof en;
type Table = Record<string, string>;
/** Each language is a file of its own and fetched when it is wanted (load.ts). */
const held = signal<Record<string, Table>>({});
export function learn(name: string, table: Table): void {
  held.value = { ...held.peek(), [name]: table };
}
export function knows(name: string): boolean {
  return name in held.peek();
}
const nothing: Table = {};
/** The chosen language's; until it has come, whichever is there. */
const table = (): Table => held.value[language.value] ?? Object.values(held.value)[0] ?? nothing;

type Params = Record<string, string | number>;

function filled(text: string, params: Params | undefined): string {
  if (!params) return text;
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => (name in params ? `${params[name]}` : whole));
}

/** The text of a key in the user's language, {names} replaced. Follows the language when it changes. */
export function t(key: Key, params?: Params): string {
  return filled(table()[key] ?? key, params);
}

type Counted = Key extends infer K ? (K extends `${infer Base}.one` ? Base : never) : never;
/** "1 move", "3 moves": from key.one and key.other; {count} is filled in. */
export function plural(base: Counted, count: number, params?: Params): string {
  return t(`${base}.${count === 1 ? "one" : "other"}` as Key, { count, ...params });
}

/** The text of a key put together from a code, or `otherwise` where there is none. */
export function tCode(key: string, otherwise: string, params?: Params): string {
  return filled(table()[key] ?? otherwise, params);
}
/** Whether there is such a key. */
export function hasWord(key: string): key is Key {
  return key in table();
}

export const tReading = (code: string) => tCode(`reading.${code}`, code.replaceAll("-", " "));
/** One sentence: how the hand takes it. */
export const tHow = (code: string) => tCode(`reading.${code}.how`, "");
export const tAdjuster = (code: string) => tCode(`adjuster.${code}`, code.replaceAll("-", " "));
/** "raise", "lower" …: what the hand does. */
export const tDirection = (code: string, amount: number) =>
  tCode(`adjuster.${code}.${amount < 0 ? "negative" : "positive"}`, amount < 0 ? "−" : "+");
export const tTools = (code: string) => tCode(`adjuster.${code}.tools`, "");
/** What a positive move does. */
export const tEffect = (code: string) => tCode(`adjuster.${code}.effect`, "");
export const tCaution = (code: string) => ({
  heading: tCode(`caution.${code}`, code.replaceAll("-", " ")),
  text: tCode(`caution.${code}.text`, ""),
});
export const tPreparation = (code: string) => ({
  name: tCode(`preparation.${code}`, code.replaceAll("-", " ")),
  how: tCode(`preparation.${code}.how`, ""),
  why: tCode(`preparation.${code}.why`, ""),
});

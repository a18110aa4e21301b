// Keys 1 (A0) … 88 (C8) and their scientific names (docs/notation.md).
const steps = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"] as const;

/** "C4" for 40, "A#0" for 2. */
export function noteName(key: number): string {
  const semitone = key + 8; // from C0
  return `${steps[semitone % 12]}${Math.floor(semitone / 12)}`;
}
/** "C♯4": to be read by people. */
export function notePrinted(note: string | number): string {
  return (typeof note === "number" ? noteName(note) : note).replace("#", "♯");
}
/** 40 for "C4" or "c4", 41 for "C♯4" or "Db4"; null where it is no note of 88. */
export function keyOfNote(name: string): number | null {
  const found = /^\s*([A-Ga-g])([#♯b♭]?)(-?\d)\s*$/.exec(name);
  if (!found) return null;
  const natural = steps.indexOf(found[1]!.toUpperCase() as (typeof steps)[number]);
  const shift = found[2] === "" ? 0 : found[2] === "#" || found[2] === "♯" ? 1 : -1;
  const key = natural + shift + 12 * Number(found[3]) - 8;
  return key >= 1 && key <= 88 ? key : null;
}
export function isSharp(key: number): boolean {
  return steps[(key + 8) % 12]!.length === 2;
}

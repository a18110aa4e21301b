// Readings the strip has not been told of yet, drawn into it: just acknowledged, or still waiting here.
import type { Entry } from "../api/entries.ts";
import type { Column, Strip } from "../api/types.ts";
import { keyOfNote } from "../quantities/notes.ts";
import { readKept } from "../quantities/read.ts";
import type { Kept } from "./box.ts";

export interface Late {
  reading: string;
  key: number;
  value: number;
}

function entry(one: Entry): Late[] {
  if (one.kind !== "reading" || one.note === null) return [];
  const key = keyOfNote(one.note);
  return key === null ? [] : [{ reading: one.reading, key, value: one.value }];
}

function waiting(list: readonly Kept[], piano: string | null): Late[] {
  return list.flatMap((one): Late[] => {
    const told = one.entry;
    if (one.piano !== piano || told.kind !== "reading" || !told.note) return [];
    const key = keyOfNote(told.note);
    const typed =
      typeof told.value === "number" ? { ok: true as const, value: told.value } : readKept(told.value, told.reading);
    return key === null || !typed.ok ? [] : [{ reading: told.reading, key, value: typed.value }];
  });
}

function withValue(column: Column, at: number, value: number): Column {
  if (at < 0 || at >= column.length) return column;
  const copy = column.slice();
  copy[at] = value;
  return copy;
}

/** A strip with them; the same one where there are none. */
function on(strip: Strip, list: readonly Late[], hammersOnBench: boolean): Strip {
  if (list.length === 0) return strip;
  const { string, hammer } = strip;
  const next: Strip = { ...strip, aims: { ...strip.aims } };
  if (strip.weights) next.weights = { ...strip.weights };
  if (string) next.string = { ...string };
  if (hammer) next.hammer = { ...hammer };
  for (const { reading, key, value } of list) {
    const at = key - strip.first;
    const aim = next.aims[reading];
    if (aim) next.aims[reading] = { ...aim, read: withValue(aim.read, at, value) };
    if (reading === "string-height" && next.string) next.string.read_mm = withValue(next.string.read_mm, at, value);
    // Read on the bench, a height must be brought over the strings' datum first: the server does that.
    if (reading === "hammer-height" && !hammersOnBench && next.hammer)
      next.hammer.read_mm = withValue(next.hammer.read_mm, at, value);
    if (reading === "down-weight" && next.weights) next.weights.down_gf = withValue(next.weights.down_gf, at, value);
    if (reading === "up-weight" && next.weights) next.weights.up_gf = withValue(next.weights.up_gf, at, value);
  }
  return next;
}

export const overlaid = { entry, waiting, on };
